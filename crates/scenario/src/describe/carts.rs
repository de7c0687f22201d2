//! Carts, tubs and loads, in sentences.

use scullery_engine::demand::{Cleared, Kind, LoadWhen, There};
use scullery_engine::line::CartsGo;
use scullery_engine::time::Span;

use super::words::{clock, listed, people, span};
use crate::defaults::rounded;
use crate::plan::Plan;

/// How staff fetch what a kind of diner leaves, if they do.
pub(crate) fn fetched(plan: &Plan, kind: &Kind) -> Option<String> {
    let carts = plan.line.carts.get(usize::from(kind.carts?))?;
    Some(format!("in {}", carts.name))
}

pub(crate) fn carts(plan: &Plan, told: &mut Vec<String>) {
    for carts in &plan.line.carts {
        let goes = match carts.goes {
            CartsGo::AtOnce => "brought as soon as there is something to bring".to_owned(),
            CartsGo::WhenFull { longest_wait } => format!(
                "brought when one is full{} or nothing more is to come",
                longest_wait.map_or(String::new(), |wait| format!(
                    ", when its first has waited {}",
                    span(wait)
                ))
            ),
            CartsGo::Rounds {
                first,
                every,
                carts,
            } => format!(
                "brought on rounds from {} every {}, at most {carts} a round",
                clock(first),
                span(every)
            ),
        };
        let way = if carts.way == Span::NONE {
            String::new()
        } else {
            format!(", {} on the way", span(carts.way))
        };
        let parking = carts.parking.map_or(String::new(), |places| {
            format!("; {places} can stand where they are emptied, the others wait outside")
        });
        let wash = carts.wash.as_ref().map_or(String::new(), |wash| {
            format!(
                "; an emptied one is washed by {} at a time in {} s before it goes back",
                people(wash.workers),
                rounded(wash.cart_s)
            )
        });
        told.push(format!(
            "Carts {}: {}, each for {} trays or covers' ware, {goes}{way}{parking}{wash}.",
            carts.name, carts.count, carts.holds
        ));
    }
}

/// Courses of each kind of diner, and loads.
pub(crate) fn courses_and_loads(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    let ware = |pieces: &[f64]| {
        let each = line.classes.iter().zip(pieces);
        let each = each.filter(|(_, pieces)| **pieces > 0.0);
        let each = each.map(|(class, pieces)| format!("{} {}", rounded(*pieces), class.name));
        listed(&each.collect::<Vec<_>>())
    };
    for kind in &plan.demand.kinds {
        for course in &kind.courses {
            let when = match &course.cleared {
                Cleared::AfterMin(dist) => {
                    format!("{} min after sitting down on average", rounded(dist.mean()))
                }
                Cleared::Within { from, lasts } => {
                    format!("within {} from {}", span(*lasts), clock(*from))
                }
            };
            told.push(format!(
                "Of \"{}\" a course of {} is cleared {when}.",
                kind.name,
                ware(&course.pieces)
            ));
        }
    }
    for load in &plan.demand.loads {
        let kind = plan.demand.kinds.get(usize::from(load.kind));
        let kind = kind.map_or("?", |kind| &kind.name);
        let covers = if load.covers { ", each a cover" } else { "" };
        let taken = load.taken.map_or(String::new(), |at| {
            format!("; their clean ware is taken at {}", clock(at))
        });
        let when = match &load.when {
            LoadWhen::At(times) => {
                let trays: u32 = times.iter().map(|(_, trays)| trays).sum();
                let when = match times.as_slice() {
                    [] => "at no time".to_owned(),
                    [(at, _)] => format!("at {}", clock(*at)),
                    [(from, _), .., (to, _)] => format!(
                        "at {} times from {} to {}",
                        times.len(),
                        clock(*from),
                        clock(*to)
                    ),
                };
                format!("{trays} trays of \"{kind}\" {when}")
            }
            LoadWhen::Within { from, lasts, count } => format!(
                "{count} trays of \"{kind}\" within {} from {}",
                span(*lasts),
                clock(*from)
            ),
            LoadWhen::There { at, trays } => {
                let lies = match at {
                    There::Aside(_) => "are already left aside at",
                    There::Carts(_) => "already wait on",
                    _ => "already lie on",
                };
                let place = match at {
                    There::Aside(i) => line.drop_offs.get(usize::from(*i)).map(|it| &it.name),
                    There::Carts(i) => line.carts.get(usize::from(*i)).map(|it| &it.name),
                    There::Belt(i) => line.belts.get(usize::from(*i)).map(|it| &it.name),
                    There::Table(i) => line.tables.get(usize::from(*i)).map(|it| &it.name),
                    There::Accumulator(i) => {
                        line.accumulators.get(usize::from(*i)).map(|it| &it.name)
                    }
                    There::Comes | There::Eats => None,
                };
                let place = place.map_or("?", |name| name);
                format!("{trays} trays of \"{kind}\" {lies} {place} at the start")
            }
            LoadWhen::Eating { since, people, .. } => format!(
                "{people} people with a tray of \"{kind}\" are already eating at the start, since {}",
                clock(*since)
            ),
            LoadWhen::Never(count) => {
                format!("{count} trays of \"{kind}\" that do not come back in this meal")
            }
        };
        told.push(format!("Load {}: {when}{covers}{taken}.", load.name));
    }
}
