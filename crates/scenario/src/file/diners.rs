//! Who comes, when and with what, as written.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

use super::carts::CourseFile;
use super::dist::{Amount, Varies};

/// When covers are served.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum CoversFile {
    /// So many in each of a row of equal intervals.
    PerInterval {
        /// Clock time at which the first interval begins.
        from: String,
        /// Length of each interval.
        #[schemars(range(max = 1440), extend("exclusiveMinimum" = 0))]
        every_min: f64,
        /// Covers in each interval.
        #[schemars(length(min = 1, max = 2000), inner(range(min = 0, max = 100_000)))]
        counts: Vec<f64>,
        /// How the covers of an interval come; `poisson` if unsaid.
        come: Option<Come>,
    },
    /// So many between any clock times.
    Between {
        /// Clock times, rising; one more than there are counts.
        #[schemars(length(min = 2, max = 2001))]
        times: Vec<String>,
        /// Covers between each time and the next.
        #[schemars(length(min = 1, max = 2000), inner(range(min = 0, max = 1_000_000)))]
        counts: Vec<f64>,
        /// How the covers of an interval come; `poisson` if unsaid.
        come: Option<Come>,
    },
    /// Poisson at a rate that runs in straight lines between clock times.
    Rates {
        /// Clock times, rising.
        #[schemars(length(min = 2, max = 2001))]
        times: Vec<String>,
        /// Covers a minute at each time.
        #[schemars(length(min = 2, max = 2001), inner(range(min = 0, max = 10_000)))]
        per_min: Vec<f64>,
    },
    /// Exactly at these clock times.
    Instants(#[schemars(length(min = 1, max = 100_000))] Vec<String>),
    /// At the instants in a table of comma-separated values.
    Table(ArrivalsFile),
}

/// How the covers of an interval come.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Come {
    /// Poisson: the count is a mean.
    Poisson,
    /// Exactly the count, evenly spread.
    Evenly,
    /// Exactly the count, each at a random instant.
    AtRandom,
}

/// A table of arrivals.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ArrivalsFile {
    /// Path of the file, relative to the scenario.
    #[schemars(length(min = 1, max = 500))]
    pub(crate) path: String,
    /// Heading of the column of clock times; `time` if unsaid.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) time_column: Option<String>,
    /// Heading of the column that says how many come at that time; without it each row is one.
    #[schemars(length(min = 1, max = 100))]
    pub(crate) count_column: Option<String>,
    /// `true`: rows may stand in any order and are sorted.
    #[serde(default)]
    pub(crate) sort: bool,
}

/// How days differ.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum DaysFile {
    /// Days as they come: covers vary from day to day with this coefficient of variation.
    Vary {
        /// Standard deviation of a day's covers divided by their mean.
        #[schemars(range(min = 0, max = 3))]
        cv: f64,
    },
    /// Days as they come, each like one of these past counts.
    PastCounts(#[schemars(length(min = 2, max = 5000), inner(range(min = 0, max = 1e7)))] Vec<f64>),
    /// One fixed day.
    DesignDay(DesignDay),
}

/// A fixed design day.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum DesignDay {
    /// The covers as stated.
    Mean,
    /// A busy day, the 9th of 10: of days that vary with `cv`, or of `past_counts`.
    Busy {
        /// Coefficient of variation of covers from day to day.
        #[schemars(range(min = 0, max = 3))]
        cv: Option<f64>,
        /// Covers on past days.
        #[schemars(length(min = 10, max = 5000), inner(range(min = 0, max = 1e7)))]
        past_counts: Option<Vec<f64>>,
    },
    /// The covers as stated times this number.
    Factor(#[schemars(range(min = 0, max = 100))] f64),
}

