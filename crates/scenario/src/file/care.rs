//! Setting up before the first tray and cleaning after the last, as written.

use schemars::JsonSchema;
use serde::Deserialize;

/// Setting up before the first tray.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SetUpFile {
    /// The element, for example `machine.dish`.
    pub(crate) of: String,
    /// Crew minutes.
    #[schemars(range(max = 600), extend("exclusiveMinimum" = 0))]
    pub(crate) crew_min: f64,
    /// Clock time from which it can be done; the start of the run if unsaid.
    pub(crate) at: Option<String>,
    /// Posts whose workers do it.
    #[schemars(length(min = 1, max = 60))]
    pub(crate) by: Vec<String>,
}

/// Cleaning after the last tray.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CleaningFile {
    /// The element, for example `machine.dish`.
    pub(crate) of: String,
    /// Crew minutes, before what shortens them.
    #[schemars(range(max = 600), extend("exclusiveMinimum" = 0))]
    pub(crate) crew_min: Option<f64>,
    /// Posts whose workers do it, when nothing else calls them.
    #[schemars(length(min = 1, max = 60))]
    pub(crate) by: Vec<String>,
    /// In so many parts, so that as many people can share it; 1 if unsaid.
    #[schemars(range(min = 1, max = 20))]
    pub(crate) parts: Option<u32>,
    /// When it can begin: by the kind of element if unsaid.
    pub(crate) after: Option<After>,
    /// Minutes it then drains by itself before anybody can begin; 0 if unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) drain_min: Option<f64>,
    /// A return run that washes itself shortens it.
    #[serde(default)]
    pub(crate) self_cleaning_return: bool,
    /// Sections that lift out shorten it.
    #[serde(default)]
    pub(crate) lift_out_sections: bool,
    /// Parts that come off and go through the machine shorten it.
    #[serde(default)]
    pub(crate) removable_parts: bool,
    /// Side of the room where it is done; `soiled` if unsaid, `clean` for a clean end.
    pub(crate) side: Option<super::SideOfRoom>,
}

/// When cleaning can begin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum After {
    /// When the drop-offs are closed and every tray is broken down and sorted.
    Sorted,
    /// When, besides, nothing is left on piles, in open racks, in lanes or in machines.
    Washed,
    /// When all is clean.
    Clean,
}
