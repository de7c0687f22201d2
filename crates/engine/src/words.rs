//! Places, things and times as people say them.

use crate::line::catalogue::TO_SORT;
use crate::time::SimTime;
use crate::watch::{PlaceInfo, Role};

/// Name of a place in plain words, for example `drop-off main: people waiting for a position` or `lane feed`.
pub fn place_words(place: &PlaceInfo) -> String {
    let name = spoken(&own_name(place));
    match place.role {
        Role::Seated => "diners eating".into(),
        Role::Queue => format!("drop-off {name}: people waiting for a position"),
        Role::Standing => format!("drop-off {name}: people standing with a tray"),
        Role::Backlog => "backlog of soiled trays".into(),
        Role::Overflow => format!("trays left aside at drop-off {name}"),
        Role::Trays => match place.name.split_once('.') {
            Some((kind, _)) => named(kind, &name),
            None => name,
        },
        Role::Pile | Role::HeldBack if place.name.starts_with(TO_SORT) => {
            format!("{name} waiting to be sorted")
        }
        Role::Stacks => named("belt", &name),
        Role::Pile => format!("{name} waiting to be racked"),
        Role::HeldBack => format!("{name} held back"),
        Role::OpenRacks => format!("open racks at {name}"),
        Role::EmptyRacks => format!("empty racks: {name}"),
        Role::FilledRacks => named("lane", &name),
        Role::Washing => format!("inside {}", named("machine", &name)),
        Role::CleanRacks => named("clean end", &name),
        Role::Cart => named("carts", &name),
        Role::Stock => format!("clean {name} at the servery"),
        Role::RacksBack => "empty racks on their way back".into(),
        Role::Duty => format!("other work: {name}"),
        Role::WaitingForWare => "diners waiting for ware".into(),
        Role::Trouble => format!("trouble: {name}"),
        Role::Gathered => format!("ware cleared away, waiting for {}", named("carts", &name)),
        Role::CartsWaiting => format!("{} waiting to be emptied", named("carts", &name)),
        Role::CartsToWash => format!("{} waiting to be washed", named("carts", &name)),
        Role::Receiver => name,
        Role::Waste => format!("waste at {name}"),
        Role::Gate => named("gate", &name),
        Role::CartsReady => format!("{} ready to be loaded", named("carts", &name)),
    }
}

/// Kind and name, the name alone or the kind alone where the two say the same (`clean end clean`, `carts carts`).
pub fn named(kind: &str, name: &str) -> String {
    if kind == name || kind.split(' ').any(|word| word == name) {
        kind.to_owned()
    } else if name.split(' ').any(|word| word == kind) {
        name.to_owned()
    } else {
        format!("{kind} {name}")
    }
}

/// A name as it is said: `side_plate` is two words.
pub fn spoken(name: &str) -> String {
    name.replace('_', " ")
}

/// The user's own name within the name of a place: `main` in `drop_off.main.queue`.
pub fn own_name(place: &PlaceInfo) -> String {
    let rest = place
        .name
        .split_once('.')
        .map_or(place.name.as_str(), |(_, rest)| rest);
    let rest = match place.role {
        Role::Queue => rest.strip_suffix(".queue").unwrap_or(rest),
        Role::Standing => rest.strip_suffix(".standing").unwrap_or(rest),
        // A level above a table.
        Role::OpenRacks => return rest.replacen('.', ", ", 1),
        _ => rest,
    };
    rest.to_owned()
}

/// A count with what is counted: `1 tray`, `2 trays`.
pub(crate) fn counted(count: usize, one: &str, many: &str) -> String {
    match count {
        1 => format!("1 {one}"),
        _ => format!("{count} {many}"),
    }
}

/// A time of day to the second, the next day named: `00:10:05 the next day`.
pub fn clock_words(at: SimTime) -> String {
    let s = at.us() / crate::time::US_PER_S;
    let text = format!("{:02}:{:02}:{:02}", s / 3600 % 24, s / 60 % 60, s % 60);
    match s / 86_400 {
        0 => text,
        1 => format!("{text} the next day"),
        days => format!("{text} {days} days later"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kind_and_name_are_not_said_twice() {
        assert_eq!(named("carts", "carts"), "carts");
        assert_eq!(named("clean end", "clean"), "clean end");
        assert_eq!(named("clean end", "clean end"), "clean end");
        assert_eq!(named("belt", "return belt"), "return belt");
        assert_eq!(named("lane", "feed"), "lane feed");
        assert_eq!(spoken("side_plate"), "side plate");
    }

    #[test]
    fn a_time_after_midnight_is_of_the_next_day() {
        assert_eq!(clock_words(SimTime::from_s(45_065.7)), "12:31:05");
        assert_eq!(
            clock_words(SimTime::from_s(87_005.0)),
            "00:10:05 the next day"
        );
        assert_eq!(
            clock_words(SimTime::from_s(3.0 * 86_400.0)),
            "00:00:00 3 days later"
        );
    }
}
