//! Roller lanes: whole racks, transit, closing up, stops.

use scullery_engine::line::*;

use crate::hand::*;

/// 2.7 m of rollers for racks of 0.5 m at 3 m/min (50 mm/s): 54 s from end to end, a rack every 10 s.
fn rollers() -> Lane {
    Lane {
        kind: LaneKind::Rollers {
            length_mm: 2_700,
            rack_mm: 500,
            speed: vec![(at(0.0), 3_000)],
        },
        ..shelf(None)
    }
}

fn roller_line(machine: Machine) -> Line {
    Line {
        lanes: vec![rollers()],
        machines: vec![machine],
        ..wash_line(1)
    }
}

fn closed(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.closed.s()).collect()
}

fn washed_from(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.washed_from.s()).collect()
}

#[test]
fn a_rack_takes_the_transit_time_to_the_machine() {
    let (_, diary) = live(&roller_line(door(60.0)), &coming(&[0.0, 100.0], &[1.0]));
    assert_eq!(washed_from(&diary), [54.0, 154.0]);
    assert_eq!(diary.waits_at("lane.lane"), [54.0, 54.0]);
}

#[test]
fn a_lane_holds_whole_racks_and_no_more() {
    // 2.7 m are 5 racks. The sixth rack stands full at the table until the machine, hot at 100, takes the first; the
    // lane's last rack then lies at 0.7 m, so the sixth follows at once, and the scrapper's seventh tray with it.
    let line = roller_line(Machine {
        on_at: at(100.0),
        ..door(60.0)
    });
    assert_eq!(line.lanes[0].room(), Some(5));
    let (_, diary) = live(&line, &coming(&[0.0; 7], &[1.0]));
    assert_eq!(closed(&diary), [0.0, 10.0, 20.0, 30.0, 40.0, 100.0, 160.0]);
    let most = diary.levels_of("lane.lane").iter().map(|l| l.1).max();
    assert_eq!(most, Some(5));
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(0.0, "lane.lane".to_owned())]
    );
}

#[test]
fn racks_close_up_at_the_end_and_move_up_one_rack_when_it_is_taken() {
    // Put on at 0, 10 and 20. With a machine of 5 s they come in as they arrive: 54, 64, 74. With 60 s the second has
    // closed up to 2.2 m by 54, moves up in 10 s and waits for the machine.
    let (_, quick) = live(&roller_line(door(5.0)), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(washed_from(&quick), [54.0, 64.0, 74.0]);
    let (_, slow) = live(&roller_line(door(60.0)), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(washed_from(&slow), [54.0, 114.0, 174.0]);
    // Closed up at rest until the machine is hot at 300, then 10 s between racks, faster than they were put on.
    let late = roller_line(Machine {
        on_at: at(300.0),
        ..door(1.0)
    });
    let (_, late) = live(&late, &coming(&[0.0, 100.0, 200.0], &[1.0]));
    assert_eq!(washed_from(&late), [300.0, 310.0, 320.0]);
}

#[test]
fn a_lane_stopped_by_the_clock_holds_its_racks_where_they_are() {
    let mut line = roller_line(door(60.0));
    line.lanes[0].stops = vec![Stop {
        from: at(20.0),
        to: at(50.0),
        then: AfterStop::Resume,
    }];
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(washed_from(&diary), [84.0]);
}

#[test]
fn a_change_of_roller_speed_in_transit_goes_on_from_where_the_rack_is() {
    // 1 m in 20 s, then 1.7 m at 25 mm/s: 68 s.
    let mut line = roller_line(door(60.0));
    line.lanes[0].kind = LaneKind::Rollers {
        length_mm: 2_700,
        rack_mm: 500,
        speed: vec![(at(0.0), 3_000), (at(20.0), 1_500)],
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(washed_from(&diary), [88.0]);
}

#[test]
fn a_shelf_holds_so_many_racks_and_they_are_there_at_once() {
    // Machine from 100 on: two racks on the shelf, the third full at the table, the fourth tray in hand.
    let line = Line {
        lanes: vec![shelf(Some(2))],
        machines: vec![Machine {
            on_at: at(100.0),
            ..door(60.0)
        }],
        ..wash_line(1)
    };
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(closed(&diary), [0.0, 0.0, 100.0, 160.0]);
    assert_eq!(
        diary.held_up_by("scrapper"),
        [(0.0, "lane.lane".to_owned())]
    );
}

#[test]
fn a_batch_is_taken_from_the_rollers_where_it_rests() {
    // Three racks a batch, hot at 100 with four racks closed up: three go in together; the fourth rolls up 1.5 m and
    // goes in alone when the cycle is over.
    let mut line = roller_line(Machine {
        on_at: at(100.0),
        ..door(60.0)
    });
    line.machines[0].kind = MachineKind::Door {
        batch: 3,
        cycle_s: scullery_engine::dist::Dist::Constant(60.0),
    };
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(washed_from(&diary), [100.0, 100.0, 100.0, 160.0]);
}
