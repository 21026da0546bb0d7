//! The figures of a weighing as they are taken up one after the other, each with its deviation.

use linkage::scalar::{Real, constant};
use project::model::Value;

/// A figure whose ± is carried through.
#[derive(Clone, Debug, PartialEq)]
pub struct Input {
    /// As people know it: `scale at the front left`.
    pub name: String,
    /// As it is written, SI.
    pub value: f64,
    /// Standard uncertainty, SI.
    pub uncertainty: f64,
}

/// Hands out figures in a fixed order; those with a ± are counted, and each is off by `delta(its number)`.
pub(super) struct Feed<D> {
    delta: D,
    count: usize,
    inputs: Option<Vec<Input>>,
}

impl<D> Feed<D> {
    /// Without a record of what was taken.
    pub(super) fn new(delta: D) -> Self {
        Self { delta, count: 0, inputs: None }
    }

    /// With a record.
    pub(super) fn recording(delta: D) -> Self {
        Self { inputs: Some(Vec::new()), ..Self::new(delta) }
    }

    /// What was taken.
    pub(super) fn into_inputs(self) -> Vec<Input> {
        self.inputs.unwrap_or_default()
    }

    /// The next figure.
    pub(super) fn take<T: Real>(&mut self, name: impl FnOnce() -> String, value: &Value) -> T
    where
        D: Fn(usize) -> T,
    {
        if value.uncertainty <= 0.0 {
            return constant(value.value);
        }
        let number = self.count;
        self.count += 1;
        if let Some(inputs) = &mut self.inputs {
            inputs.push(Input { name: name(), value: value.value, uncertainty: value.uncertainty });
        }
        constant::<T>(value.value) + (self.delta)(number)
    }
}
