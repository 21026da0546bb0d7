//! The least that finds a position: Newton's method on five lengths and a height, a dense LU each iteration,
//! starting from the last station. No branch check, no derivatives, no measures.

use nalgebra::{Matrix3, Matrix6, Vector3, Vector6};

/// The same last step as the product's solver [m; rad].
const LAST_STEP: f64 = 3e-8;

pub struct FiveRods {
    body: [Vector3<f64>; 5],
    lever: [Vector3<f64>; 5],
    squares: [f64; 5],
    rest: f64,
    place: Vector3<f64>,
    rot: Matrix3<f64>,
}

impl FiveRods {
    pub fn new(rods: &[([f64; 3], [f64; 3]); 5], centre: [f64; 3]) -> Self {
        let centre = Vector3::from(centre);
        Self {
            body: rods.map(|(body, _)| body.into()),
            lever: rods.map(|(_, upright)| Vector3::from(upright) - centre),
            squares: rods
                .map(|(body, upright)| (Vector3::from(upright) - Vector3::from(body)).norm_squared()),
            rest: centre.z,
            place: centre,
            rot: Matrix3::identity(),
        }
    }

    pub fn go_to(&mut self, travel: f64) -> Vector3<f64> {
        for _ in 0..30 {
            let (mut jacobian, mut residual) = (Matrix6::zeros(), Vector6::zeros());
            for i in 0..5 {
                let r = self.rot * self.lever[i];
                let d = self.place + r - self.body[i];
                let m = r.cross(&d);
                residual[i] = 0.5 * (d.norm_squared() - self.squares[i]);
                for k in 0..3 {
                    jacobian[(i, k)] = d[k];
                    jacobian[(i, 3 + k)] = m[k];
                }
            }
            jacobian[(5, 2)] = 1.0;
            residual[5] = self.place.z - self.rest - travel;
            let step = jacobian.lu().solve(&residual).expect("regular");
            let turn = -step.fixed_rows::<3>(3);
            self.place -= step.fixed_rows::<3>(0);
            self.rot = nalgebra::Rotation3::new(turn).matrix() * self.rot;
            if step.fixed_rows::<3>(0).norm().max(turn.norm()) < LAST_STEP {
                break;
            }
        }
        self.place
    }
}
