//! Everything a report may show, as plain numbers and words. Written by the study; reports read nothing else.

use serde::{Deserialize, Serialize};

use crate::owning::Owning;
use crate::planned::Planned;

/// The finished study of one plan.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Summary {
    /// One sentence a manager can repeat; it says which day it speaks of.
    pub answer: String,
    /// How many times the meal was simulated.
    pub repeats: u64,
    /// How many were asked for (more than `repeats` when stopped early).
    pub asked: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Trays in, out and inside, summed over all repeats.
    pub balance: BalanceSum,
    /// One entry a measure; ids are stable and unique.
    pub measures: Vec<Measure>,
    /// Title and standing of the scenario.
    pub heading: HeadingText,
    /// Targets with their verdicts.
    pub targets: Vec<TargetResult>,
    /// How the repeats ended.
    pub endings: Endings,
    /// Minutes since midnight of the first minute in all bands and profiles, and how many minutes they hold.
    pub clock: Clock,
    /// Levels minute by minute.
    pub bands: Vec<Band>,
    /// Cumulative counts minute by minute.
    pub cumulative: Vec<Band>,
    /// What each member of the crew did, quarter hour by quarter hour; crew-list order.
    pub people: Vec<Profile>,
    /// What each machine and belt did, quarter hour by quarter hour.
    pub machines: Vec<Profile>,
    /// What went on at each post, quarter hour by quarter hour.
    #[serde(default)]
    pub stations: Vec<Station>,
    /// What the plan says about crew, machines and elements.
    #[serde(default)]
    pub planned: Planned,
    /// Who or what was held up by which place, most minutes first.
    pub held_up: Vec<HeldUp>,
    /// Water, energy, chemicals, labour, and their cost.
    pub resources: Vec<Resource>,
    /// What owning the line costs, where the scenario says what of it is owned.
    #[serde(default)]
    pub owning: Option<Owning>,
    /// What the file means, one sentence an entry.
    pub assumptions: Vec<String>,
    /// Inputs left at their default: key, value, standing.
    pub defaults: Vec<[String; 3]>,
    /// Cautions.
    pub cautions: Vec<String>,
    /// Name and hash of what was simulated, for the manifest.
    pub source: Source,
    /// One row a repeat: the values of `per_meal_columns`.
    pub per_meal: Vec<Vec<Option<f64>>>,
    /// Ids of the columns of `per_meal`; the first is `repeat`.
    pub per_meal_columns: Vec<String>,
    /// Why there were so many, when the study went on until it was sure; `None`: the number was fixed beforehand.
    #[serde(default)]
    pub enough: Option<String>,
}

/// Trays in, out and inside.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct BalanceSum {
    /// Trays that came to a drop-off.
    pub trays_in: u64,
    /// Trays wholly clean.
    pub trays_out: u64,
    /// Trays still inside at the end.
    pub trays_inside: u64,
}

/// One measure over the repeats: one number a repeat.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Measure {
    /// Stable id, for example `drop_off.main.wait_p95_s`.
    pub id: String,
    /// The place, person or machine it belongs to; empty for the whole line.
    pub place: String,
    /// What it is, in plain words ("95th of 100 diners' wait at the drop-off").
    pub label: String,
    /// Unit, for example `s`, `min`, `trays`, `clock_min` (minutes since midnight), `share`, `count`.
    pub unit: String,
    /// Repeats that have a value.
    pub n: u64,
    /// Mean over repeats; `None` when no repeat has one.
    pub mean: Option<f64>,
    /// 95 % Student-t interval of the mean, cut off at nought where no value lies below; `None` with fewer than two repeats.
    pub ci95: Option<[f64; 2]>,
    /// 5th percentile over the repeats.
    pub p05: Option<f64>,
    /// Median over the repeats.
    pub p50: Option<f64>,
    /// 95th percentile over the repeats.
    pub p95: Option<f64>,
    /// 95 % order-statistic interval of the 95th percentile; `None` where the order statistics cannot give one.
    pub p95_ci95: Option<[f64; 2]>,
    /// Whether it belongs in the short table.
    pub headline: bool,
}

/// Title and standing.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct HeadingText {
    /// Title.
    pub name: String,
    /// Standing.
    pub note: String,
    /// `metric` or `us`.
    pub units: String,
    /// Currency sign.
    pub currency: String,
    /// Which day the answer speaks of.
    pub day_words: String,
    /// Bells, minutes since midnight.
    pub bells_min: Vec<f64>,
}

