//! What is said of ware that runs short, of seats, and of diners who share a tray, have none, or carry their ware away.

use scullery_engine::dist::Dist;
use scullery_engine::line::{ClassId, Short};
use scullery_engine::time::{SimTime, Span};
use scullery_scenario::{Format, plan::Plan, read_alone};

/// A room in which two people are served and everything leaves the line at the table.
const ROOM: &str = r#"
[heading]
name = "A small room"
note = "Invented for a test."
currency = "CHF"

[meal]
starts = "11:00"

[covers.instants]
[days.vary]
cv = 0

[diners]
seats = 40
find_seat_min = 0
eating_min = 20
parties = { shares = [0, 1], apart_s = 2 }

[kind.sitting]
share = 0.5
pieces = { plate = 1, tray = 1 }
shared_tray = { people = 2, tray = "tray" }

[kind.by_hand]
share = 0.3
pieces = { plate = 1 }
tray_less = true

[kind.box_to_go]
pieces = { box = 1 }
away = { for_min = 45, back_share = 0.8 }

[[ware]]
name = "plate"
par = 100
short = { takes = "bowl" }

[[ware]]
name = "bowl"
par = 30
short = { disposable = { price = 0.25 } }

[[ware]]
name = "tray"
par = 50
short = { waits = { at_most_min = 5 } }

[[ware]]
name = "box"
par = 20
disposable = { hours = [{ from = "11:20", to = "11:40" }, { from = "23:50", to = "00:10" }], price = 0.4 }
short = "without"

[drop_off.main]
to = "table"
[table.table]
[scrapping.main]
takes_from = ["table"]
sends = { plate = "leave", bowl = "leave", tray = "leave", box = "leave" }

[[crew]]
name = "Ada"
shifts = [{ from = "11:00", to = "14:00" }]
posts = ["scrapping.main"]
"#;

fn room() -> Plan {
    let text = ROOM.replace(
        "[covers.instants]",
        "[covers.per_interval]\nfrom = \"11:00\"\nevery_min = 15\ncounts = [30]\n",
    );
    read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[test]
fn each_way_of_running_short_is_understood() {
    let plan = room();
    let short: Vec<Short> = plan.line.classes.iter().map(|class| class.short).collect();
    assert_eq!(
        short,
        [
            Short::Takes(ClassId(1)),
            Short::Disposable,
            Short::Waits(Span::from_min(5.0)),
            Short::Without
        ]
    );
    let minute = |min: f64| SimTime::from_min(min);
    assert_eq!(
        plan.line.classes[3].disposable,
        [
            (minute(680.0), minute(700.0)),
            (minute(1430.0), minute(1450.0))
        ]
    );
    assert_eq!(
        plan.money.disposable_each,
        [None, Some(0.25), None, Some(0.4)]
    );
}

#[test]
fn seats_trays_and_boxes_are_understood() {
    let plan = room();
    assert_eq!(plan.demand.seats, Some(40));
    // Kinds stand in order of name.
    let kinds = &plan.demand.kinds;
    let away = kinds[0].away.as_ref().unwrap();
    assert_eq!((&away.min, away.back_share), (&Dist::Constant(45.0), 0.8));
    assert!(!kinds[0].sits && !kinds[0].loose);
    assert!(kinds[1].loose && kinds[1].sits && kinds[1].shared.is_none());
    let shared = kinds[2].shared.as_ref().unwrap();
    assert_eq!((shared.people, shared.tray), (2, ClassId(2)));
}

#[test]
fn the_description_says_them_in_plain_words() {
    let told = room().description.join("\n");
    for words in [
        "100 plate, 30 bowl, 50 tray and 20 box to begin with",
        "A cover that finds no plate takes bowl instead.",
        "A cover that finds no bowl gets something disposable at CHF 0.25 apiece.",
        "Served from 11:20 to 11:40 and 23:50 to 00:10 next day, a cover gets something disposable instead of box at CHF 0.4 apiece.",
        "A cover that finds no tray waits for it, at most 5 min.",
        "Up to 2 of a party share one tray.",
        "They have no tray: each piece is put down by itself.",
        "80 % of them bring it back, 45 min later on average.",
        "There are 40 seats; who finds none waits for one.",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
}
