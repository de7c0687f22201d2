//! Taking from a belt: at a point along it, within reach, on demand; several load points on one belt.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// A second scrapping post at 6 m (24 s from the start), which reaches `reach_mm` upstream.
fn with_a_post_at_6_m(rule: EndRule, reach_mm: u32, tray_s: f64) -> Line {
    let mut line = belt_line(ten_metres(rule), tray_s);
    line.scrapping.push(Scrapping {
        name: "along".into(),
        from: vec![TraysFrom::BeltAt {
            belt: 0,
            at_mm: 6_000,
            reach_mm,
        }],
        ..line.scrapping[0].clone()
    });
    line.ends = Some(at(200.0));
    line
}

const ALONG: Post = Post::Scrapping(1);

#[test]
fn a_free_worker_along_the_belt_takes_the_first_tray_that_passes() {
    // Trays pass 6 m at 24, 26 and 40. The first is taken, the second passes a worker who is busy until 34 and is
    // taken at the end at 42, the third is taken along the belt at 40.
    let line = Line {
        crew: vec![worker("along", &[ALONG]), worker("end", &[SCRAP])],
        ..with_a_post_at_6_m(EndRule::ClosesUp, 0, 10.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 2.0, 16.0], &[1.0]));
    assert_eq!(
        diary.spans("along", State::Working, 200.0),
        [(24.0, 34.0), (40.0, 50.0)]
    );
    assert_eq!(diary.spans("end", State::Working, 200.0), [(42.0, 52.0)]);
}

#[test]
fn a_worker_reaches_a_standing_tray_within_reach_upstream_and_no_farther() {
    // The belt stands from 40 with the first tray at its end. The second then lies (40 − t) x 0.25 m on:
    // put down at 17.2 s at 5.7 m, at 18.4 s at 5.4 m.
    for (put_s, taken) in [(17.2, vec![50.0]), (18.4, vec![])] {
        let line = Line {
            crew: vec![on_shift("along", &[ALONG], 50.0, 1000.0)],
            ..with_a_post_at_6_m(EndRule::StopsOnArrival, 500, 10.0)
        };
        let (_, diary) = live(&line, &coming(&[0.0, put_s], &[1.0]));
        assert_eq!(diary.taken_from("belt.belt"), taken);
    }
}

#[test]
fn a_tray_that_passed_before_the_worker_came_is_gone() {
    let line = Line {
        crew: vec![on_shift("along", &[ALONG], 25.0, 1000.0)],
        ..with_a_post_at_6_m(EndRule::ClosesUp, 500, 10.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert!(diary.taken_from("belt.belt").is_empty());
}

#[test]
fn a_tray_put_down_within_reach_on_a_standing_belt_is_taken_at_once() {
    // Load point at 5.7 m. The first tray passes 6 m before the worker comes on at 5 and stands at the end from 17.2;
    // the second is put down at 30 under the worker's hand.
    let mut line = with_a_post_at_6_m(EndRule::StopsOnArrival, 500, 10.0);
    line.drop_offs[0].positions_mm = vec![5_700];
    line.crew = vec![on_shift("along", &[ALONG], 5.0, 1000.0)];
    let (_, diary) = live(&line, &coming(&[0.0, 30.0], &[1.0]));
    assert_eq!(diary.spans("along", State::Working, 200.0), [(30.0, 40.0)]);
}

#[test]
fn a_belt_that_stops_with_a_tray_within_reach_gives_it_to_the_waiting_worker() {
    // Down at 23 s with the tray at 5.75 m.
    let mut line = with_a_post_at_6_m(EndRule::ClosesUp, 500, 10.0);
    line.belts[0].stops = vec![Stop {
        from: at(23.0),
        to: at(100.0),
        then: AfterStop::Resume,
    }];
    line.crew = vec![worker("along", &[ALONG])];
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [23.0]);
}

#[test]
fn a_tray_is_within_reach_as_soon_as_it_comes_to_rest() {
    // The post stands at 9.7 m and reaches 0.5 m. The first tray passes at 38.8 before the worker comes on at 39 and
    // rests at the end from 40. The second, put down at 10, rests at 9.5 m at 48; the third, put down at 30, moves up
    // into its place and is there when the worker is free again at 148.
    let mut line = with_a_post_at_6_m(EndRule::ClosesUp, 500, 100.0);
    line.scrapping[1].from = vec![TraysFrom::BeltAt {
        belt: 0,
        at_mm: 9_700,
        reach_mm: 500,
    }];
    line.crew = vec![on_shift("along", &[ALONG], 39.0, 1000.0)];
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 30.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [48.0, 148.0]);
}

