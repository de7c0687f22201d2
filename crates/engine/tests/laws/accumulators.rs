//! Tray accumulators: the loop waits for nobody, and what is not taken goes round.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// 6 m of loop at 6 m/min (0.1 m/s, a turn in 60 s); four carriers, one every 15 s; within reach for 0.1 m on each
/// side, so for 2 s. At 0 carrier 0 stands at the mark and the others 1.5, 3 and 4.5 m past it.
fn six_metres(tiers: u32) -> Accumulator {
    Accumulator {
        name: "loop".into(),
        carriers: 4,
        tiers,
        loop_mm: 6_000,
        reach_mm: 100,
        speed: vec![(at(0.0), 6_000)],
        stops: vec![],
    }
}

/// A drop-off at the mark; scrapping of so many seconds half a loop on. Nobody is on the crew.
fn half_way_round(tiers: u32, tray_s: f64) -> Line {
    Line {
        drop_offs: vec![drop_off(TraysTo::Accumulator(0))],
        tables: vec![],
        accumulators: vec![six_metres(tiers)],
        scrapping: vec![Scrapping {
            from: vec![TraysFrom::Accumulator {
                accumulator: 0,
                reach: Reach {
                    at_mm: 3_000,
                    each_side_mm: 100,
                },
            }],
            ..scrapping(tray_s, vec![PiecesTo::Leave])
        }],
        ends: Some(at(1_000.0)),
        ..scrapping_line(tray_s)
    }
}

#[test]
fn a_tray_put_on_a_carrier_is_taken_when_the_carrier_comes_within_reach() {
    // Put on carrier 0 at the mark; 2.9 m on, at 29, it comes within reach.
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ..half_way_round(1, 5.0)
    };
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [0.0]);
    assert_eq!(diary.taken_from("accumulator.loop"), [29.0]);
    assert_eq!(diary.times("trays cleared"), [34.0]);
    assert_eq!(ended.balance.trays_out, 1);
}

#[test]
fn the_lowest_free_tier_is_filled_first_and_the_top_full_tier_emptied_first() {
    // Both go on carrier 0, within reach until 1.0. It is within reach of the post from 29 to 31: work of 1 s takes the
    // later one from the top at 29, and the earlier one at 30.
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ..half_way_round(2, 1.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.5], &[1.0]));
    assert_eq!(diary.taken_from("accumulator.loop"), [29.0, 30.0]);
    assert_eq!(diary.waits_at("accumulator.loop"), [28.5, 30.0]);
}

#[test]
fn who_finds_the_carrier_full_waits_for_the_next_and_what_is_not_taken_goes_round() {
    // Two on carrier 0; the third diner waits for carrier 3, 1.5 m behind, within reach from 14. At 29 one is taken, for
    // 5 s, and carrier 0 is gone by 31. Carrier 3 is half a loop on at 44; carrier 0 comes round at 89.
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ..half_way_round(2, 5.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [0.0, 0.0, 14.0]);
    assert_eq!(diary.waits_at("drop_off.window.standing"), [0.0, 0.0, 14.0]);
    assert_eq!(diary.taken_from("accumulator.loop"), [29.0, 44.0, 89.0]);
    assert_eq!(diary.times("trays cleared"), [34.0, 49.0, 94.0]);
}

#[test]
fn full_carriers_passing_make_the_next_diner_wait_until_one_is_emptied() {
    // One tier: carriers 0, 3, 2 and 1 pass the mark at 0, 14, 29 and 44. The fifth diner meets only full ones. The post is
    // manned from 100 on: carriers 3, 2 and 1 come by 90 s after they were filled, at 104, 119 and 134. Carrier 3, emptied
    // at 104, is back at the mark 30 s on.
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 100.0, 900.0)],
        ends: Some(at(134.5)),
        ..half_way_round(1, 2.0)
    };
    let (ended, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(diary.taken_from("accumulator.loop"), [104.0, 119.0, 134.0]);
    assert_eq!(
        diary.times("trays dropped off"),
        [0.0, 14.0, 29.0, 44.0, 134.0]
    );
    assert_eq!(
        ended.balance.unfinished,
        ["2 trays at accumulator loop", "1 tray in work at scrapping"]
    );
}

