//! The lightest stock that holds: for every link, bolt, weld and group of the frame's tubes, in all cases and all positions.
//!
//! Links, bolts and welds do not change the forces in each other, so each is tried by itself, the lightest first. Tubes of a
//! frame do: every group takes the lightest section that holds under the present forces, the frame is solved anew, and so on
//! until no group changes; then all are checked once more. That finds a light frame, not surely the lightest one.

use project::model::{AxleBuild, BracketReading, BuildReading, Car, End, FrameReading};
use steel::section::{Section, Shape};
use steel::stock::{self, BoltSize, Size};
use units::LengthUnit;

use super::frame::Ready;
use super::part::{Made, Part, PartKind};
use super::wall::Wall;
use super::work::Work;
use super::{bracket, link};

/// Rounds of a frame; it takes two or three.
const ROUNDS: usize = 8;

/// Outer size of a tube over the thread of the insert in its end, at least (common practice).
const ROUND_A_THREAD: f64 = 1.5;

/// Legs of fillet welds that are tried [m]: what one lays in one run, and beyond that in several.
const LEGS: [f64; 9] = [3e-3, 4e-3, 5e-3, 6e-3, 7e-3, 8e-3, 10e-3, 12e-3, 15e-3];

/// What would do.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// What it is.
    pub kind: PartKind,
    /// Axle; `None` for the frame.
    pub end: Option<End>,
    /// The part, or the group of tubes that have the same section in the file.
    pub name: String,
    /// What it is made of now, as written; empty where the file says nothing.
    pub now: String,
    /// How many times its loads that holds, in the worst case of the worst position.
    pub now_holds: Option<f64>,
    /// The lightest that holds as often as is wanted; `None` where no stock size does.
    pub lightest: Option<String>,
    /// How many times its loads that holds.
    pub holds: Option<f64>,
    /// Mass against what there is now, both sides [kg].
    pub lighter: Option<f64>,
}

/// Least outer size [m].
fn width(shape: &Shape) -> f64 {
    match *shape {
        Shape::Round { diameter, .. } | Shape::Bar { diameter } => diameter,
        Shape::Box { height, width, .. } | Shape::Flat { height, width } => height.min(width),
    }
}

/// Everything worked through, position by position.
pub(super) struct Sizing<'a, 'w> {
    pub car: &'a Car,
    pub build: &'a BuildReading,
    pub end: End,
    pub works: &'a [&'w Work<'w>],
}

impl Sizing<'_, '_> {
    /// Proposals for all parts of the axle and the frame.
    pub fn all(&self) -> Vec<Proposal> {
        let mut out = Vec::new();
        if let Some(parts) = self.build.axle(self.end) {
            out.extend(self.links(parts));
            out.extend(self.bolts(parts));
            out.extend(self.welds(parts));
        }
        if let Some(frame) = &self.build.frame {
            out.extend(self.frame(frame));
        }
        out
    }

    fn inches(&self) -> bool {
        matches!(self.car.units.length, LengthUnit::Inch | LengthUnit::Foot)
    }

    /// Stock of a family that is sold where the car is built, the lightest first.
    fn family(&self, like: &Shape) -> Vec<(&'static Size, Section)> {
        let all = match like {
            Shape::Round { .. } => stock::tubes(),
            Shape::Box { .. } => stock::boxes(),
            Shape::Bar { .. } => stock::bars(),
            Shape::Flat { .. } => stock::flats(),
        };
        let here = all.iter().filter(|size| size.name.ends_with(" in") == self.inches());
        let mut sized: Vec<_> = here.filter_map(|size| Some((size, Section::of(size.shape).ok()?))).collect();
        sized.sort_by(|a, b| a.1.area.total_cmp(&b.1.area));
        sized
    }

    fn made<'m>(&'m self, parts: &'m AxleBuild) -> Option<Made<'m>> {
        Some(Made { axle: self.car.axle(self.end)?, parts, grade: &self.build.grade })
    }

    /// How often a part of a kind holds in every position; no further than to one where that is less than enough.
    fn holds(&self, parts: &AxleBuild, kind: PartKind, name: &str, enough: f64) -> Option<f64> {
        let made = self.made(parts)?;
        let mut least = f64::INFINITY;
        for work in self.works {
            let (loaded, forces) = work.axle(self.end)?;
            let parts = match kind {
                PartKind::Link | PartKind::RodEnd => link::one(&made, name, forces),
                _ => bracket::named(&made, loaded, name, forces),
            };
            let part = parts.into_iter().find(|part| part.kind == kind)?;
            least = least.min(part.worst()?.check.holds());
            if least < enough {
                break;
            }
        }
        Some(least)
    }

    /// The parts of a kind, in the first position.
    fn of_kind(&self, parts: &AxleBuild, kind: PartKind) -> Vec<Part> {
        let (Some(made), Some(work)) = (self.made(parts), self.works.first()) else { return Vec::new() };
        let Some((loaded, forces)) = work.axle(self.end) else { return Vec::new() };
        let found = match kind {
            PartKind::Link => link::links(&made, forces),
            _ => bracket::brackets(&made, loaded, forces),
        };
        found.into_iter().filter(|part| part.kind == kind).collect()
    }

