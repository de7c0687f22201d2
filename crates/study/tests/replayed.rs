//! One lunch replayed: kept meals, arrivals as seen, numbers found again, causes and remedies.

use std::sync::atomic::AtomicBool;

use scullery_engine::streams::Root;
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_scenario::change::Change;
use scullery_scenario::notes::{Notes, SeenLevel, read_notes};
use scullery_scenario::plan::Plan;
use scullery_scenario::sheet::{Sheet, SheetReading, TimeReading};
use scullery_scenario::tape_file::read_tape;
use scullery_scenario::{Document, Format};
use scullery_study::replay::fit::{Fitting, Unknown, fit};
use scullery_study::replay::kept::{keep, run_kept};
use scullery_study::replay::lunch::{Arrivals, Stood, with_arrivals};
use scullery_study::replay::play::{Replay, replay};
use scullery_study::replay::remedies::{Rush, proposals};
use scullery_study::replicate::meal;

/// The hall on its return belt.
const RETURN_BELT: &str = include_str!("../../../scenarios/bad-lunch/hall.toml");

/// A room with one post and room for twelve trays on a table: small enough to be run thousands of times.
const ROOM: &str = r#"
[heading]
name = "A small room"
note = "Invented for a test."

[meal]
starts = "11:00"
ends_at = "13:00"

[covers.per_interval]
from = "11:00"
every_min = 30
counts = [60, 90, 60, 20]

[days.vary]
cv = 0

[kind.tray]
pieces = { plate = 1 }
sits = false

[[ware]]
name = "plate"

[diners]
tray_work_varies = { lognormal = { cv = 0.4 } }

[drop_off.hall]
to = "table"
put_down_s = 0
closes = { at = "12:45" }

[table.table]

[scrapping.post]
takes_from = ["table"]
handling_s = 20
places = 2

[[crew]]
name = "Ann"
shifts = [{ from = "11:00", to = "13:00" }]
posts = ["scrapping.post"]
unfilled_share = 0
"#;

fn document() -> Document {
    Document::of_text("room.toml", ROOM, Format::Toml)
}

fn plan(changes: &[&str]) -> Plan {
    let changes: Vec<Change> = changes
        .iter()
        .map(|text| Change::parse(text).unwrap())
        .collect();
    document()
        .changed(&changes)
        .unwrap_or_else(|why| panic!("{why}"))
}

#[test]
fn a_kept_meal_run_again_gives_the_same_record_bit_for_bit() {
    let hall = Document::of_text("hall.toml", RETURN_BELT, Format::Toml)
        .plan()
        .unwrap();
    for repeat in [1, 7] {
        let text = keep(&hall, 3, repeat);
        let kept = read_tape(&hall, &text).unwrap();
        assert_eq!(
            (kept.seed, kept.repeat, kept.scenario.as_str()),
            (3, repeat, hall.hash.as_str())
        );
        let mut tape = Tape::new();
        tape.draw(&hall.demand, 3, repeat);
        assert_eq!(kept.diners, tape.diners());
        assert_eq!(
            run_kept(&hall, &kept).unwrap(),
            meal(&hall, 3, repeat).unwrap()
        );
    }
}

#[test]
fn a_kept_meal_with_a_fault_is_told_row_by_row() {
    let room = plan(&[]);
    let good = keep(&room, 1, 1);
    let bad = good.replacen(",tray,", ",soup,", 1);
    let told = read_tape(&room, &bad).unwrap_err();
    assert!(
        told[0]
            .what
            .contains("row 1 has the kind of diner \"soup\""),
        "{told:?}"
    );
    assert!(
        read_tape(&room, "time,count\n").unwrap_err()[0]
            .what
            .contains("the first line")
    );
}

