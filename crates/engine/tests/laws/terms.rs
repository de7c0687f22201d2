//! What is out of the ordinary in a worker's terms.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

fn scraps(tray_s: f64, crew: Vec<Worker>) -> Line {
    Line {
        crew,
        ends: Some(at(1000.0)),
        ..scrapping_line(tray_s)
    }
}

#[test]
fn a_late_start_moves_the_start_of_the_first_shift_only() {
    let mut one = on_shift("one", &[SCRAP], 100.0, 300.0);
    one.shifts.push((at(400.0), at(600.0)));
    one.terms.late = Some(Late {
        share: 1.0,
        by_min: Dist::Constant(1.0),
    });
    let (_, diary) = live(&scraps(10.0, vec![one]), &coming(&[0.0, 390.0], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [170.0, 410.0]);
    assert_eq!(
        diary.spans("one", State::Off, 1000.0),
        [(300.0, 400.0), (600.0, 1000.0)]
    );
}

#[test]
fn whoever_is_later_than_the_shift_is_long_does_not_come() {
    let mut one = on_shift("one", &[SCRAP], 100.0, 300.0);
    one.terms.late = Some(Late {
        share: 1.0,
        by_min: Dist::Constant(60.0),
    });
    let (ended, diary) = live(&scraps(10.0, vec![one]), &coming(&[0.0], &[1.0]));
    assert!(diary.times("trays cleared").is_empty());
    assert_eq!(ended.balance.trays_inside, 1);
}

#[test]
fn late_starts_come_in_the_stated_share_of_meals() {
    // 2000 meals at a share of 0.3: binomial standard deviation 20.5, so 5 of them are about 103.
    let mut one = on_shift("one", &[SCRAP], 0.0, 300.0);
    one.terms.late = Some(Late {
        share: 0.3,
        by_min: Dist::Constant(1.0),
    });
    let line = scraps(10.0, vec![one]);
    let late = (0..2000)
        .filter(|&repeat| {
            let (_, diary) = live_seed(&line, &coming(&[0.0], &[1.0]), 7, repeat);
            diary.times("trays cleared") == [70.0]
        })
        .count();
    assert!((497..=703).contains(&late), "late in {late} of 2000 meals");
}

#[test]
fn a_pace_by_the_clock_holds_for_tasks_begun_from_then_on() {
    // 60 s a tray; pace 1 until 100 s, then half of it: the tray begun at 60 still lasts 60 s, the one at 120 lasts 120 s.
    let mut one = worker("one", &[SCRAP]);
    one.terms.paces = vec![(at(100.0), 0.5)];
    let (_, diary) = live(&scraps(60.0, vec![one]), &coming(&[0.0; 3], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [60.0, 120.0, 240.0]);
}

#[test]
fn unpaid_breaks_are_told_in_microseconds_and_only_as_far_as_they_were_taken() {
    // Breaks of 100 s at 50 (paid), 200 (unpaid), 450 (unpaid, cut short by the shift's end at 500).
    let mut one = on_shift("one", &[SCRAP], 0.0, 500.0);
    one.breaks = vec![
        (at(50.0), secs(100.0)),
        (at(200.0), secs(100.0)),
        (at(450.0), secs(100.0)),
    ];
    one.terms.unpaid = vec![1, 2];
    let line = scraps(10.0, vec![one, worker("two", &[SCRAP])]);
    let (ended, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(
        diary.spans("one", State::Break, 1000.0),
        [(50.0, 150.0), (200.0, 300.0), (450.0, 500.0)]
    );
    assert_eq!(ended.unpaid_us, [150_000_000, 0]);
    // A run that ends in an unpaid break counts it up to there.
    let mut line = line;
    line.ends = Some(at(250.0));
    let (ended, _) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(ended.unpaid_us, [50_000_000, 0]);
}

/// Two scrapping posts with a table each, trays of 40 s, the first tray for table 0, the others as said.
fn two_posts(crew: Vec<Worker>) -> Line {
    let mut line = scraps(40.0, crew);
    line.tables.push(table(None));
    line.drop_offs.push(DropOff {
        to: TraysTo::Table(1),
        name: "other window".into(),
        ..line.drop_offs[0].clone()
    });
    line.scrapping.push(Scrapping {
        name: "other".into(),
        from: vec![TraysFrom::Table(1)],
        ..line.scrapping[0].clone()
    });
    line
}

#[test]
fn a_worker_whose_posts_change_finishes_what_is_in_hand_and_then_walks() {
    // At 50 s the only worker is moved from the first post to the other. Trays at 0 and 30 at the first, at 10 at the other.
    let mut one = worker("one", &[SCRAP]);
    one.terms.moves = vec![(at(50.0), vec![call(Post::Scrapping(1))])];
    let mut line = two_posts(vec![one]);
    line.walk = secs(5.0);
    let mut demand = two_kinds(&[0.0, 30.0], &[1.0], &[10.0], &[1.0]);
    demand.kinds[1].drop_off = 1;
    let (ended, diary) = live(&line, &demand);
    // 0 to 40 and, begun before the change, 40 to 80; then 5 s of walking and the other post's tray.
    assert_eq!(diary.times("trays cleared"), [40.0, 80.0, 125.0]);
    assert_eq!(diary.spans("one", State::Walking, 1000.0), [(80.0, 85.0)]);
    assert_eq!(ended.balance.trays_inside, 0);
}

#[test]
fn a_worker_moved_while_idle_goes_when_work_calls_at_the_new_post_and_leaves_the_old_one_alone() {
    let mut one = worker("one", &[SCRAP]);
    one.terms.moves = vec![(at(50.0), vec![call(Post::Scrapping(1))])];
    let mut demand = two_kinds(&[60.0], &[1.0], &[70.0], &[1.0]);
    demand.kinds[1].drop_off = 1;
    let (ended, diary) = live(&two_posts(vec![one]), &demand);
    assert_eq!(diary.times("trays cleared"), [110.0]);
    assert_eq!(ended.balance.trays_inside, 1);
}

fn helper(watches: Watched, call_at: u32, leave_at: u32, stay_s: f64) -> Worker {
    let mut cook = on_shift("cook", &[SCRAP], 0.0, 900.0);
    cook.terms.help = Some(Help {
        watches,
        call_at,
        comes_after: secs(30.0),
        leave_at,
        stay: secs(stay_s),
    });
    cook
}

#[test]
fn help_comes_so_long_after_the_call_and_goes_back_when_the_level_has_fallen() {
    // Trays of 100 s at 0, 1, 2, 3. The worker takes the first at 0; at 3 three wait: the call; the cook is there at 33
    // and takes the second, at 100 the worker the third; at 133 one waits, is taken by the cook, and at 233 none: home.
    let line = scraps(
        100.0,
        vec![
            worker("one", &[SCRAP]),
            helper(Watched::Jobs(SCRAP), 3, 0, 0.0),
        ],
    );
    let (_, diary) = live(&line, &coming(&[0.0, 1.0, 2.0, 3.0], &[1.0]));
    assert_eq!(diary.spans("cook", State::Working, 1000.0), [(33.0, 233.0)]);
    assert_eq!(
        diary.states.last().map(|s| (s.0, s.2)),
        Some((233.0, State::Off))
    );
    assert_eq!(diary.times("trays cleared"), [100.0, 133.0, 200.0, 233.0]);
}

#[test]
fn help_stays_its_shortest_stay_and_comes_again_when_called_again() {
    let line = scraps(
        10.0,
        vec![
            on_shift("one", &[SCRAP], 0.0, 1.0),
            helper(Watched::Jobs(SCRAP), 1, 0, 60.0),
        ],
    );
    let (_, diary) = live(&line, &coming(&[5.0, 300.0], &[1.0]));
    assert_eq!(
        diary.spans("cook", State::Working, 1000.0),
        [(35.0, 45.0), (330.0, 340.0)]
    );
    // Here from 35 to 95, and from 330 to 390.
    assert_eq!(
        diary.spans("cook", State::Waiting, 1000.0),
        [(45.0, 95.0), (340.0, 390.0)]
    );
}

#[test]
fn help_may_be_called_by_the_diners_who_stand_at_the_door_and_only_within_its_hours() {
    // The table has room for one tray, so the third diner stands. Before 50 s nobody in the kitchen may be called.
    let mut line = scraps(
        400.0,
        vec![
            worker("one", &[SCRAP]),
            helper(Watched::Standing(0), 1, 0, 0.0),
        ],
    );
    line.tables[0].room = Some(1);
    line.crew[1].shifts = vec![(at(50.0), at(900.0))];
    let (_, diary) = live(&line, &coming(&[0.0, 1.0, 2.0], &[1.0]));
    assert_eq!(diary.spans("cook", State::Working, 1000.0)[0].0, 80.0);
    // With hours that begin when all is done, nobody comes.
    line.crew[1].shifts = vec![(at(880.0), at(900.0))];
    let (_, diary) = live(&line, &coming(&[0.0, 1.0, 2.0], &[1.0]));
    assert!(diary.states.iter().all(|s| s.1 != "cook"));
}

#[test]
fn the_meal_does_not_wait_for_the_hours_of_help_to_end() {
    let mut line = scraps(
        10.0,
        vec![
            on_shift("one", &[SCRAP], 0.0, 60.0),
            helper(Watched::Jobs(SCRAP), 9, 0, 0.0),
        ],
    );
    line.ends = None;
    let (ended, _) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(ended.at, at(60.0));
}
