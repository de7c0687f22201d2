//! How the numbers were computed, in the order of a published guideline for reporting such studies.
//!
//! # Source
//! STRESS-DES, the checklist for discrete-event simulation in Monks, Currie, Onggo, Robinson, Kunc and Taylor,
//! "Strengthening the reporting of empirical simulation studies: Introducing the STRESS guidelines", Journal of
//! Simulation 13 (2019). Order and headings from memory of that paper.

use maud::{Markup, html};
use scullery_study::summary::BalanceSum;

use crate::lettering::printable;
use crate::number::fixed;
use crate::report::Report;
use crate::terminal::simulated;

/// A blank for the author of the study.
fn blank(what: &str) -> Markup {
    html! { span.blank { "Blank, for the author: " (what) } }
}

pub(super) fn computed(report: &Report<'_>) -> Markup {
    let summary = report.summary;
    let heading = &summary.heading;
    let posts: Vec<String> = summary.stations.iter().map(|s| s.name.clone()).collect();
    let places: Vec<String> = summary.bands.iter().map(|b| b.title.clone()).collect();
    let listed = |list: &[String]| {
        if list.is_empty() {
            "none".to_owned()
        } else {
            printable(&list.join(", "))
        }
    };
    let targets: Vec<String> = summary.targets.iter().map(|t| t.words.clone()).collect();
    html! {
        p {
            "In the order of STRESS-DES (Monks and others, Journal of Simulation, 2019), the guideline for reporting \
             discrete-event simulation studies. What only the author of the study knows is left blank and marked."
        }
        h3 { "1. Objectives" }
        dl.stress {
            dt { "Purpose of the model" }
            dd { "To tell whether a soiled-ware line and its crew hold a lunch. " (blank("the question and who decides on it.")) }
            dt { "Model outputs" }
            dd { (summary.measures.len()) " measures, one number a lunch each, defined where they stand; " (summary.bands.len()) " levels minute by minute." }
            dt { "Aims of experimentation" }
            dd {
                @if targets.is_empty() { "The scenario names no target." }
                @else { "To judge these targets: " (listed(&targets)) "." }
                @if !report.chapters.is_empty() {
                    " Besides: " (listed(&report.chapters.iter().map(|c| c.title.clone()).collect::<Vec<_>>())) "."
                }
            }
        }
        h3 { "2. Logic" }
        dl.stress {
            dt { "Overview of the model" }
            dd { "Servery, seats, drop-off, soiled trays, breakdown, racking, lane, machine, clean end, carts, servery; \
                  one lunch is one run." @if !report.films.is_empty() { " The plan stands in \u{201C}The lunch in motion\u{201D}." } }
            dt { "Base logic, algorithms" }
            dd { "At each instant first what is due (work, movement and cycles end; then the clock; then arrivals), then whatever \
                  can move or start in no time, always the most downstream first; workers are given work when the ware has come \
                  to rest, from their own list read from the top. The rules are written out in the model page of the documentation." }
            dt { "Scenario logic" }
            dd { "The sentences of \u{201C}What was assumed\u{201D}." }
            dt { "Entities" }
            dd { "Diners, trays, pieces of ware, racks, members of the crew." }
            dt { "Activities, at these posts" }
            dd { (listed(&posts)) "." }
            dt { "Resources" }
            dd { (summary.people.len()) " members of the crew and " (summary.machines.len()) " machines and belts." }
            dt { "Places where things wait" }
            dd { (listed(&places)) "." }
            dt { "Entry and exit" }
            dd { "Diners enter at the servery; ware returns to it clean, and trays leave when their last piece is clean." }
        }
        h3 { "3. Data" }
        dl.stress {
            dt { "Data sources" }
            dd { (printable(&heading.note)) " " (blank("who measured what, when and how.")) }
            dt { "Pre-processing" }
            dd { (blank("how the stopwatch and the till became the numbers of the scenario.")) }
            dt { "Input parameters" }
            dd { "In the scenario and in \u{201C}What was assumed\u{201D}; " (summary.defaults.len()) " inputs stand at their default and are listed there." }
            dt { "Assumptions" }
            dd { (summary.assumptions.len()) " sentences, all of them listed there." }
        }
        h3 { "4. Experimentation" }
        dl.stress {
            dt { "Initialisation" }
            dd { "Each lunch begins empty, with all ware at the servery and all racks free; there is no warm-up to cut off." }
            dt { "Run length" }
            dd { (ends(report)) }
            dt { "Estimation" }
            dd { (printable(&simulated(summary))) " Each has its own luck: who comes when, how long they eat, what they bring, how \
                  long each piece of work takes. Means have a Student-t interval of 95 %, shares of lunches a Wilson interval; the \
                  95th of 100 has an interval from order statistics, or a dash where there are too few lunches. Bands are over \
                  lunches, minute by minute: of the minute\u{2019}s highest level, for clean stock of its lowest; no single lunch \
                  follows an edge of a band all the way." }
            dt { "Which day" }
            dd { (printable(heading.day_words.trim_end_matches('.'))) "." }
        }
        h3 { "5. Implementation" }
        dl.stress {
            dt { "Software" }
            dd { "scullery " (printable(&summary.source.version)) ", written in Rust; no other simulation software." }
            dt { "Random sampling" }
            dd { "Every value of chance is found by the seed (" (summary.seed) "), the number of the lunch, a name and an ordinal, each \
                  from a small generator of its own; so arrangements compared meet the very same diners." }
            dt { "Model execution" }
            dd { "Whole microseconds; the same scenario, seed and version give the same numbers on any machine. " (balance(&summary.balance)) }
            dt { "System" }
            dd { (blank("the machine it ran on, where that matters; no result hangs on it.")) }
        }
        h3 { "6. Access to the model" }
        dl.stress {
            dt { "Scenario" }
            dd { (printable(&summary.source.scenario)) ", SHA-256 " code { (printable(&summary.source.hash)) } "." }
            dt { "Sharing" }
            dd { (blank("where the scenario and this page are kept.")) }
        }
        p { "A dash stands where there is no value or too few lunches. It never means nought." }
    }
}

fn ends(report: &Report<'_>) -> String {
    let endings = &report.summary.endings;
    let parts = [
        (endings.stated_end, "to the stated end"),
        (
            endings.all_clean,
            "until all was clean and the last shift over",
        ),
        (endings.gridlock, "until the line locked for good"),
        (
            endings.never_drained,
            "until 12 h after the last drop-off, still busy",
        ),
    ];
    let told: Vec<String> = parts
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, words)| format!("{count} lunches {words}"))
        .collect();
    if told.is_empty() {
        "No lunch was simulated.".to_owned()
    } else {
        format!("{}.", told.join("; "))
    }
}

fn balance(sum: &BalanceSum) -> Markup {
    let even = sum.trays_in == sum.trays_out + sum.trays_inside;
    let count = |trays: u64| fixed(trays as f64, 0);
    html! {
        "Balance over all lunches: trays in " (count(sum.trays_in)) " = trays out " (count(sum.trays_out))
        " + trays still inside " (count(sum.trays_inside)) "."
        @if !even { strong.bad { " These do not agree: please report it, and do not rely on this page." } }
    }
}
