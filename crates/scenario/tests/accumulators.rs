//! Tray accumulators in a file: what `check` says of them.

use scullery_scenario::CheckReport;

use crate::checks::{EVEN, near, report};

/// The even hour with a loop of so many carriers and tiers in place of the belt.
fn with_loop(carriers: u32, tiers: u32) -> String {
    let (before, rest) = EVEN.split_once("[belt.soiled]").unwrap();
    let (_, after) = rest.split_once("[scrapping.main]").unwrap();
    let round = format!(
        "[accumulator.soiled]\ncarriers = {carriers}\ntiers = {tiers}\nloop_m = 5.4\nspeed_m_per_min = 6\n\n"
    );
    format!("{before}{round}[scrapping.main]{after}")
}

fn figure(report: &CheckReport, id: &str) -> f64 {
    let found = report.figures.iter().find(|figure| figure.id == id);
    found.unwrap_or_else(|| panic!("no figure {id}")).value
}

#[test]
fn twelve_carriers_of_five_tiers_hold_five_times_a_return_belt() {
    // 5.4 m there and back, a tray every 0.45 m: 12. 6 m/min past carriers 0.45 m apart: 13.3 carriers a minute.
    let report = report(&with_loop(12, 5));
    near(figure(&report, "accumulator.soiled.holds"), 60.0);
    near(figure(&report, "accumulator.soiled.times_a_belt"), 5.0);
    near(figure(&report, "accumulator.soiled.passing"), 6.0 / 0.45);
    let words: Vec<&str> = report
        .figures
        .iter()
        .map(|figure| figure.words.as_str())
        .collect();
    assert!(words.contains(
        &"13.3 carriers of accumulator soiled pass in a minute, each of 5 tiers: 66.7 tiers a minute."
    ), "{words:#?}");
}

#[test]
fn a_run_of_9_ft_holds_36_to_60_trays_on_three_to_five_tiers() {
    // Source: Foodservice Equipment Reports, article on tray accumulation: 36 to 60 trays on 9 ft (2.7 m); and 13 to 14
    // on 20 ft of straight belt, so 0.45 m a tray, which is how far apart the carriers stand here.
    let held: Vec<f64> = (3..=5)
        .map(|tiers| figure(&report(&with_loop(12, tiers)), "accumulator.soiled.holds"))
        .collect();
    near(held[0], 36.0);
    near(held[2], 60.0);
}

#[test]
fn positions_and_posts_left_unsaid_stand_along_the_loop() {
    let plan =
        scullery_scenario::read_alone(&with_loop(12, 5), scullery_scenario::Format::Toml).unwrap();
    assert_eq!(plan.line.drop_offs[0].positions_mm, [450, 0]);
    let reach = scullery_engine::line::Reach {
        at_mm: 2_700,
        each_side_mm: 300,
    };
    assert_eq!(
        plan.line.scrapping[0].from,
        [scullery_engine::line::TraysFrom::Accumulator {
            accumulator: 0,
            reach
        }]
    );
    let told = plan.description.join("\n");
    assert!(told.contains(
        "Accumulator soiled: 12 carriers of 5 tiers on a loop of 5.4 m, so it holds 60 trays; 6 m a minute from 12:00; it waits for nobody, and what is not taken goes round."
    ), "{told}");
    let cautions = plan.cautions.join("\n");
    assert!(
        cautions.contains("drive locked out") && cautions.contains("overhead"),
        "{cautions}"
    );
}

#[test]
fn the_static_table_sets_trays_against_tiers_passing() {
    // 150 trays in a quarter hour against 200 carriers of 5 tiers.
    let table = report(&with_loop(12, 5)).quarters.unwrap();
    let stage = table
        .stages
        .iter()
        .position(|stage| stage == "accumulator soiled")
        .unwrap();
    near(table.quarters[0].shares[stage].unwrap(), 150.0 / 1000.0);
}
