//! Filling racks: limits, pools, kinds, racks of several trays, held-back classes.

use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// A drop-off that never closes, so that nothing leaves part-filled but by its limit.
fn open_line(size: u16, limit_s: Option<f64>) -> Line {
    let mut line = wash_line(size);
    line.drop_offs[0].closes = Closing::Never;
    line.racking[0].limit = limit_s.map(secs);
    line.ends = Some(at(1000.0));
    line
}

#[test]
fn a_piece_racked_as_the_limit_runs_out_gets_in_and_one_that_arrives_then_does_not() {
    // The first piece is racked at 6: due at 51. Racked at 51, after 5 s of breakdown: in.
    let mut line = open_line(4, Some(45.0));
    line.scrapping[0].handling_s = 5.0;
    let (_, diary) = live(&line, &coming(&[1.0, 46.0], &[1.0]));
    assert_eq!(diary.sent(), [(51.0, 2)]);
    // Arriving at 51 and racked in no time: next rack, due at 96.
    line.scrapping[0].handling_s = 0.0;
    let (_, diary) = live(&line, &coming(&[6.0, 51.0], &[1.0]));
    assert_eq!(diary.sent(), [(51.0, 1), (96.0, 1)]);
}

#[test]
fn a_rack_that_is_due_stays_open_until_the_lane_has_room() {
    // The lane holds one rack until the machine is hot at 60. The second rack has its first piece at 5, is due at 50,
    // takes another at 55 and leaves at 60 with both.
    let mut line = open_line(3, Some(45.0));
    line.lanes = vec![shelf(Some(1))];
    line.machines[0].on_at = at(60.0);
    let demand = two_kinds(&[0.0], &[3.0], &[5.0, 55.0], &[1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.sent(), [(0.0, 3), (60.0, 2)]);
}

#[test]
fn the_limit_of_each_rack_runs_from_its_own_first_piece() {
    // Plates from 0, cups from 20: due at 45 and 65.
    let mut line = open_line(9, Some(45.0));
    line.classes.push(class("cup", 9));
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 2]);
    line.racking[0].open_racks = 2;
    let demand = two_kinds(&[0.0, 30.0], &[1.0, 0.0], &[20.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.sent(), [(45.0, 2), (65.0, 1)]);
}

#[test]
fn a_rack_that_left_full_leaves_no_limit_behind() {
    // Full at 10; the next has its first piece at 20 and is due at 65, not at 45.
    let line = open_line(2, Some(45.0));
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 20.0], &[1.0]));
    assert_eq!(diary.sent(), [(10.0, 2), (65.0, 1)]);
}

#[test]
fn pieces_that_find_room_go_and_the_worker_stays_for_the_rest() {
    // One peg rack of 3, with 2 plates in it since 0. At 10 a tray with 2 plates and a cup: one plate fills the rack
    // and it leaves, the cup finds its own rack. The other plate waits for the rack: washed 10–70.
    let mut line = open_line(3, None);
    line.classes.push(class_in("cup", 1, 9));
    line.rack_kinds = vec![rack_kind("peg", 1), rack_kind("cup rack", 1)];
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 2]);
    line.racking[0].open_racks = 2;
    let demand = two_kinds(&[0.0], &[2.0, 0.0], &[10.0], &[2.0, 1.0]);
    let (ended, diary) = live(&line, &demand);
    assert_eq!(diary.trips(), [(10.0, 70.0, 3)]);
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(10.0, "racks_empty.peg".to_owned())]
    );
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 1000.0),
        [(10.0, 70.0)]
    );
    // The first tray is out, the second has a plate and a cup in open racks.
    assert_eq!(ended.balance.trays_out, 1);
    assert_eq!(
        ended.balance.unfinished,
        ["2 pieces on piles, in hands and in open racks at racking"]
    );
}

#[test]
fn a_class_without_a_place_for_its_rack_waits_for_one() {
    // One open rack: a plate stands in it until its limit at 45; the cup of 10 waits so long, and is due at 90.
    let mut line = open_line(9, Some(45.0));
    line.classes.push(class("cup", 9));
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 2]);
    let demand = two_kinds(&[0.0], &[1.0, 0.0], &[10.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.sent(), [(45.0, 1), (90.0, 1)]);
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(10.0, "racks_open.racking".to_owned())]
    );
}

#[test]
fn a_class_takes_the_first_of_its_kinds_that_has_an_empty_rack() {
    // Best a rack of 4, of which there is one; then racks of 2.
    let mut line = open_line(4, None);
    line.classes[0].fits.push((RackKindId(1), 2));
    line.rack_kinds = vec![rack_kind("large", 1), rack_kind("small", 9)];
    let (_, diary) = live(&line, &coming(&[0.0], &[8.0]));
    let racks: Vec<_> = diary
        .racks
        .iter()
        .map(|r| (r.kind, r.pieces, r.size))
        .collect();
    assert_eq!(racks, [(0, 4, 4), (1, 2, 2), (1, 2, 2)]);
}

