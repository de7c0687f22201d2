//! Gates and order at the load end, as written.

use schemars::JsonSchema;
use serde::Deserialize;

/// A gate at the load end. Up: the racks on its lane are held, and ware is loaded by hand at its table. Down: racks run in.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct GateFile {
    /// Name of the lane whose racks it holds.
    pub(crate) lane: String,
    /// Name of the racking table, or of the load end of a flight machine, where ware is loaded by hand from its piles.
    pub(crate) by_hand_at: String,
    /// When it is up.
    pub(crate) rule: GateRuleFile,
}

/// When a gate is up; once nothing soiled comes any more a side with nothing waiting gives way.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum GateRuleFile {
    /// By the racks that stand on the lane.
    Racks {
        /// Goes down, and lets them run in, when there are so many.
        #[schemars(range(min = 1, max = 10_000))]
        down_at: u32,
        /// Goes up again when there are so few.
        #[schemars(range(min = 0, max = 10_000))]
        up_at: u32,
    },
    /// Up from each of these times until the other; down otherwise.
    Clock(#[schemars(length(min = 1, max = 50))] Vec<UpFile>),
    /// The side that is fuller for its room has the way.
    FullerSide,
    /// Up while somebody has ware of the table in hand.
    ByHand,
}

/// When a gate is up by the clock.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct UpFile {
    /// Goes up.
    pub(crate) from: String,
    /// Goes down.
    pub(crate) to: String,
}

/// Which of several classes goes first.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum OrderFile {
    /// What has waited longest.
    FirstCome,
    /// The class of whose owned pieces the smallest share is at the servery.
    ShortestStock,
    /// Classes of ware by name, the first first; those not named come last.
    Fixed(#[schemars(length(min = 1, max = 16))] Vec<String>),
}
