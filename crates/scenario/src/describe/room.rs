//! The room, setting up and cleaning, in sentences.

use scullery_engine::line::Moment;

use super::words::{clock, length, listed};
use crate::defaults::rounded;
use crate::plan::{Care, CareJob, Plan};
use crate::view::{BoxSide, PlanBox};

/// The room and what has a place in it.
pub(crate) fn room(plan: &Plan, told: &mut Vec<String>) {
    let Some((length_m, width_m)) = plan.view.room else {
        return;
    };
    let metres = |m: f64| length(plan, (m * 1000.0).round().max(0.0) as u32);
    let boxes = &plan.view.boxes;
    let is_parked =
        |it: &&PlanBox| matches!(it.side, BoxSide::SoiledParking | BoxSide::CleanParking);
    let parked: Vec<String> = boxes
        .iter()
        .filter(is_parked)
        .map(|it| it.label.clone())
        .collect();
    let stand = boxes.len() - parked.len();
    let given = boxes.iter().filter(|it| it.given).count() - parked.len();
    let mut words = format!(
        "The room is {} long along the line and {} wide; {given} of {stand} elements have a place of their own in the file",
        metres(length_m),
        metres(width_m)
    );
    if given < stand {
        words.push_str(", the rest stand in a row behind them");
    }
    if !parked.is_empty() {
        words.push_str(&format!("; parked are {}", listed(&parked)));
    }
    told.push(words + ".");
}

pub(crate) fn care(plan: &Plan, told: &mut Vec<String>) {
    let jobs = &plan.facts.care;
    let set_up: Vec<String> = jobs
        .iter()
        .filter_map(|job| match job.care {
            Care::SetUp(at) => Some(format!(
                "{} {} min from {}",
                job.of,
                rounded(job.crew_min),
                clock(at)
            )),
            Care::Cleaning(..) => None,
        })
        .collect();
    if !set_up.is_empty() {
        told.push(format!(
            "Before the first tray is set up: {}.",
            listed(&set_up)
        ));
    }
    for (moment, when) in [
        (Moment::Sorted, "every tray is broken down and sorted"),
        (Moment::Washed, "the last rack is washed"),
        (Moment::Clean, "all is clean"),
    ] {
        let cleaned: Vec<String> = jobs
            .iter()
            .filter(|job| matches!(job.care, Care::Cleaning(at, _) if at == moment))
            .map(cleaning)
            .collect();
        if !cleaned.is_empty() {
            told.push(format!("When {when} is cleaned: {}.", listed(&cleaned)));
        }
    }
}

fn cleaning(job: &CareJob) -> String {
    let parts = match job.care {
        Care::Cleaning(_, parts) if parts > 1 => format!(" in {parts} parts"),
        _ => String::new(),
    };
    let by = if job.shortened_by.is_empty() {
        String::new()
    } else {
        let by: Vec<String> = job.shortened_by.iter().map(|by| (*by).to_owned()).collect();
        format!(" (shortened by {})", listed(&by))
    };
    let drained = if job.drain_min > 0.0 {
        format!(" after draining for {} min", rounded(job.drain_min))
    } else {
        String::new()
    };
    format!(
        "{} {} crew minutes{parts}{drained}{by}",
        job.of,
        rounded(job.crew_min)
    )
}
