//! Aids at posts, in sentences.

use super::words::{listed, post, water};
use crate::defaults::rounded;
use crate::plan::{AidUse, Plan};

/// Most litres a minute that a pre-rinse spray valve may use that is made from 28 January 2019 on: 1.28 US gal.
///
/// # Source
/// 10 CFR 431.266, as quoted by the EPA; the largest of its limits by spray force.
pub(crate) const MOST_SPRAY_L_PER_MIN: f64 = 1.28 * 3.785_411_784;

/// Where each aid is, what it does to the work, and what it draws.
pub(super) fn aids(plan: &Plan, told: &mut Vec<String>) {
    for (aid, draws) in plan.line.aids.iter().zip(&plan.aids) {
        let mut does = Vec::new();
        let each = match aid.at {
            scullery_engine::line::Post::Loading(_) => "rack",
            _ => "tray",
        };
        if draws.adds_s > 0.0 {
            does.push(format!("{} s more a {each}", rounded(draws.adds_s)));
        }
        if draws.saves_s > 0.0 {
            does.push(format!("{} s less a {each}", rounded(draws.saves_s)));
        }
        for (class, seconds) in plan.line.classes.iter().zip(&draws.piece_s) {
            if *seconds != 0.0 {
                let way = if *seconds > 0.0 { "more" } else { "less" };
                does.push(format!(
                    "{} s {way} a piece of {}",
                    rounded(seconds.abs()),
                    class.name
                ));
            }
        }
        if does.is_empty() {
            does.push("no change of the work".to_owned());
        }
        told.push(format!(
            "Aid {} ({}) at {}: {}{}.",
            aid.name,
            draws.is,
            post(&plan.line, aid.at),
            listed(&does),
            running(plan, aid.each_ms, draws, each)
        ));
    }
}

fn running(plan: &Plan, each_ms: u32, draws: &AidUse, each: &str) -> String {
    if draws.water_l_per_min <= 0.0 && draws.running_kw <= 0.0 {
        return String::new();
    }
    let mut text = String::from("; it runs");
    if each_ms > 0 {
        text.push_str(&format!(
            " {} s a {each}",
            rounded(f64::from(each_ms) / 1000.0)
        ));
    }
    if draws.water_l_per_min > 0.0 {
        text.push_str(&format!(
            " with {} a minute",
            water(plan, draws.water_l_per_min)
        ));
    }
    if draws.running_kw > 0.0 {
        text.push_str(&format!(" at {} kW", rounded(draws.running_kw)));
    }
    text
}

/// Cautions about sprays.
pub(super) fn cautions(plan: &Plan, cautions: &mut Vec<String>) {
    let sprays = plan.line.aids.iter().zip(&plan.aids);
    for (aid, draws) in sprays.filter(|(_, draws)| draws.is_spray) {
        if draws.water_l_per_min > MOST_SPRAY_L_PER_MIN * 1.001 {
            cautions.push(format!(
                "Hand spray {} uses {} a minute; in the United States a valve made from 28 January 2019 on may use at most {} (10 CFR 431.266).",
                aid.name,
                water(plan, draws.water_l_per_min),
                water(plan, MOST_SPRAY_L_PER_MIN)
            ));
        }
    }
    if plan.aids.iter().any(|draws| draws.water_l_per_min > 0.0) {
        cautions.push("Sprays: hot water scalds, splashes wet the floor; the nozzle hangs above the flood level of the sink, at mid-body height.".to_owned());
    }
}
