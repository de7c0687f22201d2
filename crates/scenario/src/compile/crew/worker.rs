//! One member of the crew: shifts, breaks, posts, pace, and what is out of the ordinary.

use scullery_engine::line::{Help, Late, Terms, Watched, Worker};
use scullery_engine::time::{SimTime, Span};

use super::posts::{calls, post};
use crate::compile::checker::Checker;
use crate::compile::names::Names;
use crate::defaults;
use crate::describe::words;
use crate::file::{ClockedPace, Experience, OnCallFile, OnCallWhen, ScenarioFile, WorkerFile};

/// A worker as written at `path`.
pub(super) fn worker(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    written: &WorkerFile,
    path: &str,
    names: &Names,
) -> Worker {
    let shifts = shifts(check, written, path);
    let breaks = breaks(check, written, path, &shifts);
    if written.posts.is_empty() {
        let message = format!("{} has a shift and no post to stand at", written.name);
        check.fault(
            "no-post",
            &format!("{path}.posts"),
            message,
            "list at least one, for example `posts = [\"scrapping.main\"]`",
        );
    }
    let list = calls(
        check,
        &written.posts,
        &written.name,
        &format!("{path}.posts"),
        names,
    );
    let terms = Terms {
        unpaid: (0..written.breaks.len())
            .filter(|&index| written.breaks[index].paid == Some(false))
            .collect(),
        late: late(check, written, path),
        paces: paces(
            check,
            file,
            &written.pace_by_clock,
            &format!("{path}.pace_by_clock"),
        ),
        moves: moves(check, written, path, names),
        help: help(check, written, path, names),
    };
    Worker {
        name: written.name.clone(),
        shifts,
        breaks,
        pace: pace(check, written, path),
        list,
        unfilled: unfilled(check, written, path),
        terms,
    }
}

fn shifts(check: &mut Checker<'_>, written: &WorkerFile, path: &str) -> Vec<(SimTime, SimTime)> {
    let mut shifts: Vec<(SimTime, SimTime)> = Vec::new();
    for (index, shift) in written.shifts.iter().enumerate() {
        let path = format!("{path}.shifts.{index}");
        let from = check.clock(&format!("{path}.from"), &shift.from);
        let to = check.clock_after(&format!("{path}.to"), &shift.to, from);
        if let Some((_, last)) = shifts.last().filter(|(_, last)| from < *last) {
            let message = format!(
                "shifts must follow each other, found {} before the end of the last at {}",
                words::clock(*last),
                shift.from
            );
            check.fault(
                "times-out-of-order",
                &format!("{path}.from"),
                message,
                "put them in clock order",
            );
        }
        shifts.push((from, to));
    }
    shifts
}

fn breaks(
    check: &mut Checker<'_>,
    written: &WorkerFile,
    path: &str,
    shifts: &[(SimTime, SimTime)],
) -> Vec<(SimTime, Span)> {
    let mut breaks: Vec<(SimTime, Span)> = Vec::new();
    for (index, rest) in written.breaks.iter().enumerate() {
        let path = format!("{path}.breaks.{index}.due");
        let due = check.clock(&path, &rest.due);
        if !shifts.iter().any(|(from, to)| due >= *from && due < *to) {
            let message = format!(
                "the break of {} due at {} lies in no shift of theirs",
                written.name, rest.due
            );
            check.fault(
                "break-outside-shift",
                &path,
                message,
                "let it be due within a shift",
            );
        }
        if let Some((last, _)) = breaks.last().filter(|(last, _)| due <= *last) {
            let message = format!(
                "breaks must follow each other, found {} after {last}",
                rest.due
            );
            check.fault(
                "times-out-of-order",
                &path,
                message,
                "put them in clock order",
            );
        }
        breaks.push((due, Span::from_min(rest.lasts_min)));
    }
    breaks
}

/// Pace by number or by experience, not by both.
fn pace(check: &mut Checker<'_>, written: &WorkerFile, path: &str) -> f64 {
    let Some(experience) = written.experience else {
        return written.pace.unwrap_or(1.0);
    };
    if let Some(pace) = written.pace {
        let message = format!("{} has a pace by number and by experience", written.name);
        check.fault(
            "said-twice",
            &format!("{path}.experience"),
            message,
            "keep one of the two",
        );
        return pace;
    }
    let standard = match experience {
        Experience::New => &defaults::PACE_NEW,
        Experience::Practised => &defaults::PACE_PRACTISED,
        Experience::Expert => &defaults::PACE_EXPERT,
    };
    check.or_default(None, &format!("crew.{}.pace", written.name), standard)
}

