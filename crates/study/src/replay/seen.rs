//! What was seen against what the simulated lunches show.

use scullery_scenario::notes::SeenLevel;
use serde::{Deserialize, Serialize};

use crate::intervals::{mean, order_statistic};
use crate::record::MealRecord;

/// One thing seen, and the simulated lunches at that minute.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct SeenBand {
    /// When, minutes since midnight.
    pub at_min: f64,
    /// What, as written.
    pub what: String,
    /// How much was seen.
    pub seen: f64,
    /// By how much that may be off.
    pub off_by: f64,
    /// Mean over the simulated lunches.
    pub mean: f64,
    /// 5th of 100 simulated lunches.
    pub p05: f64,
    /// 95th of 100.
    pub p95: f64,
    /// Whether what was seen lies within the band, or by so much off it as it may be off.
    pub inside: bool,
}

/// The level of a lunch at a time that was seen: the average over that minute, summed over the places.
pub(super) fn level(record: &MealRecord, seen: &SeenLevel) -> f64 {
    let minute = (seen.at.us() / 60_000_000).saturating_sub(record.from_min) as usize;
    seen.places
        .iter()
        .filter_map(|place| {
            let minutes = &record.places.get(usize::from(place.0))?.minutes;
            let one = minutes.get(minute.min(minutes.len().checked_sub(1)?))?;
            Some(one.area as f64 / 60e6)
        })
        .sum()
}

/// Sets each thing seen beside the levels of many lunches (one list a lunch, in the order of what was seen).
pub(super) fn bands(seen: &[SeenLevel], lunches: &[Vec<f64>]) -> Vec<SeenBand> {
    let one = |(i, it): (usize, &SeenLevel)| {
        let levels: Vec<f64> = lunches.iter().map(|lunch| lunch[i]).collect();
        // Whole microseconds and things behind them, so the values sort as they should.
        let mut sorted: Vec<u64> = levels.iter().map(|x| (x * 1e6).round() as u64).collect();
        let quantile =
            |sorted: &mut Vec<u64>, p| order_statistic(sorted, p).map_or(0.0, |x| x as f64 / 1e6);
        let (p05, p95) = (quantile(&mut sorted, 50), quantile(&mut sorted, 950));
        SeenBand {
            at_min: it.at.us() as f64 / 60e6,
            what: it.what.clone(),
            seen: it.count,
            off_by: it.off_by,
            mean: mean(&levels).unwrap_or(0.0),
            p05,
            p95,
            inside: it.count >= p05 - it.off_by && it.count <= p95 + it.off_by,
        }
    };
    seen.iter().enumerate().map(one).collect()
}

/// How well the simulated lunches fit: how many of the things seen lie inside, and the mean signed error (simulated less
/// seen) of each quarter hour in which something was seen, by quarter (minutes since midnight).
pub fn fit_quality(bands: &[SeenBand]) -> (usize, Vec<(u32, f64)>) {
    let inside = bands.iter().filter(|band| band.inside).count();
    let mut quarters: std::collections::BTreeMap<u32, Vec<f64>> = std::collections::BTreeMap::new();
    for band in bands {
        let quarter = (band.at_min / 15.0) as u32 * 15;
        quarters
            .entry(quarter)
            .or_default()
            .push(band.mean - band.seen);
    }
    let errors = quarters
        .into_iter()
        .map(|(quarter, errors)| (quarter, mean(&errors).unwrap_or(0.0)));
    (inside, errors.collect())
}