    fn links(&self, parts: &AxleBuild) -> Vec<Proposal> {
        let usual = Shape::Round { diameter: 0.02, wall: 0.002 };
        let mut out = Vec::new();
        for part in self.of_kind(parts, PartKind::Link) {
            let own = parts.link(&part.name);
            let like = own.section.as_ref().map_or(usual, |(_, shape)| *shape);
            let now_holds = self.holds(parts, PartKind::Link, &part.name, 0.0);
            let least = own.thread.map_or(0.0, |bolt| ROUND_A_THREAD * bolt.thread.diameter);
            let found = self.family(&like).into_iter().find_map(|(size, section)| {
                if own.housed != Some(true) && width(&size.shape) < least {
                    return None;
                }
                let tried = parts.with_section(&part.name, (size.name.clone(), size.shape));
                let holds = self.holds(&tried, PartKind::Link, &part.name, self.build.wanted)?;
                (holds >= self.build.wanted).then_some((size, section, holds))
            });
            // An arm that is no beam has nothing to try.
            if found.is_none() && now_holds.is_none() {
                continue;
            }
            let now = own.section.as_ref().and_then(|(_, shape)| Section::of(*shape).ok());
            let density = own.grade.as_ref().unwrap_or(&self.build.grade).density;
            let length = self.length(&part.name);
            let lighter = now
                .zip(found.as_ref())
                .zip(length)
                .map(|((now, (_, section, _)), length)| 2.0 * (now.area - section.area) * length * density);
            out.push(Proposal {
                kind: PartKind::Link,
                end: Some(self.end),
                name: part.name.clone(),
                now: own.section.as_ref().map_or_else(String::new, |(text, _)| text.clone()),
                now_holds,
                lightest: found.as_ref().map(|(size, ..)| size.name.clone()),
                holds: found.map(|f| f.2),
                lighter,
            });
        }
        out
    }

    /// Length of a link as drawn [m].
    fn length(&self, name: &str) -> Option<f64> {
        let axle = self.car.axle(self.end)?;
        let (_, a, b) = axle.scheme.lengths().find(|(own, ..)| *own == name)?;
        Some((axle.points.get(a)?.at - axle.points.get(b)?.at).norm())
    }

    fn bolts(&self, parts: &AxleBuild) -> Vec<Proposal> {
        let mut sizes: Vec<&'static BoltSize> = stock::bolts()
            .iter()
            .filter(|bolt| bolt.name.starts_with('M') != self.inches() && !bolt.name.contains('x'))
            .collect();
        sizes.sort_by(|a, b| a.stress_area.total_cmp(&b.stress_area));
        self.bracket_parts(parts, PartKind::Bolt, |reading| {
            sizes
                .iter()
                .map(|size| {
                    let mut own = reading.clone();
                    own.bolt = Some(*size);
                    own.hole = None;
                    (format!("{} {}", size.name, own.class.map_or("", |class| &class.name)), own)
                })
                .collect()
        })
    }

    fn welds(&self, parts: &AxleBuild) -> Vec<Proposal> {
        self.bracket_parts(parts, PartKind::Weld, |reading| {
            LEGS.iter()
                .map(|leg| {
                    let mut own = reading.clone();
                    own.weld = Some(*leg);
                    (format!("leg {:.0} mm", leg * 1e3), own)
                })
                .collect()
        })
    }

    /// Tries what `tries` makes of a bracket, in its order.
    fn bracket_parts(
        &self,
        parts: &AxleBuild,
        kind: PartKind,
        tries: impl Fn(&BracketReading) -> Vec<(String, BracketReading)>,
    ) -> Vec<Proposal> {
        let mut out = Vec::new();
        for part in self.of_kind(parts, kind) {
            let Some(point) = self.car.axle(self.end).and_then(|axle| axle.scheme.point(&part.name)) else {
                continue;
            };
            let now_holds = self.holds(parts, kind, &part.name, 0.0);
            let (reading, _) = parts.bracket(point);
            let found = tries(reading).into_iter().find_map(|(words, own)| {
                let holds =
                    self.holds(&parts.with_bracket(point, own), kind, &part.name, self.build.wanted)?;
                (holds >= self.build.wanted).then_some((words, holds))
            });
            if found.is_none() && now_holds.is_none() {
                continue;
            }
            out.push(Proposal {
                kind,
                end: Some(self.end),
                name: part.name.clone(),
                now: part.made_of.clone(),
                now_holds,
                lightest: found.as_ref().map(|f| f.0.clone()),
                holds: found.map(|f| f.1),
                lighter: None,
            });
        }
        out
    }

