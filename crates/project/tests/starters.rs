//! Every starter and every example car reads without an error or a warning.
#![expect(clippy::expect_used, reason = "a test may panic, its helpers too")]

use std::fs;
use std::path::Path;

use project::model::Car;
use project::{KINDS, Severity, line_column, read, starter};
use units::{ForceUnit, LengthUnit, MassUnit, UnitSystem};

#[track_caller]
fn check(name: &str, text: &str) -> Car {
    let loaded = read(text);
    for diagnostic in &loaded.diagnostics {
        let place = diagnostic.span.as_ref().map(|span| line_column(text, span.start));
        assert_eq!(diagnostic.severity, Severity::Note, "{name} {place:?}: {}", diagnostic.message);
    }
    loaded.car.expect("a car without errors")
}

#[test]
fn starters_are_valid_in_every_unit() {
    let metric = UnitSystem::default();
    let pounds = UnitSystem { mass: MassUnit::Pound, force: ForceUnit::PoundForce, ..metric };
    for kind in KINDS {
        let in_mm = check(kind, &starter(kind, &metric).expect("a known kind"));
        for length in LengthUnit::ALL.iter().copied() {
            let text = starter(kind, &UnitSystem { length, ..pounds }).expect("a known kind");
            let car = check(kind, &text);
            assert_eq!(car.units.length, length);
            // 1/16 in is the tape's step: half of it, and a little.
            for (axle, same) in [(&car.front, &in_mm.front), (&car.rear, &in_mm.rear)] {
                let (Some(axle), Some(same)) = (axle, same) else { continue };
                assert_eq!(axle.scheme.points, same.scheme.points);
                for (point, same) in axle.points.iter().zip(&same.points) {
                    assert!((point.at - same.at).amax() < 1.7e-3, "{kind}: {} {}", point.at, same.at);
                }
                for (element, same) in axle.scheme.elements.iter().zip(&same.scheme.elements) {
                    let ratio = element.rate.expect("a rate") / same.rate.expect("a rate");
                    assert!((ratio - 1.0).abs() < 0.01, "{kind}: {ratio}");
                }
            }
        }
    }
}

#[test]
fn example_cars_are_clean() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    for file in
        ["plover/car.toml", "plover/before.toml", "plover/whole.toml", "dunlin/car.toml", "wren/car.toml"]
    {
        let text = fs::read_to_string(examples.join(file)).expect("an example car");
        let car = check(file, &text);
        for axle in [&car.front, &car.rear].into_iter().flatten() {
            assert_eq!(axle.points.len(), axle.scheme.points.len());
            assert!(!axle.mirrored);
        }
    }
}
