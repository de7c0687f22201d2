//! Waste: disposers with a rate, bins that fill. Timed by hand.

use scullery_engine::dist::Dist;
use scullery_engine::ended::How;
use scullery_engine::line::*;

use crate::hand::*;

/// Trays of 60 g of waste, 10 s each to break down; all of it goes to `store`.
fn waste_line(kind: StoreKind) -> Line {
    Line {
        waste_kinds: vec![all("food")],
        waste_stores: vec![store("grinder", kind)],
        scrapping: vec![Scrapping {
            waste_to: vec![Some(0)],
            ..scrapping(10.0, vec![PiecesTo::Leave])
        }],
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(500.0)),
        ..scrapping_line(0.0)
    }
}

fn all(name: &str) -> WasteKind {
    WasteKind {
        name: name.into(),
        share_ppm: 1_000_000,
    }
}

fn store(name: &str, kind: StoreKind) -> WasteStore {
    WasteStore {
        name: name.into(),
        kind,
    }
}

/// A gram a second, so much room.
fn ground(room_g: Option<u32>) -> StoreKind {
    StoreKind::Ground {
        g_per_min: 60,
        room_g,
        throughout: false,
    }
}

fn sixty_grams(at_s: &[f64]) -> scullery_engine::demand::Demand {
    let mut demand = coming(at_s, &[1.0]);
    demand.waste_kg = Dist::Constant(0.06);
    demand
}

#[test]
fn a_disposer_that_is_full_holds_the_table_up_at_its_own_rate() {
    let line = waste_line(ground(Some(100)));
    let (ended, diary) = live(&line, &sixty_grams(&[0.0; 4]));
    // 60 g are ground in 60 s, and two trays' waste are more than it holds: 10 to 70, 70 to 130, 130 to 190, 190 to 250.
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 80.0, 140.0]);
    let by = "waste.grinder".to_owned();
    assert_eq!(
        diary.held_up_by("one"),
        [(20.0, by.clone()), (80.0, by.clone()), (140.0, by)]
    );
    assert_eq!(diary.levels_of("waste.grinder").last(), Some(&(250.0, 0)));
    assert_eq!(ended.waste_us, [240_000_000]);
    assert_eq!(diary.times("waste, grams").len(), 240);
}

#[test]
fn a_disposer_with_room_for_all_holds_nobody_up_and_runs_as_long() {
    let line = waste_line(ground(None));
    let (ended, diary) = live(&line, &sixty_grams(&[0.0; 4]));
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 30.0, 40.0]);
    assert!(diary.held_up_by("one").is_empty());
    assert_eq!(ended.waste_us, [240_000_000]);
}

#[test]
fn one_that_runs_throughout_runs_from_the_start_until_the_last_waste_is_ground() {
    let mut line = waste_line(ground(Some(100)));
    if let StoreKind::Ground { throughout, .. } = &mut line.waste_stores[0].kind {
        *throughout = true;
    }
    let (ended, _) = live(&line, &sixty_grams(&[0.0; 4]));
    assert_eq!(ended.waste_us, [250_000_000]);
    // With nothing to grind it stops when the last tray is broken down.
    let (ended, _) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(ended.waste_us, [10_000_000]);
}

#[test]
fn what_is_more_than_a_disposer_holds_goes_in_when_it_is_empty() {
    let line = waste_line(ground(Some(10)));
    let (ended, diary) = live(&line, &sixty_grams(&[0.0, 0.0]));
    assert_eq!(ended.how, How::StatedEnd);
    assert_eq!(
        diary.levels_of("waste.grinder"),
        [(10.0, 60), (130.0, 0)],
        "at 70 one comes as the other goes"
    );
}

#[test]
fn a_full_bin_holds_the_table_up_until_it_is_emptied_and_a_second_one_saves_the_wait() {
    let one_bin = |count| {
        let mut line = waste_line(StoreKind::Bins { each_g: 100, count });
        line.crew.push(worker("porter", &[Post::Duty(0)]));
        line.duties = vec![duty(DutyWhen::BinFull(0), 30.0, Post::Duty(0))];
        live(&line, &sixty_grams(&[0.0; 4])).1
    };
    let diary = one_bin(1);
    // The second tray's waste does not fit, 20 to 50; nor the third's, 60 to 90, nor the fourth's, 100 to 130.
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 60.0, 100.0]);
    assert_eq!(diary.times("other work done"), [50.0, 90.0, 130.0]);
    assert_eq!(
        diary.levels_of("waste.grinder"),
        [(10.0, 60)],
        "one goes as the other comes"
    );
    let diary = one_bin(2);
    // The second tray's goes into the second bin; the third's waits from 30 to 50, when the first is back. The fourth, done at
    // 60, waits until the second is, at 80; then the third of them is full.
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 30.0, 60.0]);
    assert_eq!(diary.times("other work done"), [50.0, 80.0, 110.0]);
    assert_eq!(
        diary.held_up_by("one"),
        [
            (30.0, "waste.grinder".to_owned()),
            (60.0, "waste.grinder".to_owned())
        ]
    );
}

#[test]
fn waste_on_each_piece_comes_to_that_of_the_tray() {
    // 60 g of the tray and 20 g on each of two pieces: 100 g, ground in 100 s.
    let mut line = waste_line(ground(None));
    line.classes[0].waste_g = 20;
    let mut demand = coming(&[0.0], &[2.0]);
    demand.waste_kg = Dist::Constant(0.06);
    let (ended, diary) = live(&line, &demand);
    assert_eq!(diary.levels_of("waste.grinder"), [(10.0, 100), (110.0, 0)]);
    assert_eq!(diary.times("waste, grams").len(), 100);
    assert_eq!(ended.waste_us, [100_000_000]);
}

