//! Belts that run: spacing, transit, what happens at the end, speeds and stops by the clock.

use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// Eight trays 12 s apart; nobody takes any until 105 s, and then it takes 1 s each.
fn eight_trays(rule: EndRule) -> (Line, Vec<f64>) {
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 105.0, 1000.0)],
        ends: Some(at(1000.0)),
        ..belt_line(ten_metres(rule), 1.0)
    };
    (line, (0..8).map(|k| 12.0 * f64::from(k)).collect())
}

#[test]
fn trays_on_a_belt_that_closes_up_all_get_on_and_come_off_a_spacing_apart() {
    // All land as they come. At 105 seven rest at the end 0.5 m (2 s) apart: 105, 107, ... 117. The eighth, put down at
    // 84, is never held up: 84 + 40 = 124.
    let (line, come) = eight_trays(EndRule::ClosesUp);
    let (_, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(diary.times("trays dropped off"), come);
    assert_eq!(
        diary.taken_from("belt.belt"),
        [105.0, 107.0, 109.0, 111.0, 113.0, 115.0, 117.0, 124.0]
    );
    assert!(diary.spans("belt", State::Stopped, 1000.0).is_empty());
}

#[test]
fn trays_on_a_belt_that_stops_on_arrival_keep_their_gaps() {
    // Stopped from 40 with trays at 10, 7, 4 and 1 m. The fifth lands at 48 on the standing belt, a metre behind the
    // fourth; the sixth finds the fifth at the load point until 107 (0.5 m after 105), the others follow 2 s apart.
    // The gaps of 3 m, 1 m and 0.5 m come to the end: 105, +12, +12, +12, +4, +2, +2, +2.
    let (line, come) = eight_trays(EndRule::StopsOnArrival);
    let (_, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(
        diary.times("trays dropped off"),
        [0.0, 12.0, 24.0, 36.0, 48.0, 107.0, 109.0, 111.0]
    );
    assert_eq!(
        diary.taken_from("belt.belt"),
        [105.0, 117.0, 129.0, 141.0, 145.0, 147.0, 149.0, 151.0]
    );
    // The sixth stands at the load point from 60 on; the seventh and eighth wait behind: three from 84 to 107.
    assert_eq!(
        diary.waits_at("drop_off.window.standing"),
        [0.0, 0.0, 0.0, 0.0, 0.0, 47.0, 37.0, 27.0]
    );
    let queue = diary.levels_of("drop_off.window.queue");
    assert_eq!(queue, [(72.0, 1), (84.0, 2), (107.0, 1), (109.0, 0)]);
    assert_eq!(diary.spans("belt", State::Stopped, 1000.0), [(40.0, 105.0)]);
}

#[test]
fn a_tray_lands_after_the_put_down_seconds() {
    // 5 s to put down, then 40 s of belt.
    let mut line = belt_line(ten_metres(EndRule::ClosesUp), 1.0);
    line.drop_offs[0].put_down_s = scullery_engine::dist::Dist::Constant(5.0);
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(100.0));
    let (_, diary) = live(&line, &coming(&[0.0, 1.0], &[1.0]));
    // One position: the second diner steps up at 5.
    assert_eq!(diary.times("trays dropped off"), [5.0, 10.0]);
    assert_eq!(diary.waits_at("drop_off.window.queue"), [0.0, 4.0]);
    assert_eq!(diary.taken_from("belt.belt"), [45.0, 50.0]);
}

#[test]
fn a_closed_up_belt_of_whole_places_takes_the_next_tray_when_the_first_is_taken() {
    // 20 places exactly: the 21st diner lands when the first tray is taken, at 200.
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 200.0, 1000.0)],
        ends: Some(at(201.0)),
        ..belt_line(ten_metres(EndRule::ClosesUp), 500.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0; 22], &[1.0]));
    let mut landed: Vec<f64> = (0..20).map(|k| 2.0 * f64::from(k)).collect();
    landed.push(200.0);
    assert_eq!(diary.times("trays dropped off"), landed);
    assert_eq!(line.belts[0].most(), 20);
}

/// The straight belt: 6.1 m (20 ft) with a tray every 0.45 m, at 9 m/min (0.15 m/s).
///
/// Source: Foodservice Equipment Reports on tray accumulation: 13 to 14 trays, and without an attendant the belt fills
/// at the 14th or 15th diner.
fn straight(rule: EndRule) -> Belt {
    Belt {
        length_mm: 6_100,
        spacing_mm: 450,
        speed: vec![(at(0.0), 9_000)],
        ..ten_metres(rule)
    }
}

#[test]
fn a_straight_belt_of_20_ft_has_thirteen_whole_places_and_holds_fourteen() {
    let belt = straight(EndRule::StopsOnArrival);
    assert_eq!(belt.places(), 13);
    assert_eq!(belt.most(), 14);
}

