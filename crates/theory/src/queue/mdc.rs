//! M/D/c: several servers, always the same service time (Crommelin).

use super::means::{Means, load};
use crate::solve::positive;

/// Turns of the fixed point after which it is taken as found; it closes in by the use of the servers each turn.
const TURNS: u32 = 20_000;

/// Most servers: one root has to be found for each.
const MOST_SERVERS: u32 = 10_000;

/// The M/D/c line in steady state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MDc {
    /// The means.
    pub means: Means,
    /// Probability that an arrival finds a server free.
    pub p_no_wait: f64,
}

/// M/D/c in steady state. One service time `D` later, all in service now are gone and all that came are there:
/// `n(t + D) = max(n(t) - c, 0) + Poisson(a)`, `a = lambda D`. With `z_1 .. z_(c-1)` the roots of
/// `z^c = exp(a (z - 1))` inside the unit circle, `P(no wait) = (c - a) / prod(1 - z_k)` and
/// `Lq = sum 1 / (1 - z_k) - (c (c - 1) - a^2) / (2 (c - a))`. `None` when the servers cannot keep up, and beyond
/// 10,000 of them.
///
/// From memory of Crommelin (1932) and Tijms, A First Course in Stochastic Models, ch. 9.
pub fn mdc(arrival_rate: f64, service_time: f64, servers: u32) -> Option<MDc> {
    positive(arrival_rate)?;
    if servers > MOST_SERVERS {
        return None;
    }
    let (offered, rho) = load(arrival_rate, 1.0 / positive(service_time)?, servers)?;
    let c = f64::from(servers);
    let mut in_queue = -(c * (c - 1.0) - offered * offered) / (2.0 * (c - offered));
    let mut p_no_wait = c - offered;
    // Roots come in pairs, each the mirror of the other; the odd one out is real.
    for k in 1..=servers / 2 {
        let (re, im) = root(rho, c, k);
        let (re, im) = (1.0 - re, -im);
        let size = re * re + im * im;
        let alone = 2 * k == servers;
        in_queue += if alone { 1.0 / re } else { 2.0 * re / size };
        p_no_wait /= if alone { re } else { size };
    }
    let wait = in_queue / arrival_rate;
    Some(MDc {
        means: Means::from_wait(arrival_rate, service_time, servers, wait),
        p_no_wait,
    })
}

/// The root `z = w^k exp(rho (z - 1))`, `w` the first root of unity of order `c`, as real and imaginary part.
fn root(rho: f64, c: f64, k: u32) -> (f64, f64) {
    let turn = 2.0 * std::f64::consts::PI * f64::from(k) / c;
    let (mut re, mut im) = (0.0, 0.0);
    for _ in 0..TURNS {
        let size = libm::exp(rho * (re - 1.0));
        let angle = turn + rho * im;
        let next = (size * libm::cos(angle), size * libm::sin(angle));
        let moved = (next.0 - re).abs() + (next.1 - im).abs();
        (re, im) = next;
        if moved < 1e-17 {
            break;
        }
    }
    (re, im)
}
