//! A linkage: bodies, inputs, joints and drives, built in its design place.

use std::ops::Range;

use nalgebra::Vector3;

use crate::error::BuildError;
use crate::frame::Frame;
use crate::pose::Acceleration;
use crate::row::Row;
use crate::scalar::{Real, constant, norm, perpendiculars};
use crate::state::{End, Frames, Motion, Position};

/// Largest coordinate accepted [m]. Beyond it a square root of rounding error is no longer small against the
/// tolerances of the position solver; no car is that long.
pub const LARGEST_COORDINATE: f64 = 1e3;

/// Two points closer than this [m] coincide: a rod of that length has no direction.
pub const LEAST_LENGTH: f64 = 1e-6;

/// A joint and the equations it contributes.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// Name shown to people.
    pub name: String,
    /// Its equations among [`Linkage::rows`].
    pub rows: Range<usize>,
}

/// Rigid bodies, what joins them and what drives them.
///
/// Built in the design place, where every joint is satisfied by construction: lengths and angles are taken
/// from the points given. Bodies are massless; the ground does not move.
#[derive(Clone, Debug, PartialEq)]
pub struct Linkage<T> {
    frames: Frames<T>,
    body_names: Vec<String>,
    inputs: usize,
    rows: Vec<Row<T>>,
    joints: Vec<Joint>,
    drives: usize,
}

impl<T: Real> Default for Linkage<T> {
    fn default() -> Self {
        Self {
            frames: Frames { origins: Vec::new(), carriages: Vec::new() },
            body_names: Vec::new(),
            inputs: 0,
            rows: Vec::new(),
            joints: Vec::new(),
            drives: 0,
        }
    }
}

impl<T: Real> Linkage<T> {
    /// An empty linkage.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a moving body with a reference point near its middle [m].
    pub fn add_body(&mut self, name: impl Into<String>, origin: Vector3<f64>) -> Frame {
        self.frames.origins.push(if usable(&origin) { origin } else { Vector3::zeros() });
        self.body_names.push(name.into());
        Frame::Body(self.body_names.len() - 1)
    }

    /// Adds an input, zero in the design place, and returns its index.
    pub fn add_input(&mut self) -> usize {
        self.inputs += 1;
        self.inputs - 1
    }

    /// Adds a carriage that slides along a unit direction by an input [m].
    pub fn add_carriage(&mut self, direction: Vector3<T>, input: usize) -> Frame {
        self.frames.carriages.push((direction, input));
        Frame::Carriage(self.frames.carriages.len() - 1)
    }

    /// A rod between two points: keeps their distance.
    ///
    /// # Errors
    /// If the points coincide, are not finite or move with the same body.
    pub fn rod(&mut self, name: &str, a: End<T>, b: End<T>) -> Result<(), BuildError> {
        self.check(name, a.frame, b.frame, &[a.at, b.at])?;
        let length = norm(&(a.at - b.at));
        if length.re() < LEAST_LENGTH {
            return Err(BuildError::Coincident { joint: name.into() });
        }
        self.push(name, [Row::Distance { a, b, length }]);
        Ok(())
    }

    /// A ball joint at a point of the design place.
    ///
    /// # Errors
    /// If the point is not finite or both frames are the same.
    pub fn ball(&mut self, name: &str, a: Frame, b: Frame, at: Vector3<T>) -> Result<(), BuildError> {
        self.check(name, a, b, &[at])?;
        self.push(name, Self::ball_rows(a, b, at));
        Ok(())
    }

    /// A hinge about the line through two points of the design place.
    ///
    /// # Errors
    /// If the points coincide or are not finite, or both frames are the same.
    pub fn hinge(
        &mut self,
        name: &str,
        a: Frame,
        b: Frame,
        from: Vector3<T>,
        to: Vector3<T>,
    ) -> Result<(), BuildError> {
        self.check(name, a, b, &[from, to])?;
        let axis = self.unit(name, &(to - from))?;
        let (first, second) = perpendiculars(&axis);
        let rest = constant(0.0);
        let [x, y, z] = Self::ball_rows(a, b, (from + to) * constant::<T>(0.5));
        let angle = |along_a| Row::Angle { a, along_a, b, along_b: axis, rest };
        self.push(name, [x, y, z, angle(first), angle(second)]);
        Ok(())
    }

