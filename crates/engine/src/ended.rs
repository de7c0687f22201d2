//! How a run ended, and what is wrong when it cannot go on.

use crate::time::SimTime;

/// How a run ended. Each is an ordinary result; what it means is for the caller.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum How {
    /// The stated end was reached.
    StatedEnd,
    /// Everything was clean and the last shift over.
    AllClean,
    /// Something inside can never move again: one sentence, who waits for whom since when.
    Gridlock(String),
    /// Still busy 12 h after the last drop-off.
    NeverDrained,
}

/// What a run gives back besides what it told its observer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ended {
    /// How it ended.
    pub how: How,
    /// The final clock.
    pub at: SimTime,
    /// When the last tray was clean, if any was and none is inside.
    pub all_clean_at: Option<SimTime>,
    /// Things in, out and inside.
    pub balance: Balance,
    /// Events handled.
    pub events: u64,
    /// For each machine, in line order: microseconds in which final rinse flowed.
    pub rinse_us: Vec<u64>,
    /// Cleaning jobs not done.
    pub cleaning_left: u32,
    /// For each worker, in crew order: microseconds of unpaid breaks.
    pub unpaid_us: Vec<u64>,
    /// For each waste store, in line order: microseconds in which its machine ran (nought for bins).
    pub waste_us: Vec<u64>,
}

/// The balance of a run: nothing is lost.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Balance {
    /// Trays that came to a drop-off.
    pub trays_in: u64,
    /// Trays whose every piece left the line clean.
    pub trays_out: u64,
    /// Trays still on the line, in a diner's hands at a drop-off, or with a piece not yet clean.
    pub trays_inside: u64,
    /// Pieces that came in on trays.
    pub pieces_in: u64,
    /// Pieces that left the line clean.
    pub pieces_out: u64,
    /// Pieces still on the line.
    pub pieces_inside: u64,
    /// Pieces still on the line, by class.
    pub inside_by_class: Vec<u64>,
    /// One line a place where something is still inside, in the user's words.
    pub unfinished: Vec<String>,
}

/// A run that could not go on: a fault of the program or of a line that slipped past the loader.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Too many moves at one instant.
    Runaway {
        /// When.
        at: SimTime,
        /// Which element was moving.
        place: String,
    },
    /// The line's parts do not fit together.
    Line(String),
    /// Something was lost or made up on the way (checked in debug builds and tests).
    Balance {
        /// When.
        at: SimTime,
        /// What does not add up.
        what: String,
    },
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Fault::Runaway { at, place } => {
                write!(
                    f,
                    "at {at}, {place}: more moves in one instant than any line can need"
                )
            }
            Fault::Line(what) => write!(f, "the line does not fit together: {what}"),
            Fault::Balance { at, what } => write!(f, "at {at}: {what}"),
        }
    }
}

impl std::error::Error for Fault {}
