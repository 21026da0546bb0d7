//! Files that leave and enter: jig sheet, setup cards, templates, points, results, skeleton, charts.

use std::path::Path;

use crate::run::{DEMOS, demo, file, good, json, nowhere, run};

const WHOLE: &str = "plover/whole.toml";

/// A path of an ending in the tests' own folder where nothing is.
fn new(name: &str) -> String {
    nowhere(&format!("paper/{name}"))
}

fn read(path: &str) -> Vec<u8> {
    std::fs::read(path).expect("a file that was written")
}

fn text(path: &str) -> String {
    String::from_utf8(read(path)).expect("a text")
}

/// Pages of a PDF as its tree says.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.split("/Type/Page")
        .skip(1)
        .filter(|rest| !rest.starts_with('s') && !rest.starts_with("Label"))
        .count()
}

#[test]
fn the_jig_sheet_stands_in_the_surveys_own_frame() {
    let out = json(&["jig", "--json"]);
    assert_eq!((out["schema"].as_str(), out["axle"].as_str()), (Some("soapstone.jig/1"), Some("rear")));
    let places = out["places"].as_array().unwrap();
    let toe = places.iter().find(|p| p["point"] == "link.toe.body" && p["side"] == "left").unwrap();
    // `body = [2760, 300, 262]` counts rearward, so that it is behind the front axle in the car's axes.
    let at: Vec<f64> = toe["at_survey_m"].as_array().unwrap().iter().map(|v| v.as_f64().unwrap()).collect();
    assert!(at[0] > 0.0 && toe["at_m"][0].as_f64().unwrap() == -at[0], "{toe}");
    assert!(toe["need"]["along"][2]["tolerance_m"].as_f64().unwrap() > 0.0);
    let tape = &toe["tapes"][0];
    let mark = out["marks"].as_array().unwrap().iter().find(|m| m["mark"] == tape["mark"]).unwrap();
    let way: f64 =
        (0..3).map(|k| (at[k] - mark["at_survey_m"][k].as_f64().unwrap()).powi(2)).sum::<f64>().sqrt();
    assert!((way - tape["length_m"].as_f64().unwrap()).abs() < 1e-9);

    let printed = good(&["jig", &demo(WHOLE), "--axle", "front"]);
    for words in ["Caution", "x rearward from front axle", "What decides", "Diagonals", "tape is enough"] {
        assert!(printed.contains(words), "{words}\n{printed}");
    }
    let csv = good(&["jig", "--csv"]);
    assert!(csv.starts_with("place,side,what it is,x [mm],"), "{csv}");
    let path = new("jig.csv");
    good(&["jig", "-o", &path]);
    assert_eq!(text(&path), csv, "the same table");
    let inches = good(&["jig", &demo("wren/car.toml"), "--csv"]);
    assert!(inches.contains("x [in]"), "{inches}");
    let path = new("jig.pdf");
    assert!(good(&["jig", "-o", &path, "--paper", "letter"]).contains("wrote "));
    assert!(read(&path).starts_with(b"%PDF-") && pages(&read(&path)) >= 2);
    let path = new("jig.xlsx");
    good(&["jig", "-o", &path]);
    assert!(read(&path).starts_with(b"PK"));
}

