//! The whole car with one choice of holes, as `vehicle` wants it: corners, masses, tyres, brakes, springs and air,
//! and every result of it with its ±.
//!
//! What the file lacks is told where it is needed, not before: a car without brake parts still has its rates.

mod doubt;
mod loads;
mod lower;

use nalgebra::Vector3;
use project::model::{Axle, Car, End, Mounting, StatedStop, TyreModel};
use suspension::scheme::ElementRole;
use suspension::{AxleEnd, Corner, Measures, Mover, Ratio, TorqueReaction};
use thiserror::Error;
use vehicle::aero::{Aero, AeroMap};
use vehicle::balance::{
    AxleRoll, Bar, CorneringCar, RideCorner, RollingCar, TrimCar, roll_stiffness_from_bar,
    roll_stiffness_from_springs, with_tyres,
};
use vehicle::brake::{Disc, Effort, Grip, StoppingCar, System};
use vehicle::pedal;
use vehicle::platform::{self, Rig, Spring, Stop};
use vehicle::tyre::Tyre;

use crate::estimate::Estimate;
use crate::weigh::Input;
use loads::{Loading, Loads};

pub(crate) use lower::{INTO_DISC, bar, wrong};

/// Something that a result needs and the file does not have, or that no car has.
#[derive(Clone, Debug, Error, PartialEq)]
#[error("{what}")]
pub struct Lack {
    /// What is missing or wrong.
    pub what: String,
    /// What to write.
    pub hint: String,
}

impl Lack {
    pub(crate) fn new(what: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { what: what.into(), hint: hint.into() }
    }
}

/// One axle of the whole car.
#[derive(Clone, Debug)]
pub(crate) struct WholeAxle {
    pub end: AxleEnd,
    pub corner: Corner<f64>,
    /// At ride height.
    pub measures: Measures<f64>,
    /// Ratios of the elements at ride height.
    pub ratios: Vec<Ratio<f64>>,
    pub springs: Vec<(usize, Spring)>,
    pub stops: Vec<(usize, Stop)>,
    pub dampers: Vec<pedal::Damper>,
    /// Element of the bar's link, and the bar's rate at one end [N/m].
    pub bar: Option<(usize, f64)>,
    /// Its sizes, where they are known.
    pub bar_sizes: Option<Bar<f64>>,
    /// Of one wheel [kg].
    pub unsprung: f64,
    pub tyre: Option<Tyre>,
    /// Of one tyre [N/m].
    pub tyre_rate: Option<f64>,
    pub disc: Option<Disc>,
    pub braking: TorqueReaction,
    pub driving: TorqueReaction,
    /// Inertia of what spins with a wheel [kg m^2], where it is stated.
    pub spin_inertia: Option<f64>,
}

/// The whole car.
#[derive(Clone, Debug)]
pub(crate) struct Whole {
    pub axles: [WholeAxle; 2],
    pub loads: Loads,
    /// Between the contact points [m].
    pub wheelbase: f64,
    pub system: Option<System>,
    /// Front share of the braking force where it is stated and no parts are given.
    pub share: Option<f64>,
    pub aero: Aero,
    /// The same with ride heights.
    pub air: AeroMap,
    /// Front share of the drive.
    pub drive_front: f64,
    /// Temperature of the discs for all that does not warm them [K].
    pub discs: [f64; 2],
}

/// Name of an axle in messages.
pub(crate) fn end_name(end: AxleEnd) -> &'static str {
    match end {
        AxleEnd::Front => "front",
        AxleEnd::Rear => "rear",
    }
}

