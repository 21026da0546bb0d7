//! The Weigh page by plain forms, as a browser without scripts sends them.

use crate::measure::Server;

const PLOVER: &str = include_str!("../../../../examples/plover/car.toml");
const WEIGHED: &str = include_str!("../../../../examples/plover/whole.toml");

/// The row of a result on the page.
fn result<'a>(body: &'a str, name: &str) -> &'a str {
    let start = body.find(&format!("data-result=\"{name}\"")).expect("the result");
    let rest = &body[start..];
    &rest[..rest.find("</tr>").unwrap_or(rest.len())]
}

#[test]
fn results_stand_above_their_figures_and_follow_an_edit() {
    let server = Server::open(Some(WEIGHED));
    let page = server.get("/weigh");
    assert_eq!(page.status, 200);
    let height = result(&page.body, "cg-height").replace("<span class=\"pm\">", "");
    assert!(height.contains("480 ± 12") && height.contains("480 ± 10"), "{height}");
    assert!(result(&page.body, "yaw-inertia").contains("estimated"));
    assert!(page.body.contains("Spring perches") && page.body.contains("+0.45"), "perch turns");
    assert!(page.body.find("part-weighed") < page.body.find("part-ledger"));
    for stage in ["measure", "weigh", "place"] {
        assert!(page.body.contains(&format!("data-stage-link=\"{stage}\"")), "{stage}");
    }
    // The height of the scales is the one in the choice table.
    let explained = server.get("/explain?quantity=anti-lift&axle=rear").body;
    assert!(explained.contains("479.6 mm"), "{explained}");

    let field = "value:weigh.level.front-left";
    let was = "was:value:weigh.level.front-left";
    let done = server.form("/weigh", &[(field, "314.5"), (was, "304.5"), ("back", "/weigh?axle=rear")]);
    assert_eq!((done.status, done.location()), (303, "/weigh?axle=rear"));
    assert!(server.file().contains("front-left  = 314.5"), "{}", server.file());
    assert!(result(&server.get("/weigh").body, "mass").contains("1249.2"), "10 kg more");
}

#[test]
fn a_mistake_is_shown_at_its_cell_and_what_was_typed_stays() {
    let server = Server::open(Some(WEIGHED));
    let field = "value:weigh.level.rear-left";
    let refused = server.form("/weigh", &[(field, "27x"), ("was:value:weigh.level.rear-left", "272.0")]);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("value=\"27x\""), "what was typed stays");
    assert!(refused.body.contains("data-stage=\"weigh\"") && refused.body.contains("aria-invalid=\"true\""));
    let heavy = WEIGHED.replace("mass = \"46 ± 0.5\"", "mass = 4600");
    let page = Server::open(Some(&heavy)).get("/weigh").body;
    assert!(page.contains("more is taken out than the"), "the ledger says so");
}

#[test]
fn parts_are_added_and_struck_off() {
    let server = Server::open(Some(WEIGHED));
    let part = [
        ("add-part", "in"),
        ("name", "roll hoop pad"),
        ("mass", "1.5 ± 0.1"),
        ("x", "1500"),
        ("y", "0"),
        ("z", "44 in"),
        ("back", "/weigh"),
    ];
    assert_eq!(server.form("/weigh", &part).status, 303);
    let text = server.file();
    assert!(
        text.contains("[weigh.in.\"roll hoop pad\"]\nmass = \"1.5 ± 0.1\"\nat   = [1500, 0, \"44 in\"]"),
        "{text}"
    );
    assert!(result(&server.get("/weigh").body, "mass").contains("1201.2"));
    // The same again, and a part without a mass, are refused with the reason.
    let again = server.form("/weigh", &part);
    assert!(again.status == 422 && again.body.contains("on that list already"));
    let empty =
        server.form("/weigh", &[("add-part", "out"), ("name", "seat"), ("x", "1"), ("y", "2"), ("z", "3")]);
    assert_eq!(empty.status, 422);
    let remove = r#"{"edit":"remove-table","path":"weigh.in.roll hoop pad"}"#;
    assert_eq!(server.form("/edit", &[("edit", remove), ("back", "/weigh")]).status, 303);
    assert_eq!(server.file(), WEIGHED);
}

#[test]
fn a_file_without_weights_has_no_such_stage_but_a_way_to_begin_it() {
    let server = Server::open(Some(PLOVER));
    let measure = server.get("/measure").body;
    assert!(!measure.contains("data-stage-link=\"weigh\"") && measure.contains("add scales"));
    assert!(!server.get("/place").body.contains("data-stage-link=\"weigh\""));
    let page = server.get("/weigh");
    assert!(page.status == 200 && page.body.contains("put the car on four scales"));
    let corners = [
        ("begin", "weigh.level"),
        ("value:weigh.level.front-left", "262"),
        ("value:weigh.level.front-right", "258"),
        ("value:weigh.level.rear-left", "242"),
    ];
    let three = server.form("/weigh", &corners);
    assert_eq!(three.status, 422);
    assert!(
        three.body.contains("needs `rear-right`") && three.body.contains("value=\"262\""),
        "what is missing"
    );
    let four: Vec<_> = corners.into_iter().chain([("value:weigh.level.rear-right", "238")]).collect();
    assert_eq!(server.form("/weigh", &four).status, 303);
    let page = server.get("/weigh").body;
    assert!(result(&page, "mass").contains("1000.0"), "{}", result(&page, "mass"));
    assert!(server.get("/place").body.contains("data-stage-link=\"weigh\""));
}
