//! The strip as a picture of one second.

use maud::{Markup, html};
use scullery_study::film::{Film, FilmPost, state_word};

use super::plan::{BAR, GAP, HEAD, HEADING, Item, Mark, NAME, PERSON, Plan, WIDTH, Zone, columns};
use super::quarters::{clock, moment};
use crate::lettering::{printable, shorten, width};
use crate::number::Units;

/// A number as short as the picture needs.
fn n(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or(text.clone(), str::to_owned)
}

/// The strip at a whole second of its first film.
pub(super) fn strip(plan: &Plan<'_>, second: u32) -> Markup {
    let film = plan.first;
    html! {
        svg #motion-strip viewBox=(format!("0 0 {} {}", n(WIDTH), n(plan.height))) role="img"
            aria-labelledby="motion-title motion-desc" {
            title #motion-title { "The line at one moment" }
            desc #motion-desc { (printable(&moment(film, second))) }
            text.clock #motion-clock x="14" y="42" { (clock(second)) }
            text.film #motion-film-words x="206" y="26" { (printable(&capital(&film.words))) }
            @for (number, count) in film.counts.iter().enumerate() {
                text.count-words x=(n(206.0 + 190.0 * number as f64)) y="48" {
                    tspan.tally data-count=(number) { (count.at(second)) } " " (printable(&count.title))
                }
            }
            @for zone in plan.zones() { (zone_box(zone, film, second, plan.units)) }
            (arrows(plan))
            (people(plan, second))
        }
    }
}

fn zone_box(zone: &Zone, film: &Film, second: u32, units: Units) -> Markup {
    html! {
        g.zone {
            rect.box x=(n(zone.x)) y=(n(zone.y)) width=(n(zone.w)) height=(n(zone.h)) rx="6" {}
            rect x=(n(zone.x)) y=(n(zone.y)) width=(n(zone.w)) height=(n(HEADING - 4.0)) rx="6" fill=(zone.colour.hex()) {}
            text.heading x=(n(zone.x + 9.0)) y=(n(zone.y + 16.0)) { (zone.title) }
            @for (y, item) in &zone.items { (item_drawing((zone, *y), item, (film, second), units)) }
        }
    }
}

