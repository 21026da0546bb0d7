//! The demo's whole book, from the text of the car file to the bytes of the PDF. Asked: under 1.5 s cold; the first
//! round of `whole` is the cold one (`--sample-count 1`).
#![allow(clippy::unwrap_used)]

use divan::{Bencher, black_box};
use paper::Fonts;
use paper::book::{BookSpec, book};

const WHOLE: &str = include_str!("../../../examples/plover/whole.toml");

fn main() {
    divan::main();
}

fn laid(fonts: &Fonts) -> paper::Document {
    let mut loaded = project::read(WHOLE);
    let car = loaded.car.as_mut().unwrap();
    study::settle(car);
    let spec = BookSpec {
        date: "2026-05-17".into(),
        text: WHOLE,
        diagnostics: &loaded.diagnostics,
        ..BookSpec::default()
    };
    book(car, &spec, fonts, |_, _| {})
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn whole(bencher: Bencher<'_, '_>) {
    bencher.bench_local(|| {
        let fonts = Fonts::new();
        let document = laid(&fonts);
        black_box(paper::pdf::pdf(&document, &fonts).unwrap())
    });
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn worked_out_and_laid(bencher: Bencher<'_, '_>) {
    let fonts = Fonts::new();
    bencher.bench_local(|| black_box(laid(&fonts)));
}
