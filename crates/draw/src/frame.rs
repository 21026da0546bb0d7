//! A loaded space frame: at rest and as it gives, each tube by how much of what it can take is in use.
//!
//! Colour, width and pattern of a line all tell the class, so that it reads on a screen, on grey paper and to eyes
//! that are blind to a colour; a tube that is too weak is a hatched double line. The give is drawn many times
//! larger than it is, and the drawing says so.

mod aim;
mod legend;
mod places;
mod scale;
mod signs;
#[cfg(test)]
mod tests;
mod tubes;
mod usage;
mod words;

use nalgebra::Vector3;

use crate::labels::Layout;
use crate::plane::Rect;
use crate::svg;
use aim::{Aim, usable};

/// Where the eye is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum FrameView {
    /// At the left of the car, the front to the left.
    Left,
    /// Behind the car, the left to the left.
    Behind,
    /// Above the car, the front to the left: the car's left side is below.
    Above,
    /// Behind, left and above: a parallel projection.
    #[default]
    Corner,
}

/// The unit of the scale bar.
#[derive(Clone, Debug, PartialEq)]
pub struct ScaleUnit {
    /// Its symbol, such as `mm`.
    pub symbol: String,
    /// Its size \[m\].
    pub metres: f64,
}

/// A tube, in car axes after ISO 8855 (x forward, y to the left, z up).
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FrameTube {
    /// Its name.
    pub name: String,
    /// Places along it without load \[m\], two or more.
    pub rest: Vec<Vector3<f64>>,
    /// How far each of these places moves under the load \[m\], not magnified; empty for a tube that does not move.
    pub moved: Vec<Vector3<f64>>,
    /// Share of what it can take that is in use; 1 just holds what is wanted.
    pub uses: f64,
}

/// A force on the frame.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FrameLoad {
    /// Its name.
    pub name: String,
    /// Where it acts, without load \[m\].
    pub at: Vector3<f64>,
    /// The force on the frame \[N\].
    pub force: Vector3<f64>,
    /// The force in words, with its unit.
    pub text: String,
}

/// A frame to be drawn. Car axes after ISO 8855.
#[derive(Clone, Debug, PartialEq)]
pub struct FrameSpec {
    /// What it shows.
    pub title: String,
    /// More words below the title, such as the load case.
    pub words: String,
    /// The tubes.
    pub tubes: Vec<FrameTube>,
    /// Joints, by name, without load \[m\].
    pub nodes: Vec<(String, Vector3<f64>)>,
    /// Where the frame is held, by name \[m\].
    pub feet: Vec<(String, Vector3<f64>)>,
    /// Forces on it.
    pub loads: Vec<FrameLoad>,
    /// How many times larger than it is the give is drawn; see [`magnification`]. 0 draws none.
    pub magnification: f64,
    /// Where the eye is.
    pub from: FrameView,
    /// Width of the page \[px\].
    pub width: f64,
    /// Height of the page \[px\].
    pub height: f64,
    /// Unit of the scale bar.
    pub length_unit: ScaleUnit,
}

impl FrameSpec {
    /// Size of the words \[px\].
    fn font(&self) -> f64 {
        if self.width < 480.0 { 13.0 } else { 15.0 }
    }

    /// The page; what is no size becomes an ordinary one.
    fn page(&self) -> Rect {
        let sound = |size: f64, other: f64| if size >= 1.0 { size.min(2e4) } else { other };
        Rect::sized(0.0, 0.0, sound(self.width, 900.0), sound(self.height, 520.0))
    }

    /// The magnification; what is none counts as 0.
    fn larger(&self) -> f64 {
        if self.magnification > 0.0 { self.magnification.min(1e6) } else { 0.0 }
    }
}

/// Of the frame's size, the share that the largest give should have on the page.
const SHARE: f64 = 0.06;

/// Magnifications to choose from.
const ROUND: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];

