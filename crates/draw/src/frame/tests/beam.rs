//! A frame such as a fabricator welds, with made-up forces and give.

use nalgebra::Vector3;

use super::super::{FrameLoad, FrameSpec, FrameTube, FrameView, ScaleUnit, magnification};

pub(super) fn at(x: f64, y: f64, z: f64) -> Vector3<f64> {
    Vector3::new(x, y, z)
}

/// A field of give like that of a beam held at both sides that sags and leans.
pub(super) fn give(p: &Vector3<f64>) -> Vector3<f64> {
    let out = (p.x + 1.95).abs();
    at(4e-4 * (p.z - 0.3), 1.2e-3 * out * p.z, -1.5e-3 * out * (1.2 + 1.4 * p.y) * (1.3 - 2.0 * p.y * p.y))
}

pub(super) fn tube(name: &str, a: Vector3<f64>, b: Vector3<f64>, uses: f64) -> FrameTube {
    let rest: Vec<_> = (0..=6).map(|i| a + (b - a) * (f64::from(i) / 6.0)).collect();
    let moved = rest.iter().map(give).collect();
    FrameTube { name: name.into(), rest, moved, uses }
}

pub(super) fn spec(tubes: Vec<FrameTube>) -> FrameSpec {
    FrameSpec {
        title: "Rear frame <1> & more".into(),
        words: "cornering to the left, 1.2 g".into(),
        magnification: magnification(&tubes),
        tubes,
        nodes: Vec::new(),
        feet: Vec::new(),
        loads: Vec::new(),
        from: FrameView::Corner,
        width: 900.0,
        height: 520.0,
        length_unit: ScaleUnit { symbol: "mm".into(), metres: 1e-3 },
    }
}

/// A box beam across the car between two side boxes, braced: 20 tubes.
pub(super) fn beam() -> FrameSpec {
    let mut tubes = Vec::new();
    let corner = |y: f64, front: bool, top: bool| {
        at(if front { -2.25 } else { -2.55 }, y, if top { 0.42 } else { 0.16 })
    };
    let mut uses = [0.31, 0.62, 0.18, 0.88, 0.47, 0.09, 0.55, 1.12, 0.71, 0.26, 0.4].into_iter().cycle();
    for (front, top, name) in [
        (true, true, "front upper"),
        (true, false, "front lower"),
        (false, true, "rear upper"),
        (false, false, "rear lower"),
    ] {
        tubes.push(tube(
            &format!("{name} rail"),
            corner(0.36, front, top),
            corner(-0.36, front, top),
            uses.next().unwrap(),
        ));
    }
    let pairs = [
        ("front post", (true, true), (true, false)),
        ("rear post", (false, true), (false, false)),
        ("upper side", (true, true), (false, true)),
        ("lower side", (true, false), (false, false)),
        ("side brace", (true, false), (false, true)),
    ];
    for (name, a, b) in pairs {
        let share = uses.next().unwrap();
        for (y, side) in [(0.36, "left"), (-0.36, "right")] {
            let uses = if name == "side brace" && y < 0.0 { share * 0.85 } else { share };
            tubes.push(tube(&format!("{name} {side}"), corner(y, a.0, a.1), corner(y, b.0, b.1), uses));
        }
    }
    for (y, side) in [(0.36, "left"), (-0.36, "right")] {
        let mount = at(-1.95, y * 0.9, 0.3);
        tubes.push(tube(&format!("upper stay {side}"), corner(y, true, true), mount, 0.52));
        tubes.push(tube(&format!("lower stay {side}"), corner(y, true, false), mount, 0.67));
        tubes.push(tube(&format!("rear cross {side}"), corner(y, false, true), at(-2.55, 0.0, 0.16), 0.14));
    }
    let mut spec = spec(tubes);
    for (y, side) in [(0.36, "left"), (-0.36, "right")] {
        spec.feet.push((format!("mount {side}"), at(-1.95, y * 0.9, 0.3)));
        for (front, fore) in [(true, "fore"), (false, "aft")] {
            for (top, upper) in [(true, "upper"), (false, "lower")] {
                let name = format!("{upper}-{fore} {side}");
                let place = corner(y, front, top);
                spec.nodes.push((name.clone(), place));
                let force = at(300.0, y * 9000.0 * if top { -0.6 } else { 1.0 }, 400.0);
                let text = format!("{:.1} kN", force.norm() / 1000.0);
                spec.loads.push(FrameLoad { name, at: place, force, text });
            }
        }
    }
    spec.loads.push(FrameLoad {
        name: "spring left".into(),
        at: at(-2.4, 0.36, 0.42),
        force: at(0.0, 0.0, 4200.0),
        text: "4.2 kN".into(),
    });
    spec
}
