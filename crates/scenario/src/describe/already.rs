//! What is already there when the run begins, in sentences. (Trays and people are told with the loads.)

use scullery_engine::line::{ClassId, RackAt, RackThere};

use super::receivers::store_words;
use super::words::{clock, listed};
use crate::defaults::rounded;
use crate::plan::Plan;

pub(crate) fn already(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    let there = &line.already;
    let class = |id: ClassId| {
        let class = line.classes.get(usize::from(id.0));
        class.map_or("?", |class| &class.name)
    };
    let starts = clock(line.starts);
    // Neighbours that are alike are one entry.
    for alike in there.racks.chunk_by(|a, b| a == b) {
        let Some(rack) = alike.first() else { continue };
        let each = if alike.len() == 1 {
            format!("a rack of {} {}", rack.pieces, class(rack.class))
        } else {
            format!(
                "{} racks of {} {}",
                alike.len(),
                rack.pieces,
                class(rack.class)
            )
        };
        let stand = if alike.len() == 1 { "stands" } else { "stand" };
        told.push(format!(
            "At {starts} {each} already {stand} {}.",
            place(plan, rack)
        ));
    }
    for pile in &there.piles {
        let table = line.racking.get(usize::from(pile.racking));
        told.push(format!(
            "At {starts} {} {} already lie on a pile at racking {}.",
            pile.pieces,
            class(pile.class),
            table.map_or("?", |table| &table.name)
        ));
    }
    for alike in there.stacks.chunk_by(|a, b| a == b) {
        let Some(stack) = alike.first() else { continue };
        let belt = line.stack_belts.get(usize::from(stack.belt));
        let (each, lie) = match alike.len() {
            1 => ("a stack".to_owned(), "lies"),
            many => (format!("{many} stacks"), "lie"),
        };
        told.push(format!(
            "At {starts} {each} of {} {} already {lie} on belt {}.",
            stack.pieces,
            class(stack.class),
            belt.map_or("?", |it| &it.belt.name)
        ));
    }
    for it in &there.receivers {
        let receiver = line.receivers.get(usize::from(it.receiver));
        told.push(format!(
            "At {starts} {} {} are already in receiver {}.",
            it.pieces,
            class(it.class),
            receiver.map_or("?", |it| &it.name)
        ));
    }
    for &(store, grams) in &there.waste {
        told.push(format!(
            "At {starts} {} kg of waste are already in {}.",
            rounded(f64::from(grams) / 1000.0),
            store_words(line, store)
        ));
    }
    let clean: Vec<String> = line
        .classes
        .iter()
        .zip(&there.clean)
        .filter_map(|(class, clean)| Some(format!("{} {}", (*clean)?, class.name)))
        .collect();
    if !clean.is_empty() {
        told.push(format!(
            "Of what is owned only {} are clean at the servery at {starts}; what is not on the line stays away.",
            listed(&clean)
        ));
    }
    let on_carts: Vec<String> = there
        .on_carts
        .iter()
        .map(|(id, pieces)| format!("{pieces} {}", class(*id)))
        .collect();
    if !on_carts.is_empty() {
        told.push(format!(
            "At {starts} {} already wait on carts to be taken to the servery.",
            listed(&on_carts)
        ));
    }
    for (carts, many) in line.carts.iter().zip(&there.to_wash) {
        if *many > 0 {
            told.push(format!(
                "At {starts} {many} of carts {} already wait to be washed.",
                carts.name
            ));
        }
    }
    for &machine in &there.hot {
        if let Some(machine) = line.machines.get(usize::from(machine)) {
            told.push(format!("Machine {} is hot at {starts}.", machine.name));
        }
    }
}

fn place(plan: &Plan, rack: &RackThere) -> String {
    let line = &plan.line;
    let named = |kind: &str, name: Option<&String>| {
        format!("{kind} {}", name.map_or("?", |name| name.as_str()))
    };
    match rack.at {
        RackAt::Racking(i) => named(
            "open at racking",
            line.racking.get(usize::from(i)).map(|it| &it.name),
        ),
        RackAt::Lane(i) => named("on lane", line.lanes.get(usize::from(i)).map(|it| &it.name)),
        RackAt::Machine(i) => named(
            "in machine",
            line.machines.get(usize::from(i)).map(|it| &it.name),
        ),
        RackAt::CleanEnd(i) => named(
            "at clean end",
            line.clean_ends.get(usize::from(i)).map(|it| &it.name),
        ),
    }
}
