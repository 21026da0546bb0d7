//! Cars in a manoeuvre from above and from the side: a picture that plays when its mark is pressed, and stands still where it
//! is printed. Without a script: the format's own animation (SVG 1.1, ch. 19; SMIL).
//!
//! From above the cars run along their paths, front wheels turned, a disc at each wheel for its load. From the side the bodies
//! pitch and rise, made larger as is said beside it, over bars for the load of each axle.

use crate::aim::Aim;
use crate::plane::{Rect, Spot};
use crate::svg;

/// Places in time that are kept of a run, at most.
const KEYS: usize = 80;

/// Runs over each other at most: more cannot be told apart.
const RUNS: usize = 4;

/// Air around the picture \[px\].
const EDGE: f64 = 10.0;

/// Times at which the first car leaves its outline \[s\].
const GHOST: f64 = 0.5;

/// Pitch that is easily seen \[rad\]: smaller ones are made up to so large.
const SEEN: f64 = 0.12;

/// The car at one time.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moment {
    /// Since the start \[s\].
    pub time: f64,
    /// Place of the middle of the front axle \[m\].
    pub place: [f64; 2],
    /// Heading \[rad\], anticlockwise.
    pub yaw: f64,
    /// Pitch, nose down \[rad\], and rise at the front axle \[m\].
    pub pitch: f64,
    /// See [`Self::pitch`].
    pub rise: f64,
    /// Heading of the front wheels against the body \[rad\].
    pub steer: f64,
    /// Load of each wheel, as a share of the weight: front left, front right, rear left, rear right.
    pub load: [f64; 4],
}

/// One car's run.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct MotionRun {
    /// Its name.
    pub label: String,
    /// In rising time.
    pub moments: Vec<Moment>,
}

/// Sizes of the car \[m\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Outline {
    /// Between the axles.
    pub wheelbase: f64,
    /// Of the front and the rear axle.
    pub track: [f64; 2],
    /// Of a tyre.
    pub radius: f64,
    /// Height of the centre of gravity.
    pub height: f64,
}

/// What is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct MotionSpec {
    /// A name of its own on the page: letters, digits, hyphens.
    pub key: String,
    /// What it shows.
    pub title: String,
    /// Runs, over each other.
    pub runs: Vec<MotionRun>,
    /// Sizes of the car.
    pub outline: Outline,
    /// Size of the page \[px\].
    pub width: f64,
    /// Height \[px\].
    pub height: f64,
}

/// What moves one run.
struct Moved {
    /// Places and turns on the page, and the rest.
    keys: Vec<Moment>,
    start: f64,
    time: f64,
}

impl Moved {
    fn of(run: &MotionRun) -> Option<Self> {
        let sound = |m: &&Moment| {
            let all = [m.time, m.place[0], m.place[1], m.yaw, m.pitch, m.rise, m.steer];
            all.iter().chain(&m.load).all(|v| v.is_finite() && v.abs() < 1e6)
        };
        let all: Vec<Moment> = run.moments.iter().filter(sound).copied().collect();
        let every = all.len().div_ceil(KEYS).max(1);
        let mut keys: Vec<Moment> = all.iter().step_by(every).copied().collect();
        if let (Some(last), Some(kept)) = (all.last(), keys.last())
            && last.time > kept.time
        {
            keys.push(*last);
        }
        let (first, last) = (keys.first()?, keys.last()?);
        let (start, time) = (first.time, last.time - first.time);
        (time > 0.0).then_some(Self { keys, start, time })
    }

    /// The format's `keyTimes` and `values`.
    fn values(&self, of: impl Fn(&Moment) -> String) -> String {
        let mut out = String::from(" keyTimes=\"");
        for (i, m) in self.keys.iter().enumerate() {
            let share = if i + 1 == self.keys.len() { 1.0 } else { (m.time - self.start) / self.time };
            let short = format!("{:.4}", share.clamp(0.0, 1.0));
            out.push_str(if i == 0 { "" } else { ";" });
            out.push_str(short.trim_end_matches('0').trim_end_matches('.'));
        }
        out.push_str("\" values=\"");
        for (i, m) in self.keys.iter().enumerate() {
            out.push_str(if i == 0 { "" } else { ";" });
            out.push_str(&of(m));
        }
        out.push('"');
        out
    }

