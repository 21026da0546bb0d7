//! The quasi-steady run against direct optimal control of the same cars on the same three courses, solved by IPOPT through
//! CasADi (`reference/optimal_laps.py`, `reference/data/optimal-laps.json`): a point mass, and a single track with load
//! transfer, without and with yaw inertia (which the run has not). Asked: half a per cent of the time; met to 0.06 %.
#![expect(clippy::expect_used, reason = "a fixture that cannot be read ends the test")]

mod common;

use common::courses::spot;
use common::point::Point;
use serde_json::Value;
use vehicle::GRAVITY;
use vehicle::lap::{Start, run};
use vehicle::limits::Limits;
use vehicle::venue::{Course, Section};

/// Two axles with an ellipse each, in the balance of a steady turn: what the reference has, without its yaw inertia.
struct Track {
    mass: f64,
    front: f64,
    rear: f64,
    height: f64,
    share: f64,
    along: f64,
    across: f64,
    drag: f64,
    power: f64,
    fastest: f64,
}

impl Track {
    /// How far beyond its ellipses the car is asked, with a longitudinal force at the tyres [N].
    fn beyond(&self, speed: f64, force: f64, across: f64) -> f64 {
        let length = self.front + self.rear;
        let along = force / self.mass - self.drag * speed * speed / self.mass;
        let shift = self.mass * along * self.height / length;
        let loads = [
            self.mass * GRAVITY * self.rear / length - shift,
            self.mass * GRAVITY * self.front / length + shift,
        ];
        let side = [self.mass * across * self.rear / length, self.mass * across * self.front / length];
        let parts = if force < 0.0 { [self.share * force, (1.0 - self.share) * force] } else { [0.0, force] };
        let of = |i: usize| {
            if loads[i] <= 0.0 {
                return 1.0;
            }
            (parts[i] / self.along / loads[i]).powi(2) + (side[i] / self.across / loads[i]).powi(2) - 1.0
        };
        of(0).max(of(1))
    }

    /// The last force at which it is not, in a sense.
    fn force(&self, speed: f64, across: f64, sense: f64) -> f64 {
        let (mut lo, mut hi) = (0.0, 2.0 * self.mass * GRAVITY);
        for _ in 0..60 {
            let mid = 0.5 * (lo + hi);
            if self.beyond(speed, sense * mid, across) > 0.0 { hi = mid } else { lo = mid }
        }
        sense * lo
    }
}

impl Limits for Track {
    fn across(&self, _speed: f64, _grip: f64) -> f64 {
        self.across * GRAVITY
    }
    fn traction(&self, speed: f64, across: f64, _grip: f64) -> f64 {
        (self.force(speed, across, 1.0) - self.drag * speed * speed) / self.mass
    }
    fn braking(&self, speed: f64, across: f64, _grip: f64) -> f64 {
        (self.force(speed, across, -1.0) - self.drag * speed * speed) / self.mass
    }
    fn coast(&self, speed: f64, _across: f64, _grip: f64) -> f64 {
        -self.drag * speed * speed / self.mass
    }
    fn push(&self, _gear: usize, speed: f64) -> Option<f64> {
        Some(self.power / speed / self.mass)
    }
    fn best_gear(&self, _speed: f64) -> usize {
        0
    }
    fn shift(&self) -> f64 {
        0.0
    }
    fn fastest(&self) -> f64 {
        self.fastest
    }
}

fn data() -> Value {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../reference/data/optimal-laps.json");
    serde_json::from_str(&std::fs::read_to_string(path).expect("the data")).expect("JSON")
}

#[test]
fn against_optimal_control() {
    let data = data();
    let number = |value: &Value| value.as_f64().expect("a number");
    let step = number(&data["step"]);
    let p = |key: &str| number(&data["point"][key]);
    let point = Point {
        across: p("across"),
        braking: p("braking"),
        driving: p("driving"),
        down: 0.0,
        drag: p("drag"),
        power: p("power"),
        fastest: p("fastest"),
    };
    let t = |key: &str| number(&data["track"][key]);
    let track = Track {
        mass: t("mass"),
        front: t("front"),
        rear: t("rear"),
        height: t("height"),
        share: t("front_share"),
        along: t("along"),
        across: t("across"),
        drag: t("drag"),
        power: t("power"),
        fastest: t("fastest"),
    };
    let cases = data["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 9);
    for case in cases {
        let course = case["course"].as_str().expect("a name");
        let curvatures = data["courses"][course].as_array().expect("a course");
        let course = Course {
            step,
            closed: false,
            spots: curvatures.iter().map(|k| spot(number(k))).collect(),
            sections: vec![Section { name: "all".into(), from: 0.0 }],
        };
        let start = Start::From(number(&data["start"]));
        let lap =
            if case["car"] == "point" { run(&point, &course, start) } else { run(&track, &course, start) };
        let (best, speeds) = (number(&case["time"]), case["speed"].as_array().expect("speeds"));
        assert!(
            (lap.time / best - 1.0).abs() < 0.005,
            "{} {}: {} {best}",
            case["course"],
            case["car"],
            lap.time
        );
        let gaps = lap.samples.iter().step_by(10).zip(speeds).map(|(s, v)| (s.speed - number(v)).abs());
        let mean = gaps.sum::<f64>() / speeds.len() as f64;
        assert!(mean < 0.3, "{} {}: {mean}", case["course"], case["car"]);
    }
}
