//! `[tyre]`, brake parts, bars, air and the stop.

use super::{SKETCH, told};

/// What is told of a piece added to the sketch, without places.
#[track_caller]
fn says(added: &str, expect: &[&str]) {
    let all = told(&format!("{SKETCH}\n{added}"));
    let found: Vec<&str> = all.iter().map(|line| line.splitn(3, ' ').last().unwrap_or_default()).collect();
    for words in expect {
        assert!(found.iter().any(|line| line.contains(words)), "`{words}` is not in {found:#?}");
    }
    if expect.is_empty() {
        let wrong: Vec<&String> = all.iter().filter(|line| line.starts_with("error")).collect();
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
}

const TYRE: &str =
    "[tyre]\nvertical-rate = 210\nnominal-load = 3000\nfriction = 1.1\ncornering-stiffness = 1100\n";

#[test]
fn tyres() {
    says(&format!("{TYRE}loads = [500, 8000]\n"), &[]);
    says(TYRE, &["`[tyre]` needs `loads`: the loads for which the figures hold"]);
    says(&format!("{TYRE}loads = [8000, 500]\n"), &["must be two loads, the lesser one first"]);
    says(&format!("{TYRE}loads = [4000, 8000]\n"), &["the nominal load is not among the loads"]);
    says(&format!("{}loads = [500, 8000]\n", TYRE.replace("1.1", "11")), &["which no tyre has"]);
    says(&format!("{}loads = [500, 8000]\n", TYRE.replace("210", "2.1")), &["which is no tyre of a car"]);
    says("[tyre]\nmodel = \"magic\"\n[tyre.parameters]\nFNOMIM = 4000\n", &["did you mean `FNOMIN`?"]);
}

#[test]
fn brake_parts() {
    let disc =
        "[front.disc]\ncaliper = \"fixed\"\npistons = [38, 38]\neffective-radius = 120\nfriction = 0.42\n";
    says(disc, &[]);
    says(&disc.replace("[38, 38]", "[38]"), &["a fixed caliper has as many on each side"]);
    says(&disc.replace("0.42", "42"), &["which no pad has"]);
    says(&disc.replace("effective-radius = 120\n", ""), &["needs `effective-radius`"]);
    says(
        "[pedal]\nratio = 5\nfront-master = 18\nrear-master = 19\nbias = 55\n",
        &["for per cent write \"55 %\""],
    );
    says("[pedal]\nratio = 5\ntandem = 22\nbias = 0.5\n", &["a tandem cylinder has no bias bar"]);
    says("[pedal]\nratio = 5\nfront-master = 18\n", &["needs `rear-master`", "needs `bias`"]);
}

#[test]
fn air_and_the_stop() {
    says("[aero]\ndrag-area = 0.7\ndrag-height = 500\n", &[]);
    says("[aero]\ndrag-area = 70\ndrag-height = 500\n", &["is larger than any car"]);
    says("[stop]\nfrom = 100\nto = 160\n", &["the stop must end slower than it begins"]);
    says("[stop]\nfrom = 180\ndeceleration = 9.8\n", &["no car slows so hard"]);
    says("[stop]\nform = 180\n", &["did you mean `from`"]);
}

/// All that is told of a piece added to the sketch and a whole axle for it, with line and column in that piece.
#[track_caller]
fn tells(added: &str, expect: &[&str]) {
    let before = SKETCH.lines().count() + 1;
    let told = told(&format!("{SKETCH}\n{added}"));
    let counted = told.iter().map(|line| {
        let (head, rest) = line.split_once(' ').unwrap_or_default();
        let (row, rest) = rest.split_once(':').unwrap_or_default();
        let row = row.parse::<usize>().unwrap_or(0).saturating_sub(before);
        format!("{head} {row}:{rest}")
    });
    let found: Vec<String> = counted.collect();
    assert_eq!(found, expect, "\n{}", found.join("\n"));
}

const BAR_LINK: &str =
    "[rear.bar-link]\nbody = [2740, 585, 330]\nmount = [2690, 600, 220]\non = \"link.lower-aft\"\n";

#[test]
fn sizes_of_a_bar_that_are_not_used() {
    tells(&format!("{BAR_LINK}[rear.bar]\nrate = 30\n"), &[]);
    tells(
        &format!("{BAR_LINK}[rear.bar]\nlength = 820\narm = 190\nrate = 30\n"),
        &[
            "warning 6:1 `length`, `arm` of `[rear.bar]` are not used: `rate` stands in place of all sizes | take them \
           out, or give all sizes in place of `rate`",
        ],
    );
    tells(
        &format!("{BAR_LINK}[rear.bar]\nrate = 30\narms = \"rigid\"\n"),
        &[
            "warning 7:1 `arms` of `[rear.bar]` is not used: `rate` stands in place of all sizes | take them out, or \
           give all sizes in place of `rate`",
        ],
    );
    let sizes = "[rear.bar]\ndiameter = 16\nlength = 820\narm = 190\n";
    tells(&format!("{BAR_LINK}{sizes}"), &[]);
    tells(
        &format!("{BAR_LINK}{sizes}blade-width = 30\n"),
        &[
            "warning 9:1 `blade-width` of `[rear.bar]` is not used: the arms are not blades | write `arms = \"blades\"`, \
           or take them out",
        ],
    );
    tells(&format!("{BAR_LINK}{sizes}arms = \"blades\"\nblade-width = 30\nblade-thickness = 4\n"), &[]);
}

#[test]
fn rates_that_rise_from_nothing_or_fall() {
    let spring =
        "[rear.spring]\nbody = [2655, 470, 470]\nmount = [2662, 515, 240]\non = \"link.lower-aft\"\n";
    let rises = "rises-to = { rate = 90, after = 60 }\n";
    tells(&format!("{spring}rate = 62\n{rises}"), &[]);
    tells(
        &format!("{spring}{rises}"),
        &[
            "error 5:1 `rises-to` of `[rear.spring]` has no `rate` to rise from | write `rate`, what it has at ride \
           height, or take `rises-to` out",
        ],
    );
    let rubber = |to: &str| {
        format!(
            "{spring}rate = 62\n[rear.spring.bump-stop]\ngap = 40\nrate = 60\nrises-to = {{ rate = {to}, after = 20 }}\n"
        )
    };
    tells(&rubber("300"), &[]);
    tells(
        &rubber("50"),
        &[
            "warning 9:1 `[rear.spring.bump-stop]` grows softer as it is pressed: its `rate` is taken all the way | a \
           rubber stiffens: `rate` is where it is met, `rises-to` the rate further on",
        ],
    );
}

const PEDAL: &str = "[pedal]\nratio = 5\ntandem = 22\n";

#[test]
fn what_is_assumed_or_given_twice() {
    tells(
        PEDAL,
        &[
            "note 1:1 `pedal.efficiency` is not given: 0.95 is taken, which is common practice | write what you know of \
           the friction in pedal, bar and seals",
        ],
    );
    let known = format!("{PEDAL}efficiency = 0.9\n");
    tells(&known, &[]);
    let drum = |axle: &str| format!("[{axle}.drum]\ntorque = \"400 N m\"\nat = \"30 bar\"\n");
    let share = "[brakes]\nfront-share = 0.6\n";
    let front = drum("front");
    tells(&format!("{share}{known}{front}"), &[]);
    let rear = drum("rear");
    tells(
        &format!("{share}{known}{front}{rear}"),
        &[
            "note 1:2 `brakes.front-share` stands beside complete brake parts: once the car is weighed, theirs counts | \
           take one of the two out, so that nobody wonders",
        ],
    );
}

/// A tyre whose every figure is stated.
const FULL: &str = "[tyre]\nvertical-rate = 210\nnominal-load = 3000\nfriction = 1.1\ncornering-stiffness = 1100\n\
                    load-sensitivity = 0.1\nstiffest-load = 6000\nslip-stiffness = 60000\nlateral-rate = 120\n\
                    loads = [500, 8000]\n";

#[test]
fn a_tyre_weighed_on_that_is_another() {
    let weigh = |rate: &str| format!("{FULL}[weigh.rear]\ntyre-rate = {rate}\n");
    tells(&weigh("225"), &[]);
    let other = "note 12:1 `weigh.rear.tyre-rate` is 180.0 N/mm, where the tyre's `vertical-rate` is 210.0 N/mm | right if \
                 it was weighed on other tyres; if not, take it out";
    tells(&weigh("180"), &[other]);
    // The tyres of a setup are other tyres: nothing is told of them.
    tells(&format!("{}[setup.wet.tyre]\nvertical-rate = 180\n", weigh("215")), &[]);
}
