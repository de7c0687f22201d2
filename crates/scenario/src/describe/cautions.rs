//! Cautions that belong to what is in a plan.

use super::words::{clock, speed};
use crate::plan::Plan;

/// Cautions that belong to what is in the plan.
pub(crate) fn cautions(plan: &Plan) -> Vec<String> {
    let line = &plan.line;
    let mut cautions = vec![
        "A planning aid: local codes, the machine's data plate and licensed practice decide."
            .to_owned(),
    ];
    if !line.machines.is_empty() {
        cautions.push("Water temperatures, dwell and sanitiser follow the machine's data plate and the local food code; hot water scalds.".to_owned());
        cautions.push("Detergents and sanitisers irritate skin and eyes: follow the label, and never mix products.".to_owned());
    }
    if !line.carts.is_empty() {
        cautions.push("Full carts and tubs are heavy: push rather than pull, two to a full tub, and keep the way dry.".to_owned());
    }
    let drives = !line.belts.is_empty()
        || !line.stack_belts.is_empty()
        || !line.accumulators.is_empty()
        || !line.machines.is_empty();
    if drives {
        cautions.push("Jams are cleared with the drive locked out.".to_owned());
    }
    super::aids::cautions(plan, &mut cautions);
    if !line.waste_stores.is_empty() {
        cautions.push("Disposers and pulpers: mouth guarded, cleared with the drive locked out, nothing but food in; full bins and sacks are heavy; what may go down the drain is a local rule.".to_owned());
    }
    if !line.troubles.is_empty() {
        cautions.push("Clearing and repair: drive switched off, locked out and tried before a hand goes in; stop stations within reach of every post; by those who have been shown how.".to_owned());
    }
    if line.accumulators.iter().any(|it| it.tiers > 1) {
        cautions.push("An accumulator's top tier is reached overhead and its lowest bending down, with a loaded tray: look at heights before counting tiers, and keep hands out of moving carriers.".to_owned());
    }
    let cleaned = |job: &crate::plan::CareJob| matches!(job.care, crate::plan::Care::Cleaning(..));
    if plan.facts.care.iter().any(cleaned) {
        cautions.push("Cleaning: machine and drive off and locked out, water let cool and drained first; gloves and eye protection as the product's label says; wet floor signs until it is dry.".to_owned());
    }
    if plan.facts.inclines.iter().any(Option::is_some) {
        cautions.push("Inclined lanes: full racks run by their own weight; an end stop and a brake where they come fast, and no hand between a rack and what it runs against.".to_owned());
    }
    if line.racking.iter().any(|table| !table.levels.is_empty()) {
        cautions.push("Racks above the table are filled and taken down within reach and below the shoulder: heavy ware stands below, and a full rack is not lifted down overhead.".to_owned());
    }
    if !line.stack_belts.is_empty() {
        cautions.push("Stacks: keep them low enough to be steady on the belt and light enough to be lifted from it with a straight back.".to_owned());
    }
    for belt in &line.belts {
        let fastest = belt
            .speed
            .iter()
            .map(|(_, mm_min)| *mm_min)
            .max()
            .unwrap_or(0);
        if fastest > 10_000 {
            cautions.push(format!(
                "Belt {} runs at {}: above 10 m (33 ft) a minute trays tip and hands are hurried (common practice).",
                belt.name,
                speed(plan, fastest)
            ));
        }
    }
    cautions.push("Reach, lifting, wet floors and rest breaks are people's health: plan for them, not around them.".to_owned());
    for worker in &line.crew {
        let long = worker.shifts.iter().find(|(from, to)| {
            let hours = to.since(*from).min() / 60.0;
            // A shift of more than a day is a textbook server, not a person.
            hours > 6.0 && hours <= 24.0
        });
        if let Some((from, _)) = long.filter(|_| worker.breaks.is_empty()) {
            cautions.push(format!(
                "{} works more than 6 h from {} without a break: look up the local rule.",
                worker.name,
                clock(*from)
            ));
        }
    }
    cautions
}
