//! Time is a whole number of microseconds, so that "the same instant" is exact.

use std::fmt;
use std::ops::{Add, AddAssign, Sub};

/// Microseconds in a second.
pub const US_PER_S: u64 = 1_000_000;
/// Microseconds in a minute.
pub const US_PER_MIN: u64 = 60 * US_PER_S;

/// A point on the simulated clock: whole microseconds since the midnight before the meal.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SimTime(u64);

/// A length of simulated time: whole microseconds, never negative.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span(u64);

impl SimTime {
    /// The midnight before the meal.
    pub const MIDNIGHT: SimTime = SimTime(0);
    /// The latest point a run can name: 200 days after midnight.
    pub const LAST: SimTime = SimTime(200 * 24 * 60 * US_PER_MIN);

    /// The point `us` microseconds after midnight, at most [`SimTime::LAST`].
    #[inline]
    pub fn from_us(us: u64) -> SimTime {
        SimTime(us.min(Self::LAST.0))
    }

    /// The point `s` seconds after midnight.
    #[inline]
    pub fn from_s(s: f64) -> SimTime {
        SimTime::MIDNIGHT + Span::from_s(s)
    }

    /// The point `min` minutes after midnight.
    #[inline]
    pub fn from_min(min: f64) -> SimTime {
        SimTime::from_s(min * 60.0)
    }

    /// Microseconds since midnight.
    #[inline]
    pub fn us(self) -> u64 {
        self.0
    }

    /// Minutes since midnight.
    #[inline]
    pub fn min(self) -> f64 {
        self.0 as f64 / US_PER_MIN as f64
    }

    /// Seconds since midnight.
    #[inline]
    pub fn s(self) -> f64 {
        self.0 as f64 / US_PER_S as f64
    }

    /// How long after `earlier` this is; nought when it is not after.
    #[inline]
    pub fn since(self, earlier: SimTime) -> Span {
        Span(self.0.saturating_sub(earlier.0))
    }
}

impl Span {
    /// No time at all.
    pub const NONE: Span = Span(0);

    /// A length of `us` microseconds.
    #[inline]
    pub const fn from_us(us: u64) -> Span {
        Span(us)
    }

    /// A length of `s` seconds, rounded once to whole microseconds; negative and not-a-number become nought.
    #[inline]
    pub fn from_s(s: f64) -> Span {
        // Often asked of nought.
        if s > 0.0 {
            // Halves go up. Out-of-range floats saturate in `as`; the cap keeps every sum of a few spans inside u64.
            let us = (s * US_PER_S as f64 + 0.5) as i64;
            Span((us as u64).min(SimTime::LAST.0))
        } else {
            Span::NONE
        }
    }

    /// A drawn length of `s` seconds: rounded once, and at least 1 microsecond unless it is exactly nought.
    #[inline]
    pub fn drawn(s: f64) -> Span {
        if s > 0.0 {
            Span(Span::from_s(s).0.max(1))
        } else {
            Span::NONE
        }
    }

    /// A length of `min` minutes.
    #[inline]
    pub fn from_min(min: f64) -> Span {
        Span::from_s(min * 60.0)
    }

    /// Microseconds.
    #[inline]
    pub fn us(self) -> u64 {
        self.0
    }

    /// Seconds.
    #[inline]
    pub fn s(self) -> f64 {
        self.0 as f64 / US_PER_S as f64
    }

    /// Minutes.
    #[inline]
    pub fn min(self) -> f64 {
        self.0 as f64 / US_PER_MIN as f64
    }

    /// Whether this is no time at all.
    #[inline]
    pub fn is_none(self) -> bool {
        self.0 == 0
    }
}

impl Add<Span> for SimTime {
    type Output = SimTime;
    #[inline]
    fn add(self, later: Span) -> SimTime {
        SimTime::from_us(self.0.saturating_add(later.0))
    }
}

impl Add for Span {
    type Output = Span;
    #[inline]
    fn add(self, more: Span) -> Span {
        Span(self.0.saturating_add(more.0))
    }
}

impl AddAssign for Span {
    #[inline]
    fn add_assign(&mut self, more: Span) {
        *self = *self + more;
    }
}

impl Sub for Span {
    type Output = Span;
    #[inline]
    fn sub(self, less: Span) -> Span {
        Span(self.0.saturating_sub(less.0))
    }
}

impl fmt::Display for SimTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let s = self.0 / US_PER_S;
        let us = self.0 % US_PER_S;
        write!(f, "{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)?;
        if us > 0 {
            write!(f, ".{us:06}")?;
        }
        Ok(())
    }
}
