//! Hole places for wanted values: each is rebuilt from its coordinates, the plate's rules are checked by hand, and
//! what cannot be met is held against a sampling of the plate that knows nothing of the search.

#![expect(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "a test that cannot go on has failed, and clippy sees tests only in functions marked so"
)]

mod support;

use nalgebra::Vector3;
use project::model::{Axle, Car, End, Plate};
use study::{
    Candidate, Found, Placed, PlateFrame, Quantity, Remedy, SearchError, Subject, Unmet, Wish, as_hole,
    check, choose, find_holes, overlaps,
};
use support::{car, subject, text_of};

/// A wish counts as met within this [-, m, rad]: far below what a drill can do.
const MET: f64 = 1e-6;

/// Coordinates and distances found twice [m].
const SAME: f64 = 1e-9;

/// Cells along the longer side of the test's own sampling of the plate.
const CELLS: usize = 120;

fn axle_of(car: &mut Car) -> &mut Axle {
    car.rear.as_mut().expect("a rear axle")
}

/// What a hole at this place gives: the hole written into the car, and the choice table asked.
fn value_at(car: &Car, plate: &Plate, quantity: Quantity, at: Vector3<f64>) -> Option<f64> {
    let mut car = car.clone();
    let axle = axle_of(&mut car);
    axle.holes = vec![as_hole(plate, "here".into(), at)];
    car.setups.clear();
    let subject = Subject::new(&car, End::Rear).unwrap();
    let choice = choose(&subject, &[], &[], |_, _| {}).ok()?;
    let column = choice.columns.iter().position(|c| c.quantity == quantity && c.travel.is_none())?;
    let row = choice.rows.iter().find(|r| r.candidate.name == "here")?;
    Some(row.values[column].as_ref()?.value)
}

/// The same without the ±, for a sampling of many places.
fn plain_at(subject: &Subject<'_>, plate: &Plate, quantity: Quantity, at: Vector3<f64>) -> Option<f64> {
    let mut inputs = subject.nominal(&[]);
    inputs.points[plate.point] = at;
    let corner = subject.corner(&inputs).ok()?;
    let mut mover = suspension::Mover::new(&corner);
    let measures = mover.at(0.0, 0.0).ok()?;
    quantity.value(&study::Facts {
        measures,
        ratios: Vec::new(),
        figures: inputs.figures,
        end: subject.end(),
        braking: subject.braking_reaction(),
        driving: subject.driving_reaction(),
        driven: subject.driven(),
    })
}

/// Distance from a place to the outline of a convex plate in space [m], positive inside, by half-planes: not
/// the even-odd rule that the search uses.
fn margin(outline: &[Vector3<f64>], at: &Vector3<f64>) -> f64 {
    let n = outline.len();
    let middle: Vector3<f64> = outline.iter().sum::<Vector3<f64>>() / n as f64;
    (0..n)
        .map(|i| {
            let (a, b) = (outline[i], outline[(i + 1) % n]);
            let edge = (b - a).normalize();
            let inward = (middle - a) - edge * edge.dot(&(middle - a));
            inward.normalize().dot(&(at - a))
        })
        .fold(f64::INFINITY, f64::min)
}

fn link_length(axle: &Axle, plate: &Plate, at: &Vector3<f64>) -> Option<f64> {
    let (_, other) = axle.scheme.legs_at(plate.point).next()?;
    Some((axle.points[other].at - at).norm())
}

/// The plate's rules for one hole, from its coordinates alone.
fn allowed(axle: &Axle, plate: &Plate, at: &Vector3<f64>, slack: f64) -> bool {
    let edge = margin(&plate.outline, at) >= plate.edge * plate.bolt - slack;
    let length = match (plate.link_length, link_length(axle, plate, at)) {
        (Some((least, most)), Some(l)) => least - slack <= l && l <= most + slack,
        _ => true,
    };
    edge && length
}

fn wishes(quantity: Quantity, values: &[f64]) -> Vec<Wish> {
    values.iter().map(|v| Wish { quantity, value: *v }).collect()
}

