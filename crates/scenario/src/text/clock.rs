//! Clock times as people write them.

use scullery_engine::time::{SimTime, US_PER_S};

/// A clock time as written: whole microseconds, and whether it names its day itself (24 hours or more).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Clock {
    /// Microseconds since midnight.
    pub(crate) us: u64,
    /// Written with 24 hours or more, so counted from the midnight before the meal.
    pub(crate) names_its_day: bool,
}

/// Most hours a clock time can have: 200 days.
const MOST_HOURS: u64 = 4800;

/// Reads `11:45`, `11:45:30`, `11:45:30.5`, `7:30 pm`, `7 pm`, and `26:30` for half past two on the next day.
pub(crate) fn parse(text: &str) -> Option<Clock> {
    let lower = text.trim().to_ascii_lowercase();
    let (digits, half) = match (lower.strip_suffix("am"), lower.strip_suffix("pm")) {
        (Some(digits), _) => (digits.trim_end(), Some(0)),
        (_, Some(digits)) => (digits.trim_end(), Some(12)),
        _ => (lower.as_str(), None),
    };
    let mut parts = digits.split(':');
    let mut hours = whole(parts.next()?, 4)?;
    let minutes = match parts.next() {
        Some(minutes) if minutes.len() == 2 => whole(minutes, 2).filter(|minutes| *minutes < 60)?,
        Some(_) => return None,
        None if half.is_some() => 0,
        None => return None,
    };
    let seconds_us = match parts.next() {
        Some(seconds) => seconds_us(seconds)?,
        None => 0,
    };
    if parts.next().is_some() {
        return None;
    }
    if let Some(half) = half {
        if !(1..=12).contains(&hours) {
            return None;
        }
        hours = hours % 12 + half;
    }
    if hours > MOST_HOURS {
        return None;
    }
    let us = (hours * 3600 + minutes * 60) * US_PER_S + seconds_us;
    (us <= SimTime::LAST.us()).then_some(Clock {
        us,
        names_its_day: hours >= 24,
    })
}

fn whole(digits: &str, most: usize) -> Option<u64> {
    let plain = !digits.is_empty()
        && digits.len() <= most
        && digits.bytes().all(|byte| byte.is_ascii_digit());
    if plain { digits.parse().ok() } else { None }
}

fn seconds_us(text: &str) -> Option<u64> {
    let (seconds, fraction) = text.split_once('.').unwrap_or((text, ""));
    if seconds.len() != 2 || (text.contains('.') && fraction.is_empty()) {
        return None;
    }
    let seconds = whole(seconds, 2).filter(|seconds| *seconds < 60)?;
    let fraction = if fraction.is_empty() {
        0
    } else {
        whole(&format!("{fraction:0<6}"), 6)?
    };
    Some(seconds * US_PER_S + fraction)
}
