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
    /// Speed of work: 1 is normal, 1.1 a tenth faster; 1 if unsaid.
    #[schemars(range(min = 0.1, max = 10))]
    pub(crate) pace: Option<f64>,
    /// Share of days on which this shift goes unfilled.
    #[schemars(range(min = 0, max = 1))]
    pub(crate) unfilled_share: Option<f64>,
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
    /// When the detergent reservoir of this machine runs low; when it is done the reservoir is full.
    DetergentLow(String),
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
