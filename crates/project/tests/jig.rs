//! `[jig]`: what it says, and what a person reads when he slips.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use project::model::{Allowed, Car};
use project::{Severity, read, starter};
use units::UnitSystem;

fn text(jig: &str) -> String {
    let start = starter("five-link", &UnitSystem::default()).expect("a starter");
    format!("{start}\n{jig}")
}

#[track_caller]
fn car(jig: &str) -> Car {
    let loaded = read(&text(jig));
    let errors: Vec<_> = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    loaded.car.expect("a car")
}

#[track_caller]
fn check_error(jig: &str, message: &str) {
    let loaded = read(&text(jig));
    let errors = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error);
    let messages: Vec<_> = errors.map(|d| d.message.as_str()).collect();
    assert!(messages.contains(&message), "{messages:#?}");
}

#[test]
fn what_is_left_out_has_its_default() {
    assert_eq!(car("").jig.allowed, Allowed::default());
    let allowed = car("[jig]\ntoe-change = \"0.6'\"\nanti = \"1 %\"\nroll-centre = 2\n").jig.allowed;
    assert!((allowed.toe_change.to_degrees() - 0.01).abs() < 1e-12);
    assert!((allowed.anti - 0.01).abs() < 1e-12 && (allowed.roll_centre - 0.002).abs() < 1e-12);
    assert_eq!(allowed.camber, Allowed::default().camber);
}

#[test]
fn datums_stay_on_their_side() {
    let jig = car("[[jig.datum]]\nname = \"sill, right\"\nat = [2000, -700, 150]\naccuracy = 0.5\n").jig;
    let datum = &jig.datums[0];
    assert_eq!(datum.name, "sill, right");
    assert!((datum.at.at.y + 0.7).abs() < 1e-12 && (datum.at.uncertainty.x - 0.0005).abs() < 1e-12);
}

#[test]
fn slips_are_told() {
    check_error("[jig]\ntoe-chang = 1\n", "`toe-chang` is not known in `[jig]`");
    check_error("[jig]\nanti = 0\n", "`jig.anti` must be more than zero");
    check_error(
        "[[jig.datum]]\nat = [1, 2, 3]\n",
        "`[jig.datum]` needs `name`: what the datum is called on the jig sheet",
    );
    check_error(
        "[[jig.datum]]\nname = \"a\"\nat = [1, 2, 3]\n[[jig.datum]]\nname = \"a\"\nat = [1, 2, 4]\n",
        "there is a datum called `a` already",
    );
    check_error("[[jig.datum]]\nname = \" \"\nat = [1, 2, 3]\n", "a datum needs a name");
}
