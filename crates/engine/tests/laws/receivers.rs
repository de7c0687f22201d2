//! What diners put away at the drop-off, and carts that fill at a post. Timed by hand.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// A plate and three pieces of cutlery a tray; 5 s to put down, 4 s to handle, 2 s a plate, 1 s a piece of cutlery. What
/// goes into the chute adds 2 s and half a second a piece, and saves a second at the table.
fn chute_line() -> Line {
    Line {
        classes: vec![loose("plate"), loose("cutlery")],
        receivers: vec![receiver("chute", 4)],
        drop_offs: vec![DropOff {
            put_down_s: Dist::Constant(5.0),
            aids: vec![DinerAid {
                adds_s: 2.0,
                adds_piece_s: 0.5,
                saves_s: 1.0,
                ..puts_in(&[false, true])
            }],
            ..drop_off(TraysTo::Table(0))
        }],
        scrapping: vec![Scrapping {
            piece_s: vec![2.0, 1.0],
            ..scrapping(4.0, vec![PiecesTo::Leave; 2])
        }],
        crew: vec![worker("one", &[SCRAP])],
        duties: vec![duty(DutyWhen::Change(0), 30.0, SCRAP)],
        ends: Some(at(500.0)),
        ..scrapping_line(0.0)
    }
}

#[test]
fn what_finds_no_room_in_a_chute_stays_on_the_tray_and_is_work_at_the_table() {
    let (ended, diary) = live(&chute_line(), &coming(&[0.0, 10.0, 20.0], &[1.0, 3.0]));
    // First: 3 in, down at 5 + 2 + 1.5 = 8.5; work 4 + 2 - 1 = 5 s to 13.5. Second, at 10: one more fits, and the chute is
    // full; down at 17.5. The one there changes it first: 13.5 to 43.5. Then 4 + 2 + 2 - 1 = 7 s to 50.5. Third, at 20: the
    // chute is full; down at 25, 4 + 2 + 3 = 9 s to 59.5.
    assert_eq!(diary.times("trays dropped off"), [8.5, 17.5, 25.0]);
    assert_eq!(diary.times("trays cleared"), [13.5, 50.5, 59.5]);
    assert_eq!(
        diary.levels_of("receiver.chute"),
        [(0.0, 3), (10.0, 4), (43.5, 0)]
    );
    assert_eq!(
        diary.times("pieces clean of a class cutlery"),
        [43.5, 43.5, 43.5, 43.5, 50.5, 50.5, 59.5, 59.5, 59.5]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn who_must_use_a_full_chute_waits_for_it_at_the_position() {
    let mut line = chute_line();
    line.drop_offs[0].aids[0].waits = true;
    line.duties[0].by = vec![Post::Duty(0)];
    line.crew.push(worker("porter", &[Post::Duty(0)]));
    let (ended, diary) = live(&line, &coming(&[0.0, 10.0, 20.0], &[1.0, 3.0]));
    // Second: one of three fits at 10, the porter changes it from 10 to 40, then the other two; 5 + 2 + 1.5 s more: 48.5.
    // Third: steps up at 48.5, two fit beside those two, changed to 78.5, the last one in: 87. A last change, to 117, empties
    // it of that one.
    assert_eq!(diary.times("trays dropped off"), [8.5, 48.5, 87.0]);
    assert_eq!(
        diary.waits_at("drop_off.window.standing"),
        [0.0, 30.0, 58.5]
    );
    assert_eq!(
        diary.levels_of("receiver.chute"),
        [
            (0.0, 3),
            (10.0, 4),
            (40.0, 2),
            (48.5, 4),
            (78.5, 1),
            (117.0, 0)
        ]
    );
    // No cutlery is left on any tray: 4 + 2 - 1 = 5 s.
    assert_eq!(diary.times("trays cleared"), [13.5, 53.5, 92.0]);
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn a_glass_rack_at_the_drop_off_is_out_of_the_pool_and_goes_to_the_lane_as_it_is() {
    // Two glass racks of two. The first stands at the drop-off; it is full at 10 and on the lane at 25. The third glass finds
    // it full, and is racked at the table; at 30 the pool is empty, so the fourth is too and fills that rack.
    let mut line = wash_line(2);
    line.rack_kinds[0].count = 2;
    line.receivers = vec![Receiver {
        room: None,
        goes: ReceiverGoes::AsRack(0),
        ..receiver("glasses", 1)
    }];
    line.drop_offs[0].aids = vec![puts_in(&[true])];
    line.crew.push(worker("porter", &[Post::Duty(0)]));
    line.duties = vec![duty(DutyWhen::Change(0), 15.0, Post::Duty(0))];
    let (ended, diary) = live(&line, &coming(&[0.0, 10.0, 20.0, 30.0], &[1.0]));
    assert_eq!(diary.trips(), [(25.0, 85.0, 2), (85.0, 145.0, 2)]);
    assert_eq!(
        diary.levels_of("receiver.glasses"),
        [(0.0, 1), (10.0, 2), (25.0, 0)]
    );
    assert_eq!(
        diary.levels_of("racks_empty.peg"),
        [(0.0, 1), (20.0, 0), (85.0, 1), (145.0, 2)]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn who_has_put_everything_away_tray_and_all_leaves_nothing_for_the_table() {
    // A tray and a cup; then a tray, a cup and a plate.
    let mut line = chute_line();
    line.classes = vec![loose("tray"), loose("cup"), loose("plate")];
    line.receivers.push(receiver("stack", 99));
    line.drop_offs[0].aids = vec![
        DinerAid {
            adds_s: 1.0,
            ..puts_in(&[false, true, false])
        },
        DinerAid {
            adds_s: 2.0,
            into: AidInto::Receiver(1),
            takes_tray: true,
            ..puts_in(&[true, false, false])
        },
    ];
    line.scrapping[0].piece_s = vec![3.0, 3.0, 3.0];
    line.scrapping[0].routes = vec![PiecesTo::Leave; 3];
    line.duties = vec![
        duty(DutyWhen::Change(0), 30.0, SCRAP),
        duty(DutyWhen::Change(1), 10.0, SCRAP),
    ];
    let tray_and_cup = [1.0, 1.0, 0.0];
    let demand = two_kinds(&[0.0], &tray_and_cup, &[20.0], &[1.0, 1.0, 1.0]);
    let (ended, diary) = live(&line, &demand);
    // 5 + 1 + 2 s each: 8 and 28. Nothing is left of the first: cleared as it is put down, and never on the table. Of the
    // second a plate, without a tray to handle: 3 s. Then last changes of both.
    assert_eq!(diary.times("trays dropped off"), [8.0, 28.0]);
    assert_eq!(diary.times("trays cleared"), [8.0, 31.0]);
    assert!(diary.levels_of("table.table").is_empty());
    assert_eq!(diary.times("other work done"), [61.0, 71.0]);
    assert_eq!(ended.balance.trays_out, 2);
}

#[test]
fn a_tray_cart_that_is_full_holds_the_table_up_until_it_is_swapped() {
    // A tray every 10 s; a cart holds two, and the porter swaps it in 20 s.
    let line = Line {
        receivers: vec![receiver("cart", 2)],
        scrapping: vec![scrapping(10.0, vec![PiecesTo::Receiver(0)])],
        crew: vec![worker("one", &[SCRAP]), worker("porter", &[Post::Duty(0)])],
        duties: vec![duty(DutyWhen::Change(0), 20.0, Post::Duty(0))],
        ends: Some(at(500.0)),
        ..scrapping_line(0.0)
    };
    let (ended, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    // Full at 20, swapped at 40: the third, done at 30, is held for 10 s. The fourth, at 50, fills the next.
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 30.0, 50.0]);
    assert_eq!(
        diary.held_up_by("one"),
        [(30.0, "receiver.cart".to_owned())]
    );
    assert_eq!(
        diary.times("pieces clean of a class tray"),
        [40.0, 40.0, 70.0, 70.0]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn one_pair_of_hands_puts_down_what_it_holds_and_swaps_the_cart() {
    let line = Line {
        receivers: vec![receiver("cart", 2)],
        scrapping: vec![scrapping(10.0, vec![PiecesTo::Receiver(0)])],
        crew: vec![worker("one", &[SCRAP])],
        duties: vec![Duty {
            may_wait: Some(secs(3600.0)),
            ..duty(DutyWhen::Change(0), 20.0, SCRAP)
        }],
        ends: Some(at(500.0)),
        ..scrapping_line(0.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    // The swap may wait, so the third tray comes first; it finds no room, is put down, and the cart is swapped, 30 to 50.
    assert_eq!(diary.times("other work done"), [50.0, 70.0]);
    assert_eq!(
        diary.times("pieces clean of a class tray"),
        [50.0, 50.0, 70.0]
    );
}

#[test]
fn a_chute_over_a_pile_lets_through_what_the_pile_has_room_for() {
    // The pile holds two, the chute three. A racker from 30 s on takes two at a time, 5 s a piece; a rack of six.
    let line = Line {
        classes: vec![class("cutlery", 6)],
        rack_kinds: vec![rack_kind("flat", 1)],
        receivers: vec![Receiver {
            goes: ReceiverGoes::StraightOn(PiecesTo::Pile(0)),
            ..receiver("chute", 3)
        }],
        drop_offs: vec![DropOff {
            aids: vec![puts_in(&[true])],
            ..drop_off(TraysTo::Table(0))
        }],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 1,
            grab: 2,
            piles: vec![pile(0, Some(2), 5.0)],
            ..racking(1, RacksTo::Leave)
        }],
        crew: vec![
            worker("one", &[SCRAP]),
            on_shift("racker", &[RACK], 30.0, 1_000.0),
        ],
        ends: Some(at(500.0)),
        ..scrapping_line(0.0)
    };
    let (ended, diary) = live(&line, &coming(&[0.0, 10.0], &[3.0]));
    // First: two on the pile, one in the chute. Second, at 10: two fit, one stays on the tray, and the table is held up by the
    // pile. At 30 the racker takes two and two come down; at 40 two more, then the chute's last and the table's one.
    assert_eq!(
        diary.levels_of("receiver.chute"),
        [(0.0, 1), (10.0, 3), (30.0, 1), (40.0, 0)]
    );
    assert_eq!(diary.spans("one", State::HeldUp, 500.0), [(10.0, 40.0)]);
    assert_eq!(
        diary.times("pieces clean of a class cutlery"),
        [60.0, 60.0, 60.0, 60.0, 60.0, 60.0]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

fn there(receiver: u8, class: u8, pieces: u16) -> ReceiverThere {
    ReceiverThere {
        receiver,
        class: ClassId(class),
        pieces,
    }
}

#[test]
fn what_is_already_in_a_chute_takes_its_room_and_goes_on_with_the_rest() {
    // Three of four places are taken. The diner of 10 puts one of three in; it is full, and the one there changes it, 10 to
    // 40. The tray is down at 10 + 5 + 2 + 0.5 = 17.5 and asks 4 + 2 + 2 - 1 = 7 s.
    let mut line = chute_line();
    line.already.receivers = vec![there(0, 1, 2), there(0, 1, 1)];
    let (ended, diary) = live(&line, &coming(&[10.0], &[1.0, 3.0]));
    assert_eq!(
        diary.levels_of("receiver.chute"),
        [(0.0, 3), (10.0, 4), (40.0, 0)]
    );
    assert_eq!(diary.times("trays dropped off"), [17.5]);
    assert_eq!(diary.times("trays cleared"), [47.0]);
    assert_eq!(
        diary.times("pieces clean of a class cutlery"),
        [40.0, 40.0, 40.0, 40.0, 47.0, 47.0]
    );
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn a_chute_that_is_already_full_is_changed_at_the_first_instant() {
    let mut line = chute_line();
    line.already.receivers = vec![there(0, 1, 4)];
    let (_, diary) = live(&line, &coming(&[], &[1.0, 3.0]));
    assert_eq!(diary.times("other work done"), [30.0]);
    assert_eq!(diary.levels_of("receiver.chute"), [(0.0, 4), (30.0, 0)]);
}

#[test]
fn a_rack_that_is_already_at_the_drop_off_is_out_of_the_pool() {
    // One of two glasses is in it; the second comes at 10, the porter has it on the lane at 25, and it is washed for 60 s.
    let mut line = wash_line(2);
    line.rack_kinds[0].count = 2;
    line.receivers = vec![Receiver {
        room: None,
        goes: ReceiverGoes::AsRack(0),
        ..receiver("glasses", 1)
    }];
    line.drop_offs[0].aids = vec![puts_in(&[true])];
    line.crew.push(worker("porter", &[Post::Duty(0)]));
    line.duties = vec![duty(DutyWhen::Change(0), 15.0, Post::Duty(0))];
    line.already.receivers = vec![there(0, 0, 1)];
    let (ended, diary) = live(&line, &coming(&[10.0], &[1.0]));
    assert_eq!(diary.trips(), [(25.0, 85.0, 2)]);
    assert_eq!(
        diary.levels_of("receiver.glasses"),
        [(0.0, 1), (10.0, 2), (25.0, 0)]
    );
    assert_eq!(diary.levels_of("racks_empty.peg"), [(0.0, 1), (85.0, 2)]);
    assert_eq!(ended.balance.pieces_inside, 0);
}

#[test]
fn more_than_a_receiver_has_room_or_racks_for_and_what_is_not_put_there_is_refused() {
    let misfit = |inside: &[ReceiverThere]| {
        let mut line = chute_line();
        line.already.receivers = inside.to_vec();
        line.already_misfit()
    };
    assert_eq!(misfit(&[there(0, 1, 4)]), None);
    let words = "1 cutlery are already in receiver chute and find no room, or no rack";
    assert_eq!(
        misfit(&[there(0, 1, 4), there(0, 1, 1)]),
        Some(words.to_owned())
    );
    let words = "plate are already in receiver chute, where none are put";
    assert_eq!(misfit(&[there(0, 0, 1)]), Some(words.to_owned()));
    let mut line = chute_line();
    for nowhere in [there(0, 9, 1), there(1, 1, 1), there(0, 1, 0)] {
        line.already.receivers = vec![nowhere];
        assert_eq!(
            line.faults(),
            ["what is already there is nothing, or nowhere"]
        );
    }
}
