//! `[weigh]` and what belongs to it.

use super::{END, check};

const LEVEL: &str =
    "[weigh.level]\nfront-left = 260\nfront-right = 260\nrear-left = 240\nrear-right = 240\naccuracy = 0.5\n";

/// The line that the sketch's last line and a blank make the first of what is added.
#[track_caller]
fn told(added: &str, expect: &[&str]) {
    let text = format!("{}\n{added}", super::SKETCH);
    let found: Vec<String> = super::told(&text)
        .into_iter()
        .map(|line| {
            // Lines are counted from the added text, so that the sketch may grow.
            let (head, rest) = line.split_once(' ').unwrap_or_default();
            let (place, message) = rest.split_once(' ').unwrap_or_default();
            let (row, column) = place.split_once(':').unwrap_or_default();
            let row = row.parse::<usize>().unwrap_or(0) as isize - super::SKETCH.lines().count() as isize - 1;
            format!("{head} {row}:{column} {message}")
        })
        .collect();
    assert_eq!(found, expect, "\n{}", found.join("\n"));
}

#[test]
fn scales_that_cannot_be_true() {
    check(&[(END, LEVEL)], &[]);
    told(
        &format!("{}\n[weigh]\ntotal = 1100\n", LEVEL.replace("rear-left = 240", "rear-left = -240")),
        &[
            "error 4:13 `weigh.level.rear-left` is negative: no wheel pulls at its scale | zero the scale with nothing \
           on it, and weigh again",
        ],
    );
    told(
        &format!("{LEVEL}[weigh]\ntotal = 1100\n"),
        &[
            "error 8:9 the four scales add up to 1000.0 kg, where `total` says 1100.0 kg | zero the scales, weigh again \
           with the same fuel and driver, or correct a figure",
        ],
    );
    told(
        &LEVEL.replace("rear-right", "rear-rigth"),
        &["error 5:1 `[weigh.level]` needs `rear-right`, and `rear-rigth` is not known | write `rear-right`"],
    );
    told(
        &LEVEL.replace("accuracy = 0.5\n", ""),
        &[
            "note 1:1 `weigh.level.accuracy` is not given, so each scale is taken to be sure to ± 0.5 kg | say what the \
           scales' maker claims, or what comes of weighing twice",
        ],
    );
}

#[test]
fn raised_the_wrong_way() {
    let raised =
        |rest: &str| format!("{LEVEL}[weigh.raised]\nsuspension = \"locked\"\naccuracy = 0.5\n{rest}");
    told(&raised("end = \"rear\"\npads = 500\nlow = 534\n"), &[]);
    told(
        &raised("end = \"rear\"\npads = 500\nlow = 498\n"),
        &[
            "error 12:1 `low` is 498.0 kg, and the same axle weighs 520.0 kg on the level: the low end gets heavier | say \
           which `end` was raised, write the reading as the other one, and give both wheels together",
        ],
    );
    told(
        &raised("end = \"rear\"\npads = 500\nangle = 11\nlow = 534\n"),
        &[
            "error 7:1 the lift is given in more than one way | keep the one that was measured best: `pads`, `hubs` or \
           `angle`",
        ],
    );
    told(
        &raised("end = \"rear\"\npads = 500\nlow = 534\nwheels = \"all\"\n"),
        &[
            "error 13:1 with all wheels held the tyres push the scales sideways by an unknown force | let the wheels of \
           at least one axle roll, and weigh again",
        ],
    );
    told(
        &raised("end = \"rear\"\n"),
        &[
            "error 7:1 `[weigh.raised]` needs `pads`, `hubs` or `angle`: the height of the pads, the rise of the \
             hubs, or the tilt of the body",
            "error 7:1 `[weigh.raised]` needs `low` or `high`: what both wheels of that axle weigh with one end raised",
        ],
    );
}

#[test]
fn raised_alone() {
    told(
        "[weigh.raised]\nend = \"rear\"\npads = 500\nlow = 534\nsuspension = \"locked\"\n",
        &[
            "error 1:8 scales with one end raised say nothing without the same car on the level | add `[weigh.level]` \
           with what each of the four scales says",
        ],
    );
}

#[test]
fn parts_that_cannot_be() {
    told(
        &format!("{LEVEL}[weigh.out.engine]\nmass = 1200\nat = [0, 0, 400]\n"),
        &[
            "error 7:1 with `engine` more is taken out than the 1000 kg that are there | check its mass and unit, and \
           those of the other parts",
        ],
    );
    told(
        &format!("{LEVEL}[weigh.in.cell]\nmass = -3\nat = [0, 0, 400]\nsise = [1, 2, 3]\n"),
        &[
            "error 8:8 `weigh.in.cell.mass` must be more than zero",
            "error 10:1 `sise` is not known in `[weigh.in.cell]` | did you mean `size`?",
        ],
    );
    told(
        &format!("[weigh]\ndriver = \"in\"\nfuel = 40\n{LEVEL}"),
        &[
            "error 2:10 the driver was in the car, and the file does not say what he weighs | add `[driver]` with his \
             `mass` and `at`",
            "error 3:8 `weigh.fuel` must lie between 0 and 1 | for per cent write \"40 %\"",
        ],
    );
    told(
        &format!("{LEVEL}[weigh.out]\nmass = 3\n"),
        &[
            "error 8:1 `mass` stands in `[weigh.out]`, where only named tables may stand | give it a name of its own: \
           `[weigh.out.NAME]`, and put `mass` below that",
        ],
    );
}

#[test]
fn two_heights_and_two_wishes() {
    let text = "[weigh.raised]\nsuspension = \"locked\"\nend = \"rear\"\npads = 500\nlow = 534\n";
    let both = super::SKETCH.replacen("driven = \"rear\"", "driven = \"rear\"\ncg-height = 480", 1);
    assert!(both.contains("cg-height = 480"), "the sketch has a car");
    let told_of = super::told(&format!("{both}\n{LEVEL}{text}"));
    assert_eq!(told_of.len(), 1, "{told_of:?}");
    assert!(told_of[0].starts_with("note ") && told_of[0].contains("`cg-height` is not used"), "{told_of:?}");
    told(
        &format!(
            "{LEVEL}[weigh.wish]\ncross = 0.5\nfront-left = 1\nfront-right = 1\nrear-left = 1\nrear-right = 1\n"
        ),
        &["error 8:1 `cross` and four corner weights are two wishes | keep one of them"],
    );
}
