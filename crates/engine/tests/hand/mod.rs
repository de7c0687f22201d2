//! Tiny lines written by hand, and a diary of all that a run told.

use scullery_engine::demand::{Covers, Days, Demand, Kind};
use scullery_engine::dist::Dist;
use scullery_engine::ended::Ended;
use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::*;

mod lines;
pub(crate) use lines::*;

pub(crate) fn at(s: f64) -> SimTime {
    SimTime::from_s(s)
}

pub(crate) fn secs(s: f64) -> Span {
    Span::from_s(s)
}

/// A line with nothing on it, from 0 s on, without walking or hand wash.
pub(crate) fn bare() -> Line {
    Line {
        name: "by hand".into(),
        starts: at(0.0),
        ..Line::default()
    }
}

pub(crate) fn class(name: &str, size: u16) -> Class {
    class_in(name, 0, size)
}

/// Ware that no rack takes.
pub(crate) fn loose(name: &str) -> Class {
    Class {
        fits: vec![],
        ..class(name, 1)
    }
}

pub(crate) fn class_in(name: &str, kind: u8, size: u16) -> Class {
    Class {
        name: name.into(),
        par: None,
        fits: vec![(RackKindId(kind), size)],
        dry: Span::NONE,
        unload_s: 0.0,
        unload_rack_s: 0.0,
        clean_end: None,
        short: Short::Without,
        disposable: Vec::new(),
        stays_in_rack: false,
        rewash: None,
        second_pass: None,
        broken: 0.0,
        waste_g: 0,
    }
}

pub(crate) fn rack_kind(name: &str, count: u32) -> RackKind {
    RackKind {
        name: name.into(),
        count,
    }
}

pub(crate) fn drop_off(to: TraysTo) -> DropOff {
    DropOff {
        name: "window".into(),
        positions_mm: vec![0],
        put_down_s: Dist::Constant(0.0),
        opens: None,
        closes: Closing::AfterLast,
        to,
        aids: vec![],
    }
}

/// So many pieces that are changed by other work, and leave the line then.
pub(crate) fn receiver(name: &str, room: u32) -> Receiver {
    Receiver {
        name: name.into(),
        room: Some(room),
        call_at: None,
        goes: ReceiverGoes::Changed(PiecesTo::Leave),
    }
}

/// Diners put these classes into receiver 0.
pub(crate) fn puts_in(takes: &[bool]) -> DinerAid {
    DinerAid {
        takes: takes.to_vec(),
        into: AidInto::Receiver(0),
        takes_tray: false,
        adds_s: 0.0,
        adds_piece_s: 0.0,
        saves_s: 0.0,
        waits: false,
    }
}

/// Other work of so many seconds that comes first.
pub(crate) fn duty(when: DutyWhen, work_s: f64, by: Post) -> Duty {
    Duty {
        name: "change".into(),
        when,
        work_s: Dist::Constant(work_s),
        by: vec![by],
        may_wait: None,
        clean_side: false,
    }
}

pub(crate) fn table(room: Option<u32>) -> Table {
    Table {
        name: "table".into(),
        room,
    }
}

/// Scrapping from table 0, so many seconds a tray.
pub(crate) fn scrapping(tray_s: f64, routes: Vec<PiecesTo>) -> Scrapping {
    Scrapping {
        name: "scrapping".into(),
        from: vec![TraysFrom::Table(0)],
        places: 99,
        handling_s: tray_s,
        piece_s: vec![0.0; routes.len()],
        fetch_s: 0.0,
        routes,
        waste_to: vec![],
        passes_on: None,
    }
}

pub(crate) fn racking(open_racks: u32, to: RacksTo) -> Racking {
    Racking {
        name: "racking".into(),
        open_racks,
        limit: None,
        to,
        places: 0,
        grab: 1,
        piles: vec![],
        variation: Dist::Constant(1.0),
        order: Order::Usual,
        levels: vec![],
    }
}

pub(crate) fn pile(class: u8, room: Option<u32>, piece_s: f64) -> Pile {
    Pile {
        class: ClassId(class),
        room,
        piece_s,
        soak: Span::NONE,
        held_back: vec![],
    }
}

