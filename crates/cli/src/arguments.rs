//! What can be asked on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};
use scullery_study::sequential::Precision;

use crate::outcome::Stop;
use crate::study_arguments::{
    CompareArguments, From, HeadroomArguments, ReplayArguments, StudyOptions, VaryArguments,
};

use crate::crew::CrewArguments;
use crate::size::SizeArguments;
use crate::why::WhyArguments;

/// Simulates a soiled-ware line over a lunch: does it hold, who waits for whom, what runs out, what it costs.
#[derive(Debug, Parser)]
#[command(
    name = "scullery",
    version,
    args_conflicts_with_subcommands = true,
    after_help = EXIT_CODES,
    long_about = "Simulates a soiled-ware line over a lunch: trays dropped off, broken down, racked, washed, unloaded, \
                  and clean ware on its way back. Tells whether the line and the crew hold, who waits for whom, what \
                  runs out and what it costs, over many simulated lunches.\n\n\
                  Without a command it runs an example lunch that it carries with it."
)]
pub(crate) struct Arguments {
    /// What to do; running the example lunch when unsaid.
    #[command(subcommand)]
    pub(crate) command: Option<Command>,
    /// How the example is run when no command is given.
    #[command(flatten)]
    pub(crate) options: RunOptions,
}

/// Shown under every help page.
const EXIT_CODES: &str = "Exit codes: 0 done; 1 the run failed or was stopped early, or a target was missed and \
                          --strict was given; 2 wrong usage or a wrong scenario; 3 the line locked for good, ran away, \
                          or never drained.";

/// What to do.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Simulate the lunch many times and write a report
    #[command(after_help = EXIT_CODES)]
    Run(RunArguments),
    /// Find the cheapest crew that meets every target, and say how sure that is
    #[command(after_help = EXIT_CODES)]
    Crew(CrewArguments),
    /// Find the smallest size (belt, lane, machine, racks, ware) with which the crew meets every target
    #[command(after_help = EXIT_CODES)]
    Size(SizeArguments),
    /// Say which stage held the line back in each quarter hour, and follow one tray
    #[command(after_help = EXIT_CODES)]
    Why(WhyArguments),
    /// Say in plain words what a scenario means, before anything is simulated
    Check {
        /// The scenario (TOML, or JSON of the same shape)
        file: PathBuf,
    },
    /// Replay one lunch from a till export and notes: what happened, and what would have saved it
    #[command(after_help = EXIT_CODES)]
    Replay(Box<ReplayArguments>),
    /// Fit curves to the readings of a stopwatch sheet
    Fit(FitArguments),
    /// Write a commented scenario to start from
    New {
        /// Name of the scenario; NAME.toml is written and never overwritten
        name: PathBuf,
    },
    /// Compare arrangements on the same lunches: who holds, what differs, what it costs
    #[command(after_help = EXIT_CODES)]
    Compare(CompareArguments),
    /// How many covers the line takes until the first target fails, on an expected and on a busy day
    #[command(after_help = EXIT_CODES)]
    Headroom(HeadroomArguments),
    /// Vary numbers of the scenario, on a grid or a sample, or one at a time to see what matters most
    #[command(after_help = EXIT_CODES)]
    Vary(VaryArguments),
    /// Print the JSON Schema of scenario files, for editors
    Schema,
    /// Print a completion script for a shell
    Completions {
        /// The shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page
    Man,
}

/// Which sheet is fitted, and how.
#[derive(Debug, Args)]
pub(crate) struct FitArguments {
    /// The sheet: CSV, or an .xlsx workbook, one reading a row
    pub(crate) file: PathBuf,
    /// Heading of the column of readings, in seconds [default: seconds]
    #[arg(long, value_name = "HEADING")]
    pub(crate) column: Option<String>,
    /// Heading of the column that names the task, when the sheet has several
    #[arg(long, value_name = "HEADING")]
    pub(crate) by: Option<String>,
    /// How the table is written.
    #[command(flatten)]
    pub(crate) table: TableArguments,
    /// Pace of those who were timed: 1 is normal, 1.1 a tenth quicker
    #[arg(long, value_name = "R")]
    pub(crate) rating: Option<f64>,
    /// Rest allowance as a share, for example 0.12
    #[arg(long, value_name = "A")]
    pub(crate) allowance: Option<f64>,
    /// Of what the allowance is a share: standard = basic x (1 + A), or standard = basic / (1 - A)
    #[arg(long, value_enum, value_name = "TIME", default_value = "basic")]
    pub(crate) allowance_of: AllowanceOf,
    /// Folder for the page, tables and pictures [default: scullery-out]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Print the result as JSON on standard output and nothing else; files are written only when --out is given
    #[arg(long, conflicts_with = "quiet")]
    pub(crate) json: bool,
    /// Print the answer only
    #[arg(long, short)]
    pub(crate) quiet: bool,
}

impl FitArguments {
    /// Where results go and what is printed, as other studies take it.
    pub(crate) fn options(&self) -> StudyOptions {
        StudyOptions {
            seed: 1,
            threads: None,
            out: self.out.clone(),
            units: None,
            json: self.json,
            quiet: self.quiet,
        }
    }
}

/// How a table is written, where it does not say so itself.
#[derive(Clone, Debug, Args)]
pub(crate) struct TableArguments {
    /// What stands between the columns of a CSV
    #[arg(long, value_enum, value_name = "MARK")]
    pub(crate) separator: Option<SeparatorChoice>,
    /// What stands before the fraction of a number
    #[arg(long, value_enum, value_name = "MARK")]
    pub(crate) decimal: Option<DecimalChoice>,
    /// Which tab of a workbook
    #[arg(long, value_name = "TAB")]
    pub(crate) tab: Option<String>,
}

