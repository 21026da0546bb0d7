//! The JSON that leaves the program, declared here once. Every object carries `schema`, a name and a version;
//! a change that could break a reader gets a new number. Values are SI, angles in degrees, points in ISO 8855
//! axes with the origin on the ground under the middle of the front axle, whatever the file's units.

use nalgebra::Vector3;
use project::model::{Axle, Car, Plate};
use project::{Diagnostic, Severity, line_column};
use serde::Serialize;
use study::{
    Choice, Estimate, Found, Quantity, Remedy, RollSweep, Scale, Stop, Subject, Sweep, Wish, Worked,
};
use suspension::{AxisSource, AxleEnd};

/// Unit of a quantity's value in JSON and the factor from SI.
fn unit(scale: Scale) -> (&'static str, f64) {
    let degree = 1f64.to_degrees();
    match scale {
        Scale::Percent | Scale::Ratio => ("1", 1.0),
        Scale::Length => ("m", 1.0),
        Scale::Angle => ("deg", degree),
        Scale::LengthPerTravel => ("m/m", 1.0),
        Scale::AnglePerTravel => ("deg/m", degree),
        Scale::AnglePerAngle => ("deg/deg", 1.0),
        Scale::Rate => ("N/m", 1.0),
        Scale::Turns => ("turns", 1.0),
    }
}

fn xyz(v: &Vector3<f64>) -> [f64; 3] {
    [v.x, v.y, v.z]
}

/// A value with its standard uncertainty.
#[derive(Serialize)]
struct Doubtful {
    value: f64,
    standard_uncertainty: f64,
}

impl Doubtful {
    fn new(e: &Estimate, factor: f64) -> Self {
        Self { value: e.value * factor, standard_uncertainty: e.uncertainty() * factor }
    }
}

#[derive(Serialize)]
struct SweepOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    kind: String,
    stations: Vec<StationOut>,
    stops: Vec<StopOut>,
}

#[derive(Serialize)]
struct StationOut {
    travel_m: f64,
    rack_m: f64,
    #[serde(flatten)]
    wheel: WheelOut,
    elements: Vec<ElementOut>,
    steering: Option<SteeringOut>,
    toe_per_rack_deg_per_m: Option<f64>,
}

#[derive(Serialize)]
struct WheelOut {
    wheel_centre_m: [f64; 3],
    contact_m: [f64; 3],
    toe_deg: f64,
    camber_deg: f64,
    toe_gain_deg_per_m: f64,
    camber_gain_deg_per_m: f64,
    contact_dx_dz: f64,
    contact_dy_dz: f64,
    centre_dx_dz: f64,
    centre_dy_dz: f64,
    roll_centre_height_m: f64,
    side_view_turning_deg_per_m: f64,
    half_track_gain: f64,
}

impl WheelOut {
    fn new(m: &suspension::Measures<f64>) -> Self {
        Self {
            wheel_centre_m: xyz(&m.centre),
            contact_m: xyz(&m.contact),
            toe_deg: m.toe.to_degrees(),
            camber_deg: m.camber.to_degrees(),
            toe_gain_deg_per_m: m.toe_gain.to_degrees(),
            camber_gain_deg_per_m: m.camber_gain.to_degrees(),
            contact_dx_dz: m.contact_dx_dz(),
            contact_dy_dz: m.contact_dy_dz(),
            centre_dx_dz: m.centre_dx_dz(),
            centre_dy_dz: m.centre_dy_dz(),
            roll_centre_height_m: m.roll_centre_height(),
            side_view_turning_deg_per_m: m.side_view_turning().to_degrees(),
            half_track_gain: m.half_track_gain(),
        }
    }
}

#[derive(Serialize)]
struct ElementOut {
    name: String,
    length_m: f64,
    motion_ratio: f64,
    motion_ratio_rate_per_m: f64,
}

#[derive(Serialize)]
struct SteeringOut {
    axis: String,
    caster_deg: f64,
    inclination_deg: f64,
    trail_m: f64,
    scrub_radius_m: f64,
}

#[derive(Serialize)]
struct StopOut {
    asked: f64,
    reached_travel_m: f64,
    reached_rack_m: f64,
    why: String,
}

/// Where a steering axis comes from.
pub(crate) fn axis_words(axle: &Axle, source: AxisSource) -> String {
    match source {
        AxisSource::Balls => "through the outer balls".into(),
        AxisSource::Rack => "instantaneous, as the rack moves".into(),
        AxisSource::Link(joint) => {
            let name = axle.scheme.joints.get(joint).map_or("?", |j| j.name.as_str());
            format!("instantaneous, as `{name}` grows")
        }
    }
}

