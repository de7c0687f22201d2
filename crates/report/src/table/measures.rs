//! Tables of measures, targets, hold-ups, resources and defaults.

use scullery_study::summary::{Measure, Summary};

use super::Table;
use crate::number::{DASH, Units, between, fixed, money, row_texts};

/// Targets with their verdicts: in words, the verdict, the evidence.
pub fn targets(summary: &Summary) -> Table {
    let mut table = Table::new("Targets", &["Target", "Verdict", "Evidence"]);
    table.rows = summary
        .targets
        .iter()
        .map(|t| vec![t.words.clone(), t.verdict.clone(), t.evidence.clone()])
        .collect();
    table
}

/// Measures with their mean, its error, and the spread between lunches.
///
/// Columns: measure, unit, mean, 95 % interval of the mean, 5th, middle and 95th of 100 lunches, interval of the 95th,
/// lunches with a value.
pub fn measures(summary: &Summary, units: Units) -> Table {
    let mut table = Table::new(
        "Measures: the mean with its error, then the spread between lunches",
        &[
            "Measure",
            "Unit",
            "Mean",
            "Mean lies between (95 % sure)",
            "5 of 100 lunches below",
            "Middle lunch",
            "5 of 100 lunches above",
            "That 95th lies between (95 % sure)",
            "Lunches",
        ],
    );
    table.rows = summary
        .measures
        .iter()
        .map(|measure| measure_row(measure, summary, units))
        .collect();
    table
}

fn measure_row(m: &Measure, summary: &Summary, units: Units) -> Vec<String> {
    let ci = m
        .ci95
        .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
    let tail = m
        .p95_ci95
        .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
    let [mean, low, high, p05, p50, p95, tail_low, tail_high] = row_texts(
        [m.mean, ci[0], ci[1], m.p05, m.p50, m.p95, tail[0], tail[1]],
        &m.unit,
        units,
    );
    vec![
        m.label.clone(),
        if m.unit == "money" {
            summary.heading.currency.clone()
        } else {
            units.unit_words(&m.unit).to_owned()
        },
        mean,
        between(&low, &high),
        p05,
        p50,
        p95,
        between(&tail_low, &tail_high),
        m.n.to_string(),
    ]
}

/// Who was held up, by what, and for how long; mean minutes a lunch.
pub fn held_up(summary: &Summary) -> Table {
    let mut table = Table::new(
        "Held up, mean minutes a lunch; below 0.05 is left out",
        &["Who or what", "Held up by", "Minutes a lunch"],
    );
    table.rows = summary
        .held_up
        .iter()
        .filter(|h| h.minutes >= 0.05)
        .map(|h| {
            let [minutes] = row_texts([Some(h.minutes)], "min", Units::Metric);
            vec![h.who.clone(), h.by.clone(), minutes]
        })
        .collect();
    table
}

/// Resources of a lunch: amount, its spread, amount a cover, cost; the last row is the sum of the costs when there
/// are any.
pub fn resources(summary: &Summary, units: Units) -> Table {
    let sign = if summary.heading.currency.is_empty() {
        "money"
    } else {
        &summary.heading.currency
    };
    let cost = format!("Cost a lunch ({sign})");
    let mut table = Table::new(
        "Resources of a lunch and what they cost",
        &[
            "Resource",
            "Unit",
            "Mean a lunch",
            "Mean lies between (95 % sure)",
            "5 to 95 of 100 lunches",
            "A cover",
            &cost,
        ],
    );
    for resource in &summary.resources {
        let m = &resource.amount;
        let ci = m
            .ci95
            .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
        let [mean, low, high, p05, p95] =
            row_texts([m.mean, ci[0], ci[1], m.p05, m.p95], &resource.unit, units);
        table.rows.push(vec![
            resource.label.clone(),
            units.unit_words(&resource.unit).to_owned(),
            mean,
            between(&low, &high),
            between(&p05, &p95),
            a_cover(resource.per_cover, &resource.unit, units),
            money(resource.cost.as_ref().and_then(|c| c.mean)),
        ]);
    }
    let costs: Vec<f64> = summary
        .resources
        .iter()
        .filter_map(|r| r.cost.as_ref()?.mean)
        .collect();
    if costs.len() > 1 {
        let blank = || String::new();
        let sum = money(Some(costs.iter().sum()));
        table.rows.push(vec![
            "All priced".to_owned(),
            blank(),
            blank(),
            blank(),
            blank(),
            blank(),
            sum,
        ]);
    }
    table
}

/// An amount a cover; three digits that mean something, however small it is.
fn a_cover(value: Option<f64>, unit: &str, units: Units) -> String {
    let Some(value) = value
        .map(|v| units.shown(v, unit))
        .filter(|v| v.is_finite())
    else {
        return DASH.to_owned();
    };
    let digits = match value.abs() {
        size if size < 1e-9 => 0,
        size if size >= 100.0 => 0,
        size if size >= 10.0 => 1,
        size if size >= 1.0 => 2,
        size if size >= 0.1 => 3,
        size if size >= 0.01 => 4,
        _ => 5,
    };
    fixed(value, digits)
}

/// Inputs left at their default.
pub fn defaults(summary: &Summary) -> Table {
    let mut table = Table::new(
        "Inputs left at their default",
        &["Input", "Value", "Standing"],
    );
    table.rows = summary.defaults.iter().map(|row| row.to_vec()).collect();
    table
}
