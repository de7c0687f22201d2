//! What a run told, in order and exactly, and how random cases are run.

use proptest::strategy::Strategy;
use proptest::test_runner::{Config, RngSeed, TestCaseError, TestError, TestRunner};
use scullery_engine::demand::Demand;
use scullery_engine::ended::{Ended, Fault};
use scullery_engine::line::Line;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::*;

use super::lines::{self, CHOICES, PARTS, Part};

/// A random line, its demand, and the seed of its luck.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) line: Line,
    pub(crate) demand: Demand,
    pub(crate) seed: u64,
}

impl Case {
    pub(crate) fn tape(&self) -> Tape {
        let mut tape = Tape::new();
        tape.draw(&self.demand, self.seed, 0);
        tape
    }

    /// Runs it on a floor of its own, recounting everything after every instant.
    pub(crate) fn run(&self) -> Result<(Ended, Vec<Told>), TestCaseError> {
        let mut floor = Floor::new();
        floor.audit_every_instant(true);
        self.run_on(&mut floor).map_err(failed)
    }

    pub(crate) fn run_on(&self, floor: &mut Floor) -> Result<(Ended, Vec<Told>), Fault> {
        let mut record = Record::default();
        let ended = run(&self.line, &self.tape(), floor, &mut record)?;
        Ok((ended, record.0))
    }
}

pub(crate) fn failed(fault: Fault) -> TestCaseError {
    TestCaseError::fail(fault.to_string())
}

/// Random cases.
pub(crate) fn cases() -> impl Strategy<Value = Case> {
    let choices = proptest::collection::vec(
        proptest::collection::vec(proptest::num::u16::ANY, CHOICES),
        PARTS,
    );
    (choices, 0..3_u64).prop_map(|(choices, seed)| {
        let line = lines::line(&choices);
        let demand = super::demands::demand(&line, &choices[Part::Demand as usize]);
        Case { line, demand, seed }
    })
}

/// Checks a law on so many random cases; the same ones each time, unless the environment asks for others
/// (`PROPTEST_RNG_SEED`, `PROPTEST_CASES`).
pub(crate) fn check(cases_to_try: u32, law: impl Fn(&Case) -> Result<(), TestCaseError>) {
    check_on(cases_to_try, cases(), |case| law(&case));
}

/// [`check`], on cases of any kind.
pub(crate) fn check_on<S: Strategy>(
    cases_to_try: u32,
    strategy: S,
    law: impl Fn(S::Value) -> Result<(), TestCaseError>,
) {
    let asked = |name: &str| std::env::var(name).is_ok();
    let mut config = Config {
        failure_persistence: None,
        max_shrink_iters: 30_000,
        ..Config::default()
    };
    if !asked("PROPTEST_CASES") {
        config.cases = cases_to_try;
    }
    if !asked("PROPTEST_RNG_SEED") {
        config.rng_seed = RngSeed::Fixed(20_251_125);
    }
    match TestRunner::new(config).run(&strategy, law) {
        Ok(()) => {}
        Err(TestError::Fail(why, case)) => panic!("{why}\n{case:#?}"),
        Err(TestError::Abort(why)) => panic!("{why}"),
    }
}

/// One call to the observer.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Told {
    Level(SimTime, PlaceId, u32),
    State(SimTime, ActorId, State, Option<PlaceId>),
    Stands(SimTime, ActorId, Option<PostId>),
    Waited(SimTime, PlaceId, Span),
    Counted(SimTime, CountId, u32),
    Rack(SimTime, RackTrip),
}

impl Told {
    pub(crate) fn at(&self) -> SimTime {
        match *self {
            Told::Level(at, ..)
            | Told::State(at, ..)
            | Told::Stands(at, ..)
            | Told::Waited(at, ..)
            | Told::Counted(at, ..)
            | Told::Rack(at, _) => at,
        }
    }

    /// The same, so much later.
    pub(crate) fn later(&self, by: Span) -> Told {
        match *self {
            Told::Level(at, place, held) => Told::Level(at + by, place, held),
            Told::State(at, who, state, because) => Told::State(at + by, who, state, because),
            Told::Stands(at, who, post) => Told::Stands(at + by, who, post),
            Told::Waited(at, place, wait) => Told::Waited(at + by, place, wait),
            Told::Counted(at, count, more) => Told::Counted(at + by, count, more),
            Told::Rack(at, trip) => Told::Rack(
                at + by,
                RackTrip {
                    opened: trip.opened + by,
                    closed: trip.closed + by,
                    washed_from: trip.washed_from + by,
                    out: trip.out + by,
                    ..trip
                },
            ),
        }
    }
}

/// Keeps every call, in order.
#[derive(Debug, Default)]
pub(crate) struct Record(pub(crate) Vec<Told>);

impl Observer for Record {
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        self.0.push(Told::Level(at, place, held));
    }
    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        self.0.push(Told::State(at, who, state, because));
    }
    fn stands(&mut self, at: SimTime, who: ActorId, post: Option<PostId>) {
        self.0.push(Told::Stands(at, who, post));
    }
    fn waited(&mut self, at: SimTime, place: PlaceId, wait: Span) {
        self.0.push(Told::Waited(at, place, wait));
    }
    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        self.0.push(Told::Counted(at, count, by));
    }
    fn rack(&mut self, at: SimTime, trip: &RackTrip) {
        self.0.push(Told::Rack(at, *trip));
    }
}
