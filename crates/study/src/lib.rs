//! Many meals: repeats, intervals, summaries.

pub mod summary;
