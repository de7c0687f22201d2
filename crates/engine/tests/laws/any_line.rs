//! Whatever the line: nothing is lost, the clock never turns back, and every worker's time adds up to the shift.

use proptest::prelude::*;
use proptest::test_runner::RngSeed;
use scullery_engine::demand::Demand;
use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

/// What is chosen about the way from the diner to the racks.
fn soiled_side() -> impl Strategy<Value = Line> {
    let rule = prop_oneof![
        Just(None),
        Just(Some(EndRule::StopsOnArrival)),
        Just(Some(EndRule::ClosesUp)),
        (500u32..4_000).prop_map(|section_mm| Some(EndRule::AdvancesOnDemand { section_mm })),
    ];
    let belt = (rule, 400u32..1_500, 0u32..3, 0.0..300.0f64);
    let post = (0.0..12.0f64, proptest::option::of(0u32..4), 0u8..3, 0u8..3);
    let racks = (
        0u32..4,
        proptest::option::of(5.0..90.0f64),
        1u32..4,
        0u32..4,
        0u8..4,
    );
    (belt, post, racks).prop_map(|(belt, post, racks)| {
        let (rule, spacing_mm, positions, stop_s) = belt;
        let (tray_s, room, plates, cups) = post;
        let (open_racks, limit_s, grab, pool, held) = racks;
        let to = |how| match how {
            0 => PiecesTo::Racks(0),
            1 => PiecesTo::Pile(0),
            _ => PiecesTo::Leave,
        };
        let held_back = match held {
            0 => vec![],
            1 => vec![Release::From(at(150.0))],
            2 => vec![Release::LaneBelow(2)],
            _ => vec![Release::RushOver],
        };
        let onto = if rule.is_some() {
            TraysTo::Belt(0)
        } else {
            TraysTo::Table(0)
        };
        let from = match (rule, positions) {
            (None, _) => TraysFrom::Table(0),
            (Some(_), 2) => TraysFrom::BeltAt {
                belt: 0,
                at_mm: 7_000,
                reach_mm: 600,
            },
            (Some(_), _) => TraysFrom::BeltEnd(0),
        };
        Line {
            classes: vec![class("plate", 3), class_in("cup", 0, 2)],
            rack_kinds: vec![rack_kind("peg", pool + 1)],
            drop_offs: vec![DropOff {
                positions_mm: (0..=positions).map(|p| p * 1_200).collect(),
                put_down_s: Dist::Constant(tray_s / 4.0),
                ..drop_off(onto)
            }],
            tables: vec![table(room)],
            belts: rule
                .map(|rule| Belt {
                    spacing_mm,
                    stops: vec![Stop {
                        from: at(stop_s),
                        to: at(stop_s + 40.0),
                        then: AfterStop::Resume,
                    }],
                    ..ten_metres(rule)
                })
                .into_iter()
                .collect(),
            scrapping: vec![Scrapping {
                from: vec![from, TraysFrom::Overflow(0)],
                piece_s: vec![0.5, 0.5],
                fetch_s: 3.0,
                ..scrapping(tray_s, vec![to(plates), to(cups)])
            }],
            racking: vec![Racking {
                limit: limit_s.map(secs),
                places: 2,
                grab,
                piles: vec![
                    pile(0, room.map(|r| 3 * r), 1.0),
                    Pile {
                        held_back,
                        ..pile(1, None, 0.0)
                    },
                ],
                ..racking(open_racks, RacksTo::Lane(0))
            }],
            ..bare()
        }
    })
}

