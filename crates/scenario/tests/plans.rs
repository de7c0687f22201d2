//! What single entries of a file come to mean.

use scullery_engine::demand::{Covers, Days, How};
use scullery_engine::dist::Dist;
use scullery_engine::line::{Closing, Control, PiecesTo, Post, Release, TraysFrom};
use scullery_engine::time::{SimTime, Span};
use scullery_scenario::{Format, plan::Plan, read_alone};

/// A hall whose numbers these tests know.
const HALL: &str = include_str!("hall.toml");

fn university() -> Plan {
    read_alone(HALL, Format::Toml).unwrap()
}

fn changed(from: &str, to: &str) -> Plan {
    assert!(HALL.contains(from), "{from}");
    read_alone(&HALL.replacen(from, to, 1), Format::Toml)
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[test]
fn the_university_lunch_becomes_its_line() {
    let plan = university();
    let line = &plan.line;
    assert_eq!(line.starts, SimTime::from_min(10.0 * 60.0 + 45.0));
    assert_eq!(line.ends, None);
    // Positions are asked from the downstream end.
    assert_eq!(line.drop_offs[0].positions_mm, [2000, 1200, 400]);
    assert_eq!(
        line.drop_offs[0].closes,
        Closing::At(SimTime::from_min(14.0 * 60.0 + 45.0))
    );
    assert_eq!(
        line.scrapping[0].from,
        [TraysFrom::BeltEnd(0), TraysFrom::Overflow(0)]
    );
    let classes: Vec<&str> = line
        .classes
        .iter()
        .map(|class| class.name.as_str())
        .collect();
    assert_eq!(
        classes,
        [
            "plate",
            "bowl",
            "side_plate",
            "glass",
            "cup",
            "cutlery",
            "tray"
        ]
    );
    let racked = PiecesTo::Racks(0);
    let piled = PiecesTo::Pile(0);
    assert_eq!(
        line.scrapping[0].routes,
        [racked, racked, racked, racked, racked, piled, piled]
    );
    assert_eq!(
        line.racking[0].piles[0].held_back,
        [Release::From(SimTime::from_min(795.0)), Release::RushOver]
    );
    assert_eq!(line.racking[0].piles[1].held_back, [Release::LaneBelow(6)]);
    let wait = Some(Span::from_min(10.0));
    assert_eq!(
        line.machines[0].control,
        Control::HoldAndRun {
            racks: 8,
            longest_wait: wait,
            work: None,
        }
    );
    let dee = &line.crew[3];
    assert_eq!(
        (dee.name.as_str(), dee.list[0].post, dee.list[0].step_in),
        ("Dee", Post::Unloading(0), 4)
    );
    assert_eq!(
        (dee.list[0].leave_at, dee.list[0].stay),
        (1, Span::from_min(4.0))
    );
    assert_eq!(plan.demand.kinds[1].name, "take_away");
    assert!((plan.demand.kinds[1].share[0].1 - 0.097).abs() < 1e-12);
    assert!(!plan.demand.kinds[1].sits);
    assert_eq!(plan.hash.len(), 64);
}

#[test]
fn an_interval_table_has_one_edge_more_than_counts() {
    let Covers::PerInterval { edges, counts, how } = university().demand.covers else {
        panic!("intervals expected")
    };
    assert_eq!((edges.len(), counts.len(), how), (13, 12, How::Poisson));
    assert_eq!(
        (edges[0], edges[12]),
        (SimTime::from_min(660.0), SimTime::from_min(840.0))
    );
}

#[test]
fn days_left_unsaid_vary_by_a_tenth_and_it_is_noted() {
    let plan = changed(
        "[days.vary]                     # covers differ from day to day\ncv = 0.10\n",
        "",
    );
    assert_eq!(plan.demand.days, Days::Vary { cv: 0.1 });
    assert!(plan.defaults.iter().any(|used| used.key == "days.vary.cv"));
    assert!(plan.heading.day_words.contains("a default"));
}

#[test]
fn a_busy_day_is_the_ninth_of_ten() {
    let plan = changed(
        "[days.vary]                     # covers differ from day to day\ncv = 0.10\n",
        "[days.design_day.busy]\npast_counts = [100, 110, 90, 105, 95, 120, 80, 100, 130, 70]\n",
    );
    // Ninth of the ten sorted counts is 120, over their mean of 100.
    assert_eq!(plan.demand.days, Days::Design(1.2));
    let plan = changed(
        "[days.vary]                     # covers differ from day to day\ncv = 0.10\n",
        "[days.design_day.busy]\ncv = 0.10\n",
    );
    let Days::Design(factor) = plan.demand.days else {
        panic!("design day expected")
    };
    // exp(1.28155 x sqrt(ln 1.01) - ln(1.01) / 2)
    assert!((factor - 1.130_68).abs() < 1e-4, "{factor}");
}

#[test]
fn a_shift_that_ends_not_later_than_it_starts_ends_on_the_next_day() {
    let plan = changed(
        "shifts = [{ from = \"11:15\", to = \"15:30\" }]\nbreaks = [{ due = \"13:20\", lasts_min = 15 }]",
        "shifts = [{ from = \"6:30 pm\", to = \"00:45\" }]\n",
    )
    .line;
    assert_eq!(
        plan.crew[4].shifts,
        [(
            SimTime::from_min(18.5 * 60.0),
            SimTime::from_min(24.75 * 60.0)
        )]
    );
}

#[test]
fn weibull_by_mean_and_cv_has_that_mean_and_that_cv() {
    for cv in [0.1, 0.4, 1.0, 2.0] {
        let plan = changed(
            "heat_up_min = 25\nstart_s = 5",
            &format!("heat_up_min = 25\nstart_s = {{ weibull = {{ mean = 20, cv = {cv} }} }}"),
        );
        let Dist::Weibull { shape, scale } = plan.line.machines[0].start_s else {
            panic!("weibull expected")
        };
        let gamma = |x: f64| libm::exp(libm::lgamma(1.0 + x / shape));
        let seen_mean = scale * gamma(1.0);
        let seen_cv = (gamma(2.0) / gamma(1.0).powi(2) - 1.0).sqrt();
        assert!(
            (seen_mean - 20.0).abs() < 1e-9 && (seen_cv - cv).abs() < 1e-9,
            "{cv}: {seen_mean} {seen_cv}"
        );
    }
}

#[test]
fn factors_have_a_mean_of_one_whatever_their_shape() {
    for varies in [
        "\"exponential\"",
        "{ triangular = { min = 5, mode = 8, max = 17 } }",
        "{ pert = { min = 5, mode = 8, max = 17 } }",
        "{ uniform = { min = 0.5, max = 1.5 } }",
        "{ readings = [8, 9.5, 12, 30] }",
        "{ normal = { cv = 0.8 } }",
        "{ weibull = { cv = 0.7 } }",
        "{ gamma = { cv = 0.5 } }",
        "\"not_at_all\"",
    ] {
        let plan = changed(
            "tray_work_varies = { lognormal = { cv = 0.4 } }",
            &format!("tray_work_varies = {varies}"),
        );
        assert!(
            (plan.demand.work_factor.mean() - 1.0).abs() < 1e-9,
            "{varies}"
        );
    }
}

#[test]
fn several_people_alike_are_told_apart_by_a_number() {
    let plan = changed("name = \"Ada\"", "name = \"Ada\"\nalike = 3");
    let names: Vec<&str> = plan
        .line
        .crew
        .iter()
        .map(|worker| worker.name.as_str())
        .collect();
    assert_eq!(
        names,
        ["Ada 1", "Ada 2", "Ada 3", "Bo", "Cem", "Dee", "Eli"]
    );
}

#[test]
fn a_round_is_walked_from_its_first_to_its_last_time() {
    let plan = changed(
        "when = { at = [\"11:15\", \"12:30\", \"13:45\"] }",
        "when = { round = { from = \"12:00\", to = \"13:00\", every_min = 20 } }",
    );
    let duty = plan
        .line
        .duties
        .iter()
        .find(|duty| duty.name == "temperatures")
        .unwrap();
    let times = [720.0, 740.0, 760.0, 780.0].map(SimTime::from_min).to_vec();
    assert_eq!(duty.when, scullery_engine::line::DutyWhen::At(times));
}

#[test]
fn a_clock_target_is_bounded_in_minutes_since_midnight() {
    let plan = university();
    let room = plan
        .targets
        .iter()
        .find(|target| target.measure == "line.room_clean_clock_min")
        .unwrap();
    assert!((room.bound - 15.5 * 60.0).abs() < 1e-9);
}
