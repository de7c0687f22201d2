//! Clean ware at the servery: stock, run-outs, carts and the runner.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// Plates one a rack, washed in 10 s, unloaded in no time onto carts of two plates; a trip of 40 s there and back.
fn cart_line(carts: u32, cart_pieces: u32, below: Option<u32>) -> Line {
    Line {
        classes: vec![Class {
            par: Some(20),
            ..class("plate", 1)
        }],
        machines: vec![Machine {
            to: Some(0),
            ..door(10.0)
        }],
        clean_ends: vec![clean_end(None)],
        delivery: Some(Delivery {
            name: "carts".into(),
            carts,
            cart_pieces,
            trip: secs(40.0),
            variation: Dist::Constant(1.0),
            below: vec![below],
        }),
        crew: vec![
            worker("scrapper", &[SCRAP]),
            worker("unloader", &[UNLOAD]),
            worker("runner", &[Post::Running]),
        ],
        ..wash_line(1)
    }
}

#[test]
fn a_full_cart_goes_and_its_ware_is_at_the_servery_half_way() {
    // Out at 10, 20 and 30. The cart is full at 20: away 20–60, the plates up at 40. The third waits in its rack for
    // the cart, and its unloader with it, until 60; as the last of all it goes at once: 60–100, up at 80.
    let line = cart_line(1, 2, None);
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(
        diary.spans("runner", State::Working, 1000.0),
        [(20.0, 100.0)]
    );
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 17), (40.0, 19), (80.0, 20)]
    );
    assert_eq!(
        diary.held_up_by("unloader"),
        [(30.0, "cart.carts".to_owned())]
    );
    assert_eq!(
        diary.levels_of("clean_end.clean end"),
        [(30.0, 1), (60.0, 0)]
    );
}

#[test]
fn a_second_cart_is_loaded_while_the_first_is_away() {
    let line = cart_line(2, 2, None);
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    // Full at 20 and at 40; one runner: 20–60, 60–100.
    assert!(diary.held_up_by("unloader").is_empty());
    assert_eq!(
        diary.levels_of("cart.carts"),
        [(10.0, 1), (20.0, 2), (30.0, 3), (40.0, 2), (80.0, 0)]
    );
}

#[test]
fn nobody_unloads_while_no_cart_has_room_and_who_also_runs_takes_the_full_one() {
    // Out at 10, 20, 30, 40, 50; one worker, 15 s a rack, one cart of two. Unloads to 25 and 40: the cart is full, so
    // nothing can be unloaded though it stands first on the list: runs 40–80, the plates up at 60. Unloads 80–95 and
    // 95–110, runs 110–150, up at 130. The fifth is unloaded 150–165 and is the last: it goes at once, up at 185.
    let mut line = cart_line(1, 2, None);
    line.classes[0].unload_rack_s = 15.0;
    line.crew = vec![
        worker("scrapper", &[SCRAP]),
        worker("both", &[UNLOAD, Post::Running]),
    ];
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 15), (60.0, 17), (130.0, 19), (185.0, 20)]
    );
    assert_eq!(diary.spans("both", State::Working, 1000.0), [(10.0, 205.0)]);
    assert_eq!(
        diary.levels_of("clean_end.clean end"),
        [
            (10.0, 1),
            (20.0, 2),
            (25.0, 1),
            (30.0, 2),
            (50.0, 3),
            (95.0, 2),
            (110.0, 1),
            (165.0, 0)
        ]
    );
}

