//! Reading the reference data.

use std::path::PathBuf;

use linkage::{End, Frame};
use nalgebra::Vector3;
use serde_json::Value;

/// A section of `reference/data/closed-forms.json`.
pub fn section(name: &str) -> Value {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../reference/data/closed-forms.json");
    let text = std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    serde_json::from_str::<Value>(&text).unwrap()[name].clone()
}

pub fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or_else(|| panic!("not a number: {value}"))
}

/// A point of a planar mechanism, put in the plane z = 0.
pub fn planar(value: &Value) -> Vector3<f64> {
    Vector3::new(number(&value[0]), number(&value[1]), 0.0)
}

/// A point carried by a frame.
pub fn on(frame: Frame, at: Vector3<f64>) -> End<f64> {
    End { frame, at }
}
