//! Racks standing open at a racking table: opened for a class, filled, sent when full or due.

use super::piles::pile_of;
use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{ClassId, Line, RacksTo, gate, lane, machine, second_pass};
use crate::watch::{PlaceId, Step};

#[derive(Clone, Copy, Debug)]
pub(super) struct Open {
    pub(super) rack: u32,
    /// Its time is up: it leaves as soon as the lane has room.
    pub(super) due: bool,
    /// Which of the table's places it stands on.
    pub(super) place: u32,
    /// On which level that is.
    pub(super) level: u8,
}

/// Puts pieces straight into open racks, opening one where it can; how many found a place. The table looks whether a rack
/// is to leave.
pub(crate) fn put(floor: &mut Floor, line: &Line, i: u8, class: u8, tray: u32, pieces: u16) -> u16 {
    let placed = fill(floor, line, i, class, tray, pieces);
    if placed > 0 {
        let no = floor.racking_no(i);
        floor.mark(no);
    }
    placed
}

/// The same, where the table looks of itself.
pub(super) fn fill(
    floor: &mut Floor,
    line: &Line,
    i: u8,
    class: u8,
    tray: u32,
    pieces: u16,
) -> u16 {
    let now = floor.now;
    let no = floor.racking_no(i);
    let mut left = pieces;
    while left > 0 {
        let state = &floor.racking[usize::from(i)];
        let racks = &floor.racks;
        let room = state.open.iter().find(|o| {
            let rack = racks.get(o.rack);
            rack.class == class && rack.fill < rack.size
        });
        let Some(&Open { rack, place, .. }) = room else {
            if open_rack(floor, line, i, class) {
                continue;
            }
            break;
        };
        let was_empty = floor.racks.get(rack).fill == 0;
        let went = floor.racks.fill(rack, tray, left, now);
        left -= went;
        floor.telling.step(Step::Racked {
            tray,
            class,
            rack,
            pieces: went,
        });
        if was_empty && let Some(limit) = line.racking[usize::from(i)].limit {
            floor.set(no, place, Phase::Clock, now + limit);
        }
    }
    pieces - left
}

/// A rack of its own that is already open and holds this. Whether there is a place and a rack for it.
pub(crate) fn stands_open(
    floor: &mut Floor,
    line: &Line,
    i: u8,
    class: u8,
    tray: u32,
    pieces: u16,
) -> bool {
    if !open_rack(floor, line, i, class) {
        return false;
    }
    let Some(&Open { rack, place, .. }) = floor.racking[usize::from(i)].open.last() else {
        return false;
    };
    let now = floor.now;
    if let Some(limit) = line.racking[usize::from(i)].limit {
        let no = floor.racking_no(i);
        floor.set(no, place, Phase::Clock, now + limit);
    }
    floor.racks.fill(rack, tray, pieces, now) == pieces
}

/// Opens a rack for the class if a place and an empty rack are free.
pub(super) fn open_rack(floor: &mut Floor, line: &Line, i: u8, class: u8) -> bool {
    let now = floor.now;
    let level = line.racking[usize::from(i)].level_of(class);
    if floor.racking[usize::from(i)].places_free[level].is_empty() {
        return false;
    }
    let rack = if second_pass::is_sorted_at(line, class, i) {
        let fits = second_pass::fits(line, class, i);
        floor.racks.open_of(fits, ClassId(class), now)
    } else {
        floor.racks.open(line, ClassId(class), now)
    };
    let Some(rack) = rack else {
        return false;
    };
    let state = &mut floor.racking[usize::from(i)];
    let Some(place) = state.places_free[level].pop() else {
        return false;
    };
    state.open.push(Open {
        rack,
        due: false,
        place,
        level: level as u8,
    });
    tell_open(floor, line, i, level);
    let kind = floor.racks.get(rack).kind;
    floor.telling.add(floor.n.empty[usize::from(kind)], -1);
    true
}

/// Tells how many racks stand open on a level.
fn tell_open(floor: &mut Floor, line: &Line, i: u8, level: usize) {
    let room = line.racking[usize::from(i)].room_by_level().nth(level);
    let free = floor.racking[usize::from(i)].places_free[level].len() as u32;
    let open = room.map_or(0, |room| room - free);
    floor
        .telling
        .level(floor.n.open[usize::from(i)][level], open);
}

