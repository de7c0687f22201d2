//! Two-level racking: racks on a level above the table, with a lane of their own.

use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

fn above(open_racks: u32, classes: &[u8], to: RacksTo) -> Level {
    Level {
        name: "above".into(),
        open_racks,
        classes: classes.iter().map(|&class| ClassId(class)).collect(),
        to,
    }
}

/// Plates on the table, cups on the level above it; one rack open on either; both onto the same lane.
fn two_levels(size: u16) -> Line {
    let mut line = wash_line(size);
    line.classes.push(class("cup", size));
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 2]);
    line.racking[0].levels = vec![above(1, &[1], RacksTo::Lane(0))];
    line
}

/// Racks of 1; the level's go to a lane of its own with this room and a second machine of 100 s, the table's to one of 60 s.
fn own_lanes(room: Option<u32>) -> Line {
    let mut line = two_levels(1);
    line.racking[0].levels = vec![above(1, &[1], RacksTo::Lane(1))];
    let upper = Lane {
        name: "upper".into(),
        ..shelf(room)
    };
    line.lanes = vec![shelf(None), upper];
    line.machines.push(Machine {
        name: "second".into(),
        from: Some(1),
        ..door(100.0)
    });
    line
}

/// The trips of all racks, those that went in first first.
fn trips_in_order(diary: &Diary) -> Vec<(f64, f64, u16)> {
    let mut trips = diary.trips();
    trips.sort_by(|a, b| a.partial_cmp(b).expect("times"));
    trips
}

#[test]
fn a_class_of_the_level_above_finds_its_rack_while_the_table_is_taken() {
    // A plate stands on the table until its limit at 45. The cup of 10 stands above from 10 to 55: each by its own limit.
    let mut line = two_levels(9);
    line.drop_offs[0].closes = Closing::Never;
    line.racking[0].limit = Some(secs(45.0));
    line.ends = Some(at(1000.0));
    let demand = two_kinds(&[0.0], &[1.0, 0.0], &[10.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.sent(), [(45.0, 1), (55.0, 1)]);
    assert!(diary.held_up_by("scrapper").is_empty());
}

#[test]
fn no_class_stands_on_a_level_that_is_not_its_own() {
    // Bowls are of the table, which the plate's rack has until 45; the level above is free all the while, and stays so.
    let mut line = two_levels(9);
    line.classes[1].name = "bowl".into();
    line.racking[0].levels = vec![above(5, &[], RacksTo::Lane(0))];
    line.drop_offs[0].closes = Closing::Never;
    line.racking[0].limit = Some(secs(45.0));
    line.ends = Some(at(1000.0));
    let demand = two_kinds(&[0.0], &[1.0, 0.0], &[10.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.sent(), [(45.0, 1), (90.0, 1)]);
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(10.0, "racks_open.racking".to_owned())]
    );
}

#[test]
fn a_full_level_is_named_and_leaves_the_table_alone() {
    // A cup stands above until 45. The plate of 5 goes onto the table. The soup cup of 10, of the level too, waits for its
    // place and its rack is due at 90.
    let mut line = two_levels(9);
    line.classes.push(class("soup cup", 9));
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 3]);
    line.racking[0].levels = vec![above(1, &[1, 2], RacksTo::Lane(0))];
    line.drop_offs[0].closes = Closing::Never;
    line.racking[0].limit = Some(secs(45.0));
    line.ends = Some(at(1000.0));
    let demand = two_kinds(&[0.0], &[1.0, 1.0, 0.0], &[10.0], &[0.0, 0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.sent(), [(45.0, 1), (45.0, 1), (90.0, 1)]);
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(10.0, "racks_open.racking.above".to_owned())]
    );
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 1000.0),
        [(10.0, 45.0)]
    );
}

#[test]
fn each_level_sends_its_racks_to_a_lane_of_its_own() {
    // Plates go to the first machine, 60 s, cups to the second, 100 s: one of either at 0 and at 10, so that the second of each
    // waits for its own machine and for no other.
    let line = own_lanes(None);
    let demand = coming(&[0.0, 10.0], &[1.0, 1.0]);
    let (ended, diary) = live(&line, &demand);
    let trips = trips_in_order(&diary);
    // Plates: in at 0 and 60, out at 60 and 120. Cups: in at 0 and 100, out at 100 and 200.
    assert_eq!(
        trips,
        [
            (0.0, 60.0, 1),
            (0.0, 100.0, 1),
            (60.0, 120.0, 1),
            (100.0, 200.0, 1)
        ]
    );
    assert_eq!(ended.balance.trays_out, 2);
}

