//! Figures of the room: the run, the floor, the queue, crossing ways; and minutes of setting up and cleaning.

use super::figures::{Figure, figure};
use crate::defaults::rounded;
use crate::describe::words::length;
use crate::plan::{Care, Plan};

fn metres(plan: &Plan, m: f64) -> String {
    length(plan, (m * 1000.0).round().max(0.0) as u32)
}

/// What the room holds, and what stands in the way of what.
pub fn room(plan: &Plan) -> Vec<Figure> {
    let mut told = Vec::new();
    let view = &plan.view;
    if let Some((length_m, width_m)) = view.room {
        let (along, across) = view.reach_m();
        let words = format!(
            "The line takes {} of the room's {} along and {} of its {} across; what stands along the wall adds up to {}.",
            metres(plan, along),
            metres(plan, length_m),
            metres(plan, across),
            metres(plan, width_m),
            metres(plan, view.run_m())
        );
        let look = along > length_m + 1e-9 || across > width_m + 1e-9;
        told.push(figure("room.run".to_owned(), along, "m", words, look));
        let share = view.floor_m2() / (length_m * width_m);
        let words = format!(
            "Equipment and parking stand on {:.0} % of the floor; aisles, doors and the people at work need the rest.",
            100.0 * share
        );
        told.push(figure(
            "room.floor".to_owned(),
            share,
            "share",
            words,
            share > 0.5,
        ));
        for (number, one) in view.boxes.iter().enumerate() {
            for other in &view.boxes[number + 1..] {
                if one.overlaps(other) {
                    let words =
                        format!("{} and {} stand on the same floor.", one.label, other.label);
                    let id = format!("room.overlap.{}.{}", one.id, other.id);
                    told.push(figure(id, 1.0, "places", words, true));
                }
            }
        }
        let crossings: Vec<String> = view
            .crossings
            .iter()
            .map(|crossing| {
                let ends = |way: usize| {
                    let way = &view.ways[way];
                    let label = |number: usize| &view.boxes[number].label;
                    format!("{} to {}", label(way.from), label(way.to))
                };
                format!(
                    "the clean way {} and the soiled way {}, {} along",
                    ends(crossing.clean),
                    ends(crossing.soiled),
                    metres(plan, crossing.x_m)
                )
            })
            .collect();
        let words = if crossings.is_empty() {
            "No clean way crosses a soiled one.".to_owned()
        } else {
            format!(
                "Clean and soiled ways cross: {}. Keep them apart in place or in time.",
                crossings.join("; ")
            )
        };
        let count = crossings.len() as f64;
        told.push(figure(
            "room.crossings".to_owned(),
            count,
            "crossings",
            words,
            count > 0.0,
        ));
    }
    if let Some(queue_m) = view.queue_m {
        let holds = (queue_m / plan.facts.person_m + 1e-9).floor();
        let promised = plan.heading.queue_room_people.map(f64::from);
        let more = promised
            .filter(|people| *people > holds)
            .map_or_else(String::new, |people| {
                format!("; the file's room for {people} people is more than that")
            });
        let words = format!(
            "The queue's way of {} holds {holds} people waiting, {} a person{more}.",
            metres(plan, queue_m),
            metres(plan, plan.facts.person_m)
        );
        told.push(figure(
            "room.queue_holds".to_owned(),
            holds,
            "people",
            words,
            !more.is_empty(),
        ));
    }
    if let Some(people) = plan.heading.queue_room_people {
        let queue_m = f64::from(people) * plan.facts.person_m;
        let words = format!(
            "Room for {people} people waiting is {} of queue, {} a person.",
            metres(plan, queue_m),
            metres(plan, plan.facts.person_m)
        );
        told.push(figure("room.queue".to_owned(), queue_m, "m", words, false));
    }
    told.extend(care(plan));
    told
}

/// Crew minutes before the first tray and after the last.
fn care(plan: &Plan) -> Vec<Figure> {
    let sum = |of: &dyn Fn(Care) -> bool| -> f64 {
        let jobs = plan.facts.care.iter().filter(|job| of(job.care));
        jobs.map(|job| job.crew_min).sum()
    };
    let mut told = Vec::new();
    let set_up = sum(&|care| matches!(care, Care::SetUp(_)));
    if set_up > 0.0 {
        let words = format!("Setting up asks {} crew minutes.", rounded(set_up));
        told.push(figure(
            "care.set_up".to_owned(),
            set_up,
            "min",
            words,
            false,
        ));
    }
    let cleaning = sum(&|care| matches!(care, Care::Cleaning(..)));
    if cleaning > 0.0 {
        let words = format!(
            "Cleaning after the last tray asks {} crew minutes; the room is clean when it is done.",
            rounded(cleaning)
        );
        told.push(figure(
            "care.cleaning".to_owned(),
            cleaning,
            "min",
            words,
            false,
        ));
    }
    told
}
