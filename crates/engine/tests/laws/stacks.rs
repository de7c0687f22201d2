//! Belts that carry stacks: when a stack goes, what it finds at the end, who is held up.

use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// Trays broken down in no time; plates in stacks of four on 10 m of belt (40 s, stacks 2 s apart) to a pile with this room,
/// racked 4 to a rack at so many seconds a piece, so many a grab; full racks leave the line.
fn stack_line(rule: EndRule, room: Option<u32>, piece_s: f64, grab: u32) -> Line {
    Line {
        classes: vec![class("plate", 4)],
        rack_kinds: vec![rack_kind("peg", 99)],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Stacks(0)])],
        stack_belts: vec![StackBelt {
            belt: Belt {
                name: "stacks".into(),
                ..ten_metres(rule)
            },
            pieces: vec![4],
            to: 0,
        }],
        racking: vec![Racking {
            places: 1,
            grab,
            piles: vec![pile(0, room, piece_s)],
            ..racking(1, RacksTo::Leave)
        }],
        crew: vec![worker("scrapper", &[SCRAP]), worker("racker", &[RACK])],
        ends: Some(at(10_000.0)),
        ..bare()
    }
}

#[test]
fn a_stack_goes_when_it_is_full_and_the_last_as_it_is() {
    // A plate every 10 s: the stack is full at 30, at the end at 70, racked by 74. The last two, at 40 and 50, go when
    // nothing more comes: 50, 90, and two pieces' work: 92.
    let line = stack_line(EndRule::ClosesUp, None, 1.0, 4);
    let come = [0.0, 10.0, 20.0, 30.0, 40.0, 50.0];
    let (ended, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(
        diary.times("pieces clean"),
        [74.0, 74.0, 74.0, 74.0, 92.0, 92.0]
    );
    assert_eq!(
        diary.levels_of("stacks.stacks"),
        [(30.0, 1), (50.0, 2), (70.0, 1), (90.0, 0)]
    );
    assert_eq!(diary.taken_from("stacks.stacks"), [70.0, 90.0]);
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn who_stacks_is_held_up_while_the_belt_has_no_gap() {
    // Ten plates at once: four go at 0; four more are stacked, find no gap before 2 s, and two stay in hand. At 2 they
    // begin the third stack, which is the last, and goes in the next gap: 4.
    let line = stack_line(EndRule::ClosesUp, None, 1.0, 4);
    let (_, diary) = live(&line, &coming(&[0.0], &[10.0]));
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(0.0, "stacks.stacks".to_owned())]
    );
    assert_eq!(diary.spans("scrapper", State::HeldUp, 100.0), [(0.0, 2.0)]);
    assert_eq!(
        diary.levels_of("stacks.stacks"),
        [
            (0.0, 1),
            (2.0, 2),
            (4.0, 3),
            (40.0, 2),
            (42.0, 1),
            (44.0, 0)
        ]
    );
    // Racked 4 s each from 40 on, two seconds the last.
    assert_eq!(
        diary.times("pieces clean"),
        [44.0, 44.0, 44.0, 44.0, 48.0, 48.0, 48.0, 48.0, 50.0, 50.0]
    );
}

#[test]
fn a_stack_goes_over_when_the_whole_of_it_has_room_on_its_pile() {
    // Room for one stack, 10 s a plate. 40: the first goes over and is taken up at once, until 80. 42: the second goes over.
    // 44: the third finds no room, and the belt stands until the second is taken up: 80.
    let line = stack_line(EndRule::StopsOnArrival, Some(4), 10.0, 4);
    let (_, diary) = live(&line, &coming(&[0.0], &[12.0]));
    assert_eq!(diary.taken_from("stacks.stacks"), [40.0, 42.0, 80.0]);
    assert_eq!(diary.spans("stacks", State::Stopped, 200.0), [(44.0, 80.0)]);
    let clean = [80.0, 120.0, 160.0].into_iter();
    let clean: Vec<f64> = clean.flat_map(|at| [at; 4]).collect();
    assert_eq!(diary.times("pieces clean"), clean);
}

