//! Clean ends and the way to the servery, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::dist::Varies;

/// Where racks come out, dry and are unloaded.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CleanEndFile {
    /// Racks it holds. Without it as many as come.
    #[schemars(range(min = 1, max = 10_000))]
    pub(crate) places_racks: Option<u32>,
    /// Loose pieces from a flight machine that it holds; when they find no room the machine's belt stands. Without it as
    /// many as come. Whoever steps in here at a number of jobs counts pieces.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) places_pieces: Option<u32>,
    /// Unloaded by workers; `false`: a rack is empty the moment it is dry. `true` if unsaid.
    pub(crate) by_hand: Option<bool>,
    /// Workers who can stand here; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) workers: Option<u32>,
    /// How the unloading of a rack varies about its mean.
    pub(crate) varies: Option<Varies>,
    /// How empty racks go back to the racking tables.
    pub(crate) back: Option<Back>,
}

/// How empty racks go back.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum Back {
    /// At the moment a rack is empty.
    AtOnce,
    /// Each by itself.
    Each {
        /// After so long.
        #[schemars(range(min = 0, max = 36_000))]
        after_s: f64,
    },
    /// By hand, when so many have gathered or nothing more is to come.
    Trips {
        /// Racks a trip.
        #[schemars(range(min = 1, max = 1000))]
        of_racks: u32,
        /// How long a trip takes.
        #[schemars(range(min = 0, max = 36_000))]
        lasts_s: f64,
    },
}

/// Carts of clean ware and the runner who takes them to the servery.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DeliveryFile {
    /// Its name; `carts` if unsaid.
    #[schemars(length(min = 1, max = 40))]
    pub(crate) name: Option<String>,
    /// Carts, the one being loaded included; 2 if unsaid.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) carts: Option<u32>,
    /// Pieces a cart holds.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) cart_pieces: u32,
    /// There and back; the ware is at the servery half way.
    #[schemars(range(min = 0, max = 36_000))]
    pub(crate) trip_s: f64,
    /// How a trip varies about its mean.
    pub(crate) varies: Option<Varies>,
    /// By class of ware: goes, full or not, when fewer pieces than this are at the servery and the cart has some.
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "integer", "minimum": 0, "maximum": 1_000_000 }))]
    pub(crate) goes_below: BTreeMap<String, u32>,
}
