//! A replayed lunch, written by hand: its pictures show what was seen, what happened, and what would have helped.

use scullery_report::Origin;
use scullery_report::studies::{StudyPage, html, replayed_files, replayed_page};
use scullery_study::paired::MeanDifference;
use scullery_study::replay::SeenBand;
use scullery_study::replay::account::{Account, Entry};
use scullery_study::replay::followed::{Followed, Mark};
use scullery_study::replay::remedies::{Remedies, Tried};
use scullery_study::replay::replayed::{Counted, Replayed};

use crate::fixture::hall;
use crate::page::well_formed;

fn seen(at_min: f64, seen: f64, inside: bool) -> SeenBand {
    SeenBand {
        at_min,
        what: "backlog".into(),
        seen,
        off_by: 2.0,
        mean: 10.0,
        p05: 5.0,
        p95: 15.0,
        inside,
    }
}

fn tried(words: &str, effect: [f64; 3], cost: f64) -> Tried {
    let of = |mean: f64, interval: [f64; 2]| {
        Some(MeanDifference {
            n: 50,
            mean,
            interval: Some(interval),
            identical: mean == 0.0,
            saved: None,
        })
    };
    Tried {
        words: words.into(),
        changes: vec![],
        buys: words.contains("belt"),
        undoes: words.starts_with("without"),
        pair: words.contains(", and "),
        hers: Some(20.0),
        mean: Some(20.0 + effect[0]),
        effect: of(effect[0], [effect[1], effect[2]]),
        cost: of(cost, [cost - 0.1, cost + 0.1]),
        unfinished: 0,
        helps: effect[2] < 0.0,
    }
}

/// A lunch from 11:00 on whose backlog rises to 30 at 12:00, seen twice; the machine stood from 11:40 to 11:55.
fn lunch() -> Replayed {
    let rising: Vec<f64> = (0..120)
        .map(|minute| f64::from(60 - i32::abs(minute - 60)) / 2.0)
        .collect();
    let times = |factor: f64| {
        rising
            .iter()
            .map(|level| level * factor)
            .collect::<Vec<f64>>()
    };
    let heading = hall().heading;
    Replayed {
        answer: "At 12:00 the most trays waited: 30.".into(),
        heading,
        notices: vec!["till <1>.csv was read".into()],
        counted: Counted::default(),
        account: Account {
            entries: vec![Entry {
                at_min: 700.0,
                words: "Machine dish stood from 11:40 to 11:55.".into(),
            }],
            ..Account::default()
        },
        seen: vec![seen(690.0, 14.0, true), seen(720.0, 55.0, false)],
        followed: vec![Followed {
            what: "backlog of soiled trays".into(),
            from_min: 660,
            hers: times(1.1),
            p05: times(0.8),
            p50: rising.clone(),
            p95: times(1.3),
            room: Some(40),
            seen: vec![0, 1],
            lunches: 50,
        }],
        marks: vec![
            Mark {
                from_min: Some(700.0),
                until_min: Some(715.0),
                words: "machine dish stood from 11:40 to 11:55".into(),
            },
            Mark {
                from_min: None,
                until_min: None,
                words: "Bo <never> came".into(),
            },
        ],
        fit: None,
        remedies: Some(Remedies {
            measure: "backlog.max_trays".into(),
            label: "Most trays waiting".into(),
            unit: "trays".into(),
            hers: Some(33.0),
            mean: Some(30.0),
            unfinished: 0,
            tried: vec![
                tried("without: machine dish stood", [-12.0, -14.0, -10.0], 0.5),
                tried("one more at scrapping", [-9.0, -11.0, -7.0], 24.0),
                tried("a longer belt", [-8.0, -10.0, -6.0], 0.0),
                tried("bells apart", [-3.0, -4.0, -2.0], -0.5),
                tried(
                    "one more at scrapping, and bells apart",
                    [-9.1, -11.0, -7.0],
                    24.0,
                ),
                tried("a faster belt", [-0.5, -1.5, 0.5], 0.1),
                tried("more glasses", [0.0, 0.0, 0.0], 0.0),
                tried("cutlery soaks", [6.0, 4.0, 8.0], -1.0),
            ],
            refused: vec![],
            level_each: 0.99,
            lunches: 50,
            last_chance: None,
            stopped: false,
        }),
        seed: 1,
        repeats: 50,
        asked: 50,
        assumptions: vec!["Trays are trays.".into()],
        cautions: vec!["A planning aid.".into()],
    }
}

fn picture<'a>(page: &'a StudyPage, id: &str) -> &'a scullery_report::Figure {
    let all = page.sections.iter().flat_map(|section| &section.pictures);
    all.into_iter().find(|it| it.id == id).unwrap()
}

