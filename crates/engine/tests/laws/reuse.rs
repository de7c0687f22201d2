//! One pure function: a floor used before, or no observer at all, changes nothing.

use scullery_engine::demand::{Demand, Parties};
use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;

use crate::hand::*;

/// A line with one of everything.
fn whole_line() -> Line {
    let glass = Class {
        par: Some(40),
        stays_in_rack: true,
        unload_rack_s: 4.0,
        dry: secs(30.0),
        ..class_in("glass", 1, 4)
    };
    let plate = Class {
        par: Some(60),
        unload_s: 1.0,
        unload_rack_s: 3.0,
        ..class("plate", 6)
    };
    let mut shared = on_shift("floater", &[UNLOAD, SCRAP], 0.0, 9000.0);
    shared.breaks = vec![(at(900.0), secs(300.0))];
    shared.list[0].step_in = 2;
    Line {
        classes: vec![plate, glass],
        rack_kinds: vec![rack_kind("peg", 6), rack_kind("glass rack", 12)],
        drop_offs: vec![DropOff {
            positions_mm: vec![0, 1_000],
            put_down_s: Dist::Gamma { mean: 5.0, cv: 0.4 },
            ..drop_off(TraysTo::Belt(0))
        }],
        tables: vec![],
        belts: vec![ten_metres(EndRule::StopsOnArrival)],
        scrapping: vec![Scrapping {
            from: vec![TraysFrom::BeltEnd(0), TraysFrom::Overflow(0)],
            piece_s: vec![1.5, 1.0],
            fetch_s: 5.0,
            ..scrapping(4.0, vec![PiecesTo::Pile(0), PiecesTo::Racks(0)])
        }],
        racking: vec![Racking {
            limit: Some(secs(120.0)),
            places: 1,
            grab: 4,
            piles: vec![pile(0, Some(12), 1.2)],
            variation: Dist::Gamma { mean: 1.0, cv: 0.3 },
            ..racking(3, RacksTo::Lane(0))
        }],
        lanes: vec![Lane {
            kind: LaneKind::Rollers {
                length_mm: 2_700,
                rack_mm: 500,
                speed: vec![(at(0.0), 3_000)],
            },
            ..shelf(None)
        }],
        machines: vec![Machine {
            to: Some(0),
            control: Control::HoldAndRun {
                racks: 2,
                longest_wait: Some(secs(90.0)),
            },
            start_s: Dist::Constant(5.0),
            stops: vec![Stop {
                from: at(600.0),
                to: at(700.0),
                then: AfterStop::RunAgain,
            }],
            ..conveyor()
        }],
        clean_ends: vec![CleanEnd {
            variation: Dist::Gamma { mean: 1.0, cv: 0.3 },
            back: Back::Trips {
                of: 2,
                lasts: secs(40.0),
            },
            ..clean_end(Some(3))
        }],
        delivery: Some(Delivery {
            name: "carts".into(),
            carts: 2,
            cart_pieces: 12,
            trip: secs(60.0),
            variation: Dist::Constant(1.0),
            below: vec![Some(20), None],
        }),
        crew: vec![
            on_shift("scrapper", &[SCRAP], 0.0, 9000.0),
            on_shift("racker", &[RACK], 0.0, 9000.0),
            shared,
            on_shift("runner", &[Post::Running], 0.0, 9000.0),
        ],
        duties: vec![Duty {
            name: "bins".into(),
            when: DutyWhen::EveryKg(2.0),
            work_s: Dist::Constant(45.0),
            by: vec![SCRAP],
            may_wait: Some(secs(120.0)),
            clean_side: false,
        }],
        for_two: vec![],
        walk: secs(6.0),
        hand_wash: secs(45.0),
        ..bare()
    }
}

fn lunch() -> Demand {
    let come: Vec<f64> = (0..90).map(|k| f64::from(k) * 13.0).collect();
    let mut demand = coming(&come, &[1.4, 0.8]);
    demand.kinds[0].sits = true;
    demand.eating_min = vec![(
        at(0.0),
        Dist::Gamma {
            mean: 5.0,
            cv: 0.35,
        },
    )];
    demand.patience_people = Some(Dist::Uniform { min: 2.0, max: 9.0 });
    demand.work_factor = Dist::Gamma { mean: 1.0, cv: 0.3 };
    demand.waste_kg = Dist::Gamma { mean: 0.1, cv: 0.8 };
    demand.parties = Some(Parties {
        shares: vec![1.0],
        apart: secs(0.0),
    });
    demand
}

