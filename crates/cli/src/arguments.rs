//! What can be asked on the command line.

use std::path::PathBuf;

use clap::{Args, Parser, Subcommand, ValueEnum};

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
    /// Say in plain words what a scenario means, before anything is simulated
    Check {
        /// The scenario (TOML, or JSON of the same shape)
        file: PathBuf,
    },
    /// Write a commented scenario to start from
    New {
        /// Name of the scenario; NAME.toml is written and never overwritten
        name: PathBuf,
    },
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

/// Which lunch is run, and how.
#[derive(Debug, Args)]
pub(crate) struct RunArguments {
    /// The scenario (TOML, or JSON of the same shape); an example lunch when unsaid
    #[arg(conflicts_with = "demo")]
    pub(crate) file: Option<PathBuf>,
    /// Run one of the example lunches carried along; a wrong name lists them
    #[arg(long, value_name = "NAME")]
    pub(crate) demo: Option<String>,
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
    /// Number that fixes all luck: the same number gives the same lunches
    #[arg(long, value_name = "S", default_value_t = 1)]
    pub(crate) seed: u64,
    /// How many threads share the work; all the machine has when unsaid (the result is the same)
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
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
