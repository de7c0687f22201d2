//! What a machine may be fitted with, as written: changes of tank water, hot water, detergent, a blow-dryer.

use schemars::JsonSchema;
use serde::Deserialize;

/// Changing the tanks' water during the meal: what is inside is finished first.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WaterChangeFile {
    /// Clock times at which it is due, in order ...
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) at: Vec<String>,
    /// ... and so many racks since the last change. Loose ware counts as the racks that would take as much of the belt.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) every_racks: Option<u32>,
    /// Draining and filling.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) drain_and_fill_min: Option<f64>,
    /// Heating the fresh water; as long as heating up when unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) heat_min: Option<f64>,
}

/// A store of hot water for the final rinse. A rack goes in when the store holds the water of its rinse.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct HotWaterFile {
    /// What the store holds.
    #[schemars(range(min = 0.1, max = 4000))]
    pub(crate) store_l: f64,
    /// Power of what heats it up again, in kW.
    #[schemars(range(max = 1000), extend("exclusiveMinimum" = 0))]
    pub(crate) heater_kw: f64,
}

/// Detergent from a reservoir, full at the start.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DetergentFile {
    /// What the reservoir holds.
    #[schemars(range(max = 1000), extend("exclusiveMinimum" = 0))]
    pub(crate) reservoir_kg: f64,
    /// It warns below this; a fifth of the reservoir when unsaid.
    #[schemars(range(min = 0, max = 1000))]
    pub(crate) warns_below_kg: Option<f64>,
}

/// A blow-dryer behind the rinse.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BlowDryerFile {
    /// Electric power while the machine runs, in kW.
    #[schemars(range(min = 0, max = 200))]
    pub(crate) kw: f64,
    /// Share of each class's drying time that is left at the clean end; 1, no shorter, when unsaid.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) drying_left_share: Option<f64>,
}

/// When the final rinse of a conveyor flows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum RinseFlows {
    /// While ware is within the rinse zone.
    UnderWare,
    /// All the time the machine runs.
    WhileRunning,
}
