//! Room for nothing: ware goes from hand to hand.

use scullery_engine::dist::Dist;
use scullery_engine::ended::How;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

#[test]
fn nothing_is_handed_to_somebody_whose_full_rack_still_waits_for_the_lane() {
    // Scrapping 10 s, racking 10 s, washing 50 s, no room between any two; three trays at 0 s. The first piece is racked
    // 10-20 and washed 20-70. The second is racked 20-30; its full rack then stands until 70. The third is broken down
    // at 30, and nobody can begin to rack it before 70: so long it stays in the hands of who broke it down.
    let line = Line {
        classes: vec![class("tray", 1)],
        rack_kinds: vec![rack_kind("rack", 9)],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(10.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 1,
            piles: vec![pile(0, Some(0), 10.0)],
            ..racking(1, RacksTo::Lane(0))
        }],
        lanes: vec![shelf(Some(0))],
        machines: vec![door(50.0)],
        crew: vec![
            worker("scraps", &[Post::Scrapping(0)]),
            worker("racks", &[Post::Racking(0)]),
        ],
        ends: Some(at(200.0)),
        ..bare()
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0]));
    assert_eq!(
        diary.spans("scraps", State::HeldUp, 200.0),
        [(30.0, 70.0)],
        "the third piece waits in hand"
    );
    assert_eq!(
        diary.spans("racks", State::Working, 200.0),
        [(10.0, 30.0), (70.0, 80.0)]
    );
    assert_eq!(diary.times("racks out machine"), [70.0, 120.0, 170.0]);
}

/// A table with room for nothing, scrapping of so many seconds.
fn handing_over(tray_s: f64) -> Line {
    Line {
        tables: vec![table(Some(0))],
        ends: Some(at(200.0)),
        ..scrapping_line(tray_s)
    }
}

const STANDING: &str = "drop_off.window.standing";

#[test]
fn somebody_at_other_work_is_called_back_by_a_diner_with_a_tray() {
    // On shift 10 to 100, and other work of 20 s is due at 10: it comes first. The diner of 5 gives the tray at 30, the
    // one of 40 at once.
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 10.0, 100.0)],
        duties: vec![Duty {
            name: "pans".into(),
            when: DutyWhen::At(vec![at(10.0)]),
            work_s: Dist::Constant(20.0),
            by: vec![SCRAP],
            may_wait: None,
            clean_side: false,
        }],
        ends: None,
        ..handing_over(5.0)
    };
    let (ended, diary) = live(&line, &coming(&[5.0, 40.0], &[1.0]));
    assert_eq!((ended.how, ended.at), (How::AllClean, at(100.0)));
    assert_eq!(diary.waits_at(STANDING), [25.0, 0.0]);
    assert_eq!(
        diary.spans("one", State::Working, 100.0),
        [(10.0, 35.0), (40.0, 45.0)]
    );
}

#[test]
fn a_diner_with_a_tray_calls_a_worker_who_stands_elsewhere() {
    // The worker stands at the other post with nothing to do, 8 s away.
    let mut line = handing_over(5.0);
    line.tables.push(table(None));
    line.scrapping.push(Scrapping {
        name: "other".into(),
        from: vec![TraysFrom::Table(1)],
        ..scrapping(5.0, vec![PiecesTo::Leave])
    });
    line.crew = vec![worker("one", &[Post::Scrapping(1), SCRAP])];
    line.walk = secs(8.0);
    let (_, diary) = live(&line, &coming(&[10.0], &[1.0]));
    assert_eq!(diary.spans("one", State::Walking, 200.0), [(10.0, 18.0)]);
    assert_eq!(diary.waits_at(STANDING), [8.0]);
}

#[test]
fn where_one_can_stand_one_tray_is_handed_over_though_two_are_free() {
    let mut line = handing_over(10.0);
    line.drop_offs[0].positions_mm = vec![0, 0];
    line.scrapping[0].places = 1;
    line.crew = vec![worker("one", &[SCRAP]), worker("two", &[SCRAP])];
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert!(diary.levels_of("table.table").is_empty());
    assert_eq!(diary.waits_at(STANDING), [0.0, 10.0]);
    assert_eq!(diary.spans("one", State::Working, 200.0), [(0.0, 20.0)]);
}

