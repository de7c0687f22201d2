//! What is already there when the run begins: each thing where it was left, counted, and going on from there.

use scullery_engine::demand::*;
use scullery_engine::dist::Dist;
use scullery_engine::ended::Fault;
use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::State;

use crate::hand::*;

/// Nobody is served; these loads alone.
fn only(loads: Vec<Load>, pieces: &[f64]) -> Demand {
    Demand {
        loads,
        ..coming(&[], pieces)
    }
}

fn load(when: LoadWhen) -> Load {
    Load {
        name: "left over".into(),
        kind: 0,
        when,
        covers: false,
        taken: None,
    }
}

fn lying(at: There, trays: u32) -> Load {
    load(LoadWhen::There { at, trays })
}

fn refused(line: &Line, demand: &Demand) -> String {
    let mut tape = Tape::new();
    tape.draw(demand, 1, 0);
    match run(line, &tape, &mut Floor::new(), &mut Diary::default()) {
        Err(Fault::Line(what)) => what,
        other => panic!("{other:?}"),
    }
}

/// A belt of 3 m that runs 1 m in 10 s, places 0.5 m; one person, 5 s a tray.
fn three_metres(rule: EndRule) -> Line {
    Line {
        belts: vec![Belt {
            name: "belt".into(),
            length_mm: 3000,
            spacing_mm: 500,
            speed: vec![(at(0.0), 6000)],
            rule,
            stops: vec![],
        }],
        drop_offs: vec![drop_off(TraysTo::Belt(0))],
        tables: vec![],
        scrapping: vec![Scrapping {
            from: vec![TraysFrom::BeltEnd(0)],
            ..scrapping(5.0, vec![PiecesTo::Leave])
        }],
        classes: vec![loose("plate")],
        crew: vec![worker("one", &[SCRAP])],
        ..scrapping_line(5.0)
    }
}

#[test]
fn trays_on_a_belt_lie_against_its_end_a_spacing_apart() {
    // The first is at the end: 0 to 5. The belt ran on at 0: the next is there after 0.5 m, 5 s; so too the third.
    let demand = only(vec![lying(There::Belt(0), 3)], &[1.0]);
    for rule in [EndRule::StopsOnArrival, EndRule::ClosesUp] {
        let (ended, diary) = live(&three_metres(rule), &demand);
        assert_eq!(diary.times("trays cleared"), [5.0, 10.0, 15.0]);
        assert_eq!(diary.times("trays dropped off"), [0.0, 0.0, 0.0]);
        assert_eq!(ended.balance.trays_in, 3);
        assert_eq!(ended.balance.pieces_out, 3);
    }
    // With nobody until 20 they stand.
    let mut late = three_metres(EndRule::StopsOnArrival);
    late.crew = vec![on_shift("one", &[SCRAP], 20.0, 1000.0)];
    let (_, diary) = live(&late, &demand);
    assert_eq!(diary.times("trays cleared"), [25.0, 30.0, 35.0]);
    assert_eq!(diary.spans("belt", State::Stopped, 20.0)[0], (0.0, 20.0));
}

#[test]
fn trays_on_a_table_are_the_backlog_and_no_more_fit_than_there_is_room_for() {
    let mut line = scrapping_line(5.0);
    line.tables = vec![table(Some(4))];
    line.crew = vec![worker("one", &[SCRAP])];
    let (_, diary) = live(&line, &only(vec![lying(There::Table(0), 4)], &[1.0]));
    assert_eq!(diary.levels_of("backlog")[0], (0.0, 4));
    assert_eq!(diary.times("trays cleared"), [5.0, 10.0, 15.0, 20.0]);
    let what = refused(&line, &only(vec![lying(There::Table(0), 5)], &[1.0]));
    assert_eq!(what, "more trays are already on table than it has room for");
    let belt = three_metres(EndRule::ClosesUp);
    let what = refused(&belt, &only(vec![lying(There::Belt(0), 8)], &[1.0]));
    assert_eq!(what, "more trays are already on belt than it has room for");
}

