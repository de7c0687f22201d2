//! What a search for a crew or a size hands on to those who show it: plain numbers and words.

use serde::{Deserialize, Serialize};

/// Who and what it speaks of.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct About {
    /// Title of the scenario.
    pub name: String,
    /// Standing of its figures.
    pub note: String,
    /// Currency sign; empty where cost is in hours.
    pub currency: String,
    /// Which day it speaks of.
    pub day_words: String,
    /// Where the scenario came from.
    pub source: String,
    /// SHA-256 of the scenario.
    pub hash: String,
    /// Version of the program.
    pub version: String,
    /// Seed of the study.
    pub seed: u64,
    /// Targets as people say them.
    pub targets: Vec<String>,
}

/// How a search went.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Searched {
    /// How many there were to choose from.
    pub choices: usize,
    /// Lunches run to decide.
    pub lunches: u64,
    /// Lunches run besides, to show figures.
    pub lunches_to_show: u64,
    /// Whether it was stopped before its end.
    pub stopped: bool,
    /// Whether the promise is given.
    pub promised: bool,
    /// The promise, in words.
    pub promise: String,
    /// Where the bounds come from.
    pub bounds: String,
}

/// One target of one arrangement.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Cell {
    /// Lunches in which it held; `None` for a target on a mean.
    pub held: Option<u64>,
    /// Lunches that spoke of it.
    pub of: u64,
    /// Mean of the measure, for a target on a mean.
    pub mean: Option<f64>,
    /// `holds`, `fails` or `not sure`.
    pub verdict: String,
    /// As it stands in a table, for example `96 of 100`.
    pub text: String,
}

/// One arrangement that is shown.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Row {
    /// In words.
    pub words: String,
    /// People; 0 where the crew is not what differs.
    pub people: u32,
    /// Paid hours on the roster.
    pub hours: f64,
    /// Cost known beforehand.
    pub cost: f64,
    /// Mean cost of minutes past the shift.
    pub extra_cost: f64,
    /// `holds`, `fails`, `not sure`, or `not looked at to the end`.
    pub verdict: String,
    /// Lunches behind the cells.
    pub lunches: u64,
    /// Of these, lunches in which every target on single lunches held.
    pub all_held: u64,
    /// One entry a target.
    pub cells: Vec<Cell>,
    /// `chosen`, `now`, `not told apart`, `holds with one missing`, `frontier`.
    pub marks: Vec<String>,
}

impl Row {
    /// Whether it carries this mark.
    pub fn is(&self, mark: &str) -> bool {
        self.marks.iter().any(|m| m == mark)
    }

    /// Share of lunches in which every target on single lunches held.
    pub fn service(&self) -> f64 {
        self.all_held as f64 / self.lunches.max(1) as f64
    }
}

/// One arrangement as the search left it, for a table of all.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct TriedRow {
    /// In words.
    pub words: String,
    /// People.
    pub people: u32,
    /// Paid hours.
    pub hours: f64,
    /// Cost known beforehand.
    pub cost: f64,
    /// What became of it.
    pub fate: String,
    /// The target it failed first, if it failed.
    pub failed: Option<String>,
    /// Lunches run.
    pub lunches: u64,
    /// Of these, lunches in which every target on single lunches held.
    pub all_held: u64,
}

/// The answer to "who is needed".
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct CrewStudy {
    /// One sentence to repeat.
    pub answer: String,
    /// Who and what it speaks of.
    pub about: About,
    /// How the search went.
    pub searched: Searched,
    /// Crews that are shown, cheapest first.
    pub rows: Vec<Row>,
    /// The chosen crew with each one person missing: who is missing, and what is left.
    pub one_missing: Vec<Row>,
    /// Every crew looked at.
    pub tried: Vec<TriedRow>,
    /// The roster of the chosen crew, when one was asked and found.
    pub roster: Option<Roster>,
    /// Sentences on what could not be done.
    pub notices: Vec<String>,
}

impl CrewStudy {
    /// The row with this mark.
    pub fn marked(&self, mark: &str) -> Option<&Row> {
        self.rows.iter().find(|row| row.is(mark))
    }
}

/// A whole roster.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Roster {
    /// One sentence on it.
    pub answer: String,
    /// Shifts, in order of role and clock.
    pub shifts: Vec<RosterShift>,
    /// First minute of the quarter hours below.
    pub from_min: u32,
    /// People needed by quarter hour, all roles.
    pub need: Vec<u32>,
    /// People at work by quarter hour, breaks left out.
    pub at_work: Vec<u32>,
    /// Paid hours.
    pub paid_hours: f64,
    /// What they cost: money where a wage is known, else hours.
    pub cost: f64,
    /// Least paid hours that any roster covering this need could have, by the relaxed problem.
    pub lower_bound_hours: f64,
    /// Whether the roster is shown to be the least for this need.
    pub least: bool,
    /// What the simulated roster did with the targets.
    pub proof: Option<Row>,
    /// Busy share that the need was made for.
    pub busy_share: f64,
    /// The rules it keeps, one sentence each.
    pub rules: Vec<String>,
}

/// One shift of a roster.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct RosterShift {
    /// Who.
    pub name: String,
    /// Role.
    pub role: String,
    /// Spans at work, minutes since midnight; a break lies between two, or the gap of a split shift.
    pub spans_min: Vec<[u32; 2]>,
    /// Meal breaks, minutes since midnight.
    pub breaks_min: Vec<[u32; 2]>,
    /// Paid hours.
    pub paid_h: f64,
}

/// The answer to "how large must it be".
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct SizeStudy {
    /// One sentence to repeat.
    pub answer: String,
    /// What is sized, in words.
    pub what: String,
    /// Who and what it speaks of.
    pub about: About,
    /// How the search went.
    pub searched: Searched,
    /// The sizes, smallest first.
    pub rows: Vec<Row>,
    /// Every size looked at.
    pub tried: Vec<TriedRow>,
    /// Least size by crew, and what both cost a year.
    pub trades: Vec<Trade>,
    /// Which stage holds the line back with the largest size, where no size helps.
    pub binds: Option<String>,
    /// Sentences on what could not be done.
    pub notices: Vec<String>,
}

/// A crew, the least size it needs, and what both cost a year.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Trade {
    /// The crew in words.
    pub crew: String,
    /// People.
    pub people: u32,
    /// Paid hours a meal.
    pub hours: f64,
    /// Least size that holds; `None`: none does.
    pub size: Option<String>,
    /// What it costs to buy.
    pub price: Option<f64>,
    /// Labour a year.
    pub labour_a_year: Option<f64>,
    /// Price over the years it lasts.
    pub size_a_year: Option<f64>,
    /// Both; `None` where no size holds or a price is missing.
    pub total_a_year: Option<f64>,
}
