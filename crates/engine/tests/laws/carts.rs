//! Carts and tubs: how ware gathers, comes, waits to be emptied, and how carts go back.

use scullery_engine::demand::*;
use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// One kind of carts, from which scrapping takes trays of so many seconds. Nobody is on the crew.
fn cart_line(carts: Carts, tray_s: f64) -> Line {
    Line {
        carts: vec![carts],
        scrapping: vec![Scrapping {
            from: vec![TraysFrom::Carts(0)],
            ..scrapping(tray_s, vec![PiecesTo::Leave])
        }],
        ..scrapping_line(tray_s)
    }
}

fn tubs(count: u32, holds: u32, goes: CartsGo) -> Carts {
    Carts {
        name: "tubs".into(),
        count,
        holds,
        goes,
        way: secs(0.0),
        parking: None,
        wash: None,
    }
}

/// Covers at these seconds, whose ware staff fetch.
fn fetched(at_s: &[f64]) -> Demand {
    let mut demand = coming(at_s, &[1.0]);
    demand.kinds[0].carts = Some(0);
    demand
}

#[test]
fn a_tub_goes_when_it_is_full_and_the_last_when_nothing_more_is_to_come() {
    // Five covers, tubs of two; 10 s a cover. Full at 20 and 40; the fifth goes at 50 as the last.
    let goes = CartsGo::WhenFull { longest_wait: None };
    let mut line = cart_line(tubs(9, 2, goes), 10.0);
    line.crew = vec![worker("one", &[SCRAP])];
    let (ended, diary) = live(&line, &fetched(&[10.0, 20.0, 30.0, 40.0, 50.0]));
    assert_eq!(diary.times("carts brought tubs"), [20.0, 40.0, 50.0]);
    assert_eq!(diary.times("trays cleared"), [30.0, 40.0, 50.0, 60.0, 70.0]);
    assert_eq!(diary.waits_at("gathered.tubs"), [10.0, 0.0, 10.0, 0.0, 0.0]);
    assert_eq!(ended.balance.trays_out, 5);
}

#[test]
fn a_tub_that_does_not_fill_goes_when_its_first_has_waited_long_enough() {
    // The first cover is cleared at 10 and has waited 60 s at 70; the next comes at 100, the last of all.
    let goes = CartsGo::WhenFull {
        longest_wait: Some(secs(60.0)),
    };
    let mut line = cart_line(tubs(9, 5, goes), 1.0);
    line.crew = vec![worker("one", &[SCRAP])];
    let (_, diary) = live(&line, &fetched(&[10.0, 100.0]));
    assert_eq!(diary.times("carts brought tubs"), [70.0, 100.0]);
}

#[test]
fn a_round_takes_what_has_gathered_on_so_many_carts() {
    // Rounds at 0, 60, 120; two carts of two a round. Six covers by 50: four go at 60, two at 120.
    let goes = CartsGo::Rounds {
        first: at(0.0),
        every: secs(60.0),
        carts: 2,
    };
    let mut line = cart_line(tubs(9, 2, goes), 0.0);
    line.crew = vec![worker("one", &[SCRAP])];
    let (_, diary) = live(&line, &fetched(&[0.0, 10.0, 20.0, 30.0, 40.0, 50.0]));
    // Whoever is cleared at the very instant of a round goes with it.
    assert_eq!(diary.times("carts brought tubs"), [0.0, 60.0, 60.0, 120.0]);
}

#[test]
fn carts_wait_outside_until_a_place_to_park_is_free() {
    // Three ward carts of two trays at 100, one place to park, 10 s a tray: emptied at 110, 130, 150.
    let mut line = cart_line(
        Carts {
            parking: Some(1),
            ..tubs(3, 2, CartsGo::AtOnce)
        },
        10.0,
    );
    line.crew = vec![worker("one", &[SCRAP]), worker("two", &[SCRAP])];
    let mut demand = fetched(&[]);
    demand.loads = vec![ward(6)];
    let (_, diary) = live(&line, &demand);
    // Two people empty one cart together; the second cart is not touched before the first is empty.
    assert_eq!(
        diary.times("trays cleared"),
        [110.0, 110.0, 120.0, 120.0, 130.0, 130.0]
    );
    assert_eq!(
        diary.levels_of("carts.tubs"),
        [(100.0, 2), (110.0, 1), (120.0, 0)]
    );
}

/// So many ward trays at 100 s.
fn ward(trays: u32) -> Load {
    Load {
        name: "ward".into(),
        kind: 0,
        when: LoadWhen::At(vec![(at(100.0), trays)]),
        covers: false,
        taken: None,
    }
}

#[test]
fn a_cart_is_washed_and_back_before_it_is_loaded_again() {
    // One cart of one tray, 20 s each way, 5 s a tray, 30 s to wash. Covers at 0 and 1:
    // there 20, emptied (taken) 20, washed 20 to 50, back 70, with the second there 90, taken 90, washed 120.
    let mut line = cart_line(
        Carts {
            way: secs(20.0),
            wash: Some(CartWash {
                cart_s: 30.0,
                variation: Dist::Constant(1.0),
                workers: 1,
            }),
            ..tubs(1, 1, CartsGo::AtOnce)
        },
        5.0,
    );
    let wash = Post::CartWash(0);
    line.crew = vec![
        worker("one", &[SCRAP]),
        on_shift("porter", &[wash], 0.0, 200.0),
    ];
    line.crew[0].shifts[0].1 = at(200.0);
    let (ended, diary) = live(&line, &fetched(&[0.0, 1.0]));
    assert_eq!(diary.times("carts brought tubs"), [20.0, 90.0]);
    assert_eq!(diary.times("carts washed tubs"), [50.0, 120.0]);
    assert_eq!(
        diary.spans("porter", State::Working, 200.0),
        [(20.0, 50.0), (90.0, 120.0)]
    );
    assert_eq!(diary.waits_at("gathered.tubs"), [0.0, 69.0]);
    assert_eq!(diary.levels_of("carts_ready.tubs"), [(0.0, 0), (140.0, 1)]);
    assert_eq!(ended.at.s(), 200.0);
}

