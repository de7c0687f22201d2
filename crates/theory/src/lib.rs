//! Closed forms and small Markov chains about waiting lines, batches, machines, lines of stations and crews.
//!
//! Two uses: to check a simulator against figures it had no hand in, and to let a student put a formula beside a
//! simulated meal. Nothing here draws a random number.
//!
//! ```
//! use scullery_theory::queue::{mm1, mmc};
//!
//! // Trays at 4 a minute; one person breaks down 5 a minute.
//! let alone = mm1(4.0, 5.0).expect("one person keeps up");
//! assert!((alone.means.wait - 0.8).abs() < 1e-12);
//! // Two people at 2.5 a minute each: who comes waits a little less, and takes twice as long to serve.
//! let pair = mmc(4.0, 2.5, 2).expect("two people keep up");
//! assert!(pair.means.wait < alone.means.wait);
//! // At 6 a minute the line grows without end, and there is no mean to tell.
//! assert_eq!(mm1(6.0, 5.0), None);
//! ```
//!
//! **Units.** A rate and a time given together share one unit of time (a rate per minute goes with minutes); every
//! result is in that unit. Where a unit is fixed, its name ends in it (`_s`, `_kwh`, `_kg`).
//!
//! **`None`.** A function gives `None` when there is no steady state (the line cannot keep up), when an input is not
//! a number in its range (rates and times: up to 1e60), or when a chain would be too large to solve exactly. It never
//! panics.
//!
//! **Sources.** "From memory of" names the textbook or paper the formula was recalled from; the numbers in the tests
//! were computed a second way, independently of this crate.

mod solve;

mod moments;

pub mod clock;
pub mod crew;
pub mod floor;
pub mod line;
pub mod machine;
pub mod queue;

pub use moments::Moments;
