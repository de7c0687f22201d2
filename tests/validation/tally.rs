//! Watches a run: levels as exact integrals over a window, waits, time in each state, counts.

use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::{
    ActorId, Catalogue, CountId, Counted, Observer, PlaceId, RackTrip, State,
};

#[derive(Clone, Debug, Default)]
struct Level {
    held: u32,
    since: SimTime,
    /// Unit-microseconds within the window.
    area: u128,
    most: u32,
    waits: u64,
    /// Microseconds.
    waited: u128,
    no_wait: u64,
}

#[derive(Clone, Debug)]
struct Actor {
    state: State,
    since: SimTime,
    us: [u64; State::COUNT],
}

/// How far one count runs ahead of another: things that are past the first mark and not yet past the second.
#[derive(Clone, Copy, Debug)]
struct Between {
    ahead: CountId,
    behind: CountId,
    held: i64,
    since: SimTime,
    area: i128,
}

/// What was seen between two instants.
#[derive(Clone, Debug)]
pub(crate) struct Tally {
    catalogue: Catalogue,
    from: SimTime,
    to: SimTime,
    levels: Vec<Level>,
    actors: Vec<Actor>,
    counts: Vec<u64>,
    /// Instants at which a count last grew (kept for batches).
    grew: Vec<(SimTime, u64)>,
    between: Vec<Between>,
    /// Place whose single waits are kept, in order.
    keeps: Option<PlaceId>,
    /// Minutes.
    pub(crate) waits: Vec<f64>,
    /// Place whose every change is kept.
    follows: Option<PlaceId>,
    /// Minutes, and what it held from then on.
    pub(crate) history: Vec<(f64, u32)>,
    /// Place, instants, and what it held at them.
    probe: Option<PlaceId>,
    instants: Vec<SimTime>,
    pub(crate) probed: Vec<u32>,
    /// Racks that came out within the window.
    pub(crate) trips: Vec<RackTrip>,
}

impl Tally {
    /// Watches from `from` to `to`.
    pub(crate) fn new(catalogue: Catalogue, from: SimTime, to: SimTime) -> Tally {
        let mut levels = vec![Level::default(); catalogue.places.len()];
        for (level, place) in levels.iter_mut().zip(&catalogue.places) {
            level.held = place.at_start;
        }
        let actor = Actor {
            state: State::Off,
            since: SimTime::MIDNIGHT,
            us: [0; State::COUNT],
        };
        Tally {
            levels,
            actors: vec![actor; catalogue.actors.len()],
            counts: vec![0; catalogue.counts.len()],
            grew: vec![(SimTime::MIDNIGHT, 0); catalogue.counts.len()],
            between: vec![],
            keeps: None,
            waits: vec![],
            follows: None,
            history: vec![],
            probe: None,
            instants: vec![],
            probed: vec![],
            trips: vec![],
            catalogue,
            from,
            to,
        }
    }

    /// Also keeps each single wait at this place, whenever it ended.
    pub(crate) fn keeping_waits(mut self, place: &str) -> Tally {
        self.keeps = Some(self.place(place));
        self
    }

    /// Also keeps every change of this place.
    pub(crate) fn following(mut self, place: &str) -> Tally {
        self.follows = Some(self.place(place));
        self
    }

    /// Also notes what this place holds at each of these instants, before anything happens there then.
    pub(crate) fn probing(mut self, place: &str, instants: &[SimTime]) -> Tally {
        self.probe = Some(self.place(place));
        self.instants = instants.to_vec();
        self
    }

    /// Also follows how many things have been counted as `ahead` and not yet as `behind`.
    pub(crate) fn between(mut self, ahead: Counted, behind: Counted) -> Tally {
        self.between.push(Between {
            ahead: self.count_id(ahead),
            behind: self.count_id(behind),
            held: 0,
            since: SimTime::MIDNIGHT,
            area: 0,
        });
        self
    }

    fn place(&self, name: &str) -> PlaceId {
        let found = self.catalogue.places.iter().position(|p| p.name == name);
        PlaceId(found.unwrap_or_else(|| panic!("no place {name}")) as u16)
    }

    fn count_id(&self, counted: Counted) -> CountId {
        let found = self
            .catalogue
            .counts
            .iter()
            .position(|c| c.counted == counted);
        CountId(found.unwrap_or_else(|| panic!("nothing counts {counted:?}")) as u16)
    }

    fn level_of(&self, place: &str) -> &Level {
        &self.levels[usize::from(self.place(place).0)]
    }

    /// Microseconds of `[since, until)` within the window.
    fn within(&self, since: SimTime, until: SimTime) -> u64 {
        let begins = std::cmp::max(since, self.from);
        let ends = std::cmp::min(until, self.to);
        if ends > begins {
            ends.since(begins).us()
        } else {
            0
        }
    }

    /// The run is over: what holds, holds up to the end of the window.
    pub(crate) fn close(&mut self) {
        let to = self.to;
        self.follows = None;
        for i in 0..self.levels.len() as u16 {
            let held = self.levels[usize::from(i)].held;
            self.level(to, PlaceId(i), held);
        }
        for i in 0..self.actors.len() as u16 {
            let state = self.actors[usize::from(i)].state;
            self.state(to, ActorId(i), state, None);
        }
        for k in 0..self.between.len() {
            self.advance(k, to, 0);
        }
        if let Some(place) = self.probe {
            let held = self.levels[usize::from(place.0)].held;
            self.probed.resize(self.instants.len(), held);
        }
    }

