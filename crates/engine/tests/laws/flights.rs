//! Flight machines: ware placed loose on the belt, lots behind each other, a clean end that holds so many pieces.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// 1.5 m/min is 25 mm/s; 1.5 m of tunnel: 60 s; 20 pieces a metre: 2 s of belt a piece.
fn flight() -> Machine {
    Machine {
        kind: MachineKind::Flight {
            tunnel_mm: 1500,
            rinse_mm: (1000, 1250),
            speed_mm_min: 1500,
            piece_um: vec![50_000],
            rack_mm: 500,
        },
        from: None,
        ..door(0.0)
    }
}

/// Plates on a pile, placed five at a time by `placer`.
fn flight_line(piece_s: f64) -> Line {
    Line {
        classes: vec![loose("plate")],
        drop_offs: vec![drop_off(TraysTo::Table(0))],
        tables: vec![table(None)],
        scrapping: vec![scrapping(0.0, vec![PiecesTo::Pile(0)])],
        racking: vec![Racking {
            places: 9,
            grab: 5,
            piles: vec![pile(0, None, piece_s)],
            ..racking(1, RacksTo::Machine(0))
        }],
        machines: vec![flight()],
        crew: vec![worker("scrapper", &[SCRAP]), worker("placer", &[RACK])],
        ends: Some(at(10_000.0)),
        ..bare()
    }
}

/// When lots of five came out.
fn out(diary: &Diary) -> Vec<f64> {
    let mut all = diary.times("pieces out machine");
    all.dedup();
    all
}

#[test]
fn a_belt_full_of_ware_takes_slots_a_metre_times_speed() {
    // Five plates are 10 s of belt and 5 s of work: on at 5, 15, 25, 35, the placer held up in between; 60 s of tunnel.
    let line = flight_line(1.0);
    let (_, diary) = live(&line, &coming(&[0.0], &[20.0]));
    assert_eq!(out(&diary), [65.0, 75.0, 85.0, 95.0]);
    // 20 a metre x 1.5 m/min x 60 min.
    assert_eq!(line.machines[0].pieces_per_h(0), Some(1800.0));
    let held = diary.spans("placer", State::HeldUp, 100.0);
    assert_eq!(held, [(10.0, 15.0), (20.0, 25.0), (30.0, 35.0)]);
    assert_eq!(diary.held_up_by("placer")[0].1, "machine.machine");
}

#[test]
fn a_slow_placer_leaves_gaps_on_the_belt() {
    // 3 s a plate: 15 s a lot, of which 5 s of belt go by empty.
    let (_, diary) = live(&flight_line(3.0), &coming(&[0.0], &[20.0]));
    assert_eq!(out(&diary), [75.0, 90.0, 105.0, 120.0]);
}

#[test]
fn two_placers_share_one_belt() {
    // Each needs 15 s a lot; together a lot every 7.5 s, but the belt takes one every 10 s.
    let mut line = flight_line(3.0);
    line.crew.push(worker("other", &[RACK]));
    let (_, diary) = live(&line, &coming(&[0.0], &[20.0]));
    // Both have done at 15: on at 15 and 25; each begins again when free: done at 30 and 40.
    assert_eq!(out(&diary), [75.0, 85.0, 95.0, 105.0]);
}

#[test]
fn a_full_clean_end_stops_the_belt_and_the_trail_leads_back_to_it() {
    // Room for five pieces, 4 s each to unload: 20 s a lot against 10 s of belt.
    let line = Line {
        classes: vec![Class {
            unload_s: 4.0,
            ..loose("plate")
        }],
        machines: vec![Machine {
            to: Some(0),
            ..flight()
        }],
        clean_ends: vec![CleanEnd {
            pieces: Some(5),
            ..clean_end(None)
        }],
        crew: vec![
            worker("scrapper", &[SCRAP]),
            worker("placer", &[RACK]),
            worker("unloader", &[UNLOAD]),
        ],
        ..flight_line(1.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[20.0]));
    assert_eq!(out(&diary), [65.0, 85.0, 105.0, 125.0]);
    let stands = diary.spans("machine", State::Stopped, 1000.0);
    assert_eq!(stands, [(75.0, 85.0), (95.0, 105.0), (115.0, 125.0)]);
    let because = diary.states.iter().find(|s| s.2 == State::Stopped);
    let because = because.and_then(|s| s.3.as_deref());
    assert_eq!(because, Some("clean_end.clean end"));
    let clean = diary.times("pieces clean");
    assert_eq!((clean.len(), clean[19]), (20, 145.0));
}

