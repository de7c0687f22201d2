//! Time a task should take: stopwatch reading, rating and allowance.

use crate::solve::{fraction, not_negative, positive};

/// How an allowance for rest, personal needs and small delays is added. Two conventions are in use; say which.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Allowance {
    /// A share of the basic time: `standard = basic (1 + a)`.
    OfBasicTime(f64),
    /// A share of the working day: `standard = basic / (1 - a)`.
    OfWorkingDay(f64),
}

/// Basic (normal) time: reading times rating, 1.0 being a trained worker at a pace that can be kept up. In the unit
/// of the reading. `None` unless both are positive.
///
/// From memory of ILO, Introduction to Work Study.
pub fn basic_time(observed: f64, rating: f64) -> Option<f64> {
    Some(positive(observed)? * positive(rating)?)
}

/// Standard time, in the unit of the basic time. `None` for a negative allowance, or a share of the day of 1 or more.
///
/// From memory of ILO, Introduction to Work Study. Allowances go on work time, not on machine time; they are a planning
/// figure and replace no rule on breaks, heat or rest.
pub fn standard_time(basic: f64, allowance: Allowance) -> Option<f64> {
    let basic = positive(basic)?;
    match allowance {
        Allowance::OfBasicTime(share) => Some(basic * (1.0 + not_negative(share)?)),
        Allowance::OfWorkingDay(share) => {
            not_negative(share)?;
            Some(basic / fraction(1.0 - share).or((share <= 0.0).then_some(1.0))?)
        }
    }
}
