//! What the line costs to own, worked by hand.

use scullery_scenario::change::Change;
use scullery_scenario::{Document, Format, report_text};

use crate::checks::{EVEN, figure, near, report};
use crate::scenarios::plan_of;

const OWNED: &str = r#"
[[owned]]
of = "rack.glass"
price_each = 24
life_years = 5

[[owned]]
of = "ware.plate"
price_each = 3
life_years = 2
upkeep_per_year = 40

[[owned]]
of = "belt.soiled"
price = 9000
life_years = 12
upkeep_per_year = 150

[[owned]]
of = "machine.dish"
upkeep_per_year = 364
"#;

#[test]
fn a_year_is_price_over_life_and_upkeep_and_a_lunch_and_a_cover_their_parts() {
    let report = report(&format!("{EVEN}{OWNED}"));
    // 20 racks at 24 over 5 years.
    near(figure(&report, "owned.rack.glass.per_year"), 96.0);
    // 400 plates at 3 over 2 years, and 40.
    near(figure(&report, "owned.ware.plate.per_year"), 640.0);
    // 9000 over 12 years, and 150.
    near(figure(&report, "owned.belt.soiled.per_year"), 900.0);
    near(figure(&report, "owned.machine.dish.per_year"), 364.0);
    near(figure(&report, "owned.per_year"), 2000.0);
    // The days a year are not said, so their default is listed: 250. 2000 / 250, and that over 600 covers.
    let days = |used: &scullery_scenario::plan::DefaultUsed| used.key == "heading.days_a_year";
    assert!(report.defaults.iter().any(days));
    let told = report_text(&report);
    let told = told.split_whitespace().collect::<Vec<_>>().join(" ");
    for words in [
        "Owning the line costs 2000 a year as far as it has a price, 8 a lunch on 250 days, 0.0133 a cover of 600;",
        "Owned: glass racks (20 racks), bought for 480, lasts 5 years.",
        "Owned: plate ware (400 pieces), bought for 1200, lasts 2 years, and 40 of upkeep a year.",
        "Owned: machine dish, for 364 of upkeep a year.",
        "without interest",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
}

#[test]
fn nothing_is_said_of_owning_where_nothing_is_owned() {
    let report = report(EVEN);
    let told = report_text(&report);
    assert!(!told.contains("Own"), "{told}");
    assert!(
        !report
            .defaults
            .iter()
            .any(|used| used.key == "heading.days_a_year")
    );
}

#[test]
fn a_change_of_price_or_of_how_many_changes_what_it_costs_to_own() {
    let document = Document::of_text("even", format!("{EVEN}{OWNED}"), Format::Toml);
    let year = |change: &str| {
        let plan = document
            .changed(&[Change::parse(change).unwrap()])
            .unwrap_or_else(|why| panic!("{why}"));
        plan.owned.iter().map(|it| it.per_year()).sum::<f64>()
    };
    // 20 racks more at 24 over 5 years.
    near(year("rack.glass.count=40"), 2000.0 + 96.0);
    // 100 plates fewer at 3 over 2 years.
    near(year("ware.plate.par=300"), 2000.0 - 150.0);
    // 3000 more over 12 years.
    near(year("owned.3.price=12000"), 2000.0 + 250.0);
    near(year("owned.4.upkeep_per_year=0"), 2000.0 - 364.0);
    // A price of all of them instead of one for each: 600 over 5 years for 480.
    near(year("owned.1.price=600"), 2000.0 + 24.0);
    near(year("-owned.1"), 2000.0 - 96.0);
}

#[test]
fn the_sizes_of_the_university_and_what_it_owns_do_not_contradict() {
    let plan = plan_of("university.toml");
    let owned = plan
        .owned
        .iter()
        .find(|it| it.of == "accumulator.return")
        .unwrap();
    let size = plan
        .sizes
        .iter()
        .find(|it| it.words == "the tiers of the accumulator")
        .unwrap();
    let of_five = size.options.iter().find(|it| it.name == "5").unwrap();
    assert_eq!(owned.count, Some((5, "tier")));
    assert_eq!(
        (owned.price, owned.life_years),
        (of_five.price, size.life_years)
    );
    // 68,000 over 15 years, and 900.
    near(owned.per_year(), 68_000.0 / 15.0 + 900.0);
}
