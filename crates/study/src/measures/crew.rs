//! Measures of the crew and of belts.

use scullery_engine::watch::{ActorKind, Catalogue, State};

use super::floor::minutes;
use super::{Measures, headline, plain, ratio};
use crate::record::ActorRecord;
use crate::words::{actor_words, kind_word};

/// Busy share, minutes past the shift and minutes held up of each worker and of the crew as a whole.
pub(super) fn workers(to: &mut Measures, catalogue: &Catalogue) {
    let crew: Vec<usize> = of_kind(catalogue, ActorKind::Worker).collect();
    for &actor in &crew {
        let name = &catalogue.actors[actor].name;
        let id = |what: &str| format!("worker.{name}.{what}");
        to.add(
            plain(
                id("busy_share"),
                name,
                format!("{name}: minutes at work over the shift less breaks"),
                "share",
            ),
            move |m| m.record.actors[actor].busy_share(),
        );
        to.add(
            plain(
                id("past_shift_min"),
                name,
                format!("{name}: minutes past the shift"),
                "min",
            ),
            move |m| Some(minutes(m.record.actors[actor].us(State::PastShift))),
        );
        to.add(
            plain(
                id("held_up_min"),
                name,
                format!("{name}: minutes held up"),
                "min",
            ),
            move |m| Some(minutes(m.record.actors[actor].us(State::HeldUp))),
        );
    }
    if crew.is_empty() {
        return;
    }
    let all = crew.clone();
    to.add(
        headline(
            "crew.busy_share",
            "crew",
            "The whole crew: minutes at work over shifts less breaks",
            "share",
        ),
        move |m| {
            let of = |f: &dyn Fn(&ActorRecord) -> u64| -> u64 {
                all.iter().map(|&a| f(&m.record.actors[a])).sum()
            };
            let shift = of(&|a| a.paid_us() - a.us(State::PastShift) - a.us(State::Break));
            ratio(of(&|a| a.us(State::Working)) as f64, shift as f64)
        },
    );
    to.add(
        plain(
            "crew.past_shift_min",
            "crew",
            "The whole crew: minutes past the shift",
            "min",
        ),
        move |m| {
            let past = crew
                .iter()
                .map(|&a| m.record.actors[a].us(State::PastShift));
            Some(minutes(past.sum()))
        },
    );
}

/// How much of the run each belt and accumulator moves with something on it, and how long a belt stands.
pub(super) fn belts(to: &mut Measures, catalogue: &Catalogue) {
    let belts = of_kind(catalogue, ActorKind::Belt).chain(of_kind(catalogue, ActorKind::StackBelt));
    for actor in belts.chain(of_kind(catalogue, ActorKind::Accumulator)) {
        let name = &catalogue.actors[actor].name;
        let kind = catalogue.actors[actor].kind;
        let at = &actor_words(&catalogue.actors[actor]);
        to.add(
            plain(
                format!("{}.{name}.moving_share", kind_word(kind)),
                at,
                format!("Share of the run in which {at} moves with something on it"),
                "share",
            ),
            move |m| {
                let moving = m.record.actors[actor].us(State::Moving);
                ratio(moving as f64, m.record.run_us as f64)
            },
        );
        if kind == ActorKind::Accumulator {
            // A loop waits for nobody.
            continue;
        }
        to.add(
            plain(
                format!("{}.{name}.stopped_min", kind_word(kind)),
                at,
                format!(
                    "Minutes {at} stands because {} lies at its end",
                    match kind {
                        ActorKind::StackBelt => "a stack",
                        _ => "a tray",
                    }
                ),
                "min",
            ),
            move |m| Some(minutes(m.record.actors[actor].us(State::Stopped))),
        );
    }
}

fn of_kind(catalogue: &Catalogue, kind: ActorKind) -> impl Iterator<Item = usize> {
    let actors = catalogue.actors.iter().enumerate();
    actors.filter(move |(_, a)| a.kind == kind).map(|(i, _)| i)
}
