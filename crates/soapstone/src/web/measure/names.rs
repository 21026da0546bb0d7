//! Words for the points of a file, and what to hold the tape to.

use project::edit::Place;

/// A row's name on the page: its place without the axle.
pub(crate) fn row_name(place: &Place) -> String {
    let bare =
        |name: &str| name.split_once('.').map_or_else(|| name.to_string(), |(_, rest)| rest.to_string());
    match place {
        Place::Point(name) => bare(name),
        Place::Hole { point, name } => format!("{}#{name}", bare(point)),
        Place::Corner { plate, index } => format!("{}@{index}", bare(plate)),
    }
}

/// Something that can stand in an `id`.
pub(crate) fn slug(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() || "-.#@".contains(c) { c } else { '_' }).collect()
}

/// The part that a point is on: `link lower-fore`, `upper arm`.
pub(crate) fn part(name: &str) -> String {
    let inner = name.rsplit_once('.').map_or(name, |(part, _)| part);
    match inner.split_once('.') {
        Some((kind, own)) => format!("{kind} {own}"),
        None if inner == "bar-link" => "anti-roll bar link".into(),
        None => inner.replace('-', " "),
    }
}

/// The point on its part: `body end`, `outer ball`.
pub(crate) fn point(name: &str) -> String {
    let key = name.rsplit_once('.').map_or(name, |(_, key)| key);
    let words = match (key, name.starts_with("joint.")) {
        ("centre", _) => "middle",
        ("body", _) if name == "spring.body" || name == "damper.body" => "upper end",
        ("body", _) if name == "bar-link.body" => "end on the bar",
        ("body", _) => "body end",
        ("upright", _) => "upright end",
        ("body-fore", _) => "front bush",
        ("body-aft", _) => "rear bush",
        ("ball", _) => "outer ball",
        ("top", _) => "top mount",
        ("lower", _) => "low on the tube",
        ("bush", _) => "bush",
        ("pivot-inner", _) => "inner bush",
        ("pivot-outer", _) => "outer bush",
        ("mount", _) if name == "bar-link.mount" => "moving end",
        ("mount", _) => "lower end",
        ("from", _) => "first end",
        ("to", _) => "second end",
        ("at", true) => "joint",
        ("through", true) => "second point of its axis",
        (other, _) => other,
    };
    words.to_string()
}

/// Part and point in one: `link lower-fore, body end`.
pub(crate) fn whole(name: &str) -> String {
    format!("{}, {}", part(name), point(name))
}

/// What to measure, for a person with a tape.
pub(crate) fn what_to_measure(name: &str) -> &'static str {
    let key = name.rsplit_once('.').map_or(name, |(_, key)| key);
    match key {
        "centre" => "The middle of the wheel: halfway through the rim's width, not the face of the hub.",
        "body" if name == "tie-rod.body" => {
            "The middle of the inner ball, not of its stud, with the steering straight ahead."
        }
        "body" if name == "spring.body" => "The middle of the coil where it ends at the top.",
        "body" if name == "damper.body" => "The middle of the upper bush or ball.",
        "body" if name == "bar-link.body" => "The middle of the ball or bush at the end of the bar's arm.",
        "mount" if name == "spring.mount" => "The middle of the coil where it stands at the bottom.",
        "mount" => "The middle of the lower bush or ball, on the part that moves.",
        "body" => {
            "The middle of the ball or bush at the body, not of its stud or bolt head: measure both faces of a bush and take the mean."
        }
        "upright" => "The middle of the ball or bush at the upright, not of its stud or bolt head.",
        "body-fore" | "body-aft" => {
            "The middle of the bush, where its axis crosses the arm: measure both faces and take the mean."
        }
        "ball" => "The middle of the ball, not of its stud.",
        "top" => "The middle of the top mount, on the axis of the tube.",
        "lower" => {
            "A point low on the tube, on its axis: measure both sides of the tube and take the mean. The farther from the top, the better."
        }
        "bush" => "The middle of the bush at the front of the blade.",
        "pivot-inner" | "pivot-outer" => {
            "The middle of the bush, on the hinge's axis: measure both faces and take the mean."
        }
        "at" | "through" => "A point on the joint's axis, or the middle of its ball.",
        _ => "The middle of the ball or bush, not of its stud or bolt head.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_point_has_words() {
        assert_eq!(whole("link.lower-fore.body"), "link lower-fore, body end");
        assert_eq!(whole("upper-arm.body-aft"), "upper arm, rear bush");
        assert_eq!(whole("wheel.centre"), "wheel, middle");
        assert_eq!(whole("spring.mount"), "spring, lower end");
        assert_eq!(whole("joint.rocker.at"), "joint rocker, joint");
        for kind in project::KINDS {
            let text = project::starter(kind, &units::UnitSystem::default()).unwrap();
            let car = project::read(&text).car.unwrap();
            for name in car.rear.as_ref().or(car.front.as_ref()).unwrap().scheme.points.iter() {
                let key = name.rsplit_once('.').unwrap().1;
                assert!(
                    what_to_measure(name).ends_with('.') && point(name) != key || key == "bush",
                    "{name}"
                );
            }
        }
    }

    #[test]
    fn rows_are_named_as_on_the_other_stages() {
        let point = "rear.link.toe.body".to_string();
        assert_eq!(row_name(&Place::Point(point.clone())), "link.toe.body");
        assert_eq!(row_name(&Place::Hole { point, name: "A 1".into() }), "link.toe.body#A 1");
        assert_eq!(row_name(&Place::Corner { plate: "rear.plate.p".into(), index: 2 }), "plate.p@2");
        assert_eq!(slug("link.toe.body#A 1"), "link.toe.body#A_1");
    }
}
