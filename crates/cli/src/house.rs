//! Where the command meets the rest of the house: scenarios are read here and lunches simulated.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use scullery_report::Summary;
use scullery_scenario::plan::Plan;
use scullery_scenario::{DEFAULT_SCENARIO, Format, Unread, read_alone, read_from_disk, render};
use scullery_study::Fault;
use scullery_study::replicate::{Replicate, replicate};

use crate::arguments::{RunOptions, UnitsChoice};
use crate::outcome::{Outcome, Stop};

/// The example lunches carried along, by name; the first is run when none is named. All invented.
const EXAMPLES: [(&str, &str); 4] = [
    ("university", DEFAULT_SCENARIO),
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
    let mut summary = replicate(lunch.plan(), &how, progress, stop).map_err(|fault| Stop {
        outcome: match fault {
            Fault::Line(_) => Outcome::Wrong,
            Fault::Runaway { .. } => Outcome::Stuck,
            Fault::Balance { .. } => Outcome::Failed,
        },
        words: format!("{}: {fault}", lunch.source()),
    })?;
    lunch.source().clone_into(&mut summary.source.scenario);
    env!("CARGO_PKG_VERSION").clone_into(&mut summary.source.version);
    Ok(summary)
}

/// Not joined to the scenario's own words yet.
pub(crate) fn check(file: &Path, _units: Option<UnitsChoice>) -> Result<(), Stop> {
    Lunch::from_file(file).map(|_| ())
}

/// A commented scenario to start from.
pub(crate) fn starter(_name: &Path) -> String {
    DEFAULT_SCENARIO.to_owned()
}

/// The JSON Schema of scenario files.
pub(crate) fn schema() -> String {
    scullery_scenario::schema()
}
