//! `[rear.wheel]`.

use units::Dimension;

use crate::frame::SurveyFrame;
use crate::model::{Value, WheelReading};
use crate::point::{self, Placing, Written};
use crate::reader::Section;
use crate::slips;

/// The wheel as the file writes it.
pub(crate) struct WrittenWheel {
    centre: Written,
    loaded_radius: Value,
    toe: Value,
    camber: Value,
    rim_diameter: Option<f64>,
    spin_inertia: Option<Value>,
}

/// Reads the wheel of an axle.
pub(crate) fn read(axle: &Section<'_>) -> Option<WrittenWheel> {
    let section = axle.need_section("wheel", "its wheel, with `centre` and `loaded-radius`")?;
    let centre = section.need("centre", "the wheel's middle, as [x, y, z]").and_then(|at| point::read(&at));
    let loaded_radius = section
        .need("loaded-radius", "from the wheel's middle down to the ground, with the car on its wheels")
        .and_then(|entry| {
            let radius = entry.positive(Dimension::Length)?;
            slips::loaded_radius(&section, &entry.span, radius.value);
            Some(radius)
        });
    let toe = angle(&section, "toe");
    let camber = angle(&section, "camber");
    let missing = match (section.has("toe"), section.has("camber")) {
        (true, true) => "",
        (false, true) => "`toe` is",
        (true, false) => "`camber` is",
        (false, false) => "`toe` and `camber` are",
    };
    if !missing.is_empty() {
        section.sink.note(
            &section.span,
            format!("{missing} not given in {} and taken as 0", section.title()),
            "toe-in is positive, and camber is negative with the top leaning in".to_string(),
        );
    }
    let rim_diameter = section.positive("rim-diameter", Dimension::Length).map(|value| value.value);
    let spin_inertia = section.positive("spin-inertia", Dimension::Inertia);
    section.finish(None);
    Some(WrittenWheel {
        centre: centre?,
        loaded_radius: loaded_radius?,
        toe,
        camber,
        rim_diameter,
        spin_inertia,
    })
}

fn angle(section: &Section<'_>, key: &str) -> Value {
    let nothing = Value { value: 0.0, uncertainty: 0.0 };
    let Some(entry) = section.entry(key) else { return nothing };
    let Some(angle) = entry.quantity(Dimension::Angle) else { return nothing };
    if slips::wheel_angle(&entry, key, angle.value) { angle } else { nothing }
}

impl WrittenWheel {
    /// Whether the wheel is on the right of the car.
    pub(crate) fn is_right(&self, frame: &SurveyFrame) -> bool {
        frame.to_car(self.centre.at).y < 0.0
    }

    pub(crate) fn place(self, placing: &Placing<'_>) -> WheelReading {
        WheelReading {
            centre: placing.place(self.centre),
            loaded_radius: self.loaded_radius,
            toe: self.toe,
            camber: self.camber,
            rim_diameter: self.rim_diameter,
            spin_inertia: self.spin_inertia,
        }
    }
}
