//! One row an instant: who came when.

use std::collections::BTreeMap;

use jiff::civil::Date;
use scullery_engine::time::SimTime;

use super::when::{DAY_US, Placed, TimeReading, date_of, on_the_clock, place, written, zone};
use super::{Decimal, Row, RowFault, Sheet, numbers};
use crate::describe::words;

/// Most arrivals a table can name.
const MOST: usize = 1_000_000;
/// Most of one row.
const MOST_A_ROW: f64 = 100_000.0;

/// Which columns of a table say what.
#[derive(Clone, Debug, Default)]
pub struct Columns {
    /// Heading of the column of times.
    pub time: String,
    /// Heading of the column of dates, where times have none.
    pub date: Option<String>,
    /// Heading of the column that says how many came.
    pub count: Option<String>,
    /// How decimals are written.
    pub decimal: Option<Decimal>,
    /// Rows may stand out of clock order.
    pub sort: bool,
}

/// The instants of one meal.
#[derive(Clone, Debug, PartialEq)]
pub struct Instants {
    /// One entry each who came, in clock order.
    pub at: Vec<SimTime>,
    /// Rows they came from.
    pub rows: usize,
    /// What was done with the table, in plain sentences, to be said aloud.
    pub notices: Vec<String>,
}

/// Reads the instants of one meal from a table.
///
/// # Errors
/// Every row that has a fault, all at once.
pub fn arrival_instants(
    sheet: &Sheet,
    columns: &Columns,
    reading: &TimeReading,
) -> Result<Instants, Vec<RowFault>> {
    let mut faults = Vec::new();
    let mut column = |heading: &str| match sheet.column(heading) {
        Ok(at) => Some(at),
        Err(fault) => {
            faults.push(fault);
            None
        }
    };
    let time = column(&columns.time);
    let date = columns.date.as_deref().map(&mut column);
    let count = columns.count.as_deref().map(&mut column);
    let zone = match zone(reading) {
        Ok(zone) => zone,
        Err(fault) => {
            faults.push(fault);
            None
        }
    };
    let (Some(time), true) = (time, faults.is_empty()) else {
        return Err(faults);
    };
    let mut notices = sheet.notices.clone();
    let counts = match count.flatten() {
        None => None,
        Some(at) => match numbers(sheet, at, columns.decimal) {
            Ok((values, said)) => {
                notices.extend(said);
                Some(values)
            }
            Err(found) => {
                faults.extend(found);
                None
            }
        },
    };
    let mut placed = Vec::with_capacity(sheet.rows.len());
    for (index, row) in sheet.rows.iter().enumerate() {
        let cell = date.flatten().map(|at| row.cell(at));
        let moment = written(cell, row.cell(time), reading.date_order)
            .and_then(|written| place(written, zone.as_ref()));
        let many = match &counts {
            None => Ok(1),
            Some(values) => whole(values[index]),
        };
        match (moment, many) {
            (Ok(moment), Ok(many)) => placed.push((row, moment, many)),
            (moment, many) => {
                if let Err((what, help)) = moment {
                    faults.push(RowFault::of_row(row, &what, &help));
                }
                if let Err(what) = many {
                    faults.push(RowFault::of_row(
                        row,
                        &what,
                        "write a whole number, 0 or more",
                    ));
                }
            }
        }
    }
    let day = match day_of(&placed, reading) {
        Ok(day) => day,
        Err(fault) => {
            faults.push(fault);
            return Err(faults);
        }
    };
    let mut meal = Meal {
        reading,
        sort: columns.sort,
        at: Vec::new(),
        rows: 0,
        left_out: 0,
        moved: 0,
        last: None,
    };
    for (row, moment, many) in placed {
        if let Err(fault) = meal.row(row, moment, many, day) {
            faults.push(fault);
        }
    }
    if faults.is_empty() && meal.at.len() > MOST {
        let what = format!(
            "the table names {} arrivals, more than {MOST}",
            meal.at.len()
        );
        faults.push(RowFault::of_table(what, "simulate a shorter time"));
    }
    if faults.is_empty() && meal.at.is_empty() {
        faults.push(RowFault::of_table(
            "the table names no arrivals of this meal",
            "give at least one row",
        ));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    if let (Some(day), true) = (day, meal.left_out > 0) {
        notices.push(format!(
            "{} rows that do not belong to the meal of {day} were left out.",
            meal.left_out
        ));
    }
    if meal.moved > 0 {
        notices.push(format!(
            "{} rows stood out of clock order and were sorted, as asked.",
            meal.moved
        ));
        meal.at.sort_unstable();
    }
    Ok(Instants {
        at: meal.at,
        rows: meal.rows,
        notices,
    })
}

fn whole(value: Option<f64>) -> Result<usize, String> {
    match value {
        None => Err("has no count".to_owned()),
        Some(value) if value < 0.0 => Err(format!("must have a count of 0 or more, found {value}")),
        Some(value) if value.fract() != 0.0 => {
            Err(format!("must have a whole number, found {value}"))
        }
        Some(value) if value > MOST_A_ROW => Err(format!(
            "must have a count of at most {MOST_A_ROW}, found {value}"
        )),
        Some(value) => Ok(value as usize),
    }
}

/// The day of the meal: the one that was said, or the only one there is. A few hours of the next day go with it.
fn day_of(
    placed: &[(&Row, Placed, usize)],
    reading: &TimeReading,
) -> Result<Option<Date>, RowFault> {
    if let Some(said) = &reading.day {
        return date_of(said, reading.date_order)
            .map(Some)
            .map_err(|(_, help)| RowFault::of_table(format!("\"{said}\" is no date"), help));
    }
    let mut days: BTreeMap<Date, u64> = BTreeMap::new();
    for (_, moment, _) in placed {
        if let Placed::Dated(date, us) = *moment {
            let latest = days.entry(date).or_default();
            *latest = us.max(*latest);
        }
    }
    let mut each = days.iter();
    match (each.next(), each.next(), each.next()) {
        (None, ..) => Ok(None),
        (Some((day, _)), None, _) => Ok(Some(*day)),
        (Some((day, _)), Some((next, latest)), None)
            if day.tomorrow().is_ok_and(|after| after == *next)
                && *latest < reading.starts.us() =>
        {
            Ok(Some(*day))
        }
        _ => {
            let some: Vec<String> = days.keys().take(5).map(Date::to_string).collect();
            let more = if days.len() > 5 { " and others" } else { "" };
            Err(RowFault::of_table(
                format!(
                    "the table has {} days: {}{more}",
                    days.len(),
                    some.join(", ")
                ),
                "say which day is meant",
            ))
        }
    }
}

struct Meal<'a> {
    reading: &'a TimeReading,
    sort: bool,
    at: Vec<SimTime>,
    rows: usize,
    left_out: usize,
    moved: usize,
    last: Option<(SimTime, usize)>,
}

