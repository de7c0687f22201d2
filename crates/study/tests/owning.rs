//! What the line costs to own, worked by hand: in the summary of a lunch, in the schedule, and between arrangements.

use std::sync::atomic::AtomicBool;

use scullery_study::compare::{Compare, Comparison, compare};
use scullery_study::money_difference::{MoneyDifference, Payback};
use scullery_study::owning::Costs;
use scullery_study::replicate::{Replicate, replicate};

use crate::plans::{QUEUE, arrangement, one_meal, read, value};

/// 24 paid hours at 20: a lunch costs 480 to run, always. The days of a year are not said: 250.
const OWNED: &str = r#"
[[rack]]
name = "peg"
count = 10

[money]
wage_per_h = 20

[[owned]]
of = "table.queue"
price = 6000
life_years = 12
upkeep_per_year = 250

[[owned]]
of = "scrapping.server"
price = 9100
life_years = 10
upkeep_per_year = 42

[[owned]]
of = "rack.peg"
price_each = 24
life_years = 5
"#;

fn owned() -> String {
    format!("{QUEUE}{OWNED}")
}

fn near(seen: f64, by_hand: f64) {
    assert!(
        (seen - by_hand).abs() < 1e-9 * by_hand.abs().max(1.0),
        "seen {seen}, by hand {by_hand}"
    );
}

fn are(costs: &Costs, per_meal: f64, covers: f64, per_year: f64) {
    near(costs.per_meal, per_meal);
    near(costs.per_cover.unwrap(), per_meal / covers);
    near(costs.per_year, per_year);
}

#[test]
fn a_lunch_bears_its_part_of_a_year_and_a_cover_its_part_of_a_lunch() {
    let seen = one_meal(&read(&owned()));
    let covers = value(&seen, "line.covers").unwrap();
    let owning = seen.owning.as_ref().unwrap();
    near(owning.days_a_year, 250.0);
    // 6000 / 12 + 250; 9100 / 10 + 42; ten racks at 24 over 5 years: 750 + 952 + 48 = 1750 a year, 7 a lunch.
    are(&owning.parts[0].costs, 3.0, covers, 750.0);
    are(&owning.parts[1].costs, 3.808, covers, 952.0);
    are(&owning.parts[2].costs, 0.192, covers, 48.0);
    are(&owning.owning, 7.0, covers, 1750.0);
    are(owning.running.as_ref().unwrap(), 480.0, covers, 120_000.0);
    are(
        owning.with_owning.as_ref().unwrap(),
        487.0,
        covers,
        121_750.0,
    );
}

