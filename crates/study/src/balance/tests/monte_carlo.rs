//! The ± of the tables against drawings of every uncertain figure.

use rand::SeedableRng;
use rand::rngs::StdRng;
use rand_distr::{Distribution, StandardNormal};

use super::super::{BLOCKS, asked};
use super::*;
use crate::whole::{Scope, WholeCar};

/// Drawings: a sampled ± is then within 3.5 % of the true one, as a standard uncertainty.
const DRAWINGS: usize = 400;

/// What a sampled ± may be off by: 15 %, four times that.
const CHANCE: f64 = 0.15;

/// Figures that are zero but for rounding [SI].
const ROUNDING: f64 = 1e-12;

/// What is left out for its bend over the ±: characteristic and critical speed of a car near neutral (marked in the
/// table), the response at the faster speed where it nears divergence, and the overshoot, which has a kink at zero.
const BENT: [(usize, usize); 8] = [(0, 4), (0, 5), (5, 1), (5, 6), (5, 7), (5, 9), (5, 10), (5, 11)];

/// JCGM 101:2008: the ± of every figure of the tables against everything that is uncertain drawn at once, the long way
/// through the linkages.
#[test]
fn every_uncertainty_against_monte_carlo() {
    let file = fixture::whole();
    let car = WholeCar::new(&file).unwrap();
    let whole = car.at(&[]).unwrap();
    let asked = asked(&whole, &file);
    let all = |whole: &_| -> Vec<Option<f64>> {
        BLOCKS.iter().flat_map(|(figures, _)| figures(whole, &asked)).collect()
    };
    let names: Vec<_> = BLOCKS
        .iter()
        .enumerate()
        .flat_map(|(block, (figures, _))| (0..figures(&whole, &asked).len()).map(move |row| (block, row)))
        .collect();
    let estimates = car.estimate_list(&[], Scope::All, all).unwrap();
    let mut rng = StdRng::seed_from_u64(20_261_125);
    let mut drawn = vec![Vec::new(); estimates.len()];
    for _ in 0..DRAWINGS {
        let off = car.drawn(&[], |_| StandardNormal.sample(&mut rng), |_| {}).unwrap().1;
        for (list, value) in drawn.iter_mut().zip(all(&off)) {
            list.extend(value);
        }
    }
    let mut compared = 0;
    for ((name, estimate), values) in names.iter().zip(&estimates).zip(&drawn) {
        let Some(estimate) = estimate else { continue };
        if BENT.contains(name) {
            continue;
        }
        let mean = values.iter().sum::<f64>() / values.len() as f64;
        let square: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
        let sampled = (square / (values.len() as f64 - 1.0)).sqrt();
        let own = estimate.uncertainty();
        assert!(
            (own - sampled).abs() <= CHANCE * sampled + ROUNDING,
            "{name:?}: {} ± {own}, sampled {sampled}",
            estimate.value
        );
        compared += 1;
    }
    assert!(compared > 120, "{compared}");
}