#[test]
fn a_card_is_one_page_with_the_jobs_from_every_other_setup() {
    let out = json(&["card", "--json"]);
    assert_eq!(out["schema"], "soapstone.card/1");
    let cards = out["cards"].as_array().unwrap();
    assert_eq!(cards.len(), 2);
    for card in cards {
        assert_eq!(card["from"].as_array().unwrap().len(), 1, "{card}");
        assert!(!card["from"][0]["steps"].as_array().unwrap().is_empty());
    }
    let path = new("cards.pdf");
    good(&["card", "-o", &path]);
    assert_eq!(pages(&read(&path)), 2, "a page a card");
    for car in DEMOS {
        let setups = json(&["card", &demo(car), "--json"])["cards"].as_array().unwrap().len();
        let path = new(&format!("cards-{}.pdf", car.replace(['/', '.'], "-")));
        good(&["card", &demo(car), "-o", &path]);
        assert_eq!(pages(&read(&path)), setups, "{car}");
    }
    let jobs = good(&["card", "--setup", "cones", "--from", "circuit"]);
    let (bar, toe) = (jobs.find("rear bar: from").unwrap(), jobs.find("rear toe, each wheel: from").unwrap());
    assert!(bar < toe && jobs.contains("☐") && jobs.contains("On stands"), "{jobs}");
    assert!(!jobs.contains("Setup card: circuit"));
    assert!(good(&["card", "--setup", "as drawn"]).contains("Setup card: as drawn"));
    let wrong = run(&["card", "--from", "rain"]);
    assert!(wrong.code == Some(2) && wrong.err.contains("no setup `rain`") && wrong.err.contains("`cones`"));
}

#[test]
fn templates_are_told_how_to_be_printed() {
    let path = new("template.pdf");
    let said = good(&["template", "-o", &path]);
    assert!(
        said.contains("100 %") && said.contains("measure the bars") && said.contains("right side"),
        "{said}"
    );
    assert_eq!(pages(&read(&path)), 2);
    let path = new("template.dxf");
    good(&["template", "--plate", "lower-fore", "--side", "left", "-o", &path]);
    let dxf = text(&path);
    for layer in ["cut", "drill", "mark"] {
        assert!(dxf.contains(&format!("\n{layer}\n")), "{layer}");
    }
    assert_eq!(dxf.matches("\nLWPOLYLINE\n").count() + dxf.matches("\nPOLYLINE\n").count(), 1);
    let both = new("both.dxf");
    good(&["template", "-o", &both]);
    assert_eq!(text(&both).matches("\nCIRCLE\n").count(), 2 * dxf.matches("\nCIRCLE\n").count());
    let path = new("template.svg");
    good(&["template", "--side", "right", "-o", &path]);
    assert!(text(&path).starts_with("<svg") && text(&path).contains("mm\""));
    let wrong = run(&["template", "--plate", "upper", "-o", &new("no.pdf")]);
    assert!(
        wrong.code == Some(2) && wrong.err.contains("no plate `upper`") && wrong.err.contains("`lower-fore`")
    );
    let wrong = run(&["template", "--axle", "front", "-o", &new("no.pdf")]);
    assert!(wrong.code == Some(2) && wrong.err.contains("the front axle has no plate"), "{}", wrong.err);
}

#[test]
fn points_come_back_the_same() {
    let kinds = ["five-link", "double-wishbone", "strut", "trailing-blade", "semi-trailing-arm", "links"];
    let mut cars: Vec<(String, String)> = DEMOS
        .iter()
        .chain([&WHOLE])
        .map(|car| (car.replace(['/', '.'], "-"), std::fs::read_to_string(demo(car)).unwrap()))
        .collect();
    cars.extend(kinds.iter().map(|kind| ((*kind).to_string(), good(&["new", kind, "-"]))));
    cars.push(("inch".into(), good(&["new", "five-link", "-", "--units", "in"])));
    // Measured on the right: the car's own points are the mirror image of those of the file.
    let left = std::fs::read_to_string(demo("plover/car.toml")).unwrap();
    cars.push(("right".into(), left.replace("left from centreline", "right from centreline")));
    for (name, written) in cars {
        let car = file(&format!("paper/back-{name}.toml"), &written);
        for ending in ["csv", "xlsx"] {
            let points = new(&format!("back-{name}.{ending}"));
            good(&["export", "points", &car, "-o", &points]);
            let said = good(&["import", &car, &points]);
            assert!(said.contains("nothing to change"), "{name} {ending}: {said}");
            assert_eq!(text(&car), written, "{name} {ending}");
        }
    }
}

