//! A drawing as a wireframe in STEP: ISO 10303-21 (the clear text), with the entities of AP214
//! (`AUTOMOTIVE_DESIGN`, ISO 10303-214), as a `GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION` in millimetres.
//!
//! Points, lines, polylines, circles and arcs carry their names, and layers are layers; a wireframe has no words, so
//! that texts stay out. Entities and attributes remembered; what is written is read back by an independent
//! geometry kernel in `reference/exchange_check.py`.

mod text;

use std::fmt::Write as _;

use crate::drawing::{Drawing, Item, Shape, cross, decimal, plane, unit};
use crate::error::ExchangeError;
use text::quoted;

/// Decimals of a coordinate \[mm\].
const DECIMALS: usize = 9;

/// Decimals of the parts of a direction.
const DIRECTION_DECIMALS: usize = 16;

/// What the file says of itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StepHead {
    /// What is drawn.
    pub title: String,
    /// When, as ISO 8601 writes it, such as `2026-11-26T10:30:00`; may be empty. The caller has the clock.
    pub written: String,
    /// Who made it; may be empty.
    pub author: String,
}

/// The drawing as the text of a STEP file.
///
/// # Errors
/// As [`Drawing::check`]; a drawing that holds nothing but texts.
pub fn step(drawing: &Drawing, head: &StepHead) -> Result<String, ExchangeError> {
    drawing.check()?;
    let mut data = Data::default();
    let context = context(&mut data, &head.title);
    let mut curves = Vec::new();
    let mut layers: Vec<(&str, Vec<usize>)> =
        drawing.layers().iter().map(|layer| (layer.name(), Vec::new())).collect();
    for item in &drawing.items {
        let Some(curve) = curve(&mut data, item) else { continue };
        curves.push(curve);
        if let Some((_, of)) = layers.iter_mut().find(|(name, _)| *name == item.layer.name()) {
            of.push(curve);
        }
    }
    if curves.is_empty() {
        return Err(ExchangeError::Nothing);
    }
    let title = quoted(&head.title);
    let set = data.add(&format!("GEOMETRIC_CURVE_SET({title},{})", list(&curves)));
    let axes = data.axes([0.0; 3], [0.0, 0.0, 1.0]);
    let shape = data.add(&format!(
        "GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION({title},(#{axes},#{set}),#{})",
        context.space
    ));
    data.add(&format!("SHAPE_DEFINITION_REPRESENTATION(#{},#{shape})", context.shape));
    for (name, of) in layers.iter().filter(|(_, of)| !of.is_empty()) {
        data.add(&format!("PRESENTATION_LAYER_ASSIGNMENT({},'',{})", quoted(name), list(of)));
    }
    Ok(format!(
        "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({title}),'2;1');\nFILE_NAME({title},{},({}),(''),'','','');\n\
         FILE_SCHEMA(('AUTOMOTIVE_DESIGN {{ 1 0 10303 214 1 1 1 1 }}'));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
        quoted(&head.written),
        quoted(&head.author),
        data.text
    ))
}

/// The instances so far.
#[derive(Debug, Default)]
struct Data {
    text: String,
    count: usize,
}

impl Data {
    /// Adds an instance; gives its number.
    fn add(&mut self, instance: &str) -> usize {
        self.count += 1;
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "#{}={instance};", self.count);
        self.count
    }

    fn point(&mut self, name: &str, p: [f64; 3]) -> usize {
        let instance = format!("CARTESIAN_POINT({},{})", quoted(name), numbers(p, DECIMALS));
        self.add(&instance)
    }

    fn direction(&mut self, d: [f64; 3]) -> usize {
        self.add(&format!("DIRECTION('',{})", numbers(d, DIRECTION_DECIMALS)))
    }

    /// Axes with their z along a unit vector.
    fn axes(&mut self, at: [f64; 3], normal: [f64; 3]) -> usize {
        let [x, _] = plane(normal);
        let (at, z, x) = (self.point("", at), self.direction(normal), self.direction(x));
        self.add(&format!("AXIS2_PLACEMENT_3D('',#{at},#{z},#{x})"))
    }
}

fn numbers(values: [f64; 3], decimals: usize) -> String {
    let [x, y, z] = values.map(|v| decimal(v, decimals));
    format!("({x},{y},{z})")
}

