//! The clean end: drying, unloading, empty racks on their way back, classes that stay in their racks.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// Racks of one plate, a door machine of `wash_s`, a clean end with `places`, unloaded by `unloader`; `racks` in all.
fn unload_line(wash_s: f64, plate: Class, places: Option<u32>, racks: u32) -> Line {
    Line {
        classes: vec![plate],
        rack_kinds: vec![rack_kind("peg", racks)],
        machines: vec![Machine {
            to: Some(0),
            ..door(wash_s)
        }],
        clean_ends: vec![clean_end(places)],
        crew: vec![worker("scrapper", &[SCRAP]), worker("unloader", &[UNLOAD])],
        ..wash_line(1)
    }
}

fn plate(unload_rack_s: f64) -> Class {
    Class {
        unload_rack_s,
        ..class("plate", 1)
    }
}

fn opened(diary: &Diary) -> Vec<f64> {
    diary.racks.iter().map(|r| r.opened.s()).collect()
}

#[test]
fn ware_dries_on_its_place_before_it_is_unloaded_and_rack_and_place_are_free_when_unloading_ends() {
    // Out at 100, dry at 160, unloaded 160–250. One rack in all, so the second tray's plate is racked at 250; one
    // place, so nothing else could have stood there.
    let dries = Class {
        dry: secs(60.0),
        ..plate(90.0)
    };
    let line = unload_line(100.0, dries, Some(1), 1);
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(diary.racks_out(), [100.0, 350.0]);
    assert_eq!(
        diary.spans("unloader", State::Working, 1000.0),
        [(160.0, 250.0), (410.0, 500.0)]
    );
    assert_eq!(opened(&diary), [0.0, 250.0]);
    assert_eq!(
        diary.levels_of("clean_end.clean end"),
        [(100.0, 1), (250.0, 0), (350.0, 1), (500.0, 0)]
    );
    assert_eq!(diary.waits_at("clean_end.clean end"), [60.0, 60.0]);
}

#[test]
fn each_class_dries_for_its_own_time() {
    // A plate (dry at once) overtakes a glass (60 s): out at 10 and 20, unloaded 20–25 and 70–75.
    let mut line = unload_line(10.0, plate(5.0), None, 9);
    line.classes.push(Class {
        dry: secs(60.0),
        ..Class {
            name: "glass".into(),
            ..plate(5.0)
        }
    });
    line.scrapping[0] = scrapping(0.0, vec![PiecesTo::Racks(0); 2]);
    let demand = two_kinds(&[1.0], &[1.0, 0.0], &[0.0], &[0.0, 1.0]);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.racks_out(), [10.0, 20.0]);
    assert_eq!(
        diary.spans("unloader", State::Working, 1000.0),
        [(20.0, 25.0), (70.0, 75.0)]
    );
}

#[test]
fn unloading_takes_seconds_for_the_rack_and_for_each_piece() {
    // Five plates a rack: 10 s + 5 x 2 s; worked by somebody a quarter faster: 16 s.
    let five = Class {
        unload_s: 2.0,
        fits: vec![(RackKindId(0), 5)],
        ..plate(10.0)
    };
    let mut line = unload_line(60.0, five, None, 9);
    line.crew[1].pace = 1.25;
    let (_, diary) = live(&line, &coming(&[0.0], &[5.0]));
    assert_eq!(
        diary.spans("unloader", State::Working, 1000.0),
        [(60.0, 76.0)]
    );
}

#[test]
fn without_hands_a_rack_is_empty_the_moment_it_is_dry() {
    let dries = Class {
        dry: secs(60.0),
        ..plate(90.0)
    };
    let mut line = unload_line(100.0, dries, Some(1), 1);
    line.clean_ends[0].by_hand = false;
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(opened(&diary), [0.0, 160.0]);
    assert!(diary.spans("unloader", State::Working, 1000.0).is_empty());
}

#[test]
fn an_empty_rack_is_back_after_its_time() {
    // Unloaded at 60 + 30; back 25 s later, when the second plate is racked.
    let mut line = unload_line(60.0, plate(30.0), None, 1);
    line.clean_ends[0].back = Back::After(secs(25.0));
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(opened(&diary), [0.0, 115.0]);
    assert_eq!(diary.levels_of("racks_back")[..2], [(90.0, 1), (115.0, 0)]);
}

#[test]
fn empty_racks_go_back_in_trips_of_so_many() {
    // Two racks in all, unloaded at 60 and 120: the trip goes at 120 and is back at 160 with both. The third and
    // fourth plates are racked then; their racks are out at 220 and 280, the last of all, and go back together at 280.
    let mut line = unload_line(60.0, plate(0.0), None, 2);
    line.clean_ends[0].back = Back::Trips {
        of: 2,
        lasts: secs(40.0),
    };
    let (_, diary) = live(&line, &coming(&[0.0; 4], &[1.0]));
    assert_eq!(opened(&diary), [0.0, 0.0, 160.0, 160.0]);
    assert_eq!(
        diary.levels_of("racks_back"),
        [
            (60.0, 1),
            (120.0, 2),
            (160.0, 0),
            (220.0, 1),
            (280.0, 2),
            (320.0, 0)
        ]
    );
}

