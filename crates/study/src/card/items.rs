//! What stands on a setup card, item by item.

use project::model::{
    Axle, BarArms, BarReading, Car, End, Masters, PedalReading, TorqueMaker, TyreModel, TyreReading, Value,
};
use units::{Dimension, UnitSystem, show};

use crate::fit::link_settings;
use crate::quantity::Scale;
use crate::subject::Subject;

/// A job, in the order in which none undoes another: what needs stands first, then what is set with the car on its
/// wheels, ride height before camber before toe, since each moves the next (common practice).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Work {
    /// A link end in its hole.
    Hole,
    /// Length of a link.
    Link,
    /// Springs.
    Spring,
    /// Dampers.
    Damper,
    /// Anti-roll bars.
    Bar,
    /// Pads, discs, drums.
    Brake,
    /// Tyres that are fitted.
    Tyre,
    /// Fuel in the cell.
    Fuel,
    /// Ride height.
    RideHeight,
    /// Camber.
    Camber,
    /// Toe.
    Toe,
    /// Tyre pressure.
    Pressure,
    /// Bias bar and valve.
    Bias,
    /// Wings and the like.
    Air,
}

impl Work {
    /// Whether the car has to stand on stands for it.
    pub fn on_stands(self) -> bool {
        self <= Self::Tyre
    }
}

/// How an item is set.
#[derive(Clone, Debug, PartialEq)]
pub enum Set {
    /// In words.
    Words(String),
    /// A length of a link [m], with its change from the drawn one [m] and the change of one turn [m].
    Link {
        /// Length.
        length: f64,
        /// Change.
        change: f64,
        /// Of one turn; `None` for a link that is made anew.
        per_turn: Option<f64>,
    },
}

/// One thing that is set.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// Which job it is.
    pub work: Work,
    /// What is set, such as `rear bar`.
    pub what: String,
    /// How.
    pub set: Set,
}

impl Item {
    /// How it is set, in words.
    pub fn value(&self, units: &UnitSystem) -> String {
        match &self.set {
            Set::Words(words) => words.clone(),
            Set::Link { length, change, per_turn } => {
                let to = length_words(*length, units);
                let by = length_words(change.abs(), units);
                if change.abs() < EVEN {
                    return format!("{to}, as drawn");
                }
                let way = if *change > 0.0 { "longer" } else { "shorter" };
                match per_turn {
                    Some(turn) => format!("{to}: {:.2} turns, {by} {way} than drawn", (change / turn).abs()),
                    None => format!("{to}: made {by} {way} than drawn"),
                }
            }
        }
    }
}

/// A link within this of another length has that length [m]: a twentieth of a millimetre, no tape or thread shows less.
pub(super) const EVEN: f64 = 5e-5;

/// A length with its unit.
pub(super) fn length_words(value: f64, units: &UnitSystem) -> String {
    with_unit(value, Dimension::Length, units, Scale::Length.decimals(units))
}

fn with_unit(value: f64, dimension: Dimension, units: &UnitSystem, decimals: usize) -> String {
    show::with_unit(value, dimension, units, decimals)
}

/// A value with as many digits as it takes, no more than three after the point.
fn plain(value: f64, dimension: Dimension, units: &UnitSystem) -> String {
    let number = show::number(value, dimension, units, 3);
    let number =
        if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.') } else { &number };
    format!("{number} {}", units.symbol(dimension))
}

/// All items of a state: `base` is the car as drawn, `car` the same in its setup.
pub(super) fn all(base: &Car, car: &Car, holes: &[(End, usize)], notes: &mut Vec<String>) -> Vec<Item> {
    let units = &base.units;
    let mut items = Vec::new();
    for end in [End::Front, End::Rear] {
        let (Some(drawn), Some(axle)) = (base.axle(end), car.axle(end)) else { continue };
        of_holes(base, drawn, axle, holes, &mut items, notes);
        of_axle(axle, units, &mut items);
        if let (Some(set), Some(was)) = (&axle.ride_height, &drawn.ride_height)
            && set.height.value != was.height.value
        {
            notes.push(format!(
                "The {} ride height differs from that of the survey: geometry and loads are still those of the survey's.",
                end.name()
            ));
        }
    }
    of_car(car, units, &mut items);
    items.sort_by_key(|item| item.work);
    items
}

