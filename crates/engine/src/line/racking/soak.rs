//! Soaking: ware on a pile may be racked when it has lain there so long.

use crate::calendar::Phase;
use crate::line::Line;
use crate::line::floor::Floor;

/// The slot of a pile's soaking, among those of its table.
fn slot(line: &Line, i: u8, p: usize) -> u32 {
    let spec = &line.racking[usize::from(i)];
    spec.all_open_racks() + (spec.piles.len() + p) as u32
}

/// Pieces have come to lie on a pile, behind `before` of which some or none still soak.
#[inline]
pub(super) fn begins(floor: &mut Floor, line: &Line, i: u8, p: usize, before: u32) {
    let soak = line.racking[usize::from(i)].piles[p].soak;
    // While something soaks the slot is set for it, and what comes later is ready later.
    if !soak.is_none() && floor.racking[usize::from(i)].piles[p].soaked == before {
        let no = floor.racking_no(i);
        let at = floor.now + soak;
        floor.set(no, slot(line, i, p), Phase::End, at);
    }
}

/// What has soaked long enough on a pile is ready.
pub(super) fn ends(floor: &mut Floor, line: &Line, i: u8, p: usize) {
    let now = floor.now;
    let soak = line.racking[usize::from(i)].piles[p].soak;
    let pile = &mut floor.racking[usize::from(i)].piles[p];
    pile.soaked = 0;
    let mut next = None;
    for &(_, pieces, since) in &pile.parts {
        if since + soak > now {
            next = Some(since + soak);
            break;
        }
        pile.soaked += u32::from(pieces);
    }
    let no = floor.racking_no(i);
    floor.set_or_clear(no, slot(line, i, p), Phase::End, next);
    floor.mark_crew();
}
