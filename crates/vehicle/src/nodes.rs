//! Nodes over a wheel's travel, and a cubic between each two: what a sampled linkage is read by.

/// Distance of the nodes [m]: a linkage curves over centimetres; the cubic's error is below 1e-9 m.
pub(crate) const NODE: f64 = 0.005;

/// Nodes to each side at most: 150 mm of travel, more than a car has.
pub(crate) const MOST_NODES: i32 = 30;

/// Nodes to each side at least: less is no suspension.
pub(crate) const LEAST_NODES: usize = 2;

/// Nodes from the lowest travel [m] on.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Nodes {
    pub lowest: f64,
    pub count: usize,
}

/// Weights of value, slope, value, slope of two nodes, and their first and second derivatives by travel.
pub(crate) type Weights = [[f64; 4]; 3];

impl Nodes {
    /// Least and greatest travel [m].
    pub fn range(&self) -> [f64; 2] {
        [self.lowest, self.lowest + NODE * (self.count - 1) as f64]
    }

    /// The lower node about a travel, and the weights there. Beyond its ends the table goes on straight.
    #[inline]
    pub fn weights(&self, travel: f64) -> (usize, Weights) {
        let [lowest, highest] = self.range();
        let last = self.count - 2;
        if travel <= lowest {
            return (0, [[1.0, travel - lowest, 0.0, 0.0], [0.0, 1.0, 0.0, 0.0], [0.0; 4]]);
        }
        if travel >= highest {
            return (last, [[0.0, 0.0, 1.0, travel - highest], [0.0, 0.0, 0.0, 1.0], [0.0; 4]]);
        }
        // Also for what is not a number: the first node, with weights that stay so.
        let along = (travel - lowest) / NODE;
        let node = (along.max(0.0) as usize).min(last);
        let t = along - node as f64;
        let (t2, t3, h) = (t * t, t * t * t, NODE);
        let values = [2.0 * t3 - 3.0 * t2 + 1.0, h * (t3 - 2.0 * t2 + t), 3.0 * t2 - 2.0 * t3, h * (t3 - t2)];
        let first = [
            (6.0 * t2 - 6.0 * t) / h,
            3.0 * t2 - 4.0 * t + 1.0,
            (6.0 * t - 6.0 * t2) / h,
            3.0 * t2 - 2.0 * t,
        ];
        let (q, s) = (1.0 / (h * h), 1.0 / h);
        let second = [(12.0 * t - 6.0) * q, (6.0 * t - 4.0) * s, (6.0 - 12.0 * t) * q, (6.0 * t - 2.0) * s];
        (node, [values, first, second])
    }
}
