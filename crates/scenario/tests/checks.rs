//! Figures that follow from a file, worked by hand.

use scullery_scenario::{CheckReport, Format, LOAD_CONSTANT_KG, check, read_alone, report_text};

/// 600 covers in one hour, exactly even, nobody eats; each tray a plate and a glass; two people.
pub(crate) const EVEN: &str = r#"
heading = { name = "Even", note = "Invented." }
meal = { starts = "12:00" }
covers = { per_interval = { from = "12:00", every_min = 60, counts = [600], come = "evenly" } }
days = { design_day = "mean" }
diners = { tray_work_varies = "not_at_all", seats = 10 }
walking = { between_posts_s = 0, hand_wash_s = 0 }

[kind.guest]
share = 1
pieces = { plate = 1, glass = 2 }
sits = false

[[ware]]
name = "plate"
fits = [{ rack = "peg", pieces = 20 }]
par = 400
dry_min = 2
unload_s = 1
weight_kg = 0.6

[[ware]]
name = "glass"
fits = [{ rack = "glass", pieces = 25 }]
dry_min = 4
unload_rack_s = 10
stays_in_rack = true
weight_kg = 0.2

[[rack]]
name = "peg"
count = 30
weight_kg = 2

[[rack]]
name = "glass"
count = 20
weight_kg = 2

[drop_off.main]
to = "soiled"
positions = 2
put_down_s = 6

[belt.soiled]
length_m = 6.1
spacing_m = 0.45
speed_m_per_min = 9
ends = "stops_on_arrival"

[scrapping.main]
takes_from = ["soiled"]
places = 2
handling_s = 4
piece_s = { plate = 2, glass = 1 }

[racking.table]
to = "feed"
open_racks = 4
part_racks_wait = true

[lane.feed]
to = "dish"
way = { rollers = { length_m = 3.2, rack_m = 0.5 } }

[machine.dish]
type = { conveyor = { pitch_m = 0.5, tunnel_m = 2, speed_m_per_min = 1.5 } }
to = "clean"
runs = "throughout"
heat_up_min = 0
plate = { racks_per_h = 200 }
uses = { wash_temp_c = 65, rinse_temp_c = 83 }

[clean_end.clean]
back = { each = { after_s = 30 } }

[[crew]]
name = "Ann"
shifts = [{ from = "12:00", to = "14:00" }]
posts = ["scrapping.main", "unloading.clean"]
unfilled_share = 0

[[crew]]
name = "Ben"
shifts = [{ from = "12:00", to = "13:30" }]
breaks = [{ due = "12:30", lasts_min = 15 }]
posts = ["unloading.clean", "scrapping.main"]
unfilled_share = 0
"#;

