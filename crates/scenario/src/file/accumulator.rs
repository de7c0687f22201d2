//! Tray accumulators, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::drop_off::{ClockedSpeed, StopFile};

/// Carriers of several tiers in a closed loop past the drop-off and the breakdown table. What is not taken goes round.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AccumulatorFile {
    /// Carriers in the loop, evenly spaced.
    #[schemars(range(min = 1, max = 500))]
    pub(crate) carriers: u32,
    /// Tiers of a carrier, one tray each. The lowest free one is filled first, the top full one emptied first.
    #[schemars(range(min = 1, max = 50))]
    pub(crate) tiers: u32,
    /// Length of the whole loop, there and back.
    #[schemars(range(min = 0.5, max = 1000))]
    pub(crate) loop_m: f64,
    /// How far along the loop, on each side of a drop-off position, a carrier is within reach.
    #[schemars(range(min = 0, max = 10))]
    pub(crate) reach_m: Option<f64>,
    /// Speed.
    #[schemars(range(min = 0.01, max = 200))]
    pub(crate) speed_m_per_min: Option<f64>,
    /// Other speeds from given clock times on.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) speed_by_clock: Vec<ClockedSpeed>,
    /// Stops by the clock. What is within reach can be put on and taken off a standing loop.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
}