    fn advance(&mut self, k: usize, at: SimTime, by: i64) {
        let Between { since, held, .. } = self.between[k];
        let us = self.within(since, at);
        let it = &mut self.between[k];
        it.area += i128::from(held) * i128::from(us);
        it.since = at;
        it.held += by;
    }

    /// Length of the window, minutes.
    pub(crate) fn minutes(&self) -> f64 {
        self.to.since(self.from).min()
    }

    /// Mean level over the window.
    pub(crate) fn mean_level(&self, place: &str) -> f64 {
        self.level_minutes(place) / self.minutes()
    }

    /// Integral of a level over the window, unit-minutes.
    pub(crate) fn level_minutes(&self, place: &str) -> f64 {
        self.level_of(place).area as f64 / 60e6
    }

    /// Integral of a level over the window, unit-microseconds.
    pub(crate) fn level_us(&self, place: &str) -> u128 {
        self.level_of(place).area
    }

    /// Most that a place ever held.
    pub(crate) fn most(&self, place: &str) -> u32 {
        self.level_of(place).most
    }

    /// Mean of the waits that ended at this place within the window, minutes.
    pub(crate) fn mean_wait(&self, place: &str) -> f64 {
        let level = self.level_of(place);
        level.waited as f64 / 60e6 / level.waits as f64
    }

    /// Number of the waits that ended at this place within the window.
    pub(crate) fn waits_at(&self, place: &str) -> u64 {
        self.level_of(place).waits
    }

    /// Sum of the waits that ended at this place within the window, microseconds.
    pub(crate) fn waited_us(&self, place: &str) -> u128 {
        self.level_of(place).waited
    }

    /// Share of the waits that were nought.
    pub(crate) fn no_wait(&self, place: &str) -> f64 {
        let level = self.level_of(place);
        level.no_wait as f64 / level.waits as f64
    }

    /// Share of the window that those whose name begins so spent in this state, each.
    pub(crate) fn share(&self, who: &str, state: State) -> f64 {
        let mut us = 0.0;
        let mut people = 0.0;
        for (info, actor) in self.catalogue.actors.iter().zip(&self.actors) {
            if info.name.starts_with(who) {
                us += actor.us[state.index()] as f64;
                people += 1.0;
            }
        }
        us / 60e6 / self.minutes() / people
    }

    /// Minutes of the window that those whose name begins so spent in this state, all together.
    pub(crate) fn state_minutes(&self, who: &str, state: State) -> f64 {
        let actors = self.catalogue.actors.iter().zip(&self.actors);
        let theirs = actors.filter(|(info, _)| info.name.starts_with(who));
        theirs.map(|(_, a)| a.us[state.index()] as f64 / 60e6).sum()
    }

    /// How much a count grew within the window.
    pub(crate) fn count(&self, counted: Counted) -> f64 {
        self.counts[usize::from(self.count_id(counted).0)] as f64
    }

    /// At how many instants of the window a count grew.
    pub(crate) fn instants(&self, counted: Counted) -> f64 {
        self.grew[usize::from(self.count_id(counted).0)].1 as f64
    }

    /// Growth of a count a minute.
    pub(crate) fn per_minute(&self, counted: Counted) -> f64 {
        self.count(counted) / self.minutes()
    }

    /// Mean number of things between the two marks of the `k`-th pair asked for.
    pub(crate) fn mean_between(&self, k: usize) -> f64 {
        self.between[k].area as f64 / 60e6 / self.minutes()
    }
}

impl Observer for Tally {
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        let i = usize::from(place.0);
        if self.follows == Some(place) {
            self.history.push((at.min(), held));
        }
        if self.probe == Some(place) {
            let was = self.levels[i].held;
            while let Some(&instant) = self.instants.get(self.probed.len())
                && instant <= at
            {
                self.probed.push(was);
            }
        }
        let us = self.within(self.levels[i].since, at);
        let level = &mut self.levels[i];
        level.area += u128::from(level.held) * u128::from(us);
        level.most = level.most.max(held);
        level.held = held;
        level.since = at;
    }

    fn state(&mut self, at: SimTime, who: ActorId, state: State, _because: Option<PlaceId>) {
        let i = usize::from(who.0);
        let us = self.within(self.actors[i].since, at);
        let actor = &mut self.actors[i];
        actor.us[actor.state.index()] += us;
        actor.state = state;
        actor.since = at;
    }

    fn waited(&mut self, at: SimTime, place: PlaceId, wait: Span) {
        if self.keeps == Some(place) {
            self.waits.push(wait.min());
        }
        if at >= self.from && at < self.to {
            let level = &mut self.levels[usize::from(place.0)];
            level.waits += 1;
            level.waited += u128::from(wait.us());
            level.no_wait += u64::from(wait.is_none());
        }
    }

    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        for k in 0..self.between.len() {
            let it = self.between[k];
            if it.ahead == count {
                self.advance(k, at, i64::from(by));
            } else if it.behind == count {
                self.advance(k, at, -i64::from(by));
            }
        }
        if at >= self.from && at < self.to {
            let i = usize::from(count.0);
            self.counts[i] += u64::from(by);
            if self.grew[i].0 < at || self.grew[i].1 == 0 {
                self.grew[i] = (at, self.grew[i].1 + 1);
            }
        }
    }

    fn rack(&mut self, at: SimTime, trip: &RackTrip) {
        if at >= self.from && at < self.to {
            self.trips.push(*trip);
        }
    }
}
