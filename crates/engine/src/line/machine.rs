//! A dish machine: door type or rack conveyor, fed by one lane, run throughout or by hold-and-run.

use crate::calendar::Phase;
use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::mover::{Ending, Mover, UNITS_PER_MM};
use crate::line::{AfterStop, Line, RacksTo, Stop, clean_end, lane, stops};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};
use crate::watch::{RackTrip, State as S};

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

/// When a machine runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    /// From the time it is ready until it is switched off.
    RunsThroughout,
    /// Starts when enough has gathered, stops when nothing is on the lane or inside.
    HoldAndRun {
        /// Starts when so many racks stand on the feeding lane ...
        racks: u32,
        /// ... or one has waited there so long ...
        longest_wait: Option<Span>,
        // ... or nothing more can come.
    },
}

/// Work at the load end.
#[derive(Clone, Debug, PartialEq)]
pub struct Loading {
    /// Seconds to load one rack (or, for a door machine, one batch).
    pub rack_s: f64,
    /// Factor of mean 1 on each.
    pub variation: Dist,
    /// Workers who can stand here.
    pub places: u32,
}

const MOVES: u32 = 0;
const STARTS: u32 = 1;
const POWER: u32 = 2;
const STOP: u32 = 3;
const PATIENCE: u32 = 4;
pub(crate) const SLOTS: u32 = 5;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Power {
    #[default]
    Off,
    Heating,
    On,
    /// Switched off for good; what is inside is finished.
    Ending,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Running {
    #[default]
    No,
    Starting,
    Yes,
}

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

/// Odometer length over which the rinse flowed: the union of the stretches in which a rack is in the zone.
#[derive(Clone, Copy, Debug, Default)]
struct Rinse {
    from: i64,
    to: i64,
    flowed: i64,
    /// Up to where the union has been counted.
    counted: i64,
}

impl Rinse {
    /// A rack that was put in at odometer `put` has been carried to `now`.
    fn passes(&mut self, put: i64, now: i64) {
        let begins = (put + self.from).max(self.counted);
        let ends = (put + self.to).min(now);
        if ends > begins {
            self.flowed += ends - begins;
            self.counted = ends;
        }
    }
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
        let state = &mut floor.machines[i];
        if spec.off_at.is_some_and(|off| off <= line.starts) {
            state.power = Power::Off;
        } else if ready <= line.starts {
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
                Some(stops::Turn::Stops) => {
                    halt(floor, i);
                    let state = &mut floor.machines[usize::from(i)];
                    if let Chamber::Cycle(length, ends) = state.chamber {
                        state.chamber = Chamber::Halted(length, ends.since(now));
                    }
                }
                Some(stops::Turn::GoesOn(then)) => {
                    go_on(floor, i);
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
                        let gone = state.tunnel.gone();
                        for put in state.tunnel.put_down_at() {
                            state.rinse.passes(put, gone);
                        }
                        state.tunnel.start_anew();
                    }
                }
                None => {}
            }
        }
        _ => {}
    }
}

/// A machine that is down neither heats up nor starts: both go on when it does.
fn halt(floor: &mut Floor, i: u8) {
    let no = floor.machine_no(i);
    let heats = floor.machines[usize::from(i)].power == Power::Heating;
    for (k, slot) in [POWER, STARTS].into_iter().enumerate() {
        if (slot == STARTS || heats)
            && let Some(at) = floor.calendar.when(floor.slot(no, slot))
        {
            floor.machines[usize::from(i)].halted[k] = Some(at.since(floor.now));
            floor.clear(no, slot);
        }
    }
}

/// What [`halt`] kept goes on.
fn go_on(floor: &mut Floor, i: u8) {
    let no = floor.machine_no(i);
    let halted = std::mem::take(&mut floor.machines[usize::from(i)].halted);
    let phases = [(POWER, Phase::Clock), (STARTS, Phase::End)];
    for ((slot, phase), left) in phases.into_iter().zip(halted) {
        if let Some(left) = left {
            floor.set(no, slot, phase, floor.now + left);
        }
    }
}

/// Whether a rack that came to the end of the feeding lane now would be taken at once.
pub(crate) fn takes_now(floor: &Floor, i: u8) -> bool {
    let state = &floor.machines[usize::from(i)];
    if state.power != Power::On
        || state.running != Running::Yes
        || state.stops.is_down()
        || !state.in_hand.is_empty()
    {
        return false;
    }
    if state.is_door {
        state.chamber == Chamber::Empty && state.inside.is_empty()
    } else {
        !state.tunnel.lies_at_end() && state.tunnel.can_land(0)
    }
}

/// Racks a loader could begin with now.
pub(crate) fn waiting(floor: &mut Floor, line: &Line, i: u8) -> u32 {
    let spec = &line.machines[usize::from(i)];
    let state = &floor.machines[usize::from(i)];
    if spec.loading.is_none()
        || state.power != Power::On
        || state.running != Running::Yes
        || state.stops.is_down()
        || !state.in_hand.is_empty()
    {
        return 0;
    }
    if state.is_door && state.chamber != Chamber::Empty {
        return 0;
    }
    if lane::at_end(floor, spec.from).is_some() {
        lane::len(floor, spec.from)
    } else {
        0
    }
}

