//! Rules of work for the whole crew, and a head count, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::crew::{ClockedPace, PostEntry};

/// Rules of work for the whole crew.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WorkFile {
    /// Posts whose tasks take two people: they begin when both stand there.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) for_two: Vec<String>,
    /// Factors on everybody's pace by the clock.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) pace_by_clock: Vec<ClockedPace>,
    /// The rest allowance, and whether the seconds of work in this file have it in them.
    pub(crate) rest_allowance: Option<RestAllowanceFile>,
}

/// A rest allowance, by a named convention.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RestAllowanceFile {
    /// The allowance as a share, for example 0.12.
    #[schemars(range(min = 0, max = 0.9))]
    pub(crate) share: f64,
    /// Of which time it is a share.
    pub(crate) of: ShareOf,
    /// Whether the seconds in this file are standard times, which have it in them; if not, it is added.
    pub(crate) in_the_seconds: bool,
}

/// Of which time a rest allowance is a share.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum ShareOf {
    /// Of normal time: standard time is normal time x (1 + share).
    NormalTime,
    /// Of standard time: standard time is normal time / (1 - share).
    StandardTime,
}

/// A head count: comma-separated values with a column of clock times and one column a post. It is turned into people.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct HeadCountFile {
    /// Path of the table, relative to the scenario.
    #[schemars(length(min = 1, max = 400))]
    pub(crate) path: String,
    /// Lists of posts by column, where a column is no post by name: a floater, for example.
    #[serde(default)]
    pub(crate) columns: BTreeMap<String, Vec<PostEntry>>,
    /// Share of days on which each of these shifts goes unfilled.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) unfilled_share: Option<f64>,
}
