//! Air forces: drag at its own height, downforce at each axle, by areas that may change with the ride heights.

use nalgebra::{Matrix2, Vector2};

use crate::error::{VehicleError, finite, not_negative, within};

/// Air forces proportional to the square of speed. An area here is a coefficient times its reference area.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Aero {
    /// Density of the air [kg/m^3].
    pub density: f64,
    /// Drag area `C_x S` [m^2], rearward positive.
    pub drag_area: f64,
    /// Height at which the drag acts [m].
    pub drag_height: f64,
    /// Downforce area at the front axle `C_zf S` [m^2]; negative for lift. The drag's own pitching moment is *not* in
    /// it: it follows from the height. Set `drag_height` to zero for axle figures measured at the ground, which have
    /// it already.
    pub front_area: f64,
    /// Downforce area at the rear axle [m^2].
    pub rear_area: f64,
}

/// Air forces at one speed and attitude.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AirForces {
    /// Drag [N], rearward positive.
    pub drag: f64,
    /// Height above the road at which it acts [m].
    pub drag_height: f64,
    /// Downforce at the front axle [N].
    pub front: f64,
    /// Downforce at the rear axle [N].
    pub rear: f64,
}

/// Air forces whose areas follow the ride heights, linearly. A rise is the body's at an axle [m], up positive, from
/// ride height. Beyond the range of rises for which the slopes were found the areas stay as they are at its edge, and
/// [`Self::outside`] says so.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AeroMap {
    /// At ride height.
    pub at_rest: Aero,
    /// Change of the front downforce area per front and per rear rise [m^2/m].
    pub front_per_rise: [f64; 2],
    /// Change of the rear downforce area per front and per rear rise [m^2/m].
    pub rear_per_rise: [f64; 2],
    /// Change of the drag area per front and per rear rise [m^2/m].
    pub drag_per_rise: [f64; 2],
    /// Least and greatest front rise for which this holds [m].
    pub front_range: [f64; 2],
    /// Least and greatest rear rise for which this holds [m].
    pub rear_range: [f64; 2],
}

/// Areas found at one attitude, by tunnel, coast-down or computation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AeroRow {
    /// Rise of the body at the front and the rear axle [m].
    pub rise: [f64; 2],
    /// Downforce area at the front axle [m^2].
    pub front: f64,
    /// Downforce area at the rear axle [m^2].
    pub rear: f64,
    /// Drag area [m^2].
    pub drag: f64,
}

/// Greatest speed of any formula here [m/s]: beyond it the air is compressible, and a unit was mistaken.
pub const FASTEST: f64 = 150.0;

impl Aero {
    /// No air at all.
    pub const NONE: Self =
        Self { density: 0.0, drag_area: 0.0, drag_height: 0.0, front_area: 0.0, rear_area: 0.0 };

    /// `q S C` with `q = density v^2 / 2`.
    #[inline]
    pub fn forces(&self, speed: f64) -> AirForces {
        let q = 0.5 * self.density * speed * speed;
        AirForces {
            drag: q * self.drag_area,
            drag_height: self.drag_height,
            front: q * self.front_area,
            rear: q * self.rear_area,
        }
    }

    /// # Errors
    /// A figure that no car has.
    pub fn check(&self) -> Result<(), VehicleError> {
        within("air density", self.density, 0.0, 2.0)?;
        not_negative("drag area", self.drag_area)?;
        within("drag height", self.drag_height, -1.0, 5.0)?;
        finite("front downforce area", self.front_area)?;
        finite("rear downforce area", self.rear_area)?;
        Ok(())
    }
}

/// Share of the greatest rises' square below which a direction of rise was not varied: it gets no slope (own).
const VARIED: f64 = 1e-9;

/// Greatest change of an area per rise [m^2/m]: a car that loses a square metre in a millimetre was given in other
/// units (own).
const STEEPEST: f64 = 1e3;

