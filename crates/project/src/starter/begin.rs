//! Whole cars to start from, of any two kinds, and an axle for a car that has one already.

use nalgebra::Vector3;
use units::UnitSystem;

use super::{HEAD, fill, template};
use crate::edit::spelt;
use crate::model::{Car, End};

/// Wheelbase of the starters \[m\].
const WHEELBASE: f64 = 2.6;

/// A survey's zero this near to the front axle was meant to be on it: wheel centres move a little as they are
/// measured, and the example figures should not move with them \[m\].
const ON_AXLE: f64 = 0.1;

/// What a new car begins with.
#[derive(Clone, Copy, Debug)]
pub struct Beginning<'a> {
    /// Its name.
    pub name: &'a str,
    /// Which wheels are driven: `front`, `rear` or `all`.
    pub driven: &'a str,
    /// Kind of the front axle, if there is to be one.
    pub front: Option<&'a str>,
    /// Kind of the rear axle, if there is to be one.
    pub rear: Option<&'a str>,
    /// Units of the file.
    pub units: UnitSystem,
}

impl Beginning<'_> {
    /// A commented file, valid as it is. `None` without an axle, or for a kind that is not one of [`super::KINDS`].
    pub fn text(&self) -> Option<String> {
        let axles: Vec<(End, &str)> = [(End::Front, self.front), (End::Rear, self.rear)]
            .into_iter()
            .filter_map(|(end, kind)| Some((end, kind?)))
            .collect();
        // The axle to choose for is the rear one where there is a choice.
        let (chosen, _) = axles.last()?;
        let mut text = String::new();
        for line in HEAD.lines() {
            match line.split_whitespace().next() {
                Some("name") => text.push_str(&format!("name      = {}", spelt(self.name))),
                Some("driven") => {
                    text.push_str(&fill(
                        &format!("driven    = \"{}\" # front | rear | all", self.driven),
                        &self.units,
                    ));
                }
                // Both wheel centres tell it.
                Some("wheelbase") if axles.len() == 2 => continue,
                _ => text.push_str(&fill(line, &self.units)),
            }
            text.push('\n');
        }
        for (end, kind) in &axles {
            text.push_str(&axle_lines(kind, *end, &self.units, &|at| at)?);
            text.push('\n');
        }
        let choose = template(axles.last()?.1)?.lines().skip_while(|line| !line.starts_with("[choose]"));
        for line in choose {
            let axle = line.starts_with("axle").then(|| format!("axle    = \"{}\"", chosen.name()));
            text.push_str(&axle.unwrap_or_else(|| fill(line, &self.units)));
            text.push('\n');
        }
        Some(text)
    }
}

/// The tables of an axle of a kind for a car that is there already: in its units and in the frame that its points
/// were taken in. `wheelbase` \[m\] tells where a rear axle goes. `None` for an unknown kind.
pub fn starter_axle(kind: &str, end: End, car: &Car, wheelbase: Option<f64>) -> Option<String> {
    let other = car.front.as_ref().or(car.rear.as_ref());
    let mirrored = other.is_some_and(|axle| axle.mirrored);
    let wheel_x = match end {
        End::Front => 0.0,
        End::Rear => -wheelbase.unwrap_or(WHEELBASE),
    };
    let own_x = standard_x(end);
    let zero = car.frame.to_car(Vector3::zeros()).x;
    let zero = if zero.abs() < ON_AXLE { zero } else { 0.0 };
    let place = |[x, y, z]: [f64; 3]| {
        let y = if mirrored { -y } else { y };
        let in_car = Vector3::new(wheel_x - (x - own_x) * 1e-3 + zero, y * 1e-3, z * 1e-3);
        let at = car.frame.to_survey(in_car) * 1e3;
        [at.x, at.y, at.z]
    };
    axle_lines(kind, end, &car.units, &place)
}

/// x of the wheel's centre in the starters, rearward from the front axle \[mm\].
fn standard_x(end: End) -> f64 {
    match end {
        End::Front => 0.0,
        End::Rear => WHEELBASE * 1e3,
    }
}

/// The tables of an axle at an end of the car; `place` takes each point from the starters' frame to the file's \[mm\].
fn axle_lines(
    kind: &str,
    end: End,
    units: &UnitSystem,
    place: &dyn Fn([f64; 3]) -> [f64; 3],
) -> Option<String> {
    let template = template(kind)?;
    let own = if template.contains("\n[front]") { End::Front } else { End::Rear };
    let shift = standard_x(end) - standard_x(own);
    let lines = template.lines().take_while(|line| !line.starts_with("[choose]"));
    let mut text = String::new();
    let mut skipping = false;
    for line in lines {
        let mut line = line.to_string();
        if own != end {
            // Only a front wheel is steered by a rack unless the reader says otherwise.
            skipping |= end == End::Rear && line.starts_with("[front.rack]");
            if skipping {
                skipping = !line.is_empty();
                continue;
            }
            if line.starts_with('[') {
                line = line.replacen(own.name(), end.name(), 1);
            }
            line = line.replace(", with the steering straight ahead", "");
        }
        text.push_str(&fill(&placed(&line, shift, place), units));
        text.push('\n');
        if own != end && kind == "five-link" && line.starts_with("kind") {
            text.push_str(
                "steered     = \"toe\"                # the link whose body end rides on the rack\n",
            );
        }
    }
    if own != end && kind == "five-link" {
        text.push_str(&fill("[front.rack]", units));
        text.push_str(&format!("\n{}\n\n", fill("travel = {68} # each way from straight ahead", units)));
    }
    Some(format!("{}\n", text.trim_end()))
}

