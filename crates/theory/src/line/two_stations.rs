//! Two exponential stations, the first never short of work.

use crate::solve::positive;

/// Most places between the stations.
const MOST_PLACES: u32 = 1_000_000;

/// Pieces per time through two exponential stations with `buffer` places between, the first always with work,
/// blocking after service: `mu1 (1 - r^(b+2)) / (1 - r^(b+3))`, `r = mu1 / mu2`; `mu (b + 2) / (b + 3)` at equal
/// rates. This is also the rate from which on a line fed from outside cannot keep up. `None` unless both rates are
/// positive.
///
/// From memory of Hunt, Operations Research 4 (1956) 674-683.
pub fn two_stations(first_rate: f64, second_rate: f64, buffer: u32) -> Option<f64> {
    let r = positive(first_rate)? / positive(second_rate)?;
    if buffer > MOST_PLACES {
        return None;
    }
    // Summed from the end that cannot overflow: throughput is mu1 P(not blocked) of a finite M/M/1.
    let (base, small) = if r <= 1.0 {
        (r, first_rate)
    } else {
        (1.0 / r, second_rate)
    };
    let below = (0..buffer + 2).fold(0.0, |sum, _| 1.0 + base * sum);
    Some(small * below / (1.0 + base * below))
}