pub(crate) fn shelf(room: Option<u32>) -> Lane {
    Lane {
        name: "lane".into(),
        kind: LaneKind::Shelf { room },
        stops: vec![],
        hands_to: None,
        order: Order::default(),
    }
}

/// A door machine on lane 0, hot from the start.
pub(crate) fn door(cycle_s: f64) -> Machine {
    Machine {
        name: "machine".into(),
        kind: MachineKind::Door {
            batch: 1,
            cycle_s: Dist::Constant(cycle_s),
        },
        from: Some(0),
        to: None,
        control: Control::RunsThroughout,
        on_at: at(0.0),
        off_at: None,
        heat_up: Span::NONE,
        start_s: Dist::Constant(0.0),
        stops: vec![],
        loading: None,
        gap: Span::NONE,
        tank: None,
        hot_water: None,
        dosing: None,
        dries_to: 1000,
    }
}

pub(crate) fn clean_end(places: Option<u32>) -> CleanEnd {
    CleanEnd {
        name: "clean end".into(),
        places,
        pieces: None,
        by_hand: true,
        workers: 9,
        variation: Dist::Constant(1.0),
        back: Back::After(Span::NONE),
    }
}

pub(crate) fn call(post: Post) -> Call {
    Call {
        post,
        step_in: 1,
        leave_at: 0,
        stay: Span::NONE,
    }
}

/// A worker on shift all the time.
pub(crate) fn worker(name: &str, posts: &[Post]) -> Worker {
    on_shift(name, posts, 0.0, 100_000.0)
}

pub(crate) fn on_shift(name: &str, posts: &[Post], from_s: f64, to_s: f64) -> Worker {
    Worker {
        name: name.into(),
        shifts: vec![(at(from_s), at(to_s))],
        breaks: vec![],
        pace: 1.0,
        list: posts.iter().map(|&post| call(post)).collect(),
        unfilled: 0.0,
        terms: Terms::default(),
    }
}

/// Diners who come at these seconds, each with these pieces.
pub(crate) fn coming(at_s: &[f64], pieces: &[f64]) -> Demand {
    Demand {
        covers: Covers::Instants(at_s.iter().map(|&s| at(s)).collect()),
        days: Days::Design(1.0),
        find_seat_min: Dist::Constant(0.0),
        eating_min: vec![(at(0.0), Dist::Constant(0.0))],
        bells: vec![],
        parties: None,
        kinds: vec![Kind {
            name: "full tray".into(),
            share: vec![(at(0.0), 1.0)],
            pieces: pieces.to_vec(),
            drop_off: 0,
            sits: false,
            carts: None,
            courses: vec![],
            loose: false,
            shared: None,
            away: None,
        }],
        patience_people: None,
        work_factor: Dist::Constant(1.0),
        waste_kg: Dist::Constant(0.0),
        seats: None,
        loads: vec![],
    }
}

/// Everything a run told, with names instead of numbers.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Diary {
    catalogue: Catalogue,
    pub(crate) levels: Vec<(f64, String, u32)>,
    pub(crate) states: Vec<(f64, String, State, Option<String>)>,
    pub(crate) waits: Vec<(f64, String, f64)>,
    pub(crate) counts: Vec<(f64, String, u32)>,
    pub(crate) racks: Vec<RackTrip>,
}

impl Observer for Diary {
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        let name = self.catalogue.places[usize::from(place.0)].name.clone();
        self.levels.push((at.s(), name, held));
    }
    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        let name = self.catalogue.actors[usize::from(who.0)].name.clone();
        let because = because.map(|p| self.catalogue.places[usize::from(p.0)].name.clone());
        self.states.push((at.s(), name, state, because));
    }
    fn waited(&mut self, at: SimTime, place: PlaceId, wait: Span) {
        let name = self.catalogue.places[usize::from(place.0)].name.clone();
        self.waits.push((at.s(), name, wait.s()));
    }
    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        let info = &self.catalogue.counts[usize::from(count.0)];
        let name = info
            .of
            .as_ref()
            .map_or_else(|| info.name.clone(), |of| format!("{} {of}", info.name));
        self.counts.push((at.s(), name, by));
    }
    fn rack(&mut self, _at: SimTime, trip: &RackTrip) {
        self.racks.push(*trip);
    }
}

