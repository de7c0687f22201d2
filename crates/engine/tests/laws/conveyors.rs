//! Rack conveyors: pitch, tunnel, rinse, a full clean end, stops; loaders.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

fn conveyor_line() -> Line {
    Line {
        machines: vec![conveyor()],
        ..wash_line(1)
    }
}

fn stopped(from: f64, to: f64, then: AfterStop) -> Vec<Stop> {
    vec![Stop {
        from: at(from),
        to: at(to),
        then,
    }]
}

fn washed_from(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.washed_from.s()).collect()
}

#[test]
fn racks_go_in_a_pitch_apart_and_leave_after_the_tunnel() {
    // 500 mm at 25 mm/s: 20 s apart, 180 racks an hour; 1.5 m: 60 s.
    let (_, diary) = live(&conveyor_line(), &coming(&[0.0, 0.0, 0.0, 90.0], &[1.0]));
    assert_eq!(washed_from(&diary), [0.0, 20.0, 40.0, 90.0]);
    assert_eq!(diary.racks_out(), [60.0, 80.0, 100.0, 150.0]);
    assert_eq!(conveyor().racks_per_h(), 180.0);
}

#[test]
fn rinse_flows_while_a_rack_is_in_its_zone_and_overlaps_count_once() {
    // Zone 40–50 s into the tunnel: three racks rinse 40–50, 60–70, 80–90.
    let mut line = conveyor_line();
    let racks = coming(&[0.0; 3], &[1.0]);
    let (ended, _) = live(&line, &racks);
    assert_eq!(ended.rinse_us, [30_000_000]);
    // Zone 20–50 s: 20–50, 40–70, 60–90 overlap to 20–90.
    line.machines[0].kind = MachineKind::Conveyor {
        pitch_mm: 500,
        tunnel_mm: 1500,
        rinse_mm: (500, 1250),
        speed_mm_min: 1500,
    };
    let (ended, _) = live(&line, &racks);
    assert_eq!(ended.rinse_us, [70_000_000]);
    // The run's end at 65 cuts it short.
    line.ends = Some(at(65.0));
    let (ended, _) = live(&line, &racks);
    assert_eq!(ended.rinse_us, [45_000_000]);
}

#[test]
fn rinse_does_not_flow_while_the_conveyor_stands() {
    // Down 45–100 with the rack in the zone: 5 s before, 5 s after; out at 60 + 55.
    let mut line = conveyor_line();
    line.machines[0].stops = stopped(45.0, 100.0, AfterStop::Resume);
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.racks_out(), [115.0]);
    assert_eq!(ended.rinse_us, [10_000_000]);
}

#[test]
fn a_conveyor_stopped_resumes_or_runs_again() {
    // Racks in at 0 and 20; down 45–100.
    let racks = coming(&[0.0, 0.0], &[1.0]);
    let mut line = conveyor_line();
    line.machines[0].stops = stopped(45.0, 100.0, AfterStop::Resume);
    let (ended, diary) = live(&line, &racks);
    assert_eq!(diary.racks_out(), [115.0, 135.0]);
    assert_eq!(ended.rinse_us, [20_000_000]);
    // Run again: the tunnel's 60 s begin anew at 100 for the first, the second 20 s behind it. The rinse of 40–45 is
    // spent besides.
    line.machines[0].stops = stopped(45.0, 100.0, AfterStop::RunAgain);
    let (ended, diary) = live(&line, &racks);
    assert_eq!(diary.racks_out(), [160.0, 180.0]);
    assert_eq!(ended.rinse_us, [25_000_000]);
}

#[test]
fn racks_that_run_again_go_in_one_after_the_other_before_any_new_one() {
    // In at 0 and 30; down 45 to 100. Run again: the first from 100, the second a pitch (20 s) behind it, and the rack
    // that comes at 105 a pitch behind that.
    let mut line = conveyor_line();
    line.machines[0].stops = stopped(45.0, 100.0, AfterStop::RunAgain);
    let (_, diary) = live(&line, &coming(&[0.0, 30.0, 105.0], &[1.0]));
    assert_eq!(diary.racks_out(), [160.0, 180.0, 200.0]);
    let washed_from: Vec<f64> = diary.racks.iter().map(|r| r.washed_from.s()).collect();
    assert_eq!(washed_from, [0.0, 30.0, 140.0]);
}