impl AeroMap {
    /// Slopes by least squares from areas at other attitudes, through the areas at rest. The range is that of the
    /// rows' rises with ride height itself. Rises that the rows never varied apart (only both alike, or only one) get
    /// the smallest slopes that fit (pseudo-inverse).
    ///
    /// # Errors
    /// A figure that no car has.
    pub fn fit(at_rest: Aero, rows: &[AeroRow]) -> Result<Self, VehicleError> {
        let mut normal = Matrix2::zeros();
        let mut right = [Vector2::zeros(); 3];
        let (mut front_range, mut rear_range) = ([0.0f64; 2], [0.0f64; 2]);
        for row in rows {
            for (range, rise) in [&mut front_range, &mut rear_range].into_iter().zip(row.rise) {
                within("rise of a row of air figures", rise, -1.0, 1.0)?;
                *range = [range[0].min(rise), range[1].max(rise)];
            }
            let rise = Vector2::from(row.rise);
            normal += rise * rise.transpose();
            let areas =
                [row.front - at_rest.front_area, row.rear - at_rest.rear_area, row.drag - at_rest.drag_area];
            for (sum, area) in right.iter_mut().zip(areas) {
                *sum += rise * finite("area of a row of air figures", area)?;
            }
        }
        let inverse = normal.pseudo_inverse(VARIED * normal.trace()).unwrap_or_else(|_| Matrix2::zeros());
        let [front, rear, drag] = right.map(|r| (inverse * r).into());
        let map = Self {
            at_rest,
            front_per_rise: front,
            rear_per_rise: rear,
            drag_per_rise: drag,
            front_range,
            rear_range,
        };
        map.check()?;
        Ok(map)
    }

    /// Forces at a speed [m/s] and at the body's rise at the front and rear axle [m].
    #[inline]
    pub fn forces(&self, speed: f64, rise: [f64; 2]) -> AirForces {
        let held = |r: f64, range: [f64; 2]| r.max(range[0]).min(range[1]);
        let (f, r) = (held(rise[0], self.front_range), held(rise[1], self.rear_range));
        let more = |slopes: [f64; 2]| slopes[0] * f + slopes[1] * r;
        let rest = &self.at_rest;
        Aero {
            // No attitude makes a car push itself.
            drag_area: (rest.drag_area + more(self.drag_per_rise)).max(0.0),
            front_area: rest.front_area + more(self.front_per_rise),
            rear_area: rest.rear_area + more(self.rear_per_rise),
            ..*rest
        }
        .forces(speed)
    }

    /// Whether the rise at the front and the rear axle is beyond the range: the figures there are those of its edge.
    pub fn outside(&self, rise: [f64; 2]) -> [bool; 2] {
        let beyond = |r: f64, [lo, hi]: [f64; 2]| !(lo <= r && r <= hi);
        [beyond(rise[0], self.front_range), beyond(rise[1], self.rear_range)]
    }

    /// # Errors
    /// A figure that no car has; a range without ride height in it.
    pub fn check(&self) -> Result<(), VehicleError> {
        self.at_rest.check()?;
        for slope in self.front_per_rise.into_iter().chain(self.rear_per_rise).chain(self.drag_per_rise) {
            within("change of an air area per rise", slope, -STEEPEST, STEEPEST)?;
        }
        for [lo, hi] in [self.front_range, self.rear_range] {
            // Infinite is allowed: areas that do not change hold everywhere.
            if lo.is_nan() || lo > 0.0 {
                return Err(VehicleError::OutOfRange {
                    name: "least rise of the air figures",
                    value: lo,
                    least: f64::NEG_INFINITY,
                    most: 0.0,
                });
            }
            if hi.is_nan() || hi < 0.0 {
                return Err(VehicleError::OutOfRange {
                    name: "greatest rise of the air figures",
                    value: hi,
                    least: 0.0,
                    most: f64::INFINITY,
                });
            }
        }
        Ok(())
    }
}

