//! The file's figures as the statics want them, each taken from the feed.

use linkage::scalar::{Real, constant};
use nalgebra::Vector3;
use project::model::{self, Axle, Car, EndRates, Part, Value, Weighing};
use vehicle::mass::inertia::{DYNAMIC_INDEX, ESTIMATE_UNCERTAINTY};
use vehicle::mass::{
    Gyration, Held, Level, Lift, Load, Lump, OwnInertia, Raised, RaisedReading, Springing, Squash, estimate,
};
use vehicle::{Footprint, VehicleError};

use super::feed::Feed;
use super::{WeighError, plain};

/// What a body is wider than its wider track, where the file states no width \[m\]: a tyre's width (own).
const BEYOND_TRACK: f64 = 0.2;

/// Height of a body over its floor where the file states none \[m\]: a coupe (own).
const BODY_HEIGHT: f64 = 1.15;

/// A part, the driver or a full tank.
pub(super) fn load<T: Real, D: Fn(usize) -> T>(part: &Part, words: &str, feed: &mut Feed<D>) -> Load<T> {
    let mass = feed.take(|| format!("mass of {words}"), &part.mass);
    let mut place = Vector3::from_element(constant::<T>(0.0));
    for (k, axis) in ["x", "y", "z"].into_iter().enumerate() {
        let value = Value { value: part.at.at[k], uncertainty: part.at.uncertainty[k] };
        place[k] = feed.take(|| format!("{axis} of {words}"), &value);
    }
    let own = part.size.map_or(OwnInertia::Point, |size| OwnInertia::Block(size.map(constant)));
    Load { name: part.name.clone(), mass, place, own }
}

/// Where the wheels stood on the scales, and where they stand now.
pub(super) fn footprints<T: Real, D: Fn(usize) -> T>(
    car: &Car,
    scales: &model::LevelScales,
    feed: &mut Feed<D>,
) -> Result<(Footprint<T>, Footprint<T>), WeighError> {
    let span = scales.span.clone();
    let now = [car.wheelbase, car.front.as_ref().map(track), car.rear.as_ref().map(track)];
    let then = [scales.wheelbase, scales.front_track, scales.rear_track];
    let words = ["wheelbase", "front track", "rear track"];
    let hints = [
        "write `wheelbase` in `[weigh.level]` or in `[car]`",
        "write `front-track` in `[weigh.level]`, or add the front axle to the file",
        "write `rear-track` in `[weigh.level]`, or add the rear axle to the file",
    ];
    let mut found = [constant::<T>(0.0); 3];
    let mut after = found;
    for i in 0..3 {
        let (now, then) = (now.get(i).copied().flatten(), then.get(i).copied().flatten());
        let what = words.get(i).copied().unwrap_or("?");
        let missing = || WeighError::Missing {
            what: match i {
                0 => "the wheelbase",
                1 => "the front track",
                _ => "the rear track",
            },
            hint: hints.get(i).copied().unwrap_or_default(),
            span: span.clone(),
        };
        let of_then: Option<T> = then.map(|v| feed.take(|| format!("{what} as weighed"), &v));
        let of_now: Option<T> = now.map(|v| feed.take(|| what.to_string(), &v));
        let (f, a) = match (of_then, of_now) {
            (Some(f), Some(a)) => (f, a),
            (Some(same), None) | (None, Some(same)) => (same, same),
            (None, None) => return Err(missing()),
        };
        if let (Some(to_f), Some(to_a)) = (found.get_mut(i), after.get_mut(i)) {
            (*to_f, *to_a) = (f, a);
        }
    }
    let make =
        |[wheelbase, front_track, rear_track]: [T; 3]| Footprint { wheelbase, front_track, rear_track };
    Ok((make(found), make(after)))
}

/// Track at the contact points: a wheel that leans in at the top stands further out.
fn track(axle: &Axle) -> Value {
    let wheel = &axle.wheel;
    let out = wheel.centre.at.y - wheel.loaded_radius.value * wheel.camber.value.sin();
    Value { value: 2.0 * out, uncertainty: 2.0 * wheel.centre.uncertainty.y }
}

pub(super) fn radius<T: Real>(axle: Option<&Axle>) -> T {
    constant(axle.map_or(0.3, |axle| axle.wheel.loaded_radius.value))
}

/// How the unsprung mass of a wheel is called among the figures of a weighing.
pub(crate) fn unsprung_name(end: &str) -> String {
    format!("unsprung mass of a {end} wheel")
}

/// Unsprung mass of the front and of the rear axle \[kg\].
pub(super) fn unsprung<T: Real, D: Fn(usize) -> T>(
    weighing: &Weighing,
    feed: &mut Feed<D>,
) -> Option<[T; 2]> {
    let (front, rear) = (weighing.front.unsprung?, weighing.rear.unsprung?);
    let two = constant::<T>(2.0);
    let front = feed.take(|| unsprung_name("front"), &front) * two;
    Some([front, feed.take(|| unsprung_name("rear"), &rear) * two])
}

