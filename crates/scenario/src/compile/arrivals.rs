//! A table of arrivals: comma-separated values with a column of clock times and perhaps one of counts.

use scullery_engine::time::SimTime;

use super::Load;
use super::checker::Checker;
use crate::describe::words;
use crate::file::ArrivalsFile;
use crate::text::clock;

/// Most arrivals a table can name.
const MOST: usize = 1_000_000;
/// Most of one row.
const MOST_A_ROW: f64 = 100_000.0;
/// Complaints about rows that are told one by one.
const MOST_COMPLAINTS: usize = 50;

const AT: &str = "covers.table.path";

/// The instants a table names, in clock order; every faulty row is told.
pub(crate) fn read(
    check: &mut Checker<'_>,
    file: &ArrivalsFile,
    load: Load<'_>,
    notices: &mut Vec<String>,
) -> Vec<SimTime> {
    let Some(text) = text_of(check, AT, &file.path, load) else {
        return Vec::new();
    };
    let separator = separator(text.lines().next().unwrap_or(""));
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let header: Vec<String> = match reader.headers() {
        Ok(header) => header.iter().map(str::to_owned).collect(),
        Err(_) => Vec::new(),
    };
    let wanted = file.time_column.as_deref().unwrap_or("time");
    let Some(time_at) = column(check, file, &header, wanted, separator) else {
        return Vec::new();
    };
    let count_at = match &file.count_column {
        None => None,
        Some(name) => match column(check, file, &header, name, separator) {
            Some(at) => Some(at),
            None => return Vec::new(),
        },
    };
    let mut rows = Rows {
        check,
        file,
        told: 0,
        instants: Vec::new(),
        last: None,
        moved: 0,
    };
    for (index, record) in reader.records().enumerate() {
        match record {
            Ok(record) => {
                let count = count_at.map(|at| record.get(at).unwrap_or(""));
                rows.row(index + 1, record.get(time_at).unwrap_or(""), count);
            }
            Err(_) => rows.complain("row-unreadable", index + 1, "cannot be read"),
        }
        if rows.instants.len() > MOST {
            let message = format!("{} names more than {MOST} arrivals", file.path);
            rows.check
                .fault("too-large", AT, message, "simulate a shorter time");
            return Vec::new();
        }
    }
    let Rows {
        mut instants,
        moved,
        told,
        ..
    } = rows;
    if told > MOST_COMPLAINTS {
        let message = format!(
            "{} more rows of {} have faults",
            told - MOST_COMPLAINTS,
            file.path
        );
        check.fault("row-unreadable", AT, message, "");
    } else if told == 0 && instants.is_empty() {
        check.fault(
            "no-covers",
            AT,
            format!("{} names no arrivals", file.path),
            "give at least one row below the header",
        );
    }
    if moved > 0 {
        notices.push(format!(
            "{moved} rows of {} stood out of clock order and were sorted, as asked.",
            file.path
        ));
        instants.sort_unstable();
    }
    instants
}

/// The text of a table the scenario names at `at`; `None` with a complaint when it cannot be read.
pub(crate) fn text_of(
    check: &mut Checker<'_>,
    at: &str,
    path: &str,
    load: Load<'_>,
) -> Option<String> {
    let bytes = match load(path) {
        Ok(bytes) => bytes,
        Err(why) => {
            check.fault(
                "cannot-read-table",
                at,
                format!("{path} cannot be read: {why}"),
                "the path is relative to the scenario",
            );
            return None;
        }
    };
    let Ok(text) = String::from_utf8(bytes) else {
        check.fault(
            "cannot-read-table",
            at,
            format!("{path} is not UTF-8 text"),
            "save it as CSV in UTF-8",
        );
        return None;
    };
    match text.strip_prefix('\u{feff}') {
        Some(rest) => Some(rest.to_owned()),
        None => Some(text),
    }
}

