//! The report as one page that opens from disk: no other files, readable in print, by ear, and without scripts.

mod computed;
mod head;
mod motion;
mod numbers;
pub(crate) mod parts;
mod strip;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use scullery_study::summary::Summary;

pub(crate) use self::head::{STYLE_PAPER, head};
pub(crate) use self::parts::table;
use crate::error::Fault;
use crate::figure::Figure;
use crate::lettering::printable;
use crate::number::Units;
use crate::report::{Chapter, Report, Slot};

/// The page of a summary alone.
///
/// # Errors
/// When a picture could not be drawn.
pub fn page(summary: &Summary) -> Result<String, Fault> {
    let report = Report::of(summary);
    page_with(&report, &report.figures()?)
}

/// The page of a report whose own pictures are drawn already.
///
/// # Errors
/// When the lunches in motion cannot be written.
pub fn page_with(report: &Report<'_>, pictures: &[Figure]) -> Result<String, Fault> {
    let summary = report.summary;
    let units = Units::named(&summary.heading.units);
    let name = printable(&summary.heading.name);
    let sections = sections(report, pictures, units)?;
    let moves = sections.iter().any(|section| section.id == "motion");
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (head(
                &format!("{name} \u{2013} the dish room over a lunch"),
                &summary.source.version,
                moves.then_some(motion::SCRIPT),
                "",
            ))
            body {
                a.skip href="#answer" { "Skip to the answer" }
                header.band {
                    p.kind { "Dish room report" }
                    h1 { (name) }
                    p.note { (printable(&summary.heading.note)) }
                }
                main {
                    (parts::answer(summary))
                    (contents(&sections))
                    @for (number, section) in sections.iter().enumerate() {
                        section id=(section.id) aria-labelledby=(format!("{}-heading", section.id)) {
                            h2 id=(format!("{}-heading", section.id)) {
                                span.number { (number + 1) } " " (printable(&section.title))
                            }
                            (section.body)
                        }
                    }
                }
                footer {
                    p {
                        "Made by scullery " (printable(&summary.source.version)) ". Pictures use the colours of Okabe and \
                         Ito (Color Universal Design, 2008) with dashes, hatches and labels, so that nothing hangs on \
                         colour alone. Lettering: Scullery Sans, SIL Open Font License 1.1."
                    }
                }
                @if moves { script { (PreEscaped(motion::SCRIPT)) } }
            }
        }
    };
    Ok(markup.into_string())
}

/// A chapter of the page.
struct Section {
    id: String,
    title: String,
    body: Markup,
}

fn section(id: &str, title: &str, body: Markup) -> Section {
    Section {
        id: id.to_owned(),
        title: title.to_owned(),
        body,
    }
}

/// Which chapter a picture of every report belongs to.
fn home(figure: &Figure) -> &'static str {
    let id = figure.id.as_str();
    let begins = |stems: &[&str]| {
        stems.iter().any(|stem| {
            let rest = id.strip_prefix(stem);
            rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
        })
    };
    if begins(&["progress"]) {
        "progress"
    } else if begins(&["flow"]) {
        "queue"
    } else if begins(&["stations", "people"]) {
        "crew"
    } else if begins(&["machines", "timeline"]) {
        "machine"
    } else if begins(&["stock"]) {
        "stock"
    } else if begins(&["floor"]) {
        "room"
    } else {
        "places"
    }
}

/// All chapters, in reading order; what there is nothing to say about is left out.
fn sections(report: &Report<'_>, pictures: &[Figure], units: Units) -> Result<Vec<Section>, Fault> {
    let summary = report.summary;
    let unfinished = summary.endings.gridlock + summary.endings.never_drained >= summary.repeats;
    let mut list = Vec::new();
    let pictured = |id: &str, title: &str, words: Markup, after: Option<Markup>| {
        let own: Vec<&Figure> = pictures
            .iter()
            .filter(|figure| home(figure) == id)
            .collect();
        (!own.is_empty() || after.is_some()).then(|| {
            let body = html! {
                (words)
                @for figure in own { (parts::picture(figure)) }
                @if let Some(after) = after { (after) }
            };
            section(id, title, body)
        })
    };
    list.push(section(
        "targets",
        "Targets and figures",
        html! {
            (parts::targets(summary))
            (numbers::headline(summary, units))
        },
    ));
    let stuck = html! {
        @if unfinished { p.alarm { "No lunch came to its end: the pictures show lunches up to where they stuck." } }
    };
    list.extend(pictured("progress", "The whole lunch", stuck, None));
    list.extend(pictured(
        "queue",
        "Queue, backlog and roster",
        html! {},
        None,
    ));
    if let Some(body) = motion::motion(report.films, units)? {
        list.push(section("motion", "The lunch in motion", body));
    }
    list.extend(pictured(
        "crew",
        "Posts and people",
        html! {},
        parts::held_up(summary),
    ));
    brought(&mut list, report, Slot::Bottleneck);
    list.extend(pictured("machine", "Machines and belts", html! {}, None));
    list.extend(pictured("places", "Where ware waited", html! {}, None));
    list.extend(pictured(
        "stock",
        "Clean ware and run-outs",
        html! {},
        numbers::run_outs(summary, units),
    ));
    let adds_up = &summary.planned.floor.words;
    let words = html! { @for sentence in adds_up { p { (printable(sentence)) } } };
    list.extend(pictured("room", "The room", words, None));
    list.push(section(
        "resources",
        "Labour, water, energy and money",
        numbers::resources(summary, units),
    ));
    for slot in [Slot::Staffing, Slot::Comparison, Slot::Sensitivity] {
        brought(&mut list, report, slot);
    }
    list.push(section(
        "assumptions",
        "What was assumed",
        parts::assumptions(summary),
    ));
    list.push(section("cautions", "Cautions", parts::cautions(summary)));
    list.push(section(
        "computed",
        "How this was computed",
        computed::computed(report),
    ));
    list.push(section(
        "all-measures",
        "All measures",
        numbers::all_measures(summary, units),
    ));
    Ok(list)
}

fn brought(list: &mut Vec<Section>, report: &Report<'_>, slot: Slot) {
    for chapter in report.chapters_at(slot) {
        list.push(section(&chapter.id, &chapter.title, chapter_body(chapter)));
    }
}

/// The body of a chapter that somebody brought.
fn chapter_body(chapter: &Chapter) -> Markup {
    html! {
        @for paragraph in &chapter.words { p { (printable(paragraph)) } }
        @for figure in &chapter.figures { (parts::picture(figure)) }
        @for (table, words) in &chapter.tables { (parts::table(table, words)) }
    }
}

fn contents(sections: &[Section]) -> Markup {
    html! {
        nav aria-label="Contents" {
            ol {
                @for section in sections {
                    li { a href=(format!("#{}", section.id)) { (printable(&section.title)) } }
                }
            }
        }
    }
}
