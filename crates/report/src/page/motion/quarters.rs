//! A film in words and as a table, for readers without the moving picture.

use scullery_study::film::{Film, FilmPlace, state_word};

use crate::clock::hour_minute;
use crate::palette::state_look;
use crate::table::Table;

/// A clock time to the second.
pub(super) fn clock(second: u32) -> String {
    format!("{}:{:02}", hour_minute(u64::from(second / 60)), second % 60)
}

/// What several places of one role hold together.
fn held(film: &Film, role: &str, second: u32) -> u32 {
    let places = film.places.iter().filter(|place| place.role == role);
    places.map(|place| place.at(second)).sum()
}

/// One moment in a sentence: how many stand, how much waits, who is held up. The script says the same.
pub(super) fn moment(film: &Film, second: u32) -> String {
    let of = |role| held(film, role, second);
    let held_up: Vec<String> = film
        .actors
        .iter()
        .filter_map(|actor| {
            let doing = actor.at(second);
            let by: &FilmPlace = film.places.get(usize::from(doing.because?))?;
            Some(format!("{} held up by {}", actor.name, by.title))
        })
        .collect();
    let held_up = if held_up.is_empty() {
        "nobody held up".to_owned()
    } else {
        held_up.join(", ")
    };
    format!(
        "{}: {} standing with a tray, {} trays waiting to be cleared, {} racks before the machine, {} inside; {held_up}.",
        clock(second),
        of("standing"),
        of("backlog"),
        of("filled_racks"),
        of("washing"),
    )
}

/// The film by quarter hour.
pub(super) fn table(film: &Film) -> Table {
    let caption = format!(
        "{}; {}. What stood there at each quarter hour.",
        super::drawing::capital(&film.words),
        film.ending
    );
    let mut table = Table::new(
        caption,
        &[
            "At",
            "Standing with a tray",
            "Trays not yet cleared",
            "Racks before the machine",
            "Racks inside",
            "Racks at the clean end",
        ],
    );
    table
        .head
        .extend(film.actors.iter().map(|actor| actor.name.clone()));
    let first = film.from_s.next_multiple_of(900);
    for second in (first..=film.to_s).step_by(900) {
        let of = |role| held(film, role, second).to_string();
        let mut row = vec![
            hour_minute(u64::from(second / 60)),
            of("standing"),
            of("backlog"),
            of("filled_racks"),
            of("washing"),
            of("clean_racks"),
        ];
        row.extend(film.actors.iter().map(|actor| {
            let doing = actor.at(second);
            let state = state_look(state_word(doing.state), &actor.kind).words;
            match doing
                .post
                .and_then(|post| film.posts.get(usize::from(post)))
            {
                Some(post) => format!("{state}, {}", post.name),
                None => state.to_owned(),
            }
        }));
        table.rows.push(row);
    }
    table
}
