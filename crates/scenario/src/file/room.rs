//! The room and what stands in it, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::SideOfRoom;

/// The room.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RoomFile {
    /// Length of the room along the line.
    #[schemars(range(max = 500), extend("exclusiveMinimum" = 0))]
    pub(crate) length_m: f64,
    /// Width of the room across it.
    #[schemars(range(max = 500), extend("exclusiveMinimum" = 0))]
    pub(crate) width_m: f64,
    /// Metres of queue for each person waiting.
    #[schemars(range(max = 10), extend("exclusiveMinimum" = 0))]
    pub(crate) person_m: Option<f64>,
    /// Room for the queue at the drop-offs, along its way.
    #[schemars(range(max = 500), extend("exclusiveMinimum" = 0))]
    pub(crate) queue_m: Option<f64>,
    /// What stands where. What is not listed is set in a row along the wall, in the order of the line.
    #[serde(default)]
    #[schemars(length(max = 120))]
    pub(crate) stands: Vec<StandsFile>,
    /// Parking of carts and dollies.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) parking: Vec<ParkingFile>,
    /// Ways of people and carts besides those along the line.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) ways: Vec<WalkwayFile>,
}

/// Where something stands.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct StandsFile {
    /// The element, for example `belt.return`; or `servery`.
    pub(crate) what: String,
    /// Where it begins along the room; behind the one listed before it if unsaid.
    #[schemars(range(min = 0, max = 500))]
    pub(crate) along_m: Option<f64>,
    /// How far from the wall it begins; 0 if unsaid.
    #[schemars(range(min = 0, max = 500))]
    pub(crate) across_m: Option<f64>,
    /// Length along the room; that of the element if unsaid and known.
    #[schemars(range(max = 500), extend("exclusiveMinimum" = 0))]
    pub(crate) length_m: Option<f64>,
    /// Width across the room.
    #[schemars(range(max = 500), extend("exclusiveMinimum" = 0))]
    pub(crate) width_m: Option<f64>,
}

/// Parking of carts or dollies, side by side along the room.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ParkingFile {
    /// What is parked.
    #[schemars(length(min = 1, max = 40))]
    pub(crate) what: String,
    /// How many.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) many: u32,
    /// Length of one.
    #[schemars(range(max = 20), extend("exclusiveMinimum" = 0))]
    pub(crate) length_m: f64,
    /// Width of one.
    #[schemars(range(max = 20), extend("exclusiveMinimum" = 0))]
    pub(crate) width_m: f64,
    /// Where it begins along the room.
    #[schemars(range(min = 0, max = 500))]
    pub(crate) along_m: f64,
    /// How far from the wall it begins.
    #[schemars(range(min = 0, max = 500))]
    pub(crate) across_m: f64,
    /// Side of the room; `soiled` if unsaid.
    pub(crate) side: Option<SideOfRoom>,
}

/// A way of people and carts.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WalkwayFile {
    /// What stands at its start: an element, `servery`, or something parked.
    pub(crate) from: String,
    /// What stands at its end.
    pub(crate) to: String,
    /// Whether clean or soiled ware goes along it.
    pub(crate) carries: SideOfRoom,
}