    /// Holds a point on a line carried by another frame; the line passes through the point in the design place.
    ///
    /// # Errors
    /// If the direction has no length, a number is not finite, or both frames are the same.
    pub fn point_on_line(
        &mut self,
        name: &str,
        line: Frame,
        along: Vector3<T>,
        point: End<T>,
    ) -> Result<(), BuildError> {
        self.check(name, line, point.frame, &[point.at, along])?;
        let axis = self.unit(name, &along)?;
        let (first, second) = perpendiculars(&axis);
        let from = End { frame: line, at: point.at };
        let row =
            |normal| Row::Offset { frame: line, normal, from, to: point, rest: constant(0.0), input: None };
        self.push(name, [row(first), row(second)]);
        Ok(())
    }

    /// Holds a point in a plane carried by another frame; the plane passes through the point in the design
    /// place.
    ///
    /// # Errors
    /// If the normal has no length, a number is not finite, or both frames are the same.
    pub fn point_in_plane(
        &mut self,
        name: &str,
        plane: Frame,
        normal: Vector3<T>,
        point: End<T>,
    ) -> Result<(), BuildError> {
        self.check(name, plane, point.frame, &[point.at, normal])?;
        let normal = self.unit(name, &normal)?;
        let from = End { frame: plane, at: point.at };
        self.push(
            name,
            [Row::Offset { frame: plane, normal, from, to: point, rest: constant(0.0), input: None }],
        );
        Ok(())
    }

    /// Keeps the angle between two directions of the design place.
    ///
    /// # Errors
    /// If a direction has no length or is not finite, or both frames are the same.
    pub fn keep_angle(
        &mut self,
        name: &str,
        a: Frame,
        along_a: Vector3<T>,
        b: Frame,
        along_b: Vector3<T>,
    ) -> Result<(), BuildError> {
        self.check(name, a, b, &[along_a, along_b])?;
        let (along_a, along_b) = (self.unit(name, &along_a)?, self.unit(name, &along_b)?);
        self.push(name, [Row::Angle { a, along_a, b, along_b, rest: along_a.dot(&along_b) }]);
        Ok(())
    }

    /// Drives a point along a fixed unit direction: its displacement from the design place is the input [m].
    /// Drives come after all joints.
    ///
    /// # Errors
    /// If a number is not finite or the point is not carried by a body.
    pub fn drive_point(
        &mut self,
        name: &str,
        point: End<T>,
        direction: Vector3<T>,
        input: usize,
    ) -> Result<(), BuildError> {
        self.check(name, Frame::Ground, point.frame, &[point.at, direction])?;
        let normal = self.unit(name, &direction)?;
        let from = End { frame: Frame::Ground, at: point.at };
        let row = Row::Offset {
            frame: Frame::Ground,
            normal,
            from,
            to: point,
            rest: constant(0.0),
            input: Some(input),
        };
        self.push_drive(name, row);
        Ok(())
    }

    /// Drives a body's turn about a fixed axis [rad], right-handed. The body must be hinged on that axis.
    ///
    /// # Errors
    /// If the axis has no length or the frame is not a body.
    pub fn drive_turn(
        &mut self,
        name: &str,
        body: Frame,
        axis: Vector3<T>,
        input: usize,
    ) -> Result<(), BuildError> {
        self.check(name, Frame::Ground, body, &[axis])?;
        let axis = self.unit(name, &axis)?;
        let (first, second) = perpendiculars(&axis);
        self.push_drive(name, Row::Turn { first, second, body, input });
        Ok(())
    }

    /// Number of moving bodies.
    pub fn bodies(&self) -> usize {
        self.body_names.len()
    }

    /// Name of a body.
    pub fn body_name(&self, body: usize) -> &str {
        self.body_names.get(body).map_or("", String::as_str)
    }

    /// Number of inputs.
    pub fn inputs(&self) -> usize {
        self.inputs
    }

    /// Bodies' origins and carriages.
    pub fn frames(&self) -> &Frames<T> {
        &self.frames
    }

    /// All equations: those of the joints, then those of the drives.
    pub fn rows(&self) -> &[Row<T>] {
        &self.rows
    }

    /// The equations of the joints alone.
    pub fn joint_rows(&self) -> &[Row<T>] {
        &self.rows[..self.rows.len() - self.drives]
    }

    /// Joints, then drives.
    pub fn joints(&self) -> &[Joint] {
        &self.joints
    }

    /// Index of the joint with this name.
    pub fn joint(&self, name: &str) -> Option<usize> {
        self.joints.iter().position(|j| j.name == name)
    }

