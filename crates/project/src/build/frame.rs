//! `[build.frame]`: nodes, tubes, plates, feet, and which node each pickup hangs from. What is off the centre plane is
//! mirrored, so that one side is enough, as everywhere in the file.

use units::Dimension;

use super::{Axles, grade, section as shape};
use crate::axle::Context;
use crate::entry::{Entry, shorten};
use crate::model::{FrameFoot, FrameNode, FramePickup, FramePlate, FrameReading, FrameTube, RIGHT};
use crate::point::{self, Placing};
use crate::reader::Section;
use crate::suggest;

/// Most nodes and most tubes of one side.
const MOST: usize = 400;

/// A node this near to the centre plane stands in it \[m\].
const IN_THE_MIDDLE: f64 = 0.5e-3;

/// Nodes as they are found.
struct Nodes(Vec<FrameNode>);

impl Nodes {
    fn find(&self, entry: &Entry<'_>) -> Option<usize> {
        let name = entry.text("the name of a node")?.trim();
        let found = self.0.iter().position(|node| node.name == name);
        if found.is_none() {
            entry.error(
                format!("there is no node `{}`", shorten(name)),
                suggest::hint(name, self.0.iter().map(|node| node.name.as_str())),
            );
        }
        found
    }

    fn twin(&self, node: usize) -> usize {
        self.0.get(node).map_or(node, |n| n.twin)
    }
}

pub(super) fn read(section: Section<'_>, context: &Context<'_>, axles: Axles<'_>) -> Option<FrameReading> {
    let mirror = section.entry("mirror").and_then(|entry| entry.truth()).unwrap_or(true);
    let placing = Placing { frame: context.frame, accuracy: context.accuracy, mirrored: false };
    let mut nodes = Nodes(Vec::new());
    if let Some(table) = section.need_section("nodes", "its nodes, as name = [x, y, z]") {
        read_nodes(&table, &placing, mirror, &mut nodes);
        table.finish(None);
    }
    let mut tubes = Vec::new();
    for (index, table) in section.array_of_sections("tube").into_iter().enumerate() {
        if index == MOST {
            table.sink.error(&table.span, format!("there are more than {MOST} tubes"), None);
            table.leave();
            break;
        }
        tube(table, &placing, &nodes, mirror, &mut tubes);
    }
    let mut plates: Vec<FramePlate> = Vec::new();
    for table in section.array_of_sections("plate") {
        plate(table, &nodes, mirror, &mut plates);
    }
    let mut feet: Vec<FrameFoot> = Vec::new();
    for table in section.array_of_sections("foot") {
        foot(table, &nodes, mirror, &mut feet);
    }
    let carries = match section.section("carries") {
        Some(table) => carries(&table, &nodes, axles),
        None => {
            section.missing(
                "`[build.frame.carries]`",
                "which node each pickup hangs from, as \"rear.link.NAME.body\" = \"NODE\"",
            );
            Vec::new()
        }
    };
    let span = section.span.clone();
    section.finish(None);
    (!nodes.0.is_empty()).then_some(FrameReading { nodes: nodes.0, tubes, plates, feet, carries, span })
}

fn read_nodes(table: &Section<'_>, placing: &Placing<'_>, mirror: bool, nodes: &mut Nodes) {
    for key in table.keys() {
        let Some(entry) = table.entry(key) else { continue };
        if nodes.0.len() >= 2 * MOST {
            entry.error(format!("there are more than {MOST} nodes"), None);
            return;
        }
        let Some(written) = point::read(&entry) else { continue };
        let mut at = placing.place(written);
        if key.ends_with(RIGHT) && mirror {
            entry.sink.error(
                &entry.key_span,
                format!("the node `{}` has the ending of what is mirrored", shorten(key)),
                "give it another name, or write `mirror = false` and give both sides".to_string(),
            );
            continue;
        }
        let own = nodes.0.len();
        let middle = at.at.y.abs() <= IN_THE_MIDDLE;
        if mirror && middle {
            at.at.y = 0.0;
        }
        let twin = if mirror && !middle { own + 1 } else { own };
        nodes.0.push(FrameNode { name: key.to_string(), at: at.clone(), twin });
        if twin != own {
            at.at.y = -at.at.y;
            nodes.0.push(FrameNode { name: format!("{key}{RIGHT}"), at, twin: own });
        }
    }
}

