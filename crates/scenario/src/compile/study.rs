//! Title, prices, what machines draw, and targets.

use scullery_engine::demand::Demand;
use scullery_engine::line::MachineKind;

use super::checker::Checker;
use super::machines::racks_per_h;
use super::names::Names;
use crate::defaults;
use crate::file::{
    HeatedBy, MachineFile, RinseFlows, Sanitising, ScenarioFile, Tanks, TargetFile, UnitsFile,
};
use crate::plan::{Heading, MachineFacts, Money, Side, Target, Units, Utilities};
use crate::text::clock;

/// Title, note and units.
pub(crate) fn heading(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    demand: &Demand,
    day_words: String,
) -> Heading {
    let written = &file.heading;
    let money = &file.money;
    let priced = money.wage_per_h.is_some()
        || money.water_per_m3.is_some()
        || money.power_per_kwh.is_some()
        || !file.owned.is_empty();
    let days_a_year = match written.days_a_year {
        Some(days) => days,
        None if priced => check.or_default(None, "heading.days_a_year", &defaults::DAYS_A_YEAR),
        None => defaults::DAYS_A_YEAR.value,
    };
    Heading {
        name: written.name.clone(),
        note: written.note.clone().unwrap_or_default(),
        units: if matches!(written.units, Some(UnitsFile::Us)) {
            Units::Us
        } else {
            Units::Metric
        },
        currency: written.currency.clone().unwrap_or_default(),
        day_words,
        days_a_year,
        queue_room_people: written.queue_room_people,
        bells: demand.bells.iter().map(|bell| bell.at).collect(),
    }
}

/// Prices.
pub(crate) fn money(file: &ScenarioFile) -> Money {
    let written = &file.money;
    Money {
        wage_per_h: written.wage_per_h,
        water_per_m3: written.water_per_m3,
        power_per_kwh: written.power_per_kwh,
        heat_per_kwh: written.heat_per_kwh,
        detergent_per_kg: written.detergent_per_kg,
        investment: written.investment,
        upkeep_per_year: written.upkeep_per_year,
        disposable_each: super::ware::disposable_prices(file),
    }
}

/// What each machine draws, and what its plate says of sanitising, in line order.
pub(crate) fn utilities(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    kinds: &[&MachineKind],
) -> Vec<(Utilities, MachineFacts)> {
    let machines: Vec<_> = file.machine.iter().zip(kinds).collect();
    machines
        .into_iter()
        .map(|((name, machine), kind)| draws(check, name, machine, kind))
        .collect()
}

