//! The demo cars and starter files as the studies see them.

use project::model::{Car, End};
use project::{Severity, read, starter};
use study::Subject;
use units::UnitSystem;

/// A car from its text; errors in it fail the test.
#[track_caller]
pub fn car_of(text: &str) -> Car {
    let loaded = read(text);
    let errors: Vec<_> = loaded.diagnostics.iter().filter(|d| d.severity == Severity::Error).collect();
    assert!(errors.is_empty(), "{errors:#?}");
    loaded.car.expect("a file without errors is a car")
}

/// The text of a demo car (`plover/car.toml`) or of a starter (`links`), in millimetres.
pub fn text_of(name: &str) -> String {
    if let Some(text) = starter(name, &UnitSystem::default()) {
        return text;
    }
    let path = format!("{}/../../examples/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{path}: {e}"))
}

#[track_caller]
pub fn car(name: &str) -> Car {
    car_of(&text_of(name))
}

#[track_caller]
pub fn subject(car: &Car, end: End) -> Subject<'_> {
    Subject::new(car, end).expect("the car has this axle")
}
