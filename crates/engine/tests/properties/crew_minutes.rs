//! Each worker's minutes add up to the run, and those on shift to the shift.

use proptest::prelude::*;
use scullery_engine::line::Worker;
use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::{Counted, Job, PostId, State};

use super::record::{Case, Told, check};

/// Stretches of the run in order, each with what the worker was doing.
fn stretches(told: &[Told], w: usize, case: &Case, end: SimTime) -> Vec<(SimTime, SimTime, State)> {
    let mut list = Vec::new();
    let mut is = (case.line.starts, State::Off);
    for it in told {
        if let Told::State(at, who, state, _) = *it
            && usize::from(who.0) == w
        {
            list.push((is.0, at, is.1));
            is = (at, state);
        }
    }
    list.push((is.0, end, is.1));
    list
}

/// Time within the shifts, from `from` to `to`.
fn on_shift(worker: &Worker, from: SimTime, to: SimTime) -> Span {
    let mut sum = Span::NONE;
    for &(begins, ends) in &worker.shifts {
        sum += Ord::min(ends, to).since(begins.max(from));
    }
    sum
}

fn never_came(stretches: &[(SimTime, SimTime, State)]) -> bool {
    stretches.iter().all(|s| s.2 == State::Off)
}

#[test]
fn minutes_on_shift_add_up_to_the_shift_and_the_others_lie_outside_it() {
    check(1_500, |case| {
        let (ended, told) = case.run()?;
        for (w, worker) in case.line.crew.iter().enumerate() {
            let stretches = stretches(&told, w, case, ended.at);
            if never_came(&stretches) && worker.unfilled > 0.0 {
                continue;
            }
            // Who comes late, or only when called, is away for part of the hours.
            let by_the_clock = worker.terms.late.is_none() && worker.terms.help.is_none();
            let mut present = Span::NONE;
            for &(from, to, state) in &stretches {
                let within = on_shift(worker, from, to);
                let whole = to.since(from);
                match state {
                    State::Off | State::PastShift if !by_the_clock => continue,
                    State::Off | State::PastShift => prop_assert_eq!(
                        within,
                        Span::NONE,
                        "{} {:?} within the shift, {} to {}",
                        &worker.name,
                        state,
                        from,
                        to
                    ),
                    State::Waiting
                    | State::Working
                    | State::HeldUp
                    | State::Walking
                    | State::HandWash
                    | State::WaitingForHelp
                    | State::Break => prop_assert_eq!(
                        within,
                        whole,
                        "{} {:?} outside the shift, {} to {}",
                        &worker.name,
                        state,
                        from,
                        to
                    ),
                    other => prop_assert!(false, "{} is {other:?}", worker.name),
                }
                present += within;
            }
            // So the busy share, minutes at work over minutes on shift less breaks, is never over 100 %.
            let shift = on_shift(worker, case.line.starts, ended.at);
            prop_assert!(present <= shift);
            prop_assert!(present == shift || !by_the_clock, "{}", worker.name);
        }
        Ok(())
    });
}

#[test]
fn breaks_begin_when_due_or_after_and_last_their_length_unless_the_shift_ends() {
    check(1_500, |case| {
        let (ended, told) = case.run()?;
        for (w, worker) in case.line.crew.iter().enumerate() {
            let stretches = stretches(&told, w, case, ended.at);
            for (k, &(from, to, state)) in stretches.iter().enumerate() {
                if state != State::Break {
                    continue;
                }
                let due: Vec<_> = worker.breaks.iter().filter(|b| b.0 <= from).collect();
                prop_assert!(!due.is_empty(), "{} on a break at {from}", worker.name);
                // Breaks that follow on each other show as one stretch: it is the sum of some of them.
                let until_shift_end = worker.shifts.iter().any(|s| s.1 == to) || to == ended.at;
                let mut sums = vec![Span::NONE];
                for (at, length) in &worker.breaks {
                    if *at <= to {
                        let more: Vec<_> = sums.iter().map(|&s| s + *length).collect();
                        sums.extend(more);
                    }
                }
                prop_assert!(
                    until_shift_end || sums.contains(&to.since(from)),
                    "{} from {from} to {to}",
                    worker.name
                );
                // Nobody is called away in mid-task, and nobody makes a break wait but for a task.
                let before = k.checked_sub(1).map(|k| stretches[k].2);
                let on_time = worker.breaks.iter().any(|b| b.0 == from);
                prop_assert!(
                    on_time || before == Some(State::Working) || lasted_no_time(worker, from),
                    "{} made a break wait until {from} {before:?}",
                    worker.name
                );
            }
        }
        Ok(())
    });
}

/// Whether a break may begin late because the worker came on shift just then.
fn lasted_no_time(worker: &Worker, at: SimTime) -> bool {
    worker.shifts.iter().any(|s| s.0 == at) || worker.terms.late.is_some()
}

#[test]
fn breaks_taken_and_missed_are_no_more_than_breaks_due() {
    check(1_500, |case| {
        let (ended, told) = case.run()?;
        let counts = case.line.catalogue().counts;
        let missed: u32 = told
            .iter()
            .filter_map(|it| match *it {
                Told::Counted(_, count, by) => {
                    (counts[usize::from(count.0)].counted == Counted::BreaksMissed).then_some(by)
                }
                _ => None,
            })
            .sum();
        let mut due = 0;
        let mut taken = 0;
        for (w, worker) in case.line.crew.iter().enumerate() {
            due += worker.breaks.iter().filter(|b| b.0 <= ended.at).count();
            let stretches = stretches(&told, w, case, ended.at);
            taken += stretches.iter().filter(|s| s.2 == State::Break).count();
        }
        prop_assert!(
            taken + missed as usize <= due,
            "{taken} taken, {missed} missed of {due}"
        );
        Ok(())
    });
}

#[test]
fn whoever_is_on_shift_and_not_on_a_break_stands_at_a_post_of_the_own_list_or_is_on_the_way_there()
{
    check(1_000, |case| {
        let (_, told) = case.run()?;
        let catalogue = case.line.catalogue();
        let lists: Vec<Vec<PostId>> = case
            .line
            .crew
            .iter()
            .map(|worker| {
                let posts = worker.list.iter().map(|call| call.post);
                posts.map(|post| case.line.post_id(post)).collect()
            })
            .collect();
        let mut now: Vec<(State, Option<PostId>)> = vec![(State::Off, None); lists.len()];
        for (index, it) in told.iter().enumerate() {
            match *it {
                Told::State(_, who, state, _) if usize::from(who.0) < now.len() => {
                    now[usize::from(who.0)].0 = state;
                }
                Told::Stands(_, who, post) => now[usize::from(who.0)].1 = post,
                _ => {}
            }
            if told.get(index + 1).is_some_and(|next| next.at() == it.at()) {
                continue;
            }
            let mut at_work = vec![0; catalogue.posts.len()];
            for ((state, post), list) in now.iter().zip(&lists) {
                let absent = matches!(state, State::Off | State::Break);
                prop_assert_eq!(post.is_none(), absent, "{:?} at {:?}", state, post);
                let Some(post) = post else { continue };
                let info = &catalogue.posts[usize::from(post.0)];
                prop_assert!(
                    list.contains(post) || matches!(info.job, Job::OtherWork | Job::Clearing)
                );
                let working = matches!(state, State::Working | State::PastShift);
                at_work[usize::from(post.0)] += u32::from(working);
            }
            for (info, at_work) in catalogue.posts.iter().zip(at_work) {
                prop_assert!(info.places.is_none_or(|places| at_work <= places));
            }
        }
        Ok(())
    });
}
