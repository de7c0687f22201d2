//! Where everything stands on the strip: the soiled side above, left to right; the machine at its end; the clean side
//! below, on its way back to the servery.

use scullery_study::film::{Film, FilmPlace};

use super::code::Spot;
use crate::number::Units;
use crate::palette::Colour;

/// Width of the strip, in points.
pub(super) const WIDTH: f64 = 1180.0;
/// Space around the boxes.
const EDGE: f64 = 12.0;
/// Between two boxes; an arrow stands in it.
pub(super) const GAP: f64 = 20.0;
/// Height above the boxes: the clock and the counts.
pub(super) const HEAD: f64 = 64.0;
/// Height of a box's heading.
pub(super) const HEADING: f64 = 26.0;
/// Height of the name over a place's marks.
pub(super) const NAME: f64 = 32.0;
/// A worker's mark: width and height of its cell.
pub(super) const PERSON: (f64, f64) = (46.0, 40.0);
/// Marks of one place at most; beyond, one mark stands for several.
const MOST_MARKS: u32 = 120;
/// The same where room is not limited.
const MOST_OPEN: u32 = 72;
/// Height of a bar with its name.
pub(super) const BAR: f64 = 31.0;

/// What one mark of a place looks like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    /// Somebody standing.
    Person,
    /// A tray.
    Tray,
    /// A rack of soiled ware.
    Rack,
    /// A rack that is clean, empty or on its way back.
    CleanRack,
    /// A cart.
    Cart,
}

impl Mark {
    /// Word of its style.
    pub(super) fn class(self) -> &'static str {
        match self {
            Mark::Person => "person",
            Mark::Tray => "tray",
            Mark::Rack => "rack",
            Mark::CleanRack => "clean",
            Mark::Cart => "cart",
        }
    }

    /// Distance from one to the next, across and down.
    pub(super) fn pitch(self) -> (f64, f64) {
        match self {
            Mark::Person => (12.0, 13.0),
            Mark::Tray => (14.0, 11.0),
            Mark::Rack | Mark::CleanRack => (15.0, 15.0),
            Mark::Cart => (22.0, 15.0),
        }
    }
}

/// Something that stands in a box.
#[derive(Clone, Debug)]
pub(super) enum Item {
    /// A place whose things are drawn one by one.
    Marks {
        /// Number of the place.
        place: usize,
        /// What they look like.
        mark: Mark,
        /// How many marks.
        marks: u32,
        /// Things a mark stands for, a number a film.
        each: Vec<u32>,
        /// Whether there is a mark for every thing there is room for.
        limited: bool,
        /// Actor whose state is written beside, if any.
        actor: Option<usize>,
    },
    /// A place shown as a bar.
    Bar {
        /// Number of the place.
        place: usize,
        /// What a full bar stands for.
        full: u32,
    },
    /// A post where people stand.
    Post {
        /// Number of the post.
        post: usize,
        /// People there at once at most.
        most: u32,
    },
}

/// A box of the strip.
#[derive(Clone, Debug)]
pub(super) struct Zone {
    pub(super) title: &'static str,
    pub(super) colour: Colour,
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) w: f64,
    pub(super) h: f64,
    /// Each item with its upper edge.
    pub(super) items: Vec<(f64, Item)>,
}

/// The strip.
#[derive(Clone, Debug)]
pub(super) struct Plan<'a> {
    /// The first film; all films are of one line.
    pub(super) first: &'a Film,
    /// The soiled side, left to right.
    pub(super) soiled: Vec<Zone>,
    /// The clean side, left to right (the ware goes right to left, as far as the servery).
    pub(super) clean: Vec<Zone>,
    /// Where those stand who are at no post.
    pub(super) away: Spot,
    /// Height, in points.
    pub(super) height: f64,
    /// Units of the reader.
    pub(super) units: Units,
}

const DEEP: Colour = Colour(0x0D, 0x3B, 0x46);
const CLEAN: Colour = Colour(0x00, 0x61, 0x4A);

/// Title, share of the width, roles of its places, jobs of its posts.
type Sketch = (
    &'static str,
    f64,
    &'static [&'static str],
    &'static [&'static str],
);

const SOILED: [Sketch; 7] = [
    ("Dining room", 104.0, &["seated"], &[]),
    (
        "Drop-off",
        164.0,
        &["standing", "overflow", "gathered", "receiver"],
        &[],
    ),
    (
        "Soiled trays",
        190.0,
        &["trays", "carts_waiting", "carts_to_wash", "carts_ready"],
        &["cart_wash"],
    ),
    (
        "Breakdown",
        158.0,
        &["backlog", "waste"],
        &["breaking_down"],
    ),
    (
        "Racking",
        200.0,
        &["stacks", "pile", "held_back", "open_racks"],
        &["racking"],
    ),
    ("Lane", 118.0, &["filled_racks"], &[]),
    ("Machine", 150.0, &["washing"], &["loading"]),
];

