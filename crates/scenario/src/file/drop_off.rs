//! Drop-offs and tables, and what belts have in common with others, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::dist::Amount;
use super::receiver::DinersDoFile;

/// Where soiled trays arrive.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DropOffFile {
    /// Name of the belt, tray accumulator or table the trays go to.
    pub(crate) to: String,
    /// Positions side by side; 1 if neither this nor `positions_m` is given. On a belt their load points lie
    /// one spacing of trays apart from its start, at an accumulator one carrier apart from the loop's mark.
    #[schemars(range(min = 1, max = 60))]
    pub(crate) positions: Option<u32>,
    /// Load point of each position, from the start of the belt or the mark of the loop.
    #[schemars(length(min = 1, max = 60), inner(range(min = 0, max = 1000)))]
    pub(crate) positions_m: Option<Vec<f64>>,
    /// Time to put a tray down.
    pub(crate) put_down_s: Option<Amount>,
    /// Clock time at which it opens; diners who come earlier wait. Without it it is open from the start.
    pub(crate) opens: Option<String>,
    /// When it closes; later trays go on the late cart. `after_last` if unsaid.
    pub(crate) closes: Option<ClosesFile>,
    /// What diners do before they put the tray down, in this order.
    #[serde(default)]
    #[schemars(length(max = 14))]
    pub(crate) diners_do: Vec<DinersDoFile>,
}

/// When a drop-off closes.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum ClosesFile {
    /// At this clock time.
    At(String),
    /// When the last diner has dropped off.
    AfterLast,
    /// Not within the run, which then needs a stated end.
    Never,
}

/// A speed from a clock time on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ClockedSpeed {
    /// Clock time from which it holds.
    pub(crate) from: String,
    /// Speed.
    #[schemars(range(min = 0.01, max = 200))]
    pub(crate) speed_m_per_min: f64,
}

/// A stop by the clock.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct StopFile {
    /// Clock time at which it stops.
    pub(crate) from: String,
    /// Clock time at which it goes on.
    pub(crate) to: String,
    /// What becomes of the work in hand; `resume` if unsaid.
    pub(crate) then: Option<ThenFile>,
}

/// What becomes of the work in hand after a stop.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ThenFile {
    /// It goes on where it stopped.
    Resume,
    /// The time inside starts anew for all inside. Machines only.
    RunAgain,
}

/// A table where soiled trays wait.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct TableFile {
    /// Trays it holds; 0: a tray goes from hand to hand, when somebody stands ready. Without it as many as come.
    #[schemars(range(min = 0, max = 100_000))]
    pub(crate) room_trays: Option<u32>,
}
