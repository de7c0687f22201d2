//! The plan behind the summary written by hand: crew, machine, elements, posts; and two lunches to be played.

use scullery_study::film::{Doing, Film, FilmActor, FilmCount, FilmPlace, FilmPost};
use scullery_study::floor_plan::{FloorBox, FloorPlan, FloorWay};
use scullery_study::planned::{Element, Member, Planned, PostCall, Switching};
use scullery_study::summary::{HeldUp, Station};

fn call(post: &str, step_in: u32, leave_at: u32) -> PostCall {
    PostCall {
        post: post.into(),
        step_in,
        leave_at,
        stay_min: 0.0,
    }
}

fn member(name: &str, shift: [f64; 2], rest: [f64; 2], posts: Vec<PostCall>) -> Member {
    Member {
        name: name.into(),
        shifts: vec![shift],
        breaks: vec![rest],
        posts,
    }
}

pub(crate) fn planned() -> Planned {
    let scraps = || call("scrapping main", 1, 0);
    let unloads = || call("unloading clean", 4, 1);
    Planned {
        crew: vec![
            member("Ada", [660.0, 900.0], [780.0, 15.0], vec![scraps()]),
            member(
                "Bo",
                [660.0, 900.0],
                [795.0, 15.0],
                vec![scraps(), unloads()],
            ),
            member(
                "Dee",
                [675.0, 920.0],
                [810.0, 15.0],
                vec![call("unloading clean", 1, 0)],
            ),
        ],
        machines: vec![Switching {
            name: "machine main".into(),
            on_min: 645.0,
            heat_up_min: 20.0,
            off_min: None,
            starts_at_racks: Some(6),
        }],
        elements: vec![
            Element {
                name: "belt soiled".into(),
                kind: "belt for soiled trays".into(),
                length_m: Some(7.2),
                holds: Some(16.0),
                holds_unit: "trays".into(),
                speed_m_per_min: Some(7.5),
                ..Element::default()
            },
            Element {
                name: "machine main".into(),
                kind: "rack conveyor machine".into(),
                length_m: Some(2.6),
                plan_m: Some([3.6, 0.9]),
                holds: Some(6.0),
                holds_unit: "racks".into(),
                speed_m_per_min: Some(1.8),
                plate_racks_per_h: Some(220.0),
                connected_kw: Some(10.5),
                tank_l: Some(110.0),
                water_measure: "machine.main.water_quarter_max_l".into(),
                power_measure: "machine.main.power_quarter_max_kw".into(),
                ..Element::default()
            },
        ],
        floor: floor(),
    }
}

fn stands(label: &str, at_m: [f64; 2], size_m: [f64; 2], side: &str) -> FloorBox {
    FloorBox {
        label: label.into(),
        at_m,
        size_m,
        side: side.into(),
        parking: label.contains("dollies"),
        given: label != "clean end",
    }
}

/// A room of 14 by 5 m; clean plates go to the servery across the way of the tray dollies.
fn floor() -> FloorPlan {
    let way = |from, to, clean| FloorWay { from, to, clean };
    FloorPlan {
        room_m: Some([14.0, 5.0]),
        boxes: vec![
            stands("belt soiled", [0.0, 0.0], [7.2, 0.6], "soiled"),
            stands("machine main", [7.2, 0.0], [2.0, 1.0], "soiled"),
            stands("clean end", [9.2, 0.0], [1.6, 1.0], "clean"),
            stands("servery", [5.0, 4.0], [6.0, 1.0], "clean"),
            stands("2 tray dollies <soiled>", [12.0, 4.0], [1.6, 0.8], "soiled"),
        ],
        ways: vec![
            way(0, 1, false),
            way(1, 2, true),
            way(2, 3, true),
            way(4, 0, false),
        ],
        crossings_m: vec![[8.916, 2.669]],
        words: vec!["Clean and soiled ways cross once.".into()],
    }
}

/// Two posts over 18 quarter hours; the first has two places.
pub(crate) fn stations() -> Vec<Station> {
    let rows = |work: f64, held: f64| {
        (0..18)
            .map(|quarter| {
                let busy = if (4..16).contains(&quarter) {
                    1.0
                } else {
                    0.25
                };
                vec![work * busy, held * busy, 0.5 * (1.0 - busy)]
            })
            .collect()
    };
    let states = || {
        ["working", "held_up", "waiting"]
            .map(str::to_owned)
            .to_vec()
    };
    let held = |by: &str, minutes| HeldUp {
        who: String::new(),
        by: by.into(),
        minutes,
    };
    vec![
        Station {
            name: "scrapping main".into(),
            clean_side: false,
            places: Some(2),
            states: states(),
            quarters: rows(1.5, 0.25),
            minutes: vec![300.0, 50.0, 40.0],
            held_up: vec![held("clean plates & bowls", 6.25)],
            people: vec![vec![0.9; 18], vec![0.8; 18], vec![0.0; 18]],
        },
        Station {
            name: "unloading clean".into(),
            clean_side: true,
            places: None,
            states: states(),
            quarters: rows(0.5, 0.0),
            minutes: vec![120.0, 0.0, 40.0],
            held_up: vec![],
            people: vec![vec![0.0; 18], vec![0.1; 18], vec![0.95; 18]],
        },
    ]
}