impl Whole {
    fn build(car: &Car, loads: Loads, holes: &[(End, usize)]) -> Result<Self, Lack> {
        let front = axle(car, End::Front, &loads, holes)?;
        let rear = axle(car, End::Rear, &loads, holes)?;
        let wheelbase = front.measures.contact.x - rear.measures.contact.x;
        let brake = |end: End, axle: &WholeAxle| {
            let reading = car.axle(end)?.brake.as_ref()?;
            Some(lower::wheel_brake(reading, axle.corner.loaded_radius()))
        };
        let parts = (car.pedal.as_ref(), brake(End::Front, &front), brake(End::Rear, &rear));
        let system = match parts {
            (Some(pedal), Some(front), Some(rear)) => Some(lower::system(pedal, front?, rear?)),
            _ => None,
        };
        Ok(Self {
            loads,
            wheelbase,
            system,
            share: car.brake_front_share.map(|share| share.value),
            aero: car.air.as_ref().map_or(Aero::NONE, lower::aero),
            air: car.air.as_ref().map_or(Ok(AeroMap::from(Aero::NONE)), lower::air)?,
            drive_front: car.drive_front_share.value,
            discs: [car.stop.air; 2],
            axles: [front, rear],
        })
    }

    pub fn axle(&self, end: AxleEnd) -> &WholeAxle {
        let [front, rear] = &self.axles;
        match end {
            AxleEnd::Front => front,
            AxleEnd::Rear => rear,
        }
    }

    /// For stops and stability.
    pub fn stopping(&self) -> StoppingCar {
        StoppingCar {
            mass: self.loads.mass,
            wheelbase: self.wheelbase,
            cg_behind_front: self.loads.behind,
            cg_height: self.loads.height,
            aero: self.aero,
        }
    }

