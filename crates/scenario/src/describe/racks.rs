//! Racking, lanes, machines and clean ends, in sentences.

use scullery_engine::line::{Back, LaneKind, Line, Racking, RacksTo, Release};

use super::words::{clock, length, listed, people, span};
use crate::compile::lane_room;
use crate::defaults::rounded;
use crate::plan::Plan;

pub(crate) fn racks(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    let racks: Vec<String> = line
        .rack_kinds
        .iter()
        .map(|kind| format!("{} {}", kind.count, kind.name))
        .collect();
    if !racks.is_empty() {
        told.push(format!("There are {} racks.", listed(&racks)));
    }
    for (number, table) in line.racking.iter().enumerate() {
        let limit = table
            .limit
            .map_or("waits until it is full".to_owned(), |limit| {
                format!("is sent after {}", span(limit))
            });
        // Its pieces go straight onto a machine's belt: told there.
        if matches!(table.to, RacksTo::Machine(_)) {
            continue;
        }
        let to = where_to(line, table.to);
        told.push(format!(
            "Racking {}: {} open at once; a full rack {to}, a part-filled one {limit}.",
            table.name,
            racks_open(table.open_racks)
        ));
        levels(plan, number, told);
        for pile in &table.piles {
            let lane = match table.to_of(pile.class.0) {
                RacksTo::Lane(number) => lane_words(line, number),
                RacksTo::Leave | RacksTo::Machine(_) => "the lane".to_owned(),
            };
            let until: Vec<String> = pile
                .held_back
                .iter()
                .map(|release| match release {
                    Release::From(at) => format!("until {}", clock(*at)),
                    Release::LaneBelow(racks) => {
                        format!("until {lane} holds fewer than {}", racks_open(*racks))
                    }
                    Release::LaneBelowFrom(racks, at) => format!(
                        "until {lane} holds fewer than {}, from {} on",
                        racks_open(*racks),
                        clock(*at)
                    ),
                    Release::RushOver => "until the rush is over".to_owned(),
                })
                .collect();
            let held = if until.is_empty() {
                String::new()
            } else {
                format!(", held back {}", until.join(" or "))
            };
            let room = pile
                .room
                .map_or(String::new(), |room| format!(" (room for {room})"));
            let soak = match pile.soak.is_none() {
                true => String::new(),
                false => format!(", at least {} until it has soaked", span(pile.soak)),
            };
            let class = line
                .classes
                .get(usize::from(pile.class.0))
                .map_or("?", |class| &class.name);
            let after = match pile_is_between(line, table, pile.class.0) {
                true => " after its first pass",
                false => "",
            };
            told.push(format!(
                "At racking {} {class} waits on a pile{after}{room}{soak}{held}.",
                table.name
            ));
        }
    }
    for (number, lane) in line.lanes.iter().enumerate() {
        let incline = plan.facts.inclines.get(number).copied().flatten();
        let what = match &lane.kind {
            LaneKind::Rollers { length_mm, .. } if let Some(incline) = incline => format!(
                "inclined rollers without a drive, {} long with {} of fall",
                length(plan, *length_mm),
                length(plan, (incline.fall_m * 1000.0).round() as u32)
            ),
            LaneKind::Rollers { length_mm, .. } => {
                format!("rollers, {} long", length(plan, *length_mm))
            }
            LaneKind::Shelf { .. } => "a shelf".to_owned(),
        };
        let room = lane_room(lane).map_or("as many racks as come".to_owned(), |room| {
            format!("{room} racks")
        });
        let on = lane
            .hands_to
            .and_then(|next| line.lanes.get(usize::from(next)))
            .map_or(String::new(), |next| {
                format!(
                    ", and hands them to lane {} one by one as there is room",
                    next.name
                )
            });
        told.push(format!("Lane {}: {what}; it holds {room}{on}.", lane.name));
    }
}

/// Where a full rack goes, as the end of a sentence.
fn where_to(line: &Line, to: RacksTo) -> String {
    match to {
        RacksTo::Lane(number) => format!("goes to {}", lane_words(line, number)),
        RacksTo::Leave | RacksTo::Machine(_) => "leaves the line".to_owned(),
    }
}

