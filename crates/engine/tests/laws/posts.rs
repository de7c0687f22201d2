//! Who does what: lists of posts, step-in and leaving levels, stays, walking, hand wash.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

const HELPER: Post = Post::Scrapping(1);

/// Soiled trays that leave the line when broken down, at the first window (`tray_s` each). At the other window plates
/// come that `helper` racks in no time, a rack each; they are washed one by one in 10 s (a batch of four in 10 s with
/// `batch` 4) and unloaded in `unload_s`.
fn floor(tray_s: f64, unload_s: f64, batch: u32) -> Line {
    let plate = Class {
        unload_rack_s: unload_s,
        ..class("plate", 1)
    };
    let helper = Scrapping {
        name: "helper".into(),
        from: vec![TraysFrom::Table(1)],
        ..scrapping(0.0, vec![PiecesTo::Leave, PiecesTo::Racks(0)])
    };
    let other = DropOff {
        name: "other window".into(),
        ..drop_off(TraysTo::Table(1))
    };
    Line {
        classes: vec![loose("tray"), plate],
        drop_offs: vec![drop_off(TraysTo::Table(0)), other],
        tables: vec![
            table(None),
            Table {
                name: "other table".into(),
                room: None,
            },
        ],
        scrapping: vec![scrapping(tray_s, vec![PiecesTo::Leave; 2]), helper],
        machines: vec![Machine {
            to: Some(0),
            kind: MachineKind::Door {
                batch,
                cycle_s: Dist::Constant(10.0),
            },
            on_at: at(1.0),
            ..door(0.0)
        }],
        clean_ends: vec![clean_end(None)],
        crew: vec![worker("helper", &[HELPER])],
        ..wash_line(1)
    }
}

/// Trays at `trays_s`, racks put on the lane at `racks_s`.
fn ware(trays_s: &[f64], racks_s: &[f64]) -> scullery_engine::demand::Demand {
    let mut demand = two_kinds(trays_s, &[1.0, 0.0], racks_s, &[0.0, 1.0]);
    demand.kinds[1].drop_off = 1;
    demand
}

fn steps_in(post: Post, step_in: u32) -> Call {
    Call {
        step_in,
        ..call(post)
    }
}

fn floater(list: Vec<Call>) -> Worker {
    Worker {
        list,
        ..worker("floater", &[])
    }
}

fn working(diary: &Diary, who: &str) -> Vec<(f64, f64)> {
    diary.spans(who, State::Working, 10_000.0)
}

#[test]
fn workers_choose_in_list_order_each_the_first_post_of_their_own_list_that_calls() {
    // At 11 there are one tray (20 s) and one rack (30 s). The first worker, scrapping before unloading, takes the
    // tray, the second, who only scraps, has nothing: all is done after 50 s.
    let mut line = floor(20.0, 30.0, 1);
    line.crew.push(worker("first", &[SCRAP, UNLOAD]));
    line.crew.push(worker("second", &[SCRAP]));
    let (_, diary) = live(&line, &ware(&[11.0], &[0.0]));
    assert_eq!(working(&diary, "first"), [(11.0, 61.0)]);
    assert!(working(&diary, "second").is_empty());
    assert_eq!(diary.times("trays cleared"), [0.0, 31.0]);
}

#[test]
fn those_who_stand_at_their_choice_are_asked_before_those_who_must_walk() {
    // The first worker of the list stands at scrapping, the second at unloading: the second gets the rack.
    let mut line = floor(20.0, 30.0, 1);
    line.crew.push(worker("first", &[SCRAP, UNLOAD]));
    line.crew.push(worker("second", &[UNLOAD]));
    let (_, diary) = live(&line, &ware(&[], &[0.0]));
    assert_eq!(working(&diary, "second"), [(11.0, 41.0)]);
    assert!(working(&diary, "first").is_empty());
}

