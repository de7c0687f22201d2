//! What is already there when the run begins, as written. Soiled trays and people are loads (see there).

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

/// Ware that is on the line, clean stock, and machines that are hot, when the run begins.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AlreadyFile {
    /// Filled and part-filled racks.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub(crate) racks: Vec<RacksThereFile>,
    /// Ware on piles, held back or not.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub(crate) piles: Vec<PileThereFile>,
    /// Stacks on belts that carry them.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub(crate) stacks: Vec<StacksThereFile>,
    /// Ware in receivers.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub(crate) receivers: Vec<ReceiverThereFile>,
    /// Waste in disposers and bins.
    #[serde(default)]
    #[schemars(length(max = 1000))]
    pub(crate) waste: Vec<WasteThereFile>,
    /// By class of ware: clean pieces on carts that wait to be taken to the servery.
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "integer", "minimum": 1, "maximum": 60_000 }))]
    pub(crate) on_clean_carts: BTreeMap<String, u16>,
    /// By name of carts: emptied ones that wait to be washed.
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "integer", "minimum": 1, "maximum": 100_000 }))]
    pub(crate) carts_to_wash: BTreeMap<String, u32>,
    /// By class of ware: pieces clean at the servery. Without it all that is nowhere else; with it the rest stays away.
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "integer", "minimum": 0, "maximum": 1_000_000 }))]
    pub(crate) clean: BTreeMap<String, u32>,
    /// Names of the machines that are hot, their tanks full.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) hot: Vec<String>,
}

/// Racks of one class that stand at one place.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RacksThereFile {
    /// Where: `racking.NAME` (open on the table), `lane.NAME`, `machine.NAME` or `clean_end.NAME`. Those named first stand
    /// nearest the end.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) at: String,
    /// Class of ware in them.
    pub(crate) ware: String,
    /// Pieces in each; full if unsaid.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) pieces: Option<u16>,
    /// How many; 1 if unsaid.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) count: Option<u32>,
}

/// Ware on a pile.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PileThereFile {
    /// Where: `racking.NAME`.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) at: String,
    /// Class of ware.
    pub(crate) ware: String,
    /// Pieces.
    #[schemars(range(min = 1, max = 60_000))]
    pub(crate) pieces: u16,
}

/// Stacks of one class on a belt.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct StacksThereFile {
    /// Name of the belt for stacks. Those named first lie nearest its end.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) belt: String,
    /// Class of ware, one that it carries.
    pub(crate) ware: String,
    /// Pieces in each; a full stack if unsaid.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) pieces: Option<u16>,
    /// How many; 1 if unsaid.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) count: Option<u32>,
}

/// Ware in a receiver.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReceiverThereFile {
    /// Name of the receiver.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) receiver: String,
    /// Class of ware, one that is put there.
    pub(crate) ware: String,
    /// Pieces.
    #[schemars(range(min = 1, max = 60_000))]
    pub(crate) pieces: u16,
}

/// Waste in a disposer or in bins.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WasteThereFile {
    /// Name of the disposer or bin; of several bins one is filled after the other.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) into: String,
    /// How much.
    #[schemars(range(min = 0.001, max = 10_000))]
    pub(crate) weight_kg: f64,
}