fn tube(table: Section<'_>, placing: &Placing<'_>, nodes: &Nodes, mirror: bool, tubes: &mut Vec<FrameTube>) {
    let end = |key: &str, what: &str| table.need(key, what).and_then(|entry| nodes.find(&entry));
    let (from, to) = (end("from", "the node where it begins"), end("to", "the node where it ends"));
    let section =
        table.need("section", "what it is, such as \"box 60x40x3\"").and_then(|entry| shape(&entry));
    let grade = table.entry("grade").and_then(|entry| grade(&entry));
    let up = table.entry("up").and_then(|entry| point::direction(&entry)).map(|v| placing.turn(v));
    let ball = table.word("balls", &["none", "both", "from", "to"]);
    let balls = match ball {
        Some("both") => [true; 2],
        Some("from") => [true, false],
        Some("to") => [false, true],
        _ => [false; 2],
    };
    let name = table
        .entry("name")
        .and_then(|entry| Some(entry.text("the name of a tube")?.trim().to_string()))
        .filter(|name| !name.is_empty());
    let (sink, span) = (table.sink, table.span.clone());
    table.finish(None);
    let (Some(from), Some(to), Some(section)) = (from, to, section) else { return };
    let label = |node: usize| nodes.0.get(node).map_or("", |n| n.name.as_str());
    let name = name.unwrap_or_else(|| format!("{} to {}", label(from), label(to)));
    if tubes.iter().any(|tube| tube.name == name) {
        sink.error(
            &span,
            format!("there are two tubes called `{}`", shorten(&name)),
            "give one of them a `name`".to_string(),
        );
        return;
    }
    let twins = [nodes.twin(from), nodes.twin(to)];
    let itself = twins == [from, to] || twins == [to, from];
    let tube = FrameTube { name, ends: [from, to], balls, section, grade, up, mirrored: false, span };
    let twin = FrameTube {
        name: format!("{}{RIGHT}", tube.name),
        ends: twins,
        up: up.map(|mut v| {
            v.y = -v.y;
            v
        }),
        mirrored: true,
        ..tube.clone()
    };
    tubes.push(tube);
    if mirror && !itself {
        tubes.push(twin);
    }
}

fn plate(table: Section<'_>, nodes: &Nodes, mirror: bool, plates: &mut Vec<FramePlate>) {
    let named = table.entry("name").and_then(|entry| entry.text("the name of a plate"));
    let name = named.map_or_else(|| format!("plate {}", plates.len() + 1), |name| name.trim().to_string());
    let entry = table.need("nodes", "the nodes that it makes one stiff piece, such as [\"a\", \"b\", \"c\"]");
    let found: Option<Vec<usize>> = entry.as_ref().and_then(|entry| {
        let items = entry.items().unwrap_or_default();
        if items.len() < 2 {
            entry.error(format!("`{}` must name two nodes or more", entry.path), None);
            return None;
        }
        items.iter().map(|item| nodes.find(item)).collect()
    });
    table.finish(None);
    let Some(found) = found else { return };
    let mut twins: Vec<usize> = found.iter().map(|node| nodes.twin(*node)).collect();
    let mut own = found.clone();
    plates.push(FramePlate { name: name.clone(), nodes: found });
    twins.sort_unstable();
    own.sort_unstable();
    if mirror && twins != own {
        plates.push(FramePlate { name: format!("{name}{RIGHT}"), nodes: twins });
    }
}

fn foot(table: Section<'_>, nodes: &Nodes, mirror: bool, feet: &mut Vec<FrameFoot>) {
    let node = table.need("at", "the node where it meets the shell").and_then(|entry| nodes.find(&entry));
    let hold = table.word("hold", &["fixed", "ball"]);
    let rate = table.entry("rate").and_then(|entry| three(&entry, Dimension::Rate));
    let turn = table.entry("turn-rate").and_then(|entry| three(&entry, Dimension::Torque));
    if hold.is_none() && rate.is_none() && !table.has("hold") && !table.has("rate") {
        table.missing("`hold` or `rate`", "\"fixed\", \"ball\", or how stiff the shell is there in N/mm");
    }
    let (sink, span) = (table.sink, table.span.clone());
    table.finish(None);
    let Some(node) = node else { return };
    if feet.iter().any(|foot| foot.node == node) {
        sink.error(&span, "that node has a foot already".to_string(), None);
        return;
    }
    let still = f64::INFINITY;
    let foot = FrameFoot {
        node,
        rate: rate.unwrap_or([still; 3]),
        turn_rate: turn.unwrap_or(if hold == Some("fixed") { [still; 3] } else { [0.0; 3] }),
    };
    let twin = nodes.twin(node);
    feet.push(foot.clone());
    if mirror && twin != node {
        feet.push(FrameFoot { node: twin, ..foot });
    }
}

/// One rate for all directions, or three.
fn three(entry: &Entry<'_>, dimension: Dimension) -> Option<[f64; 3]> {
    let read = match entry.items() {
        Some(_) => entry.list(dimension)?,
        None => vec![entry.quantity(dimension)?],
    };
    let sound = read.iter().all(|v| v.value >= 0.0);
    match read.as_slice() {
        [one] if sound => Some([one.value; 3]),
        [x, y, z] if sound => Some([x.value, y.value, z.value]),
        _ => {
            entry.error(
                format!("`{}` must be one rate, or three along x, y, z, none below zero", entry.path),
                None,
            );
            None
        }
    }
}

fn carries(table: &Section<'_>, nodes: &Nodes, axles: Axles<'_>) -> Vec<FramePickup> {
    let mut found = Vec::new();
    for key in table.keys() {
        let Some(entry) = table.entry(key) else { continue };
        let (Some((end, point)), Some(node)) = (axles.point(&entry, key), nodes.find(&entry)) else {
            continue;
        };
        found.push(FramePickup { end, point, node });
    }
    found
}