#[test]
fn a_lane_that_is_full_holds_up_its_own_level_only() {
    // Racks of 1. The upper lane holds one rack and its machine is hot at 300 only: the cup of 0 is on that lane, the cup of 10
    // stands full above, the cup of 20 finds no place. The plates of all three trays go on: washed 0-60, 60-120, 120-180.
    let mut line = own_lanes(Some(1));
    line.machines[1].on_at = at(300.0);
    let demand = coming(&[0.0, 10.0, 20.0], &[1.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(20.0, "lane.upper".to_owned())]
    );
    // The cup of 0 goes in at 300: the next has the lane, and the third its place.
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, 10_000.0),
        [(20.0, 300.0)]
    );
    let trips = trips_in_order(&diary);
    assert_eq!(
        trips,
        [
            (0.0, 60.0, 1),
            (60.0, 120.0, 1),
            (120.0, 180.0, 1),
            (300.0, 400.0, 1),
            (400.0, 500.0, 1),
            (500.0, 600.0, 1)
        ]
    );
}

#[test]
fn ware_held_back_looks_at_the_lane_of_its_own_level() {
    // Cups wait on a pile until the upper lane is empty. At 0 a cup there is released: racked in 10 s, in at 10. The lane of
    // the plates holds three racks from 0 on, its machine cold until 500: that keeps no cup back.
    let mut line = own_lanes(None);
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0), PiecesTo::Pile(0)]);
    line.racking[0].places = 1;
    line.racking[0].piles = vec![Pile {
        held_back: vec![Release::LaneBelow(1)],
        ..pile(1, None, 10.0)
    }];
    line.machines[0].on_at = at(500.0);
    line.crew.push(worker("racker", &[RACK]));
    let demand = coming(&[0.0, 1.0, 2.0], &[1.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    let cups: Vec<_> = diary
        .trips()
        .into_iter()
        .filter(|it| it.1 < 500.0)
        .collect();
    // The upper lane is empty again as soon as a rack goes in, so the next is racked while the machine washes and waits on the
    // lane from 20 on; that holds the third back until 110, when the second goes in.
    assert_eq!(
        cups,
        [(10.0, 110.0, 1), (110.0, 210.0, 1), (210.0, 310.0, 1)]
    );
    // Two cups in one go, the third when the second has gone in.
    let work = diary.spans("racker", State::Working, 400.0);
    assert_eq!(work, [(0.0, 20.0), (110.0, 120.0)]);
}

#[test]
fn a_held_machine_waits_for_its_own_level_only() {
    // The second machine starts at two racks, or when nothing more can come. The drop-off closes with the tray of 0, whose cup
    // is alone on the upper lane. Its machine starts at once, though the plate soaks on a pile of the same table until 400.
    let mut line = own_lanes(None);
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Pile(0), PiecesTo::Racks(0)]);
    line.racking[0].places = 1;
    line.racking[0].piles = vec![Pile {
        soak: secs(400.0),
        ..pile(0, None, 0.0)
    }];
    line.machines[1].control = Control::HoldAndRun {
        racks: 2,
        work: None,
        longest_wait: None,
    };
    line.crew.push(worker("racker", &[RACK]));
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0, 1.0]));
    let trips = trips_in_order(&diary);
    assert_eq!(trips, [(0.0, 100.0, 1), (400.0, 460.0, 1)]);
}

#[test]
fn levels_that_do_not_fit_are_refused() {
    let with = |levels: Vec<Level>| {
        let mut line = two_levels(1);
        line.racking[0].levels = levels;
        line.faults()
    };
    let told = ["racking racking has levels that do not fit".to_owned()];
    let one = |classes: &[u8]| above(1, classes, RacksTo::Lane(0));
    assert!(with(vec![one(&[0, 1])]).is_empty());
    assert_eq!(with(vec![one(&[1]), one(&[1])]), told);
    assert_eq!(with(vec![one(&[7])]), told);
    assert_eq!(with(vec![above(1, &[1], RacksTo::Lane(3))]), told);
    assert_eq!(with(vec![above(1, &[1], RacksTo::Machine(0))]), told);
    assert_eq!(with(vec![one(&[]); MOST_LEVELS + 1]), told);
    let mut line = two_levels(1);
    line.racking[0].to = RacksTo::Machine(0);
    assert!(line.faults().contains(&told[0]));
}
