//! What a crew may be made of, and sizes that may be chosen, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::crew::{BreakFile, ShiftFile};

/// What `scullery crew` may choose from. Without it the bounds are derived from the crew as it is.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct StaffingFile {
    /// Fewest people in all; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) least_people: Option<u32>,
    /// Most people in all; as many as the roles allow if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) most_people: Option<u32>,
    /// Shifts by name. Roles without patterns keep the shifts of the people they are like.
    #[serde(default)]
    pub(crate) pattern: BTreeMap<String, PatternFile>,
    /// Roles by name. Their people are asked in the order of the people they are like.
    #[serde(default)]
    pub(crate) role: BTreeMap<String, RoleFile>,
    /// Rules the roster keeps.
    pub(crate) contract: Option<ContractFile>,
}

/// A named shift.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PatternFile {
    /// Clock spans at work, in clock order.
    #[schemars(length(min = 1, max = 20))]
    pub(crate) shifts: Vec<ShiftFile>,
    /// Breaks. Without them the breaks of the person copied hold, as far as they lie within.
    #[schemars(length(max = 20))]
    pub(crate) breaks: Option<Vec<BreakFile>>,
}

/// A role: people who do the same work.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RoleFile {
    /// Names of the crew whose posts, pace and breaks these people have, copied in turn.
    #[schemars(length(min = 1, max = 200))]
    pub(crate) like: Vec<String>,
    /// Fewest people; 0 if unsaid.
    #[schemars(range(min = 0, max = 200))]
    pub(crate) least: Option<u32>,
    /// Most people.
    #[schemars(range(min = 0, max = 200))]
    pub(crate) most: u32,
    /// Names of the shifts they may have.
    #[schemars(length(min = 1, max = 60))]
    pub(crate) patterns: Option<Vec<String>>,
    /// An hour of their work, on-costs included; `money.wage_per_h` if unsaid.
    #[schemars(range(min = 0, max = 100000))]
    pub(crate) wage_per_h: Option<f64>,
}

/// Rules the roster keeps. Your own contract and law decide.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ContractFile {
    /// Shortest paid shift; 3 h if unsaid.
    #[schemars(range(min = 0, max = 24))]
    pub(crate) shortest_h: Option<f64>,
    /// Longest paid shift; 8.5 h if unsaid.
    #[schemars(range(min = 0.25, max = 24))]
    pub(crate) longest_h: Option<f64>,
    /// Paid at least so long for coming in at all; the shortest shift if unsaid.
    #[schemars(range(min = 0, max = 24))]
    pub(crate) show_up_h: Option<f64>,
    /// Longest stretch of work before a meal break; 5 h if unsaid.
    #[schemars(range(min = 0.25, max = 24))]
    pub(crate) meal_break_after_h: Option<f64>,
    /// Length of a meal break; 30 min if unsaid.
    #[schemars(range(min = 0, max = 240))]
    pub(crate) meal_break_min: Option<f64>,
    /// Whether meal breaks are paid.
    #[serde(default)]
    pub(crate) meal_break_paid: bool,
    /// No meal break in this span: the peak.
    pub(crate) no_breaks: Option<ShiftFile>,
    /// People on a meal break at once, at most; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) off_at_once: Option<u32>,
    /// Split shifts are allowed with a gap of at least so long; none are if unsaid.
    #[schemars(range(min = 0.25, max = 12))]
    pub(crate) split_gap_h: Option<f64>,
    /// Shifts begin on multiples of this; 15 min if unsaid.
    #[schemars(range(min = 15, max = 240))]
    pub(crate) starts_every_min: Option<f64>,
    /// On-costs besides the wage, in per cent of it; 0 if unsaid.
    #[schemars(range(min = 0, max = 300))]
    pub(crate) on_costs_percent: Option<f64>,
    /// People who set up before the first tray.
    pub(crate) set_up: Option<AroundFile>,
    /// People who clean after the last tray.
    pub(crate) cleaning: Option<AroundFile>,
}

/// So many people at work for so long.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AroundFile {
    /// How many people.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) people: u32,
    /// For how long.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) lasts_min: f64,
}

/// Something whose least size is asked by `scullery size`: a key with values, or options with changes of their own.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SizeFile {
    /// What it is, in plain words.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) words: String,
    /// Key of the file that is changed, for example `belt.return.length_m`.
    #[schemars(length(min = 3, max = 200))]
    pub(crate) key: Option<String>,
    /// Values of that key, smallest size first.
    #[serde(default)]
    #[schemars(length(max = 200))]
    pub(crate) values: Vec<f64>,
    /// Price of one unit of that key.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) price_each: Option<f64>,
    /// Options, smallest first: for a machine one data plate each.
    #[serde(default)]
    #[schemars(length(max = 200))]
    pub(crate) option: Vec<SizeOptionFile>,
    /// Years it lasts, for what it costs a year.
    #[schemars(range(min = 0.5, max = 100))]
    pub(crate) life_years: Option<f64>,
}

/// One size to choose.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SizeOptionFile {
    /// Its name.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) name: String,
    /// Changes to the file, each `key=value`, for example `machine.dish.plate.racks_per_h=120`.
    #[schemars(length(max = 60))]
    pub(crate) changes: Vec<String>,
    /// What it costs to buy.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) price: Option<f64>,
}
