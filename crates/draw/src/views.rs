//! One axle to scale: from the left, from behind, from above.

mod fit;
mod handles;
mod map;
mod options;
mod outline;
mod overlay;
mod rear;
mod scale;
mod sheet;
mod side;
mod top;
mod words;

use crate::plane::Rect;
use crate::scene::Scene;
use sheet::Sheet;

pub use fit::Fit;
pub use map::{CarAxis, Direction, ViewMap};
pub use options::{Overlays, Show, ViewOptions};

/// A drawing.
#[derive(Clone, Debug)]
pub struct View {
    /// The drawing: one `<svg>` element with classes and no colours of its own.
    pub svg: String,
    /// How its coordinates relate to the car.
    pub map: ViewMap,
    /// The words on it and the box of each \[px\].
    pub labels: Vec<(String, Rect)>,
    /// What words kept clear of \[px\].
    pub marks: Vec<Rect>,
}

/// Seen from the left, the front to the left.
pub fn side(scene: &Scene, others: &Overlays<'_>, options: &ViewOptions<'_>) -> View {
    let mut sheet = Sheet::new(Direction::FromLeft, scene, others, options);
    sheet.base();
    side::construction(&mut sheet);
    sheet.finish()
}

/// Seen from behind, the left to the left.
pub fn rear(scene: &Scene, others: &Overlays<'_>, options: &ViewOptions<'_>) -> View {
    let mut sheet = Sheet::new(Direction::FromBehind, scene, others, options);
    sheet.base();
    rear::construction(&mut sheet);
    sheet.finish()
}

/// Seen from above, the front to the left: the car's left side is below.
pub fn top(scene: &Scene, others: &Overlays<'_>, options: &ViewOptions<'_>) -> View {
    let mut sheet = Sheet::new(Direction::FromAbove, scene, others, options);
    sheet.base();
    top::construction(&mut sheet);
    sheet.finish()
}