/// A sentence begins with a capital letter.
pub(super) fn capital(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters
        .next()
        .map(|letter| letter.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// `12 of 85`, or `12` where room is not limited; what is weighed as `4.2 kg`. The script writes the same.
fn count_text(held: u32, room: Option<u32>, unit: &str, units: Units) -> String {
    let weight = (unit == "grams").then(|| units.weight());
    let say = |held: u32| match weight {
        Some((grams, _)) => format!("{:.1}", (f64::from(held) / grams * 10.0).round() / 10.0),
        None => held.to_string(),
    };
    let of = room.map_or(String::new(), |room| format!(" of {}", say(room)));
    let unit = weight.map_or(String::new(), |(_, unit)| format!(" {unit}"));
    format!("{}{of}{unit}", say(held))
}

fn item_drawing(
    (zone, y): (&Zone, f64),
    item: &Item,
    (film, second): (&Film, u32),
    units: Units,
) -> Markup {
    let left = zone.x + 8.0;
    let room = zone.w - 16.0;
    match item {
        Item::Marks {
            place,
            mark,
            marks,
            each,
            limited,
            actor,
        } => {
            let info = &film.places[*place];
            let each = each.first().copied().unwrap_or(1);
            let held = info.at(second);
            let lit = held.div_ceil(each);
            let row = columns(*mark, zone.w);
            let state = actor.and_then(|number| {
                let machine = film.actors.get(number)?;
                Some((number, machine_state(state_word(machine.at(second).state))))
            });
            html! {
                g.place data-place=(info.id) data-number=(place) {
                    rect.frame x=(n(zone.x + 4.0)) y=(n(y)) width=(n(zone.w - 8.0))
                        height=(n(super::plan::height(item, zone.w) - 4.0)) rx="4" {}
                    text.name x=(n(left)) y=(n(y + 13.0)) { (name(&info.title, room)) }
                    text.held x=(n(left)) y=(n(y + 27.0)) {
                        tspan.tally { (count_text(held, info.room, &info.unit, units)) }
                        @if state.is_none() { " " (info.unit) }
                        tspan.each { (each_text(each)) }
                        @if let Some((actor, words)) = state { ", " tspan.state data-actor=(actor) { (words) } }
                    }
                    @for number in 0..*marks {
                        (mark_drawing(*mark, number < lit, *limited, (
                            left + f64::from(number % row) * mark.pitch().0,
                            y + NAME + f64::from(number / row) * mark.pitch().1,
                        )))
                    }
                }
            }
        }
        Item::Bar { place, full } => {
            let info = &film.places[*place];
            let held = info.at(second);
            let share = (f64::from(held) / f64::from(*full)).min(1.0);
            let most = count_text(
                info.room.unwrap_or(*full).max(*full),
                info.room,
                &info.unit,
                units,
            );
            let taken = width(&most, 12.0) + 8.0;
            html! {
                g.place data-place=(info.id) data-number=(place) {
                    rect.frame x=(n(zone.x + 4.0)) y=(n(y)) width=(n(zone.w - 8.0)) height=(n(BAR - 2.0)) rx="4" {}
                    text.name x=(n(left)) y=(n(y + 13.0)) { (name(&info.title, room - taken)) }
                    text.held.right x=(n(left + room)) y=(n(y + 13.0)) { tspan.tally { (count_text(held, info.room, &info.unit, units)) } }
                    rect.trough x=(n(left)) y=(n(y + 18.0)) width=(n(room)) height="7" rx="2" {}
                    rect.level x=(n(left)) y=(n(y + 18.0)) width=(n(room * share)) height="7" rx="2"
                        data-width=(n(room)) data-full=(full) {}
                }
            }
        }
        Item::Post { post, .. } => {
            html! {
                g.post data-post=(post) {
                    rect.stand x=(n(zone.x + 4.0)) y=(n(y + 1.0)) width=(n(zone.w - 8.0))
                        height=(n(super::plan::height(item, zone.w) - 6.0)) rx="4" {}
                    text.name x=(n(left)) y=(n(y + 14.0)) { (name(&film.posts[*post].name, room)) }
                }
            }
        }
    }
}

/// What a mark stands for, where it is more than one thing.
fn each_text(each: u32) -> String {
    if each > 1 {
        format!(", a mark for {each}")
    } else {
        String::new()
    }
}

/// A name that runs within its box.
fn name(title: &str, room: f64) -> String {
    printable(&shorten(&short_title(title), 12.5, room))
}

/// The name without what its box says already.
fn short_title(title: &str) -> String {
    let cut = title
        .strip_prefix("clean ")
        .and_then(|rest| rest.strip_suffix(" at the servery"))
        .or_else(|| title.strip_prefix("empty racks: "))
        .unwrap_or(title);
    let cut = cut.strip_prefix("drop-off ").unwrap_or(cut);
    let cut = cut.strip_prefix("other work: ").unwrap_or(cut);
    cut.replace("people standing with a tray", "standing")
        .replace("diners eating", "eating")
        .replace("trays left aside at drop-off", "left aside at")
        .replace(" of soiled trays", "")
        .replace(" waiting to be racked", " to rack")
        .replace("empty racks on their way back", "on their way back")
}

fn mark_drawing(mark: Mark, lit: bool, limited: bool, (x, y): (f64, f64)) -> Markup {
    let state = if lit { " on" } else { "" };
    let open = if limited { "" } else { " open" };
    let class = format!("m {}{open}{state}", mark.class());
    match mark {
        Mark::Person => html! {
            circle class=(class) cx=(n(x + 5.0)) cy=(n(y + 5.5)) r="4.5" {}
        },
        Mark::Tray => html! {
            rect class=(class) x=(n(x)) y=(n(y)) width="11" height="8" rx="2.5" {}
        },
        Mark::Cart => html! {
            rect class=(class) x=(n(x)) y=(n(y)) width="18" height="11" rx="1" {}
        },
        Mark::Rack | Mark::CleanRack => html! {
            rect class=(class) x=(n(x)) y=(n(y)) width="12" height="12" {}
        },
    }
}

/// The way of the ware.
fn arrows(plan: &Plan<'_>) -> Markup {
    let chevron = |x: f64, y: f64, by: f64| {
        format!(
            "M{} {}L{} {}L{} {}",
            n(x - by),
            n(y - 6.0),
            n(x + by),
            n(y),
            n(x - by),
            n(y + 6.0)
        )
    };
    let mut paths = Vec::new();
    for pair in plan.soiled.windows(2) {
        paths.push(chevron(pair[1].x - GAP / 2.0, HEAD + 12.0, 4.0));
    }
    // The clean ware ends at the servery; what stands left of it is beside the way.
    let servery = plan.clean.iter().position(|zone| zone.title == "Servery");
    for pair in plan.clean.windows(2).skip(servery.unwrap_or(0)) {
        let y = pair[1].y + 12.0;
        paths.push(chevron(pair[1].x - GAP / 2.0, y, -4.0));
    }
    if let (Some(machine), Some(clean)) = (plan.soiled.last(), plan.clean.last()) {
        let x = (machine.x + machine.w / 2.0).min(clean.x + clean.w - 20.0);
        let y = machine.y + machine.h + 17.0;
        paths.push(format!(
            "M{} {}L{} {}L{} {}",
            n(x - 7.0),
            n(y - 5.0),
            n(x),
            n(y + 5.0),
            n(x + 7.0),
            n(y - 5.0)
        ));
    }
    html! { @for path in paths { path.arrow d=(path) {} } }
}

/// One or two letters for a name.
pub(super) fn initials(name: &str) -> String {
    let words: Vec<char> = name
        .split_whitespace()
        .filter_map(|word| word.chars().next())
        .collect();
    match words[..] {
        [] => "?".to_owned(),
        [_] => name.trim().chars().take(2).collect(),
        [a, .., z] => format!("{a}{z}"),
    }
}

/// Whether a post is other work: those at it stand with those who are away from the line.
pub(super) fn is_other(post: &FilmPost) -> bool {
    post.job == "other_work"
}

/// What a machine or belt does, in a word or two.
pub(super) fn machine_state(state: &str) -> &'static str {
    match state {
        "waiting" => "empty",
        "stopped" => "stands",
        "heating" => "heating up",
        "moving" => "moving",
        "washing" => "washing",
        "starting" => "starting",
        "ready" => "ready",
        "down" => "down",
        _ => "off",
    }
}

/// A state in a word or two, for the room under a mark.
pub(super) fn short_state(state: &str) -> &'static str {
    match state {
        "working" | "past_shift" => "",
        "held_up" => "held up",
        "walking" => "walks",
        "hand_wash" => "washes",
        "waiting" => "waits",
        "break" => "break",
        _ => "off",
    }
}

