//! What the terminal says of a study: the answer first, then its short tables.

use unicode_width::UnicodeWidthStr;

use super::StudyPage;
use crate::table::Table;
use crate::terminal::{plain, usable, wrap};

/// The text, `width` columns wide at most, with a line feed at its end.
pub fn study_terminal(study: &StudyPage, width: usize) -> String {
    let width = usable(width);
    let mut out = String::new();
    let say = |out: &mut String, text: &str, hang: &str| {
        for line in wrap(&plain(text), width, hang) {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    };
    say(&mut out, &study.answer, "");
    out.push('\n');
    say(&mut out, &format!("{}: {}", study.name, study.note), "");
    if !study.day.is_empty() {
        let day = study.day.trim_end_matches('.');
        say(&mut out, &format!("Which day: {day}."), "");
    }
    for alarm in &study.alarms {
        say(&mut out, &format!("! {alarm}"), "  ");
    }
    for section in study
        .sections
        .iter()
        .filter(|section| !section.brief.is_empty() || !section.said.is_empty())
    {
        out.push('\n');
        say(&mut out, &section.heading, "");
        for words in &section.said {
            say(&mut out, &format!("  {words}"), "  ");
        }
        for (table, words) in &section.brief {
            for line in lines(table, words, width) {
                out.push_str(line.trim_end());
                out.push('\n');
            }
        }
    }
    out
}

/// Fewest columns of letters in a column of a table.
const LEAST: usize = 9;
/// Fewest columns of letters for the names of rows.
const NARROWEST_NAMES: usize = 22;
/// Most lines of a head.
const TALLEST_HEAD: usize = 8;

/// A table in columns where they fit, its head in several lines; else one row under another.
fn lines(table: &Table, words: &[usize], width: usize) -> Vec<String> {
    let clean = |row: &Vec<String>| row.iter().map(|cell| plain(cell)).collect::<Vec<_>>();
    let rows: Vec<Vec<String>> = table.rows.iter().map(clean).collect();
    let head = clean(&table.head);
    let widest = |column: usize| {
        rows.iter()
            .map(|row| row.get(column).map_or(0, |cell| cell.width()))
            .max()
            .unwrap_or(0)
    };
    let longest_word = |text: &str| {
        text.split_whitespace()
            .map(UnicodeWidthStr::width)
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..head.len())
        .map(|column| widest(column).max(longest_word(&head[column])).max(LEAST))
        .collect();
    // The first column gives way: it is names, and those may run over several lines.
    let others: usize = widths.iter().skip(1).map(|width| width + 2).sum();
    let mut widths = widths;
    if let Some(first) = widths.first_mut() {
        *first = (*first).min(width.saturating_sub(others + 2));
    }
    let heads: Vec<Vec<String>> = head
        .iter()
        .zip(&widths)
        .map(|(text, width)| wrap(text, (*width).max(1), ""))
        .collect();
    let tall = heads.iter().map(Vec::len).max().unwrap_or(0);
    if tall <= TALLEST_HEAD
        && widths
            .first()
            .is_some_and(|first| *first >= NARROWEST_NAMES.min(widest(0)))
    {
        // Heads stand on their rows: the short ones are filled up from above.
        let of_head = (0..tall).map(|line| {
            let cells: Vec<String> = heads
                .iter()
                .map(|lines| {
                    (line + lines.len())
                        .checked_sub(tall)
                        .map_or(String::new(), |at| lines[at].clone())
                })
                .collect();
            set(&cells, &widths, words)
        });
        let of_rows = rows.iter().flat_map(|row| {
            let names = wrap(row.first().map_or("", String::as_str), widths[0], "  ");
            names.into_iter().enumerate().map(|(line, name)| {
                let mut cells = if line == 0 {
                    row.clone()
                } else {
                    vec![String::new(); row.len()]
                };
                if let Some(first) = cells.first_mut() {
                    *first = name;
                }
                set(&cells, &widths, words)
            })
        });
        return of_head.chain(of_rows).collect();
    }
    let mut out = Vec::new();
    for row in rows {
        let mut cells = row.iter().zip(&head);
        if let Some((first, name)) = cells.next() {
            // A bare number needs its name; names of rows do not.
            let is_number = first.parse::<f64>().is_ok();
            let text = if is_number {
                format!("  {name}: {first}")
            } else {
                format!("  {first}")
            };
            out.extend(wrap(&text, width, "    "));
        }
        for (cell, name) in cells.filter(|(cell, _)| !cell.is_empty() && *cell != "-") {
            out.extend(wrap(&format!("    {name}: {cell}"), width, "      "));
        }
    }
    out
}

/// A row set in columns: words to the left, numbers to the right.
fn set(row: &[String], widths: &[usize], words: &[usize]) -> String {
    let mut line = String::new();
    for (column, (cell, width)) in row.iter().zip(widths).enumerate() {
        let blank = " ".repeat(width.saturating_sub(cell.width()));
        let is_words = column == 0 || words.contains(&column);
        let [first, second] = if is_words {
            [cell, &blank]
        } else {
            [&blank, cell]
        };
        line.push_str("  ");
        line.push_str(first);
        line.push_str(second);
    }
    line
}
