//! The kind `links`: bodies and joints of one's own, for what no named kind describes.

use linkage::Frame;
use suspension::scheme::{Direction, JointKind, PointOn, RACK, Scheme};
use units::Dimension;

use super::Parts;
use crate::entry::{Entry, shorten};
use crate::point;
use crate::reader::Section;
use crate::suggest;

const TYPES: [&str; 5] = ["rod", "ball", "hinge", "line", "plane"];

/// Reads `bodies`, `[X.rack]`, `[X.joint.NAME]` and `steering-axis`. `None` when the bodies are not known.
pub(crate) fn read(axle: &Section<'_>, parts: &mut Parts<'_>) -> Option<()> {
    let bodies = bodies(axle);
    let rack = axle.section("rack");
    let has_rack = rack.is_some();
    if let Some(rack) = rack {
        let travel = rack.need("travel", "how far it moves each way from straight ahead");
        parts.rack_travel =
            travel.and_then(|travel| travel.positive(Dimension::Length)).map(|value| value.value);
        rack.finish(None);
        parts.scheme.rack_axis = Some([0.0, 1.0, 0.0]);
    }
    parts.scheme.bodies = bodies?;
    let sections = axle.named_sections("joint");
    if sections.is_empty() {
        axle.missing(&format!("`[{}.joint.NAME]`", axle.path), "the joints that hold its bodies");
    }
    let mut complete = Some(());
    for (name, section) in sections {
        let sink = section.sink;
        let header = section.span.clone();
        let joint = joint(section, &name, has_rack, parts);
        match joint {
            Some(kind) if frames(&kind).0 == frames(&kind).1 => {
                sink.error(&header, format!("joint `{name}` has the same body on both sides"), None);
                complete = None;
            }
            Some(kind) => parts.scheme.add_joint(format!("joint.{name}"), kind),
            None => complete = None,
        }
    }
    for (index, body) in parts.scheme.bodies.iter().enumerate() {
        let frame = Frame::Body(index);
        let held = parts.scheme.joints.iter().any(|joint| {
            let (a, b) = frames(&joint.kind);
            a == frame || b == frame
        });
        if !held && complete.is_some() {
            axle.sink.error(
                &axle.span_of("bodies"),
                format!("no joint holds the body `{body}`"),
                format!("name it in the `between` of some `[{}.joint.NAME]`", axle.path),
            );
            complete = None;
        }
    }
    steering_axis(axle, &mut parts.scheme);
    complete
}

/// The names of the bodies, the upright first.
fn bodies(axle: &Section<'_>) -> Option<Vec<String>> {
    let entry = axle.need("bodies", "the names of the moving parts, such as [\"upright\", \"rocker\"]")?;
    let Some(items) = entry.items() else {
        entry.error(
            format!("`{}` is {}, where a list of names is wanted", entry.path, entry.found()),
            "for example [\"upright\", \"rocker\"]".to_string(),
        );
        return None;
    };
    let mut names: Vec<String> = Vec::new();
    for item in items {
        let name = item.text("the name of a body")?.trim().to_string();
        if ["ground", "rack", ""].contains(&name.as_str()) {
            item.error(
                format!("a body cannot be called \"{name}\""),
                "ground and rack are there anyway".to_string(),
            );
            return None;
        }
        if names.contains(&name) {
            item.error(format!("the body `{}` is named twice", shorten(&name)), None);
            return None;
        }
        names.push(name);
    }
    let Some(upright) = names.iter().position(|name| name == "upright") else {
        let near = suggest::nearest("upright", names.iter().map(String::as_str));
        entry.error(
            format!("`{}` needs \"upright\": the part that carries the wheel", entry.path),
            near.map(|near| format!("`{near}` should read `upright`")),
        );
        return None;
    };
    if let Some(before) = names.get_mut(..=upright) {
        before.rotate_right(1);
    }
    Some(names)
}

/// The two sides of a joint.
fn frames(kind: &JointKind) -> (Frame, Frame) {
    match *kind {
        JointKind::Rod { a, b } => (a.frame, b.frame),
        JointKind::Ball { a, b, .. } | JointKind::Hinge { a, b, .. } => (a, b),
        JointKind::OnLine { line, point, .. } => (line, point.frame),
        JointKind::InPlane { plane, point, .. } => (plane, point.frame),
        // A link is kept level against the fixed body.
        JointKind::Level { body, .. } => (body, Frame::Ground),
    }
}

fn joint(section: Section<'_>, name: &str, has_rack: bool, parts: &mut Parts<'_>) -> Option<JointKind> {
    let all = TYPES.map(|word| format!("\"{word}\"")).join(", ");
    let word =
        section.need("type", &format!("what it is, one of {all}")).and_then(|entry| entry.word(&TYPES));
    let between = between(&section, &parts.scheme, has_rack);
    let Some(word) = word else {
        section.leave();
        return None;
    };
    let mut reader = Points { section: &section, name, parts };
    let kind = reader.kind(word, between);
    section.finish(None);
    kind
}