/// All places of the test's own sampling of the plate, with what they give.
fn sampling(
    subject: &Subject<'_>,
    plate: &Plate,
    quantity: Quantity,
    cells: usize,
) -> Vec<(Vector3<f64>, f64)> {
    let (a, b, d) = (plate.outline[0], plate.outline[1], plate.outline[plate.outline.len() - 1]);
    let mut list = Vec::new();
    for i in 0..=cells {
        for j in 0..=cells {
            let at = a + (b - a) * (i as f64 / cells as f64) + (d - a) * (j as f64 / cells as f64);
            if let Some(value) = plain_at(subject, plate, quantity, at) {
                list.push((at, value));
            }
        }
    }
    list
}

/// Every hole of a set: it gives what it says, and the rules hold.
#[track_caller]
fn check_set(car: &Car, plate: &Plate, quantity: Quantity, set: &[Placed], wishes: Option<&[Wish]>) {
    let axle = car.rear.as_ref().unwrap();
    let frame = PlateFrame::new(&plate.outline).unwrap();
    for (i, hole) in set.iter().enumerate() {
        let value = value_at(car, plate, quantity, hole.at).expect("the hole gives a wheel that works");
        assert!((value - hole.value).abs() < MET, "it gives {value}, not {}", hole.value);
        if let Some(wishes) = wishes {
            assert!((value - wishes[hole.wish].value).abs() < MET, "{value} for {}", wishes[hole.wish].value);
        }
        assert!(allowed(axle, plate, &hole.at, SAME), "the rules hold at {}", hole.at);
        assert!((hole.margin - margin(&plate.outline, &hole.at)).abs() < SAME);
        assert!((frame.place(&hole.on_plate) - hole.at).norm() < SAME);
        match (hole.link_length, link_length(axle, plate, &hole.at)) {
            (Some(told), Some(own)) => assert!((told - own).abs() < SAME),
            (None, None) => {}
            (told, own) => panic!("link {told:?}, {own:?} by hand"),
        }
        let nearest = set
            .iter()
            .enumerate()
            .filter(|(j, _)| *j != i)
            .map(|(_, o)| (o.at - hole.at).norm())
            .fold(f64::INFINITY, f64::min);
        assert!(nearest >= plate.spacing * plate.bolt - SAME, "{nearest} m apart");
        assert!(nearest == hole.spacing || (nearest - hole.spacing).abs() < SAME);
        // The cost of a wandering drill, against differences over half a millimetre.
        for (along, slope) in [(frame.u, hole.slope.x), (frame.v, hole.slope.y)] {
            let step = 5e-4;
            let off = |s: f64| value_at(car, plate, quantity, hole.at + along * s).unwrap();
            let by_hand = (off(step) - off(-step)) / (2.0 * step);
            let near = 1e-3 * (hole.slope.norm() + hole.value.abs());
            assert!((by_hand - slope).abs() < near, "{slope} per metre, {by_hand} by hand");
        }
    }
}

#[track_caller]
fn search(car: &Car, plate: usize, wishes: &[Wish]) -> Found {
    let subject = subject(car, End::Rear);
    let plate = &subject.axle().plates[plate];
    find_holes(&subject, plate, wishes).unwrap()
}

/// Wishes that can be met together.
#[track_caller]
fn check_met(car: &Car, quantity: Quantity, values: &[f64]) {
    let list = wishes(quantity, values);
    let found = search(car, 0, &list);
    assert!(found.unmet.is_empty(), "{:?}", found.unmet);
    assert!(found.instead.is_none(), "no other set is needed");
    let mut met: Vec<usize> = found.placed.iter().map(|p| p.wish).collect();
    met.sort_unstable();
    assert_eq!(met, (0..values.len()).collect::<Vec<_>>(), "one hole for every wish");
    let plate = car.rear.as_ref().unwrap().plates[0].clone();
    check_set(car, &plate, quantity, &found.placed, Some(&list));
}

/// `values` at these shares of the range that the rules allow, by the test's own sampling.
fn at_shares(car: &Car, quantity: Quantity, shares: &[f64]) -> Vec<f64> {
    let (least, most) = reachable(car, quantity).expect("some place is allowed");
    shares.iter().map(|s| least + (most - least) * s).collect()
}

