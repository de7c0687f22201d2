//! Figures of one arrangement: so many lunches, how often each target held.

use scullery_engine::ended::Fault;
use scullery_scenario::plan::Plan;

use super::found::{Cell, Row};
use crate::deciding::Said;
use crate::intervals::{mean_interval, share_interval};
use crate::search::{Asked, Fate, Kitchen, Seen, Tried};
use crate::targets::LEVEL;
use crate::words::value_words;

/// What the lunches of one arrangement showed.
#[derive(Clone, Debug)]
pub struct Shown {
    /// Lunches.
    pub lunches: u64,
    /// Of these, run only to be shown.
    pub fresh: u64,
    /// Held and asked, one entry a target.
    pub held: Vec<(u64, u64)>,
    /// Values of targets on a mean.
    pub values: Vec<Vec<f64>>,
    /// Lunches in which each target could not be kept at all.
    pub never: Vec<u64>,
    /// Lunches in which every target on single lunches held.
    pub all_held: u64,
    /// Extra cost, lunch by lunch.
    pub extra: Vec<f64>,
    /// What a search said of it, if it was in one.
    pub said: Option<(Fate, Vec<Said>)>,
}

/// Runs lunches 1 to `lunches` of a candidate.
///
/// # Errors
/// The fault of the first run that has one.
pub fn look<K: Kitchen<Fault = Fault>>(
    kitchen: &K,
    candidate: usize,
    tried: Option<&Tried>,
    lunches: u64,
    targets: usize,
) -> Result<Shown, Fault> {
    let mut it = Shown {
        lunches: 0,
        fresh: 0,
        held: vec![(0, 0); targets],
        values: vec![Vec::new(); targets],
        never: vec![0; targets],
        all_held: 0,
        extra: Vec::new(),
        said: tried.map(|t| (t.fate, t.said.clone())),
    };
    for lunch in kitchen.lunches(candidate, 1..lunches + 1)? {
        it.lunches += 1;
        let mut all = true;
        for (i, seen) in lunch.targets.iter().enumerate() {
            match *seen {
                Seen::Held(held) => {
                    it.held[i].0 += u64::from(held);
                    it.held[i].1 += 1;
                    all &= held;
                }
                Seen::Never => {
                    it.held[i].1 += 1;
                    it.never[i] += 1;
                    all = false;
                }
                Seen::Value(value) => it.values[i].push(value),
                Seen::Nothing => {}
            }
        }
        it.all_held += u64::from(all);
        it.extra.push(lunch.extra_cost);
    }
    it.fresh = it.lunches;
    Ok(it)
}

/// The row of an arrangement; words, people and cost are the caller's.
pub fn row(plan: &Plan, asked: &[Asked], shown: &Shown) -> Row {
    let cells: Vec<Cell> = (0..asked.len()).map(|i| cell(plan, i, shown)).collect();
    let verdict = match shown.said.as_ref().map(|(fate, _)| *fate) {
        Some(fate @ (Fate::Holds | Fate::Fails(_) | Fate::NotSure)) => {
            super::words::fate(fate).to_owned()
        }
        _ if cells.iter().any(|c| c.verdict == "fails") => "fails".into(),
        _ if cells.iter().all(|c| c.verdict == "holds") => "holds".into(),
        _ => "not sure".into(),
    };
    Row {
        words: String::new(),
        people: 0,
        hours: 0.0,
        cost: 0.0,
        extra_cost: crate::intervals::mean(&shown.extra).unwrap_or(0.0),
        verdict,
        lunches: shown.lunches,
        all_held: shown.all_held,
        cells,
        marks: Vec::new(),
    }
}

fn cell(plan: &Plan, i: usize, shown: &Shown) -> Cell {
    let target = &plan.targets[i];
    let (held, of) = shown.held[i];
    let said = shown
        .said
        .as_ref()
        .and_then(|(_, said)| said.get(i).copied());
    let verdict = |now: &'static str| {
        match said {
            Some(Said::Holds) => "holds",
            Some(Said::Fails) => "fails",
            _ => now,
        }
        .to_owned()
    };
    let Some(asked) = target.in_meals_of_100 else {
        let values = &shown.values[i];
        let mean = crate::intervals::mean(values);
        let good = |x: f64| match target.side {
            scullery_scenario::plan::Side::AtMost => x <= target.bound,
            scullery_scenario::plan::Side::AtLeast => x >= target.bound,
        };
        let now = match mean_interval(values, LEVEL) {
            _ if shown.never[i] > 0 => "fails",
            Some([low, high]) if good(low) && good(high) => "holds",
            Some([low, high]) if !good(low) && !good(high) => "fails",
            _ => "not sure",
        };
        return Cell {
            held: None,
            of: values.len() as u64,
            mean,
            verdict: verdict(now),
            text: mean.map_or("-".into(), |mean| {
                format!("mean {}", value_words(mean, unit(&target.measure)))
            }),
        };
    };
    let now = match share_interval(held, of, LEVEL) {
        Some(_) if asked >= 100.0 && held < of => "fails",
        Some([low, _]) if low >= asked / 100.0 => "holds",
        Some([_, high]) if high < asked / 100.0 => "fails",
        _ => "not sure",
    };
    Cell {
        held: Some(held),
        of,
        mean: None,
        verdict: verdict(now),
        text: format!("{held} of {of}"),
    }
}

/// The unit of a measure, as far as a cell has room for it.
fn unit(measure: &str) -> &'static str {
    if measure.ends_with("clock_min") {
        "clock_min"
    } else if measure.ends_with("_share") {
        "share"
    } else {
        "count"
    }
}
