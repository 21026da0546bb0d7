//! A corner sampled over travel and rack: cubics over travel, one polynomial over the rack.

use nalgebra::Vector3;

use super::MotionError;
use crate::nodes::{LEAST_NODES, MOST_NODES, NODE, Nodes, Weights};
use crate::platform::Rig;
use crate::platform::wheel::Wheel;

/// Places of the rack that are sampled, as shares of its greatest travel, where the wheels are steered. A polynomial of
/// the sixth degree goes through them: on the demo cars it is within 2e-6 rad of the linkage itself (a test).
const RACKS: [f64; 7] = [-1.0, -2.0 / 3.0, -1.0 / 3.0, 0.0, 1.0 / 3.0, 2.0 / 3.0, 1.0];

/// Springs, stops, dampers and bar links of one corner at most, each element counted once.
pub(super) const MOST_ELEMENTS: usize = 6;

/// Figures of a node: three vectors with their slopes, then shortening and ratio of each element.
const VECTORS: usize = 18;
const MOST: usize = VECTORS + 2 * MOST_ELEMENTS;

/// Node figures at one place of the rack.
type Row = [f64; MOST];

/// One left corner.
#[derive(Clone, Debug)]
pub(super) struct Table {
    over: Nodes,
    /// Places of the rack [m], rising; one where nothing is steered.
    racks: Vec<f64>,
    /// Node by node, in it rack by rack.
    rows: Vec<Row>,
    width: usize,
}

/// The two nodes about a travel at one place of the rack: kept from look to look, as a held rack needs them again.
#[derive(Clone, Copy, Debug)]
pub(super) struct Near {
    node: usize,
    rack: f64,
    rows: [Row; 2],
}

impl Default for Near {
    fn default() -> Self {
        Self { node: usize::MAX, rack: f64::NAN, rows: [[0.0; MOST]; 2] }
    }
}

/// How the rack moves: travel [m], speed [m/s], acceleration [m/s^2]; to the left positive.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Rack {
    pub at: f64,
    pub speed: f64,
    pub hurry: f64,
}

/// The corner at a travel, in the body's axes.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Point {
    pub centre: Vector3<f64>,
    /// First and second derivative of the centre by travel.
    pub velocity: Vector3<f64>,
    pub curvature: Vector3<f64>,
    /// Axis about which the wheel rolls forward: to the left, on both sides of the car.
    pub axis: Vector3<f64>,
    /// Angular velocity of the upright per travel [rad/m].
    pub turning: Vector3<f64>,
    /// Shortening from ride height [m] and motion ratio of each element.
    pub elements: [[f64; 2]; MOST_ELEMENTS],
    /// What the rack's motion alone does: velocity of the centre [m/s], its change per travel [1/s], acceleration
    /// [m/s^2], angular velocity of the upright [rad/s].
    pub steered: Vector3<f64>,
    pub steered_slope: Vector3<f64>,
    pub steered_hurry: Vector3<f64>,
    pub steered_turning: Vector3<f64>,
    /// Speed of shortening of each element by the rack [m/s].
    pub steered_elements: [f64; MOST_ELEMENTS],
}

impl Table {
    /// Samples the rig's corner; `most` is the rack's greatest travel [m], zero where nothing is steered.
    ///
    /// # Errors
    /// A linkage that cannot move, more elements than a corner has.
    pub fn new(rig: &Rig<'_>, elements: &[usize], most: f64) -> Result<Self, MotionError> {
        let axle = rig.name();
        if elements.len() > MOST_ELEMENTS {
            return Err(MotionError::TooMany { axle, most: MOST_ELEMENTS });
        }
        let racks: Vec<f64> = if most > 0.0 { RACKS.map(|r| r * most).to_vec() } else { vec![0.0] };
        // Each place of the rack by itself, as far as it goes; then the travels that all of them reach.
        let columns: Vec<_> = racks.iter().map(|rack| column(rig, elements, *rack)).collect();
        let below = columns.iter().map(|c| c.0.len()).min().unwrap_or(0);
        let above = columns.iter().map(|c| c.1.len()).min().unwrap_or(0);
        if below < LEAST_NODES || above <= LEAST_NODES {
            return Err(MotionError::Stuck { axle });
        }
        let mut rows = Vec::with_capacity((below + above) * racks.len());
        for i in (0..below).rev() {
            rows.extend(columns.iter().filter_map(|c| c.0.get(i)));
        }
        for i in 0..above {
            rows.extend(columns.iter().filter_map(|c| c.1.get(i)));
        }
        Ok(Self {
            over: Nodes { lowest: -NODE * below as f64, count: below + above },
            racks,
            rows,
            width: VECTORS + 2 * elements.len(),
        })
    }

    /// Least and greatest travel [m].
    pub fn range(&self) -> [f64; 2] {
        self.over.range()
    }

    /// Both nodes with these weights of the places of the rack.
    #[inline]
    fn mix(&self, node: usize, weights: &[f64]) -> [Row; 2] {
        let mut rows = [[0.0; MOST]; 2];
        let n = self.racks.len();
        for (end, row) in rows.iter_mut().enumerate() {
            let from = (node + end) * n;
            for (w, of) in weights.iter().zip(&self.rows[from..from + n]) {
                for (sum, value) in row.iter_mut().zip(of).take(self.width) {
                    *sum += w * value;
                }
            }
        }
        rows
    }

