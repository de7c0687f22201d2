//! Looking ware over at the clean end: what is washed again, and what is broken.

use scullery_engine::ended::How;
use scullery_engine::line::*;

use crate::hand::*;

/// Plates racked from a pile by `racker` (5 s a piece), a door machine of 60 s, unloaded by `unloader` (10 s a rack).
fn again_line(size: u16, share: f64) -> Line {
    let plate = Class {
        unload_rack_s: 10.0,
        rewash: Some(Rewash { share, to: 0 }),
        ..class("plate", size)
    };
    Line {
        classes: vec![plate],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 9,
            grab: u32::from(size),
            piles: vec![pile(0, None, 5.0)],
            ..racking(1, RacksTo::Lane(0))
        }],
        machines: vec![Machine {
            to: Some(0),
            ..door(60.0)
        }],
        clean_ends: vec![clean_end(None)],
        crew: vec![
            worker("scrapper", &[SCRAP]),
            worker("racker", &[RACK]),
            worker("unloader", &[UNLOAD]),
        ],
        ends: None,
        ..wash_line(size)
    }
}

#[test]
fn a_soiled_plate_goes_back_to_its_pile_when_its_rack_is_unloaded_and_round_again_until_it_is_clean()
 {
    // Racked 0–5, washed 5–65, unloaded 65–75; then, as often as it is still soiled, the same 75 s again.
    let mut most = 0;
    for seed in 1..=4 {
        let (ended, diary) = live_seed(&again_line(1, 0.9), &coming(&[0.0], &[1.0]), seed, 0);
        let again = diary.times("pieces washed again plate");
        let rounds = again.len();
        most = most.max(rounds);
        let each_75_s =
            |from: f64, n: usize| -> Vec<f64> { (0..n).map(|k| from + 75.0 * k as f64).collect() };
        assert_eq!(again, each_75_s(75.0, rounds));
        assert_eq!(diary.racks_out(), each_75_s(65.0, rounds + 1));
        assert_eq!(ended.all_clean_at, Some(at(75.0 * (rounds + 1) as f64)));
        assert_eq!((ended.balance.trays_out, ended.balance.pieces_out), (1, 1));
    }
    assert!(most > 1, "nine in ten are washed again");
}

#[test]
fn a_share_p_of_each_washing_fails_so_that_p_over_one_minus_p_of_the_pieces_is_washed_again() {
    // A piece is washed a geometric number of times: in the mean p/(1 - p) times again, with variance p/(1 - p)^2.
    let (trays, plates, p) = (40, 250.0, 0.2);
    let come: Vec<f64> = (0..trays).map(|k| f64::from(k) * 10.0).collect();
    let mut line = again_line(25, p);
    line.racking[0].piles[0].piece_s = 0.0;
    let (ended, diary) = live(&line, &coming(&come, &[plates]));
    assert_eq!(ended.how, How::AllClean);
    let again = diary.times("pieces washed again plate").len() as f64;
    let n = f64::from(trays) * plates;
    let (mean, sd) = (n * p / (1.0 - p), (n * p).sqrt() / (1.0 - p));
    assert!(
        (again - mean).abs() < 4.0 * sd,
        "{again} against {mean} ± {sd}"
    );
    let washed: f64 = diary.racks.iter().map(|r| f64::from(r.pieces)).sum();
    assert_eq!(
        washed,
        n + again,
        "every piece once, and once more each time"
    );
    assert_eq!(ended.balance.pieces_out as f64, n);
}

#[test]
fn the_stock_loses_what_is_broken_and_the_tray_is_out_all_the_same() {
    // 250 plates owned and used, a tenth broken: binomial with mean 25, standard deviation 4.7.
    let mut line = again_line(25, 0.0);
    line.classes[0].rewash = None;
    line.classes[0].broken = 0.1;
    line.classes[0].par = Some(250);
    let (ended, diary) = live(&line, &coming(&[0.0], &[250.0]));
    let broken = diary.times("pieces broken plate").len() as u32;
    assert!(broken.abs_diff(25) < 19, "{broken}");
    assert_eq!(
        diary.levels_of("stock.plate").last().map(|l| l.1),
        Some(250 - broken)
    );
    assert_eq!(
        diary.times("pieces clean of a class plate").len() as u32,
        250 - broken
    );
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(
        (ended.balance.trays_out, ended.balance.pieces_out),
        (1, 250)
    );
}

#[test]
fn a_larger_share_takes_all_that_a_smaller_one_takes_and_more() {
    // The same pieces meet the same luck: what breaks of a twentieth breaks of a fifth too. One rack of 250, one look.
    let broken = |share: f64| {
        let mut line = again_line(250, 0.0);
        line.classes[0].broken = share;
        let (_, diary) = live(&line, &coming(&[0.0], &[250.0]));
        diary.times("pieces broken plate").len()
    };
    let counts: Vec<usize> = [0.0, 0.05, 0.1, 0.2].into_iter().map(broken).collect();
    assert_eq!(counts[0], 0);
    assert!(counts.is_sorted() && counts[1] < counts[3], "{counts:?}");
}

#[test]
fn what_finds_no_room_on_its_pile_waits_in_a_tub_and_the_clean_end_goes_on() {
    // A pile of two, racked one at a time, while trays of six bring more than it holds: recounted at every instant, all
    // comes clean, and the pile never holds more than its two.
    let mut line = again_line(1, 0.7);
    line.racking[0].piles[0].room = Some(2);
    let (ended, diary) = live(&line, &coming(&[0.0, 1.0, 2.0], &[6.0]));
    assert_eq!(ended.how, How::AllClean);
    assert_eq!(ended.balance.pieces_out, 18);
    assert!(diary.levels_of("pile.plate").iter().all(|l| l.1 <= 2));
    assert!(!diary.times("pieces washed again plate").is_empty());
}

#[test]
fn ware_that_is_washed_again_without_a_pile_to_lie_on_is_refused() {
    let mut none = again_line(1, 0.5);
    none.racking[0].piles[0].room = Some(0);
    let mut all = again_line(1, 0.5);
    all.classes[0].broken = 0.5;
    let said = [none.faults(), all.faults()];
    assert_eq!(
        said[0],
        ["plate that is washed again finds no pile to lie on"]
    );
    assert_eq!(said[1], ["more of plate fails than there is"]);
}
