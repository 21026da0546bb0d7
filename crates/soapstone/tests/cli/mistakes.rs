//! A newcomer's mistakes in a starter file: each is told with its line and with what to write instead.

use crate::run::{file, good, run};

/// What a mistake is worth.
#[derive(Clone, Copy, PartialEq)]
enum Worth {
    /// The file cannot be used: exit code 2.
    Error,
    /// Probably a slip: the file is used, and a warning is told.
    Slip,
}
use Worth::{Error, Slip};

/// Spoils a starter by replacing the first `from` with `to`, and expects the message at the last line that
/// holds `line`, with these words.
#[track_caller]
fn check(kind: &str, from: &str, to: &str, worth: Worth, line: &str, words: &[&str]) {
    let text = good(&["new", kind]);
    assert!(text.contains(from), "the starter has `{from}`");
    let text = text.replacen(from, to, 1);
    let number =
        text.lines().count() - text.lines().rev().position(|l| l.contains(line)).expect("the line is there");
    let caller = std::panic::Location::caller();
    let path = file(&format!("mistake-{}.toml", caller.line()), &text);
    let done = run(&["check", &path]);
    let (code, level) = if worth == Error { (2, "error") } else { (0, "warning") };
    assert_eq!(done.code, Some(code), "{}{}", done.out, done.err);
    let place = format!("{path}:{number}:");
    // The message that points at the line, from its title to its hint.
    let told = done.err.split("\n\n").find(|m| m.contains(&place));
    let told = told.unwrap_or_else(|| panic!("nothing points at line {number} (`{line}`):\n{}", done.err));
    assert!(told.trim_start().starts_with(level), "{told}");
    let remedy = told.contains("help") || told.contains("needs `");
    assert!(remedy, "it says what to write instead:\n{told}");
    for word in words {
        assert!(told.contains(word), "`{word}` is not in\n{told}");
    }
    // Other commands stop for an error, and go on past a slip.
    assert_eq!(run(&["choose", &path]).code, Some(code));
}

#[test]
fn slips_of_the_pen() {
    check("five-link", "name      = \"My car\"", "name      = \"My car", Error, "\"My car", &["quote"]);
    check("five-link", "[2600, 735, 305]", "[2600 735, 305]", Error, "[2600 735, 305]", &["comma"]);
    check("five-link", "[2600, 735, 305]", "[2600, 735, 305", Error, "[2600, 735, 305", &["]"]);
    check("five-link", "camber        = -1.0", "camber        = -1,0", Error, "-1,0", &["-1.0"]);
    check("five-link", "camber        = -1.0", "camber        : -1.0", Error, "camber        : -1.0", &["="]);
    check("five-link", "[rear.wheel]", "[rear.wheel", Error, "[rear.wheel", &["]"]);
    check("five-link", "driven    = \"rear\"", "driven    = rear", Error, "driven    = rear", &["quotes"]);
    check("five-link", "name = \"A\"", "name = \u{201c}A\u{201d}", Error, "\u{201c}A", &["\""]);
    check("five-link", "loaded-radius = 305", "loaded-radius = 12 1/2 in", Error, "12 1/2 in", &["quotes"]);
    check("five-link", "loaded-radius = 305", "loaded-radius = 305 mm", Error, "305 mm", &["quotes"]);
    check(
        "five-link",
        "camber        = -1.0",
        "camber        = \u{2212}1.0",
        Error,
        "\u{2212}1.0",
        &["minus"],
    );
}

#[test]
fn semicolons_between_coordinates() {
    check("five-link", "[2600, 735, 305]", "[2600; 735; 305]", Error, "[2600; 735; 305]", &["comma"]);
}

#[test]
fn wrong_words() {
    check(
        "five-link",
        "\"five-link\"",
        "\"fivelink\"",
        Error,
        "\"fivelink\"",
        &["did you mean \"five-link\""],
    );
    check("five-link", "\"five-link\"", "\"beam\"", Error, "\"beam\"", &["five-link"]);
    check("five-link", "loaded-radius", "loaded-raduis", Error, "loaded-raduis", &["loaded-radius"]);
    check("five-link", "[rear.wheel]", "[rear.whel]", Error, "[rear.whel]", &["wheel"]);
    check("five-link", "driven    = \"rear\"", "driven    = \"back\"", Error, "\"back\"", &["rear"]);
    check("five-link", "length = \"mm\"", "length = \"millimetre\"", Error, "\"millimetre\"", &["mm"]);
    check("five-link", "loaded-radius = 305", "loaded-radius = \"305 kg\"", Error, "305 kg", &["length"]);
    check("five-link", "loaded-radius = 305", "loaded-radius = \"305 mn\"", Error, "305 mn", &["mm"]);
    check(
        "five-link",
        "end  = \"link.lower-fore.body\"",
        "end  = \"link.lower-front.body\"",
        Error,
        "lower-front",
        &["link.lower-fore.body"],
    );
    check(
        "five-link",
        "x = \"rearward from front axle\"",
        "x = \"sideways from front axle\"",
        Error,
        "sideways",
        &["rearward"],
    );
    check(
        "five-link",
        "on    = \"link.lower-aft\"",
        "on    = \"lower-arm\"",
        Error,
        "\"lower-arm\"",
        &["lower-aft"],
    );
}

