//! `scullery fit`: what a stopwatch sheet says.

use std::collections::BTreeMap;
use std::path::Path;

use scullery_report::manifest::{Origin, sha256};
use scullery_report::studies::{Rating, Task, TimeSheet, sheet_data, sheet_files, sheet_page};
use scullery_scenario::sheet::{
    Cell, Decimal, Separator, Sheet, SheetReading, numbers, render_rows,
};
use scullery_study::stopwatch::standard::Convention;
use scullery_study::stopwatch::study_times;

use crate::arguments::{AllowanceOf, DecimalChoice, FitArguments, SeparatorChoice};
use crate::outcome::{Outcome, Stop};
use crate::study::{Place, tell_study};

/// Most tasks on one sheet.
const MOST_TASKS: usize = 50;

/// Headings of the column of readings that are looked for when none is named.
const USUAL: [&str; 4] = ["seconds", "time_s", "s", "reading"];

/// Fits the sheet the arguments name.
///
/// # Errors
/// When the sheet cannot be read, a row has a fault, or a task has too few readings.
pub(crate) fn fit(arguments: &FitArguments) -> Result<Outcome, Stop> {
    let options = arguments.options();
    let place = Place::claim(&options)?;
    let (sheet, bytes) = read(&arguments.file, &arguments.table)?;
    let name = sheet.name.clone();
    let wrong = |faults: &[_]| Stop::wrong(render_rows(&name, faults));
    let column = match &arguments.column {
        Some(heading) => sheet.column(heading).map_err(|fault| wrong(&[fault]))?,
        None => match sheet.first_column(&USUAL) {
            Some(at) => at,
            None if sheet.header.len() == 1 => 0,
            None => {
                let words = format!(
                    "{name}: no column is headed {}; the header is \"{}\"\n  = help: name it with --column",
                    USUAL.join(", "),
                    sheet.header.join("\", \"")
                );
                return Err(Stop::wrong(words));
            }
        },
    };
    let by = arguments
        .by
        .as_deref()
        .map(|heading| sheet.column(heading))
        .transpose();
    let by = by.map_err(|fault| wrong(&[fault]))?;
    let decimal = arguments.table.decimal.map(DecimalChoice::said);
    let (values, said) = numbers(&sheet, column, decimal).map_err(|faults| wrong(&faults))?;
    let mut notices = sheet.notices.clone();
    notices.extend(said);
    let blank = values.iter().filter(|value| value.is_none()).count();
    if blank > 0 {
        notices.push(format!(
            "{blank} rows of {name} have no reading and were passed over."
        ));
    }
    let mut readings: BTreeMap<String, Vec<f64>> = BTreeMap::new();
    for (row, value) in sheet.rows.iter().zip(values) {
        let task = by.map_or(Cell::Empty, |at| row.cell(at).clone()).shown();
        if let Some(value) = value {
            readings.entry(task).or_default().push(value);
        }
    }
    if readings.len() > MOST_TASKS {
        let words = format!(
            "{name}: the sheet has {} tasks, more than {MOST_TASKS}",
            readings.len()
        );
        return Err(Stop::wrong(words));
    }
    if readings.is_empty() {
        return Err(Stop::wrong(format!("{name}: the sheet has no readings")));
    }
    let mut tasks = Vec::new();
    let mut refused = Vec::new();
    for (task, values) in readings {
        match study_times(&values) {
            Ok(study) => tasks.push(Task { name: task, study }),
            Err(why) if task.is_empty() => refused.push(format!("{name}: error: {why}")),
            Err(why) => refused.push(format!("{name}: error: {task}: {why}")),
        }
    }
    if !refused.is_empty() {
        return Err(Stop::wrong(refused.join("\n")));
    }
    let out = TimeSheet {
        name: name.clone(),
        notices,
        tasks,
        rating: rating(arguments)?,
    };
    let origin = Origin {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        name: name.clone(),
        scenario: name.clone(),
        hash: sha256(&bytes),
        ..Origin::default()
    };
    let page = sheet_page(&out)?;
    tell_study(
        &sheet_data(&out),
        &page,
        || sheet_files(&out, &origin),
        place,
        &options,
    )?;
    Ok(Outcome::Done)
}

/// Rating and allowance, where either was said.
fn rating(arguments: &FitArguments) -> Result<Option<Rating>, Stop> {
    let asked = arguments.rating.is_some() || arguments.allowance.is_some();
    if !asked {
        return Ok(None);
    }
    let rating = arguments.rating.unwrap_or(1.0);
    let allowance = arguments.allowance.unwrap_or(0.0);
    if !(0.3..=2.0).contains(&rating) {
        return Err(Stop::wrong(format!(
            "--rating must lie between 0.3 and 2, found {rating}; normal pace is 1"
        )));
    }
    if !(0.0..0.9).contains(&allowance) {
        return Err(Stop::wrong(format!(
            "--allowance must be a share from 0 to below 0.9, found {allowance}"
        )));
    }
    let convention = match arguments.allowance_of {
        AllowanceOf::Basic => Convention::ShareOfBasic,
        AllowanceOf::Shift => Convention::ShareOfShift,
    };
    Ok(Some(Rating {
        rating,
        allowance,
        convention,
    }))
}

/// Reads a table from disk as the arguments say.
///
/// # Errors
/// When it cannot be read as a table.
pub(crate) fn read(
    path: &Path,
    how: &crate::arguments::TableArguments,
) -> Result<(Sheet, Vec<u8>), Stop> {
    let name = path.display().to_string();
    let about = std::fs::metadata(path)
        .map_err(|why| Stop::wrong(format!("{name} cannot be read: {why}")))?;
    if !about.is_file() || about.len() > scullery_scenario::sheet::LARGEST_BYTES as u64 {
        return Err(Stop::wrong(format!(
            "{name} cannot be read: it is not a file of at most {} bytes",
            scullery_scenario::sheet::LARGEST_BYTES
        )));
    }
    let bytes =
        std::fs::read(path).map_err(|why| Stop::wrong(format!("{name} cannot be read: {why}")))?;
    let reading = SheetReading {
        separator: how.separator.map(|choice| match choice {
            SeparatorChoice::Comma => Separator::Comma,
            SeparatorChoice::Semicolon => Separator::Semicolon,
            SeparatorChoice::Tab => Separator::Tab,
        }),
        tab: how.tab.clone(),
    };
    let sheet = Sheet::read(&name, &bytes, &reading)
        .map_err(|faults| Stop::wrong(render_rows(&name, &faults)))?;
    Ok((sheet, bytes))
}

impl DecimalChoice {
    /// As the reader of numbers calls it.
    pub(crate) fn said(self) -> Decimal {
        match self {
            DecimalChoice::Comma => Decimal::Comma,
            DecimalChoice::Point => Decimal::Point,
        }
    }
}