#[test]
fn an_unloader_without_a_cart_is_held_up_and_a_line_without_a_runner_says_so() {
    // Out at 10, 20 and 30; the cart is full at 20 and nobody takes it.
    let mut line = cart_line(1, 2, None);
    line.crew.pop();
    line.ends = None;
    let (ended, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(
        diary.held_up_by("unloader"),
        [(30.0, "cart.carts".to_owned())]
    );
    assert_eq!(
        ended.how,
        scullery_engine::ended::How::Gridlock(
            "since 00:00:30: nothing can move any more: 1 rack at clean end; unloader is held up by carts".into()
        )
    );
}

#[test]
fn a_cart_goes_early_when_the_servery_is_short_of_what_is_on_it() {
    // 20 owned. The plate of 0 is on the cart at 10, with 19 at the servery: below 20 calls at once, below 19 when the
    // cover of 500 has taken another.
    for (below, goes) in [(20, 10.0), (19, 500.0)] {
        let line = cart_line(1, 9, Some(below));
        let (_, diary) = live(&line, &coming(&[0.0, 500.0], &[1.0]));
        let trips = diary.spans("runner", State::Working, 1000.0);
        assert_eq!(trips[0].0, goes, "below {below}");
    }
}

#[test]
fn without_a_runner_clean_ware_stays_on_the_cart_and_the_line_is_clean_all_the_same() {
    let mut line = cart_line(1, 9, None);
    line.crew.pop();
    line.ends = None;
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(ended.how, scullery_engine::ended::How::AllClean);
    assert_eq!(ended.all_clean_at, Some(at(10.0)));
    assert_eq!(diary.levels_of("stock.plate"), [(0.0, 19)]);
}

#[test]
fn what_a_cover_does_not_find_has_run_out_and_does_not_come_back() {
    // One plate owned: the diner of 0 brings it back at once, it is clean again at 60. The diner of 30 finds none and
    // brings nothing; the one of 70 finds it.
    let line = Line {
        classes: vec![Class {
            par: Some(1),
            ..class("plate", 1)
        }],
        ..wash_line(1)
    };
    let (ended, diary) = live(&line, &coming(&[0.0, 30.0, 70.0], &[1.0]));
    assert_eq!(diary.times("run-outs plate"), [30.0]);
    assert_eq!(diary.times("diners at the drop-off"), [0.0, 70.0]);
    assert_eq!(diary.times("covers served"), [0.0, 30.0, 70.0]);
    assert_eq!(ended.balance.trays_out, 2);
}

#[test]
fn a_cover_that_finds_some_takes_what_there_is() {
    // Three wanted, two owned.
    let line = Line {
        classes: vec![Class {
            par: Some(2),
            ..class("plate", 1)
        }],
        ..wash_line(1)
    };
    let (ended, diary) = live(&line, &coming(&[0.0], &[3.0]));
    assert_eq!(diary.times("run-outs plate"), [0.0]);
    assert_eq!(ended.balance.pieces_in, 2);
}

#[test]
fn a_diner_sits_from_being_served_until_coming_to_the_drop_off() {
    // Served at 0, a minute to find a seat, two to eat.
    let mut demand = coming(&[0.0], &[1.0]);
    demand.kinds[0].sits = true;
    demand.find_seat_min = Dist::Constant(1.0);
    demand.eating_min = vec![(at(0.0), Dist::Constant(2.0))];
    let (_, diary) = live(&wash_line(1), &demand);
    assert_eq!(diary.levels_of("seated"), [(0.0, 1), (180.0, 0)]);
    assert_eq!(diary.times("covers served"), [0.0]);
    assert_eq!(diary.times("diners at the drop-off"), [180.0]);
}

/// Racks of four glasses that stay in them, unloaded in 1 s, on carts of six.
fn glass_line(carts: u32) -> Line {
    let mut line = cart_line(carts, 6, None);
    line.classes[0] = Class {
        par: Some(20),
        stays_in_rack: true,
        unload_rack_s: 1.0,
        ..class("plate", 4)
    };
    line
}

#[test]
fn a_rack_that_stays_with_its_ware_is_never_split_between_carts() {
    // Unloaded at 11 and 21. The second rack does not fit beside the first, so the first cart goes at 21 with four
    // glasses, the second, with the last of all, when the runner is back at 61.
    let (ended, diary) = live(&glass_line(2), &coming(&[0.0, 0.0], &[4.0]));
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 12), (41.0, 16), (81.0, 20)]
    );
    assert_eq!(ended.balance.pieces_out, 8);
}

#[test]
fn a_rack_that_stays_with_its_ware_waits_for_a_cart_with_room_for_it() {
    // One cart: the second rack keeps its place and its unloader from 21 to 61.
    let (_, diary) = live(&glass_line(1), &coming(&[0.0, 0.0], &[4.0]));
    assert_eq!(
        diary.levels_of("clean_end.clean end"),
        [(10.0, 1), (11.0, 0), (20.0, 1), (61.0, 0)]
    );
    assert_eq!(
        diary.held_up_by("unloader"),
        [(21.0, "cart.carts".to_owned())]
    );
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 12), (41.0, 16), (81.0, 20)]
    );
}

#[test]
fn a_rack_with_more_in_it_than_a_cart_is_meant_for_goes_alone() {
    // Eight glasses in a rack, carts of six: one rack a cart. The second is unloaded when the cart is back: 51 to 52.
    let mut line = glass_line(1);
    line.classes[0].fits = vec![(RackKindId(0), 8)];
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[8.0]));
    assert_eq!(
        diary.levels_of("stock.plate"),
        [(0.0, 4), (31.0, 12), (72.0, 20)]
    );
}
