//! Small histories told by hand, with answers worked on paper.

use proptest::prelude::*;
use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::{Observer, RackTrip, State};
use scullery_study::record::{MOST_MINUTES, Recorder, WITHIN_S};

use crate::by_hand::*;

const S: u128 = 1_000_000;

fn watching_from(s: f64) -> Recorder {
    Recorder::new(&catalogue(), at(s))
}

#[test]
fn a_time_average_weighs_each_level_by_how_long_it_lasted() {
    let mut seen = watching_from(0.0);
    for (s, held) in [(10.0, 1), (20.0, 3), (40.0, 2), (70.0, 0)] {
        seen.level(at(s), QUEUE, held);
    }
    let record = seen.finish_at(at(100.0));
    let queue = &record.places[0];
    assert_eq!(queue.integral, 130 * S);
    assert_eq!(queue.mean(record.run_us), Some(1.30));
    assert_eq!(queue.share_at(3, record.run_us), Some(0.20));
    assert_eq!((queue.highest, queue.lowest, queue.last), (3, 0, 0));
}

#[test]
fn a_busy_share_over_a_changing_crew_is_work_over_shift() {
    // Three on shift from 0 to 600 s with 300 s of work each; one stays to 900 s with 270 s more.
    let mut seen = watching_from(0.0);
    for who in [ADA, BO, CEM] {
        seen.state(at(0.0), who, State::Working, None);
        seen.state(at(300.0), who, State::Waiting, None);
    }
    for who in [BO, CEM] {
        seen.state(at(600.0), who, State::Off, None);
    }
    seen.state(at(600.0), ADA, State::Working, None);
    seen.state(at(870.0), ADA, State::Waiting, None);
    let record = seen.finish_at(at(900.0));
    let worked: u64 = record.actors[..3]
        .iter()
        .map(|a| a.us(State::Working))
        .sum();
    let paid: u64 = record.actors[..3].iter().map(|a| a.paid_us()).sum();
    assert_eq!((worked, paid), (1170 * 1_000_000, 2100 * 1_000_000));
    assert_eq!(record.actors[0].busy_share(), Some(570.0 / 900.0));
}

#[test]
fn a_minute_holds_its_own_area_and_its_highest_level() {
    // Starts at 00:15:00; up to 4 at 00:15:30, down to 1 exactly at 00:16:00, up to 2 at 00:18:15.
    let mut seen = watching_from(900.0);
    seen.level(at(930.0), QUEUE, 4);
    seen.level(at(960.0), QUEUE, 1);
    seen.level(at(1095.0), QUEUE, 2);
    let record = seen.finish_at(at(1110.0));
    assert_eq!(record.from_min, 15);
    let minutes: Vec<_> = record.places[0]
        .minutes
        .iter()
        .map(|m| (m.area / 1_000_000, m.extreme))
        .collect();
    // The last minute is filled up with its last level; the whole-run integral is not.
    assert_eq!(minutes, [(120, 4), (60, 1), (60, 1), (15 + 90, 2)]);
    assert_eq!(record.places[0].integral, (120 + 60 + 60 + 15 + 30) * S);
}

#[test]
fn a_stock_keeps_its_lowest_level() {
    let mut seen = watching_from(0.0);
    seen.level(at(5.0), STOCK, 20);
    seen.level(at(30.0), STOCK, 70);
    seen.level(at(80.0), STOCK, 90);
    let record = seen.finish_at(at(120.0));
    let lows: Vec<u32> = record.places[1].minutes.iter().map(|m| m.extreme).collect();
    assert_eq!(lows, [20, 70]);
    assert_eq!(record.places[1].lowest, 20);
}

#[test]
fn a_run_that_starts_within_a_quarter_hour_is_kept_from_its_beginning() {
    // 00:20:30 to 00:24:00: minutes from 00:15; the stock of 100 stands there before the start too.
    let mut seen = watching_from(1230.0);
    seen.level(at(1260.0), STOCK, 40);
    let record = seen.finish_at(at(1440.0));
    assert_eq!(record.from_min, 15);
    let minutes: Vec<_> = record.places[1]
        .minutes
        .iter()
        .map(|m| (m.area / 1_000_000, m.extreme))
        .collect();
    let before = [(6000, 100); 6];
    assert_eq!(minutes[..6], before);
    assert_eq!(minutes[6..], [(2400, 40); 3]);
    assert_eq!(record.places[1].integral, (3000 + 40 * 180) * S);
}