fn reachable(car: &Car, quantity: Quantity) -> Option<(f64, f64)> {
    let subject = Subject::new(car, End::Rear).unwrap();
    let (axle, plate) = (subject.axle(), &subject.axle().plates[0]);
    sampling(&subject, plate, quantity, CELLS)
        .into_iter()
        .filter(|(at, _)| allowed(axle, plate, at, SAME))
        .fold(None, |range: Option<(f64, f64)>, (_, v)| {
            Some(range.map_or((v, v), |(a, b)| (a.min(v), b.max(v))))
        })
}

#[test]
fn holes_give_what_is_wished_and_keep_the_rules() {
    let plover = car("plover/car.toml");
    for quantity in [Quantity::AntiBraking, Quantity::AntiDriving, Quantity::Recession, Quantity::CamberGain]
    {
        check_met(&plover, quantity, &at_shares(&plover, quantity, &[0.15, 0.5, 0.85]));
    }
    let wren = car("wren/car.toml");
    check_met(&wren, Quantity::AntiBraking, &at_shares(&wren, Quantity::AntiBraking, &[0.1, 0.5, 0.9]));
    // One wish, and the drawn length is among the ways to meet it: the link keeps it.
    let one = at_shares(&plover, Quantity::AntiBraking, &[0.5]);
    check_met(&plover, Quantity::AntiBraking, &one);
    let found = search(&plover, 0, &wishes(Quantity::AntiBraking, &one));
    let (drawn, placed) = (found.drawn_length.unwrap(), found.placed[0].link_length.unwrap());
    assert!((drawn - placed).abs() < 1.5e-3, "{placed} m, {drawn} m as drawn");
}

#[test]
fn a_link_of_one_length_still_has_its_places() {
    // A welded link: the places that fit it are a thin arc, and every value along it can be had.
    let car = plover(2.5, 1.5, (0.4204, 0.4206));
    check_met(&car, Quantity::AntiBraking, &[0.2, 0.6]);
    for value in [0.3, 0.4, 0.5] {
        check_met(&car, Quantity::AntiBraking, &[value]);
    }
}

/// Plover with another plate: least spacing and edge distance in bolt diameters, and a link-length range.
fn plover(spacing: f64, edge: f64, link: (f64, f64)) -> Car {
    let mut car = car("plover/car.toml");
    let axle = axle_of(&mut car);
    axle.holes.clear();
    let plate = &mut axle.plates[0];
    (plate.spacing, plate.edge, plate.link_length) = (spacing, edge, Some(link));
    car.setups.clear();
    car
}

#[test]
fn twelve_wishes_are_placed_or_answered() {
    let car = plover(1.5, 1.0, (0.38, 0.47));
    let shares: Vec<f64> = (0..12).map(|i| 0.05 + 0.9 * i as f64 / 11.0).collect();
    let values = at_shares(&car, Quantity::AntiBraking, &shares);
    let list = wishes(Quantity::AntiBraking, &values);
    let found = search(&car, 0, &list);
    let plate = car.rear.as_ref().unwrap().plates[0].clone();
    assert!(found.unmet.is_empty(), "each can be met by itself");
    let (set, exact) = match &found.instead {
        Some(instead) => (instead, None),
        None => (&found.placed, Some(list.as_slice())),
    };
    assert_eq!(set.len(), 12, "a set of twelve");
    check_set(&car, &plate, Quantity::AntiBraking, set, exact);
}

/// Sum of squares of what a set misses.
fn misses(set: &[Placed], wishes: &[Wish]) -> f64 {
    set.iter().map(|p| (p.value - wishes[p.wish].value).powi(2)).sum()
}

