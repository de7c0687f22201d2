//! The crew and its other work, as written.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{self, Deserializer};

use super::dist::Amount;

/// A member of the crew, or several alike.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WorkerFile {
    /// Name.
    #[schemars(length(min = 1, max = 40))]
    pub(crate) name: String,
    /// So many people alike, called NAME 1, NAME 2, ...; 1 if unsaid.
    #[schemars(range(min = 1, max = 200))]
    pub(crate) alike: Option<u32>,
    /// Shifts, in clock order.
    #[schemars(length(min = 1, max = 20))]
    pub(crate) shifts: Vec<ShiftFile>,
    /// Breaks, in clock order.
    #[serde(default)]
    #[schemars(length(max = 20))]
    pub(crate) breaks: Vec<BreakFile>,
    /// Posts, read from the top: a name like `scrapping.main`, or a table with levels.
    #[schemars(length(max = 60))]
    pub(crate) posts: Vec<PostEntry>,
    /// Other lists of posts, each from a clock time on: the task in hand is finished first.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) posts_from: Vec<PostsFromFile>,
    /// Speed of work: 1 is normal, 1.1 a tenth faster; 1 if unsaid.
    #[schemars(range(min = 0.1, max = 10))]
    pub(crate) pace: Option<f64>,
    /// Speed of work by experience, instead of `pace`.
    pub(crate) experience: Option<Experience>,
    /// Factors on the pace by the clock, for example towards the end of a long shift.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) pace_by_clock: Vec<ClockedPace>,
    /// Share of days on which this shift goes unfilled.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) unfilled_share: Option<f64>,
    /// Whether this very shift goes unfilled: the day on which this person is missing.
    pub(crate) missing: Option<bool>,
    /// A first shift that may start late.
    pub(crate) late: Option<LateFile>,
    /// Comes from elsewhere (the kitchen) only when called; the shifts are the hours in which they may be.
    pub(crate) on_call: Option<OnCallFile>,
}

/// How practised a worker is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum Experience {
    /// In the first weeks.
    New,
    /// Knows the work.
    Practised,
    /// Has done it for years.
    Expert,
}

/// A factor on the pace from a clock time on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ClockedPace {
    /// Clock time from which it holds, for tasks begun then or later.
    pub(crate) from: String,
    /// Factor on the pace.
    #[schemars(range(min = 0.1, max = 10))]
    pub(crate) factor: f64,
}

/// A list of posts from a clock time on.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct PostsFromFile {
    /// Clock time from which it holds.
    pub(crate) from: String,
    /// Posts, read from the top.
    #[schemars(length(min = 1, max = 60))]
    pub(crate) posts: Vec<PostEntry>,
}

/// A first shift that may start late.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct LateFile {
    /// Share of days on which it does; 1 if unsaid: this very day.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) share: Option<f64>,
    /// By how much.
    pub(crate) by_min: Amount,
}

/// Help that comes when it is called.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct OnCallFile {
    /// When they are called.
    pub(crate) when: OnCallWhen,
    /// From the call to being there.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) comes_after_min: Option<f64>,
    /// Go back, with nothing in hand, once no more than so many wait there; 0 if unsaid.
    #[schemars(range(min = 0, max = 100_000))]
    pub(crate) leave_at: Option<u32>,
    /// Shortest stay.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) stay_min: Option<f64>,
}

/// When help is called.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum OnCallWhen {
    /// When so many jobs wait at a post.
    Jobs {
        /// The post.
        post: String,
        /// So many jobs.
        #[schemars(range(min = 1, max = 100_000))]
        reach: u32,
    },
    /// When so many diners stand at a drop-off.
    Standing {
        /// The drop-off.
        drop_off: String,
        /// So many diners.
        #[schemars(range(min = 1, max = 100_000))]
        reach: u32,
    },
}

/// A shift.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ShiftFile {
    /// Clock time of its start.
    pub(crate) from: String,
    /// Clock time of its end; not later than the start: the next day.
    pub(crate) to: String,
}

/// A break.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct BreakFile {
    /// Clock time at which it is due.
    pub(crate) due: String,
    /// How long it lasts.
    #[schemars(range(max = 600), extend("exclusiveMinimum" = 0))]
    pub(crate) lasts_min: f64,
    /// Whether it is paid; it is if unsaid.
    pub(crate) paid: Option<bool>,
}

/// An entry of a worker's list of posts: a name, or a table with levels.
#[derive(Debug, Clone)]
pub(crate) enum PostEntry {
    Name(String),
    Call(CallFile),
}

/// A post and when it calls.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct CallFile {
    /// Post: `scrapping.NAME`, `racking.NAME`, `loading.NAME`, `unloading.NAME`, `duty.NAME`,
    /// `cart_wash.NAME` or `running`.
    pub(crate) post: String,
    /// Waiting jobs at which this worker steps in; 1 if unsaid.
    #[schemars(range(min = 1, max = 100_000))]
    pub(crate) step_in: Option<u32>,
    /// Waiting jobs at or below which this worker may leave again; 0 if unsaid.
    #[schemars(range(min = 0, max = 100_000))]
    pub(crate) leave_at: Option<u32>,
    /// Shortest stay; none if unsaid.
    #[schemars(range(min = 0, max = 600))]
    pub(crate) stay_min: Option<f64>,
}

/// Other work.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct DutyFile {
    /// When it falls due.
    pub(crate) when: DutyWhenFile,
    /// Work each time.
    pub(crate) work_min: Amount,
    /// Posts whose workers do it (those with one of these on their list).
    #[schemars(length(min = 1, max = 60))]
    pub(crate) by: Vec<String>,
    /// May wait until such a worker has nothing else to do, but at most so long. Without it it comes first.
    #[schemars(range(min = 0, max = 1440))]
    pub(crate) may_wait_min: Option<f64>,
    /// Side of the room where it is done; `soiled` if unsaid.
    pub(crate) side: Option<SideOfRoom>,
}

/// A side of the room.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub(crate) enum SideOfRoom {
    /// The soiled side.
    Soiled,
    /// The clean side.
    Clean,
}

/// When other work falls due.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum DutyWhenFile {
    /// At these clock times.
    At(#[schemars(length(min = 1, max = 1000))] Vec<String>),
    /// On a round.
    Round {
        /// Clock time of the first.
        from: String,
        /// Clock time after which there is none.
        to: String,
        /// From one to the next.
        #[schemars(range(min = 1, max = 1440))]
        every_min: f64,
    },
    /// Each time so much plate waste has been scraped off.
    ByWaste {
        /// Each time so many kilograms.
        #[schemars(range(max = 10_000), extend("exclusiveMinimum" = 0))]
        every_kg: f64,
    },
}

impl<'de> Deserialize<'de> for PostEntry {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match serde_json::Value::deserialize(deserializer)? {
            serde_json::Value::String(name) => Ok(PostEntry::Name(name)),
            other => serde_json::from_value(other)
                .map(PostEntry::Call)
                .map_err(de::Error::custom),
        }
    }
}

impl JsonSchema for PostEntry {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "PostEntry".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "A post by name, or a table with levels.",
            "anyOf": [{ "type": "string" }, generator.subschema_for::<CallFile>()]
        })
    }
}