    /// Groups of tubes by the section that the file gives them.
    fn frame(&self, frame: &FrameReading) -> Vec<Proposal> {
        let mut groups: Vec<String> = frame.tubes.iter().map(|t| t.section.0.clone()).collect();
        groups.sort();
        groups.dedup();
        let group_of = |tube: &str| frame.tubes.iter().find(|t| t.name == tube).map(|t| t.section.0.clone());
        let Some(now) = self.least_by_tube(frame) else { return Vec::new() };
        let mut tried = frame.clone();
        let mut settled = false;
        for _ in 0..ROUNDS {
            let Some(next) = self.round(frame, &groups, &tried) else { break };
            let same = next.tubes.iter().zip(&tried.tubes).all(|(a, b)| a.section.0 == b.section.0);
            tried = next;
            if same {
                settled = true;
                break;
            }
        }
        let after = self.least_by_tube(&tried).filter(|_| settled);
        let least = |list: &[(String, f64)], group: &str| {
            let own = list.iter().filter(|(tube, _)| group_of(tube).as_deref() == Some(group));
            own.map(|(_, holds)| *holds).fold(f64::INFINITY, f64::min)
        };
        groups
            .iter()
            .map(|group| {
                let at = frame.tubes.iter().position(|t| t.section.0 == *group);
                let section = at.and_then(|i| tried.tubes.get(i)).map(|t| t.section.0.clone());
                let holds = after.as_ref().map(|list| least(list, group)).filter(|h| *h >= self.build.wanted);
                Proposal {
                    kind: PartKind::Tube,
                    end: None,
                    name: format!("all tubes of {group}"),
                    now: group.clone(),
                    now_holds: Some(least(&now, group)),
                    lightest: section.filter(|_| holds.is_some()),
                    holds,
                    lighter: self.lighter(frame, &tried, group).filter(|_| holds.is_some()),
                }
            })
            .collect()
    }

    /// How often each tube holds in every position.
    fn least_by_tube(&self, frame: &FrameReading) -> Option<Vec<(String, f64)>> {
        let ready = Ready::new(self.build, frame).ok()?;
        let mut least: Vec<(String, f64)> = Vec::new();
        for work in self.works {
            let responses = ready.solve(&work.loads_of(&ready)).ok()?;
            let mut take = |tube: &str, holds: f64| match least.iter_mut().find(|(name, _)| name == tube) {
                Some((_, own)) => *own = own.min(holds),
                None => least.push((tube.to_string(), holds)),
            };
            for part in ready.parts(&responses) {
                take(&part.name, part.holds());
            }
            for wall in work.walls(self.car, self.build, &ready) {
                let holds = wall.part(&ready, &responses, None).holds();
                let tubes = wall.tubes().into_iter().filter_map(|tube| ready.tube_words(tube));
                tubes.for_each(|(name, _)| take(&name, holds));
            }
        }
        Some(least)
    }

    /// Every group with the lightest section that holds under the forces of the frame as tried.
    fn round(&self, frame: &FrameReading, groups: &[String], tried: &FrameReading) -> Option<FrameReading> {
        let ready = Ready::new(self.build, tried).ok()?;
        let responses: Option<Vec<_>> =
            self.works.iter().map(|work| ready.solve(&work.loads_of(&ready)).ok()).collect();
        let responses = responses?;
        let walls: Vec<_> = self.works.iter().map(|work| work.walls(self.car, self.build, &ready)).collect();
        let mut next = tried.clone();
        for group in groups {
            let members: Vec<usize> = (0..frame.tubes.len())
                .filter(|i| frame.tubes.get(*i).is_some_and(|t| t.section.0 == *group))
                .collect();
            let like = members.first().and_then(|i| frame.tubes.get(*i))?.section.1;
            let found = self.family(&like).into_iter().find(|(_, section)| {
                let enough = |holds: f64| holds >= self.build.wanted;
                let tubes_hold = members.iter().all(|tube| {
                    let mut all = responses.iter().flatten();
                    all.all(|response| enough(ready.tube_holds(response, *tube, section)))
                });
                tubes_hold
                    && walls.iter().zip(&responses).all(|(walls, responses)| {
                        let stands =
                            |wall: &&Wall<'_>| wall.tubes().iter().any(|tube| members.contains(tube));
                        let mut own = walls.iter().filter(stands);
                        own.all(|wall| enough(wall.part(&ready, responses, Some(section)).holds()))
                    })
            });
            let (size, _) = found?;
            for tube in members.iter() {
                if let Some(tube) = next.tubes.get_mut(*tube) {
                    tube.section = (size.name.clone(), size.shape);
                }
            }
        }
        Some(next)
    }

    fn lighter(&self, frame: &FrameReading, tried: &FrameReading, group: &str) -> Option<f64> {
        let mass = |of: &FrameReading| {
            let ready = Ready::new(self.build, of).ok()?;
            let tubes = frame.tubes.iter().enumerate().filter(|(_, t)| t.section.0 == group);
            Some(tubes.map(|(i, _)| ready.tube_mass(i)).sum::<f64>())
        };
        Some(mass(frame)? - mass(tried)?)
    }
}