#[test]
fn a_full_clean_end_stops_the_conveyor_and_the_racks_keep_their_places() {
    // Room for one, unloading 90 s. The first is out at 60 and unloaded to 150; the second comes to the end at 80 and
    // all stands; from 150 the third has 20 s to go, and stands until 240.
    let line = Line {
        classes: vec![Class {
            unload_rack_s: 90.0,
            ..class("plate", 1)
        }],
        machines: vec![Machine {
            to: Some(0),
            ..conveyor()
        }],
        clean_ends: vec![clean_end(Some(1))],
        crew: vec![worker("scrapper", &[SCRAP]), worker("unloader", &[UNLOAD])],
        ..conveyor_line()
    };
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(diary.racks_out(), [60.0, 150.0, 240.0]);
    let stands = diary.spans("machine", State::Stopped, 1000.0);
    assert_eq!(stands, [(80.0, 150.0), (170.0, 240.0)]);
    let because = diary.states.iter().find(|s| s.2 == State::Stopped);
    assert_eq!(
        because.and_then(|s| s.3.as_deref()),
        Some("clean_end.clean end")
    );
}

const LOAD: Post = Post::Loading(0);

fn loaded(machine: Machine, rack_s: f64) -> Line {
    Line {
        machines: vec![Machine {
            loading: Some(Loading {
                rack_s,
                variation: Dist::Constant(1.0),
                places: 1,
            }),
            ..machine
        }],
        crew: vec![worker("scrapper", &[SCRAP]), worker("loader", &[LOAD])],
        ..wash_line(1)
    }
}

#[test]
fn a_loader_faster_than_the_data_plate_waits_until_the_mouth_is_free() {
    // 15 s a rack, 20 s between racks: loaded at 15 and 30; the second stands at the mouth until 35, only then the third
    // is begun and is loaded at 50.
    let (_, diary) = live(&loaded(conveyor(), 15.0), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(washed_from(&diary), [15.0, 35.0, 55.0]);
    let working = diary.spans("loader", State::Working, 1000.0);
    assert_eq!(working, [(0.0, 30.0), (35.0, 50.0)]);
}

#[test]
fn a_loader_slower_than_the_data_plate_sets_the_pace() {
    let (_, diary) = live(&loaded(conveyor(), 25.0), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(washed_from(&diary), [25.0, 50.0, 75.0]);
}

#[test]
fn a_loader_who_is_done_while_the_machine_is_down_is_free() {
    for machine in [conveyor(), door(60.0)] {
        let mut line = loaded(machine, 15.0);
        line.machines[0].stops = stopped(10.0, 100.0, AfterStop::Resume);
        let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
        assert_eq!(washed_from(&diary), [100.0]);
        let working = diary.spans("loader", State::Working, 1000.0);
        assert_eq!(working, [(0.0, 15.0)]);
        assert!(diary.held_up_by("loader").is_empty());
    }
}

#[test]
fn what_stands_at_the_mouth_goes_in_by_itself_when_the_loader_has_gone() {
    // Loaded at 30, may go in at 35; the break is due at 32.
    let mut line = loaded(conveyor(), 15.0);
    line.crew[1].breaks = vec![(at(32.0), secs(100.0))];
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(washed_from(&diary), [15.0, 35.0, 147.0]);
    let away = diary.spans("loader", State::Break, 1000.0);
    assert_eq!(away, [(32.0, 132.0)]);
}

#[test]
fn a_loader_takes_a_door_machine_its_batch_when_the_chamber_is_empty() {
    // Hot at 5 with three racks waiting; two a batch, 10 s: loaded 5–15, washed 15–75; the third is loaded 75–85.
    let mut line = loaded(door(60.0), 10.0);
    line.machines[0].on_at = at(5.0);
    line.machines[0].kind = MachineKind::Door {
        batch: 2,
        cycle_s: Dist::Constant(60.0),
    };
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(washed_from(&diary), [15.0, 15.0, 85.0]);
    let working = diary.spans("loader", State::Working, 1000.0);
    assert_eq!(working, [(5.0, 15.0), (75.0, 85.0)]);
}

#[test]
fn a_machine_switched_off_washes_what_the_loader_has_in_hand_and_asks_for_no_more() {
    // Off at 12 with the first rack in hand until 15: in at 15, out at 75.
    let mut line = loaded(conveyor(), 15.0);
    line.machines[0].off_at = Some(at(12.0));
    let (ended, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(diary.trips(), [(15.0, 75.0, 1)]);
    assert_eq!(ended.balance.unfinished, ["2 racks at lane"]);
    let working = diary.spans("loader", State::Working, 1000.0);
    assert_eq!(working, [(0.0, 15.0)]);
}