/// What stands between columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum SeparatorChoice {
    /// ,
    Comma,
    /// ;
    Semicolon,
    /// A tab
    Tab,
}

/// What stands before the fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DecimalChoice {
    /// 3,5
    Comma,
    /// 3.5
    Point,
}

/// How a date with slashes is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum DateOrderChoice {
    /// 31/12/2025
    DayFirst,
    /// 12/31/2025
    MonthFirst,
}

/// Of what a rest allowance is a share.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum AllowanceOf {
    /// The basic time of the task
    Basic,
    /// The whole shift
    Shift,
}

/// Which lunch is run, and how.
#[derive(Debug, Args)]
pub(crate) struct RunArguments {
    /// The lunch.
    #[command(flatten)]
    pub(crate) from: From,
    /// How it is run.
    #[command(flatten)]
    pub(crate) options: RunOptions,
}

/// How a lunch is run.
#[derive(Clone, Debug, Args)]
pub(crate) struct RunOptions {
    /// How many times the lunch is simulated
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(crate) repeats: u64,
    /// Not a fixed number of lunches but until every target is known to hold or to fail
    #[arg(long, conflicts_with = "repeats")]
    pub(crate) until_sure: bool,
    /// Not a fixed number of lunches but until the mean of this measure is known so precisely: 'line.cost=2' is 2 either way,
    /// '=5%' a share of the mean; may be repeated
    #[arg(long, value_name = "ID=HALF", conflicts_with = "repeats")]
    pub(crate) precise: Vec<String>,
    /// Most lunches when their number is not fixed
    #[arg(long, value_name = "N", default_value_t = 10_000, conflicts_with = "repeats", value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(crate) at_most: u64,
    /// Number that fixes all luck: the same number gives the same lunches
    #[arg(long, value_name = "S", default_value_t = 1)]
    pub(crate) seed: u64,
    /// How many threads share the work; all the machine has when unsaid (the result is the same)
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
    /// Write the diners of this repeat as a table, meal-N.csv, that `scullery replay --meal` runs again; may be repeated
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u64).range(1..=1_000_000))]
    pub(crate) keep_meal: Vec<u64>,
    /// Folder for the report, tables and pictures [default: scullery-out]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Units to show: those of the scenario when unsaid
    #[arg(long, value_enum, value_name = "UNITS")]
    pub(crate) units: Option<UnitsChoice>,
    /// Print summary.json on standard output and nothing else; files are written only when --out is given
    #[arg(long, conflicts_with = "quiet")]
    pub(crate) json: bool,
    /// Print the answer only
    #[arg(long, short)]
    pub(crate) quiet: bool,
    /// Write plain ASCII letters only, but for your own words
    #[arg(long)]
    pub(crate) ascii: bool,
    /// Exit with 1 when a target is missed
    #[arg(long)]
    pub(crate) strict: bool,
}

impl RunOptions {
    /// Whether the number of lunches is not fixed.
    pub(crate) fn is_until(&self) -> bool {
        self.until_sure || !self.precise.is_empty()
    }

    /// The measures whose means are wanted to a precision.
    ///
    /// # Errors
    /// When a text is not of the form `ID=HALF`.
    pub(crate) fn means(&self) -> Result<Vec<(String, Precision)>, Stop> {
        self.precise.iter().map(|text| precise(text)).collect()
    }
}

fn precise(text: &str) -> Result<(String, Precision), Stop> {
    let wrong = || {
        Stop::wrong(format!(
            "--precise `{text}` must be a measure and how near its mean is wanted; write for example `line.cost=2` or \
             `drop_off.main.wait_p95_s=5%`"
        ))
    };
    let (id, half) = text.split_once('=').ok_or_else(wrong)?;
    let (number, share) = match half.trim().strip_suffix('%') {
        Some(percent) => (percent, true),
        None => (half, false),
    };
    let number: f64 = number.trim().parse().map_err(|_| wrong())?;
    if !(number.is_finite() && number > 0.0) || id.trim().is_empty() {
        return Err(wrong());
    }
    let precision = if share {
        Precision::WithinShare(number / 100.0)
    } else {
        Precision::Within(number)
    };
    Ok((id.trim().to_owned(), precision))
}

/// Folder of results when none is named.
pub(crate) const DEFAULT_FOLDER: &str = "scullery-out";

/// Units a reader may ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum UnitsChoice {
    /// Metres, litres, kilograms, degrees Celsius
    Metric,
    /// Feet, US gallons, pounds, degrees Fahrenheit
    Us,
}

#[cfg(test)]
mod tests {
    use clap::CommandFactory;

    use super::*;

    #[test]
    fn the_arguments_are_consistent() {
        Arguments::command().debug_assert();
    }

    #[test]
    fn nothing_said_means_two_hundred_lunches_of_the_example() {
        let said = Arguments::parse_from(["scullery"]);
        assert!(
            said.command.is_none() && said.options.repeats == 200 && said.options.out.is_none()
        );
    }

    #[test]
    fn options_may_stand_without_a_command_but_not_before_one() {
        assert_eq!(
            Arguments::parse_from(["scullery", "--repeats", "9"])
                .options
                .repeats,
            9
        );
        assert!(Arguments::try_parse_from(["scullery", "--repeats", "9", "schema"]).is_err());
        assert!(Arguments::try_parse_from(["scullery", "run", "--repeats", "0"]).is_err());
        assert!(Arguments::try_parse_from(["scullery", "rnu"]).is_err());
    }
}
