//! Remedies in which the diners do, or leave, something otherwise, or elsewhere.
//!
//! What a diner does at the drop-off costs the diner seconds and saves the crew some. Both are stated in the words of the
//! remedy: they are common practice without a source, to be replaced with one's own stopwatch.

use scullery_engine::demand::{Bell, Covers};
use scullery_engine::dist::Dist;
use scullery_engine::line::{TraysFrom, TraysTo};
use scullery_engine::time::{SimTime, Span};
use scullery_scenario::plan::Plan;

use super::menu::{HALF_AN_HOUR, Proposal, Rush, add, clock};

/// People waiting from which a diner leaves the tray on a cart.
const BEARS: u32 = 5;
/// Seconds more at the drop-off for tipping the waste and standing glasses into a rack.
const SORTS_S: f64 = 4.0;
/// Seconds less handling a tray without waste on it.
const WITHOUT_WASTE_S: f64 = 1.0;
/// Seconds less handling a tray with an aid at the table: a hand spray at each place, a magnet for cutlery, a catcher.
const AID_S: f64 = 1.0;
/// What a disposable piece costs where the scenario says no price, in its own currency.
const DISPOSABLE_PRICE: f64 = 0.15;
/// Minutes by which a second bell is later.
const APART_MIN: u64 = 10;

/// All remedies of this kind, and aids at the table.
pub(super) fn diners(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    if plan.demand.patience_people.is_none() && !plan.line.drop_offs.is_empty() {
        add(
            all,
            format!(
                "overflow carts beside the drop-off: who finds {BEARS} waiting leaves the tray there"
            ),
            &[format!("diners.patience_people={BEARS}")],
            true,
        );
    }
    second_drop_off(plan, all);
    sorting(plan, all);
    for post in &plan.line.scrapping {
        if post.handling_s > AID_S {
            add(
                all,
                format!(
                    "an aid at scrapping {} that saves {AID_S:.0} s a tray",
                    post.name.replace('_', " ")
                ),
                &[format!(
                    "scrapping.{}.handling_s={:.3}",
                    post.name,
                    post.handling_s - AID_S
                )],
                true,
            );
        }
    }
    bells(plan, all);
    disposables(plan, rush, all);
}

/// Name of what is built a second time.
const SECOND: &str = "second";

/// A second drop-off like the only one, with a belt or table of its own; half of each kind of diner go there.
fn second_drop_off(plan: &Plan, all: &mut Vec<Proposal>) {
    let [only] = &plan.line.drop_offs[..] else {
        return;
    };
    type IsIt = Box<dyn Fn(&TraysFrom) -> bool>;
    let (kind, name, is_it): (_, _, IsIt) = match only.to {
        TraysTo::Belt(b) => (
            "belt",
            &plan.line.belts[usize::from(b)].name,
            Box::new(move |from| matches!(from, TraysFrom::BeltEnd(it) if *it == b)),
        ),
        TraysTo::Table(t) => (
            "table",
            &plan.line.tables[usize::from(t)].name,
            Box::new(move |from| matches!(from, TraysFrom::Table(it) if *it == t)),
        ),
        // A second loop is another line, not a remedy.
        TraysTo::Accumulator(_) => return,
    };
    let takers = plan
        .line
        .scrapping
        .iter()
        .filter(|post| post.from.iter().any(&is_it));
    let mut changes = vec![
        format!("+{kind}.{SECOND}=like {name}"),
        format!("+drop_off.{SECOND}=like {}", only.name),
        format!("drop_off.{SECOND}.to={SECOND}"),
    ];
    changes.extend(takers.map(|post| format!("+scrapping.{}.takes_from={SECOND}", post.name)));
    for diners in &plan.demand.kinds {
        let brings = diners.carts.is_none() && diners.pieces.iter().any(|pieces| *pieces > 0.0);
        let [(_, share)] = diners.share[..] else {
            return;
        };
        if !brings || share <= 0.0 {
            continue;
        }
        let there = format!("{}_{SECOND}", diners.name);
        changes.extend([
            format!("+kind.{there}=like {}", diners.name),
            format!("kind.{there}.share={:.9}", share / 2.0),
            format!("kind.{there}.drop_off={SECOND}"),
            format!("kind.{}.share={:.9}", diners.name, share / 2.0),
            format!("kind.{}.drop_off={}", diners.name, only.name),
        ]);
    }
    add(
        all,
        format!(
            "a second drop-off like {}, with a {kind} of its own to the same posts",
            only.name
        ),
        &changes,
        true,
    );
}

