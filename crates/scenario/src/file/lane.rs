//! Lanes for filled racks, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::drop_off::{ClockedSpeed, StopFile};
use super::gate::OrderFile;

/// A way that carries filled racks to a machine, or to another lane, and holds them.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LaneFile {
    /// Name of the machine it feeds; or of the lane it hands its racks to, one by one as there is room at its head (where a
    /// machine and a lane have that name, the machine).
    pub(crate) to: String,
    /// Names of more machines at its end; whichever is free takes the next rack, the first by name first.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub(crate) also_to: Vec<String>,
    /// Which class is taken first from a shelf; as they came if unsaid.
    pub(crate) order: Option<OrderFile>,
    /// What carries the racks.
    pub(crate) way: WayFile,
    /// Stops by the clock.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
}

/// An inclined lane without a drive.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct InclineFile {
    /// Length.
    #[schemars(range(min = 0.1, max = 50))]
    pub(crate) length_m: f64,
    /// Length of a rack.
    #[schemars(range(min = 0.05, max = 5))]
    pub(crate) rack_m: Option<f64>,
    /// Height lost from its head to its end.
    #[schemars(range(min = 0.001, max = 20))]
    pub(crate) fall_m: f64,
    /// Rolling resistance, as a share of the weight across the rollers: the fall for each length at which a rack just stands.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) rolling_resistance: Option<f64>,
    /// Fastest that brakes, or bends, let a rack run.
    #[schemars(range(min = 0.1, max = 200))]
    pub(crate) top_speed_m_per_min: Option<f64>,
}

/// What carries racks to a machine.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum WayFile {
    /// Powered rollers, or inclined ones whose speed is known; racks close up at the end.
    Rollers {
        /// Length.
        #[schemars(range(min = 0.1, max = 200))]
        length_m: f64,
        /// Length of a rack.
        #[schemars(range(min = 0.05, max = 5))]
        rack_m: Option<f64>,
        /// Speed.
        #[schemars(range(min = 0.01, max = 200))]
        speed_m_per_min: Option<f64>,
        /// Other speeds from given clock times on.
        #[serde(default)]
        #[schemars(length(max = 100))]
        speed_by_clock: Vec<ClockedSpeed>,
    },
    /// Inclined rollers without a drive: racks run down by their weight, from rest, and close up at the end.
    Incline(InclineFile),
    /// A shelf or table of so many racks; they are there at once.
    Shelf {
        /// Racks it holds; 0: none waits, a rack goes straight into the machine when it can take one.
        #[schemars(range(min = 0, max = 100_000))]
        racks: u32,
    },
    /// Room for as many racks as come.
    Unlimited,
}
