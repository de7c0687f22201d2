//! Ware and racks, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::two_passes::TwoPassesFile;

/// A class of ware.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WareFile {
    /// Its name.
    #[schemars(length(min = 1, max = 40))]
    pub(crate) name: String,
    /// Racks that take it, best first.
    #[serde(default)]
    #[schemars(length(max = 16))]
    pub(crate) fits: Vec<FitFile>,
    /// Pieces owned, all at the servery at the start. Without it stock is not followed.
    #[schemars(range(min = 1, max = 1_000_000))]
    pub(crate) par: Option<u32>,
    /// What a cover does that finds too few; it goes without if unsaid.
    pub(crate) short: Option<ShortFile>,
    /// Hours in which covers get something disposable instead, whatever there is.
    pub(crate) disposable: Option<DisposableFile>,
    /// What it is made of; sets the drying time where none is given.
    pub(crate) material: Option<Material>,
    /// Air-drying time at the clean end.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) dry_min: Option<f64>,
    /// Work to unload one piece.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) unload_s: Option<f64>,
    /// Work to unload one rack besides the pieces; in all, when it stays in its rack.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) unload_rack_s: Option<f64>,
    /// Name of the clean end it goes to, where that is not the machine's own: a place where it is polished.
    pub(crate) clean_end: Option<String>,
    /// `true`: goes out to the servery in its rack, which is back only when emptied there.
    #[serde(default)]
    pub(crate) stays_in_rack: bool,
    /// It goes through the machine twice and is sorted between the passes.
    pub(crate) two_passes: Option<TwoPassesFile>,
    /// Share of the pieces that come out of the machine still soiled, found at the clean end and washed again.
    #[schemars(range(min = 0, max = 0.5))]
    pub(crate) rewash_share: Option<f64>,
    /// Name of the racking table on whose pile they are put; needed where several have a pile of this class.
    pub(crate) rewash_at: Option<String>,
    /// Share of the pieces found broken at the clean end each time they are washed; the stock loses them.
    #[schemars(range(min = 0, max = 0.2))]
    pub(crate) breakage_share: Option<f64>,
    /// Waste that comes back on each piece, besides that of the tray (`diners.waste_kg`, which is then none if unsaid).
    #[schemars(range(min = 0, max = 10))]
    pub(crate) waste_kg: Option<f64>,
    /// Weight of one piece, for the heaviest full rack.
    #[schemars(range(min = 0, max = 50))]
    pub(crate) weight_kg: Option<f64>,
}

/// What a cover does that finds too few pieces.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum ShortFile {
    /// Goes without.
    Without,
    /// Takes this other class of ware instead, as far as there is any.
    Takes(String),
    /// Gets something disposable.
    Disposable {
        /// Price of one piece, in the heading's currency.
        #[schemars(range(min = 0, max = 10_000))]
        price: Option<f64>,
    },
    /// Waits for it, and then goes without.
    Waits {
        /// Longest wait.
        #[schemars(range(max = 240), extend("exclusiveMinimum" = 0))]
        at_most_min: f64,
    },
}

/// Something disposable given out instead of a class of ware by the clock.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DisposableFile {
    /// When.
    #[schemars(length(min = 1, max = 16))]
    pub(crate) hours: Vec<HoursFile>,
    /// Price of one piece, in the heading's currency.
    #[schemars(range(min = 0, max = 10_000))]
    pub(crate) price: Option<f64>,
}

/// Hours of the clock.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct HoursFile {
    /// Clock time from which.
    pub(crate) from: String,
    /// Clock time until which; not later than `from`: the next day.
    pub(crate) to: String,
}

/// A rack kind that takes a class.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct FitFile {
    /// Name of the rack kind.
    pub(crate) rack: String,
    /// Pieces a rack.
    #[schemars(range(min = 1, max = 1000))]
    pub(crate) pieces: u16,
}

/// What ware is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Material {
    /// China.
    China,
    /// Glass.
    Glass,
    /// Plastic.
    Plastic,
    /// Trays.
    Tray,
    /// Metal; counts as china.
    Metal,
}

/// A kind of rack.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct RackFile {
    /// Its name.
    #[schemars(length(min = 1, max = 40))]
    pub(crate) name: String,
    /// How many there are.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) count: u32,
    /// Weight when empty, for the heaviest full rack.
    #[schemars(range(min = 0, max = 50))]
    pub(crate) weight_kg: Option<f64>,
}