#[test]
fn those_who_eat_have_their_ware_and_stay_as_long_as_they_still_would() {
    // Ten minutes each; six sat down at 100 and leave at 700. The run begins at 400, with 14 of 20 plates left.
    let mut line = scrapping_line(5.0);
    line.starts = at(400.0);
    line.crew = vec![worker("one", &[SCRAP])];
    line.classes[0].par = Some(20);
    let eating = load(LoadWhen::Eating {
        since: at(100.0),
        at: at(400.0),
        people: 6,
    });
    let mut demand = only(vec![eating], &[1.0]);
    demand.eating_min = vec![(at(0.0), Dist::Constant(10.0))];
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.levels_of("seated"), [(400.0, 6), (700.0, 0)]);
    assert_eq!(diary.times("diners at the drop-off"), [700.0; 6]);
    assert_eq!(diary.levels_of("stock.tray")[0], (400.0, 14));
    assert!(diary.times("covers served").is_empty());
    demand.loads[0].covers = true;
    let (_, counted) = live(&line, &demand);
    assert_eq!(counted.times("covers served").len(), 6);
}

#[test]
fn eating_times_drawn_are_those_that_last_beyond_the_start() {
    // Exponential with mean 10 min, seated 30 min before: what is left has mean 10 min again (no memory).
    let eating = load(LoadWhen::Eating {
        since: at(0.0),
        at: at(1800.0),
        people: 4000,
    });
    let mut demand = only(vec![eating], &[1.0]);
    demand.eating_min = vec![(at(0.0), Dist::Exponential { mean: 10.0 })];
    let mut tape = Tape::new();
    tape.draw(&demand, 1, 0);
    let left = tape.diners().iter().map(|d| d.comes.s() - 1800.0);
    assert!(left.clone().all(|left| left > 0.0));
    let mean = left.sum::<f64>() / 4000.0;
    // Four standard errors of the mean of 4000: 600 / sqrt 4000 = 9.5 s each.
    assert!((mean - 600.0).abs() < 38.0, "{mean}");
}

#[test]
fn those_who_eat_hold_their_seats() {
    // Two seats, both taken by people who leave at 700: who is served at 500 waits 200 s.
    let eating = load(LoadWhen::Eating {
        since: at(100.0),
        at: at(400.0),
        people: 2,
    });
    let mut demand = coming(&[500.0], &[1.0]);
    demand.kinds[0].sits = true;
    demand.loads = vec![eating];
    demand.eating_min = vec![(at(0.0), Dist::Constant(10.0))];
    demand.seats = Some(2);
    let mut tape = Tape::new();
    tape.draw(&demand, 1, 0);
    let served = tape.diners().iter().find(|d| d.there == There::Comes);
    let served = served.expect("one is served");
    assert_eq!((served.seat_wait_s, served.comes), (200, at(1300.0)));
}

/// Racks of ten plates on a shelf, a door machine of 60 s, and one who unloads at 2 s a plate.
fn washing() -> Line {
    let mut line = bare();
    line.classes = vec![Class {
        par: Some(100),
        unload_s: 2.0,
        ..class("plate", 10)
    }];
    line.rack_kinds = vec![rack_kind("peg", 5)];
    line.drop_offs = vec![drop_off(TraysTo::Table(0))];
    line.tables = vec![table(None)];
    line.scrapping = vec![scrapping(1.0, vec![PiecesTo::Racks(0)])];
    line.racking = vec![racking(2, RacksTo::Lane(0))];
    line.lanes = vec![shelf(Some(3))];
    line.machines = vec![Machine {
        to: Some(0),
        ..door(60.0)
    }];
    line.clean_ends = vec![clean_end(Some(4))];
    line.crew = vec![
        worker("one", &[SCRAP]),
        worker("two", &[Post::Unloading(0)]),
    ];
    line
}

fn plates(pieces: u16, at: RackAt) -> RackThere {
    RackThere {
        class: ClassId(0),
        pieces,
        at,
    }
}

