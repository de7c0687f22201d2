//! Running counts, minute by minute.

use scullery_engine::time::US_PER_MIN;

use super::MOST_MINUTES;

/// How a running count grew over a run.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CountRecord {
    /// Total over the whole run, however long.
    pub total: u64,
    /// When it grew last, microseconds since midnight; 0 when it never did.
    pub last_us: u64,
    /// How much it grew in each minute from the record's first one; ends with the last minute in which it grew.
    pub minutes: Vec<u32>,
}

/// Follows one count. What grew in the current minute is kept apart, so that an event touches nothing else.
#[derive(Clone, Debug, Default)]
pub(super) struct CountTrack {
    from: u64,
    minute_end: u64,
    last: u64,
    now: u64,
}

impl CountTrack {
    pub(super) fn begin(&mut self, count: &mut CountRecord, from: u64) {
        *self = CountTrack {
            from,
            minute_end: from,
            last: 0,
            now: 0,
        };
        count.total = 0;
        count.last_us = 0;
        count.minutes.clear();
    }

    #[inline]
    pub(super) fn grow(&mut self, record: &mut [CountRecord], i: usize, at: u64, by: u32) {
        if at >= self.minute_end {
            self.cross(&mut record[i], at);
        }
        self.last = at;
        self.now += u64::from(by);
    }

    #[inline(never)]
    fn cross(&mut self, count: &mut CountRecord, at: u64) {
        self.close_minute(count);
        let minute = (at - self.from) / US_PER_MIN;
        let kept = minute as usize + 1;
        if kept > MOST_MINUTES {
            // Beyond what is kept: one more entry, cut off when the run is over, catches the rest.
            count.minutes.resize(MOST_MINUTES + 1, 0);
            self.minute_end = u64::MAX;
        } else {
            count.minutes.resize(kept, 0);
            self.minute_end = self.from + (minute + 1) * US_PER_MIN;
        }
    }

    fn close_minute(&mut self, count: &mut CountRecord) {
        count.total += self.now;
        if let Some(minute) = count.minutes.last_mut() {
            *minute = minute.saturating_add(u32::try_from(self.now).unwrap_or(u32::MAX));
        }
        self.now = 0;
    }

    pub(super) fn finish(&mut self, count: &mut CountRecord) {
        self.close_minute(count);
        count.last_us = self.last;
        count.minutes.truncate(MOST_MINUTES);
    }
}

impl CountRecord {
    /// The most it grew within 60 minutes one after another, each a minute of the clock; `None` when it never grew.
    pub fn busiest_hour(&self) -> Option<u64> {
        if self.total == 0 {
            return None;
        }
        let mut within = 0;
        let mut most = 0;
        for (i, &by) in self.minutes.iter().enumerate() {
            within += u64::from(by);
            if let Some(gone) = i.checked_sub(60) {
                within -= u64::from(self.minutes[gone]);
            }
            most = most.max(within);
        }
        Some(most)
    }
}
