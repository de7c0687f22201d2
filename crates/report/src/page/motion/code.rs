//! A film as short text for the page: whole numbers, five bits a letter.

use std::collections::BTreeMap;

use scullery_study::film::{Doing, Film, state_word};
use scullery_study::words::STATES;
use serde::Serialize;

use super::drawing::{is_other, machine_state, short_state};
use super::plan::{PERSON, Plan};

/// The letters of the code, worth 0 to 63. The upper half says that more of the number follows.
pub(super) const LETTERS: &[u8; 64] =
    b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/// One film as the script reads it.
#[derive(Debug, Serialize)]
pub(super) struct Coded {
    words: String,
    ending: String,
    from: u32,
    to: u32,
    worst: u32,
    places: Vec<(u32, String)>,
    actors: Vec<(usize, String)>,
    counts: Vec<String>,
}

/// All the script reads.
#[derive(Debug, Serialize)]
pub(super) struct Data {
    films: Vec<Coded>,
    /// What an actor can do: word of the state, place that holds up, post; -1 for none.
    doings: Vec<(&'static str, i32, i32)>,
    actors: Vec<(String, String)>,
    places: Vec<Told>,
    posts: Vec<Spot>,
    away: Spot,
    /// Whether each post is other work.
    other: Vec<bool>,
    /// Width and height of a person's place.
    person: (f64, f64),
    /// What a machine or belt does, in a word or two.
    long: BTreeMap<&'static str, &'static str>,
    /// A worker's state in a word.
    short: BTreeMap<&'static str, &'static str>,
}

/// A place in words.
#[derive(Debug, Serialize)]
struct Told {
    id: String,
    title: String,
    unit: String,
    role: String,
    room: Option<u32>,
    /// What is weighed: grams of the weight in which it is told, and its name.
    weight: Option<(f64, &'static str)>,
    /// Things one mark stands for, a number a film; empty where the place has a bar.
    each: Vec<u32>,
}

/// Where people stand: the first mark, and how many fit in a row.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(super) struct Spot {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) row: u32,
}

/// Writes a number, least part first.
pub(super) fn put(out: &mut String, mut number: u64) {
    loop {
        let part = (number % 32) as usize;
        number /= 32;
        let more = if number > 0 { 32 } else { 0 };
        out.push(char::from(LETTERS[part + more]));
        if number == 0 {
            return;
        }
    }
}

/// Differences of either sign as numbers without one.
fn fold(difference: i64) -> u64 {
    if difference < 0 {
        (-difference as u64) * 2 - 1
    } else {
        difference as u64 * 2
    }
}

/// Seconds since the change before, then the difference of levels.
fn levels(from: u32, first: u32, changes: &[(u32, u32)]) -> String {
    let mut out = String::new();
    let (mut at, mut held) = (from, first);
    for &(second, now) in changes {
        put(&mut out, u64::from(second.saturating_sub(at)));
        put(&mut out, fold(i64::from(now) - i64::from(held)));
        (at, held) = (second, now);
    }
    out
}

/// The data of these films on this plan.
pub(super) fn data(films: &[Film], plan: &Plan<'_>) -> Data {
    let mut known: BTreeMap<(u8, Option<u16>, Option<u16>), usize> = BTreeMap::new();
    let mut doings: Vec<(&'static str, i32, i32)> = Vec::new();
    let mut number = |doing: &Doing| -> usize {
        let key = (doing.state, doing.because, doing.post);
        *known.entry(key).or_insert_with(|| {
            let or_none = |it: Option<u16>| it.map_or(-1, i32::from);
            doings.push((
                state_word(doing.state),
                or_none(doing.because),
                or_none(doing.post),
            ));
            doings.len() - 1
        })
    };
    let films: Vec<Coded> = films
        .iter()
        .map(|film| Coded {
            words: film.words.clone(),
            ending: film.ending.clone(),
            from: film.from_s,
            to: film.to_s,
            worst: film.worst_s,
            places: film
                .places
                .iter()
                .map(|place| {
                    let told = levels(film.from_s, place.at_start, &place.changes);
                    (place.at_start, told)
                })
                .collect(),
            actors: film
                .actors
                .iter()
                .map(|actor| {
                    let first = number(&actor.at_start);
                    let mut out = String::new();
                    let mut at = film.from_s;
                    for (second, doing) in &actor.changes {
                        put(&mut out, u64::from(second.saturating_sub(at)));
                        put(&mut out, number(doing) as u64);
                        at = *second;
                    }
                    (first, out)
                })
                .collect(),
            counts: film
                .counts
                .iter()
                .map(|count| levels(film.from_s, 0, &count.changes))
                .collect(),
        })
        .collect();
    let short = STATES.iter().map(|(_, state)| (*state, short_state(state)));
    let long = STATES
        .iter()
        .map(|(_, state)| (*state, machine_state(state)));
    Data {
        films,
        doings,
        other: plan.first.posts.iter().map(is_other).collect(),
        person: PERSON,
        long: long.collect(),
        short: short.collect(),
        actors: plan
            .first
            .actors
            .iter()
            .map(|actor| (actor.name.clone(), actor.kind.clone()))
            .collect(),
        places: plan
            .first
            .places
            .iter()
            .enumerate()
            .map(|(number, place)| Told {
                id: place.id.clone(),
                title: place.title.clone(),
                unit: place.unit.clone(),
                role: place.role.clone(),
                room: place.room,
                weight: (place.unit == "grams").then(|| plan.units.weight()),
                each: plan.each(number),
            })
            .collect(),
        posts: plan.spots(),
        away: plan.away,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_five_bits_a_letter_least_first() {
        let written = |number| {
            let mut out = String::new();
            put(&mut out, number);
            out
        };
        // 31 is the last of one letter; 32 is nought with more to come, then one.
        assert_eq!(
            [0, 31, 32, 1023].map(written),
            ["A", "f", "gB", "_f"].map(str::to_owned)
        );
        assert_eq!([0, -1, 1, -2].map(fold), [0, 1, 2, 3]);
        assert_eq!(levels(10, 5, &[(10, 4), (42, 6)]), "ABgBE");
    }
}
