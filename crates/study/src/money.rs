//! What a meal takes, and what that costs: labour, water, heat, electricity, detergent.
//!
//! All formulas are plain arithmetic on exact times and counts of one meal; the rates are the user's own
//! ([`Utilities`], [`Money`]), from the machine's data plate and the bills.

use scullery_engine::ended::Ended;
use scullery_engine::line::MachineKind;
use scullery_engine::watch::{ActorKind, Catalogue, Counted, State};
use scullery_scenario::plan::{Money, Plan, Utilities};

use crate::record::{ActorRecord, MealRecord};

/// Specific heat of water, kJ/(kg K): the international steam-table calorie, 4.1868 J, a gram and kelvin.
pub const WATER_KJ_PER_KG_K: f64 = 4.1868;
/// A litre of water is taken as one kilogram.
pub const WATER_KG_PER_L: f64 = 1.0;

/// What one machine did in one meal.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct MachineUse {
    /// Racks that went in.
    pub racks: u64,
    /// Hours in which the final rinse flowed; `None` for a machine that rinses by the rack (door type).
    pub rinse_h: Option<f64>,
    /// Tank fillings.
    pub fills: u64,
    /// Hours hot and not running: ready, stopped with the clean end full, or down.
    pub idle_h: f64,
    /// Hours running: starting and washing.
    pub running_h: f64,
}

/// Amounts of one meal.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Amounts {
    /// Paid hours.
    pub labour_h: f64,
    /// Fresh water, litres.
    pub water_l: f64,
    /// Heat for water heated away from the machine, kWh.
    pub heat_kwh: f64,
    /// Electricity, kWh.
    pub power_kwh: f64,
    /// Detergent, kg.
    pub detergent_kg: f64,
    /// Disposable pieces given where ware had run out.
    pub disposables: f64,
    /// What they cost, as far as they have a price.
    pub disposables_cost: f64,
}

/// Heat to warm water, in kWh.
///
/// # Formula
/// kg x 4.1868 kJ/(kg K) x K / efficiency / 3600
pub fn heat_kwh(water_kg: f64, rise_k: f64, efficiency: f64) -> f64 {
    water_kg * WATER_KJ_PER_KG_K * rise_k.max(0.0) / efficiency / 3600.0
}

/// Final-rinse water of one machine, in litres.
///
/// # Formula
/// Where the rinse flows by time: the data plate's litres an hour, or its litres a rack x racks an hour, x hours of flow.
/// Where it flows by the rack: litres a rack x racks.
pub fn rinse_l(plate: &Utilities, used: &MachineUse) -> f64 {
    match used.rinse_h {
        Some(hours) => plate.rinse_rate_l_per_h() * hours,
        None => plate.water_l_per_rack * used.racks as f64,
    }
}

/// Water, heat, electricity and detergent of one machine; no labour.
///
/// # Formula
/// Water: final rinse ([`rinse_l`]) and fillings. Heat: rinse from supply to rinse temperature, fillings from supply
/// to tank temperature, both in the machine by electricity or by the building's heat as the plan says. Electricity
/// besides: idle kW x idle hours + (running kW + blow-dryer kW) x running hours + kWh a rack x racks. Detergent: grams a litre of fresh
/// water.
pub fn machine_amounts(plate: &Utilities, used: &MachineUse) -> Amounts {
    let rinse = rinse_l(plate, used);
    let fills = plate.fill_l * used.fills as f64;
    let warm = |litres: f64, to_c: f64| {
        heat_kwh(
            litres * WATER_KG_PER_L,
            to_c - plate.supply_c,
            plate.heating_efficiency,
        )
    };
    let heat = warm(rinse, plate.rinse_c) + warm(fills, plate.wash_c);
    let motors = plate.idle_kw * used.idle_h
        + (plate.running_kw + plate.dryer_kw) * used.running_h
        + plate.kwh_per_rack * used.racks as f64;
    let water_l = rinse + fills;
    let (heat_kwh, power_kwh) = if plate.rinse_heated_by_power {
        (0.0, motors + heat)
    } else {
        (heat, motors)
    };
    Amounts {
        labour_h: 0.0,
        water_l,
        heat_kwh,
        power_kwh,
        detergent_kg: plate.detergent_g_per_l * water_l / 1000.0,
        ..Amounts::default()
    }
}

impl Amounts {
    /// Both together.
    pub fn plus(self, other: Amounts) -> Amounts {
        Amounts {
            labour_h: self.labour_h + other.labour_h,
            water_l: self.water_l + other.water_l,
            heat_kwh: self.heat_kwh + other.heat_kwh,
            power_kwh: self.power_kwh + other.power_kwh,
            detergent_kg: self.detergent_kg + other.detergent_kg,
            disposables: self.disposables + other.disposables,
            disposables_cost: self.disposables_cost + other.disposables_cost,
        }
    }

    /// Cost of each amount, in the order labour, water, heat, electricity, detergent, disposables; `None` where no price is
    /// given.
    pub fn costs(&self, money: &Money) -> [Option<f64>; 6] {
        [
            money.wage_per_h.map(|price| price * self.labour_h),
            money
                .water_per_m3
                .map(|price| price * self.water_l / 1000.0),
            money.heat_per_kwh.map(|price| price * self.heat_kwh),
            money.power_per_kwh.map(|price| price * self.power_kwh),
            money
                .detergent_per_kg
                .map(|price| price * self.detergent_kg),
            money
                .disposable_each
                .iter()
                .any(Option::is_some)
                .then_some(self.disposables_cost),
        ]
    }

    /// Cost of all that has a price; `None` when nothing has.
    pub fn cost(&self, money: &Money) -> Option<f64> {
        let costs = self.costs(money);
        let priced = costs.iter().flatten();
        (priced.clone().count() > 0).then(|| priced.sum())
    }
}

