//! The answer: one sentence a manager can repeat.

use crate::summary::{Endings, Measure};
use crate::targets::{Judged, Verdict};
use crate::words::{clock_words, of_100};

/// What the sentence is made of.
#[derive(Clone, Copy, Debug)]
pub struct Facts<'a> {
    /// Which day it speaks of, as words that follow "On".
    pub day_words: &'a str,
    /// Meals simulated.
    pub repeats: u64,
    /// Meals asked for.
    pub asked: u64,
    /// Targets, judged, in file order.
    pub targets: &'a [Judged],
    /// How the meals ended.
    pub endings: &'a Endings,
    /// When the last tray was clean.
    pub last_clean: Option<&'a Measure>,
    /// 95th of 100 diners' wait at the drop-off that had the longest.
    pub wait: Option<&'a Measure>,
    /// Most people standing there.
    pub standing: Option<&'a Measure>,
}

/// The sentence.
pub fn answer(facts: &Facts<'_>) -> String {
    let day = facts.day_words.trim().trim_end_matches('.');
    let mut parts = vec![verdict_words(facts)];
    parts.extend(locked_words(facts));
    parts.extend(clean_words(facts));
    if facts.repeats < facts.asked {
        parts.push(format!(
            "stopped early, after {} of {}",
            facts.repeats, facts.asked
        ));
    }
    format!("On {day}, {}.", parts.join("; "))
}

fn verdict_words(facts: &Facts<'_>) -> String {
    let n = facts.repeats;
    if n == 0 {
        return "nothing can be said: no lunch was simulated".into();
    }
    if finished(facts) == 0 {
        return "this line and crew do not hold".into();
    }
    if facts.targets.is_empty() {
        return no_target_words(facts);
    }
    let worst = |verdict: Verdict| {
        let such = facts.targets.iter().filter(|t| t.verdict == verdict);
        such.min_by(|a, b| held_share(a).total_cmp(&held_share(b)))
    };
    if let Some(target) = worst(Verdict::Fails) {
        let they = held_words(facts).map_or(String::new(), |held| format!(": they {held}"));
        return format!(
            "this line and crew do not hold{they}; what fails first is {}",
            one_target(target)
        );
    }
    let held = held_words(facts).unwrap_or_else(|| "held in the mean".into());
    match worst(Verdict::NotSureYet) {
        Some(target) => format!(
            "this line and crew {held}; it is not sure yet that this is enough for {}",
            one_target(target)
        ),
        None => format!("this line and crew {held}"),
    }
}

fn finished(facts: &Facts<'_>) -> u64 {
    facts.endings.stated_end + facts.endings.all_clean
}

/// A target and how it fared, for example `"room clean by 15:30", met in 120 of 200 where 90 of 100 are asked`.
fn one_target(target: &Judged) -> String {
    let result = &target.result;
    let words = result.words.trim_end_matches('.');
    match (result.held, target.asked_of_100) {
        (Some(held), Some(asked)) => format!(
            "\"{words}\", met in {held} of {} where {} of 100 are asked",
            result.of,
            of_100(asked / 100.0)
        ),
        _ => format!("\"{words}\": {}", result.evidence),
    }
}

fn held_share(target: &Judged) -> f64 {
    match target.result.held {
        Some(held) => held as f64 / target.result.of.max(1) as f64,
        None => 0.0,
    }
}

/// "held every target in 187 of 200 simulated lunches": those in which no target on single meals was missed. `None` when
/// there is no such target.
fn held_words(facts: &Facts<'_>) -> Option<String> {
    let by_meal: Vec<&Vec<Option<bool>>> = facts
        .targets
        .iter()
        .filter_map(|t| t.by_meal.as_ref())
        .collect();
    if by_meal.is_empty() {
        return None;
    }
    let what = match facts.targets.len() {
        1 => "the target",
        _ => "every target",
    };
    let missed = |meal: usize| {
        let mut held = by_meal.iter().filter_map(|meals| *meals.get(meal)?);
        held.any(|held| !held)
    };
    let held = (0..facts.repeats as usize).filter(|&meal| !missed(meal));
    Some(match (held.count(), facts.repeats) {
        (0, 1) => "missed a target in the one simulated lunch".into(),
        (_, 1) => format!("held {what} in the one simulated lunch"),
        (held, of) => format!("held {what} in {held} of {of} simulated lunches"),
    })
}

fn no_target_words(facts: &Facts<'_>) -> String {
    let n = facts.repeats;
    let of = match n {
        1 => "in the one simulated lunch".to_owned(),
        _ => format!("in the middle one of {n} simulated lunches"),
    };
    let mut seen = Vec::new();
    if let Some(wait) = facts.wait.and_then(|m| m.p50) {
        seen.push(format!(
            "95 of 100 diners wait at most {wait:.0} s to put down"
        ));
    }
    if let Some(people) = facts.standing.and_then(|m| m.p50) {
        seen.push(format!("at most {people:.0} people stand at the drop-off"));
    }
    match seen.is_empty() {
        true => "no target was set".into(),
        false => format!("no target was set; {of} {}", seen.join(" and ")),
    }
}

fn locked_words(facts: &Facts<'_>) -> Option<String> {
    let n = facts.repeats;
    let say = |times: u64, what: &str| {
        let of = match finished(facts) {
            0 => format!("{n} simulated lunches"),
            _ => n.to_string(),
        };
        (times > 0).then(|| format!("in {times} of {of} {what}"))
    };
    let locked = say(
        facts.endings.gridlock,
        "the line locked up and could never go on",
    );
    let drowned = say(
        facts.endings.never_drained,
        "it was still busy 12 hours after the last drop-off",
    );
    match (locked, drowned) {
        (Some(a), Some(b)) => Some(format!("{a}, and {b}")),
        (a, b) => a.or(b),
    }
}

fn clean_words(facts: &Facts<'_>) -> Option<String> {
    let finished = finished(facts);
    let clean = facts.last_clean?;
    if finished == 0 {
        return None;
    }
    if clean.n < finished {
        let inside = finished - clean.n;
        return Some(format!(
            "in {inside} of {finished} trays were still inside at the stated end"
        ));
    }
    let by = clock_words(clean.p95?);
    Some(match finished {
        1 => format!("the last tray is clean by {by}"),
        _ => format!("the last tray is clean by {by} in 95 of 100 lunches"),
    })
}
