//! Running matter: headings, paragraphs, lists, tables and figures, broken into pages.
//!
//! ```
//! use paper::flow::{Column, Flow, Table};
//! let mut flow = Flow::new();
//! flow.heading(1, "Jig");
//! flow.say("Set the stand to these heights before you tack anything.");
//! let mut table = Table::new([Column::words("station"), Column::figures("height, mm")]);
//! table.row(["fore", "255.0"]);
//! flow.table(table);
//! ```

mod figures;
mod pieces;
mod pour;
mod row;
mod table;

use crate::sheet::{Align, Drawing, Type};

pub(crate) use pieces::pieces;
pub(crate) use pour::pour;
pub(crate) use row::LINE;

/// Body, small print, and the headings of the three levels.
pub(crate) const BODY: Type = Type::points(9.5);
pub(crate) const SMALL: Type = Type::points(8.0);
pub(crate) const HEADINGS: [Type; 3] =
    [Type::points(17.0).bold(), Type::points(12.5).bold(), Type::points(10.5).bold()];

/// What is said, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Flow {
    /// The blocks.
    pub blocks: Vec<Block>,
}

/// A block of running matter.
#[derive(Clone, Debug, PartialEq)]
pub enum Block {
    /// A heading, also a bookmark; it stays with what follows.
    Heading {
        /// 1 for a chapter, 2, 3 below.
        level: u8,
        /// Its words.
        words: String,
    },
    /// A paragraph.
    Paragraph {
        /// Its words.
        words: String,
        /// Whether small print.
        small: bool,
    },
    /// A list.
    Bullets(Vec<String>),
    /// Names and what they stand for.
    Pairs(Vec<(String, String)>),
    /// A table.
    Table(Table),
    /// Figures with captions, in columns.
    Figures {
        /// The figures.
        figures: Vec<Figure>,
        /// How many stand side by side, at least 1.
        columns: usize,
    },
    /// What can hurt someone, framed.
    Caution(String),
    /// What follows begins on a new page.
    NewPage,
}

/// A drawing with its caption, kept together.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// The drawing; it is as wide as its column, or as the page is high.
    pub drawing: Drawing,
    /// What it shows and how to read it.
    pub caption: String,
}

/// A table. Its heading is repeated on every page; a row is only parted where it is taller than a page; a table
/// that is too wide is laid out in parts that each begin with the first column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows, a text for each column; what is missing is empty.
    pub rows: Vec<Vec<String>>,
}

/// A column.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Column {
    /// Its heading.
    pub heading: String,
    /// Where its texts stand.
    pub align: Align,
}

impl Column {
    /// A column of words.
    pub fn words(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Left }
    }

    /// A column of figures, at the right.
    pub fn figures(heading: impl Into<String>) -> Self {
        Self { heading: heading.into(), align: Align::Right }
    }
}

impl Table {
    /// A table without rows.
    pub fn new(columns: impl IntoIterator<Item = Column>) -> Self {
        Self { columns: columns.into_iter().collect(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn row<S: Into<String>>(&mut self, cells: impl IntoIterator<Item = S>) {
        self.rows.push(cells.into_iter().map(Into::into).collect());
    }
}

impl Flow {
    /// Nothing yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// A heading of level 1, 2 or 3.
    pub fn heading(&mut self, level: u8, words: impl Into<String>) {
        self.blocks.push(Block::Heading { level, words: words.into() });
    }

    /// A paragraph.
    pub fn say(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Paragraph { words: words.into(), small: false });
    }

    /// A paragraph in small print.
    pub fn remark(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Paragraph { words: words.into(), small: true });
    }

    /// A list; nothing where it is empty.
    pub fn bullets<S: Into<String>>(&mut self, items: impl IntoIterator<Item = S>) {
        let items: Vec<String> = items.into_iter().map(Into::into).collect();
        self.blocks.push(Block::Bullets(items));
    }

    /// Names and what they stand for.
    pub fn pairs<K: Into<String>, V: Into<String>>(&mut self, pairs: impl IntoIterator<Item = (K, V)>) {
        let pairs = pairs.into_iter().map(|(key, value)| (key.into(), value.into()));
        self.blocks.push(Block::Pairs(pairs.collect()));
    }

    /// A table.
    pub fn table(&mut self, table: Table) {
        self.blocks.push(Block::Table(table));
    }

    /// A figure as wide as the page.
    pub fn figure(&mut self, drawing: Drawing, caption: impl Into<String>) {
        let figure = Figure { drawing, caption: caption.into() };
        self.figures(vec![figure], 1);
    }

    /// Figures side by side.
    pub fn figures(&mut self, figures: Vec<Figure>, columns: usize) {
        self.blocks.push(Block::Figures { figures, columns: columns.max(1) });
    }

    /// What can hurt someone.
    pub fn caution(&mut self, words: impl Into<String>) {
        self.blocks.push(Block::Caution(words.into()));
    }

    /// What follows begins on a new page.
    pub fn new_page(&mut self) {
        self.blocks.push(Block::NewPage);
    }

    /// What another one says, behind.
    pub fn append(&mut self, other: Flow) {
        self.blocks.extend(other.blocks);
    }
}
