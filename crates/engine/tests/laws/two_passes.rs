//! Two passes with sorting between: out, tipped out, sorted into other racks, washed again, and only then clean.

use scullery_engine::ended::How;
use scullery_engine::line::*;

use crate::hand::*;

const SORT: Post = Post::Racking(1);

/// Cutlery racked in no time into flat racks of `flat`, a door machine of 60 s, tipped out by `unloader` (5 s a rack), sorted
/// by `sorter` (2 s a piece) into upright racks of `upright`, dried for 30 s after the second pass, unloaded in 10 s.
fn twice(flat: u16, upright: u16, pile_room: Option<u32>) -> Line {
    let cutlery = Class {
        dry: secs(30.0),
        unload_rack_s: 10.0,
        second_pass: Some(SecondPass {
            at: 1,
            fits: vec![(RackKindId(1), upright)],
            take_off_s: 5.0,
        }),
        ..class("cutlery", flat)
    };
    Line {
        classes: vec![cutlery],
        rack_kinds: vec![rack_kind("flat", 3), rack_kind("upright", 3)],
        racking: vec![
            racking(1, RacksTo::Lane(0)),
            Racking {
                name: "sorting".into(),
                places: 1,
                grab: 9,
                piles: vec![pile(0, pile_room, 2.0)],
                ..racking(1, RacksTo::Lane(0))
            },
        ],
        machines: vec![Machine {
            to: Some(0),
            ..door(60.0)
        }],
        clean_ends: vec![clean_end(None)],
        crew: vec![
            worker("scrapper", &[SCRAP]),
            worker("sorter", &[SORT]),
            worker("unloader", &[UNLOAD]),
        ],
        ends: None,
        ..wash_line(flat)
    }
}

#[test]
fn ware_is_washed_sorted_into_other_racks_and_washed_again_before_it_is_clean() {
    // Washed 0-60, out and not dried, tipped out 60-65. Two pieces sorted 65-69, their rack washed 69-129, dry 159, unloaded
    // 159-169; the other two sorted 69-73, washed when the chamber is free 129-189, dry 219, unloaded 219-229.
    let (ended, diary) = live(&twice(4, 2, None), &coming(&[0.0], &[4.0]));
    assert_eq!(
        diary.trips(),
        [(0.0, 60.0, 4), (69.0, 129.0, 2), (129.0, 189.0, 2)]
    );
    assert_eq!(diary.times("racks in, first pass cutlery"), [0.0]);
    assert_eq!(diary.times("racks in, second pass cutlery"), [69.0, 129.0]);
    assert_eq!(
        diary.times("pieces clean of a class cutlery"),
        [169.0, 169.0, 229.0, 229.0]
    );
    assert_eq!(ended.all_clean_at, Some(at(229.0)));
    assert_eq!((ended.balance.trays_out, ended.balance.pieces_out), (1, 4));
    // On the pile between the passes: two taken at once, two after 4 s. The flat rack is back when it has been tipped out.
    assert_eq!(diary.waits_at("to_sort.cutlery"), [0.0, 4.0]);
    assert_eq!(diary.levels_of("racks_empty.flat"), [(0.0, 2), (65.0, 3)]);
}

#[test]
fn a_rack_of_the_first_pass_keeps_its_place_until_its_pieces_have_room_to_be_sorted() {
    // Tipped out 60-65: three lie on the pile, the fourth finds no room until the sorter comes at 100 s and takes two.
    let mut line = twice(4, 2, Some(3));
    line.crew[1] = on_shift("sorter", &[SORT], 100.0, 100_000.0);
    let (ended, diary) = live(&line, &coming(&[0.0], &[4.0]));
    assert_eq!(
        diary.held_up_by("unloader"),
        [(65.0, "to_sort.cutlery".into())]
    );
    assert_eq!(
        diary.levels_of("to_sort.cutlery"),
        [(65.0, 3), (100.0, 2), (104.0, 0)]
    );
    assert_eq!(
        diary.levels_of("clean_end.clean end")[..2],
        [(60.0, 1), (100.0, 0)]
    );
    assert_eq!(diary.levels_of("racks_empty.flat"), [(0.0, 2), (100.0, 3)]);
    // Sorted 100-104 and 104-108; washed 104-164 and 164-224; dry 254; unloaded 254-264.
    assert_eq!(ended.all_clean_at, Some(at(264.0)));
}

