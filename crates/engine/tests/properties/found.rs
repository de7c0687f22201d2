//! Faults that random lines brought to light, each as the smallest line that shows it.

use scullery_engine::line::*;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;

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
