//! Racking tables, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::dist::Varies;
use super::gate::OrderFile;

/// A table where racks stand open.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RackingFile {
    /// Name of the lane full racks go to, or `leave`: off the line.
    pub(crate) to: String,
    /// Racks that can stand open at once on the table itself.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) open_racks: u32,
    /// Levels above the table, where racks of some classes stand open.
    #[serde(default)]
    #[schemars(length(max = 3))]
    pub(crate) level: Vec<LevelFile>,
    /// A part-filled rack is sent when its first piece has waited so long.
    #[schemars(range(max = 1440), extend("exclusiveMinimum" = 0))]
    pub(crate) part_rack_limit_min: Option<f64>,
    /// `true`: a part-filled rack waits until it is full or nothing more can come.
    #[serde(default)]
    pub(crate) part_racks_wait: bool,
    /// Workers who can stand here to rack from piles; 1 if unsaid and there is a pile.
    #[schemars(range(min = 0, max = 200))]
    pub(crate) places: Option<u32>,
    /// Most pieces in one grab.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) grab: Option<u32>,
    /// How a grab's work varies about its mean.
    pub(crate) varies: Option<Varies>,
    /// Which pile is taken from first; the one fullest for its room if unsaid.
    pub(crate) order: Option<OrderFile>,
    /// Piles of ware to be racked as work of its own; their order settles ties.
    #[serde(default)]
    #[schemars(length(max = 16))]
    pub(crate) pile: Vec<PileFile>,
}

/// A level above a racking table.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LevelFile {
    /// What it is called.
    #[schemars(length(min = 1, max = 60))]
    pub(crate) name: String,
    /// Names of the classes whose racks stand here; all others stand on the table itself.
    #[schemars(length(min = 1, max = 32))]
    pub(crate) ware: Vec<String>,
    /// Racks that can stand open on it at once.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) open_racks: u32,
    /// Name of the lane its full racks go to, or `leave`: off the line; as the table's own if unsaid.
    pub(crate) to: Option<String>,
    /// What the longer reach adds to the work on each piece that goes into a rack up there.
    #[schemars(range(min = 0, max = 60))]
    pub(crate) reach_s: Option<f64>,
}

/// A pile of one class.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PileFile {
    /// Name of its class of ware.
    pub(crate) ware: String,
    /// Room for so many pieces; 0: from hand to hand, when somebody stands ready. Without it as many as come.
    #[schemars(range(min = 0, max = 1_000_000))]
    pub(crate) room_pieces: Option<u32>,
    /// Work to rack one piece.
    #[schemars(range(min = 0, max = 100_000))]
    pub(crate) piece_s: Option<f64>,
    /// Soak sink: a piece may be racked when it has lain here so long.
    #[schemars(range(max = 240), extend("exclusiveMinimum" = 0))]
    pub(crate) soak_min: Option<f64>,
    /// Time on a conveyor to the pile, before it lies there; none if unsaid.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) carried_s: Option<f64>,
    /// Held back until one of these holds.
    #[serde(default)]
    #[schemars(length(max = 3))]
    pub(crate) held_back: Vec<HeldBackFile>,
}

/// When ware that is held back may be washed.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum HeldBackFile {
    /// From this clock time on.
    Until(String),
    /// While the lane holds fewer than so many racks.
    LaneBelowRacks(#[schemars(range(min = 1, max = 10_000))] u32),
    /// The same, but not before a clock time.
    LaneBelow(LaneBelowFile),
    /// When the rush is over and the table's other piles that are not held back are empty.
    RushOver,
}

/// How empty a lane must be, from when on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LaneBelowFile {
    /// While the lane holds fewer than so many racks.
    #[schemars(range(min = 1, max = 10_000))]
    pub(crate) racks: u32,
    /// Not before this clock time.
    pub(crate) from: String,
}