#[test]
fn a_meal_with_everything_ends_clean() {
    let (ended, diary) = live(&whole_line(), &lunch());
    assert_eq!(ended.how, scullery_engine::ended::How::AllClean);
    assert_eq!(ended.balance.trays_in, ended.balance.trays_out);
    assert_eq!(ended.at, at(9000.0));
    assert!(diary.racks.len() > 10);
}

#[test]
fn running_a_tape_again_on_the_same_floor_writes_the_same_diary() {
    let line = whole_line();
    let mut tape = Tape::new();
    tape.draw(&lunch(), 3, 1);
    let mut floor = Floor::new();
    let first = live_on(&line, &tape, &mut floor);
    let again = live_on(&line, &tape, &mut floor);
    assert!(first == again);
    // And after another meal.
    let mut other = Tape::new();
    other.draw(&lunch(), 3, 2);
    let second = live_on(&line, &other, &mut floor);
    assert!(second != first);
    assert!(live_on(&line, &tape, &mut floor) == first);
}

#[test]
fn a_floor_used_for_another_line_is_as_good_as_new() {
    // Each line after each other, also left in the middle with everything full.
    let mut cut = whole_line();
    cut.ends = Some(at(800.0));
    let mut held = wash_line(1);
    held.machines[0].on_at = at(20_000.0);
    held.clean_ends = vec![clean_end(Some(1))];
    held.machines[0].to = Some(0);
    let mut tunnel = wash_line(1);
    tunnel.machines = vec![conveyor()];
    tunnel.ends = Some(at(500.0));
    let mut lines = [
        whole_line(),
        cut,
        held,
        wash_line(1),
        tunnel,
        scrapping_line(5.0),
    ];
    for line in lines.iter_mut().filter(|line| line.classes.len() == 1) {
        line.classes.push(loose("glass"));
        line.scrapping[0].piece_s.push(0.0);
        line.scrapping[0].routes.push(PiecesTo::Leave);
    }
    let mut tape = Tape::new();
    tape.draw(&lunch(), 3, 1);
    let fresh: Vec<_> = lines
        .iter()
        .map(|line| live_on(line, &tape, &mut Floor::new()))
        .collect();
    for before in 0..lines.len() {
        for (line, fresh) in lines.iter().zip(&fresh) {
            let mut floor = Floor::new();
            floor.audit_every_instant(true);
            live_on(&lines[before], &tape, &mut floor);
            let used = live_on(line, &tape, &mut floor);
            assert!(used == *fresh, "line {before} before");
        }
    }
}

#[test]
fn who_watches_changes_nothing() {
    let line = whole_line();
    let mut tape = Tape::new();
    tape.draw(&lunch(), 3, 1);
    let (watched, _) = live_on(&line, &tape, &mut Floor::new());
    let alone = run(&line, &tape, &mut Floor::new(), &mut Nobody);
    assert_eq!(alone, Ok(watched));
}

#[test]
fn nothing_is_told_twice_and_nothing_that_lasts_no_time() {
    let (_, diary) = live(&whole_line(), &lunch());
    let mut levels = diary.levels.clone();
    levels.sort_by(|a, b| a.1.cmp(&b.1).then(a.0.total_cmp(&b.0)));
    for pair in levels.windows(2).filter(|pair| pair[0].1 == pair[1].1) {
        assert!(pair[0].0 < pair[1].0, "{pair:?}");
        assert_ne!(pair[0].2, pair[1].2, "{pair:?}");
    }
    let mut states = diary.states.clone();
    states.sort_by(|a, b| a.1.cmp(&b.1).then(a.0.total_cmp(&b.0)));
    for pair in states.windows(2).filter(|pair| pair[0].1 == pair[1].1) {
        assert!(pair[0].0 < pair[1].0, "{pair:?}");
        assert!(pair[0].2 != pair[1].2 || pair[0].3 != pair[1].3, "{pair:?}");
    }
}

#[test]
fn the_luck_of_a_place_does_not_change_when_another_is_added() {
    // The n-th cycle of a machine lasts as long whatever else stands in the room.
    let mut line = wash_line(1);
    line.machines[0].kind = MachineKind::Door {
        batch: 1,
        cycle_s: Dist::Gamma {
            mean: 60.0,
            cv: 0.2,
        },
    };
    let racks = coming(&[0.0, 500.0, 1000.0], &[1.0]);
    let (_, alone) = live(&line, &racks);
    line.lanes.push(shelf(None));
    line.machines.insert(
        0,
        Machine {
            name: "second".into(),
            from: 1,
            ..line.machines[0].clone()
        },
    );
    line.duties = whole_line().duties;
    line.crew.insert(0, worker("idle", &[RACK]));
    let (_, beside) = live(&line, &racks);
    assert_eq!(alone.racks_out(), beside.racks_out());
    assert!(alone.racks_out()[0] != 60.0);
}
