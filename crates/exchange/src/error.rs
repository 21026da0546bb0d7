//! Why a file cannot be made or read.

use thiserror::Error;

/// Why a file cannot be made or read.
#[derive(Debug, Error)]
pub enum ExchangeError {
    /// A coordinate is no number, or a hundred metres or more from the zero.
    #[error("`{name}` (shape {item} of the drawing) has a coordinate that cannot be drawn")]
    Coordinate {
        /// Which shape, from 1.
        item: usize,
        /// Its name.
        name: String,
    },
    /// A radius, a height of letters or a normal that is nothing.
    #[error("`{name}` (shape {item} of the drawing) has no size: its {what} is nothing")]
    NoSize {
        /// Which shape, from 1.
        item: usize,
        /// Its name.
        name: String,
        /// What is nothing.
        what: &'static str,
    },
    /// Too few points for a line through them.
    #[error("`{name}` (shape {item} of the drawing) has {found} points, where at least two are wanted")]
    TooFewPoints {
        /// Which shape, from 1.
        item: usize,
        /// Its name.
        name: String,
        /// How many it has.
        found: usize,
    },
    /// A layer's name that the format cannot hold.
    #[error("`{name}` cannot be the name of a layer")]
    LayerName {
        /// The name.
        name: String,
    },
    /// A colour outside the index of colours.
    #[error("the layer `{name}` has the colour {colour}, and colours are 1 to 255")]
    LayerColour {
        /// The layer.
        name: String,
        /// The colour.
        colour: u8,
    },
    /// A drawing with nothing in it.
    #[error("there is nothing to draw")]
    Nothing,
    /// A sheet's name that the format cannot hold, or that another sheet has.
    #[error("`{name}` cannot be the name of a sheet: {why}")]
    SheetName {
        /// The name.
        name: String,
        /// What is wrong with it.
        why: &'static str,
    },
    /// More than a sheet may have.
    #[error("the sheet `{sheet}` has more than {most} {what}")]
    TooLarge {
        /// The sheet.
        sheet: String,
        /// `rows` or `columns`.
        what: &'static str,
        /// How many are taken.
        most: usize,
    },
    /// A file that is larger than any table of points.
    #[error("the file is larger than {most} bytes")]
    TooManyBytes {
        /// How many are taken.
        most: usize,
    },
    /// The writer of XLSX refused.
    #[error("the workbook cannot be written: {source}")]
    Workbook {
        /// Its reason.
        #[from]
        source: rust_xlsxwriter::XlsxError,
    },
    /// The file is not XLSX, or is damaged.
    #[error("the file is not a workbook that can be read: {source}")]
    NotXlsx {
        /// The reader's reason.
        #[from]
        source: calamine::XlsxError,
    },
    /// The CSV writer or reader refused.
    #[error("the table cannot be written or read: {source}")]
    Csv {
        /// Its reason.
        #[from]
        source: csv::Error,
    },
    /// Bytes that are no text.
    #[error("line {line} of the file is not UTF-8 text")]
    NotText {
        /// The line, from 1.
        line: usize,
    },
}

impl ExchangeError {
    /// What to do instead, where that can be said.
    pub fn hint(&self) -> Option<&'static str> {
        Some(match self {
            Self::Coordinate { .. } => "give it a place within a hundred metres of the zero",
            Self::NoSize { .. } => "give it a size, or leave it out",
            Self::TooFewPoints { .. } => "a single place is drawn as a point",
            Self::LayerName { .. } => "one to 255 letters, figures, `-` and `_`",
            Self::LayerColour { .. } => "1 red, 3 green, 5 blue, 7 black or white, 8 grey",
            Self::Nothing => "the drawing needs at least one shape",
            Self::SheetName { .. } => "a short name of its own, without [ ] : * ? / \\",
            Self::TooLarge { .. } => "keep the table of points alone on a sheet of its own",
            Self::TooManyBytes { .. } => "save the table of points alone",
            Self::NotXlsx { .. } => "save it as XLSX or as CSV in the spreadsheet program",
            Self::NotText { .. } => "save it as CSV in UTF-8, or as XLSX",
            Self::Workbook { .. } | Self::Csv { .. } => return None,
        })
    }
}
