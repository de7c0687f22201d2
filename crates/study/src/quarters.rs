//! Water and electric power of the machines, quarter hour by quarter hour: the highest ones size pipes and cables, and are
//! what a demand tariff asks for.

use scullery_engine::watch::{ActorKind, Catalogue, Counted, State};
use scullery_scenario::plan::{Plan, Utilities};

use crate::money::{MachineUse, heat_kwh, rinse_l};
use crate::record::{ActorRecord, CountRecord, MealRecord};

/// What a machine draws in one quarter hour of the clock.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Quarter {
    /// Fresh water, litres.
    pub water_l: f64,
    /// Electricity, kWh.
    pub kwh: f64,
}

impl Quarter {
    /// Mean electric power, kW.
    pub fn kw(&self) -> f64 {
        4.0 * self.kwh
    }
}

/// What each machine draws, machine by machine in line order, quarter hour by quarter hour from the start of the run.
/// `uses` is what each did in the whole meal, in the same order.
///
/// # Formula
/// Idle and running kW by the minutes in each state; the rinse's water and heat, and kWh a rack, by the pieces that went
/// in; a filling and its heat by the minutes of heating up and refilling (all of it in the first quarter hour in which the
/// machine is on where it heats up in no time).
pub fn by_machine(
    plan: &Plan,
    catalogue: &Catalogue,
    meal: &MealRecord,
    uses: &[MachineUse],
) -> Vec<Vec<Quarter>> {
    let actors = catalogue.actors.iter().zip(&meal.actors);
    let machines = actors.filter(|(info, _)| info.kind == ActorKind::Machine);
    let counts = catalogue.counts.iter().zip(&meal.counts);
    let pieces = counts.filter(|(info, _)| info.counted == Counted::PiecesIn);
    let each = machines.zip(pieces).zip(plan.utilities.iter().zip(uses));
    each.map(|(((_, actor), (_, pieces)), (plate, used))| quarters(plate, used, actor, pieces))
        .collect()
}

/// Mean electric power of all machines in the quarter hour of the clock in which it was highest, kW; `None` without a
/// machine.
pub fn highest_kw(all: &[Vec<Quarter>]) -> Option<f64> {
    let most = all.iter().map(Vec::len).max()?;
    let together = |quarter: usize| -> f64 {
        let here = all.iter().filter_map(|machine| machine.get(quarter));
        here.map(Quarter::kw).sum()
    };
    (0..most).map(together).reduce(f64::max)
}

fn quarters(
    plate: &Utilities,
    used: &MachineUse,
    actor: &ActorRecord,
    pieces: &CountRecord,
) -> Vec<Quarter> {
    let rinse_water = rinse_l(plate, used);
    let fill_water = plate.fill_l * used.fills as f64;
    let warm = |litres: f64, to_c: f64| {
        if plate.rinse_heated_by_power {
            heat_kwh(litres, to_c - plate.supply_c, plate.heating_efficiency)
        } else {
            0.0
        }
    };
    let rinse_kwh = warm(rinse_water, plate.rinse_c) + plate.kwh_per_rack * used.racks as f64;
    let fill_kwh = warm(fill_water, plate.wash_c);
    let on = |by: &[u64; State::COUNT]| by.iter().sum::<u64>() > by[State::Off.index()];
    let first_on = actor.quarters.iter().position(on);
    let heating_us = actor.us(State::Heating) + actor.us(State::Refilling);
    let kept = actor.quarters.len().max(pieces.minutes.len().div_ceil(15));
    (0..kept)
        .map(|quarter| {
            let of = |state: State| {
                let by = actor.quarters.get(quarter);
                by.map_or(0, |by| by[state.index()])
            };
            let minutes = pieces.minutes.iter().skip(quarter * 15).take(15);
            let here: u64 = minutes.map(|&by| u64::from(by)).sum();
            let rinse = share(here, pieces.total);
            let fill = if heating_us > 0 {
                share(of(State::Heating) + of(State::Refilling), heating_us)
            } else {
                f64::from(u8::from(first_on == Some(quarter)))
            };
            let hours = |us: u64| us as f64 / 3.6e9;
            let idle_h = hours(of(State::Ready) + of(State::Stopped) + of(State::Down));
            let running_h = hours(of(State::Starting) + of(State::Washing));
            Quarter {
                water_l: rinse_water * rinse + fill_water * fill,
                kwh: plate.idle_kw * idle_h
                    + (plate.running_kw + plate.dryer_kw) * running_h
                    + rinse_kwh * rinse
                    + fill_kwh * fill,
            }
        })
        .collect()
}