#[test]
fn where_the_pile_has_room_for_nothing_the_stack_is_worked_off_the_belt() {
    // Grabs of three, 10 s a plate. 40: three, until 70, while one is left on the belt's end and the belt stands; 70: the
    // last one, and the belt runs on, 2 s. 72: the second stands at the end. 80: three of it, 110: the last one. 112: the
    // third stands; 120, 150.
    let line = stack_line(EndRule::StopsOnArrival, Some(0), 10.0, 3);
    let (_, diary) = live(&line, &coming(&[0.0], &[12.0]));
    assert_eq!(diary.taken_from("stacks.stacks"), [70.0, 110.0, 150.0]);
    assert_eq!(
        diary.spans("stacks", State::Stopped, 200.0),
        [(40.0, 70.0), (72.0, 110.0), (112.0, 150.0)]
    );
    let clean = [80.0, 120.0, 160.0].into_iter();
    let clean: Vec<f64> = clean.flat_map(|at| [at; 4]).collect();
    assert_eq!(diary.times("pieces clean"), clean);
}

#[test]
fn a_belt_that_advances_on_demand_brings_a_stack_when_the_worker_at_the_load_end_is_free() {
    // Eight plates. The first stack lies at the start, the second beside it, until somebody stands at the load end at 100:
    // a section of 5 m, 20 s, in which the second goes on at 102; the next section from 120 brings the first to the end at
    // 140. Four seconds' work, during which the belt stands; at 144 it moves on and the limit switch halts it after 0.5 m:
    // 146, four seconds: 150.
    let rule = EndRule::AdvancesOnDemand { section_mm: 5_000 };
    let mut line = stack_line(rule, Some(0), 1.0, 4);
    line.crew[1] = on_shift("racker", &[RACK], 100.0, 1_000.0);
    let (_, diary) = live(&line, &coming(&[0.0], &[8.0]));
    assert_eq!(
        diary.levels_of("stacks.stacks"),
        [(0.0, 1), (102.0, 2), (140.0, 1), (146.0, 0)]
    );
    assert_eq!(
        diary.spans("stacks", State::Moving, 1_000.0),
        [(100.0, 140.0), (144.0, 146.0)]
    );
    let clean = [144.0, 150.0].into_iter();
    let clean: Vec<f64> = clean.flat_map(|at| [at; 4]).collect();
    assert_eq!(diary.times("pieces clean"), clean);
}

#[test]
fn stacks_call_a_worker_from_elsewhere_though_the_belt_brings_them_only_on_demand() {
    // One pair of hands, 5 s of walking, who stands at the trays first. At 0 one tray of four plates is broken down and its stack goes on the belt; nothing
    // else calls, so she walks to the load end: 5. Forty seconds of belt: 45, four seconds of work: 49.
    let rule = EndRule::AdvancesOnDemand { section_mm: 10_000 };
    let mut line = stack_line(rule, None, 1.0, 4);
    line.crew = vec![worker("one", &[SCRAP, RACK])];
    line.walk = secs(5.0);
    let (_, diary) = live(&line, &coming(&[0.0], &[4.0]));
    assert_eq!(diary.spans("stacks", State::Moving, 1_000.0), [(5.0, 45.0)]);
    assert_eq!(diary.times("pieces clean"), [49.0; 4]);
}

#[test]
fn who_has_pressed_the_switch_stays_until_the_next_stack_comes() {
    // Somebody who goes home at 10 breaks a tray of eight plates down at 0. She stands at the load end: the belt moves at
    // once, the second stack goes on at 2. A tray comes at 20 and waits. 40: the first stack is there, racked at 44; then
    // the second has 0.5 m to go, 46, and is racked at 50. Only then does she walk 5 s to the tray: 55.
    let rule = EndRule::AdvancesOnDemand { section_mm: 10_000 };
    let mut line = stack_line(rule, None, 1.0, 4);
    line.crew = vec![worker("one", &[RACK, SCRAP])];
    line.walk = secs(5.0);
    line.crew.push(on_shift("first", &[SCRAP], 0.0, 10.0));
    let (_, diary) = live(&line, &coming(&[0.0, 20.0], &[8.0]));
    let moving = diary.spans("stacks", State::Moving, 200.0);
    assert_eq!(moving[..2], [(0.0, 40.0), (44.0, 46.0)]);
    let clean = [44.0, 50.0].into_iter();
    let clean: Vec<f64> = clean.flat_map(|at| [at; 4]).collect();
    assert_eq!(diary.times("pieces clean")[..8], clean);
    assert_eq!(diary.times("trays cleared"), [0.0, 55.0]);
}