/// What a plan's crew was paid for and what its machines took, read from one meal and from what its machines did
/// (`uses`, in line order).
///
/// Labour: every minute on shift within the run, paid breaks included, and every minute past the shift. A run without a
/// stated end lasts until the last shift is over, so its shifts are whole.
pub fn amounts(
    plan: &Plan,
    catalogue: &Catalogue,
    meal: &MealRecord,
    ended: &Ended,
    uses: &[MachineUse],
) -> Amounts {
    let paid_us: u64 = actors(catalogue, meal, ActorKind::Worker)
        .map(ActorRecord::paid_us)
        .sum();
    let unpaid_us: u64 = ended.unpaid_us.iter().sum();
    let labour = Amounts {
        labour_h: hours(paid_us.saturating_sub(unpaid_us)),
        ..Amounts::default()
    };
    let labour = labour.plus(disposables(plan, catalogue, meal));
    let labour = labour.plus(disposers(plan, ended));
    let labour = labour.plus(aids(plan, catalogue, meal));
    let plated = plan.utilities.iter().zip(uses);
    plated.fold(labour, |sum, (plate, used)| {
        sum.plus(machine_amounts(plate, used))
    })
}

fn actors<'a>(
    catalogue: &'a Catalogue,
    meal: &'a MealRecord,
    kind: ActorKind,
) -> impl Iterator<Item = &'a ActorRecord> + 'a {
    let all = catalogue.actors.iter().zip(&meal.actors);
    all.filter(move |(info, _)| info.kind == kind)
        .map(|(_, record)| record)
}

/// Water and electricity of sprays and other aids at posts.
///
/// # Formula
/// litres a minute x minutes running; kW x hours running
fn aids(plan: &Plan, catalogue: &Catalogue, meal: &MealRecord) -> Amounts {
    let ran = counted(catalogue, meal, Counted::AidMs);
    plan.aids
        .iter()
        .zip(ran)
        .fold(Amounts::default(), |sum, (draws, ms)| {
            let min = ms as f64 / 60_000.0;
            sum.plus(Amounts {
                water_l: draws.water_l_per_min * min,
                power_kwh: draws.running_kw * min / 60.0,
                ..Amounts::default()
            })
        })
}

/// Water and electricity of disposers and pulpers and their troughs.
///
/// # Formula
/// litres a minute x minutes running; kW x hours running
fn disposers(plan: &Plan, ended: &Ended) -> Amounts {
    let each = plan.disposers.iter().zip(&ended.waste_us);
    each.fold(Amounts::default(), |sum, (draws, us)| {
        sum.plus(Amounts {
            water_l: draws.water_l_per_min * hours(*us) * 60.0,
            power_kwh: draws.running_kw * hours(*us),
            ..Amounts::default()
        })
    })
}

/// Disposable pieces, given where a class had run out or by the clock.
fn disposables(plan: &Plan, catalogue: &Catalogue, meal: &MealRecord) -> Amounts {
    let given = counted(catalogue, meal, Counted::Disposables).enumerate();
    given.fold(Amounts::default(), |sum, (i, pieces)| {
        let each = plan.money.disposable_each.get(i).copied().flatten();
        sum.plus(Amounts {
            disposables: pieces as f64,
            disposables_cost: each.unwrap_or(0.0) * pieces as f64,
            ..Amounts::default()
        })
    })
}

/// What each machine did in one meal, in line order.
pub fn machine_uses(
    plan: &Plan,
    catalogue: &Catalogue,
    meal: &MealRecord,
    ended: &Ended,
) -> Vec<MachineUse> {
    let machines = actors(catalogue, meal, ActorKind::Machine).enumerate();
    machines
        .map(|(i, actor)| machine_use(plan, catalogue, meal, i, actor, ended))
        .collect()
}

fn machine_use(
    plan: &Plan,
    catalogue: &Catalogue,
    meal: &MealRecord,
    i: usize,
    actor: &ActorRecord,
    ended: &Ended,
) -> MachineUse {
    let machine = plan.line.machines.get(i);
    let rinses_by_time = machine.is_some_and(|m| !matches!(m.kind, MachineKind::Door { .. }));
    let while_running = plan.utilities.get(i).is_some_and(|u| u.rinse_while_running);
    let was_on = actor.total_us.iter().sum::<u64>() > actor.us(State::Off);
    let idle = actor.us(State::Ready) + actor.us(State::Stopped) + actor.us(State::Down);
    let rinse_us = if while_running {
        actor.us(State::Washing)
    } else {
        ended.rinse_us.get(i).copied().unwrap_or(0)
    };
    let of = |what: Counted| counted(catalogue, meal, what).nth(i).unwrap_or(0);
    let mut hot = plan.line.already.hot.iter();
    let hot_at_the_start = hot.any(|&hot| usize::from(hot) == i);
    MachineUse {
        racks: of(Counted::RacksIn),
        rinse_h: rinses_by_time.then(|| hours(rinse_us)),
        fills: u64::from(was_on && !hot_at_the_start) + of(Counted::TankFills),
        idle_h: hours(idle),
        running_h: hours(actor.us(State::Starting) + actor.us(State::Washing)),
    }
}

fn counted<'a>(
    catalogue: &'a Catalogue,
    meal: &'a MealRecord,
    what: Counted,
) -> impl Iterator<Item = u64> + 'a {
    let all = catalogue.counts.iter().zip(&meal.counts);
    all.filter(move |(info, _)| info.counted == what)
        .map(|(_, record)| record.total)
}

fn hours(us: u64) -> f64 {
    us as f64 / 3.6e9
}
