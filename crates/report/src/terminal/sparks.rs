//! A level over the clock in one line of letters.

use scullery_study::summary::{Band, Summary};

use super::Signs;
use crate::clock::{Window, hour_minute};
use crate::number::fixed;

/// Letters of rising height, the first for nought.
const BLOCKS: [char; 9] = [
    ' ', '\u{2581}', '\u{2582}', '\u{2583}', '\u{2584}', '\u{2585}', '\u{2586}', '\u{2587}',
    '\u{2588}',
];
/// The same in plain letters, lighter to darker.
const PLAIN: [char; 9] = [' ', '.', ':', '-', '=', '+', '*', '#', '@'];

/// Queue and backlog over the clock, a line for the middle lunch and one for the 95th of 100, with the clock under them.
pub(super) fn lines(summary: &Summary, width: usize, signs: Signs) -> Vec<String> {
    let window = Window::of(summary);
    let bands: Vec<&Band> = ["standing", "backlog"]
        .into_iter()
        .flat_map(|role| summary.bands.iter().filter(move |band| band.role == role))
        .filter(|band| band.p95.iter().any(|v| *v > 0.0))
        .take(4)
        .collect();
    if bands.is_empty() {
        return Vec::new();
    }
    let edge = "  95th of 100 ".len();
    let most = " most 1,234,567".len();
    let columns = width.saturating_sub(edge + most).clamp(12, 72);
    // A column is a round number of minutes, so that the clock under it can be read.
    let least = (window.minutes() as usize).div_ceil(columns).max(1);
    let round = [1, 2, 3, 4, 5, 6, 8, 10, 15, 20, 30, 60].into_iter();
    let each = round
        .chain((2..).map(|hours| hours * 60))
        .find(|each| *each >= least);
    let each = each.unwrap_or(least);
    let columns = (window.minutes() as usize).div_ceil(each);
    let mut out = Vec::new();
    for band in bands {
        out.push(format!("{} ({})", super::plain(&band.title), band.unit));
        let high = |line: &[f64]| line.iter().copied().fold(0.0, f64::max);
        let top = high(&band.p95).max(high(&band.p50));
        for (name, line) in [("middle lunch", &band.p50), ("95th of 100", &band.p95)] {
            out.push(format!(
                "  {name:<12}{} most {}",
                spark(line, each, columns, top, signs),
                fixed(high(line), 0)
            ));
        }
    }
    let clock = format!(
        "  {} to {}, {each} min a letter",
        hour_minute(u64::from(window.from)),
        hour_minute(u64::from(window.to))
    );
    out.extend(super::wrap(&clock, width, "  "));
    out.iter()
        .flat_map(|line| match line.chars().count() > width {
            true => super::wrap(line, width, "    "),
            false => vec![line.clone()],
        })
        .collect()
}

/// The highest of each `each` values as a letter.
fn spark(line: &[f64], each: usize, columns: usize, top: f64, signs: Signs) -> String {
    let letters = match signs {
        Signs::Blocks => &BLOCKS,
        Signs::Ascii => &PLAIN,
    };
    let last = letters.len() - 1;
    (0..columns)
        .map(|column| {
            let part = line.iter().skip(column * each).take(each);
            let high = part.copied().fold(0.0, f64::max);
            if high <= 0.0 || top <= 0.0 {
                return letters[0];
            }
            let step = (high / top * last as f64).ceil() as usize;
            letters[step.clamp(1, last)]
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_is_the_highest_of_its_minutes_and_nought_is_blank() {
        let line = [0.0, 0.0, 1.0, 4.0, 8.0, 2.0, 0.0];
        assert_eq!(spark(&line, 2, 4, 8.0, Signs::Ascii), " =@ ");
        assert_eq!(spark(&line, 2, 4, 8.0, Signs::Blocks), " \u{2584}\u{2588} ");
        assert_eq!(spark(&[0.0], 1, 1, 0.0, Signs::Ascii), " ");
        // However little, it is not nought.
        assert_eq!(spark(&[0.001], 1, 1, 8.0, Signs::Ascii), ".");
    }
}
