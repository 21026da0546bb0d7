//! Exit codes: 0, or 2 for wrong input with a message on standard error and nothing on standard output.

use crate::run::{KINDS, PLOVER, demo, file, good, json, nowhere, run};

/// Wrong input: exit code 2, a message with these words, and no data.
#[track_caller]
fn check(args: &[&str], words: &[&str]) {
    let done = run(args);
    assert_eq!(done.code, Some(2), "{args:?}: {}{}", done.out, done.err);
    assert_eq!(done.out, "", "{args:?}: no data where there is none");
    for word in words {
        assert!(done.err.contains(word), "{args:?}: `{word}` is not in\n{}", done.err);
    }
    assert!(done.err.starts_with("error"), "{args:?}: {}", done.err);
}

#[test]
fn files_that_cannot_be_read() {
    let missing = nowhere("missing.toml");
    let folder = std::path::Path::new(&missing).parent().unwrap().to_str().unwrap().to_string();
    let latin = file("latin.toml", b"soapstone = 1\n[car]\nname = \"caf\xe9\"\n");
    let broken = file("broken.toml", "soapstone = 1\n[car\n");
    let empty = file("empty.toml", "");
    for command in ["choose", "sweep", "check"] {
        check(&[command, &missing], &["cannot read", "missing.toml", "soapstone new"]);
        check(&[command, &folder], &["folder"]);
        check(&[command, &latin], &["UTF-8", "line 3"]);
    }
    check(&["explain", "toe", &missing], &["cannot read"]);
    check(&["holes", &missing, "--want", "anti-lift=30"], &["cannot read"]);
    for command in ["choose", "sweep"] {
        check(&[command, &broken], &["broken.toml:2:"]);
        check(&[command, &empty], &["soapstone = 1"]);
    }
}

#[test]
fn questions_that_make_no_sense() {
    let car = demo(PLOVER);
    let rear_only = demo("plover/before.toml");
    check(&["explain", "anti-left", &car], &["no quantity", "anti-lift"]);
    check(&["explain", &car], &["is a file", "anti-lift"]);
    let front_only = file("front-only.toml", good(&["new", "strut"]));
    check(
        &["explain", "anti-squat", &front_only],
        &["`anti-squat` belongs to the rear axle", "no `[rear]`", "write `anti-lift --axle front`"],
    );
    check(&["explain", "anti-dive", &car, "--axle", "rear"], &["belongs to the front axle", "--axle front"]);
    check(&["holes", &car, "--want", "anti-dive=30"], &["belongs to the front axle", "--axle front"]);
    check(&["holes", &car, "--want", "anti-left=30"], &["anti-lift"]);
    check(&["holes", &car, "--want", "anti-lift"], &["="]);
    check(&["holes", &car, "--want", "anti-lift=thirty"], &["not a number"]);
    check(&["holes", &car, "--want", "anti-lift=nan"], &["not a number"]);
    check(&["holes", &car, "--want", "anti-lift=1,2,3,4,5,6,7,8,9,10,11,12,13"], &["12"]);
    check(
        &["holes", &car, "--want", "anti-lift=30", "--plate", "upper"],
        &["no plate `upper`", "lower-fore"],
    );
    check(&["holes", &demo("dunlin/car.toml"), "--want", "anti-lift=30"], &["no plate", "rear.plate"]);
    for range in
        ["60:-60:20", "-60:60:0", "-60:60:-5", "1:2", "a:b:c", "0:1e9:0.001", "nan:1:1", "", "0:inf:1"]
    {
        check(&["sweep", &car, &format!("--travel={range}")], &["travel"]);
    }
    check(&["sweep", &car, "--axle", "front", "--rack=-70:70:10"], &["rack", "68"]);
    check(&["sweep", &car, "--axle", "rear", "--rack=5"], &["no rack"]);
    check(&["sweep", &car, "--at", "link.lower-fore.body=Z"], &["no hole `Z`", "`A`"]);
    check(&["sweep", &car, "--at", "link.lower-for.body=A"], &["no holes", "link.lower-fore.body"]);
    check(&["sweep", &car, "--at", "A"], &["END=HOLE"]);
    check(&["choose", &car, "--at", "link.lower-fore.body=Z"], &["no hole `Z`"]);
    check(&["sweep", &car, "--setup", "wet"], &["no setup `wet`", "circuit"]);
    for command in ["choose", "sweep"] {
        check(&[command, &rear_only, "--axle", "front"], &["no `[front]`", "--axle rear"]);
    }
    check(&["explain", "wheel-rate", &car, "--element", "spoon"], &["spoon", "spring"]);
    check(&["explain", "toe", &car, "--travel", "800"], &["stops"]);
    check(&["new", "beam"], &["no kind `beam`", "five-link"]);
    check(&["new", "strut", "--units", "cubit"], &["cubit", "mm"]);
    // The command line itself.
    check(&["shoot"], &["shoot"]);
    check(&["choose", &car, "--json", "--csv"], &["--csv"]);
    check(&["choose", &car, "--axle", "middle"], &["middle", "rear"]);
    check(&["holes", &car], &["--want"]);
}

