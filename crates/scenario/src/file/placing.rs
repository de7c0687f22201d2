//! Load ends of flight machines, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::dist::Varies;
use super::gate::OrderFile;
use super::racking::PileFile;

/// The load end of a flight machine: ware waits on piles and is placed loose on the machine's belt.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PlacingFile {
    /// Name of the flight machine.
    pub(crate) machine: String,
    /// Workers who can stand here; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) places: Option<u32>,
    /// Most pieces a worker places in one go.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) grab: Option<u32>,
    /// How the work varies about its mean.
    pub(crate) varies: Option<Varies>,
    /// Which pile is taken from first; the one fullest for its room if unsaid.
    pub(crate) order: Option<OrderFile>,
    /// Piles of ware; their order settles ties. `piece_s` is the work to place one piece.
    #[schemars(length(min = 1, max = 16))]
    pub(crate) pile: Vec<PileFile>,
}