    /// The corner at a travel: the left one (`side` 1) or its mirror image (-1). `near` is this wheel's own.
    #[inline]
    pub fn at(&self, travel: f64, rack: &Rack, side: f64, near: &mut Near) -> Point {
        let (node, w) = self.over.weights(travel);
        // In the right corner's mirrored frame the rack moves the other way.
        let place = rack.at * side;
        let steers = self.racks.len() > 1;
        if node != near.node || (steers && place != near.rack) {
            let rows = if steers {
                self.mix(node, &lagrange(&self.racks, place)[0])
            } else {
                [self.rows[node], self.rows[node + 1]]
            };
            *near = Near { node, rack: place, rows };
        }
        let rows = &near.rows;
        let mut point = Point {
            centre: polar(blend(rows, 0, &w[0]), side),
            velocity: polar(blend(rows, 0, &w[1]), side),
            curvature: polar(blend(rows, 0, &w[2]), side),
            axis: axial(blend(rows, 6, &w[0]), side).normalize(),
            turning: axial(blend(rows, 12, &w[0]), side),
            ..Point::default()
        };
        for (i, element) in point.elements.iter_mut().enumerate().take((self.width - VECTORS) / 2) {
            *element = [length(rows, i, &w[0]), length(rows, i, &w[1])];
        }
        if steers && (rack.speed != 0.0 || rack.hurry != 0.0) {
            self.steer(&mut point, (node, &w), rack, side);
        }
        point
    }

    /// What the moving rack adds to a point.
    fn steer(&self, point: &mut Point, (node, w): (usize, &Weights), rack: &Rack, side: f64) {
        let [_, slopes, bends] = lagrange(&self.racks, rack.at * side);
        let (first, second) = (self.mix(node, &slopes), self.mix(node, &bends));
        let (speed, hurry) = (rack.speed * side, rack.hurry * side);
        point.steered = polar(blend(&first, 0, &w[0]), side) * speed;
        point.steered_slope = polar(blend(&first, 0, &w[1]), side) * speed;
        point.steered_hurry = polar(blend(&first, 0, &w[0]), side) * hurry
            + polar(blend(&second, 0, &w[0]), side) * (speed * speed);
        // The upright's turn about the wheel's own axis by the rack is left out: nothing asks for it but a brake's
        // reaction, and it is small.
        let swing = axial(blend(&first, 6, &w[0]), side) * speed;
        point.steered_turning = point.axis.cross(&swing);
        for (i, element) in point.steered_elements.iter_mut().enumerate().take((self.width - VECTORS) / 2) {
            *element = length(&first, i, &w[0]) * speed;
        }
    }
}

/// One place of the rack: nodes below ride height, from it downward, and from ride height upward.
fn column(rig: &Rig<'_>, elements: &[usize], rack: f64) -> (Vec<Row>, Vec<Row>) {
    let mut wheel = Wheel::new(rig, 1.0);
    let mut sample = |travel: f64| {
        if !wheel.go(travel, rack) {
            return None;
        }
        let at = &wheel.at.place;
        let spin_rate = at.turning.cross(&at.spin);
        let vectors = [at.centre, at.velocity, at.spin, spin_rate, at.turning, at.turning_rate];
        let mut row = [0.0; MOST];
        for (slot, value) in row.iter_mut().zip(vectors.iter().flat_map(|v| [v.x, v.y, v.z])) {
            *slot = value;
        }
        for (i, element) in elements.iter().enumerate() {
            let (short, ratio) = wheel.shortening(*element)?;
            row[VECTORS + 2 * i] = short;
            row[VECTORS + 2 * i + 1] = ratio.ratio;
        }
        row.iter().all(|v| v.is_finite()).then_some(row)
    };
    // The linkage follows the rack at ride height first.
    let start = sample(0.0);
    let down = (1..=MOST_NODES).map_while(|i| start.and(sample(-NODE * f64::from(i)))).collect();
    let mut up: Vec<Row> = start.into_iter().collect();
    up.extend((1..=MOST_NODES).map_while(|i| start.and(sample(NODE * f64::from(i)))));
    (down, up)
}

/// Lagrange's weights of places at `x`, and their first and second derivatives.
fn lagrange(places: &[f64], x: f64) -> [[f64; RACKS.len()]; 3] {
    let mut out = [[0.0; RACKS.len()]; 3];
    for (j, pj) in places.iter().enumerate() {
        // Value, slope and bend of a product grow factor by factor.
        let (mut value, mut slope, mut bend) = (1.0, 0.0, 0.0);
        for (k, pk) in places.iter().enumerate() {
            if k != j {
                let (factor, rate) = ((x - pk) / (pj - pk), 1.0 / (pj - pk));
                (value, slope, bend) =
                    (value * factor, slope * factor + value * rate, bend * factor + 2.0 * slope * rate);
            }
        }
        (out[0][j], out[1][j], out[2][j]) = (value, slope, bend);
    }
    out
}

#[inline]
fn blend(rows: &[Row; 2], from: usize, w: &[f64; 4]) -> Vector3<f64> {
    let of = |i: usize| {
        rows[0][from + i] * w[0]
            + rows[0][from + 3 + i] * w[1]
            + rows[1][from + i] * w[2]
            + rows[1][from + 3 + i] * w[3]
    };
    Vector3::new(of(0), of(1), of(2))
}

#[inline]
fn length(rows: &[Row; 2], element: usize, w: &[f64; 4]) -> f64 {
    let i = VECTORS + 2 * element;
    rows[0][i] * w[0] + rows[0][i + 1] * w[1] + rows[1][i] * w[2] + rows[1][i + 1] * w[3]
}

/// Mirror image of a place or a velocity.
#[inline]
fn polar(v: Vector3<f64>, side: f64) -> Vector3<f64> {
    Vector3::new(v.x, v.y * side, v.z)
}

/// Mirror image of an axis or an angular velocity.
#[inline]
fn axial(v: Vector3<f64>, side: f64) -> Vector3<f64> {
    Vector3::new(v.x * side, v.y, v.z * side)
}
