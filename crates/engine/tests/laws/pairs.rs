//! Tasks for two.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::time::Span;
use scullery_engine::watch::State;

use crate::hand::*;

/// Work for two at 10 s, 50 s long, of whoever scraps; trays of 30 s.
fn line(crew: Vec<Worker>) -> Line {
    Line {
        duties: vec![Duty {
            name: "lift".into(),
            when: DutyWhen::At(vec![at(10.0)]),
            work_s: Dist::Constant(50.0),
            by: vec![SCRAP],
            may_wait: None,
            clean_side: false,
        }],
        for_two: vec![Post::Duty(0)],
        crew,
        ends: Some(at(1000.0)),
        ..scrapping_line(30.0)
    }
}

#[test]
fn a_task_for_two_begins_when_both_stand_there_and_holds_both_until_it_ends() {
    // B scraps from 0 to 30. A waits from 10; both 30 to 80; A waited 20 s. One work content, not half of it.
    let line = line(vec![worker("B", &[SCRAP]), worker("A", &[SCRAP])]);
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    let end = 1000.0;
    assert_eq!(diary.spans("A", State::WaitingForHelp, end), [(10.0, 30.0)]);
    assert_eq!(diary.spans("A", State::Working, end), [(30.0, 80.0)]);
    // B goes on from the tray without a pause.
    assert_eq!(diary.spans("B", State::Working, end), [(0.0, 80.0)]);
    assert_eq!(diary.times("other work done"), [80.0]);
}

#[test]
fn the_slower_of_two_sets_the_pace_of_both() {
    let mut line = line(vec![worker("B", &[SCRAP]), worker("A", &[SCRAP])]);
    line.crew[0].pace = 2.0;
    line.crew[1].pace = 0.5;
    // B scraps at double pace, 0 to 15; then 50 s at half pace.
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(diary.spans("A", State::Working, 1000.0), [(15.0, 115.0)]);
    assert_eq!(diary.spans("B", State::Working, 1000.0), [(0.0, 115.0)]);
}

#[test]
fn one_gathers_at_a_time_so_that_two_half_gathered_tasks_never_wait_for_each_other() {
    // Two pieces of work for two fall due at once; two people, each with one of them higher. The one asked first gathers
    // for theirs, the other comes to it, and then both do the second.
    let mut line = line(vec![worker("A", &[SCRAP]), worker("B", &[SCRAP])]);
    let mut second = line.duties[0].clone();
    second.name = "turn".into();
    second.work_s = Dist::Constant(20.0);
    line.duties.push(second);
    line.for_two.push(Post::Duty(1));
    line.duties[0].by = vec![];
    line.duties[1].by = vec![];
    line.crew[0].list = vec![call(Post::Duty(0)), call(Post::Duty(1))];
    line.crew[1].list = vec![call(Post::Duty(1)), call(Post::Duty(0))];
    let (_, diary) = live(&line, &coming(&[500.0], &[1.0]));
    assert_eq!(diary.spans("A", State::Working, 1000.0), [(10.0, 80.0)]);
    assert_eq!(diary.spans("B", State::Working, 1000.0), [(10.0, 80.0)]);
    assert_eq!(diary.times("other work done"), [60.0, 80.0]);
}

#[test]
fn whoever_waits_for_help_goes_on_break_when_it_is_due_and_nobody_waits_where_nobody_can_come() {
    // B's tray lasts from 0 to 30; A's break is due at 20. B, free at 30, finds nobody there who could be the second
    // until A is back at 120.
    let mut line = line(vec![worker("B", &[SCRAP]), worker("A", &[SCRAP])]);
    line.crew[1].breaks = vec![(at(20.0), secs(100.0))];
    let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
    assert_eq!(
        diary.spans("A", State::WaitingForHelp, 1000.0),
        [(10.0, 20.0)]
    );
    assert_eq!(diary.spans("A", State::Break, 1000.0), [(20.0, 120.0)]);
    assert_eq!(diary.spans("B", State::Working, 1000.0)[1], (120.0, 170.0));
}

#[test]
fn a_tray_for_two_is_one_work_content_and_whoever_leads_it_holds_what_finds_no_room() {
    // Plates one to a rack, a lane without room, the machine on at 100 s. The tray of 15 s is done at 15; its plate is
    // racked (one rack may stand open); the second tray's plate finds no room until 100.
    let mut line = wash_line(1);
    line.lanes = vec![shelf(Some(0))];
    line.scrapping[0].handling_s = 15.0;
    line.machines[0].on_at = at(100.0);
    line.for_two = vec![SCRAP];
    line.crew = vec![worker("first", &[SCRAP]), worker("second", &[SCRAP])];
    let (_, diary) = live(&line, &coming(&[0.0, 0.0], &[1.0]));
    let end = 10_000.0;
    for who in ["first", "second"] {
        assert_eq!(diary.spans(who, State::Working, end), [(0.0, 30.0)]);
    }
    assert_eq!(diary.times("trays cleared"), [15.0, 30.0]);
    assert_eq!(diary.spans("first", State::HeldUp, end), [(30.0, 100.0)]);
    assert!(diary.spans("second", State::HeldUp, end).is_empty());
}

#[test]
fn a_task_for_two_goes_on_past_the_shift_of_one_of_them_and_both_are_told() {
    let mut line = line(vec![
        worker("A", &[SCRAP]),
        on_shift("B", &[SCRAP], 0.0, 40.0),
    ]);
    let (_, diary) = live(&line, &coming(&[500.0], &[1.0]));
    // Both from 10 to 60; B's shift ends at 40.
    assert_eq!(diary.spans("B", State::Working, 1000.0), [(10.0, 40.0)]);
    assert_eq!(diary.spans("B", State::PastShift, 1000.0), [(40.0, 60.0)]);
    assert_eq!(diary.spans("A", State::Working, 1000.0)[0], (10.0, 60.0));
    // Alone, A does not wait for anybody.
    line.crew[1].shifts = vec![(at(0.0), at(5.0))];
    let (_, diary) = live(&line, &coming(&[500.0], &[1.0]));
    assert!(diary.spans("A", State::WaitingForHelp, 1000.0).is_empty());
    assert!(diary.times("other work done").is_empty());
}

#[test]
fn a_colleague_who_waits_calls_below_the_level_and_one_comes_walking() {
    // Trays for two wait at a post 8 s away; the second steps in at 5 alone, but a colleague who waits is enough.
    let mut line = Line {
        walk: secs(8.0),
        for_two: vec![SCRAP],
        crew: vec![worker("first", &[SCRAP]), worker("second", &[SCRAP])],
        ends: Some(at(1000.0)),
        ..scrapping_line(30.0)
    };
    line.duties = vec![Duty {
        name: "idle".into(),
        when: DutyWhen::At(vec![]),
        work_s: Dist::Constant(1.0),
        by: vec![],
        may_wait: None,
        clean_side: false,
    }];
    line.crew[1].list = vec![
        Call {
            step_in: 1,
            leave_at: 0,
            post: Post::Duty(0),
            stay: Span::NONE,
        },
        Call {
            step_in: 5,
            leave_at: 0,
            post: SCRAP,
            stay: Span::NONE,
        },
    ];
    line.duties[0].when = DutyWhen::At(vec![at(1.0)]);
    let (_, diary) = live(&line, &coming(&[100.0], &[1.0]));
    // The second has walked to the other work (1 to 9), done it (9 to 10) and stands there.
    assert_eq!(
        diary.spans("first", State::WaitingForHelp, 1000.0),
        [(100.0, 108.0)]
    );
    assert_eq!(diary.times("trays cleared"), [138.0]);
}