#[test]
fn a_floater_steps_in_at_the_level_after_the_tray_in_hand_and_unloads_to_the_last() {
    // Unloading, from 4 racks on, before scrapping. Trays of 15 s from 1 on: at 31 three racks are out (11, 21, 31),
    // so the floater takes a third tray; at 46 there are four: unloaded 46–66, 5 s each; then back to the trays.
    let mut line = floor(15.0, 5.0, 1);
    line.crew
        .push(floater(vec![steps_in(UNLOAD, 4), call(SCRAP)]));
    let (_, diary) = live(&line, &ware(&[1.0, 1.1, 1.2, 1.3], &[0.0, 0.1, 0.2, 0.3]));
    let mine: Vec<f64> = diary.taken_from("table.table");
    assert_eq!(mine, [1.0, 16.0, 31.0, 66.0]);
    assert_eq!(
        diary.taken_from("clean_end.clean end"),
        [46.0, 51.0, 56.0, 61.0]
    );
}

#[test]
fn a_floater_leaves_again_at_the_leaving_level() {
    // As above, back at 2 racks: unloads two, 46–56.
    let mut line = floor(15.0, 5.0, 1);
    let unload = Call {
        leave_at: 2,
        ..steps_in(UNLOAD, 4)
    };
    line.crew.push(floater(vec![unload, call(SCRAP)]));
    let (_, diary) = live(&line, &ware(&[1.0, 1.1, 1.2, 1.3], &[0.0, 0.1, 0.2, 0.3]));
    assert_eq!(diary.taken_from("table.table"), [1.0, 16.0, 31.0, 56.0]);
    assert_eq!(diary.taken_from("clean_end.clean end"), [46.0, 51.0]);
}

#[test]
fn within_the_shortest_stay_no_other_post_calls() {
    // In at 46 for at least 60 s: idle from 66 (no more racks), back at 106, though nothing else happens then.
    let mut line = floor(15.0, 5.0, 1);
    let unload = Call {
        stay: secs(60.0),
        ..steps_in(UNLOAD, 4)
    };
    line.crew.push(floater(vec![unload, call(SCRAP)]));
    let (_, diary) = live(&line, &ware(&[1.0, 1.1, 1.2, 1.3], &[0.0, 0.1, 0.2, 0.3]));
    assert_eq!(working(&diary, "floater"), [(1.0, 66.0), (106.0, 121.0)]);
}

#[test]
fn the_top_of_the_list_wins_even_at_a_post_where_one_stands() {
    // Scrapping before unloading; two racks and, while the first is unloaded, a tray.
    let mut line = floor(15.0, 5.0, 4);
    line.crew.push(floater(vec![call(SCRAP), call(UNLOAD)]));
    let (_, diary) = live(&line, &ware(&[12.0], &[0.0, 0.1]));
    assert_eq!(diary.taken_from("table.table"), [16.0]);
    assert_eq!(diary.taken_from("clean_end.clean end"), [11.0, 31.0]);
}

#[test]
fn walkers_count_against_the_level() {
    // Four racks at once; two idle floaters 8 s away who step in at 4: the first goes, and 4 − 1 = 3 do not call the
    // second.
    let mut line = floor(15.0, 5.0, 4);
    line.walk = secs(8.0);
    for name in ["first", "second"] {
        line.crew.push(Worker {
            list: vec![call(SCRAP), steps_in(UNLOAD, 4)],
            ..worker(name, &[])
        });
    }
    let (_, diary) = live(&line, &ware(&[], &[0.0, 0.1, 0.2, 0.3]));
    assert_eq!(diary.spans("first", State::Walking, 1000.0), [(11.0, 19.0)]);
    assert_eq!(working(&diary, "first"), [(19.0, 39.0)]);
    assert!(diary.spans("second", State::Walking, 1000.0).is_empty());
}

