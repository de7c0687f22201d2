//! The report as a workbook: the tables, the minutes with charts of their own, the assumptions.
//!
//! Same summary, same bytes: the workbook carries a fixed date instead of the day it was written.

use rust_xlsxwriter::{
    Chart, ChartType, Color, DocProperties, ExcelDateTime, Format, FormatAlign, Workbook,
    Worksheet, XlsxError,
};
use scullery_study::summary::{Band, Measure, Summary};

use crate::error::Fault;
use crate::lettering::printable;
use crate::number::Units;
use crate::report::Report;
use crate::sheet::element_table;
use crate::table::{self, Table, definition};

/// Name of the file.
pub const WORKBOOK: &str = "report.xlsx";
/// Cells of the sheet of single lunches at most; later lunches are in `per-meal.csv` only.
const MOST_CELLS: usize = 200_000;
/// Letters of one cell at most; the format allows 32,767.
const MOST_LETTERS: usize = 30_000;

/// Formats used throughout.
struct Looks {
    title: Format,
    head: Format,
    words: Format,
}

impl Looks {
    fn new() -> Looks {
        Looks {
            title: Format::new().set_bold().set_font_size(14),
            head: Format::new()
                .set_bold()
                .set_text_wrap()
                .set_font_color(Color::White)
                .set_background_color(Color::RGB(0x0D_3B46))
                .set_align(FormatAlign::Top),
            words: Format::new().set_text_wrap().set_align(FormatAlign::Top),
        }
    }
}

/// The workbook as the bytes of a file.
///
/// # Errors
/// When the workbook cannot be written.
pub fn workbook(report: &Report<'_>) -> Result<Vec<u8>, Fault> {
    build(report).map_err(|why| Fault::Data(format!("{WORKBOOK}: {why}")))
}

fn build(report: &Report<'_>) -> Result<Vec<u8>, XlsxError> {
    let summary = report.summary;
    let units = Units::named(&summary.heading.units);
    let looks = Looks::new();
    let mut book = Workbook::new();
    let written = ExcelDateTime::from_ymd(2000, 1, 1)?;
    book.set_properties(
        &DocProperties::new()
            .set_title(printable(&summary.heading.name))
            .set_comment("Made by scullery. The date of this file is fixed; it says nothing.")
            .set_creation_datetime(&written),
    );
    answer(book.add_worksheet(), summary, &looks)?;
    texts(
        book.add_worksheet(),
        "Targets",
        &table::targets(summary),
        &looks,
    )?;
    measures(book.add_worksheet(), summary, units, &looks)?;
    minutes(book.add_worksheet(), summary, units, &looks)?;
    texts(
        book.add_worksheet(),
        "Resources",
        &table::resources(summary, units),
        &looks,
    )?;
    for (name, table) in [
        ("Running and owning", table::owning(summary)),
        ("Owned", table::owned(summary)),
    ] {
        if let Some(table) = table {
            texts(book.add_worksheet(), name, &table, &looks)?;
        }
    }
    texts(
        book.add_worksheet(),
        "Held up",
        &table::held_up(summary),
        &looks,
    )?;
    texts(
        book.add_worksheet(),
        "Roster",
        &crate::figure::roster::roster_table(&summary.planned.crew),
        &looks,
    )?;
    if let Some(elements) = element_table(summary) {
        texts(book.add_worksheet(), "Elements", &elements, &looks)?;
    }
    lunches(book.add_worksheet(), summary, &looks)?;
    for (number, chapter) in report.chapters.iter().enumerate() {
        let figures = chapter.figures.iter().flat_map(|figure| &figure.tables);
        let tables = chapter.tables.iter().map(|(table, _)| table);
        for (at, table) in figures.chain(tables).enumerate() {
            let name = format!("Chapter {}.{}", number + 1, at + 1);
            texts(book.add_worksheet(), &name, table, &looks)?;
        }
    }
    assumptions(book.add_worksheet(), summary, &looks)?;
    book.save_to_buffer()
}

/// A text as a cell may hold it: no control characters, not endless. It is written as text, never as a formula.
fn cell(text: &str) -> String {
    printable(text).chars().take(MOST_LETTERS).collect()
}

fn answer(sheet: &mut Worksheet, summary: &Summary, looks: &Looks) -> Result<(), XlsxError> {
    sheet.set_name("Answer")?;
    sheet.set_column_width(0, 110)?;
    let heading = &summary.heading;
    let lines = [
        (&heading.name, &looks.title),
        (&heading.note, &looks.words),
        (&summary.answer, &looks.title),
    ];
    let mut row = 0;
    for (line, look) in lines {
        let wrapped = look.clone().set_text_wrap();
        sheet.write_string_with_format(row, 0, cell(line), &wrapped)?;
        row += 1;
    }
    let more = [
        format!("Which day: {}.", heading.day_words.trim_end_matches('.')),
        crate::terminal::simulated(summary),
        format!(
            "Scenario {}, SHA-256 {}, scullery {}.",
            summary.source.scenario, summary.source.hash, summary.source.version
        ),
    ];
    for line in more.iter().chain(&summary.endings.sentences) {
        sheet.write_string_with_format(row, 0, cell(line), &looks.words)?;
        row += 1;
    }
    Ok(())
}

