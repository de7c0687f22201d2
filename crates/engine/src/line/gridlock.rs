//! Gridlock: something is inside, and no pending end, timer, repair, opening, shift or rule can ever free it.
//!
//! Looked for when nothing that moves ware is pending, and at each new block that waits for an empty rack.

use crate::calendar::Key;
use crate::line::floor::Floor;
use crate::line::{Line, PiecesTo, crew};
use crate::words::{clock_words, named, spoken};

/// Whether it is worth looking: nothing is pending, or only the clock of the crew; or somebody waits for a rack.
#[inline]
pub(crate) fn possible(floor: &mut Floor, next: Key) -> bool {
    std::mem::take(&mut floor.wants_racks)
        || next == Key::NEVER
        || !floor.owners[next.slot() as usize].frees
}

/// One sentence when the line is locked for good.
pub(crate) fn find(floor: &Floor, line: &Line) -> Option<String> {
    if let Some(sentence) = waits_for_racks(floor, line) {
        return Some(sentence);
    }
    if floor.ledger.pieces_inside() == 0 && floor.ledger.trays_inside() == 0 {
        return None;
    }
    let mut owners = (0..).zip(&floor.owners);
    let pending = owners.any(|(slot, owner)| owner.frees && floor.calendar.when(slot).is_some());
    if pending || floor.crew.somebody_comes(line) {
        return None;
    }
    let held_up = floor
        .drop_offs
        .iter()
        .any(|d| d.is_held_up() || d.waits_for_receiver())
        || floor.scrapping.iter().any(|s| !s.held.is_empty())
        || floor.racking.iter().any(|r| r.has_held())
        || floor.clean_ends.iter().any(|c| c.has_held());
    // With a stated end, ware that merely waits for somebody is an ordinary result.
    // So is what is left when everybody has gone home.
    let somebody_here = floor.now < floor.crew.last_shift_ends || line.crew.is_empty();
    (line.ends.is_none() || held_up && somebody_here).then(|| left_over(floor, line))
}

/// Pieces in hand wait for an empty rack; every rack they fit stands open for other ware; nobody is left to bring any.
fn waits_for_racks(floor: &Floor, line: &Line) -> Option<String> {
    for (i, state) in floor.scrapping.iter().enumerate() {
        for held in &state.held {
            let Some(class) = (0..line.classes.len()).find(|&c| held.left[c] > 0) else {
                continue;
            };
            let PiecesTo::Racks(r) = line.scrapping[i].routes[class] else {
                continue;
            };
            let fits = &line.classes[class].fits;
            let all_stand_open = fits.iter().all(|(kind, _)| {
                let open: u32 = floor
                    .racking
                    .iter()
                    .map(|it| it.unfilled_of_kind(&floor.racks, *kind))
                    .sum();
                open == line.rack_kinds[usize::from(kind.0)].count
            });
            let timed = line.racking.iter().any(|it| it.limit.is_some());
            let nobody_left = floor.crew.all_hold(line, |post| match post {
                crate::line::Post::Scrapping(_) => true,
                crate::line::Post::Racking(other) => other == r,
                _ => false,
            });
            if all_stand_open && !timed && nobody_left && !floor.rush_over {
                return Some(format!(
                    "since {}: {} holds pieces of {} and waits for an empty rack; every rack they fit stands open, \
                     part-filled with other ware, and everybody who could fill or clear one is held up too",
                    clock_words(held.since),
                    named("scrapping", &spoken(&line.scrapping[i].name)),
                    spoken(&line.classes[class].name)
                ));
            }
        }
    }
    None
}

/// One sentence about what is left inside.
pub(crate) fn left_over(floor: &Floor, line: &Line) -> String {
    let places = crate::line::audit::unfinished(floor, line).join(", ");
    let why = crew::held_up(floor, line);
    let nobody = if floor.now >= floor.crew.last_shift_ends && !line.crew.is_empty() {
        "; nobody is on shift any more"
    } else {
        ""
    };
    let why = why.map(|why| format!("; {why}")).unwrap_or_default();
    format!(
        "since {}: nothing can move any more: {places}{why}{nobody}",
        clock_words(floor.now)
    )
}