impl Diary {
    /// Spans in which `who` was in `state`, up to `end_s`.
    pub(crate) fn spans(&self, who: &str, state: State, end_s: f64) -> Vec<(f64, f64)> {
        let mine: Vec<_> = self.states.iter().filter(|s| s.1 == who).collect();
        let ends = mine.iter().skip(1).map(|s| s.0).chain([end_s]);
        mine.iter()
            .zip(ends)
            .filter(|(s, _)| s.2 == state)
            .map(|(s, end)| (s.0, end))
            .collect()
    }

    /// Waits told at a place, in order of telling.
    pub(crate) fn waits_at(&self, place: &str) -> Vec<f64> {
        self.waits
            .iter()
            .filter(|w| w.1 == place)
            .map(|w| w.2)
            .collect()
    }

    /// Instants at which something was taken from a place, in order of telling.
    pub(crate) fn taken_from(&self, place: &str) -> Vec<f64> {
        let here = self.waits.iter().filter(|w| w.1 == place);
        here.map(|w| w.0).collect()
    }

    /// When racks came out of the machines, in order.
    pub(crate) fn racks_out(&self) -> Vec<f64> {
        self.racks.iter().map(|r| r.out.s()).collect()
    }

    /// When racks left the table, and with how many pieces.
    pub(crate) fn sent(&self) -> Vec<(f64, u16)> {
        let of = |r: &RackTrip| (r.closed.s(), r.pieces);
        self.racks.iter().map(of).collect()
    }

    /// For each rack, in order of coming out: into the machine, out of it, pieces.
    pub(crate) fn trips(&self) -> Vec<(f64, f64, u16)> {
        let trip = |r: &RackTrip| (r.washed_from.s(), r.out.s(), r.pieces);
        self.racks.iter().map(trip).collect()
    }

    /// What held `who` up, once for each span of it.
    pub(crate) fn held_up_by(&self, who: &str) -> Vec<(f64, String)> {
        let mine = self.states.iter().filter(|s| s.1 == who);
        mine.filter(|s| s.2 == State::HeldUp)
            .map(|s| (s.0, s.3.clone().unwrap_or_default()))
            .collect()
    }

    /// Instants at which a count grew, once for each unit.
    pub(crate) fn times(&self, count: &str) -> Vec<f64> {
        let of = self.counts.iter().filter(|c| c.1 == count);
        of.flat_map(|c| std::iter::repeat_n(c.0, c.2 as usize))
            .collect()
    }

    /// When a place came to hold so many, in order.
    pub(crate) fn levels_of(&self, place: &str) -> Vec<(f64, u32)> {
        self.levels
            .iter()
            .filter(|l| l.1 == place)
            .map(|l| (l.0, l.2))
            .collect()
    }
}

/// Runs the line, recounting everything after every instant.
pub(crate) fn live(line: &Line, demand: &Demand) -> (Ended, Diary) {
    live_seed(line, demand, 1, 0)
}

pub(crate) fn live_seed(line: &Line, demand: &Demand, seed: u64, repeat: u64) -> (Ended, Diary) {
    let mut tape = Tape::new();
    tape.draw(demand, seed, repeat);
    let mut floor = Floor::new();
    floor.audit_every_instant(true);
    live_on(line, &tape, &mut floor)
}

/// Runs the line on this floor, which may have been used before.
pub(crate) fn live_on(line: &Line, tape: &Tape, floor: &mut Floor) -> (Ended, Diary) {
    let mut diary = Diary {
        catalogue: line.catalogue(),
        ..Diary::default()
    };
    let ended = run(line, tape, floor, &mut diary).unwrap_or_else(|fault| panic!("{fault}"));
    (ended, diary)
}
