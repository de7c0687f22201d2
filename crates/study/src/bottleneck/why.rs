//! Over many lunches: which stage held the line back in each quarter hour, and in how many lunches.

use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;
use scullery_engine::ended::Fault;
use scullery_engine::line::Post;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use super::diary::{Diary, Which, diary};
use super::rule::{NOTABLE, Spent, blocked_by, bottleneck, starved_by};
use super::stages::{Kind, Stage, stages};
use super::watch::StageWatch;
use crate::staffing::cheapest_crew::{Progress, Step, about, in_pool};
use crate::staffing::found::About;
use crate::words::clock_words;

/// How it is asked.
#[derive(Clone, Copy, Debug)]
pub struct Why {
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
    /// Lunches.
    pub lunches: u64,
    /// Which tray is followed.
    pub tray: Which,
    /// In which lunch.
    pub tray_of: u64,
}

/// What held the line back.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct WhyStudy {
    /// One sentence to repeat.
    pub answer: String,
    /// Who and what it speaks of.
    pub about: About,
    /// Lunches looked at.
    pub lunches: u64,
    /// Lunches asked for.
    pub asked: u64,
    /// The stages, in the order of the flow.
    pub stages: Vec<String>,
    /// First minute of the first quarter hour, since midnight.
    pub from_min: u32,
    /// One entry a quarter hour.
    pub quarters: Vec<Quarter>,
    /// The diary of one tray.
    pub diary: Option<Diary>,
}

/// One quarter hour.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Quarter {
    /// Number of the stage that held the line back in most lunches; `None`: in most lunches none did.
    pub bottleneck: Option<usize>,
    /// Lunches in which it did (or none did).
    pub in_lunches: u64,
    /// Lunches in which each stage did.
    pub counts: Vec<u64>,
    /// Mean shares of each stage: worked, blocked, starved.
    pub shares: Vec<[f64; 3]>,
    /// For each stage what blocked it, traced to the cause; empty where nothing notably did.
    pub blocked_by: Vec<String>,
    /// For each stage what starved it, traced to the cause.
    pub starved_by: Vec<String>,
}

/// Watches so many lunches.
///
/// # Errors
/// The fault of the first lunch that has one.
pub fn why(
    plan: &Plan,
    how: &Why,
    progress: Progress<'_>,
    stop: &AtomicBool,
) -> Result<WhyStudy, Fault> {
    in_pool(how.threads, || {
        let catalogue = plan.line.catalogue();
        let stages = stages(&plan.line, &catalogue);
        let mut lunches: Vec<Vec<Vec<Spent>>> = Vec::new();
        let mut from_min = 0;
        while (lunches.len() as u64) < how.lunches && !stop.load(Ordering::Relaxed) {
            let from = lunches.len() as u64 + 1;
            let upto = (from + 16).min(how.lunches + 1);
            let ran: Result<Vec<_>, Fault> = (from..upto)
                .into_par_iter()
                .map(|repeat| {
                    let mut tape = Tape::new();
                    let mut floor = Floor::new();
                    tape.draw(&plan.demand, how.seed, repeat);
                    let mut watch = StageWatch::new(&stages, &catalogue, plan.line.starts);
                    let ended = run(&plan.line, &tape, &mut floor, &mut watch)?;
                    Ok((watch.from_min(), watch.finish(ended.at)))
                })
                .collect();
            for (from, shares) in ran? {
                from_min = from;
                lunches.push(shares);
            }
            progress(Step {
                what: "lunches",
                done: lunches.len() as u64,
                of: how.lunches,
                lunches: lunches.len() as u64,
            });
        }
        let mut study = WhyStudy {
            about: about(plan, how.seed),
            lunches: lunches.len() as u64,
            asked: how.lunches,
            stages: stages.iter().map(|s| s.name.clone()).collect(),
            from_min,
            quarters: quarters(&stages, &lunches),
            diary: diary(plan, how.seed, how.tray_of, how.tray)?,
            ..WhyStudy::default()
        };
        study.answer = answer(&study);
        Ok(study)
    })
}

/// The stage that holds the line back most of the time in these lunches, with a sentence; `None` when none does.
///
/// # Errors
/// The fault of the first lunch that has one.
pub fn holds_back(plan: &Plan, seed: u64, lunches: u64) -> Result<Option<String>, Fault> {
    let how = Why {
        seed,
        threads: 0,
        lunches,
        tray: Which::Random,
        tray_of: 1,
    };
    let catalogue = plan.line.catalogue();
    let stages = stages(&plan.line, &catalogue);
    let study = why(plan, &how, &|_| {}, &AtomicBool::new(false))?;
    let count = |stage: usize| study.quarters.iter().map(|q| q.counts[stage]).sum::<u64>();
    let most = (0..stages.len()).max_by_key(|&stage| (count(stage), std::cmp::Reverse(stage)));
    Ok(most.filter(|&stage| count(stage) > 0).map(|stage| {
        format!(
            "what holds the line back most of the time is {}",
            stages[stage].name
        )
    }))
}

