//! The page and the files of a search for a crew.

use maud::{Markup, html};
use scullery_study::staffing::found::CrewStudy;

use super::crew_figures::crew_figures;
use super::roster_figure::shifts_table;
use super::sheet::{picture, sheet, table};
use super::{cost, csv_of, file, json, manifest_of, picture_files};
use crate::error::Fault;
use crate::figure::Figure;
use crate::folder::ReportFile;
use crate::lettering::printable;
use crate::number::fixed;
use crate::table::Table;

/// Every file of the result, the manifest last.
///
/// # Errors
/// When a picture cannot be drawn or a data file cannot be made.
pub fn crew_files(study: &CrewStudy) -> Result<Vec<ReportFile>, Fault> {
    let pictures = crew_figures(study)?;
    let mut files = vec![
        file("report.html", page_with(study, &pictures)),
        file("crew.json", json("crew.json", study)?),
        file("crews.csv", crews_csv(study)?),
        file("shown.csv", shown_csv(study)?),
    ];
    files.extend(picture_files(&study.about, &pictures)?);
    let last = manifest_of(&study.about, &study.searched, &files)?;
    files.push(last);
    Ok(files)
}

/// The page.
///
/// # Errors
/// When a picture could not be drawn.
pub fn crew_page(study: &CrewStudy) -> Result<String, Fault> {
    Ok(page_with(study, &crew_figures(study)?))
}

fn page_with(study: &CrewStudy, pictures: &[Figure]) -> String {
    let shown = |id: &str| -> Markup {
        html! { @for it in pictures.iter().filter(|p| p.id == id) { (picture(it, 1)) } }
    };
    let searched = &study.searched;
    let sure = html! {
        p { (printable(&searched.promise)) }
        p { (printable(&searched.bounds)) }
        p {
            (study.tried.len()) " of " (searched.choices) " crews were looked at, in " (fixed(searched.lunches as f64, 0))
            " simulated lunches; " (fixed(searched.lunches_to_show as f64, 0)) " more for the figures on this page. All crews met \
             the very same lunches."
        }
        @for notice in &study.notices { p.alarm { (printable(notice)) } }
        @if searched.stopped { p.alarm { "The search was stopped before its end." } }
    };
    let mut sections: Vec<(&str, &str, Markup)> = vec![
        ("crews", "Crews against targets", shown("crews")),
        (
            "frontier",
            "Labour hours against service",
            shown("frontier"),
        ),
        (
            "missing",
            "With one person missing",
            missing(study, &shown("one-missing")),
        ),
    ];
    if let Some(roster) = &study.roster {
        sections.push((
            "roster",
            "The roster",
            html! {
                p { (printable(&roster.answer)) }
                (shown("roster"))
                (table(&shifts_table(roster), 4))
                ul { @for rule in &roster.rules { li { (printable(rule)) } } }
                p.caution {
                    "A planning aid: contract, law and the people themselves decide on hours and rest. Rest breaks, reach, lifting and \
                     wet floors are people\u{2019}s health; plan for them, not around them."
                }
            },
        ));
    }
    sections.push(("sure", "How sure this is", sure));
    sections.push(("all", "Every crew looked at", html! {
        details { summary { "Table of " (study.tried.len()) " crews" } (table(&tried_table(study), 1)) }
    }));
    sheet(
        &study.about,
        "The smallest crew that holds",
        &study.answer,
        &sections,
    )
}

fn missing(study: &CrewStudy, map: &Markup) -> Markup {
    html! {
        @if study.one_missing.is_empty() { p { "No crew was chosen, or it has one person only." } }
        (map)
        @if let Some(row) = study.marked("holds with one missing") {
            p {
                "The cheapest crew from the chosen one on that holds whoever is missing: " strong { (row.people) " people" } ", "
                (fixed(row.hours, 2)) " paid hours, " (cost(row.cost, &study.about.currency)) " (" (printable(&row.words)) ")."
            }
        }
    }
}

fn tried_table(study: &CrewStudy) -> Table {
    let mut it = Table::new(
        "In order of cost, as the search left them",
        &[
            "Crew",
            "People",
            "Paid hours",
            "Cost",
            "What became of it",
            "Lunches",
            "Lunches that held",
        ],
    );
    it.rows = study
        .tried
        .iter()
        .map(|t| {
            let fate = match &t.failed {
                Some(target) => format!("{}: {target}", t.fate),
                None => t.fate.clone(),
            };
            vec![
                t.words.clone(),
                t.people.to_string(),
                fixed(t.hours, 2),
                cost(t.cost, &study.about.currency),
                fate,
                t.lunches.to_string(),
                t.all_held.to_string(),
            ]
        })
        .collect();
    it
}

fn crews_csv(study: &CrewStudy) -> Result<Vec<u8>, Fault> {
    let head = [
        "crew",
        "people",
        "paid_hours",
        "cost",
        "fate",
        "failed_target",
        "lunches",
        "lunches_held",
    ];
    let rows = study.tried.iter().map(|t| {
        vec![
            t.words.clone(),
            t.people.to_string(),
            t.hours.to_string(),
            t.cost.to_string(),
            t.fate.clone(),
            t.failed.clone().unwrap_or_default(),
            t.lunches.to_string(),
            t.all_held.to_string(),
        ]
    });
    csv_of("crews.csv", &head, rows)
}

fn shown_csv(study: &CrewStudy) -> Result<Vec<u8>, Fault> {
    let mut head = vec![
        "crew",
        "people",
        "paid_hours",
        "cost",
        "past_shift_cost",
        "verdict",
        "marks",
        "lunches",
        "lunches_held",
    ];
    head.extend(study.about.targets.iter().map(String::as_str));
    let rows = study.rows.iter().chain(&study.one_missing).map(|r| {
        let mut row = vec![
            r.words.clone(),
            r.people.to_string(),
            r.hours.to_string(),
            r.cost.to_string(),
            r.extra_cost.to_string(),
            r.verdict.clone(),
            r.marks.join("; "),
            r.lunches.to_string(),
            r.all_held.to_string(),
        ];
        row.extend(r.cells.iter().map(|cell| match (cell.held, cell.mean) {
            (Some(held), _) => held.to_string(),
            (None, Some(mean)) => mean.to_string(),
            _ => crate::number::DASH.to_owned(),
        }));
        row
    });
    csv_of("shown.csv", &head, rows)
}
