//! Where the command meets the rest of the house: scenarios are read here and lunches simulated.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use scullery_report::staffing::bottleneck_chapter;
use scullery_report::{Chapter, Summary};
use scullery_scenario::change::Change;
use scullery_scenario::plan::{Plan, Units};
use scullery_scenario::{DEFAULT_SCENARIO, Document, Format, Unread, report_text};
use scullery_study::Fault;
use scullery_study::bottleneck::diary::Which;
use scullery_study::bottleneck::why::{Why, why};
use scullery_study::enough::{Enough, replicate_until};
use scullery_study::film::{Film, films};
use scullery_study::replay::kept::keep;
use scullery_study::replicate::{Replicate, replicate};

use crate::arguments::RunOptions;
use crate::arrangements::Start;
use crate::outcome::{Outcome, Stop};
use crate::study_arguments::From;
use crate::voice::tell;

/// The example lunches carried along, by name; the first is run when none is named. All invented.
const EXAMPLES: [(&str, &str); 13] = [
    ("university", DEFAULT_SCENARIO),
    (
        "works-canteen",
        include_str!("../../../scenarios/works-canteen.toml"),
    ),
    ("hospital", include_str!("../../../scenarios/hospital.toml")),
    (
        "hotel-ballroom",
        include_str!("../../../scenarios/hotel-ballroom.toml"),
    ),
    ("bistro", include_str!("../../../scenarios/bistro.toml")),
    (
        "two-belts",
        include_str!("../../../scenarios/two-belts.toml"),
    ),
    (
        "self-clearing-hall",
        include_str!("../../../scenarios/self-clearing-hall.toml"),
    ),
    (
        "load-end-gate",
        include_str!("../../../scenarios/load-end-gate.toml"),
    ),
    ("buffet", include_str!("../../../scenarios/buffet.toml")),
    (
        "few-guests",
        include_str!("../../../scenarios/few-guests.toml"),
    ),
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
        Lunch::of(&document(Some(path), None)?, false)
    }

    /// Takes one of the examples carried along.
    ///
    /// # Errors
    /// When none has that name; the message lists them.
    pub(crate) fn from_example(name: &str) -> Result<Lunch, Stop> {
        Lunch::of(&document(None, Some(name))?, true)
    }

    /// Reads a file, or takes an example, and makes the changes asked for. What alters nothing is told.
    ///
    /// # Errors
    /// With every complaint there is, ready to be shown.
    pub(crate) fn from(from: &From) -> Result<Lunch, Stop> {
        let start = Start::read(from)?;
        let mut source = start.document.shown().to_owned();
        let said: Vec<&str> = start.changes.iter().map(Change::text).collect();
        if !said.is_empty() {
            source = format!("{source}, changed: {}", said.join("; "));
        }
        for idle in start.plan.changes.iter().filter(|change| !change.alters) {
            tell(&format!(
                "`{}` alters nothing, it stands so already",
                idle.words
            ));
        }
        Ok(Lunch {
            plan: start.plan,
            source,
            example: from.file.is_none(),
        })
    }

    fn of(document: &Document, example: bool) -> Result<Lunch, Stop> {
        Ok(Lunch {
            plan: document.plan().map_err(Stop::wrong)?,
            source: document.shown().to_owned(),
            example,
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

/// The text of a scenario: a file, an example by name, or the first example.
///
/// # Errors
/// When the file cannot be read, or no example has that name; the message lists them.
pub(crate) fn document(file: Option<&Path>, demo: Option<&str>) -> Result<Document, Stop> {
    if let Some(path) = file {
        return Document::from_disk(path).map_err(|unread| match unread {
            Unread::File(words) | Unread::Faults(words) => Stop::wrong(words),
        });
    }
    let name = demo.unwrap_or(EXAMPLES[0].0);
    let Some((name, text)) = EXAMPLES.iter().find(|(known, _)| *known == name) else {
        let names: Vec<&str> = EXAMPLES.iter().map(|(name, _)| *name).collect();
        return Err(Stop::wrong(format!(
            "no example is called `{name}`; there are: {}",
            names.join(", ")
        )));
    };
    Ok(Document::of_text(
        format!("embedded: {name}"),
        *text,
        Format::Toml,
    ))
}

/// A fault of a study in words, with the exit code that belongs to it.
pub(crate) fn fault_words(source: &str, fault: &Fault) -> Stop {
    Stop {
        outcome: match fault {
            Fault::Line(_) => Outcome::Wrong,
            Fault::Runaway { .. } => Outcome::Stuck,
            Fault::Balance { .. } => Outcome::Failed,
        },
        words: format!("{source}: {fault}"),
    }
}

/// Simulates the lunch as the options say. `progress` is told how many are done and about how many there will be.
///
/// # Errors
/// When the line does not fit together (wrong scenario), runs away (stuck), or loses something (failed).
pub(crate) fn simulate(
    lunch: &Lunch,
    options: &RunOptions,
    progress: &(dyn Fn(u64, u64) + Sync),
    stop: &AtomicBool,
) -> Result<Summary, Stop> {
    let threads = options.threads.map_or(0, usize::from);
    let summary = if options.is_until() {
        let enough = Enough {
            means: options.means()?,
            targets: options.until_sure,
            most: options.at_most,
            seed: options.seed,
            threads,
        };
        replicate_until(lunch.plan(), &enough, progress, stop)
    } else {
        let how = Replicate {
            repeats: options.repeats,
            seed: options.seed,
            threads,
        };
        replicate(
            lunch.plan(),
            &how,
            &|done| progress(done, options.repeats),
            stop,
        )
    };
    let mut summary = summary.map_err(|fault| fault_words(lunch.source(), &fault))?;
    lunch.source().clone_into(&mut summary.source.scenario);
    env!("CARGO_PKG_VERSION").clone_into(&mut summary.source.version);
    Ok(summary)
}

/// The meals that are to be kept, as tables, by number of repeat.
pub(crate) fn kept(lunch: &Lunch, options: &RunOptions) -> Vec<(u64, String)> {
    let mut repeats = options.keep_meal.clone();
    repeats.sort_unstable();
    repeats.dedup();
    let table = |repeat: u64| (repeat, keep(lunch.plan(), options.seed, repeat));
    repeats.into_iter().map(table).collect()
}

/// The lunches of a study that are shown in motion.
///
/// # Errors
/// When one of them cannot be simulated again.
pub(crate) fn motion(lunch: &Lunch, summary: &Summary) -> Result<Vec<Film>, Stop> {
    films(lunch.plan(), summary).map_err(|fault| fault_words(lunch.source(), &fault))
}

/// Lunches in which `run` looks for what held the line back.
const LOOKED_AT: u64 = 25;

/// The chapter on what held the line back, over the first lunches of the study. Without it when the user stopped the run.
///
/// # Errors
/// When one of the lunches cannot be simulated again, or its picture cannot be drawn.
pub(crate) fn bottleneck(
    lunch: &Lunch,
    summary: &Summary,
    options: &RunOptions,
    stop: &AtomicBool,
) -> Result<Option<Chapter>, Stop> {
    let how = Why {
        seed: options.seed,
        threads: options.threads.map_or(0, usize::from),
        lunches: summary.repeats.min(LOOKED_AT),
        tray: Which::Random,
        tray_of: 1,
    };
    let found = why(lunch.plan(), &how, &|_| {}, stop)
        .map_err(|fault| fault_words(lunch.source(), &fault))?;
    Ok(bottleneck_chapter(&found)?)
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
