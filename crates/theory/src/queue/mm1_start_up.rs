//! M/M/1 begun empty: how the wait grows from the first customer on.

use crate::solve::positive;

/// Most customers followed (the work grows with their square).
const MOST_CUSTOMERS: u32 = 20_000;

/// Mean wait of customers 1, 2, ..., `customers` of an M/M/1 line that opens empty; the first never waits.
///
/// The number found by each arrival is a chain: between two arrivals a geometric number of services ends, with
/// `p = lambda / (lambda + mu)`; the mean wait is the number found over `mu`. Also true of a line that cannot keep up.
/// `None` unless both rates are positive, and beyond 20,000 customers.
///
/// Exact. Kelton & Law, Operations Research 33 (1985) 378-396, treat the same quantity (from memory of it).
pub fn mm1_start_up(arrival_rate: f64, service_rate: f64, customers: u32) -> Option<Vec<f64>> {
    let next_is_arrival = positive(arrival_rate)? / (arrival_rate + positive(service_rate)?);
    if customers > MOST_CUSTOMERS {
        return None;
    }
    let next_is_end = 1.0 - next_is_arrival;
    // found[n]: probability that the customer finds n there.
    let mut found = vec![1.0];
    let mut waits = Vec::new();
    for _ in 0..customers {
        let mean: f64 = found
            .iter()
            .zip(0_u32..)
            .map(|(p, n)| p * f64::from(n))
            .sum();
        waits.push(mean / service_rate);
        // From n found, n + 1 are there; the next arrival finds j with p (1 - p)^(n + 1 - j), summed from the top.
        let mut next = vec![0.0; found.len() + 1];
        let mut carried = 0.0;
        for j in (1..next.len()).rev() {
            carried = next_is_arrival * found[j - 1] + next_is_end * carried;
            next[j] = carried;
        }
        next[0] = carried * next_is_end / next_is_arrival;
        found = next;
    }
    Some(waits)
}
