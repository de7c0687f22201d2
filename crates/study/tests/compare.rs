//! Arrangements compared: copies, winners and none, money, and enough lunches.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::Fault;
use scullery_scenario::DEFAULT_SCENARIO;
use scullery_study::compare::{Compare, Comparison, compare};
use scullery_study::enough::{Enough, replicate_until};
use scullery_study::lunches::{Arrangement, lunches};
use scullery_study::money_difference::Payback;
use scullery_study::replicate::{Replicate, replicate};
use scullery_study::sequential::Precision;

use crate::plans::{QUEUE, arrangement, target};

const PRICED: &str = "\n[money]\nwage_per_h = 20\n";

fn compared(arrangements: &[Arrangement], repeats: u64) -> Comparison {
    let how = Compare {
        repeats,
        seed: 1,
        threads: 2,
        measures: Vec::new(),
    };
    compare(arrangements, &how, &|_| {}, &AtomicBool::new(false)).unwrap()
}

#[test]
fn a_copy_under_another_name_differs_by_exactly_nothing_and_that_is_said() {
    let text = DEFAULT_SCENARIO;
    let two = [
        arrangement(text, "the hall", &[]),
        arrangement(
            text,
            "the copy",
            &["accumulator.return.speed_m_per_min=6.0"],
        ),
    ];
    let seen = compared(&two, 12);
    assert!(seen.arrangements[1].same_as_first && !seen.arrangements[1].changes[0].alters);
    for row in &seen.measures {
        let difference = row.differences[0].as_ref();
        assert!(
            difference.is_none_or(|d| d.identical && d.mean == 0.0),
            "{row:?}"
        );
    }
    for row in &seen.targets {
        let differences = row.differences.iter().flatten();
        assert!(
            differences
                .clone()
                .all(|d| d.difference == 0.0 && d.only_first + d.only_second == 0)
        );
    }
    assert_eq!(seen.money[0].per_year, 0.0);
    assert_eq!(seen.winner, None);
    assert!(
        seen.answer.contains("the difference is nought") && seen.answer.contains("no clear winner"),
        "{}",
        seen.answer
    );
}

#[test]
fn both_meet_the_very_same_diners() {
    let two = [
        arrangement(DEFAULT_SCENARIO, "a", &[]),
        arrangement(
            DEFAULT_SCENARIO,
            "b",
            &["-crew.eli", "accumulator.return.tiers=8"],
        ),
    ];
    let rows = lunches(
        &[&two[0], &two[1]],
        1..=6,
        1,
        2,
        &|_| {},
        &AtomicBool::new(false),
    )
    .unwrap();
    assert_eq!(
        two[0].column("line.covers", &rows[0]),
        two[1].column("line.covers", &rows[1])
    );
    let alone = lunches(&[&two[1]], 3..=6, 1, 1, &|_| {}, &AtomicBool::new(false)).unwrap();
    assert_eq!(alone[0], rows[1][2..]);
}

#[test]
fn pairing_saves_variance_in_the_lunch_too() {
    let two = [
        arrangement(DEFAULT_SCENARIO, "a", &[]),
        arrangement(DEFAULT_SCENARIO, "b", &["scrapping.main.handling_s=4.2"]),
    ];
    let seen = compared(&two, 40);
    let backlog = seen
        .measures
        .iter()
        .find(|row| row.id == "line.covers_per_labour_h")
        .unwrap();
    let saved = backlog.differences[0].as_ref().unwrap().saved.unwrap();
    assert!(saved > 0.5, "{saved}");
}

#[test]
fn the_faster_of_two_that_hold_wins_by_its_cost_and_by_nothing_else() {
    let text = format!(
        "{QUEUE}{PRICED}{}",
        target("backlog.max_trays", "at_most = 60")
    );
    let three = [
        arrangement(&text, "twice the wage", &["money.wage_per_h=40"]),
        arrangement(&text, "as it is", &[]),
        arrangement(&text, "too slow", &["scrapping.server.handling_s=150"]),
    ];
    let seen = compared(&three, 100);
    assert_eq!(seen.winner.as_deref(), Some("as it is"), "{}", seen.answer);
    assert_eq!(seen.arrangements[2].verdict.as_deref(), Some("fails"));
    // 24 paid hours a meal at half the wage: 480 less, always.
    let saved = &seen.money[0];
    assert!(
        (saved.per_meal.mean + 480.0).abs() < 1e-9 && seen.answer.contains("480.00"),
        "{}",
        seen.answer
    );
    assert!((saved.per_year + 480.0 * seen.days_a_year).abs() < 1e-6);
}