/// Glass racks and a waste bin at the drop-off.
fn sorting(plan: &Plan, all: &mut Vec<Proposal>) {
    let glass: Vec<usize> = plan
        .line
        .classes
        .iter()
        .enumerate()
        .filter(|(_, class)| matches!(class.name.as_str(), "glass" | "glasses" | "tumbler"))
        .map(|(number, _)| number)
        .collect();
    let mut changes = Vec::new();
    for post in &plan.line.scrapping {
        for class in &glass {
            if post.piece_s.get(*class).is_some_and(|s| *s > 0.0) {
                changes.push(format!(
                    "scrapping.{}.piece_s.{}=0",
                    post.name, plan.line.classes[*class].name
                ));
            }
        }
        if post.handling_s > WITHOUT_WASTE_S {
            changes.push(format!(
                "scrapping.{}.handling_s={:.3}",
                post.name,
                post.handling_s - WITHOUT_WASTE_S
            ));
        }
    }
    if changes.is_empty() || plan.line.drop_offs.is_empty() {
        return;
    }
    for it in &plan.line.drop_offs {
        changes.push(format!(
            "drop_off.{}.put_down_s={}",
            it.name,
            longer(&it.put_down_s, SORTS_S)
        ));
    }
    let what = if glass.is_empty() {
        "a waste bin"
    } else {
        "glass racks and a waste bin"
    };
    add(
        all,
        format!(
            "{what} for diners: {SORTS_S:.0} s longer at the drop-off, {WITHOUT_WASTE_S:.0} s{} less work a tray",
            if glass.is_empty() {
                ""
            } else {
                " and the glasses"
            }
        ),
        &changes,
        true,
    );
}

/// A length so many seconds longer with the spread it had, as a scenario writes it.
fn longer(of: &Dist, more: f64) -> String {
    let mean = of.mean();
    let sd = match of {
        Dist::Constant(_) => 0.0,
        Dist::Lognormal { mean, cv } | Dist::Gamma { mean, cv } => mean * cv,
        // Others are told by their mean with a spread of 3 in 10 of it.
        other => other.mean() * 0.3,
    };
    if sd > 0.0 {
        let cv = sd / (mean + more);
        format!(
            "{{ lognormal = {{ mean = {:.3}, cv = {cv:.4} }} }}",
            mean + more
        )
    } else {
        format!("{:.3}", mean + more)
    }
}

/// Bells heeded by fewer, or by half of them later.
fn bells(plan: &Plan, all: &mut Vec<Proposal>) {
    for (index, bell) in plan.demand.bells.iter().enumerate() {
        let half = bell.share / 2.0;
        add(
            all,
            format!("half as many leave at the bell of {}", clock(bell.at)),
            &[format!("bell.{}.share={half:.3}", index + 1)],
            false,
        );
        let second = SimTime::from_us(bell.at.us() + APART_MIN * 60_000_000);
        // Those who stay at the first leave at the second: that is a larger share of those then seated.
        let rest = half / (1.0 - half).max(0.5);
        let mut bells: Vec<Bell> = plan.demand.bells.clone();
        bells[index].share = half;
        bells.push(Bell {
            at: second,
            share: rest,
            ..*bell
        });
        bells.sort_by_key(|bell| bell.at);
        let listed: Vec<String> = bells.iter().map(written).collect();
        add(
            all,
            format!(
                "staggered bells: half of those who leave at {} leave at {}",
                clock(bell.at),
                clock(second)
            ),
            &[format!("bell=[{}]", listed.join(", "))],
            false,
        );
    }
}

