//! What somebody saw during a lunch: levels at clock times, machines that stood, people who were away.
//!
//! A table with the columns `time`, `what`, and where they are needed `until`, `count` and `sure`. What can be said:
//!
//! | what | count | until | means |
//! | --- | --- | --- | --- |
//! | `people waiting` | people | | diners standing with a tray at the drop-offs |
//! | `belt return`, `lane feed`, `backlog`, `pile tray` ... | things | | what a place of the line held |
//! | `belt return full` | | | as much as the place holds |
//! | `plate ran out` | | | none of it at the servery |
//! | `dish down` | | clock | the machine (or belt) stood from `time` to `until` and went on where it had stopped |
//! | `cem away` | | clock | the worker was off the line from `time` to `until` |
//! | `cem missing` | | | the worker never came |
//!
//! `sure` is `counted`, `about` or `guess` (about if unsaid), or the number by which the count may be off.

use scullery_engine::time::SimTime;
use scullery_engine::watch::{Catalogue, PlaceId, PlaceInfo, Role};

use crate::change::Change;
use crate::describe::words::clock;
use crate::plan::Plan;
use crate::sheet::{Cell, Decimal, Row, RowFault, Sheet, TimeReading, numbers, wall_clock};

/// Most rows of notes.
const MOST: usize = 2000;

/// What was seen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Notes {
    /// Levels at clock times, in clock order.
    pub levels: Vec<SeenLevel>,
    /// What happened to machines and people, in the order of the table.
    pub happened: Vec<Happened>,
}

/// A level that was seen.
#[derive(Clone, Debug, PartialEq)]
pub struct SeenLevel {
    /// When.
    pub at: SimTime,
    /// What, as written.
    pub what: String,
    /// The places whose levels it is the sum of.
    pub places: Vec<PlaceId>,
    /// How much.
    pub count: f64,
    /// By how much that may be off: a standard deviation.
    pub off_by: f64,
}

/// Something that happened, and how it is said of the scenario.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Happened {
    /// When it began; `None`: it was so all day.
    pub from: Option<SimTime>,
    /// When it was over.
    pub until: Option<SimTime>,
    /// In words, for example `machine dish stood from 12:20 to 12:35`.
    pub words: String,
    /// The changes that make it so.
    pub changes: Vec<Change>,
}

