//! Many meals: repeats, intervals, summaries.
//!
//! Reading order: what is kept of one meal ([`record`], [`money`]), which numbers are read from it ([`measures`]), what
//! many meals together say ([`bands`], [`intervals`], [`exact`], [`targets`], [`answer`]), and how they are run
//! ([`replicate`]) and handed on ([`summary`]).

pub mod answer;
pub mod bands;
pub mod controls;
pub mod exact;
pub mod gathered;
pub mod intervals;
pub mod measures;
pub mod money;
pub mod power;
pub mod record;
pub mod replicate;
mod summarise;
pub mod summary;
pub mod targets;
pub mod words;

pub use scullery_engine::ended::Fault;
