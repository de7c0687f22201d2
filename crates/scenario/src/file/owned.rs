//! What of the line is owned at a price, as written.

use schemars::JsonSchema;
use serde::Deserialize;

/// Something that was bought: its price is spread over its life in equal parts, without interest, and its upkeep added.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct OwnedFile {
    /// What it is: an element, for example `accumulator.return`; a kind of rack (`rack.glass`), a class of ware
    /// (`ware.plate`), carts (`carts.tubs`), an aid (`aid.spray`); or `delivery`, the carts for clean ware.
    #[schemars(length(min = 3, max = 120))]
    pub(crate) of: String,
    /// Price of all of it, in the heading's currency.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) price: Option<f64>,
    /// Price of one rack, piece of the `par`, cart or tier of an accumulator, instead of the price of all of it.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) price_each: Option<f64>,
    /// Years it lasts.
    #[schemars(range(min = 0.5, max = 100))]
    pub(crate) life_years: Option<f64>,
    /// Its upkeep each year; nothing if unsaid.
    #[schemars(range(min = 0, max = 1e9))]
    pub(crate) upkeep_per_year: Option<f64>,
}