/// Why no rack can be had for a class: none empty, no place to stand one, or the lane is full.
pub(super) fn lacking_rack(floor: &Floor, line: &Line, i: u8, class: u8) -> PlaceId {
    if let RacksTo::Machine(m) = line.racking[usize::from(i)].to {
        return floor.n.washing[usize::from(m)];
    }
    let state = &floor.racking[usize::from(i)];
    let spec = &line.racking[usize::from(i)];
    let level = spec.level_of(class);
    if state.places_free[level].is_empty() {
        let waits_for_lane = state.open.iter().any(|o| {
            let rack = floor.racks.get(o.rack);
            usize::from(o.level) == level && (o.due || rack.fill == rack.size)
        });
        return match spec.to_from(level) {
            RacksTo::Lane(l) if waits_for_lane => floor.n.lane[usize::from(l)],
            _ => floor.n.open[usize::from(i)][level],
        };
    }
    let first = second_pass::fits(line, class, i).first();
    let kind = first.map_or(0, |(kind, _)| usize::from(kind.0));
    floor.n.empty.get(kind).copied().unwrap_or_default()
}

fn can_add(floor: &Floor, line: &Line, i: u8, class: u8) -> bool {
    let state = &floor.racking[usize::from(i)];
    let pile = state
        .grabs
        .iter()
        .any(|g| g.class == class && !g.parts.is_empty());
    pile || !floor.rush_over || second_pass::more_comes(floor, line, i, class)
}

/// Sends racks that are full, due, or the last of their class, as far as the lane has room. Whether any went.
pub(super) fn send(floor: &mut Floor, line: &Line, i: u8) -> bool {
    let spec = &line.racking[usize::from(i)];
    let no = floor.racking_no(i);
    let now = floor.now;
    let mut moved = false;
    floor.racking[usize::from(i)].waits_for_room = false;
    let mut k = 0;
    while let Some(&open) = floor.racking[usize::from(i)].open.get(k) {
        let rack = floor.racks.get(open.rack);
        let (filled, class) = (rack.fill > 0, rack.class);
        let last = || !can_add(floor, line, i, class) && pile_of(floor, line, i, class) == 0;
        if !(rack.fill == rack.size || open.due || filled && last()) {
            k += 1;
            continue;
        }
        let to = spec.to_from(usize::from(open.level));
        let has_room = match to {
            RacksTo::Leave => true,
            RacksTo::Lane(l) => lane::has_room(floor, line, l),
            RacksTo::Machine(_) => false,
        };
        if !has_room {
            floor.racking[usize::from(i)].waits_for_room = true;
            k += 1;
            continue;
        }
        floor.racks.get_mut(open.rack).closed = now;
        floor.telling.step(Step::RackSent(open.rack));
        let state = &mut floor.racking[usize::from(i)];
        state.open.remove(k);
        state.places_free[usize::from(open.level)].push(open.place);
        floor.clear(no, open.place);
        tell_open(floor, line, i, usize::from(open.level));
        match to {
            RacksTo::Leave | RacksTo::Machine(_) => floor.rack_clean_and_free(open.rack),
            RacksTo::Lane(l) => lane::put(floor, line, l, open.rack),
        }
        floor.mark_scrapping();
        floor.mark_crew();
        floor.mark_machines();
        moved = true;
    }
    moved
}

/// Pieces of a class that could be racked now besides those already in hand.
#[inline]
pub(super) fn space(floor: &Floor, i: u8, class: u8) -> u32 {
    let state = &floor.racking[usize::from(i)];
    let open: u32 = state
        .open
        .iter()
        .map(|o| floor.racks.get(o.rack))
        .filter(|rack| rack.class == class)
        .map(|rack| u32::from(rack.size - rack.fill))
        .sum();
    open.saturating_sub(state.promised[usize::from(class)])
}

pub(super) fn rackable(floor: &Floor, line: &Line, i: u8, class: u8) -> bool {
    if !line.gates.is_empty() && !gate::lets_hands(floor, line, i) {
        return false;
    }
    if let RacksTo::Machine(m) = line.racking[usize::from(i)].to {
        return machine::accepts(floor, m);
    }
    space(floor, i, class) > 0
        || (!floor.racking[usize::from(i)].places_free
            [line.racking[usize::from(i)].level_of(class)]
        .is_empty()
            && floor
                .racks
                .kind_of(second_pass::fits(line, class, i))
                .is_some())
}