/// A table of texts; what is a plain number is written as one.
fn texts(sheet: &mut Worksheet, name: &str, table: &Table, looks: &Looks) -> Result<(), XlsxError> {
    sheet.set_name(name)?;
    sheet.write_string(0, 0, cell(&table.caption))?;
    for (column, head) in (0..).zip(&table.head) {
        sheet.write_string_with_format(1, column, cell(head), &looks.head)?;
        let widest = table
            .rows
            .iter()
            .filter_map(|row| row.get(usize::from(column)));
        let widest = widest.map(|text| text.chars().count()).max().unwrap_or(0);
        sheet.set_column_width(column, (widest + 2).clamp(12, 60) as f64)?;
    }
    for (row, texts) in (2..).zip(&table.rows) {
        for (column, text) in (0..).zip(texts) {
            match number(text) {
                Some(value) => sheet.write_number(row, column, value)?,
                None => sheet.write_string_with_format(row, column, cell(text), &looks.words)?,
            };
        }
    }
    sheet.set_freeze_panes(2, 1)?;
    Ok(())
}

/// The value of a text that is nothing but a number as this program writes numbers.
fn number(text: &str) -> Option<f64> {
    let plain = text.replace(',', "");
    let digits = plain.strip_prefix('-').unwrap_or(&plain);
    let fits = !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit() || c == '.');
    fits.then(|| plain.parse().ok()).flatten()
}

/// A value as the sheet holds it, and how it is shown: shares as per cent, clock times as times of day.
fn shown(value: f64, unit: &str, units: Units) -> (f64, &'static str) {
    match unit {
        "share" => (value, "0.0%"),
        "clock_min" => (value / 1440.0, "hh:mm"),
        "money" => (value, "0.00"),
        unit => (units.shown(value, unit), "0.00"),
    }
}

fn measures(
    sheet: &mut Worksheet,
    summary: &Summary,
    units: Units,
    looks: &Looks,
) -> Result<(), XlsxError> {
    sheet.set_name("Measures")?;
    let head = [
        "Measure",
        "Unit",
        "Mean",
        "Mean not below (95 % sure)",
        "Mean not above (95 % sure)",
        "5 of 100 lunches below",
        "Middle lunch",
        "5 of 100 lunches above",
        "Lunches",
        "What it is in one lunch",
        "Id",
    ];
    for (column, text) in (0..).zip(head) {
        sheet.write_string_with_format(0, column, text, &looks.head)?;
        sheet.set_column_width(column, if matches!(column, 0 | 9) { 58 } else { 14 })?;
    }
    for (row, measure) in (1..).zip(&summary.measures) {
        let unit = match measure.unit.as_str() {
            "money" => summary.heading.currency.as_str(),
            unit => units.unit_words(unit),
        };
        sheet.write_string(row, 0, cell(&measure.label))?;
        sheet.write_string(row, 1, cell(unit))?;
        values(sheet, row, measure, units)?;
        sheet.write_number(row, 8, measure.n as f64)?;
        sheet.write_string_with_format(row, 9, definition(measure), &looks.words)?;
        sheet.write_string(row, 10, cell(&measure.id))?;
    }
    sheet.set_freeze_panes(1, 1)?;
    Ok(())
}

fn values(
    sheet: &mut Worksheet,
    row: u32,
    measure: &Measure,
    units: Units,
) -> Result<(), XlsxError> {
    let ends = measure
        .ci95
        .map_or([None, None], |[low, high]| [Some(low), Some(high)]);
    let values = [
        measure.mean,
        ends[0],
        ends[1],
        measure.p05,
        measure.p50,
        measure.p95,
    ];
    for (column, value) in (2..).zip(values) {
        match value.filter(|v| v.is_finite()) {
            Some(value) => {
                let (value, look) = shown(value, &measure.unit, units);
                let look = Format::new().set_num_format(look);
                sheet.write_number_with_format(row, column, value, &look)?;
            }
            None => {
                sheet.write_string(row, column, "-")?;
            }
        }
    }
    Ok(())
}

