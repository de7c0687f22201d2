//! The report as one page that opens from disk: no scripts, no other files, readable in print and by ear.

pub(crate) mod parts;
mod strip;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use scullery_study::summary::Summary;

use crate::error::Fault;
use crate::figure::{Figure, figures};
use crate::lettering::{FONT_WOFF2, printable};
use crate::number::Units;

/// The looks of the page.
pub(crate) const STYLE: &str = include_str!("style.css");

/// Headings of the page with their ids, in reading order.
const SECTIONS: [(&str, &str); 11] = [
    ("answer", "The answer"),
    ("targets", "Targets"),
    ("measures", "Headline measures"),
    ("pictures", "Pictures"),
    ("held-up", "Held up by whom"),
    ("resources", "Resources and money"),
    ("assumptions", "What was assumed"),
    ("defaults", "Inputs left at their default"),
    ("computed", "How this was computed"),
    ("all-measures", "All measures"),
    ("cautions", "Cautions"),
];

/// The page of a summary.
///
/// # Errors
/// When a picture could not be drawn.
pub fn page(summary: &Summary) -> Result<String, Fault> {
    Ok(page_with(summary, &figures(summary)?))
}

/// The page of a summary whose pictures are drawn already.
pub fn page_with(summary: &Summary, pictures: &[Figure]) -> String {
    let units = Units::named(&summary.heading.units);
    let name = printable(&summary.heading.name);
    let unfinished = summary.endings.gridlock + summary.endings.never_drained >= summary.repeats;
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                meta name="generator" content=(format!("scullery {}", printable(&summary.source.version)));
                title { (name) " \u{2013} the dish room over a lunch" }
                style { (PreEscaped(font_face())) (PreEscaped(STYLE)) }
            }
            body {
                a.skip href="#answer" { "Skip to the answer" }
                header {
                    p.kind { "Dish room report" }
                    h1 { (name) }
                    p.note { (printable(&summary.heading.note)) }
                }
                main {
                    (parts::answer(summary))
                    (contents())
                    (parts::targets(summary))
                    (parts::headline(summary, units))
                    (self::pictures(pictures, unfinished))
                    (parts::held_up(summary))
                    (parts::resources(summary, units))
                    (parts::assumptions(summary))
                    (parts::defaults(summary))
                    (parts::computed(summary))
                    (parts::all_measures(summary, units))
                    (parts::cautions(summary))
                }
                footer {
                    p {
                        "Made by scullery " (printable(&summary.source.version)) ". Pictures use the colours of Okabe and \
                         Ito (Color Universal Design, 2008) with dashes, hatches and labels, so that nothing hangs on \
                         colour alone. Lettering: Scullery Sans, SIL Open Font License 1.1."
                    }
                }
            }
        }
    };
    markup.into_string()
}

/// The embedded font as a rule of the style sheet.
pub(crate) fn font_face() -> String {
    format!(
        "@font-face{{font-family:\"Scullery Sans\";font-display:swap;src:url(data:font/woff2;base64,{}) \
         format(\"woff2\");}}\n",
        STANDARD.encode(FONT_WOFF2)
    )
}

fn contents() -> Markup {
    html! {
        nav aria-label="Contents" {
            ul {
                @for (id, heading) in SECTIONS.iter().skip(1) {
                    li { a href=(format!("#{id}")) { (*heading) } }
                }
            }
        }
    }
}

/// Heading of a section.
fn heading(id: &str) -> &'static str {
    SECTIONS
        .iter()
        .find(|(known, _)| *known == id)
        .map_or("", |(_, heading)| heading)
}

/// A section with its heading.
fn section(id: &str, body: &Markup) -> Markup {
    html! {
        section id=(id) aria-labelledby=(format!("{id}-heading")) {
            h2 id=(format!("{id}-heading")) { (heading(id)) }
            (body)
        }
    }
}

fn pictures(pictures: &[Figure], unfinished: bool) -> Markup {
    section(
        "pictures",
        &html! {
            p { "Each picture has its numbers in a table under it. Tables that stand open are printed too." }
            @if unfinished {
                p.alarm { "No lunch came to its end, so there are no levels to draw." }
            }
            @for picture in pictures {
                figure id=(format!("figure-{}", picture.id)) {
                    h3 { (printable(&picture.title)) }
                    div.picture tabindex="0" role="group" aria-label=(format!("Picture: {}", printable(&picture.title))) {
                        (PreEscaped(&picture.svg))
                    }
                    figcaption { (printable(&picture.caption)) }
                }
                details {
                    summary { "Numbers of this picture: " (printable(&picture.title)) }
                    p { (printable(&picture.desc)) }
                    @for table in &picture.tables { (parts::table(table, &[])) }
                }
            }
        },
    )
}