/// Reads notes of a lunch on this plan's line.
///
/// # Errors
/// Every row that has a fault, all at once.
pub fn read_notes(
    sheet: &Sheet,
    plan: &Plan,
    reading: &TimeReading,
    decimal: Option<Decimal>,
) -> Result<Notes, Vec<RowFault>> {
    let mut faults = Vec::new();
    let what = sheet
        .column("what")
        .map_err(|fault| faults.push(fault))
        .ok();
    let time = sheet
        .column("time")
        .map_err(|fault| faults.push(fault))
        .ok();
    let (Some(what), Some(time)) = (what, time) else {
        return Err(faults);
    };
    if sheet.rows.len() > MOST {
        return Err(vec![RowFault {
            line: 1,
            what: format!("the notes have {} rows, more than {MOST}", sheet.rows.len()),
            help: "keep what matters".to_owned(),
        }]);
    }
    let counts = match sheet.first_column(&["count"]) {
        None => vec![None; sheet.rows.len()],
        Some(at) => match numbers(sheet, at, decimal) {
            Ok((values, _)) => values,
            Err(found) => return Err(found),
        },
    };
    let catalogue = plan.line.catalogue();
    let reader = Reader {
        plan,
        catalogue: &catalogue,
        reading,
        what,
        time,
        until: sheet.first_column(&["until"]),
        sure: sheet.first_column(&["sure"]),
    };
    let mut notes = Notes::default();
    for (row, count) in sheet.rows.iter().zip(counts) {
        match reader.row(row, count) {
            Ok(Said::Level(level)) => notes.levels.push(level),
            Ok(Said::Happened(happened)) => notes.happened.push(happened),
            Err((what, help)) => faults.push(RowFault {
                line: row.line,
                what: format!("row {} {what}", row.number),
                help,
            }),
        }
    }
    for (index, it) in notes.happened.iter().enumerate() {
        let whose = |it: &Happened| it.words.split(" was away").next().map(str::to_owned);
        let before = notes.happened[..index]
            .iter()
            .filter(|one| one.words.contains(" was away"));
        if it.words.contains(" was away") && before.into_iter().any(|one| whose(one) == whose(it)) {
            faults.push(RowFault {
                line: 1,
                what: format!("the notes say twice that somebody was away: {}", it.words),
                help: "say it in one row, and give the other time as a break in the scenario"
                    .to_owned(),
            });
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    notes.levels.sort_by_key(|level| level.at);
    Ok(notes)
}

enum Said {
    Level(SeenLevel),
    Happened(Happened),
}

type Wrong = (String, String);

struct Reader<'a> {
    plan: &'a Plan,
    catalogue: &'a Catalogue,
    reading: &'a TimeReading,
    what: usize,
    time: usize,
    until: Option<usize>,
    sure: Option<usize>,
}

impl Reader<'_> {
    fn row(&self, row: &Row, count: Option<f64>) -> Result<Said, Wrong> {
        let written = row.cell(self.what).shown();
        let what = tidy(&written);
        if what.is_empty() {
            return Err((
                "says nothing under `what`".to_owned(),
                "say what was seen".to_owned(),
            ));
        }
        if let Some(name) = what.strip_suffix(" missing") {
            return self.missing(name);
        }
        for ending in [" down", " stopped"] {
            if let Some(name) = what.strip_suffix(ending) {
                return self.down(name, row);
            }
        }
        if let Some(name) = what.strip_suffix(" away") {
            return self.away(name, row);
        }
        let at = self.clock(row, self.time)?;
        let (places, count, sure) = self.level(&what, &written, count)?;
        let off_by = match self.sure.map(|at| row.cell(at)) {
            None | Some(Cell::Empty) => sure.unwrap_or_else(|| about(count)),
            Some(cell) => said_off_by(cell, count)?,
        };
        Ok(Said::Level(SeenLevel {
            at,
            what: written,
            places,
            count,
            off_by,
        }))
    }

    /// Places, count, and how sure it is where the words say so themselves.
    fn level(
        &self,
        what: &str,
        written: &str,
        count: Option<f64>,
    ) -> Result<(Vec<PlaceId>, f64, Option<f64>), Wrong> {
        if let Some(name) = what.strip_suffix(" full") {
            let place = self.place(name)?;
            let room = self.info(place).room.ok_or_else(|| {
                (
                    format!("says \"{written}\", but as many as come find room there"),
                    "give a count".to_owned(),
                )
            })?;
            return Ok((
                vec![place],
                f64::from(room),
                Some((f64::from(room) * 0.05).max(0.5)),
            ));
        }
        let ran_out = what
            .strip_suffix(" ran out")
            .or_else(|| what.strip_prefix("no "));
        if let Some(name) = ran_out {
            let name = name.trim_start_matches("clean ");
            return Ok((vec![self.stock(name)?], 0.0, Some(1.0)));
        }
        let count = count
            .filter(|count| *count >= 0.0 && count.is_finite())
            .ok_or_else(|| {
                (
                    format!("says \"{written}\" without a count of 0 or more"),
                    "give a count, or say `NAME full`, `NAME ran out`, `NAME down`, `NAME away`"
                        .to_owned(),
                )
            })?;
        if matches!(
            what,
            "people waiting" | "people" | "queue" | "people standing"
        ) {
            let standing: Vec<PlaceId> = self.of_role(Role::Standing).collect();
            if standing.is_empty() {
                return Err((
                    "speaks of people waiting, but nobody brings a tray here".to_owned(),
                    String::new(),
                ));
            }
            return Ok((standing, count, None));
        }
        Ok((vec![self.place(what)?], count, None))
    }

    fn info(&self, place: PlaceId) -> &PlaceInfo {
        &self.catalogue.places[usize::from(place.0)]
    }

    fn of_role(&self, role: Role) -> impl Iterator<Item = PlaceId> {
        (0..)
            .map(PlaceId)
            .zip(&self.catalogue.places)
            .filter(move |(_, place)| place.role == role)
            .map(|(id, _)| id)
    }

    /// The place of this name: whole (`belt return`), or its own name alone where only one place has it.
    fn place(&self, name: &str) -> Result<PlaceId, Wrong> {
        let all = || (0..).map(PlaceId).zip(&self.catalogue.places);
        if let Some((id, _)) = all().find(|(_, place)| tidy(&place.name) == name) {
            return Ok(id);
        }
        let ends: Vec<PlaceId> = all()
            .filter(|(_, place)| {
                tidy(&place.name)
                    .strip_suffix(name)
                    .is_some_and(|rest| rest.ends_with(' '))
            })
            .map(|(id, _)| id)
            .collect();
        match ends[..] {
            [one] => Ok(one),
            _ => {
                let known: Vec<String> = self
                    .catalogue
                    .places
                    .iter()
                    .map(|place| tidy(&place.name))
                    .collect();
                let what = if ends.is_empty() {
                    "no place of the line"
                } else {
                    "several places of the line"
                };
                Err((
                    format!("speaks of \"{name}\", which is {what}"),
                    format!("say one of: people waiting, {}", known.join(", ")),
                ))
            }
        }
    }

    fn stock(&self, class: &str) -> Result<PlaceId, Wrong> {
        let singular = class.strip_suffix('s').unwrap_or(class);
        self.of_role(Role::Stock)
            .find(|id| {
                let name = self
                    .info(*id)
                    .class
                    .as_deref()
                    .map(tidy)
                    .unwrap_or_default();
                name == class || name == singular
            })
            .ok_or_else(|| {
                (
                    format!("speaks of clean \"{class}\", whose stock is not followed"),
                    "give the ware a `par` in the scenario, or name another".to_owned(),
                )
            })
    }

    fn worker(&self, name: &str) -> Result<&str, Wrong> {
        let crew = &self.plan.line.crew;
        crew.iter()
            .find(|worker| tidy(&worker.name) == name)
            .map(|worker| worker.name.as_str())
            .ok_or_else(|| {
                let known: Vec<&str> = crew.iter().map(|worker| worker.name.as_str()).collect();
                (
                    format!("speaks of \"{name}\", who is not in the crew"),
                    format!("the crew is {}", known.join(", ")),
                )
            })
    }

    fn missing(&self, name: &str) -> Result<Said, Wrong> {
        let name = self.worker(name)?;
        happened(
            None,
            None,
            format!("{name} never came"),
            &[format!("-crew.{name}")],
        )
    }

    fn away(&self, name: &str, row: &Row) -> Result<Said, Wrong> {
        let name = self.worker(name)?;
        let (from, until) = self.span(row)?;
        let words = format!("{name} was away from {} to {}", clock(from), clock(until));
        // A break more, among those of the worker that it does not overlap.
        let worker = self
            .plan
            .line
            .crew
            .iter()
            .find(|worker| worker.name == name);
        let mut breaks: Vec<(SimTime, SimTime)> = worker
            .into_iter()
            .flat_map(|worker| &worker.breaks)
            .map(|(due, length)| (*due, *due + *length))
            .filter(|(due, ends)| *ends <= from || *due >= until)
            .collect();
        breaks.push((from, until));
        breaks.sort_unstable();
        let all: Vec<String> = breaks
            .iter()
            .map(|(due, ends)| {
                let min = ends.since(*due).us() as f64 / 60e6;
                format!("{} for {min} min", clock(*due))
            })
            .collect();
        let change = format!("crew.{name}.breaks={}", all.join(", "));
        happened(Some(from), Some(until), words, &[change])
    }

    fn down(&self, name: &str, row: &Row) -> Result<Said, Wrong> {
        let machine = self
            .plan
            .line
            .machines
            .iter()
            .find(|m| tidy(&m.name) == name || name == "machine");
        let belt = self
            .plan
            .line
            .belts
            .iter()
            .find(|b| tidy(&b.name) == name || name == "belt");
        let (kind, name) = match (machine, belt) {
            (Some(machine), _) => ("machine", machine.name.as_str()),
            (None, Some(belt)) => ("belt", belt.name.as_str()),
            (None, None) => {
                let line = &self.plan.line;
                let known = line
                    .machines
                    .iter()
                    .map(|m| &m.name)
                    .chain(line.belts.iter().map(|b| &b.name));
                let known: Vec<&str> = known.map(String::as_str).collect();
                return Err((
                    format!("speaks of \"{name}\", which is no machine or belt of the line"),
                    format!("they are {}", known.join(", ")),
                ));
            }
        };
        let (from, until) = self.span(row)?;
        let words = format!(
            "{kind} {name} stood from {} to {}",
            clock(from),
            clock(until)
        );
        let change = format!(
            "+{kind}.{name}.stops={{ from = \"{}\", to = \"{}\" }}",
            clock(from),
            clock(until)
        );
        happened(Some(from), Some(until), words, &[change])
    }

    fn span(&self, row: &Row) -> Result<(SimTime, SimTime), Wrong> {
        let from = self.clock(row, self.time)?;
        let until = self
            .until
            .filter(|at| *row.cell(*at) != Cell::Empty)
            .ok_or_else(|| {
                (
                    "does not say until when".to_owned(),
                    "give the clock time under `until`".to_owned(),
                )
            })?;
        let until = self.clock(row, until)?;
        if until <= from {
            return Err((
                format!("ends at {}, not after {}", clock(until), clock(from)),
                "let it end later than it begins".to_owned(),
            ));
        }
        Ok((from, until))
    }

    fn clock(&self, row: &Row, column: usize) -> Result<SimTime, Wrong> {
        let at = wall_clock(row.cell(column), self.reading)?;
        if at < self.plan.line.starts {
            return Err((
                format!(
                    "at {} lies before the start of the meal at {}",
                    clock(at),
                    clock(self.plan.line.starts)
                ),
                "let the meal start earlier".to_owned(),
            ));
        }
        Ok(at)
    }
}

