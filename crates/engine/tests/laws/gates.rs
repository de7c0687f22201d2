//! The gate at the load end: when racks run in, and when ware is loaded by hand.

use scullery_engine::ended::How;
use scullery_engine::line::*;

use crate::hand::*;

const LOAD: Post = Post::Racking(1);

/// Racks of one plate on a shelf, behind a gate; cups loaded by hand, in racks of one, 1 s each; both onto a shelf before a
/// door machine of 10 s. Somebody may always come.
fn gated(rule: GateRule) -> Line {
    Line {
        classes: vec![class("plate", 1), class("cup", 1)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Racks(0), PiecesTo::Pile(1)])],
        racking: vec![
            racking(1, RacksTo::Lane(0)),
            Racking {
                name: "by hand".into(),
                places: 1,
                piles: vec![pile(1, Some(2), 1.0)],
                ..racking(1, RacksTo::Lane(1))
            },
        ],
        lanes: vec![
            Lane {
                name: "racks".into(),
                hands_to: Some(1),
                ..shelf(Some(4))
            },
            Lane {
                name: "load end".into(),
                ..shelf(Some(1))
            },
        ],
        gates: vec![Gate {
            name: "gate".into(),
            lane: 0,
            table: 1,
            rule,
        }],
        machines: vec![Machine {
            from: Some(1),
            ..door(10.0)
        }],
        drop_offs: vec![DropOff {
            closes: Closing::Never,
            ..drop_off(TraysTo::Table(0))
        }],
        crew: vec![worker("scrapper", &[SCRAP]), worker("loader", &[LOAD])],
        ends: Some(at(1_000.0)),
        ..wash_line(1)
    }
}

/// When each rack went into the machine, and of which class.
fn washed(diary: &Diary) -> Vec<(f64, u8)> {
    let racks = diary.racks.iter();
    racks.map(|r| (r.washed_from.s(), r.class)).collect()
}

#[test]
fn by_the_clock_racks_run_in_while_it_is_down_and_ware_is_loaded_by_hand_while_it_is_up() {
    // Up from 100 to 200. A plate of 0 runs in at once; a cup of 50 is loaded 100-101; a plate of 120 is held until 200.
    let line = gated(GateRule::Clock(vec![(at(100.0), true), (at(200.0), false)]));
    let demand = two_kinds(&[0.0, 120.0], &[1.0, 0.0], &[50.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(washed(&diary), [(0.0, 0), (101.0, 1), (200.0, 0)]);
    assert_eq!(diary.levels_of("gate.gate"), [(100.0, 1), (200.0, 0)]);
}

#[test]
fn by_count_it_goes_down_at_one_number_and_up_again_at_a_lower_one() {
    // No rack stands there: up from the start. One rack of 0 is held; a cup of 5 is loaded 5-6. With the second rack at 20 it
    // goes down: the first is washed at once, the second, on the way past the gate, 10 s later; then no rack is left, and
    // it is up for the cup of 21.
    let line = gated(GateRule::Racks {
        down_at: 2,
        up_at: 0,
    });
    let demand = two_kinds(&[0.0, 20.0], &[1.0, 0.0], &[5.0, 21.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(washed(&diary), [(6.0, 1), (20.0, 0), (30.0, 0), (40.0, 1)]);
    // Down for no time at 20: it is not told.
    assert_eq!(diary.levels_of("gate.gate"), [(0.0, 1)]);
}

#[test]
fn by_hand_it_is_up_while_somebody_has_ware_in_hand() {
    // A cup of 0 is in hand until 1; the rack of 0.5 waits for it and then runs in behind it.
    let line = gated(GateRule::ByHand);
    let demand = two_kinds(&[0.5], &[1.0, 0.0], &[0.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(washed(&diary), [(1.0, 1), (11.0, 0)]);
}

#[test]
fn the_side_that_is_fuller_for_its_room_has_the_way() {
    // One cup of two against no rack of four: loaded 0-1, the rack of 0.5 (a quarter against a half) waits. At 1 no cup is
    // left, and it runs in. Then two cups (all of their room) against one rack go first.
    let line = gated(GateRule::FullerSide);
    let demand = two_kinds(&[0.5, 50.0], &[1.0, 0.0], &[0.0, 49.9], &[0.0, 2.0]);
    let (_, diary) = live(&line, &demand);
    let classes: Vec<u8> = washed(&diary).iter().map(|w| w.1).collect();
    assert_eq!(washed(&diary)[0], (1.0, 1));
    assert_eq!(classes, [1, 1, 0, 1, 1, 0]);
}

#[test]
fn when_nothing_more_comes_a_side_with_nothing_waiting_gives_way() {
    // Racks would have to be five to run in; there is one, and no cup: it runs in when the drop-off has closed. A line whose
    // gate is down by the clock for ever loads its cup by hand all the same.
    let mut line = gated(GateRule::Racks {
        down_at: 4,
        up_at: 0,
    });
    line.drop_offs[0].closes = Closing::AfterLast;
    line.ends = None;
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0, 0.0]));
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(washed(&diary), [(0.0, 0)]);
    line.gates[0].rule = GateRule::Clock(vec![]);
    let (ended, diary) = live(&line, &coming(&[0.0], &[0.0, 1.0]));
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(washed(&diary), [(1.0, 1)]);
}

#[test]
fn gates_that_cannot_keep_their_rule_are_refused() {
    let backwards = gated(GateRule::Racks {
        down_at: 1,
        up_at: 2,
    });
    assert_eq!(
        backwards.faults(),
        ["gate gate has a rule that cannot be kept"]
    );
    let mut nothing = gated(GateRule::ByHand);
    nothing.gates[0].table = 0;
    assert_eq!(
        nothing.faults(),
        ["gate gate is beside a table where nothing waits"]
    );
    let mut unlimited = gated(GateRule::FullerSide);
    unlimited.racking[1].piles[0].room = None;
    assert_eq!(
        unlimited.faults(),
        ["gate gate has a rule that cannot be kept"]
    );
}
