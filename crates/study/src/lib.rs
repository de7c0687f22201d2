//! Many meals: repeats, intervals, summaries.

pub mod exact;
pub mod intervals;
pub mod record;
pub mod summary;
