//! When a machine is on and when it runs: heating, starting, resting, switched off.

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, RacksTo, hand_over, second_pass};
use crate::time::{SimTime, Span};

use super::tank::{self, Refill};
use super::{Machine, MachineKind, PATIENCE, POWER, REFILLED, STARTS, State, flight};

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
        /// ... or what waits would keep the machine busy so long ...
        work: Option<Span>,
        // ... or nothing more can come.
    },
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Power {
    #[default]
    Off,
    Heating,
    On,
    /// Switched off for good; what is inside is finished.
    Ending,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Running {
    #[default]
    No,
    Starting,
    Yes,
}

/// Whether it runs on, whatever waits and whatever is inside.
#[inline]
pub(super) fn runs_on(state: &State, spec: &Machine) -> bool {
    (state.power, state.running) == (Power::On, Running::Yes)
        && spec.control == Control::RunsThroughout
        && spec.tank.is_none()
}

/// Starts and rests.
pub(super) fn control(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    let no = floor.machine_no(i);
    let now = floor.now;
    tank::begin(floor, line, i);
    let on_lane = spec
        .from
        .map_or(0, |from| hand_over::coming(floor, line, from));
    let (loose, _) = flight::waiting(floor, line, i);
    let state = &floor.machines[usize::from(i)];
    let empty = on_lane == 0
        && loose == 0
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
                floor.clear(no, REFILLED);
            }
        }
        (Power::On, _) if state.refill == Refill::Going => {}
        // Down: looked at again when it goes on.
        (Power::On, Running::No) if state.stops.is_down() => floor.clear(no, PATIENCE),
        (Power::On, Running::No) => {
            let starts = match spec.control {
                Control::RunsThroughout => true,
                Control::HoldAndRun {
                    racks,
                    longest_wait,
                    work,
                } => {
                    let since = longest_here(floor, line, i);
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
                    let enough = work.is_some_and(|work| work_waiting(floor, line, i) >= work);
                    (on_lane > 0 || loose > 0)
                        && (on_lane >= racks
                            || waited
                            || enough
                            || nothing_more_comes(floor, line, i))
                }
            };
            if starts {
                floor.clear(no, PATIENCE);
                floor.telling.count(floor.n.count.starts[usize::from(i)], 1);
                let state = &mut floor.machines[usize::from(i)];
                let seconds = state.start.value(state.luck, state.starts * 4 + 1);
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

/// A machine that is down neither heats up nor starts: both go on when it does.
pub(super) fn halt(floor: &mut Floor, i: u8) {
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
pub(super) fn go_on(floor: &mut Floor, i: u8) {
    let no = floor.machine_no(i);
    let halted = std::mem::take(&mut floor.machines[usize::from(i)].halted);
    let phases = [(POWER, Phase::Clock), (STARTS, Phase::End)];
    for ((slot, phase), left) in phases.into_iter().zip(halted) {
        if let Some(left) = left {
            floor.set(no, slot, phase, floor.now + left);
        }
    }
}

/// Since when what has been waiting longest for this machine waits.
fn longest_here(floor: &Floor, line: &Line, i: u8) -> Option<SimTime> {
    let on_lane = line.machines[usize::from(i)]
        .from
        .and_then(|from| hand_over::longest_coming(floor, line, from));
    let tables = line.racking.iter().zip(&floor.racking);
    let loose = tables
        .filter(|(spec, _)| spec.to == RacksTo::Machine(i))
        .filter_map(|(_, state)| state.longest_ready());
    loose.chain(on_lane).min()
}

/// How long what waits would keep the machine busy.
fn work_waiting(floor: &Floor, line: &Line, i: u8) -> Span {
    let spec = &line.machines[usize::from(i)];
    let on_lane = spec
        .from
        .map_or(0, |from| hand_over::coming(floor, line, from));
    let racks_s = f64::from(on_lane) * 3600.0 / spec.racks_per_h().max(1e-9);
    let loose = match spec.kind {
        MachineKind::Flight { speed_mm_min, .. } => {
            let (_, long) = flight::waiting(floor, line, i);
            Span::from_us((long / i64::from(speed_mm_min.max(1))) as u64)
        }
        _ => Span::NONE,
    };
    loose + Span::from_s(racks_s)
}

/// Whether nothing can come to this machine any more.
fn nothing_more_comes(floor: &Floor, line: &Line, i: u8) -> bool {
    let from = line.machines[usize::from(i)].from;
    let mut tables = line.racking.iter().zip(&floor.racking);
    floor.rush_over
        && tables.all(|(spec, state)| {
            let comes = |class: u8| match (spec.to_of(class), from) {
                (RacksTo::Lane(lane), Some(from)) => line.leads_to(lane, from),
                _ => false,
            };
            !state.holds_pieces(&floor.racks, comes)
        })
        && !from.is_some_and(|from| second_pass::comes_back_to(floor, line, from))
}

/// Whether the machine looks at what waits for it before it starts.
pub(crate) fn is_hold_and_run(line: &Line, i: u8) -> bool {
    line.machines[usize::from(i)].control != Control::RunsThroughout
}
