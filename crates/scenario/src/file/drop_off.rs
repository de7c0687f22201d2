//! Drop-offs, belts and tables, as written.

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

/// A belt for soiled trays.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BeltFile {
    /// Length.
    #[schemars(range(min = 0.1, max = 1000))]
    pub(crate) length_m: f64,
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
    /// Stops by the clock.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) stops: Vec<StopFile>,
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

/// What a belt does when a tray comes to its end.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum EndsFile {
    /// A limit switch: while a tray lies at the end the whole belt stands, gaps stay.
    StopsOnArrival,
    /// Trays queue against the end while the belt runs on under them.
    ClosesUp,
    /// Moves one section when its end is empty, something lies on it and a worker at the end is free.
    AdvancesOnDemand {
        /// Length of a section.
        #[schemars(range(min = 0.05, max = 100))]
        section_m: f64,
    },
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
