//! Blocking after service, hand to hand, gridlock, lines that never drain.
//!
//! Elsewhere or not sayable yet, so no test here: a hold-and-run number above the lane's capacity is refused by the
//! loader; tasks for two.

use scullery_engine::dist::Dist;
use scullery_engine::ended::How;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

#[test]
fn a_table_without_room_passes_trays_from_hand_to_hand() {
    // 10 s a tray. The first goes straight to the worker, the second stays in the diner's hands until 10.
    let line = Line {
        tables: vec![table(Some(0))],
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(100.0)),
        ..scrapping_line(10.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 50.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [0.0, 10.0, 50.0]);
    assert_eq!(
        diary.spans("one", State::Working, 100.0),
        [(0.0, 20.0), (50.0, 60.0)]
    );
    assert!(diary.levels_of("table.table").is_empty());
}

#[test]
fn nobody_there_means_no_hand_to_give_to() {
    let line = Line {
        tables: vec![table(Some(0))],
        crew: vec![on_shift("one", &[SCRAP], 30.0, 1000.0)],
        ends: Some(at(100.0)),
        ..scrapping_line(10.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [30.0]);
    assert_eq!(diary.waits_at("drop_off.window.standing"), [30.0]);
}

#[test]
fn a_diner_who_finds_the_table_full_keeps_the_position() {
    // Room for one; 5 s to put down; the worker comes at 100 (10 s a tray). The second is done at 10 and holds the
    // tray until 100; the third steps up only then.
    let mut line = Line {
        tables: vec![table(Some(1))],
        crew: vec![on_shift("one", &[SCRAP], 100.0, 1000.0)],
        ends: Some(at(200.0)),
        ..scrapping_line(10.0)
    };
    line.drop_offs[0].put_down_s = Dist::Constant(5.0);
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [5.0, 100.0, 110.0]);
    assert_eq!(diary.waits_at("drop_off.window.queue"), [0.0, 5.0, 100.0]);
}

/// Scrapping 10 s a tray, racking 30 s a piece, with room for `room` pieces between.
fn two_stages(room: Option<u32>) -> Line {
    let mut line = wash_line(1);
    line.scrapping[0] = scrapping(10.0, vec![PiecesTo::Pile(0)]);
    line.racking[0].places = 1;
    line.racking[0].piles = vec![pile(0, room, 30.0)];
    line.crew.push(worker("racker", &[RACK]));
    line
}

#[test]
fn without_room_between_two_stages_the_first_is_blocked_after_service() {
    // Scrapped 0–10, 10–20, 40–50; handed over at 10, 40 and 70.
    let (_, diary) = live(&two_stages(Some(0)), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(
        diary.spans("scrapper", State::Working, 1000.0),
        [(0.0, 20.0), (40.0, 50.0)]
    );
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 1000.0),
        [(20.0, 40.0), (50.0, 70.0)]
    );
    assert_eq!(
        diary.spans("racker", State::Working, 1000.0),
        [(10.0, 100.0)]
    );
}

#[test]
fn room_for_one_between_two_stages_unblocks_the_first_by_one() {
    // Piece 2 lies on the pile from 20, piece 3 is held from 30 to 40.
    let (_, diary) = live(&two_stages(Some(1)), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 1000.0),
        [(30.0, 40.0)]
    );
}

#[test]
fn a_blocked_chain_unwinds_in_one_instant() {
    // Belt that stops, one scrapper, one open rack of one, room for one on the lane, machine from 300 on. Then the
    // machine takes the first rack, the second leaves the table for the lane, the third tray's plate goes into a new
    // rack, and the scrapper takes the tray at the belt's end, so the belt moves: all at 300.
    let mut line = wash_line(1);
    line.tables = vec![];
    line.belts = vec![ten_metres(EndRule::StopsOnArrival)];
    line.drop_offs[0].to = TraysTo::Belt(0);
    line.scrapping[0].from = vec![TraysFrom::BeltEnd(0)];
    line.lanes = vec![shelf(Some(1))];
    line.machines[0].on_at = at(300.0);
    let come: Vec<f64> = (0..6).map(|k| 20.0 * f64::from(k)).collect();
    let (_, diary) = live(&line, &coming(&come, &[1.0]));
    // Taken at 40, 60 and 80; the fourth is at the end from 100.
    assert_eq!(
        diary.taken_from("belt.belt")[..5],
        [40.0, 60.0, 80.0, 300.0, 360.0]
    );
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 1000.0),
        [(80.0, 480.0)],
        "held up anew at once, until the sixth tray's plate finds its rack"
    );
    let closed: Vec<f64> = diary.racks.iter().map(|r| r.closed.s()).collect();
    assert_eq!(closed[..4], [40.0, 300.0, 360.0, 420.0]);
    assert_eq!(
        diary.spans("belt", State::Stopped, 400.0)[0],
        (100.0, 300.0)
    );
}

