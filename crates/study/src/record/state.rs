//! What each member of the crew, machine and belt did: exact microseconds by state and quarter hour.

use scullery_engine::time::US_PER_MIN;
use scullery_engine::watch::State;

use super::MOST_MINUTES;

/// Microseconds in a quarter hour.
pub const QUARTER_US: u64 = 15 * US_PER_MIN;

/// Microseconds by [`State::index`].
pub type ByState = [u64; State::COUNT];

/// What one actor did over a run.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ActorRecord {
    /// Microseconds in each state over the whole run, however long.
    pub total_us: ByState,
    /// The same by quarter hour from the record's first minute, as far as minutes are kept.
    pub quarters: Vec<ByState>,
    /// Microseconds held up (or stopped) by each place.
    pub held_by_us: Vec<u64>,
    /// Machines: microseconds washing with a rack inside.
    pub loaded_us: u64,
    /// Workers: end of the last task within the run; `None` when there was none.
    pub last_work_us: Option<u64>,
}

#[derive(Clone, Debug)]
pub(super) struct StateTrack {
    pub(super) since: u64,
    quarter_end: u64,
    now: ByState,
    pub(super) state: State,
    because: Option<u16>,
    /// End of the last task so far.
    last_work: Option<u64>,
    /// The place inside it, where it is a machine.
    pub(super) inside: Option<u16>,
}

impl Default for StateTrack {
    fn default() -> StateTrack {
        StateTrack {
            since: 0,
            quarter_end: 0,
            now: [0; State::COUNT],
            state: State::Off,
            because: None,
            last_work: None,
            inside: None,
        }
    }
}

impl StateTrack {
    pub(super) fn begin(
        &mut self,
        actor: &mut ActorRecord,
        (from, starts): (u64, u64),
        places: usize,
        state: State,
    ) {
        let into = (starts - from) / QUARTER_US;
        *self = StateTrack {
            since: starts,
            quarter_end: from + (into + 1) * QUARTER_US,
            now: [0; State::COUNT],
            state,
            because: None,
            last_work: None,
            inside: self.inside,
        };
        actor.total_us = [0; State::COUNT];
        actor.quarters.clear();
        actor.held_by_us.clear();
        actor.held_by_us.resize(places, 0);
        actor.loaded_us = 0;
        actor.last_work_us = None;
    }

    #[inline]
    pub(super) fn change(
        &mut self,
        actor: &mut ActorRecord,
        at: u64,
        state: State,
        because: Option<u16>,
    ) {
        self.run_to(actor, at);
        if matches!(self.state, State::Working | State::PastShift) {
            self.last_work = Some(at);
        }
        self.state = state;
        self.because = because;
    }

    #[inline]
    fn run_to(&mut self, actor: &mut ActorRecord, at: u64) {
        if let Some(place) = self.because
            && let Some(us) = actor.held_by_us.get_mut(usize::from(place))
        {
            *us += at - self.since;
        }
        if at >= self.quarter_end {
            self.cross(actor, at);
        }
        self.now[self.state.index()] += at - self.since;
        self.since = at;
    }

    #[cold]
    #[inline(never)]
    fn cross(&mut self, actor: &mut ActorRecord, at: u64) {
        let state = self.state.index();
        self.now[state] += self.quarter_end - self.since;
        self.close_quarter(actor);
        let whole = (at - self.quarter_end) / QUARTER_US;
        let room = (MOST_MINUTES / 15).saturating_sub(actor.quarters.len());
        let mut quarter = [0; State::COUNT];
        quarter[state] = QUARTER_US;
        let kept = actor.quarters.len() + room.min(whole as usize);
        actor.quarters.resize(kept, quarter);
        actor.total_us[state] += whole * QUARTER_US;
        self.since = self.quarter_end + whole * QUARTER_US;
        self.quarter_end = self.since + QUARTER_US;
    }

    fn close_quarter(&mut self, actor: &mut ActorRecord) {
        for (total, us) in actor.total_us.iter_mut().zip(self.now) {
            *total += us;
        }
        if actor.quarters.len() < MOST_MINUTES / 15 {
            actor.quarters.push(self.now);
        }
        self.now = [0; State::COUNT];
    }

    /// Closes the record at `ends`; work in hand at the end counts as work.
    pub(super) fn finish(&mut self, actor: &mut ActorRecord, ends: u64) {
        let ends = ends.max(self.since);
        self.run_to(actor, ends);
        if matches!(self.state, State::Working | State::PastShift) {
            self.last_work = Some(ends);
        }
        actor.last_work_us = self.last_work;
        if self.now.iter().any(|&us| us > 0) {
            self.close_quarter(actor);
        }
    }
}

impl ActorRecord {
    /// Microseconds in `state` over the whole run.
    pub fn us(&self, state: State) -> u64 {
        self.total_us[state.index()]
    }

    /// Microseconds paid: on shift (breaks included) and past it.
    pub fn paid_us(&self) -> u64 {
        self.total_us.iter().sum::<u64>() - self.us(State::Off)
    }

    /// Minutes at work within the shift over shift less breaks; `None` when never on shift.
    pub fn busy_share(&self) -> Option<f64> {
        let shift = self.paid_us() - self.us(State::PastShift) - self.us(State::Break);
        (shift > 0).then(|| self.us(State::Working) as f64 / shift as f64)
    }
}
