//! Measures of disposers, pulpers and aids at posts: how long they run, and their water.

use scullery_engine::line::StoreKind;
use scullery_engine::watch::{Catalogue, Counted};
use scullery_scenario::plan::Plan;

use super::floor::nth_count;
use super::{Measures, plain};

/// Running hours and water of each disposer and of each aid that draws something.
pub(super) fn aids(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    let stores = plan.line.waste_stores.iter().zip(&plan.disposers);
    for (i, (store, draws)) in stores.enumerate() {
        let StoreKind::Ground { .. } = store.kind else {
            continue;
        };
        let at = &format!("disposer {}", store.name);
        let id = |what: &str| format!("disposer.{}.{what}", store.name);
        let us = move |m: &super::Meal<'_>| m.ended.waste_us.get(i).map(|us| *us as f64);
        let label = format!("Hours {at} runs");
        to.add(plain(id("running_h"), at, label, "h"), move |m| {
            us(m).map(|us| us / 3.6e9)
        });
        let l_per_min = draws.water_l_per_min;
        if l_per_min > 0.0 {
            let label = format!("Water of {at} and its trough");
            to.add(plain(id("water_l"), at, label, "l"), move |m| {
                us(m).map(|us| us / 6e7 * l_per_min)
            });
        }
    }
    for (i, (aid, draws)) in plan.line.aids.iter().zip(&plan.aids).enumerate() {
        let Some(ms) = nth_count(catalogue, Counted::AidMs, i) else {
            continue;
        };
        if draws.water_l_per_min <= 0.0 && draws.running_kw <= 0.0 {
            continue;
        }
        let at = &format!("{} {}", draws.is, aid.name);
        let id = |what: &str| format!("aid.{}.{what}", aid.name);
        let label = format!("Minutes {at} runs");
        to.add(plain(id("running_min"), at, label, "min"), move |m| {
            Some(m.record.counts[ms].total as f64 / 60_000.0)
        });
        let l_per_min = draws.water_l_per_min;
        if l_per_min > 0.0 {
            let label = format!("Water of {at}");
            to.add(plain(id("water_l"), at, label, "l"), move |m| {
                Some(m.record.counts[ms].total as f64 / 60_000.0 * l_per_min)
            });
        }
    }
}
