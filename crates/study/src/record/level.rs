//! How much a place held, and for how long: exact integrals in whole unit-microseconds.

use scullery_engine::time::US_PER_MIN;

use super::MOST_MINUTES;

/// How many levels are told apart by [`PlaceRecord::at_level_us`]; the last stands for itself and all above.
pub const LEVELS_APART: usize = 64;

/// One minute of one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Minute {
    /// Level times microseconds. Minutes before the start hold the first level, those after the end the last.
    pub area: u64,
    /// The highest level in the minute, or the lowest where low is what matters.
    pub extreme: u32,
}

/// What one place held over a run.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PlaceRecord {
    /// Level times microseconds over the whole run, however long.
    pub integral: u128,
    /// Highest level that lasted.
    pub highest: u32,
    /// Lowest level that lasted.
    pub lowest: u32,
    /// Level at the end.
    pub last: u32,
    /// Where low is what matters: the longest stretch at nought, in microseconds.
    pub longest_none_us: u64,
    /// Microseconds at each level; the last entry stands for all levels from it on.
    pub at_level_us: Vec<u64>,
    /// One entry a minute from the record's first minute; no more than [`MOST_MINUTES`].
    pub minutes: Vec<Minute>,
}

/// No machine: a place that is not inside one.
pub(super) const NO_MACHINE: u16 = u16::MAX;
/// Beyond the minutes that are kept the integral is closed once a day.
const BEYOND_US: u64 = 24 * 60 * US_PER_MIN;

/// Follows the level of one place. The minute's end is kept and compared, so that no event divides; whatever an event
/// changes is kept here, and written to the record when a minute or the run is over.
#[derive(Clone, Debug)]
pub(super) struct LevelTrack {
    since: u64,
    minute_end: u64,
    area: u64,
    held: u32,
    /// Extreme of the current minute; flipped where the lowest is wanted, so that one comparison serves both.
    extreme: u32,
    flip: u32,
    /// Since when the place has been empty, where low is what matters.
    none_since: u64,
    highest: u32,
    lowest: u32,
    /// The actor of the machine this place is inside of.
    pub(super) machine: u16,
    /// Whole minutes before the start, and microseconds of the first minute before it.
    before: (usize, u64),
    first: u32,
    at_level_us: [u64; LEVELS_APART],
}

impl Default for LevelTrack {
    fn default() -> LevelTrack {
        LevelTrack {
            since: 0,
            minute_end: 0,
            area: 0,
            held: 0,
            extreme: 0,
            flip: 0,
            none_since: 0,
            highest: 0,
            lowest: 0,
            machine: NO_MACHINE,
            before: (0, 0),
            first: 0,
            at_level_us: [0; LEVELS_APART],
        }
    }
}

impl LevelTrack {
    /// Begins at `starts`, with minutes counted from `from` (both in microseconds, `from` on a whole minute).
    pub(super) fn begin(
        &mut self,
        place: &mut PlaceRecord,
        (from, starts): (u64, u64),
        held: u32,
        lowest: bool,
    ) {
        let flip = if lowest { u32::MAX } else { 0 };
        let into = (starts - from) / US_PER_MIN;
        let minute_start = from + into * US_PER_MIN;
        *self = LevelTrack {
            since: starts,
            minute_end: minute_start + US_PER_MIN,
            area: 0,
            held,
            extreme: held ^ flip,
            flip,
            none_since: starts,
            highest: held,
            lowest: held,
            machine: self.machine,
            before: (into as usize, starts - minute_start),
            first: held,
            at_level_us: [0; LEVELS_APART],
        };
        place.integral = 0;
        place.longest_none_us = 0;
        place.minutes.clear();
        let whole = Minute {
            area: u64::from(held) * US_PER_MIN,
            extreme: held,
        };
        place
            .minutes
            .resize((into as usize).min(MOST_MINUTES), whole);
    }

    #[inline]
    pub(super) fn held(&self) -> u32 {
        self.held
    }

    #[inline]
    pub(super) fn since(&self) -> u64 {
        self.since
    }

