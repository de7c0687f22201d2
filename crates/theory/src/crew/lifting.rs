//! How heavy a full rack may be: the recommended weight limit of the revised NIOSH lifting equation.
//!
//! A screening figure for two-handed lifts on a dry, even floor with room to stand. It does not cover one-handed,
//! seated or kneeling lifts, wet or slippery floors, hot or unstable loads, or pushing and pulling; and it is no
//! medical advice. Where a lift is near or above it, change the task and ask someone licensed to judge it.

use crate::solve::{not_negative, positive};

/// Load constant, kg: what most healthy adults can lift in the best posture.
const LOAD_CONSTANT_KG: f64 = 23.0;

/// One lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lift {
    /// From between the ankles to the hands, cm, horizontally.
    pub horizontal_cm: f64,
    /// Height of the hands at the start, cm.
    pub vertical_cm: f64,
    /// How far the hands travel up or down, cm.
    pub travel_cm: f64,
    /// How far the body turns, degrees.
    pub twist_deg: f64,
    /// Frequency multiplier from the published table, above 0 and at most 1.
    pub frequency: f64,
    /// Coupling (grip) multiplier from the published table, above 0 and at most 1.
    pub coupling: f64,
}

/// The multipliers of one lift.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Multipliers {
    /// `25 / H`.
    pub horizontal: f64,
    /// `1 - 0.003 |V - 75|`.
    pub vertical: f64,
    /// `0.82 + 4.5 / D`.
    pub distance: f64,
    /// `1 - 0.0032 A`.
    pub asymmetry: f64,
}

/// The multipliers by their formulas alone, whether or not the lift lies in the range they hold for: above 1 for a
/// reach under 25 cm or a travel under 25 cm. To plan with, use [`recommended_weight_limit_kg`]. `None` unless the
/// distances are positive (the height and the twist may be nought).
///
/// Waters et al. (1993), NIOSH publication 94-110, as given in Fundamentals and Assessment Tools for Occupational
/// Ergonomics, ch. 46; the asymmetry multiplier from memory of it.
pub fn multipliers_as_written(lift: &Lift) -> Option<Multipliers> {
    Some(Multipliers {
        horizontal: 25.0 / positive(lift.horizontal_cm)?,
        vertical: 1.0 - 0.003 * (not_negative(lift.vertical_cm)? - 75.0).abs(),
        distance: 0.82 + 4.5 / positive(lift.travel_cm)?,
        asymmetry: 1.0 - 0.0032 * not_negative(lift.twist_deg)?,
    })
}

/// Recommended weight limit, kg: `23 HM VM DM AM FM CM`, with the limits of the equation kept: no multiplier above 1,
/// and nought for a reach beyond 63 cm, a height or travel beyond 175 cm, or a turn beyond 135 degrees. `None` if a
/// figure is no distance, or a tabled multiplier is not above 0 and at most 1.
///
/// Source as at [`multipliers_as_written`]; the limits from memory of NIOSH publication 94-110.
pub fn recommended_weight_limit_kg(lift: &Lift) -> Option<f64> {
    let written = multipliers_as_written(lift)?;
    let mut limit = LOAD_CONSTANT_KG;
    for tabled in [lift.frequency, lift.coupling] {
        if !(tabled > 0.0 && tabled <= 1.0) {
            return None;
        }
        limit *= tabled;
    }
    let out_of_range = lift.horizontal_cm > 63.0
        || lift.vertical_cm > 175.0
        || lift.travel_cm > 175.0
        || lift.twist_deg > 135.0;
    if out_of_range {
        return Some(0.0);
    }
    let all = [
        written.horizontal,
        written.vertical,
        written.distance,
        written.asymmetry,
    ];
    Some(all.iter().fold(limit, |kg, factor| kg * factor.min(1.0)))
}
