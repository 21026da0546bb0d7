//! One axle as a mesh that can be turned about: wheels, links, plates, the ground. Car axes, metres.

mod shapes;

use nalgebra::Vector3;

use crate::scene::{LineKind, Role, Scene, Side, Wheel};
use shapes::Shape;

/// Half thicknesses \[m\]: for the eye only.
const LINK: f64 = 0.011;
const MEMBER: f64 = 0.014;
const THIN: f64 = 0.008;
const SPRING: f64 = 0.032;
const DAMPER: f64 = 0.02;
const PLATE: f64 = 0.003;
const BALL: f64 = 0.015;
const HOLE: f64 = 0.009;
const GROUND: f64 = 0.0015;

/// Distance between the lines of the ground \[m\].
const GRID: f64 = 0.25;

/// Most lines of the ground each way.
const MOST_GRID: usize = 24;

/// A drawing in space.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Its parts.
    pub parts: Vec<Part>,
}

/// A part of one look.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Part {
    /// Name: of the link, the point, the plate.
    pub name: String,
    /// What it is, as the classes of the flat views: `tyre`, `link`, `spring`, `plate`, `ground`, …; with `far` for
    /// the other side and the other axle.
    pub class: &'static str,
    /// Corners \[m\], car axes.
    pub vertices: Vec<[f32; 3]>,
    /// Triangles, counter-clockwise seen from outside.
    pub triangles: Vec<[u16; 3]>,
}

impl Mesh {
    /// Number of triangles of all parts.
    pub fn triangles(&self) -> usize {
        self.parts.iter().map(|p| p.triangles.len()).sum()
    }

    fn push(&mut self, name: &str, class: &'static str, shape: Shape) {
        if !shape.triangles.is_empty() {
            let Shape { vertices, triangles } = shape;
            self.parts.push(Part { name: name.to_string(), class, vertices, triangles });
        }
    }
}

/// The mesh of a scene.
pub fn mesh(scene: &Scene) -> Mesh {
    let mut mesh = Mesh::default();
    mesh.push("left wheel", "tyre", tyre(&scene.left.wheel, 40));
    mesh.push("right wheel", "tyre far", tyre(&scene.right.wheel, 24));
    for (wheel, name) in
        scene.far.iter().flat_map(|f| f.wheels.iter().zip(["far left wheel", "far right wheel"]))
    {
        mesh.push(name, "tyre far", tyre(wheel, 24));
    }
    for line in &scene.lines {
        if let Some((a, b)) = scene.ends(line, &scene.left) {
            mesh.push(&line.name, line.kind.class(), tube(line.kind, &a, &b, 8));
        }
    }
    mesh.push("right corner", "other-side", other_side(scene, &scene.right));
    for (point, at) in scene.points.iter().zip(&scene.left.at) {
        let class = if point.role == Role::Body { "mark body" } else { "mark" };
        let mut ball = Shape::default();
        ball.ball(at, BALL);
        mesh.push(&point.key, class, ball);
    }
    for hole in &scene.holes {
        let mut ball = Shape::default();
        ball.ball(&hole.at, HOLE);
        mesh.push(&hole.name, if hole.in_use { "hole used" } else { "hole" }, ball);
        if mesh.triangles() > MOST_BEFORE_GROUND {
            break;
        }
    }
    for plate in &scene.plates {
        let mut slab = Shape::default();
        slab.slab(&plate.outline, PLATE);
        mesh.push(&plate.name, "plate", slab);
    }
    mesh.push("ground", "ground", ground(scene));
    mesh
}

/// Holes beyond this many triangles are left out: the mesh stays light on a telephone.
const MOST_BEFORE_GROUND: usize = 5000;

fn tyre(wheel: &Wheel, segments: usize) -> Shape {
    let mut shape = Shape::default();
    let inner = wheel.rim.unwrap_or(wheel.radius * 0.62).min(wheel.radius * 0.92);
    shape.ring(&wheel.centre, &wheel.spin, wheel.radius, inner, wheel.width, segments);
    shape.tube(
        &(wheel.centre - wheel.spin * (wheel.width * 0.2)),
        &(wheel.centre + wheel.spin * (wheel.width * 0.1)),
        inner * 0.25,
        16,
    );
    shape
}

fn tube(kind: LineKind, a: &Vector3<f64>, b: &Vector3<f64>, sides: usize) -> Shape {
    let thick = match kind {
        LineKind::Link => LINK,
        LineKind::Strut => DAMPER,
        LineKind::Member => MEMBER,
        LineKind::Hinge | LineKind::BarLink => THIN,
        LineKind::Spring | LineKind::Damper => THIN,
    };
    let mut shape = Shape::default();
    match kind {
        LineKind::Spring => shape.coil(a, b, SPRING, THIN * 0.6),
        LineKind::Damper => {
            let middle = a + (b - a) * 0.42;
            shape.tube(a, &middle, thick, sides);
            shape.tube(&middle, b, DAMPER, sides);
        }
        _ => shape.tube(a, b, thick, sides),
    }
    shape
}

fn other_side(scene: &Scene, side: &Side) -> Shape {
    let mut shape = Shape::default();
    for line in scene.lines.iter().filter(|l| l.kind != LineKind::Spring) {
        if let Some((a, b)) = scene.ends(line, side) {
            shape.tube(&a, &b, if line.kind == LineKind::Link { LINK } else { THIN }, 5);
        }
    }
    shape
}

/// Lines on the road under the car, thin boxes so that they are seen from any side. The road leans in roll.
fn ground(scene: &Scene) -> Shape {
    let (left, right) = (scene.left.contact, scene.right.contact);
    let slope = (right.z - left.z) / (right.y - left.y);
    let height = |y: f64| left.z + if slope.is_finite() { (y - left.y) * slope } else { 0.0 };
    let ahead = scene.far.as_ref().map_or(left.x, |f| f.wheels[0].centre.x);
    let snap = |v: f64| (v / GRID).round() * GRID;
    let (x0, x1) = (snap(left.x.min(ahead) - 0.6), snap(left.x.max(ahead) + 0.6));
    let wide = snap(left.y.abs().max(right.y.abs()) + 0.5);
    let mut shape = Shape::default();
    let lines = |from: f64, to: f64| {
        let count = ((to - from) / GRID).round().clamp(0.0, MOST_GRID as f64);
        (0..=count as usize).map(move |i| from + GRID * i as f64)
    };
    for x in lines(x0, x1) {
        let at = |y: f64| Vector3::new(x, y, height(y) - GROUND);
        shape.tube(&at(-wide), &at(wide), GROUND, 3);
    }
    for y in lines(-wide, wide) {
        let at = |x: f64| Vector3::new(x, y, height(y) - GROUND);
        shape.tube(&at(x0), &at(x1), GROUND, 3);
    }
    shape
}
