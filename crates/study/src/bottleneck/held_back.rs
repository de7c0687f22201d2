//! Ware that waits by plan: held back at a table, or between two passes of which the first is held back.

use scullery_engine::line::{ClassId, Line, PiecesTo, Way};

/// Whether a class waits by plan on its pile at a table.
pub(super) fn is_held_back(line: &Line, table: u8, class: ClassId) -> bool {
    let held = |at: u8| {
        let mut piles = line.racking[usize::from(at)].piles.iter();
        piles.any(|pile| pile.class == class && !pile.held_back.is_empty())
    };
    let second = line.classes[usize::from(class.0)].second_pass.as_ref();
    let between = second.is_some_and(|it| it.at == table);
    held(table) || between && (0..line.racking.len() as u8).any(held)
}

/// Whether all ware that comes to a table's piles, but for what is washed again, is held back.
pub(super) fn may_wait(line: &Line, table: u8) -> bool {
    // What goes straight into racks is no work of this post.
    let straight = |class: usize| {
        let mut ways = line.ways_of(class);
        ways.any(|way| matches!(way, Way::Pieces(PiecesTo::Racks(at)) if at == table))
    };
    let piles = line.racking[usize::from(table)].piles.iter();
    let classes = piles.map(|pile| usize::from(pile.class.0));
    let mut come = classes
        .filter(|&class| line.comes_to(class, table) && !straight(class))
        .peekable();
    come.peek().is_some() && come.all(|class| is_held_back(line, table, ClassId(class as u8)))
}
