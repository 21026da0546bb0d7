//! A page: lines, words and drawings at places in millimetres, and the SVG they become.

mod drawing;
mod write;

use draw::Rect;

pub use drawing::Drawing;
pub(crate) use write::svg;

/// A place on a page [mm], x to the right and y down from the upper left corner.
pub type Spot = (f64, f64);

/// Size of a sheet [mm].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// Width [mm].
    pub width: f64,
    /// Height [mm].
    pub height: f64,
}

/// What is in the printer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8 1/2 by 11 in (ANSI/ASME Y14.1 size A).
    Letter,
}

impl Paper {
    /// Size upright.
    pub fn size(self) -> Size {
        match self {
            Self::A4 => Size { width: 210.0, height: 297.0 },
            Self::Letter => Size { width: 215.9, height: 279.4 },
        }
    }
}

impl Size {
    /// The same sheet turned by a quarter.
    #[must_use]
    pub fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }

    /// The whole sheet.
    pub fn area(self) -> Rect {
        Rect::sized(0.0, 0.0, self.width, self.height)
    }
}

/// How dark; every one is told from the others on a black and white printer, and none alone carries a meaning.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Shade {
    /// Black.
    #[default]
    Ink,
    /// Dark grey, for what is said beside.
    Faint,
    /// Light grey, for rules of tables.
    Pale,
    /// A tint for grounds.
    Tint,
    /// White.
    Paper,
}

impl Shade {
    fn colour(self) -> &'static str {
        match self {
            Self::Ink => "#000",
            Self::Faint => "#444",
            Self::Pale => "#aaa",
            Self::Tint => "#f0f0f0",
            Self::Paper => "#fff",
        }
    }
}

/// How a line is broken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Dash {
    /// Not at all.
    #[default]
    Solid,
    /// Into dashes.
    Dashed,
    /// Into dashes and dots, as centre lines are.
    Chain,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its thickness [mm].
    pub weight: f64,
    /// How dark.
    pub shade: Shade,
    /// How broken.
    pub dash: Dash,
}

impl Stroke {
    /// A solid black line of this thickness [mm].
    pub const fn solid(weight: f64) -> Self {
        Self { weight, shade: Shade::Ink, dash: Dash::Solid }
    }

    /// The same, broken.
    #[must_use]
    pub const fn dashed(self, dash: Dash) -> Self {
        Self { dash, ..self }
    }

    /// The same in another shade.
    #[must_use]
    pub const fn shaded(self, shade: Shade) -> Self {
        Self { shade, ..self }
    }
}

/// How words are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// Font size [mm]; 1 pt is 0.353 mm.
    pub size: f64,
    /// Whether bold.
    pub bold: bool,
    /// How dark.
    pub shade: Shade,
}

impl Type {
    /// Plain black words of this size [pt].
    pub const fn points(points: f64) -> Self {
        Self { size: points * 25.4 / 72.0, bold: false, shade: Shade::Ink }
    }

    /// The same in bold.
    #[must_use]
    pub const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    /// The same in another shade.
    #[must_use]
    pub const fn shaded(self, shade: Shade) -> Self {
        Self { shade, ..self }
    }
}

/// Which end of a text stands at its place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Align {
    /// Its left end: for words.
    #[default]
    Left,
    /// Its middle.
    Middle,
    /// Its right end: for figures in a column.
    Right,
}

/// One thing on a page.
#[derive(Clone, Debug, PartialEq)]
pub enum Item {
    /// A line of text; its base line runs through the place.
    Text {
        /// Where.
        at: Spot,
        /// The words.
        words: String,
        /// How they are set.
        face: Type,
        /// Which end of them is there.
        align: Align,
    },
    /// Straight lines from place to place.
    Path {
        /// The places.
        places: Vec<Spot>,
        /// Whether the last one is joined to the first.
        closed: bool,
        /// The line.
        stroke: Option<Stroke>,
        /// What is inside.
        fill: Option<Shade>,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: Spot,
        /// Its radius [mm].
        radius: f64,
        /// The line.
        stroke: Option<Stroke>,
        /// What is inside.
        fill: Option<Shade>,
    },
    /// A drawing, as large as goes into the area, in its middle.
    Drawing {
        /// Where.
        area: Rect,
        /// What.
        drawing: Drawing,
    },
    /// Things seen through a window: what lies outside is cut off.
    Window {
        /// The window on the page.
        area: Rect,
        /// What is added to their places.
        shift: Spot,
        /// The things, at their own places.
        items: Vec<Item>,
    },
}

/// Things on a page, in the order in which they are laid down.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Page {
    /// The things.
    pub items: Vec<Item>,
}

impl Page {
    /// A line of text that begins (or ends, or has its middle) at a place on its base line.
    pub fn text(&mut self, at: Spot, words: impl Into<String>, face: Type, align: Align) {
        self.items.push(Item::Text { at, words: words.into(), face, align });
    }

    /// A line.
    pub fn line(&mut self, from: Spot, to: Spot, stroke: Stroke) {
        self.path(vec![from, to], stroke);
    }

    /// Lines from place to place.
    pub fn path(&mut self, places: Vec<Spot>, stroke: Stroke) {
        self.items.push(Item::Path { places, closed: false, stroke: Some(stroke), fill: None });
    }

    /// A closed outline.
    pub fn outline(&mut self, places: Vec<Spot>, stroke: Option<Stroke>, fill: Option<Shade>) {
        self.items.push(Item::Path { places, closed: true, stroke, fill });
    }

    /// A rectangle.
    pub fn rect(&mut self, area: Rect, stroke: Option<Stroke>, fill: Option<Shade>) {
        let Rect { left, top, right, bottom } = area;
        self.outline(vec![(left, top), (right, top), (right, bottom), (left, bottom)], stroke, fill);
    }

    /// A circle.
    pub fn circle(&mut self, centre: Spot, radius: f64, stroke: Option<Stroke>, fill: Option<Shade>) {
        self.items.push(Item::Circle { centre, radius, stroke, fill });
    }

    /// A drawing in an area, as large as goes in.
    pub fn drawing(&mut self, area: Rect, drawing: Drawing) {
        self.items.push(Item::Drawing { area, drawing });
    }

    /// What another page has, seen through a window with `shift` added to its places.
    pub fn window(&mut self, area: Rect, shift: Spot, page: Page) {
        self.items.push(Item::Window { area, shift, items: page.items });
    }

    /// Everything of another page, moved.
    pub fn lay(&mut self, page: &Page, shift: Spot) {
        self.items.extend(page.items.iter().map(|item| item.moved(shift)));
    }
}

impl Item {
    /// The same thing with `by` added to its places.
    #[must_use]
    pub fn moved(&self, by: Spot) -> Self {
        let spot = |at: &Spot| (at.0 + by.0, at.1 + by.1);
        let rect = |r: &Rect| Rect::sized(r.left + by.0, r.top + by.1, r.width(), r.height());
        let mut item = self.clone();
        match &mut item {
            Self::Text { at, .. } => *at = spot(at),
            Self::Path { places, .. } => places.iter_mut().for_each(|place| *place = spot(place)),
            Self::Circle { centre, .. } => *centre = spot(centre),
            Self::Drawing { area, .. } => *area = rect(area),
            Self::Window { area, shift, .. } => {
                *area = rect(area);
                *shift = spot(shift);
            }
        }
        item
    }
}
