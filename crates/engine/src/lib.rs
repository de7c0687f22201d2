//! The simulation of a soiled-ware line: no files, no threads, no wall clock, no printing.

pub mod demand;
pub mod dist;
pub mod ended;
pub mod line;
pub mod time;
pub mod watch;
