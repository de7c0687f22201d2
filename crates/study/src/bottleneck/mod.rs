//! Where the time went: which stage held the line back in each quarter hour, who was blocked and starved by whom, and one
//! tray followed from the drop-off to the clean end.
//!
//! Reading order: [`stages`] are the parts of a line that work, one behind the other; [`watch`] sees how long each worked,
//! was blocked or starved; [`rule`] tells the bottleneck from that; [`diary`] follows one tray; [`why`] puts it together.

pub mod diary;
mod held_back;
mod racks_back;
mod room;
pub mod rule;
pub mod stages;
pub mod watch;
pub mod why;
