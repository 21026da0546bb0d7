//! Whether the colours of use stay apart for eyes that lack a kind of cone.

use super::Theme;

type Matrix = [[f64; 3]; 3];

/// What such eyes see, in linear sRGB: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, A Physiologically-based
/// Model for Simulation of Color Vision Deficiency, IEEE TVCG 15 (2009), matrices of severity 1.0 (remembered; each
/// row sums to one, which the test looks at).
const EYES: [(&str, Matrix); 4] = [
    ("all cones", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "red-blind",
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
    ),
    (
        "green-blind",
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]],
    ),
    (
        "blue-blind",
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]],
    ),
];

/// Linear sRGB to XYZ with white D65 (IEC 61966-2-1; remembered).
const XYZ: Matrix =
    [[0.4124564, 0.3575761, 0.1804375], [0.2126729, 0.7151522, 0.0721750], [0.0193339, 0.1191920, 0.9503041]];

/// The least difference of two classes, CIE 1976 L\*a\*b\*. About 2.3 is just seen (M. Mahy et al., Color Research and
/// Application 19, 1994; remembered); thin lines apart from one another want several times that.
const APART: f64 = 15.0;

/// Red, green, blue of `#rrggbb`, linear (IEC 61966-2-1).
pub(super) fn linear(colour: &str) -> [f64; 3] {
    [1, 3, 5].map(|i| {
        let c = f64::from(u8::from_str_radix(&colour[i..i + 2], 16).unwrap()) / 255.0;
        if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
    })
}

fn times(matrix: &Matrix, v: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| row.iter().zip(v).map(|(m, x)| m * x).sum())
}

/// CIE 1976 L\*a\*b\* of linear sRGB.
fn lab(rgb: [f64; 3]) -> [f64; 3] {
    let (at, white) = (times(&XYZ, rgb), times(&XYZ, [1.0; 3]));
    let f = [0, 1, 2].map(|i| {
        let t: f64 = at[i] / white[i];
        if t > 216.0 / 24389.0 { t.cbrt() } else { (24389.0 / 27.0 * t + 16.0) / 116.0 }
    });
    [116.0 * f[1] - 16.0, 500.0 * (f[0] - f[1]), 200.0 * (f[1] - f[2])]
}

fn difference(a: &str, b: &str, eyes: &Matrix) -> f64 {
    let [a, b] = [a, b].map(|c| lab(times(eyes, linear(c)).map(|v| v.clamp(0.0, 1.0))));
    a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum::<f64>().sqrt()
}

#[test]
fn the_colours_of_use_stay_apart_for_all_eyes() {
    for (who, eyes) in &EYES {
        assert!(eyes.iter().all(|row| (row.iter().sum::<f64>() - 1.0).abs() < 2e-6), "{who}");
        // Grey stays grey; red and green of one lightness come together only where a cone is missing.
        assert!(difference("#ffffff", "#000000", eyes) > 99.9, "{who}");
        for theme in [Theme::Light, Theme::Dark] {
            let colours = [0, 1, 2, 3, 4].map(|i| theme.colour(&format!("--use-{i}")).unwrap());
            for (i, a) in colours.iter().enumerate() {
                for (j, b) in colours.iter().enumerate().skip(i + 1) {
                    let d = difference(a, b, eyes);
                    assert!(d >= APART, "{theme:?}, {who}: {i} and {j} differ by {d:.1}");
                }
            }
        }
    }
    // The eyes are as blind as they should be: red and green that others tell apart.
    let pair = |eyes| difference("#c04000", "#607800", eyes);
    assert!(pair(&EYES[0].1) > 60.0 && pair(&EYES[2].1) < 25.0, "{} {}", pair(&EYES[0].1), pair(&EYES[2].1));
}

#[test]
fn the_greys_of_use_darken_step_by_step() {
    let greys = [0, 1, 2, 3, 4].map(|i| lab(linear(Theme::Print.colour(&format!("--use-{i}")).unwrap())));
    assert!(greys.windows(2).all(|w| w[0][0] - w[1][0] > 8.0), "{greys:?}");
}
