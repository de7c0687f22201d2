//! Ware that goes through the machine twice, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::ware::FitFile;

/// Two passes with sorting between: only after the second is it clean.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct TwoPassesFile {
    /// Name of the racking table on whose pile of this ware it is tipped out after the first pass, and whose post sorts it.
    /// Nothing is sent to that pile when a tray is broken down.
    pub(crate) sorted_at: String,
    /// Racks it is sorted into for the second pass, best first. The same as for the first if unsaid.
    #[serde(default)]
    #[schemars(length(max = 16))]
    pub(crate) fits: Vec<FitFile>,
    /// Work to take one rack of the first pass off the clean end and tip it out; it is not dried first.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) take_off_s: Option<f64>,
}
