//! The command line.

use std::path::PathBuf;

use clap::{Args as ClapArgs, Parser, Subcommand, ValueEnum};

const AFTER: &str = "Planning figures, not an approval: a structural change to a vehicle must be checked by a \
                     licensed engineer and satisfy local road law and the sanctioning body's rules.\n\
                     Without a command: a demo car in the browser.";

/// Where do the pickups go, and what will the car do with them there?
#[derive(Debug, Parser)]
#[command(name = "soapstone", version, after_help = AFTER, max_term_width = 100)]
pub(crate) struct Args {
    #[command(subcommand)]
    pub command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// A car in the browser: drag a pickup, and the choice table moves
    Open(OpenArgs),
    /// The choice table: candidate pickup holes against what each does
    Choose(ChooseArgs),
    /// Wheel measures over travel, roll or rack
    Sweep(SweepArgs),
    /// Mass, centre of gravity, inertia and corner weights, as found and after the ledger of parts
    Weigh(WeighArgs),
    /// Under the brakes: lock order, bias, pedal, distance, heat
    Stop(StageArgs),
    /// Rates, load transfer, understeer, stability over speed and deceleration, and what frees the car
    Balance(StageArgs),
    /// Laps of every choice on every venue, against each other, and what a change of the car is worth
    Drive(DriveArgs),
    /// The open standards' manoeuvres for every choice: straight stop, brakes in a turn, step of the steering, steady turn
    Manoeuvres(ManoeuvresArgs),
    /// The best settings over the venues: holes, bars, bias, ride heights, air parts; the trade-off between venues
    Search(SearchArgs),
    /// Put the parts of a search together that were worked out apart
    Merge(MergeArgs),
    /// Will it hold: loads of links and pickups, margins, the frame, lightest sizes, the cut list
    Build(BuildArgs),
    /// The book of a car as one PDF: choice table, drawings, stages, templates, survey, worked numbers
    Book(BookArgs),
    /// Find hole places on a plate for wanted values
    Holes(HolesArgs),
    /// The jig sheet of an axle: every place, how exact it has to be, the tapes and diagonals that check it
    Jig(JigArgs),
    /// Setup cards: what is set in each setup, and the jobs from one to another
    Card(CardArgs),
    /// Drilling templates at true scale, for paper or a cutter
    Template(TemplateArgs),
    /// Points, results, the skeleton in space or charts as files for other programs
    Export(ExportArgs),
    /// Take points in from a spreadsheet
    Import(ImportArgs),
    /// Look a car file over: mistakes, probable slips, joints that do not hold
    Check(CheckArgs),
    /// One quantity: what it is, its formula and source, and this car's figures in it
    Explain(ExplainArgs),
    /// A commented car file to start from
    New(NewArgs),
    /// A completion script for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
}

