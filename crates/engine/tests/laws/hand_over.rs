//! Lanes in series: transit over both, the hand-over, blocking behind it.

use scullery_engine::line::*;

use crate::hand::*;

fn rollers(name: &str, length_mm: u32, mm_min: u32, hands_to: Option<u8>) -> Lane {
    Lane {
        name: name.into(),
        kind: LaneKind::Rollers {
            length_mm,
            rack_mm: 500,
            speed: vec![(at(0.0), mm_min)],
        },
        hands_to,
        ..shelf(None)
    }
}

/// A rack a plate; 2 m at 50 mm/s (40 s, four racks), then 1.5 m at 100 mm/s (15 s, three racks) to the machine.
fn two_lanes(machine: Machine) -> Line {
    Line {
        racking: vec![racking(1, RacksTo::Lane(1))],
        lanes: vec![
            rollers("inclined", 1_500, 6_000, None),
            rollers("powered", 2_000, 3_000, Some(0)),
        ],
        machines: vec![machine],
        ..wash_line(1)
    }
}

fn washed_from(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.washed_from.s()).collect()
}

#[test]
fn a_rack_runs_over_both_lanes_one_after_the_other() {
    let (_, diary) = live(&two_lanes(door(60.0)), &coming(&[0.0], &[1.0]));
    assert_eq!(washed_from(&diary), [55.0]);
    assert_eq!(diary.waits_at("lane.powered"), [40.0]);
    assert_eq!(diary.waits_at("lane.inclined"), [15.0]);
    assert_eq!(diary.levels_of("lane.powered"), [(0.0, 1), (40.0, 0)]);
    assert_eq!(diary.levels_of("lane.inclined"), [(40.0, 1), (55.0, 0)]);
}

#[test]
fn a_rack_stands_at_the_hand_over_while_the_next_lane_is_full_and_the_lane_behind_it_fills() {
    // Racks are put on every 10 s from 0 on and come to the hand-over from 40 on: at 40, 50 and 60 they pass, and the next
    // lane is full. The fourth stands at 70. Behind it three more close up: the powered lane is full with the seventh, put
    // on at 60, and takes no eighth.
    let mut line = two_lanes(Machine {
        on_at: at(1_000.0),
        ..door(1.0)
    });
    line.rack_kinds[0].count = 9;
    let (_, diary) = live(&line, &coming(&[0.0; 9], &[1.0]));
    let closed: Vec<f64> = diary.racks.iter().map(|r| r.closed.s()).collect();
    assert_eq!(closed[..7], [0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0]);
    // At 1,000 the first goes in. The third lies half a metre from the head, so the fourth passes at that instant, those
    // behind it move up, and the eighth, full since 60, is put on.
    assert_eq!(closed[7], 1_000.0);
    // Second and third move up half a metre in 5 s each; the fourth has run its 15 s just when the third is gone.
    assert_eq!(
        washed_from(&diary)[..4],
        [1_000.0, 1_005.0, 1_010.0, 1_015.0]
    );
    let most = |lane: &str| diary.levels_of(lane).iter().map(|l| l.1).max();
    assert_eq!(
        (most("lane.powered"), most("lane.inclined")),
        (Some(4), Some(3))
    );
}

#[test]
fn a_stopped_lane_hands_nothing_over_but_what_lies_at_its_end() {
    // The second of two racks is half a metre from the end of the powered lane when that stops, from 45 to 100 s: it passes
    // at 105 and is washed from 120. The first has passed at 40.
    let mut line = two_lanes(door(1.0));
    line.lanes[1].stops = vec![Stop {
        from: at(45.0),
        to: at(100.0),
        then: AfterStop::Resume,
    }];
    let (_, diary) = live(&line, &coming(&[0.0, 10.0], &[1.0]));
    assert_eq!(washed_from(&diary), [55.0, 120.0]);
}

#[test]
fn shelves_hand_over_at_once_and_keep_what_the_next_has_no_room_for() {
    // A shelf of one before the machine, one of two before that: of four racks full at 0 three find room, and the fourth
    // follows when the first is taken.
    let mut line = two_lanes(Machine {
        on_at: at(100.0),
        ..door(60.0)
    });
    line.lanes = vec![
        Lane {
            name: "near".into(),
            ..shelf(Some(1))
        },
        Lane {
            name: "far".into(),
            hands_to: Some(0),
            ..shelf(Some(2))
        },
    ];
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(washed_from(&diary), [100.0, 160.0, 220.0, 280.0]);
    assert_eq!(diary.levels_of("lane.near")[0], (0.0, 1));
    assert_eq!(diary.levels_of("lane.far")[..2], [(0.0, 2), (160.0, 1)]);
}

#[test]
fn a_machine_held_until_racks_gather_counts_those_on_all_lanes_that_come_to_it() {
    // Starts at three racks. Put on at 0, 10 and 20: at 20 all three are still on the powered lane, and it starts. The first
    // arrives at 55.
    let held = |racks| Machine {
        control: Control::HoldAndRun {
            racks,
            longest_wait: None,
            work: None,
        },
        start_s: scullery_engine::dist::Dist::Constant(50.0),
        ..door(1.0)
    };
    let mut line = two_lanes(held(3));
    // Somebody may still come: it is not for want of more that it starts.
    line.drop_offs[0].closes = Closing::Never;
    line.ends = Some(at(1_000.0));
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 20.0], &[1.0]));
    assert_eq!(diary.times("starts machine"), [20.0]);
    // Started at 20 + 50: the first, there since 55, goes in at 70, the others 5 s apart behind it; it rests only after.
    assert_eq!(washed_from(&diary), [70.0, 75.0, 80.0]);
}

#[test]
fn ware_held_back_until_the_lane_is_emptier_waits_for_all_that_is_ahead_of_it() {
    // Cups are held back while two racks or more are ahead. Plates put on at 0 and 10 are both past the hand-over at 50, and
    // still ahead: the first is taken in at 55, and one is left. The cup, racked in no time, is put on then.
    let cup = class("cup", 1);
    let mut line = two_lanes(door(1.0));
    line.classes.push(cup);
    line.scrapping = vec![scrapping(0.0, vec![PiecesTo::Racks(0), PiecesTo::Pile(0)])];
    line.racking[0].open_racks = 2;
    line.racking[0].places = 1;
    line.racking[0].piles = vec![Pile {
        held_back: vec![Release::LaneBelow(2)],
        ..pile(1, None, 0.0)
    }];
    line.crew.push(worker("racker", &[RACK]));
    let demand = two_kinds(&[0.0, 10.0], &[1.0, 0.0], &[12.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    let cup = diary.racks.iter().find(|r| r.class == 1).unwrap();
    assert_eq!(cup.closed, at(55.0));
    assert_eq!(washed_from(&diary), [55.0, 65.0, 110.0]);
}

#[test]
fn lanes_that_go_round_or_end_twice_are_refused() {
    let mut round = two_lanes(door(1.0));
    round.lanes[0].hands_to = Some(1);
    assert!(
        round
            .faults()
            .contains(&"racks on lane powered go round".into())
    );
    let mut twice = two_lanes(door(1.0));
    twice.machines[0].from = Some(1);
    assert_eq!(
        twice.faults(),
        ["lane powered hands over and feeds a machine"]
    );
    let mut nothing = two_lanes(door(1.0));
    nothing.lanes[0] = shelf(Some(0));
    assert_eq!(
        nothing.faults(),
        ["lane powered hands over where there is room for nothing"]
    );
}
