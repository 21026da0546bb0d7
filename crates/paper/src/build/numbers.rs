//! Figures of Build in the reader's units.

use std::f64::consts::PI;

use steel::Measure;
use study::Scale;
use study::build::{CutPiece, EndCut};
use units::{LengthUnit, UnitSystem};

/// Writes figures.
pub(super) struct Numbers<'a> {
    pub units: &'a UnitSystem,
}

impl Numbers<'_> {
    /// A number with the decimals that its scale has.
    pub fn plain(&self, value: f64, scale: Scale) -> String {
        self.fixed(value, scale, scale.decimals(self.units))
    }

    /// A number with some decimals.
    pub fn fixed(&self, value: f64, scale: Scale, decimals: usize) -> String {
        let shown = format!("{:.decimals$}", value * scale.factor(self.units) + scale.offset(self.units));
        // No minus before what rounds to nothing.
        if shown.trim_start_matches('-').chars().all(|c| c == '0' || c == '.') {
            shown.trim_start_matches('-').to_string()
        } else {
            shown
        }
    }

    /// The same with its sign.
    pub fn signed(&self, value: f64, scale: Scale, decimals: usize) -> String {
        let shown = self.fixed(value, scale, decimals);
        if value > 0.0 { format!("+{shown}") } else { shown }
    }

    /// A figure of a check with its unit.
    pub fn measure(&self, value: f64, measure: Measure) -> String {
        let by = |scale: Scale, decimals: usize| {
            format!("{} {}", self.fixed(value, scale, decimals), scale.unit(self.units))
        };
        let inch = matches!(self.units.length, LengthUnit::Inch | LengthUnit::Foot);
        let power = |n: i32| {
            let (unit, name) = if inch { (0.0254_f64, "in") } else { (1e-3, "mm") };
            let shown = value / unit.powi(n);
            let sign = if n == 2 {
                '²'
            } else if n == 3 {
                '³'
            } else {
                '⁴'
            };
            format!("{} {name}{sign}", three_figures(shown))
        };
        match measure {
            Measure::Force => by(Scale::Force, Scale::Force.decimals(self.units)),
            Measure::Moment => by(Scale::Torque, Scale::Torque.decimals(self.units)),
            Measure::Stress => by(Scale::Stress, Scale::Stress.decimals(self.units)),
            Measure::Length => by(Scale::Length, Scale::Length.decimals(self.units)),
            Measure::Area => power(2),
            Measure::Modulus => power(3),
            Measure::SecondMoment => power(4),
            Measure::Number => three_figures(value),
        }
    }

    /// A load of what bears it, the unit once.
    pub fn of(&self, demand: f64, capacity: f64, measure: Measure) -> String {
        let (demand, capacity) = (self.measure(demand, measure), self.measure(capacity, measure));
        let number = demand.split(' ').next().unwrap_or_default().to_string();
        format!("{number} of {capacity}")
    }

    /// How the ends of a piece are cut; of a tab, where its hole is.
    pub fn ends(&self, piece: &CutPiece) -> String {
        if piece.ends.is_empty() && piece.between == 0.0 {
            return "a plate, square".into();
        }
        if piece.ends.is_empty() {
            let (reach, unit) = (self.plain(piece.between, Scale::Length), Scale::Length.unit(self.units));
            return format!("hole {reach} {unit} from the weld");
        }
        piece.ends.iter().map(|end| self.end_cut(end)).collect::<Vec<_>>().join("; ")
    }

    /// How an end is cut.
    pub fn end_cut(&self, end: &EndCut) -> String {
        let degrees = |angle: f64| format!("{:.1} deg", angle * 180.0 / PI);
        match end {
            EndCut::Square => "square".into(),
            EndCut::Mitre { with, angle } => format!("mitre {} with {with}", degrees(*angle)),
            EndCut::Face { onto, angle } if *angle < 0.2 * PI / 180.0 => format!("square onto {onto}"),
            EndCut::Face { onto, angle } => format!("{} onto {onto}", degrees(*angle)),
            EndCut::Saddle { onto, angle, depth } => format!(
                "saddle {} {} deep round {onto}, at {}",
                self.plain(*depth, Scale::Length),
                Scale::Length.unit(self.units),
                degrees(*angle)
            ),
        }
    }
}

/// How the ends of a piece are cut, in words.
pub fn end_words(piece: &CutPiece, units: &UnitSystem) -> String {
    Numbers { units }.ends(piece)
}

/// A number of three figures.
pub(super) fn three_figures(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".into() } else { "–".into() };
    }
    let decimals = (2.0 - value.abs().log10().floor()).clamp(0.0, 6.0) as usize;
    format!("{value:.decimals$}")
}
