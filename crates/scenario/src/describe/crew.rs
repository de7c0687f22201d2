//! The crew and its other work, in sentences.

use scullery_engine::line::{Call, DutyWhen, Line, Watched, Worker};

use super::trays::drop_off;
use super::words::{clock, listed, percent, post, span};
use crate::defaults::rounded;
use crate::plan::Plan;

pub(crate) fn crew(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for worker in &line.crew {
        told.push(person(plan, worker));
        told.extend(terms(plan, worker));
    }
    rules(plan, told);
    // Setting up and cleaning have sentences of their own.
    let others = line.duties.len() - plan.facts.care.len();
    for duty in &line.duties[..others] {
        let when = match &duty.when {
            DutyWhen::At(times) if times.len() <= 4 => format!(
                "at {}",
                listed(&times.iter().copied().map(clock).collect::<Vec<_>>())
            ),
            DutyWhen::At(times) => match (times.first(), times.last()) {
                (Some(first), Some(last)) => format!(
                    "{} times from {} to {}",
                    times.len(),
                    clock(*first),
                    clock(*last)
                ),
                _ => "never".to_owned(),
            },
            DutyWhen::DetergentLow(machine) => {
                let machine = line.machines.get(usize::from(*machine));
                let name = machine.map_or("?", |machine| machine.name.as_str());
                format!("when the detergent of machine {name} is low")
            }
            DutyWhen::EveryKg(kg) => format!("every {} kg of waste", rounded(*kg)),
            DutyWhen::Change(r) => {
                let it = line.receivers.get(usize::from(*r));
                format!("when {} is full", it.map_or("?", |it| &it.name))
            }
            DutyWhen::BinFull(s) => {
                let it = line.waste_stores.get(usize::from(*s));
                format!("when a bin of {} is full", it.map_or("?", |it| &it.name))
            }
            DutyWhen::AfterLast { .. } => "after the last tray".to_owned(),
        };
        let by: Vec<String> = duty.by.iter().map(|by| post(line, *by)).collect();
        let may_wait = duty.may_wait.map_or("comes first".to_owned(), |wait| {
            format!("may wait {}", span(wait))
        });
        told.push(format!(
            "Other work \"{}\": {} min {when}, by whoever does {}; it {may_wait}.",
            duty.name,
            rounded(duty.work_s.mean() / 60.0),
            listed(&by)
        ));
    }
}

/// Hours, breaks and posts of one worker.
fn person(plan: &Plan, worker: &Worker) -> String {
    let hours: Vec<String> = worker
        .shifts
        .iter()
        .map(|(from, to)| format!("{} to {}", clock(*from), clock(*to)))
        .collect();
    let breaks: Vec<String> = worker
        .breaks
        .iter()
        .enumerate()
        .map(|(number, (due, lasts))| {
            let unpaid = if worker.terms.unpaid.contains(&number) {
                " unpaid"
            } else {
                ""
            };
            format!("{}{unpaid} at {}", span(*lasts), clock(*due))
        })
        .collect();
    let breaks = if breaks.is_empty() {
        String::new()
    } else {
        format!(", break {}", listed(&breaks))
    };
    let hours = match &worker.terms.help {
        None => listed(&hours),
        Some(_) => format!("on call {}", listed(&hours)),
    };
    format!(
        "{}, {hours}{breaks}: {}.",
        worker.name,
        posts(&plan.line, &worker.list)
    )
}

/// A list of posts as it is read.
fn posts(line: &Line, list: &[Call]) -> String {
    let each: Vec<String> = list
        .iter()
        .map(|call| {
            let mut levels = Vec::new();
            if call.step_in > 1 {
                levels.push(format!("once {} jobs wait", call.step_in));
            }
            if call.leave_at > 0 {
                levels.push(format!("until {} wait", call.leave_at));
            }
            if !call.stay.is_none() {
                levels.push(format!("for {} at least", span(call.stay)));
            }
            let levels = if levels.is_empty() {
                String::new()
            } else {
                format!(" ({})", levels.join(", "))
            };
            format!("{}{levels}", post(line, call.post))
        })
        .collect();
    each.join(", else ")
}