pub(super) fn tilt<T: Real, D: Fn(usize) -> T>(
    car: &Car,
    weighing: &Weighing,
    raised: &model::RaisedScales,
    level: &Level<T>,
    unsprung: Option<[T; 2]>,
    feed: &mut Feed<D>,
) -> Result<Raised<T>, WeighError> {
    let missing = |what, hint| WeighError::Missing { what, hint, span: raised.span.clone() };
    let radius = |axle: Option<&Axle>| axle.map(|axle| axle.wheel.loaded_radius);
    // One axle alone in the file: the other's tyres are taken to be like its own.
    let (front, rear) = (radius(car.front.as_ref()), radius(car.rear.as_ref()));
    let (front, rear) = (front.or(rear), rear.or(front));
    let ((Some(front), Some(rear)), two) = ((front, rear), constant::<T>(2.0)) else {
        return Err(missing("the loaded radius", "add an axle to the file"));
    };
    let lift = match raised.lift {
        model::LiftReading::Angle(v) => Lift::Angle(feed.take(|| "tilt".into(), &v)),
        model::LiftReading::Pads(v) => Lift::Pads(feed.take(|| "height of the pads".into(), &v)),
        model::LiftReading::Hubs(v) => Lift::Hubs(feed.take(|| "rise of the hubs".into(), &v)),
    };
    let low = raised.low.map(|v| feed.take(|| "reading under the low end".into(), &v));
    let high = raised.high.map(|v| feed.take(|| "reading under the raised end".into(), &v));
    let reading = match (low, high) {
        (Some(low), Some(raised)) => RaisedReading::Both { low, raised },
        (Some(low), None) => RaisedReading::Low(low),
        (None, Some(high)) => RaisedReading::Raised(high),
        (None, None) => return Err(missing("the reading", "write `low` or `high`")),
    };
    let mut rate = |end: &EndRates, of: fn(&EndRates) -> Option<Value>, words: &str| -> Option<T> {
        of(end).map(|v| feed.take(|| words.to_string(), &v))
    };
    let tyres = (
        rate(&weighing.front, |e| e.tyre_rate, "front tyre's rate"),
        rate(&weighing.rear, |e| e.tyre_rate, "rear tyre's rate"),
    );
    let squash = match tyres {
        (Some(front), Some(rear)) => Squash::Rates { front, rear },
        _ => Squash::Rigid,
    };
    let springing = if raised.locked {
        Springing::Locked
    } else {
        let rates = (
            rate(&weighing.front, |e| e.wheel_rate, "front wheel rate"),
            rate(&weighing.rear, |e| e.wheel_rate, "rear wheel rate"),
        );
        let (Some(front), Some(rear)) = rates else {
            return Err(missing(
                "the wheel rate",
                "write `wheel-rate` in `[weigh.front]` and `[weigh.rear]`, or weigh with the suspension locked",
            ));
        };
        let Some([front_unsprung, rear_unsprung]) = unsprung else {
            return Err(missing(
                "the unsprung mass",
                "write `front` and `rear` in `[unsprung]`, a wheel each",
            ));
        };
        Springing::Free { front_rate: front * two, rear_rate: rear * two, front_unsprung, rear_unsprung }
    };
    Ok(Raised {
        front_mass: level.scales.front(),
        rear_mass: level.scales.rear(),
        wheelbase: level.footprint.wheelbase,
        front_radius: feed.take(|| "loaded radius of the front tyres".into(), &front),
        rear_radius: feed.take(|| "loaded radius of the rear tyres".into(), &rear),
        end: raised.end.into(),
        lift,
        reading,
        held: match raised.held {
            model::Held::Free => Held::None,
            model::Held::OneAxle => Held::OneAxle,
            model::Held::All => Held::All,
        },
        squash,
        springing,
    })
}

/// Measured radii of gyration where there are any, estimates for the others.
pub(super) fn inertia<T: Real, D: Fn(usize) -> T>(
    lump: &mut Lump<T>,
    weighing: &Weighing,
    at: &Footprint<T>,
    feed: &mut Feed<D>,
) -> Result<(), VehicleError> {
    let known = &weighing.inertia;
    let wider = if plain(at.front_track) > plain(at.rear_track) { at.front_track } else { at.rear_track };
    let width = match &known.width {
        Some(v) => feed.take(|| "width of the body".into(), v),
        None => wider + constant::<T>(BEYOND_TRACK),
    };
    let height = Value { value: BODY_HEIGHT, uncertainty: 0.0 };
    let height = feed.take(|| "height of the body".into(), known.height.as_ref().unwrap_or(&height));
    let (front, rear) = (-lump.centre.x, at.wheelbase + lump.centre.x);
    let mut radius = |v: &Option<Value>, words: &str| -> Option<T> {
        v.as_ref().map(|v| feed.take(|| format!("measured {words} radius"), v))
    };
    let (yaw, pitch, roll) =
        (radius(&known.yaw, "yaw"), radius(&known.pitch, "pitch"), radius(&known.roll, "roll"));
    let index = yaw.map_or(constant(DYNAMIC_INDEX), |k| k * k / (front * rear));
    let mut tensor = estimate(&Gyration { mass: lump.mass, front, rear, width, height, index })?;
    // One doubt for yaw and pitch: both hang on how far the masses sit from the middle along the car.
    let doubt = Value { value: 1.0, uncertainty: ESTIMATE_UNCERTAINTY };
    let along: T = feed.take(|| "estimate of yaw and pitch inertia".into(), &doubt);
    let across: T = feed.take(|| "estimate of roll inertia".into(), &doubt);
    let measured = |k: T| lump.mass * k * k;
    tensor.m11 = roll.map_or(tensor.m11 * across, measured);
    tensor.m22 = pitch.map_or(tensor.m22 * along, measured);
    tensor.m33 = yaw.map_or(tensor.m33 * along, measured);
    lump.inertia = Some(tensor);
    lump.estimated = yaw.is_none() || pitch.is_none() || roll.is_none();
    Ok(())
}
