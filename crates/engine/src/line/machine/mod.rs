//! A dish machine: door type or rack conveyor, fed by one lane, run throughout or by hold-and-run.

use crate::calendar::Phase;
use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::mover::{Ending, Mover, UNITS_PER_MM};
use crate::line::{AfterStop, Line, RacksTo, Stands, Stop, clean_end, stops, trouble};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};
use crate::watch::State as S;

mod control;
mod loading;
mod passage;
mod rinse;

pub use control::Control;
pub use loading::Loading;
pub(crate) use loading::{begin, finish, takes_now, waiting};
pub(crate) use rinse::rinse_us;

use control::{Power, Running, control, go_on, halt};
pub(crate) use passage::is_inside;
use passage::{send_out, take_in};
use rinse::Rinse;

/// A dish machine fed by one lane.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// Its name.
    pub name: String,
    /// Door type or rack conveyor.
    pub kind: MachineKind,
    /// Number of the lane that feeds it.
    pub from: u8,
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
}

/// Door type or rack conveyor.
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
}

const MOVES: u32 = 0;
const STARTS: u32 = 1;
const POWER: u32 = 2;
const STOP: u32 = 3;
const PATIENCE: u32 = 4;
pub(crate) const SLOTS: u32 = 5;

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
    stops: stops::State,
    cycle: Sampler,
    start: Sampler,
    loading: Sampler,
    luck: Keyed,
    cycles: u64,
    starts: u64,
    loads: u64,
    rinse: Rinse,
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
        }
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
        state.luck = root.keyed(name_key(&spec.name) ^ name_key("machine"));
        (state.cycles, state.starts, state.loads) = (0, 0, 0);
        state.rinse = Rinse::default();
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
                state.rinse.from = (u64::from(rinse_mm.0) * UNITS_PER_MM) as i64;
                state.rinse.to = (u64::from(rinse_mm.1) * UNITS_PER_MM) as i64;
            }
        }
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
                Some(stops::Turn::GoesOn(then)) => goes_on(floor, i, then),
                None => {}
            }
        }
        _ => {}
    }
}

impl State {
    /// A cycle stands, with what is left of it.
    fn halts(&mut self, now: SimTime) {
        if let Chamber::Cycle(length, ends) = self.chamber {
            self.chamber = Chamber::Halted(length, ends.since(now));
        }
    }

    /// What stood goes on, or is run again.
    fn goes_on(&mut self, then: AfterStop, now: SimTime) {
        if let Chamber::Halted(length, left) = self.chamber {
            let left = if then == AfterStop::Resume {
                left
            } else {
                length
            };
            self.chamber = Chamber::Cycle(length, now + left);
        }
        if then == AfterStop::RunAgain {
            let gone = self.tunnel.gone();
            for put in self.tunnel.put_down_at() {
                self.rinse.passes(put, gone);
            }
            self.tunnel.start_anew();
        }
    }
}

/// It stands from now on, and what is done at it.
fn stands(floor: &mut Floor, i: u8) {
    halt(floor, i);
    let now = floor.now;
    floor.machines[usize::from(i)].halts(now);
}

/// It goes on from now on.
fn goes_on(floor: &mut Floor, i: u8, then: AfterStop) {
    go_on(floor, i);
    let now = floor.now;
    floor.machines[usize::from(i)].goes_on(then, now);
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
pub(crate) fn let_go(floor: &mut Floor, i: u8, then: AfterStop) {
    let now = floor.now;
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    if state.stops.let_go() {
        goes_on(floor, i, then);
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
    control(floor, line, i);
    let down = floor.machines[usize::from(i)].stops.is_down();
    let runs = floor.machines[usize::from(i)].running == Running::Yes && !down;
    floor.machines[usize::from(i)].tunnel.stopped = !runs;
    if runs {
        take_in(floor, line, i);
    }
    // Taking the last rack off the lane may be what lets the machine rest.
    control(floor, line, i);

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
    };
    let blocked = match spec.kind {
        MachineKind::Door { .. } => state.chamber == Chamber::Washed,
        MachineKind::Conveyor { .. } => state.tunnel.lies_at_end(),
    };
    let shown = if down {
        S::Down
    } else {
        match (state.power, state.running) {
            (Power::Off, _) => S::Off,
            (Power::Heating, _) => S::Heating,
            _ if blocked => S::Stopped,
            (_, Running::Starting) => S::Starting,
            (_, Running::No) => {
                if state.power == Power::Ending {
                    S::Off
                } else {
                    S::Ready
                }
            }
            (_, Running::Yes) => match spec.kind {
                MachineKind::Conveyor { .. } => S::Washing,
                MachineKind::Door { .. } if matches!(state.chamber, Chamber::Cycle(..)) => {
                    S::Washing
                }
                MachineKind::Door { .. } => S::Ready,
            },
        }
    };
    let inside = (state.inside.len() + state.in_hand.len()) as u32 + state.tunnel.len();
    let because = (shown == S::Stopped)
        .then(|| {
            let state = &floor.machines[usize::from(i)];
            let in_chamber = state.inside.first().copied();
            let first = in_chamber.or_else(|| state.tunnel.things().next());
            let to = clean_end::of_rack(floor, line, spec.to, first);
            to.map(|c| floor.n.clean[usize::from(c)])
        })
        .flatten();
    floor
        .telling
        .state(floor.n.machine[usize::from(i)], shown, because);
    floor.telling.level(floor.n.washing[usize::from(i)], inside);
    floor.set_or_clear(no, MOVES, Phase::End, next);
    // Running is the drive's: a door machine's is its cycle.
    let state = &floor.machines[usize::from(i)];
    let drive_runs = if state.is_door {
        matches!(state.chamber, Chamber::Cycle(..))
    } else {
        runs && !blocked
    };
    trouble::runs(floor, line, Stands::Machine(i), drive_runs);
    if spec.loading.is_some() {
        floor.mark_crew();
    }
    if let Some(crate::line::LaneKind::Shelf { room: Some(0) }) =
        line.lanes.get(usize::from(spec.from)).map(|l| &l.kind)
    {
        for (r, racking) in line.racking.iter().enumerate() {
            if racking.to == RacksTo::Lane(spec.from)
                && floor.racking[r].open_racks() > 0
                && takes_now(floor, i)
            {
                let no = floor.racking_no(r as u8);
                floor.mark(no);
            }
        }
    }
}