#[test]
fn rinse_flows_while_any_piece_of_a_lot_is_in_the_zone() {
    // A lot 250 mm long: its first piece is at 1 m 30 s after the last one went on, its last leaves 1.25 m at 50 s.
    let line = flight_line(1.0);
    let (ended, _) = live(&line, &coming(&[0.0], &[5.0]));
    assert_eq!(ended.rinse_us, [20_000_000]);
    // Four behind each other: from 35 to 85.
    let (ended, _) = live(&line, &coming(&[0.0], &[20.0]));
    assert_eq!(ended.rinse_us, [50_000_000]);
}

#[test]
fn a_flight_machine_takes_racks_besides() {
    // Cups go in racks by a lane, 20 s of belt each. At 0 the rack's tail is at the mouth; the five plates placed by 5
    // need 10 s behind it: 10. The second rack has waited since 0 and needs 20 s behind them.
    let mut line = flight_line(1.0);
    line.classes.push(class("cup", 1));
    line.rack_kinds = vec![rack_kind("peg", 9)];
    line.racking.push(racking(2, RacksTo::Lane(0)));
    line.lanes = vec![shelf(None)];
    line.scrapping[0].routes.push(PiecesTo::Racks(1));
    line.scrapping[0].piece_s.push(0.0);
    line.machines[0].from = Some(0);
    let MachineKind::Flight { piece_um, .. } = &mut line.machines[0].kind else {
        unreachable!("it is a flight machine");
    };
    piece_um.push(0);
    let (_, diary) = live(&line, &coming(&[0.0], &[5.0, 2.0]));
    assert_eq!(diary.trips(), [(0.0, 60.0, 1), (30.0, 90.0, 1)]);
    assert_eq!(out(&diary), [60.0, 70.0, 90.0]);
}

#[test]
fn hold_and_run_counts_the_minutes_of_work_on_the_piles() {
    // Five plates are 10 s of belt: with the third tray, at 20, 30 s of work wait. Ready to start until then.
    let mut line = flight_line(1.0);
    line.machines[0].control = Control::HoldAndRun {
        racks: 1000,
        longest_wait: None,
        work: Some(secs(30.0)),
    };
    line.drop_offs[0].closes = Closing::Never;
    let (_, diary) = live(&line, &coming(&[0.0, 10.0, 20.0, 300.0], &[5.0]));
    assert_eq!(diary.times("starts machine"), [20.0]);
    // Three lots on at 25, 35, 45; the last is out at 105 and it rests. The fourth tray waits for more.
    let washing = diary.spans("machine", State::Washing, 10_000.0);
    assert_eq!(washing, [(20.0, 105.0)]);
}

#[test]
fn a_stop_that_runs_again_washes_all_lots_anew() {
    // On at 5 and 15, down 40–50: at 50 the first begins anew, the second 10 s behind it.
    let mut line = flight_line(1.0);
    line.machines[0].stops = vec![Stop {
        from: at(40.0),
        to: at(50.0),
        then: AfterStop::RunAgain,
    }];
    let (_, diary) = live(&line, &coming(&[0.0], &[10.0]));
    assert_eq!(out(&diary), [110.0, 120.0]);
}

#[test]
fn ware_dries_shorter_behind_a_blow_dryer() {
    let line = Line {
        classes: vec![Class {
            dry: secs(60.0),
            ..loose("plate")
        }],
        machines: vec![Machine {
            to: Some(0),
            dries_to: 250,
            ..flight()
        }],
        clean_ends: vec![CleanEnd {
            by_hand: false,
            ..clean_end(None)
        }],
        ..flight_line(1.0)
    };
    let (_, diary) = live(&line, &coming(&[0.0], &[5.0]));
    // Out at 65, dry at 80.
    assert_eq!(diary.times("pieces clean"), [80.0; 5]);
}

#[test]
fn work_at_the_load_end_varies_by_its_own_draws() {
    // The factor is on each grab; the belt's pace binds all the same.
    let mut line = flight_line(0.1);
    line.racking[0].variation = Dist::Uniform { min: 0.5, max: 1.5 };
    let (_, diary) = live(&line, &coming(&[0.0], &[40.0]));
    let all = out(&diary);
    let apart: Vec<f64> = all.windows(2).map(|w| w[1] - w[0]).collect();
    assert!(apart.iter().all(|&s| (s - 10.0).abs() < 1e-9), "{apart:?}");
}