    /// What the pedal asks of the axles.
    pub fn effort(&self) -> Result<Effort<'_>, Lack> {
        match (&self.system, self.share) {
            (Some(system), _) => Ok(Effort::Pedal(system, self.discs)),
            (None, Some(share)) => Ok(Effort::Share(share)),
            (None, None) => Err(Lack::new(
                "how the brakes share their work is not known",
                "write `[pedal]`, `[front.disc]` and `[rear.disc]`, or `front-share` in `[brakes]`",
            )),
        }
    }

    /// The effort of the stated stop: pedal force, or total force where only the share is known.
    pub fn stated_effort(&self, stop: &StatedStop) -> Result<f64, Lack> {
        let drag = self.aero.forces(stop.from).drag;
        self.effort()?.effort_for(self.loads.mass * stop.deceleration - drag).ok_or_else(|| {
            Lack::new(
                "the brakes cannot give the stated deceleration at the greatest pedal force",
                "state a smaller `deceleration` in `[stop]`, or change the brake parts",
            )
        })
    }

    /// Braking force of the front and of the rear axle in the stated stop [N].
    pub fn stated_forces(&self, stop: &StatedStop) -> Result<(f64, f64), Lack> {
        Ok(self.effort()?.forces(self.stated_effort(stop)?))
    }

    /// Tyres of an axle.
    pub fn tyre(&self, end: AxleEnd) -> Result<&Tyre, Lack> {
        self.axle(end).tyre.as_ref().ok_or_else(|| {
            let end = end_name(end);
            Lack::new(
                format!("the {end} tyres are not known"),
                format!("write `[tyre]`, or `[{end}.tyre]`: a handful of figures is enough"),
            )
        })
    }

    /// Grip of the tyres.
    pub fn grip(&self) -> Result<Grip<'_>, Lack> {
        Ok(Grip::Tyres { front: self.tyre(AxleEnd::Front)?, rear: self.tyre(AxleEnd::Rear)? })
    }

    /// For stability; `car` is [`Self::stopping`].
    pub fn trim<'a>(&'a self, car: &'a StoppingCar) -> Result<TrimCar<'a>, Lack> {
        self.trim_with(car, self.effort())
    }

    /// For steady speeds, at which the brakes do not enter: they need not be known.
    pub fn trim_unbraked<'a>(&'a self, car: &'a StoppingCar) -> Result<TrimCar<'a>, Lack> {
        self.trim_with(car, Ok(self.effort().unwrap_or(Effort::Share(0.5))))
    }

    fn trim_with<'a>(
        &'a self,
        car: &'a StoppingCar,
        brakes: Result<Effort<'a>, Lack>,
    ) -> Result<TrimCar<'a>, Lack> {
        Ok(TrimCar {
            car,
            yaw_inertia: self.loads.yaw.ok_or_else(|| {
                Lack::new(
                    "the yaw inertia is not known",
                    "write `[weigh.inertia]`, or the height of the centre of gravity",
                )
            })?,
            front: self.tyre(AxleEnd::Front)?,
            rear: self.tyre(AxleEnd::Rear)?,
            brakes: brakes?,
            front_drive: self.drive_front,
        })
    }

    /// Sprung mass, and how far behind the front axle and how high its centre is.
    pub fn sprung(&self) -> (f64, f64, f64) {
        let l = &self.loads;
        let [front, rear] = [0, 1].map(|i| 2.0 * l.unsprung[i]);
        let mass = l.mass - front - rear;
        let [at_front, at_rear] = self.axles.each_ref().map(|a| a.corner.loaded_radius());
        let origin = self.axles[0].measures.contact.x;
        let behind = |a: &WholeAxle| origin - a.measures.centre.x;
        let moment = l.mass * l.behind - front * behind(&self.axles[0]) - rear * behind(&self.axles[1]);
        let height = l.mass * l.height - front * at_front - rear * at_rear;
        (mass, moment / mass, height / mass)
    }

    /// Pitch inertia of the sprung mass about its centre [kg m^2].
    pub fn sprung_pitch_inertia(&self) -> Result<f64, Lack> {
        self.sprung_about("pitch", self.loads.pitch, [true, false, true])
    }

    /// Roll, pitch and yaw inertia of the sprung mass about its centre [kg m^2].
    pub fn sprung_inertia(&self) -> Result<[f64; 3], Lack> {
        Ok([
            self.sprung_about("roll", self.loads.roll, [false, true, true])?,
            self.sprung_pitch_inertia()?,
            self.sprung_about("yaw", self.loads.yaw, [true, true, false])?,
        ])
    }

    /// An inertia of the whole car less what the wheels have as points and the sprung mass has by its place. `ways` are the
    /// directions that count from the axis: along, across, up.
    fn sprung_about(&self, name: &str, whole: Option<f64>, ways: [bool; 3]) -> Result<f64, Lack> {
        let whole = whole.ok_or_else(|| {
            Lack::new(format!("the {name} inertia is not known"), "give the height of the centre of gravity")
        })?;
        let origin = self.axles[0].measures.contact.x;
        let (mass, behind, height) = self.sprung();
        let about = |m: f64, x: f64, y: f64, z: f64| {
            let arms = [x - self.loads.behind, y, z - self.loads.height];
            m * arms
                .into_iter()
                .zip(ways)
                .map(|(arm, counts)| if counts { arm * arm } else { 0.0 })
                .sum::<f64>()
        };
        let wheels: f64 = self
            .axles
            .iter()
            .map(|a| {
                let c = &a.measures.centre;
                about(2.0 * a.unsprung, origin - c.x, c.y, a.corner.loaded_radius())
            })
            .sum();
        let left = whole - wheels - about(mass, behind, 0.0, height);
        if left > 0.0 {
            Ok(left)
        } else {
            Err(Lack::new(
                format!("the {name} inertia is less than that of the wheels alone"),
                "look at `[weigh.inertia]`",
            ))
        }
    }

    /// What rolls at an axle, for the stop as it unfolds.
    pub fn rolling_at(&self, end: AxleEnd) -> Result<pedal::Rolling<'_>, Lack> {
        let axle = self.axle(end);
        let tyre = self.tyre(end)?;
        let name = end_name(end);
        if axle.dampers.is_empty() {
            return Err(Lack::new(
                format!("the {name} dampers are not known"),
                format!("write `bump` and `rebound` in `[{name}.damper]`"),
            ));
        }
        let load = self.loads.mass * vehicle::GRAVITY / 4.0;
        let along = match tyre {
            Tyre::Magic(set) => vehicle::tyre::magic::relaxation_length_along(set, load),
            Tyre::Simple(_) => None,
        };
        Ok(pedal::Rolling {
            tyre,
            spin_inertia: self.spin_inertia(end),
            relaxation: along.filter(|l| *l > 0.0).unwrap_or(pedal::RELAXATION),
            dampers: axle.dampers.clone(),
        })
    }

    /// One corner in ride.
    pub fn ride(&self, end: AxleEnd) -> Result<RideCorner<f64>, Lack> {
        let axle = self.axle(end);
        let name = end_name(end);
        let (element, spring) = *axle.springs.first().ok_or_else(|| no_spring(end))?;
        let ratio = |element: usize| axle.ratios.get(element);
        let spring_ratio = ratio(element).ok_or_else(|| no_spring(end))?;
        let (sprung, behind, _) = self.sprung();
        let rear = behind / self.wheelbase;
        let share = match end {
            AxleEnd::Front => 1.0 - rear,
            AxleEnd::Rear => rear,
        };
        let on_corner = sprung * share / 2.0;
        let damper = axle.dampers.first();
        let damper_ratio = damper.and_then(|d| ratio(d.element)).map_or(0.0, |r| r.ratio);
        Ok(RideCorner {
            spring_rate: spring.rate,
            spring_force: on_corner * vehicle::GRAVITY / spring_ratio.ratio,
            spring_ratio: spring_ratio.ratio,
            spring_ratio_rate: spring_ratio.ratio_rate,
            damping: damper.map_or(0.0, |d| (d.bump + d.rebound) / 2.0),
            damper_ratio,
            tyre_rate: axle.tyre_rate.ok_or_else(|| no_tyre_rate(name))?,
            sprung_mass: on_corner,
            unsprung_mass: axle.unsprung,
        })
    }

    /// Roll stiffness of an axle [Nm/rad]: of its springs and of its bar, tyres rigid.
    pub fn roll_stiffness(&self, end: AxleEnd) -> Result<(f64, f64), Lack> {
        let axle = self.axle(end);
        let ride = self.ride(end)?.ride().map_err(wrong)?;
        let track = 2.0 * axle.measures.contact.y;
        let bar = axle.bar.map_or(0.0, |(element, rate)| {
            let ratio = axle.ratios.get(element).map_or(0.0, |r| r.ratio);
            roll_stiffness_from_bar(rate, track, ratio)
        });
        Ok((roll_stiffness_from_springs(ride.wheel_rate, track), bar))
    }

    /// For lateral load transfer, tyres in series with springs and bar.
    pub fn rolling(&self) -> Result<RollingCar<f64>, Lack> {
        let (sprung_mass, behind, sprung_height) = self.sprung();
        let axle = |end: AxleEnd| {
            let axle = self.axle(end);
            let (springs, bar) = self.roll_stiffness(end)?;
            let track = 2.0 * axle.measures.contact.y;
            let rate = axle.tyre_rate.ok_or_else(|| no_tyre_rate(end_name(end)))?;
            Ok(AxleRoll {
                roll_stiffness: with_tyres(springs + bar, rate, track),
                roll_centre: axle.measures.roll_centre_height(),
                track,
                unsprung_mass: 2.0 * axle.unsprung,
                unsprung_height: axle.corner.loaded_radius(),
            })
        };
        Ok(RollingCar {
            sprung_mass,
            sprung_height,
            front_share: 1.0 - behind / self.wheelbase,
            front: axle(AxleEnd::Front)?,
            rear: axle(AxleEnd::Rear)?,
        })
    }

    /// The car for its equilibrium; `front` is the front share of the braking.
    pub fn on_wheels(&self, front: f64) -> Result<platform::Car<'_>, Lack> {
        let (sprung, behind, height) = self.sprung();
        let [one, two] = &self.axles;
        Ok(platform::Car {
            axles: [rig(one)?, rig(two)?],
            sprung,
            sprung_centre: Vector3::new(one.measures.contact.x - behind, 0.0, height),
            brake_front: front,
            drive_front: self.drive_front,
            air: Some(self.air),
        })
    }

    /// For steady turns; `rolling` is [`Self::rolling`].
    pub fn cornering<'a>(&'a self, rolling: &'a RollingCar<f64>) -> Result<CorneringCar<'a>, Lack> {
        Ok(CorneringCar { rolling, front: self.tyre(AxleEnd::Front)?, rear: self.tyre(AxleEnd::Rear)? })
    }

    /// Inertia of what spins with a wheel [kg m^2]; without a stated one that of a disc of half the unsprung mass and
    /// the tyre's radius, most of whose mass is in rim and tread (own): `m_u R^2 / 2 x 0.7`.
    pub fn spin_inertia(&self, end: AxleEnd) -> f64 {
        let axle = self.axle(end);
        let radius = axle.corner.loaded_radius();
        axle.spin_inertia.unwrap_or(0.5 * 0.7 * axle.unsprung * radius * radius)
    }
}

