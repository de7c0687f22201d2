//! Work a cover asks, by kind of diner.

use scullery_engine::line::{AidInto, Line, TraysFrom};

use super::stages::{is_held_back, is_held_between, is_washed, placed_on};
use crate::plan::Plan;

/// Mean seconds of scrapping for one tray of a kind of diner, at the post that takes longest over it (racking included
/// where it is done with breakdown); in series, at all the posts a tray comes to.
pub(crate) fn tray_work_s(plan: &Plan, kind: usize) -> f64 {
    let table = at_table(plan, kind);
    let posts = 0..plan.line.scrapping.len();
    posts
        .map(|post| {
            let along = in_series(&plan.line, post, &table.pieces);
            let whole: f64 = along.iter().map(|(_, s)| s).sum();
            let no_tray = along.iter().filter(|_| table.no_tray);
            let tray_s: f64 = no_tray
                .map(|(post, _)| plan.line.scrapping[*post].handling_s)
                .sum();
            (whole - tray_s - table.saves_s).max(0.0)
        })
        .fold(0.0, f64::max)
}

/// What comes to the table of a kind of diner when nothing at the drop-off is ever full.
pub(crate) struct AtTable {
    /// Mean pieces by class.
    pub(crate) pieces: Vec<f64>,
    /// The tray itself does not come.
    no_tray: bool,
    /// Seconds of work less on a tray.
    saves_s: f64,
    /// Seconds more that a diner of the kind stands at the drop-off.
    pub(crate) adds_s: f64,
    /// What was put away: class, receiver, mean pieces.
    pub(crate) put: Vec<(usize, u8, f64)>,
    /// What was thrown away: kind of waste, store.
    pub(crate) thrown: Vec<(u8, u8)>,
}

/// What comes to the table of a kind of diner, with what they put away at the drop-off taken off.
pub(crate) fn at_table(plan: &Plan, kind: usize) -> AtTable {
    let kind = &plan.demand.kinds[kind];
    let mut table = AtTable {
        pieces: kind.pieces.clone(),
        no_tray: false,
        saves_s: 0.0,
        adds_s: 0.0,
        put: Vec::new(),
        thrown: Vec::new(),
    };
    let drop_off = plan.line.drop_offs.get(usize::from(kind.drop_off));
    let drop_off = drop_off.filter(|_| kind.carts.is_none());
    for aid in drop_off.iter().flat_map(|it| &it.aids) {
        let put: f64 = match aid.into {
            AidInto::Waste { kind, store } => {
                table.thrown.push((kind, store));
                1.0
            }
            AidInto::Receiver(receiver) => {
                let classes = table.pieces.iter_mut().zip(&aid.takes).enumerate();
                let taken = classes.filter(|(_, (_, takes))| **takes);
                let put =
                    taken.map(|(class, (pieces, _))| (class, receiver, std::mem::take(pieces)));
                let before = table.put.len();
                table.put.extend(put);
                table.put[before..]
                    .iter()
                    .map(|(_, _, pieces)| pieces)
                    .sum()
            }
        };
        // A fraction of a piece is a diner now and then.
        let diners = put.min(1.0);
        table.no_tray |= aid.takes_tray && put > 0.0;
        table.saves_s += diners * aid.saves_s;
        table.adds_s += diners * aid.adds_s + put * aid.adds_piece_s;
    }
    table
}

/// The posts a tray with these mean pieces comes to from this one on, each with its seconds of work. Where several take
/// from a table, the one that takes longest.
pub(crate) fn in_series(line: &Line, post: usize, pieces: &[f64]) -> Vec<(usize, f64)> {
    let on_it = |pieces: &[f64]| pieces.iter().any(|pieces| *pieces > 0.0);
    if !on_it(pieces) {
        return Vec::new();
    }
    let spec = &line.scrapping[post];
    let off = |class: usize| spec.takes_off(class);
    let seconds = pieces.iter().zip(&spec.piece_s).enumerate();
    let sorting: f64 = seconds
        .filter(|(class, _)| off(*class))
        .map(|(_, (pieces, seconds))| pieces * seconds)
        .sum();
    let mut along = vec![(post, spec.handling_s + sorting)];
    if let Some(on) = &spec.passes_on {
        let left = pieces.iter().enumerate();
        let left: Vec<f64> = left
            .map(|(class, pieces)| if off(class) { 0.0 } else { *pieces })
            .collect();
        let takes = |next: &usize| {
            line.scrapping[*next]
                .from
                .contains(&TraysFrom::Table(on.to))
        };
        let sum = |along: &Vec<(usize, f64)>| along.iter().map(|(_, s)| s).sum::<f64>();
        let next = (0..line.scrapping.len()).filter(takes);
        let longest = next
            .map(|next| in_series(line, next, &left))
            .max_by(|a, b| sum(a).total_cmp(&sum(b)));
        along.extend(longest.unwrap_or_default());
    }
    along
}

/// Pieces a rack of a class, in the rack that takes it best.
pub(crate) fn pieces_a_rack(line: &Line, class: usize) -> Option<f64> {
    line.classes
        .get(class)
        .and_then(|class| class.fits.first())
        .map(|(_, pieces)| f64::from(*pieces))
}

/// Pieces a rack of the second pass of a class, in the rack that takes it best; `None`: washed once.
pub(crate) fn pieces_a_second_rack(line: &Line, class: usize) -> Option<f64> {
    let second = line.classes.get(class)?.second_pass.as_ref()?;
    second.fits.first().map(|(_, pieces)| f64::from(*pieces))
}

/// Full racks, of both passes where there are two, that a cover of a kind of diner asks of the machine; `all`: ware that is held back too.
pub(crate) fn racks_a_cover(plan: &Plan, kind: usize, all: bool) -> f64 {
    let line = &plan.line;
    let pieces = plan.demand.kinds[kind].pieces.iter().enumerate();
    let washed =
        pieces.filter(|(class, _)| is_washed(line, *class) && (all || !is_held_back(line, *class)));
    washed
        .filter(|(class, _)| placed_on(line, *class).is_none())
        .filter_map(|(class, pieces)| {
            let first = pieces / pieces_a_rack(line, class)?;
            let again = pieces_a_second_rack(line, class).map_or(0.0, |a_rack| pieces / a_rack);
            let counts = all || !is_held_between(line, class);
            Some(first + if counts { again } else { 0.0 })
        })
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
            // After a first pass a rack is tipped out; what is unloaded is one of the second.
            let taken_off = class
                .second_pass
                .as_ref()
                .map_or(0.0, |second| second.take_off_s);
            let last_rack = pieces_a_second_rack(line, number).unwrap_or(a_rack);
            let last = if all || !is_held_between(line, number) {
                1.0
            } else {
                0.0
            };
            let in_its_rack = if class.stays_in_rack {
                0.0
            } else {
                class.unload_s
            };
            let unloaded = in_its_rack + class.unload_rack_s / last_rack;
            Some(pieces * (taken_off / a_rack + last * unloaded))
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
