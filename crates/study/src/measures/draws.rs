//! The highest a machine draws within a quarter hour, for those who size pipes and cables.

use scullery_engine::time::US_PER_MIN;
use scullery_engine::watch::{ActorKind, Catalogue, Counted, State};
use scullery_scenario::plan::{Plan, Utilities};

use super::{Meal, Measures, plain};
use crate::money::{MachineUse, WATER_KG_PER_L, heat_kwh, rinse_l};
use crate::record::{ActorRecord, CountRecord};
use crate::words::actor_words;

/// Numbers of one machine in the record of a meal.
#[derive(Clone, Copy, Debug)]
struct Numbers {
    machine: usize,
    actor: usize,
    racks_out: usize,
    conveyor: bool,
}

/// Water and mean power of one machine, quarter hour by quarter hour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Draw {
    water_l: f64,
    power_kw: f64,
}

/// Highest water and power of each machine in a quarter hour of the clock.
pub(super) fn machines(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    let actors = catalogue.actors.iter().enumerate();
    let machines = actors.filter(|(_, info)| info.kind == ActorKind::Machine);
    for (machine, (actor, info)) in machines.enumerate() {
        let racks_out = catalogue.counts.iter().position(|count| {
            count.counted == Counted::RacksOut && count.of.as_deref() == Some(info.name.as_str())
        });
        let (Some(plate), Some(racks_out)) = (plan.utilities.get(machine).cloned(), racks_out)
        else {
            continue;
        };
        let conveyor = plan.line.machines.get(machine).is_some_and(|it| {
            matches!(it.kind, scullery_engine::line::MachineKind::Conveyor { .. })
        });
        let numbers = Numbers {
            machine,
            actor,
            racks_out,
            conveyor,
        };
        let at = &actor_words(info);
        let (water, power) = (plate.clone(), plate);
        to.add(
            plain(
                format!("machine.{}.water_quarter_max_l", info.name),
                at,
                format!("Most fresh water in a quarter hour: {at}"),
                "L",
            ),
            move |m| highest(m, &water, numbers, |draw| draw.water_l),
        );
        to.add(
            plain(
                format!("machine.{}.power_quarter_max_kw", info.name),
                at,
                format!("Highest electric power, averaged over a quarter hour: {at}"),
                "kW",
            ),
            move |m| highest(m, &power, numbers, |draw| draw.power_kw),
        );
    }
}

fn highest(
    meal: &Meal<'_>,
    plate: &Utilities,
    numbers: Numbers,
    of: impl Fn(&Draw) -> f64,
) -> Option<f64> {
    let actor = meal.record.actors.get(numbers.actor)?;
    let racks = meal.record.counts.get(numbers.racks_out)?;
    let rinse_us = meal.ended.rinse_us.get(numbers.machine).copied();
    let used = MachineUse {
        racks: racks.total,
        rinse_h: numbers
            .conveyor
            .then(|| rinse_us.unwrap_or(0) as f64 / 3.6e9),
        ..MachineUse::default()
    };
    let draws = quarters(plate, actor, racks, rinse_l(plate, &used));
    draws.iter().map(of).reduce(f64::max)
}

/// What is drawn in each quarter hour. The meal's rinse water is shared out by the racks that came out in each; a tank is
/// filled in the first quarter hour in which the machine is on.
fn quarters(
    plate: &Utilities,
    actor: &ActorRecord,
    racks: &CountRecord,
    rinse_l: f64,
) -> Vec<Draw> {
    let on = |by: &[u64; State::COUNT]| by.iter().sum::<u64>() > by[State::Off.index()];
    let filled = actor.quarters.iter().position(on);
    let kept = actor.quarters.len().max(racks.minutes.len().div_ceil(15));
    (0..kept)
        .map(|quarter| {
            let of = |state: State| {
                let us = actor
                    .quarters
                    .get(quarter)
                    .map_or(0, |by| by[state.index()]);
                us as f64 / (60.0 * US_PER_MIN as f64)
            };
            let minutes = racks.minutes.iter().skip(quarter * 15).take(15);
            let out: u64 = minutes.map(|&by| u64::from(by)).sum();
            let rinse = match racks.total {
                0 => 0.0,
                total => rinse_l * out as f64 / total as f64,
            };
            let fill = if filled == Some(quarter) {
                plate.fill_l
            } else {
                0.0
            };
            let idle_h = of(State::Ready) + of(State::Stopped) + of(State::Down);
            let running_h = of(State::Starting) + of(State::Washing);
            let warm = |litres: f64, to_c: f64| {
                let rise = to_c - plate.supply_c;
                heat_kwh(litres * WATER_KG_PER_L, rise, plate.heating_efficiency)
            };
            let heat = if plate.rinse_heated_by_power {
                warm(rinse, plate.rinse_c) + warm(fill, plate.wash_c)
            } else {
                0.0
            };
            let kwh = plate.idle_kw * idle_h
                + plate.running_kw * running_h
                + plate.kwh_per_rack * out as f64
                + heat;
            Draw {
                water_l: rinse + fill,
                power_kw: kwh * 4.0,
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{ByState, QUARTER_US};

    fn plate() -> Utilities {
        Utilities {
            water_l_per_rack: 3.0,
            plate_racks_per_h: 100.0,
            fill_l: 100.0,
            supply_c: 55.0,
            rinse_c: 85.0,
            wash_c: 65.0,
            heating_efficiency: 1.0,
            rinse_heated_by_power: true,
            idle_kw: 2.0,
            running_kw: 10.0,
            kwh_per_rack: 0.0,
            detergent_g_per_l: 1.0,
        }
    }

    /// One quarter hour spent in these states, in thirds of the quarter.
    fn quarter(states: [State; 3]) -> ByState {
        let mut by = [0; State::COUNT];
        for state in states {
            by[state.index()] += QUARTER_US / 3;
        }
        by
    }

    #[test]
    fn the_fill_falls_in_the_first_quarter_and_the_rinse_goes_with_the_racks() {
        let actor = ActorRecord {
            quarters: vec![
                quarter([State::Off, State::Heating, State::Heating]),
                quarter([State::Ready, State::Washing, State::Washing]),
                quarter([State::Washing; 3]),
            ],
            ..ActorRecord::default()
        };
        let mut minutes = vec![0; 45];
        (minutes[20], minutes[35]) = (10, 30);
        let racks = CountRecord {
            total: 40,
            minutes,
            ..CountRecord::default()
        };
        let draws = quarters(&plate(), &actor, &racks, 120.0);
        let water: Vec<f64> = draws.iter().map(|draw| draw.water_l).collect();
        assert_eq!(water, [100.0, 30.0, 90.0]);
        // 100 kg by 10 K is 4186.8 kJ, 1.163 kWh within a quarter of an hour; then 90 kg by 30 K, 3.140 kWh, besides
        // 10 kW throughout.
        let near = |a: f64, b: f64| (a - b).abs() < 0.001;
        assert!(near(draws[0].power_kw, 4.0 * 1.163), "{draws:?}");
        assert!(near(draws[2].power_kw, 10.0 + 4.0 * 3.1401), "{draws:?}");
    }
}