/// Something disposable instead of all ware that diners eat from: for the last half hour of serving, and for the half hour
/// of serving whose trays come at the worst.
fn disposables(plan: &Plan, rush: Rush, all: &mut Vec<Proposal>) {
    let demand = &plan.demand;
    let carried = |class: usize| {
        let mut kinds = demand.kinds.iter();
        kinds.any(|kind| kind.sits && kind.pieces.get(class).is_some_and(|n| *n > 0.0))
    };
    let eaten_from: Vec<usize> = (plan.line.classes.iter().enumerate())
        .filter(|(number, class)| {
            carried(*number)
                && class.disposable.is_empty()
                && !matches!(class.name.as_str(), "tray" | "trays")
        })
        .map(|(number, _)| number)
        .collect();
    let Some(last) = last_served(plan) else {
        return;
    };
    if eaten_from.is_empty() {
        return;
    }
    let price = |class: usize| {
        let known = plan.money.disposable_each.get(class).copied().flatten();
        known.unwrap_or(DISPOSABLE_PRICE)
    };
    let names: Vec<String> = (eaten_from.iter())
        .map(|&class| plan.line.classes[class].name.replace('_', " "))
        .collect();
    let all_assumed = (eaten_from.iter()).all(|&class| {
        plan.money
            .disposable_each
            .get(class)
            .copied()
            .flatten()
            .is_none()
    });
    let priced = if all_assumed {
        format!("at {DISPOSABLE_PRICE:.2} apiece, assumed")
    } else {
        "at their price".to_owned()
    };
    let half_hour_to = |to: SimTime| {
        let from = SimTime::from_us(to.us().saturating_sub(HALF_AN_HOUR));
        (from.max(plan.line.starts), to)
    };
    let worst = SimTime::from_us(rush.worst_to().us().saturating_sub(at_table(plan).us()));
    let mut spans = vec![(half_hour_to(last), "the last half hour of serving")];
    // The same half hour twice, or one in which nobody is served any more, is no other remedy.
    if worst.us() + HALF_AN_HOUR / 3 < last.us() {
        spans.push((half_hour_to(worst), "those who come back at the worst"));
    }
    for ((from, to), whom) in spans {
        if from >= to {
            continue;
        }
        let (from, to) = (clock(from), clock(to));
        let changes: Vec<String> = (eaten_from.iter())
            .map(|&class| {
                format!(
                    "ware.{}.disposable={{ hours = [{{ from = \"{from}\", to = \"{to}\" }}], price = {} }}",
                    plan.line.classes[class].name,
                    price(class)
                )
            })
            .collect();
        add(
            all,
            format!(
                "disposables from {from} to {to}, for {whom}, instead of {}: {priced}",
                names.join(", ")
            ),
            &changes,
            false,
        );
    }
}

/// Mean time from being served to coming to the drop-off, at the start.
fn at_table(plan: &Plan) -> Span {
    let eating = plan.demand.eating_min.first();
    let eating = eating.map_or(0.0, |(_, min)| min.mean());
    Span::from_min(plan.demand.find_seat_min.mean() + eating)
}

/// When the last cover is served, to the minute.
fn last_served(plan: &Plan) -> Option<SimTime> {
    match &plan.demand.covers {
        Covers::PerInterval { edges, counts, .. } => {
            let last = counts.iter().rposition(|count| *count > 0.0)?;
            edges.get(last + 1).or(edges.last()).copied()
        }
        Covers::Instants(at) => at.last().copied(),
        Covers::CameAt(at) => {
            let came = at.last()?.us();
            Some(SimTime::from_us(came.saturating_sub(at_table(plan).us())))
        }
    }
}

/// A bell as a scenario writes it.
fn written(bell: &Bell) -> String {
    let min = |span: Span| span.us() as f64 / 60e6;
    format!(
        "{{ at = \"{}\", share = {:.4}, before_min = {}, after_min = {}, seated_at_least_min = {} }}",
        clock(bell.at),
        bell.share,
        min(bell.before),
        min(bell.after),
        min(bell.seated_at_least)
    )
}