const CLEAN_SIDE: [Sketch; 5] = [
    ("Away from the line", 190.0, &["duty"], &[]),
    ("Empty racks", 190.0, &["empty_racks", "racks_back"], &[]),
    ("Servery", 220.0, &["stock"], &[]),
    ("Carts", 150.0, &["cart"], &["running"]),
    ("Clean end", 210.0, &["clean_racks"], &["unloading"]),
];

impl<'a> Plan<'a> {
    /// The strip of these films; `None` when there are none.
    pub(super) fn of(films: &'a [Film], units: Units) -> Option<Plan<'a>> {
        let first = films.first()?;
        let soiled = zones(films, &SOILED, HEAD, DEEP);
        let foot = soiled
            .iter()
            .map(|zone| zone.y + zone.h)
            .fold(0.0, f64::max);
        let mut clean = zones(films, &CLEAN_SIDE, foot + 34.0, CLEAN);
        let crew = first.actors.iter().filter(|a| a.kind == "worker").count() as u32;
        let mut away = Spot {
            x: 0.0,
            y: 0.0,
            row: 1,
        };
        if let Some(zone) = clean.first_mut() {
            let row = ((zone.w - 12.0) / PERSON.0).floor().max(1.0);
            let top = zone
                .items
                .last()
                .map_or(zone.y + HEADING, |(y, item)| y + height(item, zone.w));
            away = Spot {
                x: zone.x + 6.0 + PERSON.0 / 2.0,
                y: top + 34.0,
                row: row as u32,
            };
            let rows = (f64::from(crew) / row).ceil();
            zone.h = zone.h.max(top + 18.0 + rows * PERSON.1 + 8.0 - zone.y);
        }
        let low = clean.iter().map(|zone| zone.h).fold(0.0, f64::max);
        clean.iter_mut().for_each(|zone| zone.h = low);
        let height = clean.first().map_or(foot, |zone| zone.y + zone.h) + EDGE;
        Some(Plan {
            first,
            soiled,
            clean,
            away,
            height,
            units,
        })
    }

    /// All boxes.
    pub(super) fn zones(&self) -> impl Iterator<Item = &Zone> {
        self.soiled.iter().chain(&self.clean)
    }

    /// Things one mark of this place stands for, a number a film; empty where it has a bar or is not drawn.
    pub(super) fn each(&self, number: usize) -> Vec<u32> {
        let items = self.zones().flat_map(|zone| &zone.items);
        items
            .filter_map(|(_, item)| match item {
                Item::Marks { place, each, .. } if *place == number => Some(each.clone()),
                _ => None,
            })
            .next()
            .unwrap_or_default()
    }

    /// Where people stand at each post.
    pub(super) fn spots(&self) -> Vec<Spot> {
        let mut spots = vec![self.away; self.first.posts.len()];
        for zone in self.zones() {
            for (y, item) in &zone.items {
                if let Item::Post { post, .. } = item
                    && let Some(spot) = spots.get_mut(*post)
                {
                    *spot = Spot {
                        x: zone.x + 6.0 + PERSON.0 / 2.0,
                        y: y + 34.0,
                        row: row_of(zone.w),
                    };
                }
            }
        }
        spots
    }
}

fn row_of(width: f64) -> u32 {
    ((width - 12.0) / PERSON.0).floor().max(1.0) as u32
}

/// Height of an item in a box so wide.
pub(super) fn height(item: &Item, width: f64) -> f64 {
    match item {
        Item::Marks { mark, marks, .. } => {
            let rows = marks.div_ceil(columns(*mark, width));
            NAME + f64::from(rows) * mark.pitch().1 + 8.0
        }
        Item::Bar { .. } => BAR,
        Item::Post { most, .. } => {
            let rows = most.div_ceil(row_of(width)).max(1);
            18.0 + f64::from(rows) * PERSON.1 + 6.0
        }
    }
}

/// Marks in a row of a box so wide.
pub(super) fn columns(mark: Mark, width: f64) -> u32 {
    ((width - 14.0) / mark.pitch().0).floor().max(1.0) as u32
}

fn zones(films: &[Film], sketches: &[Sketch], top: f64, colour: Colour) -> Vec<Zone> {
    let mut filled: Vec<(&Sketch, Vec<Item>)> = Vec::new();
    for sketch in sketches {
        let items = items(films, sketch.2, sketch.3);
        if !items.is_empty() || sketch.0 == "Away from the line" {
            filled.push((sketch, items));
        }
    }
    let shares: f64 = filled.iter().map(|(sketch, _)| sketch.1).sum();
    let room = WIDTH - 2.0 * EDGE - GAP * (filled.len().saturating_sub(1)) as f64;
    let mut x = EDGE;
    let mut zones: Vec<Zone> = Vec::new();
    for ((title, share, ..), items) in filled {
        let w = room * share / shares;
        let mut y = top + HEADING + 4.0;
        let mut placed = Vec::new();
        for item in items {
            let high = height(&item, w);
            placed.push((y, item));
            y += high;
        }
        zones.push(Zone {
            title,
            colour,
            x,
            y: top,
            w,
            h: y - top + 6.0,
            items: placed,
        });
        x += w + GAP;
    }
    let low = zones.iter().map(|zone| zone.h).fold(90.0, f64::max);
    zones.iter_mut().for_each(|zone| zone.h = low);
    zones
}

fn items(films: &[Film], roles: &[&str], jobs: &[&str]) -> Vec<Item> {
    let Some(first) = films.first() else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for role in roles {
        for (place, info) in first.places.iter().enumerate() {
            if info.role == *role && (moves(films, place) || info.room.is_some()) {
                list.push(shown(films, place, info));
            }
        }
    }
    for (post, info) in first.posts.iter().enumerate() {
        let most = most_at(films, post as u16);
        // Other work is done here and there: those at it stand with those who are away.
        if jobs.contains(&info.job.as_str()) && most > 0 {
            list.push(Item::Post { post, most });
        }
    }
    list
}

/// Whether anything ever happens there.
fn moves(films: &[Film], place: usize) -> bool {
    films
        .iter()
        .filter_map(|film| film.places.get(place))
        .any(|place| !place.changes.is_empty())
}

/// The most a place holds in any of the films.
fn most_held(films: &[Film], place: usize) -> u32 {
    let places = films.iter().filter_map(|film| film.places.get(place));
    places
        .flat_map(|place| {
            let levels = place.changes.iter().map(|(_, held)| *held);
            levels.chain([place.at_start])
        })
        .max()
        .unwrap_or(0)
}

fn shown(films: &[Film], place: usize, info: &FilmPlace) -> Item {
    let held = most_held(films, place);
    let mark = match info.role.as_str() {
        "standing" => Mark::Person,
        "trays" | "overflow" | "gathered" | "stacks" => Mark::Tray,
        "carts_waiting" | "carts_to_wash" | "carts_ready" => Mark::Cart,
        "open_racks" | "filled_racks" | "washing" => Mark::Rack,
        "clean_racks" => Mark::CleanRack,
        _ => {
            let full = info.room.filter(|room| *room >= held).unwrap_or(held);
            return Item::Bar {
                place,
                full: full.max(1),
            };
        }
    };
    // Room far beyond what was ever there would fill the strip with empty places.
    let room = info
        .room
        .filter(|room| *room <= MOST_MARKS && *room >= held);
    let cap = if room.is_some() {
        MOST_MARKS
    } else {
        MOST_OPEN
    };
    let each: Vec<u32> = (0..films.len())
        .map(|film| most_held(&films[film..=film], place).div_ceil(cap).max(1))
        .collect();
    let drawn =
        (0..films.len()).map(|film| most_held(&films[film..=film], place).div_ceil(each[film]));
    Item::Marks {
        place,
        mark,
        marks: room.or(drawn.max()).unwrap_or(1).max(1),
        each,
        limited: room.is_some(),
        actor: actor_of(&films[0], place, info),
    }
}

/// The machine or belt that a place belongs to.
fn actor_of(film: &Film, place: usize, info: &FilmPlace) -> Option<usize> {
    let (kind, like): (&str, fn(&FilmPlace) -> bool) = match info.role.as_str() {
        "washing" => ("machine", |p| p.role == "washing"),
        "trays" if info.id.starts_with("belt.") => ("belt", |p| p.id.starts_with("belt.")),
        _ => return None,
    };
    let before = film.places[..place].iter().filter(|p| like(p)).count();
    let actors = film.actors.iter().enumerate();
    let mut actors = actors.filter(|(_, actor)| actor.kind == kind);
    actors.nth(before).map(|(number, _)| number)
}

/// The most people who stand at a post, or are on their way there, at one time.
fn most_at(films: &[Film], post: u16) -> u32 {
    let in_film = |film: &Film| {
        let mut steps: Vec<(u32, i64)> = Vec::new();
        for actor in film.actors.iter().filter(|a| a.kind == "worker") {
            let mut here = false;
            for (second, doing) in &actor.changes {
                let now = doing.post == Some(post);
                if now != here {
                    steps.push((*second, if now { 1 } else { -1 }));
                    here = now;
                }
            }
        }
        steps.sort_by_key(|(at, by)| (*at, *by));
        let mut sum = 0;
        steps
            .iter()
            .map(|(_, by)| {
                sum += by;
                sum
            })
            .max()
            .unwrap_or(0)
    };
    films.iter().map(in_film).max().unwrap_or(0).max(0) as u32
}