#[test]
fn wishes_that_clash_get_the_nearest_set_that_keeps_the_spacing() {
    // Two values so near that two holes cannot both give them on a plate with next to no room.
    let mut car = plover(2.5, 1.5, (0.30, 0.60));
    let (corner, quantity) = (Vector3::new(-2.07, 0.42, 0.25), Quantity::AntiBraking);
    // Within the edge distance 20 mm along the car are left, less than the spacing, and 32 mm of height.
    let (width, size) = (0.056, 0.068);
    axle_of(&mut car).plates[0].outline = vec![
        corner,
        corner - Vector3::x() * width,
        corner + Vector3::new(-width, 0.0, size),
        corner + Vector3::z() * size,
    ];
    let (least, most) = reachable(&car, quantity).unwrap();
    let value = 0.5 * (least + most);
    let list = wishes(quantity, &[value, value + 1e-3 * (most - least)]);
    let found = search(&car, 0, &list);
    let plate = car.rear.as_ref().unwrap().plates[0].clone();
    let Some(instead) = &found.instead else { panic!("they clash: {found:?}") };
    assert!(found.placed.is_empty() && found.unmet.is_empty());
    assert_eq!(instead.len(), 2);
    check_set(&car, &plate, quantity, instead, None);

    // Brute force: every pair of places of the test's own sampling.
    let subject = subject(&car, End::Rear);
    let axle = subject.axle();
    let cells = 60;
    let places: Vec<(Vector3<f64>, f64)> = sampling(&subject, &plate, quantity, cells)
        .into_iter()
        .filter(|(at, _)| allowed(axle, &plate, at, SAME))
        .collect();
    let apart = plate.spacing * plate.bolt;
    let mut best = f64::INFINITY;
    for (a, x) in &places {
        for (b, y) in &places {
            if (a - b).norm() >= apart - SAME {
                best = best.min((x - list[0].value).powi(2) + (y - list[1].value).powi(2));
            }
        }
    }
    assert!(best.is_finite(), "two holes fit on the plate");
    // The search samples the plate too, and keeps some hundred places: each of its holes may stand a step of
    // that sampling from the best.
    let slope = instead.iter().map(|p| p.slope.norm()).fold(0.0, f64::max);
    let step = size * 0.06;
    let allowed = (best.sqrt() + slope * step).powi(2);
    let own = misses(instead, &list);
    assert!(own <= allowed, "misses {own:e}, brute force {best:e}, a step is worth {:e}", slope * step);
}

// -------------------------------------------------------------------------------------------------- unmet

/// Makes a remedy's change and nothing else.
fn relax(car: &Car, remedy: &Remedy) -> Car {
    let mut car = car.clone();
    let plate = &mut axle_of(&mut car).plates[0];
    match *remedy {
        Remedy::Edge(diameters) => plate.edge = diameters - 1e-6,
        Remedy::LargerPlate(by, _) => {
            // Every side of the rectangle moves out by as much.
            let n = plate.outline.len();
            let middle: Vector3<f64> = plate.outline.iter().sum::<Vector3<f64>>() / n as f64;
            let (u, v) = (plate.outline[1] - plate.outline[0], plate.outline[n - 1] - plate.outline[0]);
            let (u, v) = (u.normalize(), v.normalize());
            for corner in &mut plate.outline {
                let out = *corner - middle;
                *corner += u * (by + 1e-6) * u.dot(&out).signum() + v * (by + 1e-6) * v.dot(&out).signum();
            }
        }
        Remedy::LinkLength(length) => {
            let (least, most) = plate.link_length.unwrap();
            plate.link_length = Some((least.min(length - 1e-6), most.max(length + 1e-6)));
        }
        #[expect(unreachable_patterns, reason = "a remedy that is added later needs its own check")]
        ref other => panic!("how is {other:?} applied?"),
    }
    car
}

/// A wish out of reach: the range is that of an own sampling, and each remedy, applied, is enough.
#[track_caller]
fn check_unmet(car: &Car, quantity: Quantity, value: f64, kinds: &[&str]) {
    let list = wishes(quantity, &[value]);
    let found = search(car, 0, &list);
    assert!(found.placed.is_empty());
    let [Unmet { wish: 0, reachable: range, nearest, remedies }] = found.unmet.as_slice() else {
        panic!("the wish is not met: {found:?}");
    };
    let own = reachable(car, quantity);
    match (range, own) {
        (Some((least, most)), Some((own_least, own_most))) => {
            // Both sample: an extreme lies within a cell of either grid.
            let cell = 0.03 * (own_most - own_least);
            assert!((least - own_least).abs() < cell, "from {least}, {own_least} by sampling");
            assert!((most - own_most).abs() < cell, "to {most}, {own_most} by sampling");
            assert!(!(*least..=*most).contains(&value), "and the wish is outside");
            let nearest = nearest.as_ref().expect("then there is a nearest place");
            let plate = car.rear.as_ref().unwrap().plates[0].clone();
            check_set(car, &plate, quantity, std::slice::from_ref(nearest), None);
            let best = if value > *most { most } else { least };
            assert!((nearest.value - best).abs() < SAME, "it is the end of the range");
        }
        (None, None) => assert!(nearest.is_none()),
        (told, own) => panic!("reachable {told:?}, {own:?} by sampling"),
    }
    let names: Vec<&str> = remedies
        .iter()
        .map(|r| match r {
            Remedy::Edge(_) => "edge",
            Remedy::LargerPlate(..) => "plate",
            Remedy::LinkLength(_) => "link",
            #[expect(unreachable_patterns, reason = "a remedy that is added later needs its own check")]
            _ => "other",
        })
        .collect();
    assert_eq!(names, kinds, "{value} wished, {range:?} reachable: {remedies:?}");
    for remedy in remedies {
        let relaxed = relax(car, remedy);
        let found = search(&relaxed, 0, &list);
        assert!(found.unmet.is_empty() && found.placed.len() == 1, "{remedy:?} is enough: {:?}", found.unmet);
        let plate = relaxed.rear.as_ref().unwrap().plates[0].clone();
        check_set(&relaxed, &plate, quantity, &found.placed, Some(&list));
    }
}

