//! Her arrivals put into a plan, and the same lunch without luck.

use scullery_engine::demand::{Covers, Days, Demand};
use scullery_engine::dist::Dist;
use scullery_engine::line::Line;
use scullery_engine::time::SimTime;
use scullery_scenario::plan::Plan;

/// What the instants of a table are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stood {
    /// At the till: covers are served then, eat, and come to the drop-off.
    AtTheTill,
    /// At the drop-off: trays are put down then.
    AtTheDropOff,
}

/// Arrivals that were seen.
#[derive(Clone, Debug, PartialEq)]
pub enum Arrivals {
    /// An instant each, in clock order.
    Instants(Vec<SimTime>),
    /// Counts per interval: borders, one more than counts, and counts.
    Counts(Vec<SimTime>, Vec<f64>),
}

/// Puts arrivals into a plan in place of its own covers, on a day as it was: no factor, no luck in their number, and
/// nobody missing who is not said to be.
///
/// # Errors
/// When there is nobody who brings anything back, or counts stand at the drop-off.
pub fn with_arrivals(
    plan: &Plan,
    arrivals: &Arrivals,
    stood: Stood,
    from: &str,
) -> Result<Plan, String> {
    let mut plan = plan.clone();
    plan.demand.days = Days::Design(1.0);
    // Who was on is known: nobody is missing by chance.
    plan.line
        .crew
        .iter_mut()
        .for_each(|worker| worker.unfilled = 0.0);
    let many = match arrivals {
        Arrivals::Instants(at) => at.len() as f64,
        Arrivals::Counts(_, counts) => counts.iter().sum(),
    };
    plan.demand.covers = match (arrivals, stood) {
        (Arrivals::Instants(at), Stood::AtTheTill) => Covers::Instants(at.clone()),
        (Arrivals::Instants(at), Stood::AtTheDropOff) => Covers::CameAt(at.clone()),
        (Arrivals::Counts(edges, counts), Stood::AtTheTill) => Covers::PerInterval {
            edges: edges.clone(),
            counts: counts.clone(),
            how: scullery_engine::demand::How::AtRandom,
        },
        (Arrivals::Counts(edges, counts), Stood::AtTheDropOff) => {
            // Counted at the drop-off: each at an even share of its interval, used as it is.
            Covers::CameAt(evenly(edges, counts))
        }
    };
    if stood == Stood::AtTheDropOff {
        let brings = |pieces: &[f64]| pieces.iter().any(|n| *n > 0.0);
        if !plan.demand.kinds.iter().any(|kind| brings(&kind.pieces)) {
            return Err(
                "no kind of diner of the scenario brings anything to the drop-off".to_owned(),
            );
        }
        for kind in plan
            .demand
            .kinds
            .iter_mut()
            .filter(|kind| !brings(&kind.pieces))
        {
            kind.share.iter_mut().for_each(|(_, share)| *share = 0.0);
        }
    }
    plan.heading.day_words = format!(
        "this lunch as it came ({many} {} of {from})",
        match stood {
            Stood::AtTheTill => "covers at the till",
            Stood::AtTheDropOff => "trays at the drop-off",
        }
    );
    Ok(plan)
}

fn evenly(edges: &[SimTime], counts: &[f64]) -> Vec<SimTime> {
    let mut at = Vec::new();
    for (pair, count) in edges.windows(2).zip(counts) {
        let many = count.round().max(0.0) as u64;
        let long = pair[1].since(pair[0]).us();
        let step = |k: u64| {
            (u128::from(long) * u128::from(2 * k + 1) / u128::from(2 * many.max(1))) as u64
        };
        at.extend((0..many).map(|k| SimTime::from_us(pair[0].us() + step(k))));
    }
    at
}

/// The same plan with every length and amount at its mean: her exact stream without luck of work. Which kind a diner is
/// and which fraction of a piece they carry is still drawn.
pub fn steady(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    steady_demand(&mut plan.demand);
    steady_line(&mut plan.line);
    plan
}

fn mean(dist: &mut Dist) {
    *dist = Dist::Constant(dist.mean());
}

fn steady_demand(demand: &mut Demand) {
    demand.days = match &demand.days {
        Days::Vary { .. } => Days::Design(1.0),
        Days::Past(factors) if !factors.is_empty() => {
            Days::Design(factors.iter().sum::<f64>() / factors.len() as f64)
        }
        other => other.clone(),
    };
    mean(&mut demand.find_seat_min);
    mean(&mut demand.work_factor);
    mean(&mut demand.waste_kg);
    demand.patience_people.iter_mut().for_each(mean);
}

fn steady_line(line: &mut Line) {
    line.drop_offs
        .iter_mut()
        .for_each(|it| mean(&mut it.put_down_s));
    line.racking
        .iter_mut()
        .for_each(|it| mean(&mut it.variation));
    for it in &mut line.machines {
        mean(&mut it.start_s);
        it.loading
            .iter_mut()
            .for_each(|loading| mean(&mut loading.variation));
    }
    line.clean_ends
        .iter_mut()
        .for_each(|it| mean(&mut it.variation));
    line.delivery
        .iter_mut()
        .for_each(|it| mean(&mut it.variation));
    line.duties.iter_mut().for_each(|it| mean(&mut it.work_s));
    line.crew.iter_mut().for_each(|it| it.unfilled = 0.0);
}
