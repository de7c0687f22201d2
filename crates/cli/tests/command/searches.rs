//! `scullery crew` and `scullery size`, from file to answer.

use crate::room::{Room, Said};

/// A room small enough to search in a moment: trays at random, each a minute of work; how many people?
const SMALL: &str = r#"
[heading]
name = "A small room"
note = "Invented for a test."
currency = "EUR"
[meal]
starts = "11:00"
ends_at = "13:00"
[covers.per_interval]
from = "11:00"
every_min = 60
counts = [80]
[days.vary]
cv = 0
[diners]
tray_work_varies = "exponential"
waste_kg = 0
[kind.tray]
share = 1
pieces = { tray = 1 }
sits = false
[[ware]]
name = "tray"
[drop_off.door]
to = "queue"
positions = 2
put_down_s = 1
closes = { at = "12:10" }
[table.queue]
room_trays = 60
[scrapping.server]
takes_from = ["queue"]
places = 6
handling_s = 60
piece_s = { tray = 0 }
sends = { tray = "leave" }
[[crew]]
name = "Ada"
shifts = [{ from = "11:00", to = "13:00" }]
posts = ["scrapping.server"]
unfilled_share = 0
[money]
wage_per_h = 20
[staffing.role.sorting]
like = ["Ada"]
least = 1
most = 5
[staffing.contract]
shortest_h = 0.5
show_up_h = 0.5
[[target]]
words = "all sorted by 12:15"
measure = "clean.last_clock_min"
at_latest = "12:15"
in_meals_of_100 = 90
[[size]]
words = "room on the table"
key = "table.queue.room_trays"
values = [10, 60]
price_each = 5
life_years = 10
"#;

fn searched(arguments: &[&str]) -> (Room, Said) {
    let room = Room::new();
    room.write("small.toml", SMALL);
    let mut all = arguments.to_vec();
    all.extend(["--shown-lunches", "40"]);
    let said = room.scullery(&all);
    (room, said)
}

#[test]
fn crew_names_the_cheapest_that_holds_and_writes_its_page() {
    let (room, said) = searched(&["crew", "small.toml", "--roster"]);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    // 80 minutes of work in little more than 75: one person cannot, two can.
    let text = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "the cheapest crew that holds has 2 people",
        "sorting 2",
        "<- chosen",
        "In 95 of 100 such searches",
        "A roster of",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let page = room.read("scullery-out/report.html");
    for id in [
        "figure-crews",
        "figure-frontier",
        "figure-one-missing",
        "figure-roster",
        "id=\"sure\"",
    ] {
        assert!(page.contains(id), "{id}");
    }
    // The name of SVG is an address too; what is asked of a network stands in `src` or `href`.
    assert!(
        !page.contains("<script") && !page.contains("src=\"http") && !page.contains("href=\"http")
    );
    let csv = room.read("scullery-out/crews.csv");
    assert!(csv.starts_with("crew,people,paid_hours,cost,fate"), "{csv}");
}

#[test]
fn crew_as_json_is_json_and_writes_nothing() {
    let (room, said) = searched(&["crew", "small.toml", "--json", "--no-spare"]);
    let it: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(
        (said.code, room.names()),
        (Some(0), vec!["small.toml".to_owned()])
    );
    assert_eq!(it["searched"]["promised"], true);
    assert_eq!(it["searched"]["choices"], 5);
    assert!(
        it["rows"]
            .as_array()
            .unwrap()
            .iter()
            .any(|row| row["people"] == 2 && row["verdict"] == "holds")
    );
}

#[test]
fn crew_that_nobody_can_be_is_told_and_counts_under_strict() {
    let room = Room::new();
    room.write("small.toml", &SMALL.replace("most = 5", "most = 1"));
    let said = room.scullery(&[
        "crew",
        "small.toml",
        "--quiet",
        "--strict",
        "--shown-lunches",
        "20",
    ]);
    assert_eq!(said.code, Some(1));
    assert!(
        said.out.contains("none of the 1 crews is shown to hold"),
        "{}",
        said.out
    );
}

