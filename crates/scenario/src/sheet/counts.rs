//! Counts per interval: one row an interval, or one row a day with a column for each interval.

use jiff::civil::Date;
use scullery_engine::time::{SimTime, Span};

use super::when::{TimeReading, date_of, on_the_clock};
use super::{Cell, Decimal, RowFault, Sheet, numbers};
use crate::describe::words;
use crate::text::clock;

/// Most of one interval.
const MOST_AN_INTERVAL: f64 = 100_000.0;

/// Counts per interval.
#[derive(Clone, Debug, PartialEq)]
pub struct Counts {
    /// Borders of the intervals, strictly rising; one more than there are counts.
    pub edges: Vec<SimTime>,
    /// How many came in each interval.
    pub counts: Vec<f64>,
    /// What was done with the table, in plain sentences, to be said aloud.
    pub notices: Vec<String>,
}

/// Reads counts per interval of one day from a table whose headings are clock times (each the start of its interval; the
/// last is as long as the one before it), the day's row found by the column of dates headed `date`.
///
/// # Errors
/// Every cell that has a fault, all at once.
pub fn interval_counts(
    sheet: &Sheet,
    date: &str,
    decimal: Option<Decimal>,
    reading: &TimeReading,
) -> Result<Counts, Vec<RowFault>> {
    let mut columns: Vec<(SimTime, usize)> = Vec::new();
    for (at, heading) in sheet.header.iter().enumerate() {
        if let Some(clock) = clock::parse(heading) {
            columns.push((on_the_clock(clock, reading.starts), at));
        }
    }
    if columns.len() < 2 {
        return Err(vec![RowFault::of_table(
            "fewer than two columns are headed by a clock time",
            "head each interval's column by the time it begins, for example 11:45",
        )]);
    }
    if let Some(pair) = columns.windows(2).find(|pair| pair[1].0 <= pair[0].0) {
        let (first, second) = (words::clock(pair[0].0), words::clock(pair[1].0));
        return Err(vec![RowFault::of_table(
            format!("the column of {second} stands behind that of {first}"),
            "put the columns in clock order",
        )]);
    }
    let date_at = sheet.column(date).map_err(|fault| vec![fault])?;
    let row = day_row(sheet, date_at, reading)?;
    let mut faults = Vec::new();
    let mut counts = Vec::with_capacity(columns.len());
    let one = Sheet {
        rows: vec![sheet.rows[row].clone()],
        ..sheet.clone()
    };
    let mut notices = sheet.notices.clone();
    for (_, at) in &columns {
        match numbers(&one, *at, decimal) {
            Err(found) => faults.extend(found),
            Ok((values, said)) => {
                notices.extend(
                    said.into_iter()
                        .filter(|sentence| !notices.contains(sentence))
                        .collect::<Vec<_>>(),
                );
                match values.first().copied().flatten() {
                    Some(value) if (0.0..=MOST_AN_INTERVAL).contains(&value) => counts.push(value),
                    other => {
                        let heading = &sheet.header[*at];
                        let what = match other {
                            None => format!("has no count at {heading}"),
                            Some(value) => format!(
                                "must have a count from 0 to {MOST_AN_INTERVAL} at {heading}, found {value}"
                            ),
                        };
                        faults.push(RowFault::of_row(&sheet.rows[row], &what, ""));
                    }
                }
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let mut edges: Vec<SimTime> = columns.iter().map(|(at, _)| *at).collect();
    let last = edges[edges.len() - 1];
    let width = last.since(edges[edges.len() - 2]);
    edges.push(last + width);
    // What comes before the meal is not of it.
    let early = edges.iter().filter(|edge| **edge < reading.starts).count();
    if early > 0 {
        let keep = if edges.get(early).is_some_and(|edge| *edge == reading.starts) {
            early
        } else {
            early - 1
        };
        let cut = early.min(counts.len());
        if keep != early {
            return Err(vec![RowFault::of_table(
                format!(
                    "the meal starts at {}, within an interval",
                    words::clock(reading.starts)
                ),
                "let the meal start at the beginning of an interval",
            )]);
        }
        let lost: f64 = counts[..cut].iter().sum();
        notices.push(format!(
            "{lost} that came before {} were left out.",
            words::clock(reading.starts)
        ));
        edges.drain(..cut);
        counts.drain(..cut);
    }
    Ok(Counts {
        edges,
        counts,
        notices,
    })
}

/// The row of the day that was said, or the only row.
fn day_row(sheet: &Sheet, date_at: usize, reading: &TimeReading) -> Result<usize, Vec<RowFault>> {
    let Some(said) = &reading.day else {
        return match sheet.rows.len() {
            1 => Ok(0),
            0 => Err(vec![RowFault::of_table(
                "the table has no rows",
                "give the row of the day",
            )]),
            n => Err(vec![RowFault::of_table(
                format!("the table has {n} days"),
                "say which day is meant",
            )]),
        };
    };
    let day = date_of(said, reading.date_order)
        .map_err(|(_, help)| vec![RowFault::of_table(format!("\"{said}\" is no date"), help)])?;
    let mut faults = Vec::new();
    let mut found = Vec::new();
    for (index, row) in sheet.rows.iter().enumerate() {
        let date: Result<Date, (String, String)> = match row.cell(date_at) {
            Cell::Moment(moment) => Ok(moment.date()),
            cell => date_of(&cell.shown(), reading.date_order),
        };
        match date {
            Ok(date) if date == day => found.push(index),
            Ok(_) => {}
            Err((what, help)) => faults.push(RowFault::of_row(row, &what, &help)),
        }
    }
    match (found[..].len(), faults.is_empty()) {
        (_, false) => Err(faults),
        (1, true) => Ok(found[0]),
        (0, true) => Err(vec![RowFault::of_table(
            format!("no row is of {day}"),
            "name a day of the table",
        )]),
        (n, true) => Err(vec![RowFault::of_table(
            format!("{n} rows are of {day}"),
            "give each day one row",
        )]),
    }
}

/// Counts per interval from a table with one row an interval: each begins at its row's time and lasts at most
/// `width_min` minutes.
///
/// # Errors
/// When there are no rows, or two begin at once.
pub fn interval_rows(
    at: &[(SimTime, f64)],
    width_min: u32,
    notices: Vec<String>,
) -> Result<Counts, Vec<RowFault>> {
    if at.is_empty() {
        return Err(vec![RowFault::of_table(
            "the table names no interval",
            "give at least one row",
        )]);
    }
    if let Some(pair) = at.windows(2).find(|pair| pair[1].0 <= pair[0].0) {
        let what = format!("two rows begin at {}", words::clock(pair[1].0));
        return Err(vec![RowFault::of_table(what, "give each interval one row")]);
    }
    let width = Span::from_us(u64::from(width_min) * 60_000_000);
    let (mut edges, mut counts) = (Vec::new(), Vec::new());
    for (index, (from, count)) in at.iter().enumerate() {
        edges.push(*from);
        counts.push(*count);
        // An interval that no row begins has nobody in it.
        let next = at.get(index + 1).map(|(next, _)| *next);
        if next.is_none_or(|next| next > *from + width) {
            edges.push(*from + width);
            counts.push(0.0);
        }
    }
    counts.pop();
    Ok(Counts {
        edges,
        counts,
        notices,
    })
}