#[test]
fn instants_alone_give_the_same_drop_offs_and_lunches_like_it() {
    let room = plan(&[]);
    let mut tape = Tape::new();
    tape.draw(&room.demand, 4, 1);
    let came: Vec<SimTime> = tape
        .coming()
        .iter()
        .map(|&i| tape.diners()[i as usize].comes)
        .collect();
    let again = with_arrivals(
        &room,
        &Arrivals::Instants(came.clone()),
        Stood::AtTheDropOff,
        "drop-off",
    )
    .unwrap();
    let mut other = Tape::new();
    for repeat in [1, 2] {
        other.draw(&again.demand, 9, repeat);
        let found: Vec<SimTime> = other
            .coming()
            .iter()
            .map(|&i| other.diners()[i as usize].comes)
            .collect();
        assert_eq!(found, came);
    }
    let (first, second) = (meal(&again, 9, 1).unwrap().1, meal(&again, 9, 2).unwrap().1);
    assert_ne!(
        first, second,
        "the work at the trays differs from lunch to lunch"
    );
}

fn notes(plan: &Plan, text: &str) -> Notes {
    let sheet = Sheet::read("notes.csv", text.as_bytes(), &SheetReading::default()).unwrap();
    read_notes(&sheet, plan, &reading(plan), None).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn reading(plan: &Plan) -> TimeReading {
    TimeReading {
        starts: plan.line.starts,
        day: None,
        zone: None,
        date_order: None,
    }
}

#[test]
fn notes_say_levels_and_what_happened() {
    let room = plan(&[]);
    let told = notes(
        &room,
        "time,until,what,count,sure\n11:40,,backlog,20,counted\n11:30,,table,7,\n11:20,11:30,Ann away,,\n",
    );
    assert_eq!(told.levels.len(), 2);
    assert_eq!((told.levels[0].count, told.levels[0].off_by), (7.0, 1.05));
    assert_eq!(told.levels[1].off_by, 0.5);
    assert_eq!(told.happened[0].words, "Ann was away from 11:20 to 11:30");
    let sheet = "time,what,count\n11:40,soup,3\n,table,1\n11:50,table,\n11:55,bob missing,\n";
    let sheet = Sheet::read("notes.csv", sheet.as_bytes(), &SheetReading::default()).unwrap();
    let faults = read_notes(&sheet, &room, &reading(&room), None).unwrap_err();
    let words: Vec<&str> = faults.iter().map(|fault| fault.what.as_str()).collect();
    assert_eq!(words.len(), 4, "{words:?}");
    assert!(
        words[0].contains("\"soup\", which is no place"),
        "{words:?}"
    );
    assert!(
        words[1].contains("has no time") && words[2].contains("without a count"),
        "{words:?}"
    );
    assert!(
        words[3].contains("\"bob\", who is not in the crew"),
        "{words:?}"
    );
}

/// The backlog of a simulated lunch at some clock times, as if somebody had looked.
fn looked(plan: &Plan, seed: u64, repeat: u64, minutes: &[u64]) -> Vec<SeenLevel> {
    let catalogue = plan.line.catalogue();
    let place = catalogue
        .places
        .iter()
        .position(|place| place.name == "backlog")
        .unwrap();
    let (_, record) = meal(plan, seed, repeat).unwrap();
    let doubt = Root::new(seed, repeat).source("test/look");
    (0..)
        .zip(minutes)
        .map(|(k, min)| {
            let held =
                record.places[place].minutes[(min - record.from_min) as usize].area as f64 / 60e6;
            // Off by up to 1.5 either way, evenly: a standard deviation of 0.87.
            SeenLevel {
                at: SimTime::from_us(min * 60_000_000),
                what: "backlog".into(),
                places: vec![scullery_engine::watch::PlaceId(place as u16)],
                count: (held + 3.0 * doubt.uniform(k) - 1.5).max(0.0),
                off_by: 0.87,
            }
        })
        .collect()
}

const LOOKS: [u64; 8] = [675, 690, 700, 710, 720, 735, 750, 765];

#[test]
fn a_known_number_is_found_again_within_its_range_as_often_as_it_says() {
    // The truth is drawn for each lunch from 16 to 26 s; her arrivals are known; the range is to hold it 9 times of 10.
    // 30 lunches: a binomial count of mean 27; 21 or fewer has a chance below 1 in 500.
    let truth = Root::new(11, 1).source("test/truth");
    let mut inside = 0;
    for lunch in 0..30 {
        let seconds = 16.0 + 10.0 * truth.uniform(lunch);
        let real = plan(&[&format!("scrapping.post.handling_s={seconds}")]);
        let mut tape = Tape::new();
        tape.draw(&real.demand, 100 + lunch, 1);
        let came: Vec<SimTime> = tape
            .coming()
            .iter()
            .map(|&i| tape.diners()[i as usize].comes)
            .collect();
        let arrivals = Arrivals::Instants(came);
        let hers = with_arrivals(&real, &arrivals, Stood::AtTheDropOff, "drop-off").unwrap();
        let seen = looked(&hers, 100 + lunch, 1, &LOOKS);
        let at = |values: &[f64]| {
            let plan = plan(&[&format!("scrapping.post.handling_s={}", values[0])]);
            with_arrivals(&plan, &arrivals, Stood::AtTheDropOff, "drop-off")
        };
        let unknown = Unknown {
            name: "scrapping.post.handling_s".into(),
            low: 12.0,
            high: 30.0,
        };
        let how = Fitting {
            lunches: 40,
            points: 32,
            seed: 5,
            threads: 1,
        };
        let found = fit(
            &[unknown],
            &seen,
            &at,
            &how,
            &|_, _| {},
            &AtomicBool::new(false),
        )
        .unwrap();
        let [low, high] = found.fitted[0].range;
        assert!(high - low < 12.0, "nothing was learned: {low} to {high}");
        inside += u32::from(low <= seconds && seconds <= high);
    }
    assert!(inside >= 22, "{inside} of 30");
}

#[test]
fn two_numbers_that_do_the_same_cannot_be_told_apart_and_that_is_said() {
    // Seconds a tray and pace only ever come together, as their ratio.
    let real = plan(&[]);
    let mut tape = Tape::new();
    tape.draw(&real.demand, 21, 1);
    let came: Vec<SimTime> = tape
        .coming()
        .iter()
        .map(|&i| tape.diners()[i as usize].comes)
        .collect();
    let arrivals = Arrivals::Instants(came);
    let hers = with_arrivals(&real, &arrivals, Stood::AtTheDropOff, "drop-off").unwrap();
    let seen = looked(&hers, 21, 1, &LOOKS);
    let at = |values: &[f64]| {
        let changes = [
            format!("scrapping.post.handling_s={}", values[0]),
            format!("crew.ann.pace={}", values[1]),
        ];
        let plan = plan(&changes.iter().map(String::as_str).collect::<Vec<_>>());
        with_arrivals(&plan, &arrivals, Stood::AtTheDropOff, "drop-off")
    };
    let unknown = |name: &str, low, high| Unknown {
        name: name.into(),
        low,
        high,
    };
    let unknowns = [
        unknown("scrapping.post.handling_s", 14.0, 28.0),
        unknown("crew.ann.pace", 0.7, 1.4),
    ];
    let how = Fitting {
        lunches: 40,
        points: 200,
        seed: 5,
        threads: 0,
    };
    let found = fit(
        &unknowns,
        &seen,
        &at,
        &how,
        &|_, _| {},
        &AtomicBool::new(false),
    )
    .unwrap();
    assert_eq!(found.tangled.len(), 1, "{found:?}");
    assert!(found.tangled[0].correlation > 0.8);
}

#[test]
fn too_few_things_seen_are_refused() {
    let real = plan(&[]);
    let seen = looked(&real, 21, 1, &LOOKS[..2]);
    let unknown = Unknown {
        name: "scrapping.post.handling_s".into(),
        low: 14.0,
        high: 28.0,
    };
    let how = Fitting {
        lunches: 20,
        points: 16,
        seed: 5,
        threads: 1,
    };
    let at = |_: &[f64]| Ok(plan(&[]));
    let why = fit(
        &[unknown],
        &seen,
        &at,
        &how,
        &|_, _| {},
        &AtomicBool::new(false),
    )
    .unwrap_err();
    assert!(
        why.contains("2 things seen are too few to fit 1 numbers: give at least 3"),
        "{why}"
    );
}

#[test]
fn the_true_cause_is_named_first_and_what_does_nothing_is_told_too() {
    // 20 s a tray keep up with 3 trays a minute; Ann is away for 20 minutes of the rush, and at no other time is there
    // a cause for anything.
    let room = plan(&[]);
    let notes = notes(&room, "time,until,what\n11:40,12:00,Ann away\n");
    let counts = Arrivals::Counts(
        (0..=4)
            .map(|k| SimTime::from_us((660 + 30 * k) * 60_000_000))
            .collect(),
        vec![60.0, 75.0, 60.0, 20.0],
    );
    let asked = Replay {
        arrivals: counts,
        stood: Stood::AtTheDropOff,
        from: "notes".into(),
        notices: Vec::new(),
        notes: &notes,
        kept: None,
        unknowns: Vec::new(),
        lunches: 40,
        points: 16,
        remedies: true,
        measure: Some("backlog.max_trays".into()),
        trays_seen: Some(215.0),
        racks_seen: None,
        seed: 1,
        threads: 0,
    };
    let make = |changes: &[String]| {
        let changes: Vec<Change> = changes
            .iter()
            .map(|text| Change::parse(text))
            .collect::<Result<_, _>>()?;
        document().changed(&changes)
    };
    let found = replay(&make, &asked, &|_, _, _| {}, &AtomicBool::new(false)).unwrap();
    let remedies = found.remedies.unwrap();
    let cause = remedies.tried.iter().find(|it| it.undoes).unwrap();
    assert_eq!(cause.words, "without: Ann was away from 11:40 to 12:00");
    assert!(
        cause.helps && cause.effect.as_ref().unwrap().mean < -30.0,
        "{cause:?}"
    );
    assert!(
        found
            .answer
            .contains("What did most to it: Ann was away from 11:40 to 12:00"),
        "{}",
        found.answer
    );
    let helper = remedies
        .tried
        .iter()
        .find(|it| it.words.starts_with("one more at scrapping post"))
        .unwrap();
    assert!(helper.helps, "{helper:?}");
    // A second position at the drop-off, where nobody ever waits, is tried and does nothing.
    let idle = remedies
        .tried
        .iter()
        .find(|it| it.words.starts_with("2 positions"))
        .unwrap();
    assert!(
        !idle.helps && idle.effect.as_ref().unwrap().identical,
        "{idle:?}"
    );
    assert!(
        found.counted.words().contains("agrees within"),
        "{}",
        found.counted.words()
    );
}

#[test]
fn every_remedy_on_the_menu_of_the_example_lunches_is_one_that_their_scenario_takes() {
    let examples = [
        (
            "university",
            include_str!("../../../scenarios/university.toml"),
            715,
        ),
        (
            "works-canteen",
            include_str!("../../../scenarios/works-canteen.toml"),
            695,
        ),
        (
            "bistro",
            include_str!("../../../scenarios/bistro.toml"),
            1260,
        ),
        (
            "hotel-ballroom",
            include_str!("../../../scenarios/hotel-ballroom.toml"),
            1240,
        ),
    ];
    let mut all = String::new();
    for (name, text, from_min) in examples {
        let document = Document::of_text(name, text, Format::Toml);
        let plan = document.plan().unwrap();
        let min = |min: u64| SimTime::from_us(min * 60_000_000);
        let rush = Rush {
            from: min(from_min),
            to: min(from_min + 90),
        };
        let menu = proposals(&plan, rush);
        assert!(menu.len() > 10, "{name}: {}", menu.len());
        for it in &menu {
            let changes: Vec<Change> = it
                .changes
                .iter()
                .map(|text| Change::parse(text).unwrap())
                .collect();
            if let Err(why) = document.changed(&changes) {
                panic!("{name}, {}: {why}", it.words);
            }
            all.push_str(&it.words);
            all.push('\n');
        }
    }
    for kind in [
        "one more at scrapping main",
        "kitchen help for 30 minutes at scrapping main, 12:35 to 13:05",
        "kitchen help called to scrapping main when 8 people stand at drop-off main",
        "a runner for clean ware",
        "break before the rush",
        "break after the rush",
        "tray wait until",
        "cutlery soaks until",
        "temperatures wait until",
        "half as many leave at the bell of 12:50",
        "staggered bells: half of those who leave at 12:50 leave at 13:00",
        "a second drop-off like",
        "for the last half hour of serving, instead of plate",
        "for those who come back at the worst, instead of plate",
        "overflow carts beside the drop-off",
        "glass racks and a waste bin for diners",
        "an aid at scrapping main",
    ] {
        assert!(all.contains(kind), "{kind}: {all}");
    }
}
