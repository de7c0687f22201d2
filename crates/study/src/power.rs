//! Electric power by quarter hour: the highest one is what a demand tariff asks for.

use scullery_engine::ended::Ended;
use scullery_engine::watch::{ActorKind, Catalogue, Counted, State};
use scullery_scenario::plan::{Plan, Utilities};

use crate::money::{heat_kwh, machine_use, rinse_l};
use crate::record::{ActorRecord, CountRecord, MealRecord};

/// Mean electric power of all machines in the quarter hour of the clock in which it was highest, kW; `None` without a
/// machine.
///
/// # Formula
/// Idle and running kW by the minutes in each state; kWh a rack and the heat of the rinse, where electricity heats it, by
/// the pieces that went in; the heat of a filling by the minutes of heating up.
pub fn highest_quarter_kw(
    plan: &Plan,
    catalogue: &Catalogue,
    meal: &MealRecord,
    ended: &Ended,
) -> Option<f64> {
    let actors = catalogue.actors.iter().zip(&meal.actors);
    let machines = actors.filter(|(info, _)| info.kind == ActorKind::Machine);
    let mut quarters: Vec<f64> = Vec::new();
    let counted = |what: Counted, nth: usize| -> Option<&CountRecord> {
        let counts = catalogue.counts.iter().zip(&meal.counts);
        let of_kind = counts.filter(|(info, _)| info.counted == what);
        of_kind.map(|(_, record)| record).nth(nth)
    };
    for (i, (_, actor)) in machines.enumerate() {
        let Some(plate) = plan.utilities.get(i) else {
            continue;
        };
        let used = machine_use(plan, catalogue, meal, i, actor, ended);
        let rinse = if plate.rinse_heated_by_power {
            let rise = plate.rinse_c - plate.supply_c;
            heat_kwh(rinse_l(plate, &used), rise, plate.heating_efficiency)
        } else {
            0.0
        };
        let by_piece = rinse + plate.kwh_per_rack * used.racks as f64;
        let fillings = fillings_kwh(plate, used.fills);
        let heating_us = actor.us(State::Heating) + actor.us(State::Refilling);
        let pieces = counted(Counted::PiecesIn, i);
        let all_pieces = pieces.map_or(0, |count| count.total);
        if quarters.len() < actor.quarters.len() {
            quarters.resize(actor.quarters.len(), 0.0);
        }
        for (quarter, kwh) in quarters.iter_mut().enumerate() {
            *kwh += states_kwh(plate, actor, quarter);
            if all_pieces > 0 {
                let here = pieces.map_or(0, |count| in_quarter(count, quarter));
                *kwh += by_piece * here as f64 / all_pieces as f64;
            }
            if heating_us > 0 {
                let here = heating(actor, quarter);
                *kwh += fillings * here as f64 / heating_us as f64;
            }
        }
    }
    quarters.into_iter().map(|kwh| kwh * 4.0).reduce(f64::max)
}

fn fillings_kwh(plate: &Utilities, fills: u64) -> f64 {
    if !plate.rinse_heated_by_power {
        return 0.0;
    }
    let litres = plate.fill_l * fills as f64;
    heat_kwh(
        litres,
        plate.wash_c - plate.supply_c,
        plate.heating_efficiency,
    )
}

fn states_kwh(plate: &Utilities, actor: &ActorRecord, quarter: usize) -> f64 {
    let hours = |state: State| {
        let us = actor.quarters.get(quarter).map_or(0, |q| q[state.index()]);
        us as f64 / 3.6e9
    };
    let idle = hours(State::Ready) + hours(State::Stopped) + hours(State::Down);
    let running = hours(State::Starting) + hours(State::Washing);
    plate.idle_kw * idle + (plate.running_kw + plate.dryer_kw) * running
}

fn heating(actor: &ActorRecord, quarter: usize) -> u64 {
    let states = [State::Heating, State::Refilling];
    actor
        .quarters
        .get(quarter)
        .map_or(0, |q| states.iter().map(|state| q[state.index()]).sum())
}

fn in_quarter(count: &CountRecord, quarter: usize) -> u64 {
    let minutes = count.minutes.iter().skip(quarter * 15).take(15);
    minutes.map(|&by| u64::from(by)).sum()
}
