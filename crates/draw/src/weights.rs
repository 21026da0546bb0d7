//! Where the centre of gravity lies, as found and after the ledger: the car from the left and from above, to scale.

use crate::plane::Spot;
use crate::svg;

/// Least pieces of an ellipse: round to the eye at any size of a page.
const PIECES: usize = 48;

/// Room around the car for words \[px\].
const MARGIN: f64 = 46.0;

/// A centre of gravity with its ± \[m\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Centre {
    /// Behind the front axle.
    pub behind: f64,
    /// Left of the centreline.
    pub left: f64,
    /// Above the ground, where known.
    pub height: Option<f64>,
    /// Standard uncertainties in the same order.
    pub doubt: [f64; 3],
}

/// What is drawn; lengths \[m\].
#[derive(Clone, Debug, PartialEq)]
pub struct Weights {
    /// Wheelbase.
    pub wheelbase: f64,
    /// Front and rear track.
    pub tracks: [f64; 2],
    /// Front and rear loaded radius.
    pub radii: [f64; 2],
    /// As found.
    pub found: Centre,
    /// After the ledger, where there is one.
    pub after: Option<Centre>,
    /// Words at the wheels: front left, front right, rear left, rear right.
    pub corners: [String; 4],
    /// Width of the page \[px\].
    pub width: f64,
}

/// Both views below each other as one `<svg>` element: the front to the left, as seen from the car's left side; the
/// ellipse is two standard uncertainties.
pub fn weights(of: &Weights) -> String {
    let scale = (of.width - 2.0 * MARGIN) / (of.wheelbase + of.radii[0] + of.radii[1]);
    let tallest =
        [Some(of.found), of.after].into_iter().flatten().filter_map(|c| c.height).fold(0.7, f64::max);
    let ground = MARGIN / 2.0 + (tallest + 0.1) * scale;
    let half = of.tracks[0].max(of.tracks[1]) / 2.0;
    let middle = ground + MARGIN + half * scale;
    let page = (of.width, middle + half * scale + MARGIN);
    let along = |behind: f64| MARGIN + (of.radii[0] + behind) * scale;
    let mut out = String::with_capacity(4_000);
    out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw\" role=\"img\" viewBox=\"0 0 ");
    svg::spot(&mut out, page);
    out.push('"');
    svg::attribute(&mut out, "width", page.0);
    svg::attribute(&mut out, "height", page.1);
    svg::attribute(&mut out, "font-size", 14.0);
    svg::text_attribute(&mut out, "aria-label", "centre of gravity from the left and from above");
    out.push('>');

    let mut line = String::new();
    svg::segment(&mut line, (MARGIN / 2.0, ground), (of.width - MARGIN / 2.0, ground));
    svg::path(&mut out, "ground", &line);
    for (behind, radius) in [0.0, of.wheelbase].into_iter().zip(of.radii) {
        let centre = (along(behind), ground - radius * scale);
        svg::path(&mut out, "tyre", &ellipse(centre, (radius * scale, radius * scale)));
        svg::circle(&mut out, "hub", centre, 3.0);
    }
    let mut line = String::new();
    svg::segment(&mut line, (MARGIN / 2.0, middle), (of.width - MARGIN / 2.0, middle));
    svg::path(&mut out, "centreline", &line);
    let axles = [0.0, of.wheelbase].into_iter().zip(of.tracks.into_iter().zip(of.radii));
    let words = of.corners.chunks(2);
    for ((behind, (track, radius)), pair) in axles.zip(words) {
        for (side, words) in [1.0, -1.0].into_iter().zip(pair) {
            let at = (along(behind), middle - side * track / 2.0 * scale);
            let (long, wide) = (radius * scale, 0.09 * scale);
            svg::path(&mut out, "tyre", &rectangle(at, (long, wide)));
            svg::text(
                &mut out,
                "value",
                (at.0 - long, at.1 - side * (wide + 6.0) + if side < 0.0 { 10.0 } else { 0.0 }),
                words,
            );
        }
    }
    let marks = [(Some(of.found), "mark", "as found", -1.0), (of.after, "roll-centre", "after", 1.0)];
    for (centre, class, words, side) in marks {
        let Some(centre) = centre else { continue };
        let [u_x, u_y, u_z] = centre.doubt.map(|u| 2.0 * u * scale);
        let x = along(centre.behind);
        let from_above = ((x, middle - centre.left * scale), u_y);
        let from_left = centre.height.map(|h| ((x, ground - h * scale), u_z));
        for (at, up) in from_left.into_iter().chain([from_above]) {
            svg::path(&mut out, "ghost", &ellipse(at, (u_x, up)));
            svg::circle(&mut out, class, at, 4.0);
            // Apart, so that two marks that all but coincide can both be read.
            let from =
                if side < 0.0 { at.0 - 14.0 - 14.0 * crate::text_width(words, false) } else { at.0 + 14.0 };
            svg::text(&mut out, if side < 0.0 { "faint" } else { "lit" }, (from, at.1 + 5.0), words);
        }
    }
    out.push_str("</svg>");
    out
}

