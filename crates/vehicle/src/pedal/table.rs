//! A corner sampled over its travel: a cubic between nodes, so that velocities are the derivatives of places.

use nalgebra::Vector3;

use super::PedalError;
use crate::nodes::{LEAST_NODES, MOST_NODES, NODE, Nodes, Weights};
use crate::platform::Rig;
use crate::platform::spot::Way;
use crate::platform::wheel::Wheel;

#[derive(Clone, Copy, Debug)]
struct Node {
    centre: Vector3<f64>,
    velocity: Vector3<f64>,
    spin: Vector3<f64>,
    turning: Vector3<f64>,
    /// Slopes of spin and turning by travel.
    spin_rate: Vector3<f64>,
    turning_rate: Vector3<f64>,
}

/// One left corner over travel, in the body's axes.
#[derive(Clone, Debug)]
pub(crate) struct Table {
    over: Nodes,
    nodes: Vec<Node>,
    elements: usize,
    /// Shortening from ride height [m] and motion ratio, for each node each element.
    lengths: Vec<[f64; 2]>,
}

/// Where in the table a travel is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Place {
    node: usize,
    /// Weights of value, slope, value, slope; their first and second derivatives by travel.
    weights: Weights,
}

/// The corner at a travel.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Point {
    pub centre: Vector3<f64>,
    /// First and second derivative of the centre by travel.
    pub velocity: Vector3<f64>,
    pub curvature: Vector3<f64>,
    pub spin: Vector3<f64>,
    /// Angular velocity of the upright per travel [rad/m].
    pub turning: Vector3<f64>,
}

impl Table {
    /// Samples the rig's corner, elements in the order given.
    pub fn new(rig: &Rig<'_>, elements: &[usize], axle: &'static str) -> Result<Self, PedalError> {
        let mut wheel = Wheel::new(rig, 1.0);
        let mut sample = |travel: f64| {
            if !wheel.go(travel, 0.0) {
                return None;
            }
            let lengths: Option<Vec<[f64; 2]>> =
                elements.iter().map(|e| wheel.shortening(*e).map(|(x, r)| [x, r.ratio])).collect();
            Some((wheel.at.place, lengths?))
        };
        let mut down = Vec::new();
        for i in 1..=MOST_NODES {
            let Some(s) = sample(-NODE * f64::from(i)) else { break };
            down.push(s);
        }
        let mut all: Vec<_> = down.into_iter().rev().collect();
        let below = all.len();
        for i in 0..=MOST_NODES {
            let Some(s) = sample(NODE * f64::from(i)) else { break };
            all.push(s);
        }
        if below < LEAST_NODES || all.len() - below <= LEAST_NODES {
            return Err(PedalError::Stuck { axle });
        }
        let node = |at: &Way| Node {
            centre: at.centre,
            velocity: at.velocity,
            spin: at.spin,
            turning: at.turning,
            spin_rate: at.turning.cross(&at.spin),
            turning_rate: at.turning_rate,
        };
        let nodes = all.iter().map(|(at, _)| node(at)).collect();
        Ok(Self {
            over: Nodes { lowest: -NODE * below as f64, count: all.len() },
            nodes,
            elements: elements.len(),
            lengths: all.into_iter().flat_map(|(_, lengths)| lengths).collect(),
        })
    }

    /// Least and greatest travel [m].
    pub fn range(&self) -> [f64; 2] {
        self.over.range()
    }

    /// Beyond its ends the table goes on straight.
    #[inline]
    pub fn place(&self, travel: f64) -> Place {
        let (node, weights) = self.over.weights(travel);
        Place { node, weights }
    }

    #[inline]
    pub fn at(&self, place: &Place) -> Point {
        let (a, b) = (&self.nodes[place.node], &self.nodes[place.node + 1]);
        let [w, w1, w2] = &place.weights;
        let centre = |w: &[f64; 4]| a.centre * w[0] + a.velocity * w[1] + b.centre * w[2] + b.velocity * w[3];
        Point {
            centre: centre(w),
            velocity: centre(w1),
            curvature: centre(w2),
            spin: (a.spin * w[0] + a.spin_rate * w[1] + b.spin * w[2] + b.spin_rate * w[3]).normalize(),
            turning: a.turning * w[0] + a.turning_rate * w[1] + b.turning * w[2] + b.turning_rate * w[3],
        }
    }

    /// Shortening of an element from ride height [m] and its motion ratio.
    #[inline]
    pub fn shortening(&self, place: &Place, element: usize) -> (f64, f64) {
        let a = &self.lengths[place.node * self.elements + element];
        let b = &self.lengths[(place.node + 1) * self.elements + element];
        let mix = |w: &[f64; 4]| a[0] * w[0] + a[1] * w[1] + b[0] * w[2] + b[1] * w[3];
        (mix(&place.weights[0]), mix(&place.weights[1]))
    }
}