fn gridlock(how: &How) -> &str {
    match how {
        How::Gridlock(sentence) => sentence,
        other => panic!("{other:?}"),
    }
}

#[test]
fn racks_held_open_for_two_classes_lock_out_a_third_when_the_pool_is_empty() {
    // Two racks, three classes, no limit: locked at the first cup, at 20, though diners still come.
    let mut line = wash_line(9);
    line.classes = vec![class("plate", 9), class("bowl", 9), class("cup", 9)];
    line.rack_kinds = vec![rack_kind("peg", 2)];
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 3]);
    line.racking[0].open_racks = 3;
    let mut demand = two_kinds(&[0.0, 500.0], &[1.0, 1.0, 0.0], &[20.0], &[0.0, 0.0, 1.0]);
    let (ended, _) = live(&line, &demand);
    assert_eq!(ended.at, at(20.0));
    assert_eq!(
        gridlock(&ended.how),
        "since 00:00:20: scrapping holds pieces of cup and waits for an empty rack; every rack they fit stands open, \
         part-filled with other ware, and everybody who could fill or clear one is held up too"
    );
    // A limit frees one: plates at 45 (with the bowls), back from the machine at 105.
    line.racking[0].limit = Some(secs(45.0));
    demand.kinds[0].pieces = vec![1.0, 1.0, 0.0];
    let (ended, diary) = live(&line, &demand);
    assert_eq!(ended.how, How::StatedEnd);
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 400.0),
        [(20.0, 105.0)]
    );
}

#[test]
fn two_who_still_work_are_not_a_gridlock() {
    // As above, but a second scrapper has a tray with 8 plates in work until 100, which fills the plate rack.
    let mut line = wash_line(9);
    line.classes = vec![class("plate", 9), class("cup", 9)];
    line.rack_kinds = vec![rack_kind("peg", 1)];
    line.scrapping[0] = Scrapping {
        piece_s: vec![1.0, 1.0],
        ..scrapping(10.0, vec![PiecesTo::Racks(0); 2])
    };
    line.racking[0].open_racks = 2;
    line.crew.push(worker("second", &[SCRAP]));
    let mut demand = two_kinds(&[0.0], &[1.0, 0.0], &[15.0], &[0.0, 1.0]);
    let mut eight = demand.kinds[0].clone();
    eight.pieces = vec![8.0, 0.0];
    demand.covers = scullery_engine::demand::Covers::Instants(vec![at(0.0), at(14.0), at(15.0)]);
    eight.share = vec![(at(0.0), 0.0), (at(14.0), 1.0), (at(15.0), 0.0)];
    demand.kinds[0].share = vec![(at(0.0), 1.0), (at(14.0), 0.0)];
    demand.kinds.push(eight);
    let (ended, diary) = live(&line, &demand);
    // The plate at 11; the cup done at 26 finds the only rack open; eight plates done at 32 fill it: washed 32–92, and
    // the cup gets it at 92.
    assert_eq!(ended.how, How::StatedEnd);
    assert_eq!(diary.spans("second", State::HeldUp, 200.0), [(26.0, 92.0)]);
    assert_eq!(ended.balance.trays_out, 3);
}

