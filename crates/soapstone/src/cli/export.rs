//! Points, results, the skeleton and charts as files for other programs.

use std::path::Path;

use project::model::Car;

use super::args::{ExportArgs, ExportName, PictureName};
use super::{Failure, file, load};
use crate::files::{Kind, charts, points_file, results_file, safe, skeleton_file};

pub(crate) fn run(args: &ExportArgs) -> Result<(), Failure> {
    let known: &[Kind] = match args.what {
        ExportName::Points | ExportName::Results => &[Kind::Csv, Kind::Xlsx],
        ExportName::Skeleton => &[Kind::Dxf, Kind::Step],
        ExportName::Charts => return folder(args, &load::whole_car(args.car.as_deref())?),
    };
    let kind = file::kind(&args.output, known)?;
    let car = load::whole_car(args.car.as_deref())?;
    let (bytes, more) = match args.what {
        ExportName::Points => {
            let more = format!("{}; ± is one standard uncertainty\n", car.frame.description());
            (points_file(&car, kind)?, more)
        }
        ExportName::Results => (results_file(&car, kind)?, String::new()),
        ExportName::Skeleton | ExportName::Charts => (
            skeleton_file(&car, kind)?,
            "in mm, in the car's axes: x forward, y left, z up, from the ground under the middle of the front axle\n"
                .to_string(),
        ),
    };
    file::write(&args.output, &bytes, args.force)?;
    file::wrote(&args.output, &more)
}

/// Pictures in a folder, which is made where it is not there.
fn folder(args: &ExportArgs, car: &Car) -> Result<(), Failure> {
    let folder: &Path = &args.output;
    if folder.extension().is_some() && !folder.is_dir() {
        return Err(Failure::with_hint(
            format!("charts go into a folder, and `{}` looks like a file", folder.display()),
            "give a name without an ending; `--as png` makes pictures of pixels",
        ));
    }
    let kind = match args.picture {
        PictureName::Svg => Kind::Svg,
        PictureName::Png => Kind::Png,
    };
    let named: Vec<_> = charts(car)?
        .into_iter()
        .map(|picture| (folder.join(format!("{}.{}", safe(&picture.name), kind.ending())), picture))
        .collect();
    // All of them or none: half a folder of old charts is worse than none.
    if let Some((there, _)) = named.iter().find(|(path, _)| path.exists()).filter(|_| !args.force) {
        return Err(Failure::with_hint(
            format!("`{}` is there already", there.display()),
            "nothing was written; give another folder, or `--force` to write over it",
        ));
    }
    std::fs::create_dir_all(folder).map_err(|error| {
        let what = format!("cannot make the folder `{}`: {error}", folder.display());
        Failure::with_hint(what, "give a path that can be written")
    })?;
    let fonts = crate::print::fonts();
    for (path, picture) in &named {
        file::write(path, &picture.file(fonts, kind)?, args.force)?;
    }
    file::wrote(folder, &format!("{} pictures\n", named.len()))
}
