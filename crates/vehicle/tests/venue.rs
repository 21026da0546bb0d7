//! Courses against closed forms and against what must hold for any of them.
#![expect(clippy::indexing_slicing, reason = "a test that cannot look has failed")]

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use vehicle::venue::{
    Course, Gate, Piece, Row, Shape, VenueError, from_centreline, from_gates, from_pieces, line_within,
};

fn straight(length: f64) -> Piece {
    Piece { name: None, shape: Shape::Straight(length), grade: 0.0, bank: 0.0, grip: 1.0, width: Some(12.0) }
}

fn corner(radius: f64, angle: f64, easing: f64) -> Piece {
    Piece { shape: Shape::Corner { radius, angle, easing }, ..straight(0.0) }
}

fn noise() -> impl FnMut() -> f64 {
    let mut seed = 11u64;
    move || {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 11) as f64 / (1u64 << 53) as f64 - 0.5
    }
}

/// Two straights and two half circles: `2 L + 2 pi R` round, closed (any textbook).
#[test]
fn an_oval() {
    let pieces = [straight(200.0), corner(60.0, PI, 0.0), straight(200.0), corner(60.0, PI, 0.0)];
    let course = from_pieces(&pieces, true, 2.0).unwrap();
    assert!((course.length() - (400.0 + TAU * 60.0)).abs() < 1e-9);
    assert!((course.turning() - TAU).abs() < 0.05);
    let far = course.spots.iter().map(|s| s.place[1]).fold(0.0, f64::max);
    assert!((far - 120.0).abs() < 0.05, "{far}");
    let in_corner = course.spots.iter().filter(|s| s.curvature > 0.0).count() as f64 * course.step;
    assert!((in_corner - TAU * 60.0).abs() < 4.0 * course.step);
    assert!(course.spots.iter().all(|s| s.curvature == 0.0 || (s.curvature - 1.0 / 60.0).abs() < 1e-6));
}

/// A clothoid of length e that ends at 1/R has turned by `e/(2 R)` and stands at the Fresnel integrals' place: for e = R =
/// 100 m, x = 97.5288 m, y = 16.3714 m (series `e (1 - t^2/10 + t^4/216)`, `e (t/3 - t^3/42 + t^5/1320)`, t = 1/2; railway
/// handbooks, remembered).
#[test]
fn an_easing() {
    let course = from_pieces(&[corner(100.0, 1.5, 100.0), straight(50.0)], false, 0.5).unwrap();
    let spot = course.spots[(100.0 / course.step).round() as usize];
    assert!((spot.heading - 0.5).abs() < 2e-3 && (spot.curvature - 0.01).abs() < 1e-4);
    let t: f64 = 0.5;
    let x = 100.0 * (1.0 - t.powi(2) / 10.0 + t.powi(4) / 216.0 - t.powi(6) / 9360.0);
    let y = 100.0 * (t / 3.0 - t.powi(3) / 42.0 + t.powi(5) / 1320.0);
    let way = (100.0 / course.step).round() * course.step;
    let off = way - 100.0;
    assert!((spot.place[0] - x - off * t.cos()).abs() < 1e-3, "{} {x}", spot.place[0]);
    assert!((spot.place[1] - y - off * t.sin()).abs() < 1e-3, "{} {y}", spot.place[1]);
    let end = course.spots.last().unwrap();
    assert!((end.heading - 1.5).abs() < 1e-9);
    assert!((course.length() - (150.0 + 100.0 + 50.0)).abs() < 1e-9, "A R + e of the corner, and 50");
}

/// A course that does not close says by how much; one that nearly does is closed evenly.
#[test]
fn closing() {
    let open = [straight(100.0), corner(50.0, FRAC_PI_2, 0.0), straight(100.0)];
    let error = from_pieces(&open, true, 2.0).unwrap_err();
    assert!(matches!(error, VenueError::Open { turn, .. } if (turn - 90.0).abs() < 1e-6), "{error}");
    assert!(error.hint().contains("360"));
    let nearly = [straight(201.0), corner(60.0, PI, 20.0), straight(200.0), corner(60.0, PI, 20.0)];
    let course = from_pieces(&nearly, true, 1.0).unwrap();
    let (first, last) = (course.spots[0], course.spots.last().unwrap());
    let ahead =
        [last.place[0] + course.step * last.heading.cos(), last.place[1] + course.step * last.heading.sin()];
    assert!((ahead[0] - first.place[0]).hypot(ahead[1] - first.place[1]) < 0.02);
}

