//! Rules of work for the whole crew: tasks for two, the rest allowance.

use scullery_engine::line::{Line, Post, Worker, can_take_two};

use super::posts::post;
use crate::compile::checker::Checker;
use crate::compile::names::Names;
use crate::file::{ScenarioFile, ShareOf};
use crate::plan::RestAllowance;

/// The rest allowance as written, for the description.
pub(crate) fn rest_allowance(file: &ScenarioFile) -> Option<RestAllowance> {
    let written = file.work.rest_allowance.as_ref()?;
    Some(RestAllowance {
        share: written.share,
        of_standard_time: written.of == ShareOf::StandardTime,
        in_the_seconds: written.in_the_seconds,
    })
}

/// Where the seconds of the file are normal times, everybody takes the allowance longer over them.
pub(super) fn add_allowance(file: &ScenarioFile, crew: &mut [Worker]) {
    let Some(rest) = rest_allowance(file).filter(|rest| !rest.in_the_seconds) else {
        return;
    };
    for worker in crew {
        worker.pace /= rest.standard_over_normal();
    }
}

/// Posts whose tasks take two.
pub(crate) fn for_two(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Post> {
    let mut all = Vec::new();
    for (index, name) in file.work.for_two.iter().enumerate() {
        let path = format!("work.for_two.{index}");
        let Some(post) = post(check, names, &path, name) else {
            continue;
        };
        if all.contains(&post) {
            let message = format!("{name} stands twice in the list");
            check.fault("name-twice", &path, message, "keep it once");
            continue;
        }
        all.push(post);
    }
    all
}

/// Whether each task for two can ever be manned.
pub(crate) fn manned_by_two(check: &mut Checker<'_>, line: &Line) {
    for (index, &post) in line.for_two.iter().enumerate() {
        let name = super::post_name(line, post);
        let path = format!("work.for_two.{index}");
        if !can_take_two(line, post) {
            let message = format!(
                "two people can never take a task at {name}: there is one place, or ware comes there only to a free worker"
            );
            let help = "give the post two places, or let ware wait in front of it";
            check.fault("never-two", &path, message, help);
            continue;
        }
        let by = |worker: &&Worker| {
            let does = |call: &scullery_engine::line::Call| {
                let other = match post {
                    Post::Duty(duty) => line
                        .duties
                        .get(usize::from(duty))
                        .is_some_and(|duty| duty.by.contains(&call.post)),
                    _ => false,
                };
                call.post == post || other
            };
            // Whoever is missing every day is nobody's second.
            worker.unfilled < 1.0 && worker.calls().any(does)
        };
        let able: Vec<&Worker> = line.crew.iter().filter(by).collect();
        let meet = able.iter().enumerate().any(|(number, one)| {
            able[number + 1..].iter().any(|other| {
                let mut pairs = one
                    .shifts
                    .iter()
                    .flat_map(|a| other.shifts.iter().map(move |b| (a, b)));
                pairs.any(|(a, b)| a.0 < b.1 && b.0 < a.1)
            })
        });
        if !meet {
            let message = format!(
                "a task at {name} takes two, and no two who do it are ever on shift together"
            );
            let help = format!("put \"{name}\" on the lists of two people whose shifts overlap");
            check.fault("never-two", &path, message, help);
        }
    }
}