fn share(part: u64, of: u64) -> f64 {
    if of == 0 {
        0.0
    } else {
        part as f64 / of as f64
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::record::{ByState, QUARTER_US};

    fn plate() -> Utilities {
        Utilities {
            water_l_per_rack: 3.0,
            rinse_l_per_h: None,
            rinse_while_running: false,
            dryer_kw: 0.0,
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

    /// A machine's quarter hours, each spent in these states by thirds of the quarter.
    fn actor(quarters: &[[State; 3]]) -> ActorRecord {
        let mut total_us = [0; State::COUNT];
        let quarter = |states: &[State; 3]| {
            let mut by: ByState = [0; State::COUNT];
            for state in states {
                by[state.index()] += QUARTER_US / 3;
                total_us[state.index()] += QUARTER_US / 3;
            }
            by
        };
        ActorRecord {
            quarters: quarters.iter().map(quarter).collect(),
            total_us,
            ..ActorRecord::default()
        }
    }

    #[test]
    fn the_fill_falls_in_the_heating_up_and_the_rinse_goes_with_the_pieces() {
        let actor = actor(&[
            [State::Off, State::Heating, State::Heating],
            [State::Ready, State::Washing, State::Washing],
            [State::Washing; 3],
        ]);
        let mut minutes = vec![0; 45];
        (minutes[20], minutes[35]) = (100, 300);
        let pieces = CountRecord {
            total: 400,
            minutes,
            ..CountRecord::default()
        };
        let used = MachineUse {
            racks: 40,
            fills: 1,
            ..MachineUse::default()
        };
        let draws = quarters(&plate(), &used, &actor, &pieces);
        // 40 racks of 3 litres: 30 litres by the first hundred pieces, 90 by the other three.
        let water: Vec<f64> = draws.iter().map(|draw| draw.water_l).collect();
        assert_eq!(water, [100.0, 30.0, 90.0]);
        // 100 kg by 10 K is 4186.8 kJ, 1.163 kWh within a quarter of an hour; then 90 kg by 30 K, 3.140 kWh, besides
        // 10 kW throughout.
        let near = |a: f64, b: f64| (a - b).abs() < 0.001;
        assert!(near(draws[0].kw(), 4.0 * 1.163), "{draws:?}");
        assert!(near(draws[2].kw(), 10.0 + 4.0 * 3.1401), "{draws:?}");
    }

    #[test]
    fn a_second_filling_falls_in_the_minutes_of_refilling() {
        let actor = actor(&[
            [State::Heating, State::Heating, State::Washing],
            [State::Washing, State::Refilling, State::Refilling],
        ]);
        let used = MachineUse {
            fills: 2,
            ..MachineUse::default()
        };
        let draws = quarters(&plate(), &used, &actor, &CountRecord::default());
        let water: Vec<f64> = draws.iter().map(|draw| draw.water_l).collect();
        assert_eq!(water, [100.0, 100.0]);
    }

    #[test]
    fn machines_that_draw_at_different_times_do_not_add_up() {
        let kw = |kw: f64| Quarter {
            water_l: 0.0,
            kwh: kw / 4.0,
        };
        let apart = [vec![kw(8.0), kw(1.0)], vec![kw(2.0), kw(6.0), kw(3.0)]];
        assert_eq!(highest_kw(&apart), Some(10.0));
        assert_eq!(highest_kw(&[]), None);
    }
}
