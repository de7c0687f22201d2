//! Odd input: told as a fault, or lived through, never a panic.

use scullery_engine::ended::{Ended, Fault, How};
use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::{SimTime, Span};
use scullery_engine::watch::Nobody;

use crate::hand::*;

fn outcome(line: &Line) -> Result<Ended, Fault> {
    let mut tape = Tape::new();
    tape.draw(&coming(&[0.0, 10.0, 20.0], &[1.0]), 1, 0);
    run(line, &tape, &mut Floor::new(), &mut Nobody)
}

fn fault(line: &Line) -> String {
    match outcome(line) {
        Err(Fault::Line(what)) => what,
        other => panic!("{other:?}"),
    }
}

#[test]
fn more_than_can_be_numbered_is_a_fault_of_the_line() {
    let mut many = wash_line(1);
    many.crew = (0..300)
        .map(|w| worker(&format!("w{w}"), &[SCRAP]))
        .collect();
    assert_eq!(fault(&many), "too many workers");

    let mut many = wash_line(1);
    many.drop_offs[0].positions_mm = vec![0; 300];
    assert_eq!(fault(&many), "drop-off window has too many positions");

    let mut many = wash_line(1);
    many.rack_kinds[0].count = u32::MAX;
    assert_eq!(fault(&many), "too many racks");

    let mut many = wash_line(1);
    many.racking[0].open_racks = u32::MAX;
    assert_eq!(fault(&many), "too many things that can be pending");

    let mut many = wash_line(1);
    many.delivery = Some(Delivery {
        name: "carts".into(),
        carts: u32::MAX,
        cart_pieces: 10,
        trip: secs(60.0),
        variation: scullery_engine::dist::Dist::Constant(1.0),
        below: vec![None],
    });
    assert_eq!(fault(&many), "too many things that can be pending");
}

#[test]
fn lengths_and_speeds_beyond_any_room_are_a_fault_of_the_line() {
    let mut fast = belt_line(ten_metres(EndRule::ClosesUp), 1.0);
    fast.belts[0].speed = vec![(at(0.0), u32::MAX)];
    assert_eq!(fault(&fast), "belt belt is faster than 500 m a minute");

    let mut creeping = belt_line(ten_metres(EndRule::AdvancesOnDemand { section_mm: 0 }), 1.0);
    creeping.crew = vec![worker("one", &[SCRAP])];
    assert_eq!(fault(&creeping), "belt belt advances by nothing");

    let mut still = wash_line(1);
    still.machines = vec![conveyor()];
    still.machines[0].kind = MachineKind::Conveyor {
        pitch_mm: 500,
        tunnel_mm: 1500,
        rinse_mm: (0, 0),
        speed_mm_min: 0,
    };
    assert_eq!(
        fault(&still),
        "machine machine has no length, pitch or speed"
    );
}

#[test]
fn a_shortage_list_of_another_length_is_a_fault_of_the_line() {
    let mut line = wash_line(1);
    line.delivery = Some(Delivery {
        name: "carts".into(),
        carts: 1,
        cart_pieces: 10,
        trip: secs(60.0),
        variation: scullery_engine::dist::Dist::Constant(1.0),
        below: vec![None; 40],
    });
    assert_eq!(fault(&line), "carts does not say when each class is short");
}

#[test]
fn times_out_of_order_never_turn_the_clock_back() {
    // Speeds, stops, a switch-off before the switch-on, breaks before the shift: whatever they mean, time goes on.
    let mut line = wash_line(1);
    line.ends = Some(at(500.0));
    line.machines[0].on_at = at(100.0);
    line.machines[0].off_at = Some(at(50.0));
    line.machines[0].stops = vec![
        Stop {
            from: at(90.0),
            to: at(80.0),
            then: AfterStop::Resume,
        },
        Stop {
            from: at(10.0),
            to: at(20.0),
            then: AfterStop::RunAgain,
        },
    ];
    line.crew[0].breaks = vec![(at(70.0), secs(10.0)), (at(30.0), secs(5.0))];
    line.crew[0].shifts = vec![(at(60.0), at(50.0)), (at(0.0), at(400.0))];
    let (ended, diary) = live(&line, &coming(&[0.0, 10.0], &[1.0]));
    assert_eq!(ended.how, How::StatedEnd);
    assert!(diary.levels.is_sorted_by(|a, b| a.0 <= b.0));
    assert!(diary.states.is_sorted_by(|a, b| a.0 <= b.0));

    let mut belt = belt_line(ten_metres(EndRule::ClosesUp), 1.0);
    belt.belts[0].speed = vec![(at(0.0), 15_000), (at(40.0), 1_000), (at(10.0), 30_000)];
    belt.ends = Some(at(500.0));
    let (ended, diary) = live(&belt, &coming(&[0.0, 10.0], &[1.0]));
    assert_eq!(ended.how, How::StatedEnd);
    assert!(diary.levels.is_sorted_by(|a, b| a.0 <= b.0));
}

#[test]
fn the_longest_of_everything_ends() {
    let mut line = wash_line(1);
    line.machines[0] = door(1e12);
    line.ends = None;
    assert_eq!(outcome(&line).map(|e| e.how), Ok(How::NeverDrained));
    let mut line = scrapping_line(1e300);
    line.crew = vec![on_shift("one", &[SCRAP], 0.0, 1e12)];
    assert_eq!(outcome(&line).map(|e| e.how), Ok(How::NeverDrained));
    // The last instant a run can name.
    let mut line = wash_line(1);
    line.ends = Some(SimTime::LAST);
    line.crew[0].breaks = vec![(at(30.0), Span::from_us(u64::MAX))];
    assert_eq!(outcome(&line).map(|e| e.how), Ok(How::StatedEnd));
    let mut line = wash_line(1);
    line.ends = None;
    line.crew[0].shifts = vec![(at(0.0), SimTime::LAST)];
    let ended = outcome(&line).map(|e| e.how);
    assert!(
        matches!(ended, Ok(How::AllClean | How::NeverDrained)),
        "{ended:?}"
    );
}

#[test]
fn a_run_without_anything_ends_at_once() {
    let ended = outcome(&Line {
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        ends: Some(at(0.0)),
        ..bare()
    });
    assert_eq!(ended.map(|e| e.balance.trays_in), Ok(0));
}

#[test]
fn things_of_no_size_are_lived_through() {
    let mut line = wash_line(1);
    line.ends = Some(at(500.0));
    line.racking[0].open_racks = 0;
    let ended = outcome(&line).map(|e| e.balance.trays_inside);
    assert_eq!(ended, Ok(3));
    let mut line = wash_line(1);
    line.ends = Some(at(500.0));
    line.crew[0].list.clear();
    let ended = outcome(&line).map(|e| e.balance.trays_inside);
    assert_eq!(ended, Ok(3));
    let mut line = belt_line(ten_metres(EndRule::ClosesUp), 1.0);
    line.belts[0].spacing_mm = 0;
    line.belts[0].speed = vec![];
    line.ends = Some(at(500.0));
    let ended = outcome(&line).map(|e| e.balance.trays_inside);
    assert_eq!(ended, Ok(3));
}