#[test]
fn the_last_racks_go_back_though_they_are_too_few_for_a_trip() {
    let mut line = unload_line(60.0, plate(0.0), None, 2);
    line.clean_ends[0].back = Back::Trips {
        of: 5,
        lasts: secs(40.0),
    };
    let (_, diary) = live(&line, &coming(&[0.0; 2], &[1.0]));
    assert_eq!(
        diary.levels_of("racks_back"),
        [(60.0, 1), (120.0, 2), (160.0, 0)]
    );
}

#[test]
fn racks_gathered_for_a_trip_that_can_never_be_full_lock_the_line() {
    // One rack in all and trips of two: the second plate waits for the only rack, which waits for another.
    let mut line = unload_line(60.0, plate(0.0), None, 1);
    line.ends = None;
    line.clean_ends[0].back = Back::Trips {
        of: 2,
        lasts: secs(40.0),
    };
    let (ended, _) = live(&line, &coming(&[0.0; 2], &[1.0]));
    let scullery_engine::ended::How::Gridlock(sentence) = &ended.how else {
        panic!("{:?}", ended.how);
    };
    assert!(
        sentence.contains("scrapper is held up by want of empty racks: peg"),
        "{sentence}"
    );
    assert_eq!(ended.at, at(60.0));
}

#[test]
fn a_class_that_stays_in_its_rack_gives_it_back_when_it_is_emptied_at_the_servery() {
    // One rack of one glass; four glasses owned. The first is washed 0–60 and stands at the servery in its rack, with
    // three loose ones. Racks are emptied first: the diner of 100 empties it, and that diner's glass is racked at 100.
    let glass = Class {
        par: Some(4),
        stays_in_rack: true,
        ..plate(0.0)
    };
    let line = unload_line(60.0, glass, None, 1);
    let come = [0.0, 100.0, 110.0, 120.0, 130.0];
    let (_, diary) = live(&line, &coming(&come, &[1.0]));
    assert_eq!(opened(&diary)[..2], [0.0, 100.0]);
    assert_eq!(diary.racks_out()[..2], [60.0, 160.0]);
    assert!(diary.times("run-outs plate").is_empty());
}

#[test]
fn a_class_that_stays_in_its_rack_is_handled_by_the_rack() {
    // 10 s for the rack, nothing for its glasses; its stock is not followed, so the rack goes back at once.
    let glass = Class {
        stays_in_rack: true,
        unload_s: 100.0,
        ..plate(10.0)
    };
    let line = unload_line(60.0, glass, None, 1);
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    assert_eq!(opened(&diary), [0.0, 70.0]);
}

#[test]
fn two_who_unload_take_the_racks_that_have_been_dry_longest() {
    // Racks out at 10, 20, 30; 25 s each: first worker 10–35 and 35–60, second 20–45.
    let mut line = unload_line(10.0, plate(25.0), None, 9);
    line.crew.push(worker("second", &[UNLOAD]));
    let (_, diary) = live(&line, &coming(&[0.0; 3], &[1.0]));
    assert_eq!(
        diary.spans("unloader", State::Working, 1000.0),
        [(10.0, 60.0)]
    );
    assert_eq!(
        diary.spans("second", State::Working, 1000.0),
        [(20.0, 45.0)]
    );
    assert_eq!(diary.waits_at("clean_end.clean end"), [0.0, 0.0, 5.0]);
}

#[test]
fn the_factor_on_unloading_belongs_to_the_rack_of_its_class_not_to_who_unloads() {
    // The n-th rack of a class takes the same time whether one or two unload.
    let mut line = unload_line(1.0, plate(10.0), None, 9);
    line.clean_ends[0].variation = Dist::Gamma { mean: 1.0, cv: 0.5 };
    let racks = coming(&[0.0; 4], &[1.0]);
    let (_, one) = live(&line, &racks);
    line.crew.push(worker("second", &[UNLOAD]));
    let (_, two) = live(&line, &racks);
    let lengths = |diary: &Diary, who: &[&str]| {
        let mut starts: Vec<(f64, f64)> = Vec::new();
        for who in who {
            starts.extend(diary.spans(who, State::Working, 1000.0));
        }
        starts.iter().map(|(a, b)| b - a).sum::<f64>()
    };
    let alone = lengths(&one, &["unloader"]);
    let shared = lengths(&two, &["unloader", "second"]);
    assert!((alone - shared).abs() < 1e-5, "{alone} {shared}");
    assert!((alone - 40.0).abs() > 0.1, "the factors vary");
}