#[test]
fn who_finds_the_work_gone_looks_again_from_where_they_stand() {
    // A rack at 11; the floater, 8 s away, is there at 19, but somebody who came on at 16 has it. Idle there; the rack
    // of 111 is taken without walking, by the floater, who is first on the list.
    let mut line = floor(15.0, 5.0, 1);
    line.walk = secs(8.0);
    line.crew.push(floater(vec![call(SCRAP), call(UNLOAD)]));
    line.crew
        .push(on_shift("unloader", &[UNLOAD], 16.0, 1000.0));
    let (_, diary) = live(&line, &ware(&[], &[0.0, 101.0]));
    assert_eq!(
        diary.spans("floater", State::Walking, 1000.0),
        [(11.0, 19.0)]
    );
    assert_eq!(working(&diary, "unloader"), [(16.0, 21.0)]);
    assert_eq!(working(&diary, "floater"), [(111.0, 116.0)]);
}

#[test]
fn a_post_has_places_for_so_many() {
    // Four racks at 11, one place: one unloads them all.
    let mut line = floor(15.0, 5.0, 4);
    line.clean_ends[0].workers = 1;
    line.crew.push(worker("first", &[UNLOAD]));
    line.crew.push(worker("second", &[UNLOAD]));
    let (_, diary) = live(&line, &ware(&[], &[0.0, 0.1, 0.2, 0.3]));
    assert_eq!(working(&diary, "first"), [(11.0, 31.0)]);
    assert!(working(&diary, "second").is_empty());
}

#[test]
fn from_the_soiled_to_the_clean_side_hands_are_washed_and_not_the_other_way() {
    // A rack at 11: walk to 19, wash 45 s to 64, unload to 69; a tray waits since 66: walk to 77, 15 s.
    let mut line = floor(15.0, 5.0, 1);
    line.walk = secs(8.0);
    line.hand_wash = secs(45.0);
    line.crew.push(floater(vec![call(SCRAP), call(UNLOAD)]));
    let (_, diary) = live(&line, &ware(&[66.0], &[0.0]));
    assert_eq!(
        diary.spans("floater", State::Walking, 1000.0),
        [(11.0, 19.0), (69.0, 77.0)]
    );
    assert_eq!(
        diary.spans("floater", State::HandWash, 1000.0),
        [(19.0, 64.0)]
    );
    assert_eq!(working(&diary, "floater"), [(64.0, 69.0), (77.0, 92.0)]);
}

#[test]
fn hands_are_washed_even_where_there_is_no_way_to_walk() {
    let mut line = floor(15.0, 5.0, 1);
    line.hand_wash = secs(45.0);
    line.crew.push(floater(vec![call(SCRAP), call(UNLOAD)]));
    let (_, diary) = live(&line, &ware(&[], &[0.0]));
    assert_eq!(
        diary.spans("floater", State::HandWash, 1000.0),
        [(11.0, 56.0)]
    );
    assert_eq!(working(&diary, "floater"), [(56.0, 61.0)]);
}

#[test]
fn who_walks_or_washes_as_the_shift_ends_goes_at_once_and_frees_the_way() {
    // On the way from 11; home at 15 (walking) or 40 (washing). The other floater goes then.
    for (ends, walking) in [(15.0, (11.0, 15.0)), (40.0, (11.0, 19.0))] {
        let mut line = floor(15.0, 5.0, 1);
        line.walk = secs(8.0);
        line.hand_wash = secs(45.0);
        line.crew.push(Worker {
            list: vec![call(SCRAP), call(UNLOAD)],
            ..on_shift("first", &[], 0.0, ends)
        });
        line.crew.push(Worker {
            list: vec![call(SCRAP), call(UNLOAD)],
            ..worker("second", &[])
        });
        let (_, diary) = live(&line, &ware(&[], &[0.0]));
        assert_eq!(diary.spans("first", State::Walking, 1000.0), [walking]);
        assert!(working(&diary, "first").is_empty());
        assert_eq!(
            working(&diary, "second"),
            [(ends + 53.0, ends + 58.0)],
            "walk 8 s, wash 45 s, from {ends}"
        );
    }
}

