//! Carts, tubs and loads, as written.

use schemars::JsonSchema;
use serde::Deserialize;

use super::dist::{Amount, Varies};

/// Carts or tubs in which staff bring soiled ware.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CartsFile {
    /// How many there are.
    #[schemars(range(min = 1, max = 10_000))]
    pub(crate) count: u32,
    /// Trays, or covers' ware, that one holds.
    #[schemars(range(min = 1, max = 10_000))]
    pub(crate) holds: u32,
    /// When what has gathered is brought.
    pub(crate) goes: CartsGoFile,
    /// From where it gathers to the dish room, and back; none if unsaid.
    #[schemars(range(min = 0, max = 7200))]
    pub(crate) way_s: Option<f64>,
    /// Places in the dish room where a cart is emptied; the rest waits outside. Without it as many as come.
    #[schemars(range(min = 1, max = 10_000))]
    pub(crate) parking: Option<u32>,
    /// Washing an emptied cart. Without it carts go back as they are.
    pub(crate) wash: Option<CartWashFile>,
}

/// When what has gathered is brought.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum CartsGoFile {
    /// As soon as there is any, on as many carts as it takes.
    AtOnce,
    /// When one is full, or nothing more is to come.
    WhenFull {
        /// Also when the first of it has waited so long.
        #[schemars(range(max = 1440), extend("exclusiveMinimum" = 0))]
        longest_wait_min: Option<f64>,
    },
    /// On rounds: all that has gathered, as far as the carts of the round hold it.
    Rounds {
        /// Clock time of the first round.
        from: String,
        /// From one round to the next.
        #[schemars(range(min = 0.1, max = 1440))]
        every_min: f64,
        /// Carts a round; 1 if unsaid.
        #[schemars(range(min = 1, max = 10_000))]
        carts: Option<u32>,
    },
}

/// Washing an emptied cart, by hand.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CartWashFile {
    /// Work for one cart.
    #[schemars(range(min = 0, max = 7200))]
    pub(crate) cart_s: f64,
    /// How it varies about its mean.
    pub(crate) varies: Option<Varies>,
    /// Workers who can wash at once; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) workers: Option<u32>,
}

/// Trays or ware that come back besides what the diners bring: ward carts, kitchen pans; or that are only taken.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LoadFile {
    /// Name of the kind whose pieces each of them carries. A kind that only loads name needs no share.
    pub(crate) kind: String,
    /// When they come.
    pub(crate) when: LoadWhenFile,
    /// `true`: each counts as a cover served.
    #[serde(default)]
    pub(crate) covers: bool,
    /// Clock time at which their clean ware is taken (tray assembly, lay-up). Without it as they come.
    pub(crate) taken_at: Option<String>,
}

/// When the trays of a load come.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum LoadWhenFile {
    /// So many at each of these clock times.
    At(#[schemars(length(min = 1, max = 1000))] Vec<AtFile>),
    /// So many each time, in a row of equal intervals.
    Row {
        /// Clock time of the first.
        from: String,
        /// From one to the next.
        #[schemars(range(min = 0.1, max = 1440))]
        every_min: f64,
        /// How many times.
        #[schemars(range(min = 1, max = 1000))]
        times: u32,
        /// Trays each time.
        #[schemars(range(min = 1, max = 10_000))]
        trays: u32,
    },
    /// So many within a span, each at a random instant of it.
    Within {
        /// Clock time at which the span begins.
        from: String,
        /// How long it lasts.
        #[schemars(range(min = 0, max = 1440))]
        lasts_min: f64,
        /// Trays.
        #[schemars(range(min = 1, max = 100_000))]
        trays: u32,
    },
    /// Trays that already lie on a belt, against its end, on a table, on an accumulator, or on carts that wait to be emptied,
    /// when the run begins.
    AlreadyOn {
        /// Name of the belt, table, accumulator or carts.
        place: String,
        /// Trays.
        #[schemars(range(min = 1, max = 10_000))]
        trays: u32,
    },
    /// Trays that are already left aside, to be fetched, when the run begins.
    AlreadyAside {
        /// Name of the drop-off.
        drop_off: String,
        /// Trays.
        #[schemars(range(min = 1, max = 10_000))]
        trays: u32,
    },
    /// People who already wait at the drop-off when the run begins.
    AlreadyWaiting {
        /// People.
        #[schemars(range(min = 1, max = 10_000))]
        people: u32,
    },
    /// People who are already eating when the run begins.
    AlreadyEating {
        /// Clock time at which they sat down.
        since: String,
        /// People.
        #[schemars(range(min = 1, max = 100_000))]
        people: u32,
    },
    /// So many are only taken, for another meal, and do not come back within the run.
    Never {
        /// Trays.
        #[schemars(range(min = 1, max = 100_000))]
        trays: u32,
    },
}

/// So many trays at a clock time.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AtFile {
    /// Clock time.
    pub(crate) time: String,
    /// Trays.
    #[schemars(range(min = 1, max = 10_000))]
    pub(crate) trays: u32,
}

/// A course: ware that is cleared by itself.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CourseFile {
    /// Mean pieces by class of ware; a fraction is drawn as the whole number below or above.
    #[schemars(extend("additionalProperties" = { "type": "number", "minimum": 0, "maximum": 60 }))]
    pub(crate) pieces: std::collections::BTreeMap<String, f64>,
    /// When it is cleared.
    pub(crate) cleared: ClearedFile,
}

/// When a course is cleared.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum ClearedFile {
    /// So long after sitting down.
    Seated {
        /// From sitting down to being cleared.
        for_min: Amount,
    },
    /// Within a span of the clock, whoever it is: a banquet.
    Within {
        /// Clock time at which clearing begins.
        from: String,
        /// How long it lasts.
        #[schemars(range(min = 0, max = 1440))]
        lasts_min: f64,
    },
}
