//! Jams, failures and stop stations: what stands, who clears it, and whose clock runs.

use scullery_engine::demand::Demand;
use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::tape::Tape;
use scullery_engine::watch::State;

use crate::hand::*;

fn trouble(stops: Vec<Stands>, strikes: Strikes, clearing_s: f64, by: Vec<Post>) -> Trouble {
    Trouble {
        name: "jam".into(),
        stops,
        strikes,
        clearing_s: Dist::Constant(clearing_s),
        by,
        then: AfterStop::Resume,
    }
}

/// Fails after so many seconds of running.
fn after_s(s: f64) -> Strikes {
    Strikes::RunningMin(Dist::Constant(s / 60.0))
}

/// 10 m of belt in 40 s, closing up; one scrapper, 5 s a tray.
fn line_with(trouble: Trouble) -> Line {
    let mut line = belt_line(ten_metres(EndRule::ClosesUp), 5.0);
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(1_000.0));
    line.troubles = vec![trouble];
    line
}

#[test]
fn every_tray_jams_and_the_belt_stands_until_the_post_has_cleared_it() {
    // Put down at 0 and 100. Each jams at once; the scrapper clears it in 30 s; then 40 s of belt and 5 s of work.
    let jam = trouble(
        vec![Stands::Belt(0)],
        Strikes::Share(1.0),
        30.0,
        vec![SCRAP],
    );
    let (_, diary) = live(&line_with(jam), &coming(&[0.0, 100.0], &[1.0]));
    assert_eq!(diary.times("times of trouble jam"), [0.0, 100.0]);
    assert_eq!(
        diary.spans("belt", State::Down, 1_000.0),
        [(0.0, 30.0), (100.0, 130.0)]
    );
    assert_eq!(diary.times("trays cleared"), [75.0, 175.0]);
    assert_eq!(
        diary.spans("one", State::Working, 1_000.0),
        [(0.0, 30.0), (70.0, 75.0), (100.0, 130.0), (170.0, 175.0)]
    );
}

#[test]
fn trouble_comes_before_the_workers_own_list_but_after_the_tray_in_hand() {
    // The second tray jams the belt at 42, while the first is broken down from 40 to 45: cleared from 45 to 55.
    let mut line = line_with(trouble(
        vec![Stands::Belt(0)],
        after_s(42.0),
        10.0,
        vec![SCRAP],
    ));
    line.belts[0].rule = EndRule::ClosesUp;
    let (_, diary) = live(&line, &coming(&[0.0, 4.0], &[1.0]));
    // 42 s and again 42 s of running: at 97, and so on.
    assert_eq!(diary.spans("belt", State::Down, 100.0)[0], (42.0, 55.0));
    assert_eq!(diary.waits_at("trouble.jam")[0], 3.0);
    // The second, 38 s on its way at 42, comes at 57.
    assert_eq!(diary.times("trays cleared"), [45.0, 62.0]);
}

#[test]
fn a_failure_clock_runs_only_while_the_thing_runs_and_no_other_stop_starts_it_anew() {
    // Fails after 600 s of running. The belt stands from 100 to 150 by the clock: it fails at 650, and again after 600 s
    // more of running, 20 s of repair in between: at 1270.
    let mut line = line_with(trouble(vec![Stands::Belt(0)], after_s(600.0), 20.0, vec![]));
    line.ends = Some(at(1_500.0));
    line.belts[0].stops = vec![Stop {
        from: at(100.0),
        to: at(150.0),
        then: AfterStop::Resume,
    }];
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.times("times of trouble jam"), [650.0, 1270.0]);
    assert_eq!(
        diary.spans("belt", State::Down, 1_500.0),
        [(100.0, 150.0), (650.0, 670.0), (1270.0, 1290.0)]
    );
}

