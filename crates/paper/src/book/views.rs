//! The axle to scale, from three sides, with its construction lines and main dimensions.

use draw::{Fit, Overlays, Scene, Show, View, ViewOptions, views};
use study::{Scale, Subject};
use units::{Dimension, show};

use super::Axle;
use crate::flow::{Column, Flow, Table};
use crate::scene::as_drawn;
use crate::sheet::Drawing;

/// Size of a view in its own units: its words come out at about 7 pt across a page.
const SIZE: (f64, f64) = (900.0, 560.0);

/// A view of a scene.
type Draws = fn(&Scene, &Overlays<'_>, &ViewOptions<'_>) -> View;

pub(super) fn chapter(axle: &Axle<'_>) -> Flow {
    let mut flow = Flow::new();
    let subject = &axle.subject;
    let Ok(scene) = as_drawn(subject) else { return flow };
    flow.heading(1, format!("{}: drawings", axle.title()));
    flow.say("To scale, at ride height, as drawn. Lines are drawn because people reason with them; every number comes from the \
              linkage itself.");
    let car = subject.car();
    let show = Show { grips: false, ..Show::default() };
    let views: [(&str, Fit, Draws); 4] = [
        ("From the left", Fit::Corner, views::side),
        ("From behind", Fit::Corner, views::rear),
        ("From above", Fit::Corner, views::top),
        ("From the left, the whole car: the construction of the lift under braking", Fit::Car, views::side),
    ];
    for (caption, region, draws) in views {
        let options = ViewOptions { region, show, ..ViewOptions::new(SIZE.0, SIZE.1, car.units, &car.frame) };
        let view = draws(&scene, &Overlays::default(), &options);
        if let Some(drawing) = Drawing::new(&view.svg) {
            flow.figure(drawing, caption);
        }
    }
    flow.heading(2, "Dimensions");
    flow.table(dimensions(subject, &scene));
    flow
}

fn dimensions(subject: &Subject<'_>, scene: &Scene) -> Table {
    let car = subject.car();
    let units = &car.units;
    let mut table = Table::new([
        Column::words("what"),
        Column::figures(units.symbol(Dimension::Length)),
        Column::words("from where to where"),
    ]);
    let decimals = Scale::Length.decimals(units);
    let mut row = |what: &str, value: f64, words: &str| {
        table.row([
            what.to_string(),
            show::number(value, Dimension::Length, units, decimals),
            words.to_string(),
        ]);
    };
    if let Some(wheelbase) = car.wheelbase {
        row("wheelbase", wheelbase.value, "front to rear wheel centre, along the car");
    }
    let wheel = &subject.axle().wheel;
    row("track at the wheel centres", 2.0 * wheel.centre.at.y, "left to right wheel centre, across the car");
    row("wheel centre", wheel.centre.at.z, "above the ground");
    row("loaded radius", wheel.loaded_radius.value, "wheel centre to the ground, on its tyre");
    if let Some(height) = car.cg_height {
        row("centre of gravity", height.value, "above the ground");
    }
    let scheme = &subject.axle().scheme;
    let places = subject.axle().points.iter();
    let at: Vec<_> = places.map(|point| point.at).collect();
    for (name, a, b) in scheme.lengths() {
        if let (Some(a), Some(b)) = (at.get(a), at.get(b)) {
            row(
                &format!("{} {name}", scene.end.name()),
                (a - b).norm(),
                "between the centres of its ends, along itself",
            );
        }
    }
    table
}
