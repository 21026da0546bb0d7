//! No address opens a file.

use crate::http::{get, host};
use crate::served::Served;

#[test]
fn no_path_from_the_browser_opens_a_file() {
    let served = Served::start(&[]);
    std::fs::write(served.file.with_file_name("secret.txt"), "a secret of this folder").unwrap();
    let to = host(&served);
    let absolute = served.file.to_string_lossy().into_owned();
    let mut tries = vec![
        format!("/assets/{absolute}"),
        absolute.clone(),
        format!("/assets/{}", absolute.replace('/', "%2f")),
    ];
    let names = ["car.toml", "secret.txt", "etc/passwd", "Cargo.toml"];
    let ways = [
        "../",
        "../../",
        "../../../../../../",
        "%2e%2e/",
        "%2e%2e%2f",
        "..%2f..%2f",
        "..\\",
        "%5c..%5c",
        "....//",
        "%252e%252e%252f",
        "./",
        "//",
        "",
        "..;/",
        "%00../",
    ];
    for name in names {
        for way in ways {
            for root in ["/assets/", "/", "/place/", "/assets/page.css/", "/assets/app.js%00"] {
                tries.push(format!("{root}{way}{name}"));
            }
        }
    }
    for path in tries {
        let answer = get(&to, &path);
        assert!(matches!(answer.status, 303 | 400 | 404), "{path}: {}", answer.status);
        for telltale in ["[car]", "a secret", "root:", "[package]", "[workspace]"] {
            assert!(!answer.body.contains(telltale), "{path} shows {telltale}");
        }
    }
}

#[test]
fn what_there_is_is_served_with_its_kind() {
    let served = Served::start(&[]);
    let to = host(&served);
    for (path, kind) in [
        ("/assets/page.css", "text/css; charset=utf-8"),
        ("/assets/app.js", "text/javascript; charset=utf-8"),
        ("/place", "text/html; charset=utf-8"),
        ("/place/solid", "application/json"),
    ] {
        let answer = get(&to, path);
        assert_eq!((answer.status, answer.header("content-type")), (200, kind), "{path}");
        assert_eq!(answer.header("x-content-type-options"), "nosniff");
    }
    for name in ["app.jsx", "APP.JS", "app", "page.css.map", ".env"] {
        assert_eq!(get(&to, &format!("/assets/{name}")).status, 404, "{name}");
    }
}
