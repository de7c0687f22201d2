//! A table that a person has, from CSV or a workbook: a header, rows of cells, and what is wrong with them by row.
//!
//! Only the columns asked for are ever looked at; what stands in the others goes nowhere.

mod counts;
mod delimited;
mod instants;
mod number;
mod when;
mod workbook;

use jiff::civil::DateTime;
use scullery_engine::time::SimTime;

pub use counts::{Counts, interval_counts, interval_rows};
pub use delimited::Separator;
pub use instants::{Columns, Instants, arrival_instants};
pub use number::{Decimal, Read, numbers};
pub use when::{DateOrder, TimeReading, wall_clock};

/// Largest table read, in bytes.
pub const LARGEST_BYTES: usize = 64 << 20;
/// Most rows below the header.
pub const MOST_ROWS: usize = 1_000_000;
/// Most columns.
pub const MOST_COLUMNS: usize = 4096;
/// Complaints about rows that are told one by one.
pub const MOST_COMPLAINTS: usize = 50;

/// One cell.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// Nothing, or blanks.
    Empty,
    /// Text, trimmed.
    Text(String),
    /// A number, from a workbook.
    Number(f64),
    /// A clock time from a workbook, microseconds since midnight.
    Clock(u64),
    /// A date with its clock time, from a workbook.
    Moment(DateTime),
}

impl Cell {
    /// The cell as a person sees it, for messages.
    pub fn shown(&self) -> String {
        match self {
            Cell::Empty => String::new(),
            Cell::Text(text) => text.chars().take(60).collect(),
            Cell::Number(number) => format!("{number}"),
            Cell::Clock(us) => crate::describe::words::clock(SimTime::from_us(*us)),
            Cell::Moment(moment) => moment.to_string(),
        }
    }
}

/// One row below the header.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its number, from 1 for the first row below the header.
    pub number: usize,
    /// Its line in the file (its row in the workbook), from 1.
    pub line: usize,
    cells: Vec<Cell>,
}

impl Row {
    /// The cell in a column; empty where the row is too short.
    pub fn cell(&self, column: usize) -> &Cell {
        self.cells.get(column).unwrap_or(&Cell::Empty)
    }
}

/// A table.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// What the table is called, for messages.
    pub name: String,
    /// Headings, trimmed.
    pub header: Vec<String>,
    /// The rows that have something in them.
    pub rows: Vec<Row>,
    /// How the table was read, in plain sentences, to be said aloud.
    pub notices: Vec<String>,
}

/// How a table is to be read, where it does not say so itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetReading {
    /// What stands between columns; unsaid: told from the header, or refused when it has two of them.
    pub separator: Option<Separator>,
    /// Which tab of a workbook; unsaid: the only one.
    pub tab: Option<String>,
}

/// What is wrong with one row, or with the table as a whole.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RowFault {
    /// Line of the file; 1 (the header) when it is the table that is at fault.
    pub line: usize,
    /// What is wrong, with row and value found.
    pub what: String,
    /// What to write instead.
    pub help: String,
}

impl RowFault {
    fn of_row(row: &Row, what: &str, help: &str) -> RowFault {
        RowFault {
            line: row.line,
            what: format!("row {} {what}", row.number),
            help: help.to_owned(),
        }
    }

    fn of_table(what: impl Into<String>, help: impl Into<String>) -> RowFault {
        RowFault {
            line: 1,
            what: what.into(),
            help: help.into(),
        }
    }
}

/// Shows complaints as `name:line: error: ...`, in file order, the last ones summed up when there are many.
pub fn render_rows(name: &str, faults: &[RowFault]) -> String {
    let mut sorted: Vec<&RowFault> = faults.iter().collect();
    sorted.sort_by_key(|fault| fault.line);
    let mut out = String::new();
    for fault in sorted.iter().take(MOST_COMPLAINTS) {
        out.push_str(&format!("{name}:{}: error: {}\n", fault.line, fault.what));
        if !fault.help.is_empty() {
            out.push_str(&format!("  = help: {}\n", fault.help));
        }
    }
    if sorted.len() > MOST_COMPLAINTS {
        let more = sorted.len() - MOST_COMPLAINTS;
        out.push_str(&format!("{name}: error: {more} more rows have faults\n"));
    }
    out
}

impl Sheet {
    /// Reads a table: a workbook when the bytes are one, else text with separators.
    ///
    /// # Errors
    /// When it cannot be read as a table at all.
    pub fn read(name: &str, bytes: &[u8], how: &SheetReading) -> Result<Sheet, Vec<RowFault>> {
        if bytes.len() > LARGEST_BYTES {
            let what = format!(
                "the table has {} bytes, more than {LARGEST_BYTES}",
                bytes.len()
            );
            return Err(vec![RowFault::of_table(
                what,
                "take out the days that do not matter",
            )]);
        }
        if bytes.starts_with(b"PK\x03\x04") {
            workbook::read(name, bytes, how)
        } else {
            delimited::read(name, bytes, how)
        }
    }

    /// The column with this heading; letter case and blanks around do not matter.
    ///
    /// # Errors
    /// A complaint that lists the headings there are.
    pub fn column(&self, heading: &str) -> Result<usize, RowFault> {
        let same = |known: &String| known.trim().eq_ignore_ascii_case(heading.trim());
        let mut found = (0..).zip(&self.header).filter(|(_, known)| same(known));
        let first = found.next();
        if let (Some(_), Some(_)) = (&first, found.next()) {
            return Err(RowFault::of_table(
                format!("two columns are headed \"{heading}\""),
                "give them headings of their own",
            ));
        }
        first.map(|(at, _)| at).ok_or_else(|| {
            RowFault::of_table(
                format!(
                    "no column is headed \"{heading}\"; the header is \"{}\"",
                    self.header.join("\", \"")
                ),
                "name the column as it stands in the header",
            )
        })
    }

    /// The first of these headings that the table has.
    pub fn first_column(&self, headings: &[&str]) -> Option<usize> {
        headings
            .iter()
            .find_map(|heading| self.column(heading).ok())
    }
}