#[test]
fn who_comes_to_a_post_looks_at_the_own_list_again() {
    // On the way to the rack from 11 to 19 a tray comes, at 15: scrapping is higher on the list, so back without a
    // rack; 27–42 the tray, then to the rack again, 42–50.
    let mut line = floor(15.0, 5.0, 1);
    line.walk = secs(8.0);
    line.crew.push(floater(vec![call(SCRAP), call(UNLOAD)]));
    let (_, diary) = live(&line, &ware(&[15.0], &[0.0]));
    assert_eq!(
        diary.spans("floater", State::Walking, 1000.0),
        [(11.0, 27.0), (42.0, 50.0)]
    );
    assert_eq!(working(&diary, "floater"), [(27.0, 42.0), (50.0, 55.0)]);
}

#[test]
fn nobody_is_called_away_in_mid_task() {
    // A tray of 100 s from 1 to 101; racks wait from 11 on.
    let mut line = floor(100.0, 5.0, 1);
    line.crew.push(floater(vec![call(UNLOAD), call(SCRAP)]));
    let (_, diary) = live(&line, &ware(&[1.0, 2.0], &[0.0]));
    assert_eq!(diary.taken_from("table.table"), [1.0, 106.0]);
    assert_eq!(diary.taken_from("clean_end.clean end"), [101.0]);
}

#[test]
fn trays_left_aside_are_fetched_when_nothing_else_waits() {
    // Two positions' worth of patience: nobody waiting is borne. 10 s to put down; the second and third of 0 wait or
    // leave; trays are 10 s of work, a fetched one 5 s more.
    let mut line = scrapping_line(10.0);
    line.drop_offs[0].put_down_s = Dist::Constant(10.0);
    line.scrapping[0].from.push(TraysFrom::Overflow(0));
    line.scrapping[0].fetch_s = 5.0;
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(200.0));
    let mut demand = coming(&[0.0, 1.0, 2.0, 3.0], &[1.0]);
    // One person waiting is borne, two are not: 0 puts down, 1 and 2 wait, 3 leaves the tray.
    demand.patience_people = Some(Dist::Constant(1.0));
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.times("trays left aside"), [3.0]);
    // Free and with nothing else to do, the worker fetches it at 3 (15 s); then the trays of 10, 20 and 30.
    assert_eq!(diary.taken_from("overflow.window"), [3.0]);
    assert_eq!(diary.taken_from("table.table"), [18.0, 28.0, 38.0]);
    assert_eq!(working(&diary, "one"), [(3.0, 48.0)]);
}

#[test]
fn trays_after_closing_time_go_on_the_late_cart() {
    let mut line = scrapping_line(10.0);
    line.drop_offs[0].closes = Closing::At(at(50.0));
    line.scrapping[0].from.push(TraysFrom::Overflow(0));
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(200.0));
    // At the very instant of closing it is closed: the clock comes before arrivals.
    let (_, diary) = live(&line, &coming(&[49.0, 50.0, 100.0], &[1.0]));
    assert_eq!(diary.times("late trays"), [50.0, 100.0]);
    assert_eq!(diary.taken_from("overflow.window"), [59.0, 100.0]);
}

#[test]
fn who_comes_before_the_drop_off_opens_waits() {
    let mut line = scrapping_line(10.0);
    line.drop_offs[0].opens = Some(at(60.0));
    line.crew = vec![worker("one", &[SCRAP])];
    line.ends = Some(at(200.0));
    let (_, diary) = live(&line, &coming(&[10.0, 60.0], &[1.0]));
    assert_eq!(diary.times("trays dropped off"), [60.0, 60.0]);
    assert_eq!(diary.waits_at("drop_off.window.queue"), [50.0, 0.0]);
}
