//! Belts that carry ware in stacks.

use scullery_engine::line::{Belt, Racking, StackBelt};

use super::belts::{facts, rule};
use super::checker::{Checker, mm};
use super::names::Names;
use super::trays::{refuse_running_again, speeds, stops};
use crate::file::{ScenarioFile, StacksFile};

/// Belts for stacks, in order of name.
pub(crate) fn stack_belts(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    racking: &[Racking],
) -> Vec<StackBelt> {
    file.stacks
        .iter()
        .map(|(name, written)| stack_belt(check, name, written, names, racking))
        .collect()
}

fn stack_belt(
    check: &mut Checker<'_>,
    name: &str,
    written: &StacksFile,
    names: &Names,
    racking: &[Racking],
) -> StackBelt {
    let path = format!("stacks.{name}");
    let key = format!("{path}.to");
    let to = check.find(&names.racking, &written.to, &key, "racking table");
    let mut pieces = vec![0; names.ware.len()];
    for (class, &many) in &written.pieces {
        let path = format!("{path}.pieces.{class}");
        let Some(number) = check.find(&names.ware, class, &path, "ware") else {
            continue;
        };
        pieces[number] = many;
        if let Some(table) = to.and_then(|to| racking.get(to)) {
            has_pile(check, (&path, class, number), many, table);
        }
    }
    let length_m = facts(written.length_m, &written.curves, None).way_m();
    let lengths = (length_m, written.spacing_m);
    let rule = rule(check, (&path, name), "stacks", lengths, &written.ends);
    refuse_running_again(check, &path, &written.stops, "a belt");
    StackBelt {
        belt: Belt {
            name: name.to_owned(),
            length_mm: mm(length_m).max(1),
            spacing_mm: mm(written.spacing_m).max(1),
            speed: speeds(
                check,
                &path,
                written.speed_m_per_min,
                &written.speed_by_clock,
            ),
            rule,
            stops: stops(check, &path, &written.stops),
        },
        pieces,
        to: to.unwrap_or(0) as u8,
    }
}

/// Complains where the table at the end has no pile of a class, or one on which no stack has room.
fn has_pile(
    check: &mut Checker<'_>,
    (path, class, number): (&str, &str, usize),
    many: u16,
    table: &Racking,
) {
    let mut piles = table.piles.iter();
    let pile = piles.find(|pile| usize::from(pile.class.0) == number);
    match pile.map(|pile| pile.room) {
        None => {
            let message = format!("\"{}\" has no pile of \"{class}\"", table.name);
            let help = format!("add a `pile` with `ware = \"{class}\"` to it");
            check.fault("no-such-pile", path, message, help);
        }
        Some(Some(room)) if room > 0 && room < u32::from(many) => {
            let message = format!(
                "a stack of {many} never has room on the pile of \"{class}\" at \"{}\", which holds {room}",
                table.name
            );
            let help =
                "let stacks be lower, the pile hold more, or 0: then they are worked off the belt";
            check.fault("too-large", path, message, help);
        }
        _ => {}
    }
}