#[test]
fn who_is_held_up_and_has_a_break_to_come_is_not_locked_for_good() {
    // One rack of 3 with a plate in it; the cup of 1 finds none. The break of 100–150 takes the worker off the cup;
    // back, they take the tray of 2, whose plates fill the rack: washed 150–210, and the cup gets it then.
    let mut line = wash_line(3);
    line.classes.push(class("cup", 2));
    line.rack_kinds = vec![rack_kind("peg", 1)];
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 2]);
    line.racking[0].open_racks = 2;
    line.crew[0].breaks = vec![(at(100.0), secs(50.0))];
    let mut demand = two_kinds(&[0.0, 2.0], &[1.0, 0.0], &[1.0], &[0.0, 1.0]);
    let mut two = demand.kinds[0].clone();
    two.pieces = vec![2.0, 0.0];
    two.share = vec![(at(0.0), 0.0), (at(2.0), 1.0)];
    demand.kinds[0].share = vec![(at(0.0), 1.0), (at(1.0), 0.0)];
    demand.kinds.push(two);
    let (ended, diary) = live(&line, &demand);
    assert_eq!(ended.how, How::StatedEnd);
    assert_eq!(diary.trips(), [(150.0, 210.0, 3), (210.0, 270.0, 1)]);
}

#[test]
fn nobody_on_shift_yet_is_waiting_not_gridlock() {
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 5000.0, 6000.0)],
        ..scrapping_line(10.0)
    };
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(diary.times("trays cleared"), [5010.0]);
    // All is clean at 5010; the last shift is over at 6000.
    assert_eq!(ended.all_clean_at, Some(at(5010.0)));
    assert_eq!(ended.at, at(6000.0));
}

#[test]
fn a_machine_switched_on_late_is_waiting_not_gridlock() {
    let mut line = wash_line(1);
    line.ends = None;
    line.lanes = vec![shelf(Some(1))];
    line.machines[0].on_at = at(5000.0);
    line.crew = vec![on_shift("scrapper", &[SCRAP], 0.0, 6000.0)];
    let (ended, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(diary.racks_out(), [5060.0, 5120.0, 5180.0, 5240.0]);
}

#[test]
fn ware_left_when_the_last_has_gone_home_is_told_as_such() {
    let line = Line {
        crew: vec![on_shift("one", &[SCRAP], 0.0, 100.0)],
        ..scrapping_line(60.0)
    };
    let (ended, _) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0]));
    // Two are done, at 60 and (past the shift) at 120.
    assert_eq!(ended.balance.trays_out, 2);
    assert_eq!(
        gridlock(&ended.how),
        "since 00:02:00: nothing can move any more: 1 tray at table; nobody is on shift any more"
    );
}

#[test]
fn a_worker_held_up_for_good_is_named_with_what_holds_them() {
    // The machine is never switched on again after 100; the lane holds one rack.
    let mut line = wash_line(1);
    line.ends = None;
    line.lanes = vec![shelf(Some(1))];
    line.machines[0].off_at = Some(at(100.0));
    let (ended, _) = live(&line, &coming(&[200.0; 3], &[1.0]));
    let sentence = gridlock(&ended.how);
    assert!(
        sentence.ends_with("; scrapper is held up by lane"),
        "{sentence}"
    );
    assert_eq!(ended.at, at(200.0));
}

#[test]
fn a_line_still_busy_twelve_hours_after_the_last_drop_off_is_never_drained() {
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        ..scrapping_line(50_000.0)
    };
    let (ended, _) = live(&line, &coming(&[0.0, 100.0], &[1.0]));
    assert_eq!(ended.how, How::NeverDrained);
    assert_eq!(ended.at, at(100.0 + 12.0 * 3600.0));
    assert_eq!(ended.balance.trays_inside, 2);
}

#[test]
fn a_stated_end_with_ware_inside_is_an_ordinary_result_that_tells_what_is_inside() {
    let line = Line {
        ends: Some(at(30.0)),
        ..two_stages(None)
    };
    let (ended, _) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(ended.how, How::StatedEnd);
    assert_eq!(ended.at, at(30.0));
    // Cleared at 10 and 20 (at 30 is not within the run), the first in the racker's hands, the second on the pile.
    assert_eq!(
        ended.balance.unfinished,
        [
            "2 trays at table",
            "1 tray in work at scrapping",
            "2 pieces on piles, in hands and in open racks at racking"
        ]
    );
    assert_eq!((ended.balance.trays_in, ended.balance.trays_inside), (5, 5));
    assert_eq!(ended.all_clean_at, None);
}
