//! What a cover does that finds too little ware; seats that bind; trays shared, trays left out, boxes that come back.

use scullery_engine::demand::*;
use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::tape::Tape;

use crate::hand::*;

/// A class of ware of which so many are owned, that leaves the line when its tray is broken down.
fn owned(name: &str, par: u32, short: Short) -> Class {
    Class {
        par: Some(par),
        short,
        ..loose(name)
    }
}

/// Broken down in 5 s a tray by one person.
fn line_of(classes: Vec<Class>) -> Line {
    let mut line = Line {
        scrapping: vec![scrapping(5.0, vec![PiecesTo::Leave; classes.len()])],
        classes,
        ..scrapping_line(5.0)
    };
    line.crew = vec![worker("one", &[SCRAP])];
    line
}

/// Diners served at these seconds who eat for 100 s.
fn eating(at_s: &[f64], pieces: &[f64]) -> Demand {
    let mut demand = coming(at_s, pieces);
    demand.kinds[0].sits = true;
    demand.eating_min = vec![(at(0.0), Dist::Constant(100.0 / 60.0))];
    demand
}

#[test]
fn who_waits_for_ware_has_it_as_soon_as_it_is_back_and_comes_so_much_later() {
    // One plate. The first has it from 0, comes at 100, it is clean at 105. The second, served at 20, waits until then and
    // comes not at 120 but 85 s later.
    let line = line_of(vec![owned("plate", 1, Short::Waits(secs(900.0)))]);
    let (ended, diary) = live(&line, &eating(&[0.0, 20.0], &[1.0]));
    assert_eq!(diary.times("run-outs plate"), [20.0]);
    assert_eq!(diary.waits_at("waiting_for_ware"), [85.0]);
    assert_eq!(diary.times("diners at the drop-off"), [100.0, 205.0]);
    assert_eq!(diary.times("trays cleared"), [105.0, 210.0]);
    assert_eq!(ended.balance.pieces_out, 2);
}

#[test]
fn nobody_takes_what_somebody_before_them_waits_for_and_nobody_waits_longer_than_they_will() {
    // One plate, clean again at 105; all wait at most 80 s.
    let plate = owned("plate", 1, Short::Waits(secs(80.0)));
    let line = line_of(vec![plate, loose("cup")]);
    let (_, diary) = live(&line, &eating(&[0.0, 20.0, 30.0, 104.0], &[1.0, 1.0]));
    // From 20 to 100, without; from 30 to 105, with; from 104 to 184, without (the plate is back with the third at 205).
    assert_eq!(diary.waits_at("waiting_for_ware"), [80.0, 75.0, 80.0]);
    assert_eq!(
        diary.times("diners at the drop-off"),
        [100.0, 200.0, 205.0, 284.0]
    );
}

#[test]
fn a_drop_off_that_closes_after_the_last_waits_for_those_who_were_kept_waiting() {
    let line = line_of(vec![owned("plate", 1, Short::Waits(secs(900.0)))]);
    let (ended, diary) = live(&line, &eating(&[0.0, 90.0], &[1.0]));
    assert!(diary.times("late trays").is_empty());
    assert_eq!(ended.balance.trays_in, 2);
}

#[test]
fn another_class_is_taken_as_far_as_there_is_any() {
    // One plate and two bowls; three covers of one plate: the second and third take a bowl each, the fourth nothing.
    let line = line_of(vec![
        owned("plate", 1, Short::Takes(ClassId(1))),
        owned("bowl", 2, Short::Without),
    ]);
    let (ended, diary) = live(&line, &eating(&[0.0, 1.0, 2.0, 3.0], &[1.0, 0.0]));
    assert_eq!(diary.times("run-outs plate"), [1.0, 2.0, 3.0]);
    assert_eq!(diary.levels_of("stock.bowl")[..2], [(1.0, 1), (2.0, 0)]);
    assert_eq!(ended.balance.pieces_in, 3);
}

#[test]
fn a_disposable_is_counted_and_does_not_come_back() {
    let line = line_of(vec![owned("plate", 1, Short::Disposable)]);
    let (ended, diary) = live(&line, &eating(&[0.0, 1.0], &[1.0]));
    assert_eq!(diary.times("disposable pieces given plate"), [1.0]);
    assert_eq!(ended.balance.pieces_in, 1);
}

#[test]
fn disposables_by_the_clock_leave_the_ware_at_the_servery_and_the_rest_of_the_tray_to_wash() {
    // Two plates and any number of cups; disposable plates from 10 to 30. Served at 0, 10, 29 and 30: the first and last
    // take a plate (the first is back at 105, the stock never runs out), the others bring a cup alone.
    let plate = Class {
        disposable: vec![(at(10.0), at(30.0))],
        ..owned("plate", 2, Short::Without)
    };
    let line = line_of(vec![plate, loose("cup")]);
    let (ended, diary) = live(&line, &eating(&[0.0, 10.0, 29.0, 30.0], &[1.0, 1.0]));
    assert_eq!(diary.times("disposable pieces given plate"), [10.0, 29.0]);
    assert_eq!(diary.levels_of("stock.plate")[..2], [(0.0, 1), (30.0, 0)]);
    assert!(diary.times("run-outs plate").is_empty());
    assert_eq!(ended.balance.pieces_in, 2 + 4);
    assert_eq!(ended.balance.trays_in, 4);
}

