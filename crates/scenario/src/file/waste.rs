//! Waste: its kinds, disposers and bins, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::receiver::ChangedFile;

/// A kind of waste on the trays.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WasteKindFile {
    /// Its share of the weight; those of all kinds sum to 1.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) share: f64,
}

/// A disposer or pulper, with the trough before it.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DisposerFile {
    /// What it takes, in kilograms a minute.
    #[schemars(range(min = 0.01, max = 1000))]
    pub(crate) rate_kg_per_min: f64,
    /// What it and the trough before it hold; when they are full, breaking down is held up. Without it as much as comes.
    #[schemars(range(min = 0.1, max = 10_000))]
    pub(crate) holds_kg: Option<f64>,
    /// When it runs; `on_demand` if unsaid.
    pub(crate) runs: Option<DisposerRunsFile>,
    /// Water while it runs, that of the trough included; none if unsaid.
    #[schemars(range(min = 0, max = 1000))]
    pub(crate) water_l_per_min: Option<f64>,
    /// Electric power while it runs, in kW; none if unsaid.
    #[schemars(range(min = 0, max = 100))]
    pub(crate) running_kw: Option<f64>,
}

/// When a disposer runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum DisposerRunsFile {
    /// While there is waste in it.
    OnDemand,
    /// From the start of the run until the last tray is broken down.
    Throughout,
}

/// Bins side by side, filled one after the other.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BinFile {
    /// What one holds.
    #[schemars(range(min = 0.5, max = 10_000))]
    pub(crate) holds_kg: f64,
    /// How many there are; 1 if unsaid.
    #[schemars(range(min = 1, max = 100))]
    pub(crate) count: Option<u32>,
    /// How a full one is emptied.
    pub(crate) emptied: EmptiedFile,
}

/// Emptying a full bin, by somebody of the crew.
pub(crate) type EmptiedFile = ChangedFile;
