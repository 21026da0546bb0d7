//! The page Build by plain forms, as a browser without scripts sends them.

use crate::measure::Server;

const WHOLE: &str = include_str!("../../../../examples/plover/whole.toml");

#[test]
fn the_caution_and_the_drawing_stand_beside_the_margins() {
    let server = Server::open(Some(WHOLE));
    let page = server.get("/build");
    assert_eq!(page.status, 200);
    let body = &page.body;
    let (caution, margins) =
        (body.find("A margin here is that of one still load"), body.find("Margins, the weakest first"));
    assert!(caution.is_some() && caution < margins);
    for part in [
        "loaded-frame",
        "data-part=\"rear link.toe.body\"",
        "What the feet hand to the shell",
        "Cut list",
        "give drawn",
        "EN 1993-1-8",
        "data-stage-link=\"build\"",
    ] {
        assert!(body.contains(part), "{part}");
    }
    assert!(!body.contains("NaN"));
}

#[test]
fn an_edit_is_kept_and_the_margins_follow() {
    let server = Server::open(Some(WHOLE));
    let form =
        [("value:build.wanted", "2.5"), ("was:value:build.wanted", "1.5"), ("back", "/build?axle=rear")];
    let done = server.form("/build", &form);
    assert_eq!((done.status, done.location()), (303, "/build?axle=rear"), "{}", done.body);
    assert!(server.file().contains("wanted = 2.5"), "{}", server.file());
    let after = server.get("/build").body;
    assert!(after.contains("parts hold less than the 2.50 times that are wanted"), "the weakest holds 2.01");
    let refused = server.form("/build", &[("value:build.wanted", "0.5"), ("was:value:build.wanted", "2.5")]);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("would not hold their own loads"));
}

/// A node, a tube and a bracket of its own are typed over where they stand; comments stay.
#[test]
fn the_frame_is_typed_over_on_the_page() {
    let server = Server::open(Some(WHOLE));
    let tubes = WHOLE.matches("[[build.frame.tube]]").count();
    let page = server.get("/build").body;
    for index in 0..tubes {
        assert!(page.contains(&format!("value:build.frame.tube.{index}.section")), "tube {index}");
    }
    let edit = |path: &str, was: &str, text: &str| {
        let (now, before) = (format!("value:{path}"), format!("was:value:{path}"));
        server.form("/build", &[(&now, text), (&before, was), ("back", "/build?axle=rear")])
    };
    assert_eq!(edit("build.frame.nodes.beam-rail", "2250, 400, 330", "2255, 400, 331.5").status, 303);
    assert_eq!(edit("build.frame.tube.1.section", "box 80x60x3", "box 80x60x4").status, 303);
    assert_eq!(edit("build.rear.link.lower-aft.body.doubler", "5", "6").status, 303);
    let file = server.file();
    assert!(file.contains("beam-rail = [2255, 400, 331.5]\n"), "{file}");
    assert!(file.contains("from = \"beam-rail\"\nto = \"beam-end\"\nsection = \"box 80x60x4\"\n"), "{file}");
    assert!(file.contains("doubler = 6                          # a plate between"), "{file}");
    assert_eq!(file.matches("box 80x60x3").count(), WHOLE.matches("box 80x60x3").count() - 1);
    let refused = edit("build.frame.tube.1.section", "box 80x60x4", "box 80x60x40");
    assert_eq!(refused.status, 422);
    assert_eq!(edit("build.frame.nodes.beam-rail", "2255, 400, 331.5", "2255, 400").status, 422);
    assert_eq!(server.file(), file, "what is refused is not written");
}

#[test]
fn hole_and_load_case_are_those_of_the_address() {
    let server = Server::open(Some(WHOLE));
    let page = |query: &str| server.get(&format!("/build?axle=rear{query}")).body;
    let (drawn, high) = (page(""), page("&use=link.lower-fore.body%3DC"));
    let worst =
        |body: &str| body.split("holds ").nth(1).and_then(|rest| rest.split(' ').next()).map(str::to_string);
    assert_ne!(worst(&drawn), worst(&high));
    assert!(high.contains("aria-current=\"true\">C"), "the hole in use is marked");
    let jack = page("&case=jack");
    assert!(jack.contains("aria-current=\"true\">jack under a pickup"));
    assert!(page("&case=nonsense").contains("aria-current=\"true\">hardest corner"));
}

#[test]
fn a_car_without_steel_begins_it_here() {
    let start = WHOLE.find("[build]").unwrap();
    let server = Server::open(Some(&WHOLE[..start]));
    let page = server.get("/build").body;
    assert!(
        page.contains("Not known yet") && page.contains("Forces in the links, rear axle"),
        "loads are worked out"
    );
    let begin = [("begin", "build"), ("value:build.wanted", "1.5"), ("value:build.grade", "S355")];
    let done = server.form("/build", &begin);
    assert_eq!(done.status, 303, "{}", done.body);
    assert!(
        server.file().contains("[build]") && server.file().contains("grade = \"S355\""),
        "{}",
        server.file()
    );
}