/// Numbers of states in the order of the study's list.
const WORKING: u8 = 0;
const HELD_UP: u8 = 2;
const WAITING: u8 = 5;
const OFF: u8 = 7;
const WASHING: u8 = 11;

fn place(
    id: &str,
    title: &str,
    (unit, role): (&str, &str),
    room: Option<u32>,
    changes: &[(u32, u32)],
) -> FilmPlace {
    FilmPlace {
        id: id.into(),
        title: title.into(),
        unit: unit.into(),
        role: role.into(),
        room,
        at_start: 0,
        changes: changes.to_vec(),
    }
}

fn actor(name: &str, kind: &str, changes: &[(u32, u8, Option<u16>, Option<u16>)]) -> FilmActor {
    let doing = |state, because, post| Doing {
        state,
        because,
        post,
    };
    FilmActor {
        name: name.into(),
        kind: kind.into(),
        at_start: doing(OFF, None, None),
        changes: changes
            .iter()
            .map(|&(at, state, because, post)| (at, doing(state, because, post)))
            .collect(),
    }
}

/// A lunch of an hour from eleven, in which `peak` people stand at a quarter past.
pub(crate) fn film(repeat: u64, words: &str, peak: u32) -> Film {
    let start = 39_600;
    Film {
        repeat,
        words: words.into(),
        ending: "it ends at 12:00 with all clean".into(),
        from_s: start,
        to_s: start + 3_600,
        worst_s: start + 900,
        places: vec![
            place(
                "drop_off.main.standing",
                "drop-off main: people standing with a tray",
                ("people", "standing"),
                None,
                &[
                    (start + 600, 1),
                    (start + 900, peak),
                    (start + 960, 2),
                    (start + 1_500, 0),
                ],
            ),
            place(
                "belt.soiled",
                "belt <soiled>",
                ("trays", "trays"),
                Some(16),
                &[(start + 610, 3), (start + 905, 16), (start + 1_600, 0)],
            ),
            place(
                "lane.feed",
                "lane feed",
                ("racks", "filled_racks"),
                Some(8),
                &[(start + 800, 2), (start + 1_800, 0)],
            ),
            place(
                "machine.main",
                "inside machine main",
                ("racks", "washing"),
                None,
                &[(start + 830, 1), (start + 1_900, 0)],
            ),
            place(
                "backlog",
                "backlog of soiled trays",
                ("trays", "backlog"),
                None,
                &[(start + 610, 4), (start + 905, 18), (start + 1_700, 0)],
            ),
        ],
        actors: vec![
            actor(
                "Ada",
                "worker",
                &[
                    (start, WAITING, None, Some(0)),
                    (start + 610, WORKING, None, Some(0)),
                    (start + 900, HELD_UP, Some(2), Some(0)),
                    (start + 960, WORKING, None, Some(0)),
                    (start + 1_700, WAITING, None, Some(0)),
                    (start + 3_000, OFF, None, None),
                ],
            ),
            actor(
                "Bo Berg",
                "worker",
                &[
                    (start + 300, WORKING, None, Some(0)),
                    (start + 3_000, OFF, None, None),
                ],
            ),
            actor(
                "machine main",
                "machine",
                &[
                    (start + 820, WASHING, None, None),
                    (start + 2_000, OFF, None, None),
                ],
            ),
        ],
        posts: vec![FilmPost {
            name: "scrapping main".into(),
            job: "breaking_down".into(),
            clean_side: false,
        }],
        counts: vec![
            FilmCount {
                title: "covers served".into(),
                changes: vec![(start + 60, 12), (start + 700, 40)],
            },
            FilmCount {
                title: "trays dropped off".into(),
                changes: vec![(start + 610, 4), (start + 905, 30)],
            },
            FilmCount {
                title: "trays cleared".into(),
                changes: vec![(start + 900, 12), (start + 1_700, 30)],
            },
        ],
    }
}

/// The middle lunch and the worst.
pub(crate) fn films() -> Vec<Film> {
    vec![
        film(7, "the middle one of 200 lunches by longest wait, 95 s", 9),
        film(112, "the worst of 200 lunches by longest wait, 14 min", 160),
    ]
}
