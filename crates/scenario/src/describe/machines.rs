//! Machines, in sentences.

use scullery_engine::line::{Control, Line, Machine, MachineKind, RacksTo};

use super::words::{clock, length, listed, span, speed};
use crate::compile::{most_pieces_per_h, racks_per_h};
use crate::defaults::rounded;
use crate::plan::{Plan, Units, Utilities};

pub(crate) fn machines(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for (number, table) in line.racking.iter().enumerate() {
        if let RacksTo::Machine(machine) = table.to {
            told.push(load_end(line, number, machine));
        }
    }
    for (lane, it) in line.lanes.iter().enumerate() {
        let fed: Vec<String> = line
            .fed_by(lane as u8)
            .map(|(_, machine)| machine.name.clone())
            .collect();
        if fed.len() > 1 {
            told.push(format!(
                "Lane {} feeds machines {}: whichever is free takes the next rack.",
                it.name,
                listed(&fed)
            ));
        }
    }
    for (machine, uses) in line.machines.iter().zip(&plan.utilities) {
        told.push(machine_words(plan, machine));
        told.extend(fittings(plan, machine, uses));
    }
}

fn load_end(line: &Line, number: usize, machine: u8) -> String {
    let table = &line.racking[number];
    let ware: Vec<String> = table
        .piles
        .iter()
        .filter_map(|pile| line.classes.get(usize::from(pile.class.0)))
        .map(|class| class.name.clone())
        .collect();
    let machine = line
        .machines
        .get(usize::from(machine))
        .map_or("?", |machine| machine.name.as_str());
    format!(
        "At load end {} {} are placed loose on the belt of machine {machine}, {} pieces at a time.",
        table.name,
        listed(&ware),
        table.grab
    )
}

fn machine_words(plan: &Plan, machine: &Machine) -> String {
    let what = match &machine.kind {
        MachineKind::Door { batch, cycle_s } => format!(
            "door type, {batch} a batch, cycles of {} s",
            rounded(cycle_s.mean())
        ),
        MachineKind::Conveyor { speed_mm_min, .. } => {
            format!("rack conveyor at {}", speed(plan, *speed_mm_min))
        }
        MachineKind::Flight {
            speed_mm_min,
            tunnel_mm,
            ..
        } => format!(
            "flight type, {} of tunnel at {}",
            length(plan, *tunnel_mm),
            speed(plan, *speed_mm_min)
        ),
    };
    let takes = match most_pieces_per_h(&machine.kind) {
        Some(pieces) => format!("at most {pieces:.0} pieces of one kind an hour"),
        None => format!("{:.0} racks an hour", racks_per_h(&machine.kind)),
    };
    let runs = match machine.control {
        Control::RunsThroughout => "runs throughout".to_owned(),
        Control::HoldAndRun {
            racks,
            longest_wait,
            work,
        } => {
            let mut when: Vec<String> = Vec::new();
            if racks < u32::MAX {
                when.push(format!("{racks} racks wait"));
            }
            when.extend(work.map(|work| format!("{} of work wait", span(work))));
            when.extend(longest_wait.map(|wait| format!("something has waited {}", span(wait))));
            format!(
                "starts when {}, and stops when nothing is left",
                when.join(" or ")
            )
        }
    };
    format!(
        "Machine {}: {what}, {takes}; on at {}, hot {} later; it {runs}.",
        machine.name,
        clock(machine.on_at),
        span(machine.heat_up)
    )
}

fn litres(plan: &Plan, ul: u64) -> String {
    let litres = ul as f64 / 1e6;
    match plan.heading.units {
        Units::Metric => format!("{} l", rounded(litres)),
        Units::Us => format!("{} gal", rounded(litres / 3.785_411_784)),
    }
}

fn fittings(plan: &Plan, machine: &Machine, uses: &Utilities) -> Vec<String> {
    let name = &machine.name;
    let mut told = Vec::new();
    if !machine.gap.is_none() {
        told.push(format!(
            "Between one rack and the next into machine {name} {} are lost.",
            span(machine.gap)
        ));
    }
    if let Some(tank) = &machine.tank {
        let mut when: Vec<String> = tank.at.iter().map(|at| clock(*at)).collect();
        when.extend(tank.every_racks.map(|racks| format!("every {racks} racks")));
        told.push(format!(
            "The tank water of machine {name} is changed at {}: {} to drain and fill, {} to heat.",
            listed(&when),
            span(tank.drain_and_fill),
            span(tank.heat)
        ));
    }
    if let Some(hot) = &machine.hot_water {
        told.push(format!(
            "The rinse water of machine {name} comes from a store of {}, of which {} an hour are heated up again; a rack takes {} and waits when there is less.",
            litres(plan, hot.store_ul),
            litres(plan, hot.recovers_ul_per_h),
            litres(plan, hot.rack_ul)
        ));
    }
    if let Some(dosing) = &machine.dosing {
        told.push(format!(
            "The detergent reservoir of machine {name} holds {} kg, {} racks' worth, and warns below {} kg.",
            rounded(dosing.reservoir_mg as f64 / 1e6),
            dosing.reservoir_mg / dosing.rack_mg.max(1),
            rounded(dosing.warns_below_mg as f64 / 1e6)
        ));
    }
    if uses.dryer_kw > 0.0 || machine.dries_to < 1000 {
        told.push(format!(
            "Machine {name} has a blow-dryer of {} kW; {} % of the drying time are left at the clean end.",
            rounded(uses.dryer_kw),
            rounded(f64::from(machine.dries_to) / 10.0)
        ));
    }
    told
}