fn of_holes(
    base: &Car,
    drawn: &Axle,
    axle: &Axle,
    holes: &[(End, usize)],
    items: &mut Vec<Item>,
    notes: &mut Vec<String>,
) {
    let end = drawn.end;
    let own: Vec<usize> = holes.iter().filter(|(at, _)| *at == end).map(|(_, hole)| *hole).collect();
    let mut ends: Vec<usize> = drawn.holes.iter().map(|hole| hole.point).collect();
    ends.sort_unstable();
    ends.dedup();
    for point in ends {
        let used = own.iter().filter_map(|h| drawn.holes.get(*h)).find(|hole| hole.point == point);
        let name = drawn.scheme.points.get(point).map_or("", String::as_str);
        let value = used.map_or_else(|| "as drawn".to_string(), |hole| format!("hole {}", hole.name));
        items.push(Item {
            work: Work::Hole,
            what: format!("{} {}", end.name(), point_words(name)),
            set: Set::Words(value),
        });
    }
    let (toe, camber) = (axle.wheel.toe.value, axle.wheel.camber.value);
    let found = Subject::new(base, end).ok().and_then(|subject| link_settings(&subject, &own, toe, camber));
    let Some((links, left)) = found else {
        notes.push(format!(
            "The {} wheel finds no position with these holes: look at the choice table.",
            end.name()
        ));
        return;
    };
    items.extend(links.into_iter().map(|link| Item {
        work: Work::Link,
        what: format!("{} {}", end.name(), point_words(&link.joint)),
        set: Set::Link { length: link.length, change: link.change, per_turn: link.per_turn },
    }));
    let [wheelbase, toe, camber] = left;
    if toe.abs().max(camber.abs()) > 0.01_f64.to_radians() || wheelbase.abs() > 5e-4 {
        notes.push(format!(
            "The {} links do not reach it all: toe stays {:+.2} deg, camber {:+.2} deg, wheelbase {} off.",
            end.name(),
            toe.to_degrees(),
            camber.to_degrees(),
            length_words(wheelbase, &base.units)
        ));
    }
}

/// `lower-fore body end` for `link.lower-fore.body`.
fn point_words(name: &str) -> String {
    name.strip_prefix("link.").unwrap_or(name).replace('.', " ")
}

fn of_axle(axle: &Axle, units: &UnitSystem, items: &mut Vec<Item>) {
    let end = axle.end.name();
    let named = |element: usize| axle.scheme.elements.get(element).map_or("", |e| e.name.as_str());
    let mut put = |work, what: String, words: String| items.push(Item { work, what, set: Set::Words(words) });
    for spring in &axle.springs {
        let words = plain(spring.rate.value, Dimension::Rate, units);
        let more = if spring.rise == 0.0 { "" } else { ", rising" };
        put(Work::Spring, format!("{end} {}", named(spring.element)), format!("{words}{more}"));
    }
    for damper in &axle.dampers {
        let shown = |value: f64| {
            let number = value * Scale::Damping.factor(units);
            format!("{number:.*}", if number.abs() < 100.0 { 1 } else { 0 })
        };
        put(
            Work::Damper,
            format!("{end} {}", named(damper.element)),
            format!(
                "bump {}, rebound {} {}",
                shown(damper.bump.value),
                shown(damper.rebound.value),
                Scale::Damping.unit(units)
            ),
        );
    }
    for stop in &axle.stops {
        let name = if stop.gap < 0.0 { "rebound stop" } else { "bump stop" };
        let gap = length_words(stop.gap.abs(), units);
        put(
            Work::Damper,
            format!("{end} {name}"),
            format!("{gap} away, {}", plain(stop.rate, Dimension::Rate, units)),
        );
    }
    let has_bar_link =
        axle.scheme.elements.iter().any(|e| e.role == suspension::scheme::ElementRole::BarLink);
    match &axle.bar {
        Some(bar) => put(Work::Bar, format!("{end} bar"), bar_words(bar, units)),
        None if has_bar_link => put(Work::Bar, format!("{end} bar"), "unhooked".into()),
        None => {}
    }
    if let Some(brake) = &axle.brake {
        put(Work::Brake, format!("{end} brakes"), brake_words(&brake.maker, units));
    }
    if let Some(tyre) = &axle.tyre {
        put(Work::Tyre, format!("{end} tyres"), tyre_words(tyre, units));
        if let Some(pressure) = &tyre.pressure {
            put(Work::Pressure, format!("{end} pressure"), format!("{}, as entered", pressure.words));
        }
    }
    if let Some(ride) = &axle.ride_height {
        let words = format!("{}, at: {}", length_words(ride.height.value, units), ride.at);
        put(Work::RideHeight, format!("{end} ride height"), words);
    }
    let wheel = &axle.wheel;
    put(Work::Camber, format!("{end} camber"), format!("{:+.2} deg", wheel.camber.value.to_degrees()));
    let toe = wheel.toe.value;
    let way = match toe {
        t if t > 0.0 => " in",
        t if t < 0.0 => " out",
        _ => "",
    };
    let across = wheel.rim_diameter.map_or_else(String::new, |rim| {
        let offset =
            with_unit((toe.sin() * rim).abs(), Dimension::Length, units, Scale::Length.decimals(units) + 1);
        format!(", {offset}{way} across the {} rim", plain(rim, Dimension::Length, units))
    });
    put(
        Work::Toe,
        format!("{end} toe, each wheel"),
        format!("{:.2} deg{way}{across}", toe.to_degrees().abs()),
    );
}