/// Grade integrates to height, and on a closed course comes back; the hollow is the grade's slope.
#[test]
fn hills() {
    let mut pieces = [straight(300.0), corner(60.0, PI, 0.0), straight(300.0), corner(60.0, PI, 0.0)];
    (pieces[0].grade, pieces[2].grade, pieces[1].bank) = (0.05, -0.05, 0.1);
    let course = from_pieces(&pieces, true, 1.0).unwrap();
    let top = course.spots.iter().map(|s| s.height).fold(0.0, f64::max);
    // The change of grade at either end is spread over 40 m, which takes an eighth of it off.
    assert!((top - (15.0 - 0.05 * 40.0 / 8.0)).abs() < 0.05, "{top}");
    let last = course.spots.last().unwrap();
    assert!((last.height + course.step * last.grade - course.spots[0].height).abs() < 0.02);
    for w in course.spots.windows(2) {
        assert!((w[1].height - w[0].height - 0.5 * course.step * (w[0].grade + w[1].grade)).abs() < 1e-3);
        assert!((w[1].grade - w[0].grade - 0.5 * course.step * (w[0].hollow + w[1].hollow)).abs() < 1e-3);
    }
    assert!((course.spots[390].bank - 0.1).abs() < 1e-9, "{}", course.spots[390].bank);
}

/// Half of a wave of the resolution is left, 1/(1 + 1e-6) of one ten times as long (the formula at the head of the
/// module).
#[test]
fn waves() {
    for (wave, left) in [(40.0, 0.5), (400.0, 1.0), (80.0, 64.0 / 65.0)] {
        let rows: Vec<Row> = (0..=4000)
            .map(|i| {
                let x = f64::from(i);
                Row::at([x, 0.5 * (TAU * x / wave).sin()])
            })
            .collect();
        let smooth = from_centreline(&rows, false, 40.0, 1.0).unwrap();
        let middle = smooth.course.spots.iter().filter(|s| (1000.0..3000.0).contains(&s.place[0]));
        let most = middle.map(|s| s.place[1]).fold(0.0, f64::max);
        assert!((most / 0.5 - left).abs() < 0.02, "{wave}: {most}");
    }
}

/// A circle with noise of 0.3 m comes back as a circle; without noise to half a thousandth.
#[test]
fn circles_come_back() {
    let mut random = noise();
    for (amount, allowed) in [(0.0, 5e-4), (0.3, 0.12)] {
        let rows: Vec<Row> = (0..300)
            .map(|i| {
                let a = TAU * f64::from(i) / 300.0;
                Row::at([150.0 * a.cos() + amount * random(), 150.0 * a.sin() + amount * random()])
            })
            .collect();
        let smooth = from_centreline(&rows, true, 60.0, 2.0).unwrap();
        for spot in &smooth.course.spots {
            assert!((spot.curvature * 150.0 - 1.0).abs() < allowed, "{amount}: {}", spot.curvature * 150.0);
        }
        assert!((smooth.course.length() - TAU * 150.0).abs() < 0.5, "{}", smooth.course.length());
        assert!((smooth.course.turning() - TAU).abs() < 1e-3);
        assert!(smooth.rms <= 0.3 * amount + 0.01, "{}", smooth.rms);
    }
}

/// What is wrong with points is told with its number.
#[test]
fn wrong_points() {
    let mut rows: Vec<Row> = (0..100).map(|i| Row::at([f64::from(i) * 5.0, 0.0])).collect();
    rows[60].place[1] = 400.0;
    assert!(matches!(from_centreline(&rows, false, 30.0, 2.0), Err(VenueError::Jump { index: 61, .. })));
    rows[60].place[1] = f64::NAN;
    assert!(matches!(from_centreline(&rows, false, 30.0, 2.0), Err(VenueError::Figure { index: 61, .. })));
    assert!(matches!(from_centreline(&rows[..4], false, 30.0, 2.0), Err(VenueError::TooFew { .. })));
    assert!(matches!(from_centreline(&rows[..50], false, -1.0, 2.0), Err(VenueError::Length { .. })));
}

fn bends(course: &Course) -> f64 {
    course.spots.iter().map(|s| s.curvature * s.curvature * course.step).sum()
}

/// Within the road the path bends less than its middle, never leaves the room, and through a right angle with long
/// straights opens it to at least the radius that the inner edge and both outer edges allow: `R + w (1 + 1/(sqrt 2 - 1))`
/// for an arc that touches all three, w the free half width (plane geometry; own).
#[test]
fn the_line_through_a_corner() {
    let (radius, half, car) = (30.0, 6.0, 1.0);
    let pieces = [straight(200.0), corner(radius, FRAC_PI_2, 0.0), straight(200.0)];
    let middle = from_pieces(&pieces, false, 1.0).unwrap();
    let line = line_within(&middle, car).unwrap();
    assert!(bends(&line) < 0.75 * bends(&middle), "{} {}", bends(&line), bends(&middle));
    for spot in &line.spots {
        assert!(spot.room[0] > car - 0.12 && spot.room[1] > car - 0.12, "{:?}", spot.room);
        assert!((spot.room[0] + spot.room[1] - 2.0 * half).abs() < 0.5, "{:?}", spot.room);
    }
    let free = half - car;
    let arc = radius + free * (1.0 + 2.0 / (2.0f64.sqrt() - 1.0) * 0.5);
    let tightest = line.spots.iter().map(|s| s.curvature).fold(0.0, f64::max);
    assert!(1.0 / tightest > 0.75 * arc, "{} {arc}", 1.0 / tightest);
    let narrow = from_pieces(&[Piece { width: Some(1.5), ..straight(100.0) }], false, 1.0).unwrap();
    assert!(matches!(line_within(&narrow, car), Err(VenueError::Narrow { .. })));
}

