//! What has changed at this instant and is yet to be told. A level or a state that lasts no time is not told.

use crate::time::{SimTime, Span};
use crate::watch::{ActorId, CountId, Observer, PlaceId, PostId, RackTrip, State, Step};

#[derive(Clone, Debug, Default)]
pub(crate) struct Telling {
    pub(crate) on: bool,
    levels: Vec<Level>,
    changed_levels: Vec<u16>,
    states: Vec<Told>,
    changed_states: Vec<u16>,
    stands: Vec<Stands>,
    changed_stands: Vec<u16>,
    waits: Vec<(PlaceId, Span)>,
    counts: Vec<(CountId, u32)>,
    trips: Vec<RackTrip>,
    /// Whether steps are gathered.
    pub(crate) follows: bool,
    steps: Vec<Step>,
}

#[derive(Clone, Copy, Debug, Default)]
struct Level {
    now: u32,
    told: u32,
    listed: bool,
}

#[derive(Clone, Copy, Debug)]
struct Told {
    now: (State, Option<PlaceId>),
    told: (State, Option<PlaceId>),
    listed: bool,
}

#[derive(Clone, Copy, Debug, Default)]
struct Stands {
    now: Option<PostId>,
    told: Option<PostId>,
    listed: bool,
}

impl Telling {
    pub(crate) fn wipe(&mut self, on: bool, places: usize, actors: usize) {
        self.on = on;
        self.levels.clear();
        self.levels.resize(places, Level::default());
        self.states.clear();
        let off = (State::Off, None);
        self.states.resize(
            actors,
            Told {
                now: off,
                told: off,
                listed: false,
            },
        );
        self.stands.clear();
        self.stands.resize(actors, Stands::default());
        self.changed_levels.clear();
        self.changed_states.clear();
        self.changed_stands.clear();
        self.waits.clear();
        self.counts.clear();
        self.trips.clear();
        self.follows = false;
        self.steps.clear();
    }

    /// What a place holds before the first event.
    pub(crate) fn begin_level(&mut self, place: PlaceId, held: u32) {
        if let Some(level) = self.levels.get_mut(usize::from(place.0)) {
            *level = Level {
                now: held,
                told: held,
                listed: false,
            };
        }
    }

    /// What an actor does before the first event.
    pub(crate) fn begin_state(&mut self, who: ActorId, state: State) {
        if let Some(it) = self.states.get_mut(usize::from(who.0)) {
            *it = Told {
                now: (state, None),
                told: (state, None),
                listed: false,
            };
        }
    }

    #[inline]
    pub(crate) fn level(&mut self, place: PlaceId, held: u32) {
        if !self.on {
            return;
        }
        // What is not listed has not changed: there is nothing to tell while it stays so.
        if let Some(level) = self.levels.get_mut(usize::from(place.0))
            && level.now != held
        {
            level.now = held;
            if !level.listed {
                level.listed = true;
                self.changed_levels.push(place.0);
            }
        }
    }

    #[inline]
    pub(crate) fn add(&mut self, place: PlaceId, more: i32) {
        if self.on
            && let Some(level) = self.levels.get_mut(usize::from(place.0))
        {
            level.now = level.now.saturating_add_signed(more);
            if !level.listed {
                level.listed = true;
                self.changed_levels.push(place.0);
            }
        }
    }

    #[inline]
    pub(crate) fn state(&mut self, who: ActorId, state: State, because: Option<PlaceId>) {
        if !self.on {
            return;
        }
        if let Some(it) = self.states.get_mut(usize::from(who.0))
            && it.now != (state, because)
        {
            it.now = (state, because);
            if !it.listed {
                it.listed = true;
                self.changed_states.push(who.0);
            }
        }
    }

    /// Where a worker stands or is going.
    #[inline]
    pub(crate) fn stands(&mut self, who: ActorId, post: Option<PostId>) {
        if !self.on {
            return;
        }
        if let Some(it) = self.stands.get_mut(usize::from(who.0)) {
            it.now = post;
            if !it.listed {
                it.listed = true;
                self.changed_stands.push(who.0);
            }
        }
    }

    #[inline]
    pub(crate) fn waited(&mut self, place: PlaceId, wait: Span) {
        if self.on {
            self.waits.push((place, wait));
        }
    }

    #[inline]
    pub(crate) fn count(&mut self, count: CountId, by: u32) {
        if self.on && by > 0 {
            self.counts.push((count, by));
        }
    }

    #[inline]
    pub(crate) fn trip(&mut self, trip: RackTrip) {
        if self.on {
            self.trips.push(trip);
        }
    }

    #[inline]
    pub(crate) fn step(&mut self, step: Step) {
        if self.follows {
            self.steps.push(step);
        }
    }

    /// Tells what is left when a run is over.
    #[cold]
    #[inline(never)]
    pub(crate) fn flush_rest<O: Observer>(&mut self, at: SimTime, seen: &mut O) {
        self.flush(at, seen);
    }

    /// Tells what changed at `at`, in the order of first change.
    #[inline(always)]
    pub(crate) fn flush<O: Observer>(&mut self, at: SimTime, seen: &mut O) {
        if !self.on {
            return;
        }
        for &place in &self.changed_levels {
            let level = &mut self.levels[usize::from(place)];
            level.listed = false;
            if level.now != level.told {
                level.told = level.now;
                seen.level(at, PlaceId(place), level.now);
            }
        }
        self.changed_levels.clear();
        for &who in &self.changed_stands {
            let it = &mut self.stands[usize::from(who)];
            it.listed = false;
            if it.now != it.told {
                it.told = it.now;
                seen.stands(at, ActorId(who), it.now);
            }
        }
        self.changed_stands.clear();
        for &who in &self.changed_states {
            let it = &mut self.states[usize::from(who)];
            it.listed = false;
            if it.now != it.told {
                it.told = it.now;
                seen.state(at, ActorId(who), it.now.0, it.now.1);
            }
        }
        self.changed_states.clear();
        for &(place, wait) in &self.waits {
            seen.waited(at, place, wait);
        }
        self.waits.clear();
        for &(count, by) in &self.counts {
            seen.counted(at, count, by);
        }
        self.counts.clear();
        if !self.trips.is_empty() {
            for trip in &self.trips {
                seen.rack(at, trip);
            }
            self.trips.clear();
        }
        for step in self.steps.drain(..) {
            seen.step(at, &step);
        }
    }
}
