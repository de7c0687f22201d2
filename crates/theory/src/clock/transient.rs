//! M(t)/M/c begun empty: the whole law of the number there, as the clock goes.

use super::segment::{Segment, check};
use crate::solve::{not_negative, positive};

/// Most states followed.
const MOST_STATES: u32 = 100_000;

/// Most work taken on: expected jumps times states.
const MOST_WORK: f64 = 1e10;

/// Longest stretch, in expected jumps, taken at once: `exp(-64)` is still far from underflow.
const JUMPS_AT_ONCE: f64 = 64.0;

/// Servers and how far the number there is followed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ManyServers {
    /// Services per time and server.
    pub service_rate: f64,
    /// How many servers.
    pub servers: u32,
    /// Largest number there that is followed; arrivals beyond it are lost. Choose it so that
    /// [`AtTime::p_at_room`] stays negligible.
    pub room: u32,
}

/// The line at one moment.
#[derive(Clone, Debug, PartialEq)]
pub struct AtTime {
    /// The moment.
    pub time: f64,
    /// Mean number there.
    pub in_system: f64,
    /// Mean number waiting.
    pub in_queue: f64,
    /// Probability that all servers are busy: an arrival now has to wait.
    pub p_wait: f64,
    /// Probability that the room is full: how much the finite room matters.
    pub p_at_room: f64,
    /// Probability of each number there.
    pub law: Vec<f64>,
}

/// M(t)/M/c begun empty, looked at at the moments `at` (in order of time). The Kolmogorov forward equations
/// `dp/dt = p Q(t)`, solved by uniformisation within each segment, exact to rounding. After the last segment nothing
/// comes. `None` unless the rates are positive, `room >= servers >= 1` and the moments in order, and beyond 1e10
/// jumps times states (some 10 seconds of work).
///
/// Uniformisation from memory of Grassmann (1977); the model as in Green & Kolesar (1991).
pub fn queue_over_time(segments: &[Segment], line: ManyServers, at: &[f64]) -> Option<Vec<AtTime>> {
    check(segments)?;
    positive(line.service_rate)?;
    let highest = segments.iter().fold(0.0_f64, |most, s| most.max(s.rate));
    let jumps = (highest + line.service_rate * f64::from(line.servers)) * at.last().unwrap_or(&0.0);
    if jumps * f64::from(line.room) > MOST_WORK {
        return None;
    }
    if line.servers == 0 || line.room < line.servers || line.room > MOST_STATES {
        return None;
    }
    let mut law = vec![0.0; line.room as usize + 1];
    law[0] = 1.0;
    let mut now = 0.0;
    let mut seen = Vec::new();
    for &moment in at {
        not_negative(moment - now)?;
        while now < moment {
            let (rate, until) = rate_at(segments, now);
            let stop = moment.min(until);
            advance(&mut law, rate, line, stop - now);
            now = stop;
        }
        seen.push(look(moment, &law, line.servers));
    }
    Some(seen)
}

/// Arrival rate from `now` on, and until when.
fn rate_at(segments: &[Segment], now: f64) -> (f64, f64) {
    let mut end = 0.0;
    for segment in segments {
        end += segment.length;
        if now < end {
            return (segment.rate, end);
        }
    }
    (0.0, f64::INFINITY)
}

/// Carries the law on by `length` at a constant rate.
fn advance(law: &mut Vec<f64>, rate: f64, line: ManyServers, length: f64) {
    let clock = rate + line.service_rate * f64::from(line.servers);
    let pieces = (clock * length / JUMPS_AT_ONCE).ceil().max(1.0);
    let jumps = clock * length / pieces;
    let mut done = 0.0;
    while done < pieces {
        *law = after_jumps(law, rate / clock, line, jumps);
        done += 1.0;
    }
}

/// The law after a Poisson number of jumps with mean `jumps`.
fn after_jumps(law: &[f64], up: f64, line: ManyServers, jumps: f64) -> Vec<f64> {
    let mut jumped = law.to_vec();
    let mut weight = libm::exp(-jumps);
    let mut mixed: Vec<f64> = law.iter().map(|p| p * weight).collect();
    let mut count = 0.0;
    // Past the mean the weights fall faster than a geometric series; the rest is below rounding.
    while count < jumps || weight > 1e-20 {
        jumped = jump(&jumped, up, line);
        count += 1.0;
        weight *= jumps / count;
        for (sum, p) in mixed.iter_mut().zip(&jumped) {
            *sum += weight * p;
        }
    }
    mixed
}

/// The law after one jump of the uniformised chain: up, down or nowhere.
fn jump(law: &[f64], up: f64, line: ManyServers) -> Vec<f64> {
    let down = (1.0 - up) / f64::from(line.servers);
    let mut next = vec![0.0; law.len()];
    for ((n, p), busy) in law.iter().enumerate().zip(0_u32..) {
        let fall = down * f64::from(busy.min(line.servers));
        let rise = if n + 1 < law.len() { up } else { 0.0 };
        if let Some(above) = next.get_mut(n + 1) {
            *above += rise * p;
        }
        if n > 0 {
            next[n - 1] += fall * p;
        }
        next[n] += (1.0 - rise - fall).max(0.0) * p;
    }
    next
}

fn look(time: f64, law: &[f64], servers: u32) -> AtTime {
    let (mut in_system, mut in_queue, mut p_wait) = (0.0, 0.0, 0.0);
    for (p, n) in law.iter().zip(0_u32..) {
        in_system += p * f64::from(n);
        in_queue += p * f64::from(n.saturating_sub(servers));
        if n >= servers {
            p_wait += p;
        }
    }
    AtTime {
        time,
        in_system,
        in_queue,
        p_wait,
        p_at_room: law.last().copied().unwrap_or(0.0),
        law: law.to_vec(),
    }
}
