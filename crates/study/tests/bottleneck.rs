//! What held the line back, on shares and events made by hand and on lines whose bottleneck is known beforehand.

use std::sync::atomic::AtomicBool;

use scullery_engine::line::{Post, Release};
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_engine::watch::{ActorId, Nobody, Observer, PlaceId, State, Step};
use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read_alone};
use scullery_study::bottleneck::diary::{Which, diary};
use scullery_study::bottleneck::rule::{Spent, blocked_by, bottleneck, starved_by};
use scullery_study::bottleneck::stages::{Kind, stages};
use scullery_study::bottleneck::watch::StageWatch;
use scullery_study::bottleneck::why::{Why, why};

use crate::staffing::TWO_POSTS;

/// Blocked and starved shares; the rest is work.
fn spent(all: &[(f64, f64)]) -> Vec<Spent> {
    let one = |&(blocked, starved): &(f64, f64)| Spent {
        worked: 1.0 - blocked - starved,
        blocked,
        starved,
    };
    all.iter().map(one).collect()
}

/// The bottleneck where nothing but what is behind it can hold a stage up.
fn held_by(spent: &[Spent], behind: &[Vec<usize>]) -> Option<usize> {
    bottleneck(spent, behind, behind, |_| true)
}

/// Stages one behind the other.
fn in_line(of: usize) -> Vec<Vec<usize>> {
    (0..of)
        .map(|n| if n + 1 < of { vec![n + 1] } else { Vec::new() })
        .collect()
}

#[test]
fn the_bottleneck_is_where_blocked_stages_end_and_starved_ones_begin() {
    let middle = spent(&[
        (0.40, 0.0),
        (0.30, 0.05),
        (0.02, 0.03),
        (0.0, 0.35),
        (0.0, 0.5),
    ]);
    assert_eq!(held_by(&middle, &in_line(5)), Some(2));
    // The first of all: everything behind it starves. The last of all: everything before it is blocked.
    assert_eq!(
        held_by(&spent(&[(0.0, 0.01), (0.0, 0.3), (0.0, 0.4)]), &in_line(3)),
        Some(0)
    );
    assert_eq!(
        held_by(&spent(&[(0.5, 0.0), (0.4, 0.0), (0.0, 0.02)]), &in_line(3)),
        Some(2)
    );
}

#[test]
fn nothing_holds_the_line_back_where_nobody_worked_for_four_fifths_of_the_time() {
    assert_eq!(
        held_by(&spent(&[(0.0, 0.3), (0.0, 0.2), (0.0, 0.6)]), &in_line(3)),
        None
    );
    assert_eq!(held_by(&[], &[]), None);
}

#[test]
fn a_busy_stage_with_nobody_blocked_before_it_or_starved_behind_it_holds_nothing_back() {
    assert_eq!(
        held_by(&spent(&[(0.0, 0.02), (0.0, 0.0), (0.0, 0.03)]), &in_line(3)),
        None
    );
}

#[test]
fn a_stage_that_does_not_count_is_neither_the_bottleneck_nor_a_sign_of_one() {
    // The first of three is blocked by the second. Without the first nobody is blocked; without the second nobody holds it up.
    let shares = spent(&[(0.4, 0.0), (0.0, 0.02), (0.0, 0.0)]);
    let among = |counts: fn(usize) -> bool| bottleneck(&shares, &in_line(3), &in_line(3), counts);
    assert_eq!(among(|_| true), Some(1));
    assert_eq!(among(|k| k != 0), None);
    assert_eq!(among(|k| k != 1), None);
}

#[test]
fn only_stages_on_the_same_way_count() {
    // Two ways beside each other: the second stage is busy, and blocked is only the other way.
    let behind = vec![vec![2], vec![3], Vec::new(), Vec::new()];
    let shares = spent(&[(0.6, 0.0), (0.0, 0.0), (0.0, 0.01), (0.0, 0.0)]);
    assert_eq!(held_by(&shares, &behind), Some(2));
}

#[test]
fn a_blocked_stage_is_traced_to_the_one_that_is_not_blocked_itself() {
    let shares = spent(&[(0.4, 0.0), (0.3, 0.0), (0.2, 0.0), (0.0, 0.0), (0.0, 0.6)]);
    assert_eq!(blocked_by(&shares, &in_line(5), 0), [1, 2, 3]);
    assert_eq!(blocked_by(&shares, &in_line(5), 3), [0; 0]);
    assert_eq!(starved_by(&shares, &in_line(5), 4), [3]);
}

fn read(text: &str) -> Plan {
    read_alone(text, Format::Toml).unwrap_or_else(|complaints| panic!("{complaints:?}"))
}