#[test]
fn of_several_drop_offs_the_tray_held_out_longest_is_taken_first() {
    // In hand from 0 to 10; held out at the first window since 5, at the second since 3.
    let mut line = handing_over(10.0);
    line.drop_offs.push(DropOff {
        name: "second".into(),
        ..line.drop_offs[0].clone()
    });
    line.crew = vec![worker("one", &[SCRAP])];
    let mut demand = two_kinds(&[0.0, 5.0], &[1.0], &[3.0], &[1.0]);
    demand.kinds[1].drop_off = 1;
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.waits_at(STANDING), [0.0, 15.0]);
    assert_eq!(diary.waits_at("drop_off.second.standing"), [7.0]);
}

/// Scrapping 10 s, pieces handed over to be racked off the line, 10 s each.
fn handing_pieces(grab: u32) -> Line {
    Line {
        classes: vec![class("plate", 9)],
        rack_kinds: vec![rack_kind("peg", 9)],
        scrapping: vec![scrapping(10.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 9,
            grab,
            piles: vec![pile(0, Some(0), 10.0)],
            ..racking(1, RacksTo::Leave)
        }],
        ends: Some(at(200.0)),
        ..scrapping_line(10.0)
    }
}

#[test]
fn one_pair_of_hands_puts_down_what_it_holds_to_rack_it_itself() {
    let line = Line {
        crew: vec![worker("one", &[SCRAP, RACK])],
        ..handing_pieces(1)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [10.0, 30.0]);
    assert_eq!(diary.taken_from("pile.plate"), [10.0, 30.0]);
    assert_eq!(diary.spans("one", State::Working, 200.0), [(0.0, 40.0)]);
}

#[test]
fn nobody_puts_down_what_a_free_worker_takes_at_that_instant() {
    // Else the first would rack the own piece from 10 on, and the second tray would wait until 20.
    let line = Line {
        crew: vec![worker("first", &[SCRAP, RACK]), worker("racks", &[RACK])],
        ..handing_pieces(1)
    };
    let (_, diary) = live(&line, &coming(&[0.0; 2], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0]);
    assert_eq!(diary.spans("racks", State::Working, 200.0), [(10.0, 30.0)]);
}

#[test]
fn one_grab_takes_from_the_hands_of_several() {
    // Two hold a plate each from 10 on; the racker comes at 30 and grabs both: 20 s.
    let line = Line {
        crew: vec![
            worker("one", &[SCRAP]),
            worker("two", &[SCRAP]),
            on_shift("racks", &[RACK], 30.0, 1000.0),
        ],
        ..handing_pieces(2)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    for who in ["one", "two"] {
        assert_eq!(diary.spans(who, State::HeldUp, 200.0), [(10.0, 30.0)]);
    }
    assert_eq!(diary.spans("racks", State::Working, 200.0), [(30.0, 50.0)]);
    assert!(diary.levels_of("pile.plate").is_empty());
}

#[test]
fn no_rack_is_handed_to_a_conveyor_that_stands_with_a_rack_at_its_end() {
    // A rack every 20 s, 60 s in the tunnel, one place at the clean end, unloading 100 s. The first rack is out at 60
    // and unloaded to 160; the second, in at 20, stands at the end from 80. The third is full at 110: the mouth is
    // free, but the conveyor stands until 160.
    let line = Line {
        classes: vec![Class {
            unload_rack_s: 100.0,
            ..class("plate", 1)
        }],
        lanes: vec![shelf(Some(0))],
        machines: vec![Machine {
            to: Some(0),
            ..conveyor()
        }],
        clean_ends: vec![clean_end(Some(1))],
        crew: vec![worker("scrapper", &[SCRAP]), worker("unloader", &[UNLOAD])],
        ..wash_line(1)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 110.0], &[1.0]));
    assert!(diary.levels_of("lane.lane").is_empty());
    let washed_from: Vec<f64> = diary.racks.iter().map(|r| r.washed_from.s()).collect();
    assert_eq!(washed_from, [0.0, 20.0, 160.0]);
}

#[test]
fn a_machine_that_waits_is_refused_behind_a_lane_on_which_no_rack_can() {
    let fed = |machine| Line {
        lanes: vec![shelf(Some(0))],
        machines: vec![machine],
        ..wash_line(1)
    };
    assert!(fed(door(60.0)).faults().is_empty());
    let by_hand = Machine {
        loading: Some(Loading {
            rack_s: 5.0,
            variation: Dist::Constant(1.0),
            places: 1,
        }),
        ..door(60.0)
    };
    let holds = Machine {
        control: Control::HoldAndRun {
            racks: 1,
            longest_wait: None,
        },
        ..door(60.0)
    };
    for machine in [by_hand, holds] {
        assert_eq!(
            fed(machine).faults(),
            ["lane lane has room for nothing before a machine that waits"]
        );
    }
}
