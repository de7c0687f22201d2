//! `scullery why`: what held the line back, and one tray's diary.

use clap::{Args, ValueEnum};
use scullery_report::staffing::{why_files, why_terminal};
use scullery_study::bottleneck::diary::Which;
use scullery_study::bottleneck::why::{Why, why};
use scullery_study::staffing::cheapest_crew::Trouble;

use crate::crew::LookOptions;
use crate::house::Lunch;
use crate::outcome::{Outcome, Stop};
use crate::progress::stop_on_interrupt;
use crate::searching::{Bar, Shown, file_text, show, trouble};
use crate::study_arguments::{Changes, From};
use crate::voice::columns;

/// Which lunches are looked at, and which tray.
#[derive(Debug, Args)]
pub(crate) struct WhyArguments {
    /// The scenario and how it is looked at.
    #[command(flatten)]
    pub(crate) look: LookOptions,
    /// How the scenario is changed first.
    #[command(flatten)]
    pub(crate) changes: Changes,
    /// Tray whose diary is written
    #[arg(long, value_enum, default_value_t = TrayChoice::Worst)]
    pub(crate) tray: TrayChoice,
    /// Number of a diner whose tray is followed instead, from 1, in the order in which they are served
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) diner: Option<u32>,
    /// Number of the lunch in which the tray is followed
    #[arg(long, value_name = "K", default_value_t = 1, value_parser = clap::value_parser!(u64).range(1..))]
    pub(crate) lunch: u64,
}

/// A tray by what is special about it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum TrayChoice {
    /// One picked at random
    Random,
    /// The one that took the longest
    Worst,
}

/// Looks at the lunches the arguments ask for.
///
/// # Errors
/// When the scenario is wrong, the folder is somebody else's, or a run fails.
pub(crate) fn look(arguments: &WhyArguments) -> Result<Outcome, Stop> {
    let options = &arguments.look;
    let destination = options.destination()?;
    let lunch = Lunch::from(&From {
        file: options.file.clone(),
        demo: options.demo.clone(),
        changes: arguments.changes.clone(),
    })?;
    let how = Why {
        seed: options.seed,
        threads: options.threads.map_or(0, usize::from),
        lunches: options.shown_lunches,
        tray: match (arguments.diner, arguments.tray) {
            (Some(number), _) => Which::Diner(number),
            (None, TrayChoice::Random) => Which::Random,
            (None, TrayChoice::Worst) => Which::Worst,
        },
        tray_of: arguments.lunch,
    };
    let stop = stop_on_interrupt();
    let bar = Bar::new(options.quiet || options.json);
    let result = why(lunch.plan(), &how, &|step| bar.step(step), &stop);
    bar.clear();
    let mut study = result.map_err(|fault| trouble(lunch.source(), Trouble::Fault(fault)))?;
    if study.lunches == 0 {
        return Err(Stop::failed(
            "stopped before any lunch was complete; nothing was written",
        ));
    }
    if let (Some(number), None) = (arguments.diner, &study.diary) {
        return Err(Stop::wrong(format!(
            "in lunch {} no tray of diner {number} comes to a drop-off; try another number",
            arguments.lunch
        )));
    }
    lunch.source().clone_into(&mut study.about.source);
    env!("CARGO_PKG_VERSION").clone_into(&mut study.about.version);
    let files = why_files(&study)?;
    show(
        options,
        destination,
        &files,
        &Shown {
            answer: &study.answer,
            json: &|| file_text(&files, "why.json"),
            text: &|| why_terminal(&study, columns()),
            example: lunch.is_example(),
        },
    )?;
    let early = study.lunches < study.asked;
    Ok(if early {
        Outcome::Failed
    } else {
        Outcome::Done
    })
}
