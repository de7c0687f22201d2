//! What machines take, against their lanes, loaders, data plates, hot water and detergent.

use scullery_engine::line::{LaneKind, MachineKind, RacksTo};

use super::figures::{Figure, figure};
use crate::compile::{lane_room, most_pieces_per_h, racks_per_h};
use crate::defaults::rounded;
use crate::plan::Plan;

/// Figures of every machine and of the lane before it.
pub(crate) fn machines(plan: &Plan, told: &mut Vec<Figure>) {
    let line = &plan.line;
    for (number, lane) in line.lanes.iter().enumerate() {
        // Where it hands over, the machines are at the end of the last lane.
        let last = line.last_lane(number as u8);
        let fed = line.fed_by(last);
        let rate: f64 = fed.map(|(_, machine)| racks_per_h(&machine.kind)).sum();
        let Some(room) = lane_room(lane).filter(|_| rate > 0.0) else {
            continue;
        };
        let minutes = f64::from(room) * 60.0 / rate;
        let fed: Vec<String> = line
            .fed_by(last)
            .map(|(_, machine)| machine.name.clone())
            .collect();
        let words = format!(
            "Lane {} holds {room} racks: {} min of machine {}.",
            lane.name,
            rounded(minutes),
            fed.join(" and ")
        );
        let id = format!("lane.{}.holds", lane.name);
        told.push(figure(id, f64::from(room), "racks", words, false));
        transit(plan, number, told);
    }
    for number in 0..line.machines.len() {
        takes(plan, number, told);
        pieces(plan, number, told);
        supplies(plan, number, told);
    }
}

/// How long a rack runs over a lane in series, or down an incline.
fn transit(plan: &Plan, number: usize, told: &mut Vec<Figure>) {
    let line = &plan.line;
    let lane = &line.lanes[number];
    let LaneKind::Rollers {
        length_mm, speed, ..
    } = &lane.kind
    else {
        return;
    };
    let incline = plan.facts.inclines.get(number).copied().flatten();
    let in_series = lane.hands_to.is_some()
        || line
            .lanes
            .iter()
            .any(|other| other.hands_to == Some(number as u8));
    let mm_min = speed.first().map_or(1, |(_, mm_min)| *mm_min).max(1);
    let seconds = incline.map_or(60.0 * f64::from(*length_mm) / f64::from(mm_min), |it| {
        it.seconds
    });
    let words = match incline {
        Some(it) => format!(
            "A rack runs down lane {} in {} s; held by nothing it would come to the end at {} m a minute, it is let run at {}.",
            lane.name,
            rounded(seconds),
            rounded(it.free_m_per_min),
            rounded(it.top_m_per_min)
        ),
        None if in_series => {
            format!(
                "A rack takes {} s along lane {}.",
                rounded(seconds),
                lane.name
            )
        }
        None => return,
    };
    let id = format!("lane.{}.transit", lane.name);
    told.push(figure(id, seconds, "s", words, false));
}

/// Racks an hour a machine takes, with the hands at the load end and the loader's gap.
pub(super) fn takes_racks_per_h(plan: &Plan, number: usize) -> f64 {
    let machine = &plan.line.machines[number];
    let gap = machine.gap.s();
    let (batch, load_s) = match (&machine.kind, &machine.loading) {
        (MachineKind::Door { batch, .. }, Some(load)) => (f64::from(*batch), load.rack_s),
        (MachineKind::Door { batch, .. }, None) => (f64::from(*batch), 0.0),
        _ => (1.0, 0.0),
    };
    batch * 3600.0 / (batch * 3600.0 / racks_per_h(&machine.kind) + load_s + gap)
}