/// A line with the point in it put where it goes; other lines as they are.
fn placed(line: &str, shift: f64, place: &dyn Fn([f64; 3]) -> [f64; 3]) -> String {
    let Some((before, rest)) = line.split_once("= [{") else { return line.to_string() };
    let Some((inner, after)) = rest.split_once(']') else { return line.to_string() };
    let mut numbers = inner.split(',').map(|blank| blank.trim().trim_matches(['{', '}']).parse::<f64>());
    let (Some(Ok(x)), Some(Ok(y)), Some(Ok(z))) = (numbers.next(), numbers.next(), numbers.next()) else {
        return line.to_string();
    };
    let [x, y, z] = place([x + shift, y, z]).map(|v| {
        let whole = v.round();
        // Not -0.
        if whole == 0.0 { 0.0 } else { whole }
    });
    format!("{before}= [{{{x}}}, {{{y}}}, {{{z}}}]{after}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{KINDS, Severity, read, starter};
    use units::LengthUnit;

    #[track_caller]
    fn good(text: &str) -> Car {
        let loaded = read(text);
        let bad = loaded.diagnostics.iter().find(|d| d.severity == Severity::Error);
        assert!(bad.is_none(), "{bad:?}\n{text}");
        loaded.car.unwrap()
    }

    #[test]
    fn any_two_kinds_make_a_car() {
        for length in [LengthUnit::Millimetre, LengthUnit::Inch] {
            let units = UnitSystem { length, ..UnitSystem::default() };
            for front in KINDS.map(Some).into_iter().chain([None]) {
                for rear in KINDS.map(Some).into_iter().chain([None]) {
                    let begin = Beginning { name: "A \"B\"", driven: "all", front, rear, units };
                    let Some(text) = begin.text() else {
                        assert!(front.is_none() && rear.is_none());
                        continue;
                    };
                    let car = good(&text);
                    assert_eq!(car.name, "A \"B\"");
                    assert_eq!(car.front.as_ref().map(|a| a.kind.as_str()), front);
                    assert_eq!(car.rear.as_ref().map(|a| a.kind.as_str()), rear);
                    let wheelbase = car.wheelbase.unwrap().value;
                    assert!((wheelbase - WHEELBASE).abs() < 1e-3, "{front:?} {rear:?}: {wheelbase}");
                }
            }
        }
    }

    #[test]
    fn a_rear_kind_at_the_front_is_steered_where_it_can_be() {
        let units = UnitSystem::default();
        let begin =
            Beginning { name: "", driven: "rear", front: Some("five-link"), rear: Some("strut"), units };
        let car = good(&begin.text().unwrap());
        assert!(car.front.unwrap().rack_travel.is_some());
        assert!(car.rear.unwrap().rack_travel.is_none());
    }

    #[test]
    fn an_axle_is_added_in_the_frame_of_the_car() {
        let rear = starter("five-link", &UnitSystem::default()).unwrap();
        let turned = rear.replace("rearward from front axle", "forward from front axle").replace("[2", "[-2");
        let stated = Some(WHEELBASE);
        for (text, sign) in [(rear, 1.0), (turned, -1.0)] {
            let car = good(&text);
            let both = good(&format!("{text}\n{}", starter_axle("strut", End::Front, &car, stated).unwrap()));
            let top = both.front.as_ref().unwrap();
            let top = top.points[top.scheme.point("strut.top").unwrap()].at;
            assert!((top - Vector3::new(-0.042, 0.578, 0.842)).norm() < 1e-9, "{sign}: {top}");
            // What is there keeps its figures: the zero has stayed.
            assert!((both.rear.unwrap().wheel.centre.at.x + WHEELBASE).abs() < 1e-9);
        }
        let front = starter("strut", &UnitSystem::default()).unwrap();
        let car = good(&front);
        let rear = starter_axle("five-link", End::Rear, &car, Some(2.4)).unwrap();
        assert!(rear.contains("centre        = [2400, 735, 305]"), "{rear}");
        assert_eq!(starter_axle("teapot", End::Rear, &car, None), None);
    }
}
