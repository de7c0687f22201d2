//! What of the line is owned at a price, in sentences.

use super::words::{counted, money};
use crate::defaults::rounded;
use crate::owned::Owned;
use crate::plan::Plan;

/// What each thing cost to buy and how long it lasts, and what is made of that.
pub(crate) fn owned(plan: &Plan, told: &mut Vec<String>) {
    if plan.owned.is_empty() {
        return;
    }
    told.extend(plan.owned.iter().map(|it| one(plan, it)));
    told.push(
        "What is owned costs its price over its life in equal parts, without interest, and its upkeep each year; every \
         lunch bears the same part of that, whatever is served."
            .to_owned(),
    );
}

fn one(plan: &Plan, it: &Owned) -> String {
    let upkeep = money(plan, it.upkeep_per_year);
    let (Some(price), Some(years)) = (it.price, it.life_years) else {
        return format!("Owned: {}, for {upkeep} of upkeep a year.", it.words);
    };
    let many = it.count.map_or(String::new(), |(many, what)| {
        format!(" ({})", counted(many, what))
    });
    let kept = match it.upkeep_per_year {
        none if none <= 0.0 => String::new(),
        _ => format!(", and {upkeep} of upkeep a year"),
    };
    format!(
        "Owned: {}{many}, bought for {}, lasts {} years{kept}.",
        it.words,
        money(plan, price),
        rounded(years)
    )
}
