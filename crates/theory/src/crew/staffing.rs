//! How many servers a wait target asks for.

use crate::queue::{MOST_SERVERS, blocking_step, erlang_c_from_loss};
use crate::solve::{fraction, not_negative, positive};

/// A number of servers, and what it gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Staffing {
    /// Servers.
    pub servers: u32,
    /// Probability that a wait is longer than asked about.
    pub p_wait_longer: f64,
}

/// Fewest servers of an M/M/c line so that `P(wait > time) = C exp(-(c mu - lambda) time)` is at most `target`. With
/// `time` nought, the target is for having to wait at all. `None` unless `0 < target < 1`, the rates are positive and
/// at most ten million servers do.
///
/// Erlang C, from memory of Gross & Harris, Fundamentals of Queueing Theory, ch. 2. Says nothing of breaks, walks,
/// rushes or people's limits: a start for a plan, not a rota.
pub fn fewest_servers(
    arrival_rate: f64,
    service_rate: f64,
    time: f64,
    target: f64,
) -> Option<Staffing> {
    let offered = positive(arrival_rate)? / positive(service_rate)?;
    not_negative(time)?;
    fraction(target)?;
    if offered >= f64::from(MOST_SERVERS) {
        return None;
    }
    let mut lost = 1.0;
    for servers in 1..=MOST_SERVERS {
        lost = blocking_step(offered, lost, servers);
        let use_of_each = offered / f64::from(servers);
        if use_of_each >= 1.0 {
            continue;
        }
        let spare = f64::from(servers) * service_rate - arrival_rate;
        let longer = erlang_c_from_loss(lost, use_of_each) * libm::exp(-spare * time);
        if longer <= target {
            return Some(Staffing {
                servers,
                p_wait_longer: longer,
            });
        }
    }
    None
}

/// Square-root staffing: `c = ceil(a + beta sqrt(a))` servers for an offered load `a`, with about
/// `P(wait) = 1 / (1 + beta Phi(beta) / phi(beta))`. An approximation for many servers; the exact figure is Erlang C.
/// `None` unless both are positive and the result fits a count.
///
/// From memory of Halfin & Whitt, Operations Research 29 (1981) 567-588.
pub fn square_root_staffing(offered_load: f64, beta: f64) -> Option<Staffing> {
    let wanted = (positive(offered_load)? + positive(beta)? * offered_load.sqrt()).ceil();
    if wanted > f64::from(MOST_SERVERS) {
        return None;
    }
    let below = 0.5 * libm::erfc(-beta / std::f64::consts::SQRT_2);
    let density = libm::exp(-beta * beta / 2.0) / (2.0 * std::f64::consts::PI).sqrt();
    Some(Staffing {
        servers: wanted as u32,
        p_wait_longer: 1.0 / (1.0 + beta * below / density),
    })
}
