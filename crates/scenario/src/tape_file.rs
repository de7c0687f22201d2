//! A simulated meal's diners as a table, to be kept, looked at, changed and run again.
//!
//! Four lines of heading tell where they come from; then one row a diner, in the order in which they were drawn: instants
//! in microseconds since the midnight before the meal, the kind of diner, pieces by class, and the factor on the work at
//! the tray. Every number is written so that reading it gives the same bits again.

use scullery_engine::demand::There;
use scullery_engine::line::MOST_CLASSES;
use scullery_engine::tape::{Diner, MOST_DINERS, NO_CARTS, Tape};
use scullery_engine::time::SimTime;

use crate::plan::Plan;
use crate::sheet::RowFault;

/// What begins the first line.
const FIRST: &str = "# scullery meal, 2";

/// A meal read from a table.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeFile {
    /// Seed of the study it was drawn for.
    pub seed: u64,
    /// Number of its repeat.
    pub repeat: u64,
    /// SHA-256 of the scenario it was drawn from, lower-case hex.
    pub scenario: String,
    /// The diners.
    pub diners: Vec<Diner>,
}

/// Fixed columns, before one a class of ware.
const COLUMNS: [&str; 15] = [
    "served_us",
    "comes_us",
    "kind",
    "drop_off",
    "carts",
    "sits",
    "begins",
    "ends",
    "factor",
    "waste_g",
    "patience",
    "tray_less",
    "people",
    "seat_wait_s",
    "already",
];

/// Writes a meal of a plan.
pub fn write_tape(plan: &Plan, tape: &Tape, seed: u64, repeat: u64) -> String {
    let mut out = format!(
        "{FIRST}\n# seed: {seed}\n# repeat: {repeat}\n# scenario: {}\n",
        plan.hash
    );
    let mut writer = csv::WriterBuilder::new()
        .flexible(true)
        .from_writer(Vec::new());
    let mut row: Vec<String> = COLUMNS.iter().map(|c| (*c).to_owned()).collect();
    row.extend(
        plan.line
            .classes
            .iter()
            .map(|class| format!("pieces {}", class.name)),
    );
    // Writing to memory cannot fail.
    let _ = writer.write_record(&row);
    for diner in tape.diners() {
        row.clear();
        let kind = plan
            .demand
            .kinds
            .get(usize::from(diner.kind))
            .map_or("", |kind| kind.name.as_str());
        let yes = |said: bool| if said { "yes" } else { "no" }.to_owned();
        row.extend([
            diner.served.us().to_string(),
            if diner.comes == SimTime::LAST {
                String::new()
            } else {
                diner.comes.us().to_string()
            },
            kind.to_owned(),
            diner.drop_off.to_string(),
            if diner.carts == NO_CARTS {
                String::new()
            } else {
                diner.carts.to_string()
            },
            yes(diner.sits),
            yes(diner.begins),
            yes(diner.ends),
            format!("{:?}", diner.factor),
            diner.waste_g.to_string(),
            if diner.patience == u16::MAX {
                String::new()
            } else {
                diner.patience.to_string()
            },
            yes(diner.loose),
            diner.people.to_string(),
            diner.seat_wait_s.to_string(),
            match diner.there {
                There::Comes => String::new(),
                There::Eats => "eating".to_owned(),
                There::Belt(i) => format!("belt {i}"),
                There::Table(i) => format!("table {i}"),
                There::Accumulator(i) => format!("accumulator {i}"),
                There::Aside(i) => format!("aside {i}"),
                There::Carts(i) => format!("carts {i}"),
            },
        ]);
        row.extend((0..plan.line.classes.len()).map(|class| diner.pieces[class].to_string()));
        let _ = writer.write_record(&row);
    }
    let table = writer.into_inner().unwrap_or_default();
    out.push_str(&String::from_utf8_lossy(&table));
    out
}

/// Reads a meal for a plan with the same kinds of diner and classes of ware (by name).
///
/// # Errors
/// Every row that has a fault, all at once.
pub fn read_tape(plan: &Plan, text: &str) -> Result<TapeFile, Vec<RowFault>> {
    let head = Head::read(text)?;
    let mut reader = csv::ReaderBuilder::new()
        .flexible(true)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let header = reader.headers().cloned().unwrap_or_default();
    let wanted: Vec<String> = COLUMNS
        .iter()
        .map(|c| (*c).to_owned())
        .chain(
            plan.line
                .classes
                .iter()
                .map(|class| format!("pieces {}", class.name)),
        )
        .collect();
    if !header.iter().eq(wanted.iter().map(String::as_str)) {
        let what = format!(
            "the columns must be \"{}\", found \"{}\"",
            wanted.join("\", \""),
            header.iter().collect::<Vec<_>>().join("\", \"")
        );
        return Err(vec![fault(
            5,
            what,
            "a meal is run again with the classes of ware it was drawn for",
        )]);
    }
    let mut faults = Vec::new();
    let mut diners = Vec::new();
    for (index, record) in reader.records().enumerate() {
        let Ok(record) = record else {
            faults.push(fault(
                index + 6,
                format!("row {} cannot be read", index + 1),
                "",
            ));
            break;
        };
        let line = record
            .position()
            .map_or(index + 6, |place| place.line() as usize);
        match diner(plan, &record) {
            Ok(diner) => diners.push(diner),
            Err(what) => faults.push(fault(line, format!("row {} {what}", index + 1), "")),
        }
        if diners.len() > MOST_DINERS {
            let what = format!("the meal has more than {MOST_DINERS} diners");
            return Err(vec![fault(line, what, "simulate a shorter time")]);
        }
    }
    if faults.is_empty() {
        Ok(TapeFile {
            diners,
            ..head.into_file()
        })
    } else {
        Err(faults)
    }
}