#[test]
fn states_are_split_at_the_quarter_hour_and_add_up_to_the_run() {
    let mut seen = watching_from(600.0);
    seen.state(at(600.0), ADA, State::Waiting, None);
    seen.state(at(840.0), ADA, State::Working, None);
    seen.state(at(3000.0), ADA, State::PastShift, None);
    seen.state(at(3060.0), ADA, State::Off, None);
    let record = seen.finish_at(at(3600.0));
    let ada = &record.actors[0];
    let of = |q: usize, state: State| ada.quarters[q][state.index()] / 1_000_000;
    assert_eq!((of(0, State::Waiting), of(0, State::Working)), (240, 60));
    assert_eq!((of(1, State::Working), of(2, State::Working)), (900, 900));
    assert_eq!(
        (
            of(3, State::Working),
            of(3, State::PastShift),
            of(3, State::Off)
        ),
        (300, 60, 540)
    );
    assert_eq!(ada.total_us.iter().sum::<u64>(), record.run_us);
    assert_eq!(ada.busy_share(), Some(2160.0 / 2400.0));
    assert_eq!(ada.last_work_us, Some(3_060_000_000));
    assert_eq!(record.actors[1].busy_share(), None);
}

#[test]
fn work_in_hand_at_the_end_counts_as_work() {
    // A tray every 60 s from 60 s on, 60 s of work each, run of 1440 s: at work from 60 s to the end.
    let mut seen = watching_from(0.0);
    seen.state(at(0.0), ADA, State::Waiting, None);
    seen.state(at(60.0), ADA, State::Working, None);
    let record = seen.finish_at(at(1440.0));
    assert_eq!(record.actors[0].us(State::Working), 1380 * 1_000_000);
}

#[test]
fn who_held_up_whom_is_kept_apart_by_place() {
    let mut seen = watching_from(0.0);
    seen.state(at(0.0), ADA, State::Working, None);
    seen.state(at(60.0), ADA, State::HeldUp, Some(INSIDE));
    seen.state(at(70.0), ADA, State::Working, None);
    seen.state(at(90.0), ADA, State::HeldUp, Some(INSIDE));
    seen.state(at(120.0), ADA, State::HeldUp, Some(QUEUE));
    let record = seen.finish_at(at(125.0));
    assert_eq!(record.actors[0].held_by_us, [5_000_000, 0, 40_000_000]);
    assert_eq!(record.actors[0].us(State::HeldUp), 45_000_000);
}

#[test]
fn a_machine_counts_as_loaded_only_while_it_runs_with_a_rack_inside() {
    let mut seen = watching_from(0.0);
    seen.state(at(10.0), DISH, State::Washing, None);
    seen.level(at(30.0), INSIDE, 1);
    seen.level(at(50.0), INSIDE, 2);
    seen.state(at(70.0), DISH, State::Stopped, Some(QUEUE));
    seen.state(at(95.0), DISH, State::Washing, None);
    seen.level(at(100.0), INSIDE, 0);
    // Down to nothing and stopped at one instant, in either order of telling.
    seen.level(at(110.0), INSIDE, 1);
    seen.level(at(120.0), INSIDE, 0);
    seen.state(at(120.0), DISH, State::Ready, None);
    let record = seen.finish_at(at(200.0));
    assert_eq!(record.actors[3].loaded_us, (40 + 5 + 10) * 1_000_000);
    assert_eq!(record.actors[3].us(State::Washing), (60 + 25) * 1_000_000);
}

#[test]
fn waits_have_an_exact_mean_percentile_and_longest() {
    let mut seen = watching_from(0.0);
    // 1 s to 20 s: the 95th of 100 is the 19th of 20.
    for s in (1..=20_u64).rev() {
        seen.waited(at(500.0), QUEUE, Span::from_us(s * 10_000_000));
    }
    let record = seen.finish_at(at(600.0));
    let waits = &record.waits[0];
    assert_eq!(waits.mean_s(), Some(105.0));
    assert_eq!(
        (waits.p95_us, waits.longest_us),
        (Some(190_000_000), Some(200_000_000))
    );
    assert_eq!(WITHIN_S, [30, 60, 120, 180, 300]);
    assert_eq!(waits.within, [3, 6, 12, 18, 20]);
    assert_eq!(waits.within_share(1), Some(0.3));
    assert_eq!(
        (record.waits[1].mean_s(), record.waits[1].p95_us),
        (None, None)
    );
}

#[test]
fn counts_are_kept_by_minute_and_the_busiest_hour_is_found() {
    let mut seen = watching_from(0.0);
    seen.counted(at(30.0), SERVED, 2);
    seen.counted(at(59.0), SERVED, 1);
    seen.counted(at(60.0), SERVED, 5);
    seen.counted(at(60.0 * 61.0), SERVED, 4);
    let record = seen.finish_at(at(7200.0));
    let served = &record.counts[0];
    assert_eq!(served.total, 12);
    assert_eq!(
        (served.minutes[0], served.minutes[1], served.minutes[61]),
        (3, 5, 4)
    );
    // Minutes 0 to 59 hold 8; minutes 2 to 61 hold 4.
    assert_eq!(served.busiest_hour(), Some(8));
}

