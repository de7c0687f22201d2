//! The simulation of a soiled-ware line: no files, no threads, no wall clock, no printing.
//!
//! Reading order: what time is ([`time`]), what is due next ([`calendar`]), where chance comes from ([`streams`],
//! [`dist`], [`sampler`]), who comes ([`demand`], [`tape`]), what stands in the room ([`mod@line`]), how a meal runs
//! ([`run`]) and how it ends ([`ended`]), who may watch ([`watch`]), and how things
//! are called ([`words`]).

pub mod calendar;
pub mod demand;
pub mod dist;
pub mod ended;
pub mod line;
mod pinned;
pub mod run;
pub mod sampler;
pub mod streams;
pub mod tape;
pub mod time;
pub mod watch;
pub mod words;