#[test]
fn an_unattended_straight_belt_with_diners_back_to_back_is_full_at_the_fourteenth() {
    // A tray every 3 s (0.45 m): the 14th lands at 39 with the first at 5.85 m; at 40.667 the belt stands, with the
    // 14th at 0.25 m: the 15th diner finds no gap, whichever the rule.
    for rule in [EndRule::StopsOnArrival, EndRule::ClosesUp] {
        let line = Line {
            ends: Some(at(1000.0)),
            ..belt_line(straight(rule), 1.0)
        };
        let (ended, diary) = live(&line, &coming(&[0.0; 20], &[1.0]));
        let landed: Vec<f64> = (0..14).map(|k| 3.0 * f64::from(k)).collect();
        assert_eq!(diary.times("trays dropped off"), landed, "{rule:?}");
        assert_eq!(
            ended.balance.unfinished,
            [
                "6 trays in diners' hands at drop-off window",
                "14 trays at belt"
            ]
        );
    }
}

#[test]
fn an_unattended_belt_that_stops_on_arrival_is_full_at_the_sixth_diner_of_one_every_ten_seconds() {
    // Trays 1.5 m apart. The first arrives at 6.1 / 0.15 = 40.667 s, the fifth then stands at 0.1 m: the sixth diner,
    // at 50, finds no gap.
    let come: Vec<f64> = (0..8).map(|k| 10.0 * f64::from(k)).collect();
    let line = Line {
        ends: Some(at(1000.0)),
        ..belt_line(straight(EndRule::StopsOnArrival), 1.0)
    };
    let (_, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(
        diary.times("trays dropped off"),
        [0.0, 10.0, 20.0, 30.0, 40.0]
    );
    // To the microsecond, rounded up: the tray is there when the belt has gone the whole way.
    assert_eq!(
        diary.spans("belt", State::Stopped, 1000.0),
        [(40.666_667, 1000.0)]
    );
}

#[test]
fn a_tray_lands_on_a_closed_up_belt_when_the_one_in_front_has_gone_on_a_spacing() {
    // 14 x 0.45 m = 6.3 m: 0.2 m more than the belt. The last rests at 0.25 m; when the first is taken at 100 it has
    // to go on 0.2 m: 1.333 s at 0.15 m/s.
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 100.0, 1000.0)],
        ends: Some(at(105.0)),
        ..belt_line(straight(EndRule::ClosesUp), 500.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0; 15], &[1.0]));
    assert_eq!(diary.times("trays dropped off").last(), Some(&101.333_334));
}

#[test]
fn a_change_of_speed_in_transit_goes_on_from_where_the_tray_is() {
    // 5 m in 20 s at 15 m/min; the other 5 m at 7.5 m/min take 40 s.
    for rule in [EndRule::ClosesUp, EndRule::StopsOnArrival] {
        let belt = Belt {
            speed: vec![(at(0.0), 15_000), (at(20.0), 7_500)],
            ..ten_metres(rule)
        };
        let line = Line {
            crew: vec![worker("one", &[SCRAP])],
            ends: Some(at(100.0)),
            ..belt_line(belt, 1.0)
        };
        let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
        assert_eq!(diary.taken_from("belt.belt"), [60.0]);
    }
}

/// Stopped by the clock from `from` to `to` s.
fn stop(from: f64, to: f64) -> Stop {
    Stop {
        from: at(from),
        to: at(to),
        then: AfterStop::Resume,
    }
}

#[test]
fn a_belt_stopped_by_the_clock_holds_everything_where_it_is() {
    // 10 s of way, 15 s of stop, the other 30 s of way: 55. The second lies 1 m behind: 59.
    let belt = Belt {
        stops: vec![stop(10.0, 25.0)],
        ..ten_metres(EndRule::ClosesUp)
    };
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(100.0)),
        ..belt_line(belt, 1.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 4.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [55.0, 59.0]);
    assert_eq!(diary.spans("belt", State::Down, 100.0), [(10.0, 25.0)]);
}

#[test]
fn a_tray_is_put_down_in_a_gap_of_a_belt_that_is_down() {
    // Down from 1 s: the first tray lies at 0.25 m, too near. Down from 3 s: at 0.75 m, and there is a gap.
    for (from, landed) in [(1.0, [0.0, 51.0]), (3.0, [0.0, 10.0])] {
        let belt = Belt {
            stops: vec![stop(from, 50.0)],
            ..ten_metres(EndRule::ClosesUp)
        };
        let line = Line {
            ends: Some(at(100.0)),
            ..belt_line(belt, 1.0)
        };
        let (_, diary) = live(&line, &coming(&[0.0, 10.0], &[1.0]));
        assert_eq!(diary.times("trays dropped off"), landed);
    }
}

#[test]
fn a_tray_that_comes_to_the_end_as_the_belt_stops_is_there() {
    let belt = Belt {
        stops: vec![stop(40.0, 90.0)],
        ..ten_metres(EndRule::StopsOnArrival)
    };
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(100.0)),
        ..belt_line(belt, 1.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.belt"), [40.0]);
}

#[test]
fn a_belt_without_length_is_a_place_for_one_tray() {
    let belt = Belt {
        length_mm: 0,
        ..ten_metres(EndRule::StopsOnArrival)
    };
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(100.0)),
        ..belt_line(belt, 10.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0]));
    // One in hand, one on the belt, one held by the diner.
    assert_eq!(diary.times("trays dropped off"), [0.0, 0.0, 10.0]);
    assert_eq!(diary.taken_from("belt.belt"), [0.0, 10.0, 20.0]);
}