#[test]
fn a_tray_is_clean_when_the_last_of_its_pieces_is() {
    // Six plates fill a rack of 4 and half the next; the second tray's two fill that. Racks out at 60 and 120.
    let line = open_line(4, None);
    let demand = two_kinds(&[0.0], &[6.0], &[1.0], &[2.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.racks_out(), [60.0, 120.0]);
    assert_eq!(diary.times("trays wholly clean"), [120.0, 120.0]);
    assert_eq!(
        diary.times("pieces clean"),
        [60.0, 60.0, 60.0, 60.0, 120.0, 120.0, 120.0, 120.0]
    );
}

#[test]
fn racks_that_go_in_part_filled_are_counted() {
    let line = open_line(4, Some(45.0));
    let (_, diary) = live(&line, &coming(&[0.0], &[5.0]));
    assert_eq!(diary.times("racks in machine"), [0.0, 60.0]);
    assert_eq!(diary.times("racks part-filled machine"), [60.0]);
}

/// Plates straight into racks, dinner trays onto a pile that is held back; `racker` takes 5 s a tray.
fn held_back_line(release: Vec<Release>) -> Line {
    let mut line = wash_line(1);
    line.classes.push(class("tray", 1));
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0), PiecesTo::Pile(0)]);
    line.racking[0] = Racking {
        places: 1,
        piles: vec![Pile {
            held_back: release,
            ..pile(1, None, 5.0)
        }],
        ..racking(4, RacksTo::Lane(0))
    };
    line.crew.push(worker("racker", &[RACK]));
    line.drop_offs[0].closes = Closing::At(at(500.0));
    line
}

#[test]
fn a_class_held_back_until_a_clock_time_is_racked_from_then_on() {
    let line = held_back_line(vec![Release::From(at(100.0))]);
    let (_, diary) = live(&line, &coming(&[0.0, 200.0], &[0.0, 1.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 1000.0),
        [(100.0, 105.0), (200.0, 205.0)]
    );
    assert_eq!(
        diary.levels_of("held_back.tray"),
        [(0.0, 1), (100.0, 0)],
        "the second is taken as it comes"
    );
}

#[test]
fn a_class_held_back_by_the_lane_is_racked_while_the_lane_is_below_its_level() {
    // Three racks of plates at 0: one in the machine, two on the lane. Below 2 from 60; the rack of trays makes it 2
    // again at 65; below from 120.
    let line = held_back_line(vec![Release::LaneBelow(2)]);
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0, 1.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 300.0),
        [(60.0, 65.0), (120.0, 125.0), (180.0, 185.0)]
    );
}

#[test]
fn a_class_held_back_by_lane_and_clock_waits_for_both() {
    // As above, but not before 100: one rack is on the lane then. The rack of trays makes it 2 at 105; below from 120.
    let line = held_back_line(vec![Release::LaneBelowFrom(2, at(100.0))]);
    let three = coming(&[0.0, 0.0, 0.0], &[1.0, 1.0]);
    let (_, diary) = live(&line, &three);
    assert_eq!(
        diary.spans("racker", State::Working, 300.0),
        [(100.0, 105.0), (120.0, 125.0), (180.0, 185.0)]
    );
    // The lane must be empty: it is at 120, until the rack of trays comes. From 150 on the clock lets go what is left.
    let line = held_back_line(vec![
        Release::LaneBelowFrom(1, at(100.0)),
        Release::From(at(150.0)),
    ]);
    let (_, diary) = live(&line, &three);
    assert_eq!(
        diary.spans("racker", State::Working, 300.0),
        [(120.0, 125.0), (150.0, 160.0)]
    );
}

#[test]
fn a_class_held_back_until_the_rush_is_over_is_racked_when_nothing_else_waits() {
    // The drop-off closes at 500; the last tray, put down at 499, is broken down in 20 s.
    let mut line = held_back_line(vec![Release::RushOver]);
    line.scrapping[0].handling_s = 20.0;
    let (_, diary) = live(&line, &coming(&[0.0, 499.0], &[1.0, 1.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 1000.0),
        [(519.0, 529.0)]
    );
    // Other ware on piles comes first.
    line.racking[0].piles.insert(0, pile(0, None, 30.0));
    line.scrapping[0].routes[0] = PiecesTo::Pile(0);
    let (_, diary) = live(&line, &coming(&[0.0, 499.0], &[1.0, 1.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 1000.0),
        [(20.0, 50.0), (519.0, 559.0)]
    );
}

#[test]
fn the_rush_once_over_is_not_begun_again_by_a_late_tray() {
    // Over at 500. A late tray at 600 is broken down until 700; the racker, on a break until 650, need not wait for it.
    // (The lane moves all the while, from 100 to 700.)
    let mut line = held_back_line(vec![Release::RushOver]);
    line.scrapping[0].handling_s = 100.0;
    line.scrapping[0].from.push(TraysFrom::Overflow(0));
    line.crew[1].breaks = vec![(at(450.0), secs(200.0))];
    let (_, diary) = live(&line, &coming(&[0.0, 600.0], &[10.0, 1.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 1000.0),
        [(650.0, 655.0), (700.0, 705.0)]
    );
}

#[test]
fn any_one_release_is_enough() {
    let line = held_back_line(vec![Release::RushOver, Release::From(at(50.0))]);
    let (_, diary) = live(&line, &coming(&[0.0], &[0.0, 1.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 1000.0),
        [(50.0, 55.0)]
    );
}