fn draws(
    check: &mut Checker<'_>,
    name: &str,
    machine: &MachineFile,
    kind: &MachineKind,
) -> (Utilities, MachineFacts) {
    let uses = &machine.uses;
    let path = |key: &str| format!("machine.{name}.uses.{key}");
    let door = matches!(kind, MachineKind::Door { .. });
    let by_hour = uses.rinse_l_per_h;
    if by_hour.is_some() && uses.water_l_per_rack.is_some() {
        let message = "rinse water is given by the rack and by the hour".to_owned();
        check.fault(
            "said-twice",
            &path("rinse_l_per_h"),
            message,
            "keep the one on the data plate",
        );
    }
    if door && (by_hour.is_some() || uses.rinse_flows.is_some()) {
        let key = if by_hour.is_some() {
            "rinse_l_per_h"
        } else {
            "rinse_flows"
        };
        let message = "a door machine rinses by the rack".to_owned();
        check.fault("said-twice", &path(key), message, "give `water_l_per_rack`");
    }
    let chemical =
        machine.plate.as_ref().and_then(|plate| plate.sanitising) == Some(Sanitising::Chemical);
    let by_power = uses.rinse_heated_by.unwrap_or(HeatedBy::Power) == HeatedBy::Power;
    let mut or = |given: Option<f64>, key: &str, standard: &defaults::Standard| {
        check.or_default(given, &path(key), standard)
    };
    let pick = |is: bool, one: &'static defaults::Standard, other: &'static defaults::Standard| {
        if is { one } else { other }
    };
    let energy_given = uses.running_kw.is_some() || uses.kwh_per_rack.is_some();
    let utilities = Utilities {
        water_l_per_rack: match by_hour {
            Some(_) => 0.0,
            None => or(
                uses.water_l_per_rack,
                "water_l_per_rack",
                pick(door, &defaults::WATER_DOOR, &defaults::WATER_CONVEYOR),
            ),
        },
        rinse_l_per_h: by_hour,
        rinse_while_running: uses.rinse_flows == Some(RinseFlows::WhileRunning),
        dryer_kw: machine.blow_dryer.as_ref().map_or(0.0, |dryer| dryer.kw),
        plate_racks_per_h: machine
            .plate
            .as_ref()
            .and_then(|plate| plate.racks_per_h)
            .unwrap_or_else(|| racks_per_h(kind)),
        fill_l: or(
            uses.fill_l,
            "fill_l",
            pick(door, &defaults::FILL_DOOR, &defaults::FILL_CONVEYOR),
        ),
        supply_c: or(uses.supply_temp_c, "supply_temp_c", &defaults::SUPPLY),
        rinse_c: or(
            uses.rinse_temp_c,
            "rinse_temp_c",
            pick(chemical, &defaults::RINSE_CHEMICAL, &defaults::RINSE_HOT),
        ),
        wash_c: or(
            uses.wash_temp_c,
            "wash_temp_c",
            pick(door, &defaults::WASH_DOOR, &defaults::WASH_CONVEYOR),
        ),
        heating_efficiency: or(
            uses.heating_efficiency,
            "heating_efficiency",
            pick(
                by_power,
                &defaults::EFFICIENCY_POWER,
                &defaults::EFFICIENCY_BUILDING,
            ),
        ),
        rinse_heated_by_power: by_power,
        idle_kw: or(
            uses.idle_kw,
            "idle_kw",
            pick(door, &defaults::IDLE_DOOR, &defaults::IDLE_CONVEYOR),
        ),
        running_kw: match uses.running_kw {
            None if !energy_given && !door => or(None, "running_kw", &defaults::RUNNING_CONVEYOR),
            given => given.unwrap_or(0.0),
        },
        kwh_per_rack: match uses.kwh_per_rack {
            None if !energy_given && door => or(None, "kwh_per_rack", &defaults::RACK_KWH_DOOR),
            given => given.unwrap_or(0.0),
        },
        detergent_g_per_l: or(
            uses.detergent_g_per_l,
            "detergent_g_per_l",
            &defaults::DETERGENT,
        ),
    };
    let facts = MachineFacts {
        chemical,
        several_tanks: machine.plate.as_ref().and_then(|plate| plate.tanks) == Some(Tanks::Several),
        wash_given: uses.wash_temp_c.is_some(),
        rinse_given: uses.rinse_temp_c.is_some(),
        plate_rate_given: machine
            .plate
            .as_ref()
            .is_some_and(|plate| plate.racks_per_h.is_some()),
        plate_pieces_per_h: machine.plate.as_ref().and_then(|plate| plate.pieces_per_h),
    };
    (utilities, facts)
}

