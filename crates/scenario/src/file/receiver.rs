//! Receivers, and what diners do at a drop-off, as written.

use schemars::JsonSchema;
use serde::Deserialize;

/// Something that takes ware until it is full: a cutlery chute, a glass rack, a stack or cart of trays. Diners fill it at a
/// drop-off (`diners_do`), or a scrapping post does (`sends`).
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ReceiverFile {
    /// Pieces it holds. Without it as many as come, or as many as the rack it is takes.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) room_pieces: Option<u32>,
    /// Where what was in it goes.
    pub(crate) to: ReceiverToFile,
    /// How it is changed or emptied. Without it ware goes on by itself as there is room, as down a chute.
    pub(crate) changed: Option<ChangedFile>,
}

/// Where what was in a receiver goes.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum ReceiverToFile {
    /// On the class's pile at this racking table (a soak sink, a dolly).
    Pile(String),
    /// Into open racks of this racking table.
    Racks(String),
    /// It is a rack itself, out of the pool of its kind, and goes on this lane as it is.
    Lane(String),
    /// Off the line.
    Leave,
}

/// Changing or emptying something that is full, by somebody of the crew.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ChangedFile {
    /// Posts whose workers do it (those with one of these on their list).
    #[schemars(length(min = 1, max = 60))]
    pub(crate) by: Vec<String>,
    /// Work each time.
    #[schemars(range(min = 0, max = 7200))]
    pub(crate) work_s: f64,
    /// At so many pieces somebody is called; when it is full if unsaid.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) at_pieces: Option<u32>,
    /// May wait until such a worker has nothing else to do, but at most so long. Without it it comes first.
    #[schemars(range(min = 0, max = 1440))]
    pub(crate) may_wait_min: Option<f64>,
}

/// What a diner does at a drop-off before putting the tray down.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DinersDoFile {
    /// Classes of ware put into a receiver.
    #[serde(default)]
    #[schemars(length(max = 16))]
    pub(crate) puts: Vec<String>,
    /// Kind of waste thrown into a bin or disposer, instead of `puts`.
    pub(crate) throws: Option<String>,
    /// Name of the receiver, bin or disposer.
    pub(crate) into: String,
    /// `true`: the tray itself stays there too, so there is none to handle at the table.
    #[serde(default)]
    pub(crate) takes_tray: bool,
    /// More time for a diner who puts anything there.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) adds_s: Option<f64>,
    /// More time for each piece; none if unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) adds_each_s: Option<f64>,
    /// Work less on that tray at the table, besides that on the pieces that are no longer on it; none if unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) saves_s: Option<f64>,
    /// When it is full; `leave_on_tray` if unsaid.
    pub(crate) when_full: Option<WhenFullFile>,
}

/// What a diner does when a receiver is full.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum WhenFullFile {
    /// Leaves the rest on the tray, to be done at the table.
    LeaveOnTray,
    /// Waits at the position until it is changed.
    Wait,
}
