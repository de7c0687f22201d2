//! The sections of the page.

use maud::{Markup, html};
use scullery_study::summary::{BalanceSum, Summary};

use super::section;
use super::strip::{strip, strip_key};
use crate::lettering::printable;
use crate::number::{DASH, Units, between, fixed, row_texts, unit_beside};
use crate::table::{self, Table};
use crate::terminal::simulated;

/// A table that scrolls by itself when the window is narrow. Columns listed in `words` hold words, the others numbers;
/// the first column names its row.
pub(crate) fn table(table: &Table, words: &[usize]) -> Markup {
    let class = |column: usize| {
        if column == 0 || words.contains(&column) {
            "w"
        } else {
            "n"
        }
    };
    html! {
        div.scroll tabindex="0" role="group" aria-label=(printable(&table.caption)) {
            table {
                caption { (printable(&table.caption)) }
                thead {
                    tr {
                        @for (column, text) in table.head.iter().enumerate() {
                            th scope="col" class=(class(column)) { (printable(text)) }
                        }
                    }
                }
                tbody {
                    @for row in &table.rows {
                        tr {
                            @for (column, text) in row.iter().enumerate() {
                                @if column == 0 { th scope="row" class="w" { (printable(text)) } }
                                @else { td class=(class(column)) { (printable(text)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

pub(super) fn answer(summary: &Summary) -> Markup {
    let endings = &summary.endings;
    section(
        "answer",
        &html! {
            p.answer { (printable(&summary.answer)) }
            p { strong { "Which day: " } (printable(summary.heading.day_words.trim_end_matches('.'))) "." }
            @if endings.gridlock + endings.never_drained > 0 {
                div.alarm role="note" {
                    p {
                        strong { "Not all lunches came to an end. " }
                        (endings.gridlock) " locked for good and " (endings.never_drained) " never drained, of "
                        (summary.repeats) ". They fail every target and are left out of means, bands and pictures."
                    }
                    ul { @for sentence in &endings.sentences { li { (printable(sentence)) } } }
                }
            }
            @if summary.repeats < summary.asked {
                p.alarm { (printable(&simulated(summary))) }
            }
        },
    )
}

pub(super) fn targets(summary: &Summary) -> Markup {
    section(
        "targets",
        &html! {
            @if summary.targets.is_empty() { p { "The scenario names no targets." } }
            @else {
                div.scroll tabindex="0" role="group" aria-label="Targets" {
                    table.targets {
                        caption {
                            "What was asked for, whether it holds, and how surely. \u{201C}Not sure yet\u{201D} means that \
                             the interval holds the bar itself: more lunches would tell."
                        }
                        thead { tr { th.w scope="col" { "Target" } th.w scope="col" { "Verdict" } th.w scope="col" { "Evidence" } } }
                        tbody {
                            @for target in &summary.targets {
                                tr {
                                    th.w scope="row" { (printable(&target.words)) }
                                    td.w { span class=(verdict_class(&target.verdict)) { (printable(&target.verdict)) } }
                                    td.w { (printable(&target.evidence)) }
                                }
                            }
                        }
                    }
                }
            }
        },
    )
}

fn verdict_class(verdict: &str) -> &'static str {
    match verdict {
        "holds" => "verdict holds",
        "fails" => "verdict fails",
        _ => "verdict unsure",
    }
}

/// The headline measures, each with a strip that shows spread and error.
pub(super) fn headline(summary: &Summary, units: Units) -> Markup {
    section(
        "measures",
        &html! {
            p {
                "Two different things are shown. The " em { "spread between lunches" } " is the risk: how much one lunch \
                 differs from another; more simulated lunches do not make it smaller. The " em { "error of the mean" }
                " is what we do not know yet: it shrinks with more simulated lunches."
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
                        @for measure in summary.measures.iter().filter(|m| m.headline) {
                            @let ci = measure.ci95.map_or([None, None], |[low, high]| [Some(low), Some(high)]);
                            @let [mean, low, high, p05, p50, p95] = row_texts(
                                [measure.mean, ci[0], ci[1], measure.p05, measure.p50, measure.p95], &measure.unit, units);
                            tr {
                                th.w scope="row" {
                                    (printable(&measure.label))
                                    @let unit = unit_beside(measure, summary, units);
                                    @if !unit.is_empty() { " (" (printable(&unit)) ")" }
                                }
                                td.n { strong { (mean) } @if mean != DASH { br; span.error { (between(&low, &high)) } } }
                                td.n { (p50) }
                                td.n { @if p05 == DASH { (p05) } @else { span.spread { (between(&p05, &p95)) } } }
                                td.w { (strip(measure)) }
                            }
                        }
                    }
                }
            }
        },
    )
}

pub(super) fn held_up(summary: &Summary) -> Markup {
    section(
        "held-up",
        &html! {
            @if summary.held_up.is_empty() { p { "Nobody and nothing was held up." } }
            @else {
                p {
                    "Somebody is held up when the work in hand is finished and there is no place for it. The place named is \
                     the one that lacked room, so look for the cause behind it. A machine is held up by a full clean end."
                }
                (table(&table::held_up(summary), &[1]))
            }
        },
    )
}

pub(super) fn resources(summary: &Summary, units: Units) -> Markup {
    section(
        "resources",
        &html! {
            @if summary.resources.is_empty() { p { "The scenario states no resources." } }
            @else {
                (table(&table::resources(summary, units), &[1]))
                p { "A dash under cost means that the scenario gives no price for it." }
            }
        },
    )
}

fn list(sentences: &[String]) -> Markup {
    html! { ul { @for sentence in sentences { li { (printable(sentence)) } } } }
}

pub(super) fn assumptions(summary: &Summary) -> Markup {
    section("assumptions", &list(&summary.assumptions))
}

pub(super) fn defaults(summary: &Summary) -> Markup {
    section(
        "defaults",
        &html! {
            @if summary.defaults.is_empty() { p { "None: every input was given." } }
            @else { (table(&table::defaults(summary), &[1, 2])) }
        },
    )
}

pub(super) fn computed(summary: &Summary) -> Markup {
    let BalanceSum {
        trays_in,
        trays_out,
        trays_inside,
    } = summary.balance;
    let even = trays_in == trays_out + trays_inside;
    let count = |trays: u64| fixed(trays as f64, 0);
    section(
        "computed",
        &html! {
            ul {
                li { (printable(&simulated(summary))) " Each lunch has its own luck: who comes when, how long they eat, what they bring, how long each piece of work takes." }
                li {
                    "Balance over all lunches: trays in " (count(trays_in)) " = trays out " (count(trays_out))
                    " + trays still inside " (count(trays_inside)) "."
                    @if !even { strong.bad { " These do not agree: please report it, and do not rely on this page." } }
                }
                li { "Every measure is one number a lunch. The mean over the lunches has a Student-t interval of 95 %; the 95th of 100 has an interval from order statistics, or a dash where there are too few lunches for one." }
                li { "The band of a picture runs from the 5th to the 95th of 100 lunches, minute by minute: of the minute\u{2019}s highest level, for clean stock of its lowest. No single lunch follows an edge of a band all the way." }
                li { "A dash stands where there is no value or too few lunches. It never means nought." }
                li { "Scenario: " (printable(&summary.source.scenario)) ", SHA-256 " code { (printable(&summary.source.hash)) } ". Version " (printable(&summary.source.version)) ", seed " (summary.seed) ". The same scenario, seed and version give the same numbers." }
            }
        },
    )
}

pub(super) fn all_measures(summary: &Summary, units: Units) -> Markup {
    section(
        "all-measures",
        &html! {
            details {
                summary { "Show all " (summary.measures.len()) " measures" }
                (table(&table::measures(summary, units), &[1]))
            }
        },
    )
}

pub(super) fn cautions(summary: &Summary) -> Markup {
    section(
        "cautions",
        &html! { div.caution { (list(&summary.cautions)) } },
    )
}