#[test]
fn what_was_seen_stands_on_the_clock_axis_with_what_happened_and_a_table_beside() {
    let page = replayed_page(&lunch()).unwrap();
    let picture = picture(&page, "seen");
    for words in [
        "Backlog of soiled trays",
        "A: machine dish stood from 11:40 to 11:55",
        "B: Bo &lt;never&gt; came (all day)",
        "seen, outside the band",
        "12:00",
        "full",
    ] {
        assert!(picture.svg.contains(words), "{words}");
    }
    assert!(
        picture
            .desc
            .contains("highest at 12:00 with 30 (5th to 95th of 100: 24 to 39)")
            && picture.desc.contains("Seen 2 times, 1 of them within"),
        "{}",
        picture.desc
    );
    let table = &picture.tables[0];
    let noon = table.rows.iter().find(|row| row[0] == "12:00").unwrap();
    assert_eq!(noon[1], "30.0 (24.0 to 39.0); 33.0");
}

#[test]
fn a_lunch_at_which_nothing_was_looked_at_is_still_drawn() {
    let mut of = lunch();
    of.seen.clear();
    of.followed[0].seen.clear();
    of.marks.clear();
    let page = replayed_page(&of).unwrap();
    let picture = picture(&page, "seen");
    assert_eq!(picture.title, "The lunch minute by minute");
    assert!(!picture.svg.contains("outside the band"));
}

#[test]
fn remedies_are_drawn_by_what_they_help_and_what_does_nothing_or_harms_is_not() {
    let page = replayed_page(&lunch()).unwrap();
    let picture = picture(&page, "remedies");
    let at = |words: &str| picture.svg.rfind(words);
    assert!(at("without: machine dish stood") < at("one more at scrapping"));
    assert!(at("one more at scrapping") < at("a longer belt"));
    for kind in [
        "what happened, undone",
        "can be done tomorrow",
        "must be bought or built",
        "not sure to help",
        "+24.00",
        "the same, and to buy",
    ] {
        assert!(at(kind).is_some(), "{kind}");
    }
    for left_out in ["more glasses", "cutlery soaks", ", and bells apart"] {
        assert!(at(left_out).is_none(), "{left_out}");
    }
    assert!(
        picture
            .caption
            .contains("3 more changes stand in the table only")
    );
    let text = html(&page, "0");
    well_formed(&text);
    // All of them stand in the table beside, and the cheapest is told.
    for words in [
        "more glasses",
        "cutlery soaks",
        "makes it worse",
        "scrapping, and bells apart",
    ] {
        assert!(text.contains(words), "{words}");
    }
    assert!(
        text.contains("needs nothing bought: bells apart (-3.0 trays, 0.50 cheaper a lunch)"),
        "{text}"
    );
}

#[test]
fn a_long_remedy_is_told_whole_on_as_many_lines_as_it_takes() {
    let long = "a glass rack and a waste bin for diners at drop-off main, one more at scrapping bench from 11:30 to 13:15, and \
                trays, cutlery and other ware left until the rush is over at racking bench";
    let mut of = lunch();
    let heights = |of: &Replayed| {
        let page = replayed_page(of).unwrap();
        let svg = picture(&page, "remedies").svg.clone();
        let high = svg.split("height=\"").nth(1).unwrap();
        let high: f64 = high.split('"').next().unwrap().parse().unwrap();
        (svg, high)
    };
    let (_, short) = heights(&of);
    of.remedies.as_mut().unwrap().tried[0].words = long.into();
    let (svg, high) = heights(&of);
    assert!(!svg.contains('\u{2026}'), "{svg}");
    // Every word of it stands in the picture's letters, in order.
    let letters: Vec<&str> = svg
        .split("<text")
        .skip(1)
        .filter_map(|text| Some(text.split('>').nth(1)?.split('<').next()?.trim()))
        .collect();
    assert!(letters.join(" ").contains(long), "{letters:#?}");
    // One line more makes the picture higher by one line.
    assert!((high - short - 16.0).abs() < 1e-9, "{short} {high}");
}

#[test]
fn the_same_lunch_gives_the_same_bytes_and_every_picture_has_its_words_on_it() {
    let origin = Origin {
        version: "0".into(),
        name: "Hall".into(),
        scenario: "hall.toml".into(),
        hash: "x".into(),
        seed: 1,
        repeats: 50,
        asked: 50,
    };
    let files = replayed_files(&lunch(), &origin).unwrap();
    assert_eq!(files, replayed_files(&lunch(), &origin).unwrap());
    for id in ["seen", "remedies"] {
        let svg = files.iter().find(|file| file.name == format!("{id}.svg"));
        let svg = std::str::from_utf8(&svg.unwrap().bytes).unwrap();
        assert!(svg.contains("50 simulated lunches, seed 1"));
        assert!(files.iter().any(|file| file.name == format!("{id}.png")));
    }
}
