//! When a machine runs: heating, hold-and-run, runs throughout, switched off; batches of a door machine.
//!
//! Not sayable yet, so no test: failures on a running-time clock (a stop that lies 600 s *of running* ahead and stands
//! still with the machine).

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

fn machine_line(machine: Machine) -> Line {
    Line {
        machines: vec![machine],
        ..wash_line(1)
    }
}

fn hold(racks: u32, longest_wait_s: Option<f64>) -> Control {
    Control::HoldAndRun {
        racks,
        longest_wait: longest_wait_s.map(secs),
    }
}

fn washed_from(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.washed_from.s()).collect()
}

#[test]
fn a_machine_heats_up_before_it_takes_a_rack() {
    let line = machine_line(Machine {
        on_at: at(100.0),
        heat_up: secs(50.0),
        ..door(60.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.trips(), [(150.0, 210.0, 1)]);
    let heating = diary.spans("machine", State::Heating, 10_000.0);
    assert_eq!(heating, [(100.0, 150.0)]);
    let washing = diary.spans("machine", State::Washing, 10_000.0);
    assert_eq!(washing, [(150.0, 210.0)]);
}

fn down(from_s: f64, to_s: f64) -> Vec<Stop> {
    vec![Stop {
        from: at(from_s),
        to: at(to_s),
        then: AfterStop::Resume,
    }]
}

#[test]
fn a_machine_that_is_down_does_not_heat_up() {
    // On at 100, 50 s to heat, down 120 to 200: 20 s before, 30 s after.
    let line = machine_line(Machine {
        on_at: at(100.0),
        heat_up: secs(50.0),
        stops: down(120.0, 200.0),
        ..door(60.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.trips(), [(230.0, 290.0, 1)]);
    assert_eq!(
        diary.spans("machine", State::Heating, 10_000.0),
        [(100.0, 120.0), (200.0, 230.0)]
    );
    // Down already when it is switched on, and when the run begins.
    for (from_s, on_s) in [(90.0, 100.0), (0.0, 0.0)] {
        let mut line = line.clone();
        line.machines[0].on_at = at(on_s);
        line.machines[0].stops = down(from_s, 200.0);
        let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
        assert_eq!(diary.trips(), [(250.0, 310.0, 1)]);
    }
}

#[test]
fn a_start_under_way_stands_still_while_the_machine_is_down_and_none_begins() {
    // 30 s to start; down 10 to 50. Under way: 10 s before, 20 s after. Held for a second rack or 20 s of waiting: the
    // 20 s are over at 20, so it starts at 50.
    let starting = Machine {
        start_s: Dist::Constant(30.0),
        stops: down(10.0, 50.0),
        ..door(60.0)
    };
    for (control, from_s) in [(hold(1, None), 70.0), (hold(2, Some(20.0)), 80.0)] {
        let line = machine_line(Machine {
            control,
            ..starting.clone()
        });
        let (_, diary) = live(&line, &coming(&[0.0, 500.0], &[1.0]));
        assert_eq!(washed_from(&diary)[0], from_s);
        assert_eq!(diary.spans("machine", State::Down, 1000.0), [(10.0, 50.0)]);
    }
}

#[test]
fn a_machine_switched_on_before_the_run_has_heated_so_far() {
    // On at 100 with 150 s to heat; the run begins at 200: ready at 250.
    let line = Line {
        starts: at(200.0),
        ..machine_line(Machine {
            on_at: at(100.0),
            heat_up: secs(150.0),
            ..door(60.0)
        })
    };
    let (_, diary) = live(&line, &coming(&[200.0], &[1.0]));
    assert_eq!(washed_from(&diary), [250.0]);
}

#[test]
fn hold_and_run_starts_when_so_many_racks_stand_on_the_lane() {
    // Three racks at 20; the drop-off stays open, so the fourth, at 500, waits alone to the end.
    let mut line = machine_line(Machine {
        control: hold(3, None),
        ..door(60.0)
    });
    line.drop_offs[0].closes = Closing::Never;
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 20.0, 500.0], &[1.0]));
    assert_eq!(diary.times("starts machine"), [20.0]);
    assert_eq!(washed_from(&diary), [20.0, 80.0, 140.0]);
}

#[test]
fn hold_and_run_starts_when_a_rack_has_waited_the_longest_wait() {
    let mut line = machine_line(Machine {
        control: hold(3, Some(30.0)),
        ..door(60.0)
    });
    line.drop_offs[0].closes = Closing::Never;
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 500.0], &[1.0]));
    assert_eq!(diary.times("starts machine"), [30.0, 530.0]);
    assert_eq!(washed_from(&diary), [30.0, 90.0, 530.0]);
}

#[test]
fn hold_and_run_starts_when_nothing_more_can_come() {
    // Eight are asked for and three come. The drop-off closes after the last diner at 20; the last tray takes 5 s.
    let mut line = machine_line(Machine {
        control: hold(8, None),
        ..door(60.0)
    });
    line.scrapping[0].handling_s = 5.0;
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 20.0], &[1.0]));
    assert_eq!(diary.times("starts machine"), [25.0]);
    // Closing by the clock at 300: not before.
    line.drop_offs[0].closes = Closing::At(at(300.0));
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 20.0], &[1.0]));
    assert_eq!(diary.times("starts machine"), [300.0]);
}