/// The loader takes a rack (a door machine's batch) in hand: seconds at normal pace.
pub(crate) fn begin(floor: &mut Floor, line: &Line, i: u8) -> Option<f64> {
    let spec = &line.machines[usize::from(i)];
    let loading = spec.loading.as_ref()?;
    let batch = match spec.kind {
        MachineKind::Door { batch, .. } => batch,
        MachineKind::Conveyor { .. } => 1,
    };
    for k in 0..batch {
        let Some(rack) = lane::take(floor, line, spec.from, k > 0) else {
            break;
        };
        floor.machines[usize::from(i)].in_hand.push(rack);
    }
    let state = &mut floor.machines[usize::from(i)];
    if state.in_hand.is_empty() {
        return None;
    }
    let factor = state.loading.constant();
    let factor = factor.unwrap_or_else(|| state.loading.draw(state.luck.at(state.loads * 4 + 2)));
    state.loads += 1;
    let no = floor.machine_no(i);
    floor.mark(no);
    Some(loading.rack_s * factor)
}

/// The loader has put the rack at the machine's mouth and is free; it goes in when the machine takes it.
pub(crate) fn finish(floor: &mut Floor, i: u8, worker: u8) {
    floor.machines[usize::from(i)].loaded = true;
    floor.release(worker);
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
        .then(|| spec.to.map(|c| floor.n.clean[usize::from(c)]))
        .flatten();
    floor
        .telling
        .state(floor.n.machine[usize::from(i)], shown, because);
    floor.telling.level(floor.n.washing[usize::from(i)], inside);
    floor.set_or_clear(no, MOVES, Phase::End, next);
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

/// Sends washed racks out as far as the clean end has room.
fn send_out(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    loop {
        if spec.to.is_some_and(|c| !clean_end::has_room(floor, c)) {
            return;
        }
        let state = &mut floor.machines[usize::from(i)];
        let rack = match spec.kind {
            MachineKind::Door { .. }
                if state.chamber == Chamber::Washed && !state.inside.is_empty() =>
            {
                Some(state.inside.remove(0))
            }
            MachineKind::Door { .. } => None,
            MachineKind::Conveyor { .. } => {
                let gone = state.tunnel.gone();
                let put = state.tunnel.put_down_at().next();
                let taken = state.tunnel.take_at_end();
                if let (Some(put), Some(_)) = (put, taken) {
                    state.rinse.passes(put, gone);
                }
                taken.map(|(rack, _)| rack)
            }
        };
        if state.chamber == Chamber::Washed && state.inside.is_empty() {
            state.chamber = Chamber::Empty;
        }
        let Some(rack) = rack else { return };
        let now = floor.now;
        let it = floor.racks.get(rack);
        floor
            .telling
            .count(floor.n.count.racks_out[usize::from(i)], 1);
        floor.telling.trip(RackTrip {
            kind: it.kind,
            class: it.class,
            machine: i,
            pieces: it.fill,
            size: it.size,
            opened: it.opened,
            closed: it.closed,
            washed_from: it.washed_from,
            out: now,
        });
        match spec.to {
            Some(c) => clean_end::receive(floor, line, c, rack),
            None => floor.rack_clean_and_free(rack),
        }
    }
}

/// Starts and rests.
fn control(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    let no = floor.machine_no(i);
    let now = floor.now;
    let on_lane = lane::len(floor, spec.from);
    let state = &floor.machines[usize::from(i)];
    let empty = on_lane == 0
        && state.inside.is_empty()
        && state.in_hand.is_empty()
        && state.tunnel.is_empty();
    match (state.power, state.running) {
        (Power::Off | Power::Heating, _) => {}
        (Power::Ending, _) => {
            let nothing_inside =
                state.inside.is_empty() && state.in_hand.is_empty() && state.tunnel.is_empty();
            if nothing_inside {
                floor.machines[usize::from(i)].running = Running::No;
                floor.machines[usize::from(i)].power = Power::Off;
                floor.machines[usize::from(i)].halted = [None; 2];
                floor.clear(no, STARTS);
                floor.clear(no, PATIENCE);
            }
        }
        // Down: looked at again when it goes on.
        (Power::On, Running::No) if state.stops.is_down() => floor.clear(no, PATIENCE),
        (Power::On, Running::No) => {
            let starts = match spec.control {
                Control::RunsThroughout => true,
                Control::HoldAndRun {
                    racks,
                    longest_wait,
                } => {
                    let since = lane::longest_here(floor, spec.from);
                    let waited = match (since, longest_wait) {
                        (Some(since), Some(most)) => {
                            floor.set(
                                no,
                                PATIENCE,
                                Phase::Clock,
                                (since + most).max(now + Span::from_us(1)),
                            );
                            now.since(since) >= most
                        }
                        _ => {
                            floor.clear(no, PATIENCE);
                            false
                        }
                    };
                    on_lane > 0
                        && (on_lane >= racks
                            || waited
                            || nothing_more_comes(floor, line, spec.from))
                }
            };
            if starts {
                floor.clear(no, PATIENCE);
                floor.telling.count(floor.n.count.starts[usize::from(i)], 1);
                let state = &mut floor.machines[usize::from(i)];
                let seconds = state.start.constant();
                let seconds = seconds
                    .unwrap_or_else(|| state.start.draw(state.luck.at(state.starts * 4 + 1)));
                state.starts += 1;
                let lasts = Span::drawn(seconds);
                if lasts.is_none() {
                    state.running = Running::Yes;
                } else {
                    state.running = Running::Starting;
                    floor.set(no, STARTS, Phase::End, now + lasts);
                }
                floor.mark(no);
            }
        }
        (Power::On, Running::Yes) => {
            if empty && spec.control != Control::RunsThroughout {
                floor.machines[usize::from(i)].running = Running::No;
            }
        }
        (Power::On, Running::Starting) => {}
    }
}

/// Whether nothing can come onto the lane any more.
fn nothing_more_comes(floor: &Floor, line: &Line, lane: u8) -> bool {
    floor.rush_over
        && line
            .racking
            .iter()
            .zip(&floor.racking)
            .filter(|(spec, _)| spec.to == RacksTo::Lane(lane))
            .all(|(_, state)| !state.holds_pieces(&floor.racks))
}

/// Takes racks in from the lane, or from the loader's hands.
fn take_in(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    let now = floor.now;
    if floor.machines[usize::from(i)].power == Power::Ending && spec.loading.is_none() {
        // Switched off: what is inside (or in the loader's hands) is finished, nothing more comes in.
        return;
    }
    match spec.kind {
        MachineKind::Door { batch, .. } => {
            if floor.machines[usize::from(i)].chamber != Chamber::Empty {
                return;
            }
            if spec.loading.is_some() {
                let state = &mut floor.machines[usize::from(i)];
                if !std::mem::take(&mut state.loaded) {
                    return;
                }
                std::mem::swap(&mut state.inside, &mut state.in_hand);
            } else {
                for k in 0..batch {
                    let Some(rack) = lane::take(floor, line, spec.from, k > 0) else {
                        break;
                    };
                    floor.machines[usize::from(i)].inside.push(rack);
                }
            }
            if floor.machines[usize::from(i)].inside.is_empty() {
                return;
            }
            for k in 0..floor.machines[usize::from(i)].inside.len() {
                let rack = floor.machines[usize::from(i)].inside[k];
                goes_in(floor, i, rack);
            }
            let state = &mut floor.machines[usize::from(i)];
            let seconds = state.cycle.constant();
            let seconds =
                seconds.unwrap_or_else(|| state.cycle.draw(state.luck.at(state.cycles * 4)));
            state.cycles += 1;
            let length = Span::from_us(Span::drawn(seconds).us().max(1));
            state.chamber = Chamber::Cycle(length, now + length);
        }
        MachineKind::Conveyor { .. } => {
            let state = &floor.machines[usize::from(i)];
            if state.tunnel.lies_at_end() || !state.tunnel.can_land(0) {
                return;
            }
            let rack = if spec.loading.is_some() {
                let state = &mut floor.machines[usize::from(i)];
                if !std::mem::take(&mut state.loaded) {
                    return;
                }
                state.in_hand.pop()
            } else {
                lane::take(floor, line, spec.from, false)
            };
            if let Some(rack) = rack {
                floor.machines[usize::from(i)].tunnel.land(0, rack, now);
                goes_in(floor, i, rack);
            }
        }
    }
}

fn goes_in(floor: &mut Floor, i: u8, rack: u32) {
    let now = floor.now;
    let it = floor.racks.get_mut(rack);
    it.washed_from = now;
    it.machine = i;
    let (fill, size) = (it.fill, it.size);
    let counts = &floor.n.count;
    floor.telling.count(counts.racks_in[usize::from(i)], 1);
    floor
        .telling
        .count(counts.pieces_in[usize::from(i)], u32::from(fill));
    floor
        .telling
        .count(counts.part_filled[usize::from(i)], u32::from(fill < size));
}

/// Microseconds in which the final rinse flowed, up to now.
pub(crate) fn rinse_us(floor: &mut Floor, line: &Line, i: u8) -> u64 {
    let now = floor.now;
    let MachineKind::Conveyor { speed_mm_min, .. } = line.machines[usize::from(i)].kind else {
        return 0;
    };
    let state = &mut floor.machines[usize::from(i)];
    state.tunnel.read(now);
    let gone = state.tunnel.gone();
    let mut rinse = state.rinse;
    for put in state.tunnel.put_down_at() {
        rinse.passes(put, gone);
    }
    (rinse.flowed / i64::from(speed_mm_min.max(1))) as u64
}
