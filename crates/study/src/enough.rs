//! Enough meals and no more: simulates until all that was asked is known as well as wanted.
//!
//! The meals are looked at when there are 30, and again whenever their number has grown by a fifth. Each mean that is to be
//! known to a precision has its part of the 5 % that may err (Bonferroni); verdicts on targets are by intervals that hold at
//! every look. A cap ends what would go on for ever, for a target may lie so near its bound that no number tells.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::Fault;
use scullery_scenario::plan::Plan;

use crate::gathered::{Gathered, Row};
use crate::intervals::mean;
use crate::measures::Measures;
use crate::replicate::{Line, Replicate};
use crate::sequential::{LEAST, Precision, is_precise, next_look};
use crate::summarise::{Asked, summarise};
use crate::summary::Summary;
use crate::targets::{LEVEL, Looked, Verdict, judge};
use crate::words::value_words;

/// What must be known before the study ends.
#[derive(Clone, Debug, PartialEq)]
pub struct Enough {
    /// Means, and how precisely they are wanted.
    pub means: Vec<(String, Precision)>,
    /// Whether each target must be known to hold or to fail.
    pub targets: bool,
    /// Most meals.
    pub most: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
}

/// What one look found.
struct Look {
    /// How many meals may be needed in all, when not enough yet.
    needed: u64,
    /// What is not known yet, in words.
    open: Vec<String>,
    /// What is known, in words.
    known: Vec<String>,
}

/// Simulates the plan's meal until enough is known, and summarises it.
///
/// `progress` is told how many repeats are done and about how many there will be, from any thread. `stop` may be raised
/// at any time.
///
/// # Errors
/// As [`crate::replicate::replicate`]; [`Fault::Line`] also when a measure is asked for that the line does not have.
pub fn replicate_until(
    plan: &Plan,
    enough: &Enough,
    progress: &(dyn Fn(u64, u64) + Sync),
    stop: &AtomicBool,
) -> Result<Summary, Fault> {
    let line = Line::of(plan)?;
    let wanted = wanted(&line.measures, enough)?;
    let how = Replicate {
        repeats: enough.most,
        seed: enough.seed,
        threads: enough.threads,
    };
    let mut all = Gathered::new(&line.catalogue);
    let mut look = 0;
    let mut until = LEAST.min(enough.most);
    let mut needed = until;
    loop {
        let from = all.rows.len() as u64 + 1;
        let told = |done: u64| progress(done, needed.max(until));
        all.merge(line.gather(from..=until, &how, &told, stop)?);
        all.sort();
        look += 1;
        let looked = Looked::Often { level: LEVEL, look };
        let seen = seen(plan, &line.measures, &all.rows, &wanted, enough, looked);
        let meals = all.rows.len() as u64;
        let stopped = meals < until && stop.load(Ordering::SeqCst);
        if stopped || seen.open.is_empty() || until >= enough.most {
            let asked = Asked {
                repeats: if stopped { enough.most } else { meals },
                seed: enough.seed,
                looked,
                enough: Some(why(&seen, meals, enough.most, stopped)),
            };
            return Ok(summarise(
                plan,
                &line.catalogue,
                &line.measures,
                all,
                &asked,
            ));
        }
        until = next_look(until).min(enough.most);
        needed = seen.needed.clamp(until, enough.most);
    }
}

fn wanted(measures: &Measures, enough: &Enough) -> Result<Vec<(usize, Precision)>, Fault> {
    let find = |(id, precision): &(String, Precision)| match measures.find(id) {
        Some(number) => Ok((number, *precision)),
        None => Err(Fault::Line(format!(
            "this line has no measure `{id}`; the nearest is `{}`",
            measures.nearest(id)
        ))),
    };
    enough.means.iter().map(find).collect()
}

fn seen(
    plan: &Plan,
    measures: &Measures,
    rows: &[Row],
    wanted: &[(usize, Precision)],
    enough: &Enough,
    looked: Looked,
) -> Look {
    let mut look = Look {
        needed: 0,
        open: Vec::new(),
        known: Vec::new(),
    };
    let level = 1.0 - (1.0 - LEVEL) / wanted.len().max(1) as f64;
    for &(number, precision) in wanted {
        let info = &measures.infos()[number];
        let values: Vec<f64> = rows.iter().filter_map(|row| row.values[number]).collect();
        let label = lower(&info.label);
        let say = |value: f64| value_words(value, info.unit);
        match is_precise(&values, precision, level) {
            Some((true, half)) => look.known.push(format!(
                "the mean of \"{label}\" to {}",
                give_or_take(half, info.unit)
            )),
            Some((false, half)) => {
                let bar = match precision {
                    Precision::Within(bar) => bar,
                    Precision::WithinShare(share) => share * mean(&values).unwrap_or(0.0).abs(),
                };
                let more = rows.len() as f64 * (half / bar) * (half / bar);
                look.needed = look.needed.max(more.min(1e15) as u64);
                look.open.push(format!(
                    "the mean of \"{label}\" is known to {} only, {} was asked",
                    give_or_take(half, info.unit),
                    give_or_take(bar, info.unit)
                ));
            }
            None => look.open.push(format!(
                "\"{label}\" has {} to tell its mean from",
                match values.first() {
                    Some(one) => format!("one value ({})", say(*one)),
                    None => "no value".to_owned(),
                }
            )),
        }
    }
    if enough.targets {
        for judged in judge(plan, measures, rows, looked) {
            let words = judged.result.words.trim_end_matches('.').to_owned();
            if judged.verdict == Verdict::NotSureYet {
                look.open.push(format!("\"{words}\" is not sure yet"));
            } else {
                look.known
                    .push(format!("\"{words}\" {}", judged.verdict.words()));
            }
        }
    }
    look
}

/// A half width in words: as a clock time would be in minutes.
fn give_or_take(half: f64, unit: &str) -> String {
    let unit = if unit == "clock_min" { "min" } else { unit };
    format!("\u{b1} {}", value_words(half, unit))
}

fn lower(label: &str) -> String {
    let mut letters = label.chars();
    let first = letters.next().into_iter().flat_map(char::to_lowercase);
    first.chain(letters).collect()
}

fn why(look: &Look, meals: u64, most: u64, stopped: bool) -> String {
    let open = look.open.join("; ");
    let known = look.known.join("; ");
    match (stopped, look.open.is_empty()) {
        (true, _) => format!("stopped early; still open: {open}"),
        (false, true) if known.is_empty() => {
            format!("{meals} lunches, the fewest: nothing was asked that needs more")
        }
        (false, true) => format!("{meals} lunches were enough to be 95 % sure: {known}"),
        (false, false) => {
            let known = if known.is_empty() {
                known
            } else {
                format!("; known: {known}")
            };
            format!("ended at the cap of {most} lunches; still open: {open}{known}")
        }
    }
}
