//! Drop-offs, belts, tables and scrapping, in sentences.

use scullery_engine::line::{Closing, PiecesTo, RacksTo, TraysFrom, TraysTo};
use scullery_engine::time::SimTime;

use super::words::{clock, counted, length, listed, people, speed};
use crate::defaults::rounded;
use crate::plan::Plan;

/// Where pieces go after scrapping, as it is told.
#[derive(Clone, Copy, PartialEq)]
enum Ways {
    Racks,
    Piles,
    LoadEnd,
    Receivers,
    Stacks,
}

pub(crate) fn drop_off(plan: &Plan, number: u8) -> &str {
    plan.line
        .drop_offs
        .get(usize::from(number))
        .map_or("?", |drop_off| &drop_off.name)
}

pub(crate) fn way(plan: &Plan, to: TraysTo) -> String {
    match to {
        TraysTo::Belt(number) => format!(
            "belt {}",
            plan.line
                .belts
                .get(usize::from(number))
                .map_or("?", |belt| &belt.name)
        ),
        TraysTo::Accumulator(number) => format!(
            "accumulator {}",
            plan.line
                .accumulators
                .get(usize::from(number))
                .map_or("?", |it| &it.name)
        ),
        TraysTo::Table(number) => {
            format!(
                "table {}",
                plan.line
                    .tables
                    .get(usize::from(number))
                    .map_or("?", |table| &table.name)
            )
        }
    }
}

/// Speeds by the clock.
pub(super) fn speeds(plan: &Plan, table: &[(SimTime, u32)]) -> String {
    table
        .iter()
        .map(|(from, mm_min)| format!("{} from {}", speed(plan, *mm_min), clock(*from)))
        .collect::<Vec<_>>()
        .join(", ")
}

pub(crate) fn trays(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for drop_off in &line.drop_offs {
        let closes = match drop_off.closes {
            Closing::At(at) => format!("closes at {} (later trays go on a late cart)", clock(at)),
            Closing::AfterLast => "closes after the last diner".to_owned(),
            Closing::Never => "does not close".to_owned(),
        };
        let opens = drop_off
            .opens
            .map_or(String::new(), |at| format!("opens at {}, ", clock(at)));
        told.push(format!(
            "Drop-off {}: {}, {} s to put a tray down on {}; it {opens}{closes}.",
            drop_off.name,
            if drop_off.positions_mm.len() == 1 {
                "1 position".to_owned()
            } else {
                format!("{} positions side by side", drop_off.positions_mm.len())
            },
            rounded(drop_off.put_down_s.mean()),
            way(plan, drop_off.to)
        ));
        super::receivers::diners_do(plan, drop_off, told);
    }
    super::belts::belts(plan, told);
    for it in &line.accumulators {
        told.push(format!(
            "Accumulator {}: {} of {} on a loop of {}, so it holds {} trays; {}; it waits for nobody, and what is not taken goes round.",
            it.name,
            counted(it.carriers, "carrier"),
            counted(it.tiers, "tier"),
            length(plan, it.loop_mm),
            it.places(),
            speeds(plan, &it.speed),
        ));
    }
    for table in &line.tables {
        let room = table
            .room
            .map_or("as many trays as come".to_owned(), |room| {
                format!("{room} trays")
            });
        told.push(format!("Table {} holds {room}.", table.name));
    }
    super::carts::carts(plan, told);
    super::receivers::receivers(plan, told);
    for post in &line.scrapping {
        let from: Vec<String> = post
            .from
            .iter()
            .map(|from| match *from {
                TraysFrom::BeltEnd(belt) => {
                    format!("the end of {}", way(plan, TraysTo::Belt(belt)))
                }
                TraysFrom::BeltAt { belt, at_mm, .. } => {
                    format!(
                        "{} at {}",
                        way(plan, TraysTo::Belt(belt)),
                        length(plan, at_mm)
                    )
                }
                TraysFrom::Accumulator { accumulator, reach } => format!(
                    "{} ({} from its mark, reaching {} on each side)",
                    way(plan, TraysTo::Accumulator(accumulator)),
                    length(plan, reach.at_mm),
                    length(plan, reach.each_side_mm)
                ),
                TraysFrom::Table(table) => way(plan, TraysTo::Table(table)),
                TraysFrom::Carts(number) => line
                    .carts
                    .get(usize::from(number))
                    .map_or("?".to_owned(), |carts| format!("carts {}", carts.name)),
                TraysFrom::Overflow(number) => {
                    format!("trays left aside at {}", drop_off(plan, number))
                }
            })
            .collect();
        told.push(format!(
            "Scrapping {}: room for {}, taking from {}.",
            post.name,
            people(post.places),
            listed(&from)
        ));
        if let Some(on) = &post.passes_on {
            let classes = line.classes.iter().zip(&on.takes_off);
            let off: Vec<String> = classes
                .filter(|(_, takes)| **takes)
                .map(|(class, _)| class.name.clone())
                .collect();
            let takes = match off.is_empty() {
                true => "handles the tray".to_owned(),
                false => format!("takes off {}", listed(&off)),
            };
            told.push(format!(
                "Scrapping {} {takes} and passes the tray on over {}; a tray counts as cleared when nothing is left on it.",
                post.name,
                way(plan, TraysTo::Table(on.to))
            ));
        }
        let way = |route: &PiecesTo| match *route {
            PiecesTo::Racks(_) => Some(Ways::Racks),
            PiecesTo::Pile(at) => {
                let load_end = line
                    .racking
                    .get(usize::from(at))
                    .is_some_and(|at| matches!(at.to, RacksTo::Machine(_)));
                Some(if load_end { Ways::LoadEnd } else { Ways::Piles })
            }
            PiecesTo::Receiver(_) => Some(Ways::Receivers),
            PiecesTo::Stacks(_) => Some(Ways::Stacks),
            PiecesTo::Leave => None,
        };
        for (these, words) in [
            (Ways::Racks, "straight into racks"),
            (Ways::Piles, "onto piles to be racked later"),
            (Ways::LoadEnd, "onto piles at the load end"),
            (Ways::Receivers, "into receivers that are changed when full"),
            (Ways::Stacks, "in stacks on a belt"),
        ] {
            let classes: Vec<String> = line
                .classes
                .iter()
                .zip(&post.routes)
                .filter(|(_, route)| way(route) == Some(these))
                .map(|(class, _)| class.name.clone())
                .collect();
            if !classes.is_empty() {
                told.push(format!(
                    "From scrapping {} {} {} {words}.",
                    post.name,
                    listed(&classes),
                    if classes.len() == 1 { "goes" } else { "go" }
                ));
            }
        }
    }
    super::receivers::waste(plan, told);
    super::belts::stacks(plan, told);
}
