//! Shifts, breaks and the work of one tray.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

const NOON: f64 = 12.0 * 3600.0;

/// One worker with these breaks (due, minutes), trays of `tray_s`.
fn one(tray_s: f64, shift: (f64, f64), breaks_min: &[(f64, f64)]) -> Line {
    let mut one = on_shift("one", &[SCRAP], shift.0, shift.1);
    for &(due, min) in breaks_min {
        one.breaks.push((at(due), secs(60.0 * min)));
    }
    Line {
        starts: at(shift.0.min(NOON - 3600.0)),
        crew: vec![one],
        ends: Some(at(NOON + 7200.0)),
        ..scrapping_line(tray_s)
    }
}

const DAY: (f64, f64) = (NOON - 3600.0, NOON + 3600.0);

fn on_break(diary: &Diary) -> Vec<(f64, f64)> {
    let of = |(a, b): (f64, f64)| (a - NOON, b - NOON);
    let spans = diary.spans("one", State::Break, NOON + 7200.0);
    spans.into_iter().map(of).collect()
}

#[test]
fn a_break_begins_when_it_is_due_or_when_the_task_in_hand_ends() {
    // A tray of 60 s that ends at noon, when the break is due; and one that ends 20 s later. Another tray waits.
    for (from, begins) in [(-60.0, 0.0), (-40.0, 20.0)] {
        let line = one(60.0, DAY, &[(NOON, 15.0)]);
        let (_, diary) = live(&line, &coming(&[NOON + from, NOON + from], &[1.0]));
        assert_eq!(on_break(&diary), [(begins, begins + 900.0)]);
        let cleared: Vec<f64> = diary
            .times("trays cleared")
            .iter()
            .map(|t| t - NOON)
            .collect();
        assert_eq!(cleared, [begins, begins + 960.0]);
    }
}

#[test]
fn a_worker_who_is_blocked_goes_on_break_and_the_piece_moves_on_by_itself() {
    // The plate is held from 11:55 (no room on the lane) to 12:10, when the machine is on. Break 12:00–12:15.
    let mut line = wash_line(1);
    line.starts = at(NOON - 3600.0);
    line.ends = Some(at(NOON + 7200.0));
    line.lanes = vec![shelf(Some(0))];
    line.racking[0].open_racks = 1;
    line.machines[0].on_at = at(NOON + 600.0);
    line.crew[0].breaks = vec![(at(NOON), secs(900.0))];
    let (_, diary) = live(&line, &coming(&[NOON - 400.0, NOON - 300.0], &[1.0]));
    let end = NOON + 7200.0;
    assert_eq!(
        diary.spans("scrapper", State::HeldUp, end),
        [(NOON - 300.0, NOON)]
    );
    assert_eq!(
        diary.spans("scrapper", State::Break, end),
        [(NOON, NOON + 900.0)]
    );
    // The first rack goes in at 12:10, so the second tray's plate is racked then.
    let opened: Vec<f64> = diary.racks.iter().map(|r| r.opened.s()).collect();
    assert_eq!(opened, [NOON - 400.0, NOON + 600.0]);
}

#[test]
fn a_break_that_falls_due_during_another_follows_on_with_its_full_length() {
    let line = one(60.0, DAY, &[(NOON, 15.0), (NOON + 300.0, 10.0)]);
    let (_, diary) = live(&line, &coming(&[NOON + 100.0], &[1.0]));
    assert_eq!(on_break(&diary), [(0.0, 1500.0)]);
    assert_eq!(diary.times("trays cleared"), [NOON + 1560.0]);
}

#[test]
fn two_breaks_that_fall_due_during_a_task_follow_each_other() {
    let line = one(1000.0, DAY, &[(NOON, 15.0), (NOON + 300.0, 10.0)]);
    let (_, diary) = live(&line, &coming(&[NOON - 100.0], &[1.0]));
    assert_eq!(on_break(&diary), [(900.0, 2400.0)]);
}

#[test]
fn a_break_that_the_end_of_the_shift_overtakes_is_reported_as_missed() {
    // Due 100 s before the shift ends; the tray in hand is done 50 s after.
    let end = NOON + 3600.0;
    let line = one(200.0, DAY, &[(end - 100.0, 15.0)]);
    let (_, diary) = live(&line, &coming(&[end - 150.0], &[1.0]));
    assert!(on_break(&diary).is_empty());
    assert_eq!(diary.times("breaks missed"), [end]);
    assert_eq!(
        diary.spans("one", State::PastShift, NOON + 7200.0),
        [(end, end + 50.0)]
    );
}

#[test]
fn a_break_is_taken_while_waiting_and_ends_with_the_shift() {
    let line = one(60.0, DAY, &[(NOON + 3000.0, 15.0)]);
    let (_, diary) = live(&line, &coming(&[NOON], &[1.0]));
    assert_eq!(on_break(&diary), [(3000.0, 3600.0)]);
    assert!(diary.times("breaks missed").is_empty());
}

#[test]
fn a_break_due_before_the_shift_begins_is_none_of_this_shift() {
    let line = one(
        60.0,
        (NOON - 3000.0, NOON + 3600.0),
        &[(NOON - 3300.0, 15.0)],
    );
    let (_, diary) = live(&line, &coming(&[NOON - 3200.0], &[1.0]));
    assert!(on_break(&diary).is_empty());
    assert_eq!(diary.times("trays cleared"), [NOON - 2940.0]);
}

