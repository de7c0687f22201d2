//! Text with something between the columns.

use super::{Cell, MOST_COLUMNS, MOST_ROWS, Row, RowFault, Sheet, SheetReading};

/// What stands between columns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    /// `,`
    Comma,
    /// `;`
    Semicolon,
    /// A tab.
    Tab,
}

impl Separator {
    const ALL: [Separator; 3] = [Separator::Comma, Separator::Semicolon, Separator::Tab];

    fn byte(self) -> u8 {
        match self {
            Separator::Comma => b',',
            Separator::Semicolon => b';',
            Separator::Tab => b'\t',
        }
    }

    fn words(self) -> &'static str {
        match self {
            Separator::Comma => "`,`",
            Separator::Semicolon => "`;`",
            Separator::Tab => "tabs",
        }
    }
}

pub(super) fn read(name: &str, bytes: &[u8], how: &SheetReading) -> Result<Sheet, Vec<RowFault>> {
    let Ok(text) = std::str::from_utf8(bytes) else {
        let line = 1 + bytes[..first_bad(bytes)]
            .iter()
            .filter(|&&b| b == b'\n')
            .count();
        return Err(vec![RowFault {
            line,
            what: "the table is not UTF-8 text".to_owned(),
            help: "save it as CSV in UTF-8, or as an .xlsx workbook".to_owned(),
        }]);
    };
    let (text, mark) = match text.strip_prefix('\u{feff}') {
        Some(rest) => (rest, true),
        None => (text, false),
    };
    let separator = match how.separator {
        Some(said) => said,
        None => separator(text.lines().next().unwrap_or("")).map_err(|fault| vec![fault])?,
    };
    let mut notices = vec![format!(
        "{name} was read with {} between columns.",
        separator.words()
    )];
    if mark {
        notices.push(format!(
            "A byte-order mark at the head of {name} was left out."
        ));
    }
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator.byte())
        .flexible(true)
        .has_headers(false)
        .from_reader(text.as_bytes());
    let mut sheet = Sheet {
        name: name.to_owned(),
        header: Vec::new(),
        rows: Vec::new(),
        notices,
    };
    let mut record = csv::StringRecord::new();
    let mut faults = Vec::new();
    let mut number = 0;
    loop {
        let more = reader.read_record(&mut record);
        let line = record.position().map_or(1, |place| place.line() as usize);
        match more {
            Ok(false) => break,
            Ok(true) => {}
            Err(why) => {
                faults.push(RowFault {
                    line,
                    what: format!("the line cannot be read: {why}"),
                    help: String::new(),
                });
                break;
            }
        }
        if record.len() > MOST_COLUMNS {
            return Err(vec![RowFault {
                line,
                what: format!(
                    "the table has {} columns, more than {MOST_COLUMNS}",
                    record.len()
                ),
                help: "keep the columns that matter".to_owned(),
            }]);
        }
        if sheet.header.is_empty() {
            sheet.header = record.iter().map(|cell| cell.trim().to_owned()).collect();
            continue;
        }
        number += 1;
        let cells: Vec<Cell> = record.iter().map(cell).collect();
        if cells.iter().all(|cell| *cell == Cell::Empty) {
            continue;
        }
        sheet.rows.push(Row {
            number,
            line,
            cells,
        });
        if sheet.rows.len() > MOST_ROWS {
            let what = format!("the table has more than {MOST_ROWS} rows");
            return Err(vec![RowFault::of_table(what, "keep the days that matter")]);
        }
    }
    if sheet.header.is_empty() {
        faults.push(RowFault::of_table(
            "the table is empty",
            "give a header and at least one row",
        ));
    }
    if faults.is_empty() {
        Ok(sheet)
    } else {
        Err(faults)
    }
}

fn first_bad(bytes: &[u8]) -> usize {
    std::str::from_utf8(bytes)
        .err()
        .map_or(0, |why| why.valid_up_to())
}

fn cell(text: &str) -> Cell {
    let text = text.trim();
    if text.is_empty() {
        Cell::Empty
    } else {
        Cell::Text(text.to_owned())
    }
}

/// The separator of a header. A header with two of them outside quotes does not say which it is.
fn separator(header: &str) -> Result<Separator, RowFault> {
    let mut quoted = false;
    let mut seen = [false; 3];
    for byte in header.bytes() {
        if byte == b'"' {
            quoted = !quoted;
        }
        if let (false, Some(at)) = (quoted, Separator::ALL.iter().position(|s| s.byte() == byte)) {
            seen[at] = true;
        }
    }
    let found: Vec<Separator> = Separator::ALL
        .into_iter()
        .zip(seen)
        .filter_map(|(separator, seen)| seen.then_some(separator))
        .collect();
    match found[..] {
        [] => Ok(Separator::Comma),
        [one] => Ok(one),
        _ => Err(RowFault::of_table(
            format!(
                "the header has {} in it, so it does not say what stands between columns",
                found
                    .iter()
                    .map(|s| s.words())
                    .collect::<Vec<_>>()
                    .join(" and ")
            ),
            "say which it is: comma, semicolon or tab",
        )),
    }
}