#[test]
fn two_that_hold_and_cost_the_same_have_no_clear_winner() {
    let text = format!(
        "{QUEUE}{PRICED}{}",
        target("backlog.max_trays", "at_most = 60")
    );
    let two = [
        arrangement(&text, "a", &[]),
        arrangement(&text, "b", &["scrapping.server.handling_s=58"]),
    ];
    let seen = compared(&two, 100);
    assert_eq!(seen.winner, None);
    assert!(seen.answer.contains("no clear winner"), "{}", seen.answer);
    let unpriced = format!("{QUEUE}{}", target("backlog.max_trays", "at_most = 60"));
    let two = [
        arrangement(&unpriced, "a", &[]),
        arrangement(&unpriced, "b", &["scrapping.server.handling_s=58"]),
    ];
    let seen = compared(&two, 100);
    assert!(
        seen.money.is_empty() && seen.answer.contains("nothing has a price"),
        "{}",
        seen.answer
    );
}

#[test]
fn one_that_alone_holds_wins_and_its_lead_in_lunches_is_told() {
    let text = format!("{QUEUE}{}", target("backlog.max_trays", "at_most = 30"));
    let two = [
        arrangement(&text, "slow", &["scrapping.server.handling_s=120"]),
        arrangement(&text, "fast", &["scrapping.server.handling_s=30"]),
    ];
    let seen = compared(&two, 100);
    assert_eq!(seen.winner.as_deref(), Some("fast"), "{}", seen.answer);
    let difference = seen.targets[0].differences[0].as_ref().unwrap();
    assert!(
        difference.interval[0] > 0.5 && difference.only_first == 0,
        "{difference:?}"
    );
}

#[test]
fn what_is_paid_once_is_set_against_the_saving_of_a_year() {
    let text = format!("{QUEUE}{PRICED}");
    let two = [
        arrangement(&text, "now", &[]),
        arrangement(
            &text,
            "new",
            &[
                "money.wage_per_h=19",
                "money.investment=12000",
                "money.upkeep_per_year=500",
                "heading.days_a_year=200",
            ],
        ),
    ];
    let seen = compared(&two, 30);
    let money = &seen.money[0];
    // 24 h at 1 less each meal, over the days of the first scenario, less upkeep.
    let saving = 24.0 * seen.days_a_year - 500.0;
    assert!((money.per_year + saving).abs() < 1e-6, "{money:?}");
    assert_eq!(money.investment, Some(12000.0));
    let Some(Payback::Years { years, .. }) = money.payback else {
        panic!("{money:?}")
    };
    assert!((years - 12000.0 / saving).abs() < 1e-9);
}

#[test]
fn the_same_bytes_come_from_any_number_of_threads() {
    let make = || {
        let text = format!("{QUEUE}{}", target("backlog.max_trays", "at_most = 10"));
        [
            arrangement(&text, "a", &[]),
            arrangement(&text, "b", &["scrapping.server.handling_s=55"]),
        ]
    };
    let bytes = |threads| {
        let how = Compare {
            repeats: 90,
            seed: 3,
            threads,
            measures: Vec::new(),
        };
        serde_json::to_string(&compare(&make(), &how, &|_| {}, &AtomicBool::new(false)).unwrap())
            .unwrap()
    };
    let one = bytes(1);
    assert_eq!(one, bytes(2));
    assert_eq!(one, bytes(5));
}

#[test]
fn a_stopped_comparison_has_the_same_lunches_in_every_arrangement() {
    let two = [
        arrangement(QUEUE, "a", &[]),
        arrangement(QUEUE, "b", &["scrapping.server.handling_s=55"]),
    ];
    let stop = AtomicBool::new(false);
    let how = Compare {
        repeats: 500,
        seed: 1,
        threads: 2,
        measures: Vec::new(),
    };
    let seen = compare(
        &two,
        &how,
        &|done| stop.store(done >= 41, Ordering::SeqCst),
        &stop,
    )
    .unwrap();
    assert!(
        seen.repeats >= 20 && seen.repeats < 30 && seen.asked == 500,
        "{}",
        seen.repeats
    );
    assert!(
        seen.measures
            .iter()
            .all(|row| row.values.iter().all(|value| value.n <= seen.repeats))
    );
}

#[test]
fn one_lunch_gives_no_interval_and_no_winner() {
    let two = [
        arrangement(QUEUE, "a", &[]),
        arrangement(QUEUE, "b", &["scrapping.server.handling_s=55"]),
    ];
    let seen = compared(&two, 1);
    let differences = seen
        .measures
        .iter()
        .flat_map(|row| row.differences.iter().flatten());
    assert!(differences.clone().count() > 0 && differences.clone().all(|d| d.interval.is_none()));
    assert_eq!(seen.winner, None);
}

#[test]
fn what_cannot_be_compared_is_refused_in_words() {
    let how = |measures: &[&str]| Compare {
        repeats: 2,
        seed: 1,
        threads: 1,
        measures: measures.iter().map(|id| (*id).to_owned()).collect(),
    };
    let refused = |arrangements: &[Arrangement], measures: &[&str]| match compare(
        arrangements,
        &how(measures),
        &|_| {},
        &AtomicBool::new(false),
    ) {
        Err(Fault::Line(words)) => words,
        other => panic!("{other:?}"),
    };
    let one = || arrangement(QUEUE, "a", &[]);
    assert!(refused(&[], &[]).contains("nothing to compare"));
    assert!(refused(&[one()], &[]).contains("nothing to be compared with"));
    let words = refused(
        &[one(), arrangement(QUEUE, "b", &[])],
        &["backlog.max_tray"],
    );
    assert!(
        words.contains("the nearest is `backlog.max_trays`"),
        "{words}"
    );
}

