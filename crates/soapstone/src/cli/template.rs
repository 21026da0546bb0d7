//! Drilling templates at true scale.

use project::model::End;

use super::args::{AxleName, SideName, TemplateArgs};
use super::{Failure, file, load};
use crate::files::{Kind, SideWanted, patterns, template_file};

pub(crate) fn run(args: &TemplateArgs) -> Result<(), Failure> {
    let kind = file::kind(&args.output, &[Kind::Pdf, Kind::Svg, Kind::Dxf])?;
    let car = load::whole_car(args.car.as_deref())?;
    let end = args.axle.map(|axle| match axle {
        AxleName::Front => End::Front,
        AxleName::Rear => End::Rear,
    });
    let side = match args.side {
        SideName::Left => SideWanted::Left,
        SideName::Right => SideWanted::Right,
        SideName::Both => SideWanted::Both,
    };
    let patterns = patterns(&car, end, args.plate.as_deref(), side)?;
    let bytes = template_file(&car, &patterns, kind, file::paper(&args.file, &car))?;
    file::write(&args.output, &bytes, args.file.force)?;
    let titles: String =
        patterns.iter().map(|pattern| format!("  {}, {}\n", pattern.title, pattern.seen)).collect();
    let scale = match kind {
        Kind::Pdf => "print at 100 %, without fitting to the page, and measure the bars before you punch\n",
        Kind::Svg => "in mm at true scale: print at 100 %, and measure the plate's edge before you punch\n",
        _ => "in mm at true scale: layers cut, drill and mark\n",
    };
    file::wrote(&args.output, &format!("{titles}{scale}"))
}
