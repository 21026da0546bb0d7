//! Writes a sample of every kind of file into a folder, and the grid of what it reads there as CSV: for
//! `reference/exchange_check.py`, which reads and makes the same with other libraries.
//!
//! `exchange_samples FOLDER` writes; `exchange_samples FOLDER FILE…` reads each file and writes `FILE.read.csv`.
#![expect(clippy::print_stderr, reason = "an example tells what goes wrong")]

use std::error::Error;
use std::path::Path;

use exchange::{
    Cell, Column, Drawing, Layer, Separator, Shape, Sheet, StepHead, csv_grid, csv_text, dxf, step,
    xlsx_bytes, xlsx_grid,
};

fn main() {
    if let Err(error) = run() {
        eprintln!("{error}");
        std::process::exit(1);
    }
}

fn run() -> Result<(), Box<dyn Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [folder, files @ ..] = arguments.as_slice() else { return Err("which folder?".into()) };
    let folder = Path::new(folder);
    if files.is_empty() { write(folder) } else { files.iter().try_for_each(|file| read(folder, file)) }
}

fn flat() -> Drawing {
    let up = [0.0, 0.0, 1.0];
    let mut drawing = Drawing::default();
    let corners = vec![[0.0, 0.0, 0.0], [120.0, 0.0, 0.0], [120.0, 80.5, 0.0], [0.0, 80.5, 0.0]];
    drawing.add(Layer::CUT, "plate", Shape::Polyline { points: corners, closed: true });
    for (name, x) in [("A", 30.0), ("B", 55.123_456_789)] {
        let shape = Shape::Circle { centre: [x, 40.0, 0.0], normal: up, radius: 6.1 };
        drawing.add(Layer::DRILL, name, shape);
    }
    drawing.add(Layer::MARK, "level", Shape::Line { from: [-5.0, 40.0, 0.0], to: [125.0, 40.0, 0.0] });
    drawing.add(Layer::MARK, "centre", Shape::Point { at: [60.0, 40.25, 0.0] });
    let arc = Shape::Arc { centre: [60.0, 40.0, 0.0], radius: 12.0, from_deg: 350.0, to_deg: 80.0 };
    drawing.add(Layer::BEND, "corner", arc);
    let text = "Ø 12,2 ± 0,1 — 100 % ^ %%d".to_string();
    drawing.add(Layer::NOTE, "", Shape::Text { at: [2.0, 3.0, 0.0], height: 3.5, rotation_deg: 90.0, text });
    drawing
}

fn in_space() -> Drawing {
    let mut drawing = Drawing::default();
    let line = Shape::Line { from: [-2600.0, 421.0, 290.0], to: [-2612.5, 701.0, 277.0] };
    drawing.add(Layer::REFERENCE, "rod Ä", line);
    let points = vec![[0.0, 0.0, 0.0], [10.0, 0.0, 5.0], [10.0, 20.0, -5.0]];
    drawing.add(Layer::MARK, "frame", Shape::Polyline { points, closed: true });
    let circle = Shape::Circle { centre: [1200.0, -430.0, 215.0], normal: [0.3, -0.5, 0.2], radius: 6.1 };
    drawing.add(Layer::DRILL, "bolt", circle);
    drawing.add(Layer::MARK, "datum", Shape::Point { at: [1.0, 2.0, 3.0] });
    let arc = Shape::Arc { centre: [60.0, 40.0, 7.0], radius: 12.0, from_deg: 350.0, to_deg: 80.0 };
    drawing.add(Layer::CUT, "notch", arc);
    drawing
}

fn sheets() -> Vec<Sheet> {
    let column = |heading: &str, decimals| Column { heading: heading.into(), width: None, decimals };
    let rows: Vec<Vec<Cell>> = vec![
        vec!["link.toe.body".into(), 2760.04.into(), "=1+1".into()],
        vec!["± Ø".into(), (-0.5).into(), "@x".into()],
        vec![Cell::Empty, Cell::Empty, "-2".into()],
    ];
    let first = Sheet {
        name: "points".into(),
        columns: vec![column("point", 0), column("x [mm]", 1), column("note", 0)],
        rows,
        notes: vec!["planning figures, not an approval".into()],
    };
    let second = Sheet { name: "diagonals".into(), ..first.clone() };
    vec![first, second]
}

fn write(folder: &Path) -> Result<(), Box<dyn Error>> {
    std::fs::write(folder.join("flat.dxf"), dxf(&flat())?)?;
    std::fs::write(folder.join("space.dxf"), dxf(&in_space())?)?;
    let head = StepHead {
        title: "sample's frame".into(),
        written: "2026-01-01T12:00:00".into(),
        author: String::new(),
    };
    std::fs::write(folder.join("space.step"), step(&in_space(), &head)?)?;
    std::fs::write(folder.join("sheets.xlsx"), xlsx_bytes(&sheets())?)?;
    if let Some(sheet) = sheets().first() {
        std::fs::write(folder.join("sheet.csv"), csv_text(sheet, Separator::Semicolon)?)?;
    }
    Ok(())
}

fn read(folder: &Path, file: &str) -> Result<(), Box<dyn Error>> {
    let bytes = std::fs::read(folder.join(file))?;
    let grid = if file.ends_with(".xlsx") { xlsx_grid(&bytes)? } else { csv_grid(&bytes)? };
    for sheet in &grid.sheets {
        let width = sheet.width();
        let rows = (0..sheet.rows.len())
            .map(|row| (0..width).map(|column| Cell::from(sheet.cell(row, column))).collect())
            .collect();
        let columns = (0..width)
            .map(|column| Column { heading: exchange::address(0, column), width: None, decimals: 0 })
            .collect();
        let out = Sheet { name: sheet.name.clone(), columns, rows, notes: Vec::new() };
        let path = folder.join(format!("{file}.{}.read.csv", sheet.name));
        std::fs::write(path, csv_text(&out, Separator::Comma)?)?;
    }
    Ok(())
}
