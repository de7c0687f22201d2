//! Ware that has to soak before it is racked. Timed by hand.

use scullery_engine::line::*;

use crate::hand::*;

/// Cutlery soaks 100 s in a sink of so many; five at a time are racked, 2 s a piece; a rack of five leaves the line.
fn sink(room: u32) -> Line {
    Line {
        classes: vec![class("cutlery", 5)],
        rack_kinds: vec![rack_kind("flat", 9)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 1,
            grab: 5,
            piles: vec![Pile {
                soak: secs(100.0),
                ..pile(0, Some(room), 2.0)
            }],
            ..racking(1, RacksTo::Leave)
        }],
        crew: vec![worker("one", &[SCRAP]), worker("racker", &[RACK])],
        ends: Some(at(1_000.0)),
        ..scrapping_line(0.0)
    }
}

#[test]
fn pieces_are_racked_when_they_have_lain_in_the_sink_so_long() {
    // Three at 0, three at 60. At 100 the first three: 6 s. At 160 two of the others, as many as the rack still takes: 4 s, and
    // it is full; then the last one, 2 s, which goes as nothing more can come.
    let (ended, diary) = live(&sink(99), &coming(&[0.0, 60.0], &[3.0]));
    assert_eq!(
        diary.levels_of("pile.cutlery"),
        [(0.0, 3), (60.0, 6), (100.0, 3), (160.0, 1), (164.0, 0)]
    );
    assert_eq!(diary.waits_at("pile.cutlery"), [100.0, 100.0, 104.0]);
    assert_eq!(
        diary.times("pieces clean"),
        [164.0, 164.0, 164.0, 164.0, 164.0, 166.0]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn a_full_sink_holds_the_table_up_until_something_has_soaked() {
    // Room for four: of the second three one goes in at 60. At 100 the first three are taken out and the other two go in;
    // that one is ready at 160, those two at 200.
    let (_, diary) = live(&sink(4), &coming(&[0.0, 60.0], &[3.0]));
    assert_eq!(diary.held_up_by("one"), [(60.0, "pile.cutlery".to_owned())]);
    assert_eq!(
        diary.levels_of("pile.cutlery"),
        [
            (0.0, 3),
            (60.0, 4),
            (100.0, 3),
            (160.0, 2),
            (200.0, 1),
            (202.0, 0)
        ]
    );
    // The rack takes one more, to 202, and is full; then the last, to 204.
    assert_eq!(
        diary.times("pieces clean"),
        [202.0, 202.0, 202.0, 202.0, 202.0, 204.0]
    );
}
