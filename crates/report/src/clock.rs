//! Clock times: how they are written, and which of them an axis names.

use scullery_study::summary::Summary;

/// Minutes in a day.
pub const DAY_MIN: u32 = 24 * 60;

/// A time of day such as `12:50`, from minutes since the midnight before the meal, rounded to a minute.
///
/// Past that midnight's day the hours start anew and `(next day)` is said.
pub fn clock_text(minutes: f64) -> String {
    if !minutes.is_finite() {
        return crate::number::DASH.to_owned();
    }
    let whole = minutes.round().max(0.0) as u64;
    let text = hour_minute(whole);
    if whole >= u64::from(DAY_MIN) {
        format!("{text} (next day)")
    } else {
        text
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
        [15, 30, 60, 120, 180, 240, 360]
            .into_iter()
            .find(|step| f64::from(self.minutes()) / f64::from(*step) <= fits)
            .unwrap_or(720)
    }

    /// Times to name on an axis `width` points wide: whole multiples of the step within the window.
    pub fn ticks(self, width: f64) -> Vec<u32> {
        let step = self.step(width);
        let first = self.from.next_multiple_of(step);
        (first..=self.to).step_by(step as usize).collect()
    }

    /// The quarter hours of the window: for each its first minute and the numbers of its minutes in a band.
    pub fn quarters(self) -> impl Iterator<Item = (u32, std::ops::Range<usize>)> {
        (0..self.minutes()).step_by(15).map(move |first| {
            let last = (first + 15).min(self.minutes());
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
        assert_eq!(clock_text(1449.6), "00:10 (next day)");
        assert_eq!(hour_minute(1450), "00:10");
        assert_eq!(clock_text(f64::NAN), "-");
    }

    #[test]
    fn an_axis_names_times_that_stay_apart() {
        let window = Window { from: 660, to: 930 };
        assert_eq!(window.ticks(1000.0).len(), 19);
        assert_eq!(window.ticks(400.0), [660, 720, 780, 840, 900]);
        assert_eq!(window.quarters().count(), 18);
    }
}
