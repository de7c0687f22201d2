//! Hold and run with finite room for what waits.

use crate::solve::{explore, positive};

/// A machine held until so many wait, with finite room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HoldWithRoom {
    /// Share of time running.
    pub p_running: f64,
    /// Share of time full: the share of arrivals turned away.
    pub p_full: f64,
    /// Served per time.
    pub throughput: f64,
    /// Mean number there.
    pub in_system: f64,
    /// Starts per time.
    pub starts_per_time: f64,
    /// Mean time from a start until none is left.
    pub mean_run: f64,
}

/// M/M/1/K under an N-policy: exponential cycle, start when `hold_until` are there, run until none is, arrivals turned
/// away at `room`. A small chain, solved exactly. `None` unless both rates are positive and
/// `1 <= hold_until <= room`, or when the room is beyond the few hundred that are solved.
///
/// After the theory of controlled queues, from memory of Yadin & Naor (1963).
pub fn hold_with_room(
    arrival_rate: f64,
    service_rate: f64,
    hold_until: u32,
    room: u32,
) -> Option<HoldWithRoom> {
    positive(arrival_rate)?;
    positive(service_rate)?;
    if hold_until == 0 || hold_until > room {
        return None;
    }
    let law = explore((0_u32, false), |&(here, running)| {
        let mut moves = Vec::new();
        if here < room {
            let starts = running || here + 1 >= hold_until;
            moves.push(((here + 1, starts), arrival_rate));
        }
        if running {
            moves.push(((here - 1, here > 1), service_rate));
        }
        moves
    })?;
    let share = |what: &dyn Fn(u32, bool) -> bool| -> f64 {
        let those = law
            .iter()
            .filter(|((here, running), _)| what(*here, *running));
        those.map(|(_, p)| p).sum()
    };
    let p_running = share(&|_, running| running);
    let starts = arrival_rate * share(&|here, running| !running && here + 1 == hold_until);
    Some(HoldWithRoom {
        p_running,
        p_full: share(&|here, _| here == room),
        throughput: service_rate * p_running,
        in_system: law.iter().map(|((here, _), p)| p * f64::from(*here)).sum(),
        starts_per_time: starts,
        mean_run: p_running / starts,
    })
}
