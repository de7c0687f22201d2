//! Tables of arrivals.

use scullery_engine::demand::Covers;
use scullery_scenario::{Diagnostic, Format, plan::Plan, read};

/// A small scenario whose covers come from a table said as `table`.
pub(crate) fn scenario(table: &str) -> String {
    format!(
        r#"
        heading = {{ name = "Table" }}
        meal = {{ starts = "11:00" }}
        [covers.table]
        {table}
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
        [[crew]]
        name = "Ada"
        shifts = [{{ from = "11:00", to = "12:00" }}]
        posts = ["scrapping.main"]
        "#
    )
}

fn read_table(table: &str, csv: &str) -> Result<Plan, Vec<Diagnostic>> {
    read(&scenario(table), Format::Toml, &|name| {
        if name == "a.csv" {
            Ok(csv.as_bytes().to_vec())
        } else {
            Err("there is no such file".to_owned())
        }
    })
}

fn instants_s(plan: &Plan) -> Vec<f64> {
    let Covers::Instants(instants) = &plan.demand.covers else {
        panic!("instants expected")
    };
    instants.iter().map(|at| at.s() - 11.0 * 3600.0).collect()
}

const SORTED: &str = "path = \"a.csv\"\ncount_column = \"trays\"\nsort = true";

#[test]
fn rows_out_of_order_are_sorted_when_asked_and_it_is_said() {
    let plan = read_table(SORTED, "time,trays\n11:00:30,2\n11:00:10,1\n11:03:00,2\n").unwrap();
    assert_eq!(instants_s(&plan), [10.0, 30.0, 30.0, 180.0, 180.0]);
    assert!(
        plan.description
            .iter()
            .any(|told| told.contains("1 rows of a.csv stood out of clock order"))
    );
}

#[test]
fn mark_line_ends_and_separator_make_no_difference() {
    let plain = instants_s(
        &read_table(SORTED, "time,trays\n11:00:30,2\n11:00:10,1\n11:03:00,2\n").unwrap(),
    );
    for csv in [
        "\u{feff}time,trays\r\n11:00:30,2\r\n11:00:10,1\r\n11:03:00,2\r\n",
        "time;trays\n11:00:30;2\n11:00:10;1\n11:03:00;2\n",
        "time\ttrays\n11:00:30\t2\n11:00:10\t1\n11:03:00\t2\n",
        "\"trays\",\"time\"\n2, 11:00:30\n1, 11:00:10\n2, 11:03:00\n",
    ] {
        assert_eq!(
            instants_s(&read_table(SORTED, csv).unwrap()),
            plain,
            "{csv:?}"
        );
    }
}

#[test]
fn all_faulty_rows_are_told_in_one_go_with_row_and_value() {
    let csv = "time,trays\n11:00:30,2\n11:00:10,1\n,3\n11:02:00,-1\n11:01:00,abc\n11:03:00,2\n";
    let told: Vec<String> = read_table("path = \"a.csv\"\ncount_column = \"trays\"", csv)
        .unwrap_err()
        .into_iter()
        .map(|fault| fault.message)
        .collect();
    assert_eq!(
        told,
        [
            "a.csv: row 2 at 11:00:10 is earlier than row 1 at 11:00:30",
            "a.csv: row 3 has no time",
            "a.csv: row 4 must have a count of 0 or more, found -1",
            "a.csv: row 5 must have a number, found \"abc\"",
        ]
    );
}

#[test]
fn observed_instants_speak_of_the_observed_day() {
    let plan = read_table("path = \"a.csv\"", "time\n11:00:30\n").unwrap();
    assert_eq!(plan.heading.day_words, "the observed day, replayed");
    assert!(
        !plan
            .defaults
            .iter()
            .any(|used| used.key.starts_with("days"))
    );
}