/// What is chosen about the way from the racks to the servery, and the crew.
fn whole(soiled: Line) -> impl Strategy<Value = Line> {
    let lane = (0u8..3, 0u32..4);
    let machine = (0u8..4, 0u32..3, 0.0..400.0f64, any::<bool>(), any::<bool>());
    let clean = (
        proptest::option::of(1u32..4),
        0u8..3,
        0u32..3,
        any::<bool>(),
        0u32..5,
    );
    let crew = (
        proptest::collection::vec((0u8..6, 0u32..4, 0u32..3, 0.0..60.0f64), 1..5),
        0.0..500.0f64,
        0.0..9.0f64,
        any::<bool>(),
    );
    (Just(soiled), lane, machine, clean, crew).prop_map(|(mut line, lane, machine, clean, crew)| {
        let kind = match lane.0 {
            0 => LaneKind::Shelf { room: None },
            1 => LaneKind::Shelf { room: Some(lane.1) },
            _ => LaneKind::Rollers {
                length_mm: 700 * (1 + lane.1),
                rack_mm: 500,
                speed: vec![(at(0.0), 3_000)],
            },
        };
        line.lanes = vec![Lane {
            kind,
            ..shelf(None)
        }];
        let (kind, hold, stop_s, loads, again) = machine;
        // Where no rack can wait the machine takes it by itself, and from the first: other lines are refused.
        let waits = line.lanes[0].room() != Some(0);
        let (hold, loads) = if waits { (hold, loads) } else { (0, false) };
        let base = if kind % 2 == 0 {
            door(25.0)
        } else {
            conveyor()
        };
        line.machines = vec![Machine {
            to: Some(0),
            control: match hold {
                0 => Control::RunsThroughout,
                n => Control::HoldAndRun {
                    racks: n,
                    longest_wait: Some(secs(70.0)),
                },
            },
            start_s: Dist::Constant(f64::from(hold)),
            heat_up: secs(if kind > 1 { 30.0 } else { 0.0 }),
            off_at: (kind == 3).then(|| at(stop_s + 300.0)),
            stops: vec![Stop {
                from: at(stop_s),
                to: at(stop_s + 55.0),
                then: if again {
                    AfterStop::RunAgain
                } else {
                    AfterStop::Resume
                },
            }],
            loading: loads.then_some(Loading {
                rack_s: 4.0,
                variation: Dist::Constant(1.0),
                places: 1,
            }),
            ..base
        }];
        let (places, par, trips, by_hand, carts) = clean;
        line.clean_ends = vec![CleanEnd {
            by_hand,
            back: if trips > 0 {
                Back::Trips {
                    of: trips,
                    lasts: secs(20.0),
                }
            } else {
                Back::After(secs(f64::from(carts)))
            },
            ..clean_end(places)
        }];
        line.classes[0].par = (par > 0).then_some(12);
        line.classes[0].unload_s = 1.0;
        line.classes[1].par = (par > 1).then_some(9);
        line.classes[1].stays_in_rack = true;
        line.classes[1].dry = secs(15.0);
        line.delivery = (carts > 0).then(|| Delivery {
            name: "carts".into(),
            carts,
            cart_pieces: 4,
            trip: secs(30.0),
            variation: Dist::Constant(1.0),
            below: vec![Some(6), None],
        });
        line.duties = vec![Duty {
            name: "bins".into(),
            when: DutyWhen::EveryKg(0.4),
            work_s: Dist::Constant(11.0),
            by: vec![SCRAP],
            may_wait: by_hand.then(|| secs(60.0)),
            clean_side: by_hand,
        }];
        let (workers, home_s, walk_s, stated) = crew;
        let posts: Vec<Post> = [SCRAP, RACK, UNLOAD, Post::Running]
            .into_iter()
            .chain(loads.then_some(Post::Loading(0)))
            .filter(|post| *post != Post::Running || carts > 0)
            .collect();
        line.crew = (0..)
            .zip(workers)
            .map(|(w, (first, step_in, leave_at, stay_s))| {
                let turned =
                    (0..posts.len()).map(|k| posts[(k + usize::from(first)) % posts.len()]);
                let last = 600.0 + home_s * f64::from(w);
                let mut it = on_shift(&format!("w{w}"), &[], 10.0 * f64::from(w), last);
                it.shifts.push((at(last + 50.0), at(4000.0)));
                it.breaks = vec![
                    (at(100.0 + home_s), secs(90.0)),
                    (at(130.0 + home_s), secs(20.0)),
                ];
                it.list = turned
                    .map(|post| Call {
                        step_in,
                        leave_at,
                        stay: secs(stay_s),
                        ..call(post)
                    })
                    .collect();
                it
            })
            .collect();
        line.walk = secs(walk_s.floor());
        line.hand_wash = secs(walk_s.floor() * 2.0);
        line.ends = stated.then(|| at(3000.0));
        line
    })
}

fn lunch() -> impl Strategy<Value = Demand> {
    proptest::collection::vec(0u32..500, 0..40).prop_map(|mut come| {
        come.sort_unstable();
        let come: Vec<f64> = come.into_iter().map(f64::from).collect();
        let mut demand = coming(&come, &[1.3, 0.6]);
        demand.waste_kg = Dist::Constant(0.1);
        demand.patience_people = Some(Dist::Constant(4.0));
        demand.work_factor = Dist::Gamma { mean: 1.0, cv: 0.4 };
        demand
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, rng_seed: RngSeed::Fixed(1), ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_lost_and_every_minute_of_a_shift_is_accounted_for(
        line in soiled_side().prop_flat_map(whole),
        demand in lunch(),
        seed in 0u64..1000,
    ) {
        // Trays, pieces and racks are counted again after every instant; what does not add up fails the run.
        let (ended, diary) = live_seed(&line, &demand, seed, 0);
        let b = &ended.balance;
        prop_assert_eq!(b.trays_in, b.trays_out + b.trays_inside);
        prop_assert_eq!(b.pieces_in, b.pieces_out + b.pieces_inside);
        prop_assert_eq!(diary.times("trays wholly clean").len() as u64, b.trays_out);
        prop_assert_eq!(diary.times("pieces clean").len() as u64, b.pieces_out);
        prop_assert!(diary.levels.is_sorted_by(|x, y| x.0 <= y.0));
        prop_assert!(diary.states.is_sorted_by(|x, y| x.0 <= y.0));
        let end = ended.at.s();
        for worker in &line.crew {
            let shifts: Vec<(f64, f64)> = worker.shifts.iter().map(|(a, b)| (a.s().min(end), b.s().min(end))).collect();
            let on: f64 = shifts.iter().map(|(a, b)| b - a).sum();
            let mut within = 0.0;
            for state in State::ALL {
                for (from, to) in diary.spans(&worker.name, state, end) {
                    let inside = shifts.iter().any(|s| s.0 <= from && to <= s.1);
                    if matches!(state, State::Off | State::PastShift) {
                        let outside = shifts.iter().all(|s| to <= s.0 || s.1 <= from);
                        prop_assert!(outside, "{} {:?} {} {}", worker.name, state, from, to);
                    } else {
                        prop_assert!(inside, "{} {:?} {} {}", worker.name, state, from, to);
                        within += to - from;
                    }
                }
            }
            prop_assert!((within - on).abs() < 1e-6, "{}: {} of {}", worker.name, within, on);
        }
    }
}
