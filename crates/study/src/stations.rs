//! What went on at each post, over many meals.

use scullery_engine::time::US_PER_MIN;
use scullery_engine::watch::{Catalogue, State};
use scullery_scenario::plan::Plan;

use crate::film::used_posts;
use crate::gathered::{Curves, PostSums};
use crate::record::QUARTER_US;
use crate::summary::{HeldUp, Station};
use crate::words::{STATES, place_words, post_words};

/// What went on at each post that somebody's list names; posts at which nobody ever stood are left out.
pub(crate) fn stations(plan: &Plan, catalogue: &Catalogue, curves: &Curves) -> Vec<Station> {
    let used = used_posts(plan, catalogue);
    let posts = catalogue.posts.iter().zip(&curves.posts).zip(used);
    let quarters = curves.minutes().div_ceil(15);
    posts
        .filter(|((_, sums), used)| *used && !sums.quarters.is_empty())
        .map(|((info, sums), _)| Station {
            name: post_words(info),
            clean_side: info.clean_side,
            places: info.places,
            ..station(catalogue, curves.meals, quarters, sums)
        })
        .collect()
}

/// The numbers of one post, without its name.
fn station(catalogue: &Catalogue, meals: u64, quarters: usize, sums: &PostSums) -> Station {
    let whole = meals.max(1) as f64 * QUARTER_US as f64;
    let a_minute = meals.max(1) as f64 * US_PER_MIN as f64;
    let total = |state: State| -> u64 { sums.quarters.iter().map(|by| by[state.index()]).sum() };
    let shown: Vec<(State, &str)> = STATES
        .into_iter()
        .filter(|&(state, _)| state != State::Off && total(state) > 0)
        .collect();
    let row = |quarter: usize| {
        let by = sums.quarters.get(quarter);
        let of = |state: State| by.map_or(0, |by| by[state.index()]);
        shown.iter().map(|&(s, _)| of(s) as f64 / whole).collect()
    };
    let mut held: Vec<(u128, usize)> = sums.held_by.iter().copied().zip(0..).collect();
    held.retain(|(us, _)| *us > 0);
    held.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
    let share = |worker: &Vec<u64>| -> Vec<f64> {
        let us = |quarter: usize| worker.get(quarter).copied().unwrap_or(0);
        (0..quarters).map(|q| us(q) as f64 / whole).collect()
    };
    Station {
        states: shown.iter().map(|(_, word)| (*word).to_owned()).collect(),
        quarters: (0..quarters).map(row).collect(),
        minutes: shown
            .iter()
            .map(|&(state, _)| total(state) as f64 / a_minute)
            .collect(),
        held_up: held
            .into_iter()
            .map(|(us, place)| HeldUp {
                who: String::new(),
                by: place_words(&catalogue.places[place]),
                minutes: us as f64 / a_minute,
            })
            .collect(),
        people: sums.workers.iter().map(share).collect(),
        ..Station::default()
    }
}