fn stop_out(stop: &Stop) -> StopOut {
    StopOut {
        asked: stop.asked,
        reached_travel_m: stop.reached,
        reached_rack_m: stop.rack,
        why: stop.words.clone(),
    }
}

/// A sweep of travel; `asked` of a stop is a travel [m].
pub(crate) fn travel_sweep(subject: &Subject<'_>, sweep: &Sweep) -> impl Serialize {
    let axle = subject.axle();
    let stations = sweep
        .stations
        .iter()
        .map(|s| StationOut {
            travel_m: s.measures.travel,
            rack_m: s.rack,
            wheel: WheelOut::new(&s.measures),
            elements: axle
                .scheme
                .elements
                .iter()
                .zip(&s.ratios)
                .map(|(e, r)| ElementOut {
                    name: e.name.clone(),
                    length_m: r.length,
                    motion_ratio: r.ratio,
                    motion_ratio_rate_per_m: r.ratio_rate,
                })
                .collect(),
            steering: s.steering.map(|a| SteeringOut {
                axis: axis_words(axle, a.source),
                caster_deg: a.caster.to_degrees(),
                inclination_deg: a.inclination.to_degrees(),
                trail_m: a.trail,
                scrub_radius_m: a.scrub_radius,
            }),
            toe_per_rack_deg_per_m: s.toe_per_rack.map(f64::to_degrees),
        })
        .collect();
    SweepOut {
        schema: "soapstone.sweep/1",
        car: subject.car().name.clone(),
        axle: axle.end.name(),
        kind: axle.kind.clone(),
        stations,
        stops: sweep.stops.iter().map(stop_out).collect(),
    }
}

#[derive(Serialize)]
struct RollOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    stations: Vec<RollStationOut>,
    stops: Vec<StopOut>,
}

#[derive(Serialize)]
struct RollStationOut {
    roll_deg: f64,
    rack_m: f64,
    left_travel_m: f64,
    right_travel_m: f64,
    /// The right wheel is in its own mirrored axes (y to the right).
    left: WheelOut,
    right: WheelOut,
    left_camber_to_road_deg: f64,
    right_camber_to_road_deg: f64,
    left_toe_per_roll: f64,
    right_toe_per_roll: f64,
    left_camber_to_road_per_roll: f64,
    right_camber_to_road_per_roll: f64,
    roll_centre: Option<RollCentreOut>,
}

#[derive(Serialize)]
struct RollCentreOut {
    height_m: f64,
    to_the_left_m: f64,
    trustworthy: bool,
}

/// A sweep of roll; `asked` of a stop is a roll [rad].
pub(crate) fn roll_sweep(subject: &Subject<'_>, sweep: &RollSweep) -> impl Serialize {
    let stations = sweep
        .stations
        .iter()
        .map(|s| {
            let (left, right) = s.state.camber_to_road();
            let ((toe_l, camber_l), (toe_r, camber_r)) = s.state.rates_by_roll();
            RollStationOut {
                roll_deg: s.state.roll.to_degrees(),
                rack_m: s.state.rack,
                left_travel_m: s.state.left.travel,
                right_travel_m: s.state.right.travel,
                left: WheelOut::new(&s.state.left),
                right: WheelOut::new(&s.state.right),
                left_camber_to_road_deg: left.to_degrees(),
                right_camber_to_road_deg: right.to_degrees(),
                left_toe_per_roll: toe_l,
                right_toe_per_roll: toe_r,
                left_camber_to_road_per_roll: camber_l,
                right_camber_to_road_per_roll: camber_r,
                roll_centre: s.state.roll_centre().map(|c| RollCentreOut {
                    height_m: c.height,
                    to_the_left_m: c.lateral,
                    trustworthy: c.crossing >= suspension::LEAST_CROSSING,
                }),
            }
        })
        .collect();
    RollOut {
        schema: "soapstone.roll/1",
        car: subject.car().name.clone(),
        axle: subject.axle().end.name(),
        stations,
        stops: sweep.stops.iter().map(stop_out).collect(),
    }
}

#[derive(Serialize)]
struct ChoiceOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    columns: Vec<ColumnOut>,
    rows: Vec<RowOut>,
    ties: Vec<TieOut>,
    missing: Vec<MissingOut>,
    uncertainty: &'static str,
    caution: &'static str,
}

