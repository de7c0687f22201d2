//! The answer: one sentence a manager can repeat.

use crate::summary::{Endings, Measure};
use crate::targets::{Judged, Verdict};
use crate::words::clock_words;

/// What the sentence is made of.
#[derive(Clone, Copy, Debug)]
pub struct Facts<'a> {
    /// Which day it speaks of, as words that follow "On".
    pub day_words: &'a str,
    /// Meals simulated, and meals asked for.
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
    let worst = |verdict: Verdict| {
        let such = facts.targets.iter().filter(|t| t.verdict == verdict);
        such.min_by(|a, b| held_share(a).total_cmp(&held_share(b)))
    };
    if facts.targets.is_empty() {
        return no_target_words(facts);
    }
    if let Some(target) = worst(Verdict::Fails) {
        return format!(
            "this line and crew do not hold; what fails first is \"{}\": {}",
            target.result.words.trim_end_matches('.'),
            target.result.evidence
        );
    }
    let held = format!(
        "this line and crew held {} in {}",
        every_target(facts),
        in_meals(facts)
    );
    match worst(Verdict::NotSureYet) {
        Some(target) => format!(
            "{held}; it is not sure yet that this is enough for \"{}\": {}",
            target.result.words.trim_end_matches('.'),
            target.result.evidence
        ),
        None => held,
    }
}

fn held_share(target: &Judged) -> f64 {
    match target.result.held {
        Some(held) => held as f64 / target.result.of.max(1) as f64,
        None => 0.0,
    }
}

fn every_target(facts: &Facts<'_>) -> &'static str {
    match facts.targets.len() {
        1 => "its target",
        _ => "every target",
    }
}

/// "187 of 200 simulated lunches": those in which no target on single meals was missed.
fn in_meals(facts: &Facts<'_>) -> String {
    let held = (0..facts.repeats as usize)
        .filter(|&meal| {
            let judged = facts.targets.iter().filter_map(|t| t.by_meal.as_ref());
            judged
                .flat_map(|meals| meals.get(meal))
                .all(|held| *held != Some(false))
        })
        .count();
    let single = facts.targets.iter().any(|t| t.by_meal.is_some());
    match (single, facts.repeats) {
        (false, n) => format!("the mean of {n} simulated lunches"),
        (true, 1) => "the one simulated lunch".into(),
        (true, n) => format!("{held} of {n} simulated lunches"),
    }
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
    let say = |times: u64, what: &str| (times > 0).then(|| format!("in {times} of {n} {what}"));
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
    let finished = facts.endings.stated_end + facts.endings.all_clean;
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
