//! What reports promise, shown on a summary written by hand.

#![expect(
    clippy::unwrap_used,
    reason = "a test that meets an error should stop at it"
)]

mod data;
mod fixture;
mod folder;
mod motion;
mod owning;
mod page;
mod pictures;
mod replayed;
mod room;
mod sheets;
mod terminal;