#[test]
fn missing_and_doubled_things() {
    check("five-link", "[2462, 622, 215]", "[2462, 622]", Error, "[2462, 622]", &["[x, y, z]"]);
    check(
        "five-link",
        "[2462, 622, 215]",
        "[2462, 622, 215, 0]",
        Error,
        "[2462, 622, 215, 0]",
        &["[x, y, z]"],
    );
    check("five-link", "centre        = [", "# centre      = [", Error, "[rear.wheel]", &["centre"]);
    check("five-link", "upright = [2462", "# upright = [2462", Error, "[rear.link.lower-fore]", &["upright"]);
    check(
        "five-link",
        "[rear.link.toe]\nbody    = [2760, 300, 262]\nupright = [2742, 690, 250]\n",
        "",
        Error,
        "[rear]",
        &["five links", "link.NAME"],
    );
    check("five-link", "name = \"B\"", "name = \"A\"", Error, "name = \"A\"", &["two holes called `A`"]);
    check(
        "five-link",
        "[rear.link.toe]",
        "[rear.link.lower-aft]",
        Error,
        "[rear.link.lower-aft]",
        &["lower-aft"],
    );
    check(
        "five-link",
        "soapstone = 1",
        "# soapstone = 1",
        Error,
        "A car file to start from",
        &["soapstone = 1"],
    );
    check("double-wishbone", "ball      = [18, 640, 430]", "", Error, "[front.upper-arm]", &["ball"]);
    check("strut", "[front.strut]", "[front.strutt]", Error, "[front.strutt]", &["strut"]);
}

#[test]
fn probable_slips_of_the_tape() {
    // Inches in a file of millimetres: a link 16 mm long.
    check(
        "five-link",
        "body    = [2100, 420, 280]",
        "body    = [82.7, 16.5, 11]",
        Slip,
        "[82.7, 16.5, 11]",
        &["long"],
    );
    // The wrong side of the car.
    check("five-link", "[2600, 735, 305]", "[2600, -735, 305]", Slip, "[2600, -735, 305]", &["side"]);
    // An upright's point outside any rim, a digit too many.
    check(
        "five-link",
        "upright = [2742, 690, 250]",
        "upright = [2742, 690, 2500]",
        Slip,
        "690, 2500]",
        &["too far", "250 mm"],
    );
    // The sign of camber is right, its size is not.
    check(
        "five-link",
        "camber        = -1.0",
        "camber        = -10",
        Slip,
        "camber        = -10",
        &["camber"],
    );
}

#[test]
fn links_that_do_not_hold_the_wheel() {
    // A link whose two ends are the same point.
    let text =
        good(&["new", "five-link"]).replacen("upright = [2742, 690, 250]", "upright = [2760, 300, 262]", 1);
    let path = file("no-link.toml", text);
    let done = run(&["choose", &path]);
    assert_eq!(done.code, Some(2));
    assert!(done.err.contains("link.toe") && done.err.contains("help"), "{}", done.err);
    // Two links on one line leave the wheel free, whether or not a spring stands on one of them.
    for (twin, body, upright) in [
        ("link.upper-aft", "[2686, 354, 441]", "[2640, 648, 456]"),
        ("link.lower-aft", "[2675, 300, 225]", "[2650, 675, 208]"),
    ] {
        let text = good(&["new", "five-link"])
            .replacen("body    = [2760, 300, 262]", &format!("body    = {body}"), 1)
            .replacen("upright = [2742, 690, 250]", &format!("upright = {upright}"), 1);
        let path = file("one-line.toml", text);
        let done = run(&["choose", &path]);
        assert_eq!(done.code, Some(2), "{}", done.out);
        for words in ["freely", "link.toe", twin] {
            assert!(done.err.contains(words), "`{words}` is not in\n{}", done.err);
        }
    }
}