#[test]
fn a_scenario_without_the_section_derives_its_bounds_and_says_so() {
    let room = Room::new();
    let (before, rest) = SMALL.split_once("[staffing.role.sorting]").unwrap();
    let (_, after) = rest.split_once("[[target]]").unwrap();
    room.write("bare.toml", &format!("{before}[[target]]{after}"));
    let said = room.scullery(&["crew", "bare.toml", "--shown-lunches", "20", "--no-spare"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    let text = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("The scenario has no [staffing] section, so the bounds are derived"),
        "{text}"
    );
    assert!(text.contains("Ada 0 to 2"), "{text}");
}

#[test]
fn what_cannot_be_searched_is_said_in_one_message() {
    let room = Room::new();
    let (before, _) = SMALL.split_once("[[target]]").unwrap();
    room.write("none.toml", before);
    let said = room.scullery(&["crew", "none.toml"]);
    assert_eq!((said.code, said.out.as_str()), (Some(2), ""));
    assert!(said.err.contains("names no target"), "{}", said.err);
    let said = room.scullery(&["crew", "none.toml", "--wrong-of-100", "0"]);
    assert_eq!(said.code, Some(2));
    assert!(
        said.err.contains("--wrong-of-100 must be above 0"),
        "{}",
        said.err
    );
    room.write(
        "bounds.toml",
        &SMALL.replace("least = 1\nmost = 5", "least = 4\nmost = 2"),
    );
    let said = room.scullery(&["crew", "bounds.toml"]);
    assert_eq!(said.code, Some(2));
    assert!(
        said.err.contains("error[staffing-bounds]") && said.err.contains("bounds.toml:"),
        "{}",
        said.err
    );
}

#[test]
fn size_names_the_least_that_holds_for_another_crew_and_prices_both() {
    let room = Room::new();
    // Two people: 60 places are never needed, ten nearly always do.
    room.write(
        "small.toml",
        &SMALL.replace("name = \"Ada\"", "name = \"Ada\"\nalike = 2"),
    );
    let said = room.scullery(&["size", "small.toml", "--shown-lunches", "40"]);
    assert_eq!(said.code, Some(0), "{}{}", said.out, said.err);
    let text = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("with the crew as it is the least room on the table that holds is"),
        "{text}"
    );
    assert!(
        text.contains("the crew as it is (4.00 h)") && text.contains("a year for both"),
        "{text}"
    );
    let page = room.read("scullery-out/report.html");
    assert!(page.contains("Crew against size, over the years") && page.contains("figure-sizes"));
}

#[test]
fn where_no_size_helps_it_is_said() {
    let (_, said) = searched(&["size", "small.toml", "--no-trade", "--out", "sizes"]);
    // One person has 80 minutes of work to do, however large the table.
    let text = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(
        text.contains("no size helps: none of the 2 of room on the table holds"),
        "{text}"
    );
}

#[test]
fn a_size_may_be_asked_by_key_and_values_and_an_unknown_one_is_told() {
    let (_, said) = searched(&[
        "size",
        "small.toml",
        "--of",
        "drop_off.door.positions",
        "--values",
        "1,2",
        "--no-trade",
    ]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    assert!(
        said.out.contains("Sizes of drop_off.door.positions"),
        "{}",
        said.out
    );
    let (_, said) = searched(&["size", "small.toml", "--of", "the moon"]);
    assert_eq!(said.code, Some(2));
    assert!(
        said.err.contains("no size is called \"the moon\"")
            && said.err.contains("\"room on the table\""),
        "{}",
        said.err
    );
    let (_, said) = searched(&[
        "size",
        "small.toml",
        "--of",
        "table.queue.rom",
        "--values",
        "1",
    ]);
    assert_eq!(said.code, Some(2));
}

#[test]
fn why_says_what_held_the_line_back_and_follows_a_tray() {
    let (room, said) = searched(&["why", "small.toml", "--diner", "3"]);
    assert_eq!(said.code, Some(0), "{}", said.err);
    // One person with more than an hour's work in an hour.
    let text = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        text.contains("A: drop-off door") && text.contains("B: scrapping server"),
        "{text}"
    );
    assert!(
        said.out.contains("The tray of diner 3 in lunch 1"),
        "{}",
        said.out
    );
    assert!(said.out.contains("comes to the drop-off"), "{}", said.out);
    let page = room.read("scullery-out/report.html");
    assert!(page.contains("figure-stages") && page.contains("The diary of one tray"));
    let (_, said) = searched(&["why", "small.toml", "--diner", "4000"]);
    assert_eq!(said.code, Some(2));
}
