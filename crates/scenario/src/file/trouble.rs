//! Jams, failures and stop stations, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::dist::Amount;
use super::drop_off::ThenFile;

/// A jam, a failure, or a stop station: what stands, what brings it on, who clears it.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct TroubleFile {
    /// What stands while it lasts: `belt.NAME`, `stacks.NAME`, `accumulator.NAME`, `lane.NAME` or `machine.NAME`. The first is the one
    /// whose trays, racks or running time bring it on; the others stand with it.
    #[schemars(length(min = 1, max = 30))]
    pub(crate) stops: Vec<String>,
    /// What brings it on.
    pub(crate) strikes: StrikesFile,
    /// Work to clear it with the drive locked out; where nobody of the crew is named, the time until it is over.
    pub(crate) clearing_min: Amount,
    /// Posts whose workers clear it, before any other work. Without it nobody of the crew is needed: a fitter comes, or
    /// whoever pressed a stop station lets it go.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) by: Vec<String>,
    /// What becomes of the work in hand; `resume` if unsaid. Running again is for machines.
    pub(crate) then: Option<ThenFile>,
}

/// What brings trouble on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum StrikesFile {
    /// So many in 1,000 trays put down on a belt or loop, or racks put on a lane or into a machine.
    #[serde(rename = "per_1000")]
    Per1000(#[schemars(range(min = 0, max = 1000))] f64),
    /// After so long of running, and again; the clock stands whenever the thing stands. A stop station: from one press to
    /// the next.
    Running {
        /// Running time from one to the next.
        for_min: Amount,
    },
}
