//! Breaking down in series: each post takes its own classes off, and the tray goes on over a table to the next.

use scullery_engine::ended::Fault;
use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::{Nobody, State};

use crate::hand::*;

const FIRST: Post = Post::Scrapping(0);
const SECOND: Post = Post::Scrapping(1);

/// Cups are taken off first, 2 s a tray and 1 s a cup; the rest behind a table of so much room, 3 s a tray and 4 s a plate.
fn in_series(room: Option<u32>) -> Line {
    let first = Scrapping {
        name: "first".into(),
        piece_s: vec![1.0, 9.0],
        passes_on: Some(PassesOn {
            takes_off: vec![true, false],
            to: 1,
        }),
        ..scrapping(2.0, vec![PiecesTo::Leave; 2])
    };
    let second = Scrapping {
        name: "second".into(),
        from: vec![TraysFrom::Table(1)],
        piece_s: vec![9.0, 4.0],
        ..scrapping(3.0, vec![PiecesTo::Leave; 2])
    };
    Line {
        classes: vec![loose("cup"), loose("plate")],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![
            table(None),
            Table {
                name: "between".into(),
                room,
            },
        ],
        scrapping: vec![first, second],
        crew: vec![worker("a", &[FIRST]), worker("b", &[SECOND])],
        ends: Some(at(1_000.0)),
        ..bare()
    }
}

#[test]
fn a_tray_is_cleared_by_its_last_post_and_who_finds_the_table_full_holds_it() {
    // Three cups and two plates a tray: 5 s, then 11 s; room for one between. `b` works 5-16, 16-27, 27-38, 38-49. `a` is
    // done with the second at 10 and lays it down; with the third at 15, and holds it until the second is taken at 16;
    // with the fourth at 21, and holds it until 27.
    let (ended, diary) = live(&in_series(Some(1)), &coming(&[0.0; 4], &[3.0, 2.0]));
    assert_eq!(diary.times("trays cleared"), [16.0, 27.0, 38.0, 49.0]);
    assert_eq!(
        diary.spans("a", State::HeldUp, 1_000.0),
        [(15.0, 16.0), (21.0, 27.0)]
    );
    let by = diary.held_up_by("a");
    assert!(by.iter().all(|(_, place)| place == "table.between"));
    assert_eq!(diary.waits_at("table.between"), [0.0, 6.0, 11.0, 11.0]);
    // Cups leave as soon as they are off, plates with the second post.
    let cups = diary.times("pieces clean of a class cup");
    assert_eq!(
        cups.iter().step_by(3).copied().collect::<Vec<_>>(),
        [5.0, 10.0, 15.0, 21.0]
    );
    // What is on its way between the posts is not cleared.
    let backlog = diary.levels_of("backlog");
    assert_eq!(
        backlog,
        [(0.0, 4), (16.0, 3), (27.0, 2), (38.0, 1), (49.0, 0)]
    );
    assert_eq!(ended.balance.trays_out, 4);
    assert_eq!(ended.balance.pieces_out, 20);
}

#[test]
fn two_posts_in_series_keep_the_recursion_of_a_line_of_two_with_limited_room_between() {
    // Textbook: a tray leaves the first when its work is done and the tray (room) places before it has been begun at the
    // second; it is begun at the second when it has left the first and the one before it is done there. Plates alone
    // (2 s, then 3 + 4 n) and cups mostly (2 + n, then 3 + 4) come in turn, so that now one post is slower, now the other.
    let few = [0.0, 3.0, 4.0, 20.0, 22.0, 40.0, 41.0, 42.0];
    let many = [1.0, 2.0, 5.0, 6.0, 21.0, 23.0, 43.0, 60.0];
    let demand = two_kinds(&few, &[0.0, 3.0], &many, &[14.0, 1.0]);
    let mut all: Vec<(f64, f64, f64)> = few.iter().map(|&s| (s, 2.0, 15.0)).collect();
    all.extend(many.iter().map(|&s| (s, 16.0, 7.0)));
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    for room in [1, 2, 3, 50] {
        let (mut left, mut begun, mut done) = (0.0_f64, Vec::<f64>::new(), Vec::<f64>::new());
        for (k, &(came, first_s, second_s)) in all.iter().enumerate() {
            let ready = came.max(left) + first_s;
            let freed = k.checked_sub(room).map_or(0.0, |before| begun[before]);
            left = ready.max(freed);
            begun.push(left.max(done.last().copied().unwrap_or(0.0)));
            done.push(begun[k] + second_s);
        }
        let (_, diary) = live(&in_series(Some(room as u32)), &demand);
        assert_eq!(diary.times("trays cleared"), done, "room for {room}");
        assert_eq!(diary.taken_from("table.between"), begun, "room for {room}");
    }
}

