//! Every uncertain figure of a car but its weights, in a fixed order, each by name and open to a deviation.

use project::model::{
    Axle, BarReading, Car, Masters, SurveyPoint, TorqueMaker, TyreModel, TyreReading, Value,
};

/// What is done with a figure: its name on demand, the value, its standard uncertainty.
pub(super) type See<'s> = &'s mut dyn FnMut(&dyn Fn() -> String, &mut f64, f64);

/// Goes through the figures that are no places: tyres, brakes, springs, bars, air.
pub(super) fn figures(car: &mut Car, see: See<'_>) {
    for axle in [&mut car.front, &mut car.rear].into_iter().flatten() {
        of_axle(axle, see);
    }
    tyres(car, see);
    if let Some(pedal) = &mut car.pedal {
        value(&"pedal ratio", &mut pedal.ratio, see);
        value(&"efficiency of the pedal and cylinders", &mut pedal.efficiency, see);
        match &mut pedal.masters {
            Masters::Bar { front, rear, share } => {
                value(&"bore of the front master cylinder", front, see);
                value(&"bore of the rear master cylinder", rear, see);
                value(&"setting of the bias bar", share, see);
            }
            Masters::Tandem(bore) => value(&"bore of the tandem cylinder", bore, see),
        }
        if let Some(valve) = &mut pedal.valve {
            value(&"knee of the valve", &mut valve.knee, see);
            value(&"slope of the valve", &mut valve.slope, see);
        }
    }
    if let Some(share) = &mut car.brake_front_share {
        value(&"front share of braking", share, see);
    }
    value(&"front share of the drive", &mut car.drive_front_share, see);
    if let Some(air) = &mut car.air {
        value(&"drag area", &mut air.drag, see);
        value(&"height of the drag", &mut air.drag_height, see);
        value(&"downforce area at the front", &mut air.front, see);
        value(&"downforce area at the rear", &mut air.rear, see);
    }
}

/// Goes through what Drive alone knows: engine, gears, the driver, parts of the air, surfaces.
pub(super) fn driving(car: &mut Car, see: See<'_>) {
    if let Some(engine) = &mut car.engine {
        value(&"torque curve", &mut engine.scale, see);
    }
    if let Some(gears) = &mut car.gearbox {
        value(&"efficiency of the driveline", &mut gears.efficiency, see);
        value(&"time of a gear change", &mut gears.shift, see);
        value(&"rolling resistance", &mut gears.rolling, see);
    }
    if let Some(driver) = &mut car.in_hand {
        value(&"rear reserve kept in hand", &mut driver.rear_reserve, see);
        value(&"yaw damping kept in hand", &mut driver.yaw_damping, see);
    }
    for part in car.air.iter_mut().flat_map(|air| &mut air.parts) {
        value(&format_args!("drag area of {}", part.name), &mut part.drag, see);
        value(&format_args!("front downforce area of {}", part.name), &mut part.front, see);
        value(&format_args!("rear downforce area of {}", part.name), &mut part.rear, see);
    }
    for venue in &mut car.venues {
        value(&format_args!("grip of {}", venue.name), &mut venue.grip, see);
    }
}

/// The figures of one reading of tyres.
fn of_tyre(tyre: &mut TyreReading, whose: &str, see: See<'_>) {
    if let Some(rate) = &mut tyre.vertical_rate {
        value(&format_args!("vertical rate of a {whose} tyre"), rate, see);
    }
    if let TyreModel::Simple(t) = &mut tyre.model {
        value(&format_args!("nominal load of a {whose} tyre"), &mut t.nominal_load, see);
        value(&format_args!("friction along of the {whose} tyres"), &mut t.friction_along, see);
        value(&format_args!("friction across of the {whose} tyres"), &mut t.friction_across, see);
        value(&format_args!("load sensitivity of the {whose} tyres"), &mut t.load_sensitivity, see);
        value(&format_args!("cornering stiffness of a {whose} tyre"), &mut t.cornering_stiffness, see);
        value(&format_args!("stiffest load of the {whose} tyres"), &mut t.stiffest_load, see);
        value(&format_args!("slip stiffness of a {whose} tyre"), &mut t.slip_stiffness, see);
        value(&format_args!("lateral rate of a {whose} tyre"), &mut t.lateral_rate, see);
    }
}