#[test]
fn hold_and_run_does_not_start_while_held_back_ware_may_still_come() {
    // Plates at 0; trays held back until 1000. Only then can nothing more come.
    let mut line = machine_line(Machine {
        control: hold(8, None),
        ..door(60.0)
    });
    line.classes.push(class("tray", 1));
    line.scrapping[0].piece_s.push(0.0);
    line.scrapping[0].routes.push(PiecesTo::Pile(0));
    line.racking[0].places = 1;
    line.racking[0].piles = vec![Pile {
        held_back: vec![Release::From(at(1000.0))],
        ..pile(1, None, 0.0)
    }];
    line.crew.push(worker("racker", &[RACK]));
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0, 1.0]));
    assert_eq!(diary.times("starts machine"), [1000.0]);
    assert_eq!(washed_from(&diary), [1000.0, 1060.0]);
}

#[test]
fn a_start_takes_its_seconds_and_the_machine_rests_when_nothing_is_on_the_lane_or_inside() {
    let mut line = machine_line(Machine {
        control: hold(2, None),
        start_s: Dist::Constant(15.0),
        ..door(60.0)
    });
    line.drop_offs[0].closes = Closing::Never;
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 500.0, 510.0], &[1.0]));
    assert_eq!(diary.times("starts machine"), [10.0, 510.0]);
    assert_eq!(washed_from(&diary), [25.0, 85.0, 525.0, 585.0]);
    let starting = diary.spans("machine", State::Starting, 10_000.0);
    assert_eq!(starting, [(10.0, 25.0), (510.0, 525.0)]);
    let ready = diary.spans("machine", State::Ready, 10_000.0);
    assert_eq!(ready, [(0.0, 10.0), (145.0, 510.0), (645.0, 10_000.0)]);
}

#[test]
fn a_conveyor_that_runs_throughout_moves_from_ready_to_the_end_and_one_that_holds_only_while_it_has_racks()
 {
    let throughout = Line {
        ends: Some(at(1000.0)),
        ..machine_line(Machine {
            on_at: at(50.0),
            ..conveyor()
        })
    };
    let racks = coming(&[100.0, 110.0], &[1.0]);
    let (_, diary) = live(&throughout, &racks);
    let washing = diary.spans("machine", State::Washing, 1000.0);
    assert_eq!(washing, [(50.0, 1000.0)]);
    // Starts at the second rack, 110; racks in at 110 and 130, the last out at 190.
    let mut holding = throughout.clone();
    holding.machines[0].control = hold(2, None);
    let (_, diary) = live(&holding, &racks);
    let washing = diary.spans("machine", State::Washing, 1000.0);
    assert_eq!(washing, [(110.0, 190.0)]);
}

#[test]
fn a_machine_switched_off_finishes_what_is_inside_and_takes_nothing_more() {
    // Door: a rack at 60 is in until 120, off at 90; the third stays on the lane.
    let line = machine_line(Machine {
        off_at: Some(at(90.0)),
        ..door(60.0)
    });
    let (ended, diary) = live(&line, &coming(&[0.0, 50.0, 80.0], &[1.0]));
    assert_eq!(diary.trips(), [(0.0, 60.0, 1), (60.0, 120.0, 1)]);
    assert_eq!(ended.balance.unfinished, ["1 rack at lane"]);
    let off = diary.spans("machine", State::Off, 10_000.0);
    assert_eq!(off, [(120.0, 10_000.0)]);
    // Conveyor: a rack every 20 s keeps it full; off at 70 with three inside.
    let line = machine_line(Machine {
        off_at: Some(at(70.0)),
        ..conveyor()
    });
    let come: Vec<f64> = (0..10).map(|k| 20.0 * f64::from(k)).collect();
    let (ended, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(washed_from(&diary), [0.0, 20.0, 40.0, 60.0]);
    assert_eq!(ended.balance.unfinished, ["6 racks at lane"]);
    let off = diary.spans("machine", State::Off, 10_000.0);
    assert_eq!(off, [(120.0, 10_000.0)]);
}

#[test]
fn a_door_machine_washes_a_batch_together() {
    // Hot at 10 with five racks waiting, two a batch: 10–70 two, 70–130 two, 130–190 one.
    let line = machine_line(Machine {
        kind: MachineKind::Door {
            batch: 2,
            cycle_s: Dist::Constant(60.0),
        },
        on_at: at(10.0),
        ..door(60.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(diary.racks_out(), [70.0, 70.0, 130.0, 130.0, 190.0]);
    assert_eq!(line.machines[0].racks_per_h(), 120.0);
}

#[test]
fn a_washed_rack_stays_in_the_machine_while_the_clean_end_is_full() {
    // Wash 60 s, unloading 90 s, room for one: the first is unloaded 60–150, so the second leaves at 150.
    let line = Line {
        clean_ends: vec![clean_end(Some(1))],
        crew: vec![worker("scrapper", &[SCRAP]), worker("unloader", &[UNLOAD])],
        classes: vec![Class {
            unload_rack_s: 90.0,
            ..class("plate", 1)
        }],
        ..machine_line(Machine {
            to: Some(0),
            ..door(60.0)
        })
    };
    let (_, diary) = live(&line, &coming(&[0.0, 0.0, 0.0], &[1.0]));
    assert_eq!(diary.racks_out(), [60.0, 150.0, 240.0]);
    // Blocked from the end of the second cycle at 120; the third cycle begins when the chamber is free at 150.
    let stopped = diary.spans("machine", State::Stopped, 10_000.0);
    assert_eq!(stopped, [(120.0, 150.0), (210.0, 240.0)]);
}

#[test]
fn a_stop_counts_from_the_clock_and_two_stops_that_meet_are_one() {
    let stop = |from, to| Stop {
        from: at(from),
        to: at(to),
        then: AfterStop::Resume,
    };
    let line = machine_line(Machine {
        stops: vec![stop(20.0, 50.0), stop(50.0, 70.0)],
        ..door(60.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.racks_out(), [110.0]);
    let down = diary.spans("machine", State::Down, 10_000.0);
    assert_eq!(down, [(20.0, 70.0)]);
}
