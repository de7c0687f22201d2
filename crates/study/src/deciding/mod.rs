//! Tests that look at every lunch as it comes and stop as soon as they can say.
//!
//! Each has two errors, given apart: saying *holds* of what does not hold, and *fails* of what does. Between the two
//! lies a zone of indifference in which either answer is right. The bounds hold at whatever lunch the test stops, so a
//! test that is cut off has not erred: it has said nothing.

pub mod cheapest;
pub mod share;
pub mod standard;

/// What a sequential test says so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// It holds.
    Holds,
    /// It fails.
    Fails,
    /// Nothing yet.
    Nothing,
}

/// The two errors a test may make, as probabilities strictly between 0 and 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Errors {
    /// Saying *holds* of what fails by the indifference or more.
    pub wrong_holds: f64,
    /// Saying *fails* of what holds by the indifference or more.
    pub wrong_fails: f64,
}