fn rig(axle: &WholeAxle) -> Result<Rig<'_>, Lack> {
    if axle.springs.is_empty() {
        return Err(no_spring(axle.end));
    }
    Ok(Rig {
        corner: &axle.corner,
        end: axle.end,
        springs: axle.springs.clone(),
        stops: axle.stops.clone(),
        bar: axle.bar,
        unsprung: axle.unsprung,
        tyre_rate: axle.tyre_rate.ok_or_else(|| no_tyre_rate(end_name(axle.end)))?,
        braking: axle.braking,
        driving: axle.driving,
    })
}

fn no_spring(end: AxleEnd) -> Lack {
    let end = end_name(end);
    Lack::new(
        format!("the {end} springs are not known"),
        format!("write `rate` in `[{end}.spring]`, with the spring's two ends"),
    )
}

fn no_tyre_rate(end: &str) -> Lack {
    Lack::new(
        format!("the vertical rate of the {end} tyres is not known"),
        format!("write `vertical-rate` in `[{end}.tyre]`"),
    )
}

fn axle(car: &Car, end: End, loads: &Loads, holes: &[(End, usize)]) -> Result<WholeAxle, Lack> {
    let name = end.name();
    let axle: &Axle = car.axle(end).ok_or_else(|| {
        Lack::new(
            format!("the file has no `[{name}]` axle"),
            "the whole car needs both: its kind, its wheel and its points".to_string(),
        )
    })?;
    let wheel = &axle.wheel;
    let mut points: Vec<_> = axle.points.iter().map(|p| p.at).collect();
    let chosen = holes.iter().filter(|(at, _)| *at == end).filter_map(|(_, hole)| axle.holes.get(*hole));
    for hole in chosen {
        if let Some(point) = points.get_mut(hole.point) {
            *point = hole.at.at;
        }
    }
    let wheel = suspension::Wheel {
        centre: wheel.centre.at,
        toe: wheel.toe.value,
        camber: wheel.camber.value,
        loaded_radius: wheel.loaded_radius.value,
    };
    let broken = |e: &dyn std::fmt::Display| {
        Lack::new(e.to_string(), format!("`soapstone check` looks `[{name}]` over"))
    };
    let corner = Corner::new(&axle.scheme, &points, &wheel).map_err(|e| broken(&e))?;
    let mut mover = Mover::new(&corner);
    let measures = mover.at(0.0, 0.0).map_err(|e| broken(&e))?;
    let ratios = (0..corner.elements().len()).map_while(|e| mover.ratio(e)).collect();
    let role = |role: ElementRole| axle.scheme.elements.iter().position(|e| e.role == role);
    let bar = match (&axle.bar, role(ElementRole::BarLink)) {
        (Some(bar), Some(link)) => Some((link, lower::bar_rate(bar)?)),
        _ => None,
    };
    let springs = axle.springs.iter().map(|s| (s.element, Spring { rate: s.rate.value, rise: s.rise }));
    let stops = axle.stops.iter().map(|s| (s.element, Stop { gap: s.gap, rate: s.rate, rise: s.rise }));
    let dampers = axle.dampers.iter().map(|d| pedal::Damper {
        element: d.element,
        bump: d.bump.value,
        rebound: d.rebound.value,
    });
    let reacted = |mounting| match mounting {
        Mounting::Outboard => TorqueReaction::Upright,
        Mounting::Inboard => TorqueReaction::Body,
    };
    let [front_unsprung, rear_unsprung] = loads.unsprung;
    let tyre_rate = axle.tyre.as_ref().and_then(lower::vertical_rate);
    // Without its vertical rate a tyre of a handful of figures is not whole: it is lacking, not wrong.
    let tyre = axle.tyre.as_ref().filter(|t| tyre_rate.is_some() || matches!(t.model, TyreModel::Magic(_)));
    Ok(WholeAxle {
        end: end.into(),
        measures,
        ratios,
        springs: springs.collect(),
        stops: stops.collect(),
        dampers: dampers.collect(),
        bar,
        bar_sizes: axle.bar.as_ref().and_then(lower::bar),
        unsprung: if end == End::Front { front_unsprung } else { rear_unsprung },
        tyre: tyre.map(lower::tyre).transpose()?,
        tyre_rate,
        disc: axle.brake.as_ref().and_then(lower::disc),
        braking: reacted(axle.brakes),
        driving: reacted(axle.final_drive),
        spin_inertia: axle.wheel.spin_inertia.map(|v| v.value),
        corner,
    })
}

