//! Remedies in which something is done at another time: ware that is washed later, other work and breaks outside the rush.

use scullery_engine::line::{DutyWhen, PiecesTo, Release};
use scullery_engine::time::{SimTime, Span};
use scullery_scenario::plan::Plan;

use super::menu::{Proposal, Rush, add, clock};

/// Work to rack a piece from a pile that is new, in seconds: 40 pieces a person-minute, as where none is given.
const RACKING_S: f64 = 1.5;

/// All remedies of this kind.
pub(super) fn later(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    piles(plan, rush, all);
    new_piles(plan, rush, all);
    other_work(plan, rush, all);
    breaks(plan, rush, all);
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
        for (number, to) in post.routes.iter().enumerate() {
            let (PiecesTo::Racks(table), Some(class)) = (to, plan.line.classes.get(number)) else {
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
                    "scrapping.{}.sends={{ {} }}",
                    post.name,
                    sends(plan, &post.routes, (number, &table.name))
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

/// Where a post sends every class, one of them to a pile.
fn sends(plan: &Plan, routes: &[PiecesTo], (aside, table): (usize, &str)) -> String {
    let racking = |number: u8| &plan.line.racking[usize::from(number)].name;
    let each: Vec<String> = routes
        .iter()
        .enumerate()
        .zip(&plan.line.classes)
        .map(|((number, to), class)| {
            let to = match *to {
                _ if number == aside => format!("{{ pile = \"{table}\" }}"),
                PiecesTo::Racks(it) => format!("{{ racks = \"{}\" }}", racking(it)),
                PiecesTo::Pile(it) => format!("{{ pile = \"{}\" }}", racking(it)),
                PiecesTo::Stacks(it) => format!(
                    "{{ stacks = \"{}\" }}",
                    plan.line.stack_belts[usize::from(it)].belt.name
                ),
                PiecesTo::Leave => "\"leave\"".to_owned(),
                PiecesTo::Receiver(it) => {
                    let receiver = plan.line.receivers.get(usize::from(it));
                    let name = receiver.map_or("", |receiver| &receiver.name);
                    format!("{{ receiver = \"{name}\" }}")
                }
            };
            format!("{} = {to}", class.name)
        })
        .collect();
    each.join(", ")
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
                "duty.{}.when={{ at = [{}] }}",
                duty.name,
                listed.join(", ")
            )],
            false,
        );
    }
}

/// Breaks that fall into the rush: each by itself before it, or after it.
fn breaks(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    for worker in &plan.line.crew {
        for (index, (due, length)) in worker.breaks.iter().enumerate() {
            if *due + *length <= rush.from || *due >= rush.to {
                continue;
            }
            let Some((begins, ends)) = worker
                .shifts
                .iter()
                .find(|(begins, ends)| begins <= due && due < ends)
            else {
                continue;
            };
            let before = SimTime::from_us(rush.from.us().saturating_sub(length.us()));
            for (at, when) in [(before, "before"), (rush.to, "after")] {
                let mut kept: Vec<(SimTime, Span)> = worker.breaks.clone();
                kept.remove(index);
                let apart = |(other, long): &(SimTime, Span)| {
                    at + *length <= *other || *other + *long <= at
                };
                if at <= *begins || at + *length >= *ends || !kept.iter().all(apart) {
                    continue;
                }
                kept.push((at, *length));
                kept.sort_unstable();
                let listed: Vec<String> = kept
                    .iter()
                    .map(|(at, long)| format!("{} for {} min", clock(*at), long.us() as f64 / 60e6))
                    .collect();
                add(
                    all,
                    format!(
                        "{}'s break {when} the rush, at {} and not at {}",
                        worker.name,
                        clock(at),
                        clock(*due)
                    ),
                    &[format!("crew.{}.breaks={}", worker.name, listed.join(", "))],
                    false,
                );
            }
        }
    }
}
