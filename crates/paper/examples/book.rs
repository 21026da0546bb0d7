//! Prints the demo cars' stages and templates as PDF, to be looked at:
//! `cargo run -p soapstone-paper --example book -- OUT_FOLDER [EXAMPLES_FOLDER]`.
#![allow(clippy::expect_used, clippy::print_stderr)]

use std::path::PathBuf;
use std::time::Instant;

use paper::sheet::Paper;
use paper::stage::{stage_section, worked_section};
use paper::template::{Clearance, drawing, of_plate, sheets};
use paper::{CAUTION, Document, Fonts, Head, pdf, png};
use project::model::End;

fn main() {
    let mut args = std::env::args().skip(1);
    let out = PathBuf::from(args.next().unwrap_or_else(|| "sheets".into()));
    let examples = PathBuf::from(args.next().unwrap_or_else(|| "examples".into()));
    std::fs::create_dir_all(&out).expect("the folder can be made");
    let fonts = Fonts::new();
    for (name, file, paper) in [
        ("plover", "whole.toml", Paper::A4),
        ("wren", "car.toml", Paper::Letter),
        ("dunlin", "car.toml", Paper::A4),
    ] {
        let text = std::fs::read_to_string(examples.join(name).join(file)).expect("a demo car");
        let car = project::read(&text).car.expect("a sound demo car");
        let mut document = Document::new(Head {
            title: format!("{}: stop, balance and templates", car.name),
            subject: "Planning figures and drilling templates".into(),
            date: "2026-05-17".into(),
            revision: "3".into(),
            caution: CAUTION.into(),
            paper,
        });
        let started = Instant::now();
        let stop = study::stop(&car, &[]);
        let balance = study::balance(&car, &[]);
        eprintln!("{name}: worked out in {:.0} ms", 1e3 * started.elapsed().as_secs_f64());
        let started = Instant::now();
        for (title, stage) in [("Stop", &stop), ("Balance", &balance)] {
            let remarks = ["± is one standard uncertainty."];
            document.flow(&fonts, &stage_section(title, CAUTION, &remarks, stage, &car.units));
        }
        for end in [End::Front, End::Rear] {
            let Some(axle) = car.axle(end) else { continue };
            for plate in &axle.plates {
                let pair = of_plate(end, plate, &axle.holes, &Clearance::default()).expect("a sound plate");
                for pattern in &pair {
                    sheets(&mut document, &fonts, pattern, &car.units).expect("a small plate");
                }
                let alone = drawing(&fonts, &pair[0]).svg(&fonts);
                std::fs::write(out.join(format!("{name}-{}.svg", plate.name)), alone)
                    .expect("a writable folder");
            }
        }
        document.flow(&fonts, &worked_section("Stop: how it comes about", &stop, &car.units));
        document.flow(&fonts, &worked_section("Balance: how it comes about", &balance, &car.units));
        let laid = started.elapsed();
        let bytes = pdf::pdf(&document, &fonts).expect("a sound document");
        let all = started.elapsed();
        eprintln!(
            "{name}: {} pages laid out in {:.0} ms, PDF of {} kB in {:.0} ms",
            document.len(),
            1e3 * laid.as_secs_f64(),
            bytes.len() / 1000,
            1e3 * (all - laid).as_secs_f64()
        );
        std::fs::write(out.join(format!("{name}.pdf")), bytes).expect("a writable folder");
        let first = png::png(&document, &fonts, 0, 80.0).expect("a page");
        std::fs::write(out.join(format!("{name}.png")), first).expect("a writable folder");
    }
}
