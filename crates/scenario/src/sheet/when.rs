//! Clock times, dates and instants as tills and people write them, placed on the clock of one meal.

use jiff::civil::{Date, DateTime, Time};
use jiff::fmt::temporal::Pieces;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use scullery_engine::time::{SimTime, US_PER_S};

use super::{Cell, RowFault};
use crate::text::clock;

/// How a date with slashes is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum DateOrder {
    /// 31/12/2025
    DayFirst,
    /// 12/31/2025
    MonthFirst,
}

/// How instants are to be read, and which meal they belong to.
#[derive(Clone, Debug)]
pub struct TimeReading {
    /// When the meal starts. A clock time without a date that lies more than six hours before it is of the next day.
    pub starts: SimTime,
    /// The day of the meal, as `2025-12-31`, where the table has several.
    pub day: Option<String>,
    /// The zone whose clock hung on the wall, as in the tz database; needed for epoch seconds, and to tell the hour that
    /// comes twice when clocks are put back.
    pub zone: Option<String>,
    /// How dates with slashes are written.
    pub date_order: Option<DateOrder>,
}

/// A moment as written.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Written {
    /// A clock time without a date.
    Clock(clock::Clock),
    /// A date and clock time without an offset.
    Local(DateTime),
    /// An instant, with the clock time its writer saw, where one is written.
    Instant(Timestamp, Option<DateTime>),
}

/// A moment with its date, or on the clock only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Placed {
    Clock(clock::Clock),
    /// The civil date, and microseconds since its midnight.
    Dated(Date, u64),
}

/// Reads a moment from a cell of times, and one of dates where there is one.
pub(super) fn written(
    date: Option<&Cell>,
    time: &Cell,
    order: Option<DateOrder>,
) -> Result<Written, (String, String)> {
    let moment = from_cell(time, order)?;
    let Some(date) = date else {
        return Ok(moment);
    };
    let day = match date {
        Cell::Moment(moment) => moment.date(),
        Cell::Text(text) => date_of(text, order)?,
        other => {
            return Err((
                format!("must have a date, found \"{}\"", other.shown()),
                date_help(),
            ));
        }
    };
    match moment {
        Written::Clock(clock) => {
            let midnight = DateTime::from_parts(day, Time::midnight());
            midnight
                .checked_add(SignedDuration::from_micros(clock.us as i64))
                .map(Written::Local)
                .map_err(|_| (format!("has a date out of range, {day}"), date_help()))
        }
        dated => Ok(dated),
    }
}

fn date_help() -> String {
    "write a date as 2025-12-31".to_owned()
}

fn time_help() -> String {
    "write a clock time as 12:05 or 12:05:30, a date with it as 2025-12-31T12:05, or epoch seconds"
        .to_owned()
}

fn from_cell(cell: &Cell, order: Option<DateOrder>) -> Result<Written, (String, String)> {
    let wrong = || {
        (
            format!("must have a time, found \"{}\"", cell.shown()),
            time_help(),
        )
    };
    match cell {
        Cell::Empty => Err(("has no time".to_owned(), time_help())),
        Cell::Clock(us) => Ok(Written::Clock(clock::Clock {
            us: *us,
            names_its_day: *us >= 86_400 * US_PER_S,
        })),
        Cell::Moment(moment) => Ok(Written::Local(*moment)),
        Cell::Number(seconds) => epoch(*seconds).ok_or_else(wrong),
        Cell::Text(text) => from_text(text, order, wrong),
    }
}

/// Seconds since 1970, from 1973 to 2100.
fn epoch(seconds: f64) -> Option<Written> {
    if !(1e8..4.2e9).contains(&seconds) {
        return None;
    }
    let us = (seconds * 1e6).round() as i64;
    Timestamp::from_microsecond(us)
        .ok()
        .map(|at| Written::Instant(at, None))
}

fn from_text(
    text: &str,
    order: Option<DateOrder>,
    wrong: impl Fn() -> (String, String),
) -> Result<Written, (String, String)> {
    if let Some(clock) = clock::parse(text) {
        return Ok(Written::Clock(clock));
    }
    if text.bytes().all(|b| b.is_ascii_digit() || b == b'.') {
        let found = text.parse().ok().and_then(epoch);
        return found.ok_or_else(wrong);
    }
    if let Ok(pieces) = Pieces::parse(text) {
        let Some(time) = pieces.time() else {
            return Err((
                format!("has a date without a time, \"{text}\""),
                time_help(),
            ));
        };
        let local = DateTime::from_parts(pieces.date(), time);
        return match pieces.to_numeric_offset() {
            None => Ok(Written::Local(local)),
            Some(offset) => {
                let at = offset.to_timestamp(local).map_err(|_| wrong())?;
                // `Z` says the instant and nothing about the clock on the wall.
                let seen = !text.trim_end().ends_with(['Z', 'z']);
                Ok(Written::Instant(at, seen.then_some(local)))
            }
        };
    }
    let (date, rest) = text.split_once([' ', 'T']).ok_or_else(&wrong)?;
    let clock = clock::parse(rest.trim()).ok_or_else(&wrong)?;
    let day = date_of(date, order)?;
    DateTime::from_parts(day, Time::midnight())
        .checked_add(SignedDuration::from_micros(clock.us as i64))
        .map(Written::Local)
        .map_err(|_| wrong())
}