#[test]
fn a_moved_point_is_taken_in_and_the_rest_keeps_its_spelling() {
    let written = std::fs::read_to_string(demo(WHOLE)).unwrap();
    let car = file("paper/moved.toml", &written);
    let points = new("moved.csv");
    good(&["export", "points", &car, "-o", &points]);
    let line = text(&points).lines().find(|l| l.starts_with("rear.link.toe.body,")).unwrap().to_string();
    let cells: Vec<&str> = line.split(',').collect();
    let moved =
        text(&points).replace(&line, &format!("{},{},{},270,{}", cells[0], cells[1], cells[2], cells[4]));
    std::fs::write(&points, moved).unwrap();
    let tried = good(&["import", &car, &points, "--try"]);
    assert!(tried.contains("rear.link.toe.body") && tried.contains("nothing was written"), "{tried}");
    assert_eq!(text(&car), written, "a try writes nothing");
    let out = json(&["import", &car, &points, "--json"]);
    assert_eq!((out["schema"].as_str(), out["written"].as_bool()), (Some("soapstone.import/1"), Some(true)));
    assert_eq!(out["changes"].as_array().unwrap().len(), 1, "{out}");
    let differ: Vec<_> =
        written.lines().zip(text(&car).lines()).filter(|(a, b)| a != b).map(|(_, b)| b.to_string()).collect();
    assert_eq!(differ.len(), 1, "{differ:?}");
    assert!(differ[0].contains("270") && !differ[0].contains(".0000"), "{differ:?}");
    assert!(Path::new(&car).with_file_name(".soapstone").is_dir(), "a journal, so that undo works");
}

#[test]
fn columns_are_guessed_or_said_and_mistakes_have_addresses() {
    let written = std::fs::read_to_string(demo("plover/car.toml")).unwrap();
    let car = file("paper/columns.toml", &written);
    let table = file(
        "paper/columns.csv",
        "survey of May\n\nz,name,x,y\n262,link.toe.body,twelve,300\n1,link.tow.body,2,3\n",
    );
    let wrong = run(&["import", &car, &table]);
    assert_eq!((wrong.code, wrong.out.as_str()), (Some(2), ""));
    assert!(wrong.err.contains("columns.csv, C4: `twelve` is not a length"), "{}", wrong.err);
    let table = file("paper/names.csv", "name,x,y,z\nlink.tow.body,2760,300,262\n");
    let wrong = run(&["import", &car, &table]);
    assert!(wrong.err.contains("A2: ") && wrong.err.contains("link.toe.body"), "{}", wrong.err);
    assert_eq!(text(&car), written, "nothing written when anything is wrong");
    let table = file("paper/bare.csv", "a,b,link.toe.body,108.7,11.8,10.3\n");
    let good_said = good(&[
        "import",
        &car,
        &table,
        "--columns",
        "name=C,x=D,y=E,z=F",
        "--unit",
        "in",
        "--first-row",
        "1",
        "--try",
    ]);
    assert!(good_said.contains("x from D [in]") && good_said.contains("108.7 in"), "{good_said}");
    for (arguments, words) in [
        (vec!["--columns", "name=A,x=B"], "no column is given for the y"),
        (vec!["--unit", "furlong"], "not a length unit"),
        (vec!["--sheet", "May"], "no sheet `May`"),
    ] {
        let mut all = vec!["import", &car, &table];
        all.extend(arguments);
        let done = run(&all);
        assert!(done.code == Some(2) && done.err.contains(words), "{}", done.err);
    }
    let words = file("paper/words.csv", "just,some,words\n");
    let done = run(&["import", &car, &words]);
    assert!(done.code == Some(2) && done.err.contains("name=A,x=B"), "{}", done.err);
}

