//! The mesh of every demo: light, in place, with sound indices.
#![allow(clippy::expect_used, clippy::panic, reason = "helpers of tests stop where something is wrong")]

mod common;

use common::{every_scene, random_scenes};
use draw::Scene;
use draw::solid::mesh;

/// Most triangles of a whole mesh.
const MOST: usize = 6000;

fn check(scene: &Scene) {
    let mesh = mesh(scene);
    assert!(mesh.triangles() < MOST, "{}: {}", scene.car, mesh.triangles());
    assert!(mesh.triangles() > 500);
    for part in &mesh.parts {
        assert!(!part.vertices.is_empty() && !part.triangles.is_empty());
        for corner in part.triangles.iter().flatten() {
            assert!(usize::from(*corner) < part.vertices.len(), "{}", part.name);
        }
        assert!(part.vertices.iter().flatten().all(|c| c.is_finite() && c.abs() < 20.0), "{}", part.name);
    }
    for class in ["tyre", "tyre far", "ground", "other-side"] {
        assert!(mesh.parts.iter().any(|p| p.class == class), "{class}");
    }
}

#[test]
fn every_demo_is_light_and_sound() {
    every_scene(|_, scene| check(scene));
}

#[test]
fn random_corners_are_light_and_sound() {
    random_scenes(50, 7, |_, scene| check(scene));
}