/// A date: ISO 8601, day.month.year with dots, or with slashes in the order that was said.
pub(super) fn date_of(text: &str, order: Option<DateOrder>) -> Result<Date, (String, String)> {
    let wrong = || (format!("must have a date, found \"{text}\""), date_help());
    if let Ok(date) = text.trim().parse::<Date>() {
        return Ok(date);
    }
    let (mark, day_first) = if text.contains('.') {
        ('.', true)
    } else {
        match order {
            Some(order) => ('/', order == DateOrder::DayFirst),
            None if text.contains('/') => {
                return Err((
                    format!("has the date \"{text}\", which may be read two ways"),
                    "say whether the day or the month comes first, or write 2025-12-31".to_owned(),
                ));
            }
            None => return Err(wrong()),
        }
    };
    let parts: Vec<&str> = text.trim().split(mark).collect();
    let [first, second, year] = parts[..] else {
        return Err(wrong());
    };
    let (day, month) = if day_first {
        (first, second)
    } else {
        (second, first)
    };
    let whole = |part: &str| {
        part.parse::<i16>()
            .ok()
            .filter(|_| part.bytes().all(|b| b.is_ascii_digit()))
    };
    let (Some(day), Some(month), Some(year)) = (whole(day), whole(month), whole(year)) else {
        return Err(wrong());
    };
    let small = |n: i16| i8::try_from(n).unwrap_or(-1);
    Date::new(year, small(month), small(day)).map_err(|_| wrong())
}

/// The zone that was named, if one was.
pub(super) fn zone(reading: &TimeReading) -> Result<Option<TimeZone>, RowFault> {
    let Some(name) = &reading.zone else {
        return Ok(None);
    };
    TimeZone::get(name).map(Some).map_err(|_| {
        RowFault::of_table(
            format!("no time zone is called \"{name}\""),
            "name one of the tz database, for example Europe/Oslo, or UTC",
        )
    })
}

/// Puts a moment on the wall clock. With a zone a local time that comes twice, or never, is refused.
pub(super) fn place(written: Written, zone: Option<&TimeZone>) -> Result<Placed, (String, String)> {
    let local = match (written, zone) {
        (Written::Clock(clock), _) => return Ok(Placed::Clock(clock)),
        (Written::Local(local), None) => local,
        (Written::Local(local), Some(zone)) => {
            if zone.to_ambiguous_timestamp(local).unambiguous().is_err() {
                return Err((
                    format!(
                        "at {local} names a time that comes twice or never as clocks are changed"
                    ),
                    "write the offset with it, for example 2025-10-26T02:30+02:00".to_owned(),
                ));
            }
            local
        }
        (Written::Instant(at, _), Some(zone)) => zone.to_datetime(at),
        (Written::Instant(_, Some(local)), None) => local,
        (Written::Instant(at, None), None) => {
            return Err((
                format!("is the instant {at}, and no time zone was named"),
                "name the zone whose clock hung on the wall".to_owned(),
            ));
        }
    };
    let midnight = DateTime::from_parts(local.date(), Time::midnight());
    let since = local.duration_since(midnight).as_micros();
    Ok(Placed::Dated(
        local.date(),
        u64::try_from(since).unwrap_or(0),
    ))
}

/// A clock time without a date this much before the start of the meal is of the next day.
const NEXT_DAY_AFTER_US: u64 = 6 * 3600 * US_PER_S;
/// Microseconds of a day.
pub(super) const DAY_US: u64 = 86_400 * US_PER_S;

/// Where a clock time without a date stands in a meal that starts at `starts`.
pub(super) fn on_the_clock(clock: clock::Clock, starts: SimTime) -> SimTime {
    let next_day = !clock.names_its_day && clock.us + NEXT_DAY_AFTER_US < starts.us();
    SimTime::from_us(clock.us + if next_day { DAY_US } else { 0 })
}

/// A clock time in a cell, on the wall clock of the meal; a date with it must be the meal's (or the night after it).
///
/// # Errors
/// What is wrong with the cell, and what to write.
pub fn wall_clock(cell: &Cell, reading: &TimeReading) -> Result<SimTime, (String, String)> {
    let zone = zone(reading).map_err(|fault| (fault.what, fault.help))?;
    match place(written(None, cell, reading.date_order)?, zone.as_ref())? {
        Placed::Clock(clock) => Ok(on_the_clock(clock, reading.starts)),
        Placed::Dated(_, us) if us < reading.starts.us() => Ok(SimTime::from_us(us + DAY_US)),
        Placed::Dated(_, us) => Ok(SimTime::from_us(us)),
    }
}