    #[inline]
    pub(super) fn change(&mut self, record: &mut [PlaceRecord], i: usize, at: u64, held: u32) {
        if at >= self.minute_end {
            self.cross(&mut record[i], at);
        }
        let span = at - self.since;
        self.area += span * u64::from(self.held);
        self.at_level_us[(self.held as usize).min(LEVELS_APART - 1)] += span;
        self.highest = self.highest.max(held);
        self.lowest = self.lowest.min(held);
        self.extreme = self.extreme.max(held ^ self.flip);
        if self.flip != 0 {
            self.none(&mut record[i], at, held);
        }
        self.since = at;
        self.held = held;
    }

    /// Follows how long the place stays empty.
    fn none(&mut self, place: &mut PlaceRecord, at: u64, held: u32) {
        if self.held == 0 {
            place.longest_none_us = place.longest_none_us.max(at - self.none_since);
        }
        if held == 0 && self.held != 0 {
            self.none_since = at;
        }
    }

    /// Closes the current minute and the whole ones up to the minute of `at`.
    #[inline(never)]
    fn cross(&mut self, place: &mut PlaceRecord, at: u64) {
        let held = u64::from(self.held);
        self.area += (self.minute_end - self.since) * held;
        push(place, self.area, self.extreme ^ self.flip);
        place.integral += u128::from(self.area);
        self.area = 0;
        let whole = (at - self.minute_end) / US_PER_MIN;
        if whole > 0 {
            let room = MOST_MINUTES.saturating_sub(place.minutes.len());
            let minute = Minute {
                area: held * US_PER_MIN,
                extreme: self.held,
            };
            let kept = place.minutes.len() + room.min(whole as usize);
            place.minutes.resize(kept, minute);
            place.integral += u128::from(whole * US_PER_MIN) * u128::from(held);
        }
        let begins = self.minute_end + whole * US_PER_MIN;
        self.at_level_us[(self.held as usize).min(LEVELS_APART - 1)] += begins - self.since;
        self.since = begins;
        self.minute_end = if place.minutes.len() < MOST_MINUTES {
            begins + US_PER_MIN
        } else {
            begins + BEYOND_US
        };
        // A level that ends with the minute before has lasted no time in this one.
        self.extreme = if at > begins {
            self.held ^ self.flip
        } else {
            0
        };
    }

    /// Closes the record at `ends`.
    pub(super) fn finish(&mut self, place: &mut PlaceRecord, ends: u64) {
        let ends = ends.max(self.since);
        let held = self.held;
        if self.flip != 0 {
            self.none(place, ends, held);
        }
        // A run that ends on a whole minute has no part of the next.
        if ends >= self.minute_end {
            self.cross(place, ends);
        }
        let span = ends - self.since;
        self.area += span * u64::from(held);
        self.at_level_us[(held as usize).min(LEVELS_APART - 1)] += span;
        place.integral += u128::from(self.area);
        if ends > self.minute_end.saturating_sub(US_PER_MIN) {
            let rest = (self.minute_end - ends) * u64::from(held);
            push(place, self.area + rest, self.extreme ^ self.flip);
        }
        let (whole, part) = self.before;
        if let Some(first) = place.minutes.get_mut(whole) {
            first.area += part * u64::from(self.first);
        }
        place.highest = self.highest;
        place.lowest = self.lowest;
        place.last = held;
        place.at_level_us.clear();
        place.at_level_us.extend_from_slice(&self.at_level_us);
    }
}

fn push(place: &mut PlaceRecord, area: u64, extreme: u32) {
    if place.minutes.len() < MOST_MINUTES {
        place.minutes.push(Minute { area, extreme });
    }
}

impl PlaceRecord {
    /// Time-average of the level over a run of `run_us` microseconds; `None` for a run of no length.
    pub fn mean(&self, run_us: u64) -> Option<f64> {
        (run_us > 0).then(|| self.integral as f64 / run_us as f64)
    }

    /// Share of the run at exactly `level`; `None` for a run of no length or a level that is not told apart.
    pub fn share_at(&self, level: u32, run_us: u64) -> Option<f64> {
        let apart = (level as usize) < LEVELS_APART - 1;
        let us = *self.at_level_us.get(level as usize)?;
        (apart && run_us > 0).then(|| us as f64 / run_us as f64)
    }
}