#[test]
fn it_is_the_same_in_every_lunch_and_in_no_running_cost() {
    let how = Replicate {
        repeats: 5,
        seed: 1,
        threads: 1,
    };
    let plan = read(&owned());
    let seen = replicate(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let column = |id: &str| {
        let at = seen.per_meal_columns.iter().position(|name| name == id);
        let at = at.unwrap_or_else(|| panic!("{id}"));
        let values = seen.per_meal.iter().map(|row| row[at].unwrap());
        values.collect::<Vec<f64>>()
    };
    let (covers, running) = (column("line.covers"), column("line.cost"));
    let (with, apiece) = (
        column("line.cost_with_owning"),
        column("line.owning_cost_per_cover"),
    );
    assert!(covers.iter().any(|other| *other != covers[0]), "{covers:?}");
    assert_eq!(covers.len(), 5);
    for (running, with) in running.iter().zip(with) {
        near(*running, 480.0);
        near(with, 487.0);
    }
    for (apiece, covers) in apiece.iter().zip(covers) {
        near(*apiece, 7.0 / covers);
    }
    let without = one_meal(&read(QUEUE));
    assert_eq!(without.owning, None);
    assert_eq!(value(&without, "line.cost_with_owning"), None);
}

#[test]
fn the_schedule_of_elements_says_price_life_and_upkeep() {
    let elements = one_meal(&read(&owned())).planned.elements;
    let of = |id: &str| elements.iter().find(|it| it.id == id).unwrap();
    let queue = of("table.queue").owned.unwrap();
    assert_eq!(
        (queue.price, queue.life_years, queue.upkeep_per_year),
        (Some(6000.0), Some(12.0), 250.0)
    );
    assert_eq!(of("drop_off.door").owned, None);
    // Racks are no element of the line; they come after those.
    let last = elements.last().unwrap();
    assert_eq!(
        (last.id.as_str(), last.kind.as_str()),
        ("rack.peg", "10 racks")
    );
    assert_eq!(last.owned.unwrap().price, Some(240.0));
}

fn compared(changes: &[&str]) -> Comparison {
    let text = owned();
    let two = [
        arrangement(&text, "now", &[]),
        arrangement(&text, "new", changes),
    ];
    let how = Compare {
        repeats: 5,
        seed: 1,
        threads: 1,
        measures: Vec::new(),
    };
    compare(&two, &how, &|_| {}, &AtomicBool::new(false)).unwrap()
}

/// Running, owning, both, what is paid once, and the years until it is back.
fn told(money: &MoneyDifference) -> [Option<f64>; 5] {
    let owning = money.owning.unwrap();
    let years = match money.payback {
        Some(Payback::Years { years, .. }) => Some(years),
        _ => None,
    };
    [
        Some(money.per_year),
        Some(owning.per_year()),
        Some(owning.with_running_per_year),
        money.investment,
        years,
    ]
}

fn tells(changes: &[&str], by_hand: [Option<f64>; 5]) {
    let seen = told(&compared(changes).money[0]);
    for (seen, by_hand) in seen.iter().zip(by_hand) {
        match (seen, by_hand) {
            (Some(seen), Some(by_hand)) => near(*seen, by_hand),
            (seen, by_hand) => assert_eq!(*seen, by_hand, "{changes:?}"),
        }
    }
}

#[test]
fn a_dearer_table_alone_saves_nothing_and_is_not_the_same() {
    let seen = compared(&["owned.1.price=9000"]);
    // 3000 over 12 years.
    assert_eq!(
        told(&seen.money[0]),
        [Some(0.0), Some(250.0), Some(250.0), Some(3000.0), None]
    );
    assert_eq!(seen.money[0].payback, Some(Payback::Never));
    assert!(!seen.arrangements[1].same_as_first);
    assert!(
        seen.answer
            .contains("against \"now\", \"new\" 250 a year more"),
        "{}",
        seen.answer
    );
}

#[test]
fn racks_bought_besides_cost_their_price_and_its_part_of_a_year() {
    // Ten more at 24: 240, over 5 years; they save nothing here.
    tells(
        &["rack.peg.count=20"],
        [Some(0.0), Some(48.0), Some(48.0), Some(240.0), None],
    );
}

#[test]
fn what_a_dearer_table_saves_pays_it_back_and_its_life_is_not_paid_twice() {
    // An hour at 19: 24 less on 250 days. 3000 more, of which 250 a year; paid back out of the 6000.
    tells(
        &["money.wage_per_h=19", "owned.1.price=9000"],
        [
            Some(-6000.0),
            Some(250.0),
            Some(-5750.0),
            Some(3000.0),
            Some(0.5),
        ],
    );
    // And 1000 more of upkeep: it goes off the saving.
    tells(
        &[
            "money.wage_per_h=19",
            "owned.1.price=9000",
            "owned.1.upkeep_per_year=1250",
        ],
        [
            Some(-6000.0),
            Some(1250.0),
            Some(-4750.0),
            Some(3000.0),
            Some(0.6),
        ],
    );
}

#[test]
fn what_an_arrangement_states_itself_is_not_paid_once_more_by_the_list() {
    // 4000 to be paid, and the 1000 of upkeep, are stated: the yearly sums are those of before, and paid back are 4000.
    tells(
        &[
            "money.wage_per_h=19",
            "owned.1.price=9000",
            "owned.1.upkeep_per_year=1250",
            "money.investment=4000",
            "money.upkeep_per_year=1000",
        ],
        [
            Some(-5000.0),
            Some(250.0),
            Some(-4750.0),
            Some(4000.0),
            Some(0.8),
        ],
    );
}

#[test]
fn what_is_not_owned_in_the_first_is_bought() {
    // 3 lots out of the list: 750 + 952 + 48 a year less, 6000 + 9100 + 240 less to be paid.
    tells(
        &["-owned.1", "-owned.1", "-owned.1"],
        [
            Some(0.0),
            Some(-1750.0),
            Some(-1750.0),
            Some(-15_340.0),
            None,
        ],
    );
}
