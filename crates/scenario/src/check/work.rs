//! Work a cover asks, by kind of diner.

use scullery_engine::line::Line;

use super::stages::{is_held_back, is_washed, placed_on};
use crate::plan::Plan;

/// Mean seconds of scrapping for one tray of a kind of diner, at the post that takes longest over it (racking included
/// where it is done with breakdown).
pub(crate) fn tray_work_s(plan: &Plan, kind: usize) -> f64 {
    let pieces = &plan.demand.kinds[kind].pieces;
    if pieces.iter().all(|pieces| *pieces <= 0.0) {
        return 0.0;
    }
    let at = |post: &scullery_engine::line::Scrapping| {
        post.handling_s
            + pieces
                .iter()
                .zip(&post.piece_s)
                .map(|(pieces, seconds)| pieces * seconds)
                .sum::<f64>()
    };
    plan.line.scrapping.iter().map(at).fold(0.0, f64::max)
}

/// Pieces a rack of a class, in the rack that takes it best.
pub(crate) fn pieces_a_rack(line: &Line, class: usize) -> Option<f64> {
    line.classes
        .get(class)
        .and_then(|class| class.fits.first())
        .map(|(_, pieces)| f64::from(*pieces))
}

/// Full racks a cover of a kind of diner asks of the machine; `all`: ware that is held back too.
pub(crate) fn racks_a_cover(plan: &Plan, kind: usize, all: bool) -> f64 {
    let line = &plan.line;
    let pieces = plan.demand.kinds[kind].pieces.iter().enumerate();
    let washed =
        pieces.filter(|(class, _)| is_washed(line, *class) && (all || !is_held_back(line, *class)));
    washed
        .filter(|(class, _)| placed_on(line, *class).is_none())
        .filter_map(|(class, pieces)| pieces_a_rack(line, class).map(|a_rack| pieces / a_rack))
        .sum()
}

/// Seconds of a flight machine's belt that the loose ware of a cover takes; `all`: ware that is held back too.
pub(crate) fn placed_s(plan: &Plan, kind: usize, all: bool) -> f64 {
    let line = &plan.line;
    let pieces = plan.demand.kinds[kind].pieces.iter().enumerate();
    let each = pieces.filter_map(|(class, pieces)| {
        let machine = line.machines.get(placed_on(line, class)?)?;
        let counts = all || !is_held_back(line, class);
        let rate = machine.pieces_per_h(class).filter(|_| counts)?;
        Some(pieces * 3600.0 / rate)
    });
    each.sum()
}

/// Seconds of unloading a cover of a kind of diner asks, in full racks; `all`: ware that is held back too.
pub(crate) fn unload_work_s(plan: &Plan, kind: usize, all: bool) -> f64 {
    let line = &plan.line;
    let pieces = plan.demand.kinds[kind].pieces.iter().enumerate();
    let washed =
        pieces.filter(|(class, _)| is_washed(line, *class) && (all || !is_held_back(line, *class)));
    washed
        .filter_map(|(number, pieces)| {
            let class = line.classes.get(number)?;
            if placed_on(line, number).is_some() {
                return Some(pieces * class.unload_s);
            }
            let a_rack = pieces_a_rack(line, number)?;
            let in_its_rack = if class.stays_in_rack {
                0.0
            } else {
                class.unload_s
            };
            Some(pieces * (in_its_rack + class.unload_rack_s / a_rack))
        })
        .sum()
}

/// Seconds of racking from piles a cover of a kind of diner asks, held back or not.
pub(crate) fn pile_work_s(plan: &Plan, kind: usize) -> f64 {
    let pieces = &plan.demand.kinds[kind].pieces;
    let piles = plan.line.racking.iter().flat_map(|table| &table.piles);
    piles
        .map(|pile| {
            pieces
                .get(usize::from(pile.class.0))
                .copied()
                .unwrap_or(0.0)
                * pile.piece_s
        })
        .sum()
}
