//! Cleaning after the last tray.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::time::Span;

use crate::hand::*;

fn cleaning(name: &str, moment: Moment, jobs: u32, s: f64, by: Post) -> Duty {
    Duty {
        name: name.into(),
        when: DutyWhen::AfterLast {
            moment,
            drains: Span::NONE,
            jobs,
        },
        work_s: Dist::Constant(s),
        by: vec![by],
        may_wait: Some(secs(86_400.0)),
        clean_side: false,
    }
}

/// One plate a rack; trays of 10 s at 0 and 5 s, so sorted at 10 and 20; a cycle of 60 s, so washed at 70 and 130; unloading
/// 30 s, so clean at 100 and 160.
fn line() -> Line {
    let mut line = wash_line(1);
    line.scrapping[0].handling_s = 10.0;
    line.machines[0].to = Some(0);
    line.clean_ends = vec![clean_end(None)];
    line.classes[0].unload_s = 30.0;
    line.crew = vec![
        on_shift("scrapper", &[SCRAP], 0.0, 600.0),
        on_shift("unloader", &[UNLOAD], 0.0, 600.0),
    ];
    line.ends = None;
    line
}

#[test]
fn each_element_is_cleaned_when_nothing_more_can_come_to_it() {
    let mut line = line();
    line.duties = vec![
        cleaning("table", Moment::Sorted, 1, 15.0, SCRAP),
        cleaning("machine", Moment::Washed, 1, 100.0, SCRAP),
        cleaning("clean table", Moment::Clean, 1, 20.0, UNLOAD),
    ];
    let (ended, diary) = live(&line, &coming(&[0.0, 5.0], &[1.0]));
    // Table 20 to 35; machine from 130 to 230; the clean table from 160 to 180.
    assert_eq!(diary.times("other work done"), [35.0, 180.0, 230.0]);
    assert_eq!(ended.cleaning_left, 0);
    assert_eq!(ended.all_clean_at, Some(at(160.0)));
    assert_eq!(ended.at, at(600.0));
}

#[test]
fn cleaning_in_two_parts_is_shared_by_two() {
    let mut line = line();
    line.duties = vec![cleaning("machine", Moment::Clean, 2, 50.0, SCRAP)];
    line.crew[1].list.push(call(SCRAP));
    let (ended, diary) = live(&line, &coming(&[0.0, 5.0], &[1.0]));
    assert_eq!(diary.times("other work done"), [210.0, 210.0]);
    assert_eq!(ended.cleaning_left, 0);
}

#[test]
fn cleaning_that_the_last_shift_does_not_reach_is_left_and_told() {
    // Begun at 160, the machine's cleaning is finished past the shift; the hood's never begins.
    let mut line = line();
    line.duties = vec![
        cleaning("machine", Moment::Clean, 1, 500.0, SCRAP),
        cleaning("hood", Moment::Clean, 1, 60.0, SCRAP),
    ];
    line.crew[1].list.clear();
    line.crew[1].list.push(call(UNLOAD));
    let (ended, diary) = live(&line, &coming(&[0.0, 5.0], &[1.0]));
    assert_eq!(diary.times("other work done"), [660.0]);
    assert_eq!((ended.at, ended.cleaning_left), (at(660.0), 1));
    // A stated end before all is clean leaves both, though neither has fallen due.
    line.ends = Some(at(50.0));
    let (ended, _) = live(&line, &coming(&[0.0, 5.0], &[1.0]));
    assert_eq!(ended.cleaning_left, 2);
}

#[test]
fn what_drains_first_is_cleaned_when_it_has_drained() {
    // Washed at 130, drained at 170: the scrapper, free meanwhile, cleans from 170 to 230; the clean table from 160 to 180.
    let mut line = line();
    line.duties = vec![
        Duty {
            when: DutyWhen::AfterLast {
                moment: Moment::Washed,
                drains: secs(40.0),
                jobs: 1,
            },
            ..cleaning("machine", Moment::Washed, 1, 60.0, SCRAP)
        },
        cleaning("clean table", Moment::Clean, 1, 20.0, UNLOAD),
    ];
    let (ended, diary) = live(&line, &coming(&[0.0, 5.0], &[1.0]));
    assert_eq!(diary.times("other work done"), [180.0, 230.0]);
    assert_eq!(ended.cleaning_left, 0);
    // Not drained when the last shift ends: left.
    for worker in &mut line.crew {
        worker.shifts[0].1 = at(165.0);
    }
    let (ended, _) = live(&line, &coming(&[0.0, 5.0], &[1.0]));
    assert_eq!(ended.cleaning_left, 1);
}
