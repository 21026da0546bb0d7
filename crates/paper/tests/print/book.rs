//! The book of the demo cars and of odd ones: nothing off a page, nothing over anything else, every chapter found again.

use paper::book::{BookSpec, book};
use paper::sheet::Paper;
use paper::{Document, Fonts};
use project::model::Car;
use rand::rngs::StdRng;
use rand::{RngExt, SeedableRng};

use crate::flow::check;
use crate::tools::{folder, poppler};

const WHOLE: &str = include_str!("../../../../examples/plover/whole.toml");
const PLOVER: &str = include_str!("../../../../examples/plover/car.toml");
const WREN: &str = include_str!("../../../../examples/wren/car.toml");
const DUNLIN: &str = include_str!("../../../../examples/dunlin/car.toml");

fn car(text: &str) -> Car {
    let mut car = project::read(text).car.unwrap();
    study::settle(&mut car);
    car
}

fn made(car: &Car, text: &str, paper: Paper) -> Document {
    let diagnostics = project::read(text).diagnostics;
    let spec =
        BookSpec { date: "2026-05-17".into(), revision: "3".into(), paper, text, diagnostics: &diagnostics };
    let mut steps = Vec::new();
    let document = book(car, &spec, &Fonts::new(), |done, total| steps.push((done, total)));
    assert!(
        steps.windows(2).all(|w| w[0].0 < w[1].0) && steps.last().is_some_and(|(d, t)| d == t),
        "{steps:?}"
    );
    document
}

#[test]
fn the_demo_cars_have_a_page_for_each_stage_with_data() {
    for (text, paper, chapters) in [
        (
            WHOLE,
            Paper::A4,
            &["Rear axle: the choice table", "Weigh", "Stop", "Balance", "Survey", "What was assumed"][..],
        ),
        (PLOVER, Paper::Letter, &["Rear axle: the choice table", "Survey", "What was assumed"]),
        (WREN, Paper::A4, &["Survey"]),
        (DUNLIN, Paper::Letter, &["Survey"]),
    ] {
        let document = made(&car(text), text, paper);
        let all = check(&document);
        for chapter in chapters {
            assert!(
                document.bookmarks().iter().any(|mark| mark.level == 1 && mark.words == *chapter),
                "{chapter}"
            );
        }
        for words in ["Planning figures, not an approval", "licensed engineer", "page 1 of", "revision 3"] {
            assert!(all.contains(words), "{words}");
        }
        assert!(!all.contains("NaN") && !all.contains("inf "), "{paper:?}");
    }
}

/// The contents name the page on which a chapter begins, as the bookmarks do.
#[test]
fn the_contents_lead_to_the_chapters() {
    let document = made(&car(WHOLE), WHOLE, Paper::A4);
    let bytes = paper::pdf::pdf(&document, &Fonts::new()).unwrap();
    let file = folder("book").join("whole.pdf");
    std::fs::write(&file, bytes).unwrap();
    let path = file.to_string_lossy();
    let page = |n: usize| {
        let n = n.to_string();
        poppler("pdftotext", &["-f", &n, "-l", &n, "-layout", &path, "-"])
            .map(|text| String::from_utf8_lossy(&text).into_owned())
    };
    let chapters = document.bookmarks().iter().filter(|mark| mark.level == 1).skip(1);
    let Some(front) = page(1).zip(page(2)).map(|(one, two)| format!("{one}\n{two}")) else { return };
    for chapter in chapters {
        let line = front.lines().find(|line| line.trim_start().starts_with(&chapter.words));
        let Some(line) = line else { panic!("{} is not in the contents", chapter.words) };
        let number: usize = line.split_whitespace().last().unwrap().parse().unwrap();
        assert_eq!(number, chapter.page + 1, "{}", chapter.words);
        assert!(page(number).unwrap().contains(&chapter.words));
    }
    let fonts = String::from_utf8_lossy(&poppler("pdffonts", &[&path]).unwrap()).into_owned();
    assert!(fonts.lines().skip(2).all(|line| line.contains("DejaVu") && line.contains(" yes ")), "{fonts}");
}

#[test]
fn odd_cars_make_good_pages() {
    let long =
        "Очень длинное имя машины, με ελληνικά, und mit Umlauten äöüß, 車 und noch viel mehr Worte danach";
    let named = WHOLE.replace("Plover, whole", long);
    check(&made(&car(&named), &named, Paper::A4));
    let mut crowd = String::from(PLOVER);
    for i in 0..60 {
        let (x, z) = (2060 + 8 * (i % 10), 232 + 20 * (i / 10));
        crowd.push_str(&format!(
            "\n[[rear.holes]]\nend = \"link.lower-fore.body\"\nname = \"H{i} with a name\"\nat = [{x}, 421, {z}]\n"
        ));
    }
    let crowded = project::read(&crowd).car.unwrap();
    assert!(crowded.rear.as_ref().unwrap().holes.len() > 60);
    check(&made(&crowded, &crowd, Paper::Letter));
    for kind in project::KINDS {
        let text = project::starter(kind, &units::UnitSystem::default()).unwrap();
        check(&made(&car(&text), &text, Paper::A4));
    }
}

/// How many random cars are tried; the long run sets another number.
fn cars() -> usize {
    std::env::var("SOAPSTONE_CARS").ok().and_then(|n| n.parse().ok()).unwrap_or(12)
}

/// Cars whose points, wheels and holes all stand somewhere else, many of which do not hold or come to an end.
#[test]
fn random_cars_make_good_pages() {
    let mut random = StdRng::seed_from_u64(5);
    for round in 0..cars() {
        let text = [PLOVER, WREN, DUNLIN][round % 3];
        let mut car = car(text);
        let reach = [0.005, 0.02, 0.06][round / 3 % 3];
        for axle in [&mut car.front, &mut car.rear].into_iter().flatten() {
            let places = axle.points.iter_mut().chain(axle.holes.iter_mut().map(|hole| &mut hole.at));
            for point in places.chain([&mut axle.wheel.centre]) {
                point.at.iter_mut().for_each(|x| *x += random.random_range(-reach..reach));
            }
        }
        check(&made(&car, text, if round % 2 == 0 { Paper::A4 } else { Paper::Letter }));
    }
}
