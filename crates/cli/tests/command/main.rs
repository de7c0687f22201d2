//! The `scullery` command from end to end, each test in a folder of its own.
//!
//! They stand beside the command and not with the other wide tests, because Cargo builds a command only for the tests
//! of its own package.

#![expect(
    clippy::unwrap_used,
    reason = "a test that meets an error should stop at it"
)]

mod files;
mod papers;
mod replays;
mod room;
mod run;
mod searches;
mod studies;
