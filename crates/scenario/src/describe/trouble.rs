//! Trouble, in sentences.

use scullery_engine::line::{AfterStop, Stands, Strikes, Trouble};

use super::words::listed;
use crate::compile::post_name;
use crate::defaults::rounded;
use crate::plan::Plan;

/// What stands, by name.
pub(crate) fn stands(plan: &Plan, what: Stands) -> String {
    let line = &plan.line;
    let named =
        |kind: &str, name: Option<&String>| format!("{kind} {}", name.map_or("?", String::as_str));
    match what {
        Stands::Belt(b) => named("belt", line.belts.get(usize::from(b)).map(|it| &it.name)),
        Stands::StackBelt(b) => {
            let belt = line.stack_belts.get(usize::from(b));
            named("belt", belt.map(|it| &it.belt.name))
        }
        Stands::Accumulator(a) => named(
            "accumulator",
            line.accumulators.get(usize::from(a)).map(|it| &it.name),
        ),
        Stands::Lane(l) => named("lane", line.lanes.get(usize::from(l)).map(|it| &it.name)),
        Stands::Machine(m) => named(
            "machine",
            line.machines.get(usize::from(m)).map(|it| &it.name),
        ),
    }
}

pub(crate) fn troubles(plan: &Plan, told: &mut Vec<String>) {
    told.extend(
        plan.line
            .troubles
            .iter()
            .map(|trouble| sentence(plan, trouble)),
    );
}

fn sentence(plan: &Plan, trouble: &Trouble) -> String {
    let all: Vec<String> = trouble
        .stops
        .iter()
        .map(|&what| stands(plan, what))
        .collect();
    let first = all.first().map_or("?", String::as_str);
    let strikes = match &trouble.strikes {
        Strikes::Share(share) => {
            let things = match trouble.stops.first() {
                Some(Stands::Belt(_) | Stands::Accumulator(_)) => "trays",
                _ => "racks",
            };
            format!("{} in 1,000 {things} on {first}", rounded(share * 1000.0))
        }
        Strikes::RunningMin(dist) => format!(
            "on average after {} min of running of {first}",
            rounded(dist.mean())
        ),
    };
    let posts: Vec<String> = trouble
        .by
        .iter()
        .map(|&post| post_name(&plan.line, post))
        .collect();
    let minutes = rounded(trouble.clearing_s.mean() / 60.0);
    let clearing = if posts.is_empty() {
        format!("over after {minutes} min without the crew")
    } else {
        format!(
            "cleared in {minutes} min by whoever works at {}",
            listed(&posts)
        )
    };
    let again = if trouble.then == AfterStop::RunAgain {
        "; what is inside is run again"
    } else {
        ""
    };
    format!(
        "Trouble \"{}\": {strikes}; {} then {}, {clearing}{again}.",
        trouble.name,
        listed(&all),
        if all.len() == 1 { "stands" } else { "stand" }
    )
}
