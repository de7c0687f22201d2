//! The page, the words and the files on what held the line back, and the diary of a tray.

use maud::{Markup, html};
use scullery_study::bottleneck::diary::Diary;
use scullery_study::bottleneck::why::WhyStudy;
use scullery_study::staffing::found::Searched;

use super::sheet::{picture, sheet, table};
use super::stage_figure::stage_figure;
use super::{csv_of, file, json, manifest_of, picture_files};
use crate::clock::hour_minute;
use crate::error::Fault;
use crate::figure::Figure;
use crate::folder::ReportFile;
use crate::number::fixed;
use crate::table::Table;
use crate::terminal::{plain, usable, wrap};

/// Every file of the result, the manifest last.
///
/// # Errors
/// When a picture cannot be drawn or a data file cannot be made.
pub fn why_files(study: &WhyStudy) -> Result<Vec<ReportFile>, Fault> {
    let pictures: Vec<Figure> = stage_figure(study)?.into_iter().collect();
    let mut files = vec![
        file("report.html", page(study, &pictures)),
        file("why.json", json("why.json", study)?),
        file("stages.csv", stages_csv(study)?),
    ];
    files.extend(picture_files(&study.about, &pictures)?);
    let searched = Searched {
        lunches: study.lunches,
        stopped: study.lunches < study.asked,
        ..Searched::default()
    };
    let last = manifest_of(&study.about, &searched, &files)?;
    files.push(last);
    Ok(files)
}

fn page(study: &WhyStudy, pictures: &[Figure]) -> String {
    let chains = chains(study);
    let mut sections: Vec<(&str, &str, Markup)> = vec![
        (
            "stages",
            "Quarter hour by quarter hour",
            html! { @for it in pictures { (picture(it, 2)) } },
        ),
        (
            "chains",
            "Who stood because of whom",
            html! {
                @if chains.rows.is_empty() { p { "No stage was notably blocked or starved while another held the line back." } }
                @else {
                    (table(&chains, 5))
                    p { "The last one named is the cause. A stage is named from 5 % of the quarter hour on." }
                }
            },
        ),
    ];
    if let Some(diary) = &study.diary {
        sections.push((
            "diary",
            "The diary of one tray",
            html! { p { (diary_words(diary)) } (table(&diary_table(diary), 2)) },
        ));
    }
    sections.push((
        "how",
        "How this was computed",
        html! {
            p {
                (study.lunches) " simulated lunches. In each lunch and quarter hour the stage that held the line back is, of those that \
                 worked for more than 80 % of it and have a blocked stage right before or a starved one right behind, the one that \
                 was least blocked and starved itself (the turning point: Li, Chang and Ni 2009, from memory). Whoever gives empty \
                 racks back can hold up those who fill them. Work that is held back by plan does not count while trays are broken \
                 down and find room. People belong to the post of their last task."
            }
        },
    ));
    sheet(
        &study.about,
        "What held the line back",
        &study.answer,
        &sections,
    )
}

/// For each stretch with one bottleneck: who was blocked and starved, and by whom.
fn chains(study: &WhyStudy) -> Table {
    let mut it = Table::new(
        "Stages that stood while another held the line back",
        &[
            "Quarter hour",
            "Held the line back",
            "Who stood",
            "How",
            "Because of",
        ],
    );
    for (q, quarter) in study.quarters.iter().enumerate() {
        let Some(bottleneck) = quarter.bottleneck else {
            continue;
        };
        for (stage, name) in study
            .stages
            .iter()
            .enumerate()
            .filter(|(s, _)| *s != bottleneck)
        {
            let [_, blocked, starved] = quarter.shares[stage];
            for (share, how, by) in [
                (blocked, "blocked", &quarter.blocked_by[stage]),
                (starved, "starved", &quarter.starved_by[stage]),
            ] {
                if !by.is_empty() {
                    it.rows.push(vec![
                        hour_minute(u64::from(study.from_min) + 15 * q as u64),
                        study.stages[bottleneck].clone(),
                        name.clone(),
                        format!("{how} {} % of it", fixed(share * 100.0, 0)),
                        format!("by {by}"),
                    ]);
                }
            }
        }
    }
    it
}