#[test]
fn racks_tell_how_full_they_were() {
    let mut seen = watching_from(0.0);
    let trip = |pieces, s: f64| RackTrip {
        kind: 0,
        class: 0,
        machine: 0,
        pieces,
        size: 4,
        opened: at(s),
        closed: at(s + 30.0),
        washed_from: at(s + 40.0),
        out: at(s + 100.0),
    };
    for (pieces, s) in [(4, 0.0), (4, 60.0), (2, 120.0)] {
        seen.rack(at(s + 100.0), &trip(pieces, s));
    }
    let racks = seen.finish_at(at(300.0)).racks[0];
    assert_eq!((racks.racks, racks.part_filled), (3, 1));
    assert_eq!(racks.mean_fill(), Some(10.0 / 12.0));
    assert_eq!(
        (racks.filling_us, racks.on_the_way_us, racks.inside_us),
        (90_000_000, 30_000_000, 180_000_000)
    );
}

#[test]
fn integrals_stay_exact_when_minutes_are_no_longer_kept() {
    // Ten days at 3, then one second at 5.
    let days = 10.0 * 86_400.0;
    let mut seen = watching_from(0.0);
    seen.level(at(0.5), QUEUE, 3);
    seen.state(at(0.5), ADA, State::Working, None);
    seen.counted(at(days - 1.0), SERVED, 7);
    seen.level(at(days), QUEUE, 5);
    seen.state(at(days), ADA, State::Waiting, None);
    let record = seen.finish_at(at(days + 1.0));
    let queue = &record.places[0];
    assert_eq!(queue.integral, (3 * 864_000 + 5) * S - 3 * S / 2);
    assert_eq!(queue.minutes.len(), MOST_MINUTES);
    assert_eq!(record.actors[0].us(State::Working), 863_999_500_000);
    assert_eq!(record.actors[0].quarters.len(), MOST_MINUTES / 15);
    assert_eq!(record.counts[0].total, 7);
    assert!(record.counts[0].minutes.iter().all(|&by| by == 0));
}

#[test]
fn storage_used_again_gives_the_same_record() {
    let mut used = watching_from(1230.0);
    let tell = |seen: &mut Recorder| {
        seen.level(at(1300.0), QUEUE, 2);
        seen.state(at(1310.0), ADA, State::HeldUp, Some(QUEUE));
        seen.waited(at(1350.0), QUEUE, Span::from_s(3.0));
        seen.counted(at(1360.0), SERVED, 1);
        seen.finish_at(at(9000.5)).clone()
    };
    let first = tell(&mut used);
    used.begin();
    used.level(at(1230.0), STOCK, 9);
    used.state(at(1240.0), DISH, State::Washing, None);
    used.level(at(1241.0), INSIDE, 1);
    used.finish_at(at(50_000.0));
    used.begin();
    assert_eq!(tell(&mut used), first);
}

proptest! {
    /// The minutes' areas add up to the integral plus what stands before the start and after the end, whatever comes.
    #[test]
    fn minutes_add_up_to_the_integral(
        starts in 0_u64..4_000_000_000,
        steps in prop::collection::vec((0_u64..200_000_000, 0_u32..2000), 0..60),
        rest in 0_u64..200_000_000,
    ) {
        let mut seen = Recorder::new(&catalogue(), SimTime::from_us(starts));
        let mut now = starts;
        let mut held = 100_u128;
        let mut integral = 0_u128;
        for (gap, to) in steps {
            now += gap;
            integral += u128::from(gap) * held;
            held = u128::from(to);
            seen.level(SimTime::from_us(now), STOCK, to);
        }
        integral += u128::from(rest) * held;
        let ends = now + rest;
        let record = seen.finish_at(SimTime::from_us(ends));
        let stock = &record.places[1];
        prop_assert_eq!(stock.integral, integral);
        prop_assert_eq!(stock.at_level_us.iter().sum::<u64>(), ends - starts);
        let minute = 60_000_000_u64;
        let kept = stock.minutes.len() as u64 * minute;
        if kept > 0 {
            let from = record.from_min * minute;
            let sum: u128 = stock.minutes.iter().map(|m| u128::from(m.area)).sum();
            let before = u128::from(starts - from) * 100;
            let after = u128::from((from + kept).saturating_sub(ends)) * held;
            prop_assert_eq!(sum, integral + before + after);
        }
    }
}
