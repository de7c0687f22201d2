//! The text for a terminal: the answer first, then targets, queue and backlog over the clock, and the headline measures. No
//! colour; no letters beyond plain ones but those the user wrote and, unless plain ones are asked for, small blocks.

mod sparks;

use scullery_study::summary::{Summary, TargetResult};
use unicode_width::UnicodeWidthStr;

use crate::lettering::printable;
use crate::number::{DASH, Units, between, fixed, row_texts, unit_beside};
use crate::table::owning;

/// Which letters a terminal shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Signs {
    /// Small blocks of rising height among plain letters.
    Blocks,
    /// Plain ASCII letters only, but for the user's own words.
    Ascii,
}

/// What the terminal says of a finished study, `width` columns wide at most, with a line feed at its end.
pub fn terminal(summary: &Summary, width: usize, signs: Signs) -> String {
    let width = usable(width);
    let mut out = String::new();
    let mut say = |text: &str, hang: &str| {
        for line in wrap(&plain(text), width, hang) {
            out.push_str(&line);
            out.push('\n');
        }
    };
    say(&summary.answer, "");
    say("", "");
    say(
        &format!("{}: {}", summary.heading.name, summary.heading.note),
        "",
    );
    say(
        &format!(
            "Which day: {}.",
            summary.heading.day_words.trim_end_matches('.')
        ),
        "",
    );
    say(&simulated(summary), "");
    for sentence in &summary.endings.sentences {
        say(&format!("! {sentence}"), "  ");
    }
    let targets = target_lines(summary, width);
    let sparks = sparks::lines(summary, width, signs);
    for block in [targets, sparks].iter().filter(|block| !block.is_empty()) {
        out.push('\n');
        for line in block {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    let units = Units::named(&summary.heading.units);
    let table = measure_lines(summary, units, width);
    let money = money_lines(summary, width);
    for block in [table, money].iter().filter(|block| !block.is_empty()) {
        out.push('\n');
        for line in block {
            out.push_str(line.trim_end());
            out.push('\n');
        }
    }
    out
}

/// The width that lines are set to in a window of so many columns: neither unreadably narrow nor tiringly wide.
pub fn usable(width: usize) -> usize {
    width.clamp(40, 120)
}

/// How often the meal was simulated and how that ended, in one line.
pub fn simulated(summary: &Summary) -> String {
    let mut text = format!(
        "{} simulated lunches, seed {}",
        summary.repeats, summary.seed
    );
    if summary.repeats < summary.asked {
        text.push_str(&format!(
            " (stopped early; {} were asked for)",
            summary.asked
        ));
    }
    if let Some(enough) = &summary.enough {
        text.push_str(&format!("; {enough}"));
    }
    let endings = &summary.endings;
    for (count, words) in [
        (endings.gridlock, "locked for good"),
        (endings.never_drained, "never drained"),
        (endings.stated_end, "ended at the stated time"),
    ] {
        if count > 0 {
            text.push_str(&format!("; {count} {words}"));
        }
    }
    text.push('.');
    text
}

/// The targets as a table: the verdict and the words, in how many of 100 lunches it held, the interval, and what was asked;
/// a target on a mean has its evidence under it. In narrow windows the evidence stands under each.
fn target_lines(summary: &Summary, width: usize) -> Vec<String> {
    if summary.targets.is_empty() {
        return Vec::new();
    }
    let numbers = |target: &TargetResult| -> Option<[String; 3]> {
        let (held, [low, high]) = (target.held?, target.interval?);
        let of_100 = |share: f64| fixed(share * 100.0, 0);
        Some([
            of_100(held as f64 / target.of.max(1) as f64),
            format!("{} to {}", of_100(low), of_100(high)),
            fixed(target.asked_of_100?, 0),
        ])
    };
    let head = ["held", "95 % sure", "asked"];
    let wide: usize = head.iter().map(|text| text.len().max(9) + 2).sum();
    let room = width.saturating_sub(wide);
    let narrow = room < 32;
    let mut lines = Vec::new();
    if narrow {
        lines.push("Targets".to_owned());
    } else {
        let mut line = pad("Targets, and in how many of 100 lunches", room);
        for text in head {
            line.push_str(&format!("  {text:>9}"));
        }
        lines.push(line);
    }
    for target in &summary.targets {
        let words = plain(&format!("  [{}] {}", target.verdict, target.words));
        let cells = numbers(target).filter(|_| !narrow);
        let mut wrapped = wrap(&words, if narrow { width } else { room }, "    ");
        if let (Some(first), Some(cells)) = (wrapped.first_mut(), &cells) {
            let mut line = pad(first, room);
            for text in cells {
                line.push_str(&format!("  {text:>9}"));
            }
            *first = line;
        }
        lines.extend(wrapped);
        if cells.is_none() && !target.evidence.is_empty() {
            lines.extend(wrap(
                &plain(&format!("    {}", target.evidence)),
                width,
                "    ",
            ));
        }
    }
    lines
}

/// The headline measures in four columns.
fn measure_lines(summary: &Summary, units: Units, width: usize) -> Vec<String> {
    let mut rows = vec![[
        "Measure".to_owned(),
        "mean".to_owned(),
        "mean, 95 % sure".to_owned(),
        "5-95 of 100 lunches".to_owned(),
    ]];
    for m in summary.measures.iter().filter(|m| m.headline) {
        let [low, high] = m
            .ci95
            .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
        let [mean, low, high, p05, p95] =
            row_texts([m.mean, low, high, m.p05, m.p95], &m.unit, units);
        let unit = unit_beside(m, summary, units);
        let unit = if unit.is_empty() {
            unit
        } else {
            format!(", {unit}")
        };
        let label = plain(&format!("{}{unit}", m.label));
        rows.push([label, mean, between(&low, &high), between(&p05, &p95)]);
    }
    if rows.len() == 1 {
        return Vec::new();
    }
    four_columns(&rows, width)
}

/// What the line costs to run, to own, and both; nothing where nothing is owned at a price.
fn money_lines(summary: &Summary, width: usize) -> Vec<String> {
    let Some(table) = owning(summary) else {
        return Vec::new();
    };
    let four = |row: &Vec<String>| -> [String; 4] {
        std::array::from_fn(|column| row.get(column).map_or(String::new(), |text| plain(text)))
    };
    let mut head = four(&table.head);
    head[0] = plain(&table.caption);
    let rows: Vec<[String; 4]> = std::iter::once(head)
        .chain(table.rows.iter().map(four))
        .collect();
    four_columns(&rows, width)
}

/// Rows in four columns, the first for words; the first row is their head.
fn four_columns(rows: &[[String; 4]], width: usize) -> Vec<String> {
    let most = |column: usize| {
        rows.iter()
            .map(|row| row[column].width())
            .max()
            .unwrap_or(0)
    };
    let numbers: Vec<usize> = (1..4).map(most).collect();
    let taken: usize = numbers.iter().map(|w| w + 2).sum();
    let room = width.saturating_sub(taken);
    if room < 20 {
        return narrow_lines(rows, width);
    }
    let room = room.min(most(0));
    let mut lines = Vec::new();
    for row in rows {
        let mut labels = wrap(&row[0], room, "  ");
        let first = if labels.is_empty() {
            String::new()
        } else {
            labels.remove(0)
        };
        let mut line = pad(&first, room);
        for (text, wide) in row[1..].iter().zip(&numbers) {
            line.push_str("  ");
            line.push_str(&" ".repeat(wide.saturating_sub(text.width())));
            line.push_str(text);
        }
        lines.push(line);
        lines.extend(labels);
    }
    lines
}

/// The same, one measure under another, for narrow windows.
fn narrow_lines(rows: &[[String; 4]], width: usize) -> Vec<String> {
    let Some((head, rows)) = rows.split_first() else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    for row in rows {
        lines.extend(wrap(&row[0], width, "  "));
        for (name, text) in head[1..]
            .iter()
            .zip(&row[1..])
            .filter(|(_, text)| *text != DASH)
        {
            lines.extend(wrap(&format!("  {name}: {text}"), width, "    "));
        }
    }
    lines
}

fn pad(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

/// Words in lines of at most `width` columns, later lines begun with `hang`. The first line keeps its indent; a word
/// wider than a line stands alone.
pub fn wrap(text: &str, width: usize, hang: &str) -> Vec<String> {
    let indent: String = text.chars().take_while(|c| *c == ' ').collect();
    let mut lines = Vec::new();
    let mut line = indent;
    let mut bare = true;
    for word in text.split_whitespace() {
        let gap = usize::from(!bare);
        if !bare && line.width() + gap + word.width() > width {
            lines.push(std::mem::replace(&mut line, hang.to_owned()));
            bare = true;
        }
        if !bare {
            line.push(' ');
        }
        line.push_str(word);
        bare = false;
    }
    lines.push(line);
    lines
}

/// The text with typographic signs that not every terminal has written in plain ones; names stay as they are.
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in printable(text).chars() {
        match letter {
            '\u{2010}'..='\u{2015}' | '\u{2212}' => out.push('-'),
            '\u{2018}' | '\u{2019}' => out.push('\''),
            '\u{201C}' | '\u{201D}' => out.push('"'),
            '\u{2026}' => out.push_str("..."),
            '\u{00A0}' | '\u{202F}' | '\u{2009}' => out.push(' '),
            '\u{00D7}' => out.push('x'),
            '\u{2264}' => out.push_str("<="),
            '\u{2265}' => out.push_str(">="),
            '\u{00B1}' => out.push_str("+/-"),
            '\u{00B0}' => out.push_str("deg "),
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_words_and_hang() {
        assert_eq!(
            wrap("  one two three", 9, "    "),
            ["  one two", "    three"]
        );
        assert_eq!(wrap("incomprehensible", 5, ""), ["incomprehensible"]);
    }

    #[test]
    fn signs_beyond_ascii_get_plain_ones_and_names_stay() {
        assert_eq!(
            plain("5\u{2013}95 \u{2264} 3 \u{00D7} caf\u{00E9}\u{1b}[0m"),
            "5-95 <= 3 x caf\u{00E9} [0m"
        );
    }
}
