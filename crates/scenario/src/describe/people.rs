//! Diners, in sentences.

use scullery_engine::demand::{Covers, How, Kind};

use super::servery::{manner, seats};
use super::trays::drop_off;
use super::words::{clock, listed, span};
use crate::compile::expected_covers;
use crate::defaults::rounded;
use crate::plan::Plan;

pub(crate) fn diners(plan: &Plan, told: &mut Vec<String>) {
    let demand = &plan.demand;
    let end = plan.line.ends.map_or(
        "until all is clean and the last shift is over".to_owned(),
        |ends| format!("to {}", clock(ends)),
    );
    told.push(format!(
        "The run goes from {} {end}.",
        clock(plan.line.starts)
    ));
    let covers = format!("{:.0}", expected_covers(&demand.covers));
    let how = match &demand.covers {
        Covers::Instants(_) => "at the instants given",
        Covers::CameAt(_) => "so that they come back at the instants given",
        Covers::PerInterval {
            how: How::Poisson, ..
        } => "at random, at an even rate within each interval",
        Covers::PerInterval {
            how: How::PoissonLinear,
            ..
        } => "at random, at a rate that runs in straight lines",
        Covers::PerInterval {
            how: How::Evenly, ..
        } => "exactly as many as stated, evenly spread",
        Covers::PerInterval {
            how: How::AtRandom, ..
        } => "exactly as many as stated, at random instants",
    };
    told.push(format!(
        "{covers} covers are served {how}; the answer speaks of {}.",
        plan.heading.day_words
    ));
    for kind in &demand.kinds {
        let pieces: Vec<String> = plan
            .line
            .classes
            .iter()
            .zip(&kind.pieces)
            .filter(|(_, pieces)| **pieces > 0.0)
            .map(|(class, pieces)| format!("{} {}", rounded(*pieces), class.name))
            .collect();
        let share = rounded(kind.share.first().map_or(0.0, |(_, share)| share * 100.0));
        let varies = if kind.share.len() > 1 {
            " (it changes by the clock)"
        } else {
            ""
        };
        let sits = if kind.sits {
            "sit down"
        } else {
            "do not sit down"
        };
        let brings = if let Some(carts) = super::carts::fetched(plan, kind) {
            format!("leave {}, which staff fetch {carts}", listed(&pieces))
        } else if pieces.is_empty() {
            "bring nothing back".to_owned()
        } else {
            format!(
                "bring {} to drop-off {}",
                listed(&pieces),
                drop_off(plan, kind.drop_off)
            )
        };
        if kind.share.iter().all(|(_, share)| *share <= 0.0) {
            told.push(format!(
                "A tray of \"{}\" carries {}.{}",
                kind.name,
                listed(&pieces),
                manner(plan, kind)
            ));
            continue;
        }
        told.push(format!(
            "{share} % are \"{}\"{varies}: they {sits} and {brings}.{}",
            kind.name,
            manner(plan, kind)
        ));
    }
    super::carts::courses_and_loads(plan, told);
    // Ware of courses is cleared by the courses' own times: how long people then stay matters for seats alone.
    let eats = |kind: &Kind| kind.sits && (kind.courses.is_empty() || demand.seats.is_some());
    if demand.kinds.iter().any(eats) {
        let eating: Vec<String> = demand
            .eating_min
            .iter()
            .map(|(from, dist)| format!("{} min from {}", rounded(dist.mean()), clock(*from)))
            .collect();
        told.push(format!(
            "They find a seat {} and stay on average {}.{}",
            match demand.find_seat_min.mean() {
                0.0 => "at once".to_owned(),
                mean => format!("in {} min", rounded(mean)),
            },
            listed(&eating),
            seats(plan)
        ));
    }
    for bell in &demand.bells {
        told.push(format!(
            "At the bell of {} {} % of those seated for {} leave, from {} before to {} after.",
            clock(bell.at),
            rounded(bell.share * 100.0),
            span(bell.seated_at_least),
            span(bell.before),
            span(bell.after)
        ));
    }
    if let Some(parties) = &demand.parties {
        let size: f64 = parties
            .shares
            .iter()
            .enumerate()
            .map(|(index, share)| (index + 1) as f64 * share)
            .sum();
        told.push(format!(
            "People come in parties of {} on average, {} apart.",
            rounded(size),
            span(parties.apart)
        ));
    }
    if let Some(patience) = &demand.patience_people {
        let bear = rounded(patience.mean());
        told.push(format!(
            "A diner who finds more than {bear} people waiting (on average) leaves the tray aside."
        ));
    }
}
