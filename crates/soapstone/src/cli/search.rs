//! `soapstone search`: the best settings over the venues, with progress; stopped, it goes on with what it has. Its samples can be
//! worked out in parts. `soapstone merge` puts the parts together.

use std::ops::Range;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use exchange::columns::{self, Columns};
use study::{Search, Tried, Way};

use super::args::{MergeArgs, SearchArgs};
use super::drive::usable_cores;
use super::progress::Progress;
use super::{Failure, file, load, output, stage};
use crate::files::samples;
use crate::stage::SEARCH;

/// Most settings of a study, and most that are worked out in one go.
const MOST: u64 = 100_000_000;

/// Most draws of what is uncertain.
const MOST_DRAWS: usize = 100_000;

/// Longest file of samples that is read [bytes].
const MOST_BYTES: u64 = 4 << 30;

/// Runs `soapstone search`.
pub(crate) fn run(args: &SearchArgs) -> Result<(), Failure> {
    if args.count == 0 || args.count > MOST || args.draws == 1 || args.draws > MOST_DRAWS {
        return Err(Failure::with_hint(
            format!("{} settings with {} draws are no search", args.count, args.draws),
            format!("400 settings and 8 draws are usual; at most {MOST} and {MOST_DRAWS}, draws 0 for no ±"),
        ));
    }
    let range = args.range.as_deref().map(|text| range(text, args.count)).transpose()?;
    if range.is_some() && args.out.is_none() {
        return Err(Failure::with_hint(
            "a range of settings is one part of a study, and it is written to a file",
            "say where by `--out part.parquet`",
        ));
    }
    if let Some(out) = &args.out {
        file::may_write(out, args.force)?;
    }
    let read = load::read_whole(args.car.as_deref())?;
    let car = load::usable(&read)?;
    let cores = usable_cores(args.cores);
    let search = Search::new(car, cores).map_err(|lack| Failure::with_hint(lack.what, lack.hint))?;
    let study = samples::fingerprint(&read.text, car);
    let stop = interrupted();
    let bar = Progress::new("settings");
    let tried = if args.from.is_empty() {
        let range = range.clone().unwrap_or(0..args.count);
        search.samples(range, &Way { cores, stop: &stop, progress: &|done, of| bar.at(done, of) })
    } else {
        taken_up(&search, &args.from, &study)?
    };
    drop(bar);
    if stop.load(Ordering::Relaxed) {
        output::message(&format!("stopped: going on with the {} settings that are done\n", tried.len()));
    }
    if let Some(out) = &args.out {
        let table = samples::columns(&search, &tried, about(&study, args.count, range.clone(), &tried));
        let bytes = columns::write(&table).map_err(|e| Failure::with_hint(e.to_string(), "report this"))?;
        file::write(out, &bytes, args.force)?;
        if range.is_some() {
            return file::wrote(out, &format!("{} settings of {}\n", tried.len(), args.count));
        }
        output::message(&format!("wrote {}\n", out.display()));
    }
    // Stopped once, what is left is done without the samples; stopped again, the program ends.
    let bar = Progress::new("laps");
    let way = Way { cores, stop: &stop, progress: &|done, of| bar.at(done, of) };
    let found = search.stage(&tried, args.draws, &way);
    drop(bar);
    stage::show(&SEARCH, (args.json, args.csv), car, "over the venues", &found)
}

/// `FROM..TO` of so many.
fn range(text: &str, count: u64) -> Result<Range<u64>, Failure> {
    let ends = text.split_once("..").and_then(|(a, b)| Some(a.trim().parse().ok()?..b.trim().parse().ok()?));
    match ends {
        Some(range) if range.start < range.end && range.end <= count => Ok(range),
        _ => Err(Failure::with_hint(
            format!("`{text}` is no range of {count} settings"),
            format!("write it as FROM..TO, the last one not counted, such as 0..{}", count.min(100)),
        )),
    }
}

fn about(study: &str, count: u64, range: Option<Range<u64>>, tried: &[Tried]) -> Vec<(String, String)> {
    let range = range.unwrap_or(0..tried.len() as u64);
    vec![
        ("study".into(), study.into()),
        ("program".into(), concat!("soapstone ", env!("CARGO_PKG_VERSION")).into()),
        ("count".into(), count.to_string()),
        ("range".into(), format!("{}..{}", range.start, range.end)),
    ]
}

/// Set once whoever runs the program asks it to stop.
fn interrupted() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let set = stop.clone();
    std::thread::spawn(move || {
        let Ok(runtime) = tokio::runtime::Builder::new_current_thread().enable_all().build() else { return };
        runtime.block_on(async {
            while tokio::signal::ctrl_c().await.is_ok() {
                if set.swap(true, Ordering::Relaxed) {
                    // Twice means at once; 130 is the shell's own number for it.
                    std::process::exit(130);
                }
            }
        });
    });
    stop
}

/// The samples of files that belong to this car.
fn taken_up(search: &Search, from: &[PathBuf], study: &str) -> Result<Vec<Tried>, Failure> {
    let table = together(from)?.table;
    if table.said("study") != Some(study) {
        return Err(Failure::with_hint(
            "the samples are of another car file, or of another version of this program",
            "give the file that they were made with, or make them again",
        ));
    }
    samples::tried(search, &table)
        .map_err(|why| Failure::with_hint(why, "make them again with this car file"))
}

/// Runs `soapstone merge`.
pub(crate) fn merge(args: &MergeArgs) -> Result<(), Failure> {
    file::may_write(&args.out, args.force)?;
    let merged = together(&args.parts)?;
    let bytes =
        columns::write(&merged.table).map_err(|e| Failure::with_hint(e.to_string(), "report this"))?;
    file::write(&args.out, &bytes, args.force)?;
    let mut said = format!("{} settings of {} parts", merged.table.rows(), args.parts.len());
    if merged.twice > 0 {
        said.push_str(&format!("; {} stood in more than one, alike", merged.twice));
    }
    said.push('\n');
    if !merged.missing.is_empty() {
        let shown: Vec<String> =
            merged.missing.iter().take(SHOWN).map(|r| format!("{}..{}", r.start, r.end)).collect();
        let more = if merged.missing.len() > SHOWN { " and more" } else { "" };
        said.push_str(&format!("missing: {}{more}\n", shown.join(", ")));
    }
    file::wrote(&args.out, &said)
}

/// Missing ranges that are told one by one.
const SHOWN: usize = 12;

fn together(paths: &[PathBuf]) -> Result<columns::Merged, Failure> {
    let parts = paths
        .iter()
        .map(|path| Ok((path.display().to_string(), read(path)?)))
        .collect::<Result<Vec<_>, Failure>>()?;
    columns::merge(&parts, "index").map_err(|e| {
        Failure::with_hint(
            e.to_string(),
            "put parts of one study together, made by one version of the program",
        )
    })
}

fn read(path: &Path) -> Result<Columns, Failure> {
    let cannot = |why: String| {
        Failure::with_hint(
            format!("cannot read `{}`: {why}", path.display()),
            "`soapstone search --range FROM..TO --out FILE` writes such a file",
        )
    };
    let size = std::fs::metadata(path).map_err(|e| cannot(e.to_string()))?;
    if !size.is_file() || size.len() > MOST_BYTES {
        return Err(cannot("it is no file, or far too long".into()));
    }
    let bytes = std::fs::read(path).map_err(|e| cannot(e.to_string()))?;
    columns::read(&bytes).map_err(|e| cannot(e.to_string()))
}
