//! Racks per hour of a machine. Plain arithmetic; the data plate of the machine has the last word.

use crate::solve::{not_negative, positive};

/// Racks per hour of a door type with this cycle and handling (opening, swapping racks, closing) each time, seconds:
/// `3600 / (cycle + handling)`.
pub fn door_racks_per_hour(cycle_s: f64, handling_s: f64) -> Option<f64> {
    Some(3600.0 / (positive(cycle_s)? + not_negative(handling_s)?))
}

/// Racks per hour of a rack conveyor with no gap between racks: `60 speed / rack length`.
pub fn conveyor_racks_per_hour(metres_per_minute: f64, rack_m: f64) -> Option<f64> {
    Some(60.0 * positive(metres_per_minute)? / positive(rack_m)?)
}

/// Share of a rated figure to plan on, for example 0.70 (common practice, no source). `None` unless the share is
/// above 0 and at most 1.
pub fn usable_rate(rated: f64, share: f64) -> Option<f64> {
    let rated = not_negative(rated)?;
    (share > 0.0 && share <= 1.0).then_some(rated * share)
}
