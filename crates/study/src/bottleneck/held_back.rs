//! Ware that waits by plan: held back somewhere on its way.

use scullery_engine::line::{ClassId, Line, PiecesTo, Way};

use super::racks_back::comes_to;

/// Whether a class is held back somewhere on its way.
pub(super) fn is_held_back(line: &Line, class: ClassId) -> bool {
    let mut piles = line.racking.iter().flat_map(|table| &table.piles);
    piles.any(|pile| pile.class == class && !pile.held_back.is_empty())
}

/// Whether all ware that comes to a table's piles, but for what is washed again, is held back.
pub(super) fn may_wait(line: &Line, table: u8) -> bool {
    // What goes straight into racks is no work of this post.
    let straight = |class: ClassId| {
        let mut ways = line.ways_of(usize::from(class.0));
        ways.any(|way| matches!(way, Way::Pieces(PiecesTo::Racks(at)) if at == table))
    };
    let comes = |class: ClassId| comes_to(line, class, table) && !straight(class);
    let piles = line.racking[usize::from(table)].piles.iter();
    let classes = piles.map(|pile| pile.class);
    let mut come = classes.filter(|&class| comes(class)).peekable();
    come.peek().is_some() && come.all(|class| is_held_back(line, class))
}
