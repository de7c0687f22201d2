//! `scullery crew`: the smallest crew that holds.

use std::path::PathBuf;

use clap::Args;
use scullery_report::Destination;
use scullery_report::staffing::{crew_files, crew_terminal};
use scullery_study::staffing::cheapest_crew::{CrewSearch, cheapest_crew};
use scullery_study::staffing::found::{CrewStudy, Searched};

use crate::house::Lunch;
use crate::outcome::{Outcome, Stop};
use crate::progress::stop_on_interrupt;
use crate::searching::{Shown, file_text, show, trouble};
use crate::voice::columns;

/// Which crews are searched, and how.
#[derive(Debug, Args)]
pub(crate) struct CrewArguments {
    /// How it is searched.
    #[command(flatten)]
    pub(crate) search: SearchOptions,
    /// Do not look for the crew that holds whoever is missing
    #[arg(long)]
    pub(crate) no_spare: bool,
    /// Make a roster for the chosen crew: whole shifts for the least paid hours, simulated to prove it
    #[arg(long)]
    pub(crate) roster: bool,
}

/// What all that simulates many arrangements has in common.
#[derive(Clone, Debug, Args)]
pub(crate) struct LookOptions {
    /// The scenario (TOML, or JSON of the same shape); an example lunch when unsaid
    pub(crate) file: Option<PathBuf>,
    /// One of the example lunches carried along; a wrong name lists them
    #[arg(long, value_name = "NAME", conflicts_with = "file")]
    pub(crate) demo: Option<String>,
    /// Lunches behind each figure shown
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u64).range(2..=100_000))]
    pub(crate) shown_lunches: u64,
    /// Number that fixes all luck: the same number gives the same lunches
    #[arg(long, value_name = "S", default_value_t = 1)]
    pub(crate) seed: u64,
    /// How many threads share the work; all the machine has when unsaid (the result is the same)
    #[arg(long, value_name = "T", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub(crate) threads: Option<u16>,
    /// Folder for the page, tables and pictures [default: scullery-out]
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Print the result as JSON and nothing else; files are written only when --out is given
    #[arg(long, conflicts_with = "quiet")]
    pub(crate) json: bool,
    /// Print the answer only
    #[arg(long, short)]
    pub(crate) quiet: bool,
}

/// What all searches have in common.
#[derive(Clone, Debug, Args)]
pub(crate) struct SearchOptions {
    /// What is simulated, and where the result goes.
    #[command(flatten)]
    pub(crate) look: LookOptions,
    /// Of 100 such searches, how many may name a wrong one
    #[arg(long, value_name = "N", default_value_t = 5.0)]
    pub(crate) wrong_of_100: f64,
    /// Lunches of 100 by which a target may be missed unnoticed
    #[arg(long, value_name = "N", default_value_t = 2.0)]
    pub(crate) within: f64,
    /// Lunches after which a choice is left as not sure
    #[arg(long, value_name = "N", default_value_t = 5000, value_parser = clap::value_parser!(u64).range(20..=1_000_000))]
    pub(crate) most_lunches: u64,
    /// Exit with 1 when none is found that holds
    #[arg(long)]
    pub(crate) strict: bool,
}

impl SearchOptions {
    /// Both numbers as shares.
    ///
    /// # Errors
    /// When one is out of range.
    pub(crate) fn errors(&self) -> Result<(f64, f64), Stop> {
        if !(self.wrong_of_100 > 0.0 && self.wrong_of_100 <= 50.0) {
            return Err(Stop::wrong(format!(
                "--wrong-of-100 must be above 0 and at most 50, found {}; write for example 5",
                self.wrong_of_100
            )));
        }
        if !(self.within > 0.0 && self.within <= 20.0) {
            return Err(Stop::wrong(format!(
                "--within must be above 0 and at most 20, found {}; write for example 2",
                self.within
            )));
        }
        Ok((self.wrong_of_100 / 100.0, self.within / 100.0))
    }
}

impl LookOptions {
    /// The scenario asked for.
    ///
    /// # Errors
    /// With every complaint there is, ready to be shown.
    pub(crate) fn lunch(&self) -> Result<Lunch, Stop> {
        match (&self.file, &self.demo) {
            (Some(file), _) => Lunch::from_file(file),
            (None, Some(name)) => Lunch::from_example(name),
            (None, None) => Lunch::first_example(),
        }
    }

    /// Where files go, asked before the work is done.
    ///
    /// # Errors
    /// When the folder is somebody else's.
    pub(crate) fn destination(&self) -> Result<Option<(PathBuf, Destination)>, Stop> {
        let usual = (!self.json).then(|| PathBuf::from(crate::arguments::DEFAULT_FOLDER));
        match self.out.clone().or(usual) {
            Some(folder) => Ok(Some((folder.clone(), Destination::claim(&folder)?))),
            None => Ok(None),
        }
    }
}

/// Searches the crew the arguments ask for.
///
/// # Errors
/// When the scenario is wrong or has no targets, the folder is somebody else's, or a run fails.
pub(crate) fn crew(arguments: &CrewArguments) -> Result<Outcome, Stop> {
    let (alpha, indifference) = arguments.search.errors()?;
    let options = &arguments.search.look;
    let destination = options.destination()?;
    let lunch = options.lunch()?;
    let how = CrewSearch {
        seed: options.seed,
        threads: options.threads.map_or(0, usize::from),
        alpha,
        indifference,
        most_lunches: arguments.search.most_lunches,
        shown_lunches: options.shown_lunches,
        one_missing: !arguments.no_spare,
        roster: arguments.roster,
    };
    let stop = stop_on_interrupt();
    let bar = crate::searching::Bar::new(options.quiet || options.json);
    let result = cheapest_crew(lunch.plan(), &how, &|step| bar.step(step), &stop);
    bar.clear();
    let mut study: CrewStudy = result.map_err(|why| trouble(lunch.source(), why))?;
    lunch.source().clone_into(&mut study.about.source);
    env!("CARGO_PKG_VERSION").clone_into(&mut study.about.version);
    let files = crew_files(&study)?;
    let found = study.marked("chosen").is_some();
    show(
        options,
        destination,
        &files,
        &Shown {
            answer: &study.answer,
            json: &|| file_text(&files, "crew.json"),
            text: &|| crew_terminal(&study, columns()),
            example: lunch.is_example(),
        },
    )?;
    Ok(outcome(&study.searched, found, arguments.search.strict))
}

/// What a finished search means.
pub(crate) fn outcome(searched: &Searched, found: bool, strict: bool) -> Outcome {
    if searched.stopped || (strict && !found) {
        Outcome::Failed
    } else {
        Outcome::Done
    }
}
