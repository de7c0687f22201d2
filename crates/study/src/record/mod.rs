//! The recorder: watches one meal and keeps what a study needs of it.
//!
//! Levels, states and counts are whole numbers of microseconds and things, so the record is the same bits whoever
//! made it. Nothing is allocated per event; storage is wiped and used again for the next meal. Integrals and totals
//! hold for the whole run; what is kept minute by minute stops after [`MOST_MINUTES`].

mod count;
mod level;
mod post;
mod rack;
mod state;
mod wait;

use scullery_engine::ended::Ended;
use scullery_engine::time::{SimTime, Span, US_PER_MIN};
use scullery_engine::watch::{
    ActorId, ActorKind, Catalogue, CountId, Observer, PlaceId, PostId, RackTrip, Role, State,
};

pub use count::CountRecord;
pub use level::{LEVELS_APART, Minute, PlaceRecord};
pub use post::PostRecord;
pub use rack::RackSums;
pub use state::{ActorRecord, ByState, QUARTER_US};
pub use wait::{WITHIN_S, WaitRecord};

use count::CountTrack;
use level::{LevelTrack, NO_MACHINE};
use post::StandTrack;
use state::StateTrack;

/// Minutes kept one by one: three days.
pub const MOST_MINUTES: usize = 3 * 24 * 60;

/// What was seen of one meal. Places, actors and counts are in catalogue order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct MealRecord {
    /// First minute kept, since midnight: the quarter hour in which the run starts.
    pub from_min: u64,
    /// Length of the run, in microseconds.
    pub run_us: u64,
    /// One entry a place.
    pub places: Vec<PlaceRecord>,
    /// Waits, one entry a place.
    pub waits: Vec<WaitRecord>,
    /// One entry a worker, machine, belt or accumulator.
    pub actors: Vec<ActorRecord>,
    /// One entry a running count.
    pub counts: Vec<CountRecord>,
    /// Rack trips, one entry a machine.
    pub racks: Vec<RackSums>,
    /// What went on at each post.
    pub posts: Vec<PostRecord>,
}

/// Watches a meal; [`Recorder::finish`] gives its record.
#[derive(Clone, Debug)]
pub struct Recorder {
    record: MealRecord,
    levels: Vec<LevelTrack>,
    states: Vec<StateTrack>,
    stands: Vec<StandTrack>,
    counts: Vec<CountTrack>,
    starts: u64,
    setting: Setting,
}

/// What the catalogue says about each place and actor, looked up once.
#[derive(Clone, Debug, Default)]
struct Setting {
    at_start: Vec<u32>,
    lowest: Vec<bool>,
    belt: Vec<bool>,
    machines: usize,
    workers: usize,
}

impl Setting {
    fn read(catalogue: &Catalogue) -> Setting {
        Setting {
            at_start: catalogue.places.iter().map(|p| p.at_start).collect(),
            lowest: catalogue
                .places
                .iter()
                .map(|p| keeps_lowest(p.role))
                .collect(),
            belt: catalogue
                .actors
                .iter()
                .map(|a| {
                    matches!(
                        a.kind,
                        ActorKind::Belt | ActorKind::StackBelt | ActorKind::Accumulator
                    )
                })
                .collect(),
            workers: catalogue
                .actors
                .iter()
                .filter(|a| a.kind == ActorKind::Worker)
                .count(),
            machines: catalogue
                .actors
                .iter()
                .filter(|a| a.kind == ActorKind::Machine)
                .count(),
        }
    }
}

fn numbers(wanted: impl Iterator<Item = bool>) -> Vec<u16> {
    (0..)
        .zip(wanted)
        .filter(|(_, w)| *w)
        .map(|(i, _)| i)
        .collect()
}

/// Whether the lowest level of a minute is what matters at such a place, not the highest.
pub fn keeps_lowest(role: Role) -> bool {
    matches!(role, Role::Stock | Role::EmptyRacks | Role::CartsReady)
}

impl Recorder {
    /// A recorder for runs of the line with this catalogue that start at `starts`.
    pub fn new(catalogue: &Catalogue, starts: SimTime) -> Recorder {
        let setting = Setting::read(catalogue);
        let (places, actors) = (catalogue.places.len(), catalogue.actors.len());
        let mut it = Recorder {
            record: MealRecord {
                places: vec![PlaceRecord::default(); places],
                waits: vec![WaitRecord::default(); places],
                actors: vec![ActorRecord::default(); actors],
                counts: vec![CountRecord::default(); catalogue.counts.len()],
                racks: vec![RackSums::default(); setting.machines],
                posts: vec![PostRecord::default(); catalogue.posts.len()],
                ..MealRecord::default()
            },
            levels: vec![LevelTrack::default(); places],
            states: vec![StateTrack::default(); actors],
            stands: vec![StandTrack::default(); setting.workers],
            counts: vec![CountTrack::default(); catalogue.counts.len()],
            starts: starts.us(),
            setting,
        };
        let inside = numbers(catalogue.places.iter().map(|p| p.role == Role::Washing));
        let machines = catalogue
            .actors
            .iter()
            .map(|a| a.kind == ActorKind::Machine);
        for (place, actor) in inside.into_iter().zip(numbers(machines)) {
            it.levels[usize::from(place)].machine = actor;
            it.states[usize::from(actor)].inside = Some(place);
        }
        it.begin();
        it
    }

