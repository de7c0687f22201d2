//! A dish machine: door type, rack conveyor or flight type, run throughout or by hold-and-run.

use crate::calendar::Phase;
use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::mover::{Ending, Mover};
use crate::line::{AfterStop, Line, Stands, Stop, stops, trouble};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};

mod control;
mod dosing;
mod flight;
mod hot_water;
mod loading;
mod passage;
mod rinse;
mod shown;
mod tank;

pub use control::Control;
pub(crate) use control::is_hold_and_run;
pub use dosing::Dosing;
pub(crate) use dosing::{fill_up, is_low};
pub(crate) use flight::{accepts, place};
pub use hot_water::HotWater;
pub use loading::Loading;
pub(crate) use loading::{begin, finish, takes_now, waiting};
pub(crate) use rinse::rinse_us;
pub use tank::WaterChange;

use control::{Power, Running, control, go_on, halt};
pub(crate) use passage::is_inside;
use passage::{send_out, take_in, wakes};
use rinse::Rinse;
use tank::Refill;

/// A dish machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// Its name.
    pub name: String,
    /// Door type or rack conveyor.
    pub kind: MachineKind,
    /// Number of the lane that feeds it with racks; several machines may stand at the end of one lane. `None`: a flight
    /// machine on which ware is only placed loose.
    pub from: Option<u8>,
    /// Number of the clean end; `None`: racks leave the line and are back at once.
    pub to: Option<u8>,
    /// When it runs.
    pub control: Control,
    /// When it is switched on.
    pub on_at: SimTime,
    /// When it is switched off for good, if it is (work inside is finished first); `None`: not within the run.
    pub off_at: Option<SimTime>,
    /// From switching on to ready.
    pub heat_up: Span,
    /// Seconds from the start of a run to the first rack.
    pub start_s: Dist,
    /// Stops by the clock.
    pub stops: Vec<Stop>,
    /// A worker loads it; `None`: racks run in by themselves.
    pub loading: Option<Loading>,
    /// What is lost between one rack (a door machine: one batch) and the next, besides the machine's own pace: the loader's
    /// gap.
    pub gap: Span,
    /// Its tank water is changed during the meal.
    pub tank: Option<WaterChange>,
    /// Its final rinse comes from a store that is heated up again.
    pub hot_water: Option<HotWater>,
    /// Its detergent comes from a reservoir.
    pub dosing: Option<Dosing>,
    /// Share of a class's drying time that is left when its blow-dryer has done its work, in thousandths.
    pub dries_to: u16,
}

/// Door type, rack conveyor or flight type.
#[derive(Clone, Debug, PartialEq)]
pub enum MachineKind {
    /// One batch at a time.
    Door {
        /// Most racks a batch.
        batch: u32,
        /// Seconds of a cycle.
        cycle_s: Dist,
    },
    /// A belt through a tunnel.
    Conveyor {
        /// Distance between two racks, mm.
        pitch_mm: u32,
        /// Length of the tunnel, mm.
        tunnel_mm: u32,
        /// Where the rinse zone begins and ends, mm from the tunnel's mouth.
        rinse_mm: (u32, u32),
        /// Conveyor speed, mm a minute.
        speed_mm_min: u32,
    },
    /// A belt through a tunnel on which ware is placed loose, and racks too.
    Flight {
        /// Length of the tunnel, mm.
        tunnel_mm: u32,
        /// Where the rinse zone begins and ends, mm from the tunnel's mouth.
        rinse_mm: (u32, u32),
        /// Belt speed, mm a minute.
        speed_mm_min: u32,
        /// Length of belt a piece takes, in thousandths of a millimetre, by class; 0: not placed on it.
        piece_um: Vec<u32>,
        /// Length of belt a rack takes, mm.
        rack_mm: u32,
    },
}

const MOVES: u32 = 0;
const STARTS: u32 = 1;
const POWER: u32 = 2;
const STOP: u32 = 3;
const PATIENCE: u32 = 4;
/// Looks again: the loader's gap is over, or the water is hot.
const WAKES: u32 = 5;
const CHANGE: u32 = 6;
const REFILLED: u32 = 7;
pub(crate) const SLOTS: u32 = 8;