#[test]
fn racks_stand_where_they_were_left_and_their_ware_is_not_at_the_servery() {
    // One at the clean end: unloaded 0 to 20. One in the machine, whose cycle begins: out at 60, unloaded 60 to 80. One of 4
    // on the lane: in at 60, out at 120, unloaded to 128. One part-filled with 3, which nothing can add to: on the lane at 0,
    // in at 120, out at 180, unloaded to 186.
    let mut line = washing();
    line.already.racks = vec![
        plates(10, RackAt::CleanEnd(0)),
        plates(10, RackAt::Machine(0)),
        plates(4, RackAt::Lane(0)),
        plates(3, RackAt::Racking(0)),
    ];
    let (ended, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 73), (20.0, 83), (80.0, 93), (128.0, 97), (186.0, 100)]
    );
    assert_eq!(
        diary.trips(),
        [(0.0, 60.0, 10), (60.0, 120.0, 4), (120.0, 180.0, 3)]
    );
    assert_eq!(ended.balance.pieces_in, 27);
    assert_eq!(ended.balance.pieces_out, 27);
    // No tray came with them.
    assert_eq!((ended.balance.trays_in, ended.balance.trays_out), (0, 0));
    assert!(diary.times("trays wholly clean").is_empty());
}

#[test]
fn a_part_filled_rack_takes_more_and_its_time_begins_with_the_run() {
    // Three in it; two trays of four cleared at 1 and 2 s fill it with the seventh and the tenth, one is left over and goes
    // into a rack of its own, which leaves when nothing more can come.
    let mut line = washing();
    line.already.racks = vec![plates(3, RackAt::Racking(0))];
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[4.0]));
    let pieces: Vec<u16> = diary.trips().iter().map(|trip| trip.2).collect();
    assert_eq!(pieces, [10, 1]);
    // Left alone while more could come, it goes when its time is up, counted from the start.
    line.racking[0].limit = Some(secs(50.0));
    let (_, diary) = live(&line, &coming(&[200.0], &[1.0]));
    assert_eq!(diary.trips()[0], (50.0, 110.0, 3));
}