#[test]
fn unmet_wishes_say_the_range_and_what_would_have_to_give() {
    let quantity = Quantity::AntiBraking;
    let car = plover(2.5, 1.5, (0.30, 0.60));
    let (least, most) = reachable(&car, quantity).unwrap();
    // A little past the edge rule: nearer to the edge will do, or a larger plate.
    check_unmet(&car, quantity, most + 0.05 * (most - least), &["edge", "plate"]);
    check_unmet(&car, quantity, least - 0.05 * (most - least), &["edge", "plate"]);
    // Well past the plate: only a larger one.
    check_unmet(&car, quantity, most + 0.30 * (most - least), &["plate"]);
    // Past the reach of any plate: nothing helps, and the range is still told.
    check_unmet(&car, quantity, most + 40.0, &[]);
    // A link that may hardly change its length: what only a longer or shorter one gives.
    let narrow = plover(2.5, 1.5, (0.419, 0.421));
    let (_, narrow_most) = reachable(&narrow, quantity).unwrap();
    assert!(most > narrow_most + 0.01, "other lengths give more");
    let list = wishes(quantity, &[0.5 * (most + narrow_most)]);
    let found = search(&narrow, 0, &list);
    let remedies = &found.unmet[0].remedies;
    let length = remedies.iter().find(|r| matches!(r, Remedy::LinkLength(_))).expect("a link remedy");
    let found = search(&relax(&narrow, length), 0, &list);
    assert!(found.unmet.is_empty(), "{length:?} is enough");
    // A link too short for any hole on the plate: no place is allowed at all.
    let short = plover(2.5, 1.5, (0.10, 0.12));
    let middle = at_shares(&car, quantity, &[0.5])[0];
    check_unmet(&short, quantity, middle, &["link"]);
}

#[test]
fn some_wishes_met_and_some_not() {
    let car = plover(2.5, 1.5, (0.30, 0.60));
    let quantity = Quantity::AntiBraking;
    let values = at_shares(&car, quantity, &[0.3, 9.0, 0.7]);
    let list = wishes(quantity, &values);
    let found = search(&car, 0, &list);
    assert_eq!(found.unmet.iter().map(|u| u.wish).collect::<Vec<_>>(), [1]);
    assert_eq!(found.placed.iter().map(|p| p.wish).collect::<Vec<_>>(), [0, 2]);
    let plate = car.rear.as_ref().unwrap().plates[0].clone();
    check_set(&car, &plate, quantity, &found.placed, Some(&list));
}

// ------------------------------------------------------------------------------------------ wrong questions

#[track_caller]
fn check_refused(outline: &[[f64; 3]], values: &[f64], expect: &str) {
    let mut car = plover(2.5, 1.5, (0.30, 0.60));
    if !outline.is_empty() {
        axle_of(&mut car).plates[0].outline = outline.iter().map(|c| Vector3::from(*c)).collect();
    }
    let subject = subject(&car, End::Rear);
    let plate = &subject.axle().plates[0];
    let found = find_holes(&subject, plate, &wishes(Quantity::AntiBraking, values));
    let told = match found {
        Err(SearchError::NoArea(_)) => "no area",
        Err(SearchError::NoWish) => "no wish",
        Err(SearchError::NotFinite) => "not finite",
        Err(SearchError::NothingThere(_)) => "nothing there",
        Ok(_) => "found",
    };
    assert_eq!(told, expect);
}

