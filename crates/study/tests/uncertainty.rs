//! The ± of every result against Monte Carlo, and its exact derivatives against a solution from anew.
//!
//! Sources: JCGM 100:2008 (5.1.2, the law of propagation) and JCGM 101:2008 (propagation by Monte Carlo). The
//! samples go the long way: deviated inputs, a corner built of them, moved and measured, with no derivative in
//! sight.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed, and clippy sees tests only in functions marked so"
)]

mod support;

use nalgebra::Vector3;
use project::model::End;
use rand::SeedableRng;
use rand::rngs::StdRng;
use rand_distr::{Distribution, StandardNormal};
use study::{Candidate, Choice, Estimate, Facts, Inputs, Parameter, Quantity, Subject, choose, explain};
use support::{car, subject};
use suspension::{Corner, Measures, Mover, Ratio};

/// Samples of each axle: the ± of a sampled ± is then 1.1 %.
const SAMPLES: usize = 4_000;

/// Any seed would do; a fixed one makes the test say the same every day.
const SEED: u64 = 20_251_125;

/// A sampled standard deviation may be off by this many of its own, `s / sqrt(2 (N - 1))`: one in 1.7 million
/// for a sound ±, so that the few thousand comparisons here never fail by chance.
const SIGMAS: f64 = 5.0;

/// What the bend of a result over its ± may add to the sampled standard deviation, as a share of it. Points
/// are known to 2 mm and links are 300 mm and more: the second order is 1/150 of the first, a few times over.
const CURVATURE: f64 = 0.03;

/// What it may add to that of the difference of two rows, as a share of the ± of either row. Errors that both
/// rows share cancel at first order, their products with the errors of the two holes do not: where the hole has
/// next to no leverage over a result, those products are all there is.
const CURVATURE_OF_DIFFERENCE: f64 = 0.03;

/// What the samples may stray from the linear prediction made of the same deviates, as a share of the ±: the
/// second order alone, since chance is the same on both sides.
const STRAY: f64 = 0.2;

/// The same with a tenth of the ±: the second order falls with it, a wrong derivative does not.
const STRAY_TENTH: f64 = STRAY / 10.0;

/// Side-view arms less sure than this share are left out: an arm is the inverse of a slope, and the inverse of
/// a slope that may well be zero has no standard deviation at all.
const UNSURE_ARM: f64 = 0.12;

/// Lever of a wheel [m]: a link that is a millimetre off turns the wheel by about a millimetre over this, if it
/// has any leverage on that angle.
const LEVER: f64 = 0.3;

/// Step of the central differences [m, rad, -]; a second one, twice as long, takes their `STEP^2` error away.
const STEP: f64 = 2e-5;

/// Agreement of exact and central derivatives, as a share of the result's largest derivative and its size:
/// positions are found to some 1e-14 m, which the step makes 1e-9, and second derivatives weigh it by 1/length.
const GRADIENT: f64 = 1e-7;

/// Travels at which toe and camber are looked at [m].
const TRAVELS: [f64; 2] = [-0.03, 0.03];

/// What is known of one row: names, the program's estimates, and how to work the same out from inputs.
struct Known<'s, 'a> {
    subject: &'s Subject<'a>,
    candidate: Candidate,
    choice: &'s Choice,
    explained: Vec<Quantity>,
    names: Vec<String>,
    estimates: Vec<Estimate>,
    /// Column, explained quantity, or link figure: which results are side-view arms.
    arms: Vec<bool>,
    /// What second-order errors are measured by: the ±, or, for an angle that the moved link happens to have
    /// no leverage on, the ± that an error of that link has at the wheel's lever.
    sizes: Vec<f64>,
}

