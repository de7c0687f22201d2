//! Closed forms and small Markov chains about waiting lines, batches, machines, lines of stations and crews.
//!
//! Two uses: to check a simulator against figures it had no hand in, and to let a student put a formula beside a
//! simulated meal. Nothing here draws a random number.
//!
//! **Units.** A rate and a time given together share one unit of time (a rate per minute goes with minutes); every
//! result is in that unit. Where a unit is fixed, its name ends in it (`_s`, `_kwh`, `_kg`).
//!
//! **`None`.** A function gives `None` when there is no steady state (the line cannot keep up), when an input is not a
//! finite number in its range, or when a chain would be too large to solve exactly. It never panics.
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
