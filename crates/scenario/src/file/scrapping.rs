//! Scrapping posts, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

/// A post where trays are broken down, one worker a tray at a time; whole, or a part of each in series.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ScrappingFile {
    /// Names of the belts, tray accumulators and tables it takes trays from, asked in this order.
    #[schemars(length(min = 1, max = 16))]
    pub(crate) takes_from: Vec<String>,
    /// Takes from its belts at this point along them, not at the end; where it stands along an accumulator's loop,
    /// from its mark. Without it at the end of the belt, half-way round the loop.
    #[schemars(range(min = 0, max = 1000))]
    pub(crate) takes_at_m: Option<f64>,
    /// How far upstream of that point a standing tray can be reached; at an accumulator, how far a carrier can be
    /// reached on each side.
    #[schemars(range(min = 0, max = 10))]
    pub(crate) reach_m: Option<f64>,
    /// Names of the drop-offs whose overflow and late carts it fetches when nothing else waits. Without it those
    /// whose trays it takes.
    #[schemars(length(max = 16))]
    pub(crate) fetches_overflow_of: Option<Vec<String>>,
    /// Workers who can stand here; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) places: Option<u32>,
    /// Work for each tray, whatever is on it.
    #[schemars(range(min = 0, max = 100_000))]
    pub(crate) handling_s: Option<f64>,
    /// Work for each piece, by class of ware (racking included where it is done with breakdown).
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "number", "minimum": 0, "maximum": 100_000 }))]
    pub(crate) piece_s: BTreeMap<String, f64>,
    /// Breaking down in series: classes of ware taken off here; the rest stays on the tray, which goes on over
    /// `passes_on_to`. None if unsaid: then the tray is only handled here.
    #[schemars(length(max = 16))]
    pub(crate) takes_off: Option<Vec<String>>,
    /// Breaking down in series: name of the table over which the tray goes on to the next post.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) passes_on_to: Option<String>,
    /// Name of the disposer or bin each kind of waste is thrown into; a kind left out goes somewhere that is never full.
    #[serde(default)]
    pub(crate) waste_to: BTreeMap<String, String>,
    /// More work for a tray fetched from the overflow.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) fetch_s: Option<f64>,
    /// Where the pieces of each class go. A class left out goes on its pile if there is one, else into racks of the
    /// only racking table, else off the line.
    #[serde(default)]
    pub(crate) sends: BTreeMap<String, SendsFile>,
}

/// Where pieces go after scrapping.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum SendsFile {
    /// Straight into open racks of this racking table.
    Racks(String),
    /// On the class's pile at this racking table.
    Pile(String),
    /// Into this receiver: a cart that fills.
    Receiver(String),
    /// In stacks on this belt.
    Stacks(String),
    /// Off the line.
    Leave,
}