    /// Wipes the storage for the next meal.
    pub fn begin(&mut self) {
        let starts = self.starts;
        let from = starts - starts % QUARTER_US;
        let clock = (from, starts);
        let record = &mut self.record;
        record.from_min = from / US_PER_MIN;
        record.run_us = 0;
        for (i, (track, place)) in self.levels.iter_mut().zip(&mut record.places).enumerate() {
            track.begin(
                place,
                clock,
                self.setting.at_start[i],
                self.setting.lowest[i],
            );
        }
        let places = self.setting.at_start.len();
        for (i, (track, actor)) in self.states.iter_mut().zip(&mut record.actors).enumerate() {
            let state = if self.setting.belt[i] {
                State::Waiting
            } else {
                State::Off
            };
            track.begin(actor, clock, places, state);
        }
        for (track, count) in self.counts.iter_mut().zip(&mut record.counts) {
            track.begin(count, from);
        }
        self.stands.iter_mut().for_each(|track| track.begin(starts));
        for post in &mut record.posts {
            post.begin(places, self.setting.workers);
        }
        record.waits.iter_mut().for_each(WaitRecord::begin);
        record.racks.fill(RackSums::default());
    }

    /// Closes the record of the meal that ended so.
    pub fn finish(&mut self, ended: &Ended) -> &MealRecord {
        self.finish_at(ended.at)
    }

    /// Closes the record at this instant.
    pub fn finish_at(&mut self, ends: SimTime) -> &MealRecord {
        let ends = ends.us();
        for actor in 0..self.states.len() {
            self.close_loaded(actor, ends);
        }
        let record = &mut self.record;
        record.run_us = ends.saturating_sub(self.starts);
        for (track, place) in self.levels.iter_mut().zip(&mut record.places) {
            track.finish(place, ends);
        }
        for (track, actor) in self.states.iter_mut().zip(&mut record.actors) {
            track.finish(actor, ends);
        }
        let from = record.from_min * US_PER_MIN;
        for (worker, track) in self.stands.iter_mut().enumerate() {
            track.run_to(&mut record.posts, worker, (from, ends));
        }
        for (track, count) in self.counts.iter_mut().zip(&mut record.counts) {
            track.finish(count);
        }
        record.waits.iter_mut().for_each(WaitRecord::finish);
        &self.record
    }

    /// From `at` on, a machine holds so much. (Apart, so that the many other levels do not carry it along.)
    #[inline(never)]
    fn level_inside(&mut self, at: u64, place: usize, held: u32) {
        let machine = usize::from(self.levels[place].machine);
        self.close_loaded(machine, at);
        self.levels[place].change(&mut self.record.places, place, at, held);
    }

    /// Adds the time since the last change of this machine's state or of the racks inside it.
    fn close_loaded(&mut self, actor: usize, at: u64) {
        let state = &self.states[actor];
        let Some(place) = state.inside else {
            return;
        };
        let inside = &self.levels[usize::from(place)];
        if state.state == State::Washing && inside.held() > 0 {
            let since = state.since.max(inside.since());
            self.record.actors[actor].loaded_us += at.saturating_sub(since);
        }
    }
}

impl Observer for Recorder {
    #[inline]
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        let i = usize::from(place.0);
        let Some(track) = self.levels.get_mut(i) else {
            return;
        };
        if track.machine == NO_MACHINE {
            track.change(&mut self.record.places, i, at.us(), held);
            return;
        }
        self.level_inside(at.us(), i, held);
    }

    #[inline]
    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        let i = usize::from(who.0);
        if i >= self.states.len() {
            return;
        }
        self.close_loaded(i, at.us());
        let because = because.map(|place| place.0);
        self.states[i].change(&mut self.record.actors[i], at.us(), state, because);
        if let Some(track) = self.stands.get_mut(i) {
            let clock = (self.record.from_min * US_PER_MIN, at.us());
            track.change(&mut self.record.posts, i, clock, (state, because));
        }
    }

    #[inline]
    fn stands(&mut self, at: SimTime, who: ActorId, post: Option<PostId>) {
        let i = usize::from(who.0);
        if let Some(track) = self.stands.get_mut(i) {
            let clock = (self.record.from_min * US_PER_MIN, at.us());
            track.stand(&mut self.record.posts, i, clock, post.map(|post| post.0));
        }
    }

    #[inline]
    fn waited(&mut self, _at: SimTime, place: PlaceId, wait: Span) {
        if let Some(waits) = self.record.waits.get_mut(usize::from(place.0)) {
            waits.add(wait.us());
        }
    }

    #[inline]
    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        let i = usize::from(count.0);
        if let Some(track) = self.counts.get_mut(i) {
            track.grow(&mut self.record.counts, i, at.us(), by);
        }
    }

    #[inline]
    fn rack(&mut self, at: SimTime, trip: &RackTrip) {
        if let Some(sums) = self.record.racks.get_mut(usize::from(trip.machine)) {
            sums.add(at, trip);
        }
    }
}
