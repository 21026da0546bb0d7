//! The jig sheet as a file.

use exchange::{Cell, Column, Sheet};
use paper::jig::{
    TAPE, consequence_words, jig_section, mark_letter, place_words, role_words, scale_of, side_words,
};
use paper::pdf::pdf;
use paper::sheet::Paper;
use project::model::Car;
use study::{Jig, JigRow, Scale};
use units::Dimension;

use super::{FileError, Kind, document, table};

/// The sheet as PDF, CSV (its places) or XLSX.
pub(crate) fn jig_file(jig: &Jig, car: &Car, kind: Kind, paper: Paper) -> Result<Vec<u8>, FileError> {
    if kind != Kind::Pdf {
        return table::bytes(&jig_sheet(jig, car), kind);
    }
    let fonts = crate::print::fonts();
    let mut document = document(car, &format!("jig sheet, {} axle", jig.end.name()), paper);
    document.flow(fonts, &jig_section(jig, car));
    Ok(pdf(&document, fonts)?)
}

/// The sheet as tables, the places first; lengths in the file's unit.
fn jig_sheet(jig: &Jig, car: &Car) -> Vec<Sheet> {
    let factor = 1.0 / car.units.factor(Dimension::Length);
    let unit = car.units.symbol(Dimension::Length);
    let decimals = u8::try_from(Scale::Length.decimals(&car.units) + 1).unwrap_or(3);
    let length = |heading: &str| table::numbers(format!("{heading} [{unit}]"), decimals);
    let number = |metres: f64| Cell::Number(metres * factor);
    vec![
        places(jig, car, &length, &number),
        Sheet {
            name: "marks".into(),
            columns: [table::words("mark"), table::words("where")]
                .into_iter()
                .chain(["x", "y", "z", "± x", "± y", "± z"].map(length))
                .collect(),
            rows: (0..)
                .zip(&jig.datums)
                .map(|(index, datum)| {
                    let words = [mark_letter(index), datum.name.clone()].map(Cell::Text);
                    let numbers = datum.at.iter().chain(datum.uncertainty.iter()).map(|v| number(*v));
                    words.into_iter().chain(numbers).collect()
                })
                .collect(),
            notes: vec![jig.frame.clone()],
        },
        Sheet {
            name: "diagonals".into(),
            columns: vec![
                table::words("from"),
                table::words("to"),
                length("left to right"),
                length("right to left"),
                table::numbers("apart per length that the left stands ahead", 3),
            ],
            rows: jig
                .diagonals
                .iter()
                .map(|d| {
                    vec![
                        Cell::Text(d.a.clone()),
                        Cell::Text(d.b.clone()),
                        number(d.left_to_right),
                        number(d.right_to_left),
                        Cell::Number(d.per_ahead),
                    ]
                })
                .collect(),
            notes: Vec::new(),
        },
        together(jig, car),
    ]
}

fn together(jig: &Jig, car: &Car) -> Sheet {
    let rows = jig.together.iter().map(|all| {
        let scale = scale_of(all.result);
        let factor = scale.factor(&car.units);
        let words = car.axle(jig.end).map(|axle| consequence_words(all.result, car, axle));
        vec![
            Cell::Text(words.unwrap_or_default()),
            Cell::from(scale.unit(&car.units).as_str()),
            Cell::Number(all.allowed * factor),
            Cell::Number(all.spread * factor),
        ]
    });
    Sheet {
        name: "together".into(),
        columns: vec![
            table::words("result"),
            table::words("unit"),
            table::numbers("allowed", 4),
            table::numbers("spread", 4),
        ],
        rows: rows.collect(),
        notes: Vec::new(),
    }
}

fn places(jig: &Jig, car: &Car, length: &dyn Fn(&str) -> Column, number: &dyn Fn(f64) -> Cell) -> Sheet {
    let mut columns = vec![table::words("place"), table::words("side"), table::words("what it is")];
    columns.extend(["x", "y", "z", "± x", "± y", "± z"].map(length));
    for axis in ["x", "y", "z"] {
        columns.push(length(&format!("may be off {axis}")));
        columns.push(table::words(format!("what decides {axis}")));
    }
    columns.push(table::words("how exact"));
    columns.push(table::words("best three marks"));
    columns.push(table::words("tape is enough"));
    for (index, datum) in jig.datums.iter().enumerate() {
        columns.push(length(&format!("tape from {}, {}", mark_letter(index), datum.name)));
        columns.push(length(&format!("± tape from {}", mark_letter(index))));
    }
    let mut notes = vec![String::new(), format!("{}, {} axle: {}.", car.name, jig.end.name(), jig.frame)];
    notes.extend(jig.notes.iter().cloned());
    let rows = jig.rows.iter().map(|row| place(row, jig, car, number)).collect();
    Sheet { name: "places".into(), columns, rows, notes }
}

fn place(row: &JigRow, jig: &Jig, car: &Car, number: &dyn Fn(f64) -> Cell) -> Vec<Cell> {
    let mut cells = vec![
        Cell::Text(place_words(row)),
        Cell::from(side_words(row.side)),
        Cell::from(role_words(row.role)),
    ];
    cells.extend(row.at.iter().chain(row.uncertainty.iter()).map(|v| number(*v)));
    let axle = car.axle(jig.end);
    for k in 0..3 {
        let limit = row.need.as_ref().and_then(|need| need.along.get(k)).and_then(Option::as_ref);
        cells.push(limit.map_or(Cell::Empty, |limit| number(limit.tolerance)));
        let words = limit.zip(axle).map(|(limit, axle)| consequence_words(limit.decides, car, axle));
        cells.push(words.map_or(Cell::Empty, Cell::Text));
    }
    let class = row.need.as_ref().map(|need| need.class.words(&car.units));
    cells.push(class.map_or(Cell::Empty, Cell::Text));
    let best = row.fix.as_ref().map(|fix| fix.datums.map(mark_letter).concat());
    cells.push(best.map_or(Cell::Empty, Cell::Text));
    let enough = row.tape_will_do(TAPE).map(|will| if will { "yes" } else { "no" });
    cells.push(enough.map_or(Cell::Empty, Cell::from));
    for datum in 0..jig.datums.len() {
        let tape = row.tapes.iter().find(|tape| tape.datum == datum);
        cells.push(tape.map_or(Cell::Empty, |tape| number(tape.length)));
        cells.push(tape.map_or(Cell::Empty, |tape| number(tape.uncertainty)));
    }
    cells
}