/// Eating, parties, patience, and how trays differ.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DinersFile {
    /// From being served to sitting down.
    pub(crate) find_seat_min: Option<Amount>,
    /// From sitting down to coming to the drop-off.
    pub(crate) eating_min: Option<Amount>,
    /// Other eating times from given clock times on.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) eating_by_clock: Vec<ClockedDist>,
    /// Seats in the room: who finds none waits for one. Without it there are always enough.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) seats: Option<u32>,
    /// Parties: who comes together. Without it everybody comes alone.
    pub(crate) parties: Option<PartiesFile>,
    /// People waiting that a diner will bear before leaving the tray aside. Without it any number.
    pub(crate) patience_people: Option<Amount>,
    /// How the work at one tray varies about its mean.
    pub(crate) tray_work_varies: Option<Varies>,
    /// Plate waste on a tray that carries ware.
    pub(crate) waste_kg: Option<Amount>,
}

/// An eating time from a clock time on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ClockedDist {
    /// Clock time from which it holds (by the time of sitting down).
    pub(crate) from: String,
    /// From sitting down to coming to the drop-off.
    pub(crate) eating_min: Amount,
}

/// Parties come, eat and leave together.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PartiesFile {
    /// Share of parties of one, of two, of three, ...; sums to 1.
    #[schemars(length(min = 1, max = 40), inner(range(min = 0, max = 1)))]
    pub(crate) shares: Vec<f64>,
    /// Between one member and the next, when served and when dropping off.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) apart_s: Option<f64>,
}

/// A bell.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BellFile {
    /// Clock time at which it rings.
    pub(crate) at: String,
    /// Share of those seated who leave.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) share: f64,
    /// They leave from so long before the bell ...
    #[schemars(range(min = 0, max = 240))]
    pub(crate) before_min: Option<f64>,
    /// ... to so long after it.
    #[schemars(range(min = 0, max = 240))]
    pub(crate) after_min: Option<f64>,
    /// Only those who have been seated for so long.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) seated_at_least_min: Option<f64>,
}

/// A kind of diner.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct KindFile {
    /// Share of diners. One kind may leave it out and gets the rest.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) share: Option<f64>,
    /// Other shares from given clock times on.
    #[serde(default)]
    #[schemars(length(max = 100))]
    pub(crate) share_by_clock: Vec<ClockedShare>,
    /// Mean pieces brought back, by class of ware; a fraction is drawn as the whole number below or above. Left out or
    /// all nought: nothing comes back (take-away).
    #[serde(default)]
    #[schemars(extend("additionalProperties" = { "type": "number", "minimum": 0, "maximum": 60 }))]
    pub(crate) pieces: BTreeMap<String, f64>,
    /// Name of the drop-off they go to; may be left out when there is only one.
    pub(crate) drop_off: Option<String>,
    /// Name of the carts or tubs in which staff fetch their ware. Without it they bring it to the drop-off.
    pub(crate) carts: Option<String>,
    /// Courses, each cleared by itself, in place of `pieces`.
    #[serde(default)]
    #[schemars(length(max = 8))]
    pub(crate) course: Vec<CourseFile>,
    /// Whether they sit down and eat; `false`: they come to the drop-off when they are served. `true` if unsaid.
    pub(crate) sits: Option<bool>,
    /// `true`: without a tray. Each piece is put down by itself, and at the table there is no tray to handle.
    #[serde(default)]
    pub(crate) tray_less: bool,
    /// Several of a party put their ware on one tray.
    pub(crate) shared_tray: Option<SharedTrayFile>,
    /// What they take they carry away and bring back in their own time: a reusable box, a cup to go.
    pub(crate) away: Option<AwayFile>,
}

/// One tray for several of a party.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct SharedTrayFile {
    /// Most people to a tray.
    #[schemars(range(min = 2, max = 40))]
    pub(crate) people: u32,
    /// Class of ware that is the tray: there is one for all of them.
    pub(crate) tray: String,
}

/// What is carried away and comes back in its own time.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct AwayFile {
    /// From being served to coming to the drop-off.
    pub(crate) for_min: Amount,
    /// Share that comes back within the run at all; 1 if unsaid.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) back_share: Option<f64>,
}

/// A share from a clock time on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ClockedShare {
    /// Clock time from which it holds.
    pub(crate) from: String,
    /// Share of diners.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) share: f64,
}
