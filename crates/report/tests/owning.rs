//! What the line costs to own, as it is shown.

use scullery_report::page;
use scullery_report::sheet::{element_schedule, element_table};
use scullery_report::table::{owned, owning};
use scullery_report::terminal::{Signs, terminal};
use scullery_study::owning::{Costs, OwnedPart, Owning, Terms};
use scullery_study::summary::Summary;

use crate::fixture::hall;

/// A belt and racks: 9000 over 12 years and 150; 480 over 5 years. 996 on 200 days are 4.98 a lunch; of 1,245 covers
/// each bears 0.004. Running 400 a lunch.
fn with_owning() -> Summary {
    let costs = |per_meal: f64| Costs {
        per_meal,
        per_cover: Some(per_meal / 1245.0),
        per_year: per_meal * 200.0,
    };
    let belt = Terms {
        price: Some(9000.0),
        life_years: Some(12.0),
        upkeep_per_year: 150.0,
    };
    let racks = Terms {
        price: Some(480.0),
        life_years: Some(5.0),
        upkeep_per_year: 0.0,
    };
    let part = |id: &str, name: &str, terms: Terms, per_meal: f64| OwnedPart {
        id: id.into(),
        name: name.into(),
        terms,
        costs: costs(per_meal),
    };
    let mut summary = hall();
    summary.owning = Some(Owning {
        days_a_year: 200.0,
        parts: vec![
            part("belt.soiled", "belt soiled", belt, 4.5),
            part("rack.glass", "glass racks", racks, 0.48),
        ],
        owning: costs(4.98),
        running: Some(costs(400.0)),
        with_owning: Some(costs(404.98)),
    });
    summary.planned.elements[0].owned = Some(belt);
    summary
}

#[test]
fn running_and_owning_stand_apart_and_are_added_below() {
    let summary = with_owning();
    let rows = owning(&summary).unwrap().rows;
    assert_eq!(rows[0][1..], ["400.00", "0.3213", "80,000"]);
    assert_eq!(
        rows[1],
        [
            "Owning the line (price over its life, upkeep)",
            "4.98",
            "0.0040",
            "996"
        ]
    );
    assert_eq!(rows[2], ["With owning", "404.98", "0.3253", "80,996"]);
    let rows = owned(&summary).unwrap().rows;
    assert_eq!(
        rows[0],
        ["belt soiled", "9000", "12", "150", "4.50", "0.0036", "900"]
    );
    assert_eq!(
        rows[1],
        ["glass racks", "480", "5", "0", "0.48", "0.0004", "96"]
    );
    assert_eq!(
        rows[2],
        ["All", "9480", "-", "150", "4.98", "0.0040", "996"]
    );
}

#[test]
fn page_and_terminal_tell_it_and_say_nothing_where_nothing_is_owned() {
    let summary = with_owning();
    let html = page(&summary).unwrap();
    assert!(html.contains("Running and owning the line</h3>") && html.contains("80,996"));
    for width in [40, 80, 120] {
        let text = terminal(&summary, width, Signs::Ascii);
        assert!(
            text.contains("With owning") && text.contains("404.98"),
            "{text}"
        );
        assert!(
            text.lines().all(|line| line.chars().count() <= width),
            "{text}"
        );
    }
    let without = hall();
    assert!(owning(&without).is_none() && owned(&without).is_none());
    assert!(!page(&without).unwrap().contains("owning"));
    assert!(!terminal(&without, 80, Signs::Ascii).contains("owning"));
}

#[test]
fn the_schedule_has_price_life_and_upkeep_only_where_they_are_said() {
    let summary = with_owning();
    let table = element_table(&summary).unwrap();
    let at = table
        .head
        .iter()
        .position(|head| head == "Life (years)")
        .unwrap();
    assert_eq!(table.rows[0][at - 1..], ["9000", "12", "150"]);
    assert_eq!(table.rows[1][at - 1..], ["-", "-", "-"]);
    assert!(element_schedule(&summary).unwrap().contains("Life (years)"));
    let without = element_table(&hall()).unwrap();
    assert_eq!(without.head.len() + 3, table.head.len());
}