/// The two frames of `between`.
fn between(section: &Section<'_>, scheme: &Scheme, has_rack: bool) -> Option<(Frame, Frame)> {
    let entry = section.need("between", "what it joins, such as [\"ground\", \"upright\"]")?;
    let items = entry.items().unwrap_or_default();
    let [first, second] = items.as_slice() else {
        entry.error(
            format!("`{}` must name the two things that are joined", entry.path),
            "for example [\"ground\", \"upright\"]".to_string(),
        );
        return None;
    };
    let (first, second) = (frame(first, scheme, has_rack), frame(second, scheme, has_rack));
    Some((first?, second?))
}

fn frame(entry: &Entry<'_>, scheme: &Scheme, has_rack: bool) -> Option<Frame> {
    let text = entry.text("the name of a body")?.trim();
    match text {
        "ground" => return Some(Frame::Ground),
        "rack" if has_rack => return Some(Frame::Carriage(RACK)),
        "rack" => {
            entry.error(
                "there is no rack on this axle".to_string(),
                "add its table `rack` with its `travel` each way".to_string(),
            );
            return None;
        }
        _ => {}
    }
    let found = scheme.bodies.iter().position(|body| body == text);
    if found.is_none() {
        let names = scheme.bodies.iter().map(String::as_str).chain(["ground", "rack"]);
        entry.error(format!("there is no body `{}`", shorten(text)), suggest::hint(text, names));
    }
    found.map(Frame::Body)
}

/// Reads the points of one joint into the scheme and the book.
struct Points<'a, 'd, 'f> {
    section: &'a Section<'d>,
    name: &'a str,
    parts: &'a mut Parts<'f>,
}

impl Points<'_, '_, '_> {
    fn kind(&mut self, word: &str, between: Option<(Frame, Frame)>) -> Option<JointKind> {
        match word {
            "rod" => {
                let from = self.point("from", "its end on the first one");
                let to = self.point("to", "its end on the second one");
                let (a, b) = between?;
                Some(JointKind::Rod {
                    a: PointOn { frame: a, point: from? },
                    b: PointOn { frame: b, point: to? },
                })
            }
            "ball" => {
                let point = self.point("at", "the middle of the ball");
                let (a, b) = between?;
                Some(JointKind::Ball { a, b, point: point? })
            }
            "hinge" => {
                let from = self.point("at", "a point on the hinge's axis");
                let to = self.point("through", "another point on the hinge's axis");
                let (a, b) = between?;
                Some(JointKind::Hinge { a, b, from: from?, to: to? })
            }
            "line" => self.line(between),
            _ => {
                let point = self.point("at", "the point that stays in the plane");
                let normal =
                    self.section.need("normal", "the direction square to the plane, as [dx, dy, dz]");
                let normal = normal.and_then(|entry| point::direction(&entry));
                let (plane, frame) = between?;
                let normal = self.parts.book.placing.turn(normal?).into();
                Some(JointKind::InPlane { plane, normal, point: PointOn { frame, point: point? } })
            }
        }
    }

    fn line(&mut self, between: Option<(Frame, Frame)>) -> Option<JointKind> {
        let point = self.point("at", "the point that stays on the line");
        let along = match (self.section.entry("along"), self.section.has("through")) {
            (Some(entry), false) => {
                let direction = point::direction(&entry);
                direction.map(|direction| Direction::Fixed(self.parts.book.placing.turn(direction).into()))
            }
            (Some(entry), true) => {
                self.section.entry("through");
                entry.error(
                    format!("joint `{}` has both `along` and `through`", self.name),
                    "one of them says where the line goes".to_string(),
                );
                None
            }
            (None, true) => self.point("through", "another point on the line").map(Direction::Toward),
            (None, false) => {
                self.section
                    .missing("`along` or `through`", "where the line goes: a direction or a second point");
                None
            }
        };
        let (line, frame) = between?;
        let point = point?;
        Some(JointKind::OnLine { line, from: point, along: along?, point: PointOn { frame, point } })
    }

    fn point(&mut self, key: &str, what: &str) -> Option<usize> {
        let name = format!("joint.{}.{key}", self.name);
        self.parts.book.need(self.section, key, &name, what)?;
        Some(self.parts.scheme.add_point(name))
    }
}

/// The two balls (lower, upper) that the wheel is steered about.
fn steering_axis(axle: &Section<'_>, scheme: &mut Scheme) {
    let Some(entry) = axle.entry("steering-axis") else { return };
    let items = entry.items().unwrap_or_default();
    let [lower, upper] = items.as_slice() else {
        entry.error(
            format!("`{}` must name two points, the lower one first", entry.path),
            "for example [\"joint.lower.at\", \"joint.upper.at\"]".to_string(),
        );
        return;
    };
    let find = |entry: &Entry<'_>| {
        let name = entry.text("the name of a point")?.trim();
        let found = scheme.point(name);
        if found.is_none() {
            let hint = suggest::hint(name, scheme.points.iter().map(String::as_str));
            entry.error(format!("there is no point `{}`", shorten(name)), hint);
        }
        found
    };
    if let (Some(lower), Some(upper)) = (find(lower), find(upper)) {
        if lower == upper {
            entry.error(format!("`{}` names the same point twice", entry.path), None);
        } else {
            scheme.steering_axis = Some((lower, upper));
        }
    }
}
