//! Stops by the clock: when something stands and when it goes on.

use crate::time::SimTime;

/// A time at which something stops and a time at which it goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop {
    /// When it stops.
    pub from: SimTime,
    /// When it goes on.
    pub to: SimTime,
    /// What becomes of the work in hand.
    pub then: AfterStop,
}

/// What becomes of the work in hand after a stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AfterStop {
    /// It goes on where it stopped.
    Resume,
    /// The time inside starts anew for all inside.
    RunAgain,
}

#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct State {
    next: usize,
    down: bool,
    /// Troubles that make it stand.
    held: u32,
}

/// What a turn of the clock did.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Turn {
    Stops,
    GoesOn(AfterStop),
}

impl State {
    pub(crate) fn is_down(self) -> bool {
        self.down || self.held > 0
    }

    /// Trouble makes it stand.
    pub(crate) fn hold(&mut self) {
        self.held += 1;
    }

    /// One trouble is over. Whether nothing else makes it stand.
    pub(crate) fn let_go(&mut self) -> bool {
        self.held = self.held.saturating_sub(1);
        !self.is_down()
    }

    /// How things stand at the start of a run; when the next turn is due.
    pub(crate) fn begin(&mut self, stops: &[Stop], at: SimTime) -> Option<SimTime> {
        self.held = 0;
        self.next = stops.iter().take_while(|stop| stop.to <= at).count();
        self.down = stops.get(self.next).is_some_and(|stop| stop.from <= at);
        self.due(stops)
    }

    fn due(self, stops: &[Stop]) -> Option<SimTime> {
        stops
            .get(self.next)
            .map(|stop| if self.down { stop.to } else { stop.from })
    }

    /// The next turn happens; what it is and when the one after it is due.
    pub(crate) fn turn(&mut self, stops: &[Stop], now: SimTime) -> (Option<Turn>, Option<SimTime>) {
        let Some(stop) = stops.get(self.next) else {
            return (None, None);
        };
        let turn = if self.down {
            self.next += 1;
            // The next stop may begin at the instant this one ends.
            self.down = stops.get(self.next).is_some_and(|next| next.from <= now);
            if self.is_down() {
                None
            } else {
                Some(Turn::GoesOn(stop.then))
            }
        } else {
            self.down = true;
            Some(Turn::Stops)
        };
        (turn, self.due(stops))
    }
}
