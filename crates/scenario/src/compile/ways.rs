//! Ways of ware and waste through the room: along the line, and into receivers, disposers and bins beside it.

use scullery_engine::line::{
    AidInto, Line, PiecesTo, RacksTo, ReceiverGoes, StoreKind, TraysFrom, TraysTo,
};

use super::names::Names;
use super::room::SERVERY;
use crate::view::{PlanView, PlanWay};

/// From one element to another, and whether what is carried is clean.
type Way = (String, String, bool);

/// The ways of ware along the line: soiled up to the machines, clean from there on.
pub(super) fn along_the_line(view: &mut PlanView, names: &Names, line: &Line) {
    let mut ways: Vec<Way> = Vec::new();
    let named = |kind: &str, list: &[String], number: u8| {
        format!(
            "{kind}.{}",
            list.get(usize::from(number)).map_or("?", String::as_str)
        )
    };
    let belt = |number| named("belt", &names.belts, number);
    let table = |number| named("table", &names.tables, number);
    let accumulator = |number| named("accumulator", &names.accumulators, number);
    let racking = |number: u8| {
        let is_table = usize::from(number) < names.tables_of_racking;
        let kind = if is_table { "racking" } else { "placing" };
        named(kind, &names.racking, number)
    };
    let lane = |number| named("lane", &names.lanes, number);
    let clean_end = |number| named("clean_end", &names.clean_ends, number);
    let stacks = |number| named("stacks", &names.stacks, number);
    for (it, number) in line.stack_belts.iter().zip(0..) {
        ways.push((stacks(number), racking(it.to), false));
    }
    for drop_off in &line.drop_offs {
        for twin in line
            .twins
            .iter()
            .filter(|twin| drop_off.to == TraysTo::Belt(twin.belt))
        {
            ways.push((
                format!("drop_off.{}", drop_off.name),
                belt(twin.beside),
                false,
            ));
        }
        let to = match drop_off.to {
            TraysTo::Belt(number) => belt(number),
            TraysTo::Table(number) => table(number),
            TraysTo::Accumulator(number) => accumulator(number),
        };
        ways.push((format!("drop_off.{}", drop_off.name), to, false));
    }
    for post in &line.scrapping {
        let here = format!("scrapping.{}", post.name);
        for from in &post.from {
            let from = match *from {
                TraysFrom::BeltEnd(number) | TraysFrom::BeltAt { belt: number, .. } => belt(number),
                TraysFrom::Table(number) => table(number),
                TraysFrom::Accumulator {
                    accumulator: number,
                    ..
                } => accumulator(number),
                TraysFrom::Carts(_) | TraysFrom::Overflow(_) => continue,
            };
            ways.push((from, here.clone(), false));
        }
        if let Some(on) = &post.passes_on {
            ways.push((here.clone(), table(on.to), false));
        }
        for route in &post.routes {
            match *route {
                PiecesTo::Racks(number) | PiecesTo::Pile(number) => {
                    ways.push((here.clone(), racking(number), false));
                }
                PiecesTo::Stacks(number) => ways.push((here.clone(), stacks(number), false)),
                PiecesTo::Leave | PiecesTo::Receiver(_) => {}
            }
        }
    }
    beside_the_line(&mut ways, line, &racking, &lane);
    let machine_there = |number| named("machine", &names.machines, number);
    for (it, number) in line.lanes.iter().zip(0..) {
        if let Some(next) = it.hands_to {
            ways.push((lane(number), lane(next), false));
        }
    }
    for (table, number) in line.racking.iter().zip(0..) {
        for to in table.ways() {
            let there = match to {
                RacksTo::Lane(number) => lane(number),
                RacksTo::Machine(number) => machine_there(number),
                RacksTo::Leave => continue,
            };
            ways.push((racking(number), there, false));
        }
    }
    for machine in &line.machines {
        let here = format!("machine.{}", machine.name);
        if let Some(from) = machine.from {
            ways.push((lane(from), here.clone(), false));
        }
        if let Some(number) = machine.to {
            ways.push((here, clean_end(number), true));
        }
    }
    for end in &line.clean_ends {
        let here = format!("clean_end.{}", end.name);
        ways.push((here, SERVERY.to_owned(), true));
    }
    let at = |view: &PlanView, id: &str| view.boxes.iter().position(|it| it.id == id);
    for (from, to, clean) in ways {
        if let (Some(from), Some(to)) = (at(view, &from), at(view, &to)) {
            let way = PlanWay { from, to, clean };
            if !view.ways.contains(&way) {
                view.ways.push(way);
            }
        }
    }
}

/// Soiled ways beside the line: from drop-offs and posts into receivers, disposers and bins, and from receivers on along the
/// line. What leaves the line from a receiver, and waste from a bin, goes nowhere in the room.
fn beside_the_line(
    ways: &mut Vec<Way>,
    line: &Line,
    racking: &impl Fn(u8) -> String,
    lane: &impl Fn(u8) -> String,
) {
    let receiver = |number: u8| {
        let it = line.receivers.get(usize::from(number));
        format!("receiver.{}", it.map_or("?", |it| it.name.as_str()))
    };
    let store = |number: u8| match line.waste_stores.get(usize::from(number)) {
        Some(it) if matches!(it.kind, StoreKind::Bins { .. }) => format!("bin.{}", it.name),
        Some(it) => format!("disposer.{}", it.name),
        None => "?".to_owned(),
    };
    for drop_off in &line.drop_offs {
        for aid in &drop_off.aids {
            let into = match aid.into {
                AidInto::Receiver(number) => receiver(number),
                AidInto::Waste { store: number, .. } => store(number),
            };
            ways.push((format!("drop_off.{}", drop_off.name), into, false));
        }
    }
    for post in &line.scrapping {
        let here = format!("scrapping.{}", post.name);
        for route in &post.routes {
            if let PiecesTo::Receiver(number) = *route {
                ways.push((here.clone(), receiver(number), false));
            }
        }
        for number in post.waste_to.iter().flatten() {
            ways.push((here.clone(), store(*number), false));
        }
    }
    for (it, number) in line.receivers.iter().zip(0..) {
        let on = match it.goes {
            ReceiverGoes::AsRack(to) => lane(to),
            ReceiverGoes::StraightOn(to) | ReceiverGoes::Changed(to) => match to {
                PiecesTo::Racks(to) | PiecesTo::Pile(to) => racking(to),
                _ => continue,
            },
        };
        ways.push((receiver(number), on, false));
    }
}
