//! `soapstone.sweep/1`: wheel measures over travel and rack.

use project::model::Axle;
use serde::Serialize;
use study::{Stop, Subject, Sweep};
use suspension::AxisSource;

use super::xyz;

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
pub(super) struct WheelOut {
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
    pub(super) fn new(m: &suspension::Measures<f64>) -> Self {
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
pub(super) struct StopOut {
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

pub(super) fn stop_out(stop: &Stop, asked: f64) -> StopOut {
    StopOut { asked, reached_travel_m: stop.reached, reached_rack_m: stop.rack, why: stop.words.clone() }
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
        stops: sweep.stops.iter().map(|s| stop_out(s, s.asked)).collect(),
    }
}