fn list(of: &[usize]) -> String {
    let all: Vec<String> = of.iter().map(|number| format!("#{number}")).collect();
    format!("({})", all.join(","))
}

/// What every shape needs around it.
struct Context {
    /// The space and its units.
    space: usize,
    /// What the shape is the shape of.
    shape: usize,
}

fn context(data: &mut Data, title: &str) -> Context {
    let title = quoted(title);
    let application = data.add("APPLICATION_CONTEXT('core data for automotive mechanical design processes')");
    data.add(&format!(
        "APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',2000,#{application})"
    ));
    let mechanical = data.add(&format!("PRODUCT_CONTEXT('',#{application},'mechanical')"));
    let product = data.add(&format!("PRODUCT({title},{title},'',(#{mechanical}))"));
    data.add(&format!("PRODUCT_RELATED_PRODUCT_CATEGORY('part',$,(#{product}))"));
    let formation = data.add(&format!("PRODUCT_DEFINITION_FORMATION('','',#{product})"));
    let design = data.add(&format!("PRODUCT_DEFINITION_CONTEXT('part definition',#{application},'design')"));
    let definition = data.add(&format!("PRODUCT_DEFINITION('design','',#{formation},#{design})"));
    let shape = data.add(&format!("PRODUCT_DEFINITION_SHAPE('','',#{definition})"));
    let length = data.add("(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))");
    let angle = data.add("(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.))");
    let solid = data.add("(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT())");
    let near = data.add(&format!(
        "UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-06),#{length},'distance_accuracy_value','')"
    ));
    let space = data.add(&format!(
        "(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#{near}))\
         GLOBAL_UNIT_ASSIGNED_CONTEXT((#{length},#{angle},#{solid}))REPRESENTATION_CONTEXT('',''))"
    ));
    Context { space, shape }
}

/// A shape's point or curve; `None` for words.
fn curve(data: &mut Data, item: &Item) -> Option<usize> {
    let name = quoted(&item.name);
    Some(match &item.shape {
        Shape::Point { at } => data.point(&item.name, *at),
        Shape::Line { from, to } => {
            let along = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
            let length = along[0].hypot(along[1]).hypot(along[2]);
            let start = data.point("", *from);
            let direction = data.direction(unit(along)?);
            let vector = data.add(&format!("VECTOR('',#{direction},1.0)"));
            let line = data.add(&format!("LINE('',#{start},#{vector})"));
            let end = data.point("", *to);
            trimmed(data, &name, line, [(start, 0.0), (end, length)])
        }
        Shape::Polyline { points, closed } => {
            let mut all: Vec<usize> = points.iter().map(|p| data.point("", *p)).collect();
            if *closed {
                all.extend(all.first().copied());
            }
            data.add(&format!("POLYLINE({name},{})", list(&all)))
        }
        Shape::Circle { centre, normal, radius } => {
            let axes = data.axes(*centre, unit(*normal)?);
            data.add(&format!("CIRCLE({name},#{axes},{})", decimal(*radius, DECIMALS)))
        }
        Shape::Arc { centre, radius, from_deg, to_deg } => {
            let up = [0.0, 0.0, 1.0];
            let axes = data.axes(*centre, up);
            let circle = data.add(&format!("CIRCLE('',#{axes},{})", decimal(*radius, DECIMALS)));
            // Angles count from the plane's own x, which need not be the drawing's.
            let [own, _] = plane(up);
            let turned = cross([1.0, 0.0, 0.0], own)[2].atan2(own[0]);
            let ends = [*from_deg, *to_deg].map(|degrees| {
                let angle = degrees.to_radians();
                let place = [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin(), centre[2]];
                (data.point("", place), (angle - turned).rem_euclid(std::f64::consts::TAU))
            });
            trimmed(data, &name, circle, ends)
        }
        Shape::Text { .. } => return None,
    })
}

/// Part of a curve between two points and their parameters. The parameter is what counts: it is exact on the curve.
fn trimmed(data: &mut Data, name: &str, basis: usize, ends: [(usize, f64); 2]) -> usize {
    let [from, to] = ends.map(|(point, at)| format!("(#{point},PARAMETER_VALUE({}))", decimal(at, 12)));
    data.add(&format!("TRIMMED_CURVE({name},#{basis},{from},{to},.T.,.PARAMETER.)"))
}

#[cfg(test)]
mod tests;
