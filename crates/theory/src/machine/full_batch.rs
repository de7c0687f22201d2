//! Full racks only: pieces wait until a rack is full, then racks wait for the machine.

use crate::queue::gim1_root;
use crate::solve::{positive, power};

/// Filling one batch from a Poisson stream.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Forming {
    /// Mean wait of a piece until its batch is full, `(K - 1) / (2 lambda)`.
    pub mean_wait: f64,
    /// Mean wait of the first piece, `(K - 1) / lambda`: the mean time to fill, from the first piece on.
    pub first_wait: f64,
    /// Standard deviation of that time, `sqrt(K - 1) / lambda`.
    pub first_wait_sd: f64,
}

/// Waiting for a batch of `batch` pieces to fill at `arrival_rate`. `None` unless both are positive.
///
/// From memory of Hopp & Spearman, Factory Physics, ch. 9.
pub fn forming(arrival_rate: f64, batch: u32) -> Option<Forming> {
    let rate = positive(arrival_rate)?;
    let others = positive(f64::from(batch))? - 1.0;
    Some(Forming {
        mean_wait: others / (2.0 * rate),
        first_wait: others / rate,
        first_wait_sd: others.sqrt() / rate,
    })
}

/// A machine fed with full batches only.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FullBatch {
    /// Mean wait of a piece before its batch starts, forming and queueing together.
    pub wait: f64,
    /// Mean number of pieces waiting.
    pub in_queue: f64,
    /// Share of time the machine runs, `lambda / (K mu)`.
    pub utilisation: f64,
    /// Mean wait of a piece for its batch to fill.
    pub forming_wait: f64,
    /// Mean wait of a full batch for the machine.
    pub batch_wait: f64,
}

/// Poisson pieces, batches of exactly `batch`, exponential cycle. Full batches come with Erlang gaps (`E_K/M/1`):
/// `Wq = (K - 1) / (2 lambda) + sigma / (mu (1 - sigma))`, `sigma = (lambda / (lambda + mu (1 - sigma)))^K`. `None`
/// when `lambda >= K mu`.
///
/// From memory of Hopp & Spearman, Factory Physics, ch. 9, and Gross & Harris, Fundamentals of Queueing Theory, chs.
/// 3, 5.
pub fn full_batch(arrival_rate: f64, batch_rate: f64, batch: u32) -> Option<FullBatch> {
    let form = forming(arrival_rate, batch)?;
    let load = arrival_rate / (positive(batch_rate)? * f64::from(batch));
    if load >= 1.0 {
        return None;
    }
    let sigma = gim1_root(batch_rate, |s| {
        power(arrival_rate / (arrival_rate + s), batch)
    });
    let batch_wait = sigma / (batch_rate * (1.0 - sigma));
    let wait = form.mean_wait + batch_wait;
    Some(FullBatch {
        wait,
        in_queue: arrival_rate * wait,
        utilisation: load,
        forming_wait: form.mean_wait,
        batch_wait,
    })
}
