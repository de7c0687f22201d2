//! Faults that random lines brought to light, each as the smallest line that shows it.

use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::{Nobody, State};

use crate::hand::*;

#[test]
fn nothing_of_an_earlier_meal_is_left_where_another_line_has_something_else() {
    // A rack in the tunnel and two on the rollers when the first ends; then a shelf, and a door machine.
    let mut tape = Tape::new();
    tape.draw(&coming(&[0.0, 0.0, 0.0], &[1.0]), 1, 0);
    let first = Line {
        lanes: vec![Lane {
            kind: LaneKind::Rollers {
                length_mm: 5_000,
                rack_mm: 500,
                speed: vec![(at(0.0), 60_000)],
            },
            ..shelf(None)
        }],
        machines: vec![conveyor()],
        ends: Some(at(20.0)),
        ..wash_line(1)
    };
    let mut floor = Floor::new();
    let ended = run(&first, &tape, &mut floor, &mut Nobody).unwrap();
    assert_eq!(ended.balance.pieces_inside, 3);
    let second = wash_line(1);
    for (one, other) in [(&first, &second), (&second, &first)] {
        run(one, &tape, &mut floor, &mut Nobody).unwrap();
        let used = run(other, &tape, &mut floor, &mut Nobody);
        assert_eq!(used, run(other, &tape, &mut Floor::new(), &mut Nobody));
    }
}

#[test]
fn a_break_due_as_the_shift_begins_is_taken_and_the_shift_still_ends() {
    let line = Line {
        crew: vec![Worker {
            breaks: vec![(at(100.0), secs(10.0))],
            ..on_shift("one", &[SCRAP], 100.0, 200.0)
        }],
        ends: Some(at(400.0)),
        ..scrapping_line(20.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0, 300.0], &[1.0]));
    assert_eq!(diary.spans("one", State::Break, 400.0), [(100.0, 110.0)]);
    assert_eq!(diary.spans("one", State::Working, 400.0), [(110.0, 130.0)]);
    assert_eq!(
        diary.spans("one", State::Off, 400.0),
        [(200.0, 400.0)],
        "after the shift"
    );
}

#[test]
fn of_two_jobs_that_fall_due_together_both_are_done_and_so_are_later_ones() {
    let line = Line {
        crew: vec![worker("one", &[SCRAP])],
        duties: vec![Duty {
            name: "bins".into(),
            when: DutyWhen::At(vec![at(10.0), at(10.0), at(100.0)]),
            work_s: scullery_engine::dist::Dist::Constant(5.0),
            by: vec![SCRAP],
            may_wait: None,
            clean_side: false,
        }],
        ends: Some(at(400.0)),
        ..scrapping_line(20.0)
    };
    let (_, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(diary.times("other work done"), [15.0, 20.0, 105.0]);
}
