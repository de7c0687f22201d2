//! Aids at breakdown and at the load end, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

/// An aid at a post: a spray, a pre-rinse, a remover. It changes the seconds of the work there, and draws water and power
/// while it runs.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AidFile {
    /// Where it is: `scrapping.NAME` or `loading.NAME`.
    pub(crate) at: String,
    /// What it is.
    pub(crate) does: AidDoesFile,
    /// More work for each tray, or each rack that is loaded; none if unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) adds_s: Option<f64>,
    /// Less work for each tray or rack; none if unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) saves_s: Option<f64>,
    /// More work for each piece, by class of ware; at a scrapping post only.
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "number", "minimum": 0, "maximum": 600 }))]
    pub(crate) adds_each_s: BTreeMap<String, f64>,
    /// Less work for each piece, by class of ware; at a scrapping post only.
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "number", "minimum": 0, "maximum": 600 }))]
    pub(crate) saves_each_s: BTreeMap<String, f64>,
    /// How long it runs for each tray or rack. A hand spray that does not say runs for the work it adds.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) runs_s: Option<f64>,
    /// Water while it runs; a hand spray's has a default, for anything else none.
    #[schemars(range(min = 0, max = 1000))]
    pub(crate) water_l_per_min: Option<f64>,
    /// Electric power while it runs, in kW; none if unsaid.
    #[schemars(range(min = 0, max = 100))]
    pub(crate) running_kw: Option<f64>,
}

/// What an aid is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum AidDoesFile {
    /// A pre-rinse spray in the hand.
    HandSpray,
    /// A pre-rinse that works while nobody holds it.
    HandsFreePreRinse,
    /// A magnet or screen that takes cutlery out of the waste.
    CutleryRemover,
    /// Anything else that changes the work.
    Other,
}