/// The separator of a header: the first of `,` `;` and tab that is in it.
pub(crate) fn separator(header: &str) -> u8 {
    [b',', b';', b'\t']
        .into_iter()
        .find(|mark| header.as_bytes().contains(mark))
        .unwrap_or(b',')
}

fn column(
    check: &mut Checker<'_>,
    file: &ArrivalsFile,
    header: &[String],
    name: &str,
    separator: u8,
) -> Option<usize> {
    let found = header.iter().position(|heading| heading == name);
    if found.is_none() {
        let between = match separator {
            b';' => "`;`",
            b'\t' => "tabs",
            _ => "`,`",
        };
        let key = if file.count_column.as_deref() == Some(name) {
            "count_column"
        } else {
            "time_column"
        };
        let message = format!(
            "{} has no column \"{name}\"; read with {between} between columns, its header is \"{}\"",
            file.path,
            header.join("\", \"")
        );
        check.fault(
            "no-such-column",
            AT,
            message,
            format!("name its column with `{key}`"),
        );
    }
    found
}

struct Rows<'c, 'a> {
    check: &'c mut Checker<'a>,
    file: &'c ArrivalsFile,
    told: usize,
    instants: Vec<SimTime>,
    last: Option<(SimTime, usize)>,
    moved: usize,
}

impl Rows<'_, '_> {
    fn complain(&mut self, code: &'static str, row: usize, what: &str) {
        self.told += 1;
        if self.told <= MOST_COMPLAINTS {
            self.check.fault(
                code,
                AT,
                format!("{}: row {row} {what}", self.file.path),
                "",
            );
        }
    }

    fn row(&mut self, row: usize, time: &str, count: Option<&str>) {
        let at = self.time(row, time);
        let count = match count {
            None => Some(1),
            Some(text) => self.count(row, text),
        };
        let (Some(at), Some(count)) = (at, count) else {
            return;
        };
        match self.last {
            Some((last, before)) if at < last && !self.file.sort => {
                self.complain(
                    "times-out-of-order",
                    row,
                    &format!(
                        "at {time} is earlier than row {before} at {}",
                        words::clock(last)
                    ),
                );
                return;
            }
            Some((last, _)) if at < last => self.moved += 1,
            _ => self.last = Some((at, row)),
        }
        self.instants.extend(std::iter::repeat_n(at, count));
    }

    fn time(&mut self, row: usize, text: &str) -> Option<SimTime> {
        if text.is_empty() {
            self.complain("row-without-time", row, "has no time");
            return None;
        }
        if clock::parse(text).is_none() {
            self.complain(
                "not-a-clock-time",
                row,
                &format!("must have a clock time, found \"{text}\""),
            );
            return None;
        }
        let before = self.check.faults.len();
        let at = self.check.clock(AT, text);
        if self.check.faults.len() > before {
            self.check.faults.truncate(before);
            let starts = self.check.starts;
            self.complain(
                "before-the-start",
                row,
                &format!(
                    "at {text} lies before the start of the meal at {}",
                    words::clock(starts)
                ),
            );
            return None;
        }
        Some(at)
    }

    fn count(&mut self, row: usize, text: &str) -> Option<usize> {
        match text.parse::<f64>() {
            Err(_) if text.is_empty() => self.complain("not-a-count", row, "has no count"),
            Ok(number) if number.is_finite() && number < 0.0 => {
                self.complain(
                    "not-a-count",
                    row,
                    &format!("must have a count of 0 or more, found {text}"),
                );
            }
            Ok(number) if number.fract() != 0.0 || !number.is_finite() => {
                self.complain(
                    "not-a-count",
                    row,
                    &format!("must have a whole number, found {text}"),
                );
            }
            Ok(number) if number > MOST_A_ROW => {
                self.complain(
                    "not-a-count",
                    row,
                    &format!("must have a count of at most {MOST_A_ROW}, found {text}"),
                );
            }
            Ok(number) => return Some(number as usize),
            Err(_) => self.complain(
                "not-a-count",
                row,
                &format!("must have a number, found \"{text}\""),
            ),
        }
        None
    }
}
