//! Racks in the loop and ware away from the servery, by Little's law.

use scullery_engine::line::{Back, Line, MachineKind, Release};
use scullery_engine::time::{SimTime, Span};

use super::figures::{Figure, figure};
use super::flow::Flow;
use super::stages::{is_held_back, is_held_between, is_washed, placed_on};
use super::work::{pieces_a_rack, pieces_a_second_rack, tray_work_s};
use crate::compile::racks_per_h;
use crate::defaults::rounded;
use crate::describe::words::clock;
use crate::plan::Plan;

/// Seconds from the lane to being back for a full rack of a class, nothing waiting for anything; of the first of two passes
/// where `first`.
fn trip_s(plan: &Plan, class: usize, first: bool) -> f64 {
    let line = &plan.line;
    let a_rack = pieces_a_second_rack(line, class).or_else(|| pieces_a_rack(line, class));
    let a_rack = a_rack.unwrap_or(1.0);
    let ware = &line.classes[class];
    let Some(machine) = line.machines.first() else {
        return 0.0;
    };
    let inside = match &machine.kind {
        MachineKind::Door { cycle_s, .. } => cycle_s.mean(),
        MachineKind::Conveyor {
            tunnel_mm,
            speed_mm_min,
            ..
        }
        | MachineKind::Flight {
            tunnel_mm,
            speed_mm_min,
            ..
        } => 60.0 * f64::from(*tunnel_mm) / f64::from((*speed_mm_min).max(1)),
    };
    let load = machine.loading.as_ref().map_or(0.0, |load| load.rack_s);
    let Some(end) = machine
        .to
        .and_then(|end| line.clean_ends.get(usize::from(end)))
    else {
        return load + inside;
    };
    let in_its_rack = if ware.stays_in_rack {
        0.0
    } else {
        ware.unload_s * a_rack
    };
    let unload = if end.by_hand {
        in_its_rack + ware.unload_rack_s
    } else {
        0.0
    };
    let back = match end.back {
        Back::After(after) => after.s(),
        Back::Trips { lasts, .. } => lasts.s(),
    };
    if let Some(second) = ware.second_pass.as_ref().filter(|_| first) {
        return load + inside + if end.by_hand { second.take_off_s } else { 0.0 } + back;
    }
    load + inside + ware.dry.s() + unload + back
}

/// Racks in use at the busiest quarter hour against the pool, by kind: one open for each class, and, by Little's law, the
/// rate of full racks times the length of their way round. Waiting is left out, so more are needed when anything binds.
pub(crate) fn racks_in_loop(plan: &Plan, peak_quarter: f64) -> Vec<Figure> {
    let line = &plan.line;
    let trays: f64 = peak_quarter * 4.0;
    let mut needed = vec![0.0; line.rack_kinds.len()];
    let mut beside = vec![String::new(); line.rack_kinds.len()];
    for class in (0..line.classes.len())
        .filter(|class| is_washed(line, *class) && placed_on(line, *class).is_none())
    {
        let Some((rack, a_rack)) = line.classes[class].fits.first() else {
            continue;
        };
        let rack = usize::from(rack.0);
        let pieces: f64 = mean_pieces(plan, class);
        if is_held_back(line, class) {
            beside[rack] = format!(", {} held back not counted", line.classes[class].name);
            continue;
        }
        let machines: f64 = line
            .machines
            .iter()
            .map(|machine| racks_per_h(&machine.kind))
            .sum();
        let racks_per_h = |a_rack: u16| (trays * pieces / f64::from(a_rack)).min(machines);
        needed[rack] += 1.0 + racks_per_h(*a_rack) * trip_s(plan, class, true) / 3600.0;
        let second = &line.classes[class].second_pass;
        if let Some((again, a_rack)) = second.as_ref().and_then(|second| second.fits.first())
            && !is_held_between(line, class)
        {
            needed[usize::from(again.0)] +=
                1.0 + racks_per_h(*a_rack) * trip_s(plan, class, false) / 3600.0;
        }
        if line.classes[class].stays_in_rack {
            beside[rack] = ", those standing at the servery come on top".to_owned();
        }
    }
    let kinds = line
        .rack_kinds
        .iter()
        .zip(needed)
        .zip(beside)
        .filter(|((_, needed), _)| *needed > 0.0);
    kinds
        .map(|((kind, needed), beside)| {
            let words = format!(
                "Of {} {} racks about {} are in use in the busiest quarter hour when nothing waits{beside}.",
                kind.count,
                kind.name,
                rounded(needed)
            );
            figure(format!("rack.{}.in_loop", kind.name), needed, "racks", words, needed > 0.7 * f64::from(kind.count))
        })
        .collect()
}

