//! The backlog of a rush, work taken as a fluid that comes and goes at known rates.

use super::segment::{Segment, check};
use crate::solve::positive;

/// What a rush leaves waiting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fluid {
    /// Largest backlog.
    pub peak: f64,
    /// When it is first reached.
    pub time_of_peak: f64,
    /// When the last of it is cleared; `None` when none ever forms.
    pub clear_time: Option<f64>,
    /// Waiting of all together (amount times time): the area under the backlog.
    pub total_delay: f64,
    /// Wait of what comes at the peak, `peak / capacity`.
    pub delay_at_peak: f64,
}

/// Backlog of arrivals by `segments` at a server that clears `capacity` per time:
/// `Q(t) = max over s <= t of A(t) - A(s) - capacity (t - s)`. `None` unless `capacity` is positive and the segments
/// are sound.
///
/// From memory of Newell, Applications of Queueing Theory, ch. 2, and Hall, Queueing Methods, ch. 6.
pub fn fluid_backlog(segments: &[Segment], capacity: f64) -> Option<Fluid> {
    let path = backlog_path(segments, capacity)?;
    let top = highest(&path);
    Some(Fluid {
        peak: top.amount,
        time_of_peak: top.time,
        clear_time: last_clear(&path, 0.0),
        total_delay: area_above(&path, 0.0),
        delay_at_peak: top.amount / capacity,
    })
}

/// A corner of the backlog as a line of straight pieces.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Corner {
    pub(crate) time: f64,
    pub(crate) amount: f64,
}

/// The corners of the backlog, from an empty start until all has come and is cleared.
pub(crate) fn backlog_path(segments: &[Segment], capacity: f64) -> Option<Vec<Corner>> {
    check(segments)?;
    positive(capacity)?;
    let mut path = vec![Corner {
        time: 0.0,
        amount: 0.0,
    }];
    let (mut time, mut amount) = (0.0, 0.0);
    for segment in segments {
        let growth = segment.rate - capacity;
        let until_empty = if growth < 0.0 {
            amount / -growth
        } else {
            f64::INFINITY
        };
        if until_empty < segment.length {
            path.push(Corner {
                time: time + until_empty,
                amount: 0.0,
            });
            amount = 0.0;
        } else {
            amount = (amount + growth * segment.length).max(0.0);
        }
        time += segment.length;
        path.push(Corner { time, amount });
    }
    if amount > 0.0 {
        path.push(Corner {
            time: time + amount / capacity,
            amount: 0.0,
        });
    }
    Some(path)
}

/// The first of the highest corners.
pub(crate) fn highest(path: &[Corner]) -> Corner {
    let start = Corner {
        time: 0.0,
        amount: 0.0,
    };
    path.iter().fold(
        start,
        |best, at| if at.amount > best.amount { *at } else { best },
    )
}

/// When the backlog comes down to `level` for the last time; `None` if it is never above.
pub(crate) fn last_clear(path: &[Corner], level: f64) -> Option<f64> {
    let mut falls = path
        .windows(2)
        .filter(|w| w[0].amount > level && w[1].amount <= level);
    falls.next_back().map(|w| crossing(w[0], w[1], level))
}

/// When the backlog first reaches `level`; `None` if it never does.
pub(crate) fn first_reach(path: &[Corner], level: f64) -> Option<f64> {
    let mut rises = path
        .windows(2)
        .filter(|w| w[0].amount < level && w[1].amount >= level);
    rises.next().map(|w| crossing(w[0], w[1], level))
}

/// Area between the backlog and `level`, where it is above.
pub(crate) fn area_above(path: &[Corner], level: f64) -> f64 {
    let pieces = path.windows(2).map(|w| {
        let (a, b) = (w[0].amount - level, w[1].amount - level);
        let length = w[1].time - w[0].time;
        match (a > 0.0, b > 0.0) {
            (true, true) => (a + b) / 2.0 * length,
            (true, false) => a * (crossing(w[0], w[1], level) - w[0].time) / 2.0,
            (false, true) => b * (w[1].time - crossing(w[0], w[1], level)) / 2.0,
            (false, false) => 0.0,
        }
    });
    pieces.sum()
}

fn crossing(from: Corner, to: Corner, level: f64) -> f64 {
    let part = (level - from.amount) / (to.amount - from.amount);
    from.time + part * (to.time - from.time)
}
