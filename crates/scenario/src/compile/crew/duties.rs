//! Other work.

use scullery_engine::line::{Duty, DutyWhen};
use scullery_engine::time::{SimTime, Span};

use super::posts::post;
use crate::compile::checker::Checker;
use crate::compile::names::Names;
use crate::file::{DutyWhenFile, ScenarioFile, SideOfRoom};

/// Other work, in order of name.
pub(crate) fn duties(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Duty> {
    file.duty
        .iter()
        .map(|(name, written)| {
            let path = format!("duty.{name}");
            let when = match &written.when {
                DutyWhenFile::At(texts) => {
                    let texts: Vec<&String> = texts.iter().collect();
                    DutyWhen::At(check.rising(|index| format!("{path}.when.at.{index}"), &texts))
                }
                DutyWhenFile::Round {
                    from,
                    to,
                    every_min,
                } => {
                    let first = check.clock(&format!("{path}.when.round.from"), from);
                    let last = check.clock_after(&format!("{path}.when.round.to"), to, first);
                    DutyWhen::At(rounds(first, last, Span::from_min(*every_min)))
                }
                DutyWhenFile::ByWaste { every_kg } => DutyWhen::EveryKg(*every_kg),
            };
            let work_min = check.amount(&format!("{path}.work_min"), &written.work_min);
            let mut by = Vec::new();
            for (index, name) in written.by.iter().enumerate() {
                by.extend(post(check, names, &format!("{path}.by.{index}"), name));
            }
            Duty {
                name: name.clone(),
                when,
                work_s: crate::moments::scaled(work_min, 60.0),
                by,
                may_wait: written.may_wait_min.map(Span::from_min),
                clean_side: written.side == Some(SideOfRoom::Clean),
            }
        })
        .collect()
}

/// Most rounds of one piece of other work.
const MOST_ROUNDS: usize = 10_000;

fn rounds(first: SimTime, last: SimTime, every: Span) -> Vec<SimTime> {
    let next = |at: &SimTime| Some(*at + every.max(Span::from_us(1)));
    std::iter::successors(Some(first), next)
        .take_while(|at| *at <= last)
        .take(MOST_ROUNDS)
        .collect()
}
