//! Measures of what machines are fitted with, and of loose ware through flight machines.

use scullery_engine::line::MachineKind;
use scullery_engine::watch::{ActorKind, Catalogue, Counted, State};
use scullery_scenario::plan::Plan;

use super::floor::{minutes, nth_count};
use super::{Measures, headline, plain};
use crate::quarters::highest_kw;
use crate::words::actor_words;

/// Pieces, running hours, changes of water, hot water and detergent, by machine; running hours and power of all of them.
pub(super) fn fittings(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    let actors = catalogue.actors.iter().enumerate();
    let machines = actors.filter(|(_, a)| a.kind == ActorKind::Machine);
    let mut all = Vec::new();
    for (i, (actor, info)) in machines.enumerate() {
        all.push(actor);
        let Some(machine) = plan.line.machines.get(i) else {
            continue;
        };
        let at = &actor_words(info);
        let id = |what: &str| format!("machine.{}.{what}", info.name);
        let count = |counted: Counted| nth_count(catalogue, counted, i);
        if matches!(machine.kind, MachineKind::Flight { .. })
            && let Some(pieces) = count(Counted::PiecesIn)
        {
            let label = format!("Pieces washed by {at}");
            to.add(plain(id("pieces"), at, label, "pieces"), move |m| {
                Some(m.record.counts[pieces].total as f64)
            });
            let label = format!("Pieces through {at} in its busiest 60 minutes");
            let naming = headline(id("pieces_per_busiest_h"), at, label, "pieces_per_h");
            to.add(naming, move |m| {
                m.record.counts[pieces].busiest_hour().map(|n| n as f64)
            });
            let plate = plan.facts.machines.get(i);
            if let Some(plate) = plate.and_then(|plate| plate.plate_pieces_per_h) {
                let label = format!(
                    "Busiest 60 minutes of {at} in pieces over the pieces an hour on its data plate"
                );
                to.add(
                    plain(id("plate_pieces_share"), at, label, "share"),
                    move |m| {
                        let most = m.record.counts[pieces].busiest_hour();
                        most.map(|n| n as f64 / plate)
                    },
                );
            }
        }
        let label = format!("Hours {at} runs");
        to.add(plain(id("running_h"), at, label, "h"), move |m| {
            let actor = &m.record.actors[actor];
            Some(hours(actor.us(State::Starting) + actor.us(State::Washing)))
        });
        if machine.tank.is_some() {
            let label = format!("Minutes {at} stands while its tank water is changed");
            to.add(plain(id("refilling_min"), at, label, "min"), move |m| {
                Some(minutes(m.record.actors[actor].us(State::Refilling)))
            });
        }
        if machine.hot_water.is_some()
            && let Some(waited) = count(Counted::HotWaterSeconds)
        {
            let label = format!("Minutes ware waits at {at} because its rinse water is not hot");
            to.add(
                plain(id("hot_water_wait_min"), at, label, "min"),
                move |m| Some(m.record.counts[waited].total as f64 / 60.0),
            );
        }
        if machine.dosing.is_some() {
            for (counted, what, label) in [
                (
                    Counted::DetergentLow,
                    "detergent_low_count",
                    "Times the detergent runs low",
                ),
                (
                    Counted::WithoutDetergent,
                    "without_detergent_count",
                    "Racks washed with too little detergent left",
                ),
            ] {
                if let Some(times) = count(counted) {
                    let label = format!("{label}: {at}");
                    to.add(plain(id(what), at, label, "count"), move |m| {
                        Some(m.record.counts[times].total as f64)
                    });
                }
            }
        }
    }
    if all.is_empty() {
        return;
    }
    let naming = plain(
        "line.machine_running_h",
        "",
        "Hours machines run, all together",
        "h",
    );
    to.add(naming, move |m| {
        let us = all.iter().map(|&actor| {
            let actor = &m.record.actors[actor];
            actor.us(State::Starting) + actor.us(State::Washing)
        });
        Some(hours(us.sum()))
    });
    let naming = plain(
        "line.power_peak_kw",
        "",
        "Electric power in the quarter hour in which it is highest",
        "kW",
    );
    to.add(naming, |m| highest_kw(&m.quarters));
}

fn hours(us: u64) -> f64 {
    us as f64 / 3.6e9
}
