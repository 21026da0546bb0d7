//! Load cases: the usual ones, those of the file, and what they mean at each wheel of this car.
//!
//! Limits come from the car's own tyres, brakes, masses and springs; where one of those is not known a stated figure stands
//! in, and the case says so. The multiples of bumps, kerbs and jacks have no source but the trade's habit: each is marked
//! "common practice", and the file may state others.

use nalgebra::Vector3;
use project::model::{Ask, Car, CaseReading, End};
use suspension::{AxleEnd, TorqueReaction};
use vehicle::GRAVITY;

use crate::whole::{Lack, Whole};

/// Acceleration that stands in for a limit that the file does not let one work out [m/s^2]: a car on good road tyres
/// (common practice).
const STAND_IN: f64 = 1.1 * GRAVITY;

/// A case with every figure in place.
#[derive(Clone, Debug, PartialEq)]
pub struct Case {
    /// Its name in the file: `stop`.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// Where it comes from.
    pub why: String,
    /// Deceleration [m/s^2].
    pub braking: f64,
    /// Lateral acceleration, the left wheels outside [m/s^2].
    pub cornering: f64,
    /// Acceleration [m/s^2].
    pub driving: f64,
    /// Speed, for the air [m/s].
    pub speed: f64,
    /// Upright force on the struck wheel, in its loads at rest.
    pub up: Option<f64>,
    /// Force inward on it, in its loads at rest.
    pub inward: f64,
    /// Force rearward on it, in its loads at rest.
    pub rearward: f64,
    /// Height above the road at which those strike [m].
    pub height: f64,
    /// Pickup that a jack lifts: axle, point, force [N].
    pub jack: Option<(End, usize, f64)>,
    /// Factor on everything.
    pub factor: f64,
    /// Wheels, front and rear, left and right.
    pub wheels: [[WheelLoad; 2]; 2],
    /// What had to be taken in place of what is not known, and where a wheel lifts.
    pub notes: Vec<String>,
}

/// What acts on one wheel, as on the left: forward, to the left, up.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WheelLoad {
    /// Force of the road at the contact point [N].
    pub road: Vector3<f64>,
    /// Whether it drives: what reacts its torque is then the drive's.
    pub drives: bool,
    /// A strike at a height above the road: force [N]; the wheel rolls on, so it has no torque about its axle.
    pub strike: Vector3<f64>,
    /// That height [m].
    pub height: f64,
    /// Share of the wheel's own weight that hangs on it: the factor of the case.
    pub weight: f64,
}

/// The usual cases: what each asks, how much of everything, and why.
fn usual(car: &Car, end: End) -> Vec<(CaseReading, &'static str, &'static str)> {
    let limit = Some(Ask::Limit(1.0));
    let part = Some(Ask::Limit(0.7));
    let named = |name: &str| CaseReading { name: name.into(), ..CaseReading::default() };
    // Rough roads and a driver's jabs go beyond the steady limit.
    let rough = Some(1.3);
    let jack = car.axle(end).and_then(|axle| {
        axle.holes
            .first()
            .map(|hole| hole.point)
            .or_else(|| axle.scheme.lengths().map(|(_, inner, _)| inner).next())
    });
    vec![
        (
            CaseReading { braking: limit, factor: rough, ..named("stop") },
            "hardest stop",
            "as hard as tyres and brakes let, 1.3 of it for rough road (common practice)",
        ),
        (
            CaseReading { cornering: limit, factor: rough, ..named("corner") },
            "hardest corner",
            "as hard as the tyres let, the left wheels outside, 1.3 of it for rough road (common practice)",
        ),
        (
            CaseReading { braking: part, cornering: part, factor: rough, ..named("stop-corner") },
            "braking into a corner",
            "0.7 of both limits at once: a circle of grip; 1.3 of it for rough road (common practice)",
        ),
        (
            CaseReading { driving: limit, factor: rough, ..named("drive") },
            "hardest drive",
            "as hard as the driven tyres let, whatever the engine has; 1.3 of it for rough road (common practice)",
        ),
        (
            CaseReading { up: Some(3.0), ..named("bump") },
            "bump",
            "three times the wheel's load at rest, straight up (common practice)",
        ),
        (
            CaseReading { braking: limit, up: Some(2.0), ..named("bump-braking") },
            "bump while braking",
            "twice the wheel's load at rest on the brakes' limit (common practice)",
        ),
        (
            CaseReading { up: Some(1.5), inward: Some(2.0), rearward: Some(0.5), ..named("kerb") },
            "kerb strike",
            "twice the wheel's load at rest sideways, half of it rearward, 1.5 up (common practice)",
        ),
        (
            CaseReading { jack: jack.map(|point| (end, point)), lifts: Some(1.0), ..named("jack") },
            "jack under a pickup",
            "all that the axle carries at rest on one bracket (common practice)",
        ),
    ]
}