impl<'s, 'a> Known<'s, 'a> {
    fn of(subject: &'s Subject<'a>, choice: &'s Choice, row: usize) -> Self {
        let row = &choice.rows[row];
        let end = subject.end();
        let (mut names, mut estimates, mut arms) = (Vec::new(), Vec::new(), Vec::new());
        let mut add = |name: String, estimate: &Estimate, arm: bool| {
            names.push(name);
            estimates.push(estimate.clone());
            arms.push(arm);
        };
        for (column, value) in choice.columns.iter().zip(&row.values) {
            let name = format!("{} at {:?}", column.quantity.key(end), column.travel);
            let value = value.as_ref().unwrap_or_else(|| panic!("{name} has a value"));
            add(name, value, column.quantity == Quantity::SideViewArm);
        }
        let elements = &subject.axle().scheme.elements;
        let mut explained = vec![Quantity::RollCamber, Quantity::TrackChange];
        for (i, element) in elements.iter().enumerate() {
            explained.push(Quantity::MotionRatio(i));
            explained.extend(element.rate.map(|_| Quantity::WheelRate(i)));
        }
        for quantity in &explained {
            let worked = explain(subject, *quantity, &row.candidate.holes, 0.0).unwrap();
            add(format!("{quantity:?}"), &worked.result.expect("it has a result"), false);
        }
        for link in &row.links {
            add(format!("length of {}", link.joint), &link.length, false);
            add(format!("change of {}", link.joint), &link.change, false);
        }
        if let Some(shift) = &row.left_as_is {
            add("shift of the wheelbase".into(), &shift.wheelbase, false);
            add("shift of toe".into(), &shift.toe, false);
            add("shift of camber".into(), &shift.camber, false);
        }
        let candidate = row.candidate.clone();
        let mut sizes: Vec<f64> = estimates.iter().map(Estimate::uncertainty).collect();
        if row.left_as_is.is_some() {
            let link = row.links.iter().map(|l| l.change.uncertainty()).fold(0.0, f64::max);
            let [.., toe, camber] = sizes.as_mut_slice() else { unreachable!("a shift has three results") };
            *toe = toe.max(link / LEVER);
            *camber = camber.max(link / LEVER);
        }
        Self { subject, candidate, choice, explained, names, estimates, arms, sizes }
    }

    /// All results from inputs off by `delta`, in the order of the names: plain numbers all the way.
    fn work_out(&self, delta: impl Fn(usize) -> f64) -> Vec<f64> {
        let holes = &self.candidate.holes;
        let inputs: Inputs<f64> = self.subject.inputs(holes, delta);
        let corner = self.subject.corner(&inputs).unwrap();
        let mut at_travel = Vec::new();
        for travel in [0.0, TRAVELS[0], TRAVELS[1]] {
            let mut mover = Mover::new(&corner);
            let measures = mover.at(travel, 0.0).unwrap();
            let ratios: Vec<Ratio<f64>> =
                (0..corner.elements().len()).map(|e| mover.ratio(e).unwrap()).collect();
            at_travel.push((travel, self.facts(&inputs, measures, ratios)));
        }
        let ride = &at_travel[0].1;
        let mut results = Vec::with_capacity(self.names.len());
        for column in &self.choice.columns {
            let travel = column.travel.unwrap_or(0.0);
            let (_, facts) = at_travel.iter().find(|(t, _)| *t == travel).unwrap();
            results.push(column.quantity.value(facts).unwrap());
        }
        for quantity in &self.explained {
            results.push(match *quantity {
                Quantity::WheelRate(e) => {
                    // k MR^2 + F dMR/dz, PHYSICS of the product.
                    let (r, element) = (&ride.ratios[e], &self.subject.axle().scheme.elements[e]);
                    element.rate.unwrap() * r.ratio * r.ratio + element.force.unwrap_or(0.0) * r.ratio_rate
                }
                other => other.value(ride).unwrap(),
            });
        }
        let legs = self.legs();
        for (_, moved, other) in &legs {
            let between = |points: &[Vector3<f64>]| (points[*moved] - points[*other]).norm();
            results.push(between(&inputs.points));
            results.push(between(&inputs.points) - between(&inputs.drawn));
        }
        if results.len() < self.names.len() {
            results.extend(self.shift(&inputs, &legs));
        }
        results
    }

    /// The legs of the moved points: name, moved point, point at the other end.
    fn legs(&self) -> Vec<(&str, usize, usize)> {
        let axle = self.subject.axle();
        let moved = self.candidate.holes.iter().map(|h| axle.holes[*h].point);
        moved.flat_map(|p| axle.scheme.legs_at(p).map(move |(name, other)| (name, p, other))).collect()
    }

