//! When a machine is on and when it runs: heating, starting, resting, switched off.

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{Line, RacksTo, lane};
use crate::time::Span;

use super::{PATIENCE, POWER, STARTS};

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

/// Starts and rests.
pub(super) fn control(floor: &mut Floor, line: &Line, i: u8) {
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

/// Whether nothing can come onto the lane any more.
pub(super) fn nothing_more_comes(floor: &Floor, line: &Line, lane: u8) -> bool {
    floor.rush_over
        && line
            .racking
            .iter()
            .zip(&floor.racking)
            .filter(|(spec, _)| spec.to == RacksTo::Lane(lane))
            .all(|(_, state)| !state.holds_pieces(&floor.racks))
}
