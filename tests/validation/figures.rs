//! Figures from outside, with where they come from. None is from this program.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;
use serde_json::Value;

/// A model that somebody else has worked out.
#[derive(Deserialize)]
pub(crate) struct Figure {
    pub(crate) id: String,
    pub(crate) params: Value,
    metrics: BTreeMap<String, f64>,
    pub(crate) source: String,
}

#[derive(Deserialize)]
struct All {
    cases: Vec<Figure>,
}

static ALL: LazyLock<All> = LazyLock::new(|| {
    serde_json::from_str(include_str!("../data/check-values.json")).expect("the figures are JSON")
});

/// The figure with this id.
pub(crate) fn figure(id: &str) -> &'static Figure {
    let found = ALL.cases.iter().find(|figure| figure.id == id);
    found.unwrap_or_else(|| panic!("no figure {id}"))
}

impl Figure {
    /// A value it says.
    pub(crate) fn says(&self, metric: &str) -> f64 {
        let value = self.metrics.get(metric);
        *value.unwrap_or_else(|| panic!("{} says nothing of {metric}", self.id))
    }

    /// Whether it says anything of this.
    pub(crate) fn has(&self, metric: &str) -> bool {
        self.metrics.contains_key(metric)
    }

    /// A parameter of the model.
    pub(crate) fn param(&self, name: &str) -> f64 {
        let value = self.params.get(name).and_then(Value::as_f64);
        value.unwrap_or_else(|| panic!("{} has no number {name}", self.id))
    }

    /// A parameter that is a list of numbers, or of lists of numbers, one after the other.
    pub(crate) fn list(&self, name: &str) -> Vec<f64> {
        let mut flat = Vec::new();
        gather(&self.params[name], &mut flat);
        assert!(!flat.is_empty(), "{} has no list {name}", self.id);
        flat
    }
}

fn gather(value: &Value, into: &mut Vec<f64>) {
    match value {
        Value::Array(list) => list.iter().for_each(|it| gather(it, into)),
        other => into.extend(other.as_f64()),
    }
}
