//! Two passes with sorting between: ware that comes out of the machine a first time is tipped out of its racks at the clean
//! end, sorted into other racks at a racking table, and washed a second time; only then is it clean.

use crate::line::floor::Floor;
use crate::line::look_over::GoesBack;
use crate::line::{Line, RackKindId, RacksTo, Way};
use crate::watch::{PlaceId, Step};

/// The second pass of a class that goes through the machine twice.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondPass {
    /// Number of the racking table on whose pile of this class it is tipped out, and whose post sorts it.
    pub at: u8,
    /// Racks it is sorted into there, best first, with pieces per rack.
    pub fits: Vec<(RackKindId, u16)>,
    /// Seconds to take a rack of the first pass off the clean end and tip it out.
    pub take_off_s: f64,
}

/// The racks that take a class at racking table `table`: those of its second pass where it is sorted.
pub(crate) fn fits(line: &Line, class: u8, table: u8) -> &[(RackKindId, u16)] {
    let class = &line.classes[usize::from(class)];
    match &class.second_pass {
        Some(second) if second.at == table => &second.fits,
        _ => &class.fits,
    }
}

/// Whether a class is sorted for its second pass at this table.
pub(crate) fn is_sorted_at(line: &Line, class: u8, table: u8) -> bool {
    let second = &line.classes[usize::from(class)].second_pass;
    second.as_ref().is_some_and(|second| second.at == table)
}

/// The pile on which a class lies between its passes.
fn pile_at(line: &Line, class: u8) -> Option<(u8, usize)> {
    let at = line.classes[usize::from(class)].second_pass.as_ref()?.at;
    let table = line.racking.get(usize::from(at))?;
    let pile = table.piles.iter().position(|pile| pile.class.0 == class)?;
    Some((at, pile))
}

/// The place a rack of this class waits for after its first pass: the pile it is tipped out on.
pub(crate) fn waits_for(floor: &Floor, line: &Line, class: u8) -> Option<PlaceId> {
    let (at, pile) = pile_at(line, class)?;
    Some(floor.n.pile[usize::from(at)][pile])
}

/// Whether the pile has room for any piece: until then a rack of the first pass is not begun.
pub(crate) fn has_room(floor: &Floor, line: &Line, class: u8) -> bool {
    let Some((at, pile)) = pile_at(line, class) else {
        return false;
    };
    let room = line.racking[usize::from(at)].piles[pile].room;
    let lies = crate::line::racking::lies_on(floor, at, pile);
    room.is_none_or(|room| lies < room)
}

/// Tips a rack of the first pass out: its pieces are on their way to the pile, and keep the rack's place until they have
/// found room.
pub(crate) fn tip_out(floor: &mut Floor, line: &Line, i: u8, rack: u32) {
    let class = floor.racks.get(rack).class;
    let Some(second) = &line.classes[usize::from(class)].second_pass else {
        return;
    };
    let contents = std::mem::take(&mut floor.racks.get_mut(rack).contents);
    let tub = &mut floor.clean_ends[usize::from(i)].tub;
    tub.extend(contents.into_iter().map(|(tray, pieces)| GoesBack {
        class,
        to: second.at,
        tray,
        pieces,
        rack: Some(rack),
    }));
    floor.telling.step(Step::RackTipped(rack));
}

/// Whether more of a class may yet come to be sorted at this table, once nothing soiled comes from the diners any more.
pub(crate) fn more_comes(floor: &Floor, line: &Line, table: u8, class: u8) -> bool {
    if !is_sorted_at(line, class, table) {
        return false;
    }
    let elsewhere = |r: usize| r != usize::from(table);
    let mut tables = floor.racking.iter().enumerate();
    let tub = |floor: &Floor| {
        let mut all = floor.clean_ends.iter().flat_map(|end| &end.tub);
        all.any(|it| it.class == class)
    };
    tables.any(|(r, state)| elsewhere(r) && state.holds_class(&floor.racks, class))
        || crate::line::audit::filled_racks(floor).any(|rack| {
            let it = floor.racks.get(rack);
            it.class == class && it.first_pass
        })
        || tub(floor)
}

/// Whether ware that has been through a machine once is on its way back to this lane.
pub(crate) fn comes_back_to(floor: &Floor, line: &Line, lane: u8) -> bool {
    let back = |class: u8| {
        let second = line.classes[usize::from(class)].second_pass.as_ref();
        let table = second.and_then(|second| line.racking.get(usize::from(second.at)));
        table.is_some_and(
            |table| matches!(table.to_of(class), RacksTo::Lane(l) if line.leads_to(l, lane)),
        )
    };
    if !(0..line.classes.len() as u8).any(back) {
        return false;
    }
    let inside = floor.machines.iter().flat_map(|m| m.things());
    let outside = floor.clean_ends.iter().flat_map(|end| end.racks());
    let mut racks = inside.chain(outside).map(|rack| floor.racks.get(rack));
    let mut tubs = floor.clean_ends.iter().flat_map(|end| &end.tub);
    racks.any(|it| it.first_pass && back(it.class)) || tubs.any(|it| back(it.class))
}

impl Line {
    /// What does not fit together about ware that is washed twice.
    pub(crate) fn second_pass_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for (class, it) in self.classes.iter().enumerate() {
            let Some(second) = &it.second_pass else {
                continue;
            };
            let table = self.racking.get(usize::from(second.at));
            let pile = table.and_then(|table| {
                let mut piles = table.piles.iter();
                piles.find(|pile| usize::from(pile.class.0) == class)
            });
            if pile.is_none_or(|pile| pile.room == Some(0)) {
                faults.push(format!("{} finds no pile between its passes", it.name));
            }
            if !table.is_some_and(|table| matches!(table.to_of(class as u8), RacksTo::Lane(_))) {
                faults.push(format!("{} is sorted where no lane begins", it.name));
            }
            let kinds = self.rack_kinds.len();
            let racks = second.fits.iter();
            if second.fits.is_empty()
                || !racks
                    .clone()
                    .all(|(kind, size)| usize::from(kind.0) < kinds && *size > 0)
            {
                faults.push(format!("{} is sorted into no racks", it.name));
            }
            let at_once = self
                .ways_of(class)
                .any(|way| matches!(way, Way::Pieces(to) if self.table_of(to) == Some(second.at)));
            if at_once {
                faults.push(format!("{} is sorted before its first pass", it.name));
            }
            if self.machines.iter().any(|machine| machine.to.is_none()) {
                faults.push(format!(
                    "{} finds no clean end after its first pass",
                    it.name
                ));
            }
        }
        faults
    }
}
