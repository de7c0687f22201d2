//! Measures of ware that is washed again and of ware that breaks: one plate, timed on paper whatever its luck.

use std::sync::atomic::AtomicBool;

use scullery_scenario::{Format, read_alone};
use scullery_study::replicate::{Replicate, replicate};
use scullery_study::summary::Summary;

/// One plate, at 11:00:30: 30 s of breaking down, 10 s of racking, 60 s in a door machine, 5 s of unloading, one to a rack.
const PLATE: &str = r#"
[heading]
name = "One plate"
note = "Invented for a test."

[meal]
starts = "11:00"

[covers.per_interval]
from = "11:00"
every_min = 1
counts = [1]
come = "evenly"

[days.vary]
cv = 0

[diners]
tray_work_varies = "not_at_all"
waste_kg = 0

[kind.guest]
share = 1
pieces = { plate = 1 }
sits = false

[[ware]]
name = "plate"
fits = [{ rack = "peg", pieces = 1 }]
dry_min = 0
unload_s = 5
rewash_share = 0.5
breakage_share = 0.2

[[rack]]
name = "peg"
count = 2

[drop_off.main]
to = "table"
put_down_s = 0

[table.table]

[scrapping.main]
takes_from = ["table"]
handling_s = 30
piece_s = { plate = 0 }

[racking.bench]
to = "shelf"
open_racks = 1
varies = "not_at_all"
grab = 1

[[racking.bench.pile]]
ware = "plate"
piece_s = 10

[lane.shelf]
to = "dish"
way = { shelf = { racks = 2 } }

[machine.dish]
type = { door = { cycle_s = 60 } }
to = "end"
runs = "throughout"
heat_up_min = 0

[clean_end.end]
varies = "not_at_all"
back = { each = { after_s = 0 } }

[walking]
between_posts_s = 0
hand_wash_s = 0

[[crew]]
name = "Ada"
shifts = [{ from = "11:00", to = "12:00" }]
posts = ["scrapping.main", "racking.bench"]
unfilled_share = 0

[[crew]]
name = "Bo"
shifts = [{ from = "11:00", to = "12:00" }]
posts = ["unloading.end"]
unfilled_share = 0
"#;

fn column(summary: &Summary, id: &str) -> Vec<f64> {
    let at = summary.per_meal_columns.iter().position(|name| name == id);
    let at = at.unwrap_or_else(|| panic!("no measure {id}"));
    summary
        .per_meal
        .iter()
        .map(|row| row[at].unwrap())
        .collect()
}

#[test]
fn a_plate_washed_so_often_is_out_so_much_later_and_is_counted_once_each_time() {
    // Out at 11:02:15 at the earliest: 30 + 30 + 10 + 60 + 5 s. Each washing more: racked, washed and unloaded again, 75 s.
    let plan = read_alone(PLATE, Format::Toml).unwrap_or_else(|faults| panic!("{faults:?}"));
    let meals = 400;
    let how = Replicate {
        repeats: meals,
        seed: 3,
        threads: 2,
    };
    let summary = replicate(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let rewashed = column(&summary, "ware.plate.rewashed");
    let broken = column(&summary, "ware.plate.broken");
    let out = column(&summary, "clean.last_clock_min");
    let racks = column(&summary, "machine.dish.racks");
    for (k, &again) in rewashed.iter().enumerate() {
        assert_eq!(out[k], 660.0 + 2.25 + 1.25 * again, "meal {k}");
        assert_eq!(racks[k], 1.0 + again, "meal {k}");
        assert!(broken[k] == 0.0 || broken[k] == 1.0);
    }
    // Geometric: 0.5 / (1 - 0.5) = 1 washing more in the mean, variance 2; broken in the end 0.2 / (1 - 0.5) = 0.4. Four
    // standard errors of 400 meals.
    let mean = |all: &[f64]| all.iter().sum::<f64>() / meals as f64;
    assert!((mean(&rewashed) - 1.0).abs() < 4.0 * (2.0_f64 / 400.0).sqrt());
    assert!((mean(&broken) - 0.4).abs() < 4.0 * (0.24_f64 / 400.0).sqrt());
}