#[test]
fn people_share_a_stage_s_time_and_nobody_there_with_work_waiting_is_not_starved() {
    let plan = read(TWO_POSTS);
    let catalogue = plan.line.catalogue();
    let stages = stages(&plan.line, &catalogue);
    let names: Vec<&str> = stages.iter().map(|s| s.name.as_str()).collect();
    assert_eq!(names, ["drop-off door", "scrapping sort", "racking bench"]);
    assert_eq!(
        (stages[0].behind.as_slice(), stages[1].behind.as_slice()),
        ([1].as_slice(), [2].as_slice())
    );
    let sort = Post::Scrapping(0);
    assert_eq!(stages[1].kind, Kind::Post(sort));
    let queue = PlaceId(stages[1].waits_at[0].0 as u16);
    let at = SimTime::from_min;
    let mut watch = StageWatch::new(&stages, &catalogue, SimTime::MIDNIGHT);
    // Trays wait from 0:03; nobody comes until 0:06; two work from then on, one of them is held up from 0:09 to 0:12, and
    // waits from 0:12 on.
    watch.level(at(3.0), queue, 4);
    for who in [ActorId(0), ActorId(1)] {
        watch.step(
            at(6.0),
            &Step::Begun {
                who,
                post: sort,
                tray: Some(0),
            },
        );
        watch.state(at(6.0), who, State::Working, None);
    }
    watch.state(at(9.0), ActorId(1), State::HeldUp, None);
    watch.state(at(12.0), ActorId(1), State::Waiting, None);
    let quarters = watch.finish(at(15.0));
    // Of 15 minutes: starved 3, then lacking hands 3 and working 3, then half working and half held up 3, then half working
    // and half waiting 3.
    let seen = quarters[0][1];
    let close = |a: f64, b: f64| (a - b).abs() < 1e-9;
    assert!(
        close(seen.worked, 9.0 / 15.0)
            && close(seen.blocked, 1.5 / 15.0)
            && close(seen.starved, 4.5 / 15.0),
        "{seen:?}"
    );
}

#[test]
fn a_conveyor_works_only_while_the_rack_that_went_in_keeps_out_the_next() {
    let plan = crate::plans::lunch();
    let catalogue = plan.line.catalogue();
    let stages = stages(&plan.line, &catalogue);
    let dish = stages
        .iter()
        .position(|s| s.kind == Kind::Machine(0))
        .unwrap();
    // Half a metre at 1.83 m a minute.
    let intake = stages[dish].intake_us.unwrap();
    assert_eq!(intake, 500 * 60_000_000 / 1830);
    let actor = ActorId(plan.line.crew.len() as u16);
    let at = SimTime::from_min;
    let mut watch = StageWatch::new(&stages, &catalogue, at(660.0));
    watch.state(at(660.0), actor, State::Washing, None);
    for rack in 0..10 {
        watch.step(at(660.0 + f64::from(rack)), &Step::RackIn(rack, 0));
    }
    watch.state(at(672.0), actor, State::Stopped, None);
    let seen = watch.finish(at(675.0))[0][dish];
    let works = 10.0 * intake as f64 / 9e8;
    assert!(
        (seen.worked - works).abs() < 1e-9 && (seen.blocked - 0.2).abs() < 1e-9,
        "{seen:?}"
    );
}

/// The line of two posts with this many at either and this much room between them.
fn line(sorters: u32, rackers: u32, room: u32) -> Plan {
    let text = TWO_POSTS
        .replace(
            "name = \"Sorter\"",
            &format!("name = \"Sorter\"\nalike = {sorters}"),
        )
        .replace(
            "name = \"Racker\"",
            &format!("name = \"Racker\"\nalike = {rackers}"),
        )
        .replace(
            "piece_s = 30\n",
            &format!("piece_s = 30\nroom_pieces = {room}\n"),
        )
        .replace("counts = [100]", "counts = [150]");
    read(&text)
}