    /// Length of a rod [m]; `None` if the joint is not one.
    pub fn rod_length(&self, joint: usize) -> Option<T> {
        let row = self.joints.get(joint)?.rows.start;
        match self.rows.get(row)? {
            Row::Distance { length, .. } => Some(*length),
            _ => None,
        }
    }

    /// Changes the length of a rod [m]; the design place then no longer satisfies it. Does nothing and returns
    /// false if the joint is not a rod or the length is not usable.
    pub fn set_rod_length(&mut self, joint: usize, new: T) -> bool {
        let Some(row) = self.joints.get(joint).map(|j| j.rows.start) else { return false };
        match self.rows.get_mut(row) {
            Some(Row::Distance { length, .. })
                if new.re() >= LEAST_LENGTH && new.re() <= LARGEST_COORDINATE =>
            {
                *length = new;
                true
            }
            _ => false,
        }
    }

    /// Residuals of all equations.
    pub fn residuals(&self, q: &Position<T>, out: &mut [T]) {
        for (row, out) in self.rows.iter().zip(out) {
            *out = row.residual(&self.frames, q);
        }
    }

    /// First derivatives of all equations along a motion.
    pub fn rates(&self, q: &Position<T>, m: &Motion<T>, out: &mut [T]) {
        for (row, out) in self.rows.iter().zip(out) {
            *out = row.rate(&self.frames, q, m);
        }
    }

    /// Second derivatives of all equations along a motion.
    pub fn second_rates(&self, q: &Position<T>, m: &Motion<T>, c: &[Acceleration<T>], out: &mut [T]) {
        for (row, out) in self.rows.iter().zip(out) {
            *out = row.second_rate(&self.frames, q, m, c);
        }
    }

    fn ball_rows(a: Frame, b: Frame, at: Vector3<T>) -> [Row<T>; 3] {
        let (o, i) = (constant::<T>(0.0), constant::<T>(1.0));
        [Vector3::new(i, o, o), Vector3::new(o, i, o), Vector3::new(o, o, i)].map(|normal| Row::Offset {
            frame: Frame::Ground,
            normal,
            from: End { frame: a, at },
            to: End { frame: b, at },
            rest: o,
            input: None,
        })
    }

    fn push<const N: usize>(&mut self, name: &str, rows: [Row<T>; N]) {
        // Joints are kept ahead of the drives, whatever the order in which they are added.
        let at = self.rows.len() - self.drives;
        self.rows.splice(at..at, rows);
        let joint = self.joints.len() - self.drives;
        self.joints.insert(joint, Joint { name: name.into(), rows: at..at + N });
        for drive in &mut self.joints[joint + 1..] {
            drive.rows = drive.rows.start + N..drive.rows.end + N;
        }
    }

    fn push_drive(&mut self, name: &str, row: Row<T>) {
        self.rows.push(row);
        self.joints.push(Joint { name: name.into(), rows: self.rows.len() - 1..self.rows.len() });
        self.drives += 1;
    }

    fn unit(&self, name: &str, v: &Vector3<T>) -> Result<Vector3<T>, BuildError> {
        let length = norm(v);
        if length.re() < LEAST_LENGTH {
            Err(BuildError::Coincident { joint: name.into() })
        } else {
            Ok(v / length)
        }
    }

    fn check(&self, name: &str, a: Frame, b: Frame, numbers: &[Vector3<T>]) -> Result<(), BuildError> {
        if !numbers.iter().all(|v| usable(&v.map(|c| c.re()))) {
            return Err(BuildError::NotFinite { joint: name.into() });
        }
        if ![a, b].iter().all(|f| self.has(*f)) {
            return Err(BuildError::UnknownFrame { joint: name.into() });
        }
        let fixed = |f: Frame| !matches!(f, Frame::Body(_));
        if a == b || (fixed(a) && fixed(b)) {
            return Err(BuildError::SameBody { joint: name.into() });
        }
        Ok(())
    }

    /// Whether the linkage has such a body or carriage.
    pub fn has(&self, frame: Frame) -> bool {
        match frame {
            Frame::Ground => true,
            Frame::Body(b) => b < self.body_names.len(),
            Frame::Carriage(c) => self.frames.carriages.get(c).is_some_and(|(_, input)| *input < self.inputs),
        }
    }
}

/// Whether all coordinates are finite and none is absurdly large.
pub fn usable(v: &Vector3<f64>) -> bool {
    v.iter().all(|c| c.is_finite() && c.abs() <= LARGEST_COORDINATE)
}
