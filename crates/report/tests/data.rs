//! Data files: JSON and CSV say what the summary says.

use scullery_report::data::{per_meal_csv, per_minute_csv, summary_json};
use scullery_report::{Fault, Summary};

use crate::fixture::{hall, waste};

#[test]
fn the_json_is_the_summary_and_begins_with_what_matters() {
    let text = summary_json(&hall()).unwrap();
    let back: Summary = serde_json::from_str(&text).unwrap();
    assert!(
        back == hall(),
        "what is read back is what was written, to the last bit"
    );
    let keys: Vec<&str> = text
        .lines()
        .filter(|line| line.starts_with("  \""))
        .map(|line| line.trim().split('"').nth(1).unwrap())
        .take(6)
        .collect();
    assert_eq!(
        keys,
        ["answer", "repeats", "asked", "seed", "balance", "measures"]
    );
}

#[test]
fn a_lunch_without_a_value_has_a_dash_and_not_nought() {
    let text = String::from_utf8(per_meal_csv(&hall()).unwrap()).unwrap();
    let rows: Vec<&str> = text.lines().collect();
    assert_eq!(
        rows,
        [
            "repeat,drop_off.main.wait_p95_s,stock.plate.run_outs",
            "1,40.25,0",
            "2,40.5,-",
            "3,40.75,0"
        ]
    );
}

#[test]
fn there_is_a_row_a_minute_with_four_columns_a_place() {
    let summary = hall();
    let text = String::from_utf8(per_minute_csv(&summary).unwrap()).unwrap();
    let rows: Vec<Vec<&str>> = text.lines().map(|line| line.split(',').collect()).collect();
    assert_eq!(rows.len(), 271);
    assert_eq!(
        rows[0].len(),
        2 + 4 * (summary.bands.len() + summary.cumulative.len())
    );
    let column = rows[0]
        .iter()
        .position(|name| *name == "queue.main.p95")
        .unwrap();
    assert_eq!(rows[115][0], "12:54");
    assert_eq!(rows[115][column], summary.bands[0].p95[114].to_string());
}

#[test]
fn weighed_columns_say_that_they_are_grams_and_hold_grams() {
    let mut summary = hall();
    summary.bands.push(waste());
    let text = String::from_utf8(per_minute_csv(&summary).unwrap()).unwrap();
    let rows: Vec<Vec<&str>> = text.lines().map(|line| line.split(',').collect()).collect();
    let column = rows[0]
        .iter()
        .position(|name| *name == "waste.slops.p95_grams");
    assert_eq!(rows[115][column.unwrap()], "14500");
}

#[test]
fn a_row_of_the_wrong_length_is_refused() {
    let mut summary = hall();
    summary.per_meal[1].pop();
    assert!(matches!(per_meal_csv(&summary), Err(Fault::Data(_))));
}
