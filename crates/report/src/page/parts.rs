//! The parts of the page that are mostly words, and how pictures and tables stand in it.

use maud::{Markup, PreEscaped, html};
use scullery_study::summary::{Summary, TargetResult};

use crate::figure::Figure;
use crate::lettering::printable;
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

/// A picture with its words, and its numbers in a table to be opened.
pub(crate) fn picture(picture: &Figure) -> Markup {
    let title = printable(&picture.title);
    html! {
        figure id=(format!("figure-{}", picture.id)) {
            h3 { (title) }
            div.picture tabindex="0" role="group" aria-label=(format!("Picture: {title}")) { (PreEscaped(&picture.svg)) }
            figcaption { (printable(&picture.caption)) }
        }
        details {
            summary { "Numbers of this picture: " (title) }
            p { (printable(&picture.desc)) }
            @for table in &picture.tables { (self::table(table, &[])) }
        }
    }
}

pub(super) fn answer(summary: &Summary) -> Markup {
    let endings = &summary.endings;
    html! {
        section #answer aria-labelledby="answer-heading" {
            h2 #answer-heading { "The answer" }
            p.answer { (printable(&summary.answer)) }
            p.day { strong { "Which day: " } (printable(summary.heading.day_words.trim_end_matches('.'))) "." }
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
        }
    }
}

/// The targets as cards: the verdict, what was asked for, the evidence, and a scale of lunches.
pub(super) fn targets(summary: &Summary) -> Markup {
    html! {
        @if summary.targets.is_empty() { p { "The scenario names no targets." } }
        @else {
            p {
                "What was asked for, whether it holds, and how surely. \u{201C}Not sure yet\u{201D} means that the interval \
                 holds the bar itself: more lunches would tell. On each scale, from 0 to 100 of 100 lunches, the ring is what was \
                 seen, the bar around it where the truth lies (95 % sure), the upright stroke what was asked."
            }
            ul.targets {
                @for target in &summary.targets {
                    li class=(verdict_class(&target.verdict)) {
                        p.verdict { (sign(&target.verdict)) " " (printable(&target.verdict)) }
                        p.words { (printable(&target.words)) }
                        (scale(target))
                        p.evidence { (printable(&target.evidence)) }
                    }
                }
            }
        }
    }
}

fn verdict_class(verdict: &str) -> &'static str {
    match verdict {
        "holds" => "holds",
        "fails" => "fails",
        _ => "unsure",
    }
}

/// A sign for a verdict, drawn, so that it needs no letter of the font and no colour.
fn sign(verdict: &str) -> Markup {
    let path = match verdict {
        "holds" => "M3 9l4 4 8-9",
        "fails" => "M4 4l10 10M14 4L4 14",
        _ => "M4 9h10",
    };
    html! {
        svg.sign width="18" height="18" viewBox="0 0 18 18" aria-hidden="true" { path d=(path) {} }
    }
}

/// Lunches that held it on a scale of 100, with the interval and the bar; the evidence beside says the same in words.
fn scale(target: &TargetResult) -> Markup {
    let (Some(held), Some([low, high]), Some(asked)) =
        (target.held, target.interval, target.asked_of_100)
    else {
        return html! {};
    };
    let at = |share: f64| 7.0 + 186.0 * share.clamp(0.0, 1.0);
    let n = |x: f64| format!("{x:.1}");
    let seen = held as f64 / target.of.max(1) as f64;
    html! {
        svg.scale viewBox="0 0 200 24" aria-hidden="true" {
            path.rail d="M7 14H193" {}
            path.interval d=(format!("M{} 14H{}", n(at(low)), n(at(high).max(at(low) + 1.0)))) {}
            circle.seen cx=(n(at(seen))) cy="14" r="4.5" {}
            path.asked d=(format!("M{} 4V22", n(at(asked / 100.0)))) {}
        }
        p.scale-words aria-hidden="true" { span { "0" } span { "100 lunches" } }
    }
}

/// Who was held up by whom; `None` when nobody was.
pub(super) fn held_up(summary: &Summary) -> Option<Markup> {
    let anybody = summary.held_up.iter().any(|held| held.minutes >= 0.05);
    anybody.then(|| {
        html! {
            h3 { "Held up by whom" }
            p {
                "Somebody is held up when the work in hand is finished and there is no place for it. The place named is \
                 the one that lacked room, so look for the cause behind it. A machine is held up by a full clean end."
            }
            (table(&table::held_up(summary), &[1]))
        }
    })
}

fn list(sentences: &[String]) -> Markup {
    html! { ul { @for sentence in sentences { li { (printable(sentence)) } } } }
}

pub(super) fn assumptions(summary: &Summary) -> Markup {
    html! {
        (list(&summary.assumptions))
        h3 #defaults { "Inputs left at their default" }
        @if summary.defaults.is_empty() { p { "None: every input was given." } }
        @else { (table(&table::defaults(summary), &[1, 2])) }
    }
}

pub(super) fn cautions(summary: &Summary) -> Markup {
    html! { div.caution { (list(&summary.cautions)) } }
}