fn happened(
    from: Option<SimTime>,
    until: Option<SimTime>,
    words: String,
    changes: &[String],
) -> Result<Said, Wrong> {
    let changes: Result<Vec<Change>, String> =
        changes.iter().map(|text| Change::parse(text)).collect();
    let changes = changes.map_err(|why| {
        (
            format!("cannot be said of the scenario: {why}"),
            String::new(),
        )
    })?;
    Ok(Said::Happened(Happened {
        from,
        until,
        words,
        changes,
    }))
}

/// Lower case, one blank between words, dots and underscores as blanks.
fn tidy(text: &str) -> String {
    let lower = text.to_lowercase().replace(['.', '_'], " ");
    lower.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A count that was looked at and not counted: off by 15 %, at least 1. Common practice has no figure; say your own.
fn about(count: f64) -> f64 {
    (count * 0.15).max(1.0)
}

fn said_off_by(cell: &Cell, count: f64) -> Result<f64, Wrong> {
    let text = cell.shown();
    match text.to_lowercase().as_str() {
        "counted" => return Ok(0.5),
        "about" => return Ok(about(count)),
        "guess" => return Ok((count * 0.4).max(2.0)),
        _ => {}
    }
    let number = match cell {
        Cell::Number(number) => Some(*number),
        _ => text.replace(',', ".").parse::<f64>().ok(),
    };
    number.filter(|n| *n > 0.0 && n.is_finite()).ok_or_else(|| {
        (
            format!("must say how sure it is, found \"{text}\""),
            "write counted, about or guess, or the number by which the count may be off".to_owned(),
        )
    })
}
