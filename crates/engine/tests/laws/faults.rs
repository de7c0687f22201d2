//! Kinds of fault seen in general-purpose queueing libraries, as small cases worked out by hand.

use scullery_engine::ended::How;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

#[test]
fn who_goes_home_while_everybody_is_busy_finishes_the_tray_in_hand() {
    let trays = coming(&[0.0, 10.0, 20.0, 30.0, 70.0, 75.0], &[1.0]);
    let both = |ends: [f64; 2]| Line {
        crew: vec![
            on_shift("one", &[SCRAP], 0.0, ends[0]),
            on_shift("two", &[SCRAP], 0.0, ends[1]),
        ],
        ends: Some(at(210.0)),
        ..scrapping_line(50.0)
    };
    // (i) the first goes home at 65
    let (_, diary) = live(&both([65.0, 1000.0]), &trays);
    assert_eq!(diary.spans("one", State::Working, 210.0), [(0.0, 65.0)]);
    assert_eq!(diary.spans("one", State::PastShift, 210.0), [(65.0, 100.0)]);
    assert_eq!(diary.spans("two", State::Working, 210.0), [(10.0, 210.0)]);
    assert_eq!(
        diary.times("trays cleared"),
        [50.0, 60.0, 100.0, 110.0, 160.0]
    );
    // (ii) the second goes home at 65
    let (_, diary) = live(&both([1000.0, 65.0]), &trays);
    assert_eq!(diary.spans("two", State::PastShift, 210.0), [(65.0, 110.0)]);
    assert_eq!(
        diary.times("trays cleared"),
        [50.0, 60.0, 100.0, 110.0, 150.0, 200.0]
    );
}

#[test]
fn a_shift_over_midnight_runs_on() {
    let min = 60.0;
    let h = 3600.0;
    let come = [
        21.5 * h,
        23.5 * h,
        24.5 * h,
        29.0 * h + 50.0 * min,
        30.0 * h + 5.0 * min,
    ];
    let line = Line {
        starts: at(21.0 * h),
        ends: Some(at(31.0 * h)),
        crew: vec![on_shift("night", &[SCRAP], 22.0 * h, 30.0 * h)],
        ..scrapping_line(20.0 * min)
    };
    let (ended, diary) = live(&line, &coming(&come, &[1.0]));
    let waits: Vec<f64> = diary
        .waits_at("table.table")
        .iter()
        .map(|w| w / min)
        .collect();
    assert_eq!(waits, [30.0, 0.0, 0.0, 0.0]);
    assert_eq!(
        diary.spans("night", State::PastShift, 31.0 * h),
        [(30.0 * h, 30.0 * h + 10.0 * min)]
    );
    assert_eq!(ended.balance.trays_inside, 1);
    assert_eq!(ended.how, How::StatedEnd);
}

#[test]
fn priority_counts_only_among_those_who_are_there() {
    // Two posts in preference order; high-class trays at the first.
    let mut line = scrapping_line(60.0);
    line.drop_offs.push(DropOff {
        name: "other window".into(),
        ..drop_off(TraysTo::Table(1))
    });
    line.tables.push(Table {
        name: "low".into(),
        room: None,
    });
    line.scrapping.push(Scrapping {
        name: "low".into(),
        from: vec![TraysFrom::Table(1)],
        ..scrapping(60.0, vec![PiecesTo::Leave])
    });
    line.crew = vec![worker("one", &[SCRAP, Post::Scrapping(1)])];
    line.ends = Some(at(1000.0));
    let mut demand = coming(&[0.0, 0.0, 0.0, 150.0, 160.0], &[1.0]);
    // By the clock: who comes from 150 to 155 s goes to the first window, the others to the second.
    let mut low = demand.kinds[0].clone();
    low.drop_off = 1;
    low.share = vec![(at(0.0), 1.0), (at(150.0), 0.0), (at(155.0), 1.0)];
    demand.kinds[0].share = vec![(at(0.0), 0.0), (at(150.0), 1.0), (at(155.0), 0.0)];
    demand.kinds.push(low);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.waits_at("table.low"), [0.0, 60.0, 120.0, 80.0]);
    assert_eq!(diary.waits_at("table.table"), [30.0]);
}

fn door_line(stops: Vec<Stop>) -> Line {
    Line {
        classes: vec![class("plate", 1)],
        rack_kinds: vec![rack_kind("peg", 9)],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Racks(0)])],
        racking: vec![racking(1, RacksTo::Lane(0))],
        lanes: vec![shelf(None)],
        machines: vec![Machine {
            stops,
            ..door(60.0)
        }],
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(400.0)),
        ..bare()
    }
}

#[test]
fn a_machine_stopped_in_mid_cycle_resumes_or_runs_again() {
    let stop = |then| {
        vec![Stop {
            from: at(30.0),
            to: at(75.0),
            then,
        }]
    };
    let racks = coming(&[0.0, 10.0], &[1.0]);
    let (_, resumed) = live(&door_line(stop(AfterStop::Resume)), &racks);
    assert_eq!(resumed.times("racks out machine"), [105.0, 165.0]);
    assert_eq!(resumed.spans("machine", State::Down, 400.0), [(30.0, 75.0)]);
    assert_eq!(
        resumed.spans("machine", State::Washing, 165.0),
        [(0.0, 30.0), (75.0, 165.0)]
    );
    let (_, again) = live(&door_line(stop(AfterStop::RunAgain)), &racks);
    assert_eq!(again.times("racks out machine"), [135.0, 195.0]);
    assert_eq!(
        again.spans("machine", State::Washing, 195.0),
        [(0.0, 30.0), (75.0, 195.0)]
    );
}

