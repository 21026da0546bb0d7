//! Forces in the joints by the transposed gradient (virtual work).

use nalgebra::{DVector, Vector3};

use crate::factor::LEAST_SINGULAR_VALUE;
use crate::frame::Frame;
use crate::model::Linkage;
use crate::row::Row;
use crate::singular::Singular;
use crate::state::{End, Position};

/// A force and a moment on a body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wrench {
    /// Force [N].
    pub force: Vector3<f64>,
    /// Moment about the body's moved origin [N m].
    pub moment: Vector3<f64>,
}

/// Reactions of a linkage that is held still.
#[derive(Clone, Debug, PartialEq)]
pub struct Reactions {
    /// One number per equation of the joints, then one per holding equation: force [N] (moment [N m] for an
    /// angle) by which the equation acts in the sense of its gradient.
    pub values: Vec<f64>,
    /// Largest component of force [N] or moment [N m] that is left out of balance on any body: zero but for
    /// rounding when the linkage is held, large when a load acts along a freedom that nothing holds.
    pub unbalanced: f64,
}

/// Loads on a linkage, one wrench per body.
#[derive(Clone, Debug, PartialEq)]
pub struct Loads(Vec<Wrench>);

impl Loads {
    /// No loads.
    pub fn none(bodies: usize) -> Self {
        Self(vec![Wrench { force: Vector3::zeros(), moment: Vector3::zeros() }; bodies])
    }

    /// Adds a force [N] at a point of a body; a point that no body carries is ignored.
    pub fn add_force(
        &mut self,
        linkage: &Linkage<f64>,
        q: &Position<f64>,
        at: &End<f64>,
        force: Vector3<f64>,
    ) {
        if let Frame::Body(b) = at.frame
            && let Some(wrench) = self.0.get_mut(b)
        {
            wrench.force += force;
            wrench.moment += linkage.frames().lever(q, at).cross(&force);
        }
    }

    /// Adds a moment [N m] on a body.
    pub fn add_moment(&mut self, body: usize, moment: Vector3<f64>) {
        if let Some(wrench) = self.0.get_mut(body) {
            wrench.moment += moment;
        }
    }
}

/// Reactions at position `q` under `loads`, with the linkage's free motion held by the equations `hold` (a
/// spring between two points, say). Balance of every body: `J' r + load = 0`. Where equations are redundant
/// the load is shared evenly in the least-squares sense.
///
/// `None` if the numbers are not finite or there is no body.
pub fn reactions(
    linkage: &Linkage<f64>,
    q: &Position<f64>,
    loads: &Loads,
    hold: &[Row<f64>],
) -> Option<Reactions> {
    let columns = 6 * linkage.bodies();
    let rows: Vec<&Row<f64>> = linkage.joint_rows().iter().chain(hold).collect();
    let mut matrix = nalgebra::DMatrix::zeros(columns, rows.len());
    let mut gradient = vec![0.0; columns];
    for (i, row) in rows.iter().enumerate() {
        gradient.fill(0.0);
        row.linearise(linkage.frames(), q, &mut gradient);
        matrix.column_mut(i).copy_from_slice(&gradient);
    }
    let load = DVector::from_iterator(
        columns,
        loads.0.iter().flat_map(|w| w.force.iter().chain(w.moment.iter()).copied().collect::<Vec<_>>()),
    );
    let balanced = |values: &DVector<f64>| (&matrix * values + &load).amax();
    // As many equations as freedoms: by elimination, where that leaves nothing over and no reaction is beyond all measure,
    // as at a dead point.
    if let Some(values) = (rows.len() == columns).then(|| matrix.clone().lu().solve(&-&load)).flatten() {
        let unbalanced = balanced(&values);
        let size = load.amax();
        if unbalanced <= ROUNDING * size && values.amax() <= LARGEST_REACTION * size {
            return Some(Reactions { values: values.iter().copied().collect(), unbalanced });
        }
    }
    let singular = Singular::new(matrix.clone())?;
    let cut = LEAST_SINGULAR_VALUE * singular.values.first()?;
    let values = singular.pseudo_inverse(cut) * -&load;
    let unbalanced = balanced(&values);
    Some(Reactions { values: values.iter().copied().collect(), unbalanced })
}

/// What elimination may leave over of the largest load.
const ROUNDING: f64 = 1e-11;

/// Reactions above this many times the largest load are looked at again by singular values.
const LARGEST_REACTION: f64 = 1e4;

impl Reactions {
    /// Tension of a rod [N]; compression is negative. `None` if the joint is not a rod.
    pub fn tension(&self, linkage: &Linkage<f64>, joint: usize) -> Option<f64> {
        let row = linkage.joints().get(joint)?.rows.start;
        match linkage.rows().get(row)? {
            // The gradient pushes point a away from point b.
            Row::Distance { .. } => self.values.get(row).map(|r| -r),
            _ => None,
        }
    }
}