#[test]
fn a_worker_whose_shift_ends_at_an_instant_starts_nothing_at_it() {
    // A tray comes as the shift ends; another task ends as the shift ends.
    let end = NOON + 3600.0;
    let (_, diary) = live(&one(60.0, DAY, &[]), &coming(&[end], &[1.0]));
    assert!(diary.times("trays cleared").is_empty());
    let line = one(60.0, DAY, &[]);
    let (_, diary) = live(&line, &coming(&[end - 60.0, end - 60.0], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [end]);
    assert!(
        diary
            .spans("one", State::PastShift, NOON + 7200.0)
            .is_empty()
    );
}

#[test]
fn a_shift_that_begins_as_another_ends_goes_straight_on() {
    let mut line = one(60.0, DAY, &[]);
    line.crew[0].shifts = vec![(at(NOON - 3600.0), at(NOON)), (at(NOON), at(NOON + 3600.0))];
    let (_, diary) = live(&line, &coming(&[NOON - 30.0], &[1.0]));
    let end = NOON + 7200.0;
    assert!(diary.spans("one", State::PastShift, end).is_empty());
    assert_eq!(
        diary.spans("one", State::Working, end),
        [(NOON - 30.0, NOON + 30.0)]
    );
    assert_eq!(
        diary.spans("one", State::Off, end),
        [(NOON + 3600.0, NOON + 7200.0)]
    );
}

#[test]
fn between_two_shifts_nobody_works() {
    let mut line = one(60.0, DAY, &[]);
    line.crew[0].shifts = vec![
        (at(NOON - 3600.0), at(NOON - 600.0)),
        (at(NOON + 600.0), at(NOON + 3600.0)),
    ];
    let (_, diary) = live(&line, &coming(&[NOON], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [NOON + 660.0]);
}

#[test]
fn a_shift_goes_unfilled_with_its_probability_whatever_the_rest_of_the_line() {
    let present = |unfilled: f64, tray_s: f64, repeat: u64| {
        let mut line = one(tray_s, DAY, &[]);
        line.crew[0].unfilled = unfilled;
        let (_, diary) = live_seed(&line, &coming(&[NOON], &[1.0]), 7, repeat);
        !diary.times("trays cleared").is_empty()
    };
    assert!((0..50).all(|r| present(0.0, 60.0, r)));
    assert!(!(0..50).any(|r| present(1.0, 60.0, r)));
    let half: Vec<bool> = (0..200).map(|r| present(0.5, 60.0, r)).collect();
    let came = half.iter().filter(|&&p| p).count();
    // 200 tosses: within four standard deviations (28) of 100.
    assert!((72..=128).contains(&came), "{came}");
    assert!((0..200).all(|r| present(0.5, 10.0, r) == half[r as usize]));
}

#[test]
fn the_work_of_a_tray_is_handling_and_pieces_times_its_factor_over_the_pace() {
    // (4.0 + 6 x 1.5) s x 1.20 / 1.04 = 15.0 s; with an aid that saves 0.4 s a piece: 10.6 s x 1.20 / 1.04.
    let mut line = scrapping_line(4.0);
    line.crew = vec![worker("one", &[SCRAP])];
    line.crew[0].pace = 1.04;
    line.ends = Some(at(100.0));
    let mut demand = coming(&[0.0], &[6.0]);
    demand.work_factor = Dist::Constant(1.20);
    for (piece_s, seconds) in [(1.5, 15.0), (1.1, 12.230_769)] {
        line.scrapping[0].piece_s = vec![piece_s];
        let (_, diary) = live(&line, &demand);
        assert_eq!(diary.times("trays cleared"), [seconds]);
    }
}

#[test]
fn a_tray_is_never_shared() {
    let mut line = scrapping_line(30.0);
    line.crew = vec![worker("one", &[SCRAP]), worker("two", &[SCRAP])];
    line.ends = Some(at(100.0));
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.spans("one", State::Working, 100.0), [(0.0, 30.0)]);
    assert_eq!(diary.spans("two", State::Waiting, 100.0), [(0.0, 100.0)]);
}

#[test]
fn the_minutes_of_a_shift_are_all_accounted_for() {
    // Every instant is in one state; those of the shift add up to it, and past the shift stands apart.
    let end = NOON + 3600.0;
    let line = one(900.0, DAY, &[(NOON, 15.0)]);
    let come = [NOON - 2000.0, NOON - 800.0, end - 1000.0, end - 900.0];
    let (_, diary) = live(&line, &coming(&come, &[1.0]));
    let total = |state| -> f64 {
        let spans = diary.spans("one", state, NOON + 7200.0);
        spans.iter().map(|(a, b)| b - a).sum()
    };
    let within = total(State::Working) + total(State::Waiting) + total(State::Break);
    assert_eq!(within, 7200.0);
    // 1000 s before the end: 900 s; then another, begun 100 s before the end, 800 s past it.
    assert_eq!(total(State::PastShift), 800.0);
}

#[test]
fn the_shift_of_somebody_who_does_not_turn_up_holds_no_room_open() {
    let mut absent = on_shift("absent", &[SCRAP], 0.0, 1000.0);
    absent.unfilled = 1.0;
    let line = Line {
        crew: vec![on_shift("there", &[SCRAP], 0.0, 100.0), absent],
        ..scrapping_line(10.0)
    };
    let (ended, _) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(
        (ended.how, ended.at),
        (scullery_engine::ended::How::AllClean, at(100.0))
    );
}