#[test]
fn a_repair_that_ends_within_a_stop_by_the_clock_lets_nothing_go() {
    // Fails at 90, repaired at 110; stopped by the clock from 100 to 150.
    let mut line = line_with(trouble(vec![Stands::Belt(0)], after_s(90.0), 20.0, vec![]));
    line.ends = Some(at(200.0));
    line.belts[0].stops = vec![Stop {
        from: at(100.0),
        to: at(150.0),
        then: AfterStop::Resume,
    }];
    let (_, diary) = live(&line, &coming(&[80.0], &[1.0]));
    assert_eq!(diary.spans("belt", State::Down, 200.0), [(90.0, 150.0)]);
    // 10 s on its way at 90, 30 s more from 150.
    assert_eq!(diary.times("trays cleared"), [185.0]);
}

#[test]
fn the_clock_of_a_belt_that_stands_on_arrival_stands_with_it() {
    // A tray lies at the end from 40 on and nobody takes it: 60 s of running are never reached.
    let mut line = line_with(trouble(vec![Stands::Belt(0)], after_s(60.0), 1.0, vec![]));
    line.belts[0].rule = EndRule::StopsOnArrival;
    line.crew.clear();
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert!(diary.times("times of trouble jam").is_empty());
}

/// The door machine of a wash line fails after so many seconds of running.
fn failing_door(then: AfterStop) -> Line {
    let mut line = wash_line(1);
    line.troubles = vec![Trouble {
        then,
        ..trouble(vec![Stands::Machine(0)], after_s(90.0), 15.0, vec![])
    }];
    line
}

#[test]
fn a_machine_resumes_or_runs_again_as_the_line_says() {
    // Cycles of 60 s from 0 and 60. At 90 s of running it fails, 30 s into the second; repaired at 105.
    let two = coming(&[0.0, 0.0], &[1.0]);
    let (_, resumes) = live(&failing_door(AfterStop::Resume), &two);
    assert_eq!(resumes.racks_out(), [60.0, 135.0]);
    let (_, again) = live(&failing_door(AfterStop::RunAgain), &two);
    assert_eq!(again.racks_out(), [60.0, 165.0]);
}

#[test]
fn a_stop_station_stands_all_it_names() {
    // Pressed after 50 s of the machine's running and let go 25 s later; the belt stands with it.
    let mut line = wash_line(1);
    line.belts = vec![ten_metres(EndRule::ClosesUp)];
    line.drop_offs[0].to = TraysTo::Belt(0);
    line.scrapping[0].from = vec![TraysFrom::BeltEnd(0)];
    line.troubles = vec![trouble(
        vec![Stands::Machine(0), Stands::Belt(0)],
        after_s(50.0),
        25.0,
        vec![],
    )];
    let (_, diary) = live(&line, &coming(&[0.0, 80.0], &[1.0]));
    // The first tray is racked and washed from 40; at 90 all stands until 115; out at 125.
    // The second has gone 10 s of its 40 at 90: at the end at 145, washed from 145 to 205, failing at 140+... no: at
    // 50 s of running, that is 10 s of the first cycle and 40 s of the second: at 185, until 210, out at 230.
    assert_eq!(diary.racks_out(), [125.0, 230.0]);
    assert_eq!(
        diary.spans("belt", State::Down, 230.0),
        [(90.0, 115.0), (185.0, 210.0)]
    );
}

/// Which of so many trays jam at this probability.
fn jams(demand: &Demand, share: f64) -> Vec<f64> {
    let jam = trouble(vec![Stands::Belt(0)], Strikes::Share(share), 0.0, vec![]);
    let mut tape = Tape::new();
    tape.draw(demand, 5, 3);
    let mut floor = scullery_engine::run::Floor::new();
    let (_, diary) = live_on(&line_with(jam), &tape, &mut floor);
    diary.times("times of trouble jam")
}

#[test]
fn whoever_jams_at_a_low_probability_jams_at_a_higher_one_too() {
    let spread: Vec<f64> = (0..90).map(|k| f64::from(k) * 10.0).collect();
    let demand = coming(&spread, &[1.0]);
    let (few, many) = (jams(&demand, 0.1), jams(&demand, 0.4));
    assert!(few.iter().all(|at| many.contains(at)), "{few:?} {many:?}");
    // Of 90 trays 9 and 36 on average; 4 standard deviations are 11 and 19.
    assert!((1..=20).contains(&few.len()), "{}", few.len());
    assert!((17..=55).contains(&many.len()), "{}", many.len());
}