    /// `animateTransform` of a group.
    fn transform(&self, out: &mut String, key: &str, kind: &str, of: impl Fn(&Moment) -> String) {
        out.push_str(&format!(
            "<animateTransform attributeName=\"transform\" type=\"{kind}\"{}{}/>",
            self.values(of),
            self.when(key)
        ));
    }

    /// Opens two groups: one that goes along, and in it one that turns [deg], clockwise.
    fn carry(
        &self,
        out: &mut String,
        key: &str,
        place: impl Fn(&Moment) -> Spot,
        turn: impl Fn(&Moment) -> f64,
    ) {
        let place = |m: &Moment| {
            let (x, y) = place(m);
            pair(x, y)
        };
        let turn = |m: &Moment| format!("{:.2}", turn(m));
        let at = |of: &dyn Fn(&Moment) -> String| self.keys.first().map(of).unwrap_or_default();
        out.push_str(&format!("<g transform=\"translate({})\">", at(&place)));
        self.transform(out, key, "translate", place);
        out.push_str(&format!("<g transform=\"rotate({})\">", at(&turn)));
        self.transform(out, key, "rotate", turn);
    }

    fn attribute(&self, out: &mut String, key: &str, name: &str, of: impl Fn(&Moment) -> String) {
        out.push_str(&format!("<animate attributeName=\"{name}\"{}{}/>", self.values(of), self.when(key)));
    }

    fn when(&self, key: &str) -> String {
        format!(" dur=\"{:.3}s\" begin=\"{key}play.click;{key}play.keydown\" fill=\"freeze\"", self.time)
    }
}

fn pair(a: f64, b: f64) -> String {
    format!("{a:.2},{b:.2}")
}

/// Draws the picture as one `<svg>` element, with classes and no colours of its own.
pub fn motion(spec: &MotionSpec) -> String {
    let sound = |size: f64, other: f64| if size >= 1.0 { size.min(2e4) } else { other };
    let page = Rect::sized(0.0, 0.0, sound(spec.width, 900.0), sound(spec.height, 480.0));
    let font = if page.width() < 520.0 { 13.0 } else { 15.0 };
    let runs: Vec<(usize, &MotionRun, Moved)> = spec
        .runs
        .iter()
        .take(RUNS)
        .enumerate()
        .filter_map(|(i, run)| Some((i, run, Moved::of(run)?)))
        .collect();
    let mut out = String::with_capacity(60_000);
    out.push_str(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"draw motion\" role=\"group\" viewBox=\"0 0 ",
    );
    svg::spot(&mut out, (page.width(), page.height()));
    out.push('"');
    svg::attribute(&mut out, "width", page.width());
    svg::attribute(&mut out, "height", page.height());
    svg::attribute(&mut out, "font-size", font);
    let what = if runs.is_empty() { format!("{}: nothing to draw", spec.title) } else { spec.title.clone() };
    svg::text_attribute(&mut out, "aria-label", &what);
    out.push('>');
    svg::text(&mut out, "value", (EDGE, EDGE + font), &spec.title);
    if !runs.is_empty() {
        // In the format's times a hyphen is a minus: the name goes without.
        let key: String = spec.key.chars().filter(char::is_ascii_alphanumeric).collect();
        let top = legend(&mut out, &runs, page, font);
        let split = top + 0.58 * (page.bottom - top);
        above(&mut out, spec, &runs, &key, &Rect { top, bottom: split, ..page }, font);
        side(&mut out, spec, &runs, &key, &Rect { top: split, ..page }, font);
        play(&mut out, &key, page, font);
    }
    out.push_str("</svg>");
    out
}

/// Names of the runs; where they end below the title.
fn legend(out: &mut String, runs: &[(usize, &MotionRun, Moved)], page: Rect, font: f64) -> f64 {
    let high = 1.5 * font;
    let (mut x, mut y) = (EDGE, EDGE + 2.0 * font);
    for (i, run, _) in runs {
        let wide = 40.0 + crate::text_width(&run.label, false) * font + 16.0;
        if x + wide > page.right - EDGE && x > EDGE {
            (x, y) = (EDGE, y + high);
        }
        let mut line = String::new();
        svg::segment(&mut line, (x, y), (x + 32.0, y));
        svg::path(out, &format!("curve s{i}"), &line);
        svg::text(out, "scale", (x + 40.0, y + 0.36 * font), &run.label);
        x += wide;
    }
    y + 0.8 * high
}