#[derive(Serialize)]
struct ColumnOut {
    quantity: &'static str,
    title: &'static str,
    unit: &'static str,
    travel_m: Option<f64>,
}

#[derive(Serialize)]
struct RowOut {
    name: String,
    setups: Vec<String>,
    holes: Vec<HoleOut>,
    ruled_out: bool,
    notes: Vec<String>,
    values: Vec<Option<Doubtful>>,
    links: Vec<LinkOut>,
    left_as_is: Option<ShiftOut>,
}

#[derive(Serialize)]
struct HoleOut {
    end: String,
    name: String,
    at_m: [f64; 3],
}

#[derive(Serialize)]
struct LinkOut {
    link: String,
    drawn_m: f64,
    set_to_m: Doubtful,
    change_m: Doubtful,
    turns: Option<Doubtful>,
}

#[derive(Serialize)]
struct ShiftOut {
    wheelbase_m: Doubtful,
    toe_deg: Doubtful,
    camber_deg: Doubtful,
    put_back: Vec<TurnsOut>,
    left_after: LeftOut,
}

#[derive(Serialize)]
struct TurnsOut {
    link: String,
    turns: f64,
}

#[derive(Serialize)]
struct LeftOut {
    wheelbase_m: f64,
    toe_deg: f64,
    camber_deg: f64,
}

#[derive(Serialize)]
struct TieOut {
    rows: [String; 2],
    column: usize,
    difference: f64,
    standard_uncertainty: f64,
}

#[derive(Serialize)]
struct MissingOut {
    quantity: &'static str,
    reason: String,
}

const CAUTION: &str = "planning figures, not an approval: a structural change to a vehicle must be checked by a \
                       licensed engineer and satisfy local road law and the sanctioning body's rules";

/// The choice table.
pub(crate) fn choice(subject: &Subject<'_>, choice: &Choice) -> impl Serialize {
    let (end, axle) = (subject.end(), subject.axle());
    let columns = choice
        .columns
        .iter()
        .map(|c| ColumnOut {
            quantity: c.quantity.key(end),
            title: c.quantity.about(end).title,
            unit: unit(c.quantity.scale()).0,
            travel_m: c.travel,
        })
        .collect();
    let degree = 1f64.to_degrees();
    let rows = choice
        .rows
        .iter()
        .map(|row| RowOut {
            name: row.candidate.name.clone(),
            setups: row.candidate.setups.clone(),
            holes: row
                .candidate
                .holes
                .iter()
                .filter_map(|h| axle.holes.get(*h))
                .map(|h| HoleOut {
                    end: axle.scheme.points.get(h.point).cloned().unwrap_or_default(),
                    name: h.name.clone(),
                    at_m: xyz(&h.at.at),
                })
                .collect(),
            ruled_out: row.ruled_out,
            notes: row.notes.clone(),
            values: row
                .values
                .iter()
                .zip(&choice.columns)
                .map(|(v, c)| v.as_ref().map(|e| Doubtful::new(e, unit(c.quantity.scale()).1)))
                .collect(),
            links: row
                .links
                .iter()
                .map(|l| LinkOut {
                    link: l.joint.clone(),
                    drawn_m: l.drawn,
                    set_to_m: Doubtful::new(&l.length, 1.0),
                    change_m: Doubtful::new(&l.change, 1.0),
                    turns: l.turns.as_ref().map(|t| Doubtful::new(t, 1.0)),
                })
                .collect(),
            left_as_is: row.left_as_is.as_ref().map(|s| ShiftOut {
                wheelbase_m: Doubtful::new(&s.wheelbase, 1.0),
                toe_deg: Doubtful::new(&s.toe, degree),
                camber_deg: Doubtful::new(&s.camber, degree),
                put_back: s
                    .put_back
                    .turns
                    .iter()
                    .map(|(link, turns)| TurnsOut { link: link.clone(), turns: *turns })
                    .collect(),
                left_after: LeftOut {
                    wheelbase_m: s.put_back.left[0],
                    toe_deg: s.put_back.left[1].to_degrees(),
                    camber_deg: s.put_back.left[2].to_degrees(),
                },
            }),
        })
        .collect();
    let ties = choice
        .ties
        .iter()
        .map(|t| {
            let factor = unit(choice.columns[t.column].quantity.scale()).1;
            TieOut {
                rows: [t.a, t.b].map(|r| choice.rows[r].candidate.name.clone()),
                column: t.column,
                difference: t.difference * factor,
                standard_uncertainty: t.uncertainty * factor,
            }
        })
        .collect();
    ChoiceOut {
        schema: "soapstone.choice/1",
        car: subject.car().name.clone(),
        axle: axle.end.name(),
        columns,
        rows,
        ties,
        missing: choice
            .missing
            .iter()
            .map(|(q, reason)| MissingOut { quantity: q.key(end), reason: reason.clone() })
            .collect(),
        uncertainty: "one standard uncertainty (JCGM 100:2008, first order); rows tie where their difference is \
                      within two of its own",
        caution: CAUTION,
    }
}