pub(crate) fn report(text: &str) -> CheckReport {
    check(&read_alone(text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}")))
}

pub(crate) fn figure(report: &CheckReport, id: &str) -> f64 {
    report
        .figures
        .iter()
        .find(|figure| figure.id == id)
        .unwrap_or_else(|| panic!("{id}"))
        .value
}

pub(crate) fn near(seen: f64, by_hand: f64) {
    assert!(
        (seen - by_hand).abs() <= 1e-6 * by_hand.abs().max(1.0),
        "seen {seen}, by hand {by_hand}"
    );
}

#[test]
fn places_and_rates_are_those_of_geometry() {
    let report = report(EVEN);
    // 6.1 m at 0.45 m: 13 whole places (Foodservice Equipment Reports has 13 to 14 trays on 20 ft).
    near(figure(&report, "belt.soiled.holds"), 13.0);
    near(figure(&report, "belt.soiled.transit"), 6.1 / 9.0 * 60.0);
    near(figure(&report, "lane.feed.holds"), 6.0);
    // 1.5 m a minute at 0.5 m a rack: 180 racks an hour.
    near(figure(&report, "machine.dish.takes"), 180.0);
    assert!(
        report
            .figures
            .iter()
            .any(|figure| figure.words.contains("90 % of its data plate"))
    );
}

#[test]
fn a_reach_to_a_level_above_costs_its_seconds_for_each_piece_put_there() {
    let level = "part_racks_wait = true\n\n[[racking.table.level]]\nname = \"upper\"\nware = [\"glass\"]\nopen_racks = 2\n";
    let with = |reach: &str| {
        let text = EVEN.replacen("part_racks_wait = true\n", &format!("{level}{reach}"), 1);
        let report = report(&text);
        let words = report.description.join("\n");
        (figure(&report, "kind.guest.work"), words)
    };
    // 4 s a tray, a plate of 2 s, two glasses of 1 s and half a second up to the level.
    let (work, words) = with("reach_s = 0.5\n");
    near(work, 4.0 + 2.0 + 2.0 * 1.5);
    assert!(words.contains(
        "Above racking table, level upper: 2 racks open at once, for glass only; a full one goes to lane feed; the longer reach adds 0.5 s to each piece put there."
    ), "{words}");
    // Unsaid it is the default, 0.3 s; a reach of nought is none.
    near(with("").0, 8.6);
    near(with("reach_s = 0\n").0, 8.0);
}

#[test]
fn work_and_hours_are_those_of_the_seconds_given() {
    let report = report(EVEN);
    near(figure(&report, "kind.guest.work"), 4.0 + 2.0 + 2.0);
    // Scrapping 600 x 8 s; unloading 600 plates x 1 s and 48 glass racks x 10 s.
    near(
        figure(&report, "crew.work"),
        (4800.0 + 600.0 + 480.0) / 3600.0,
    );
}

#[test]
fn racks_in_the_loop_follow_littles_law() {
    let report = report(EVEN);
    // 600 plates an hour are 30 racks; tunnel 80 s, drying 120 s, unloading 20 s, return 30 s; one more stands open.
    near(
        figure(&report, "rack.peg.in_loop"),
        1.0 + 30.0 * 250.0 / 3600.0,
    );
    // 1200 glasses are 48 racks; tunnel 80 s, drying 240 s, handling 10 s, return 30 s.
    near(
        figure(&report, "rack.glass.in_loop"),
        1.0 + 48.0 * 360.0 / 3600.0,
    );
}

#[test]
fn the_table_shows_work_over_capacity_by_quarter_hour() {
    let report = report(EVEN);
    let table = report.quarters.unwrap();
    let stage = |name: &str| table.stages.iter().position(|stage| stage == name).unwrap();
    for quarter in &table.quarters[..4] {
        near(quarter.served, 150.0);
        near(quarter.dropped, 150.0);
        // Two positions at 6 s; trays 3 s apart on the belt; Ann alone scraps first: 1200 s of her 900.
        near(quarter.shares[stage("drop-off main")].unwrap(), 0.5);
        near(quarter.shares[stage("belt soiled")].unwrap(), 0.5);
        near(quarter.shares[stage("scrapping")].unwrap(), 1200.0 / 900.0);
        // 150 trays are 7.5 + 12 racks, of 45 a quarter hour.
        near(quarter.shares[stage("machine")].unwrap(), 19.5 / 45.0);
    }
    // Ben unloads first, and has a break from 12:30 to 12:45.
    near(
        table.quarters[1].shares[stage("unloading")].unwrap(),
        (150.0 + 120.0) / 900.0,
    );
    assert_eq!(table.quarters[2].shares[stage("unloading")], None);
    assert_eq!(table.quarters[1].binds, Some(stage("scrapping")));
    assert_eq!(table.quarters.len(), 4);
}

#[test]
fn the_usual_rule_divides_by_seven_tenths() {
    let rule = report(EVEN).peak_rule.unwrap();
    near(rule.pieces_per_cover, 3.0);
    near(rule.peak_hour_covers, 600.0);
    // 600 plates in 30 racks and 1200 glasses in 48.
    near(rule.pieces_per_rack, 1800.0 / 78.0);
    near(rule.racks_per_h, 78.0 / 0.70);
    near(rule.plate_racks_per_h, 200.0);
    assert!(!rule.leaves_out.is_empty());
}

#[test]
fn the_heaviest_rack_is_found_and_held_against_the_load_constant() {
    let report = report(EVEN);
    // 2 kg and 20 plates of 0.6 kg.
    near(figure(&report, "rack.heaviest"), 14.0);
    near(LOAD_CONSTANT_KG, 23.0);
    let told = report_text(&self::report(
        &EVEN.replace("weight_kg = 0.6", "weight_kg = 1.2"),
    ));
    let heavy = told.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        heavy.contains("weighs 26 kg") && heavy.contains("often. <- look at this"),
        "{heavy}"
    );
}

#[test]
fn a_wash_below_the_published_temperature_is_shown() {
    let report = report(EVEN);
    let seen: Vec<bool> = report
        .temperatures
        .iter()
        .map(|temperature| temperature.within)
        .collect();
    assert_eq!(seen, [false, true]);
    assert!(
        report.temperatures[0]
            .words
            .contains("Food Code 4-501.110(A)(3)")
    );
}

#[test]
fn people_seated_are_held_against_seats() {
    // Ten a minute, each seated for exactly 20 minutes: 200 people.
    let text = EVEN.replace("sits = false", "").replace(
        "seats = 10",
        "seats = 150, find_seat_min = 0, eating_min = 20",
    );
    let report = report(&text);
    near(figure(&report, "seated.most"), 200.0);
    assert!(
        report
            .figures
            .iter()
            .any(|figure| figure.id == "seated.most" && figure.look)
    );
    let table = report.quarters.unwrap();
    // 20 minutes later: 100 in the quarter hour from 12:15, then 150 in each of three, then 50.
    let dropped: Vec<f64> = table
        .quarters
        .iter()
        .map(|quarter| quarter.dropped.round())
        .collect();
    assert_eq!(dropped, [0.0, 100.0, 150.0, 150.0, 150.0, 50.0]);
}

#[test]
fn a_bell_moves_those_it_calls_and_loses_nobody() {
    let text = EVEN
        .replace("sits = false", "")
        .replace("seats = 10", "find_seat_min = 0, eating_min = 60")
        + "\n[[bell]]\nat = \"12:40\"\nshare = 0.5\nbefore_min = 5\nafter_min = 0\nseated_at_least_min = 10\n";
    let table = report(&text).quarters.unwrap();
    let dropped: Vec<f64> = table
        .quarters
        .iter()
        .map(|quarter| quarter.dropped)
        .collect();
    // Seated for at least 10 minutes at 12:40: those of the 31 minutes 12:00 to 12:30, of whom half go in 12:35 to 12:40.
    near(dropped[2], 31.0 * 10.0 / 2.0);
    near(dropped.iter().sum(), 600.0);
}

#[test]
fn a_meal_of_many_days_gets_no_table() {
    let text = EVEN.replace(
        "every_min = 60, counts = [600]",
        "every_min = 1440, counts = [600, 600, 600]",
    );
    let report = report(&text);
    assert!(report.quarters.is_none() && report.peak_rule.is_none());
    assert!(!report_text(&report).contains("By quarter hour"));
}
