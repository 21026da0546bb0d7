//! The jig sheet of an axle.

use paper::jig::jig_section;

use super::args::JigArgs;
use super::{Failure, file, flow, load, output, select};
use crate::files::{Kind, jig_file};
use crate::json;

pub(crate) fn run(args: &JigArgs) -> Result<(), Failure> {
    let kind = args.output.as_deref().map(|path| file::kind(path, &[Kind::Pdf, Kind::Csv, Kind::Xlsx]));
    let kind = kind.transpose()?;
    let car = load::whole_car(args.car.as_deref())?;
    let jig = study::jig(&car, select::axle(&car, args.axle)?)?;
    let paper = file::paper(&args.file, &car);
    match (&args.output, kind) {
        (Some(path), Some(kind)) => {
            file::write(path, &jig_file(&jig, &car, kind, paper)?, args.file.force)?;
            file::wrote(path, "")
        }
        _ if args.json => output::json(&json::jig(&jig, &car)),
        _ if args.csv => output::bytes(&jig_file(&jig, &car, Kind::Csv, paper)?),
        _ => output::text(&flow::text(&jig_section(&jig, &car))),
    }
}
