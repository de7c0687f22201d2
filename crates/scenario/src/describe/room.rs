//! The room, setting up and cleaning, in sentences.

use scullery_engine::line::Moment;

use super::words::{clock, listed};
use crate::defaults::rounded;
use crate::plan::{Care, CareJob, Plan};

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
    format!(
        "{} {} crew minutes{parts}{by}",
        job.of,
        rounded(job.crew_min)
    )
}