/// What a door machine's chamber is doing.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Chamber {
    #[default]
    Empty,
    /// A cycle of this length, ending then.
    Cycle(Span, SimTime),
    /// A cycle stopped with this much to go, of this length.
    Halted(Span, Span),
    /// Washed; racks leave as the clean end has room.
    Washed,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    power: Power,
    running: Running,
    chamber: Chamber,
    /// Racks in the chamber, or in the hands of the loader.
    pub(crate) inside: Vec<u32>,
    pub(crate) in_hand: Vec<u32>,
    /// What is in hand stands at the mouth, to go in when the machine takes it.
    loaded: bool,
    pub(crate) tunnel: Mover,
    is_door: bool,
    /// A worker loads it.
    by_hand: bool,
    stops: stops::State,
    cycle: Sampler,
    start: Sampler,
    loading: Sampler,
    luck: Keyed,
    cycles: u64,
    starts: u64,
    loads: u64,
    rinse: Rinse,
    /// No rack goes in before (the loader's gap).
    next_in: SimTime,
    /// Length of belt that ware in a loader's hands waits for, in odometer units.
    wanted: Option<i64>,
    /// Pieces inside a flight machine.
    pieces: u32,
    refill: Refill,
    tank: tank::State,
    hot_water: hot_water::State,
    dosing: dosing::State,
    /// What was left of heating up, and of a start, when the machine went down.
    halted: [Option<Span>; 2],
}

impl Machine {
    /// Racks an hour when it never waits: one a pitch, or a batch a cycle (loading not counted).
    pub fn racks_per_h(&self) -> f64 {
        match &self.kind {
            MachineKind::Door { batch, cycle_s } => {
                f64::from(*batch) * 3600.0 / cycle_s.mean().max(1e-9)
            }
            MachineKind::Conveyor {
                pitch_mm,
                speed_mm_min,
                ..
            } => 60.0 * f64::from(*speed_mm_min) / f64::from((*pitch_mm).max(1)),
            MachineKind::Flight {
                rack_mm,
                speed_mm_min,
                ..
            } => 60.0 * f64::from(*speed_mm_min) / f64::from((*rack_mm).max(1)),
        }
    }