fn ellipse(at: Spot, reach: (f64, f64)) -> String {
    let mut path = String::new();
    for i in 0..PIECES {
        let angle = i as f64 / PIECES as f64 * std::f64::consts::TAU;
        path.push(if i == 0 { 'M' } else { 'L' });
        svg::spot(&mut path, (at.0 + reach.0 * angle.cos(), at.1 + reach.1 * angle.sin()));
    }
    path.push('Z');
    path
}

fn rectangle(at: Spot, (long, wide): (f64, f64)) -> String {
    let mut path = String::from("M");
    svg::spot(&mut path, (at.0 - long, at.1 - wide));
    for (x, y) in [(long, -wide), (long, wide), (-long, wide)] {
        path.push('L');
        svg::spot(&mut path, (at.0 + x, at.1 + y));
    }
    path.push('Z');
    path
}

#[cfg(test)]
mod tests {
    use super::*;

    fn car() -> Weights {
        let found = Centre { behind: 1.2, left: 0.0, height: Some(0.48), doubt: [0.002, 0.001, 0.011] };
        Weights {
            wheelbase: 2.6,
            tracks: [1.5, 1.46],
            radii: [0.30, 0.305],
            found,
            after: Some(Centre { behind: 1.3, height: Some(0.45), ..found }),
            corners: ["<1>", "2", "3", "4"].map(String::from),
            width: 600.0,
        }
    }

    #[test]
    fn both_centres_are_drawn_to_scale_and_words_are_escaped() {
        let svg = weights(&car());
        let root = roxmltree::Document::parse(&svg).unwrap();
        let circles: Vec<(f64, f64)> = root
            .descendants()
            .filter(|n| matches!(n.attribute("class"), Some("mark" | "roll-centre")))
            .map(|n| {
                let of = |name| n.attribute(name).and_then(|v| v.parse().ok()).unwrap();
                (of("cx"), of("cy"))
            })
            .collect();
        assert_eq!(circles.len(), 4, "two views, two centres");
        let hubs: Vec<f64> = root
            .descendants()
            .filter(|n| n.attribute("class") == Some("hub"))
            .filter_map(|n| n.attribute("cx")?.parse().ok())
            .collect();
        // 0.1 m of 2.6 m further back.
        let share = (circles[2].0 - circles[0].0) / (hubs[1] - hubs[0]);
        assert!((share - 0.1 / 2.6).abs() < 1e-4, "{share}");
        assert!(circles[2].1 > circles[0].1, "lower is further down the page");
        assert!(svg.contains("&lt;1&gt;"));
    }

    #[test]
    fn without_a_height_there_is_the_view_from_above() {
        let mut of = car();
        of.found.height = None;
        of.after = None;
        let svg = weights(&of);
        assert_eq!(svg.matches("class=\"mark\"").count(), 1);
        assert!(!svg.contains("NaN"));
    }
}
