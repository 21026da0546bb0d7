//! The pages Stop and Balance by plain forms, as a browser without scripts sends them.

use crate::measure::Server;

const PLOVER: &str = include_str!("../../../../examples/plover/car.toml");
const WHOLE: &str = include_str!("../../../../examples/plover/whole.toml");

#[test]
fn results_stand_above_their_figures_and_follow_an_edit() {
    let server = Server::open(Some(WHOLE));
    for (path, result, chart) in
        [("/stop", "greatest-deceleration", "chart-bias"), ("/balance", "understeer", "map-")]
    {
        let page = server.get(path);
        assert_eq!(page.status, 200);
        for part in
            [format!("data-result=\"{result}\""), chart.to_string(), "data-stage-link=\"balance\"".into()]
        {
            assert!(page.body.contains(&part), "{path}: {part}");
        }
        assert!(page.body.find("part-stage") < page.body.find("part-scales"), "{path}");
        assert!(!page.body.contains("NaN"), "{path}");
    }
    let before = server.get("/stop").body;
    let form = [
        ("value:stop.deceleration", "0.5"),
        ("was:value:stop.deceleration", "1.0"),
        ("back", "/stop?axle=rear"),
    ];
    let done = server.form("/stop", &form);
    assert_eq!((done.status, done.location()), (303, "/stop?axle=rear"), "{}", done.body);
    assert!(server.file().contains("deceleration = 0.5"), "{}", server.file());
    let after = server.get("/stop").body;
    assert!(before.contains("In a stop of 1.00 g") && after.contains("In a stop of 0.50 g"));
}

#[test]
fn a_hole_on_trial_is_the_one_that_is_worked_out() {
    let server = Server::open(Some(WHOLE));
    let page = |hole: &str| server.get(&format!("/stop?axle=rear&use=link.lower-fore.body%3D{hole}")).body;
    let rise = |body: &str| body.split("chart-rise-over-time").nth(1).map(str::to_string);
    let (a, c) = (page("A"), page("C"));
    assert!(rise(&a).is_some() && rise(&a) != rise(&c), "the body rises otherwise");
    assert!(c.contains("aria-current=\"true\">C"), "the hole in use is marked");
}

#[test]
fn a_mistake_is_refused_at_its_cell_and_tables_are_begun() {
    let server = Server::open(Some(WHOLE));
    let field = "value:pedal.ratio";
    let refused = server.form("/stop", &[(field, "five"), ("was:value:pedal.ratio", "5.4 ± 0.05")]);
    assert_eq!(refused.status, 422);
    assert!(refused.body.contains("value=\"five\""), "what was typed stays");
    let bare = Server::open(Some(PLOVER));
    let page = bare.get("/stop");
    assert!(page.status == 200 && page.body.contains("Not known yet"), "{}", page.status);
    let tyre = [
        ("begin", "tyre"),
        ("value:tyre.vertical-rate", "210"),
        ("value:tyre.nominal-load", "3000"),
        ("value:tyre.friction", "1.1"),
        ("value:tyre.load-sensitivity", "0.1"),
        ("value:tyre.cornering-stiffness", "1100"),
        ("value:tyre.loads", "[500, 8000]"),
        ("back", "/stop?axle=rear"),
    ];
    let done = bare.form("/stop", &tyre);
    assert_eq!(done.status, 303, "{}", done.body);
    assert!(
        bare.file().contains("[tyre]") && bare.file().contains("cornering-stiffness = 1100"),
        "{}",
        bare.file()
    );
}

#[test]
fn a_setup_is_a_row_and_both_stages_are_worked_out_with_it() {
    let server = Server::open(Some(WHOLE));
    let place = server.get("/place?axle=rear").body;
    let link = "with=cones&amp;use=link.lower-fore.body%3DA";
    assert!(place.contains(link), "the row of the setup opens it");
    let stage = |query: &str| server.get(&format!("/balance?axle=rear&{query}")).body;
    let (plain, cones) =
        (stage("use=link.lower-fore.body%3DA"), stage("with=cones&use=link.lower-fore.body%3DA"));
    let figure = |body: &str| {
        let cell = body.split("data-result=\"roll-stiffness-share\"").nth(1).unwrap();
        cell.split("</tr>").next().unwrap().to_string()
    };
    assert_ne!(figure(&plain), figure(&cones));
    assert!(stage("with=nothing").contains("part-stage"), "a setup that is not there is left out");
}

/// Drive: laps, the course from above, a figure typed over that the laps follow.
#[test]
fn laps_stand_above_their_figures() {
    let server = Server::open(Some(WHOLE));
    let page = server.get("/drive").body;
    for part in [
        "data-result=\"lap-time\"",
        "course-marrow-heath",
        "course-tern-apron",
        "chart-tern-apron-behind",
        "What a change is worth",
        "no promise of a time",
        "What the driver keeps in hand while braking",
    ] {
        assert!(page.contains(part), "{part}");
    }
    assert!(!page.contains("NaN"));
    let form = [
        ("value:gearbox.final-drive", "0.1"),
        ("was:value:gearbox.final-drive", "3.50"),
        ("back", "/drive?axle=rear"),
    ];
    let done = server.form("/drive", &form);
    assert_eq!(done.status, 422, "{}", done.body);
    assert!(done.body.contains("no ratio of a final drive"));
}

#[test]
fn manoeuvres_are_driven_played_and_changed() {
    let server = Server::open(Some(WHOLE));
    let page = server.get("/manoeuvres").body;
    for part in [
        "data-result=\"braked-yaw\"",
        "motion-braked-turn",
        "brakedturnplay.click",
        "chart-braked-yaw-ratio",
        "no leave to try it",
    ] {
        assert!(page.contains(part), "{part}");
    }
    let form = [
        ("value:manoeuvre.step-speed", "80"),
        ("was:value:manoeuvre.step-speed", ""),
        ("back", "/manoeuvres"),
    ];
    let done = server.form("/manoeuvres", &[&[("begin", "manoeuvre")][..], &form[..]].concat());
    assert_eq!((done.status, done.location()), (303, "/manoeuvres"), "{}", done.body);
    assert!(server.file().contains("step-speed"), "{}", server.file());
    assert!(server.get("/manoeuvres").body.contains("Step of the steering: 80 km/h"));
}

/// Begun, stopped at once, it ends with what there is.
#[test]
fn a_search_is_begun_and_stopped() {
    let server = Server::open(Some(WHOLE));
    let page = server.get("/search");
    assert!(
        page.status == 200 && page.body.contains("The best setting") && page.header("refresh").is_empty()
    );
    assert!(!page.body.contains("part-stage"));
    assert_eq!(server.form("/search/run", &[]).location(), "/search");
    let page = server.get("/search");
    assert!(!page.header("refresh").is_empty() && page.body.contains("Stop, and go on"), "{}", page.body);
    assert_eq!(server.form("/search/stop", &[]).location(), "/search");
    for _ in 0..300 {
        let page = server.get("/search");
        if page.header("refresh").is_empty() {
            assert!(page.body.contains("The search was stopped"), "{}", page.body);
            assert!(page.body.contains("as in the file") && page.body.contains("no promise of a time"));
            return;
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    unreachable!("a stopped search ends");
}