#[test]
fn racks_in_a_tunnel_are_a_pitch_apart_and_come_out_one_after_the_other() {
    // 2 m of tunnel at 1 m in 10 s, pitch 0.5 m: three inside at 1.0, 0.5 and 0 m are out at 10, 15 and 20 s.
    let mut line = washing();
    line.machines[0].kind = MachineKind::Conveyor {
        pitch_mm: 500,
        tunnel_mm: 2000,
        rinse_mm: (1500, 2000),
        speed_mm_min: 6000,
    };
    line.already.racks = vec![plates(10, RackAt::Machine(0)); 3];
    let (ended, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(diary.racks_out(), [10.0, 15.0, 20.0]);
    // The first is under the rinse from 5 s on, the last leaves it at 20 s, and never is it without one.
    assert_eq!(ended.rinse_us, [15_000_000]);
    line.already.racks = vec![plates(10, RackAt::Machine(0)); 6];
    line.rack_kinds[0].count = 9;
    assert_eq!(
        refused(&line, &coming(&[], &[1.0])),
        "more racks are already at machine than it has room for"
    );
}

#[test]
fn racks_on_rollers_stand_against_the_end() {
    let mut line = washing();
    line.lanes = vec![Lane {
        name: "lane".into(),
        kind: LaneKind::Rollers {
            length_mm: 1500,
            rack_mm: 500,
            speed: vec![(at(0.0), 6000)],
        },
        stops: vec![],
        hands_to: None,
        order: Order::default(),
    }];
    line.already.racks = vec![plates(10, RackAt::Lane(0)); 3];
    let (_, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(diary.racks_out(), [60.0, 120.0, 180.0]);
    assert_eq!(diary.levels_of("lane.lane")[0], (0.0, 2));
}

#[test]
fn a_machine_that_is_hot_need_not_heat_up() {
    let mut line = washing();
    line.machines[0].heat_up = secs(300.0);
    line.already.racks = vec![plates(10, RackAt::Lane(0))];
    let (_, cold) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(cold.racks_out(), [360.0]);
    line.already.hot = vec![0];
    let (_, hot) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(hot.racks_out(), [60.0]);
    // Nothing can be inside one that is cold.
    line.already.hot.clear();
    line.already.racks = vec![plates(10, RackAt::Machine(0))];
    assert!(refused(&line, &coming(&[], &[1.0])).contains("machine"));
}

#[test]
fn ware_on_a_pile_waits_as_if_it_had_just_been_put_there() {
    // Eight plates held back until 100, racked by one person at 1 s a piece in grabs of four: the rack is sent at 108.
    let mut line = washing();
    line.racking[0].places = 1;
    line.racking[0].grab = 4;
    line.racking[0].piles = vec![Pile {
        held_back: vec![Release::From(at(100.0))],
        ..pile(0, Some(20), 1.0)
    }];
    line.scrapping[0].routes = vec![PiecesTo::Pile(0)];
    line.crew.push(worker("three", &[Post::Racking(0)]));
    line.already.piles = vec![PileThere {
        racking: 0,
        class: ClassId(0),
        pieces: 8,
    }];
    let (_, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(diary.levels_of("stock.plate")[0], (0.0, 92));
    assert_eq!(diary.trips(), [(108.0, 168.0, 8)]);
    line.already.piles[0].pieces = 21;
    assert_eq!(
        refused(&line, &coming(&[], &[1.0])),
        "21 plate are already there and find no room on a pile of racking racking"
    );
}

#[test]
fn less_clean_stock_means_the_rest_stays_away() {
    // 100 plates are owned, 10 in a rack on the line, 2 clean: the third cover at once finds none.
    let mut line = washing();
    line.already.racks = vec![plates(10, RackAt::Lane(0))];
    line.already.clean = vec![Some(2)];
    let (_, diary) = live(&line, &coming(&[1.0, 1.0, 1.0], &[1.0]));
    assert_eq!(diary.levels_of("stock.plate")[0], (0.0, 2));
    assert_eq!(diary.times("run-outs plate"), [1.0]);
    line.already.clean = vec![Some(95)];
    assert_eq!(
        refused(&line, &coming(&[], &[1.0])),
        "95 plate cannot be clean at the start, only 90 are not on the line"
    );
}

#[test]
fn no_more_is_on_the_line_than_is_owned() {
    let mut line = washing();
    line.classes[0].par = Some(5);
    line.already.racks = vec![plates(10, RackAt::Lane(0))];
    assert_eq!(
        refused(&line, &coming(&[], &[1.0])),
        "more plate are already on the line than are owned"
    );
    line.classes[0].par = None;
    line.rack_kinds[0].count = 2;
    line.already.racks = vec![plates(1, RackAt::Lane(0)); 3];
    assert!(refused(&line, &coming(&[], &[1.0])).contains("more racks of plate"));
}

#[test]
fn trays_on_a_loop_lie_one_to_a_carrier_until_every_carrier_has_one() {
    // A turn of 6 m in 60 s, four carriers of one tier, reach 0.1 m: half a loop on, carrier 1 (1.5 m past the mark) comes
    // by at 14, carrier 0 at 29.
    let loop_ = Accumulator {
        name: "loop".into(),
        carriers: 4,
        tiers: 1,
        loop_mm: 6_000,
        reach_mm: 100,
        speed: vec![(at(0.0), 6_000)],
        stops: vec![],
    };
    let reach = Reach {
        at_mm: 3_000,
        each_side_mm: 100,
    };
    let line = Line {
        drop_offs: vec![drop_off(TraysTo::Accumulator(0))],
        tables: vec![],
        accumulators: vec![loop_],
        scrapping: vec![Scrapping {
            from: vec![TraysFrom::Accumulator {
                accumulator: 0,
                reach,
            }],
            ..scrapping(5.0, vec![PiecesTo::Leave])
        }],
        classes: vec![loose("plate")],
        crew: vec![worker("one", &[SCRAP])],
        ..scrapping_line(5.0)
    };
    let there = |trays| only(vec![lying(There::Accumulator(0), trays)], &[1.0]);
    let (_, diary) = live(&line, &there(2));
    assert_eq!(diary.taken_from("accumulator.loop"), [14.0, 29.0]);
    let what = refused(&line, &there(5));
    assert_eq!(what, "more trays are already on loop than it has room for");
}

#[test]
fn trays_left_aside_are_fetched_when_nothing_else_waits() {
    // Two left aside, 3 s to fetch each besides 5 s of work, and one on the table: 5, then 13, then 21.
    let mut line = scrapping_line(5.0);
    line.crew = vec![worker("one", &[SCRAP])];
    line.scrapping[0].from.push(TraysFrom::Overflow(0));
    line.scrapping[0].fetch_s = 3.0;
    let loads = vec![
        lying(There::Aside(0), 2),
        Load {
            name: "on the table".into(),
            ..lying(There::Table(0), 1)
        },
    ];
    let (_, diary) = live(&line, &only(loads, &[1.0]));
    assert_eq!(diary.times("trays cleared"), [5.0, 13.0, 21.0]);
    assert_eq!(
        diary.levels_of("overflow.window"),
        [(0.0, 2), (5.0, 1), (13.0, 0)]
    );
    assert_eq!(diary.levels_of("backlog")[0], (0.0, 3));
    // They were left aside before the run, and are no count of it.
    assert!(diary.times("trays left aside").is_empty());
    let what = refused(&line, &only(vec![lying(There::Aside(1), 1)], &[1.0]));
    assert_eq!(what, "trays are already left aside at no drop-off");
}

/// Carts of two trays, three of them, one at a time emptied at 5 s a tray, washed in 30 s by somebody else.
fn with_carts() -> Line {
    let mut line = scrapping_line(5.0);
    line.carts = vec![Carts {
        name: "tubs".into(),
        count: 3,
        holds: 2,
        goes: CartsGo::AtOnce,
        way: secs(0.0),
        parking: Some(1),
        wash: Some(CartWash {
            cart_s: 30.0,
            variation: Dist::Constant(1.0),
            workers: 1,
        }),
    }];
    line.scrapping[0].from = vec![TraysFrom::Carts(0)];
    line.crew = vec![worker("one", &[SCRAP]), worker("two", &[Post::CartWash(0)])];
    line
}

#[test]
fn trays_on_carts_that_wait_are_emptied_cart_by_cart() {
    // Three trays on two carts: cleared at 5, 10, 15. The first cart is empty when its second tray is taken, at 5, the other
    // at 10; washed one after the other until 35 and 65.
    let line = with_carts();
    let (_, diary) = live(&line, &only(vec![lying(There::Carts(0), 3)], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [5.0, 10.0, 15.0]);
    assert_eq!(
        diary.levels_of("carts.tubs"),
        [(0.0, 2), (5.0, 1), (10.0, 0)]
    );
    assert_eq!(diary.times("carts washed tubs"), [35.0, 65.0]);
    let what = refused(&line, &only(vec![lying(There::Carts(0), 7)], &[1.0]));
    assert_eq!(what, "more trays are already on tubs than it has room for");
}

#[test]
fn emptied_carts_that_wait_are_washed_from_the_start() {
    let mut line = with_carts();
    line.already.to_wash = vec![2];
    let (_, diary) = live(&line, &only(vec![], &[1.0]));
    assert_eq!(diary.times("carts washed tubs"), [30.0, 60.0]);
    line.already.to_wash = vec![4];
    let what = refused(&line, &only(vec![], &[1.0]));
    assert_eq!(what, "4 tubs already wait to be washed, of 3");
    line.carts[0].wash = None;
    line.crew.pop();
    assert_eq!(
        line.faults(),
        ["what is already there is nothing, or nowhere"]
    );
}

#[test]
fn clean_ware_on_carts_is_at_the_servery_when_the_runner_has_been() {
    // 20 plates; carts of 6; 8 are on two carts. Twelve at the servery. The full cart goes at 0 and is there at 10, half way;
    // the other goes when nothing is left inside, which is at once: 20, there at 30.
    let mut line = scrapping_line(5.0);
    line.classes = vec![class("plate", 9)];
    line.classes[0].par = Some(20);
    line.rack_kinds = vec![rack_kind("peg", 9)];
    line.clean_ends = vec![clean_end(None)];
    line.delivery = Some(Delivery {
        name: "carts".into(),
        carts: 2,
        cart_pieces: 6,
        trip: secs(20.0),
        variation: Dist::Constant(1.0),
        below: vec![None],
    });
    line.already.on_carts = vec![(ClassId(0), 8)];
    line.crew = vec![worker("runner", &[Post::Running])];
    let (_, diary) = live(&line, &only(vec![], &[1.0]));
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 12), (10.0, 18), (30.0, 20)]
    );
    line.already.on_carts = vec![(ClassId(0), 13)];
    let what = refused(&line, &only(vec![], &[1.0]));
    assert_eq!(
        what,
        "13 plate are already on carts, which have no room for them"
    );
    line.already.on_carts = vec![(ClassId(0), 21)];
    let what = refused(&line, &only(vec![], &[1.0]));
    assert_eq!(
        what,
        "more plate are already on carts than are owned and nowhere else"
    );
}