fn diary_words(diary: &Diary) -> String {
    let took = match diary.minutes {
        Some(minutes) => {
            format!("from the drop-off until its last piece was clean it took {minutes:.1} min")
        }
        None => "it was not wholly clean by the end".into(),
    };
    format!(
        "The tray of diner {} in lunch {}: {took}.",
        diary.diner, diary.lunch
    )
}

fn second(at_s: f64) -> String {
    let s = at_s as u64;
    format!("{}:{:02}", hour_minute(s / 60), s % 60)
}

fn diary_table(diary: &Diary) -> Table {
    let mut it = Table::new(
        "Its diary",
        &["Clock", "What happened", "Minutes since the line before"],
    );
    it.rows = diary
        .entries
        .iter()
        .map(|entry| {
            vec![
                second(entry.at_s),
                entry.words.clone(),
                fixed(entry.after_min, 2),
            ]
        })
        .collect();
    it
}

fn stages_csv(study: &WhyStudy) -> Result<Vec<u8>, Fault> {
    let mut head = vec![
        "clock".to_owned(),
        "bottleneck".to_owned(),
        "in_lunches".to_owned(),
    ];
    for stage in &study.stages {
        head.extend(
            ["worked", "blocked", "starved", "bottleneck_in_lunches"]
                .map(|part| format!("{stage}.{part}")),
        );
    }
    let head: Vec<&str> = head.iter().map(String::as_str).collect();
    let rows = study.quarters.iter().enumerate().map(|(q, quarter)| {
        let mut row = vec![
            hour_minute(u64::from(study.from_min) + 15 * q as u64),
            quarter
                .bottleneck
                .map_or(String::new(), |s| study.stages[s].clone()),
            quarter.in_lunches.to_string(),
        ];
        for (shares, count) in quarter.shares.iter().zip(&quarter.counts) {
            row.extend(shares.iter().map(f64::to_string));
            row.push(count.to_string());
        }
        row
    });
    csv_of("stages.csv", &head, rows)
}

/// What the terminal says, `width` columns wide at most, with a line feed at its end.
pub fn why_terminal(study: &WhyStudy, width: usize) -> String {
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
            "{} simulated lunches, seed {}.",
            study.lunches, study.about.seed
        ),
        "",
    );
    say("", "");
    say(
        "Quarter hour by quarter hour (each stage: % worked / blocked / starved)",
        "",
    );
    for (number, stage) in study.stages.iter().enumerate() {
        say(&format!("  {}: {stage}", super::letter(number)), "     ");
    }
    for (q, quarter) in study.quarters.iter().enumerate() {
        let cells: Vec<String> = quarter
            .shares
            .iter()
            .enumerate()
            .map(|(stage, [w, b, s])| {
                format!(
                    "{} {:.0}/{:.0}/{:.0}",
                    super::letter(stage),
                    w * 100.0,
                    b * 100.0,
                    s * 100.0
                )
            })
            .collect();
        let who = quarter.bottleneck.map_or("none".into(), |s| {
            format!("{} ({})", study.stages[s], quarter.in_lunches)
        });
        let clock = hour_minute(u64::from(study.from_min) + 15 * q as u64);
        say(
            &format!("  {clock}  {who}: {}", cells.join("  ")),
            "         ",
        );
    }
    if let Some(diary) = &study.diary {
        say("", "");
        say(&diary_words(diary), "");
        for entry in &diary.entries {
            say(
                &format!("  {}  {}", second(entry.at_s), entry.words),
                "            ",
            );
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn seconds_are_cut_off_not_rounded_up() {
        assert_eq!(second(43_259.9), "12:00:59");
    }
}
