//! What can be asked of studies over several plans.

use std::path::PathBuf;

use clap::Args;

use crate::arguments::{DateOrderChoice, TableArguments, UnitsChoice};

/// Which lunch a study starts from.
#[derive(Clone, Debug, Default, Args)]
pub(crate) struct From {
    /// The scenario (TOML, or JSON of the same shape); an example lunch when unsaid
    #[arg(conflicts_with = "demo")]
    pub(crate) file: Option<PathBuf>,
    /// Start from one of the example lunches carried along; a wrong name lists them
    #[arg(long, value_name = "NAME")]
    pub(crate) demo: Option<String>,
    /// How it is changed first.
    #[command(flatten)]
    pub(crate) changes: Changes,
}

/// Changes made to the scenario before anything is simulated.
#[derive(Clone, Debug, Default, Args)]
pub(crate) struct Changes {
    /// Change the scenario first, for example 'belt.return.length_m=40', '+crew.gus=like cem' or '-crew.eli'; may be
    /// repeated
    #[arg(long, value_name = "CHANGE", allow_hyphen_values = true)]
    pub(crate) change: Vec<String>,
}

/// How a study is run and where its results go.
#[derive(Clone, Debug, Args)]
pub(crate) struct StudyOptions {
    /// Number that fixes all luck: the same number gives the same lunches
    #[arg(long, value_name = "S", default_value_t = 1)]
    pub(crate) seed: u64,
    /// How many threads share the work; all the machine has when unsaid (the result is the same)
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
    /// Folder for the page, tables and pictures [default: scullery-out]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Units to show: those of the scenario when unsaid
    #[arg(long, value_enum, value_name = "UNITS")]
    pub(crate) units: Option<UnitsChoice>,
    /// Print the result as JSON on standard output and nothing else; files are written only when --out is given
    #[arg(long, conflicts_with = "quiet")]
    pub(crate) json: bool,
    /// Print the answer only
    #[arg(long, short)]
    pub(crate) quiet: bool,
}

/// Which arrangements are compared.
#[derive(Debug, Args)]
pub(crate) struct CompareArguments {
    /// The scenarios; all are compared with the first. An example lunch when unsaid
    #[arg(conflicts_with = "demo")]
    pub(crate) files: Vec<PathBuf>,
    /// Compare arrangements of one of the example lunches carried along; a wrong name lists them
    #[arg(long, value_name = "NAME")]
    pub(crate) demo: Option<String>,
    /// One more arrangement: the first scenario with changes, `;` between them and a name of yours before, for example
    /// 'four people: -crew.eli; crew.dee.shift=11:00-15:45'; may be repeated
    #[arg(
        long,
        value_name = "[NAME: ]CHANGE[; CHANGE]",
        allow_hyphen_values = true
    )]
    pub(crate) change: Vec<String>,
    /// Compare this measure, by its id, and not the usual ones; may be repeated
    #[arg(long, value_name = "ID")]
    pub(crate) measure: Vec<String>,
    /// How many times the lunch is simulated in each arrangement
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(crate) repeats: u64,
    /// Exit with 1 unless some arrangement holds every target
    #[arg(long)]
    pub(crate) strict: bool,
    /// How it is run.
    #[command(flatten)]
    pub(crate) options: StudyOptions,
}

/// Whose headroom is looked for.
#[derive(Debug, Args)]
pub(crate) struct HeadroomArguments {
    /// The lunch.
    #[command(flatten)]
    pub(crate) from: From,
    /// Most lunches simulated for one number of covers; to be sure of 95 of 100 takes about 280
    #[arg(long, value_name = "N", default_value_t = 1000, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(crate) at_most: u64,
    /// Exit with 1 unless every target holds on the expected day as it is
    #[arg(long)]
    pub(crate) strict: bool,
    /// How it is run.
    #[command(flatten)]
    pub(crate) options: StudyOptions,
}

/// What is varied.
#[derive(Debug, Args)]
pub(crate) struct VaryArguments {
    /// The lunch.
    #[command(flatten)]
    pub(crate) from: From,
    /// A number of the scenario and its range: 'belt.return.length_m=20..50', '=-20%..20%' of what it is now, or '=30,34,40';
    /// 20 % either way when no range is given; may be repeated
    #[arg(
        long,
        value_name = "PATH[=RANGE]",
        required = true,
        allow_hyphen_values = true
    )]
    pub(crate) over: Vec<String>,
    /// Values of each range on a grid of all combinations
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u32).range(2..=1000))]
    pub(crate) steps: u32,
    /// Not a grid but so many points spread evenly over all ranges (Sobol's)
    #[arg(long, value_name = "N", conflicts_with = "steps", value_parser = clap::value_parser!(u32).range(1..=10_000))]
    pub(crate) points: Option<u32>,
    /// Not a grid but each number at both ends of its range, and which of them matters most for this measure
    #[arg(long, value_name = "ID", conflicts_with_all = ["steps", "points", "measure"])]
    pub(crate) tornado: Option<String>,
    /// Tell this measure, by its id, and not the usual ones; may be repeated
    #[arg(long, value_name = "ID")]
    pub(crate) measure: Vec<String>,
    /// How many times the lunch is simulated at each point
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(crate) repeats: u64,
    /// How it is run.
    #[command(flatten)]
    pub(crate) options: StudyOptions,
}

