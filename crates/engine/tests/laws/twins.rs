//! Twin belts: which trays go on the belt beside, and who is held up by which.

use scullery_engine::line::*;

use crate::hand::*;

/// Two belts of 10 m side by side, `near` of 40 s and `far` of 20 s from end to end; one worker at the end of both, who asks
/// the near one first.
fn side_by_side(takes: TwinTakes, tray_s: f64) -> Line {
    let near = Belt {
        name: "near".into(),
        ..ten_metres(EndRule::ClosesUp)
    };
    let far = Belt {
        name: "far".into(),
        speed: vec![(at(0.0), 30_000)],
        ..near.clone()
    };
    let mut line = belt_line(near, tray_s);
    line.belts.push(far);
    line.twins = vec![Twin {
        belt: 0,
        beside: 1,
        takes,
    }];
    line.scrapping[0].from.push(TraysFrom::BeltEnd(1));
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(1_000.0));
    line
}

#[test]
fn trays_of_a_kind_go_on_the_belt_beside() {
    // The second kind is put down at 2 and rides 20 s: 22. The first at 0 and 4, 40 s each: 40 and 44.
    let line = side_by_side(TwinTakes::Kinds(vec![false, true]), 1.0);
    let (_, diary) = live(&line, &two_kinds(&[0.0, 4.0], &[1.0], &[2.0], &[1.0]));
    assert_eq!(diary.taken_from("belt.near"), [40.0, 44.0]);
    assert_eq!(diary.taken_from("belt.far"), [22.0]);
}

#[test]
fn trays_that_carry_a_class_go_on_the_belt_beside_to_a_post_of_their_own() {
    // Trays with a glass come at 1 and 3 and are at the far end at 21 and 23, where a post of its own takes 5 s each: the
    // second waits until 26. The others, at 0 and 4, are at the near end at 40 and 44.
    let mut line = side_by_side(TwinTakes::Ware(vec![false, true]), 1.0);
    line.classes.push(loose("glass"));
    line.scrapping[0].from = vec![TraysFrom::BeltEnd(0)];
    line.scrapping[0].piece_s = vec![0.0; 2];
    line.scrapping[0].routes = vec![PiecesTo::Leave; 2];
    line.scrapping.push(Scrapping {
        name: "glasses".into(),
        from: vec![TraysFrom::BeltEnd(1)],
        handling_s: 5.0,
        ..line.scrapping[0].clone()
    });
    line.crew.push(worker("two", &[Post::Scrapping(1)]));
    let demand = two_kinds(&[0.0, 4.0], &[1.0, 0.0], &[1.0, 3.0], &[1.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.taken_from("belt.near"), [40.0, 44.0]);
    assert_eq!(diary.taken_from("belt.far"), [21.0, 26.0]);
    // One worker, were both belts to end at her: at 21 (5 s would be hers at the other post), here 1 s each.
    let mut one = line.clone();
    one.scrapping.pop();
    one.crew.pop();
    one.scrapping[0].from.push(TraysFrom::BeltEnd(1));
    let (_, diary) = live(&one, &demand);
    assert_eq!(diary.taken_from("belt.far"), [21.0, 23.0]);
}

#[test]
fn a_tray_that_finds_no_gap_goes_on_the_belt_beside() {
    // Three at once: the first on the near belt, the second finds no gap there and goes on the far one; the third finds
    // none on either. The far belt's gap comes first: 0.5 m at 0.5 m/s is 1 s (the near one's would come at 2).
    let line = side_by_side(TwinTakes::NoGap, 1.0);
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [0.0, 0.0, 1.0]);
    assert_eq!(diary.taken_from("belt.near"), [40.0]);
    assert_eq!(diary.taken_from("belt.far"), [20.0, 21.0]);
}

#[test]
fn a_belt_that_stands_holds_up_only_the_trays_that_go_on_it() {
    // The near belt stands until 100. Its first tray lies at the load point from 0 on; the next of its kind, at 1, is held
    // until that one has gone 0.5 m: 102. The other kind's, at 3, lands on the far belt from the second position.
    let mut line = side_by_side(TwinTakes::Kinds(vec![false, true]), 1.0);
    line.belts[0].stops = vec![Stop {
        from: at(0.0),
        to: at(100.0),
        then: AfterStop::Resume,
    }];
    line.drop_offs[0].positions_mm = vec![0, 0];
    let (_, diary) = live(&line, &two_kinds(&[0.0, 1.0], &[1.0], &[3.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [0.0, 3.0, 102.0]);
    assert_eq!(diary.taken_from("belt.far"), [23.0]);
    assert_eq!(diary.taken_from("belt.near"), [140.0, 142.0]);
}

#[test]
fn a_belt_beside_one_that_is_itself_beside_another_is_refused() {
    let mut line = side_by_side(TwinTakes::NoGap, 1.0);
    assert!(line.faults().is_empty());
    line.belts.push(line.belts[1].clone());
    line.twins.push(Twin {
        belt: 1,
        beside: 2,
        takes: TwinTakes::NoGap,
    });
    assert_eq!(
        line.faults(),
        ["a belt runs beside none, or beside one that runs beside another"]
    );
}
