//! Whether one arrangement wins, in a sentence a manager can repeat; where none does, that is said.

use crate::compare::Seen;
use crate::intervals::mean;
use crate::money_difference::owning_more;
use crate::paired::{mean_difference, share_difference};
use crate::targets::{LEVEL, Verdict};
use crate::words::of_100;

/// Name of the clear winner, if there is one, and the answer.
///
/// An arrangement wins when it alone holds every target, or when it is surely the cheapest of those that do: the paired
/// intervals of all pairs among them share the 5 % that may err. Without targets nobody wins.
pub(crate) fn winner(seen: &[Seen<'_>], same: &[bool]) -> (Option<String>, String) {
    let n = seen[0].rows.len();
    let day = seen[0]
        .arrangement
        .plan
        .heading
        .day_words
        .trim_end_matches('.')
        .to_owned();
    if n == 0 {
        return (
            None,
            format!("On {day}, nothing can be said: no lunch was simulated."),
        );
    }
    let copies: Vec<&str> = (1..seen.len())
        .filter(|i| same[*i])
        .map(|i| name(&seen[i]))
        .collect();
    let distinct: Vec<&Seen<'_>> = (0..seen.len())
        .filter(|i| !same[*i])
        .map(|i| &seen[i])
        .collect();
    let mut sentences = Vec::new();
    if !copies.is_empty() {
        sentences.push(format!(
            "{} came out exactly as \"{}\" in every one of the {n} lunches: the difference is nought, not merely small",
            list(&copies),
            name(&seen[0])
        ));
    }
    let mut won = None;
    if distinct.len() > 1 {
        let (who, sentence) = among(&distinct);
        won = who;
        sentences.insert(0, sentence);
    } else {
        sentences.insert(0, "no clear winner".to_owned());
    }
    sentences.extend(owned_otherwise(seen));
    (won, format!("On {day}, {}.", sentences.join(". ")))
}

/// What owning the others costs more or less than the first, which is in no cost told before; nothing where it is the same.
fn owned_otherwise<'a>(seen: &'a [Seen<'_>]) -> Option<String> {
    let plan = |one: &'a Seen<'_>| &one.arrangement.plan;
    let more = |one| owning_more([plan(&seen[0]), plan(one)]).iter().sum::<f64>();
    let apart: Vec<String> = seen[1..]
        .iter()
        .map(|one| (one, more(one)))
        .filter(|(_, more)| more.abs() >= 0.5)
        .map(|(one, more)| {
            let than = if more > 0.0 { "more" } else { "less" };
            let sign = &one.arrangement.plan.heading.currency;
            let sum = format!("{sign} {:.0}", more.abs());
            format!("\"{}\" {} a year {than}", name(one), sum.trim())
        })
        .collect();
    let first = name(&seen[0]);
    (!apart.is_empty()).then(|| {
        format!(
            "Owning the line is not in what a lunch costs: against \"{first}\", {}",
            apart.join(", ")
        )
    })
}

fn name<'a>(seen: &'a Seen<'_>) -> &'a str {
    &seen.arrangement.name
}

/// Names in quotes with commas and "and".
fn list(names: &[&str]) -> String {
    let quoted: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
    match quoted.split_last() {
        Some((only, [])) => only.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

fn among(seen: &[&Seen<'_>]) -> (Option<String>, String) {
    let with = |verdict: Verdict| -> Vec<&Seen<'_>> {
        let such = seen
            .iter()
            .copied()
            .filter(|one| one.verdict() == Some(verdict));
        such.collect()
    };
    let names = |of: &[&Seen<'_>]| list(&of.iter().map(|one| name(one)).collect::<Vec<_>>());
    let (holds, unsure) = (with(Verdict::Holds), with(Verdict::NotSureYet));
    if seen.iter().all(|one| one.verdict().is_none()) {
        let cost = match cheapest(seen) {
            Some(Cheapest::Clear(least, words)) => {
                format!("; \"{}\" costs least: {words}", name(least))
            }
            Some(Cheapest::NotTold) => "; what they cost cannot be told apart".to_owned(),
            None => String::new(),
        };
        return (
            None,
            format!("no target is set, so there is no winner{cost}"),
        );
    }
    let doubt = match unsure.as_slice() {
        [] => String::new(),
        some => format!("; of {} it is not sure yet", names(some)),
    };
    match holds.as_slice() {
        [] if unsure.is_empty() => {
            let lead = leader(seen).map_or(String::new(), |words| format!("; {words}"));
            (None, format!("no arrangement holds every target{lead}"))
        }
        [] => {
            let lead = leader(seen).map_or(String::new(), |words| format!("; {words}"));
            (
                None,
                format!("no clear winner: none is sure to hold every target yet{doubt}{lead}"),
            )
        }
        [one] if unsure.is_empty() => (
            Some(name(one).to_owned()),
            format!("\"{}\" alone holds every target", name(one)),
        ),
        [one] => (
            None,
            format!(
                "\"{}\" is the only one sure to hold every target{doubt}",
                name(one)
            ),
        ),
        several => match cheapest(several) {
            Some(Cheapest::Clear(least, words)) => (
                unsure.is_empty().then(|| name(least).to_owned()),
                format!(
                    "{} hold every target, and \"{}\" costs least of them: {words}{doubt}",
                    names(several),
                    name(least)
                ),
            ),
            Some(Cheapest::NotTold) => (
                None,
                format!(
                    "no clear winner: {} hold every target, and what they cost cannot be told apart{doubt}",
                    names(several)
                ),
            ),
            None => (
                None,
                format!(
                    "no clear winner: {} hold every target, and nothing has a price{doubt}",
                    names(several)
                ),
            ),
        },
    }
}

enum Cheapest<'a> {
    /// This one, and by how much less than the next.
    Clear(&'a Seen<'a>, String),
    /// None of them surely.
    NotTold,
}

/// The one that costs least, if the paired intervals of all pairs say so. `None` where one has no price.
fn cheapest<'a>(seen: &[&'a Seen<'a>]) -> Option<Cheapest<'a>> {
    let costs: Vec<Vec<Option<f64>>> = seen.iter().map(|one| one.cost()).collect();
    let means: Vec<f64> = costs
        .iter()
        .map(|cost| mean(&cost.iter().copied().flatten().collect::<Vec<_>>()))
        .collect::<Option<_>>()?;
    let mut order: Vec<usize> = (0..seen.len()).collect();
    order.sort_by(|a, b| means[*a].total_cmp(&means[*b]));
    let least = *order.first()?;
    let pairs = (seen.len() * (seen.len() - 1) / 2).max(1) as f64;
    let level = 1.0 - (1.0 - LEVEL) / pairs;
    let mut next_by = None;
    for &other in &order[1..] {
        let difference = mean_difference(&costs[least], &costs[other], level)?;
        let Some([low, high]) = difference.interval.filter(|[low, _]| *low > 0.0) else {
            return Some(Cheapest::NotTold);
        };
        next_by.get_or_insert((other, difference.mean, low, high));
    }
    let (other, by, low, high) = next_by?;
    let heading = &seen[least].arrangement.plan.heading;
    let money = |value: f64| format!("{} {value:.2}", heading.currency).trim().to_owned();
    let ends = [low, high].map(|end| format!("{end:.2}"));
    let between = match &ends {
        [low, high] if low == high => String::new(),
        [low, high] => format!(" (between {low} and {high})"),
    };
    let words = format!(
        "{} a lunch less than \"{}\"{between}, about {} {:.0} a year of {} days",
        money(by),
        name(seen[other]),
        heading.currency,
        by * heading.days_a_year,
        heading.days_a_year
    );
    Some(Cheapest::Clear(seen[least], words))
}

/// Who holds every target on single lunches in surely more lunches than any other.
fn leader(seen: &[&Seen<'_>]) -> Option<String> {
    let held: Vec<Vec<Option<bool>>> = seen
        .iter()
        .map(|one| one.held_all())
        .collect::<Option<_>>()?;
    let count = |held: &Vec<Option<bool>>| held.iter().filter(|held| **held == Some(true)).count();
    let best = (0..seen.len()).max_by_key(|i| (count(&held[*i]), std::cmp::Reverse(*i)))?;
    let pairs = (seen.len() * (seen.len() - 1) / 2).max(1) as f64;
    let level = 1.0 - (1.0 - LEVEL) / pairs;
    let clear = (0..seen.len()).filter(|i| *i != best).all(|other| {
        share_difference(&held[other], &held[best], level).is_some_and(|d| d.interval[0] > 0.0)
    });
    let (most, n) = (count(&held[best]), held[best].len());
    Some(if clear {
        format!(
            "\"{}\" comes nearest: every target on single lunches held in {most} of {n} lunches, surely more than in the others",
            name(seen[best])
        )
    } else {
        let shares: Vec<String> = seen
            .iter()
            .zip(&held)
            .map(|(one, held)| {
                format!(
                    "\"{}\" in {} of 100",
                    name(one),
                    of_100(count(held) as f64 / n.max(1) as f64)
                )
            })
            .collect();
        format!(
            "which comes nearest cannot be told: every target on single lunches held with {}",
            shares.join(", with ")
        )
    })
}
