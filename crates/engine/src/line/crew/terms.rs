//! What is out of the ordinary in a worker's terms: unpaid breaks, a late start, pace and posts that change by the clock,
//! help that comes only when it is called.

use super::{Call, Hand, Post, Worker};
use crate::dist::Dist;
use crate::tape::in_force;
use crate::time::{SimTime, Span};

/// What is out of the ordinary in a worker's terms. [`Terms::default`] is a worker who comes on time, is paid throughout,
/// and keeps to one list of posts at one pace.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Terms {
    /// Which of the breaks are not paid, by their place in the list.
    pub unpaid: Vec<usize>,
    /// A first shift that may start late.
    pub late: Option<Late>,
    /// Factors on the pace, each from an instant on, in clock order; before the first, 1.
    pub paces: Vec<(SimTime, f64)>,
    /// Lists of posts that take the place of the first one, each from an instant on, in clock order.
    pub moves: Vec<(SimTime, Vec<Call>)>,
    /// Comes only when called; the shifts are then the hours in which they may be.
    pub help: Option<Help>,
}

/// A first shift that may start late.
#[derive(Clone, Debug, PartialEq)]
pub struct Late {
    /// Probability of a late start, drawn once a meal.
    pub share: f64,
    /// By how many minutes.
    pub by_min: Dist,
}

/// Help that comes when it is called, and goes back when it is no longer needed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Help {
    /// What is watched.
    pub watches: Watched,
    /// Called when so many wait there (at least 1).
    pub call_at: u32,
    /// From the call to being there.
    pub comes_after: Span,
    /// Goes back, when there is nothing in hand, once no more than so many wait there.
    pub leave_at: u32,
    /// Shortest stay.
    pub stay: Span,
}

/// What a call for help goes by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Watched {
    /// Jobs waiting at a post.
    Jobs(Post),
    /// Diners standing at a drop-off.
    Standing(u8),
}

impl Worker {
    /// The pace at this instant.
    #[inline]
    pub(super) fn pace_at(&self, now: SimTime) -> f64 {
        let paces = &self.terms.paces;
        match paces.first() {
            Some((from, _)) if *from <= now => {
                self.pace * in_force(paces, now).copied().unwrap_or(1.0)
            }
            _ => self.pace,
        }
    }

    /// Every post this worker may ever be given.
    pub fn calls(&self) -> impl Iterator<Item = &Call> {
        let later = self.terms.moves.iter().flat_map(|(_, list)| list);
        self.list.iter().chain(later)
    }
}

impl Hand {
    /// The shift of this number as it is worked today: the first may start late.
    pub(super) fn shift(&self, spec: &Worker, number: usize) -> Option<(SimTime, SimTime)> {
        let &(from, to) = spec.shifts.get(number)?;
        if number > 0 {
            return Some((from, to));
        }
        Some((Ord::min(from + self.late, to), to))
    }
}
