//! Real daily covers of a school canteen as past days (source and licence: `tests/data/open/README.md`).

use std::collections::BTreeSet;

use scullery_engine::demand::Days;
use scullery_engine::tape::Tape;
use scullery_scenario::sheet::numbers;
use scullery_scenario::sheet::{Sheet, SheetReading};
use scullery_scenario::{Format, read_alone};

/// Covers on the days on which site F served anybody.
fn counts() -> Vec<f64> {
    let bytes = std::fs::read("../../tests/data/open/school-canteen-daily-covers.csv").unwrap();
    let sheet = Sheet::read("canteen.csv", &bytes, &SheetReading::default()).unwrap();
    let column = sheet.column("F_actual").unwrap();
    let (values, said) = numbers(&sheet, column, None).unwrap();
    assert!(said.is_empty(), "{said:?}");
    values.into_iter().flatten().filter(|n| *n > 0.0).collect()
}

#[test]
fn the_table_is_read_as_its_notes_count_it() {
    let counts = counts();
    let mean = counts.iter().sum::<f64>() / counts.len() as f64;
    assert_eq!(counts.len(), 1027);
    assert!((mean - 399.8).abs() < 0.05, "{mean}");
}

#[test]
fn lunches_have_the_covers_of_past_days_and_no_others() {
    let counts = counts();
    let text = format!(
        r#"
        heading = {{ name = "Past days" }}
        meal = {{ starts = "11:00" }}
        covers.per_interval = {{ from = "11:00", every_min = 60, counts = [400], come = "evenly" }}
        days.past_counts = {counts:?}
        [kind.guest]
        share = 1
        pieces = {{ tray = 1 }}
        sits = false
        [[ware]]
        name = "tray"
        [drop_off.main]
        to = "side"
        [table.side]
        [scrapping.main]
        takes_from = ["side"]
        sends = {{ tray = "leave" }}
        [[crew]]
        name = "Ada"
        shifts = [{{ from = "11:00", to = "13:00" }}]
        posts = ["scrapping.main"]
        "#
    );
    let plan = read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let Days::Past(factors) = &plan.demand.days else {
        panic!("past days expected")
    };
    assert_eq!(factors.len(), counts.len());
    // 400 stated covers times a day's count over the mean of all, to the whole cover.
    let mean = counts.iter().sum::<f64>() / counts.len() as f64;
    let of_a_day = |count: f64| (400.0 * count / mean).round();
    let possible: BTreeSet<u64> = counts.iter().map(|&n| of_a_day(n) as u64).collect();
    let mut tape = Tape::new();
    let repeats = 4_000;
    let drawn: Vec<f64> = (0..repeats)
        .map(|repeat| {
            tape.draw(&plan.demand, 7, repeat);
            tape.served().len() as f64
        })
        .collect();
    let others: Vec<&f64> = (drawn.iter())
        .filter(|n| !possible.contains(&(**n as u64)))
        .collect();
    assert!(others.is_empty(), "{others:?}");
    // Mean and spread as the days', within four standard errors (the spread's from the days' fourth moment).
    let days: Vec<f64> = counts.iter().map(|&n| of_a_day(n)).collect();
    let moment = |of: &[f64], about: f64, power: i32| {
        of.iter().map(|n| (n - about).powi(power)).sum::<f64>() / of.len() as f64
    };
    let centre = moment(&days, 0.0, 1);
    let (variance, fourth) = (moment(&days, centre, 2), moment(&days, centre, 4));
    let n = repeats as f64;
    let error = 4.0 * (variance / n).sqrt();
    assert!((moment(&drawn, 0.0, 1) - centre).abs() < error);
    let error = 4.0 * ((fourth - variance * variance) / n).sqrt();
    assert!((moment(&drawn, centre, 2) - variance).abs() < error);
}