/// A target and what the repeats say.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct TargetResult {
    /// As people say it.
    pub words: String,
    /// Id of its measure.
    pub measure: String,
    /// `holds`, `fails` or `not sure yet`.
    pub verdict: String,
    /// Meals in which it held, when it is about single meals.
    pub held: Option<u64>,
    /// Meals looked at.
    pub of: u64,
    /// In how many meals of 100 it must hold, when it is about single meals.
    #[serde(default)]
    pub asked_of_100: Option<f64>,
    /// Interval of the share (0 to 1) or of the mean.
    pub interval: Option<[f64; 2]>,
    /// The evidence in one plain sentence ("in 192 of 200 lunches; between 91 and 98 of 100").
    pub evidence: String,
}

/// How the repeats ended.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Endings {
    /// Reached the stated end.
    pub stated_end: u64,
    /// All clean.
    pub all_clean: u64,
    /// Locked.
    pub gridlock: u64,
    /// Still busy 12 h after the last drop-off.
    pub never_drained: u64,
    /// Sentences of the first few that locked.
    pub sentences: Vec<String>,
}

/// The clock axis.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, PartialEq)]
pub struct Clock {
    /// First minute, since midnight.
    pub from_min: u32,
    /// Number of minutes.
    pub minutes: u32,
}

/// A level or a cumulative count, minute by minute, over the repeats.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Band {
    /// Stable id, for example `queue.main`.
    pub id: String,
    /// What it shows, in plain words.
    pub title: String,
    /// Unit of the values.
    pub unit: String,
    /// Role of the place: `queue`, `standing`, `backlog`, `trays`, `pile`, `held_back`, `filled_racks`, `clean_racks`, `stock`,
    /// `empty_racks`, `overflow`, `cart`, `open_racks`, `washing`, `seated`, `racks_back`, `duty`; or for counts `served`, `dropped_off`, `cleared`, `clean`.
    pub role: String,
    /// How much the place holds, when limited.
    pub limit: Option<f64>,
    /// Mean over the repeats of the minute's time-average level (for counts: the count at the minute's end).
    pub mean: Vec<f64>,
    /// 5th percentile over the repeats of the minute's highest level (for stock: lowest; for counts: the count).
    pub p05: Vec<f64>,
    /// Median of the same.
    pub p50: Vec<f64>,
    /// 95th percentile of the same.
    pub p95: Vec<f64>,
}

/// Shares of each quarter hour by state, mean over the repeats.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Profile {
    /// Person, machine or belt.
    pub name: String,
    /// `worker`, `machine` or `belt`.
    pub kind: String,
    /// Busy share of the whole shift: minutes at work within the shift over shift less breaks (workers); share of time
    /// running with racks inside (machines).
    pub busy: Option<Measure>,
    /// States that occur, in a fixed order: `working`, `past_shift`, `held_up`, `walking`, `hand_wash`, `waiting_for_help`, `waiting`, `break`, `off`,
    /// `heating`, `ready`, `starting`, `washing`, `stopped`, `down`, `moving`.
    pub states: Vec<String>,
    /// One row a quarter hour from the clock's first minute, one share (0 to 1) a state.
    pub quarters: Vec<Vec<f64>>,
    /// Mean minutes in each state over the whole run.
    pub minutes: Vec<f64>,
}

/// What went on at one post, mean over the repeats.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Station {
    /// The post, in words.
    pub name: String,
    /// Whether it is on the clean side.
    pub clean_side: bool,
    /// How many can stand there, when that is limited.
    pub places: Option<u32>,
    /// States that occur, in a fixed order, as in [`Profile::states`].
    pub states: Vec<String>,
    /// One row a quarter hour from the clock's first minute, for each state the mean number of people in it.
    pub quarters: Vec<Vec<f64>>,
    /// Mean person-minutes in each state over the whole run.
    pub minutes: Vec<f64>,
    /// What held people up here, mean person-minutes a meal, most first.
    pub held_up: Vec<HeldUp>,
    /// For each member of the crew, in crew-list order, the share of each quarter hour spent here.
    pub people: Vec<Vec<f64>>,
}

/// Who was held up by what.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct HeldUp {
    /// Person or machine.
    pub who: String,
    /// The place that lacked room (or, for a machine, the full clean end).
    pub by: String,
    /// Mean minutes a meal.
    pub minutes: f64,
}

/// One resource of a meal.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Resource {
    /// Stable id: `labour_h`, `water_l`, `heat_kwh`, `power_kwh`, `detergent_kg`.
    pub id: String,
    /// Plain name.
    pub label: String,
    /// Unit of `amount`.
    pub unit: String,
    /// Amount a meal.
    pub amount: Measure,
    /// Cost a meal in the user's currency, when a price is given.
    pub cost: Option<Measure>,
    /// Amount a cover, mean.
    pub per_cover: Option<f64>,
}

/// What was simulated.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Source {
    /// Version of the program.
    pub version: String,
    /// Where the scenario came from (a path as given, or `embedded`).
    pub scenario: String,
    /// SHA-256 of the scenario text.
    pub hash: String,
}
