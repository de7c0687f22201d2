//! Ware that waits by plan: held back somewhere on its way.

use scullery_engine::line::{ClassId, Line, PiecesTo, Way};

/// Whether a class is held back somewhere on its way.
pub(super) fn is_held_back(line: &Line, class: ClassId) -> bool {
    let mut piles = line.racking.iter().flat_map(|table| &table.piles);
    piles.any(|pile| pile.class == class && !pile.held_back.is_empty())
}

/// Whether all ware that comes to a table's piles, but for what is washed again, is held back.
pub(super) fn may_wait(line: &Line, table: u8) -> bool {
    let comes = |class: ClassId| {
        let between = line.classes[usize::from(class.0)].second_pass.as_ref();
        let sent = line.ways_of(usize::from(class.0)).any(|way| {
            let on_pile = |to| matches!(to, PiecesTo::Pile(_) | PiecesTo::Stacks(_));
            matches!(way, Way::Pieces(to) if on_pile(to) && line.table_of(to) == Some(table))
        });
        sent || between.is_some_and(|it| it.at == table)
    };
    let piles = line.racking[usize::from(table)].piles.iter();
    let classes = piles.map(|pile| pile.class);
    let mut come = classes.filter(|&class| comes(class)).peekable();
    come.peek().is_some() && come.all(|class| is_held_back(line, class))
}
