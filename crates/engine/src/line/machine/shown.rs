//! What a machine shows: its state, and how much is inside.

use crate::line::floor::Floor;
use crate::line::{Line, clean_end};
use crate::watch::State as S;

use super::control::{Power, Running};
use super::tank::Refill;
use super::{Chamber, MachineKind};

/// Tells the machine's state and what it holds: racks, or the pieces on a flight machine's belt.
pub(super) fn tell(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.machines[usize::from(i)];
    let state = &floor.machines[usize::from(i)];
    let is_door = state.is_door;
    let blocked = if is_door {
        state.chamber == Chamber::Washed
    } else {
        state.tunnel.lies_at_end()
    };
    let shown = if state.stops.is_down() {
        S::Down
    } else {
        match (state.power, state.running) {
            (Power::Off, _) => S::Off,
            (Power::Heating, _) => S::Heating,
            _ if blocked => S::Stopped,
            (Power::Ending, Running::No) => S::Off,
            _ if state.refill == Refill::Going => S::Refilling,
            (_, Running::Starting) => S::Starting,
            (_, Running::No) => S::Ready,
            (_, Running::Yes) if !is_door || matches!(state.chamber, Chamber::Cycle(..)) => {
                S::Washing
            }
            (_, Running::Yes) => S::Ready,
        }
    };
    let inside = match spec.kind {
        MachineKind::Flight { .. } => state.pieces,
        _ => (state.inside.len() + state.in_hand.len()) as u32 + state.tunnel.len(),
    };
    let because = (shown == S::Stopped)
        .then(|| {
            let in_chamber = state.inside.first().copied();
            let first = in_chamber.or_else(|| state.tunnel.things().next());
            let to = clean_end::of_rack(floor, line, spec.to, first);
            to.map(|c| floor.n.clean[usize::from(c)])
        })
        .flatten();
    let n = &floor.n;
    floor
        .telling
        .state(n.machine[usize::from(i)], shown, because);
    floor.telling.level(n.washing[usize::from(i)], inside);
}
