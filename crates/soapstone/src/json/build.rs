//! `soapstone.build/1`: load cases, forces, margins, the frame, sizes and the cut list.

use project::model::{Car, End};
use serde::Serialize;
use study::build::{AxleForces, Build, Case, CutPiece, FrameResult, NOT_COVERED, Part, Position, Proposal};

use super::{CAUTION, xyz};

#[derive(Serialize)]
struct BuildOut {
    schema: &'static str,
    car: String,
    /// Which holes are in use.
    place: String,
    axle: Option<&'static str>,
    /// How many times its loads a part is to hold.
    wanted: f64,
    cases: Vec<CaseOut>,
    axles: Vec<AxleOut>,
    /// The weakest first.
    parts: Vec<PartOut>,
    positions: Vec<PositionOut>,
    frame: Option<FrameOut>,
    proposals: Vec<ProposalOut>,
    cut_list: CutListOut,
    not_covered: [&'static str; 7],
    lacks: Vec<LackOut>,
    notes: Vec<String>,
    caution: &'static str,
}

#[derive(Serialize)]
struct CaseOut {
    name: String,
    title: String,
    why: String,
    braking_m_per_s2: f64,
    cornering_m_per_s2: f64,
    driving_m_per_s2: f64,
    factor: f64,
    /// Force of the road at the contact of front left, front right, rear left, rear right, the right ones mirrored.
    road_n: [[f64; 3]; 4],
    strike_n: [[f64; 3]; 4],
    jack_n: Option<f64>,
}

#[derive(Serialize)]
struct AxleOut {
    axle: &'static str,
    /// One a case.
    cases: Vec<AxleCaseOut>,
}

#[derive(Serialize)]
struct AxleCaseOut {
    travel_m: [f64; 2],
    sides: [SideOut; 2],
}

#[derive(Serialize)]
struct SideOut {
    links: Vec<LinkOut>,
    bent: Vec<BentOut>,
    /// Forces on the body of the car.
    pickups: Vec<PickupOut>,
    unbalanced: f64,
}

#[derive(Serialize)]
struct LinkOut {
    link: String,
    tension_n: f64,
}

#[derive(Serialize)]
struct BentOut {
    link: String,
    greatest_bending_n_m: f64,
}

#[derive(Serialize)]
struct PickupOut {
    point: String,
    at_m: [f64; 3],
    force_n: [f64; 3],
}

#[derive(Serialize)]
struct PartOut {
    kind: &'static str,
    axle: Option<&'static str>,
    name: String,
    made_of: String,
    /// `null` where nothing could be checked.
    holds: Option<f64>,
    checks: Vec<CheckOut>,
    lacks: Vec<String>,
}

#[derive(Serialize)]
struct CheckOut {
    what: &'static str,
    case: String,
    right: bool,
    demand: f64,
    capacity: f64,
    unit: &'static str,
    holds: Option<f64>,
    formula: &'static str,
    source: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    outside: Option<&'static str>,
}

#[derive(Serialize)]
struct PositionOut {
    name: String,
    setups: Vec<String>,
    holds: Option<f64>,
    weakest: Option<String>,
    gives_way: Option<&'static str>,
    greatest_link: Option<String>,
    greatest_tension_n: Option<f64>,
    /// The axle with the link there, one a case.
    cases: Vec<AxleCaseOut>,
    toe_gives_deg: Option<f64>,
    camber_gives_deg: Option<f64>,
    refused: Option<String>,
}

#[derive(Serialize)]
struct FrameOut {
    mass_kg: f64,
    centre_m: [f64; 3],
    unbalanced: f64,
    tubes: Vec<TubeOut>,
    feet: Vec<FootOut>,
    pickups: Vec<GiveOut>,
}

#[derive(Serialize)]
struct TubeOut {
    name: String,
    /// Share of its capacity in use in each case, 1 where it just holds what is wanted.
    uses: Vec<f64>,
}

#[derive(Serialize)]
struct FootOut {
    node: String,
    case: String,
    /// On the shell.
    force_n: [f64; 3],
    moment_n_m: [f64; 3],
}

#[derive(Serialize)]
struct GiveOut {
    pickup: String,
    node: String,
    stiffness_n_per_m: [f64; 3],
    moves_m: f64,
    case: String,
}

#[derive(Serialize)]
struct ProposalOut {
    kind: &'static str,
    name: String,
    now: String,
    now_holds: Option<f64>,
    lightest: Option<String>,
    holds: Option<f64>,
    lighter_kg: Option<f64>,
}

#[derive(Serialize)]
struct CutListOut {
    pieces: Vec<PieceOut>,
    stock: Vec<StockOut>,
    mass_kg: f64,
    centre_m: [f64; 3],
}

#[derive(Serialize)]
struct PieceOut {
    name: String,
    count: usize,
    section: String,
    grade: String,
    between_nodes_m: f64,
    length_m: f64,
    mass_kg: f64,
    ends: Vec<EndOut>,
}

#[derive(Serialize)]
struct EndOut {
    cut: &'static str,
    against: Option<String>,
    angle_deg: f64,
    depth_m: Option<f64>,
}

#[derive(Serialize)]
struct StockOut {
    section: String,
    length_m: f64,
    bars_of_6_m: Option<usize>,
    mass_kg: f64,
}

#[derive(Serialize)]
struct LackOut {
    what: String,
    write: String,
}

/// The stage.
pub(crate) fn build(car: &Car, place: &str, build: &Build) -> impl Serialize {
    BuildOut {
        schema: "soapstone.build/1",
        car: car.name.clone(),
        place: place.to_string(),
        axle: build.end.map(|end| end.name()),
        wanted: build.wanted,
        cases: build.cases.iter().map(case).collect(),
        axles: build
            .axles
            .iter()
            .map(|(end, cases)| AxleOut { axle: end.name(), cases: axle_cases(cases, car, *end) })
            .collect(),
        parts: build.parts.iter().map(|p| part(p, build)).collect(),
        positions: build.positions.iter().map(|p| position(p, car, build.end)).collect(),
        frame: build.frame.as_ref().map(|f| frame(f, build)),
        proposals: build.proposals.iter().map(proposal).collect(),
        cut_list: CutListOut {
            pieces: build.cuts.pieces.iter().map(piece).collect(),
            stock: build
                .cuts
                .stock
                .iter()
                .map(|need| StockOut {
                    section: need.section.clone(),
                    length_m: need.length,
                    bars_of_6_m: need.bars,
                    mass_kg: need.mass,
                })
                .collect(),
            mass_kg: build.cuts.mass,
            centre_m: xyz(&build.cuts.centre),
        },
        not_covered: NOT_COVERED,
        lacks: build.lacks.iter().map(|l| LackOut { what: l.what.clone(), write: l.hint.clone() }).collect(),
        notes: build.notes.clone(),
        caution: CAUTION,
    }
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn case(case: &Case) -> CaseOut {
    let [[a, b], [c, d]] = &case.wheels;
    let wheels = [a, b, c, d];
    CaseOut {
        name: case.name.clone(),
        title: case.title.clone(),
        why: case.why.clone(),
        braking_m_per_s2: case.braking,
        cornering_m_per_s2: case.cornering,
        driving_m_per_s2: case.driving,
        factor: case.factor,
        road_n: wheels.map(|w| xyz(&w.road)),
        strike_n: wheels.map(|w| xyz(&w.strike)),
        jack_n: case.jack.map(|(.., force)| force),
    }
}

fn axle_cases(cases: &[AxleForces], car: &Car, end: End) -> Vec<AxleCaseOut> {
    let points = car.axle(end).map_or(&[][..], |axle| &axle.scheme.points);
    cases.iter().map(|forces| axle_case(forces, points)).collect()
}

fn axle_case(forces: &AxleForces, points: &[String]) -> AxleCaseOut {
    let side = |side: &steel::load::Forces| SideOut {
        links: side.legs.iter().map(|l| LinkOut { link: l.name.clone(), tension_n: l.tension }).collect(),
        bent: side
            .carried
            .iter()
            .map(|c| BentOut {
                link: c.name.clone(),
                greatest_bending_n_m: c
                    .cuts
                    .iter()
                    .map(|cut| (cut.bending.powi(2) - cut.in_plane.powi(2)).max(0.0).sqrt())
                    .fold(0.0, f64::max),
            })
            .collect(),
        pickups: side
            .pickups
            .iter()
            .map(|p| PickupOut {
                point: points.get(p.point).cloned().unwrap_or_default(),
                at_m: xyz(&p.place),
                force_n: xyz(&p.force),
            })
            .collect(),
        unbalanced: side.unbalanced,
    };
    let [left, right] = &forces.sides;
    AxleCaseOut { travel_m: forces.travel, sides: [side(left), side(right)] }
}

fn unit(measure: steel::Measure) -> &'static str {
    match measure {
        steel::Measure::Force => "N",
        steel::Measure::Moment => "N m",
        steel::Measure::Stress => "Pa",
        steel::Measure::Length => "m",
        steel::Measure::Area => "m^2",
        steel::Measure::Modulus => "m^3",
        steel::Measure::SecondMoment => "m^4",
        steel::Measure::Number => "1",
    }
}

fn part(part: &Part, build: &Build) -> PartOut {
    PartOut {
        kind: part.kind.words(),
        axle: part.end.map(|end| end.name()),
        name: part.name.clone(),
        made_of: part.made_of.clone(),
        holds: finite(part.holds()),
        checks: part
            .checks
            .iter()
            .map(|judged| CheckOut {
                what: judged.check.failure.title(),
                case: build.case_title(judged.case).to_string(),
                right: judged.right,
                demand: judged.check.demand,
                capacity: judged.check.capacity,
                unit: unit(judged.check.measure),
                holds: finite(judged.check.holds()),
                formula: judged.check.failure.formula(),
                source: judged.check.failure.source(),
                outside: judged.check.outside,
            })
            .collect(),
        lacks: part.lacks.clone(),
    }
}

fn position(p: &Position, car: &Car, end: Option<End>) -> PositionOut {
    PositionOut {
        name: p.name.clone(),
        setups: p.setups.clone(),
        holds: p.least.as_ref().and_then(|l| finite(l.holds)),
        weakest: p.least.as_ref().map(|l| l.part.clone()),
        gives_way: p.least.as_ref().map(|l| l.failure),
        greatest_link: p.greatest.as_ref().map(|g| g.link.clone()),
        greatest_tension_n: p.greatest.as_ref().map(|g| g.tension),
        cases: end.map_or_else(Vec::new, |end| axle_cases(&p.forces, car, end)),
        toe_gives_deg: p.flex.map(|f| f.toe.to_degrees()),
        camber_gives_deg: p.flex.map(|f| f.camber.to_degrees()),
        refused: p.refused.clone(),
    }
}

fn frame(frame: &FrameResult, build: &Build) -> FrameOut {
    FrameOut {
        mass_kg: frame.mass,
        centre_m: xyz(&frame.centre),
        unbalanced: frame.unbalanced,
        tubes: frame.tubes.iter().map(|t| TubeOut { name: t.name.clone(), uses: t.uses.clone() }).collect(),
        feet: frame
            .feet
            .iter()
            .map(|foot| FootOut {
                node: foot.node.clone(),
                case: build.case_title(foot.case).to_string(),
                force_n: xyz(&foot.force),
                moment_n_m: xyz(&foot.moment),
            })
            .collect(),
        pickups: frame
            .gives
            .iter()
            .map(|give| GiveOut {
                pickup: give.name.clone(),
                node: give.node.clone(),
                stiffness_n_per_m: give.stiffness,
                moves_m: give.moves,
                case: build.case_title(give.case).to_string(),
            })
            .collect(),
    }
}

fn proposal(p: &Proposal) -> ProposalOut {
    ProposalOut {
        kind: p.kind.words(),
        name: p.name.clone(),
        now: p.now.clone(),
        now_holds: p.now_holds.and_then(finite),
        lightest: p.lightest.clone(),
        holds: p.holds.and_then(finite),
        lighter_kg: p.lighter,
    }
}

fn piece(piece: &CutPiece) -> PieceOut {
    use study::build::EndCut;
    let end = |cut: &EndCut| match cut {
        EndCut::Square => EndOut { cut: "square", against: None, angle_deg: 0.0, depth_m: None },
        EndCut::Mitre { with, angle } => {
            EndOut { cut: "mitre", against: Some(with.clone()), angle_deg: angle.to_degrees(), depth_m: None }
        }
        EndCut::Face { onto, angle } => {
            EndOut { cut: "flat", against: Some(onto.clone()), angle_deg: angle.to_degrees(), depth_m: None }
        }
        EndCut::Saddle { onto, angle, depth } => EndOut {
            cut: "saddle",
            against: Some(onto.clone()),
            angle_deg: angle.to_degrees(),
            depth_m: Some(*depth),
        },
    };
    PieceOut {
        name: piece.name.clone(),
        count: piece.count,
        section: piece.section.clone(),
        grade: piece.grade.clone(),
        between_nodes_m: piece.between,
        length_m: piece.length,
        mass_kg: piece.mass,
        ends: piece.ends.iter().map(end).collect(),
    }
}