fn fault(line: usize, what: impl Into<String>, help: &str) -> RowFault {
    RowFault {
        line,
        what: what.into(),
        help: help.to_owned(),
    }
}

/// The four lines of heading.
struct Head {
    seed: u64,
    repeat: u64,
    scenario: String,
}

impl Head {
    fn read(text: &str) -> Result<Head, Vec<RowFault>> {
        let mut lines = text.lines();
        if lines.next() != Some(FIRST) {
            let what = format!("the first line must be \"{FIRST}\"");
            return Err(vec![fault(
                1,
                what,
                "take a meal that `scullery run --keep-meal` wrote",
            )]);
        }
        let mut said = |number: usize, name: &str| {
            let line = lines.next().unwrap_or("");
            line.strip_prefix(&format!("# {name}: "))
                .map(|value| value.trim().to_owned())
                .ok_or_else(|| {
                    vec![fault(
                        number,
                        format!("line {number} must say \"# {name}: ...\", found \"{line}\""),
                        "",
                    )]
                })
        };
        let (seed, repeat, scenario) = (said(2, "seed")?, said(3, "repeat")?, said(4, "scenario")?);
        let whole = |line: usize, text: &str| {
            text.parse::<u64>().map_err(|_| {
                vec![fault(
                    line,
                    format!("must have a whole number, found \"{text}\""),
                    "",
                )]
            })
        };
        Ok(Head {
            seed: whole(2, &seed)?,
            repeat: whole(3, &repeat)?,
            scenario,
        })
    }

    fn into_file(self) -> TapeFile {
        TapeFile {
            seed: self.seed,
            repeat: self.repeat,
            scenario: self.scenario,
            diners: Vec::new(),
        }
    }
}

/// Where it is when the run begins.
fn there(plan: &Plan, text: &str) -> Option<There> {
    let number = |text: &str, below: usize| {
        let number = text.parse::<u8>().ok()?;
        (usize::from(number) < below).then_some(number)
    };
    match text.split_once(' ') {
        None if text.is_empty() => Some(There::Comes),
        None if text == "eating" => Some(There::Eats),
        Some(("belt", i)) => number(i, plan.line.belts.len()).map(There::Belt),
        Some(("table", i)) => number(i, plan.line.tables.len()).map(There::Table),
        Some(("accumulator", i)) => number(i, plan.line.accumulators.len()).map(There::Accumulator),
        Some(("aside", i)) => number(i, plan.line.drop_offs.len()).map(There::Aside),
        Some(("carts", i)) => number(i, plan.line.carts.len()).map(There::Carts),
        _ => None,
    }
}

fn diner(plan: &Plan, record: &csv::StringRecord) -> Result<Diner, String> {
    let cell = |at: usize| record.get(at).unwrap_or("");
    let wrong = |at: usize| format!("must have {} right, found \"{}\"", COLUMNS[at], cell(at));
    let instant = |at: usize| {
        let us = cell(at)
            .parse::<u64>()
            .ok()
            .filter(|us| *us < SimTime::LAST.us());
        us.map(SimTime::from_us).ok_or_else(|| wrong(at))
    };
    let yes = |at: usize| match cell(at) {
        "yes" => Ok(true),
        "no" => Ok(false),
        _ => Err(wrong(at)),
    };
    let small = |at: usize, below: usize| {
        cell(at)
            .parse::<u8>()
            .ok()
            .filter(|n| usize::from(*n) < below)
            .ok_or_else(|| wrong(at))
    };
    let kind = plan
        .demand
        .kinds
        .iter()
        .position(|kind| kind.name == cell(2))
        .ok_or_else(|| {
            format!(
                "has the kind of diner \"{}\", which the scenario does not have",
                cell(2)
            )
        })?;
    let mut pieces = [0; MOST_CLASSES];
    for (class, many) in pieces.iter_mut().take(plan.line.classes.len()).enumerate() {
        let found = cell(COLUMNS.len() + class);
        *many = found.parse().map_err(|_| {
            format!(
                "must have a count of {} from 0 to 255, found \"{found}\"",
                plan.line.classes[class].name
            )
        })?;
    }
    let factor: f64 = cell(8).parse().map_err(|_| wrong(8))?;
    if !(factor.is_finite() && factor >= 0.0) {
        return Err(wrong(8));
    }
    let served = instant(0)?;
    let comes = if cell(1).is_empty() {
        SimTime::LAST
    } else {
        instant(1)?
    };
    if comes < served {
        return Err(format!(
            "comes at {} before being served at {}",
            cell(1),
            cell(0)
        ));
    }
    Ok(Diner {
        served,
        comes,
        factor,
        waste_g: cell(9).parse().map_err(|_| wrong(9))?,
        patience: if cell(10).is_empty() {
            u16::MAX
        } else {
            cell(10).parse().map_err(|_| wrong(10))?
        },
        kind: u8::try_from(kind).unwrap_or(u8::MAX),
        drop_off: small(3, plan.line.drop_offs.len().max(1))?,
        carts: if cell(4).is_empty() {
            NO_CARTS
        } else {
            small(4, plan.line.carts.len())?
        },
        sits: yes(5)?,
        begins: yes(6)?,
        ends: yes(7)?,
        loose: yes(11)?,
        people: small(12, 256)?,
        seat_wait_s: cell(13).parse().map_err(|_| wrong(13))?,
        there: there(plan, cell(14)).ok_or_else(|| wrong(14))?,
        pieces,
    })
}
