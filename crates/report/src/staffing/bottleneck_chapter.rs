//! What held the line back, as a chapter of the report of a run.

use scullery_study::bottleneck::why::WhyStudy;

use super::stage_figure::stage_figure;
use crate::clock::hour_minute;
use crate::error::Fault;
use crate::number::fixed;
use crate::report::{Chapter, Slot};
use crate::table::Table;

/// The chapter; `None` when no lunch was looked at or the line has no stages.
///
/// # Errors
/// When its picture cannot be drawn.
pub fn bottleneck_chapter(study: &WhyStudy) -> Result<Option<Chapter>, Fault> {
    if study.lunches == 0 {
        return Ok(None);
    }
    let Some(figure) = stage_figure(study)? else {
        return Ok(None);
    };
    let stretches = stretches(study);
    let looked = format!(
        "Looked at quarter hour by quarter hour in the first {} of the lunches.",
        study.lunches
    );
    Ok(Some(Chapter {
        slot: Slot::Bottleneck,
        id: "bottleneck".to_owned(),
        title: "What held the line back".to_owned(),
        words: vec![study.answer.clone(), looked],
        figures: vec![figure],
        tables: if stretches.rows.is_empty() {
            Vec::new()
        } else {
            vec![(stretches, vec![1, 2, 3])]
        },
    }))
}

/// One row a stretch with one bottleneck: when, which, in how many lunches, and who stood because of whom.
fn stretches(study: &WhyStudy) -> Table {
    let mut table = Table::new(
        "Who stood because of it, as a share of the stretch (from 5 % on): blocked is work done that finds no room, starved \
         is nothing to work on.",
        &[
            "From and to",
            "Held the line back",
            "In lunches",
            "Who stood because of it",
        ],
    );
    let clock = |quarter: usize| hour_minute(u64::from(study.from_min) + 15 * quarter as u64);
    let mut from = 0;
    for stretch in study.quarters.chunk_by(|a, b| a.bottleneck == b.bottleneck) {
        let to = from + stretch.len();
        if let Some(stage) = stretch[0].bottleneck {
            let least = stretch.iter().map(|q| q.in_lunches).min().unwrap_or(0);
            let most = stretch.iter().map(|q| q.in_lunches).max().unwrap_or(0);
            let times = if least == most {
                format!("{most} of {}", study.lunches)
            } else {
                format!("{least} to {most} of {}", study.lunches)
            };
            let stood: Vec<String> = (0..study.stages.len())
                .filter(|other| *other != stage)
                .flat_map(|other| stood(study, (other, stage), from..to))
                .collect();
            table.rows.push(vec![
                format!("{} to {}", clock(from), clock(to)),
                study.stages[stage].clone(),
                times,
                if stood.is_empty() {
                    "nobody notably".to_owned()
                } else {
                    stood.join("; ")
                },
            ]);
        }
        from = to;
    }
    table
}

/// How a stage stood in these quarter hours because of the one that held the line back.
fn stood(
    study: &WhyStudy,
    (stage, because): (usize, usize),
    quarters: std::ops::Range<usize>,
) -> Vec<String> {
    let long = quarters.len().max(1) as f64;
    let of = |part: usize, how: &str| {
        let share = |q: usize| {
            let quarter = &study.quarters[q];
            let by = if part == 1 {
                &quarter.blocked_by[stage]
            } else {
                &quarter.starved_by[stage]
            };
            // Only what is traced to it counts: who lacks work because few diners come does not stand because of it.
            let traced = by.rsplit(", and that by ").next() == Some(&study.stages[because]);
            if traced {
                quarter.shares[stage][part]
            } else {
                0.0
            }
        };
        let mean = quarters.clone().map(share).sum::<f64>() / long;
        (mean >= NOTABLE)
            .then(|| format!("{} {how} {} %", study.stages[stage], fixed(mean * 100.0, 0)))
    };
    [of(1, "blocked"), of(2, "starved")]
        .into_iter()
        .flatten()
        .collect()
}

/// A stage is named from this share of a stretch on.
const NOTABLE: f64 = scullery_study::bottleneck::rule::NOTABLE;