    /// Wheelbase, toe and camber off with the moved links as long as drawn.
    fn shift(&self, inputs: &Inputs<f64>, legs: &[(&str, usize, usize)]) -> [f64; 3] {
        let scheme = self.subject.axle().scheme.legs_as_rods();
        let mut corner: Corner<f64> = Corner::new(&scheme, &inputs.points, &inputs.wheel).unwrap();
        for (name, a, b) in legs {
            let joint = corner.linkage().joint(name).unwrap();
            let drawn = (inputs.drawn[*a] - inputs.drawn[*b]).norm();
            assert!(corner.linkage_mut().set_rod_length(joint, drawn));
        }
        let mut mover = Mover::new(&corner);
        mover.assemble().unwrap();
        let m = mover.at(0.0, 0.0).unwrap();
        let ahead = m.centre.x - inputs.wheel.centre.x;
        let longer = if self.subject.axle().end == End::Front { ahead } else { -ahead };
        [longer, m.toe - inputs.wheel.toe, m.camber - inputs.wheel.camber]
    }

    fn facts(&self, inputs: &Inputs<f64>, measures: Measures<f64>, ratios: Vec<Ratio<f64>>) -> Facts<f64> {
        Facts {
            measures,
            ratios,
            figures: inputs.figures,
            end: self.subject.end(),
            braking: self.subject.braking_reaction(),
            driving: self.subject.driving_reaction(),
            driven: self.subject.driven(),
        }
    }
}

/// Mean and standard deviation.
fn spread(samples: impl ExactSizeIterator<Item = f64> + Clone) -> f64 {
    let n = samples.len() as f64;
    let mean = samples.clone().sum::<f64>() / n;
    (samples.map(|x| (x - mean) * (x - mean)).sum::<f64>() / (n - 1.0)).sqrt()
}

/// Whether an estimate is a side-view arm too unsure to have a standard deviation.
fn unsure_arm(known: &Known<'_, '_>, result: usize) -> bool {
    let e = &known.estimates[result];
    known.arms[result] && e.uncertainty() > UNSURE_ARM * e.value.abs()
}

/// The ± of every result of every row of an axle, and of the difference of every row to the first one.
#[track_caller]
fn check(name: &str, end: End) {
    let car = car(name);
    let subject = subject(&car, end);
    let choice = choose(&subject, &[], &TRAVELS, |_, _| {}).unwrap();
    let rows: Vec<Known<'_, '_>> =
        (0..choice.rows.len()).map(|row| Known::of(&subject, &choice, row)).collect();
    let us: Vec<f64> = subject.parameters().iter().map(|(_, u)| *u).collect();
    assert!(us.len() > 10, "an axle has many uncertain inputs");

    for (scale, samples, stray) in [(1.0, SAMPLES, STRAY), (0.1, SAMPLES / 10, STRAY_TENTH)] {
        let mut rng = StdRng::seed_from_u64(SEED);
        let deviates: Vec<Vec<f64>> = (0..samples)
            .map(|_| {
                us.iter().map(|_| scale * Distribution::<f64>::sample(&StandardNormal, &mut rng)).collect()
            })
            .collect();
        // results[row][sample][result]
        let results: Vec<Vec<Vec<f64>>> = rows
            .iter()
            .map(|row| deviates.iter().map(|z| row.work_out(|i| z[i] * us[i])).collect())
            .collect();
        let sampling = SIGMAS / (2.0 * (samples as f64 - 1.0)).sqrt();
        for (k, known) in rows.iter().enumerate() {
            for (r, estimate) in known.estimates.iter().enumerate() {
                if unsure_arm(known, r) {
                    continue;
                }
                let what = format!("{name} {end:?}, {}: {}", known.candidate.name, known.names[r]);
                let (u, size) = (estimate.uncertainty() * scale, known.sizes[r] * scale);
                let samples = results[k].iter().map(|s| s[r]);
                compare(&what, u, spread(samples), sampling, scale * CURVATURE * size);
                let strays = results[k].iter().zip(&deviates).map(|(s, z)| {
                    s[r] - estimate.contributions.iter().zip(z).map(|(c, z)| c * z).sum::<f64>()
                });
                let strays = spread(strays);
                assert!(
                    strays <= stray * size,
                    "{what}: strays {strays:e} from the linear prediction, ± {u:e}"
                );
                // Rows with other links have other results behind the columns.
                if k > 0 && r < choice.columns.len() && !unsure_arm(&rows[0], r) {
                    let (difference, of_difference) = estimate.difference(&rows[0].estimates[r]);
                    assert_eq!(difference, estimate.value - rows[0].estimates[r].value);
                    let second_order = scale * CURVATURE_OF_DIFFERENCE * u;
                    let samples = results[k].iter().zip(&results[0]).map(|(a, b)| a[r] - b[r]);
                    let what = format!("{what}, less as drawn");
                    compare(&what, of_difference * scale, spread(samples), sampling, second_order);
                }
            }
        }
    }
    gradients(name, &rows);
}