#[test]
fn a_rack_that_comes_while_the_idle_machine_is_down_starts_when_it_goes_on() {
    let stops = vec![Stop {
        from: at(200.0),
        to: at(250.0),
        then: AfterStop::Resume,
    }];
    let (_, diary) = live(&door_line(stops), &coming(&[220.0], &[1.0]));
    assert_eq!(diary.times("racks in machine"), [250.0]);
    assert_eq!(diary.times("racks out machine"), [310.0]);
}

#[test]
fn a_cycle_that_ends_as_the_stop_begins_is_done() {
    let stops = vec![Stop {
        from: at(60.0),
        to: at(100.0),
        then: AfterStop::RunAgain,
    }];
    let (_, diary) = live(&door_line(stops), &coming(&[0.0], &[1.0]));
    assert_eq!(diary.times("racks out machine"), [60.0]);
}

#[test]
fn blocked_is_not_busy() {
    // Racking 20 s a piece by one; room for one rack; machine 50 s; four trays at once.
    let line = Line {
        classes: vec![class("plate", 1)],
        rack_kinds: vec![rack_kind("peg", 9)],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 1,
            piles: vec![pile(0, None, 20.0)],
            ..racking(1, RacksTo::Lane(0))
        }],
        lanes: vec![shelf(Some(1))],
        machines: vec![door(50.0)],
        crew: vec![
            worker("scrapper", &[SCRAP]),
            worker("racker", &[Post::Racking(0)]),
        ],
        ends: Some(at(220.000_001)),
        ..bare()
    };
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    let closed: Vec<f64> = diary.racks.iter().map(|r| r.closed.s()).collect();
    assert_eq!(closed, [20.0, 40.0, 70.0, 120.0]);
    let washed: Vec<f64> = diary.racks.iter().map(|r| r.washed_from.s()).collect();
    assert_eq!(washed, [20.0, 70.0, 120.0, 170.0]);
    assert_eq!(
        diary.spans("racker", State::Working, 220.0),
        [(0.0, 60.0), (70.0, 90.0)]
    );
    let held: Vec<_> = diary
        .states
        .iter()
        .filter(|s| s.1 == "racker" && s.2 == State::HeldUp)
        .collect();
    assert_eq!(held.iter().map(|s| s.0).collect::<Vec<_>>(), [60.0]);
    assert!(
        held.iter().all(|s| s.3.as_deref() == Some("lane.lane")),
        "{held:?}"
    );
}

#[test]
fn the_last_rack_is_sent_or_told() {
    let come: Vec<f64> = (0..10).map(|k| f64::from(k) * 10.0).collect();
    let line = |limit, closes, ends| Line {
        classes: vec![class("plate", 4)],
        rack_kinds: vec![rack_kind("peg", 9)],
        drop_offs: vec![DropOff {
            closes,
            ..drop_off(TraysTo::Table(0))
        }],
        tables: vec![table(None)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Racks(0)])],
        racking: vec![Racking {
            limit,
            ..racking(1, RacksTo::Lane(0))
        }],
        lanes: vec![shelf(None)],
        machines: vec![door(60.0)],
        crew: vec![worker("one", &[SCRAP])],
        ends,
        ..bare()
    };
    let washed = |line: &Line| {
        let (ended, diary) = live(line, &coming(&come, &[1.0]));
        let trips: Vec<_> = diary
            .racks
            .iter()
            .map(|r| (r.washed_from.s(), r.out.s(), r.pieces))
            .collect();
        (ended, trips)
    };
    // (a) no limit, still open at the end
    let (ended, trips) = washed(&line(None, Closing::Never, Some(at(400.0))));
    assert_eq!(trips, [(30.0, 90.0, 4), (90.0, 150.0, 4)]);
    assert_eq!(
        (ended.balance.trays_out, ended.balance.trays_inside),
        (8, 2)
    );
    assert_eq!(
        ended.balance.unfinished,
        ["2 pieces on piles, in hands and in open racks at racking"]
    );
    // (b) the drop-off closes at 300
    let (_, trips) = washed(&line(None, Closing::At(at(300.0)), Some(at(400.0))));
    assert_eq!(
        trips,
        [(30.0, 90.0, 4), (90.0, 150.0, 4), (300.0, 360.0, 2)]
    );
    // (c) a rack goes when its first tray has waited 45
    let (_, trips) = washed(&line(Some(secs(45.0)), Closing::Never, Some(at(400.0))));
    assert_eq!(
        trips,
        [(30.0, 90.0, 4), (90.0, 150.0, 4), (150.0, 210.0, 2)]
    );
}

#[test]
fn the_edges_of_a_run_are_told_apart() {
    let come: Vec<f64> = (1..=24).map(|k| f64::from(k) * 60.0).collect();
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(1440.0)),
        ..scrapping_line(60.0)
    };
    let (ended, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(diary.times("diners at the drop-off").len(), 23);
    assert_eq!(diary.times("trays cleared").len(), 22);
    assert_eq!(ended.balance.trays_inside, 1);
    assert_eq!(ended.balance.unfinished, ["1 tray in work at scrapping"]);
    assert!(diary.waits_at("table.table").iter().all(|&w| w == 0.0));
    assert_eq!(diary.spans("one", State::Working, 1440.0), [(60.0, 1440.0)]);
}
