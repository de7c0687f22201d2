//! Two exponential stations fed by a Poisson stream, with an unlimited queue before the first.

use super::two_stations;
use crate::solve::{LevelChain, Matrix, positive};

/// Most places between the stations that are solved.
const MOST_PLACES: u32 = 200;

/// The two stations in steady state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tandem {
    /// Mean number at the first station, waiting, in service or blocked there.
    pub at_first: f64,
    /// Mean number between the stations and in service at the second.
    pub at_second: f64,
    /// Mean time from arrival to the end of the second service.
    pub time_in_system: f64,
    /// Share of time the first station is blocked.
    pub p_blocked: f64,
    /// Share of time the second station works.
    pub second_utilisation: f64,
    /// Pieces per time out of the second station, worked out from its own state: equal to the arrival rate.
    pub throughput: f64,
    /// The rate from which on the line cannot keep up.
    pub most_throughput: f64,
}

/// Poisson arrivals, two exponential stations, `buffer` places between, blocking after service, solved exactly by its
/// matrix-geometric form. `None` when `arrival_rate` is not below [`two_stations`], and beyond 200 places.
///
/// A model of the kind of Neuts (1968) and Konheim & Reiser (1976), from memory of both.
pub fn tandem(arrival_rate: f64, first_rate: f64, second_rate: f64, buffer: u32) -> Option<Tandem> {
    positive(arrival_rate)?;
    let most_throughput = two_stations(first_rate, second_rate, buffer)?;
    if arrival_rate >= most_throughput || buffer > MOST_PLACES {
        return None;
    }
    // Level: number at the first station. Phase: number past it, 0 to full; one more for "full and first blocked".
    let full = buffer as usize + 1;
    let blocked = full + 1;
    let phases = blocked + 1;
    let mut up = Matrix::zero(phases);
    let mut within = Matrix::zero(phases);
    let mut down = Matrix::zero(phases);
    for phase in 0..phases {
        up[(phase, phase)] = arrival_rate;
    }
    for past in 0..full {
        down[(past, past + 1)] = first_rate;
        within[(past + 1, past)] = second_rate;
    }
    within[(full, blocked)] = first_rate;
    down[(blocked, full)] = second_rate;
    let mut within_0 = Matrix::zero(blocked);
    for past in 0..full {
        within_0[(past + 1, past)] = second_rate;
    }
    let solved = LevelChain {
        up,
        within,
        down,
        phases_at_0: blocked,
        within_0,
    }
    .solve()?;
    let mut past = solved.above_0.clone();
    for (p, more) in past.iter_mut().zip(&solved.level_0) {
        *p += more;
    }
    let number = (0..=buffer + 1).chain([buffer + 1]);
    let at_second = past.iter().zip(number).map(|(p, n)| p * f64::from(n)).sum();
    let second_utilisation: f64 = past.iter().skip(1).sum();
    Some(Tandem {
        at_first: solved.mean_level,
        at_second,
        time_in_system: (solved.mean_level + at_second) / arrival_rate,
        p_blocked: past[blocked],
        second_utilisation,
        throughput: second_rate * second_utilisation,
        most_throughput,
    })
}
