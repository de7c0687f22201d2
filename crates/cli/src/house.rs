//! Where the command meets the rest of the house: scenarios are read here and lunches simulated.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use scullery_report::Summary;
use scullery_scenario::plan::{Plan, Units};
use scullery_scenario::{
    DEFAULT_SCENARIO, Format, Unread, read_alone, read_from_disk, render, report_text,
};
use scullery_study::Fault;
use scullery_study::film::{Film, films};
use scullery_study::replicate::{Replicate, replicate};

use crate::arguments::RunOptions;
use crate::outcome::{Outcome, Stop};

/// The example lunches carried along, by name; the first is run when none is named. All invented.
const EXAMPLES: [(&str, &str); 6] = [
    ("university", DEFAULT_SCENARIO),
    (
        "works-canteen",
        include_str!("../../../scenarios/works-canteen.toml"),
    ),
    ("bistro", include_str!("../../../scenarios/bistro.toml")),
    (
        "textbook-single-queue",
        include_str!("../../../scenarios/textbook-single-queue.toml"),
    ),
    (
        "textbook-several-servers",
        include_str!("../../../scenarios/textbook-several-servers.toml"),
    ),
    (
        "textbook-two-stations",
        include_str!("../../../scenarios/textbook-two-stations.toml"),
    ),
];

/// A checked scenario and where it came from.
pub(crate) struct Lunch {
    plan: Plan,
    source: String,
    example: bool,
}

impl Lunch {
    /// Reads a scenario file.
    ///
    /// # Errors
    /// With every complaint there is, ready to be shown.
    pub(crate) fn from_file(path: &Path) -> Result<Lunch, Stop> {
        let plan = read_from_disk(path).map_err(|unread| match unread {
            Unread::File(words) | Unread::Faults(words) => Stop::wrong(words),
        })?;
        Ok(Lunch {
            plan,
            source: path.display().to_string(),
            example: false,
        })
    }

    /// Takes one of the examples carried along.
    ///
    /// # Errors
    /// When none has that name; the message lists them.
    pub(crate) fn from_example(name: &str) -> Result<Lunch, Stop> {
        let Some((name, text)) = EXAMPLES.iter().find(|(known, _)| *known == name) else {
            let names: Vec<&str> = EXAMPLES.iter().map(|(name, _)| *name).collect();
            return Err(Stop::wrong(format!(
                "no example is called `{name}`; there are: {}",
                names.join(", ")
            )));
        };
        let label = format!("embedded: {name}");
        let plan = read_alone(text, Format::Toml)
            .map_err(|faults| Stop::wrong(render(&label, text, &faults)))?;
        Ok(Lunch {
            plan,
            source: label,
            example: true,
        })
    }

    /// Takes the example that is run when nothing is named.
    ///
    /// # Errors
    /// When it cannot be read.
    pub(crate) fn first_example() -> Result<Lunch, Stop> {
        Lunch::from_example(EXAMPLES[0].0)
    }

    /// The scenario, checked.
    pub(crate) fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Tells everything in these units from now on.
    pub(crate) fn show_in(&mut self, units: Units) {
        self.plan.show_in(units);
    }

    /// Where the scenario came from: its path as given, or `embedded`.
    pub(crate) fn source(&self) -> &str {
        &self.source
    }

    /// Whether it is one of the examples carried along.
    pub(crate) fn is_example(&self) -> bool {
        self.example
    }
}

/// Simulates the lunch as the options say. `progress` is told how many are done.
///
/// # Errors
/// When the line does not fit together (wrong scenario), runs away (stuck), or loses something (failed).
pub(crate) fn simulate(
    lunch: &Lunch,
    options: &RunOptions,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Summary, Stop> {
    let how = Replicate {
        repeats: options.repeats,
        seed: options.seed,
        threads: options.threads.map_or(0, usize::from),
    };
    let told = |fault| stopped(lunch, &fault);
    let mut summary = replicate(lunch.plan(), &how, progress, stop).map_err(told)?;
    lunch.source().clone_into(&mut summary.source.scenario);
    env!("CARGO_PKG_VERSION").clone_into(&mut summary.source.version);
    Ok(summary)
}

/// The lunches of a study that are shown in motion.
///
/// # Errors
/// When one of them cannot be simulated again.
pub(crate) fn motion(lunch: &Lunch, summary: &Summary) -> Result<Vec<Film>, Stop> {
    films(lunch.plan(), summary).map_err(|fault| stopped(lunch, &fault))
}

fn stopped(lunch: &Lunch, fault: &Fault) -> Stop {
    Stop {
        outcome: match fault {
            Fault::Line(_) => Outcome::Wrong,
            Fault::Runaway { .. } => Outcome::Stuck,
            Fault::Balance { .. } => Outcome::Failed,
        },
        words: format!("{}: {fault}", lunch.source()),
    }
}

/// Says what a scenario file means, in plain words. Nothing is simulated.
///
/// # Errors
/// With every complaint there is about the file, ready to be shown.
pub(crate) fn check(file: &Path) -> Result<String, Stop> {
    let lunch = Lunch::from_file(file)?;
    Ok(report_text(&scullery_scenario::check(lunch.plan())))
}

/// A commented scenario to start from: the first example, with a word on what to do with it.
pub(crate) fn starter(name: &Path) -> String {
    format!(
        "# A scenario to start from, written by `scullery new`. All in it is an invented example: put your own room,\n\
         # people and figures in its place, then run `scullery check {}`.\n#\n{DEFAULT_SCENARIO}",
        name.with_extension("toml").display()
    )
}

/// The JSON Schema of scenario files.
pub(crate) fn schema() -> String {
    scullery_scenario::schema()
}
