//! Who stood at which post, and what was done there: exact microseconds by state and quarter hour.

use scullery_engine::watch::State;

use super::MOST_MINUTES;
use super::state::{ByState, QUARTER_US};

/// What went on at one post over a run, summed over those who stood there or were on their way.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PostRecord {
    /// Worker-microseconds by state and quarter hour from the record's first minute.
    pub quarters: Vec<ByState>,
    /// Worker-microseconds held up here by each place.
    pub held_by_us: Vec<u64>,
    /// Microseconds each worker stood here, by quarter hour; one entry a worker.
    pub workers: Vec<Vec<u64>>,
}

/// Follows one worker from post to post.
#[derive(Clone, Copy, Debug)]
pub(super) struct StandTrack {
    since: u64,
    post: Option<u16>,
    state: State,
    because: Option<u16>,
}

impl Default for StandTrack {
    fn default() -> StandTrack {
        StandTrack {
            since: 0,
            post: None,
            state: State::Off,
            because: None,
        }
    }
}

impl PostRecord {
    pub(super) fn begin(&mut self, places: usize, workers: usize) {
        self.quarters.clear();
        self.held_by_us.clear();
        self.held_by_us.resize(places, 0);
        self.workers.resize(workers, Vec::new());
        self.workers.iter_mut().for_each(Vec::clear);
    }
}

impl StandTrack {
    pub(super) fn begin(&mut self, starts: u64) {
        *self = StandTrack {
            since: starts,
            ..StandTrack::default()
        };
    }

    /// The worker goes to another post, or leaves all.
    pub(super) fn stand(
        &mut self,
        posts: &mut [PostRecord],
        worker: usize,
        clock: (u64, u64),
        post: Option<u16>,
    ) {
        self.run_to(posts, worker, clock);
        self.post = post;
    }

    /// The worker's state changes.
    pub(super) fn change(
        &mut self,
        posts: &mut [PostRecord],
        worker: usize,
        clock: (u64, u64),
        (state, because): (State, Option<u16>),
    ) {
        self.run_to(posts, worker, clock);
        self.state = state;
        self.because = because;
    }

    /// Books the time since the last change, split at the quarter hours; `clock` is the record's first instant and now.
    pub(super) fn run_to(
        &mut self,
        posts: &mut [PostRecord],
        worker: usize,
        (from, at): (u64, u64),
    ) {
        let since = std::mem::replace(&mut self.since, at);
        let Some(post) = self
            .post
            .and_then(|post| posts.get_mut(usize::from(post)))
            .filter(|_| at > since)
        else {
            return;
        };
        if let Some(us) = self
            .because
            .and_then(|place| post.held_by_us.get_mut(usize::from(place)))
        {
            *us += at - since;
        }
        let mut begins = since;
        while begins < at {
            let quarter = ((begins - from) / QUARTER_US) as usize;
            if quarter >= MOST_MINUTES / 15 {
                break;
            }
            let ends = at.min(from + (quarter as u64 + 1) * QUARTER_US);
            if post.quarters.len() <= quarter {
                post.quarters.resize(quarter + 1, [0; State::COUNT]);
            }
            post.quarters[quarter][self.state.index()] += ends - begins;
            if let Some(quarters) = post.workers.get_mut(worker) {
                if quarters.len() <= quarter {
                    quarters.resize(quarter + 1, 0);
                }
                quarters[quarter] += ends - begins;
            }
            begins = ends;
        }
    }
}
