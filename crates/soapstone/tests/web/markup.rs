//! The policy of every answer, and pages that need no exception from it.

use crate::http::{get, host, request};
use crate::served::Served;

/// Pages, whole or in part.
const PAGES: [&str; 12] = [
    "/measure",
    "/measure?axle=front&point=upper-arm.ball&text=1",
    "/start/points?axle=rear&at=3",
    "/start/points?axle=rear&at=99",
    "/place",
    "/place?axle=front&fit=car&over=rack",
    "/place?axle=rear&point=link.lower-fore.body&move=link.lower-fore.body@-2.1,0.42,0.27&pin=a~use=link.lower-fore.body=C&want=anti-lift=30",
    "/place/parts?drag=link.lower-fore.body@-2.1,0.42,0.27&view=side",
    "/explain?quantity=anti-lift",
    "/pair",
    "/paper",
    "/nothing-here",
];

#[test]
fn every_answer_carries_the_policy() {
    let served = Served::start(&[]);
    let to = host(&served);
    let mut answers: Vec<_> = PAGES.iter().map(|p| (*p, get(&to, p))).collect();
    for path in ["/", "/assets/app.js", "/assets/none", "/place/solid"] {
        answers.push((path, get(&to, path)));
    }
    answers.push(("a post without a token", request(&to, "POST", "/edit", &[], b"{}")));
    answers.push(("another host", request(&to, "GET", "/", &[("host", "evil.example")], b"")));
    answers.push(("another method", request(&to, "DELETE", "/place", &[], b"")));
    for (what, answer) in answers {
        let policy = answer.header("content-security-policy");
        assert!(
            policy.contains("default-src 'none'") && policy.contains("script-src 'self'"),
            "{what}: {policy}"
        );
        for loose in ["unsafe-inline", "unsafe-eval", "*", "http:", "https:"] {
            assert!(!policy.contains(loose), "{what}: {policy}");
        }
        assert!(
            policy.contains("frame-ancestors 'none'") && policy.contains("base-uri 'none'"),
            "{what}: {policy}"
        );
        // With `no-referrer` a browser sends plain forms with the origin `null`, which is refused.
        assert_eq!(answer.header("referrer-policy"), "same-origin", "{what}");
        assert!(answer.header("access-control-allow-origin").is_empty(), "{what}");
    }
}

/// Tags of a page: what stands between `<` and `>`, quotes minded.
fn tags(html: &str) -> Vec<String> {
    let mut tags = Vec::new();
    let mut quoted = false;
    let mut tag: Option<String> = None;
    for c in html.chars() {
        match (&mut tag, c) {
            (None, '<') => tag = Some(String::new()),
            (Some(_), '>') if !quoted => tags.extend(tag.take()),
            (Some(text), c) => {
                quoted ^= c == '"';
                text.push(c);
            }
            (None, _) => {}
        }
    }
    tags
}

#[test]
fn no_page_has_script_or_style_of_its_own() {
    let served = Served::start(&[]);
    let to = host(&served);
    for page in PAGES {
        let html = get(&to, page).body;
        let tags = tags(&html);
        assert!(tags.len() > 5, "{page}");
        for tag in tags {
            let name = tag.split_whitespace().next().unwrap_or_default().to_lowercase();
            assert!(
                name != "style" && (name != "script" || tag.contains("src=\"/assets/")),
                "{page}: <{tag}>"
            );
            // Without their values, so that a word in a value is no attribute.
            let names = tag.split('"').step_by(2).collect::<String>();
            for attribute in names.split_whitespace().skip(1) {
                let own = attribute.trim_end_matches('=').to_lowercase();
                assert!(own != "style" && !own.starts_with("on"), "{page}: <{tag}>");
            }
            assert!(!tag.contains("javascript:"), "{page}: <{tag}>");
            for elsewhere in ["src=\"http", "href=\"http", "src=\"//", "href=\"//", "action=\"http"] {
                assert!(!tag.contains(elsewhere), "{page}: <{tag}>");
            }
        }
    }
}

#[test]
fn words_of_an_address_stay_words() {
    let served = Served::start(&[]);
    let to = host(&served);
    let evil = "%22%3E%3Cscript%3Ealert(1)%3C/script%3E%3Cimg%20src=x%20onerror=alert(1)%3E";
    for query in [
        format!("point={evil}"),
        format!("pin={evil}"),
        format!("want={evil}"),
        format!("use={evil}={evil}"),
        format!("move={evil}@1,2,3"),
        format!("drag={evil}@1,2,3&view={evil}"),
        format!("pin-as={evil}"),
        format!("axle={evil}&quantity={evil}"),
        format!("point=link.lower-fore.body&to-x={evil}&to-y={evil}&to-z={evil}"),
    ] {
        for page in ["/measure", "/start/points", "/place", "/place/parts", "/explain"] {
            let answer = get(&to, &format!("{page}?{query}"));
            assert!(
                !answer.body.contains("<script>alert") && !answer.body.contains("<img"),
                "{page} {query}"
            );
        }
    }
}
