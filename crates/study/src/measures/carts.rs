//! Measures of carts and tubs, and of when each class of ware is clean.

use scullery_engine::line::Class;
use scullery_engine::watch::{Catalogue, Counted, Role};
use scullery_scenario::plan::Plan;

use super::floor::{minutes, nth_count, of_role};
use super::{Measures, plain};
use crate::words::{place_words, spoken};

/// Carts brought and washed, when the last was washed, and the fewest ready.
pub(super) fn carts(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    for (i, carts) in plan.line.carts.iter().enumerate() {
        let at = &format!("carts {}", spoken(&carts.name));
        let id = |what: &str| format!("carts.{}.{what}", carts.name);
        let (Some(brought), Some(washed)) = (
            nth_count(catalogue, Counted::CartsIn, i),
            nth_count(catalogue, Counted::CartsWashed, i),
        ) else {
            continue;
        };
        to.add(
            plain(id("brought_count"), at, format!("{at} brought"), "count"),
            move |m| Some(m.record.counts[brought].total as f64),
        );
        if carts.wash.is_none() {
            continue;
        }
        to.add(
            plain(id("washed_count"), at, format!("{at} washed"), "count"),
            move |m| Some(m.record.counts[washed].total as f64),
        );
        to.add(
            plain(
                id("washed_clock_min"),
                at,
                format!("The last of {at} is washed at"),
                "clock_min",
            ),
            move |m| {
                // None left over: as many were washed as were brought.
                let counts = &m.record.counts;
                let all = counts[washed].total == counts[brought].total;
                (all && counts[washed].total > 0).then(|| minutes(counts[washed].last_us))
            },
        );
        to.absent_fails();
    }
    for (p, place) in of_role(catalogue, Role::CartsReady) {
        let at = &place_words(place);
        to.add(
            plain(
                format!("{}.min_carts", place.name),
                at,
                format!("Fewest at once: {at}"),
                "carts",
            ),
            move |m| Some(f64::from(m.record.places[p].lowest)),
        );
    }
}

/// When the last piece of each class is clean, how many were washed again and how many broke.
pub(super) fn ware(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    for (i, class) in plan.line.classes.iter().enumerate() {
        let Some(count) = nth_count(catalogue, Counted::ClassClean, i) else {
            continue;
        };
        let name = spoken(&class.name);
        looked_over(to, catalogue, class, i);
        passes(to, catalogue, class, i);
        to.add(
            plain(
                format!("ware.{}.clean_clock_min", class.name),
                &name,
                format!("The last {name} is clean at"),
                "clock_min",
            ),
            move |m| {
                let clean = &m.record.counts[count];
                let inside = m.ended.balance.inside_by_class.get(i).copied();
                (clean.total > 0 && inside == Some(0)).then(|| minutes(clean.last_us))
            },
        );
        to.absent_fails();
    }
}

/// Racks of the `i`th class by pass, where it is washed twice, and the share of all racks that came for a second time.
fn passes(to: &mut Measures, catalogue: &Catalogue, class: &Class, i: usize) {
    if class.second_pass.is_none() {
        return;
    }
    let name = spoken(&class.name);
    let (Some(first), Some(second)) = (
        nth_count(catalogue, Counted::FirstPass, i),
        nth_count(catalogue, Counted::SecondPass, i),
    ) else {
        return;
    };
    let id = |what: &str| format!("ware.{}.{what}", class.name);
    for (count, what, words) in [
        (first, "first_pass_racks", "first"),
        (second, "second_pass_racks", "second"),
    ] {
        to.add(
            plain(
                id(what),
                &name,
                format!("Racks of {name} that went in for a {words} pass"),
                "racks",
            ),
            move |m| Some(m.record.counts[count].total as f64),
        );
    }
    let all = (0..).map_while(|machine| nth_count(catalogue, Counted::RacksIn, machine));
    let all: Vec<usize> = all.collect();
    to.add(
        plain(
            id("second_pass_share"),
            &name,
            format!("Share of all racks washed that were {name} on a second pass"),
            "share",
        ),
        move |m| {
            let racks: u64 = all.iter().map(|&count| m.record.counts[count].total).sum();
            let again = m.record.counts[second].total as f64;
            (racks > 0).then(|| again / racks as f64)
        },
    );
}

/// Pieces of the `i`th class that were washed again, and that broke, where the plan says that some are.
fn looked_over(to: &mut Measures, catalogue: &Catalogue, class: &Class, i: usize) {
    let name = spoken(&class.name);
    let kinds = [
        (
            Counted::Rewashed,
            class.rewash.is_some(),
            "rewashed",
            "washed again",
        ),
        (Counted::Broken, class.broken > 0.0, "broken", "broken"),
    ];
    for (counted, said, id, words) in kinds {
        let Some(count) = nth_count(catalogue, counted, i).filter(|_| said) else {
            continue;
        };
        to.add(
            plain(
                format!("ware.{}.{id}", class.name),
                &name,
                format!("Pieces of {name} {words}"),
                "pieces",
            ),
            move |m| Some(m.record.counts[count].total as f64),
        );
    }
}