#[test]
fn results_skeleton_and_charts_leave_as_files() {
    let path = new("results.csv");
    good(&["export", "results", "-o", &path]);
    let csv = text(&path);
    assert!(csv.starts_with("stage,group,result,column,unit,value,±"), "{csv}");
    for stage in ["\nChoose,", "\nStop,", "\nBalance,", "\nWeigh,"] {
        assert!(csv.contains(stage), "{stage}");
    }
    let path = new("results.xlsx");
    good(&["export", "results", "-o", &path]);
    assert!(read(&path).starts_with(b"PK"));
    for (ending, begin, has) in
        [("dxf", "  0\nSECTION", "\nlinks\n"), ("step", "ISO-10303-21;", "rear left link.toe")]
    {
        let path = new(&format!("skeleton.{ending}"));
        let said = good(&["export", "skeleton", "-o", &path]);
        assert!(said.contains("x forward"), "{said}");
        assert!(text(&path).starts_with(begin) && text(&path).contains(has), "{ending}");
    }
    let folder = new("charts");
    good(&["export", "charts", "-o", &folder]);
    let names: Vec<String> = std::fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    for name in ["front-from-left.svg", "rear-toe.svg", "rear-anti-lift.svg"] {
        assert!(names.contains(&name.to_string()), "{name}: {names:?}");
    }
    assert!(names.iter().any(|n| n.starts_with("stop-")) && names.iter().any(|n| n.starts_with("balance-")));
    let drawn = text(&format!("{folder}/rear-from-left.svg"));
    assert!(drawn.starts_with("<svg") && !drawn.contains("var("), "colours that every program knows");
    let again = run(&["export", "charts", "-o", &folder]);
    assert!(again.code == Some(2) && again.err.contains("is there already"), "{}", again.err);
    let folder = new("pictures");
    good(&["export", "charts", &demo("wren/car.toml"), "--as", "png", "-o", &folder]);
    assert!(read(&format!("{folder}/rear-toe.png")).starts_with(b"\x89PNG"));
}

#[test]
fn nothing_is_written_over_and_endings_are_told() {
    let there = file("paper/there.csv", "mine");
    let done = run(&["export", "points", "-o", &there]);
    assert!(done.code == Some(2) && done.err.contains("--force"), "{}", done.err);
    assert_eq!(text(&there), "mine");
    good(&["export", "points", "-o", &there, "--force"]);
    assert!(text(&there).starts_with("point,"));
    for (arguments, known) in [
        (vec!["jig", "-o", "jig.doc"], "`.pdf`, `.csv`, `.xlsx`"),
        (vec!["card", "-o", "card.csv"], "`.pdf`"),
        (vec!["template", "-o", "template"], "`.pdf`, `.svg`, `.dxf`"),
        (vec!["export", "skeleton", "-o", "skeleton.svg"], "`.dxf`, `.step`"),
        (vec!["export", "results", "-o", "results.txt"], "`.csv`, `.xlsx`"),
        (vec!["export", "charts", "-o", "charts.svg"], "without an ending"),
    ] {
        let done = run(&arguments);
        assert!(
            done.code == Some(2) && done.out.is_empty() && done.err.contains(known),
            "{arguments:?} {}",
            done.err
        );
        assert!(!Path::new(arguments.last().unwrap()).exists());
    }
    let done = run(&["jig", "-o", &format!("{}/deeper/jig.pdf", new("no-folder"))]);
    assert!(done.code == Some(2) && done.err.contains("the folder is not there"), "{}", done.err);
}

#[test]
fn the_book_is_one_file_that_is_not_written_over() {
    let path = new("book.pdf");
    let said = good(&["book", "-o", &path, "--date", "2026-05-17", "--revision", "7"]);
    let pdf = read(&path);
    assert!(pdf.starts_with(b"%PDF-"));
    assert!(said.contains(&format!("{} pages", pages(&pdf))), "{said}");
    let again = run(&["book", "-o", &path]);
    assert!(again.code == Some(2) && again.err.contains("--force"), "{}", again.err);
    assert_eq!(read(&path), pdf, "it is left as it is");
    good(&["book", "-o", &path, "--force", "--date", "2026-05-17", "--revision", "7"]);
    assert_eq!(read(&path), pdf, "the same car gives the same bytes");
    let one = new("one.pdf");
    good(&["book", &demo("wren/car.toml"), "-o", &one]);
    assert!(read(&one).starts_with(b"%PDF-"));
    assert!(run(&["book", "-o", "book.doc"]).err.contains("`.pdf`"));
}
