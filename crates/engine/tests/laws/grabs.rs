//! Racking as a post of its own: grabs from piles.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// Plates (2 s each, room 10) and cups (3 s each, room 4) on piles; grabs of up to three.
fn pile_line() -> Line {
    let mut line = wash_line(9);
    line.classes.push(class("cup", 9));
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Pile(0); 2]);
    line.racking[0] = Racking {
        places: 2,
        grab: 3,
        piles: vec![pile(0, Some(10), 2.0), pile(1, Some(4), 3.0)],
        ..racking(4, RacksTo::Lane(0))
    };
    line.crew.push(worker("racker", &[RACK]));
    line
}

#[test]
fn a_grab_is_taken_from_the_pile_fullest_for_its_room() {
    // 4 plates of 10, 2 cups of 4: cups first (0–6), then three plates (6–12) and one (12–14).
    let line = pile_line();
    let (_, diary) = live(&line, &coming(&[0.0], &[4.0, 2.0]));
    assert_eq!(
        diary.levels_of("pile.cup"),
        [],
        "taken as they were put down"
    );
    assert_eq!(
        diary.levels_of("pile.plate"),
        [(0.0, 4), (6.0, 1), (12.0, 0)]
    );
    assert_eq!(diary.spans("racker", State::Working, 100.0), [(0.0, 14.0)]);
}

#[test]
fn equally_full_piles_are_taken_in_file_order() {
    // 5 of 10 and 2 of 4. Plates first: 5 → 2 of 10; then cups 2 of 4, then plates.
    let line = pile_line();
    let (_, diary) = live(&line, &coming(&[0.0], &[5.0, 2.0]));
    assert_eq!(diary.levels_of("pile.plate"), [(0.0, 2), (12.0, 0)]);
    assert_eq!(diary.levels_of("pile.cup"), [(0.0, 2), (6.0, 0)]);
}

#[test]
fn several_rack_at_one_table_side_by_side_each_from_a_grab_of_their_own() {
    // Six plates: three each, 0–6.
    let mut line = pile_line();
    line.crew.push(worker("second", &[RACK]));
    let (_, diary) = live(&line, &coming(&[0.0], &[6.0, 0.0]));
    for who in ["racker", "second"] {
        assert_eq!(diary.spans(who, State::Working, 100.0), [(0.0, 6.0)]);
    }
}

#[test]
fn a_pile_holds_so_many_pieces_and_the_scrapper_waits_with_the_rest() {
    // Room for 4 cups, 6 come: the first grab of three makes room at once for the other two.
    let mut line = pile_line();
    line.crew[1] = on_shift("racker", &[RACK], 20.0, 1000.0);
    let (_, diary) = live(&line, &coming(&[0.0], &[0.0, 6.0]));
    assert_eq!(diary.held_up_by("scrapper"), [(0.0, "pile.cup".to_owned())]);
    assert_eq!(
        diary.levels_of("pile.cup"),
        [(0.0, 4), (20.0, 3), (29.0, 0)]
    );
}

#[test]
fn who_has_ware_to_rack_and_no_rack_is_held_up() {
    // Two racks in all, of one cup each; a cup is racked in 3 s and washed in 60: free again at 63 and 123.
    let mut line = pile_line();
    line.rack_kinds = vec![rack_kind("peg", 1)];
    line.classes[1].fits = vec![(RackKindId(0), 1)];
    let (_, diary) = live(&line, &coming(&[0.0], &[0.0, 2.0]));
    assert_eq!(
        diary.spans("racker", State::Working, 200.0),
        [(0.0, 3.0), (63.0, 66.0)]
    );
    assert_eq!(
        diary.held_up_by("racker"),
        [(3.0, "racks_empty.peg".to_owned())]
    );
}

#[test]
fn the_factor_of_a_grab_belongs_to_the_place_the_class_and_the_how_manieth_grab_it_is() {
    // The n-th grab of plates takes as long whoever racks, however many rack, and whatever happens to the cups.
    let mut line = pile_line();
    line.racking[0].variation = Dist::Gamma { mean: 1.0, cv: 0.5 };
    line.racking[0].grab = 1;
    // With room for any number the cups are never the fuller pile: the first racker takes the plate.
    line.racking[0].piles[1].room = None;
    let first_grab = |line: &Line, cups: f64| {
        let (_, diary) = live(line, &coming(&[0.0], &[1.0, cups]));
        let opened = diary.racks.iter().find(|r| r.class == 0);
        opened.map(|r| r.opened.s())
    };
    let alone = first_grab(&line, 0.0).expect("plates are washed");
    assert!((alone - 2.0).abs() > 0.01, "the factor varies: {alone}");
    line.crew.push(worker("second", &[RACK]));
    let beside = first_grab(&line, 3.0).expect("plates are washed");
    assert_eq!(alone, beside);
}