/// Racks an hour, and what slows the machine down.
fn takes(plan: &Plan, number: usize, told: &mut Vec<Figure>) {
    let machine = &plan.line.machines[number];
    if machine.from.is_none() {
        return;
    }
    let real = takes_racks_per_h(plan, number);
    let gap_words = match machine.gap.s() {
        gap if gap > 0.0 => format!(", {} s lost each time counted", rounded(gap)),
        _ => String::new(),
    };
    let hands = match (&machine.kind, &machine.loading) {
        (MachineKind::Door { .. }, Some(load)) => {
            format!(", {} s of loading each time counted", rounded(load.rack_s))
        }
        (_, Some(load)) if load.rack_s > 0.0 => {
            let loader = 3600.0 / load.rack_s * f64::from(load.places);
            format!(
                "; a loader at {} s a rack keeps up with {} an hour",
                rounded(load.rack_s),
                rounded(loader)
            )
        }
        _ => String::new(),
    };
    let plate = plan.utilities[number].plate_racks_per_h;
    let words = format!(
        "Machine {} takes {} racks an hour, {} % of its data plate{gap_words}{hands}.",
        machine.name,
        rounded(real),
        rounded(100.0 * real / plate.max(1e-9))
    );
    let id = format!("machine.{}.takes", machine.name);
    told.push(figure(id, real, "racks/h", words, false));
}

/// Pieces an hour of a flight machine, and what one person places.
fn pieces(plan: &Plan, number: usize, told: &mut Vec<Figure>) {
    let line = &plan.line;
    let machine = &line.machines[number];
    let Some(most) = most_pieces_per_h(&machine.kind) else {
        return;
    };
    let plate = plan.facts.machines[number].plate_pieces_per_h;
    let plate = plate.map_or(String::new(), |plate| {
        format!(", {} % of its data plate", rounded(100.0 * most / plate))
    });
    let each: Vec<String> = (0..line.classes.len())
        .filter_map(|class| {
            let rate = machine.pieces_per_h(class)?;
            Some(format!("{} {:.0}", line.classes[class].name, rate / 60.0))
        })
        .collect();
    let words = format!(
        "The belt of machine {} takes at most {most:.0} pieces of one class an hour{plate}; a minute of one class alone: {}.",
        machine.name,
        each.join(", ")
    );
    let id = format!("machine.{}.takes_pieces", machine.name);
    told.push(figure(id, most, "pieces/h", words, false));
    for table in &line.racking {
        if table.to != RacksTo::Machine(number as u8) {
            continue;
        }
        let slowest = table.piles.iter().map(|pile| pile.piece_s);
        let slowest = slowest.fold(0.0, f64::max);
        if slowest > 0.0 {
            let places = 60.0 / slowest;
            let words = format!(
                "One person places at least {} pieces a minute at load end {}; {} can stand there.",
                rounded(places),
                table.name,
                table.places
            );
            let id = format!("placing.{}.a_person", table.name);
            told.push(figure(id, places, "pieces/min", words, false));
        }
    }
}

/// Hot water and detergent: what they last for.
fn supplies(plan: &Plan, number: usize, told: &mut Vec<Figure>) {
    let machine = &plan.line.machines[number];
    let own = racks_per_h(&machine.kind);
    if let Some(hot) = &machine.hot_water {
        let sustained = hot.recovers_ul_per_h as f64 / (hot.rack_ul as f64).max(1.0);
        let binds = sustained < own;
        let lasts = if binds {
            let racks = hot.store_ul as f64 / (hot.rack_ul as f64).max(1.0);
            let minutes = racks / (own - sustained) * 60.0;
            format!(
                "less than the {} it takes: a full store lasts {} min at that rate",
                rounded(own),
                rounded(minutes)
            )
        } else {
            "enough for its whole rate".to_owned()
        };
        let words = format!(
            "The heater of machine {} keeps up with {} racks an hour, {lasts}.",
            machine.name,
            rounded(sustained)
        );
        let id = format!("machine.{}.hot_water", machine.name);
        told.push(figure(id, sustained, "racks/h", words, binds));
    }
    if let Some(dosing) = machine.dosing.as_ref().filter(|dosing| dosing.rack_mg > 0) {
        let racks = dosing.reservoir_mg / dosing.rack_mg;
        let words = format!(
            "A full detergent reservoir of machine {} is enough for {racks} racks, {} min at its own rate.",
            machine.name,
            rounded(racks as f64 * 60.0 / own.max(1e-9))
        );
        let id = format!("machine.{}.detergent", machine.name);
        told.push(figure(id, racks as f64, "racks", words, false));
    }
}
