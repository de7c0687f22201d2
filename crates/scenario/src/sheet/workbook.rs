//! A workbook in Office Open XML (ECMA-376), as spreadsheets save it.

use std::io::Cursor;

use calamine::{Data, ExcelDateTime, Reader, Xlsx};
use jiff::civil::DateTime;

use super::{Cell, MOST_COLUMNS, MOST_ROWS, Row, RowFault, Sheet, SheetReading};

/// Most bytes a workbook may unpack to.
const MOST_UNPACKED: u64 = 512 << 20;

pub(super) fn read(name: &str, bytes: &[u8], how: &SheetReading) -> Result<Sheet, Vec<RowFault>> {
    let table = |what: String, help: &str| vec![RowFault::of_table(what, help)];
    let unreadable = |why: String| {
        table(
            format!("the workbook cannot be read: {why}"),
            "save it anew as .xlsx, or as CSV in UTF-8",
        )
    };
    let unpacked = unpacked(bytes).map_err(unreadable)?;
    if unpacked > MOST_UNPACKED {
        let what = format!("the workbook unpacks to {unpacked} bytes, more than {MOST_UNPACKED}");
        return Err(table(what, "keep the days that matter"));
    }
    let mut book: Xlsx<_> =
        Xlsx::new(Cursor::new(bytes)).map_err(|why| unreadable(why.to_string()))?;
    let tabs = book.sheet_names();
    let tab = match (&how.tab, &tabs[..]) {
        (Some(tab), _) if tabs.contains(tab) => tab.clone(),
        (Some(tab), _) => {
            let what = format!(
                "the workbook has no tab \"{tab}\"; it has \"{}\"",
                tabs.join("\", \"")
            );
            return Err(table(what, "name a tab as it stands"));
        }
        (None, [only]) => only.clone(),
        (None, []) => return Err(table("the workbook has no tab".to_owned(), "")),
        (None, _) => {
            let what = format!(
                "the workbook has {} tabs: \"{}\"",
                tabs.len(),
                tabs.join("\", \"")
            );
            return Err(table(what, "say which tab"));
        }
    };
    let range = book
        .worksheet_range(&tab)
        .map_err(|why| unreadable(why.to_string()))?;
    if range.height() > MOST_ROWS || range.width() > MOST_COLUMNS {
        let what = format!(
            "the tab has {} rows and {} columns; at most {MOST_ROWS} and {MOST_COLUMNS} are read",
            range.height(),
            range.width()
        );
        return Err(table(what, "keep the rows and columns that matter"));
    }
    let above = range.start().map_or(0, |(row, _)| row as usize);
    let mut sheet = Sheet {
        name: name.to_owned(),
        header: Vec::new(),
        rows: Vec::new(),
        notices: vec![format!("{name} was read from its tab \"{tab}\".")],
    };
    for (index, cells) in range.rows().enumerate() {
        if index == 0 {
            sheet.header = cells
                .iter()
                .map(|cell| cell.to_string().trim().to_owned())
                .collect();
            continue;
        }
        let cells: Vec<Cell> = cells.iter().map(cell).collect();
        if cells.iter().any(|cell| *cell != Cell::Empty) {
            sheet.rows.push(Row {
                number: index,
                line: above + index + 1,
                cells,
            });
        }
    }
    if sheet.header.is_empty() {
        return Err(table(
            format!("the tab \"{tab}\" is empty"),
            "give a header and at least one row",
        ));
    }
    Ok(sheet)
}

/// The sum of what the parts of the packed file say they unpack to.
fn unpacked(bytes: &[u8]) -> Result<u64, String> {
    let mut packed = zip::ZipArchive::new(Cursor::new(bytes)).map_err(|why| why.to_string())?;
    let mut sum = 0_u64;
    for index in 0..packed.len() {
        let part = packed.by_index_raw(index).map_err(|why| why.to_string())?;
        sum = sum.saturating_add(part.size());
    }
    Ok(sum)
}

fn cell(data: &Data) -> Cell {
    match data {
        Data::Empty => Cell::Empty,
        Data::Int(number) => Cell::Number(*number as f64),
        Data::Float(number) => Cell::Number(*number),
        Data::DateTime(moment) => moment_cell(moment),
        other => {
            let text = other.to_string();
            let text = text.trim();
            if text.is_empty() {
                Cell::Empty
            } else {
                Cell::Text(text.to_owned())
            }
        }
    }
}

/// Microseconds in a day.
const DAY_US: f64 = 86_400e6;

/// A serial number below 1 (or a length of time) is a clock time; any other is a date with its clock time, read to the
/// nearest millisecond as spreadsheets do.
fn moment_cell(moment: &ExcelDateTime) -> Cell {
    let days = moment.as_f64();
    if (0.0..1.0).contains(&days) || moment.is_duration() {
        let ms = (days.max(0.0) * DAY_US / 1000.0).round();
        return Cell::Clock(ms as u64 * 1000);
    }
    let (year, month, day, hour, minute, second, milli) = moment.to_ymd_hms_milli();
    let small = |n: u8| i8::try_from(n).unwrap_or(-1);
    let date = DateTime::new(
        i16::try_from(year).unwrap_or(-1),
        small(month),
        small(day),
        small(hour),
        small(minute),
        small(second),
        i32::from(milli) * 1_000_000,
    );
    date.map_or_else(|_| Cell::Text(format!("{days}")), Cell::Moment)
}
