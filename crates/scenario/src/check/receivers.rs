//! How often receivers are changed and bins emptied in a meal: estimates, what the meal brings over the room.

use scullery_engine::line::{DutyWhen, StoreKind};

use super::figures::{Figure, figure};
use super::flow::Flow;
use super::ways::in_the_meal;
use crate::defaults::rounded;
use crate::describe::words::counted;
use crate::plan::Plan;

/// What fills up, in pieces or kilograms.
struct Filling {
    /// What the meal brings.
    brings: f64,
    /// What is there when the run begins.
    there: f64,
    /// What a full one holds; `None`: as much as comes.
    full: Option<f64>,
}

/// What fills up until this work is done; `None` for other work, and where nothing comes or is there.
fn filling(plan: &Plan, flow: &Flow, when: &DutyWhen) -> Option<Filling> {
    let line = &plan.line;
    let filling = match when {
        DutyWhen::Change(r) => {
            let it = line.receivers.get(usize::from(*r))?;
            let brings = in_the_meal(plan, flow, |ways| ways.into_receiver[usize::from(*r)]);
            let room = it.room.or_else(|| line.rack_room(*r));
            let there = line.already.receivers.iter();
            let there = there.filter(|there| there.receiver == *r);
            Filling {
                brings,
                there: there.map(|there| f64::from(there.pieces)).sum(),
                full: it.call_at.or(room).map(f64::from),
            }
        }
        DutyWhen::BinFull(s) => {
            let it = line.waste_stores.get(usize::from(*s))?;
            let StoreKind::Bins { each_g, .. } = it.kind else {
                return None;
            };
            let brings = in_the_meal(plan, flow, |ways| ways.waste_kg[usize::from(*s)]);
            let there = line.already.waste.iter().filter(|(store, _)| store == s);
            Filling {
                brings,
                there: there.map(|(_, grams)| f64::from(*grams) / 1000.0).sum(),
                full: Some(f64::from(each_g) / 1000.0),
            }
        }
        _ => return None,
    };
    (filling.brings + filling.there > 0.0).then_some(filling)
}

/// About how often in a meal this work is done: each time it is full; a receiver once more for what is left in it, while
/// what is left in a bin is left there.
pub(super) fn fills(plan: &Plan, flow: &Flow, when: &DutyWhen) -> f64 {
    let Some(filling) = filling(plan, flow, when) else {
        return 0.0;
    };
    let whole = filling.brings + filling.there;
    let times = filling.full.map_or(0.0, |full| whole / full.max(1e-9));
    match when {
        DutyWhen::BinFull(_) => (times + NEARLY).floor(),
        _ => (times - NEARLY).ceil().max(1.0),
    }
}

/// A sum of means that comes so near to a whole number of fills is meant to be one.
const NEARLY: f64 = 1e-6;

/// Changes of each receiver and each bin.
pub(super) fn receivers_and_bins(plan: &Plan, flow: &Flow, told: &mut Vec<Figure>) {
    for duty in &plan.line.duties {
        let Some(filling) = filling(plan, flow, &duty.when) else {
            continue;
        };
        let there = match filling.there > 0.0 {
            true => format!(" besides {} that are there", rounded(filling.there)),
            false => String::new(),
        };
        let times = fills(plan, flow, &duty.when);
        let minutes = times * duty.work_s.mean() / 60.0;
        let takes = format!(
            "about {} of {} s each",
            rounded(times),
            rounded(duty.work_s.mean())
        );
        let (id, words) = match duty.when {
            DutyWhen::Change(r) => {
                let name = &plan.line.receivers[usize::from(r)].name;
                let at = filling
                    .full
                    .map_or("once nothing more comes".to_owned(), |full| {
                        format!("at {}", counted(full as u32, "piece"))
                    });
                let words = format!(
                    "Receiver {name} gets about {} pieces in the meal{there} and is changed {at}: {takes}, {} min of work (an estimate).",
                    rounded(filling.brings),
                    rounded(minutes)
                );
                (format!("receiver.{name}.changes"), words)
            }
            DutyWhen::BinFull(s) => {
                let name = &plan.line.waste_stores[usize::from(s)].name;
                let words = format!(
                    "Bin {name} gets about {} kg in the meal{there} and is emptied at {} kg: {takes}, {} min of work (an estimate).",
                    rounded(filling.brings),
                    rounded(filling.full.unwrap_or(0.0)),
                    rounded(minutes)
                );
                (format!("bin.{name}.emptied"), words)
            }
            _ => continue,
        };
        told.push(figure(id, times, "count", words, false));
    }
}