/// The mark that starts it.
fn play(out: &mut String, key: &str, page: Rect, font: f64) {
    let (x, y, r) = (page.right - EDGE - 1.3 * font, EDGE + 1.1 * font, 1.1 * font);
    out.push_str(&format!(
        "<g id=\"{key}play\" class=\"play\" role=\"button\" tabindex=\"0\" aria-label=\"play\"><title>play</title>"
    ));
    svg::circle(out, "joint", (x, y), r);
    let mut mark = String::from("M");
    svg::spot(&mut mark, (x - 0.35 * r, y - 0.55 * r));
    for at in [(x + 0.6 * r, y), (x - 0.35 * r, y + 0.55 * r)] {
        mark.push('L');
        svg::spot(&mut mark, at);
    }
    mark.push('Z');
    svg::path(out, "mark body", &mark);
    out.push_str("</g>");
}

fn above(
    out: &mut String,
    spec: &MotionSpec,
    runs: &[(usize, &MotionRun, Moved)],
    key: &str,
    part: &Rect,
    font: f64,
) {
    let o = &spec.outline;
    let mut all: Vec<[f64; 2]> = Vec::new();
    for m in runs.iter().flat_map(|(_, _, moved)| &moved.keys) {
        // The whole car, not its front axle alone.
        for back in [0.9, -1.6 * o.wheelbase] {
            for aside in [-0.6, 0.6].map(|a: f64| a * o.track[0].max(o.track[1])) {
                let (s, c) = m.yaw.sin_cos();
                all.push([m.place[0] + c * back - s * aside, m.place[1] + s * back + c * aside]);
            }
        }
    }
    let plot = Rect {
        left: part.left + EDGE,
        right: part.right - EDGE,
        top: part.top + font,
        bottom: part.bottom - font,
    };
    let mut aim = Aim::fit(&all, &plot);
    // It runs to the right.
    if let Some((a, b)) = runs.first().and_then(|(_, _, m)| m.keys.first().zip(m.keys.last()))
        && aim.turned(b.place).0 < aim.turned(a.place).0
    {
        let middle = (0.5 * (plot.left + plot.right), 0.5 * (plot.top + plot.bottom));
        aim.turn = (-aim.turn.0, -aim.turn.1);
        aim.origin = (2.0 * middle.0 - aim.origin.0, 2.0 * middle.1 - aim.origin.1);
    }
    let tilt = aim.turn.1.atan2(aim.turn.0);
    let turn_of = |yaw: f64| -(yaw - tilt).to_degrees();
    for (i, _, moved) in runs {
        let mut line = String::new();
        for (k, m) in moved.keys.iter().enumerate() {
            line.push(if k == 0 { 'M' } else { 'L' });
            svg::spot(&mut line, aim.spot(m.place));
        }
        svg::path(out, &format!("curve s{i}"), &line);
    }
    if let Some((_, _, moved)) = runs.first() {
        let mut at = moved.start;
        for m in &moved.keys {
            if m.time + 1e-9 < at {
                continue;
            }
            at += GHOST;
            let place = aim.spot(m.place);
            out.push_str(&format!(
                "<g transform=\"translate({}) rotate({:.2})\">",
                pair(place.0, place.1),
                turn_of(m.yaw)
            ));
            svg::path(out, "ghost", &body(o, aim.px));
            out.push_str("</g>");
            svg::circle(out, "dot", place, 2.5);
            let words = format!("{:.1} s", m.time);
            let x = (place.0 + 4.0).min(plot.right - crate::text_width(&words, false) * font);
            svg::text(out, "scale", (x, place.1 - 0.45 * o.track[0] * aim.px - 3.0), &words);
        }
    }
    for (i, _, moved) in runs {
        let Some(first) = moved.keys.first() else { continue };
        let place = |m: &Moment| aim.spot(m.place);
        moved.carry(out, key, place, |m| turn_of(m.yaw));
        svg::path(out, &format!("curve s{i}"), &body(o, aim.px));
        for w in 0..4 {
            let track = if w < 2 { o.track[0] } else { o.track[1] };
            let x = if w < 2 { 0.0 } else { -o.wheelbase * aim.px };
            let y = if w % 2 == 0 { -0.5 } else { 0.5 } * track * aim.px;
            out.push_str(&format!("<g transform=\"translate({})\">", pair(x, y)));
            // The area of the disc is the load.
            let size = |m: &Moment| {
                format!(
                    "{:.2}",
                    0.55 * aim.px * (4.0 * m.load.get(w).copied().unwrap_or(0.0).max(0.0)).sqrt()
                )
            };
            if *i == 0 {
                out.push_str(&format!("<circle class=\"carried\" r=\"{}\">", size(first)));
                moved.attribute(out, key, "r", size);
                out.push_str("</circle>");
            }
            out.push_str("<g");
            if w < 2 {
                out.push_str(&format!(" transform=\"rotate({:.2})\">", -first.steer.to_degrees()));
                moved.transform(out, key, "rotate", |m| format!("{:.2}", -m.steer.to_degrees()));
            } else {
                out.push('>');
            }
            let (long, wide) = (o.radius * aim.px, 0.11 * aim.px);
            svg::path(out, "tyre", &rectangle((-long, -wide), (long, wide)));
            out.push_str("</g></g>");
        }
        out.push_str("</g></g>");
    }
}

