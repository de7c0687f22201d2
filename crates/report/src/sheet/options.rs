//! Arrangements side by side: what each would cost to buy and to run, the labour, and how surely it holds.

use maud::{Markup, html};
use scullery_study::summary::{HeadingText, Measure, Summary, TargetResult};

use super::sheet;
use crate::lettering::printable;
use crate::number::{DASH, Units, between, fixed, row_texts};

/// One arrangement among those compared; the first is what the others are measured against.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arrangement {
    /// Its name.
    pub name: String,
    /// What is different in it, a sentence.
    pub words: String,
    /// To buy and build, in the user's money; `None`: not given.
    pub invest: Option<f64>,
    /// To run it for a lunch, all that has a price.
    pub run: Option<Measure>,
    /// What labour it takes or gives: paid hours a lunch, or covers for an hour of labour.
    pub labour: Option<Measure>,
    /// Its targets with their verdicts.
    pub targets: Vec<TargetResult>,
    /// Cost a year less than the first's, with its 95 % interval: positive when it is cheaper.
    pub saves_a_year: Option<(f64, Option<[f64; 2]>)>,
    /// Years until the investment has come back; `None`: never, or not to be told.
    pub payback_years: Option<f64>,
}

/// Looks of this sheet alone.
const STYLE: &str = "
.sheet { max-width: 80rem; }
.cards { display: grid; gap: 1rem; grid-template-columns: repeat(auto-fit, minmax(min(100%, 16rem), 1fr)); }
.cards section { border: 1px solid var(--rule); border-top: 0.5rem solid var(--deep); break-inside: avoid; margin: 0; padding: 0.8rem 1rem; }
.cards h2 { margin-top: 0; }
.cards dl { display: grid; grid-template-columns: auto auto; gap: 0.2rem 0.8rem; margin: 0.6rem 0; }
.cards dd { margin: 0; text-align: right; font-weight: bold; font-variant-numeric: tabular-nums; }
.cards ul { list-style: none; margin: 0; padding: 0; } .cards li { padding: 0.2rem 0; }
@page { size: landscape; margin: 12mm; }
@media print { .sheet { padding: 0; max-width: none; min-height: 0; } }
";

/// The page of these arrangements; `None` with fewer than two.
pub fn options_page(summary: &Summary, arrangements: &[Arrangement]) -> Option<String> {
    options_sheet(&summary.heading, &summary.source.version, arrangements)
}

/// The same for any study that has arrangements.
pub(crate) fn options_sheet(
    heading: &HeadingText,
    version: &str,
    arrangements: &[Arrangement],
) -> Option<String> {
    if arrangements.len() < 2 {
        return None;
    }
    let title = format!("{} \u{2013} options", printable(&heading.name));
    let money = if heading.currency.is_empty() {
        "money"
    } else {
        &heading.currency
    };
    let body = html! {
        h1 { "Options side by side" }
        p.note { (printable(&heading.name)) ". " (printable(&heading.note)) }
        p { "All options meet the very same diners in each simulated lunch, so what differs is the option. Amounts are means of a lunch; between which ends the mean lies (95 % sure) stands below." }
        div.cards { @for (number, option) in arrangements.iter().enumerate() { (card(option, number == 0, money)) } }
    };
    Some(sheet(&title, version, STYLE, &body))
}

/// Years beyond which it is only said that it takes longer.
const LONGEST_YEARS: f64 = 50.0;

/// When an investment has come back, in words.
fn comes_back(years: Option<f64>) -> String {
    match years {
        None => DASH.to_owned(),
        Some(years) if years > LONGEST_YEARS => format!("more than {LONGEST_YEARS} years"),
        Some(years) => format!("{} years", fixed(years, 1)),
    }
}

fn mean_words(measure: Option<&Measure>, unit: &str) -> Markup {
    let Some(measure) = measure else {
        return html! { (DASH) };
    };
    let ends = measure
        .ci95
        .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
    let [mean, low, high] = row_texts(
        [measure.mean, ends[0], ends[1]],
        &measure.unit,
        Units::Metric,
    );
    html! { (mean) " " (printable(unit)) br; span.note { (between(&low, &high)) } }
}

fn card(option: &Arrangement, first: bool, money: &str) -> Markup {
    html! {
        section {
            h2 { (printable(&option.name)) }
            p { (printable(&option.words)) }
            dl {
                dt { "To buy and build" }
                dd { (option.invest.map_or_else(|| DASH.to_owned(), |sum| format!("{} {money}", fixed(sum, 0)))) }
                dt { "To run, a lunch" }
                dd { (mean_words(option.run.as_ref(), money)) }
                @let hours = option.labour.as_ref().is_none_or(|labour| labour.unit == "h");
                dt { @if hours { "Labour, a lunch" } @else { "Covers for an hour of labour" } }
                dd { (mean_words(option.labour.as_ref(), if hours { "h" } else { "" })) }
                @if !first {
                    dt { "Saves a year" }
                    dd {
                        @match option.saves_a_year {
                            Some((sum, ends)) => {
                                (fixed(sum, 0)) " " (printable(money))
                                @if let Some([low, high]) = ends { br; span.note { (fixed(low, 0)) " to " (fixed(high, 0)) } }
                            }
                            None => { (DASH) }
                        }
                    }
                    dt { "Comes back in" }
                    dd { (comes_back(option.payback_years)) }
                }
            }
            h3 { "Risk" }
            @if option.targets.is_empty() { p { "No target was set." } }
            ul {
                @for target in &option.targets {
                    li { strong { (printable(&target.verdict)) } ": " (printable(&target.words)) ". " span.note { (printable(&target.evidence)) } }
                }
            }
        }
    }
}