fn until(
    text: &str,
    means: &[(&str, Precision)],
    targets: bool,
    most: u64,
) -> scullery_study::summary::Summary {
    let enough = Enough {
        means: means
            .iter()
            .map(|(id, precision)| ((*id).to_owned(), *precision))
            .collect(),
        targets,
        most,
        seed: 1,
        threads: 2,
    };
    let plan = arrangement(text, "a", &[]).plan;
    replicate_until(&plan, &enough, &|_, _| {}, &AtomicBool::new(false)).unwrap()
}

#[test]
fn a_mean_is_run_until_it_is_known_as_wanted_and_no_longer() {
    let id = "backlog.max_trays";
    let seen = until(QUEUE, &[(id, Precision::Within(1.0))], false, 10_000);
    let row = seen
        .measures
        .iter()
        .find(|measure| measure.id == id)
        .unwrap();
    let [low, high] = row.ci95.unwrap();
    assert!((high - low) / 2.0 <= 1.0, "{row:?}");
    // One look before, it was not known so well; the looks are a fifth apart.
    let before = (seen.repeats as f64 / 1.2).floor() as u64;
    let how = Replicate {
        repeats: before,
        seed: 1,
        threads: 2,
    };
    let plan = arrangement(QUEUE, "a", &[]).plan;
    let fewer = replicate(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let earlier = fewer
        .measures
        .iter()
        .find(|measure| measure.id == id)
        .unwrap()
        .ci95
        .unwrap();
    assert!(
        (earlier[1] - earlier[0]) / 2.0 > 1.0,
        "{} lunches, {earlier:?}",
        seen.repeats
    );
    assert!(
        seen.repeats > 30 && seen.asked == seen.repeats,
        "{}",
        seen.repeats
    );
    assert!(
        seen.enough.as_ref().unwrap().contains("were enough"),
        "{:?}",
        seen.enough
    );
    // The lunches are the very same as those of a study with that many fixed beforehand.
    assert_eq!(fewer.per_meal, seen.per_meal[..before as usize]);
}

#[test]
fn a_clear_target_is_known_early_and_one_on_its_bound_ends_at_the_cap() {
    let clear = format!("{QUEUE}{}", target("backlog.max_trays", "at_most = 200"));
    let seen = until(&clear, &[], true, 5000);
    assert_eq!(seen.targets[0].verdict, "holds");
    assert!(seen.repeats < 300, "{}", seen.repeats);
    // Half of all lunches have at most the middle one's greatest backlog: asked in 50 of 100, it can hardly be told.
    let how = Replicate {
        repeats: 400,
        seed: 9,
        threads: 2,
    };
    let plan = arrangement(QUEUE, "a", &[]).plan;
    let summary = replicate(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let middle = summary
        .measures
        .iter()
        .find(|m| m.id == "line.dropped_off_trays")
        .unwrap()
        .p50
        .unwrap();
    let on_the_bound = format!(
        "{QUEUE}{}",
        target(
            "line.dropped_off_trays",
            &format!("at_most = {middle}\nin_meals_of_100 = 52")
        )
    );
    let seen = until(&on_the_bound, &[], true, 100);
    assert_eq!(
        (seen.targets[0].verdict.as_str(), seen.repeats),
        ("not sure yet", 100)
    );
    let why = seen.enough.unwrap();
    assert!(
        why.contains("cap of 100") && why.contains("not sure yet"),
        "{why}"
    );
}

#[test]
fn a_measure_that_is_not_there_is_refused_with_the_nearest() {
    let enough = Enough {
        means: vec![("backlog.max_tray".to_owned(), Precision::Within(1.0))],
        targets: false,
        most: 50,
        seed: 1,
        threads: 1,
    };
    let plan = arrangement(QUEUE, "a", &[]).plan;
    let fault = replicate_until(&plan, &enough, &|_, _| {}, &AtomicBool::new(false)).unwrap_err();
    assert!(fault.to_string().contains("backlog.max_trays"), "{fault}");
}

#[test]
fn a_study_stopped_before_it_is_sure_says_so() {
    let stop = AtomicBool::new(false);
    let enough = Enough {
        means: vec![("backlog.max_trays".to_owned(), Precision::Within(0.001))],
        targets: false,
        most: 5000,
        seed: 1,
        threads: 2,
    };
    let plan = arrangement(QUEUE, "a", &[]).plan;
    let seen = replicate_until(
        &plan,
        &enough,
        &|done, _| stop.store(done >= 40, Ordering::SeqCst),
        &stop,
    )
    .unwrap();
    assert!(seen.repeats < 60 && seen.asked == 5000, "{}", seen.repeats);
    assert!(seen.enough.unwrap().contains("stopped early"));
}