/// The round magnification (1, 2, 5, 10 and so on to 1000) with which the largest give comes nearest to 6 % of the
/// frame's size, the diagonal of the box around it; 1 for a frame that does not give. For several load cases drawn
/// alike, take the smallest of theirs.
pub fn magnification(tubes: &[FrameTube]) -> f64 {
    let (mut lo, mut hi) = (Vector3::repeat(f64::INFINITY), Vector3::repeat(f64::NEG_INFINITY));
    let mut most = 0.0_f64;
    for tube in tubes {
        for (at, moved) in tube.rest.iter().zip(&tube.moved) {
            if usable(at) && usable(moved) {
                (lo, hi) = (lo.inf(at), hi.sup(at));
                most = most.max(moved.norm());
            }
        }
    }
    let wanted = SHARE * (hi - lo).norm() / most;
    if !(most > 0.0 && wanted > 0.0) {
        return 1.0;
    }
    let off = |round: f64| (wanted.clamp(1.0, 1000.0) / round).ln().abs();
    ROUND.into_iter().min_by(|a, b| off(*a).total_cmp(&off(*b))).unwrap_or(1.0)
}

/// Draws a frame as one `<svg>` element, with classes and no colours of its own. Places and forces that are not
/// finite are left out, and the drawing says how many; of tubes behind one another the one most in use is on top,
/// and only its number stands there. A very small page goes without legend, scale, forces and ground.
pub fn frame(spec: &FrameSpec) -> String {
    draw(spec).svg
}

/// A drawing with what the tests want to know of it.
struct Drawn {
    svg: String,
    #[cfg(test)]
    labels: Vec<(String, Rect)>,
    #[cfg(test)]
    marks: Vec<Rect>,
}

/// A drawing in the making.
struct Sheet<'a> {
    spec: &'a FrameSpec,
    page: Rect,
    /// Where the frame goes.
    plot: Rect,
    font: f64,
    aim: Aim,
    layout: Layout,
    out: String,
}

fn draw(spec: &FrameSpec) -> Drawn {
    let shapes = places::shapes(spec);
    let page = spec.page();
    let mut sheet = Sheet {
        spec,
        page,
        plot: page,
        font: spec.font(),
        aim: Aim::of(spec.from),
        layout: Layout::new(page, spec.font()),
        out: String::with_capacity(24_000),
    };
    sheet.open(&shapes);
    words::head(&mut sheet, &shapes);
    legend::draw(&mut sheet, &shapes);
    let arrows = signs::arrows(&sheet, &shapes);
    places::fit(&mut sheet, &shapes, &arrows);
    scale::draw(&mut sheet);
    tubes::draw(&mut sheet, &shapes);
    signs::draw(&mut sheet, &shapes, &arrows);
    if shapes.is_empty() {
        words::empty(&mut sheet);
    }
    sheet.layout.place();
    sheet.out.push_str("<g class=\"words\" aria-hidden=\"true\">");
    sheet.layout.write(&mut sheet.out);
    sheet.out.push_str("</g></svg>");
    #[cfg(test)]
    let (placed, marks) = sheet.layout.into_placed();
    Drawn {
        svg: sheet.out,
        #[cfg(test)]
        labels: placed.into_iter().map(|p| (p.lines.join("\n"), p.rect)).collect(),
        #[cfg(test)]
        marks,
    }
}

impl Sheet<'_> {
    fn open(&mut self, shapes: &[places::Shape<'_>]) {
        let size = (self.page.width(), self.page.height());
        let out = &mut self.out;
        out.push_str("<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw loaded-frame\" role=\"group\" ");
        out.push_str("viewBox=\"0 0 ");
        svg::spot(out, size);
        out.push('"');
        svg::attribute(out, "width", size.0);
        svg::attribute(out, "height", size.1);
        svg::attribute(out, "font-size", self.font);
        svg::text_attribute(out, "aria-label", &words::summary(self.spec, shapes));
        out.push('>');
    }
}
