//! `[engine]`, `[gearbox]`, `[in-hand]`: what drives the car and what its driver keeps in hand; `[venue.NAME]`: where it
//! is driven; `[search]`: what may be varied.

mod csv;
mod search;
mod venue;

use std::f64::consts::PI;

use units::Dimension;

use crate::model::{
    AirPart, Car, EngineReading, GearboxReading, InHandReading, ManoeuvreReading, PathReading, SearchReading,
    Value, VenueReading,
};
use crate::reader::Section;

pub use csv::centre_rows;

/// Revolutions a minute to radians a second.
const RPM: f64 = PI / 30.0;

/// Highest engine speed that is taken for one \[1/min\].
const FASTEST_ENGINE: f64 = 25_000.0;

/// Greatest torque that is taken for one \[Nm\].
const GREATEST_TORQUE: f64 = 5000.0;

/// Efficiency of gearbox, final drive and half-shafts where none is stated \[-\] (common practice: 0.85 to 0.95).
const EFFICIENCY: f64 = 0.9;

/// Time of a change up where none is stated \[s\] (common practice for a lever and a clutch).
const SHIFT: f64 = 0.3;

/// Rolling resistance where none is stated \[-\] (T. Gillespie (1992), ch. 4: 0.01 to 0.015 on asphalt; remembered).
const ROLLING: f64 = 0.015;

/// Ratios that are taken for some.
const RATIOS: (f64, f64) = (0.2, 20.0);

/// Most gears.
const MOST_GEARS: usize = 12;

/// Lateral accelerations and decelerations of a manoeuvre \[m/s^2\], and its circles \[m\].
const ACROSS: (f64, f64) = (0.5, 20.0);
const CIRCLES: (f64, f64) = (10.0, 1000.0);

/// Decelerations that are driven at most.
const MOST_BRAKES: usize = 6;

/// All of it.
pub(crate) struct Drive {
    pub engine: Option<EngineReading>,
    pub gearbox: Option<GearboxReading>,
    pub in_hand: Option<InHandReading>,
    pub venues: Vec<VenueReading>,
    pub search: Option<SearchReading>,
    pub manoeuvre: Option<ManoeuvreReading>,
}

/// `parts` are those of the air.
pub(crate) fn read(root: &Section<'_>, parts: &[AirPart]) -> Drive {
    let venues = venue::read(root);
    Drive {
        engine: root.section("engine").and_then(engine),
        gearbox: root.section("gearbox").and_then(gearbox),
        in_hand: root.section("in-hand").map(in_hand),
        manoeuvre: root.section("manoeuvre").map(manoeuvre),
        search: root.section("search").map(|section| search::read(section, &venues, parts)),
        venues,
    }
}

/// Gives every venue whose centreline is in a file of its own what that file holds; `read` gets the name as written.
pub fn attach(car: &mut Car, mut read: impl FnMut(&str) -> Result<String, String>) {
    for venue in &mut car.venues {
        if let PathReading::File { file, text, .. } = &mut venue.path {
            *text = Some(read(file).map(Into::into));
        }
    }
}

fn exactly(value: f64) -> Value {
    Value { value, uncertainty: 0.0 }
}

fn engine(section: Section<'_>) -> Option<EngineReading> {
    let what = "torque at full load over engine speed, such as [[2000, 150], [4500, 190], [6800, 160]]";
    let rows = section.need("torque", what).and_then(|entry| {
        let Some(items) = entry.items().filter(|items| !items.is_empty()) else {
            entry.error(format!("`{}` must be a list of rows", entry.path), format!("write {what}"));
            return None;
        };
        let mut rows: Vec<(f64, f64)> = Vec::new();
        for item in items {
            let pair = item.items().unwrap_or_default();
            let [speed, torque] = pair.as_slice() else {
                item.error(
                    format!("a row of `{}` must hold an engine speed in rpm and a torque", entry.path),
                    format!("write {what}"),
                );
                return None;
            };
            let (rpm, torque) = (speed.positive(Dimension::Ratio)?, torque.quantity(Dimension::Torque)?);
            if rpm.value > FASTEST_ENGINE || torque.value.abs() > GREATEST_TORQUE {
                item.error(
                    "no engine turns so fast, or pulls so hard".to_string(),
                    "engine speeds are in rpm; bare torques are N m, or lbf ft where forces are pounds"
                        .to_string(),
                );
                return None;
            }
            if rows.last().is_some_and(|last| last.0 >= rpm.value * RPM) {
                item.error(
                    format!("the rows of `{}` must rise in engine speed", entry.path),
                    "sort them, and give no speed twice".to_string(),
                );
                return None;
            }
            rows.push((rpm.value * RPM, torque.value));
        }
        Some(rows)
    });
    let scale = section.entry("scale").map_or(Some(exactly(1.0)), |entry| {
        let scale = entry.positive(Dimension::Ratio)?;
        if scale.value <= 3.0 {
            return Some(scale);
        }
        entry.error(
            format!("`{}` multiplies the torque: more than 3 is no tuning", entry.path),
            "it is 1 with the ± of the curve, such as \"1.00 ± 0.03\"".to_string(),
        );
        None
    });
    let most = section.need("redline", "highest engine speed in rpm").and_then(|entry| {
        let rpm = entry.positive(Dimension::Ratio)?.value;
        let last = rows.as_ref()?.last()?.0;
        if rpm <= FASTEST_ENGINE && rpm * RPM <= 1.5 * last && rows.as_ref()?.first()?.0 < rpm * RPM {
            return Some(rpm * RPM);
        }
        entry.error(
            format!("`{}` does not fit the torque curve", entry.path),
            format!("the curve ends at {:.0} rpm; `redline` is in rpm too", last / RPM),
        );
        None
    });
    let span = section.span.clone();
    section.finish(None);
    Some(EngineReading { torque: rows?, scale: scale?, most: most?, span })
}