/// What is out of the ordinary for one worker.
fn terms(plan: &Plan, worker: &Worker) -> Vec<String> {
    let line = &plan.line;
    let name = &worker.name;
    let mut told = Vec::new();
    for (from, list) in &worker.terms.moves {
        told.push(format!(
            "From {} {name} is at {}.",
            clock(*from),
            posts(line, list)
        ));
    }
    if worker.unfilled >= 1.0 {
        told.push(format!("{name} is missing this time."));
    } else if worker.unfilled > 0.0 {
        told.push(format!(
            "On {} of days {name} does not come.",
            percent(worker.unfilled)
        ));
    }
    if let Some(late) = &worker.terms.late {
        let often = if late.share >= 1.0 {
            String::new()
        } else {
            format!("On {} of days ", percent(late.share))
        };
        told.push(format!(
            "{often}{name} starts {} min late.",
            rounded(late.by_min.mean())
        ));
    }
    let stated = worker.pace * allowance(plan);
    if (stated - 1.0).abs() > 1e-9 {
        told.push(format!(
            "{name} works at {} of normal pace.",
            percent(stated)
        ));
    }
    if let Some(help) = &worker.terms.help {
        let when = match help.watches {
            Watched::Jobs(watched) => {
                format!("{} jobs wait at {}", help.call_at, post(line, watched))
            }
            Watched::Standing(number) => format!(
                "{} people stand at drop-off {}",
                help.call_at,
                drop_off(plan, number)
            ),
        };
        told.push(format!(
            "{name} is called when {when}, is there {} later, stays at least {} and goes back when no more than {} wait.",
            span(help.comes_after),
            span(help.stay),
            help.leave_at
        ));
    }
    told
}

/// By how much the loader has lengthened everybody's work.
fn allowance(plan: &Plan) -> f64 {
    let rest = plan
        .facts
        .rest_allowance
        .filter(|rest| !rest.in_the_seconds);
    rest.map_or(1.0, |rest| rest.standard_over_normal())
}

/// Rules for the whole crew.
fn rules(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    if let Some(rest) = plan.facts.rest_allowance {
        let (of, formula) = if rest.of_standard_time {
            ("standard time", "normal time / (1 - allowance)")
        } else {
            ("normal time", "normal time x (1 + allowance)")
        };
        let share = percent(rest.share);
        told.push(if rest.in_the_seconds {
            format!("The seconds of work are standard times: a rest allowance of {share} of {of} is in them.")
        } else {
            format!(
                "The seconds of work are normal times; the rest allowance of {share} of {of} is added: standard time = {formula}, {} times as long.",
                rounded(rest.standard_over_normal())
            )
        });
    }
    if !line.for_two.is_empty() {
        let posts: Vec<String> = line
            .for_two
            .iter()
            .map(|for_two| post(line, *for_two))
            .collect();
        told.push(format!(
            "Two people together do each task at {}; it begins when both stand there, at the pace of the slower.",
            listed(&posts)
        ));
    }
    let paced: Vec<&Worker> = line
        .crew
        .iter()
        .filter(|w| !w.terms.paces.is_empty())
        .collect();
    let Some(first) = paced.first() else { return };
    let all_alike = paced.len() == line.crew.len()
        && paced
            .iter()
            .all(|worker| worker.terms.paces == first.terms.paces);
    for worker in paced.iter().take(if all_alike { 1 } else { paced.len() }) {
        let steps: Vec<String> = worker
            .terms
            .paces
            .iter()
            .map(|(from, factor)| format!("{} from {}", percent(*factor), clock(*from)))
            .collect();
        let whose = if all_alike {
            "Everybody's"
        } else {
            &worker.name
        };
        told.push(if all_alike {
            format!("{whose} pace is {} of their own.", listed(&steps))
        } else {
            format!("{whose}'s pace is {} of their own.", listed(&steps))
        });
    }
}
