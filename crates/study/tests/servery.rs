//! Measures of the servery: seats that bind, disposables and their price, waits for ware.

use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read_alone};

use crate::plans::{one_meal, value};

/// Four covers a minute apart, from 11:00:30; one seat's meal lasts 10 min; a tray is cleared in no time to speak of.
const ROOM: &str = r#"
[heading]
name = "A small room"
note = "Invented for a test."
currency = "EUR"

[meal]
starts = "11:00"

[covers.per_interval]
from = "11:00"
every_min = 4
counts = [4]
come = "evenly"

[days.vary]
cv = 0

[diners]
find_seat_min = 0
eating_min = 10
tray_work_varies = "not_at_all"
waste_kg = 0

[kind.guest]
share = 1
pieces = { plate = 1, cup = 1 }

[[ware]]
name = "plate"
par = 3
short = { disposable = { price = 0.25 } }

[[ware]]
name = "cup"
par = 2
short = { waits = { at_most_min = 20 } }

[drop_off.main]
to = "table"
put_down_s = 0
[table.table]
[scrapping.main]
takes_from = ["table"]
handling_s = 30
piece_s = { plate = 0, cup = 0 }
sends = { plate = "leave", cup = "leave" }

[[crew]]
name = "Ada"
shifts = [{ from = "11:00", to = "12:00" }]
posts = ["scrapping.main"]
unfilled_share = 0
"#;

fn room(changes: &[(&str, &str)]) -> Plan {
    let mut text = ROOM.to_owned();
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    read_alone(&text, Format::Toml).unwrap_or_else(|complaints| panic!("{complaints:?}"))
}

#[test]
fn a_disposable_is_counted_and_priced_and_a_wait_for_ware_is_timed() {
    // Served at half past each of the first four minutes, 10 min to eat, 30 s to clear. The fourth finds no plate: one
    // disposable, 0.25. The third waits for a cup from 2:30 until the first tray is cleared at 11:00, the fourth from 3:30
    // until the second is at 12:00: 510 s each. Both come so much later: 21:00 and 22:00; the last is clean at 22:30.
    let summary = one_meal(&room(&[]));
    let value = |id: &str| value(&summary, id);
    assert_eq!(value("line.disposables"), Some(1.0));
    assert_eq!(value("line.disposables.cost"), Some(0.25));
    assert_eq!(value("line.cost_per_cover"), Some(0.0625));
    assert_eq!(value("waiting_for_ware.max_people"), Some(2.0));
    assert_eq!(value("waiting_for_ware.wait_mean_s"), Some(510.0));
    assert_eq!(value("runout.plate.pieces"), Some(1.0));
    assert_eq!(value("runout.cup.pieces"), Some(2.0));
    assert_eq!(value("clean.last_clock_min"), Some(660.0 + 22.5));
    assert_eq!(value("seats.waited_people"), None);
}

#[test]
fn a_seat_is_waited_for_until_somebody_leaves_theirs() {
    // Two seats: the third sits down when the first leaves at 10:30, the fourth at 11:30: 480 s each. The last comes at
    // 21:30 and is cleared at 22:00.
    let plan = room(&[
        ("find_seat_min = 0", "find_seat_min = 0\nseats = 2"),
        ("par = 3", "par = 9"),
        ("par = 2", "par = 9"),
    ]);
    let summary = one_meal(&plan);
    let value = |id: &str| value(&summary, id);
    assert_eq!(value("seats.waited_people"), Some(2.0));
    assert_eq!(value("seats.wait_mean_s"), Some(480.0));
    assert_eq!(value("clean.last_clock_min"), Some(660.0 + 22.0));
    assert_eq!(value("line.disposables"), Some(0.0));
    assert_eq!(value("runout.total_pieces"), Some(0.0));
}

#[test]
fn nothing_is_said_of_disposables_where_none_are_given() {
    let plan = room(&[("short = { disposable = { price = 0.25 } }", "")]);
    let summary = one_meal(&plan);
    assert!(
        !summary
            .per_meal_columns
            .iter()
            .any(|id| id.contains("disposables"))
    );
    assert!(!summary.per_meal_columns.iter().any(|id| id == "line.cost"));
}

#[test]
fn what_is_already_there_is_cleared_first_and_a_hot_machine_is_full() {
    // Two trays lie on the table at the start: cleared at 11:00:30 and 11:01:00, before the first cover comes at 11:10:30.
    let plan = room(&[(
        "[drop_off.main]",
        "[load.lying]\nkind = \"guest\"\nwhen = { already_on = { place = \"table\", trays = 2 } }\n\n[drop_off.main]",
    )]);
    let summary = one_meal(&plan);
    let value = |id: &str| value(&summary, id);
    assert_eq!(value("backlog.max_trays"), Some(2.0));
    assert_eq!(value("line.dropped_off_trays"), Some(6.0));

    assert_eq!(value("line.covers"), Some(4.0));
}

/// Four covers' plates, washed in a door machine of its own rack; hot or not.
const WASHED: &str = r#"
[[rack]]
name = "peg"
count = 4

[racking.bench]
to = "feed"
open_racks = 2

[lane.feed]
to = "dish"
way = { shelf = { racks = 4 } }

[machine.dish]
type = { door = { cycle_s = 60 } }
runs = "throughout"
heat_up_min = 20
to = "leave"

[machine.dish.uses]
water_l_per_rack = 3
fill_l = 40

[already_there]
hot = []
"#;

#[test]
fn a_machine_that_is_hot_needs_no_filling() {
    let plates = [
        (
            "name = \"plate\"\n",
            "name = \"plate\"\nfits = [{ rack = \"peg\", pieces = 2 }]\n",
        ),
        ("plate = \"leave\", ", ""),
    ];
    let washed = |hot: &str| {
        let mut text = format!("{ROOM}{WASHED}").replacen("hot = []", hot, 1);
        for (from, to) in plates {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        let plan = read_alone(&text, Format::Toml);
        let plan = plan.unwrap_or_else(|complaints| panic!("{complaints:?}"));
        value(&one_meal(&plan), "line.water_l")
    };
    // Three plates come back (the fourth is thrown away): two racks of 3 L, and 40 L to fill the tank.
    assert_eq!(washed("hot = []"), Some(46.0));
    assert_eq!(washed("hot = [\"dish\"]"), Some(6.0));
}
