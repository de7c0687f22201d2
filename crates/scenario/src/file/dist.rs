//! Amounts that vary, as written: a plain number, or a one-key table that names the distribution.

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{self, Deserializer};

/// An amount in the unit its key names: a number, or a distribution.
#[derive(Debug, Clone)]
pub(crate) enum Amount {
    Fixed(f64),
    Drawn(AmountChoice),
}

/// An amount that varies, in the unit the key names.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum AmountChoice {
    /// Always the same.
    Constant(#[schemars(range(min = 0, max = 1e6))] f64),
    /// Exponential with this mean.
    Exponential {
        /// Mean.
        #[schemars(range(min = 0, max = 1e6))]
        mean: f64,
    },
    /// Lognormal, by mean and sd or cv of the value itself.
    Lognormal(MeanSpread),
    /// Gamma, by mean and sd or cv.
    Gamma(MeanSpread),
    /// Weibull, by mean and sd or cv.
    Weibull(MeanSpread),
    /// Normal by mean and sd or cv, drawn again while it is negative.
    Normal(MeanSpread),
    /// Triangular between `min` and `max` with its peak at `mode`.
    Triangular(Peak),
    /// PERT: a smooth curve between `min` and `max` with its peak at `mode`.
    Pert(Peak),
    /// Uniform between `min` and `max`.
    Uniform(Between),
    /// One of these stopwatch readings, each as likely.
    Readings(#[schemars(length(min = 1, max = 10000), inner(range(min = 0, max = 1e6)))] Vec<f64>),
}

/// Mean, and sd or cv.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct MeanSpread {
    /// Mean.
    #[schemars(range(max = 1e6), extend("exclusiveMinimum" = 0))]
    pub(crate) mean: f64,
    /// Standard deviation, in the same unit.
    #[schemars(range(min = 0, max = 1e6))]
    pub(crate) sd: Option<f64>,
    /// Coefficient of variation: standard deviation divided by the mean.
    #[schemars(range(min = 0, max = 5))]
    pub(crate) cv: Option<f64>,
}

/// Least, most likely, greatest.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Peak {
    /// Least.
    #[schemars(range(min = 0, max = 1e6))]
    pub(crate) min: f64,
    /// Most likely.
    #[schemars(range(min = 0, max = 1e6))]
    pub(crate) mode: f64,
    /// Greatest.
    #[schemars(range(min = 0, max = 1e6))]
    pub(crate) max: f64,
}

/// Least and greatest.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct Between {
    /// Least.
    #[schemars(range(min = 0, max = 1e6))]
    pub(crate) min: f64,
    /// Greatest.
    #[schemars(range(min = 0, max = 1e6))]
    pub(crate) max: f64,
}

/// How the length of a task varies about its mean: a factor of mean 1.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
pub(crate) enum Varies {
    /// Always the same length.
    NotAtAll,
    /// Exponential, as in the textbooks.
    Exponential,
    /// Lognormal with this cv.
    Lognormal(VariesSpread),
    /// Gamma with this cv.
    Gamma(VariesSpread),
    /// Weibull with this cv.
    Weibull(VariesSpread),
    /// Normal with this cv, cut at nought.
    Normal(VariesSpread),
    /// Triangular; scaled so that its mean is 1.
    Triangular(Peak),
    /// PERT; scaled so that its mean is 1.
    Pert(Peak),
    /// Uniform; scaled so that its mean is 1.
    Uniform(Between),
    /// Stopwatch readings; scaled so that their mean is 1.
    Readings(#[schemars(length(min = 1, max = 10000), inner(range(min = 0, max = 1e6)))] Vec<f64>),
}

/// A coefficient of variation.
#[derive(Debug, Clone, Copy, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct VariesSpread {
    /// Standard deviation divided by the mean.
    #[schemars(range(min = 0, max = 5))]
    pub(crate) cv: f64,
}

impl<'de> Deserialize<'de> for Amount {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = serde_json::Value::deserialize(deserializer)?;
        match value.as_f64() {
            Some(number) => Ok(Amount::Fixed(number)),
            None => serde_json::from_value(value)
                .map(Amount::Drawn)
                .map_err(de::Error::custom),
        }
    }
}

impl JsonSchema for Amount {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Amount".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "An amount in the unit its key names: a number, or a distribution.",
            "anyOf": [
                { "type": "number", "minimum": 0, "maximum": 1_000_000 },
                generator.subschema_for::<AmountChoice>(),
            ]
        })
    }
}
