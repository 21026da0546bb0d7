//! The frame that the pickups hang from: loads on its nodes, what its tubes carry, what its feet hand to the shell, how far
//! the pickups give and what that does to toe and camber.

use nalgebra::Vector3;
use project::model::{BuildReading, End, FrameReading};
use steel::frame::{Factored, Foot, Frame, Hold, Joint, Load, Node, Response, Tie, Tube, TubeEnd};
use steel::part::{Internal, Member};
use steel::section::Section;

use super::case::Case;
use super::forces::{AxleForces, Loaded};
use super::part::{Part, PartKind};
use super::work::Work;
use crate::whole::Lack;

/// Buckling length of a tube between welded joints over its length: taken as if its ends were balls, on the safe side.
const WELDED_ENDS: f64 = 1.0;

/// What a foot hands to the shell.
#[derive(Clone, Debug, PartialEq)]
pub struct FootLoad {
    /// Node.
    pub node: String,
    /// Case of the largest force, by its index.
    pub case: usize,
    /// On the shell: force [N] and moment [N m].
    pub force: Vector3<f64>,
    /// Moment [N m].
    pub moment: Vector3<f64>,
}

/// How a pickup gives.
#[derive(Clone, Debug, PartialEq)]
pub struct PickupGive {
    /// Axle and point in the file's words.
    pub name: String,
    /// Node that carries it.
    pub node: String,
    /// Stiffness along x, y, z: a force there over the movement along it [N/m].
    pub stiffness: [f64; 3],
    /// Movement in every case, left side [m].
    pub moved: Vec<Vector3<f64>>,
    /// Largest movement in any case [m].
    pub moves: f64,
    /// That case, by its index.
    pub case: usize,
}

/// One tube as it is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct TubeUse {
    /// Its name.
    pub name: String,
    /// Points of its axis at rest [m].
    pub rest: Vec<Vector3<f64>>,
    /// How far each of them moves, in every case [m].
    pub moves: Vec<Vec<Vector3<f64>>>,
    /// Share of what it may bear that is used, in every case: 1 where it just holds as often as is wanted.
    pub uses: Vec<f64>,
}

/// A force on the frame.
#[derive(Clone, Debug, PartialEq)]
pub struct PickupLoad {
    /// The pickup in the file's words.
    pub name: String,
    /// Where it acts [m].
    pub at: Vector3<f64>,
    /// Force [N].
    pub force: Vector3<f64>,
}

/// The frame with the holes in use.
#[derive(Clone, Debug, Default)]
pub struct FrameResult {
    /// Tubes, for the drawing.
    pub tubes: Vec<TubeUse>,
    /// Feet.
    pub feet: Vec<FootLoad>,
    /// Where it stands on the shell [m].
    pub stands: Vec<(String, Vector3<f64>)>,
    /// What the pickups and a jack put on it in every case.
    pub loads: Vec<Vec<PickupLoad>>,
    /// Pickups on it, left side.
    pub gives: Vec<PickupGive>,
    /// Nodes with their names [m].
    pub nodes: Vec<(String, Vector3<f64>)>,
    /// Largest part of any load that is left out of balance.
    pub unbalanced: f64,
    /// Mass of the tubes by their centre lines [kg], and its centre [m].
    pub mass: f64,
    /// Centre [m].
    pub centre: Vector3<f64>,
}

/// A frame ready for loads.
#[derive(Clone, Debug)]
pub(crate) struct Ready {
    reading: FrameReading,
    pub frame: Frame,
    pub factored: Factored,
}

impl Ready {
    /// # Errors
    /// The frame cannot stand, or has a section that no tube has.
    pub fn new(build: &BuildReading, reading: &FrameReading) -> Result<Self, Lack> {
        let frame = lower(build, reading)?;
        let factored = frame.factor().map_err(|e| Lack {
            what: format!("the frame cannot be worked out: {e}"),
            hint: "look at the tubes, feet and balls of `[build.frame]`".into(),
        })?;
        Ok(Self { reading: reading.clone(), frame, factored })
    }

