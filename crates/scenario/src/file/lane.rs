//! Lanes for filled racks, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::drop_off::{ClockedSpeed, StopFile};

/// A way that carries filled racks to a machine and holds them.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LaneFile {
    /// Name of the machine it feeds.
    pub(crate) to: String,
    /// Names of more machines at its end; whichever is free takes the next rack, the first by name first.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub(crate) also_to: Vec<String>,
    /// What carries the racks.
    pub(crate) way: WayFile,
    /// Stops by the clock.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
}

/// What carries racks to a machine.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum WayFile {
    /// Powered or inclined rollers; racks close up at the end.
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
    /// A shelf or table of so many racks; they are there at once.
    Shelf {
        /// Racks it holds; 0: none waits, a rack goes straight into the machine when it can take one.
        #[schemars(range(min = 0, max = 100_000))]
        racks: u32,
    },
    /// Room for as many racks as come.
    Unlimited,
}