/// A body from above, about the middle of the front axle.
fn body(o: &Outline, px: f64) -> String {
    let half = 0.5 * o.track[0].max(o.track[1]) + 0.1;
    let (nose, tail) = (0.75, -o.wheelbase - 0.7);
    let corners = [
        (tail, -half),
        (nose - 0.35, -half),
        (nose, -0.6 * half),
        (nose, 0.6 * half),
        (nose - 0.35, half),
        (tail, half),
    ];
    polygon(corners.iter().map(|(x, y)| (x * px, y * px)))
}

fn polygon(corners: impl Iterator<Item = Spot>) -> String {
    let mut line = String::new();
    for (i, at) in corners.enumerate() {
        line.push(if i == 0 { 'M' } else { 'L' });
        svg::spot(&mut line, at);
    }
    line.push('Z');
    line
}

fn rectangle(a: Spot, b: Spot) -> String {
    polygon([a, (b.0, a.1), b, (a.0, b.1)].into_iter())
}

fn side(
    out: &mut String,
    spec: &MotionSpec,
    runs: &[(usize, &MotionRun, Moved)],
    key: &str,
    part: &Rect,
    font: f64,
) {
    let o = &spec.outline;
    let most = runs.iter().flat_map(|(_, _, m)| &m.keys).map(|m| m.pitch.abs()).fold(0.0, f64::max);
    let factor = [1.0, 2.0, 3.0, 5.0, 10.0].into_iter().rev().find(|f| f * most <= SEEN).unwrap_or(1.0);
    let words = if factor > 1.0 {
        format!("from the side: pitch and rise {factor:.0} times as large; bars: load of the axles")
    } else {
        "from the side; bars: load of the axles".to_string()
    };
    svg::text(out, "scale", (part.left + EDGE, part.top + font), &words);
    let high = (part.bottom - part.top - 2.6 * font - EDGE).max(10.0);
    // Roof above, the loads' bars below the road.
    let px = (high / (1.35 + 0.9)).min((part.width() - 2.0 * EDGE) / (o.wheelbase + 3.0));
    let road = part.top + 2.0 * font + 1.35 * px;
    let front = 0.5 * (part.left + part.right + o.wheelbase * px);
    let mut line = String::new();
    svg::segment(&mut line, (part.left + EDGE, road), (part.right - EDGE, road));
    svg::path(out, "frame", &line);
    for (i, _, moved) in runs {
        let Some(first) = moved.keys.first() else { continue };
        let rise = |m: &Moment| (front, road - m.rise * factor * px);
        moved.carry(out, key, rise, |m| (m.pitch * factor).to_degrees());
        let (nose, tail, base) = (0.75, -o.wheelbase - 0.7, -o.wheelbase);
        let shape = [
            (tail, -0.2),
            (tail, -0.75),
            (base + 0.1, -0.85),
            (0.62 * base, -1.2),
            (0.4 * base, -1.2),
            (0.16 * base, -0.85),
            (nose, -0.6),
            (nose, -0.2),
        ];
        svg::path(out, &format!("curve s{i}"), &polygon(shape.iter().map(|(x, y)| (x * px, y * px))));
        svg::circle(out, "joint", (0.5 * base * px, -o.height * px), 3.0);
        out.push_str("</g></g>");
        // Bars of the runs stand beside each other under the axles.
        let wide = 9.0;
        for (axle, at) in [(0, front), (1, front - o.wheelbase * px)] {
            let of = |m: &Moment| {
                let pair = m.load.get(2 * axle..2 * axle + 2).map_or(0.0, |l| l.iter().sum::<f64>());
                format!("{:.2}", (pair.max(0.0) * 0.9 * px).max(0.01))
            };
            let x = at + (*i as f64 - 0.5 * runs.len() as f64) * (wide + 2.0);
            out.push_str(&format!(
                "<rect class=\"dot s{i}\" x=\"{x:.2}\" y=\"{:.2}\" width=\"{wide}\" height=\"{}\">",
                road + 4.0,
                of(first)
            ));
            moved.attribute(out, key, "height", of);
            out.push_str("</rect>");
        }
    }
    for x in [front, front - o.wheelbase * px] {
        out.push_str(&format!("<g transform=\"translate({})\">", pair(x, road - o.radius * px)));
        svg::circle(out, "wheel", (0.0, 0.0), o.radius * px);
        out.push_str("</g>");
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(label: &str, bend: f64) -> MotionRun {
        let moment = |i: i32| {
            let t = f64::from(i) * 0.01;
            Moment {
                time: t,
                place: [20.0 * t, bend * t * t],
                yaw: 2.0 * bend * t / 20.0,
                pitch: 0.01 * (1.0 - (-3.0 * t).exp()),
                rise: -0.01,
                steer: 0.02,
                load: [0.3, 0.28, 0.22, 0.2],
            }
        };
        MotionRun { label: label.into(), moments: (0..200).map(moment).collect() }
    }

    fn spec(runs: Vec<MotionRun>) -> MotionSpec {
        MotionSpec {
            key: "braked turn".into(),
            title: "brakes <in> a turn".into(),
            runs,
            outline: Outline { wheelbase: 2.5, track: [1.5, 1.5], radius: 0.3, height: 0.5 },
            width: 900.0,
            height: 520.0,
        }
    }

    #[test]
    fn every_run_moves_from_its_start_to_its_end() {
        let svg = motion(&spec(vec![run("as drawn", 2.0), run("C", 2.5)]));
        assert!(svg.contains("brakedturnplay.click") && svg.contains("dur=\"1.990s\""));
        for list in svg.split("keyTimes=\"").skip(1) {
            let times: Vec<f64> =
                list.split('"').next().unwrap().split(';').map(|t| t.parse().unwrap()).collect();
            let values =
                list.split("values=\"").nth(1).unwrap().split('"').next().unwrap().split(';').count();
            assert!(times.windows(2).all(|w| w[0] < w[1]) && times[0] == 0.0 && times.last() == Some(&1.0));
            assert!(times.len() == values && values <= KEYS + 2);
        }
        assert!(svg.len() < 150_000 && !svg.contains("NaN") && svg.contains("&lt;in&gt;"));
        assert!(svg.contains("10 times as large"));
    }

    #[test]
    fn it_runs_to_the_right() {
        let mut back = run("back", 0.5);
        for m in &mut back.moments {
            m.place = [-m.place[0], -m.place[1]];
            m.yaw += std::f64::consts::PI;
        }
        let svg = motion(&spec(vec![back]));
        let values = svg.split("type=\"translate\"").nth(1).unwrap().split("values=\"").nth(1).unwrap();
        let x: Vec<f64> = values
            .split('"')
            .next()
            .unwrap()
            .split(';')
            .map(|p| p.split(',').next().unwrap().parse().unwrap())
            .collect();
        assert!(x.windows(2).all(|w| w[1] > w[0]), "{x:?}");
        assert!(x.iter().all(|x| (0.0..=900.0).contains(x)), "{x:?}");
    }

    #[test]
    fn odd_runs_are_drawn() {
        assert!(motion(&spec(Vec::new())).contains("nothing to draw"));
        let mut broken = run("a", 1.0);
        broken.moments[3].yaw = f64::NAN;
        broken.moments.truncate(5);
        let one = MotionRun { label: "b".into(), moments: broken.moments[..1].to_vec() };
        let odd = MotionSpec { width: f64::NAN, height: 0.0, ..spec(vec![broken, one]) };
        assert!(!motion(&odd).contains("NaN") && !motion(&odd).contains("inf"));
    }
}
