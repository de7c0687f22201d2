//! A check report as plain text.

use std::fmt::Write as _;

use super::{CheckReport, PeakRule, QuarterTable};
use crate::defaults::rounded;
use crate::describe::words::clock;

/// Widest line of prose, in letters.
const WIDEST: usize = 100;

/// The report as plain text, ready to be printed.
pub fn report_text(report: &CheckReport) -> String {
    let mut out = String::new();
    let _ = writeln!(out, "{}", report.name);
    if !report.note.is_empty() {
        wrapped(&mut out, "", &report.note);
    }
    section(&mut out, "What the file means", report.description.iter());
    let marked = report.figures.iter().map(|figure| {
        if figure.look {
            format!("{} <- look at this", figure.words)
        } else {
            figure.words.clone()
        }
    });
    section(&mut out, "What follows from it", marked);
    section(
        &mut out,
        "Temperatures",
        report
            .temperatures
            .iter()
            .map(|temperature| &temperature.words),
    );
    if let Some(table) = &report.quarters {
        quarters(&mut out, table);
    }
    if let Some(rule) = &report.peak_rule {
        peak_rule(&mut out, rule);
    }
    let defaults = report
        .defaults
        .iter()
        .map(|used| format!("{} = {} ({})", used.key, used.value, used.standing));
    section(&mut out, "Left at their default", defaults);
    section(&mut out, "Cautions", report.cautions.iter());
    out
}

fn section(out: &mut String, title: &str, lines: impl Iterator<Item = impl AsRef<str>>) {
    let mut lines = lines.peekable();
    if lines.peek().is_none() {
        return;
    }
    let _ = writeln!(out, "\n{title}");
    for line in lines {
        wrapped(out, "  ", line.as_ref());
    }
}

/// Writes text in lines of at most [`WIDEST`] letters; what follows on is indented.
fn wrapped(out: &mut String, indent: &str, text: &str) {
    let mut line = indent.to_owned();
    let mut is_first = true;
    for word in text.split(' ') {
        if line.chars().count() + word.chars().count() + 1 > WIDEST && line.trim() != "" {
            let _ = writeln!(out, "{}", line.trim_end());
            line = format!("{indent}  ");
            is_first = true;
        }
        if !is_first {
            line.push(' ');
        }
        line.push_str(word);
        is_first = false;
    }
    let _ = writeln!(out, "{}", line.trim_end());
}

fn quarters(out: &mut String, table: &QuarterTable) {
    let _ = writeln!(
        out,
        "\nBy quarter hour, before any simulation (share of each stage's capacity in %)"
    );
    let names: Vec<String> = table.stages.clone();
    // Stages are numbered in the head so that the table stays narrow.
    for (number, name) in names.iter().enumerate() {
        let _ = writeln!(out, "  {}  {name}", letter(number));
    }
    let _ = write!(out, "  {:<6} {:>7} {:>8}", "from", "served", "dropped");
    for number in 0..names.len() {
        let _ = write!(out, " {:>5}", letter(number));
    }
    let _ = writeln!(out, "   binds");
    for quarter in &table.quarters {
        let from = clock(quarter.from).replace(" next day", "+");
        let _ = write!(
            out,
            "  {from:<6} {:>7.0} {:>8.0}",
            quarter.served, quarter.dropped
        );
        for share in &quarter.shares {
            let shown = share.map_or("-".to_owned(), |share| format!("{:.0}", share * 100.0));
            let _ = write!(out, " {shown:>5}");
        }
        let binds = quarter
            .binds
            .and_then(|stage| names.get(stage))
            .map_or("", String::as_str);
        let _ = writeln!(out, "   {binds}");
    }
    for note in &table.notes {
        wrapped(out, "  ", note);
    }
}

fn letter(number: usize) -> char {
    char::from(b'a' + (number % 26) as u8)
}

fn peak_rule(out: &mut String, rule: &PeakRule) {
    let _ = writeln!(out, "\nThe usual peak-hour rule");
    let words = format!(
        "{} pieces a cover x {:.0} covers in the busiest hour / {} pieces a rack / 0.70 = {:.0} racks an hour, against {:.0} on the data plate.",
        rounded(rule.pieces_per_cover),
        rule.peak_hour_covers,
        rounded(rule.pieces_per_rack),
        rule.racks_per_h,
        rule.plate_racks_per_h
    );
    wrapped(out, "  ", &words);
    wrapped(
        out,
        "  ",
        &format!("It leaves out: {}.", rule.leaves_out.join("; ")),
    );
}
