//! What belts hold and how long they take: those for trays, those beside one another, those for stacks.

use scullery_engine::line::{Belt, Line, TraysTo, TwinTakes};

use super::figures::{Figure, figure, minutes_of_the_peak};
use crate::defaults::rounded;
use crate::describe::words::{length, listed};
use crate::plan::{BeltFacts, Plan};

/// Figures of all belts. `peak`: trays in the busiest quarter hour.
pub(super) fn belts(plan: &Plan, peak: Option<f64>, told: &mut Vec<Figure>) {
    for (belt, facts) in plan.line.belts.iter().zip(&plan.facts.belts) {
        let holds = belt.places();
        let peak_words = minutes_of_the_peak(holds, peak);
        told.push(figure(
            format!("belt.{}.holds", belt.name),
            f64::from(holds),
            "trays",
            format!("Belt {} holds {holds} trays{peak_words}.", belt.name),
            false,
        ));
        transit(belt, ("belt", "A tray"), told);
        once_round(plan, ("belt", belt), facts, told);
    }
    for (it, facts) in plan.line.stack_belts.iter().zip(&plan.facts.stack_belts) {
        let belt = &it.belt;
        let most = it.pieces.iter().max().copied().unwrap_or(0);
        let holds = belt.places();
        told.push(figure(
            format!("stacks.{}.holds", belt.name),
            f64::from(holds),
            "stacks",
            format!(
                "Belt {} holds {holds} stacks, {} pieces of the class stacked highest.",
                belt.name,
                u64::from(holds) * u64::from(most)
            ),
            false,
        ));
        transit(belt, ("stacks", "A stack"), told);
        once_round(plan, ("stacks", belt), facts, told);
    }
}

fn fastest(belt: &Belt) -> f64 {
    f64::from(belt.speed.first().map_or(1, |(_, speed)| *speed).max(1))
}

fn transit(belt: &Belt, (kind, what): (&str, &str), told: &mut Vec<Figure>) {
    let transit_s = f64::from(belt.length_mm) / fastest(belt) * 60.0;
    told.push(figure(
        format!("{kind}.{}.transit", belt.name),
        transit_s,
        "s",
        format!(
            "{what} takes {} s along belt {}.",
            rounded(transit_s),
            belt.name
        ),
        false,
    ));
}

/// How long a piece of the belt itself takes once round, where the return run is said.
fn once_round(plan: &Plan, (kind, belt): (&str, &Belt), facts: &BeltFacts, told: &mut Vec<Figure>) {
    let Some(back_m) = facts.return_run_m else {
        return;
    };
    let mm = |m: f64| (m * 1000.0).round() as u32;
    let mut parts = vec![format!("{} straight", length(plan, mm(facts.straight_m)))];
    if facts.curves > 0 {
        parts.push(format!("{} in curves", length(plan, mm(facts.curves_m))));
    }
    parts.push(format!("{} of return run", length(plan, mm(back_m))));
    let round_m = facts.way_m() + back_m;
    let round_s = round_m * 1000.0 / fastest(belt) * 60.0;
    told.push(figure(
        format!("{kind}.{}.once_round", belt.name),
        round_s,
        "s",
        format!(
            "Belt {} is {} once round ({}): {} s.",
            belt.name,
            length(plan, mm(round_m)),
            listed(&parts),
            rounded(round_s)
        ),
        false,
    ));
}

/// Which share of the trays of this kind, put down on the way `to`, comes to lie on belt `b`. Where trays go on the belt
/// beside when they find no gap, both take what their spacing and speed let pass.
pub(super) fn share(line: &Line, pieces: &[f64], kind: usize, to: TraysTo, b: u8) -> f64 {
    let TraysTo::Belt(first) = to else {
        return 0.0;
    };
    let mut left = 1.0;
    for twin in line.twins.iter().filter(|twin| twin.belt == first) {
        let goes = match &twin.takes {
            TwinTakes::Kinds(kinds) => f64::from(kinds.get(kind).copied().unwrap_or(false)),
            TwinTakes::Ware(classes) => {
                // A mean of 0.3 pieces is one piece three times in ten.
                let named = classes.iter().zip(pieces).filter(|(is, _)| **is);
                1.0 - named.map(|(_, mean)| 1.0 - mean.min(1.0)).product::<f64>()
            }
            TwinTakes::NoGap => {
                let rate = |b: u8| {
                    let belt = &line.belts[usize::from(b)];
                    fastest(belt) / f64::from(belt.spacing_mm.max(1))
                };
                rate(twin.beside) / (rate(twin.beside) + rate(first))
            }
        };
        if twin.beside == b {
            return left * goes;
        }
        left *= 1.0 - goes;
    }
    if first == b { left } else { 0.0 }
}
