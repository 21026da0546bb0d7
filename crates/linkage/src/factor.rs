//! The linear solver behind positions, screws, reactions and sensitivities: one factorisation of the gradient
//! of all equations, by LU where it is square and sound, else by singular values.

use nalgebra::{DMatrix, DVector, Dyn, LU};

use crate::singular::Singular;
use crate::six::Six;

/// A pivot below this share of the largest one makes the LU unsound: the linkage is at (or very near) a dead
/// point, or has a redundant equation, and singular values decide. Rows are of unit size by construction and
/// levers are of the order of 0.1 m to 1 m, so a sound corner has pivots above 1e-3.
pub const LEAST_PIVOT: f64 = 1e-9;

/// Singular values below this share of the largest count as zero.
pub const LEAST_SINGULAR_VALUE: f64 = 1e-8;

/// A factorised gradient (rows: equations; columns: six a body).
#[derive(Clone, Debug)]
#[expect(clippy::large_enum_variant, reason = "there is one a solver, and the common one must not allocate")]
pub enum Factor {
    /// One body and six equations, on the stack.
    Six(Six),
    /// Square and regular.
    Square(LU<f64, Dyn, Dyn>),
    /// Anything else: the pseudo-inverse, which leaves idle freedoms at rest and shares the load among
    /// redundant equations evenly.
    Least {
        /// Pseudo-inverse, columns by rows of the gradient.
        inverse: DMatrix<f64>,
        /// Rank found.
        rank: usize,
    },
}

impl Factor {
    /// Factorises a gradient given row by row. `None` if it is not finite.
    #[inline]
    pub fn new(gradient: &[f64], rows: usize, columns: usize) -> Option<Self> {
        if rows == 6 && columns == 6 {
            if let Some(six) = Six::new(gradient, LEAST_PIVOT) {
                return Some(Self::Six(six));
            }
        } else if rows == columns {
            let lu = DMatrix::from_row_slice(rows, columns, gradient).lu();
            if sound((0..rows).map(|i| lu.lu_internal()[(i, i)])) {
                return Some(Self::Square(lu));
            }
        }
        Self::least(gradient, rows, columns)
    }

    fn least(gradient: &[f64], rows: usize, columns: usize) -> Option<Self> {
        // The work grows with the square of the columns: the pseudo-inverse of the transpose is the transpose of
        // the pseudo-inverse.
        let wide = rows < columns;
        let singular = Singular::new(if wide {
            DMatrix::from_column_slice(columns, rows, gradient)
        } else {
            DMatrix::from_row_slice(rows, columns, gradient)
        })?;
        let cut = LEAST_SINGULAR_VALUE * singular.values.first()?;
        let inverse = singular.pseudo_inverse(cut);
        let inverse = if wide { inverse.transpose() } else { inverse };
        Some(Self::Least { inverse, rank: singular.rank(cut) })
    }

    /// Solves gradient x = rhs (in the least-squares sense where it must), in place: `rhs` has one number per
    /// row on entry, `x` one per column on return.
    #[inline]
    pub fn solve(&self, rhs: &[f64], x: &mut [f64]) {
        match self {
            Self::Six(six) => six.solve(rhs, x),
            Self::Square(lu) => {
                let mut v = DVector::from_column_slice(rhs);
                lu.solve_mut(&mut v);
                x.copy_from_slice(v.as_slice());
            }
            Self::Least { inverse, .. } => {
                let v = inverse * DVector::from_column_slice(rhs);
                x.copy_from_slice(v.as_slice());
            }
        }
    }

    /// Sign of the determinant; 0 where there is none. It changes only across a dead point, so a change
    /// between two neighbouring positions means that one of them is of another assembly.
    pub fn orientation(&self) -> f64 {
        match self {
            Self::Six(six) => six.sign(),
            Self::Square(lu) => lu.determinant().signum(),
            Self::Least { .. } => 0.0,
        }
    }

    /// Whether the gradient had full rank.
    pub fn is_regular(&self) -> bool {
        !matches!(self, Self::Least { .. })
    }
}

fn sound(pivots: impl Iterator<Item = f64> + Clone) -> bool {
    let largest = pivots.clone().fold(0.0, |m: f64, p| m.max(p.abs()));
    pivots.into_iter().all(|p| p.abs() > LEAST_PIVOT * largest)
}