#[track_caller]
fn compare(what: &str, u: f64, sampled: f64, sampling: f64, second_order: f64) {
    let allowed = sampled * sampling + second_order;
    assert!((sampled - u).abs() <= allowed, "{what}: ± {u:e} by first order, {sampled:e} by sampling");
}

/// Every derivative of every result against central differences of a solution from anew.
#[track_caller]
fn gradients(name: &str, rows: &[Known<'_, '_>]) {
    for known in rows {
        let parameters = known.subject.parameters();
        let differences: Vec<Vec<f64>> = (0..parameters.len())
            .map(|p| {
                let off = |d: f64| known.work_out(|i| if i == p { d } else { 0.0 });
                let slope = |h: f64| -> Vec<f64> {
                    off(h).iter().zip(off(-h)).map(|(a, b)| (a - b) / (2.0 * h)).collect()
                };
                // Richardson: the error of a central difference goes with the square of its step.
                slope(STEP).iter().zip(slope(2.0 * STEP)).map(|(a, b)| (4.0 * a - b) / 3.0).collect()
            })
            .collect();
        for (r, estimate) in known.estimates.iter().enumerate() {
            let exact: Vec<f64> =
                estimate.contributions.iter().zip(parameters).map(|(c, (_, u))| c / u).collect();
            let largest = exact.iter().fold(0.0, |m: f64, d| m.max(d.abs()));
            let value = estimate.value.abs();
            for (p, (parameter, _)) in parameters.iter().enumerate() {
                let central = differences[p][r];
                let miss = (central - exact[p]).abs();
                assert!(
                    miss <= GRADIENT * (largest + value),
                    "{name}, {}: {} by {}: {} exactly, {central} by differences",
                    known.candidate.name,
                    known.names[r],
                    known.subject.parameter_name(*parameter),
                    exact[p]
                );
            }
        }
    }
}

#[test]
fn plover_front_double_wishbone() {
    check("plover/car.toml", End::Front);
}

#[test]
fn plover_rear_five_link() {
    check("plover/car.toml", End::Rear);
}

#[test]
fn plover_as_found_semi_trailing_arm() {
    check("plover/before.toml", End::Rear);
}

#[test]
fn dunlin_front_strut() {
    check("dunlin/car.toml", End::Front);
}

#[test]
fn dunlin_rear_trailing_blade() {
    check("dunlin/car.toml", End::Rear);
}

#[test]
fn wren_front_double_wishbone() {
    check("wren/car.toml", End::Front);
}

#[test]
fn wren_rear_double_wishbone_in_inches() {
    check("wren/car.toml", End::Rear);
}

#[test]
fn links_with_a_rocker() {
    check("links", End::Rear);
}

#[test]
fn a_wheel_centre_that_is_off_changes_the_wheelbase() {
    // The samples above trust `Subject::inputs` for this: the wheelbase is the front's x less the rear's.
    let car = car("plover/car.toml");
    let (front, rear) = (car.front.as_ref().unwrap(), car.rear.as_ref().unwrap());
    let wheelbase = |f: f64, r: f64| (front.wheel.centre.at.x + f) - (rear.wheel.centre.at.x + r);
    for (end, expect) in [(End::Front, wheelbase(1e-3, 0.0)), (End::Rear, wheelbase(0.0, 1e-3))] {
        let subject = subject(&car, end);
        let own = subject.parameters().iter().position(|(p, _)| *p == Parameter::WheelCentre(0)).unwrap();
        let inputs = subject.inputs(&[], |i| if i == own { 1e-3 } else { 0.0 });
        assert!((inputs.figures.wheelbase.unwrap() - expect).abs() < 1e-12, "{end:?}");
        assert!((inputs.wheel.centre.x - subject.axle().wheel.centre.at.x - 1e-3).abs() < 1e-12);
    }
}