#[test]
fn a_tray_taken_along_the_belt_lets_those_that_rested_behind_it_close_up() {
    // Three rest at 10, 9.5 and 9 m. The second is taken by reach at 60 (post at 9.6 m); the third moves up to 9.5 m
    // and is within reach again at 62, but the worker is busy until 65.
    let mut line = with_a_post_at_6_m(EndRule::ClosesUp, 300, 5.0);
    line.scrapping[1].from = vec![TraysFrom::BeltAt {
        belt: 0,
        at_mm: 9_600,
        reach_mm: 300,
    }];
    line.crew = vec![on_shift("along", &[ALONG], 60.0, 1000.0)];
    let (_, diary) = live(&line, &coming(&[0.0, 4.0, 8.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [60.0, 65.0]);
}

fn on_demand(section_mm: u32, tray_s: f64) -> Line {
    Line {
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(200.0)),
        ..belt_line(ten_metres(EndRule::AdvancesOnDemand { section_mm }), tray_s)
    }
}

#[test]
fn a_belt_on_demand_moves_while_a_worker_at_its_end_is_free_and_stands_while_they_work() {
    // Five sections of 2 m, 8 s each: the first tray is at the end at 40. The second was put down 1 m behind it and
    // stands at 9 m while the worker is busy until 60: at the end at 64.
    let (_, diary) = live(&on_demand(2_000, 20.0), &coming(&[0.0, 4.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [40.0, 64.0]);
    assert_eq!(
        diary.spans("belt", State::Moving, 200.0),
        [(0.0, 40.0), (60.0, 64.0)]
    );
}

#[test]
fn a_belt_on_demand_does_not_finish_its_section_once_a_tray_has_come_to_the_end() {
    // Sections of 3 m: the first tray comes to the end 1 m into the fourth. The other 2 m are not owed: the second
    // tray waits at 9 m until the worker is free at 60.
    let (_, diary) = live(&on_demand(3_000, 20.0), &coming(&[0.0, 4.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [40.0, 64.0]);
}

#[test]
fn a_belt_on_demand_finishes_the_section_it_has_begun_when_the_worker_leaves() {
    // The worker goes home at 3 s: the first section is done at 8, with the tray at 2 m, and no other begins before
    // the next worker comes at 100: 8 m are 32 s.
    let mut line = on_demand(2_000, 20.0);
    line.crew = vec![
        on_shift("one", &[SCRAP], 0.0, 3.0),
        on_shift("two", &[SCRAP], 100.0, 1000.0),
    ];
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(
        diary.spans("belt", State::Moving, 200.0),
        [(0.0, 8.0), (100.0, 132.0)]
    );
    assert_eq!(diary.taken_from("belt.belt"), [132.0]);
}

#[test]
fn a_belt_on_demand_that_is_down_moves_when_it_goes_on() {
    // Down from 10 (the tray at 2.5 m) to 50: 30 s more.
    let mut line = on_demand(2_000, 20.0);
    line.belts[0].stops = vec![Stop {
        from: at(10.0),
        to: at(50.0),
        then: AfterStop::Resume,
    }];
    line.crew.push(worker("two", &[SCRAP]));
    let (_, diary) = live(&line, &coming(&[0.0, 20.0], &[1.0]));
    // The second was put down at 20, 2.5 m behind the first.
    assert_eq!(diary.taken_from("belt.belt"), [80.0, 90.0]);
}

#[test]
fn a_belt_on_demand_calls_a_worker_who_stands_elsewhere() {
    // Nobody stands at the end; the worker stands at the other post with nothing to do, 8 s away. The tray is put
    // down at 10: there at 18, and 40 s of belt.
    let mut line = on_demand(2_000, 20.0);
    line.tables = vec![table(None)];
    line.scrapping.push(Scrapping {
        name: "other".into(),
        ..scrapping(5.0, vec![PiecesTo::Leave])
    });
    line.crew = vec![worker("one", &[Post::Scrapping(1), SCRAP])];
    line.walk = secs(8.0);
    let (_, diary) = live(&line, &coming(&[10.0], &[1.0]));
    assert_eq!(diary.spans("one", State::Walking, 200.0), [(10.0, 18.0)]);
    assert_eq!(diary.taken_from("belt.belt"), [58.0]);
}

#[test]
fn a_worker_held_up_at_the_end_does_not_call_for_the_next_tray() {
    // The first tray's plates find no empty rack from 40 on: the second tray stays where it is.
    let mut line = on_demand(2_000, 0.0);
    line.classes = vec![class("plate", 9)];
    line.rack_kinds = vec![rack_kind("peg", 0)];
    line.racking = vec![racking(1, RacksTo::Leave)];
    line.scrapping[0].routes = vec![PiecesTo::Racks(0)];
    line.drop_offs[0].closes = Closing::Never;
    let (_, diary) = live(&line, &coming(&[0.0, 4.0, 150.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [40.0]);
    assert_eq!(diary.spans("belt", State::Moving, 149.0), [(0.0, 40.0)]);
}

#[test]
fn positions_are_asked_from_the_downstream_end() {
    // Both come at 0 and put down for 5 s: the first at 3 m (28 s to the end), the second at 0 m (40 s).
    let mut line = belt_line(ten_metres(EndRule::ClosesUp), 0.0);
    line.drop_offs[0].positions_mm = vec![0, 3_000];
    line.drop_offs[0].put_down_s = Dist::Constant(5.0);
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(100.0));
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [5.0, 5.0]);
    assert_eq!(diary.taken_from("belt.belt"), [33.0, 45.0]);
}

#[test]
fn on_a_dense_belt_the_upstream_position_has_the_flow_and_the_downstream_one_waits_for_a_gap() {
    // Spacing 0.75 m is 3 s. Upstream a tray every 3 s from 0 to 30; they pass 3 m from 12 to 42 without a gap. Who
    // comes to the load point at 3 m at 20.5 lands when the last is 0.75 m past: 45.
    let belt = Belt {
        spacing_mm: 750,
        ..ten_metres(EndRule::ClosesUp)
    };
    let mut line = belt_line(belt, 0.0);
    line.drop_offs.push(DropOff {
        name: "downstream".into(),
        positions_mm: vec![3_000],
        ..line.drop_offs[0].clone()
    });
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(100.0));
    let flow: Vec<f64> = (0..11).map(|k| 3.0 * f64::from(k)).collect();
    let mut demand = two_kinds(&flow, &[1.0], &[20.5], &[1.0]);
    demand.kinds[1].drop_off = 1;
    let (_, diary) = live(&line, &demand);
    assert_eq!(
        diary.waits_at("drop_off.window.standing"),
        [0.0; 11],
        "the flow is never held up"
    );
    assert_eq!(diary.waits_at("drop_off.downstream.standing"), [24.5]);
    assert_eq!(diary.taken_from("belt.belt").last(), Some(&(45.0 + 28.0)));
}