/// Whether places may be off, or figures alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Scope {
    /// Figures that are no places: what the result does not take from the linkages.
    Figures,
    /// Places too.
    All,
}

/// A car whose weighing is known, open to every choice of holes and every deviation.
#[derive(Clone, Debug)]
pub(crate) struct WholeCar {
    car: Car,
    loading: Loading,
    /// Uncertain figures of the weighing, then figures, then places, in the order of every estimate.
    inputs: Vec<Input>,
    /// How many of them are figures.
    figures: usize,
}

/// Visits figures or places of a car.
type Visit = fn(&mut Car, doubt::See<'_>);

impl WholeCar {
    /// # Errors
    /// The car was not weighed, or the weighing says too little.
    pub fn new(car: &Car) -> Result<Self, Lack> {
        let loading = Loading::of(car)?;
        let mut car = car.clone();
        let mut inputs = loading.inputs.clone();
        let mut list = |visit: Visit| {
            let before = inputs.len();
            visit(&mut car, &mut |name, value, uncertainty| {
                if uncertainty > 0.0 {
                    inputs.push(Input { name: name(), value: *value, uncertainty });
                }
            });
            inputs.len() - before
        };
        let figures = list(doubt::figures);
        list(doubt::places);
        Ok(Self { car, loading, inputs, figures })
    }

    /// The same weighing under a car of which only points of links were moved; `None` where its wheels or its load are
    /// others, so that it weighs something else.
    pub fn moved(&self, car: &Car) -> Option<Self> {
        let wheel = |car: &Car, end: End| {
            let wheel = &car.axle(end)?.wheel;
            Some((wheel.centre.at, wheel.loaded_radius.value))
        };
        let same = [End::Front, End::Rear].into_iter().all(|end| wheel(car, end) == wheel(&self.car, end));
        let fuel = |car: &Car| car.weigh.as_ref().map(|weigh| weigh.fuel_share.value);
        (same && fuel(car) == fuel(&self.car)).then(|| Self { car: car.clone(), ..self.clone() })
    }

    /// What is uncertain, in the order of every estimate's contributions.
    pub fn inputs(&self) -> &[Input] {
        &self.inputs
    }

    /// The car that the file describes.
    pub fn car(&self) -> &Car {
        &self.car
    }

    /// Whether an inertia rests on an estimate.
    pub fn estimated_inertia(&self) -> bool {
        self.loading.estimated
    }

    /// With some holes chosen.
    pub fn at(&self, holes: &[(End, usize)]) -> Result<Whole, Lack> {
        Whole::build(&self.car, self.loading.nominal, holes)
    }

    /// The car with one input after the other off by its standard uncertainty, and the index of that input. Those
    /// that are not wanted, and those with which there is no car, do not come.
    fn each_off(
        &self,
        holes: &[(End, usize)],
        wanted: impl Fn(usize) -> bool,
        mut visit: impl FnMut(usize, &Whole),
    ) {
        for (i, loads) in self.loading.shifted.iter().enumerate().filter(|(i, _)| wanted(*i)) {
            if let Ok(whole) = Whole::build(&self.car, *loads, holes) {
                visit(i, &whole);
            }
        }
        let mut car = self.car.clone();
        let weighed = self.loading.inputs.len();
        let places = self.inputs.len() - weighed - self.figures;
        let groups: [(Visit, usize, usize); 2] =
            [(doubt::figures, weighed, self.figures), (doubt::places, weighed + self.figures, places)];
        for (through, first, count) in groups {
            for number in (0..count).filter(|number| wanted(first + number)) {
                shift(&mut car, through, number, 1.0);
                if let Ok(whole) = Whole::build(&car, self.loading.nominal, holes) {
                    visit(first + number, &whole);
                }
                shift(&mut car, through, number, -1.0);
            }
        }
    }

    /// The car with everything uncertain off by deviates in units of its standard uncertainty, each asked for by the
    /// figure's name, and then changed by hand; and the file's car that goes with it. The weighing is taken to first order: its own tests send it the
    /// long way.
    pub fn drawn(
        &self,
        holes: &[(End, usize)],
        mut deviate: impl FnMut(&str) -> f64,
        alter: impl FnOnce(&mut Car),
    ) -> Result<(Car, Whole), Lack> {
        let nominal = self.loading.nominal;
        let mut loads = nominal;
        for (input, shifted) in self.loading.inputs.iter().zip(&self.loading.shifted) {
            let z = deviate(&input.name);
            let of = |get: &dyn Fn(&Loads) -> f64| z * (get(shifted) - get(&nominal));
            loads.mass += of(&|l| l.mass);
            loads.behind += of(&|l| l.behind);
            loads.height += of(&|l| l.height);
            for (i, unsprung) in loads.unsprung.iter_mut().enumerate() {
                *unsprung += of(&|l| l.unsprung.get(i).copied().unwrap_or(0.0));
            }
            let off = |inertia: Option<f64>, get: fn(&Loads) -> Option<f64>| {
                inertia.map(|i| i + of(&|l| get(l).unwrap_or(f64::NAN)))
            };
            loads.roll = off(loads.roll, |l| l.roll);
            loads.pitch = off(loads.pitch, |l| l.pitch);
            loads.yaw = off(loads.yaw, |l| l.yaw);
        }
        let mut car = self.car.clone();
        let mut off = |name: &dyn Fn() -> String, value: &mut f64, uncertainty: f64| {
            if uncertainty > 0.0 {
                *value += uncertainty * deviate(&name());
            }
        };
        doubt::figures(&mut car, &mut off);
        doubt::places(&mut car, &mut off);
        doubt::driving(&mut car, &mut off);
        alter(&mut car);
        let whole = Whole::build(&car, loads, holes)?;
        Ok((car, whole))
    }

    /// The car with its file's figures changed by hand, weighed as it was.
    pub fn altered(
        &self,
        holes: &[(End, usize)],
        alter: impl FnOnce(&mut Car),
    ) -> Result<(Car, Whole), Lack> {
        let mut car = self.car.clone();
        alter(&mut car);
        let whole = Whole::build(&car, self.loading.nominal, holes)?;
        Ok((car, whole))
    }

    /// Figures with their ±: the change of each by a standard uncertainty of every input, the rest as it is. To first
    /// order that is the derivative times the uncertainty; `scope` leaves out places where they do not matter.
    pub fn estimates<const N: usize>(
        &self,
        holes: &[(End, usize)],
        scope: Scope,
        mut figures: impl FnMut(&Whole) -> [Option<f64>; N],
    ) -> Result<[Option<Estimate>; N], Lack> {
        let list = self.estimate_list(holes, scope, |whole| figures(whole).to_vec())?;
        Ok(in_order(list))
    }

    /// As [`Self::estimates`], for a list whose length is the same for every car.
    pub fn estimate_list(
        &self,
        holes: &[(End, usize)],
        scope: Scope,
        figures: impl FnMut(&Whole) -> Vec<Option<f64>>,
    ) -> Result<Vec<Option<Estimate>>, Lack> {
        let places = self.loading.inputs.len() + self.figures;
        self.estimates_where(holes, |i| scope == Scope::All || i < places, figures)
    }

    /// As [`Self::estimates`], but for the inputs that are wanted alone: for what takes long.
    pub fn estimates_by<const N: usize>(
        &self,
        holes: &[(End, usize)],
        inputs: &[usize],
        mut figures: impl FnMut(&Whole) -> [Option<f64>; N],
    ) -> Result<[Option<Estimate>; N], Lack> {
        let list = self.estimates_where(holes, |i| inputs.contains(&i), |whole| figures(whole).to_vec())?;
        Ok(in_order(list))
    }

    fn estimates_where(
        &self,
        holes: &[(End, usize)],
        wanted: impl Fn(usize) -> bool,
        mut figures: impl FnMut(&Whole) -> Vec<Option<f64>>,
    ) -> Result<Vec<Option<Estimate>>, Lack> {
        let nominal = figures(&self.at(holes)?);
        let count = self.inputs.len();
        let estimate = |value| Estimate { value, contributions: vec![0.0; count] };
        let mut out: Vec<_> = nominal.into_iter().map(|value| value.map(estimate)).collect();
        self.each_off(holes, wanted, |i, whole| {
            for (estimate, off) in out.iter_mut().zip(figures(whole)) {
                if let (Some(estimate), Some(off)) = (estimate, off)
                    && let Some(contribution) = estimate.contributions.get_mut(i)
                {
                    let change = off - estimate.value;
                    *contribution = if change.is_finite() { change } else { 0.0 };
                }
            }
        });
        Ok(out)
    }

    /// Which figures the ± of a result comes from, largest first, with their share of the variance.
    pub fn doubts(&self, estimate: &Estimate) -> Vec<(&str, f64)> {
        let total: f64 = estimate.contributions.iter().map(|c| c * c).sum();
        let shares = estimate.contributions.iter().zip(&self.inputs);
        let mut list: Vec<_> = shares
            .map(|(c, input)| (input.name.as_str(), c * c / total))
            .filter(|(_, share)| *share >= 0.02)
            .collect();
        list.sort_by(|a, b| b.1.total_cmp(&a.1));
        list
    }
}

/// A list of known length as an array.
fn in_order<const N: usize>(list: Vec<Option<Estimate>>) -> [Option<Estimate>; N] {
    let mut list = list.into_iter();
    std::array::from_fn(|_| list.next().flatten())
}

/// Moves the figure of this number, of those that are uncertain, by so many of its standard uncertainties.
fn shift(car: &mut Car, through: Visit, wanted: usize, by: f64) {
    let mut number = 0;
    through(car, &mut |_, value, uncertainty| {
        if uncertainty > 0.0 {
            if number == wanted {
                *value += by * uncertainty;
            }
            number += 1;
        }
    });
}
