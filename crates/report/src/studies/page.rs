//! A study as one page that opens from disk.

use maud::{DOCTYPE, Markup, PreEscaped, html as markup};

use super::{Section, StudyPage};
use crate::figure::Figure;
use crate::lettering::printable;
use crate::page::head;
use crate::page::parts::table;

/// The page, made by this version of the program.
pub fn html(study: &StudyPage, version: &str) -> String {
    let page = markup! {
        (DOCTYPE)
        html lang="en" {
            (head(
                &format!("{} \u{2013} {}", printable(&study.name), printable(&study.kind)),
                version,
                None,
                "",
            ))
            body {
                a.skip href="#answer" { "Skip to the answer" }
                header.band {
                    p.kind { (printable(&study.kind)) }
                    h1 { (printable(&study.name)) }
                    p.note { (printable(&study.note)) }
                }
                main {
                    section id="answer" aria-labelledby="answer-heading" {
                        h2 id="answer-heading" { "The answer" }
                        p.answer { (printable(&study.answer)) }
                        @if !study.day.is_empty() {
                            p.day { strong { "Which day: " } (printable(study.day.trim_end_matches('.'))) "." }
                        }
                        @for alarm in &study.alarms { p.alarm { (printable(alarm)) } }
                    }
                    nav aria-label="Contents" {
                        ol {
                            @for section in &study.sections {
                                li { a href=(format!("#{}", section.id)) { (printable(&section.heading)) } }
                            }
                        }
                    }
                    @for (number, one) in study.sections.iter().enumerate() { (section(number + 1, one)) }
                }
                footer {
                    p {
                        "Made by scullery " (printable(version)) ". Pictures use the colours of Okabe and Ito (Color \
                         Universal Design, 2008) with marks, hatches and labels, so that nothing hangs on colour alone. \
                         Lettering: Scullery Sans, SIL Open Font License 1.1."
                    }
                }
            }
        }
    };
    page.into_string()
}

fn section(number: usize, one: &Section) -> Markup {
    let heading = format!("{}-heading", one.id);
    markup! {
        section id=(one.id) aria-labelledby=(heading) {
            h2 id=(heading) { span.number { (number) } " " (printable(&one.heading)) }
            @for words in &one.words { p { (printable(words)) } }
            @for shown in &one.pictures { (picture(shown)) }
            @for (shown, words) in &one.tables { (table(shown, words)) }
            @if one.id == "cautions" {
                div.caution { ul { @for line in &one.list { li { (printable(line)) } } } }
            } @else if !one.list.is_empty() {
                ul { @for line in &one.list { li { (printable(line)) } } }
            }
        }
    }
}

fn picture(shown: &Figure) -> Markup {
    markup! {
        figure id=(format!("figure-{}", shown.id)) {
            h3 { (printable(&shown.title)) }
            div.picture tabindex="0" role="group" aria-label=(format!("Picture: {}", printable(&shown.title))) {
                (PreEscaped(&shown.svg))
            }
            figcaption { (printable(&shown.caption)) }
        }
        @if !shown.tables.is_empty() {
            details {
                summary { "Numbers of this picture: " (printable(&shown.title)) }
                p { (printable(&shown.desc)) }
                @for one in &shown.tables { (table(one, &[])) }
            }
        }
    }
}
