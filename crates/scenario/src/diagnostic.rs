//! A complaint about a scenario, and how it is shown.

use std::fmt::Write as _;
use std::ops::Range;

/// What is wrong with a scenario, where, and what to write instead.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// Stable code, spelled out; listed in `docs/scenario-format.md`.
    pub code: &'static str,
    /// Bytes of the scenario text it speaks of.
    pub at: Range<usize>,
    /// What is wrong, with the value found.
    pub message: String,
    /// What to write instead, when that is known.
    pub help: Option<String>,
}

/// Shows complaints about `text` as `path:line:column: error[code]: message`, the line with the place marked, and the
/// help; in the order given.
pub fn render(path: &str, text: &str, complaints: &[Diagnostic]) -> String {
    let mut out = String::new();
    for complaint in complaints {
        let (line, column) = line_and_column(text, complaint.at.start);
        let _ = writeln!(
            out,
            "{path}:{line}:{column}: error[{}]: {}",
            complaint.code, complaint.message
        );
        let (shown, before) = excerpt(text, complaint.at.start);
        let number = line.to_string();
        let gutter = " ".repeat(number.len());
        let width = marked_width(text, &complaint.at)
            .min(shown.chars().count().saturating_sub(before).max(1));
        let _ = writeln!(out, "{gutter} |\n{number} | {shown}");
        let _ = writeln!(
            out,
            "{gutter} | {}{}",
            " ".repeat(before),
            "^".repeat(width)
        );
        if let Some(help) = &complaint.help {
            let _ = writeln!(out, "{gutter} = help: {help}");
        }
    }
    out
}

/// Line and column of a byte of `text`, both from 1; columns count characters.
pub fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let byte = floor_boundary(text, byte);
    let before = &text[..byte];
    let start = before.rfind('\n').map_or(0, |at| at + 1);
    let mark = if start == 0 && before.starts_with('\u{feff}') {
        '\u{feff}'.len_utf8()
    } else {
        0
    };
    (
        before.matches('\n').count() + 1,
        before[start + mark..].chars().count() + 1,
    )
}

/// Longest excerpt of a line, in characters.
const LONGEST_EXCERPT: usize = 160;

/// The line around a byte, tabs and other controls as blanks, and the number of characters before the byte.
fn excerpt(text: &str, byte: usize) -> (String, usize) {
    let byte = floor_boundary(text, byte);
    let start = text[..byte].rfind('\n').map_or(0, |at| at + 1);
    let end = text[byte..].find('\n').map_or(text.len(), |at| byte + at);
    let line: Vec<char> = text[start..end]
        .chars()
        .filter(|c| *c != '\u{feff}')
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect();
    let before = text[start..byte]
        .chars()
        .filter(|c| *c != '\u{feff}')
        .count();
    let from = before.saturating_sub(LONGEST_EXCERPT / 2);
    let shown: String = line.iter().skip(from).take(LONGEST_EXCERPT).collect();
    (shown.trim_end().to_owned(), before - from)
}

fn marked_width(text: &str, at: &Range<usize>) -> usize {
    let start = floor_boundary(text, at.start);
    let end = floor_boundary(text, at.end.max(at.start));
    text[start..end.max(start)]
        .chars()
        .take_while(|c| *c != '\n')
        .count()
        .max(1)
}

fn floor_boundary(text: &str, byte: usize) -> usize {
    let mut byte = byte.min(text.len());
    while !text.is_char_boundary(byte) {
        byte -= 1;
    }
    byte
}
