//! Disc temperatures over one stop and over a sequence of stops.

use project::model::StatedStop;
use vehicle::AxleEnd;
use vehicle::brake::{Heating, Phase};

use super::texts;
use crate::quantity::Scale;
use crate::stage::{Cell, Chart, ChartAxis, Curve, Finding, Group};
use crate::whole::{INTO_DISC, Lack, Whole, WholeCar, wrong};

/// Two wheels an axle.
const WHEELS: f64 = 2.0;

/// Largest number of stops that is worked out.
const MOST_STOPS: u32 = 200;

fn phases(stop: &StatedStop) -> Vec<Phase> {
    let braking = Phase::Stop { from: stop.from, to: stop.to, deceleration: stop.deceleration };
    let between = Phase::Run { time: stop.pause, from: stop.to, to: stop.from };
    (0..stop.repeats.clamp(1, MOST_STOPS)).flat_map(|_| [braking, between]).collect()
}

pub(super) fn group(car: &WholeCar, whole: &Whole) -> Result<(Group, Chart), Lack> {
    let stop = &car.car().stop;
    let (front, rear) = whole.stated_forces(stop)?;
    let share = front / (front + rear);
    let lumps = [(AxleEnd::Front, share), (AxleEnd::Rear, 1.0 - share)];
    if lumps.iter().all(|(end, _)| whole.axle(*end).disc.is_none()) {
        return Err(Lack {
            what: "the discs are not described, so nothing can be said of their heat".into(),
            hint: "write `diameter` and `mass` in `[front.disc]` and `[rear.disc]`".into(),
        });
    }
    let mut cells: [Vec<Cell>; 3] = Default::default();
    let mut series = Vec::new();
    let mut words = Vec::new();
    for (end, share) in lumps {
        let name = crate::whole::end_name(end);
        let Some(disc) = &whole.axle(end).disc else {
            for column in &mut cells {
                column.push(Cell::word("not described"));
            }
            continue;
        };
        // What spins is slowed too: its share of the energy is a few per cent of the car's.
        let spinning = [AxleEnd::Front, AxleEnd::Rear].map(|end| {
            let radius = whole.axle(end).corner.loaded_radius();
            WHEELS * whole.spin_inertia(end) / (radius * radius)
        });
        let heating = Heating {
            mass: whole.loads.mass + spinning.iter().sum::<f64>(),
            share: share / WHEELS,
            into_disc: INTO_DISC,
            aero: whole.aero,
            air: stop.air,
        };
        let heats = disc.over(&heating, stop.air, &phases(stop)).map_err(wrong)?;
        let rise = disc.adiabatic_rise(&heating, stop.from, stop.to);
        let first = heats.first().map(|h| h.peak);
        let hottest = heats.iter().map(|h| h.peak).fold(f64::NEG_INFINITY, f64::max);
        let brake = whole.system.as_ref().map(|system| match end {
            AxleEnd::Front => &system.front,
            AxleEnd::Rear => &system.rear,
        });
        let hot = brake.is_some_and(|brake| brake.torque(0.0, hottest).1);
        let beyond = "beyond the table of the pads' friction";
        let [a, b, c] = &mut cells;
        a.push(Cell::plain(stop.air + rise));
        b.push(first.map_or_else(Cell::default, Cell::plain));
        c.push(Cell::plain(hottest).marked(hot, beyond));
        if hot {
            words.push(format!(
                "The {name} discs get hotter than the pads' table goes: their friction there is not known."
            ));
        }
        let mut time = 0.0;
        let mut points = vec![(0.0, stop.air)];
        for heat in &heats {
            time += heat.time;
            points.push((time, heat.end));
        }
        series.push(Curve { name: name.into(), points });
    }
    words.push(
        "An estimate: each disc one lump of iron, cooled as a bare disc in the wind; ducts, wheels, hubs and fluid are not in \
         it, and the caliper and fluid may boil before the disc glows. Paint or a probe at the disc says more."
            .into(),
    );
    let [bound, one, many] = cells;
    let rows = vec![
        Finding::new("heat-bound", texts::HEAT_BOUND, Scale::Temperature, bound),
        Finding::new("heat-one-stop", texts::HEAT_ONE, Scale::Temperature, one),
        Finding::new("heat-sequence", texts::HEAT_MANY, Scale::Temperature, many),
    ];
    let group = Group {
        title: format!(
            "Disc temperature, from {} stops {:.0} s apart: an estimate",
            stop.repeats, stop.pause
        ),
        columns: vec!["front".into(), "rear".into()],
        rows,
        words,
    };
    let chart = Chart {
        key: "disc-temperature".into(),
        title: "disc temperature over the stops".into(),
        words: "Saw teeth: each stop heats, the way to the next one cools. Level at the end: it has found its heat.".into(),
        x: ChartAxis { label: "time".into(), scale: Scale::Time },
        y: ChartAxis { label: "disc".into(), scale: Scale::Temperature },
        series,
        marks: Vec::new(),
    };
    Ok((group, chart))
}