#[derive(Serialize)]
struct HolesOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    plate: String,
    quantity: &'static str,
    unit: &'static str,
    wishes: Vec<f64>,
    placed: Vec<PlacedOut>,
    unmet: Vec<UnmetOut>,
    /// Where the wishes clash: the nearest set that keeps the spacing.
    instead: Option<Vec<PlacedOut>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct PlacedOut {
    wish: f64,
    value: f64,
    standard_uncertainty: Option<f64>,
    at_m: [f64; 3],
    along_m: f64,
    square_m: f64,
    link_length_m: Option<f64>,
    to_edge_m: f64,
    spacing_m: Option<f64>,
    per_m_along: f64,
    per_m_square: f64,
}

#[derive(Serialize)]
struct UnmetOut {
    wish: f64,
    reachable: Option<[f64; 2]>,
    nearest: Option<PlacedOut>,
    edge_in_diameters: Option<f64>,
    plate_larger_by_m: Option<f64>,
    plate_larger_toward_m: Option<[f64; 3]>,
    link_length_m: Option<f64>,
}

/// Holes found on a plate; `doubt` holds the estimates of the set shown (the placed one, or the one instead).
pub(crate) fn holes(
    subject: &Subject<'_>,
    plate: &Plate,
    wishes: &[Wish],
    found: &Found,
    doubt: &[Option<Estimate>],
) -> impl Serialize {
    let quantity = wishes.first().map_or(Quantity::AntiBraking, |w| w.quantity);
    let (name, factor) = unit(quantity.scale());
    let wish = |i: usize| wishes.get(i).map_or(f64::NAN, |w| w.value * factor);
    let out = |p: &study::Placed, estimate: Option<&Estimate>| PlacedOut {
        wish: wish(p.wish),
        value: p.value * factor,
        standard_uncertainty: estimate.map(|e| e.uncertainty() * factor),
        at_m: xyz(&p.at),
        along_m: p.on_plate.x,
        square_m: p.on_plate.y,
        link_length_m: p.link_length,
        to_edge_m: p.margin,
        spacing_m: p.spacing.is_finite().then_some(p.spacing),
        per_m_along: p.slope.x * factor,
        per_m_square: p.slope.y * factor,
    };
    let set = |list: &[study::Placed], doubtful: bool| -> Vec<PlacedOut> {
        let estimate = |i: usize| doubt.get(i).and_then(Option::as_ref).filter(|_| doubtful);
        list.iter().enumerate().map(|(i, p)| out(p, estimate(i))).collect()
    };
    HolesOut {
        schema: "soapstone.holes/1",
        car: subject.car().name.clone(),
        axle: subject.axle().end.name(),
        plate: plate.name.clone(),
        quantity: quantity.key(subject.end()),
        unit: name,
        wishes: (0..wishes.len()).map(wish).collect(),
        placed: set(&found.placed, found.instead.is_none()),
        unmet: found
            .unmet
            .iter()
            .map(|u| {
                let mut unmet = UnmetOut {
                    wish: wish(u.wish),
                    reachable: u.reachable.map(|(a, b)| [a * factor, b * factor]),
                    nearest: u.nearest.as_ref().map(|p| out(p, None)),
                    edge_in_diameters: None,
                    plate_larger_by_m: None,
                    plate_larger_toward_m: None,
                    link_length_m: None,
                };
                for remedy in &u.remedies {
                    match remedy {
                        Remedy::Edge(n) => unmet.edge_in_diameters = Some(*n),
                        Remedy::LargerPlate(more, place) => {
                            unmet.plate_larger_by_m = Some(*more);
                            unmet.plate_larger_toward_m = Some(xyz(place));
                        }
                        Remedy::LinkLength(l) => unmet.link_length_m = Some(*l),
                    }
                }
                unmet
            })
            .collect(),
        instead: found.instead.as_ref().map(|list| set(list, true)),
        caution: CAUTION,
    }
}

#[derive(Serialize)]
struct CheckOut {
    schema: &'static str,
    file: String,
    usable: bool,
    errors: usize,
    warnings: usize,
    diagnostics: Vec<DiagnosticOut>,
}