fn people(plan: &Plan<'_>, second: u32) -> Markup {
    let film = plan.first;
    let spots = plan.spots();
    let mut standing = vec![0_u32; spots.len() + 1];
    let away = spots.len();
    let workers = film.actors.iter().enumerate();
    let workers = workers.filter(|(_, actor)| actor.kind == "worker");
    let placed: Vec<(usize, f64, f64, &str, &str)> = workers
        .map(|(number, actor)| {
            let doing = actor.at(second);
            let post = doing
                .post
                .and_then(|post| film.posts.get(usize::from(post)));
            let other = post.is_some_and(is_other);
            let at = match doing.post {
                Some(post) if !other => usize::from(post).min(away),
                _ => away,
            };
            let spot = spots.get(at).copied().unwrap_or(plan.away);
            let nth = standing[at];
            standing[at] += 1;
            let x = spot.x + f64::from(nth % spot.row) * PERSON.0;
            let y = spot.y + f64::from(nth / spot.row) * PERSON.1;
            let state = state_word(doing.state);
            let does = match short_state(state) {
                "" if other => "other work",
                does => does,
            };
            (number, x, y, state, does)
        })
        .collect();
    html! {
        @for (number, x, y, state, does) in placed {
            @let name = printable(&film.actors[number].name);
            g class=(format!("worker {state}")) data-worker=(number) transform=(format!("translate({} {})", n(x), n(y))) {
                title { (name) }
                circle r="11" {}
                text.initials y="4" { (initials(&name)) }
                text.doing y="22" { (does) }
            }
        }
    }
}
