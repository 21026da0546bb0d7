//! Files that leave and enter the program, from plain data: drawings as DXF and STEP, tables as XLSX and CSV,
//! samples in columns as Parquet.
//!
//! It knows no cars and opens no file: everything is handed in and out as text or bytes. Drawings are in
//! millimetres throughout, whatever a person sees, because a file for a machine carries one unit.
#![cfg_attr(
    not(test),
    deny(clippy::unwrap_used, clippy::expect_used, clippy::panic, clippy::indexing_slicing)
)]

pub mod columns;

mod drawing;
mod dxf;
mod step;

mod grid;
mod sheet;

mod error;

pub use drawing::{Drawing, Item, Layer, Shape};
pub use dxf::dxf;
pub use error::ExchangeError;
pub use grid::{Grid, GridSheet, MOST_BYTES, MOST_COLUMNS, MOST_ROWS, address, csv_grid, xlsx_grid};
pub use sheet::{Cell, Column, Separator, Sheet, csv_text, xlsx_bytes};
pub use step::{StepHead, step};
