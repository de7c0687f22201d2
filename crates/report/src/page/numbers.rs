//! The chapters that are mostly numbers: headline measures, run-outs, resources, all measures.

use maud::{Markup, html};
use scullery_study::summary::{Measure, Summary};

use super::parts::table;
use super::strip::{strip, strip_key};
use crate::lettering::printable;
use crate::number::{DASH, Units, between, row_texts, unit_beside};
use crate::table::{self, Table, definition};

/// The headline measures, each with what it means and a strip that shows spread and error.
pub(super) fn headline(summary: &Summary, units: Units) -> Markup {
    html! {
        h3 { "Headline measures" }
        p {
            "Two different things are shown. The " em { "spread between lunches" } " is the risk: how much one lunch \
             differs from another; more simulated lunches do not make it smaller. The " em { "error of the mean" }
            " is what we do not know yet: it shrinks with more simulated lunches. Each measure is one number a lunch; the \
             small print says what it is in that lunch, and means are over the lunches."
        }
        (strip_key())
        div.scroll tabindex="0" role="group" aria-label="Headline measures" {
            table.measures {
                thead {
                    tr {
                        th.w scope="col" { "Measure" }
                        th.n scope="col" { "Mean, and between which ends it lies (95 % sure)" }
                        th.n scope="col" { "Middle lunch" }
                        th.n scope="col" { "From the 5th to the 95th of 100 lunches" }
                        th.w scope="col" { "Spread and error" }
                    }
                }
                tbody {
                    @for measure in summary.measures.iter().filter(|m| m.headline) { (headline_row(measure, summary, units)) }
                }
            }
        }
    }
}

fn headline_row(measure: &Measure, summary: &Summary, units: Units) -> Markup {
    let ci = measure
        .ci95
        .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
    let [mean, low, high, p05, p50, p95] = row_texts(
        [
            measure.mean,
            ci[0],
            ci[1],
            measure.p05,
            measure.p50,
            measure.p95,
        ],
        &measure.unit,
        units,
    );
    let unit = unit_beside(measure, summary, units);
    let means = definition(measure);
    html! {
        tr {
            th.w scope="row" {
                (printable(&measure.label))
                @if !unit.is_empty() { " (" (printable(&unit)) ")" }
                @if !means.is_empty() { span.means { (means) } }
            }
            td.n { strong { (mean) } @if mean != DASH { br; span.error { (between(&low, &high)) } } }
            td.n { (p50) }
            td.n { @if p05 == DASH { (p05) } @else { span.spread { (between(&p05, &p95)) } } }
            td.w { (strip(measure)) }
        }
    }
}

/// Run-outs by class; `None` where no stock is followed.
pub(super) fn run_outs(summary: &Summary, units: Units) -> Option<Markup> {
    let such: Vec<&Measure> = summary
        .measures
        .iter()
        .filter(|m| m.id.starts_with("runout."))
        .collect();
    if such.is_empty() {
        return None;
    }
    let mut list = Table::new(
        "Run-outs: pieces that covers wanted and did not find, a lunch",
        &[
            "Class",
            "Mean",
            "Middle lunch",
            "5 of 100 lunches above",
            "Lunches with any",
        ],
    );
    for measure in such {
        let [mean, p50, p95] = row_texts(
            [measure.mean, measure.p50, measure.p95],
            &measure.unit,
            units,
        );
        let column = summary
            .per_meal_columns
            .iter()
            .position(|id| *id == measure.id);
        let with_any = column.map(|column| {
            let values = summary.per_meal.iter().filter_map(|row| *row.get(column)?);
            values.filter(|value| *value > 0.0).count()
        });
        list.rows.push(vec![
            measure.label.clone(),
            mean,
            p50,
            p95,
            with_any.map_or_else(
                || DASH.to_owned(),
                |some| format!("{some} of {}", summary.repeats),
            ),
        ]);
    }
    Some(html! { h3 { "Run-outs" } (table(&list, &[])) })
}

pub(super) fn resources(summary: &Summary, units: Units) -> Markup {
    html! {
        @if summary.resources.is_empty() { p { "The scenario states no resources." } }
        @else {
            (table(&table::resources(summary, units), &[1]))
            p { "A dash under cost means that the scenario gives no price for it. Amounts are of one lunch; means are over the lunches." }
        }
        (owning(summary))
    }
}

/// What the line costs to own beside what it costs to run; nothing where nothing is owned at a price.
fn owning(summary: &Summary) -> Markup {
    html! {
        @if let (Some(sums), Some(parts)) = (table::owning(summary), table::owned(summary)) {
            h3 { "Running and owning the line" }
            (table(&sums, &[]))
            p {
                "Owning is a fixed cost: every lunch bears the same part of it, whatever is served. A year has one such lunch \
                 on each day open. Options, remedies and crews are judged by the running cost."
            }
            (table(&parts, &[]))
            p {
                "A year of what is owned is its price over its life, in equal parts and without interest, and its upkeep. \
                 What the scenario does not price is not in it."
            }
        }
    }
}

pub(super) fn all_measures(summary: &Summary, units: Units) -> Markup {
    html! {
        details {
            summary { "Show all " (summary.measures.len()) " measures" }
            (table(&table::measures(summary, units), &[1]))
        }
    }
}
