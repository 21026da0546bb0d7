//! Random edits over every example and starter: none breaks the file, no comment is lost, and each is taken back to
//! the very bytes.

mod edit_common;

use edit_common::{Dice, comments, files, random_edit};
use project::edit::{At, Edit, Place, apply, apply_to, changes, place_at};
use project::{Severity, read};

const SEQUENCES: usize = 3_000;

fn errors(text: &str) -> usize {
    read(text).diagnostics.iter().filter(|d| d.severity == Severity::Error).count()
}

#[test]
fn no_sequence_breaks_the_file() {
    let files = files();
    let mut dice = Dice(0x5eed_ca11);
    let (mut made, mut refused) = (0, 0);
    for sequence in 0..SEQUENCES {
        let (name, start) = &files[sequence % files.len()];
        let mut text = start.clone();
        for _ in 0..1 + dice.below(4) {
            let loaded = read(&text);
            let edit = random_edit(&text, &loaded, &mut dice);
            let Ok(edited) = apply_to(&text, &loaded, &edit) else {
                refused += 1;
                continue;
            };
            made += 1;
            assert!(edited.loaded.car.is_some(), "{name}: {edit:?}");
            assert_eq!(errors(&edited.text), 0, "{name}: {edit:?}");
            assert!(!edited.label.is_empty() && !edited.label.contains('\n'), "{edit:?}");
            if !matches!(edit, Edit::RemoveHole { .. } | Edit::Accuracy { text: None, .. }) {
                let (old, new) = (comments(&text), comments(&edited.text));
                assert!(old.iter().all(|comment| new.contains(comment)), "{name}: {edit:?}");
            }
            text = edited.text;
        }
    }
    // The generator must not spend its time on what is refused.
    assert!(made > 3 * refused, "{made} made, {refused} refused");
}

#[test]
fn an_edit_and_its_inverse_leave_the_same_bytes() {
    for (name, text) in files() {
        for text in [text.clone(), text.replace('\n', "\r\n"), text.trim_end().to_string()] {
            let loaded = read(&text);
            let car = loaded.car.as_ref().expect("a car");
            for axle in [&car.front, &car.rear].into_iter().flatten() {
                let end = axle.end.name();
                let points = axle.scheme.points.iter().map(|point| Place::Point(format!("{end}.{point}")));
                let holes = axle.holes.iter().map(|hole| Place::Hole {
                    point: format!("{end}.{}", axle.scheme.points[hole.point]),
                    name: hole.name.clone(),
                });
                let inch = car.units.length != units::LengthUnit::Millimetre;
                for place in points.chain(holes) {
                    let at = place_at(car, &place).expect("a place");
                    let step = if inch { 0.0254 / 16.0 } else { 0.003 };
                    let to = |sign: f64| {
                        let to = at + nalgebra::Vector3::repeat(step * sign);
                        Edit::Move { place: place.clone(), to: At::Car(to.into()) }
                    };
                    if let Ok(there) = apply(&text, &to(1.0)) {
                        assert_ne!(there, text, "{name}: {place}");
                        assert_eq!(apply(&there, &to(0.0)).expect("back"), text, "{name}: {place}");
                        let changed = changes(&text, &there).expect("TOML");
                        assert_eq!(changed.len(), 1, "{name}: {place}: {changed:?}");
                    }
                    if text.contains("accuracy =") && matches!(place, Place::Point(_)) {
                        let accuracy = |text: Option<&str>| Edit::Accuracy {
                            place: place.clone(),
                            text: text.map(str::to_string),
                        };
                        let with = apply(&text, &accuracy(Some("0.7 mm"))).expect("an accuracy");
                        assert_eq!(apply(&with, &accuracy(None)).expect("none"), text, "{name}: {place}");
                    }
                }
                let body = format!("{end}.{}", axle.scheme.points[0]);
                let at = place_at(car, &Place::Point(body.clone())).expect("a place");
                let add = Edit::AddHole {
                    point: body.clone(),
                    name: "spare".into(),
                    at: At::Car([at.x + 0.005, at.y, at.z]),
                    accuracy: Some("0.5 mm".into()),
                };
                let with = apply(&text, &add).expect("a hole");
                let rename = |name: &str, to: &str| Edit::RenameHole {
                    point: body.clone(),
                    name: name.into(),
                    to: to.into(),
                };
                let renamed = apply(&with, &rename("spare", "other")).expect("another name");
                assert_eq!(apply(&renamed, &rename("other", "spare")).expect("the name"), with);
                let remove = Edit::RemoveHole { point: body, name: "spare".into() };
                assert_eq!(apply(&with, &remove).expect("gone"), text, "{name}");
            }
        }
    }
}

/// A character boundary at most 60 bytes behind `from`.
fn cut(text: &str, from: usize, to: usize) -> usize {
    (from..=to.min(from + 60)).rev().find(|at| text.is_char_boundary(*at)).unwrap_or(from)
}

#[test]
fn edits_of_spoilt_files_are_refused_or_made() {
    let mut dice = Dice(0xbad_f11e);
    let files = files();
    let odd = [
        "[",
        "]",
        "\"",
        "'",
        "=",
        "\n",
        "\r",
        "#",
        "{",
        "}",
        ".",
        "\u{b1}",
        "[rear]",
        "nan",
        "[[rear.holes]]\n",
    ];
    for index in 0..4_000 {
        let (_, text) = &files[index % files.len()];
        let edit = random_edit(text, &read(text), &mut dice);
        let mut spoilt = text.clone();
        for _ in 0..1 + dice.below(3) {
            let mut places = [dice.below(spoilt.len() + 1), dice.below(spoilt.len() + 1)].map(|mut at| {
                while !spoilt.is_char_boundary(at) {
                    at -= 1;
                }
                at
            });
            places.sort_unstable();
            let [from, to] = places;
            match dice.below(3) {
                0 => spoilt.insert_str(from, odd[dice.below(odd.len())]),
                1 => spoilt.replace_range(from..cut(&spoilt, from, to), ""),
                _ => {
                    let line = spoilt[..from].rfind('\n').map_or(0, |at| at + 1);
                    let copied = spoilt[line..].lines().next().unwrap_or_default().to_string() + "\n";
                    spoilt.insert_str(line, &copied);
                }
            }
        }
        let before = errors(&spoilt);
        if let Ok(after) = apply(&spoilt, &edit) {
            assert!(errors(&after) <= before, "{edit:?}");
        }
    }
}

#[test]
fn an_edit_in_a_drag_is_quick() {
    let (_, text) = files().into_iter().find(|(name, _)| name == "plover/car.toml").expect("the demo car");
    let loaded = read(&text);
    let started = std::time::Instant::now();
    for step in 0..200 {
        let place = Place::Point("rear.link.lower-fore.body".into());
        let to = At::Car([-2.1, 0.42, 0.25 + f64::from(step) * 1e-4]);
        apply_to(&text, &loaded, &Edit::Move { place, to }).expect("a move");
    }
    let each = started.elapsed() / 200;
    // A third of the server's share of a frame, with room for a slow machine and a build for tests.
    assert!(each.as_millis() < 10, "{each:?}");
    println!("an edit takes {each:?}");
}
