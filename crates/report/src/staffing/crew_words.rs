//! What the terminal says of a search for a crew.

use scullery_study::staffing::found::{CrewStudy, Row};

use super::roster_figure::spans;
use super::{cells, cost, letter, people};
use crate::terminal::{plain, usable, wrap};

/// The text, `width` columns wide at most, with a line feed at its end.
pub fn crew_terminal(study: &CrewStudy, width: usize) -> String {
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
    say(
        &format!(
            "{} of {} crews were looked at in {} simulated lunches; {} more for the figures below, seed {}.",
            study.tried.len(),
            study.searched.choices,
            study.searched.lunches,
            study.searched.lunches_to_show,
            study.about.seed
        ),
        "",
    );
    say(&study.searched.promise, "");
    for notice in &study.notices {
        say(&format!("! {notice}"), "  ");
    }
    if !study.rows.is_empty() {
        say("", "");
        say(
            "Crews, cheapest first (lunches in which each target held)",
            "",
        );
        for (number, target) in study.about.targets.iter().enumerate() {
            say(&format!("  {}: {target}", letter(number)), "     ");
        }
        for row in &study.rows {
            say("", "");
            rows_of(row, &study.about.currency)
                .iter()
                .for_each(|line| say(line, "      "));
        }
    }
    if !study.one_missing.is_empty() {
        say("", "");
        say("The chosen crew with one person missing", "");
        for row in &study.one_missing {
            say(
                &format!("  {:<24} [{}] {}", row.words, row.verdict, cells(row)),
                "      ",
            );
        }
    }
    if let Some(roster) = &study.roster {
        say("", "");
        say(&roster.answer, "");
        for shift in &roster.shifts {
            let rest = match shift.breaks_min.is_empty() {
                true => String::new(),
                false => format!(", meal break {}", spans(&shift.breaks_min)),
            };
            say(
                &format!(
                    "  {:<20} {}{rest} ({:.2} h paid)",
                    shift.name,
                    spans(&shift.spans_min),
                    shift.paid_h
                ),
                "      ",
            );
        }
    }
    out
}

fn rows_of(row: &Row, currency: &str) -> Vec<String> {
    let marks: Vec<&str> = row
        .marks
        .iter()
        .map(String::as_str)
        .filter(|m| *m != "frontier")
        .collect();
    let marks = match marks.is_empty() {
        true => String::new(),
        false => format!("  <- {}", marks.join(", ")),
    };
    let mut first = format!(
        "  {}, {:.2} h, {} [{}]{marks}",
        people(row.people),
        row.hours,
        cost(row.cost, currency),
        row.verdict
    );
    if row.extra_cost > 0.005 {
        first.push_str(&format!(
            " (+ {} past the shift)",
            cost(row.extra_cost, currency)
        ));
    }
    vec![
        first,
        format!("    {}", row.words),
        format!("    {}", cells(row)),
    ]
}
