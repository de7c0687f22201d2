//! The data files: the whole summary as JSON, the lunches and the minutes as CSV.

use scullery_study::summary::{Band, Summary};

use crate::clock::clock_text;
use crate::error::Fault;
use crate::number::DASH;

fn failed(file: &'static str) -> impl Fn(String) -> Fault {
    move |why| Fault::Data(format!("{file}: {why}"))
}

/// The summary as JSON with a line feed at its end: answer, repeats, seed, balance and measures come first.
///
/// # Errors
/// When it cannot be written as JSON.
pub fn summary_json(summary: &Summary) -> Result<String, Fault> {
    let mut text = serde_json::to_string_pretty(summary)
        .map_err(|why| failed("summary.json")(why.to_string()))?;
    text.push('\n');
    Ok(text)
}

/// One row a simulated lunch, one column a measure; a dash where a lunch has no value.
///
/// # Errors
/// When a row has not as many values as there are columns.
pub fn per_meal_csv(summary: &Summary) -> Result<Vec<u8>, Fault> {
    let rows = summary
        .per_meal
        .iter()
        .map(|row| row.iter().map(|value| plain(*value)).collect());
    table("per-meal.csv", &summary.per_meal_columns, rows)
}

/// One row a minute: the clock time, the minute since midnight, then four columns for each place and each running
/// count (mean; 5th, 50th and 95th of 100 lunches). Which value of the minute each stands for is said in the page. The
/// unit is that of the place; what is weighed says in its head that it is grams.
///
/// # Errors
/// When it cannot be written.
pub fn per_minute_csv(summary: &Summary) -> Result<Vec<u8>, Fault> {
    let bands: Vec<&Band> = summary.cumulative.iter().chain(&summary.bands).collect();
    let mut head = vec!["clock".to_owned(), "minute".to_owned()];
    for band in &bands {
        let unit = match band.unit.as_str() {
            "grams" => "_grams",
            _ => "",
        };
        head.extend(["mean", "p05", "p50", "p95"].map(|part| format!("{}.{part}{unit}", band.id)));
    }
    let rows = (0..summary.clock.minutes).map(|at| {
        let minute = summary.clock.from_min + at;
        let mut row = vec![clock_text(f64::from(minute)), minute.to_string()];
        for band in &bands {
            let of = |values: &[f64]| plain(values.get(at as usize).copied());
            row.extend([of(&band.mean), of(&band.p05), of(&band.p50), of(&band.p95)]);
        }
        row
    });
    table("per-minute.csv", &head, rows)
}

/// A table as it stands in a page.
///
/// # Errors
/// When a row has not as many texts as there are columns.
pub fn table_csv(table: &crate::table::Table) -> Result<Vec<u8>, Fault> {
    self::table("a table", &table.head, table.rows.iter().cloned())
}

/// A value as few digits as name it exactly; a dash where there is none.
pub(crate) fn plain(value: Option<f64>) -> String {
    value
        .filter(|v| v.is_finite())
        .map_or_else(|| DASH.to_owned(), |v| v.to_string())
}

pub(crate) fn table(
    file: &'static str,
    head: &[String],
    rows: impl Iterator<Item = Vec<String>>,
) -> Result<Vec<u8>, Fault> {
    let bad = failed(file);
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(head).map_err(|why| bad(why.to_string()))?;
    for row in rows {
        out.write_record(&row).map_err(|why| bad(why.to_string()))?;
    }
    out.into_inner().map_err(|why| bad(why.to_string()))
}