#[test]
fn wishes_that_cannot_be_met_are_an_answer() {
    let found = json(&["holes", "--want", "anti-lift=50,900", "--json"]);
    assert_eq!(found["placed"].as_array().unwrap().len(), 1);
    assert_eq!(found["unmet"][0]["wish"], 9.0);
    assert!(good(&["holes", "--want", "anti-lift=900"]).contains("cannot be met"));
}

#[test]
fn new_files_are_good_to_go_and_never_overwritten() {
    for kind in KINDS {
        for units in ["mm", "in", "m", "ft"] {
            let path = nowhere(&format!("new-{kind}-{units}.toml"));
            let said = good(&["new", kind, &path, "--units", units]);
            assert!(said.contains("soapstone check") && said.contains("soapstone choose"), "{said}");
            let text = std::fs::read_to_string(&path).unwrap();
            assert_eq!(text, good(&["new", kind, "--units", units]), "printed and written alike");
            assert_eq!(json(&["new", kind, "--units", units, "--json"])["text"], text.as_str());
            assert!(
                text.contains(&format!("kind        = \"{kind}\"")) || text.contains(&format!("\"{kind}\""))
            );
            let check = json(&["check", &path, "--json"]);
            assert_eq!(check["usable"], true, "{kind} in {units}: {check}");
            let table = run(&["choose", &path]);
            assert_eq!((table.code, table.err.as_str()), (Some(0), ""), "{kind} in {units}");
            assert!(table.out.contains('±'), "{kind} in {units}: values with their doubt");
        }
        let path = file(&format!("there-{kind}.toml"), "mine");
        check(&["new", kind, &path], &["left as it is"]);
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "mine", "untouched");
    }
    let nowhere = format!("{}/no/such/folder.toml", nowhere("x"));
    check(&["new", "strut", &nowhere], &["cannot write"]);
    assert_eq!(good(&["new", "strut", "-"]), good(&["new", "strut"]), "`-` is standard output");
    assert!(!std::path::Path::new("-").exists(), "and no file");
}

#[test]
fn no_file_stands_for_the_demo() {
    let named = good(&["choose", &demo(PLOVER)]);
    assert_eq!(good(&["choose"]), named, "the table of the demo");
    for caution in ["not an approval", "licensed"] {
        assert!(named.contains(caution), "{caution}");
    }
    assert!(named.contains("m a h / L"), "what anti-lift does not do is said beside it");
}

#[test]
fn warnings_go_to_standard_error_and_data_to_standard_output() {
    let text = std::fs::read_to_string(demo(PLOVER)).unwrap();
    // A wheel as large as a tractor's is a slip, and the table is made all the same.
    let path = file(
        "slip.toml",
        text.replacen("loaded-radius = 305", "loaded-radius = 305.0 # mm", 1).replacen(
            "toe           = 0.1\n",
            "toe           = 9.5\n",
            1,
        ),
    );
    let done = run(&["choose", &path, "--json"]);
    assert_eq!(done.code, Some(0), "{}", done.err);
    assert!(done.err.contains("warning") && done.err.contains("slip.toml:"), "{}", done.err);
    assert!(serde_json::from_str::<serde_json::Value>(&done.out).is_ok(), "standard output is JSON alone");
}
