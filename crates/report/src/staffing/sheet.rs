//! The frame of a page on a search: heading, sections, tables, pictures; no scripts, no other files.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use scullery_study::staffing::found::About;

use crate::figure::Figure;
use crate::lettering::printable;
use crate::page::head;
use crate::table::Table;

/// A page made of sections: id, heading and body of each.
pub(super) fn sheet(
    about: &About,
    kind: &str,
    answer: &str,
    sections: &[(&str, &str, Markup)],
) -> String {
    let name = printable(&about.name);
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (head(&format!("{name} \u{2013} {kind}"), &about.version, None, ""))
            body {
                a.skip href="#answer" { "Skip to the answer" }
                header.band {
                    p.kind { (kind) }
                    h1 { (name) }
                    p.note { (printable(&about.note)) }
                }
                main {
                    section id="answer" aria-labelledby="answer-heading" {
                        h2 id="answer-heading" { "The answer" }
                        p.answer { (printable(answer)) }
                        p.day { strong { "Which day: " } (printable(about.day_words.trim_end_matches('.'))) "." }
                    }
                    nav aria-label="Contents" {
                        ol { @for (id, heading, _) in sections { li { a href=(format!("#{id}")) { (heading) } } } }
                    }
                    @for (number, (id, heading, body)) in sections.iter().enumerate() {
                        section id=(id) aria-labelledby=(format!("{id}-heading")) {
                            h2 id=(format!("{id}-heading")) { span.number { (number + 1) } " " (heading) }
                            (body)
                        }
                    }
                }
                footer {
                    p {
                        "Made by scullery " (printable(&about.version)) " from " (printable(&about.source)) ", seed " (about.seed)
                        ". Pictures use the colours of Okabe and Ito (Color Universal Design, 2008) with hatches, outlines and \
                         words, so that nothing hangs on colour alone. Lettering: Scullery Sans, SIL Open Font License 1.1."
                    }
                }
            }
        }
    };
    markup.into_string()
}

/// A table that scrolls by itself; columns from `numbers` on hold numbers.
pub(super) fn table(table: &Table, numbers: usize) -> Markup {
    let class = |column: usize| if column < numbers { "w" } else { "n" };
    html! {
        div.scroll tabindex="0" role="group" aria-label=(printable(&table.caption)) {
            table {
                caption { (printable(&table.caption)) }
                thead { tr { @for (column, text) in table.head.iter().enumerate() {
                    th scope="col" class=(class(column)) { (printable(text)) }
                } } }
                tbody { @for row in &table.rows { tr { @for (column, text) in row.iter().enumerate() {
                    @if column == 0 { th scope="row" class="w" { (printable(text)) } }
                    @else { td class=(class(column)) { (printable(text)) } }
                } } } }
            }
        }
    }
}

/// A picture with its caption, and its numbers folded under it.
pub(super) fn picture(picture: &Figure, numbers: usize) -> Markup {
    html! {
        figure id=(format!("figure-{}", picture.id)) {
            div.picture tabindex="0" role="group" aria-label=(format!("Picture: {}", printable(&picture.title))) {
                (PreEscaped(&picture.svg))
            }
            figcaption { (printable(&picture.caption)) }
        }
        @if !picture.tables.is_empty() {
            details {
                summary { "Numbers of this picture: " (printable(&picture.title)) }
                p { (printable(&picture.desc)) }
                @for it in &picture.tables { (table(it, numbers)) }
            }
        }
    }
}