/// Tyres of both axles read from one table are one reading: what is wrong with it is wrong at both ends.
fn tyres(car: &mut Car, see: See<'_>) {
    let (front, rear) = (car.front.as_mut(), car.rear.as_mut());
    let (front, rear) = (front.and_then(|a| a.tyre.as_mut()), rear.and_then(|a| a.tyre.as_mut()));
    match (front, rear) {
        (Some(front), Some(rear)) if front == rear => {
            of_tyre(front, "front and rear", see);
            rear.clone_from(front);
        }
        (front, rear) => {
            for (tyre, whose) in [(front, "front"), (rear, "rear")] {
                if let Some(tyre) = tyre {
                    of_tyre(tyre, whose, see);
                }
            }
        }
    }
}

/// Goes through the places.
pub(super) fn places(car: &mut Car, see: See<'_>) {
    for axle in [&mut car.front, &mut car.rear].into_iter().flatten() {
        of_points(axle, see);
    }
}

fn value(name: &dyn std::fmt::Display, value: &mut Value, see: See<'_>) {
    see(&|| name.to_string(), &mut value.value, value.uncertainty);
}

fn point(name: &dyn std::fmt::Display, point: &mut SurveyPoint, see: See<'_>) {
    for (k, axis) in ["x", "y", "z"].into_iter().enumerate() {
        see(&|| format!("{axis} of {name}"), &mut point.at[k], point.uncertainty[k]);
    }
}

fn of_points(axle: &mut Axle, see: See<'_>) {
    let end = axle.end.name();
    for (name, place) in axle.scheme.points.iter().zip(&mut axle.points) {
        point(&format_args!("{end} {name}"), place, see);
    }
    for hole in &mut axle.holes {
        point(&format_args!("{end} hole {}", hole.name), &mut hole.at, see);
    }
    let wheel = &mut axle.wheel;
    point(&format_args!("{end} wheel centre"), &mut wheel.centre, see);
    value(&format_args!("{end} loaded radius"), &mut wheel.loaded_radius, see);
    value(&format_args!("{end} toe"), &mut wheel.toe, see);
    value(&format_args!("{end} camber"), &mut wheel.camber, see);
}

fn of_axle(axle: &mut Axle, see: See<'_>) {
    let end = axle.end.name();
    let names: Vec<&str> = axle.scheme.elements.iter().map(|e| e.name.as_str()).collect();
    let named = |element: usize| names.get(element).copied().unwrap_or("?");
    for spring in &mut axle.springs {
        value(&format_args!("rate of the {end} {}", named(spring.element)), &mut spring.rate, see);
    }
    for damper in &mut axle.dampers {
        let name = named(damper.element);
        value(&format_args!("bump damping of the {end} {name}"), &mut damper.bump, see);
        value(&format_args!("rebound damping of the {end} {name}"), &mut damper.rebound, see);
    }
    match &mut axle.bar {
        Some(BarReading::Rate { rate, .. }) => value(&format_args!("rate of the {end} bar"), rate, see),
        Some(BarReading::Made { diameter, bore, length, arm, link_angle, .. }) => {
            value(&format_args!("diameter of the {end} bar"), diameter, see);
            value(&format_args!("bore of the {end} bar"), bore, see);
            value(&format_args!("length of the {end} bar"), length, see);
            value(&format_args!("arm of the {end} bar"), arm, see);
            value(&format_args!("link angle of the {end} bar"), link_angle, see);
        }
        None => {}
    }
    if let Some(inertia) = &mut axle.wheel.spin_inertia {
        value(&format_args!("spin inertia of a {end} wheel"), inertia, see);
    }
    if let Some(brake) = &mut axle.brake {
        value(&format_args!("threshold of the {end} brakes"), &mut brake.threshold, see);
        match &mut brake.maker {
            TorqueMaker::Disc { bores, radius, pads, .. } => {
                // One micrometer measures all pistons of a caliper: they are off together.
                if let Some(first) = bores.first().copied() {
                    let mut off = first.value;
                    see(&|| format!("piston bores of the {end} calipers"), &mut off, first.uncertainty);
                    for bore in bores {
                        bore.value += off - first.value;
                    }
                }
                value(&format_args!("effective radius of the {end} discs"), radius, see);
                let mut off = 0.0;
                see(&|| format!("friction of the {end} pads"), &mut off, pads.uncertainty);
                for row in &mut pads.rows {
                    row.1 += off;
                }
            }
            TorqueMaker::Measured(torque) => {
                value(&format_args!("torque per pressure of the {end} brakes"), torque, see);
            }
        }
    }
}