fn quarters(stages: &[Stage], lunches: &[Vec<Vec<Spent>>]) -> Vec<Quarter> {
    let behind: Vec<Vec<usize>> = stages.iter().map(|s| s.behind.clone()).collect();
    let holds: Vec<Vec<usize>> = stages.iter().map(|s| s.holds.clone()).collect();
    let many = lunches.iter().map(Vec::len).max().unwrap_or(0);
    (0..many)
        .map(|q| quarter(stages, (&behind, &holds), lunches, q))
        .collect()
}

fn quarter(
    stages: &[Stage],
    (behind, holds): (&[Vec<usize>], &[Vec<usize>]),
    lunches: &[Vec<Vec<Spent>>],
    q: usize,
) -> Quarter {
    let here: Vec<&Vec<Spent>> = lunches.iter().filter_map(|lunch| lunch.get(q)).collect();
    let n = here.len().max(1) as f64;
    let mut counts = vec![0; stages.len()];
    let mut none = lunches.len() as u64;
    for spent in &here {
        // Work that may wait holds nothing back while trays are still broken down, unless they find no room for it.
        let rush = stages.iter().zip(*spent).any(|(stage, spent)| {
            matches!(stage.kind, Kind::Post(Post::Scrapping(_))) && spent.worked >= NOTABLE
        });
        let holds_up = |stage: usize| {
            let mut others = holds.iter().zip(*spent);
            others.any(|(by, it)| it.blocked >= NOTABLE && by.contains(&stage))
        };
        let matters = |stage: usize| !(rush && stages[stage].may_wait) || holds_up(stage);
        if let Some(stage) = bottleneck(spent, behind, holds, matters) {
            counts[stage] += 1;
            none -= 1;
        }
    }
    let mean: Vec<Spent> = (0..stages.len())
        .map(|s| {
            let of =
                |part: fn(&Spent) -> f64| here.iter().map(|spent| part(&spent[s])).sum::<f64>() / n;
            Spent {
                worked: of(|s| s.worked),
                blocked: of(|s| s.blocked),
                starved: of(|s| s.starved),
            }
        })
        .collect();
    // The first of several alike.
    let most = (0..stages.len())
        .rev()
        .max_by_key(|&s| counts[s])
        .filter(|&s| counts[s] > none);
    let chain = |chain: Vec<usize>| {
        chain
            .iter()
            .map(|&s| stages[s].name.as_str())
            .collect::<Vec<_>>()
            .join(", and that by ")
    };
    Quarter {
        bottleneck: most,
        in_lunches: most.map_or(none, |s| counts[s]),
        shares: mean
            .iter()
            .map(|s| [s.worked, s.blocked, s.starved])
            .collect(),
        blocked_by: (0..stages.len())
            .map(|s| chain(blocked_by(&mean, holds, s)))
            .collect(),
        starved_by: (0..stages.len())
            .map(|s| chain(starved_by(&mean, behind, s)))
            .collect(),
        counts,
    }
}

/// `from 12:15 to 12:45 scrapping main held the line back (in 83 to 97 of 100 lunches)`, for each stretch.
fn answer(study: &WhyStudy) -> String {
    let day = study.about.day_words.trim().trim_end_matches('.');
    let clock = |q: usize| clock_words(f64::from(study.from_min + 15 * q as u32));
    let mut parts: Vec<String> = Vec::new();
    let mut q = 0;
    while q < study.quarters.len() {
        let Some(stage) = study.quarters[q].bottleneck else {
            q += 1;
            continue;
        };
        let end = (q..study.quarters.len()).find(|&e| study.quarters[e].bottleneck != Some(stage));
        let end = end.unwrap_or(study.quarters.len());
        let of = |q: &Quarter| q.in_lunches;
        let least = study.quarters[q..end].iter().map(of).min().unwrap_or(0);
        let most = study.quarters[q..end].iter().map(of).max().unwrap_or(0);
        let times = if least == most {
            most.to_string()
        } else {
            format!("{least} to {most}")
        };
        parts.push(format!(
            "from {} to {} {} held the line back (in {times} of {} lunches)",
            clock(q),
            clock(end),
            study.stages[stage],
            study.lunches
        ));
        q = end;
    }
    if parts.is_empty() {
        return format!(
            "On {day}, no stage held the line back for a quarter hour in most lunches."
        );
    }
    format!("On {day}, {}.", parts.join("; "))
}