#[test]
fn a_stopped_loop_brings_nothing_but_what_is_within_reach_can_be_taken() {
    // Standing from 20 to 30: carrier 0 is there 10 s later, at 39. Standing from 40 to 50, it stays within reach: the
    // second tray, begun when the first is done at 47, is still there.
    let mut line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ..half_way_round(2, 8.0)
    };
    let stop = |from, to| Stop {
        from: at(from),
        to: at(to),
        then: AfterStop::Resume,
    };
    line.accumulators[0].stops = vec![stop(20.0, 30.0), stop(40.0, 50.0)];
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(diary.taken_from("accumulator.loop"), [39.0, 47.0]);
    assert_eq!(
        diary.spans("loop", State::Down, 1_000.0),
        [(20.0, 30.0), (40.0, 50.0)]
    );
}

#[test]
fn a_change_of_speed_goes_on_from_where_the_carriers_are() {
    // 2 m by 20, then half the speed: 0.9 m more in 18 s.
    let mut line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ..half_way_round(1, 5.0)
    };
    line.accumulators[0].speed.push((at(20.0), 3_000));
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.taken_from("accumulator.loop"), [38.0]);
}

#[test]
fn a_worker_elsewhere_is_called_by_what_circles() {
    // The hand at the second post walks 10 s to the first when two trays circle, at 7, and meets them at 29 and 30.
    let mut line = half_way_round(2, 1.0);
    line.scrapping.push(Scrapping {
        from: vec![TraysFrom::Table(0)],
        name: "other".into(),
        ..scrapping(1.0, vec![PiecesTo::Leave])
    });
    line.tables = vec![table(None)];
    line.walk = secs(10.0);
    let mut one = worker("one", &[Post::Scrapping(1), SCRAP]);
    one.list[1].step_in = 2;
    line.crew = vec![one];
    let (_, diary) = live(&line, &coming(&[0.0, 0.5], &[1.0]));
    assert_eq!(diary.spans("one", State::Walking, 1_000.0), [(0.5, 10.5)]);
    assert_eq!(diary.taken_from("accumulator.loop"), [29.0, 30.0]);
}

#[test]
fn it_holds_carriers_times_tiers() {
    assert_eq!(six_metres(5).places(), 20);
    let line = Line {
        ends: Some(at(300.0)),
        ..half_way_round(5, 1.0)
    };
    let (ended, _) = live(&line, &coming(&[0.0; 30], &[1.0]));
    assert_eq!(
        ended.balance.unfinished,
        [
            "10 trays in diners' hands at drop-off window",
            "20 trays at accumulator loop"
        ]
    );
}

#[test]
fn a_jam_stops_the_loop_until_it_is_cleared() {
    // The tray put on at 0 jams the loop for 20 s; it comes within reach 29 s of running later.
    let jam = Trouble {
        name: "jam".into(),
        stops: vec![Stands::Accumulator(0)],
        strikes: Strikes::Share(1.0),
        clearing_s: Dist::Constant(20.0),
        by: vec![],
        then: AfterStop::Resume,
    };
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        troubles: vec![jam],
        ..half_way_round(1, 5.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.spans("loop", State::Down, 1_000.0), [(0.0, 20.0)]);
    assert_eq!(diary.taken_from("accumulator.loop"), [49.0]);
}

#[test]
fn two_who_break_down_together_begin_when_a_tray_comes_by() {
    // Both stand there from the start; neither holds the other up before 29.
    let line = Line {
        crew: vec![worker("one", &[SCRAP]), worker("two", &[SCRAP])],
        for_two: vec![SCRAP],
        ..half_way_round(1, 5.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.taken_from("accumulator.loop"), [29.0]);
    for who in ["one", "two"] {
        assert_eq!(diary.spans(who, State::Working, 1_000.0), [(29.0, 34.0)]);
        assert_eq!(diary.spans(who, State::WaitingForHelp, 1_000.0), []);
    }
}

#[test]
fn a_worker_whose_hands_are_full_lets_trays_pass_and_no_time_is_lost_over_them() {
    // The only scrapper is on shift from 100: the tray put on at 0 passes at 29 and 89 and is taken at 149.
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 100.0, 1_000.0)],
        ..half_way_round(1, 5.0)
    };
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.taken_from("accumulator.loop"), [149.0]);
    // Due: the diner comes and has put down, the shift begins, the tray comes by, the work ends, the shift ends.
    assert!(ended.events <= 8, "{} events", ended.events);
}