#[test]
fn a_tray_with_nothing_left_on_it_is_cleared_where_the_last_piece_came_off() {
    // The coffee drinkers at 0 and 1 bring two cups: 4 s each, and nothing for the second post. The guest of 2 brings a
    // plate only: the first post still handles the tray (2 s).
    let demand = two_kinds(&[0.0, 1.0], &[2.0, 0.0], &[2.0], &[0.0, 1.0]);
    let (_, diary) = live(&in_series(Some(1)), &demand);
    assert_eq!(diary.times("trays cleared"), [4.0, 8.0, 17.0]);
    assert_eq!(diary.taken_from("table.between"), [10.0]);
}

#[test]
fn one_pair_of_hands_at_both_posts_puts_the_tray_down_and_goes_on_with_it_behind() {
    // Room for one. 0-5 and 5-10 at the first post; the second tray finds the table full, so it is put down there and the
    // first is broken down 10-21, upon which the second lies on the table. At 21 the third is taken, done at 26, put down;
    // then the second 26-37 and the third 37-48.
    let mut line = in_series(Some(1));
    line.crew = vec![worker("only", &[FIRST, SECOND])];
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[3.0, 2.0]));
    assert_eq!(diary.times("trays cleared"), [21.0, 37.0, 48.0]);
    assert!(
        diary
            .held_up_by("only")
            .iter()
            .all(|(s, _)| *s == 10.0 || *s == 26.0)
    );
}

#[test]
fn a_tray_goes_on_while_its_cups_still_wait_for_room_on_their_pile() {
    // The pile takes two cups, which nobody racks. The first tray's cups fill it at 4. Those of the second, done at 8, stay
    // in hand, but the tray goes on: the second post takes 7 s, from 4 to 11 and from 11 to 18.
    let mut line = in_series(None);
    line.rack_kinds = vec![rack_kind("peg", 9)];
    line.classes[0] = class("cup", 9);
    line.racking = vec![Racking {
        piles: vec![pile(0, Some(2), 1.0)],
        ..racking(1, RacksTo::Leave)
    }];
    line.scrapping[0].routes[0] = PiecesTo::Pile(0);
    let (ended, diary) = live(&line, &coming(&[0.0; 2], &[2.0, 1.0]));
    assert_eq!(diary.times("trays cleared"), [11.0, 18.0]);
    assert_eq!(diary.held_up_by("a"), [(8.0, "pile.cup".to_owned())]);
    assert_eq!(ended.balance.pieces_inside, 4);
}

#[test]
fn trays_passed_on_in_a_circle_or_to_no_room_are_refused() {
    let refused = |line: &Line| {
        let mut tape = Tape::new();
        tape.draw(&coming(&[0.0], &[1.0, 1.0]), 1, 0);
        match run(line, &tape, &mut Floor::new(), &mut Nobody) {
            Err(Fault::Line(what)) => what,
            other => panic!("{other:?}"),
        }
    };
    let mut round = in_series(None);
    round.scrapping[1].passes_on = Some(PassesOn {
        takes_off: vec![false; 2],
        to: 0,
    });
    assert_eq!(refused(&round), "trays are passed on in a circle");
    let nowhere = in_series(Some(0));
    assert_eq!(
        refused(&nowhere),
        "scrapping first passes trays on to no room"
    );
}
