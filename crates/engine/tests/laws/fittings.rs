//! What a machine may be fitted with: several on one lane, the loader's gap, changes of tank water, hot water, detergent.

use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

fn line_of(machine: Machine) -> Line {
    Line {
        machines: vec![machine],
        ..wash_line(1)
    }
}

fn washed_from(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.washed_from.s()).collect()
}

#[test]
fn two_machines_share_one_lane() {
    let mut line = line_of(door(60.0));
    let other = Machine {
        name: "other".into(),
        ..door(90.0)
    };
    line.machines.push(other);
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    // The first takes at 0, 60, 120; the other at 0 and 90.
    assert_eq!(diary.racks_out(), [60.0, 90.0, 120.0, 180.0, 180.0]);
    assert_eq!(diary.times("racks in machine"), [0.0, 60.0, 120.0]);
    assert_eq!(diary.times("racks in other"), [0.0, 90.0]);
}

#[test]
fn a_machine_that_is_down_leaves_the_lane_to_the_other() {
    let mut line = line_of(Machine {
        stops: vec![Stop {
            from: at(0.0),
            to: at(150.0),
            then: AfterStop::Resume,
        }],
        ..door(60.0)
    });
    line.machines.push(Machine {
        name: "other".into(),
        ..door(60.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(diary.times("racks in other"), [0.0, 60.0, 120.0]);
    assert_eq!(diary.times("racks in machine"), [150.0]);
}

#[test]
fn the_loaders_gap_is_lost_between_two_racks_of_a_conveyor() {
    // A rack every 20 s and 5 s lost: 144 an hour instead of 180.
    let line = line_of(Machine {
        gap: secs(5.0),
        ..conveyor()
    });
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(washed_from(&diary), [0.0, 25.0, 50.0, 75.0]);
}

#[test]
fn a_door_machine_of_two_minutes_with_half_a_minute_of_handling_does_24_an_hour() {
    // Foodservice Equipment & Supplies, on the rating of stationary-rack machines: a 2-minute cycle gives 24 racks an
    // hour, not 30, with 30 s of handling.
    let line = line_of(Machine {
        gap: secs(30.0),
        ..door(120.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0; 40], &[1.0]));
    let within = diary.racks_out().iter().filter(|&&s| s <= 3600.0).count();
    assert_eq!(within, 24);
    assert_eq!(washed_from(&diary)[..3], [0.0, 150.0, 300.0]);
}

#[test]
fn tank_water_is_changed_by_the_clock_when_what_is_inside_is_done() {
    // Due at 30, the cycle ends at 60; drained, filled and heated by 150.
    let line = line_of(Machine {
        tank: Some(WaterChange {
            at: vec![at(30.0)],
            every_racks: None,
            drain_and_fill: secs(40.0),
            heat: secs(50.0),
        }),
        ..door(60.0)
    });
    let (_, diary) = live(&line, &coming(&[0.0; 2], &[1.0]));
    assert_eq!(washed_from(&diary), [0.0, 150.0]);
    let changing = diary.spans("machine", State::Refilling, 10_000.0);
    assert_eq!(changing, [(60.0, 150.0)]);
    assert_eq!(diary.times("tank fillings machine"), [150.0]);
}

#[test]
fn tank_water_is_changed_after_so_many_racks() {
    let line = line_of(Machine {
        tank: Some(WaterChange {
            at: vec![],
            every_racks: Some(2),
            drain_and_fill: secs(40.0),
            heat: secs(50.0),
        }),
        ..conveyor()
    });
    // In at 0 and 20; the second is out at 80; hot again at 170, the next two at 170 and 190, out by 250; then 340.
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(washed_from(&diary), [0.0, 20.0, 170.0, 190.0, 340.0]);
}

#[test]
fn a_loader_waits_while_the_water_is_changed() {
    let mut line = line_of(Machine {
        tank: Some(WaterChange {
            at: vec![at(10.0)],
            every_racks: None,
            drain_and_fill: secs(30.0),
            heat: secs(0.0),
        }),
        loading: Some(Loading {
            rack_s: 5.0,
            variation: scullery_engine::dist::Dist::Constant(1.0),
            places: 1,
        }),
        ..door(60.0)
    });
    line.crew.push(worker("loader", &[Post::Loading(0)]));
    // Loaded 0–5, washed 5–65, changed 65–95, loaded 95–100.
    let (_, diary) = live(&line, &coming(&[0.0; 2], &[1.0]));
    assert_eq!(washed_from(&diary), [5.0, 100.0]);
}

#[test]
fn a_rack_waits_for_the_hot_water_of_its_rinse() {
    // 4 L in the store, 2 L a rack, 72 L an hour heated up: 2 L in 100 s. In at 0 and 20; at 20 are left 0.4 L, so the
    // third waits to 100, and each after it 100 s.
    let line = line_of(Machine {
        hot_water: Some(HotWater {
            store_ul: 4_000_000,
            rack_ul: 2_000_000,
            recovers_ul_per_h: 72_000_000,
        }),
        ..conveyor()
    });
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(washed_from(&diary), [0.0, 20.0, 100.0, 200.0, 300.0]);
    // Waited 40 to 100, 120 to 200, 220 to 300.
    let waited = diary.times("seconds waited for hot water machine");
    assert_eq!(waited.len(), 60 + 80 + 80);
}

#[test]
fn detergent_runs_low_warns_and_is_missed_when_nobody_fills_it_up() {
    let dosing = Some(Dosing {
        reservoir_mg: 100,
        rack_mg: 40,
        warns_below_mg: 50,
    });
    let mut line = line_of(Machine {
        dosing,
        ..door(60.0)
    });
    let racks = coming(&[0.0; 4], &[1.0]);
    // After the second, at 60, 20 mg are left; the third, at 120, does not get its 40.
    let (_, diary) = live(&line, &racks);
    assert_eq!(diary.times("detergent low machine"), [60.0]);
    assert_eq!(
        diary.times("washed without full detergent machine"),
        [120.0, 180.0]
    );
    // Somebody fills it up from 60 to 90: the fourth takes it low again, at 180.
    line.duties = vec![Duty {
        name: "detergent".into(),
        when: DutyWhen::DetergentLow(0),
        work_s: scullery_engine::dist::Dist::Constant(30.0),
        by: vec![SCRAP],
        may_wait: None,
        clean_side: false,
    }];
    let (_, diary) = live(&line, &racks);
    assert_eq!(diary.times("detergent low machine"), [60.0, 180.0]);
    assert!(
        diary
            .times("washed without full detergent machine")
            .is_empty()
    );
    assert_eq!(diary.times("other work done"), [90.0, 210.0]);
}
