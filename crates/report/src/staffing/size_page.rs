//! The page, the words and the files of a search for a size.

use maud::html;
use scullery_study::staffing::found::SizeStudy;

use super::heat::{Named, heat_map};
use super::sheet::{picture, sheet, table};
use super::{csv_of, file, json, manifest_of, picture_files};
use crate::error::Fault;
use crate::figure::Figure;
use crate::folder::ReportFile;
use crate::lettering::printable;
use crate::number::{DASH, fixed};
use crate::table::Table;
use crate::terminal::{plain, usable, wrap};

/// Every file of the result, the manifest last.
///
/// # Errors
/// When a picture cannot be drawn or a data file cannot be made.
pub fn size_files(study: &SizeStudy) -> Result<Vec<ReportFile>, Fault> {
    let pictures = figures(study)?;
    let mut files = vec![
        file("report.html", page_with(study, &pictures)),
        file("size.json", json("size.json", study)?),
        file("sizes.csv", sizes_csv(study)?),
        file("trade.csv", trade_csv(study)?),
    ];
    files.extend(picture_files(&study.about, &pictures)?);
    let last = manifest_of(&study.about, &study.searched, &files)?;
    files.push(last);
    Ok(files)
}

fn figures(study: &SizeStudy) -> Result<Vec<Figure>, Fault> {
    let map = heat_map(
        &Named {
            id: "sizes",
            title: "Sizes against targets",
            caption: "One row a size, smallest first, with the crew as it is; in each cell the lunches in which the target held, \
                      or the mean of what it speaks of. Hatched: the target fails. Outlined in black: the size the scenario \
                      has; in red: the smallest that holds.",
            row: "Size",
        },
        &study.about.targets,
        &study.rows,
    )?;
    Ok(map.into_iter().collect())
}

fn page_with(study: &SizeStudy, pictures: &[Figure]) -> String {
    let searched = &study.searched;
    let sections = vec![
        (
            "sizes",
            "Sizes against targets",
            html! { @for it in pictures { (picture(it, 1)) } },
        ),
        (
            "trade",
            "Crew against size, over the years",
            html! {
                @if study.trades.is_empty() { p { "Other crews were not tried." } }
                @else {
                    (table(&trade_table(study), 1))
                    p {
                        "Labour a year: paid hours a meal \u{00D7} wage \u{00D7} days open. Size a year: price over the years it lasts. \
                         A dash: no size of the list holds with that crew, or a price is missing."
                    }
                }
            },
        ),
        (
            "sure",
            "How sure this is",
            html! {
                p { (printable(&searched.promise)) }
                p { (printable(&searched.bounds)) }
                p {
                    (study.tried.len()) " of " (searched.choices) " sizes were looked at with the crew as it is; in all "
                    (fixed(searched.lunches as f64, 0)) " simulated lunches to decide and "
                    (fixed(searched.lunches_to_show as f64, 0)) " for the figures on this page. Every size met the very same lunches."
                }
                @for notice in &study.notices { p.alarm { (printable(notice)) } }
                @if searched.stopped { p.alarm { "The search was stopped before its end." } }
                p.caution {
                    "A planning aid: data plates, local codes and licensed practice decide on machines and belts; faster belts tip \
                     trays and hurry hands."
                }
            },
        ),
    ];
    sheet(
        &study.about,
        &format!("The least {} that holds", study.what),
        &study.answer,
        &sections,
    )
}

fn trade_table(study: &SizeStudy) -> Table {
    let mut it = Table::new(
        "The least size by crew, and what both cost",
        &[
            "Crew",
            "People",
            "Paid hours a meal",
            "Least size that holds",
            "Price",
            "Labour a year",
            "Size a year",
            "Both a year",
        ],
    );
    let money = |value: Option<f64>| value.map_or(DASH.to_owned(), |v| fixed(v, 0));
    it.rows = study
        .trades
        .iter()
        .map(|t| {
            vec![
                t.crew.clone(),
                t.people.to_string(),
                fixed(t.hours, 2),
                t.size.clone().unwrap_or(DASH.to_owned()),
                money(t.price),
                money(t.labour_a_year),
                money(t.size_a_year),
                money(t.total_a_year),
            ]
        })
        .collect();
    it
}

fn sizes_csv(study: &SizeStudy) -> Result<Vec<u8>, Fault> {
    let mut head = vec![
        "size",
        "price",
        "verdict",
        "marks",
        "lunches",
        "lunches_held",
    ];
    head.extend(study.about.targets.iter().map(String::as_str));
    let rows = study.rows.iter().map(|r| {
        let mut row = vec![
            r.words.clone(),
            r.cost.to_string(),
            r.verdict.clone(),
            r.marks.join("; "),
            r.lunches.to_string(),
            r.all_held.to_string(),
        ];
        row.extend(r.cells.iter().map(|cell| match (cell.held, cell.mean) {
            (Some(held), _) => held.to_string(),
            (None, Some(mean)) => mean.to_string(),
            _ => DASH.to_owned(),
        }));
        row
    });
    csv_of("sizes.csv", &head, rows)
}

fn trade_csv(study: &SizeStudy) -> Result<Vec<u8>, Fault> {
    let head = [
        "crew",
        "people",
        "paid_hours",
        "least_size",
        "price",
        "labour_a_year",
        "size_a_year",
        "both_a_year",
    ];
    let number = |value: Option<f64>| value.map_or(DASH.to_owned(), |v| v.to_string());
    let rows = study.trades.iter().map(|t| {
        vec![
            t.crew.clone(),
            t.people.to_string(),
            t.hours.to_string(),
            t.size.clone().unwrap_or(DASH.to_owned()),
            number(t.price),
            number(t.labour_a_year),
            number(t.size_a_year),
            number(t.total_a_year),
        ]
    });
    csv_of("trade.csv", &head, rows)
}

/// What the terminal says, `width` columns wide at most, with a line feed at its end.
pub fn size_terminal(study: &SizeStudy, width: usize) -> String {
    let width = usable(width);
    let mut out = String::new();
    let mut say = |text: &str, hang: &str| {
        for line in wrap(&plain(text), width, hang) {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    };
    say(&study.answer, "");
    say("", "");
    say(&format!("{}: {}", study.about.name, study.about.note), "");
    say(
        &format!(
            "Which day: {}.",
            study.about.day_words.trim_end_matches('.')
        ),
        "",
    );
    say(&study.searched.bounds, "");
    say(&study.searched.promise, "");
    for notice in &study.notices {
        say(&format!("! {notice}"), "  ");
    }
    say("", "");
    say(
        &format!(
            "Sizes of {} (lunches in which each target held)",
            study.what
        ),
        "",
    );
    for (number, target) in study.about.targets.iter().enumerate() {
        say(&format!("  {}: {target}", super::letter(number)), "     ");
    }
    for row in &study.rows {
        let marks = match row.marks.is_empty() {
            true => String::new(),
            false => format!("  <- {}", row.marks.join(", ")),
        };
        say(
            &format!(
                "  {:<14} [{}] {}{marks}",
                row.words,
                row.verdict,
                super::cells(row)
            ),
            "      ",
        );
    }
    if !study.trades.is_empty() {
        say("", "");
        say("Crew against size", "");
        for t in &study.trades {
            let size = t.size.as_deref().unwrap_or("no size holds");
            let total = t.total_a_year.map_or(String::new(), |total| {
                format!(
                    ", {} {} a year for both",
                    fixed(total, 0),
                    study.about.currency
                )
            });
            say(
                &format!("  {} ({:.2} h): {size}{total}", t.crew, t.hours),
                "      ",
            );
        }
    }
    out
}
