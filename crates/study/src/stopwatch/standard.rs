//! From observed to standard time: rating and allowance, each by a named convention.
//!
//! # Source
//! International Labour Office, *Introduction to Work Study*: basic time is observed time times rating; allowances are
//! added to it. Two conventions for the allowance are in use and differ: which one is meant is always said.

/// Of what the rest allowance is a share.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Convention {
    /// Of the basic time: standard = basic (1 + a).
    ShareOfBasic,
    /// Of the whole shift: standard = basic / (1 - a).
    ShareOfShift,
}

/// Times of a task at three stages, s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandardTime {
    /// As the stopwatch says, mean.
    pub observed_s: f64,
    /// At the pace that is called normal.
    pub basic_s: f64,
    /// With rest and needs, over the shift.
    pub standard_s: f64,
}

/// Standard time of a task. `rating` is 1 at normal pace and more for a quick worker; `allowance` is a share from 0 to
/// below 1.
pub fn standard_time(
    observed_s: f64,
    rating: f64,
    allowance: f64,
    convention: Convention,
) -> StandardTime {
    let basic_s = observed_s * rating;
    let standard_s = match convention {
        Convention::ShareOfBasic => basic_s * (1.0 + allowance),
        Convention::ShareOfShift => basic_s / (1.0 - allowance),
    };
    StandardTime {
        observed_s,
        basic_s,
        standard_s,
    }
}