#[test]
fn plates_and_wishes_that_make_no_sense_are_refused() {
    check_refused(&[], &[], "no wish");
    check_refused(&[], &[f64::NAN], "not finite");
    check_refused(&[], &[0.5, f64::INFINITY], "not finite");
    let p = [-2.05, 0.42, 0.26];
    check_refused(&[p], &[0.5], "no area");
    check_refused(&[p, [-2.1, 0.42, 0.26]], &[0.5], "no area");
    check_refused(&[p, p, p], &[0.5], "no area");
    check_refused(&[p, [-2.1, 0.42, 0.26], [-2.2, 0.42, 0.26]], &[0.5], "no area");
    check_refused(&[[f64::NAN, 0.0, 0.0], [0.1, 0.0, 0.0], [0.0, 0.1, 0.0]], &[0.5], "nothing there");
    // A triangle is a plate; one of a few millimetres has no place that keeps the edge distance.
    check_refused(&[p, [-2.12, 0.42, 0.26], [-2.12, 0.42, 0.34]], &[0.5], "found");
    let tiny = [p, [-2.053, 0.42, 0.26], [-2.053, 0.42, 0.263]];
    check_refused(&tiny, &[0.5], "found");
    let mut car = plover(2.5, 1.5, (0.30, 0.60));
    axle_of(&mut car).plates[0].outline = tiny.iter().map(|c| Vector3::from(*c)).collect();
    let found = search(&car, 0, &wishes(Quantity::AntiBraking, &[0.5]));
    assert!(found.placed.is_empty() && found.unmet[0].reachable.is_none());
}

// ---------------------------------------------------------------------------------- holes already in a file

/// The text of the Plover with these holes (x and z as surveyed, mm) in place of its own.
fn plover_with(holes: &[[f64; 2]]) -> String {
    let text = text_of("plover/car.toml");
    let (before, after) = text.split_once("[[rear.holes]]").unwrap();
    let (_, tail) = after.split_once("[choose]").unwrap();
    let listed: String = holes
        .iter()
        .enumerate()
        .map(|(i, [x, z])| {
            format!(
                "[[rear.holes]]\nend = \"link.lower-fore.body\"\nname = \"h{i}\"\nat = [{x:?}, 420, {z:?}]\n"
            )
        })
        .collect();
    format!("{before}{listed}[choose]{tail}")
}

/// Overlapping holes are refused, and the set offered keeps the rules: written back, the file is accepted.
#[track_caller]
fn check_overlaps(holes: &[[f64; 2]], pairs: usize, errors: usize) {
    let text = plover_with(holes);
    let car = project::read(&text).car.expect("a car");
    let subject = subject(&car, End::Rear);
    let found = overlaps(&subject);
    assert_eq!(found.len(), pairs);
    let refused = check(&car);
    let told: Vec<_> = refused.iter().filter(|d| d.message.contains("overlap")).collect();
    assert_eq!(told.len(), errors, "each hole is told once: {refused:#?}");
    for (n, diagnostic) in told.iter().enumerate() {
        assert_eq!(diagnostic.severity, project::Severity::Error);
        let span = diagnostic.span.clone().expect("it has a place");
        assert!(text[span].contains("420"), "at the hole's coordinates");
        let set = diagnostic.hint.as_ref().is_some_and(|h| h.contains("h0") && h.contains('['));
        assert_eq!(set, n == 0, "the set is offered once");
    }
    let plate = &subject.axle().plates[0];
    for overlap in &found {
        let (a, b) = overlap.holes;
        let own = (subject.axle().holes[a].at.at - subject.axle().holes[b].at.at).norm();
        assert!((overlap.distance - own).abs() < SAME);
        assert!((overlap.least - plate.spacing * plate.bolt).abs() < SAME);
        assert_eq!(overlap.instead.len(), holes.len(), "a place for every hole of that end");
        let mut moved = car.clone();
        for (hole, place) in &overlap.instead {
            axle_of(&mut moved).holes[*hole].at.at = *place;
            assert!((place.y - 0.42).abs() < SAME, "on the plate");
            assert!(allowed(subject.axle(), plate, place, 1e-6), "within the plate's rules: {place}");
        }
        let left = overlaps(&Subject::new(&moved, End::Rear).unwrap());
        assert!(left.is_empty(), "the set offered does not overlap: {left:?}");
    }
}

