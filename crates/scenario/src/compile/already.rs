//! What is already there when the run begins, and whether it fits.

use scullery_engine::demand::{Demand, LoadWhen, There};
use scullery_engine::dist::Dist;
use scullery_engine::line::{
    Already, ClassId, Line, PileThere, RackAt, RackThere, ReceiverThere, StackThere, StoreKind,
};
use scullery_engine::time::Span;

use super::checker::Checker;
use super::names::Names;
use crate::describe::words;
use crate::file::ScenarioFile;

/// Racks, piles, clean stock and hot machines.
pub(crate) fn already(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Already {
    let written = &file.already_there;
    let mut already = Already::default();
    for (index, racks) in written.racks.iter().enumerate() {
        let path = format!("already_there.racks.{index}");
        let class = check.find(&names.ware, &racks.ware, &format!("{path}.ware"), "ware");
        let at = rack_at(check, &racks.at, &format!("{path}.at"), names);
        let (Some(class), Some(at)) = (class, at) else {
            continue;
        };
        let full = file.ware[class].fits.first().map(|fit| fit.pieces);
        let Some(pieces) = racks.pieces.or(full) else {
            let message = format!("no rack takes \"{}\"", racks.ware);
            check.fault("no-rack-takes", &format!("{path}.ware"), message, "");
            continue;
        };
        let rack = RackThere {
            class: ClassId(class as u8),
            pieces,
            at,
        };
        let count = racks.count.unwrap_or(1) as usize;
        already.racks.extend(std::iter::repeat_n(rack, count));
    }
    for (index, pile) in written.piles.iter().enumerate() {
        let path = format!("already_there.piles.{index}");
        let class = check.find(&names.ware, &pile.ware, &format!("{path}.ware"), "ware");
        let at = rack_at(check, &pile.at, &format!("{path}.at"), names);
        match (class, at) {
            (Some(class), Some(RackAt::Racking(racking))) => already.piles.push(PileThere {
                racking,
                class: ClassId(class as u8),
                pieces: pile.pieces,
            }),
            (_, Some(_)) => {
                let message = format!(
                    "ware lies on piles at racking tables, found \"{}\"",
                    pile.at
                );
                let help = "write `racking.NAME`";
                check.fault("unknown-name", &format!("{path}.at"), message, help);
            }
            _ => {}
        }
    }
    stacks(check, file, names, &mut already);
    for (index, it) in written.receivers.iter().enumerate() {
        let path = format!("already_there.receivers.{index}");
        let at = format!("{path}.receiver");
        let receiver = check.find(&names.receivers, &it.receiver, &at, "receiver");
        let class = check.find(&names.ware, &it.ware, &format!("{path}.ware"), "ware");
        if let (Some(receiver), Some(class)) = (receiver, class) {
            already.receivers.push(ReceiverThere {
                receiver: receiver as u8,
                class: ClassId(class as u8),
                pieces: it.pieces,
            });
        }
    }
    for (index, it) in written.waste.iter().enumerate() {
        let path = format!("already_there.waste.{index}.into");
        let store = check.find(&names.waste_stores, &it.into, &path, "disposer or bin");
        let grams = (it.weight_kg * 1000.0).round().max(1.0) as u32;
        already
            .waste
            .extend(store.map(|store| (store as u8, grams)));
    }
    already.clean = vec![None; names.ware.len()];
    for (class, pieces) in &written.clean {
        let path = format!("already_there.clean.{class}");
        let Some(class) = check.find(&names.ware, class, &path, "ware") else {
            continue;
        };
        if file.ware[class].par.is_none() {
            let message = format!("the stock of \"{}\" is not followed", file.ware[class].name);
            check.fault("no-par", &path, message, "give the ware a `par`");
        }
        already.clean[class] = Some(*pieces);
    }
    for (class, pieces) in &written.on_clean_carts {
        let path = format!("already_there.on_clean_carts.{class}");
        let Some(number) = check.find(&names.ware, class, &path, "ware") else {
            continue;
        };
        if file.delivery.is_none() {
            let message = "clean ware waits on carts, but there is no runner".to_owned();
            let help = "add a `[delivery]`, or leave it out: it is then at the servery";
            check.fault("nobody-takes-it", &path, message, help);
        } else if file.ware[number].par.is_none() {
            let message = format!("the stock of \"{class}\" is not followed");
            check.fault("no-par", &path, message, "give the ware a `par`");
        }
        already.on_carts.push((ClassId(number as u8), *pieces));
    }
    already.to_wash = vec![0; names.carts.len()];
    for (carts, many) in &written.carts_to_wash {
        let path = format!("already_there.carts_to_wash.{carts}");
        let Some(number) = check.find(&names.carts, carts, &path, "carts") else {
            continue;
        };
        already.to_wash[number] = *many;
        let of = file.carts.get(carts);
        if of.is_some_and(|of| of.wash.is_none()) {
            let message = format!("\"{carts}\" are not washed");
            let help = "give them a `wash`, or leave this out";
            check.fault("no-work-there", &path, message, help);
        }
    }
    for (index, machine) in written.hot.iter().enumerate() {
        let path = format!("already_there.hot.{index}");
        let number = check.find(&names.machines, machine, &path, "machine");
        already.hot.extend(number.map(|number| number as u8));
    }
    already
}

/// Stacks on belts; how many pieces each may have is known here.
fn stacks(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names, already: &mut Already) {
    for (index, it) in file.already_there.stacks.iter().enumerate() {
        let path = format!("already_there.stacks.{index}");
        let what = "belt for stacks";
        let belt = check.find(&names.stacks, &it.belt, &format!("{path}.belt"), what);
        let class = check.find(&names.ware, &it.ware, &format!("{path}.ware"), "ware");
        let (Some(belt), Some(class)) = (belt, class) else {
            continue;
        };
        let carries = file.stacks.get(&it.belt).map(|belt| &belt.pieces);
        let Some(full) = carries.and_then(|pieces| pieces.get(&it.ware)).copied() else {
            let message = format!("belt \"{}\" carries no stacks of \"{}\"", it.belt, it.ware);
            let help = "say under its `pieces` how many make a stack, or leave this out";
            check.fault("not-taken-there", &format!("{path}.ware"), message, help);
            continue;
        };
        let pieces = it.pieces.unwrap_or(full);
        if pieces > full {
            let message = format!(
                "a stack of {pieces} {} is higher than those of belt \"{}\", found {full} under its `pieces`",
                it.ware, it.belt
            );
            let help = format!("write at most {full}");
            check.fault("no-room-there", &format!("{path}.pieces"), message, help);
        }
        let stack = StackThere {
            belt: belt as u8,
            class: ClassId(class as u8),
            pieces,
        };
        let count = it.count.unwrap_or(1) as usize;
        already.stacks.extend(std::iter::repeat_n(stack, count));
    }
}

fn rack_at(check: &mut Checker<'_>, at: &str, path: &str, names: &Names) -> Option<RackAt> {
    let (kind, name) = at.split_once('.').unwrap_or((at, ""));
    let number = |check: &mut Checker<'_>, list: &[String], what: &'static str| {
        let number = check.find(list, name, path, what);
        number.map(|number| number as u8)
    };
    match kind {
        "racking" => {
            let tables = &names.racking[..names.tables_of_racking];
            number(check, tables, "racking table").map(RackAt::Racking)
        }
        "lane" => number(check, &names.lanes, "lane").map(RackAt::Lane),
        "machine" => number(check, &names.machines, "machine").map(RackAt::Machine),
        "clean_end" => number(check, &names.clean_ends, "clean end").map(RackAt::CleanEnd),
        _ => {
            let message = format!("no rack can stand at \"{at}\"");
            let help = "write `racking.NAME`, `lane.NAME`, `machine.NAME` or `clean_end.NAME`";
            check.fault("unknown-name", path, message, help);
            None
        }
    }
}

/// Complains about what is already there and finds no room, or cannot be there any more.
pub(crate) fn fits(check: &mut Checker<'_>, file: &ScenarioFile, line: &Line, demand: &Demand) {
    let mut on_belt = vec![0_u64; line.belts.len()];
    let mut on_loop = vec![0_u64; line.accumulators.len()];
    let mut on_table = vec![0_u64; line.tables.len()];
    let mut on_carts = vec![0_u64; line.carts.len()];
    for load in &demand.loads {
        let path = format!("load.{}.when", load.name);
        match load.when {
            LoadWhen::There {
                at: There::Belt(belt),
                trays,
            } => {
                let Some(spec) = line.belts.get(usize::from(belt)) else {
                    continue;
                };
                let on_it = &mut on_belt[usize::from(belt)];
                let before = *on_it;
                *on_it += u64::from(trays);
                let room = u64::from(spec.places());
                if before <= room && *on_it > room {
                    let message = format!(
                        "{} trays are already on belt \"{}\", which has room for {}",
                        on_it,
                        spec.name,
                        spec.places()
                    );
                    check.fault("no-room-there", &path, message, "let there be fewer");
                }
            }
            LoadWhen::There {
                at: There::Table(table),
                trays,
            } => {
                let Some(spec) = line.tables.get(usize::from(table)) else {
                    continue;
                };
                let on_it = &mut on_table[usize::from(table)];
                let before = *on_it;
                *on_it += u64::from(trays);
                let over = |room: &u32| (before..*on_it).contains(&u64::from(*room));
                if let Some(room) = spec.room.filter(over) {
                    let message = format!(
                        "{} trays are already on table \"{}\", which has room for {room}",
                        on_it, spec.name
                    );
                    check.fault("no-room-there", &path, message, "let there be fewer");
                }
            }
            LoadWhen::There {
                at: There::Accumulator(number),
                trays,
            } => {
                let Some(spec) = line.accumulators.get(usize::from(number)) else {
                    continue;
                };
                let on_it = &mut on_loop[usize::from(number)];
                let before = *on_it;
                *on_it += u64::from(trays);
                let room = spec.places();
                if (before..*on_it).contains(&u64::from(room)) {
                    let message = format!(
                        "{} trays are already on accumulator \"{}\", which has room for {room}",
                        on_it, spec.name
                    );
                    check.fault("no-room-there", &path, message, "let there be fewer");
                }
            }
            LoadWhen::There {
                at: There::Carts(number),
                trays,
            } => {
                let Some(spec) = line.carts.get(usize::from(number)) else {
                    continue;
                };
                let on_it = &mut on_carts[usize::from(number)];
                let before = *on_it;
                *on_it += u64::from(trays);
                let to_wash = line.already.to_wash.get(usize::from(number));
                let carts = spec.count.saturating_sub(to_wash.copied().unwrap_or(0));
                let room = u64::from(carts) * u64::from(spec.holds);
                if before <= room && *on_it > room {
                    let message = format!(
                        "{on_it} trays are already on \"{}\", {} with room for {room}",
                        spec.name,
                        words::counted(carts, "cart"),
                    );
                    check.fault("no-room-there", &path, message, "let there be fewer");
                }
            }
            LoadWhen::Eating { since, at, .. } => gone(check, demand, &path, since, at),
            _ => {}
        }
    }
    on_stack_belts(check, line, file);
    in_receivers(check, line);
    in_stores(check, line);
    if check.faults.is_empty()
        && let Some(message) = line.already_misfit()
    {
        let help = "let less be there, or more be owned, or say that the machine is `hot`";
        check.fault("no-room-there", "already_there", message, help);
    }
}

/// Stacks are no more than a belt has places.
fn on_stack_belts(check: &mut Checker<'_>, line: &Line, file: &ScenarioFile) {
    if !check.all_found(&["belt for stacks", "ware"]) {
        return;
    }
    for it in &line.stack_belts {
        let room = it.belt.places();
        let mut lie = 0_u32;
        for (index, written) in file.already_there.stacks.iter().enumerate() {
            if written.belt != it.belt.name {
                continue;
            }
            let before = lie;
            lie = lie.saturating_add(written.count.unwrap_or(1));
            if (before..lie).contains(&room) {
                let message = format!(
                    "{} are already on belt \"{}\", which has room for {room}",
                    words::counted(lie, "stack"),
                    it.belt.name
                );
                let path = format!("already_there.stacks.{index}");
                check.fault("no-room-there", &path, message, "let there be fewer");
            }
        }
    }
}

/// Ware in receivers is of a class that is put there, and no more than there is room for.
fn in_receivers(check: &mut Checker<'_>, line: &Line) {
    if !check.all_found(&["receiver", "ware"]) {
        return;
    }
    let mut inside = vec![0_u32; line.receivers.len()];
    for (index, there) in line.already.receivers.iter().enumerate() {
        let (number, class) = (usize::from(there.receiver), usize::from(there.class.0));
        let (it, ware) = (&line.receivers[number], &line.classes[class].name);
        let path = format!("already_there.receivers.{index}");
        let takes = line.classes_into(there.receiver);
        if !takes.contains(&class) {
            let takes = takes.iter().map(|class| line.classes[*class].name.clone());
            let message = format!("\"{ware}\" is never put into \"{}\"", it.name);
            let help = format!("it takes {}", words::listed(&takes.collect::<Vec<_>>()));
            check.fault("not-taken-there", &format!("{path}.ware"), message, help);
            continue;
        }
        let before = inside[number];
        inside[number] += u32::from(there.pieces);
        let room = it.room.or_else(|| line.rack_room(there.receiver));
        if let Some(room) = room.filter(|room| (before..inside[number]).contains(room)) {
            let message = format!(
                "{} are already in receiver \"{}\", which has room for {room}",
                words::counted(inside[number], "piece"),
                it.name
            );
            let at = format!("{path}.pieces");
            check.fault("no-room-there", &at, message, "let there be fewer");
        }
    }
}

/// Waste is no more than a disposer or bins hold.
fn in_stores(check: &mut Checker<'_>, line: &Line) {
    if !check.all_found(&["disposer or bin"]) {
        return;
    }
    let mut inside = vec![0_u64; line.waste_stores.len()];
    for (index, &(store, grams)) in line.already.waste.iter().enumerate() {
        let it = &line.waste_stores[usize::from(store)];
        let before = inside[usize::from(store)];
        let now = before + u64::from(grams);
        inside[usize::from(store)] = now;
        let room = match it.kind {
            StoreKind::Ground { room_g, .. } => room_g.map(u64::from),
            StoreKind::Bins { each_g, count } => Some(u64::from(each_g) * u64::from(count)),
        };
        if let Some(room) = room.filter(|room| (before..now).contains(room)) {
            let kg = |grams: u64| crate::defaults::rounded(grams as f64 / 1000.0);
            let message = format!(
                "{} kg of waste are already in \"{}\", which has room for {} kg",
                kg(now),
                it.name,
                kg(room)
            );
            let at = format!("already_there.waste.{index}.weight_kg");
            check.fault("no-room-there", &at, message, "let there be less");
        }
    }
}

fn gone(
    check: &mut Checker<'_>,
    demand: &Demand,
    path: &str,
    since: scullery_engine::time::SimTime,
    at: scullery_engine::time::SimTime,
) {
    let part = demand
        .eating_min
        .partition_point(|(from, _)| *from <= since)
        .saturating_sub(1);
    if let Some((_, Dist::Constant(minutes))) = demand.eating_min.get(part)
        && since + Span::from_min(*minutes) <= at
    {
        let message = format!(
            "who sat down at {} and eats for {} min has gone by {}",
            words::clock(since),
            crate::defaults::rounded(*minutes),
            words::clock(at)
        );
        check.fault("long-gone", path, message, "let them have sat down later");
    }
}