/// The minutes, with a chart of the running counts, of the people standing and of the backlog beside them.
fn minutes(
    sheet: &mut Worksheet,
    summary: &Summary,
    units: Units,
    looks: &Looks,
) -> Result<(), XlsxError> {
    const NAME: &str = "Minutes";
    sheet.set_name(NAME)?;
    let clock = Format::new().set_num_format("hh:mm");
    sheet.write_string_with_format(0, 0, "Clock", &looks.head)?;
    let bands: Vec<&Band> = summary.cumulative.iter().chain(&summary.bands).collect();
    let parts = ["mean", "5th of 100", "middle lunch", "95th of 100"];
    for (number, band) in bands.iter().enumerate() {
        for (part, words) in parts.iter().enumerate() {
            let head = format!("{} ({}), {words}", band.title, units.unit_words(&band.unit));
            let column = (1 + number * 4 + part) as u16;
            sheet.write_string_with_format(0, column, cell(&head), &looks.head)?;
        }
    }
    let last = summary.clock.minutes;
    for at in 0..last {
        let minute = f64::from(summary.clock.from_min + at);
        sheet.write_number_with_format(at + 1, 0, minute / 1440.0, &clock)?;
        for (number, band) in bands.iter().enumerate() {
            let lines = [&band.mean, &band.p05, &band.p50, &band.p95];
            for (part, line) in lines.into_iter().enumerate() {
                if let Some(value) = line.get(at as usize).filter(|v| v.is_finite()) {
                    let value = units.shown(*value, &band.unit);
                    sheet.write_number(at + 1, (1 + number * 4 + part) as u16, value)?;
                }
            }
        }
    }
    sheet.set_freeze_panes(1, 1)?;
    let mut place = 2;
    let mut draw = |title: &str, roles: &[&str], parts: &[usize]| -> Result<(), XlsxError> {
        let mut chart = Chart::new(ChartType::Line);
        let mut drawn = false;
        for (number, band) in bands.iter().enumerate() {
            if !roles.contains(&band.role.as_str()) || last == 0 {
                continue;
            }
            for part in parts {
                let column = (1 + number * 4 + part) as u16;
                drawn = true;
                chart
                    .add_series()
                    .set_name((NAME, 0, column))
                    .set_categories((NAME, 1, 0, last, 0))
                    .set_values((NAME, 1, column, last, column));
            }
        }
        if drawn {
            chart.title().set_name(title);
            chart.x_axis().set_name("Clock").set_num_format("hh:mm");
            chart.set_width(900).set_height(380);
            sheet.insert_chart(place, 2, &chart)?;
            place += 21;
        }
        Ok(())
    };
    draw(
        "Trays dropped off, cleared and clean, middle lunch",
        &["dropped_off", "cleared", "clean"],
        &[2],
    )?;
    draw("People standing with a tray", &["standing"], &[1, 2, 3])?;
    draw("Trays not yet cleared", &["backlog"], &[1, 2, 3])
}

/// Every lunch with every measure, as many as a sheet bears.
fn lunches(sheet: &mut Worksheet, summary: &Summary, looks: &Looks) -> Result<(), XlsxError> {
    sheet.set_name("Lunches")?;
    let columns = summary.per_meal_columns.len().clamp(1, 16_000);
    for (column, id) in (0..).zip(summary.per_meal_columns.iter().take(columns)) {
        sheet.write_string_with_format(0, column, cell(id), &looks.head)?;
    }
    let most = MOST_CELLS / columns;
    for (row, values) in (1..).zip(summary.per_meal.iter().take(most)) {
        for (column, value) in (0..).zip(values.iter().take(columns)) {
            match value.filter(|v| v.is_finite()) {
                Some(value) => sheet.write_number(row, column, value)?,
                None => sheet.write_string(row, column, "-")?,
            };
        }
    }
    if summary.per_meal.len() > most {
        let words = format!(
            "The first {most} of {} lunches; all are in per-meal.csv.",
            summary.per_meal.len()
        );
        sheet.write_string(most as u32 + 1, 0, words)?;
    }
    sheet.set_freeze_panes(1, 1)?;
    Ok(())
}

fn assumptions(sheet: &mut Worksheet, summary: &Summary, looks: &Looks) -> Result<(), XlsxError> {
    sheet.set_name("Assumptions")?;
    sheet.set_column_width(0, 90)?;
    sheet.set_column_width(1, 24)?;
    sheet.set_column_width(2, 60)?;
    let mut row = 0;
    let mut part = |title: &str, lines: &[String]| -> Result<(), XlsxError> {
        sheet.write_string_with_format(row, 0, title, &looks.head)?;
        row += 1;
        for line in lines {
            sheet.write_string_with_format(row, 0, cell(line), &looks.words)?;
            row += 1;
        }
        Ok(())
    };
    part("What was assumed", &summary.assumptions)?;
    part("Cautions", &summary.cautions)?;
    part(
        "Inputs left at their default: input, value, what it stands on",
        &[],
    )?;
    for default in &summary.defaults {
        for (column, text) in (0..).zip(default) {
            sheet.write_string_with_format(row, column, cell(text), &looks.words)?;
        }
        row += 1;
    }
    Ok(())
}