#[test]
fn overlapping_holes_are_refused_with_a_set_that_fits() {
    check_overlaps(&[[2080.0, 260.0], [2120.0, 300.0]], 0, 0);
    check_overlaps(&[[2090.0, 270.0], [2100.0, 280.0]], 1, 1);
    check_overlaps(&[[2090.0, 280.0], [2090.0, 280.0]], 1, 1);
    check_overlaps(&[[2085.0, 280.0], [2095.0, 280.0], [2105.0, 280.0]], 3, 2);
}

#[test]
fn sixty_crowded_holes_are_one_error_each() {
    let holes: Vec<[f64; 2]> =
        (0..60).map(|i| [2062.0 + 7.0 * f64::from(i % 10), 245.0 + 8.0 * f64::from(i / 10)]).collect();
    let told = check(&project::read(&plover_with(&holes)).car.expect("a car"));
    let told: Vec<_> = told.iter().filter(|d| d.message.contains("overlap")).collect();
    assert_eq!(told.len(), 59, "one for each hole that overlaps an earlier one");
    let hints: Vec<&String> = told.iter().filter_map(|d| d.hint.as_ref()).collect();
    assert_eq!(hints.len(), 1, "{hints:?}");
    assert!(hints[0].contains("no room"), "{}", hints[0]);
    let last = &told[58].message;
    assert!(last.starts_with("hole `h59` overlaps `h") && last.contains(" others: the nearest"), "{last}");
}

#[test]
fn the_offered_set_stays_on_the_plate_when_holes_crowd_its_edge() {
    // Both 19 mm from the lower edge, where 18 are needed: pushed apart up and down, one would leave the plate.
    check_overlaps(&[[2090.0, 244.0], [2090.0, 254.0]], 1, 1);
}

#[test]
fn the_offered_set_parts_holes_that_are_on_one_spot_along_the_plate() {
    // On a plate that lies flat, up and down is off the plate.
    let text = text_of("plover/car.toml");
    let (before, after) = text.split_once("[rear.plate.lower-fore]").unwrap();
    let (_, tail) = after.split_once("[choose]").unwrap();
    let hole = |n: &str| {
        format!("[[rear.holes]]\nend = \"link.lower-fore.body\"\nname = \"{n}\"\nat = [2100, 420, 255]\n")
    };
    let text = format!(
        "{before}[rear.plate.flat]\nend = \"link.lower-fore.body\"\nbolt = \"M12\"\n\
         corners = [[2040, 360, 255], [2145, 360, 255], [2145, 480, 255], [2040, 480, 255]]\n{}{}[choose]{tail}",
        hole("a"),
        hole("b")
    );
    let car = project::read(&text).car.expect("a car");
    let subject = subject(&car, End::Rear);
    let found = overlaps(&subject);
    assert_eq!(found.len(), 1);
    for (_, place) in &found[0].instead {
        assert!((place.z - 0.255).abs() < SAME, "still on the plate: {place}");
    }
}

#[test]
fn a_found_hole_written_into_the_file_gives_the_same_row() {
    let mut car = plover(2.5, 1.5, (0.40, 0.45));
    let values = at_shares(&car, Quantity::AntiBraking, &[0.4, 0.8]);
    let found = search(&car, 0, &wishes(Quantity::AntiBraking, &values));
    let plate = car.rear.as_ref().unwrap().plates[0].clone();
    for (i, p) in found.placed.iter().enumerate() {
        axle_of(&mut car).holes.push(as_hole(&plate, format!("H{i}"), p.at));
    }
    assert!(check(&car).iter().all(|d| d.severity != project::Severity::Error), "they pass the check");
    let subject = subject(&car, End::Rear);
    let extra = Candidate::new("both?", vec![0]);
    let choice = choose(&subject, &[extra], &[], |_, _| {}).unwrap();
    for (i, p) in found.placed.iter().enumerate() {
        let row = choice.rows.iter().find(|r| r.candidate.holes == [i]).unwrap();
        let link = &row.links[0];
        assert!((link.length.value - p.link_length.unwrap()).abs() < SAME);
    }
}
