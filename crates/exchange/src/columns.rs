//! Tables of many rows in columns, as Apache Parquet files (the open format's specification, version 2; read): the samples
//! of large studies, worked out in parts on many machines and put together again.
//!
//! Plain data: names, units, numbers. Units stand in the file's key-value metadata under `unit.NAME`, beside whatever else
//! is said of the study there.

mod merge;
mod parquet_file;

use thiserror::Error;

pub use merge::{Merged, merge};
pub use parquet_file::{read, write};

/// A table in columns.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Columns {
    /// Columns, each of the same length.
    pub columns: Vec<Column>,
    /// What is said of the whole, by name; kept in this order.
    pub about: Vec<(String, String)>,
}

/// One column.
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// Its name.
    pub name: String,
    /// Unit of its values.
    pub unit: Option<String>,
    /// Values, row by row.
    pub values: Values,
}

/// Values of a column.
#[derive(Clone, Debug, PartialEq)]
pub enum Values {
    /// Numbers; one that is missing is not a number.
    Number(Vec<f64>),
    /// Whole numbers from 0.
    Count(Vec<u64>),
    /// Words.
    Text(Vec<String>),
}

/// Why columns cannot be written, read or put together.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum ColumnsError {
    /// Columns of different lengths, or two of one name.
    #[error("{0}")]
    Table(String),
    /// No such file, or a damaged one.
    #[error("this is no Parquet file that can be read: {0}")]
    Damaged(String),
    /// A column of a kind that is not taken.
    #[error("column {column} holds {kind}: only numbers, whole numbers from 0 and text are read")]
    Kind {
        /// Its name.
        column: String,
        /// What it holds.
        kind: String,
    },
    /// Too large.
    #[error("the file holds {rows} rows in {columns} columns: more than is read at once")]
    Large {
        /// Rows.
        rows: u64,
        /// Columns.
        columns: usize,
    },
    /// It could not be written.
    #[error("it could not be written: {0}")]
    Unwritten(String),
    /// Parts that are not of one study.
    #[error("{part} is of another study than {first}: {what}")]
    Other {
        /// The part.
        part: String,
        /// The one that it is compared with.
        first: String,
        /// What differs.
        what: String,
    },
    /// A row twice with different values.
    #[error("row {index} stands in {first} and in {second} with different values")]
    Differs {
        /// Its index.
        index: u64,
        /// Where it stands.
        first: String,
        /// See [`Self::Differs::first`].
        second: String,
    },
}

impl Values {
    /// How many.
    pub fn len(&self) -> usize {
        match self {
            Self::Number(v) => v.len(),
            Self::Count(v) => v.len(),
            Self::Text(v) => v.len(),
        }
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    fn kind(&self) -> &'static str {
        match self {
            Self::Number(_) => "numbers",
            Self::Count(_) => "whole numbers",
            Self::Text(_) => "text",
        }
    }
}

impl Columns {
    /// Rows.
    pub fn rows(&self) -> usize {
        self.columns.first().map_or(0, |c| c.values.len())
    }

    /// What is said under a name.
    pub fn said(&self, name: &str) -> Option<&str> {
        self.about.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
    }

    /// The column of this name.
    pub fn column(&self, name: &str) -> Option<&Column> {
        self.columns.iter().find(|c| c.name == name)
    }

    /// The numbers of the column of this name.
    pub fn numbers(&self, name: &str) -> Option<&[f64]> {
        match &self.column(name)?.values {
            Values::Number(v) => Some(v),
            _ => None,
        }
    }

    /// The whole numbers of the column of this name.
    pub fn counts(&self, name: &str) -> Option<&[u64]> {
        match &self.column(name)?.values {
            Values::Count(v) => Some(v),
            _ => None,
        }
    }

    /// # Errors
    /// Columns of different lengths, names that are empty or stand twice.
    pub fn check(&self) -> Result<(), ColumnsError> {
        let rows = self.rows();
        for (i, column) in self.columns.iter().enumerate() {
            if column.values.len() != rows {
                return Err(ColumnsError::Table(format!(
                    "column {} has {} rows, the first one {rows}",
                    column.name,
                    column.values.len()
                )));
            }
            let twice = self.columns.iter().take(i).any(|c| c.name == column.name);
            if column.name.is_empty() || twice {
                return Err(ColumnsError::Table(format!(
                    "a column without a name of its own: `{}`",
                    column.name
                )));
            }
        }
        Ok(())
    }
}
