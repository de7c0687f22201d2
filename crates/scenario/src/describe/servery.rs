//! Ware at the servery and what happens when it runs short, in sentences.

use scullery_engine::demand::Kind;
use scullery_engine::line::Short;

use super::words::{clock, listed, money, span};
use crate::defaults::rounded;
use crate::plan::Plan;

/// What is owned, and what a cover does that finds too few.
pub(crate) fn short(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    let owned: Vec<String> = line
        .classes
        .iter()
        .filter_map(|class| Some(format!("{} {}", class.par?, class.name)))
        .collect();
    if !owned.is_empty() {
        told.push(format!(
            "At the servery there are {} to begin with.",
            listed(&owned)
        ));
    }
    for (number, class) in line.classes.iter().enumerate() {
        let hours: Vec<String> = class
            .disposable
            .iter()
            .map(|&(from, to)| format!("{} to {}", clock(from), clock(to)))
            .collect();
        if !hours.is_empty() {
            told.push(format!(
                "Served from {}, a cover gets something disposable instead of {}{}.",
                listed(&hours),
                class.name,
                apiece(plan, number)
            ));
        }
        let does = match class.short {
            Short::Without => continue,
            Short::Takes(other) => {
                let other = line.classes.get(usize::from(other.0));
                format!("takes {} instead", other.map_or("?", |it| &it.name))
            }
            Short::Disposable => {
                format!("gets something disposable{}", apiece(plan, number))
            }
            Short::Waits(most) => format!("waits for it, at most {}", span(most)),
        };
        told.push(format!("A cover that finds no {} {does}.", class.name));
    }
}

/// What a disposable piece costs instead of one of this class; nothing where no price is given.
fn apiece(plan: &Plan, class: usize) -> String {
    let price = plan.money.disposable_each.get(class).copied().flatten();
    price.map_or(String::new(), |price| {
        format!(" at {} apiece", money(plan, price))
    })
}

/// How a kind of diner differs from one who sits down and carries a tray of their own.
pub(crate) fn manner(plan: &Plan, kind: &Kind) -> String {
    let mut words = String::new();
    if kind.loose {
        words.push_str(" They have no tray: each piece is put down by itself.");
    }
    if let Some(shared) = &kind.shared {
        let tray = plan.line.classes.get(usize::from(shared.tray.0));
        words.push_str(&format!(
            " Up to {} of a party share one {}.",
            shared.people,
            tray.map_or("?", |it| &it.name)
        ));
    }
    if let Some(away) = &kind.away {
        let back = if away.back_share < 1.0 {
            format!("{} % of them", rounded(away.back_share * 100.0))
        } else {
            "all of them".to_owned()
        };
        words.push_str(&format!(
            " They carry it away, and {back} bring it back, {} min later on average.",
            rounded(away.min.mean())
        ));
    }
    words
}

/// Seats, where they are counted.
pub(crate) fn seats(plan: &Plan) -> String {
    plan.demand.seats.map_or(String::new(), |seats| {
        format!(" There are {seats} seats; who finds none waits for one.")
    })
}
