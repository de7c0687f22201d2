//! Title, prices and targets, as written.

use schemars::JsonSchema;
use serde::Deserialize;

/// Title, note, units and currency.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct HeadingFile {
    /// Title of the scenario.
    #[schemars(length(min = 1, max = 200))]
    pub(crate) name: String,
    /// Standing of the figures: invented, measured, from where.
    #[schemars(length(max = 2000))]
    pub(crate) note: Option<String>,
    /// Units in which reports show lengths, water and temperatures.
    pub(crate) units: Option<UnitsFile>,
    /// The currency's sign or letters.
    #[schemars(length(min = 1, max = 10))]
    pub(crate) currency: Option<String>,
    /// Days open in a year, for yearly figures.
    #[schemars(range(min = 0, max = 366))]
    pub(crate) days_a_year: Option<f64>,
    /// Room for people waiting at the drop-offs.
    #[schemars(range(min = 0, max = 10000))]
    pub(crate) queue_room_people: Option<u32>,
}

/// Units of reports.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum UnitsFile {
    /// Metres, litres, degrees Celsius, kilograms.
    Metric,
    /// Feet, US gallons, degrees Fahrenheit, pounds.
    Us,
}

/// Prices, in the heading's currency.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct MoneyFile {
    /// An hour of work, on-costs included.
    #[schemars(range(min = 0, max = 100000))]
    pub(crate) wage_per_h: Option<f64>,
    /// A cubic metre of water, waste water included.
    #[schemars(range(min = 0, max = 100000))]
    pub(crate) water_per_m3: Option<f64>,
    /// A kWh of electricity.
    #[schemars(range(min = 0, max = 100000))]
    pub(crate) power_per_kwh: Option<f64>,
    /// A kWh of heat for water heated away from the machine.
    #[schemars(range(min = 0, max = 100000))]
    pub(crate) heat_per_kwh: Option<f64>,
    /// A kilogram of detergent.
    #[schemars(range(min = 0, max = 100000))]
    pub(crate) detergent_per_kg: Option<f64>,
    /// What must be paid once to have this arrangement; nothing if unsaid.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) investment: Option<f64>,
    /// Upkeep of what is bought, each year; nothing if unsaid.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) upkeep_per_year: Option<f64>,
}

/// A measure that must keep a bound.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct TargetFile {
    /// The target as you would say it. Without it the words are made from the rest.
    #[schemars(length(min = 1, max = 300))]
    pub(crate) words: Option<String>,
    /// Id of the measure, for example `drop_off.main.wait_p95_s`; its last part names the unit of the bound.
    #[schemars(length(min = 3, max = 120))]
    pub(crate) measure: String,
    /// The measure is at most this.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) at_most: Option<f64>,
    /// The measure is at least this.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) at_least: Option<f64>,
    /// For a measure that is a clock time: not later than this.
    pub(crate) at_latest: Option<String>,
    /// In how many meals of 100 it must hold.
    #[schemars(range(min = 1, max = 100))]
    pub(crate) in_meals_of_100: Option<f64>,
    /// `true`: the mean over the meals must keep the bound, not so many meals of 100.
    #[serde(default)]
    pub(crate) on_average: bool,
}