fn lane_words(line: &Line, number: u8) -> String {
    let lane = line.lanes.get(usize::from(number));
    format!("lane {}", lane.map_or("?", |lane| &lane.name))
}

fn racks_open(count: u32) -> String {
    match count {
        1 => "1 rack".to_owned(),
        many => format!("{many} racks"),
    }
}

/// The levels above a racking table.
fn levels(plan: &Plan, table: usize, told: &mut Vec<String>) {
    let line = &plan.line;
    let reaches = plan.facts.reach_s.get(table).into_iter().flatten();
    let Some(it) = line.racking.get(table) else {
        return;
    };
    for (level, reach) in it.levels.iter().zip(reaches) {
        let classes = level.classes.iter();
        let ware: Vec<String> = classes
            .filter_map(|class| line.classes.get(usize::from(class.0)))
            .map(|class| class.name.clone())
            .collect();
        let reach = match *reach > 0.0 {
            true => format!(
                "; the longer reach adds {} s to each piece put there",
                rounded(*reach)
            ),
            false => String::new(),
        };
        told.push(format!(
            "Above racking {}, level {}: {} open at once, for {} only; a full one {}{reach}.",
            it.name,
            level.name,
            racks_open(level.open_racks),
            listed(&ware),
            where_to(line, level.to)
        ));
    }
}

/// Whether this pile lies between two passes.
fn pile_is_between(line: &Line, table: &Racking, class: u8) -> bool {
    let class = line.classes.get(usize::from(class));
    let second = class.and_then(|class| class.second_pass.as_ref());
    let at = second.and_then(|second| line.racking.get(usize::from(second.at)));
    at.is_some_and(|at| std::ptr::eq(at, table))
}

pub(crate) fn washing(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for end in &line.clean_ends {
        let places = end
            .places
            .map_or("as many racks as come".to_owned(), |places| {
                format!("{places} racks")
            });
        let loose = end.pieces.map_or(String::new(), |pieces| {
            format!(" and {pieces} loose pieces, then the machine's belt stands")
        });
        let by = if end.by_hand {
            format!("unloaded by hand, room for {}", people(end.workers))
        } else {
            "empty as soon as dry".to_owned()
        };
        let back = match end.back {
            Back::After(after) if after.is_none() => "are back at once".to_owned(),
            Back::After(after) => format!("are back after {}", span(after)),
            Back::Trips { of, lasts } => format!("go back {of} at a time in {}", span(lasts)),
        };
        told.push(format!(
            "Clean end {} holds {places}{loose}, {by}; empty racks {back}.",
            end.name
        ));
    }
    for class in &line.classes {
        let percent = |share: f64| format!("{} %", rounded(share * 100.0));
        if let Some(rewash) = class.rewash {
            let table = line.racking.get(usize::from(rewash.to));
            told.push(format!(
                "{} of {} comes out still soiled and goes back to its pile at {}.",
                percent(rewash.share),
                class.name,
                table.map_or("?", |it| &it.name)
            ));
        }
        if class.broken > 0.0 {
            told.push(format!(
                "{} of {} is found broken each time it is washed; the stock loses it.",
                percent(class.broken),
                class.name
            ));
        }
    }
    for class in &line.classes {
        let Some(second) = &class.second_pass else {
            continue;
        };
        let into: Vec<String> = second
            .fits
            .iter()
            .filter_map(|(kind, pieces)| {
                let kind = line.rack_kinds.get(usize::from(kind.0))?;
                Some(format!("{} racks of {pieces}", kind.name))
            })
            .collect();
        let table = line.racking.get(usize::from(second.at));
        told.push(format!(
            "The {} goes through the machine twice: after the first pass a rack is tipped out ({} s), its pieces sorted at {} into {}, and after the second it is clean.",
            class.name,
            rounded(second.take_off_s),
            table.map_or("?", |it| &it.name),
            into.join(" or ")
        ));
    }
    if let Some(carts) = &line.delivery {
        told.push(format!(
            "A runner takes carts of {} pieces to the servery, {} there and back; there are {} carts.",
            carts.cart_pieces,
            span(carts.trip),
            carts.carts
        ));
    }
}