#[test]
fn a_cover_whose_whole_ware_is_disposable_brings_no_tray() {
    let plate = Class {
        disposable: vec![(at(10.0), at(30.0))],
        ..loose("plate")
    };
    let (ended, diary) = live(&line_of(vec![plate]), &eating(&[0.0, 10.0], &[2.0]));
    assert_eq!(diary.times("disposable pieces given plate"), [10.0, 10.0]);
    assert_eq!(ended.balance.trays_in, 1);
}

fn tape_of(demand: &Demand) -> Tape {
    let mut tape = Tape::new();
    tape.draw(demand, 1, 0);
    tape
}

#[test]
fn who_finds_no_seat_sits_down_when_the_first_of_those_seated_leaves() {
    // Two seats, 100 s each: served at 0, 10, 20, 30; the third sits from 100, the fourth from 110.
    let mut demand = eating(&[0.0, 10.0, 20.0, 30.0], &[1.0]);
    demand.seats = Some(2);
    let tape = tape_of(&demand);
    let came: Vec<f64> = tape.diners().iter().map(|d| d.comes.s()).collect();
    assert_eq!(came, [100.0, 110.0, 200.0, 210.0]);
    let waited: Vec<u16> = tape.diners().iter().map(|d| d.seat_wait_s).collect();
    assert_eq!(waited, [0, 0, 80, 80]);
    let line = line_of(vec![loose("plate")]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.times("diners who waited for a seat"), [20.0, 30.0]);
    // Seats enough change nothing.
    demand.seats = Some(4);
    let plenty = tape_of(&demand);
    demand.seats = None;
    assert_eq!(plenty.diners(), tape_of(&demand).diners());
}

#[test]
fn a_party_that_shares_trays_leaves_one_for_so_many() {
    // Five people in one party, two to a tray: three trays of plates 2, 2, 1 and one tray each.
    let mut demand = eating(&[], &[1.0, 1.0]);
    demand.covers = Covers::PerInterval {
        edges: vec![at(0.0), at(10.0)],
        counts: vec![5.0],
        how: How::Evenly,
    };
    demand.parties = Some(Parties {
        shares: vec![0.0, 0.0, 0.0, 0.0, 1.0],
        apart: secs(2.0),
    });
    demand.kinds[0].shared = Some(Shared {
        people: 2,
        tray: ClassId(1),
    });
    let tape = tape_of(&demand);
    let plates: Vec<u8> = tape.diners().iter().map(|d| d.pieces[0]).collect();
    let trays: Vec<u8> = tape.diners().iter().map(|d| d.pieces[1]).collect();
    assert_eq!(plates, [2, 0, 2, 0, 1]);
    assert_eq!(trays, [1, 0, 1, 0, 1]);
    assert_eq!(tape.coming().len(), 3);
    // All five sit, until their tray is brought 100 s after the first of each two was served at 1, 5 and 9 s.
    let line = line_of(vec![loose("plate"), loose("tray")]);
    let (_, diary) = live(&line, &demand);
    let seated = [
        (1.0, 2),
        (5.0, 4),
        (9.0, 5),
        (101.0, 3),
        (105.0, 1),
        (109.0, 0),
    ];
    assert_eq!(diary.levels_of("seated"), seated);
    assert_eq!(diary.times("covers served").len(), 5);
}

#[test]
fn without_a_tray_each_piece_is_put_down_and_there_is_no_tray_to_handle() {
    // 4 s to put down, three pieces: 12 s; 2 s a piece at the table, without the 5 s of the tray.
    let mut line = line_of(vec![loose("plate")]);
    line.drop_offs[0].put_down_s = Dist::Constant(4.0);
    line.scrapping[0].piece_s = vec![2.0];
    let mut demand = coming(&[0.0], &[3.0]);
    let (_, tray) = live(&line, &demand);
    assert_eq!(tray.times("trays cleared"), [4.0 + 5.0 + 6.0]);
    demand.kinds[0].loose = true;
    let (_, bare) = live(&line, &demand);
    assert_eq!(bare.times("trays cleared"), [12.0 + 6.0]);
}

#[test]
fn a_box_comes_back_in_its_own_time_or_not_within_the_meal() {
    let mut demand = coming(&[0.0, 10.0], &[1.0]);
    demand.kinds[0].away = Some(Away {
        min: Dist::Constant(30.0),
        back_share: 1.0,
    });
    let line = line_of(vec![owned("box", 2, Short::Without)]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.times("diners at the drop-off"), [1800.0, 1810.0]);
    demand.kinds[0].away = Some(Away {
        min: Dist::Constant(30.0),
        back_share: 0.0,
    });
    let (ended, diary) = live(&line, &demand);
    assert!(diary.times("diners at the drop-off").is_empty());
    assert_eq!(diary.levels_of("stock.box"), [(0.0, 1), (10.0, 0)]);
    assert_eq!(ended.balance.pieces_in, 0);
}
