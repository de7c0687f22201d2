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
    for section in study.sections.iter().filter(|section| section.on_terminal) {
        out.push('\n');
        say(&mut out, &section.heading, "");
        for words in &section.words {
            say(&mut out, &format!("  {words}"), "  ");
        }
        for (table, words) in &section.tables {
            for line in lines(table, words, width) {
                out.push_str(line.trim_end());
                out.push('\n');
            }
        }
    }
    out
}

/// A table in columns where they fit, else one row under another.
fn lines(table: &Table, words: &[usize], width: usize) -> Vec<String> {
    let rows: Vec<Vec<String>> = std::iter::once(&table.head)
        .chain(&table.rows)
        .map(|row| row.iter().map(|cell| plain(cell)).collect())
        .collect();
    let columns = table.head.len();
    let widest = |column: usize| {
        rows.iter()
            .map(|row| row.get(column).map_or(0, |cell| cell.width()))
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..columns).map(widest).collect();
    if widths.iter().map(|w| w + 2).sum::<usize>() <= width {
        return rows.iter().map(|row| set(row, &widths, words)).collect();
    }
    let Some((head, rows)) = rows.split_first() else {
        return Vec::new();
    };
    let mut out = Vec::new();
    for row in rows {
        let mut cells = row.iter().zip(head);
        if let Some((first, _)) = cells.next() {
            out.extend(wrap(&format!("  {first}"), width, "    "));
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