    /// What the pickups of a case put on the nodes; the left pickup on its node, the right one on that node's twin.
    pub fn loads(&self, case: &Case, axles: &[(End, &AxleForces, &Loaded<'_>)]) -> Vec<Load> {
        self.loads_by_pickup(case, axles).into_iter().map(|(.., load)| load).collect()
    }

    /// The same with the axle and the point of each.
    fn loads_by_pickup(
        &self,
        case: &Case,
        axles: &[(End, &AxleForces, &Loaded<'_>)],
    ) -> Vec<(End, usize, Load)> {
        let mut loads = Vec::new();
        for pickup in &self.reading.carries {
            let Some(own) = self.reading.nodes.get(pickup.node) else { continue };
            let nodes = if own.at.at.y >= 0.0 { [pickup.node, own.twin] } else { [own.twin, pickup.node] };
            let Some((_, forces, loaded)) = axles.iter().find(|(end, ..)| *end == pickup.end) else {
                continue;
            };
            for (node, side) in nodes.into_iter().zip(&forces.sides) {
                let Some(at) = self.frame.nodes.get(node).map(|n| n.at) else { continue };
                for force in side.pickups.iter().filter(|p| p.point == pickup.point) {
                    let load = Load { node, arm: force.place - at, force: force.force, moment: force.moment };
                    loads.push((pickup.end, pickup.point, load));
                }
            }
            if let Some((end, point, up)) = case.jack
                && end == pickup.end
                && point == pickup.point
                && let (Some(place), Some(at)) =
                    (loaded.point(point), self.frame.nodes.get(nodes[0]).map(|n| n.at))
            {
                let load = Load {
                    node: nodes[0],
                    arm: place - at,
                    force: Vector3::z() * up,
                    moment: Vector3::zeros(),
                };
                loads.push((end, point, load));
            }
        }
        loads
    }

    /// Solves all cases.
    ///
    /// # Errors
    /// Loads that are not finite.
    pub fn solve(&self, loads: &[Vec<Load>]) -> Result<Vec<Response>, Lack> {
        self.factored.solve(loads).map_err(|e| Lack {
            what: format!("the frame cannot be worked out: {e}"),
            hint: "look at the load cases in `[build.case]`".into(),
        })
    }

    /// Checks of every tube, once for both sides.
    pub fn parts(&self, responses: &[Response]) -> Vec<Part> {
        let mut parts: Vec<Part> = Vec::new();
        for (index, (tube, read)) in self.frame.tubes.iter().zip(&self.reading.tubes).enumerate() {
            let Some(length) = self.frame.line(index).map(|[a, b]| (b - a).norm()) else { continue };
            let member =
                Member { section: &tube.section, grade: &tube.grade, length, end_factor: WELDED_ENDS };
            // A mirror image stands behind the tube that it mirrors.
            if !read.mirrored {
                let made_of = format!("{}, {}", read.section.0, tube.grade.name);
                parts.push(Part::new(PartKind::Tube, None, &read.name, made_of));
            }
            let Some(part) = parts.last_mut() else { continue };
            for (case, response) in responses.iter().enumerate() {
                for internal in ends(response, index) {
                    match member.checks(&internal) {
                        Ok(checks) => part.take(checks, case, read.mirrored),
                        Err(e) => part.lacks.push(e.to_string()),
                    }
                }
            }
        }
        parts.into_iter().map(Part::sorted).collect()
    }

    /// All that is shown of the frame.
    pub fn result(
        &self,
        responses: &[Response],
        wanted: f64,
        work: &Work<'_>,
        names: &dyn Fn(End, usize) -> String,
    ) -> FrameResult {
        let mass = self.frame.mass();
        let axles: Vec<_> = work.axles.iter().map(|(loaded, _)| (loaded.end, loaded)).collect();
        let node = |node: usize| self.frame.nodes.get(node);
        let loads = (0..work.cases.len()).map(|case| {
            let all = work.cases.get(case).map(|of| self.loads_by_pickup(of, &work.in_case(case)));
            let all = all.unwrap_or_default().into_iter();
            let named = all.filter_map(|(end, point, load)| {
                let at = node(load.node)?.at + load.arm;
                Some(PickupLoad { name: names(end, point), at, force: load.force })
            });
            named.filter(|load| load.force.norm() > 0.0).collect()
        });
        FrameResult {
            loads: loads.collect(),
            stands: self
                .frame
                .feet
                .iter()
                .filter_map(|foot| node(foot.node).map(|n| (n.name.clone(), n.at)))
                .collect(),
            tubes: self.drawn(responses, wanted),
            feet: self.feet(responses),
            gives: self.gives(responses, &axles, names),
            nodes: self.frame.nodes.iter().map(|n| (n.name.clone(), n.at)).collect(),
            unbalanced: responses.iter().map(|r| r.unbalanced).fold(0.0, f64::max),
            mass: mass.mass,
            centre: mass.centre,
        }
    }

    fn drawn(&self, responses: &[Response], wanted: f64) -> Vec<TubeUse> {
        let tubes = self.frame.tubes.iter().zip(&self.reading.tubes).enumerate();
        tubes
            .filter_map(|(index, (tube, read))| {
                let [from, to] = self.frame.line(index)?;
                let member = Member {
                    section: &tube.section,
                    grade: &tube.grade,
                    length: (to - from).norm(),
                    end_factor: WELDED_ENDS,
                };
                let uses = responses.iter().map(|response| {
                    let checks = ends(response, index).filter_map(|i| member.checks(&i).ok()).flatten();
                    checks.map(|check| wanted / check.holds()).fold(0.0, f64::max)
                });
                let places = (0..=PIECES).map(|k| k as f64 / PIECES as f64);
                let rest = places.clone().map(|t| from + (to - from) * t).collect();
                let moves = responses.iter().map(|response| {
                    places
                        .clone()
                        .map(|t| self.factored.moved(response, index, t).unwrap_or_default())
                        .collect()
                });
                Some(TubeUse { name: read.name.clone(), rest, moves: moves.collect(), uses: uses.collect() })
            })
            .collect()
    }

    fn feet(&self, responses: &[Response]) -> Vec<FootLoad> {
        let feet = self.frame.feet.iter().enumerate();
        feet.filter_map(|(index, foot)| {
            let held = |(case, r): (usize, &Response)| r.feet.get(index).map(|w| (case, *w));
            let all = responses.iter().enumerate().filter_map(held);
            let (case, held) = all.max_by(|a, b| a.1.force.norm().total_cmp(&b.1.force.norm()))?;
            let node = self.frame.nodes.get(foot.node)?.name.clone();
            Some(FootLoad { node, case, force: -held.force, moment: -held.moment })
        })
        .collect()
    }

    fn gives(
        &self,
        responses: &[Response],
        axles: &[(End, &Loaded<'_>)],
        names: &dyn Fn(End, usize) -> String,
    ) -> Vec<PickupGive> {
        let pickups = self.reading.carries.iter();
        pickups
            .filter_map(|pickup| {
                let (_, loaded) = axles.iter().find(|(end, _)| *end == pickup.end)?;
                let place = loaded.point(pickup.point)?;
                let node = self.left(pickup.node)?;
                let at = self.frame.nodes.get(node)?;
                let arm = place - at.at;
                let give = self.factored.give(node, &arm).ok()?;
                let stiffness = [0, 1, 2].map(|k| 1.0 / give[(k, k)]);
                let at_case = |r: &Response| r.moves.get(node).map_or_else(Vector3::zeros, |m| m.at(&arm));
                let moved: Vec<Vector3<f64>> = responses.iter().map(at_case).collect();
                let all = moved.iter().map(|m| m.norm()).enumerate();
                let (case, moves) = all.max_by(|a, b| a.1.total_cmp(&b.1))?;
                Some(PickupGive {
                    name: names(pickup.end, pickup.point),
                    node: at.name.clone(),
                    stiffness,
                    moved,
                    moves,
                    case,
                })
            })
            .collect()
    }

    /// The node on the left of two twins.
    fn left(&self, node: usize) -> Option<usize> {
        let own = self.reading.nodes.get(node)?;
        Some(if own.at.at.y >= 0.0 { node } else { own.twin })
    }

    /// Movement of the pickups of an axle on the side (0 left) in a response, by point [m].
    pub fn moved(
        &self,
        response: &Response,
        end: End,
        side: usize,
        loaded: &Loaded<'_>,
    ) -> Vec<(usize, Vector3<f64>)> {
        let pickups = self.reading.carries.iter().filter(|pickup| pickup.end == end);
        pickups
            .filter_map(|pickup| {
                let left = self.left(pickup.node)?;
                let node = if side == 0 { left } else { self.reading.nodes.get(left)?.twin };
                let mut place = loaded.point(pickup.point)?;
                if side == 1 {
                    place.y = -place.y;
                }
                let arm = place - self.frame.nodes.get(node)?.at;
                Some((pickup.point, response.moves.get(node)?.at(&arm)))
            })
            .collect()
    }

    /// How often a tube would hold its forces in a response if it had another section.
    pub fn tube_holds(&self, response: &Response, tube: usize, section: &Section) -> f64 {
        let (Some(own), Some([a, b])) = (self.frame.tubes.get(tube), self.frame.line(tube)) else {
            return 0.0;
        };
        let member = Member { section, grade: &own.grade, length: (b - a).norm(), end_factor: WELDED_ENDS };
        let checks = ends(response, tube).filter_map(|i| member.checks(&i).ok()).flatten();
        checks.map(|check| check.holds()).fold(f64::INFINITY, f64::min)
    }

    /// Mass of a tube by its centre line [kg].
    pub fn tube_mass(&self, tube: usize) -> f64 {
        let length = self.frame.line(tube).map_or(0.0, |[a, b]| (b - a).norm());
        self.frame.tubes.get(tube).map_or(0.0, |t| length * t.section.mass_per_metre(t.grade.density))
    }

    /// Pickups of an axle that hang from the frame, with the nodes of the left and of the right.
    pub fn carried(&self, end: End) -> impl Iterator<Item = (usize, [usize; 2])> + '_ {
        let own = self.reading.carries.iter().filter(move |pickup| pickup.end == end);
        own.filter_map(|pickup| {
            let left = self.left(pickup.node)?;
            Some((pickup.point, [left, self.reading.nodes.get(left)?.twin]))
        })
    }

    /// Of the tubes that end at a node the one that runs most nearly along a direction: tube and end, and the sine between.
    pub fn tube_along(&self, node: usize, along: &Vector3<f64>) -> Option<((usize, usize), f64)> {
        let all = self.frame.tubes.iter().enumerate().filter_map(|(index, tube)| {
            let at = tube.ends.iter().position(|end| end.node == node)?;
            let [a, b] = self.frame.line(index)?;
            Some(((index, at), (b - a).try_normalize(0.0)?.cross(along).norm()))
        });
        all.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// Name of a tube and its section as written.
    pub fn tube_words(&self, tube: usize) -> Option<(String, String)> {
        let read = self.reading.tubes.get(tube)?;
        Some((read.name.clone(), read.section.0.clone()))
    }

    /// Whether a pickup of an axle hangs from the frame.
    pub fn carries_any(&self, end: End) -> bool {
        self.reading.carries.iter().any(|pickup| pickup.end == end)
    }

    /// Whether a pickup hangs from the frame.
    pub fn carries(&self, end: End, point: usize) -> bool {
        self.reading.carries.iter().any(|pickup| pickup.end == end && pickup.point == point)
    }
}

/// Straight pieces in which a bent tube is drawn.
const PIECES: usize = 8;

/// Internal forces at both ends of a tube: nothing acts in between, so the worst is at one of them.
pub(super) fn ends(response: &Response, tube: usize) -> impl Iterator<Item = Internal> + '_ {
    let forces = response.tubes.get(tube).copied().unwrap_or_default();
    [0.0, 1.0].into_iter().map(move |t| {
        let inner = forces.at(t);
        Internal {
            axial: inner.axial,
            shear_y: inner.shear_y,
            shear_z: inner.shear_z,
            torque: inner.torque,
            bending_y: inner.moment_y,
            bending_z: inner.moment_z,
        }
    })
}

/// The frame of the file as `steel` wants it.
pub(super) fn lower(build: &BuildReading, reading: &FrameReading) -> Result<Frame, Lack> {
    let nodes = reading.nodes.iter().map(|n| Node { name: n.name.clone(), at: n.at.at }).collect();
    let tubes = reading.tubes.iter().map(|tube| {
        let section = Section::of(tube.section.1).map_err(|e| Lack {
            what: format!("the tube `{}`: {e}", tube.name),
            hint: "write its `section` like \"box 60x40x3\" or \"tube 25x2.5\"".into(),
        })?;
        let [a, b] = tube.ends;
        let [ball_a, ball_b] = tube.balls;
        let end = |node, ball| TubeEnd {
            node,
            offset: Vector3::zeros(),
            joint: if ball { Joint::Ball } else { Joint::Welded },
        };
        Ok(Tube {
            name: tube.name.clone(),
            ends: [end(a, ball_a), end(b, ball_b)],
            up: tube.up,
            section,
            grade: tube.grade.clone().unwrap_or_else(|| build.grade.clone()),
        })
    });
    let hold = |rate: f64| match rate {
        r if r <= 0.0 => Hold::Free,
        r if r.is_infinite() => Hold::Fixed,
        r => Hold::Spring(r),
    };
    Ok(Frame {
        nodes,
        tubes: tubes.collect::<Result<_, Lack>>()?,
        ties: reading.plates.iter().map(|p| Tie { name: p.name.clone(), nodes: p.nodes.clone() }).collect(),
        feet: reading
            .feet
            .iter()
            .map(|foot| {
                let [x, y, z] = foot.rate.map(hold);
                let [a, b, c] = foot.turn_rate.map(hold);
                Foot { node: foot.node, hold: [x, y, z, a, b, c] }
            })
            .collect(),
    })
}
