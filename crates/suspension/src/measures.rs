//! What the wheel does at one position: toe, camber, contact point, their exact derivatives by travel, the two
//! slopes, the roll centre. Definitions and signs: `docs/notation.md`.

use linkage::scalar::{Real, constant, norm};
use linkage::{Curvature, End, Frame, Motion, PointMotion, Position};
use nalgebra::Vector3;

use crate::corner::{Corner, Span, TRAVEL};
use crate::scheme::UPRIGHT;

/// Wheel measures of the left wheel, per unit of vertical wheel-centre travel where they are rates.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measures<T> {
    /// Travel of the wheel centre from ride height [m], jounce positive.
    pub travel: T,
    /// Wheel centre [m].
    pub centre: Vector3<T>,
    /// Lowest point of a rigid disc of the loaded radius about the wheel centre [m].
    pub contact: Vector3<T>,
    /// Rate of that lowest point (it wanders round the wheel as the wheel turns) [m/m].
    pub contact_rate: Vector3<T>,
    /// Spin axis (unit vector out of the car).
    pub spin: Vector3<T>,
    /// Toe [rad], toe-in positive.
    pub toe: T,
    /// Camber [rad], top outward positive.
    pub camber: T,
    /// d(toe)/dz [rad/m]: bump steer.
    pub toe_gain: T,
    /// d(camber)/dz [rad/m].
    pub camber_gain: T,
    /// Second derivative of toe by travel [rad/m^2].
    pub toe_curvature: T,
    /// Velocity of the upright-fixed point at the contact point [m/m].
    pub contact_velocity: Vector3<T>,
    /// Velocity of the wheel centre [m/m]; its z is 1.
    pub centre_velocity: Vector3<T>,
    /// Angular velocity of the upright [rad/m].
    pub spin_of_upright: Vector3<T>,
}

impl<T: Real> Measures<T> {
    /// Measures at a position, with the motion and curvature along unit travel.
    #[inline]
    pub fn of(corner: &Corner<T>, q: &Position<T>, m: &Motion<T>, c: &Curvature<T>) -> Self {
        Self::from_parts(corner, q, m, c)
    }

    /// As [`Self::of`], from slices.
    #[inline]
    pub fn from_parts(
        corner: &Corner<T>,
        q: &Position<T>,
        m: &Motion<T>,
        c: &[linkage::Acceleration<T>],
    ) -> Self {
        let frames = corner.linkage().frames();
        let centre = frames.point(q, corner.centre());
        let s = frames.direction(q, Frame::Body(UPRIGHT), corner.spin());
        let w = m.twists[UPRIGHT].w;
        let alpha = c[UPRIGHT].alpha;
        let s1 = w.cross(&s);
        let s2 = alpha.cross(&s) + w.cross(&s1);

        // e = (z - s_z s)/|z - s_z s|, |z - s_z s| = sqrt(s_x^2 + s_y^2) = k: toward the top in the wheel's plane.
        // Not sqrt(1 - s_z^2), nor asin(s_z) for camber: rounding may leave s_z beyond 1 for a wheel lying flat.
        let (o, i) = (constant::<T>(0.0), constant::<T>(1.0));
        let z = Vector3::new(o, o, i);
        let g = s.x * s.x + s.y * s.y;
        let k = g.sqrt();
        let e = (z - s * s.z) / k;
        // e' = -(s_z' s + s_z s')/k + (s_z s_z'/k^2) e
        let e1 = (s * s1.z + s1 * s.z) / (-k) + e * (s.z * s1.z / (k * k));
        let radius = corner.loaded_radius();
        let lever = e * (-radius);

        // toe = atan2(s_x, s_y): toe' = (s_x' s_y - s_x s_y')/(s_x^2 + s_y^2) = n/g; toe'' = n'/g - n g'/g^2.
        let n = s1.x * s.y - s.x * s1.y;
        let n1 = s2.x * s.y - s.x * s2.y;
        let g1 = (s.x * s1.x + s.y * s1.y) * 2.0;

        let centre_velocity = frames.velocity(q, m, corner.centre());
        Self {
            travel: q.inputs[TRAVEL],
            centre,
            contact: centre + lever,
            contact_rate: centre_velocity - e1 * radius,
            spin: s,
            toe: s.x.atan2(s.y),
            camber: -s.z.atan2(k),
            toe_gain: n / g,
            camber_gain: -s1.z / k,
            toe_curvature: n1 / g - n * g1 / (g * g),
            contact_velocity: centre_velocity + w.cross(&lever),
            centre_velocity,
            spin_of_upright: w,
        }
    }

    /// `v_x/v_z` of the upright-fixed contact point.
    pub fn contact_dx_dz(&self) -> T {
        self.contact_velocity.x / self.contact_velocity.z
    }