/// All cases of a car: usual ones as the file changes them, then its own.
pub(super) fn cases(car: &Car, end: End, whole: &Whole) -> Vec<Case> {
    let own = car.build.as_ref().map_or(&[][..], |build| &build.cases);
    let usual = usual(car, end);
    let changed =
        usual.iter().map(|(reading, title, why)| match own.iter().find(|case| case.name == reading.name) {
            Some(case) => (over(case, reading), (*title).to_string(), format!("{why}; changed in the file")),
            None => (reading.clone(), (*title).to_string(), (*why).to_string()),
        });
    let further = own.iter().filter(|case| !usual.iter().any(|(u, ..)| u.name == case.name));
    let further = further.map(|case| (case.clone(), case.name.clone(), "stated in the file".to_string()));
    let all: Vec<_> = changed.chain(further).collect();
    all.into_iter()
        // Without a pickup to stand under there is no jack.
        .filter(|(reading, ..)| !reading.off && (reading.name != "jack" || reading.jack.is_some()))
        .map(|(reading, title, why)| {
            let why = reading.why.clone().unwrap_or(why);
            Lowering { car, whole, notes: Vec::new() }.case(&reading, title, why)
        })
        .collect()
}

/// What a case of the file states, over the usual one.
fn over(own: &CaseReading, usual: &CaseReading) -> CaseReading {
    let usual = usual.clone();
    CaseReading {
        name: own.name.clone(),
        off: own.off,
        braking: own.braking.or(usual.braking),
        cornering: own.cornering.or(usual.cornering),
        driving: own.driving.or(usual.driving),
        speed: own.speed.or(usual.speed),
        up: own.up.or(usual.up),
        inward: own.inward.or(usual.inward),
        rearward: own.rearward.or(usual.rearward),
        height: own.height.or(usual.height),
        jack: own.jack.or(usual.jack),
        lifts: own.lifts.or(usual.lifts),
        factor: own.factor.or(usual.factor),
        why: own.why.clone().or(usual.why),
        span: own.span.clone(),
    }
}

/// Makes a case out of what is asked.
struct Lowering<'a> {
    car: &'a Car,
    whole: &'a Whole,
    notes: Vec<String>,
}

