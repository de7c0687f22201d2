//! M/G/c/c: nobody waits; who finds all servers busy goes away (Erlang B).

use super::means::MOST_SERVERS;
use crate::solve::not_negative;

/// Servers without waiting room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ErlangB {
    /// Share of arrivals turned away.
    pub blocking: f64,
    /// Mean number of busy servers, `a (1 - B)`.
    pub carried: f64,
}

/// The Erlang loss of `servers` places offered `offered_load = lambda / mu`:
/// `B(0) = 1`, `B(k) = a B(k-1) / (k + a B(k-1))`. Always has a steady state;
/// `None` for a negative load or beyond ten million servers.
///
/// From memory of the ITU-D Teletraffic Engineering Handbook, ch. 7.
pub fn erlang_b(offered_load: f64, servers: u32) -> Option<ErlangB> {
    if servers > MOST_SERVERS {
        return None;
    }
    let lost = blocking(not_negative(offered_load)?, servers);
    Some(ErlangB {
        blocking: lost,
        carried: offered_load * (1.0 - lost),
    })
}

/// The recursion itself, for inputs already looked at.
pub(crate) fn blocking(offered: f64, servers: u32) -> f64 {
    (1..=servers).fold(1.0, |lost, k| next_blocking(offered, lost, k))
}

/// The loss of `servers` places from that of one place fewer.
pub(crate) fn next_blocking(offered: f64, lost: f64, servers: u32) -> f64 {
    offered * lost / (f64::from(servers) + offered * lost)
}
