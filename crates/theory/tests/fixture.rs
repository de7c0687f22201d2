//! The reference figures, read from `data/check-values.json`.

use serde_json::Value;

/// How close a figure must come, relative to the reference. The references carry 13 digits.
pub(crate) const CLOSE: f64 = 1e-9;

/// One reference: a model, its parameters and what must come out.
pub(crate) struct Case {
    pub(crate) id: String,
    params: Value,
    metrics: Value,
}

/// A check of all cases whose id begins with a prefix.
#[derive(Clone, Copy)]
pub(crate) struct Law {
    pub(crate) prefix: &'static str,
    pub(crate) check: fn(&Case),
}

impl Law {
    pub(crate) const fn new(prefix: &'static str, check: fn(&Case)) -> Self {
        Self { prefix, check }
    }

    pub(crate) fn covers(&self, case: &Case) -> bool {
        case.id.starts_with(self.prefix)
    }
}

/// Checks every case that these laws cover.
pub(crate) fn hold(laws: &[Law]) {
    let mut held = 0;
    for case in cases() {
        for law in laws.iter().filter(|law| law.covers(&case)) {
            (law.check)(&case);
            held += 1;
        }
    }
    assert!(held > 0, "no case was checked");
}

pub(crate) fn cases() -> Vec<Case> {
    let text: Value = serde_json::from_str(include_str!("data/check-values.json")).unwrap();
    let list = text["cases"].as_array().unwrap();
    list.iter()
        .map(|case| Case {
            id: case["id"].as_str().unwrap().to_owned(),
            params: case["params"].clone(),
            metrics: case["metrics"].clone(),
        })
        .collect()
}

impl Case {
    pub(crate) fn raw(&self, name: &str) -> &Value {
        &self.params[name]
    }

    /// A parameter that is a number.
    pub(crate) fn num(&self, name: &str) -> f64 {
        let value = self.params[name].as_f64();
        value.unwrap_or_else(|| panic!("{}: no number {name}", self.id))
    }

    /// A parameter that is a count.
    pub(crate) fn count(&self, name: &str) -> u32 {
        let value = self.params[name].as_u64();
        let count = value.unwrap_or_else(|| panic!("{}: no count {name}", self.id));
        u32::try_from(count).unwrap()
    }

    /// A parameter that is a list of numbers.
    pub(crate) fn list(&self, name: &str) -> Vec<f64> {
        let list = self.params[name].as_array();
        let list = list.unwrap_or_else(|| panic!("{}: no list {name}", self.id));
        list.iter().map(|x| x.as_f64().unwrap()).collect()
    }

    /// The names and values of the metrics.
    pub(crate) fn metrics(&self) -> Vec<(String, f64)> {
        let all = self.metrics.as_object().unwrap();
        all.iter()
            .map(|(name, value)| (name.clone(), value.as_f64().unwrap()))
            .collect()
    }

    /// Asserts each metric of the case, and that none was left out or made up.
    pub(crate) fn agrees<K: AsRef<str>>(&self, ours: &[(K, f64)]) {
        let reference = self.metrics();
        for (name, value) in ours {
            let found = reference.iter().find(|(n, _)| n == name.as_ref());
            let (_, expected) =
                found.unwrap_or_else(|| panic!("{}: no metric {}", self.id, name.as_ref()));
            close(
                &format!("{}: {}", self.id, name.as_ref()),
                *value,
                *expected,
            );
        }
        for (name, _) in &reference {
            assert!(
                ours.iter().any(|(n, _)| n.as_ref() == name),
                "{}: {name} was not checked",
                self.id
            );
        }
    }
}

/// Asserts that two figures agree to [`CLOSE`].
pub(crate) fn close(what: &str, ours: f64, expected: f64) {
    near(what, ours, expected, CLOSE);
}

/// Asserts that two figures agree to a relative `tolerance`.
pub(crate) fn near(what: &str, ours: f64, expected: f64, tolerance: f64) {
    let apart = (ours - expected).abs();
    assert!(
        apart <= tolerance * expected.abs(),
        "{what}: {ours} is not {expected}"
    );
}