impl From<Aero> for AeroMap {
    /// Areas that do not change with attitude.
    fn from(at_rest: Aero) -> Self {
        let everywhere = [f64::NEG_INFINITY, f64::INFINITY];
        Self {
            at_rest,
            front_per_rise: [0.0; 2],
            rear_per_rise: [0.0; 2],
            drag_per_rise: [0.0; 2],
            front_range: everywhere,
            rear_range: everywhere,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rest() -> Aero {
        Aero { density: 1.2, drag_area: 0.7, drag_height: 0.5, front_area: 0.3, rear_area: 0.8 }
    }

    /// Rows made by known slopes give them back (own); one direction alone gives its slope and no other.
    #[test]
    fn slopes_come_back_from_rows() {
        let known = AeroMap {
            front_per_rise: [-4.0, 1.0],
            rear_per_rise: [0.5, -2.0],
            drag_per_rise: [0.2, 0.7],
            front_range: [-0.03, 0.02],
            rear_range: [-0.01, 0.04],
            ..rest().into()
        };
        let row = |rise: [f64; 2]| {
            let f = known.forces(1.0, rise);
            AeroRow { rise, front: f.front / 0.6, rear: f.rear / 0.6, drag: f.drag / 0.6 }
        };
        let rows = [row([-0.03, 0.04]), row([0.02, 0.01]), row([-0.01, -0.01])];
        let found = AeroMap::fit(rest(), &rows).unwrap();
        for (a, b) in [
            (found.front_per_rise, known.front_per_rise),
            (found.rear_per_rise, known.rear_per_rise),
            (found.drag_per_rise, known.drag_per_rise),
            (found.front_range, known.front_range),
            (found.rear_range, known.rear_range),
        ] {
            assert!((a[0] - b[0]).abs() < 1e-9 && (a[1] - b[1]).abs() < 1e-9, "{a:?} {b:?}");
        }
        let alone = AeroMap::fit(rest(), &[row([-0.02, 0.0]), row([0.02, 0.0])]).unwrap();
        assert!((alone.front_per_rise[0] + 4.0).abs() < 1e-9 && alone.front_per_rise[1].abs() < 1e-12);
        assert_eq!(AeroMap::fit(rest(), &[]).unwrap().forces(50.0, [0.1, -0.1]), rest().forces(50.0));
    }

    #[test]
    fn beyond_the_range_the_edge_holds_and_is_told() {
        let map = AeroMap {
            front_per_rise: [-4.0, 1.0],
            front_range: [-0.03, 0.02],
            rear_range: [-0.01, 0.04],
            ..rest().into()
        };
        assert_eq!(map.forces(40.0, [-0.5, 0.3]), map.forces(40.0, [-0.03, 0.04]));
        assert_eq!(map.outside([-0.031, 0.0]), [true, false]);
        assert_eq!(map.outside([f64::NAN, 0.05]), [true, true]);
        assert_eq!(AeroMap::from(rest()).outside([9.0, -9.0]), [false, false]);
        let refused = |m: AeroMap| m.check().is_err();
        assert!(refused(AeroMap { front_range: [0.01, 0.02], ..map }));
        assert!(refused(AeroMap { rear_range: [-0.01, f64::NAN], ..map }));
        assert!(refused(AeroMap { drag_per_rise: [1e6, 0.0], ..map }));
        assert!(
            AeroMap::fit(rest(), &[AeroRow { rise: [40.0, 0.0], front: 0.3, rear: 0.8, drag: 0.7 }]).is_err()
        );
    }

    /// Drag of a car of 2.6 m^2 and coefficient 0.30 at 120 km/h in air of 1.2 kg/m^3: inputs of a question of an
    /// Indian engineering entrance examination (read; its answer in horsepower only remembered), 520.0 N and 17 333 W
    /// worked out independently.
    #[test]
    fn drag_of_an_examination_question() {
        let aero = Aero { density: 1.2, drag_area: 2.6 * 0.30, ..Aero::NONE };
        let v = 120.0 / 3.6;
        let drag = aero.forces(v).drag;
        assert!((drag - 520.0).abs() < 1e-9);
        assert!((drag * v - 17_333.333).abs() < 1e-3);
    }
}