fn bar_words(bar: &BarReading, units: &UnitSystem) -> String {
    match bar {
        BarReading::Rate { rate, .. } => plain(rate.value, Dimension::Rate, units),
        BarReading::Made { diameter, bore, length, arm, arms, .. } => {
            let size = |value: &Value| plain(value.value, Dimension::Length, units);
            let section = if bore.value > 0.0 {
                format!("tube {} bored {}", size(diameter), size(bore))
            } else {
                format!("solid {}", size(diameter))
            };
            let arms = match arms {
                BarArms::Rigid => String::new(),
                BarArms::Bent => ", bent round".into(),
                BarArms::Blades { thickness, .. } => {
                    format!(", blades {} thick", plain(*thickness, Dimension::Length, units))
                }
            };
            format!("{section}, {} long, arm {}{arms}", size(length), size(arm))
        }
    }
}

fn brake_words(maker: &TorqueMaker, units: &UnitSystem) -> String {
    match maker {
        TorqueMaker::Disc { bores, radius, pads, .. } => {
            let bores: Vec<String> =
                bores.iter().map(|bore| plain(bore.value, Dimension::Length, units)).collect();
            let friction = pads.rows.first().map_or(f64::NAN, |row| row.1);
            format!(
                "pads of friction {friction:.2} at radius {}, pistons {}",
                plain(radius.value, Dimension::Length, units),
                bores.join(", ")
            )
        }
        TorqueMaker::Measured(_) => "as measured".into(),
    }
}

fn tyre_words(tyre: &TyreReading, units: &UnitSystem) -> String {
    let rate = tyre
        .vertical_rate
        .map_or_else(String::new, |rate| format!(", {} upright", plain(rate.value, Dimension::Rate, units)));
    match &tyre.model {
        TyreModel::Simple(simple) if simple.friction_along == simple.friction_across => {
            format!("friction {:.2}{rate}", simple.friction_along.value)
        }
        TyreModel::Simple(simple) => {
            format!(
                "friction {:.2} along, {:.2} across{rate}",
                simple.friction_along.value, simple.friction_across.value
            )
        }
        TyreModel::Magic(_) => format!("the parameter set of the file{rate}"),
    }
}

fn of_car(car: &Car, units: &UnitSystem, items: &mut Vec<Item>) {
    let mut put = |work, what: &str, words: String| {
        items.push(Item { work, what: what.into(), set: Set::Words(words) });
    };
    if let Some(weigh) = car.weigh.as_ref().filter(|weigh| weigh.fuel.is_some()) {
        let share = weigh.fuel_share;
        put(Work::Fuel, "fuel", format!("{:.0} % of a full tank", share.value * 100.0));
    }
    if let Some(pedal) = &car.pedal {
        of_pedal(pedal, units, &mut put);
    }
    if let Some(air) = &car.air {
        let area = |value: &Value| format!("{:.2} m²", value.value);
        put(
            Work::Air,
            "wings and floor",
            format!(
                "downforce area front {}, rear {}, drag area {}",
                area(&air.front),
                area(&air.rear),
                area(&air.drag)
            ),
        );
    }
}

fn of_pedal(pedal: &PedalReading, units: &UnitSystem, put: &mut impl FnMut(Work, &str, String)) {
    match &pedal.masters {
        Masters::Bar { front, rear, share } => {
            put(
                Work::Bias,
                "bias bar",
                format!("{:.1} % of the rod's force to the front cylinder", share.value * 100.0),
            );
            let bores = format!(
                "front {}, rear {}",
                plain(front.value, Dimension::Length, units),
                plain(rear.value, Dimension::Length, units)
            );
            put(Work::Brake, "master cylinders", bores);
        }
        Masters::Tandem(bore) => {
            put(Work::Brake, "master cylinder", plain(bore.value, Dimension::Length, units));
        }
    }
    if let Some(valve) = &pedal.valve {
        put(
            Work::Bias,
            "proportioning valve",
            format!(
                "knee {}, slope {:.2}",
                plain(valve.knee.value, Dimension::Pressure, units),
                valve.slope.value
            ),
        );
    }
}