#[derive(Serialize)]
struct DiagnosticOut {
    severity: &'static str,
    message: String,
    line: Option<usize>,
    column: Option<usize>,
    hint: Option<String>,
}

/// What is wrong with a file.
pub(crate) fn check(name: &str, text: &str, car: Option<&Car>, diagnostics: &[Diagnostic]) -> impl Serialize {
    let count = |s: Severity| diagnostics.iter().filter(|d| d.severity == s).count();
    CheckOut {
        schema: "soapstone.check/1",
        file: name.to_string(),
        usable: car.is_some() && count(Severity::Error) == 0,
        errors: count(Severity::Error),
        warnings: count(Severity::Warning),
        diagnostics: diagnostics
            .iter()
            .map(|d| {
                let place = d.span.as_ref().map(|s| line_column(text, s.start));
                DiagnosticOut {
                    severity: match d.severity {
                        Severity::Error => "error",
                        Severity::Warning => "warning",
                        Severity::Note => "note",
                    },
                    message: d.message.clone(),
                    line: place.map(|p| p.0),
                    column: place.map(|p| p.1),
                    hint: d.hint.clone(),
                }
            })
            .collect(),
    }
}

#[derive(Serialize)]
struct WorkedOut {
    schema: &'static str,
    car: String,
    axle: &'static str,
    quantity: &'static str,
    title: &'static str,
    travel_m: f64,
    unit: &'static str,
    result: Option<Doubtful>,
    definition: &'static str,
    formula: &'static str,
    substituted: String,
    terms: Vec<TermOut>,
    source: &'static str,
    does: &'static str,
    does_not: &'static str,
    uncertainty_from: Vec<ShareOut>,
    remarks: Vec<String>,
}

#[derive(Serialize)]
struct TermOut {
    symbol: String,
    meaning: String,
    value: String,
}

#[derive(Serialize)]
struct ShareOut {
    input: String,
    share_of_variance: f64,
}

/// A worked number.
pub(crate) fn worked(
    subject: &Subject<'_>,
    quantity: Quantity,
    travel: f64,
    worked: &Worked,
) -> impl Serialize {
    let (name, factor) = unit(quantity.scale());
    let about = worked.about;
    WorkedOut {
        schema: "soapstone.explain/1",
        car: subject.car().name.clone(),
        axle: subject.axle().end.name(),
        quantity: quantity.key(subject.end()),
        title: about.title,
        travel_m: travel,
        unit: name,
        result: worked.result.as_ref().map(|r| Doubtful::new(r, factor)),
        definition: about.definition,
        formula: about.formula,
        substituted: worked.substituted.clone(),
        terms: worked
            .terms
            .iter()
            .map(|t| TermOut { symbol: t.symbol.clone(), meaning: t.meaning.clone(), value: t.value.clone() })
            .collect(),
        source: about.source,
        does: about.does,
        does_not: about.does_not,
        uncertainty_from: worked
            .sources_of_doubt
            .iter()
            .map(|(input, share)| ShareOut { input: input.clone(), share_of_variance: *share })
            .collect(),
        remarks: worked.remarks.clone(),
    }
}

#[derive(Serialize)]
struct QuantitiesOut {
    schema: &'static str,
    front: Vec<QuantityOut>,
    rear: Vec<QuantityOut>,
}

#[derive(Serialize)]
struct QuantityOut {
    quantity: &'static str,
    title: &'static str,
    unit: &'static str,
    definition: &'static str,
}

/// All quantities that can be explained.
pub(crate) fn quantities() -> impl Serialize {
    let all = |end: AxleEnd| {
        Quantity::ALL
            .into_iter()
            .chain([Quantity::MotionRatio(0), Quantity::WheelRate(0)])
            .map(|q| {
                let about = q.about(end);
                QuantityOut {
                    quantity: q.key(end),
                    title: about.title,
                    unit: unit(q.scale()).0,
                    definition: about.definition,
                }
            })
            .collect()
    };
    QuantitiesOut { schema: "soapstone.quantities/1", front: all(AxleEnd::Front), rear: all(AxleEnd::Rear) }
}

#[derive(Serialize)]
struct StarterOut {
    schema: &'static str,
    kind: String,
    text: String,
}

/// A starter file.
pub(crate) fn starter(kind: &str, text: &str) -> impl Serialize {
    StarterOut { schema: "soapstone.starter/1", kind: kind.to_string(), text: text.to_string() }
}
