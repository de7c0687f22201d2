//! Tables of what the line costs to own, beside what it costs to run.

use scullery_study::owning::{Costs, OwnedPart, Terms};
use scullery_study::summary::Summary;

use super::Table;
use crate::number::{DASH, fixed, money};

/// Running, owning, and both: a lunch, a cover and a year. `None` where nothing is owned at a price.
pub fn owning(summary: &Summary) -> Option<Table> {
    let of = summary.owning.as_ref()?;
    let caption = format!(
        "Running and owning the line{}, a year of {} days",
        sign(summary, " in "),
        fixed_as_said(of.days_a_year)
    );
    let mut table = Table::new(caption, &["Cost", "A lunch", "A cover", "A year"]);
    let rows = [
        ("Running, all that has a price", of.running.as_ref()),
        (
            "Owning the line (price over its life, upkeep)",
            Some(&of.owning),
        ),
        ("With owning", of.with_owning.as_ref()),
    ];
    for (name, costs) in rows {
        let mut row = vec![name.to_owned()];
        row.extend(cells(costs));
        table.rows.push(row);
    }
    Some(table)
}

/// Each thing that is owned: price, life and upkeep, and what it costs a year, a lunch and a cover; the last row is their
/// sum. `None` where nothing is owned at a price.
pub fn owned(summary: &Summary) -> Option<Table> {
    let of = summary.owning.as_ref()?;
    let mut table = Table::new(
        format!("What owning it costs{}", sign(summary, ", in ")),
        &[
            "What is owned",
            "Price",
            "Life (years)",
            "Upkeep a year",
            "A lunch",
            "A cover",
            "A year",
        ],
    );
    let row = |name: &str, terms: &Terms, costs: &Costs| {
        let mut row = vec![name.to_owned()];
        row.extend(terms_texts(Some(terms)));
        row.extend(cells(Some(costs)));
        row
    };
    table.rows = of
        .parts
        .iter()
        .map(|it: &OwnedPart| row(&it.name, &it.terms, &it.costs))
        .collect();
    let sum = |of_part: fn(&Terms) -> f64| of.parts.iter().map(|it| of_part(&it.terms)).sum();
    let all = Terms {
        price: Some(sum(|terms| terms.price.unwrap_or(0.0))),
        life_years: None,
        upkeep_per_year: sum(|terms| terms.upkeep_per_year),
    };
    table.rows.push(row("All", &all, &of.owning));
    Some(table)
}

/// Price, life in years and upkeep a year as texts; dashes where nothing is said.
pub(crate) fn terms_texts(terms: Option<&Terms>) -> [String; 3] {
    let said = |value: Option<f64>, text: fn(f64) -> String| value.map_or(DASH.to_owned(), text);
    [
        said(terms.and_then(|terms| terms.price), whole),
        said(terms.and_then(|terms| terms.life_years), fixed_as_said),
        said(terms.map(|terms| terms.upkeep_per_year), whole),
    ]
}

/// A sum of money as it is told of a year: two digits after the point only where there are cents.
fn whole(value: f64) -> String {
    fixed(value, if value.fract().abs() < 0.005 { 0 } else { 2 })
}

/// A number with as many digits as it was said with.
fn fixed_as_said(value: f64) -> String {
    value.to_string()
}

fn cells(costs: Option<&Costs>) -> [String; 3] {
    [
        money(costs.map(|costs| costs.per_meal)),
        a_cover(costs.and_then(|costs| costs.per_cover)),
        costs.map_or(DASH.to_owned(), |costs| fixed(costs.per_year, 0)),
    ]
}

/// Money a cover: a part of a cent may count.
fn a_cover(value: Option<f64>) -> String {
    value.map_or(DASH.to_owned(), |value| {
        fixed(value, if value.abs() < 10.0 { 4 } else { 2 })
    })
}

/// The user's sign behind a word; nothing where there is none.
fn sign(summary: &Summary, before: &str) -> String {
    match summary.heading.currency.as_str() {
        "" => String::new(),
        sign => format!("{before}{sign}"),
    }
}