/// Which lunch is replayed, and from what.
#[derive(Debug, Args)]
pub(crate) struct ReplayArguments {
    /// The line.
    #[command(flatten)]
    pub(crate) from: From,
    /// Table of instants at the till: CSV or an .xlsx workbook; who is served then eats and comes to the drop-off later
    #[arg(long, value_name = "TABLE", conflicts_with_all = ["drop_off", "meal"])]
    pub(crate) till: Option<PathBuf>,
    /// Table of instants at the drop-off, used as they are
    #[arg(long, value_name = "TABLE", conflicts_with = "meal")]
    pub(crate) drop_off: Option<PathBuf>,
    /// A simulated meal that `scullery run --keep-meal` wrote, run again as it was
    #[arg(long, value_name = "TABLE")]
    pub(crate) meal: Option<PathBuf>,
    /// Heading of the column of times [default: time]
    #[arg(long, value_name = "HEADING")]
    pub(crate) time_column: Option<String>,
    /// Heading of the column of dates, where times have none
    #[arg(long, value_name = "HEADING")]
    pub(crate) date_column: Option<String>,
    /// Heading of the column that says how many; one a row when unsaid
    #[arg(long, value_name = "HEADING")]
    pub(crate) count_column: Option<String>,
    /// Each row is the count of an interval of so many minutes that begins at its time
    #[arg(long, value_name = "MIN", value_parser = clap::value_parser!(u32).range(1..=240))]
    pub(crate) interval_min: Option<u32>,
    /// Each row is a day, and each column headed by a clock time the count of the interval that begins then
    #[arg(long, conflicts_with_all = ["time_column", "count_column", "interval_min"])]
    pub(crate) interval_columns: bool,
    /// Day of the lunch, as 2025-12-31, where the table has several
    #[arg(long, value_name = "DATE")]
    pub(crate) day: Option<String>,
    /// Time zone whose clock hung on the wall, for example Europe/Oslo
    #[arg(long, value_name = "ZONE")]
    pub(crate) zone: Option<String>,
    /// How dates with slashes are written
    #[arg(long, value_enum, value_name = "ORDER")]
    pub(crate) date_order: Option<DateOrderChoice>,
    /// Rows may stand out of clock order and are sorted
    #[arg(long)]
    pub(crate) sort: bool,
    /// How the tables are written.
    #[command(flatten)]
    pub(crate) table: TableArguments,
    /// Table of what was seen: columns time, what, and until, count, sure where they are needed
    #[arg(long, value_name = "TABLE")]
    pub(crate) seen: Option<PathBuf>,
    /// A number of the scenario to be fitted to what was seen, with bounds: 'scrapping.main.handling_s=3..8'; may be repeated
    #[arg(long, value_name = "PATH=LOW..HIGH")]
    pub(crate) unknown: Vec<String>,
    /// Points spread over the bounds when numbers are fitted, in each of two rounds
    #[arg(long, value_name = "N", default_value_t = 96, value_parser = clap::value_parser!(u32).range(16..=5000))]
    pub(crate) points: u32,
    /// Trays you know there were, to check the replay by
    #[arg(long, value_name = "N")]
    pub(crate) trays_seen: Option<f64>,
    /// Racks you know were washed, to check the replay by
    #[arg(long, value_name = "N")]
    pub(crate) racks_washed: Option<f64>,
    /// Say what happened only, and try no remedies
    #[arg(long)]
    pub(crate) no_remedies: bool,
    /// What is to be better, by the id of a measure [default: most people standing at the first drop-off]
    #[arg(long, value_name = "ID")]
    pub(crate) measure: Option<String>,
    /// How many lunches like it are simulated, for each remedy too
    #[arg(long, value_name = "N", default_value_t = 100, value_parser = clap::value_parser!(u64).range(2..=100_000))]
    pub(crate) repeats: u64,
    /// How it is run.
    #[command(flatten)]
    pub(crate) options: StudyOptions,
}
