//! What the tests of the frame share: builders and fixed random numbers.

use nalgebra::Vector3;
use steel::frame::{Foot, Frame, Node, Tube, TubeEnd};
use steel::grade::{DENSITY, Grade, SHEAR, YOUNG};
use steel::section::{Section, Shape};

pub fn grade(young: f64, shear: f64) -> Grade {
    Grade {
        name: "test".to_owned(),
        yields: 355e6,
        breaks: 510e6,
        young,
        shear,
        density: DENSITY,
        source: "test".to_owned(),
    }
}

pub fn steel() -> Grade {
    grade(YOUNG, SHEAR)
}

/// Figures alone, no shear: area, second moments about y and z, torsion.
pub fn figures(area: f64, second_y: f64, second_z: f64, torsion: f64) -> Section {
    Section {
        shape: Shape::Bar { diameter: 1.0 },
        area,
        second_y,
        second_z,
        torsion,
        modulus_y: 1.0,
        modulus_z: 1.0,
        torsion_modulus: 1.0,
        shear_y: f64::INFINITY,
        shear_z: f64::INFINITY,
    }
}

pub fn round(diameter: f64, wall: f64) -> Section {
    Section::of(Shape::Round { diameter, wall }).unwrap()
}

pub fn oblong() -> Section {
    Section::of(Shape::Box { height: 0.06, width: 0.04, wall: 0.003, corner: 0.006 }).unwrap()
}

pub fn nodes<const N: usize>(at: [[f64; 3]; N]) -> Vec<Node> {
    at.iter().enumerate().map(|(k, &at)| Node { name: format!("n{k}"), at: at.into() }).collect()
}

pub fn tube(first: usize, second: usize, section: Section, grade: &Grade) -> Tube {
    Tube {
        name: format!("t{first}-{second}"),
        ends: [TubeEnd::welded(first), TubeEnd::welded(second)],
        up: None,
        section,
        grade: grade.clone(),
    }
}

pub fn up(tube: Tube, up: [f64; 3]) -> Tube {
    Tube { up: Some(up.into()), ..tube }
}

/// Fixed random numbers (Steele, Lea and Flood's splitmix, 2014).
pub struct Random(pub u64);

impl Random {
    pub fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// From `lo` to `hi`.
    pub fn between(&mut self, lo: f64, hi: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
        let part = (self.next() >> 11) as f64 / (1u64 << 53) as f64;
        lo + (hi - lo) * part
    }

    pub fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % u64::try_from(count).unwrap()).unwrap()
    }

    pub fn vector(&mut self, size: f64) -> Vector3<f64> {
        Vector3::from_fn(|_, _| self.between(-size, size))
    }
}

/// A welded frame of `count` nodes in a cube of 2 m: each joined to an earlier one, and as many tubes again; feet of three
/// nodes.
pub fn random_frame(random: &mut Random, count: usize) -> Frame {
    let mut frame = Frame::default();
    for k in 0..count {
        frame.nodes.push(Node { name: format!("n{k}"), at: random.vector(1.0) });
    }
    for k in 1..2 * count {
        let (first, second) = if k < count {
            (random.below(k), k)
        } else {
            let first = random.below(count);
            (first, (first + 1 + random.below(count - 1)) % count)
        };
        let section = if random.below(2) == 0 { oblong() } else { round(0.04, 0.002) };
        let mut tube = tube(first, second, section, &steel());
        tube.up = Some(random.vector(1.0));
        for end in &mut tube.ends {
            end.offset = random.vector(0.05);
        }
        frame.tubes.push(tube);
    }
    for node in [0, 1, 2] {
        frame.feet.push(Foot::fixed(node));
    }
    frame
}
