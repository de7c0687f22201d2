//! The servery: each cover takes clean ware; what it does not find has run out.

use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::line::floor::Floor;
use crate::line::{ClassId, Line, MOST_CLASSES, clean_end};
use crate::tape::{Diner, Tape};

pub(crate) const SLOTS: u32 = 1;
const SERVED: u32 = 0;

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// Whether anybody is followed from the servery to the drop-off.
    pub(crate) follows: bool,
    pub(crate) stock: [u32; MOST_CLASSES],
    /// Pieces that stand in racks, by class, the rack emptied first at the front.
    racks: Vec<VecDeque<(u32, u32)>>,
    /// Pieces that do not stand in racks.
    loose: [u32; MOST_CLASSES],
    followed: [bool; MOST_CLASSES],
    /// Pieces with diners, by class.
    pub(crate) with_diners: [u32; MOST_CLASSES],
    cursor: usize,
    /// The clean end by whose rule racks emptied here go back: the first by name, so that the order of the plan is no rule.
    back_by: u8,
}

impl State {
    pub(crate) fn racks_here(&self) -> usize {
        self.racks.iter().map(VecDeque::len).sum()
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, tape: &Tape) {
    let state = &mut floor.servery;
    state.racks.resize_with(line.classes.len(), VecDeque::new);
    state.racks.iter_mut().for_each(VecDeque::clear);
    state.stock = [0; MOST_CLASSES];
    state.loose = [0; MOST_CLASSES];
    state.with_diners = [0; MOST_CLASSES];
    state.followed = [false; MOST_CLASSES];
    state.cursor = 0;
    let by_name = (0..line.clean_ends.len()).min_by_key(|&i| &line.clean_ends[i].name);
    state.back_by = by_name.unwrap_or(0) as u8;
    for (class, spec) in line.classes.iter().enumerate() {
        state.followed[class] = spec.par.is_some();
        state.stock[class] = spec.par.unwrap_or(0);
        state.loose[class] = state.stock[class];
        floor
            .telling
            .begin_level(floor.n.stock[class], state.stock[class]);
    }
    state.follows = state.followed.iter().any(|&f| f) || tape.diners().iter().any(|d| d.sits);
    if state.follows {
        next_served(floor, line, tape);
    }
}

fn next_served(floor: &mut Floor, line: &Line, tape: &Tape) {
    let next = tape.served().get(floor.servery.cursor);
    let at = next.map(|&diner| tape.diners()[diner as usize].served.max(line.starts));
    floor.set_or_clear(0, SERVED, Phase::Arrive, at);
}

pub(crate) fn due(floor: &mut Floor, line: &Line, tape: &Tape) {
    let now = floor.now;
    while let Some(&diner) = tape.served().get(floor.servery.cursor) {
        let it = &tape.diners()[diner as usize];
        if it.served > now {
            break;
        }
        floor.servery.cursor += 1;
        if it.begins {
            floor.telling.count(floor.n.count.served, 1);
        }
        if !it.brings_ware() {
            continue;
        }
        if it.sits && it.begins {
            floor.telling.add(floor.n.seated, 1);
        }
        take_ware(floor, line, diner);
    }
    next_served(floor, line, tape);
}

fn take_ware(floor: &mut Floor, line: &Line, diner: u32) {
    for class in 0..line.classes.len() {
        let wanted = u32::from(floor.ledger.pieces[diner as usize][class]);
        if !floor.servery.followed[class] || wanted == 0 {
            continue;
        }
        let finds = wanted.min(floor.servery.stock[class]);
        if finds < wanted {
            floor
                .telling
                .count(floor.n.count.run_out[class], wanted - finds);
            // They are served without it (or on something that does not come back).
            floor.ledger.pieces[diner as usize][class] = finds as u8;
        }
        floor.servery.with_diners[class] += finds;
        floor.servery.stock[class] -= finds;
        let stock = floor.servery.stock[class];
        floor.telling.level(floor.n.stock[class], stock);
        // Racks are emptied first, so that they can go back; loose ware is the reserve.
        let mut left = finds;
        while left > 0
            && let Some((rack, pieces)) = floor.servery.racks[class].front_mut()
        {
            let some = left.min(*pieces);
            *pieces -= some;
            left -= some;
            if *pieces == 0 {
                let rack = *rack;
                floor.servery.racks[class].pop_front();
                let by = floor.servery.back_by;
                clean_end::send_back(floor, line, by, rack);
            }
        }
        floor.servery.loose[class] -= left;
        if line.delivery.is_some() {
            floor.mark_crew();
        }
    }
}

/// Clean pieces come to the servery, loose or in a rack.
pub(crate) fn comes_back(floor: &mut Floor, class: ClassId, pieces: u32, rack: Option<u32>) {
    let c = usize::from(class.0);
    if !floor.servery.followed[c] || pieces == 0 {
        return;
    }
    floor.servery.stock[c] += pieces;
    match rack {
        Some(rack) => floor.servery.racks[c].push_back((rack, pieces)),
        None => floor.servery.loose[c] += pieces,
    }
    let stock = floor.servery.stock[c];
    floor.telling.level(floor.n.stock[c], stock);
}

/// A diner comes to the drop-off, or the table is cleared by staff. Whether there is anything on the tray.
pub(crate) fn comes_to_an_end(floor: &mut Floor, diner: u32, it: &Diner) -> bool {
    if floor.servery.follows {
        if it.sits && it.ends {
            floor.telling.add(floor.n.seated, -1);
        }
    } else if it.begins {
        floor.telling.count(floor.n.count.served, 1);
    }
    brings_back(floor, diner);
    floor.ledger.comes(diner)
}

/// A diner comes to the drop-off with what they took.
fn brings_back(floor: &mut Floor, diner: u32) {
    for (class, &pieces) in floor.ledger.pieces[diner as usize].iter().enumerate() {
        if floor.servery.followed[class] {
            floor.servery.with_diners[class] -= u32::from(pieces);
        }
    }
}