fn unfilled(check: &mut Checker<'_>, written: &WorkerFile, path: &str) -> f64 {
    match (written.missing, written.unfilled_share) {
        (Some(true), Some(_)) => {
            let message = format!(
                "{} is missing this time, and is so on a share of days",
                written.name
            );
            check.fault(
                "said-twice",
                &format!("{path}.missing"),
                message,
                "keep one of the two",
            );
            1.0
        }
        (Some(true), None) => 1.0,
        // Help that comes when called has no shift of its own here to leave unfilled.
        (_, None) if written.on_call.is_some() => 0.0,
        (_, given) => {
            let key = format!("crew.{}.unfilled_share", written.name);
            check.or_default(given, &key, &defaults::UNFILLED)
        }
    }
}

fn late(check: &mut Checker<'_>, written: &WorkerFile, path: &str) -> Option<Late> {
    let late = written.late.as_ref()?;
    if written.on_call.is_some() {
        let message = format!(
            "{} comes when called, and cannot be late for a shift",
            written.name
        );
        check.fault(
            "said-twice",
            &format!("{path}.late"),
            message,
            "take one of the two out",
        );
    }
    Some(Late {
        share: late.share.unwrap_or(1.0),
        by_min: check.amount(&format!("{path}.late.by_min"), &late.by_min),
    })
}

/// The factors on a pace: those of the whole crew times the own ones.
fn paces(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    own: &[ClockedPace],
    path: &str,
) -> Vec<(SimTime, f64)> {
    let own = rising(check, own, path);
    let faults = check.faults.len();
    let all = rising(check, &file.work.pace_by_clock, "work.pace_by_clock");
    // Told once, where the whole crew's rules are read.
    check.faults.truncate(faults);
    let mut times: Vec<SimTime> = own.iter().chain(&all).map(|(at, _)| *at).collect();
    times.sort_unstable();
    times.dedup();
    let at = |list: &[(SimTime, f64)], at: SimTime| {
        let held = list.iter().rev().find(|(from, _)| *from <= at);
        held.map_or(1.0, |(_, factor)| *factor)
    };
    let product = |time: SimTime| (time, at(&own, time) * at(&all, time));
    times.into_iter().map(product).collect()
}

/// Factors with their clock times, which must rise.
pub(super) fn rising(
    check: &mut Checker<'_>,
    written: &[ClockedPace],
    path: &str,
) -> Vec<(SimTime, f64)> {
    let texts: Vec<&String> = written.iter().map(|pace| &pace.from).collect();
    let times = check.rising(|index| format!("{path}.{index}.from"), &texts);
    times
        .into_iter()
        .zip(written.iter().map(|pace| pace.factor))
        .collect()
}

fn moves(
    check: &mut Checker<'_>,
    written: &WorkerFile,
    path: &str,
    names: &Names,
) -> Vec<(SimTime, Vec<scullery_engine::line::Call>)> {
    let texts: Vec<&String> = written.posts_from.iter().map(|list| &list.from).collect();
    let times = check.rising(|index| format!("{path}.posts_from.{index}.from"), &texts);
    let lists = written.posts_from.iter().enumerate().map(|(index, list)| {
        let path = format!("{path}.posts_from.{index}.posts");
        calls(check, &list.posts, &written.name, &path, names)
    });
    let lists: Vec<_> = lists.collect();
    times.into_iter().zip(lists).collect()
}

fn help(check: &mut Checker<'_>, written: &WorkerFile, path: &str, names: &Names) -> Option<Help> {
    let called: &OnCallFile = written.on_call.as_ref()?;
    let path = format!("{path}.on_call");
    let (watches, reach) = match &called.when {
        OnCallWhen::Jobs { post: name, reach } => {
            let post = post(check, names, &format!("{path}.when.jobs.post"), name)?;
            (Watched::Jobs(post), *reach)
        }
        OnCallWhen::Standing { drop_off, reach } => {
            let at = format!("{path}.when.standing.drop_off");
            let number = check.find(&names.drop_offs, drop_off, &at, "drop-off")?;
            (Watched::Standing(number as u8), *reach)
        }
    };
    let leave_at = called.leave_at.unwrap_or(0);
    if leave_at >= reach {
        let message = format!(
            "{} would go back at {leave_at} waiting and be called at {reach}",
            written.name
        );
        check.fault(
            "leaves-before-coming",
            &format!("{path}.leave_at"),
            message,
            "let `leave_at` be less than `reach`",
        );
    }
    let key = |what: &str| format!("crew.{}.on_call.{what}", written.name);
    let comes_after = check.or_default(
        called.comes_after_min,
        &key("comes_after_min"),
        &defaults::HELP_COMES,
    );
    let stay = check.or_default(called.stay_min, &key("stay_min"), &defaults::HELP_STAYS);
    Some(Help {
        watches,
        call_at: reach,
        comes_after: Span::from_min(comes_after),
        leave_at,
        stay: Span::from_min(stay),
    })
}
