//! Figures of carts and tubs: how many come, what emptying and washing them asks.

use scullery_engine::demand::LoadWhen;

use super::figures::{Figure, figure};
use super::flow::Flow;
use super::work::tray_work_s;
use crate::defaults::rounded;
use crate::describe::words::span;
use crate::plan::Plan;
use scullery_engine::time::Span;

/// Trays that go by these carts on the stated day: how many, and their work at the table in seconds.
fn by_carts(plan: &Plan, flow: &Flow, number: usize) -> (f64, f64) {
    let mut trays = 0.0;
    let mut work_s = 0.0;
    for (kind, it) in plan.demand.kinds.iter().enumerate() {
        if it.carts.map(usize::from) == Some(number) {
            let courses = it.courses.len().max(1) as f64;
            let came: f64 = flow.dropped[kind].iter().sum();
            trays += came * if it.courses.is_empty() { 1.0 } else { courses };
            work_s += came * tray_work_s(plan, kind);
        }
    }
    (trays, work_s)
}

/// Figures of each kind of cart.
pub(crate) fn carts(plan: &Plan, flow: Option<&Flow>, told: &mut Vec<Figure>) {
    for (number, carts) in plan.line.carts.iter().enumerate() {
        let name = &carts.name;
        let all = f64::from(carts.count) * f64::from(carts.holds);
        told.push(figure(
            format!("carts.{name}.holds"),
            all,
            "trays",
            format!(
                "{} of \"{name}\" hold {} trays or covers' ware in all.",
                carts.count,
                rounded(all)
            ),
            false,
        ));
        let Some(flow) = flow else { continue };
        let (trays, work_s) = by_carts(plan, flow, number);
        if trays <= 0.0 {
            continue;
        }
        let trips = (trays / f64::from(carts.holds)).ceil();
        let empty_s = work_s / trips;
        told.push(figure(
            format!("carts.{name}.trips"),
            trips,
            "count",
            format!(
                "About {} of \"{name}\" come full in a meal; emptying one is {} of work at the table.",
                rounded(trips),
                span(Span::from_s(empty_s))
            ),
            false,
        ));
        if let Some(wash) = &carts.wash {
            let hours = trips * wash.cart_s / 3600.0;
            told.push(figure(
                format!("carts.{name}.wash_h"),
                hours,
                "h",
                format!("Washing them all takes {} person-hours.", rounded(hours)),
                false,
            ));
        }
    }
    taken_before(plan, told);
}

/// Ware that is taken by the clock, against what is owned.
fn taken_before(plan: &Plan, told: &mut Vec<Figure>) {
    for load in &plan.demand.loads {
        let (Some(taken), Some(kind)) = (load.taken, plan.demand.kinds.get(usize::from(load.kind)))
        else {
            continue;
        };
        let trays: u32 = match &load.when {
            LoadWhen::At(times) => times.iter().map(|(_, trays)| trays).sum(),
            LoadWhen::Within { count, .. } | LoadWhen::Never(count) => *count,
            // Taken before the run began: the loader has refused a time for it.
            LoadWhen::There { .. } | LoadWhen::Eating { .. } => continue,
        };
        for (class, pieces) in plan.line.classes.iter().zip(&kind.pieces) {
            let wanted = pieces * f64::from(trays);
            if let Some(par) = class.par.filter(|par| wanted > f64::from(*par)) {
                told.push(figure(
                    format!("load.{}.wants.{}", load.name, class.name),
                    wanted,
                    "pieces",
                    format!(
                        "Load {} takes {} pieces of {} at {}; {par} are owned.",
                        load.name,
                        rounded(wanted),
                        class.name,
                        crate::describe::words::clock(taken)
                    ),
                    true,
                ));
            }
        }
    }
}