impl Meal<'_> {
    fn row(
        &mut self,
        row: &Row,
        moment: Placed,
        many: usize,
        day: Option<Date>,
    ) -> Result<(), RowFault> {
        let starts = self.reading.starts;
        let at = match (moment, day) {
            (Placed::Clock(clock), _) => {
                let at = on_the_clock(clock, starts);
                if at < starts {
                    let what = format!(
                        "at {} lies before the start of the meal at {}",
                        words::clock(at),
                        words::clock(starts)
                    );
                    return Err(RowFault::of_row(row, &what, "let the meal start earlier"));
                }
                at
            }
            (Placed::Dated(date, us), Some(day)) => {
                let at = if date == day {
                    us
                } else if day.tomorrow().is_ok_and(|next| next == date) {
                    us + DAY_US
                } else {
                    self.left_out += 1;
                    return Ok(());
                };
                // The small hours before the meal, and the next day's meal, are not this one.
                if at < starts.us() || at >= starts.us() + DAY_US {
                    self.left_out += 1;
                    return Ok(());
                }
                SimTime::from_us(at)
            }
            (Placed::Dated(..), None) => return Ok(()),
        };
        match self.last {
            Some((last, before)) if at < last && !self.sort => {
                let what = format!(
                    "at {} is earlier than row {before} at {}",
                    words::clock(at),
                    words::clock(last)
                );
                return Err(RowFault::of_row(
                    row,
                    &what,
                    "put the rows in order, or ask for sorting",
                ));
            }
            Some((last, _)) if at < last => self.moved += 1,
            _ => self.last = Some((at, row.number)),
        }
        self.rows += 1;
        if self.at.len() <= MOST {
            self.at.extend(std::iter::repeat_n(at, many));
        }
        Ok(())
    }
}