/// Mean pieces of a class on a tray that is brought back at all, by the shares at the start.
fn mean_pieces(plan: &Plan, class: usize) -> f64 {
    let share =
        |kind: &scullery_engine::demand::Kind| kind.share.first().map_or(0.0, |(_, share)| *share);
    let carrying = plan
        .demand
        .kinds
        .iter()
        .filter(|kind| kind.pieces.iter().any(|pieces| *pieces > 0.0));
    let all: f64 = carrying.clone().map(share).sum();
    if all <= 0.0 {
        0.0
    } else {
        carrying
            .map(|kind| share(kind) * kind.pieces[class])
            .sum::<f64>()
            / all
    }
}

/// Pieces away from the servery at most, against par, by class whose stock is followed. Away from being served until the
/// shortest way round the line; ware held back until a clock time is away until then.
pub(crate) fn ware_needed(plan: &Plan, flow: &Flow) -> Vec<Figure> {
    let line = &plan.line;
    let mut told = Vec::new();
    for (class, ware) in line.classes.iter().enumerate() {
        let Some(par) = ware.par else { continue };
        let carts_s = line
            .delivery
            .as_ref()
            .map_or(0.0, |carts| carts.trip.s() / 2.0);
        let scrap_s = (0..plan.demand.kinds.len())
            .map(|kind| tray_work_s(plan, kind))
            .fold(0.0, f64::max);
        let belt_s = line
            .belts
            .iter()
            .map(|belt| {
                f64::from(belt.length_mm)
                    / f64::from(belt.speed.first().map_or(1, |(_, speed)| *speed).max(1))
                    * 60.0
            })
            .fold(0.0, f64::max);
        let fill_s = line
            .racking
            .iter()
            .filter_map(|table| table.limit)
            .map(Span::s)
            .fold(0.0, f64::max)
            / 2.0;
        let twice_s = match &ware.second_pass {
            Some(second) => trip_s(plan, class, true) + sorting_s(line, class, second.at),
            None => 0.0,
        };
        let round_s = carts_s + scrap_s + belt_s + fill_s + twice_s + trip_s(plan, class, false);
        let away_min = (round_s / 60.0).round() as usize;
        let until =
            held_until(plan, class).map(|at| (at.min() as usize).saturating_sub(flow.from_min));
        let minutes = flow.served.len();
        let mut change = vec![0.0; minutes];
        for (kind, diner) in plan.demand.kinds.iter().enumerate() {
            let pieces = diner.pieces[class];
            for minute in 0..minutes {
                change[minute] += flow.by_kind[kind][minute] * pieces;
                let home = (minute + away_min).max(until.unwrap_or(0));
                if home < minutes {
                    change[home] -= flow.dropped[kind][minute] * pieces;
                }
            }
        }
        let (mut away, mut most, mut when) = (0.0, 0.0, 0);
        for (minute, change) in change.iter().enumerate() {
            away += change;
            if away > most {
                (most, when) = (away, minute);
            }
        }
        if most < 0.5 {
            continue;
        }
        let at = clock(SimTime::from_min((flow.from_min + when) as f64));
        let words = format!(
            "{}: of {par} pieces about {most:.0} are away from the servery at {at} when nothing waits.",
            ware.name
        );
        told.push(figure(
            format!("ware.{}.needed", ware.name),
            most,
            "pieces",
            words,
            most > 0.9 * f64::from(par),
        ));
    }
    told
}

/// Seconds to sort a rack of the second pass of a class.
fn sorting_s(line: &Line, class: usize, at: u8) -> f64 {
    let table = line.racking.get(usize::from(at));
    let mut piles = table.iter().flat_map(|table| &table.piles);
    let pile = piles.find(|pile| usize::from(pile.class.0) == class);
    pile.map_or(0.0, |pile| pile.piece_s) * pieces_a_second_rack(line, class).unwrap_or(0.0)
}

fn held_until(plan: &Plan, class: usize) -> Option<SimTime> {
    let piles = plan.line.racking.iter().flat_map(|table| &table.piles);
    let pile = piles
        .into_iter()
        .find(|pile| usize::from(pile.class.0) == class)?;
    pile.held_back.iter().find_map(|release| match release {
        Release::From(at) | Release::LaneBelowFrom(_, at) => Some(*at),
        _ => None,
    })
}