#[test]
fn kinds_of_waste_go_to_their_own_places_and_are_all_of_it() {
    // 60 g: 49.8 of food are 49 whole grams, the rest is paper.
    let mut line = waste_line(ground(None));
    line.waste_kinds = vec![
        WasteKind {
            share_ppm: 830_000,
            ..all("food")
        },
        WasteKind {
            share_ppm: 170_000,
            ..all("paper")
        },
    ];
    let bins = StoreKind::Bins {
        each_g: 1_000,
        count: 1,
    };
    line.waste_stores.push(store("paper", bins));
    line.scrapping[0].waste_to = vec![Some(0), Some(1)];
    line.duties = vec![duty(DutyWhen::BinFull(1), 30.0, SCRAP)];
    let (ended, diary) = live(&line, &sixty_grams(&[0.0, 100.0]));
    assert_eq!(
        diary.levels_of("waste.grinder"),
        [(10.0, 49), (59.0, 0), (110.0, 49), (159.0, 0)]
    );
    assert_eq!(diary.levels_of("waste.paper"), [(10.0, 11), (110.0, 22)]);
    assert_eq!(ended.waste_us, [98_000_000, 0]);
}

#[test]
fn waste_that_diners_throw_away_is_no_work_and_no_waste_at_the_table() {
    let mut line = waste_line(ground(None));
    line.waste_stores.push(store(
        "bin",
        StoreKind::Bins {
            each_g: 100,
            count: 1,
        },
    ));
    line.drop_offs[0].aids = vec![DinerAid {
        into: AidInto::Waste { kind: 0, store: 1 },
        adds_s: 3.0,
        saves_s: 4.0,
        ..puts_in(&[false])
    }];
    line.crew.push(worker("porter", &[Post::Duty(0)]));
    line.duties = vec![duty(DutyWhen::BinFull(1), 30.0, Post::Duty(0))];
    let (_, diary) = live(&line, &sixty_grams(&[0.0, 10.0, 100.0]));
    // First: in the bin, down at 3, work 10 - 4 = 6 s to 9. Second, at 10: the bin is full and is emptied from 10 to 40; down
    // at 10 with its waste, work 10 s to 20, and 60 g to grind. Third: in the bin, down at 103, to 109.
    assert_eq!(diary.times("trays cleared"), [9.0, 20.0, 109.0]);
    assert_eq!(diary.levels_of("waste.grinder"), [(20.0, 60), (80.0, 0)]);
    assert_eq!(
        diary.levels_of("waste.bin"),
        [(0.0, 60), (40.0, 0), (100.0, 60)]
    );
    assert_eq!(diary.times("waste, grams").len(), 180);
}

#[test]
fn waste_that_is_already_in_a_disposer_is_ground_first() {
    // 30 g take until 30; the 60 g of the tray, thrown in at 10, from then to 90.
    let mut line = waste_line(ground(Some(100)));
    line.already.waste = vec![(0, 30)];
    let (ended, diary) = live(&line, &sixty_grams(&[0.0]));
    assert_eq!(
        diary.levels_of("waste.grinder"),
        [(0.0, 30), (10.0, 90), (30.0, 60), (90.0, 0)]
    );
    assert_eq!(ended.waste_us, [90_000_000]);
    // What was there was scraped off before.
    assert_eq!(diary.times("waste, grams").len(), 60);
}

#[test]
fn waste_that_is_already_in_bins_fills_one_after_the_other() {
    // 150 g: one of two is full and is emptied until 30. At 10 the tray's 60 g are more than the second takes beside 50; they
    // are in the first at 30, and the second is emptied until 60.
    let mut line = waste_line(StoreKind::Bins {
        each_g: 100,
        count: 2,
    });
    line.crew.push(worker("porter", &[Post::Duty(0)]));
    line.duties = vec![duty(DutyWhen::BinFull(0), 30.0, Post::Duty(0))];
    line.already.waste = vec![(0, 90), (0, 60)];
    let (_, diary) = live(&line, &sixty_grams(&[0.0]));
    assert_eq!(
        diary.levels_of("waste.grinder"),
        [(0.0, 150), (30.0, 110), (60.0, 60)]
    );
    assert_eq!(diary.times("other work done"), [30.0, 60.0]);
    assert_eq!(
        diary.held_up_by("one"),
        [(10.0, "waste.grinder".to_owned())]
    );
}

#[test]
fn more_waste_than_there_is_room_for_is_refused() {
    let misfit = |kind, grams| {
        let mut line = waste_line(kind);
        if let StoreKind::Bins { .. } = kind {
            line.duties = vec![duty(DutyWhen::BinFull(0), 30.0, SCRAP)];
        }
        line.already.waste = vec![(0, grams)];
        line.already_misfit()
    };
    let bins = StoreKind::Bins {
        each_g: 100,
        count: 2,
    };
    let words = |kg: &str| {
        Some(format!(
            "{kg} kg of waste are already in grinder and find no room"
        ))
    };
    assert_eq!(misfit(bins, 200), None);
    assert_eq!(misfit(bins, 201), words("0.201"));
    assert_eq!(misfit(ground(Some(100)), 100), None);
    assert_eq!(misfit(ground(Some(100)), 101), words("0.101"));
    assert_eq!(misfit(ground(None), 1_000_000), None);
    let mut line = waste_line(ground(None));
    for nowhere in [(1, 5), (0, 0)] {
        line.already.waste = vec![nowhere];
        assert_eq!(
            line.faults(),
            ["what is already there is nothing, or nowhere"]
        );
    }
}
