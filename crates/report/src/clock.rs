//! Clock times: how they are written, and which of them an axis names.

use scullery_study::summary::Summary;

/// Minutes in a day.
pub const DAY_MIN: u32 = 24 * 60;

/// A time of day such as `12:50`, from minutes since the midnight before the meal, rounded up to the minute so that
/// "by" is true.
///
/// Past that midnight's day the hours start anew and the day is said.
pub fn clock_text(minutes: f64) -> String {
    if !minutes.is_finite() {
        return crate::number::DASH.to_owned();
    }
    let whole = (minutes - 1e-9).ceil().max(0.0) as u64;
    let text = hour_minute(whole);
    match whole / u64::from(DAY_MIN) {
        0 => text,
        1 => format!("{text} (next day)"),
        days => format!("{text} ({days} days on)"),
    }
}

/// A time of day such as `00:10`, the day unsaid, for an axis.
pub fn hour_minute(minutes: u64) -> String {
    let of_day = minutes % u64::from(DAY_MIN);
    format!("{:02}:{:02}", of_day / 60, of_day % 60)
}

/// Which part of the clock the pictures show: first minute and the minute after the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    /// First minute, since midnight.
    pub from: u32,
    /// Minute after the last, since midnight; more than `from`.
    pub to: u32,
}

impl Window {
    /// The part of the clock in which anything changes: from the first minute recorded to the end of the quarter hour
    /// after which all levels stay as they are.
    pub fn of(summary: &Summary) -> Window {
        let from = summary.clock.from_min;
        let last = summary
            .bands
            .iter()
            .chain(&summary.cumulative)
            .flat_map(|band| [&band.p05, &band.p50, &band.p95, &band.mean])
            .map(|values| last_change(values))
            .max()
            .unwrap_or(0);
        let length = (last as u32 + 2)
            .next_multiple_of(15)
            .min(summary.clock.minutes)
            .max(1);
        Window {
            from,
            to: from + length,
        }
    }

    /// Length in minutes; at least 1.
    pub fn minutes(self) -> u32 {
        self.to - self.from
    }

    /// Step in minutes between the times named on an axis `width` points wide, so that their texts stay apart.
    pub fn step(self, width: f64) -> u32 {
        const APART: f64 = 52.0;
        let fits = (width / APART).max(1.0);
        [15, 30, 60, 120, 180, 240, 360, 720]
            .into_iter()
            .chain((1..).map(|days| days * DAY_MIN))
            .find(|step| f64::from(self.minutes()) / f64::from(*step) <= fits)
            .unwrap_or(u32::MAX)
    }

    /// Times to name on an axis `width` points wide: whole multiples of the step within the window.
    pub fn ticks(self, width: f64) -> Vec<u32> {
        let step = self.step(width);
        let first = self.from.next_multiple_of(step);
        (first..=self.to).step_by(step as usize).collect()
    }

    /// Length in minutes of the rows of a table and the bars of a picture: a quarter hour, or more when the window is
    /// far longer than a day's work.
    pub fn period_min(self) -> u32 {
        const MOST: u32 = 144;
        let fits = |length: &u32| self.minutes() <= MOST * length;
        [15, 60, 240].into_iter().find(fits).unwrap_or(DAY_MIN)
    }

    /// Name of that length.
    pub fn period_words(self) -> &'static str {
        match self.period_min() {
            15 => "quarter hour",
            60 => "hour",
            240 => "four hours",
            _ => "day",
        }
    }

    /// The parts of the window, each one period long: its first minute and the numbers of its minutes in a band.
    pub fn periods(self) -> impl Iterator<Item = (u32, std::ops::Range<usize>)> {
        let length = self.period_min();
        (0..self.minutes())
            .step_by(length as usize)
            .map(move |first| {
                let last = (first + length).min(self.minutes());
                (self.from + first, first as usize..last as usize)
            })
    }
}

/// Number of the last value that differs from the one before it; 0 when none does.
fn last_change(values: &[f64]) -> usize {
    values
        .windows(2)
        .rposition(|pair| pair[0].to_bits() != pair[1].to_bits())
        .map_or(0, |at| at + 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_time_past_midnight_says_so() {
        assert_eq!(clock_text(890.0), "14:50");
        assert_eq!(clock_text(1449.2), "00:10 (next day)");
        assert_eq!(clock_text(8.0 * 1440.0 + 8.0), "00:08 (8 days on)");
        assert_eq!(hour_minute(1450), "00:10");
        assert_eq!(clock_text(f64::NAN), "-");
    }

    #[test]
    fn an_axis_names_times_that_stay_apart() {
        let window = Window { from: 660, to: 930 };
        assert_eq!(window.ticks(1000.0).len(), 19);
        assert_eq!(window.ticks(400.0), [660, 720, 780, 840, 900]);
        assert_eq!(
            (window.period_words(), window.periods().count()),
            ("quarter hour", 18)
        );
    }

    #[test]
    fn a_run_of_many_days_has_fewer_and_longer_periods() {
        let days = Window {
            from: 0,
            to: 5 * 1440,
        };
        assert_eq!((days.period_words(), days.periods().count()), ("hour", 120));
        assert_eq!(days.ticks(700.0).len(), 11);
        let year = Window {
            from: 0,
            to: 365 * 1440,
        };
        assert_eq!((year.period_words(), year.periods().count()), ("day", 365));
        assert!(year.ticks(700.0).len() < 16);
    }
}
