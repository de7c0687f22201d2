//! Belts: for soiled trays, beside one another, and for ware in stacks, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::drop_off::{ClockedSpeed, StopFile};

/// A belt for soiled trays.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BeltFile {
    /// Length, curves not counted.
    #[schemars(range(min = 0.1, max = 1000))]
    pub(crate) length_m: f64,
    /// Curves on its way; the arc of each makes it longer.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) curves: Vec<CurveFile>,
    /// Length of the return run, which carries nothing: `check` tells how long a piece of the belt takes once round.
    #[schemars(range(min = 0.1, max = 2000))]
    pub(crate) return_run_m: Option<f64>,
    /// Least distance from one tray to the next.
    #[schemars(range(min = 0.05, max = 10))]
    pub(crate) spacing_m: Option<f64>,
    /// Speed.
    #[schemars(range(min = 0.01, max = 200))]
    pub(crate) speed_m_per_min: Option<f64>,
    /// Other speeds from given clock times on.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) speed_by_clock: Vec<ClockedSpeed>,
    /// What happens when a tray comes to the end.
    pub(crate) ends: EndsFile,
    /// It runs beside another belt, within reach of the same drop-off positions, and takes some of the trays.
    pub(crate) beside: Option<BesideFile>,
    /// Stops by the clock.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
}

/// A curve: the arc along its middle is angle times radius.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CurveFile {
    /// How far it turns; 90 if unsaid.
    #[schemars(range(min = 1, max = 360))]
    pub(crate) angle_deg: Option<f64>,
    /// Radius along its middle.
    #[schemars(range(min = 0.05, max = 20))]
    pub(crate) radius_m: f64,
}

/// The belt it runs beside, and which trays it takes.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BesideFile {
    /// Name of the belt that the drop-offs lead to.
    pub(crate) belt: String,
    /// Which trays go on this one; all others stay on the other.
    pub(crate) takes: BesideTakesFile,
}

/// Which trays go on the belt beside.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum BesideTakesFile {
    /// Those of these kinds of diner: a size of tray.
    Kinds(#[schemars(length(min = 1, max = 60))] Vec<String>),
    /// Those with a piece of one of these classes of ware on them.
    Ware(#[schemars(length(min = 1, max = 16))] Vec<String>),
    /// Those that find no gap on the other.
    NoGap,
}

/// What a belt does when a tray or stack comes to its end.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum EndsFile {
    /// A limit switch: while something lies at the end the whole belt stands, gaps stay.
    StopsOnArrival,
    /// What comes queues against the end while the belt runs on under it.
    ClosesUp,
    /// The worker's own switch: moves one section when its end is empty, something lies on it and a worker at the end is
    /// free. The limit switch halts it when something reaches the end.
    AdvancesOnDemand {
        /// Length of a section.
        #[schemars(range(min = 0.05, max = 100))]
        section_m: f64,
    },
}

/// A belt that carries ware in stacks to the piles at its end.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct StacksFile {
    /// Name of the racking table, or load end of a flight machine, at its end. It has a pile of each class carried; where
    /// that has `room_pieces = 0` stacks are worked off the belt itself.
    pub(crate) to: String,
    /// Pieces in a full stack, by class of ware.
    #[schemars(extend(
        "minProperties" = 1,
        "additionalProperties" = { "type": "integer", "minimum": 1, "maximum": 1000 }
    ))]
    pub(crate) pieces: BTreeMap<String, u16>,
    /// Length, curves not counted.
    #[schemars(range(min = 0.1, max = 1000))]
    pub(crate) length_m: f64,
    /// Curves on its way; the arc of each makes it longer.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) curves: Vec<CurveFile>,
    /// Length of the return run, which carries nothing.
    #[schemars(range(min = 0.1, max = 2000))]
    pub(crate) return_run_m: Option<f64>,
    /// Least distance from one stack to the next.
    #[schemars(range(min = 0.05, max = 10))]
    pub(crate) spacing_m: f64,
    /// Speed.
    #[schemars(range(min = 0.01, max = 200))]
    pub(crate) speed_m_per_min: f64,
    /// Other speeds from given clock times on.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) speed_by_clock: Vec<ClockedSpeed>,
    /// What happens when a stack comes to the end.
    pub(crate) ends: EndsFile,
    /// Stops by the clock.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
}