/// Targets, in file order.
pub(crate) fn targets(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Target> {
    file.target
        .iter()
        .enumerate()
        .map(|(index, written)| target(check, written, &format!("target.{index}"), names))
        .collect()
}

fn target(check: &mut Checker<'_>, written: &TargetFile, path: &str, names: &Names) -> Target {
    measure(check, &written.measure, &format!("{path}.measure"), names);
    let is_clock = written.measure.ends_with("_clock_min");
    let given = [
        written.at_most.is_some(),
        written.at_least.is_some(),
        written.at_latest.is_some(),
    ];
    if given.iter().filter(|given| **given).count() != 1 {
        let message = format!(
            "a target has one bound, found {}",
            given.iter().filter(|given| **given).count()
        );
        check.fault(
            "one-bound",
            path,
            message,
            "write `at_most`, `at_least` or `at_latest`",
        );
    } else if is_clock != written.at_latest.is_some() {
        let (message, help) = if is_clock {
            (
                format!(
                    "{} is a clock time, and its bound must be one",
                    written.measure
                ),
                "write for example `at_latest = \"15:00\"`",
            )
        } else {
            (
                format!("{} is no clock time, but its bound is one", written.measure),
                "write `at_most` or `at_least` with a number",
            )
        };
        check.fault("one-bound", path, message, help);
    }
    let (side, bound) = match (written.at_most, written.at_least, &written.at_latest) {
        (Some(bound), ..) => (Side::AtMost, bound),
        (_, Some(bound), _) => (Side::AtLeast, bound),
        (_, _, Some(text)) => (
            Side::AtMost,
            check.clock(&format!("{path}.at_latest"), text).min(),
        ),
        _ => (Side::AtMost, 0.0),
    };
    if written.on_average && written.in_meals_of_100.is_some() {
        let message = "a target holds on average or in so many meals of 100, found both".to_owned();
        check.fault(
            "said-twice",
            &format!("{path}.in_meals_of_100"),
            message,
            "keep one of the two",
        );
    }
    let in_meals_of_100 = if written.on_average {
        None
    } else {
        let key = format!("target ({}).in_meals_of_100", written.measure);
        Some(check.or_default(written.in_meals_of_100, &key, &defaults::TARGET_MEALS))
    };
    let words = written
        .words
        .clone()
        .unwrap_or_else(|| words(written, side, bound, in_meals_of_100));
    Target {
        words,
        measure: written.measure.clone(),
        side,
        bound,
        in_meals_of_100,
    }
}

fn words(written: &TargetFile, side: Side, bound: f64, meals: Option<f64>) -> String {
    let (subject, what) = written
        .measure
        .rsplit_once('.')
        .unwrap_or(("", &written.measure));
    let what = what.replace('_', " ");
    let subject = subject.replace(['.', '_'], " ");
    let bound = match &written.at_latest {
        Some(text) => clock::parse(text).map_or_else(|| text.clone(), |_| text.trim().to_owned()),
        None => defaults::rounded(bound),
    };
    let side = match (side, &written.at_latest) {
        (_, Some(_)) => "not later than",
        (Side::AtMost, _) => "at most",
        (Side::AtLeast, _) => "at least",
    };
    let often = match meals {
        Some(meals) => format!("in {} of 100 meals", defaults::rounded(meals)),
        None => "on average".to_owned(),
    };
    format!("{subject} {what} {side} {bound}, {often}")
        .trim()
        .to_owned()
}

/// Checks that a measure's id is well formed and names what is in the file.
fn measure(check: &mut Checker<'_>, id: &str, path: &str, names: &Names) {
    let parts: Vec<&str> = id.split('.').collect();
    let last = parts.last().copied().unwrap_or("");
    let plain = !last.is_empty()
        && last
            .bytes()
            .all(|letter| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == b'_');
    let list: Option<(&[String], &str)> = match parts.first().copied().unwrap_or("") {
        "drop_off" => Some((&names.drop_offs, "drop-off")),
        "belt" => Some((&names.belts, "belt")),
        "table" => Some((&names.tables, "table")),
        "carts" | "gathered" | "carts_to_wash" | "carts_ready" => Some((&names.carts, "carts")),
        "ware" => Some((&names.ware, "ware")),
        "lane" => Some((&names.lanes, "lane")),
        "clean_end" => Some((&names.clean_ends, "clean end")),
        "machine" => Some((&names.machines, "machine")),
        "worker" => Some((&names.people, "worker")),
        "trouble" => Some((&names.troubles, "trouble")),
        "racks_empty" => Some((&names.racks, "rack kind")),
        "racks_open" => Some((&names.racking, "racking table")),
        "pile" | "stock" | "held_back" => Some((&names.ware, "ware")),
        "runout" if parts.len() == 3 => Some((&names.ware, "ware")),
        "runout" | "backlog" | "clean" | "line" | "overflow" => None,
        other => {
            let message =
                format!("a measure is of a place, a person or the line, found \"{other}\"");
            let kinds = [
                "drop_off",
                "belt",
                "table",
                "carts",
                "gathered",
                "carts_to_wash",
                "carts_ready",
                "ware",
                "trouble",
                "held_back",
                "racks_empty",
                "racks_open",
                "pile",
                "lane",
                "clean_end",
                "machine",
                "worker",
                "runout",
                "stock",
                "backlog",
                "clean",
                "line",
                "overflow",
            ];
            let help = match crate::text::walk::nearest(other, kinds.into_iter()) {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => format!("it begins with one of {}", kinds.join(", ")),
            };
            check.fault("unknown-measure", path, message, help);
            return;
        }
    };
    let length = if list.is_some() { 3 } else { 2 };
    // A level above a racking table is named behind it.
    let deeper = parts[0] == "racks_open" && parts.len() == 4;
    if !plain || (parts.len() != length && !deeper) {
        let shape = if length == 3 {
            format!("{}.NAME.WHAT_UNIT", parts[0])
        } else {
            format!("{}.WHAT_UNIT", parts[0])
        };
        let message = format!("this measure must have the form {shape}, found \"{id}\"");
        check.fault(
            "unknown-measure",
            path,
            message,
            "for example `drop_off.main.wait_p95_s` or `line.cost_per_cover`",
        );
    } else if let Some((list, what)) = list {
        check.find(list, parts[1], path, what);
    }
}