/// An axle.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum AxleName {
    /// The front axle
    Front,
    /// The rear axle
    Rear,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct OpenArgs {
    /// Car file; the demo car, copied to a folder of your own, if left out. A name that is not there yet starts a new car
    pub car: Option<PathBuf>,
    /// Port of the page, 0 for any free one; left out: 7410, or any where that is taken
    #[arg(long)]
    pub port: Option<u16>,
    /// Print the address only
    #[arg(long)]
    pub no_browser: bool,
    /// Let a telephone on the same network in, with a pairing code
    #[arg(long)]
    pub lan: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ChooseArgs {
    /// Car file; the demo car if left out
    pub car: Option<PathBuf>,
    /// Axle; as `[choose]` in the file says, else the one that has holes
    #[arg(long, value_enum)]
    pub axle: Option<AxleName>,
    /// Travels at which toe and camber are shown, in the file's length unit: -50,50
    #[arg(long, value_delimiter = ',', allow_hyphen_values = true, value_name = "TRAVEL")]
    pub travels: Vec<String>,
    /// Add a row with this hole (END=HOLE); more than once for a combination
    #[arg(long, value_name = "END=HOLE")]
    pub at: Vec<String>,
    /// One JSON object
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Comma-separated values
    #[arg(long)]
    pub csv: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct DriveArgs {
    #[command(flatten)]
    pub stage: StageArgs,
    /// Samples of what is uncertain, for the ± of each choice; 0 for none
    #[arg(long, value_name = "COUNT", default_value_t = 16)]
    pub samples: usize,
    /// Cores to use; all if left out
    #[arg(long, value_name = "COUNT")]
    pub cores: Option<usize>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ManoeuvresArgs {
    #[command(flatten)]
    pub stage: StageArgs,
    /// Samples of what is uncertain, for the ± of each choice; 0 for none
    #[arg(long, value_name = "COUNT", default_value_t = 8)]
    pub samples: usize,
    /// Cores to use; all if left out
    #[arg(long, value_name = "COUNT")]
    pub cores: Option<usize>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct SearchArgs {
    /// Car file with all that Drive needs; the whole demo car if left out
    pub car: Option<PathBuf>,
    /// Settings that are tried before the best are polished
    #[arg(long, value_name = "COUNT", default_value_t = 400)]
    pub count: u64,
    /// Draws of what is uncertain, for the ± of what was found; 0 for none
    #[arg(long, value_name = "COUNT", default_value_t = 8)]
    pub draws: usize,
    /// Only the settings of these numbers, FROM..TO, as one part of a study: they are written, and that is all
    #[arg(long, value_name = "RANGE", conflicts_with_all = ["from", "json", "csv"])]
    pub range: Option<String>,
    /// Writes the settings and their times in columns (Parquet)
    #[arg(long, value_name = "FILE")]
    pub out: Option<PathBuf>,
    /// Takes settings and times from such files in place of trying them
    #[arg(long, value_name = "FILE", num_args = 1.., conflicts_with = "out")]
    pub from: Vec<PathBuf>,
    /// Writes over a file that is there
    #[arg(long)]
    pub force: bool,
    /// Cores to use; all if left out
    #[arg(long, value_name = "COUNT")]
    pub cores: Option<usize>,
    /// One JSON object, SI
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Comma-separated values
    #[arg(long)]
    pub csv: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct MergeArgs {
    /// Parts that `search --range` wrote
    #[arg(required = true)]
    pub parts: Vec<PathBuf>,
    /// Where the whole is written
    #[arg(long, value_name = "FILE")]
    pub out: PathBuf,
    /// Writes over a file that is there
    #[arg(long)]
    pub force: bool,
}

/// Which places to use, for commands that look at one position.
#[derive(Clone, Debug, ClapArgs)]
pub(crate) struct PlaceArgs {
    /// Axle; as `[choose]` in the file says, else the one that has holes
    #[arg(long, value_enum)]
    pub axle: Option<AxleName>,
    /// Use the holes of this setup, and what else it changes
    #[arg(long, value_name = "NAME")]
    pub setup: Option<String>,
    /// Use this hole (END=HOLE, such as link.lower-fore.body=B); may be given more than once
    #[arg(long, value_name = "END=HOLE")]
    pub at: Vec<String>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct SweepArgs {
    /// Car file; the demo car if left out
    pub car: Option<PathBuf>,
    #[command(flatten)]
    pub place: PlaceArgs,
    /// Wheel travel FROM:TO:STEP in the file's length unit, jounce positive
    #[arg(long, allow_hyphen_values = true, value_name = "FROM:TO:STEP", conflicts_with = "roll")]
    pub travel: Option<String>,
    /// Body roll FROM:TO:STEP in degrees, positive leaning to the right; shows both wheels
    #[arg(long, allow_hyphen_values = true, value_name = "FROM:TO:STEP")]
    pub roll: Option<String>,
    /// Rack travel, positive to the left, in the file's length unit; FROM:TO:STEP for a sweep of its own
    #[arg(long, allow_hyphen_values = true, value_name = "RACK")]
    pub rack: Option<String>,
    /// One JSON object, SI and degrees
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Comma-separated values
    #[arg(long)]
    pub csv: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct WeighArgs {
    /// Car file with `[weigh.level]`; the weighed demo car if left out
    pub car: Option<PathBuf>,
    /// One JSON object, SI
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Comma-separated values
    #[arg(long)]
    pub csv: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct StageArgs {
    /// Car file with weights, tyres, brakes and springs; the whole demo car if left out
    pub car: Option<PathBuf>,
    #[command(flatten)]
    pub place: PlaceArgs,
    /// One JSON object, SI
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Comma-separated values
    #[arg(long)]
    pub csv: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct BuildArgs {
    /// Car file with weights, tyres, brakes, springs and `[build]`; the whole demo car if left out
    pub car: Option<PathBuf>,
    #[command(flatten)]
    pub place: PlaceArgs,
    /// Every check of this part with its formula, source and figures, such as rear.link.toe.body
    #[arg(long, value_name = "NAME", conflicts_with_all = ["json", "csv"])]
    pub part: Option<String>,
    /// One JSON object, SI
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Every check as comma-separated values, SI
    #[arg(long)]
    pub csv: bool,
    /// The cut list as comma-separated values, in the file's units
    #[arg(long, conflicts_with_all = ["json", "csv", "part"])]
    pub cuts: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct HolesArgs {
    /// Car file; the demo car if left out
    pub car: Option<PathBuf>,
    /// Axle; as `[choose]` in the file says, else the one that has a plate
    #[arg(long, value_enum)]
    pub axle: Option<AxleName>,
    /// Plate on which to look; may be left out where the axle has one
    #[arg(long)]
    pub plate: Option<String>,
    /// Wanted values of one quantity at ride height: anti-lift=30,50,70
    #[arg(long, value_name = "QUANTITY=VALUES")]
    pub want: String,
    /// One JSON object
    #[arg(long, conflicts_with = "csv")]
    pub json: bool,
    /// Comma-separated values
    #[arg(long)]
    pub csv: bool,
}

/// What is in the printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PaperName {
    /// 210 by 297 mm
    A4,
    /// 8 1/2 by 11 in
    Letter,
}

/// A file that is written, for commands that can.
#[derive(Debug, ClapArgs)]
pub(crate) struct FileArgs {
    /// Write over a file that is there
    #[arg(long)]
    pub force: bool,
    /// Paper of a PDF; left out: Letter for a car in inches, else A4
    #[arg(long, value_enum)]
    pub paper: Option<PaperName>,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct JigArgs {
    /// Car file; the whole demo car if left out
    pub car: Option<PathBuf>,
    /// Axle; as `[choose]` in the file says, else the one that has holes
    #[arg(long, value_enum)]
    pub axle: Option<AxleName>,
    /// One JSON object, SI
    #[arg(long, conflicts_with_all = ["csv", "output"])]
    pub json: bool,
    /// Comma-separated values
    #[arg(long, conflicts_with = "output")]
    pub csv: bool,
    /// File to write: .pdf, .csv or .xlsx
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    #[command(flatten)]
    pub file: FileArgs,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CardArgs {
    /// Car file; the whole demo car if left out
    pub car: Option<PathBuf>,
    /// The card of this setup alone, `as drawn` for the car without one
    #[arg(long, value_name = "NAME")]
    pub setup: Option<String>,
    /// The jobs from this setup, `as drawn` for the car without one; left out, a PDF has those from every other one
    #[arg(long, value_name = "NAME")]
    pub from: Option<String>,
    /// One JSON object, SI
    #[arg(long, conflicts_with = "output")]
    pub json: bool,
    /// File to write: .pdf
    #[arg(short, long, value_name = "FILE")]
    pub output: Option<PathBuf>,
    #[command(flatten)]
    pub file: FileArgs,
}

/// Sides of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SideName {
    /// The left side
    Left,
    /// The right side: the mirror
    Right,
    /// Both, side by side or page after page
    Both,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct TemplateArgs {
    /// Car file; the whole demo car if left out
    pub car: Option<PathBuf>,
    /// Plates of this axle alone
    #[arg(long, value_enum)]
    pub axle: Option<AxleName>,
    /// This plate alone
    #[arg(long, value_name = "NAME")]
    pub plate: Option<String>,
    /// Side of the car
    #[arg(long, value_enum, default_value_t = SideName::Both)]
    pub side: SideName,
    /// File to write: .pdf, .svg or .dxf (mm; layers cut, drill, mark)
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    #[command(flatten)]
    pub file: FileArgs,
}

/// What is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum ExportName {
    /// Every point with its ±, as `import` reads it back: .csv or .xlsx
    Points,
    /// Choice table, Stop, Balance, Weigh: .csv or .xlsx
    Results,
    /// Links, arms, axes and wheels in space, in the car's axes and mm: .dxf or .step
    Skeleton,
    /// Views and charts: a folder, of .svg unless `--as png` says otherwise
    Charts,
}

/// Kinds of pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum PictureName {
    /// Lines, sharp at any size
    Svg,
    /// Pixels
    Png,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ExportArgs {
    /// What to write
    #[arg(value_enum)]
    pub what: ExportName,
    /// Car file; the whole demo car if left out
    pub car: Option<PathBuf>,
    /// File to write, for charts a folder; its ending says what it is
    #[arg(short, long, value_name = "FILE")]
    pub output: PathBuf,
    /// Kind of the charts
    #[arg(long = "as", value_enum, default_value_t = PictureName::Svg)]
    pub picture: PictureName,
    /// Write over files that are there
    #[arg(long)]
    pub force: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ImportArgs {
    /// Car file
    pub car: PathBuf,
    /// Table of points: .csv or .xlsx, in the file's own frame
    pub points: PathBuf,
    /// Axle of names that do not begin with theirs; the one that the file has, the rear where it has both
    #[arg(long, value_enum)]
    pub axle: Option<AxleName>,
    /// Sheet of a workbook; the first that has points if left out
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Which column is what: name=A,x=B,y=C,z=D,accuracy=E; guessed from the headings if left out
    #[arg(long, value_name = "COLUMNS")]
    pub columns: Option<String>,
    /// First row that is a point, as the spreadsheet counts it
    #[arg(long, value_name = "ROW", value_parser = clap::value_parser!(u32).range(1..=1_000_000))]
    pub first_row: Option<u32>,
    /// What bare numbers are in; as the headings say if left out, else the file's own unit
    #[arg(long, value_name = "UNIT")]
    pub unit: Option<String>,
    /// Show what would change and write nothing
    #[arg(long = "try")]
    pub trial: bool,
    /// One JSON object
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct CheckArgs {
    /// Car file
    pub car: PathBuf,
    /// One JSON object
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct ExplainArgs {
    /// The quantity, such as anti-lift; left out: the list of them
    pub quantity: Option<String>,
    /// Car file; the demo car if left out
    pub car: Option<PathBuf>,
    #[command(flatten)]
    pub place: PlaceArgs,
    /// Wheel travel, in the file's length unit
    #[arg(long, allow_hyphen_values = true)]
    pub travel: Option<String>,
    /// Spring, damper or bar link, for motion-ratio and wheel-rate
    #[arg(long)]
    pub element: Option<String>,
    /// One JSON object
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct NewArgs {
    /// Kind of suspension: five-link, double-wishbone, strut, trailing-blade, semi-trailing-arm, links
    pub kind: String,
    /// File to write; printed if left out or `-`. An existing file is never overwritten
    pub file: Option<PathBuf>,
    /// Length unit of the file
    #[arg(long, default_value = "mm", value_name = "UNIT")]
    pub units: String,
    /// One JSON object with the text
    #[arg(long)]
    pub json: bool,
}

#[derive(Debug, ClapArgs)]
pub(crate) struct BookArgs {
    /// Car file; the whole demo car if left out
    pub car: Option<PathBuf>,
    /// The file to write, such as plover.pdf
    #[arg(short, long, value_name = "FILE.pdf")]
    pub output: PathBuf,
    /// The day on every page; today if left out
    #[arg(long)]
    pub date: Option<String>,
    /// The revision on every page; a mark of the car file's text if left out
    #[arg(long)]
    pub revision: Option<String>,
    #[command(flatten)]
    pub file: FileArgs,
}
