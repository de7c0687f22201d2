//! One lunch replayed: her arrivals and what she saw, the numbers fitted to it, what happened, and what would have saved
//! it.
//!
//! Reading order: [`lunch`] (her arrivals in the plan, and the same lunch without luck), [`fit`] (unknown numbers from what
//! was seen), [`account`] (what happened, in order), [`remedies`] (single changes and pairs, tried on it),
//! [`play`] and [`replayed`] (all of it together), [`kept`] (a simulated meal run again).

pub mod account;
pub mod fit;
pub mod followed;
pub mod kept;
pub mod lunch;
mod menu;
mod menu_of_diners;
mod menu_of_waiting;
pub mod play;
pub mod remedies;
pub mod replayed;
mod seen;
mod spread;

pub use seen::{SeenBand, fit_quality};