#[test]
fn two_belts_take_two_classes_by_their_own_ways() {
    // Plates by the belt of 40 s, cups by one of 20 s, both to the one table; the rush is over when both are empty: the
    // part-filled rack of cups, at 22, waits until the plates have come at 40 and goes then.
    let mut line = stack_line(EndRule::ClosesUp, None, 1.0, 4);
    line.classes.push(class("cup", 4));
    let mut fast = line.stack_belts[0].clone();
    fast.belt.name = "cups".into();
    fast.belt.speed = vec![(at(0.0), 30_000)];
    fast.pieces = vec![0, 2];
    line.stack_belts[0].pieces = vec![4, 0];
    line.stack_belts.push(fast);
    line.racking[0].piles.push(pile(1, None, 1.0));
    line.racking[0].open_racks = 2;
    line.scrapping[0].routes = vec![PiecesTo::Stacks(0), PiecesTo::Stacks(1)];
    line.scrapping[0].piece_s = vec![0.0; 2];
    let (_, diary) = live(&line, &coming(&[0.0], &[4.0, 2.0]));
    assert_eq!(diary.taken_from("stacks.cups"), [20.0]);
    assert_eq!(
        diary.times("pieces clean"),
        [40.0, 40.0, 44.0, 44.0, 44.0, 44.0]
    );
}

#[test]
fn a_stack_higher_than_its_pile_has_room_for_is_refused() {
    let mut line = stack_line(EndRule::ClosesUp, Some(3), 1.0, 4);
    assert_eq!(
        line.faults(),
        ["stacks on belt stacks have no pile to go to"]
    );
    line.racking[0].piles[0].room = Some(4);
    assert!(line.faults().is_empty());
    line.stack_belts[0].pieces = vec![0];
    assert_eq!(
        line.faults(),
        [
            "stacks on belt stacks have no pile to go to",
            "class 0 is stacked on a belt that carries none"
        ]
    );
}

fn there(pieces: u16) -> StackThere {
    StackThere {
        belt: 0,
        class: ClassId(0),
        pieces,
    }
}

#[test]
fn stacks_that_are_already_there_lie_against_the_end_and_go_on_from_there() {
    // The first goes over at once and is racked by 4, 1 s a plate. The second, half a metre behind it, is at the end at 2 and
    // racked from 4 to 6; its rack waits for more. A plate that comes at 0 is the last: at the end at 40, racked at 41, and
    // the rack goes with all three.
    let mut line = stack_line(EndRule::ClosesUp, None, 1.0, 4);
    line.already.stacks = vec![there(4), there(2)];
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(
        diary.levels_of("stacks.stacks"),
        [(0.0, 2), (2.0, 1), (40.0, 0)]
    );
    assert_eq!(
        diary.times("pieces clean"),
        [4.0, 4.0, 4.0, 4.0, 41.0, 41.0, 41.0]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn more_stacks_than_there_are_places_or_too_high_ones_are_refused() {
    let misfit = |inside: Vec<StackThere>| {
        let mut line = stack_line(EndRule::ClosesUp, None, 1.0, 4);
        line.already.stacks = inside;
        line.already_misfit()
    };
    // 10 m, half a metre apart: twenty places.
    assert_eq!(misfit(vec![there(4); 20]), None);
    assert!(misfit(vec![there(4); 21]).is_some());
    assert_eq!(
        misfit(vec![there(5)]),
        Some(
            "a stack of 5 plate is already on belt stacks and finds no room, or is too high"
                .to_owned()
        )
    );
    let mut line = stack_line(EndRule::ClosesUp, None, 1.0, 4);
    for nowhere in [
        StackThere {
            belt: 1,
            ..there(1)
        },
        StackThere {
            class: ClassId(9),
            ..there(1)
        },
        there(0),
    ] {
        line.already.stacks = vec![nowhere];
        assert_eq!(
            line.faults(),
            ["what is already there is nothing, or nowhere"]
        );
    }
}