fn found(plan: &Plan) -> scullery_study::bottleneck::why::WhyStudy {
    let how = Why {
        seed: 1,
        threads: 1,
        lunches: 20,
        tray: Which::Worst,
        tray_of: 2,
    };
    why(plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap()
}

#[test]
fn the_slower_of_two_posts_holds_the_line_back() {
    // 150 trays an hour: two sorters clear 120, two rackers could do 240. The racking post starves behind them.
    let slow_first = found(&line(2, 2, 8));
    let second = &slow_first.quarters[1];
    assert_eq!(
        second.bottleneck.map(|s| slow_first.stages[s].as_str()),
        Some("scrapping sort"),
        "{second:?}"
    );
    assert!(
        slow_first
            .answer
            .contains("scrapping sort held the line back"),
        "{}",
        slow_first.answer
    );
    // Four sorters clear 240, one racker does 120: the sorters are held up by the full pile.
    let slow_second = found(&line(4, 1, 8));
    let second = &slow_second.quarters[1];
    assert_eq!(
        second.bottleneck.map(|s| slow_second.stages[s].as_str()),
        Some("racking bench"),
        "{second:?}"
    );
    assert_eq!(second.blocked_by[1], "racking bench");
    // With three at either there is no lack of anything for most of the time.
    let easy = found(&line(9, 9, 60));
    assert!(
        easy.quarters.iter().all(|q| q.bottleneck.is_none()),
        "{}",
        easy.answer
    );
}

#[test]
fn ware_that_waits_by_plan_holds_nothing_back_until_its_place_is_full() {
    // Four sorters clear 240 an hour, one racker does 120, held back until 0:05 and then let go for good: he lags behind.
    let held = |room: u32| {
        let mut plan = line(4, 1, room);
        plan.line.racking[0].piles[0].held_back = vec![Release::From(SimTime::from_min(5.0))];
        found(&plan)
    };
    // With room for 500 nobody is held up, and what lies there may wait: the sorters are idle at times, nothing holds.
    let roomy = held(500);
    assert_eq!(roomy.quarters[1].bottleneck, None, "{}", roomy.answer);
    // With room for 8 the sorters stand: it is the racker, as it is where nothing is held back.
    let full = held(8);
    let second = &full.quarters[1];
    assert_eq!(
        second.bottleneck.map(|s| full.stages[s].as_str()),
        Some("racking bench"),
        "{second:?}"
    );
}

#[test]
fn each_racking_post_waits_for_its_own_piles_and_full_dollies() {
    let plan = crate::plans::lunch();
    let catalogue = plan.line.catalogue();
    let stages = stages(&plan.line, &catalogue);
    let waits = |name: &str| -> Vec<(&str, u32)> {
        let stage = stages.iter().find(|s| s.name == name).unwrap();
        assert!(stage.may_wait, "{name}");
        let each = stage.waits_at.iter();
        each.map(|&(p, job)| (catalogue.places[p].name.as_str(), job))
            .collect()
    };
    // Trays and cutlery are held back: three dollies of 300, a sink of 1,500. The others come back to be washed again.
    assert_eq!(
        waits("racking main"),
        [
            ("held_back.tray", 900),
            ("held_back.cutlery", 1500),
            ("pile.plate", 1),
            ("pile.bowl", 1),
            ("pile.side_plate", 1)
        ]
    );
    assert_eq!(waits("racking sorting"), [("to_sort.cutlery", 4200)]);
}

#[test]
fn who_is_idle_a_fifth_of_the_time_holds_nothing_back() {
    // Blocked before it and starved behind it, but it worked for 70 % only; the busy one has nobody idle beside it.
    let shares = spent(&[(0.4, 0.0), (0.1, 0.2), (0.0, 0.5), (0.0, 0.0)]);
    let behind = vec![vec![1], vec![2], Vec::new(), Vec::new()];
    assert_eq!(held_by(&shares, &behind), None);
}

#[test]
fn blocking_and_starving_are_looked_for_right_beside_a_stage() {
    // The first is blocked by the second, which nobody behind holds up: what the last does is no part of that.
    let shares = spent(&[(0.3, 0.0), (0.0, 0.03), (0.0, 0.0), (0.0, 0.02)]);
    assert_eq!(held_by(&shares, &in_line(4)), Some(1));
}

#[test]
fn whoever_gives_the_racks_back_can_hold_up_those_who_fill_them() {
    // Glasses are unloaded at a table of their own, where one person polishes: with all 22 racks there the bench waits for one.
    let plan = crate::plans::demo("hotel-ballroom.toml");
    let catalogue = plan.line.catalogue();
    let stages = stages(&plan.line, &catalogue);
    let number = |name: &str| stages.iter().position(|s| s.name == name).unwrap();
    let (bench, dish) = (number("racking bench"), number("machine dish"));
    let (clean, polish) = (number("unloading clean"), number("unloading polish"));
    assert_eq!(stages[dish].behind, [clean, polish]);
    assert!(stages[bench].holds.contains(&polish) && stages[bench].holds.contains(&clean));
    assert!(!stages[bench].behind.contains(&polish));
}

/// The stage that held the line back in the quarter hour from this clock time on.
fn held_at(study: &scullery_study::bottleneck::why::WhyStudy, clock_min: u32) -> Option<&str> {
    let quarter = ((clock_min - study.from_min) / 15) as usize;
    let stage = study.quarters[quarter].bottleneck?;
    Some(&study.stages[stage])
}

#[test]
fn each_example_shows_the_stage_its_story_is_about() {
    // The hall: scrapping in the quarter hour of the first bell, at 12:50.
    let hall = found(&crate::plans::lunch());
    assert_eq!(
        held_at(&hall, 12 * 60 + 45),
        Some("scrapping main"),
        "{}",
        hall.answer
    );
    // The hospital: unloading, from a quarter of an hour after the first ward carts on.
    let hospital = found(&crate::plans::demo("hospital.toml"));
    for minutes in [13 * 60 + 15, 13 * 60 + 30, 14 * 60] {
        let held = held_at(&hospital, minutes);
        assert_eq!(held, Some("unloading clean"), "{}", hospital.answer);
    }
    // The ballroom: once the glass racks are all out, whoever polishes and gives them back.
    let ballroom = found(&crate::plans::demo("hotel-ballroom.toml"));
    for minutes in [23 * 60, 23 * 60 + 30] {
        let held = held_at(&ballroom, minutes);
        assert_eq!(held, Some("unloading polish"), "{}", ballroom.answer);
    }
}

#[test]
fn the_same_lunches_give_the_same_answer_on_any_number_of_threads() {
    let plan = line(3, 1, 8);
    let on = |threads: usize| {
        let how = Why {
            seed: 1,
            threads,
            lunches: 9,
            tray: Which::Random,
            tray_of: 1,
        };
        why(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap()
    };
    assert_eq!(on(1), on(3));
}

#[test]
fn a_diary_runs_from_the_drop_off_to_the_last_clean_piece_in_clock_order() {
    let plan = line(2, 1, 8);
    let it = diary(&plan, 1, 3, Which::Diner(5))
        .unwrap()
        .expect("a fifth diner");
    let words: Vec<&str> = it.entries.iter().map(|e| e.words.as_str()).collect();
    assert_eq!(
        (words[0], words[1]),
        ("comes to the drop-off", "the tray is put down")
    );
    assert!(
        words[2].contains("takes it and begins, at scrapping sort"),
        "{words:?}"
    );
    assert_eq!(*words.last().unwrap(), "the whole tray is clean");
    assert!(words.iter().any(|w| w.starts_with("1 plate into rack")));
    assert!(
        it.entries
            .windows(2)
            .all(|pair| pair[0].at_s <= pair[1].at_s)
    );
    let took = it.entries.last().unwrap().at_s - it.entries[0].at_s;
    assert!((it.minutes.unwrap() * 60.0 - took).abs() < 1e-6);
    let parts: f64 = it.entries.iter().map(|e| e.after_min).sum();
    assert!((parts - it.minutes.unwrap()).abs() < 1e-9);
}

#[test]
fn the_worst_tray_took_as_long_as_any_other() {
    let plan = line(2, 1, 8);
    let worst = diary(&plan, 1, 3, Which::Worst).unwrap().unwrap();
    for diner in 1..150 {
        if let Some(other) = diary(&plan, 1, 3, Which::Diner(diner)).unwrap() {
            assert!(
                worst.minutes.is_none() || other.minutes <= worst.minutes,
                "diner {diner}"
            );
        }
    }
    assert!(diary(&plan, 1, 3, Which::Diner(100_000)).unwrap().is_none());
    assert!(diary(&plan, 1, 3, Which::Diner(0)).unwrap().is_none());
}

/// Counts steps; follows or not.
#[derive(Default)]
struct Counter<const FOLLOW: bool>(u64);

impl<const FOLLOW: bool> Observer for Counter<FOLLOW> {
    const FOLLOWS: bool = FOLLOW;
    fn step(&mut self, _: SimTime, _: &Step) {
        self.0 += 1;
    }
}

#[test]
fn following_changes_nothing_and_who_does_not_follow_is_told_no_step() {
    let plan = crate::plans::lunch();
    let mut tape = Tape::new();
    let mut floor = Floor::new();
    tape.draw(&plan.demand, 1, 1);
    let bare = run(&plan.line, &tape, &mut floor, &mut Nobody).unwrap();
    let (mut with, mut without) = (Counter::<true>::default(), Counter::<false>::default());
    assert_eq!(run(&plan.line, &tape, &mut floor, &mut with).unwrap(), bare);
    assert_eq!(
        run(&plan.line, &tape, &mut floor, &mut without).unwrap(),
        bare
    );
    assert!(with.0 > 1000 && without.0 == 0);
}
