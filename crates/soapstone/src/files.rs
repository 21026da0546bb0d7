//! Files that leave the program, made once for the terminal and the page: what each is called, its kind, its bytes.

mod book;
mod card;
mod charts;
mod import;
mod jig;
mod name;
mod points;
mod results;
pub(crate) mod samples;
mod skeleton;
mod table;
mod template;

use exchange::ExchangeError;
use paper::sheet::Paper;
use paper::{Document, Head, PaperError};
use project::model::Car;
use thiserror::Error;
use units::LengthUnit;

pub(crate) use book::{BookWanted, book_file};
pub(crate) use card::{CardsError, card_file, cards_wanted, jobs_from};
pub(crate) use charts::{charts, charts_zip};
pub(crate) use import::{Columns, ColumnsError, columns_words, default_axle, edit_of, grid_of, looked_at};
pub(crate) use jig::jig_file;
pub(crate) use name::safe;
pub(crate) use points::points_file;
pub(crate) use results::results_file;
pub(crate) use skeleton::skeleton_file;
pub(crate) use template::{SideWanted, patterns, template_file};

/// A kind of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    Pdf,
    Csv,
    Xlsx,
    Svg,
    Png,
    Dxf,
    Step,
    Zip,
}

impl Kind {
    const ALL: [Self; 8] =
        [Self::Pdf, Self::Csv, Self::Xlsx, Self::Svg, Self::Png, Self::Dxf, Self::Step, Self::Zip];

    /// The ending of its files, without the point.
    pub fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Csv => "csv",
            Self::Xlsx => "xlsx",
            Self::Svg => "svg",
            Self::Png => "png",
            Self::Dxf => "dxf",
            Self::Step => "step",
            Self::Zip => "zip",
        }
    }

    /// The kind that an ending means.
    pub fn of(ending: &str) -> Option<Self> {
        let ending = ending.to_lowercase();
        Self::ALL.into_iter().find(|kind| kind.ending() == ending || (*kind == Self::Step && ending == "stp"))
    }

    /// What a browser is told (media types of the IANA registry).
    pub fn media(self) -> &'static str {
        match self {
            Self::Pdf => "application/pdf",
            Self::Csv => "text/csv; charset=utf-8",
            Self::Xlsx => "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
            Self::Svg => "image/svg+xml",
            Self::Png => "image/png",
            Self::Dxf => "image/vnd.dxf",
            Self::Step => "model/step",
            Self::Zip => "application/zip",
        }
    }
}

/// Why a file is not made.
#[derive(Debug, Error)]
pub(crate) enum FileError {
    /// The table or drawing cannot be written.
    #[error(transparent)]
    Exchange(#[from] ExchangeError),
    /// The pages cannot be made.
    #[error(transparent)]
    Paper(#[from] PaperError),
    /// The template cannot be laid out.
    #[error(transparent)]
    Template(#[from] paper::template::TemplateError),
    /// The study cannot be made.
    #[error(transparent)]
    Study(#[from] study::StudyError),
    /// A packed file cannot be made.
    #[error("the charts cannot be packed: {0}")]
    Zip(#[from] zip::result::ZipError),
    /// The same for its contents.
    #[error("the charts cannot be packed: {0}")]
    Pack(#[from] std::io::Error),
    /// Nothing of the kind is in the file.
    #[error("{what}")]
    Nothing {
        /// What is missing.
        what: String,
        /// What to write.
        hint: String,
    },
    /// A kind that this is not written as.
    #[error("this is not written as `.{}`", .0.ending())]
    Kind(Kind),
}

impl FileError {
    /// What to do instead, where that can be said.
    pub fn hint(&self) -> Option<String> {
        match self {
            Self::Exchange(error) => error.hint().map(str::to_string),
            Self::Study(study::StudyError::Held { hint, .. }) => hint.clone(),
            Self::Nothing { hint, .. } => Some(hint.clone()),
            _ => None,
        }
    }
}

/// The paper that a car's owner has in the printer: that of the units he measures in.
pub(crate) fn usual_paper(car: &Car) -> Paper {
    match car.units.length {
        LengthUnit::Inch | LengthUnit::Foot => Paper::Letter,
        _ => Paper::A4,
    }
}

/// An empty document about a car.
fn document(car: &Car, title: &str, paper: Paper) -> Document {
    Document::new(Head {
        title: format!("{}: {title}", car.name),
        subject: format!("{title} of {}", car.name),
        date: crate::print::today(),
        revision: String::new(),
        caution: paper::CAUTION.into(),
        paper,
    })
}
