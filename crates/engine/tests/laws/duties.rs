//! Other work: by the clock, by the kilogram, at once or when there is time.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;
use scullery_engine::watch::State;

use crate::hand::*;

fn pans(at_s: &[f64], may_wait_s: Option<f64>) -> Duty {
    Duty {
        name: "pans".into(),
        when: DutyWhen::At(at_s.iter().map(|&s| at(s)).collect()),
        work_s: Dist::Constant(30.0),
        by: vec![SCRAP],
        may_wait: may_wait_s.map(secs),
        clean_side: false,
    }
}

fn duty_line(duty: Duty) -> Line {
    Line {
        duties: vec![duty],
        crew: vec![worker("one", &[SCRAP])],
        ends: Some(at(1000.0)),
        ..scrapping_line(10.0)
    }
}

#[test]
fn other_work_that_may_not_wait_comes_before_the_trays() {
    // Due at 25 with a tray in hand until 30 and two waiting: pans 30–60, then the trays.
    let line = duty_line(pans(&[25.0], None));
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 30.0, 70.0, 80.0]);
    assert_eq!(diary.times("other work done"), [60.0]);
    assert_eq!(diary.waits_at("duty.pans"), [5.0]);
    assert_eq!(diary.levels_of("duty.pans"), [(25.0, 1), (30.0, 0)]);
}

#[test]
fn other_work_that_may_wait_is_done_when_nothing_else_waits() {
    let line = duty_line(pans(&[25.0], Some(500.0)));
    let (_, diary) = live(&line, &coming(&[0.0; 5], &[1.0]));
    assert_eq!(diary.times("trays cleared").last(), Some(&50.0));
    assert_eq!(diary.times("other work done"), [80.0]);
}

#[test]
fn other_work_that_has_waited_long_enough_presses() {
    // May wait 12 s from 25 on: pressing at 37, begun after the tray in hand at 40.
    let line = duty_line(pans(&[25.0], Some(12.0)));
    let (_, diary) = live(&line, &coming(&[0.0; 6], &[1.0]));
    assert_eq!(
        diary.times("trays cleared"),
        [10.0, 20.0, 30.0, 40.0, 80.0, 90.0]
    );
    assert_eq!(diary.times("other work done"), [70.0]);
}

#[test]
fn an_idle_worker_does_other_work_as_it_falls_due() {
    for may_wait in [None, Some(500.0)] {
        let line = duty_line(pans(&[25.0, 200.0], may_wait));
        let (_, diary) = live(&line, &coming(&[0.0], &[1.0]));
        assert_eq!(diary.times("other work done"), [55.0, 230.0]);
    }
}

#[test]
fn jobs_of_one_duty_wait_in_order() {
    let line = duty_line(pans(&[25.0, 30.0, 35.0], None));
    let (_, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(diary.times("other work done"), [55.0, 85.0, 115.0]);
    assert_eq!(diary.waits_at("duty.pans"), [0.0, 25.0, 50.0]);
}

#[test]
fn only_who_has_one_of_its_posts_on_the_list_does_other_work() {
    let mut line = duty_line(pans(&[25.0], None));
    line.tables.push(table(None));
    line.scrapping.push(Scrapping {
        name: "other".into(),
        from: vec![TraysFrom::Table(1)],
        ..line.scrapping[0].clone()
    });
    line.crew.insert(0, worker("other", &[Post::Scrapping(1)]));
    let (_, diary) = live(&line, &coming(&[], &[1.0]));
    assert!(diary.spans("other", State::Working, 1000.0).is_empty());
    assert_eq!(diary.spans("one", State::Working, 1000.0), [(25.0, 55.0)]);
}

#[test]
fn a_bin_is_full_every_so_many_kilograms() {
    // 0.4 kg a tray, a bin of 1 kg: full with the third tray (1.2 kg) and the fifth (2.0 kg).
    let line = duty_line(Duty {
        when: DutyWhen::EveryKg(1.0),
        ..pans(&[], None)
    });
    let mut demand = coming(&[0.0; 5], &[1.0]);
    demand.waste_kg = Dist::Constant(0.4);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.times("trays cleared"), [10.0, 20.0, 30.0, 70.0, 80.0]);
    assert_eq!(diary.times("other work done"), [60.0, 110.0]);
    assert_eq!(diary.times("waste, grams").len(), 2000);
}

#[test]
fn one_heavy_tray_may_fill_several_bins() {
    let line = duty_line(Duty {
        when: DutyWhen::EveryKg(1.0),
        ..pans(&[], None)
    });
    let mut demand = coming(&[0.0], &[1.0]);
    demand.waste_kg = Dist::Constant(3.5);
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.times("other work done"), [40.0, 70.0, 100.0]);
}

#[test]
fn other_work_on_the_clean_side_asks_for_clean_hands() {
    // Due at 25: walk 8 s, wash 45 s, 30 s of work; back to the tray of 26 in 8 s.
    let mut line = duty_line(Duty {
        clean_side: true,
        ..pans(&[25.0], None)
    });
    line.walk = secs(8.0);
    line.hand_wash = secs(45.0);
    let (_, diary) = live(&line, &coming(&[26.0], &[1.0]));
    assert_eq!(diary.spans("one", State::HandWash, 1000.0), [(33.0, 78.0)]);
    assert_eq!(diary.times("other work done"), [108.0]);
    assert_eq!(diary.times("trays cleared"), [126.0]);
}

#[test]
fn other_work_due_before_the_run_is_not_asked_for() {
    let mut line = duty_line(pans(&[25.0, 150.0], None));
    line.starts = at(100.0);
    let (_, diary) = live(&line, &coming(&[], &[1.0]));
    assert_eq!(diary.times("other work done"), [180.0]);
}

#[test]
fn other_work_that_may_not_wait_is_done_within_the_shortest_stay() {
    // Called to the other table at 10 for 10 s, to stay there until 110: the tray of 20 at the first table waits. Pans,
    // due at 30, are done 30–60; nobody stays where they have left for other work, so the tray is begun at 60.
    let mut line = duty_line(pans(&[30.0], None));
    line.tables.push(Table {
        name: "other".into(),
        room: None,
    });
    line.drop_offs.push(DropOff {
        name: "other window".into(),
        ..drop_off(TraysTo::Table(1))
    });
    line.scrapping.push(Scrapping {
        name: "other".into(),
        from: vec![TraysFrom::Table(1)],
        ..scrapping(10.0, vec![PiecesTo::Leave])
    });
    let stays = Call {
        stay: secs(100.0),
        ..call(Post::Scrapping(1))
    };
    line.crew[0].list.push(stays);
    let mut demand = two_kinds(&[20.0], &[1.0], &[10.0], &[1.0]);
    demand.kinds[1].drop_off = 1;
    let (_, diary) = live(&line, &demand);
    assert_eq!(
        diary.spans("one", State::Working, 200.0),
        [(10.0, 20.0), (30.0, 70.0)]
    );
    // Without the pans: from 110 on.
    line.duties.clear();
    let (_, diary) = live(&line, &demand);
    assert_eq!(diary.taken_from("table.table"), [110.0]);
}