impl Lowering<'_> {
    fn case(mut self, asked: &CaseReading, title: String, why: String) -> Case {
        let speed = asked.speed.unwrap_or(self.car.stop.from);
        let braking = self.asked(asked.braking, |l| l.stop(speed));
        let cornering = self.asked(asked.cornering, Lowering::corner);
        let driving = self.asked(asked.driving, Lowering::drive);
        let factor = asked.factor.unwrap_or(1.0);
        let rest = self.at_rest();
        let jack = asked.jack.map(|(end, point)| {
            let axle = usize::from(end == End::Rear);
            let force = 2.0 * rest.get(axle).copied().unwrap_or(0.0) * asked.lifts.unwrap_or(1.0) * factor;
            (end, point, force)
        });
        let mut case = Case {
            name: asked.name.clone(),
            title,
            why,
            braking,
            cornering,
            driving,
            speed,
            up: asked.up,
            inward: asked.inward.unwrap_or(0.0),
            rearward: asked.rearward.unwrap_or(0.0),
            height: asked.height.unwrap_or(0.0),
            jack,
            factor,
            wheels: [[WheelLoad::default(); 2]; 2],
            notes: Vec::new(),
        };
        case.wheels = if case.jack.is_none() {
            self.wheels(&case, rest)
        } else {
            // The wheels hang.
            [[WheelLoad { weight: 1.0, ..WheelLoad::default() }; 2]; 2]
        };
        case.notes = self.notes;
        case
    }

    fn asked(&mut self, ask: Option<Ask>, limit: impl FnOnce(&mut Self) -> Result<f64, Lack>) -> f64 {
        match ask {
            None => 0.0,
            Some(Ask::Stated(value)) => value,
            Some(Ask::Limit(share)) => {
                let limit = limit(self).unwrap_or_else(|lack| {
                    self.notes.push(format!(
                        "{lack}: {:.1} g is taken for the limit (common practice); {}",
                        STAND_IN / GRAVITY,
                        lack.hint
                    ));
                    STAND_IN
                });
                share * limit
            }
        }
    }

    /// Load of one wheel of each axle at rest [N].
    fn at_rest(&self) -> [f64; 2] {
        let loads = self.whole.stopping().loads(0.0, 0.0);
        [loads.front / 2.0, loads.rear / 2.0]
    }

    /// Greatest deceleration.
    fn stop(&mut self, speed: f64) -> Result<f64, Lack> {
        let (grip, effort) = (self.whole.grip()?, self.whole.effort()?);
        let limit = self.whole.stopping().first_lock(speed, &grip, &effort).map_err(crate::whole::wrong)?;
        Ok(limit.deceleration)
    }

    /// Greatest lateral acceleration: of the axle that holds out longest, for its tyres do grip so much.
    fn corner(&mut self) -> Result<f64, Lack> {
        let rolling = self.whole.rolling()?;
        let limit = self.whole.cornering(&rolling)?.limit().map_err(crate::whole::wrong)?;
        Ok(limit.front.max(limit.rear))
    }

    /// Greatest acceleration by the grip of the driven tyres.
    fn drive(&mut self) -> Result<f64, Lack> {
        let grip = self.whole.grip()?;
        let (car, front) = (self.whole.stopping(), self.whole.drive_front);
        let spare = |a: f64| {
            let loads = car.loads(0.0, -a);
            let of = |end, share: f64, load: f64| {
                if share > 0.0 { grip.force(end, load.max(0.0)) / share } else { f64::INFINITY }
            };
            of(AxleEnd::Front, front, loads.front).min(of(AxleEnd::Rear, 1.0 - front, loads.rear))
                - car.mass * a
        };
        // What the tyres spare falls as the car is asked for more: halved until it is found to a thousandth of g.
        let (mut low, mut high) = (0.0, 5.0 * GRAVITY);
        while high - low > 1e-3 * GRAVITY {
            let middle = 0.5 * (low + high);
            if spare(middle) > 0.0 { low = middle } else { high = middle }
        }
        Ok(low)
    }

    /// Load moved across each axle [N], from the inner wheel to the outer one.
    fn moved(&mut self, cornering: f64) -> [f64; 2] {
        if cornering == 0.0 {
            return [0.0; 2];
        }
        let found = self.whole.rolling().and_then(|r| r.at(cornering).map_err(crate::whole::wrong));
        match found {
            Ok(t) => [t.front.total(), t.rear.total()],
            Err(lack) => {
                self.notes.push(format!(
                    "{lack}: the load moved in the corner is shared by what each axle carries; {}",
                    lack.hint
                ));
                let car = self.whole.stopping();
                let loads = car.loads(0.0, 0.0);
                let of = |load: f64, i: usize| {
                    let track = self.whole.axles.get(i).map_or(1.5, |a| 2.0 * a.measures.contact.y);
                    load / GRAVITY * cornering * car.cg_height / track
                };
                [of(loads.front, 0), of(loads.rear, 1)]
            }
        }
    }

    fn wheels(&mut self, case: &Case, rest: [f64; 2]) -> [[WheelLoad; 2]; 2] {
        let car = self.whole.stopping();
        let loads = car.loads(case.speed_of_air(), case.braking - case.driving);
        let moved = self.moved(case.cornering);
        let (front, rear) = self.brakes(case);
        let drive = car.mass * case.driving;
        let driven = [drive * self.whole.drive_front, drive * (1.0 - self.whole.drive_front)];
        // The side force of an axle holds its share of the mass.
        let aside = [0, 1].map(|i| 2.0 * rest[i] / GRAVITY * case.cornering);
        let mut out = [[WheelLoad::default(); 2]; 2];
        for (i, (pair, load)) in out.iter_mut().zip([loads.front, loads.rear]).enumerate() {
            let (outer, inner) = (load / 2.0 + moved[i], load / 2.0 - moved[i]);
            let (outer, inner) = if inner < 0.0 {
                let name = ["front", "rear"][i];
                self.notes.push(format!("the inner {name} wheel is off the road: the outer one has all"));
                (load, 0.0)
            } else {
                (outer, inner)
            };
            let braked = [front, rear][i];
            for (wheel, (up, outside)) in pair.iter_mut().zip([(outer, true), (inner, false)]) {
                let side = if load > 0.0 { aside[i] * up / load } else { 0.0 };
                // The road pushes the outer, left wheel inward. The right one is seen in its mirror: outward there.
                let across = if outside { -side } else { side };
                let along = driven[i] / 2.0 - braked / 2.0;
                let mut road = Vector3::new(along, across, up);
                if outside && let Some(times) = case.up {
                    road.z = times * rest[i];
                }
                let struck = if outside { rest[i] } else { 0.0 };
                *wheel = WheelLoad {
                    road: road * case.factor,
                    drives: along > 0.0,
                    strike: Vector3::new(-case.rearward, -case.inward, 0.0) * struck * case.factor,
                    height: case.height,
                    weight: case.factor,
                };
            }
        }
        out
    }

    /// Brake force of each axle [N].
    fn brakes(&mut self, case: &Case) -> (f64, f64) {
        if case.braking == 0.0 {
            return (0.0, 0.0);
        }
        let car = self.whole.stopping();
        let total = (car.mass * case.braking - self.whole.aero.forces(case.speed_of_air()).drag).max(0.0);
        let shared = |effort: &vehicle::brake::Effort<'_>| {
            let effort_for = effort.effort_for(total)?;
            Some(effort.forces(effort_for))
        };
        let found = self.whole.effort().ok().and_then(|effort| shared(&effort));
        found.unwrap_or_else(|| {
            self.notes.push(
                "how the brakes share this braking is not known: each axle brakes by its load".to_string(),
            );
            let share = car.ideal_share(case.speed, case.braking);
            (total * share, total * (1.0 - share))
        })
    }
}

impl Case {
    /// Speed at which the air counts: only where the car is asked to stop or to turn.
    fn speed_of_air(&self) -> f64 {
        if self.braking > 0.0 || self.cornering > 0.0 { self.speed } else { 0.0 }
    }

    /// Whether both sides of the car bear the same.
    pub fn is_even(&self) -> bool {
        self.wheels.iter().all(|[left, right]| left == right)
    }
}

/// What reacts a wheel's torque about its axle.
pub(super) fn reaction(load: &WheelLoad, braking: TorqueReaction, driving: TorqueReaction) -> TorqueReaction {
    if load.drives { driving } else { braking }
}