#[test]
fn a_second_rack_is_not_tipped_out_while_the_pile_is_full() {
    // Eight pieces in racks of four, a pile of four, nobody to sort until 300 s: the first is tipped out 60-65, the second is
    // out at 120 and stands, the unloader before it held up by the pile, until the sorter takes two at 300 s.
    let mut line = twice(4, 2, Some(4));
    line.crew[1] = on_shift("sorter", &[SORT], 300.0, 100_000.0);
    let (ended, diary) = live(&line, &coming(&[0.0], &[8.0]));
    assert_eq!(
        diary.held_up_by("unloader"),
        [(120.0, "to_sort.cutlery".into())]
    );
    // The second is tipped out 300-305; the sorter takes two more at 304, so that all of it finds room at once.
    assert_eq!(
        diary.levels_of("racks_empty.flat"),
        [(0.0, 1), (65.0, 2), (305.0, 3)]
    );
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(ended.balance.pieces_out, 8);
}

#[test]
fn after_the_rush_a_part_filled_rack_waits_for_what_is_still_in_its_first_pass() {
    // Six pieces: racks of four and two, washed 0-60 and 60-120. The first four are sorted 65-73 into a rack of six, which
    // waits for the last two: tipped out 120-125, sorted 125-129; washed 129-189; dry 219; unloaded 219-229.
    let (ended, diary) = live(&twice(4, 6, None), &coming(&[0.0], &[6.0]));
    assert_eq!(
        diary.trips(),
        [(0.0, 60.0, 4), (60.0, 120.0, 2), (129.0, 189.0, 6)]
    );
    assert_eq!(ended.all_clean_at, Some(at(229.0)));
}

#[test]
fn a_machine_held_until_racks_gather_waits_for_those_that_come_back_to_be_sorted() {
    // Starts at two racks. Eight pieces: two racks washed 0-60 and 60-120, then it rests. Tipped out 60-65 and 120-125; sorted
    // into racks of four 65-73 and 125-133. The first of them stands from 73 s on the lane while the machine runs: taken in at
    // 120 and out at 180; the second 180-240.
    let mut line = twice(4, 4, None);
    line.machines[0].control = Control::HoldAndRun {
        racks: 2,
        longest_wait: None,
        work: None,
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[8.0]));
    assert_eq!(diary.racks_out(), [60.0, 120.0, 180.0, 240.0]);
    // With an unloader from 200 s on who takes 20 s a rack: tipped out 200-220-240, sorted 220-228 and 240-248. The first
    // rack stands alone on the lane at 228, no pile holds anything and nothing soiled comes any more; but a rack of the
    // first pass is in the unloader's hands, and the machine starts at 248.
    line.crew[2] = on_shift("unloader", &[UNLOAD], 200.0, 100_000.0);
    line.classes[0].second_pass.as_mut().unwrap().take_off_s = 20.0;
    let (_, diary) = live(&line, &coming(&[0.0], &[8.0]));
    assert_eq!(diary.racks_out(), [60.0, 120.0, 308.0, 368.0]);
}

#[test]
fn what_is_washed_twice_and_does_not_fit_together_is_refused() {
    let mut no_pile = twice(4, 2, None);
    no_pile.racking[1].piles.clear();
    let mut no_racks = twice(4, 2, None);
    no_racks.classes[0]
        .second_pass
        .as_mut()
        .unwrap()
        .fits
        .clear();
    let mut at_once = twice(4, 2, None);
    at_once.scrapping[0].routes = vec![PiecesTo::Pile(1)];
    let mut no_end = twice(4, 2, None);
    no_end.machines[0].to = None;
    for (line, said) in [
        (no_pile, "cutlery finds no pile between its passes"),
        (no_racks, "cutlery is sorted into no racks"),
        (at_once, "cutlery is sorted before its first pass"),
        (no_end, "cutlery finds no clean end after its first pass"),
    ] {
        assert_eq!(line.faults(), [said]);
    }
}