#[test]
fn a_meal_is_not_over_before_the_last_cart_is_washed() {
    let mut line = cart_line(
        Carts {
            wash: Some(CartWash {
                cart_s: 50.0,
                variation: Dist::Constant(1.0),
                workers: 1,
            }),
            ..tubs(1, 1, CartsGo::AtOnce)
        },
        5.0,
    );
    // The porter comes on at 300 only.
    line.crew = vec![
        on_shift("one", &[SCRAP], 0.0, 20.0),
        on_shift("porter", &[Post::CartWash(0)], 300.0, 310.0),
    ];
    let (ended, diary) = live(&line, &fetched(&[0.0]));
    assert_eq!(ended.all_clean_at, Some(at(5.0)));
    assert_eq!(diary.times("carts washed tubs"), [350.0]);
    assert_eq!(ended.at.s(), 350.0);
}

#[test]
fn courses_come_back_one_by_one_and_are_one_cover() {
    // A cover at 0: a plate cleared after 10 min, two cups after 20.
    let mut demand = coming(&[0.0], &[1.0, 2.0]);
    let kind = &mut demand.kinds[0];
    kind.sits = true;
    kind.courses = vec![
        Course {
            pieces: vec![1.0, 0.0],
            cleared: Cleared::AfterMin(Dist::Constant(10.0)),
        },
        Course {
            pieces: vec![0.0, 2.0],
            cleared: Cleared::AfterMin(Dist::Constant(20.0)),
        },
    ];
    let mut line = Line {
        classes: vec![loose("plate"), loose("cup")],
        scrapping: vec![scrapping(1.0, vec![PiecesTo::Leave; 2])],
        ..scrapping_line(1.0)
    };
    line.crew = vec![worker("one", &[SCRAP])];
    let (ended, diary) = live(&line, &demand);
    assert_eq!(diary.times("covers served"), [0.0]);
    assert_eq!(diary.times("trays cleared"), [601.0, 1201.0]);
    assert_eq!(diary.levels_of("seated"), [(0.0, 1), (1200.0, 0)]);
    assert_eq!(diary.times("pieces clean of a class plate"), [601.0]);
    assert_eq!(diary.times("pieces clean of a class cup"), [1201.0; 2]);
    assert_eq!((ended.balance.trays_in, ended.balance.pieces_in), (2, 3));
}

#[test]
fn a_banquet_course_is_cleared_within_its_span_of_the_clock() {
    let mut demand = coming(&[0.0; 50], &[1.0]);
    demand.kinds[0].courses = vec![Course {
        pieces: vec![1.0],
        cleared: Cleared::Within {
            from: at(600.0),
            lasts: secs(120.0),
        },
    }];
    let mut tape = scullery_engine::tape::Tape::new();
    tape.draw(&demand, 1, 0);
    let came: Vec<f64> = tape.diners().iter().map(|d| d.comes.s()).collect();
    assert!(came.iter().all(|s| (600.0..720.0).contains(s)), "{came:?}");
    let early = came.iter().filter(|s| **s < 660.0).count();
    assert!(
        (12..=38).contains(&early),
        "{early} of 50 in the first half"
    );
}

#[test]
fn ware_taken_for_another_meal_is_gone_and_its_want_is_a_run_out() {
    // 5 plates owned; at 50 three are taken for supper; at 60 and 70 two covers want two each.
    let mut line = scrapping_line(1.0);
    line.classes[0].par = Some(5);
    line.crew = vec![worker("one", &[SCRAP])];
    let mut demand = coming(&[60.0, 70.0], &[2.0]);
    demand.kinds[0].sits = true;
    demand.eating_min = vec![(at(0.0), Dist::Constant(10.0))];
    demand.loads = vec![Load {
        name: "supper".into(),
        kind: 1,
        when: LoadWhen::Never(1),
        covers: false,
        taken: Some(at(50.0)),
    }];
    demand.kinds.push(Kind {
        name: "assembly".into(),
        pieces: vec![3.0],
        share: vec![(at(0.0), 0.0)],
        ..demand.kinds[0].clone()
    });
    let (ended, diary) = live(&line, &demand);
    assert_eq!(diary.levels_of("stock.tray")[..2], [(50.0, 2), (60.0, 0)]);
    assert_eq!(diary.times("run-outs tray"), [70.0, 70.0]);
    assert_eq!(ended.balance.pieces_in, 2);
}

#[test]
fn a_load_shifts_no_draw_of_the_diners() {
    let plain = coming(&[0.0, 10.0, 20.0], &[1.4]);
    let mut with = plain.clone();
    with.loads = vec![ward(4)];
    let (mut one, mut other) = (
        scullery_engine::tape::Tape::new(),
        scullery_engine::tape::Tape::new(),
    );
    one.draw(&plain, 3, 5);
    other.draw(&with, 3, 5);
    assert_eq!(one.diners(), &other.diners()[..3]);
    assert_eq!(other.diners().len(), 7);
}
