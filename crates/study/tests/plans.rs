//! Plans for the tests: a single queue that empties, and the embedded lunch.

use std::sync::atomic::AtomicBool;

use scullery_engine::line::Closing;
use scullery_engine::time::SimTime;
use scullery_scenario::change::Change;
use scullery_scenario::plan::Plan;
use scullery_scenario::{DEFAULT_SCENARIO, Document, Format, read_alone};
use scullery_study::lunches::Arrangement;
use scullery_study::replicate::{Replicate, replicate};
use scullery_study::summary::Summary;

/// One person, trays at random, 48 a hour at 60 s each for four hours; runs until all is clean.
pub(crate) const QUEUE: &str = r#"
[heading]
name = "Single queue"
note = "Invented for a test."

[meal]
starts = "00:00"
ends_at = "24:00"

[covers.per_interval]
from = "00:00"
every_min = 60
counts = [48, 48, 48, 48]

[days.vary]
cv = 0

[diners]
tray_work_varies = "exponential"
waste_kg = 0

[kind.tray]
share = 1
pieces = { tray = 1 }
sits = false

[[ware]]
name = "tray"

[drop_off.door]
to = "queue"
positions = 1
put_down_s = 0
closes = "never"

[table.queue]

[scrapping.server]
takes_from = ["queue"]
handling_s = 60
piece_s = { tray = 0 }
sends = { tray = "leave" }

[[crew]]
name = "Server"
shifts = [{ from = "00:00", to = "24:00" }]
posts = ["scrapping.server"]
unfilled_share = 0
"#;

pub(crate) fn read(text: &str) -> Plan {
    read_alone(text, Format::Toml).unwrap_or_else(|complaints| panic!("{complaints:?}"))
}

/// The single queue, run until all is clean.
pub(crate) fn queue() -> Plan {
    let mut plan = read(QUEUE);
    plan.line.ends = None;
    plan.line.drop_offs[0].closes = Closing::AfterLast;
    plan
}

/// The same, cut off at this hour.
pub(crate) fn queue_until(hour: f64) -> Plan {
    let mut plan = read(QUEUE);
    plan.line.ends = Some(SimTime::from_min(hour * 60.0));
    plan
}

/// The embedded lunch.
pub(crate) fn lunch() -> Plan {
    read(DEFAULT_SCENARIO)
}

/// One of the examples beside it.
pub(crate) fn demo(name: &str) -> Plan {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../../scenarios/");
    read(&std::fs::read_to_string(format!("{folder}{name}")).unwrap())
}

/// A target to stand at the end of a scenario.
pub(crate) fn target(measure: &str, bound: &str) -> String {
    format!("\n[[target]]\nmeasure = \"{measure}\"\n{bound}\n")
}

/// A plan of this text with single changes made to it, under a name of its own.
pub(crate) fn arrangement(text: &str, name: &str, changes: &[&str]) -> Arrangement {
    let document = Document::of_text(name, text, Format::Toml);
    let changes: Vec<Change> = changes
        .iter()
        .map(|text| Change::parse(text).unwrap())
        .collect();
    let plan = document
        .changed(&changes)
        .unwrap_or_else(|why| panic!("{why}"));
    Arrangement::new(name, plan).unwrap()
}

/// One meal of a plan, simulated.
pub(crate) fn one_meal(plan: &Plan) -> Summary {
    let how = Replicate {
        repeats: 1,
        seed: 1,
        threads: 1,
    };
    replicate(plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap()
}

/// A measure of the first meal; `None` where it has no value, or there is no such measure.
pub(crate) fn value(summary: &Summary, id: &str) -> Option<f64> {
    let column = summary.per_meal_columns.iter().position(|name| name == id);
    column.and_then(|column| summary.per_meal[0][column])
}
