//! Many meals: repeats, intervals, summaries.
//!
//! Reading order: what is kept of one meal ([`record`], [`money`], [`owning`]), which numbers are read from it ([`measures`]), what
//! many meals together say ([`bands`], [`intervals`], [`exact`], [`targets`], [`answer`]), and how they are run
//! ([`replicate`], [`enough`]) and handed on ([`summary`]; [`planned`] for what the plan says, [`film`] for
//! single meals to be played). Studies over several plans meet the same tapes ([`lunches`]): two
//! or more compared ([`paired`], [`compare`]), more covers ([`headroom`]), numbers varied ([`vary`]).
//! Which of many holds and costs the least is searched in [`search`] by tests that stop when they can say ([`deciding`]); for
//! crews and sizes in [`staffing`].

pub mod answer;
pub mod bands;
pub mod bottleneck;
pub mod compare;
pub mod controls;
pub mod deciding;
pub mod enough;
pub mod exact;
pub mod film;
pub mod floor_plan;
pub mod gathered;
pub mod headroom;
pub mod intervals;
pub mod lunches;
pub mod measures;
pub mod money;
pub mod money_difference;
pub mod owning;
pub mod paired;
pub mod planned;
pub mod quarters;
pub mod record;
pub mod replay;
pub mod replicate;
pub mod search;
pub mod sequential;
pub mod sobol;
pub mod staffing;
mod stations;
pub mod stopwatch;
mod summarise;
pub mod summary;
pub mod targets;
pub mod vary;
mod winner;
pub mod words;

pub use scullery_engine::ended::Fault;
