//! Belts in sentences: for trays, beside one another, for stacks.

use scullery_engine::line::{Belt, EndRule, Twin, TwinTakes};

use super::trays::speeds;
use super::words::{counted, length, listed};
use crate::plan::{BeltFacts, Plan};

/// Belts for soiled trays.
pub(super) fn belts(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for (number, belt) in line.belts.iter().enumerate() {
        let facts = plan.facts.belts.get(number).copied().unwrap_or_default();
        told.push(format!(
            "Belt {}: {} long{}, trays {} apart, so it holds {}; {}; it {}.",
            belt.name,
            length(plan, belt.length_mm),
            made_of(plan, &facts),
            length(plan, belt.spacing_mm),
            belt.places(),
            speeds(plan, &belt.speed),
            rule(plan, belt, "a tray"),
        ));
    }
    told.extend(line.twins.iter().map(|twin| beside(plan, twin)));
}

/// Belts for stacks.
pub(super) fn stacks(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for (number, it) in line.stack_belts.iter().enumerate() {
        let belt = &it.belt;
        let facts = plan.facts.stack_belts.get(number).copied();
        let heights: Vec<String> = line
            .classes
            .iter()
            .zip(&it.pieces)
            .filter(|(_, pieces)| **pieces > 0)
            .map(|(class, pieces)| format!("{pieces} {}", class.name))
            .collect();
        let to = line.racking.get(usize::from(it.to));
        told.push(format!(
            "Belt {} carries stacks ({}) to {}: {} long{}, stacks {} apart, so it holds {}; {}; it {}.",
            belt.name,
            listed(&heights),
            to.map_or("?", |to| &to.name),
            length(plan, belt.length_mm),
            made_of(plan, &facts.unwrap_or_default()),
            length(plan, belt.spacing_mm),
            belt.places(),
            speeds(plan, &belt.speed),
            rule(plan, belt, "a stack"),
        ));
    }
}

fn rule(plan: &Plan, belt: &Belt, what: &str) -> String {
    match belt.rule {
        EndRule::StopsOnArrival => format!("stops while {what} lies at its end"),
        EndRule::ClosesUp => "closes up against its end".to_owned(),
        EndRule::AdvancesOnDemand { section_mm } => format!(
            "moves {} when a worker at its end is free, and stops when {what} reaches the end",
            length(plan, section_mm)
        ),
    }
}

/// The curves in its length, if it has any.
fn made_of(plan: &Plan, facts: &BeltFacts) -> String {
    if facts.curves == 0 {
        return String::new();
    }
    format!(
        " ({} of it in {})",
        length(plan, (facts.curves_m * 1000.0).round() as u32),
        counted(facts.curves, "curve")
    )
}

fn beside(plan: &Plan, twin: &Twin) -> String {
    let line = &plan.line;
    let name = |belt: u8| line.belts.get(usize::from(belt)).map_or("?", |it| &it.name);
    let named = |all: &mut dyn Iterator<Item = (&String, &bool)>| {
        let those: Vec<String> = all
            .filter(|(_, is)| **is)
            .map(|(it, _)| it.clone())
            .collect();
        listed(&those)
    };
    let takes = match &twin.takes {
        TwinTakes::Kinds(kinds) => {
            let names = plan.demand.kinds.iter().map(|kind| &kind.name);
            format!("trays of {}", named(&mut names.zip(kinds)))
        }
        TwinTakes::Ware(classes) => {
            let names = line.classes.iter().map(|class| &class.name);
            format!("trays that carry {}", named(&mut names.zip(classes)))
        }
        TwinTakes::NoGap => "trays that find no gap there".to_owned(),
    };
    format!(
        "Belt {} runs beside belt {} and takes {takes}.",
        name(twin.beside),
        name(twin.belt)
    )
}
