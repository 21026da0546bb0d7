//! A Magic Formula set in the published 2002-style names.

use super::magic;
use crate::error::{VehicleError, finite, positive, within};

/// In which sense the set was fitted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum SlipConvention {
    /// ISO: positive slip angle gives negative side force (`PKY1` negative with `PDY1` positive).
    #[default]
    Iso,
    /// Slip angle of the opposite sign (`PKY1` positive), all else as ISO.
    ReversedSlip,
    /// The book's axes: y right, z down, slip angle `-atan(v_y/v_x)` there. Side force and moment are reversed.
    BookAxes,
}

macro_rules! parameters {
    ($($group:literal: $($name:ident = $start:expr),+;)+) => {
        /// The set. A parameter that is not given is zero, a scale factor one. Lower case of the published name.
        #[derive(Clone, Debug, PartialEq)]
        pub struct Parameters {
            /// Sense of the set.
            pub convention: SlipConvention,
            $($(#[doc = concat!("`", stringify!($name), "`: ", $group, ".")] pub $name: f64,)+)+
        }

        impl Default for Parameters {
            fn default() -> Self {
                Self { convention: SlipConvention::Iso, $($($name: $start,)+)+ }
            }
        }

        impl Parameters {
            /// The names, in the order of the published tables, lower case.
            pub const NAMES: &'static [&'static str] = &[$($(stringify!($name),)+)+];

            /// Sets a parameter by its published name, in any case.
            ///
            /// # Errors
            /// An unknown name, or a value that is not usable.
            pub fn set(&mut self, name: &str, value: f64) -> Result<(), VehicleError> {
                match name.to_ascii_lowercase().as_str() {
                    $($(stringify!($name) => self.$name = finite(stringify!($name), value)?,)+)+
                    _ => return Err(VehicleError::UnknownParameter { name: name.into() }),
                }
                Ok(())
            }

            /// The value of a parameter.
            pub fn get(&self, name: &str) -> Option<f64> {
                $($(if name.eq_ignore_ascii_case(stringify!($name)) {
                    return Some(self.$name);
                })+)+
                None
            }

            fn all_usable(&self) -> Result<(), VehicleError> {
                $($(finite(stringify!($name), self.$name)?;)+)+
                Ok(())
            }
        }
    };
}

parameters! {
    "nominal load [N], unloaded radius [m]": fnomin = 0.0, unloaded_radius = 0.0;
    "vertical rate [N/m]": vertical_stiffness = 0.0;
    "range of load [N]": fzmin = 0.0, fzmax = 0.0;
    "range of slip [-]": kpumin = -1.0, kpumax = 1.0;
    "range of slip angle [rad]": alpmin = -1.5, alpmax = 1.5;
    "range of inclination [rad]": cammin = -0.2618, cammax = 0.2618;
    "scale factor": lfzo = 1.0, lcx = 1.0, lmux = 1.0, lex = 1.0, lkx = 1.0, lhx = 1.0, lvx = 1.0, lgax = 1.0,
        lcy = 1.0, lmuy = 1.0, ley = 1.0, lky = 1.0, lhy = 1.0, lvy = 1.0, lgay = 1.0, ltr = 1.0, lres = 1.0,
        lgaz = 1.0, lxal = 1.0, lyka = 1.0, lvyka = 1.0, ls = 1.0, lsgkp = 1.0, lsgal = 1.0;
    "pure longitudinal": pcx1 = 0.0, pdx1 = 0.0, pdx2 = 0.0, pdx3 = 0.0, pex1 = 0.0, pex2 = 0.0, pex3 = 0.0,
        pex4 = 0.0, pkx1 = 0.0, pkx2 = 0.0, pkx3 = 0.0, phx1 = 0.0, phx2 = 0.0, pvx1 = 0.0, pvx2 = 0.0;
    "longitudinal under slip angle": rbx1 = 0.0, rbx2 = 0.0, rcx1 = 0.0, rex1 = 0.0, rex2 = 0.0, rhx1 = 0.0;
    "relaxation along": ptx1 = 0.0, ptx2 = 0.0, ptx3 = 0.0;
    "pure lateral": pcy1 = 0.0, pdy1 = 0.0, pdy2 = 0.0, pdy3 = 0.0, pey1 = 0.0, pey2 = 0.0, pey3 = 0.0, pey4 = 0.0,
        pky1 = 0.0, pky2 = 0.0, pky3 = 0.0, phy1 = 0.0, phy2 = 0.0, phy3 = 0.0, pvy1 = 0.0, pvy2 = 0.0, pvy3 = 0.0,
        pvy4 = 0.0;
    "lateral under slip": rby1 = 0.0, rby2 = 0.0, rby3 = 0.0, rcy1 = 0.0, rey1 = 0.0, rey2 = 0.0, rhy1 = 0.0,
        rhy2 = 0.0, rvy1 = 0.0, rvy2 = 0.0, rvy3 = 0.0, rvy4 = 0.0, rvy5 = 0.0, rvy6 = 0.0;
    "relaxation across": pty1 = 0.0, pty2 = 0.0;
    "aligning moment": qbz1 = 0.0, qbz2 = 0.0, qbz3 = 0.0, qbz4 = 0.0, qbz5 = 0.0, qbz9 = 0.0, qbz10 = 0.0,
        qcz1 = 0.0, qdz1 = 0.0, qdz2 = 0.0, qdz3 = 0.0, qdz4 = 0.0, qdz6 = 0.0, qdz7 = 0.0, qdz8 = 0.0, qdz9 = 0.0,
        qez1 = 0.0, qez2 = 0.0, qez3 = 0.0, qez4 = 0.0, qez5 = 0.0, qhz1 = 0.0, qhz2 = 0.0, qhz3 = 0.0, qhz4 = 0.0;
    "arm of the longitudinal force": ssz1 = 0.0, ssz2 = 0.0, ssz3 = 0.0, ssz4 = 0.0;
}

impl Parameters {
    /// Whether the set has an aligning moment.
    pub fn has_moment(&self) -> bool {
        self.qdz1 != 0.0 && self.qcz1 != 0.0
    }

    /// # Errors
    /// No load range; figures that no tyre has; a set whose side force acts with the slip.
    pub fn check(&self) -> Result<(), VehicleError> {
        self.all_usable()?;
        positive("FNOMIN", self.fnomin)?;
        positive("LFZO", self.lfzo)?;
        if self.fzmin < 0.0 || self.fzmax <= self.fzmin {
            return Err(VehicleError::NoLoadRange);
        }
        // C = 0 or D = 0 would divide by zero in B; a shape factor above 2 turns the force round before the peak.
        within("PCX1", self.pcx1, 0.1, 3.0)?;
        within("PCY1", self.pcy1.abs(), 0.1, 3.0)?;
        positive("PDX1", self.pdx1)?;
        within("PDY1", self.pdy1.abs(), 0.01, 5.0)?;
        positive("PKX1", self.pkx1)?;
        within("PKY1", self.pky1.abs(), 0.01, 1000.0)?;
        positive("PKY2", self.pky2)?;
        if magic::raw_stiffness(self) > 0.0 { Ok(()) } else { Err(VehicleError::WrongSlipSign) }
    }
}
