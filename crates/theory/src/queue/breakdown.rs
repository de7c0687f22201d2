//! Servers that break down: times longer on the whole and more uneven.

use super::means::Means;
use super::mg1::mg1;
use crate::Moments;
use crate::solve::{not_negative, positive};

/// Process time with its interruptions counted in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effective {
    /// Share of the time that the station is up; 1 where set-ups alone are counted.
    pub availability: f64,
    /// Mean effective time.
    pub mean: f64,
    /// Its squared coefficient of variation.
    pub scv: f64,
}

/// Outages that strike while the station works or waits, the work going on where it stopped: `A = mf / (mf + mr)`,
/// `te = t0 / A`, `ce^2 = c0^2 + (1 + cr^2) A (1 - A) mr / t0`. Times between failures are exponential.
///
/// From memory of Hopp & Spearman, Factory Physics, ch. 8.
pub fn effective_with_outages(
    natural: Moments,
    mean_to_failure: f64,
    mean_to_repair: f64,
    repair_scv: f64,
) -> Option<Effective> {
    positive(mean_to_failure)?;
    not_negative(mean_to_repair)?;
    not_negative(repair_scv)?;
    let up = mean_to_failure / (mean_to_failure + mean_to_repair);
    let uneven = (1.0 + repair_scv) * up * (1.0 - up) * mean_to_repair / natural.mean();
    Some(Effective {
        availability: up,
        mean: natural.mean() / up,
        scv: natural.scv() + uneven,
    })
}

/// Set-ups between jobs, one every `jobs_between` jobs on average and after each job as likely as after any other:
/// `te = t0 + ts / Ns`, `variance = s0^2 + ss^2 / Ns + (Ns - 1) / Ns^2 ts^2`.
///
/// From memory of Hopp & Spearman, Factory Physics, ch. 8.
pub fn effective_with_set_ups(
    natural: Moments,
    jobs_between: f64,
    set_up: Moments,
) -> Option<Effective> {
    positive(jobs_between)?;
    not_negative(jobs_between - 1.0)?;
    let (t0, ts) = (natural.mean(), set_up.mean());
    let mean = t0 + ts / jobs_between;
    let variance = natural.scv() * t0 * t0
        + set_up.scv() * ts * ts / jobs_between
        + (jobs_between - 1.0) / (jobs_between * jobs_between) * ts * ts;
    Some(Effective {
        availability: 1.0,
        mean,
        scv: variance / (mean * mean),
    })
}

/// M/M/1 whose server fails only while it works, at rate `failure_rate`, is repaired in an exponential time of rate
/// `repair_rate` and goes on where it stopped. Gives the completion time (work and repairs) and the means of the line,
/// its utilisation being the share of time at work or under repair: `E[C] = E[S] (1 + xi / eta)`,
/// `E[C^2] = E[S^2] (1 + xi / eta)^2 + E[S] xi E[R^2]`, then Pollaczek-Khinchine.
///
/// From memory of Avi-Itzhak & Naor (1963) and Gaver (1962).
pub fn mm1_fails_while_working(
    arrival_rate: f64,
    service_rate: f64,
    failure_rate: f64,
    repair_rate: f64,
) -> Option<(Moments, Means)> {
    let mean = 1.0 / positive(service_rate)?;
    let ratio = 1.0 + not_negative(failure_rate)? / positive(repair_rate)?;
    let repair_second = 2.0 / (repair_rate * repair_rate);
    let second = 2.0 * mean * mean * ratio * ratio + mean * failure_rate * repair_second;
    let completion = Moments::new(mean * ratio, second)?;
    Some((completion, mg1(arrival_rate, completion)?))
}

/// M/M/1 whose server fails at any time, idle or not.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FailsAnyTime {
    /// Share of the time that the server is up, `eta / (xi + eta)`.
    pub availability: f64,
    /// Load on the time that it is up, `lambda / (mu A)`.
    pub effective_load: f64,
    /// Mean number there.
    pub in_system: f64,
    /// Mean time there.
    pub time_in_system: f64,
}

/// M/M/1 whose server fails at rate `failure_rate` whether it works or not:
/// `L = lambda ((xi + eta)^2 + mu xi) / ((xi + eta) (mu eta - lambda (xi + eta)))`. `None` when it cannot keep up.
///
/// From memory of White & Christie (1958) and Avi-Itzhak & Naor (1963).
pub fn mm1_fails_any_time(
    arrival_rate: f64,
    service_rate: f64,
    failure_rate: f64,
    repair_rate: f64,
) -> Option<FailsAnyTime> {
    let lambda = positive(arrival_rate)?;
    let mu = positive(service_rate)?;
    let xi = not_negative(failure_rate)?;
    let eta = positive(repair_rate)?;
    let both = xi + eta;
    let spare = positive(mu * eta - lambda * both)?;
    let in_system = lambda * (both * both + mu * xi) / (both * spare);
    Some(FailsAnyTime {
        availability: eta / both,
        effective_load: lambda * both / (mu * eta),
        in_system,
        time_in_system: in_system / lambda,
    })
}
