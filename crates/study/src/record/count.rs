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

#[derive(Clone, Debug, Default)]
pub(super) struct CountTrack {
    from: u64,
    minute_end: u64,
}

impl CountTrack {
    pub(super) fn begin(&mut self, count: &mut CountRecord, from: u64) {
        *self = CountTrack {
            from,
            minute_end: from,
        };
        count.total = 0;
        count.last_us = 0;
        count.minutes.clear();
    }

    #[inline]
    pub(super) fn grow(&mut self, count: &mut CountRecord, at: u64, by: u32) {
        count.total += u64::from(by);
        count.last_us = at;
        if at >= self.minute_end {
            self.cross(count, at);
        }
        if let Some(minute) = count.minutes.last_mut() {
            *minute += by;
        }
    }

    #[cold]
    #[inline(never)]
    fn cross(&mut self, count: &mut CountRecord, at: u64) {
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

    pub(super) fn finish(&mut self, count: &mut CountRecord) {
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
