//! Lanes in series and inclines in a file: what they mean and what `check` says of them.

use scullery_engine::line::LaneKind;
use scullery_scenario::{Format, read_alone};

use crate::checks::{EVEN, figure, near, report};

/// The even hour with 3.2 m of rollers, then 2 m of incline falling 1 m, without resistance and let run at 60 m a minute.
fn in_series() -> String {
    let incline = r#"[lane.incline]
to = "dish"
way = { incline = { length_m = 2, rack_m = 0.5, fall_m = 1, rolling_resistance = 0, top_speed_m_per_min = 60 } }

[machine.dish]"#;
    EVEN.replacen("to = \"dish\"", "to = \"incline\"", 1)
        .replacen("[machine.dish]", incline, 1)
}

#[test]
fn a_lane_to_a_lane_hands_over_and_an_incline_has_the_speed_of_its_fall() {
    let plan = read_alone(&in_series(), Format::Toml).unwrap();
    let line = &plan.line;
    // In order of name: feed, incline.
    assert_eq!(
        (line.lanes[0].hands_to, line.lanes[1].hands_to),
        (Some(1), None)
    );
    assert_eq!(line.machines[0].from, Some(1));
    // a = g/2 = 4.903325 m/s²; 1 m/s is reached after 0.203943 s and 0.101972 m, the rest at that speed: 2.101972 s in all,
    // 57.0893 m a minute in the mean.
    let LaneKind::Rollers { speed, .. } = &line.lanes[1].kind else {
        panic!("an incline is rollers");
    };
    assert_eq!(speed[0].1, 57_089);
    near(
        plan.facts.inclines[1].unwrap().seconds,
        0.5 / (9.80665 / 2.0) + 2.0,
    );
}

#[test]
fn check_tells_transit_room_and_hand_over() {
    let report = report(&in_series());
    near(figure(&report, "lane.feed.holds"), 6.0);
    near(figure(&report, "lane.incline.holds"), 4.0);
    near(figure(&report, "lane.feed.transit"), 32.0);
    let told = |words: &str| report.description.iter().any(|it| it == words);
    assert!(
        told(
            "Lane feed: rollers, 3.2 m long; it holds 6 racks, and hands them to lane incline one by one as there is room."
        ),
        "{:#?}",
        report.description
    );
    assert!(
        told(
            "Lane incline: inclined rollers without a drive, 2 m long with 1 m of fall; it holds 4 racks."
        ),
        "{:#?}",
        report.description
    );
    assert!(
        report
            .cautions
            .iter()
            .any(|it| it.starts_with("Inclined lanes:"))
    );
}
