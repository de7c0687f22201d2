//! Remedies in which something waits: ware that is washed later, other work that is done after the rush.

use scullery_engine::line::{DutyWhen, PiecesTo, Release};
use scullery_engine::time::SimTime;
use scullery_scenario::plan::Plan;

use super::menu::{Proposal, Rush, add, clock};

/// Work to rack a piece from a pile that is new, in seconds: 40 pieces a person-minute, as where none is given.
const RACKING_S: f64 = 1.5;

/// All remedies of this kind.
pub(super) fn later(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    piles(plan, rush, all);
    new_piles(plan, rush, all);
    other_work(plan, rush, all);
}

fn spoken(class: &str) -> String {
    match class {
        "cutlery" => "cutlery soaks".to_owned(),
        _ => format!("{} wait", class.replace('_', " ")),
    }
}

/// Piles there are: ware on them is held until after the rush.
fn piles(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    for table in &plan.line.racking {
        for (index, pile) in table.piles.iter().enumerate() {
            let waits_already = pile
                .held_back
                .iter()
                .any(|it| matches!(it, Release::From(at) if *at >= rush.to));
            if waits_already {
                continue;
            }
            let name = &plan.line.classes[usize::from(pile.class.0)].name;
            add(
                all,
                format!("{} until {} to be washed", spoken(name), clock(rush.to)),
                &[format!(
                    "racking.{}.pile.{}.held_back=[{{ until = \"{}\" }}, \"rush_over\"]",
                    table.name,
                    index + 1,
                    clock(rush.to)
                )],
                false,
            );
        }
    }
}

/// Trays and cutlery that go straight into racks: put aside and racked after the rush, as work of its own.
fn new_piles(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    for post in &plan.line.scrapping {
        for (class, to) in post.routes.iter().enumerate() {
            let (PiecesTo::Racks(table), Some(class)) = (to, plan.line.classes.get(class)) else {
                continue;
            };
            if !matches!(class.name.as_str(), "tray" | "trays" | "cutlery") {
                continue;
            }
            let Some(table) = plan.line.racking.get(usize::from(*table)) else {
                continue;
            };
            let until = clock(rush.to);
            let mut changes = vec![
                format!(
                    "+racking.{}.pile={{ ware = \"{}\", piece_s = {RACKING_S}, held_back = [{{ until = \"{until}\" }}, \"rush_over\"] }}",
                    table.name, class.name
                ),
                format!(
                    "scrapping.{}.sends.{}={{ pile = \"{}\" }}",
                    post.name, class.name, table.name
                ),
            ];
            if table.places == 0 {
                changes.push(format!("racking.{}.places=1", table.name));
            }
            add(
                all,
                format!(
                    "{} until {until} to be racked and washed",
                    spoken(&class.name)
                ),
                &changes,
                false,
            );
        }
    }
}

/// Other work that falls due in the rush: all of it when the rush is over.
fn other_work(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    for duty in &plan.line.duties {
        let DutyWhen::At(times) = &duty.when else {
            continue;
        };
        let inside = |at: &SimTime| *at >= rush.from && *at < rush.to;
        if !times.iter().any(inside) {
            continue;
        }
        let mut moved: Vec<SimTime> = times
            .iter()
            .map(|at| if inside(at) { rush.to } else { *at })
            .collect();
        moved.sort_unstable();
        moved.dedup();
        let listed: Vec<String> = moved
            .iter()
            .map(|at| format!("\"{}\"", clock(*at)))
            .collect();
        add(
            all,
            format!(
                "{} wait until {}",
                duty.name.replace('_', " "),
                clock(rush.to)
            ),
            &[format!(
                "duty.{}.when.at=[{}]",
                duty.name,
                listed.join(", ")
            )],
            false,
        );
    }
}