    /// Pieces of a class an hour when the belt of a flight machine is full of them; `None` where they go in racks.
    pub fn pieces_per_h(&self, class: usize) -> Option<f64> {
        let MachineKind::Flight {
            speed_mm_min,
            piece_um,
            ..
        } = &self.kind
        else {
            return None;
        };
        let each = piece_um.get(class).copied().filter(|&um| um > 0)?;
        Some(60_000.0 * f64::from(*speed_mm_min) / f64::from(each))
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .machines
        .resize_with(line.machines.len(), State::default);
    for (i, spec) in line.machines.iter().enumerate() {
        let root = floor.root;
        let no = floor.machine_no(i as u8);
        let state = &mut floor.machines[i];
        state.power = Power::Off;
        state.running = Running::No;
        state.chamber = Chamber::Empty;
        state.inside.clear();
        state.in_hand.clear();
        state.loaded = false;
        state.is_door = matches!(spec.kind, MachineKind::Door { .. });
        state.by_hand = spec.loading.is_some();
        state.luck = root.keyed(name_key(&spec.name) ^ name_key("machine"));
        (state.cycles, state.starts, state.loads) = (0, 0, 0);
        state.rinse = Rinse::default();
        state.next_in = SimTime::MIDNIGHT;
        state.wanted = None;
        state.pieces = 0;
        state.hot_water.wipe(spec.hot_water.as_ref(), line.starts);
        state.dosing.wipe(spec.dosing.as_ref());
        state.halted = [None; 2];
        state.start.fit(&spec.start_s);
        if let Some(loading) = &spec.loading {
            state.loading.fit(&loading.variation);
        }
        match &spec.kind {
            MachineKind::Door { cycle_s, .. } => {
                state.cycle.fit(cycle_s);
                // No tunnel: nothing of an earlier meal's may be left in it.
                state.tunnel.wipe(0, 0, 0, Ending::Stands, 0, line.starts);
            }
            MachineKind::Conveyor {
                pitch_mm,
                tunnel_mm,
                rinse_mm,
                speed_mm_min,
            } => {
                let most = tunnel_mm.div_ceil((*pitch_mm).max(1)) + 1;
                state.tunnel.wipe(
                    *tunnel_mm,
                    *pitch_mm,
                    most,
                    Ending::Stands,
                    *speed_mm_min,
                    line.starts,
                );
                state.tunnel.stopped = true;
                state.rinse.zone(*rinse_mm);
            }
            MachineKind::Flight {
                tunnel_mm,
                rinse_mm,
                speed_mm_min,
                ..
            } => {
                let ending = Ending::Stands;
                state
                    .tunnel
                    .wipe(*tunnel_mm, 0, u32::MAX, ending, *speed_mm_min, line.starts);
                state.tunnel.stopped = true;
                state.rinse.zone(*rinse_mm);
            }
        }
        tank::wipe(floor, line, i as u8);
        let state = &mut floor.machines[i];
        let at = state.stops.begin(&spec.stops, line.starts);
        floor.set_or_clear(no, STOP, Phase::Clock, at);
        // Switched on before the start: as far as it has got.
        let ready = spec.on_at + spec.heat_up;
        let hot = line.already.hot.contains(&(i as u8));
        let state = &mut floor.machines[i];
        if spec.off_at.is_some_and(|off| off <= line.starts) {
            state.power = Power::Off;
        } else if hot || ready <= line.starts {
            state.power = Power::On;
            floor.set_or_clear(no, POWER, Phase::Clock, spec.off_at);
        } else if spec.on_at <= line.starts {
            state.power = Power::Heating;
            floor.set(no, POWER, Phase::Clock, ready);
        } else {
            floor.set(no, POWER, Phase::Clock, spec.on_at);
        }
        if floor.machines[i].stops.is_down() {
            halt(floor, i as u8);
        }
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let now = floor.now;
    let no = floor.machine_no(i);
    floor.mark(no);
    let spec = &line.machines[usize::from(i)];
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    match local {
        MOVES => {
            if let Chamber::Cycle(_, ends) = state.chamber
                && ends <= now
            {
                state.chamber = Chamber::Washed;
            }
        }
        STARTS => state.running = Running::Yes,
        POWER => {
            let next = match state.power {
                Power::Off if spec.heat_up.is_none() => {
                    state.power = Power::On;
                    spec.off_at
                }
                Power::Off => {
                    state.power = Power::Heating;
                    Some(spec.on_at + spec.heat_up)
                }
                Power::Heating => {
                    state.power = Power::On;
                    spec.off_at
                }
                Power::On | Power::Ending => {
                    state.power = Power::Ending;
                    None
                }
            };
            let heats = state.power == Power::Heating;
            floor.set_or_clear(no, POWER, Phase::Clock, next);
            if heats && floor.machines[usize::from(i)].stops.is_down() {
                halt(floor, i);
            }
        }
        STOP => {
            let (turn, next) = state.stops.turn(&spec.stops, now);
            floor.set_or_clear(no, STOP, Phase::Clock, next);
            match turn {
                Some(stops::Turn::Stops) => stands(floor, i),
                Some(stops::Turn::GoesOn(then)) => goes_on(floor, line, i, then),
                None => {}
            }
        }
        CHANGE => tank::falls_due(floor, line, i),
        REFILLED => tank::refilled(floor, i),
        _ => {}
    }
}

impl State {
    /// Whether more ware waiting can be anything to it: a door machine that nobody loads takes no notice within a cycle.
    #[inline]
    pub(crate) fn looks_at_what_waits(&self) -> bool {
        self.by_hand || !matches!(self.chamber, Chamber::Cycle(..))
    }

    /// Racks and lots inside, or in the loader's hands.
    pub(crate) fn things(&self) -> impl Iterator<Item = u32> + '_ {
        let inside = self.inside.iter().chain(&self.in_hand).copied();
        inside.chain(self.tunnel.things())
    }

    /// A cycle stands, with what is left of it.
    fn halts(&mut self, now: SimTime) {
        if let Chamber::Cycle(length, ends) = self.chamber {
            self.chamber = Chamber::Halted(length, ends.since(now));
        }
    }

    /// Whether its drive runs: a door machine's is its cycle.
    fn drive_runs(&self) -> bool {
        if self.is_door {
            matches!(self.chamber, Chamber::Cycle(..))
        } else {
            !self.tunnel.stopped && !self.tunnel.lies_at_end()
        }
    }
}

/// It stands from now on, and what is done at it.
fn stands(floor: &mut Floor, i: u8) {
    halt(floor, i);
    let now = floor.now;
    floor.machines[usize::from(i)].halts(now);
}

/// It goes on from now on, or what is inside is run again.
fn goes_on(floor: &mut Floor, line: &Line, i: u8, then: AfterStop) {
    go_on(floor, i);
    let now = floor.now;
    let state = &mut floor.machines[usize::from(i)];
    if let Chamber::Halted(length, left) = state.chamber {
        let left = if then == AfterStop::Resume {
            left
        } else {
            length
        };
        state.chamber = Chamber::Cycle(length, now + left);
    }
    if then == AfterStop::RunAgain {
        rinse::count_inside(state, &floor.racks);
        match line.machines[usize::from(i)].kind {
            MachineKind::Flight { .. } => {
                let racks = &floor.racks;
                state
                    .tunnel
                    .start_anew_behind(|rack| racks.get(rack).length);
            }
            _ => state.tunnel.start_anew(),
        }
    }
}

/// Trouble makes it stand.
pub(crate) fn hold(floor: &mut Floor, i: u8) {
    let now = floor.now;
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    let stood = state.stops.is_down();
    state.stops.hold();
    if !stood {
        stands(floor, i);
    }
    let no = floor.machine_no(i);
    floor.mark(no);
}

/// A trouble is over.
pub(crate) fn let_go(floor: &mut Floor, line: &Line, i: u8, then: AfterStop) {
    let now = floor.now;
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    if state.stops.let_go() {
        goes_on(floor, line, i, then);
    }
    let no = floor.machine_no(i);
    floor.mark(no);
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let now = floor.now;
    let no = floor.machine_no(i);
    let spec = &line.machines[usize::from(i)];
    floor.machines[usize::from(i)].tunnel.read(now);
    send_out(floor, line, i);
    let steady = |floor: &Floor| control::runs_on(&floor.machines[usize::from(i)], spec);
    if !steady(floor) {
        control(floor, line, i);
    }
    let down = floor.machines[usize::from(i)].stops.is_down();
    let runs = floor.machines[usize::from(i)].running == Running::Yes && !down;
    floor.machines[usize::from(i)].tunnel.stopped = !runs;
    if runs {
        take_in(floor, line, i);
    }
    // Taking the last rack off the lane may be what lets the machine rest.
    if !steady(floor) {
        control(floor, line, i);
    }

    let state = &mut floor.machines[usize::from(i)];
    let runs = state.running == Running::Yes && !down;
    state.tunnel.stopped = !runs;
    let next = match spec.kind {
        MachineKind::Door { .. } => match state.chamber {
            Chamber::Cycle(_, ends) => Some(ends),
            _ => None,
        },
        MachineKind::Conveyor { .. } => {
            let next = [state.tunnel.arrives_in(), state.tunnel.lands_in(0)];
            next.into_iter().flatten().min().map(|span| now + span)
        }
        MachineKind::Flight { .. } => flight::next(floor, line, i).map(|span| now + span),
    };
    floor.set_or_clear(no, MOVES, Phase::End, next);
    let drive_runs = floor.machines[usize::from(i)].drive_runs();
    trouble::runs(floor, line, Stands::Machine(i), drive_runs);
    wakes(floor, line, i);
    shown::tell(floor, line, i);
    if spec.loading.is_some() {
        floor.mark_crew();
    }
    if matches!(spec.kind, MachineKind::Flight { .. }) {
        flight::tell_tables(floor, line, i);
    }
    tell_upstream(floor, line, i);
}

/// Where no rack waits, the table behind is told when one would be taken at once.
fn tell_upstream(floor: &mut Floor, line: &Line, i: u8) {
    let Some(from) = line.machines[usize::from(i)].from else {
        return;
    };
    if let Some(crate::line::LaneKind::Shelf { room: Some(0) }) =
        line.lanes.get(usize::from(from)).map(|l| &l.kind)
    {
        for (r, racking) in line.racking.iter().enumerate() {
            if racking.feeds(from) && floor.racking[r].open_racks() > 0 && takes_now(floor, line, i)
            {
                let no = floor.racking_no(r as u8);
                floor.mark(no);
            }
        }
    }
}
