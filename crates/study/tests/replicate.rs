//! Repeats: the same bytes whoever runs them, and nothing lost on the way.

use std::collections::BTreeSet;
use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::{Fault, How};
use scullery_engine::watch::{Counted, State};
use scullery_scenario::plan::{Plan, Side, Target};
use scullery_study::measures::{Meal, Measures};
use scullery_study::replicate::{Replicate, meal, replicate};
use scullery_study::summary::Summary;

use crate::plans::{lunch, queue, queue_until};

fn study(plan: &Plan, repeats: u64, seed: u64, threads: usize) -> Summary {
    let how = Replicate {
        repeats,
        seed,
        threads,
    };
    replicate(plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap()
}

#[test]
fn one_and_two_and_five_threads_give_the_same_bytes() {
    for plan in [lunch(), queue()] {
        let bytes = |threads| serde_json::to_string(&study(&plan, 12, 1, threads)).unwrap();
        let one = bytes(1);
        assert_eq!(one, bytes(2));
        assert_eq!(one, bytes(5));
    }
}

#[test]
fn a_repeat_run_alone_equals_the_same_repeat_among_many() {
    let plan = queue();
    let catalogue = plan.line.catalogue();
    let measures = Measures::of(&plan, &catalogue);
    let (ended, record) = meal(&plan, 1, 7).unwrap();
    let alone = measures.read(&Meal::of(&plan, &catalogue, &record, &ended));
    let among = &study(&plan, 50, 1, 2).per_meal[6];
    assert_eq!((among[0], among[1]), (Some(7.0), Some(1.0)));
    assert_eq!(among[2..], alone);
    assert!(alone.iter().flatten().any(|v| *v > 0.0));
}

#[test]
fn fewer_repeats_are_the_first_of_many() {
    let plan = queue();
    let (few, many) = (study(&plan, 10, 1, 2), study(&plan, 25, 1, 2));
    assert_eq!(few.per_meal, many.per_meal[..10]);
}

#[test]
fn no_two_of_two_hundred_meals_are_alike() {
    let plan = queue();
    let meals = [1, 2]
        .into_iter()
        .flat_map(|seed| study(&plan, 100, seed, 2).per_meal);
    let bytes: BTreeSet<String> = meals.map(|row| format!("{:?}", &row[2..])).collect();
    assert_eq!(bytes.len(), 200);
}

#[test]
fn a_raised_flag_finishes_what_is_in_hand_and_says_so() {
    let plan = queue();
    let whole = study(&plan, 50, 1, 1);
    for threads in [1, 2] {
        let stop = AtomicBool::new(false);
        let progress = |done| {
            if done >= 5 {
                stop.store(true, Ordering::Relaxed);
            }
        };
        let how = Replicate {
            repeats: 50,
            seed: 1,
            threads,
        };
        let cut = replicate(&plan, &how, &progress, &stop).unwrap();
        // Whatever each thread had in hand is finished too, and there is no gap.
        assert!(
            cut.repeats >= 5 && cut.repeats < 5 + threads as u64,
            "{}",
            cut.repeats
        );
        assert_eq!(cut.asked, 50);
        assert_eq!(cut.per_meal, whole.per_meal[..cut.repeats as usize]);
        assert!(
            cut.answer
                .contains(&format!("stopped early, after {} of 50", cut.repeats))
        );
    }
}

#[test]
fn a_flag_raised_at_once_leaves_nothing_and_says_so() {
    let how = Replicate {
        repeats: 5,
        seed: 1,
        threads: 1,
    };
    let cut = replicate(&queue(), &how, &|_| {}, &AtomicBool::new(true)).unwrap();
    assert_eq!(cut.repeats, 0);
    assert!(cut.answer.contains("nothing can be said"), "{}", cut.answer);
    assert!(
        cut.measures
            .iter()
            .all(|m| m.mean.is_none() && m.ci95.is_none() && m.p95.is_none())
    );
}

#[test]
fn a_target_on_something_that_is_not_there_is_refused_before_any_meal() {
    let mut plan = queue();
    plan.targets.push(Target {
        words: "hardly any wait".into(),
        measure: "drop_off.dor.wait_p95_s".into(),
        side: Side::AtMost,
        bound: 60.0,
        in_meals_of_100: Some(95.0),
    });
    let how = Replicate {
        repeats: 5,
        seed: 1,
        threads: 1,
    };
    let refused = replicate(
        &plan,
        &how,
        &|_| panic!("a meal was run"),
        &AtomicBool::new(false),
    );
    match refused {
        Err(Fault::Line(what)) => {
            assert!(what.contains("`drop_off.dor.wait_p95_s`"), "{what}");
            assert!(what.contains("`drop_off.door.wait_p95_s`"), "{what}");
        }
        other => panic!("{other:?}"),
    }
}

/// Little's law without limits: in a run that begins and ends empty the area under a queue is the sum of the waits in it.
#[test]
fn the_area_under_a_queue_that_empties_is_the_sum_of_its_waits() {
    let plan = queue();
    let catalogue = plan.line.catalogue();
    let place = catalogue
        .places
        .iter()
        .position(|p| p.name == "table.queue")
        .unwrap();
    for repeat in 1..=20 {
        let (ended, record) = meal(&plan, 3, repeat).unwrap();
        assert_eq!(ended.how, How::AllClean);
        let waits = &record.waits[place];
        assert!(waits.sums.n > 100 && waits.sums.sum > 0);
        assert_eq!(record.places[place].integral, waits.sums.sum as u128);
    }
}

#[test]
fn everybodys_time_adds_up_to_the_run_and_trays_are_counted_once() {
    for plan in [lunch(), queue(), queue_until(3.0)] {
        let catalogue = plan.line.catalogue();
        let count = |what: Counted| {
            catalogue
                .counts
                .iter()
                .position(|c| c.counted == what)
                .unwrap()
        };
        for repeat in 1..=3 {
            let (ended, record) = meal(&plan, 5, repeat).unwrap();
            for actor in &record.actors {
                assert_eq!(actor.total_us.iter().sum::<u64>(), record.run_us);
                let in_quarters: u64 = actor.quarters.iter().flatten().sum();
                assert_eq!(in_quarters, record.run_us);
            }
            let total = |what| record.counts[count(what)].total;
            assert_eq!(total(Counted::CameToDropOff), ended.balance.trays_in);
            assert_eq!(total(Counted::PiecesClean), ended.balance.pieces_out);
            assert_eq!(total(Counted::Clean), ended.balance.trays_out);
            for (count, info) in record.counts.iter().zip(&catalogue.counts) {
                let by_minute: u64 = count.minutes.iter().map(|&by| u64::from(by)).sum();
                assert_eq!(by_minute, count.total, "{}", info.name);
            }
        }
    }
}

#[test]
fn a_server_is_busy_for_its_work_and_the_profile_says_so() {
    // Four hours of 48 trays of a minute each: 192 minutes of work on average, then the server waits to midnight.
    let summary = study(&queue(), 200, 1, 2);
    let server = &summary.people[0];
    assert_eq!(
        (server.name.as_str(), server.kind.as_str()),
        ("Server", "worker")
    );
    let working = server.states.iter().position(|s| s == "working").unwrap();
    let [low, high] = summary
        .measures
        .iter()
        .find(|m| m.id == "worker.Server.busy_share")
        .and_then(|m| m.ci95)
        .unwrap();
    let expected = 192.0 / 1440.0;
    assert!(low < expected && expected < high, "{low} to {high}");
    assert!(high - low < 0.05 * expected);
    // Mean minutes in a state are the sum of its quarter hours.
    let in_quarters: f64 = server.quarters.iter().map(|row| row[working] * 15.0).sum();
    assert!((server.minutes[working] - in_quarters).abs() < 1e-6);
    for row in &server.quarters {
        assert!((row.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }
    assert_eq!(summary.clock.minutes, 1440);
    assert_eq!(server.quarters.len(), 96);
    assert_eq!(State::ALL.len(), State::COUNT);
}

#[test]
fn curves_rise_to_the_counts_of_the_meal() {
    let summary = study(&queue(), 40, 2, 2);
    let find = |role: &str| summary.cumulative.iter().find(|b| b.role == role).unwrap();
    let dropped = summary
        .measures
        .iter()
        .find(|m| m.id == "line.dropped_off_trays")
        .unwrap();
    for role in ["dropped_off", "cleared", "clean"] {
        let band = find(role);
        assert!(
            (band.mean.last().unwrap() - dropped.mean.unwrap()).abs() < 1e-9,
            "{role}"
        );
        assert_eq!(band.p50.last().copied(), dropped.p50, "{role}");
        assert!(band.p50.windows(2).all(|two| two[0] <= two[1]), "{role}");
    }
    let lags = find("dropped_off").mean.iter().zip(&find("cleared").mean);
    assert!(lags.clone().all(|(dropped, cleared)| dropped >= cleared));
    assert!(lags.clone().any(|(dropped, cleared)| dropped > cleared));
}

#[test]
fn a_meal_cut_off_says_what_is_still_inside() {
    let summary = study(&queue_until(2.0), 30, 1, 2);
    assert_eq!(summary.endings.stated_end, 30);
    let balance = &summary.balance;
    assert!(balance.trays_inside > 0);
    assert_eq!(balance.trays_in, balance.trays_out + balance.trays_inside);
    assert!(
        summary
            .answer
            .contains("trays were still inside at the stated end"),
        "{}",
        summary.answer
    );
}

#[test]
fn ids_are_unique_and_every_column_has_its_measure() {
    let plan = lunch();
    let catalogue = plan.line.catalogue();
    let measures = Measures::of(&plan, &catalogue);
    let ids: BTreeSet<&str> = measures.infos().iter().map(|m| m.id.as_str()).collect();
    assert_eq!(ids.len(), measures.infos().len());
    assert!(measures.unknown(&plan).is_empty());
    for id in [
        "drop_off.main.wait_mean_s",
        "drop_off.main.wait_p95_s",
        "drop_off.main.wait_max_s",
        "drop_off.main.within_60s_share",
        "drop_off.main.standing_max_people",
        "backlog.max_trays",
        "clean.last_clock_min",
        "line.room_clean_clock_min",
        "line.covers_per_labour_h",
        "runout.total_pieces",
    ] {
        assert!(ids.contains(id), "{id}");
    }
    let summary = study(&plan, 2, 1, 1);
    assert_eq!(summary.per_meal_columns.len(), measures.infos().len() + 2);
    assert!(
        summary
            .per_meal
            .iter()
            .all(|row| row.len() == summary.per_meal_columns.len())
    );
}

#[test]
fn the_room_is_clean_when_what_drained_is_cleaned_and_never_when_it_is_not() {
    let text = crate::plans::QUEUE
        .replace("closes = \"never\"", "closes = \"after_last\"")
        .replace("\"exponential\"", "\"not_at_all\"");
    let cleaning = |crew_min: u32| {
        let cleaning = format!(
            "{text}\n[[cleaning]]\nof = \"scrapping.server\"\ncrew_min = {crew_min}\nby = [\"scrapping.server\"]\nafter = \"clean\"\ndrain_min = 5\nremovable_parts = true\n"
        );
        study(&crate::plans::read(&cleaning), 10, 1, 1)
    };
    let column = |summary: &Summary, id: &str| {
        let columns = &summary.per_meal_columns;
        let at = columns.iter().position(|name| name == id).unwrap();
        let cells = summary.per_meal.iter().map(|row| row[at]);
        cells.collect::<Vec<_>>()
    };
    // 15 min less 20 % are 12, after 5 of draining.
    let summary = cleaning(15);
    let last = column(&summary, "clean.last_clock_min");
    let room = column(&summary, "line.room_clean_clock_min");
    assert_eq!(room.len(), 10);
    for (last, room) in last.iter().zip(&room) {
        assert!((room.unwrap() - last.unwrap() - 17.0).abs() < 1e-6);
    }
    // Ten hours of it in twenty parts do not fit before a run that ends at six: some is left, and the room is never clean.
    let mut late = crate::plans::read(&format!(
        "{text}\n[[cleaning]]\nof = \"scrapping.server\"\ncrew_min = 600\nparts = 20\nby = [\"scrapping.server\"]\n"
    ));
    late.line.ends = Some(scullery_engine::time::SimTime::from_min(6.0 * 60.0));
    let summary = study(&late, 10, 1, 1);
    let room = column(&summary, "line.room_clean_clock_min");
    assert!(room.iter().all(Option::is_none));
}