    /// `v_y/v_z` of the upright-fixed contact point.
    pub fn contact_dy_dz(&self) -> T {
        self.contact_velocity.y / self.contact_velocity.z
    }

    /// `v_x/v_z` of the wheel centre.
    pub fn centre_dx_dz(&self) -> T {
        self.centre_velocity.x / self.centre_velocity.z
    }

    /// `v_y/v_z` of the wheel centre.
    pub fn centre_dy_dz(&self) -> T {
        self.centre_velocity.y / self.centre_velocity.z
    }

    /// Height of the roll centre above the road for an axle whose wheels move together [m]:
    /// `(t/2) v_y(P)/v_z(P)`.
    pub fn roll_centre_height(&self) -> T {
        self.contact.y * self.contact_dy_dz()
    }

    /// Rate of side-view turning by rise of the contact point [rad/m]: the inverse of the side-view swing
    /// arm, signed: positive where the instant centre is behind the wheel. In the wheel's plane the point
    /// with no velocity is at `(-v_x, ., v_z)/w_y` rotated a quarter turn: `x_P + v_z/w_y`.
    pub fn side_view_turning(&self) -> T {
        self.spin_of_upright.y / self.contact_velocity.z
    }

    /// Roll steer: toe-in of the wheel that goes into jounce, per radian of body roll with both wheels moving
    /// equally and oppositely [rad/rad]. Positive steers the rear toward understeer and the front toward
    /// oversteer. From `tan(roll) = (z_P,right - z_P,left)/t`: d(roll)/d(travel) = z_P'/(t/2).
    pub fn roll_steer(&self) -> T {
        self.toe_gain * self.contact.y / self.contact_rate.z
    }

    /// Roll camber: change of the jounce wheel's camber relative to the road per radian of body roll
    /// [rad/rad]; 1 where camber does not follow travel.
    pub fn roll_camber(&self) -> T {
        self.camber_gain * self.contact.y / self.contact_rate.z + 1.0
    }

    /// Rate of the half track by travel [m/m], at the contact point.
    pub fn half_track_gain(&self) -> T {
        self.contact_rate.y
    }
}

/// Rates of toe and camber [rad per unit] of a wheel with spin axis `s` whose upright turns with `w`:
/// `(s_x' s_y - s_x s_y')/(s_x^2 + s_y^2)` and `-s_z'/sqrt(1 - s_z^2)` with `s' = w x s`.
#[inline]
pub fn angle_rates<T: Real>(s: &Vector3<T>, w: &Vector3<T>) -> (T, T) {
    let s1 = w.cross(s);
    let g = s.x * s.x + s.y * s.y;
    ((s1.x * s.y - s.x * s1.y) / g, -s1.z / (constant::<T>(1.0) - s.z * s.z).sqrt())
}

/// How a spring, damper or bar link follows the wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ratio<T> {
    /// Length [m].
    pub length: T,
    /// Shortening per wheel travel [m/m]: positive where jounce compresses. The trade's motion ratio.
    pub ratio: T,
    /// Change of that ratio per travel [1/m].
    pub ratio_rate: T,
}

impl<T: Real> Span<T> {
    /// Length and motion ratio at a position.
    ///
    /// `L = |d|`, `L' = d.v/L`, `L'' = (v.v + d.a - L'^2)/L`.
    pub fn ratio(
        &self,
        corner: &Corner<T>,
        q: &Position<T>,
        m: &Motion<T>,
        c: &[linkage::Acceleration<T>],
    ) -> Ratio<T> {
        let frames = corner.linkage().frames();
        let track = |end: &End<T>| -> PointMotion<T> { frames.track(q, m, c, end) };
        let (outer, inner) = (track(&self.outer), track(&self.inner));
        let (d, v, a) = (outer.p - inner.p, outer.v - inner.v, outer.a - inner.a);
        let length = norm(&d);
        let rate = d.dot(&v) / length;
        let second = (v.dot(&v) + d.dot(&a) - rate * rate) / length;
        Ratio { length, ratio: -rate, ratio_rate: -second }
    }
}

/// Rate at the wheel of a spring [N/m], in its two parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WheelRate<T> {
    /// `k MR^2`: from the spring's own rate.
    pub from_rate: T,
    /// `F dMR/dz`: from the change of the motion ratio under the spring's force; `None` where no force is
    /// known.
    pub from_geometry: Option<T>,
}

impl<T: Real> Ratio<T> {
    /// Wheel rate of a spring of rate `rate` [N/m] compressed by `force` [N].
    pub fn wheel_rate(&self, rate: f64, force: Option<f64>) -> WheelRate<T> {
        WheelRate {
            from_rate: self.ratio * self.ratio * rate,
            from_geometry: force.map(|f| self.ratio_rate * f),
        }
    }
}