fn gearbox(section: Section<'_>) -> Option<GearboxReading> {
    let what = "ratios of the gears, the first one first, such as [3.3, 2.1, 1.5, 1.2, 1.0]";
    let ratios = section.need("ratios", what).and_then(|entry| {
        let ratios: Vec<f64> = entry.list(Dimension::Ratio)?.into_iter().map(|v| v.value).collect();
        let fits = |r: &f64| (RATIOS.0..=RATIOS.1).contains(r);
        let falling = ratios.windows(2).all(|w| matches!(w, [a, b] if a > b));
        if (1..=MOST_GEARS).contains(&ratios.len()) && ratios.iter().all(fits) && falling {
            return Some(ratios);
        }
        entry.error(
            format!("`{}` must be up to {MOST_GEARS} ratios that fall from gear to gear", entry.path),
            format!("write {what}"),
        );
        None
    });
    let last = section.need("final-drive", "ratio of the final drive, such as 3.9").and_then(|entry| {
        let ratio = entry.positive(Dimension::Ratio)?.value;
        if (RATIOS.0..=RATIOS.1).contains(&ratio) {
            return Some(ratio);
        }
        entry.error(format!("`{}` is no ratio of a final drive", entry.path), None);
        None
    });
    let within = |key: &str, usual: f64, (lo, hi): (f64, f64), dimension| {
        let Some(entry) = section.entry(key) else { return exactly(usual) };
        match entry.quantity(dimension) {
            Some(value) if (lo..=hi).contains(&value.value) => value,
            Some(_) => {
                entry.error(format!("`{}` must lie between {lo} and {hi}", entry.path), None);
                exactly(usual)
            }
            None => exactly(usual),
        }
    };
    let efficiency = within("efficiency", EFFICIENCY, (0.3, 1.0), Dimension::Ratio);
    let shift = within("shift-time", SHIFT, (0.0, 5.0), Dimension::Time);
    let rolling = within("rolling-resistance", ROLLING, (0.0, 0.2), Dimension::Ratio);
    let open = section.word("differential", &["open", "limited"]) == Some("open");
    let span = section.span.clone();
    section.finish(None);
    Some(GearboxReading { ratios: ratios?, final_drive: last?, efficiency, shift, open, rolling, span })
}

fn manoeuvre(section: Section<'_>) -> ManoeuvreReading {
    let within = |key: &str, value: Option<f64>, (least, most): (f64, f64), say: &str| {
        let value = value?;
        if (least..=most).contains(&value) {
            return Some(value);
        }
        section.sink.error(
            &section.span_of(key),
            format!("`manoeuvre.{key}` is none that is driven"),
            say.to_string(),
        );
        None
    };
    let across = |key: &str| {
        let value = section.positive(key, Dimension::Acceleration).map(|v| v.value);
        within(key, value, ACROSS, "lateral accelerations go from 0.05 g to 2 g")
    };
    let radius = |key: &str| {
        let value = section.entry(key).and_then(|e| e.way());
        within(key, value, CIRCLES, "circles have from 10 m to 1 km; a bare number is metres, or feet")
    };
    let brakes: Vec<f64> = section
        .entry("brakes")
        .and_then(|e| e.list(Dimension::Acceleration))
        .into_iter()
        .flatten()
        .filter_map(|v| within("brakes", Some(v.value), ACROSS, "brakes from 0.05 g to 2 g"))
        .take(MOST_BRAKES)
        .collect();
    let speed = section.positive("step-speed", Dimension::Speed).map(|v| v.value);
    let found = ManoeuvreReading {
        turn_radius: radius("turn-radius"),
        turn_across: across("turn-acceleration"),
        brakes,
        step_speed: within("step-speed", speed, (5.0, 90.0), "a step is driven between 20 and 320 km/h"),
        step_across: across("step-acceleration"),
        circle: radius("circle"),
    };
    section.finish(None);
    found
}

fn in_hand(section: Section<'_>) -> InHandReading {
    let share = |key: &str| {
        let Some(entry) = section.entry(key) else { return exactly(0.0) };
        let share = entry.share("0 keeps nothing in hand; 0.3 keeps three tenths").unwrap_or(exactly(0.0));
        if share.value > 0.95 {
            entry.error(
                format!("`{}` leaves nothing to brake with", entry.path),
                "drivers keep a tenth to a third in hand".to_string(),
            );
            return exactly(0.0);
        }
        share
    };
    let (rear_reserve, yaw_damping) = (share("rear-reserve"), share("yaw-damping"));
    let span = section.span.clone();
    section.finish(None);
    InHandReading { rear_reserve, yaw_damping, span }
}