/// Round and round in a wide ring the least bent path is the outer edge.
#[test]
fn the_line_of_a_ring() {
    let ring = from_pieces(&[corner(50.0, TAU, 0.0)], true, 1.0).unwrap();
    let line = line_within(&ring, 1.0).unwrap();
    for spot in &line.spots {
        assert!((1.0 / spot.curvature - 55.0).abs() < 0.3, "{}", 1.0 / spot.curvature);
    }
}

/// Through a slalom the path passes every cone on its side with the car's half width, and turns both ways.
#[test]
fn a_slalom() {
    let gates: Vec<Gate> = (0..9)
        .map(|i| {
            let x = 18.0 * f64::from(i);
            let (left, right) = if i % 2 == 0 { ([x, 0.0], [x, -4.0]) } else { ([x, 4.0], [x, 0.0]) };
            Gate { name: (i == 0).then(|| "slalom".into()), left, right }
        })
        .collect();
    let half = 0.95;
    let course = from_gates(&gates, false, half, 0.5).unwrap();
    for (i, gate) in gates.iter().enumerate() {
        let x = gate.left[0];
        let near = course
            .spots
            .iter()
            .min_by(|a, b| (a.place[0] - x).abs().total_cmp(&(b.place[0] - x).abs()))
            .unwrap();
        let y = near.place[1];
        assert!(y < gate.left[1] - half + 0.12 && y > gate.right[1] + half - 0.12, "{i}: {y} {gate:?}");
    }
    let (most, least) =
        course.spots.iter().fold((0.0f64, 0.0f64), |(a, b), s| (a.max(s.curvature), b.min(s.curvature)));
    // A sine of amplitude A and wavelength 36 m bends by A (2 pi/36)^2.
    let amplitude = half;
    let sine = amplitude * (TAU / 36.0).powi(2);
    assert!(most > 0.7 * sine && most < 1.6 * sine && least < -0.7 * sine, "{most} {least} {sine}");
    assert_eq!(course.sections.len(), 1);
    let tight = Gate { name: None, left: [0.0, 0.5], right: [0.0, -0.5] };
    assert!(matches!(
        from_gates(&[tight.clone(), tight.clone(), tight], false, half, 0.5),
        Err(VenueError::Narrow { .. })
    ));
}

/// Whatever is thrown at it: a course of usable numbers, or an error.
#[test]
fn odd_courses() {
    let mut random = noise();
    for round in 0..600 {
        let mut number = || match (random() * 12.0) as i32 {
            0 => f64::NAN,
            1 => 1e9 * random(),
            2 => 0.0,
            _ => 200.0 * random(),
        };
        let course = match round % 3 {
            0 => {
                let pieces: Vec<Piece> = (0..1 + round % 7)
                    .map(|i| Piece {
                        grade: number() * 1e-3,
                        bank: number() * 1e-3,
                        ..if i % 2 == 0 {
                            straight(number())
                        } else {
                            corner(number(), number() * 0.02, number())
                        }
                    })
                    .collect();
                from_pieces(&pieces, round % 2 == 0, 2.0)
            }
            1 => {
                let rows: Vec<Row> =
                    (0..40).map(|i| Row::at([f64::from(i) * 5.0, 0.02 * number()])).collect();
                from_centreline(&rows, round % 2 == 0, 30.0, 2.0).map(|s| s.course)
            }
            _ => {
                let gates: Vec<Gate> = (0..4 + round % 5)
                    .map(|i| {
                        let (x, y) = (20.0 * f64::from(i), 0.05 * number());
                        Gate { name: None, left: [x, y + 3.0], right: [x, y - 3.0] }
                    })
                    .collect();
                from_gates(&gates, round % 2 == 0, 0.9, 1.0)
            }
        };
        if let Ok(course) = course {
            assert!(
                course.spots.iter().all(|s| s.curvature.is_finite() && s.place.iter().all(|p| p.is_finite()))
            );
            assert!(course.length() > 0.0 && course.step > 0.0);
        }
    }
}
