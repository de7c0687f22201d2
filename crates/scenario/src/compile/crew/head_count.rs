//! A head count, times down and posts across, becomes people.
//!
//! A fall sends home who came first. A fall at one post and a rise at another at the same instant is one person moving;
//! of several who leave a post then, those who came last move on and those who came first go home.

use scullery_engine::line::{Call, Terms, Worker};
use scullery_engine::time::SimTime;

use super::posts::{calls, posts};
use crate::compile::Load;
use crate::compile::arrivals::{separator, text_of};
use crate::compile::checker::Checker;
use crate::compile::names::Names;
use crate::defaults;
use crate::describe::words::clock;
use crate::file::{HeadCountFile, PostEntry};

const AT: &str = "head_count.path";
/// Most people at one post.
const MOST_AT_A_POST: f64 = 200.0;
/// Most rows.
const MOST_ROWS: usize = 2_000;

/// The table as read: columns and, for each instant, how many stand at each.
#[derive(Debug, Default)]
pub(crate) struct Sheet {
    columns: Vec<String>,
    rows: Vec<(SimTime, Vec<u32>)>,
}

/// Somebody of a head count: from when to when, and which column they stand at from which instant on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Rostered {
    /// Name, made from the first column and a number.
    pub(crate) name: String,
    /// Column by number and since when; the first is when they come.
    pub(crate) stands: Vec<(SimTime, usize)>,
    /// When they go home.
    pub(crate) home: SimTime,
}

/// Turns a sheet into people, in the order in which they come, those of one instant in the order of the columns.
pub(crate) fn people(sheet: &Sheet) -> Vec<Rostered> {
    let mut all: Vec<Rostered> = Vec::new();
    // Numbers of those who stand at each column, who came first in front.
    let mut at: Vec<Vec<usize>> = vec![Vec::new(); sheet.columns.len()];
    let mut named = vec![0; sheet.columns.len()];
    for (time, counts) in &sheet.rows {
        let mut leaving: Vec<usize> = Vec::new();
        for (here, &count) in at.iter_mut().zip(counts) {
            let fall = here.len().saturating_sub(count as usize);
            leaving.extend(here.drain(..fall));
        }
        // Who came last moves on first.
        leaving.sort_unstable_by_key(|&who| (all[who].stands[0].0, who));
        for (column, &count) in counts.iter().enumerate() {
            while at[column].len() < count as usize {
                let who = match leaving.pop() {
                    Some(who) => {
                        all[who].stands.push((*time, column));
                        who
                    }
                    None => {
                        named[column] += 1;
                        let post = sheet.columns[column].replace('.', " ");
                        all.push(Rostered {
                            name: format!("{post} {}", named[column]),
                            stands: vec![(*time, column)],
                            home: *time,
                        });
                        all.len() - 1
                    }
                };
                at[column].push(who);
            }
            at[column].sort_unstable_by_key(|&who| (all[who].stands[0].0, who));
        }
        for who in leaving {
            all[who].home = *time;
        }
    }
    all
}

/// Reads the table a file names; every faulty row is told.
pub(crate) fn read(check: &mut Checker<'_>, file: &HeadCountFile, load: Load<'_>) -> Sheet {
    let Some(text) = text_of(check, AT, &file.path, load) else {
        return Sheet::default();
    };
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator(text.lines().next().unwrap_or("")))
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let header: Vec<String> = match reader.headers() {
        Ok(header) => header.iter().map(str::to_owned).collect(),
        Err(_) => Vec::new(),
    };
    if header.len() < 2 || header[0] != "time" {
        let message = format!(
            "{} must have a column \"time\" and then one a post, found \"{}\"",
            file.path,
            header.join("\", \"")
        );
        let help = "write for example `time,scrapping.main,unloading.main`";
        check.fault("no-such-column", AT, message, help);
        return Sheet::default();
    }
    let mut sheet = Sheet {
        columns: header[1..].to_vec(),
        rows: Vec::new(),
    };
    for (index, record) in reader.records().enumerate().take(MOST_ROWS) {
        let row = index + 1;
        let complain = |check: &mut Checker<'_>, code: &'static str, what: String| {
            check.fault(code, AT, format!("{}: row {row} {what}", file.path), "");
        };
        let Ok(record) = record else {
            complain(check, "row-unreadable", "cannot be read".to_owned());
            continue;
        };
        let time = record.get(0).unwrap_or("");
        let faults = check.faults.len();
        let at = check.clock(AT, time);
        if check.faults.len() > faults {
            check.faults.truncate(faults);
            let what = format!("must have a clock time within the meal, found \"{time}\"");
            complain(check, "not-a-clock-time", what);
            continue;
        }
        if let Some((last, _)) = sheet.rows.last().filter(|(last, _)| at <= *last) {
            let what = format!(
                "at {time} is not later than the row before at {}",
                clock(*last)
            );
            complain(check, "times-out-of-order", what);
            continue;
        }
        let mut counts = Vec::new();
        for (column, name) in sheet.columns.iter().enumerate() {
            let text = record.get(column + 1).unwrap_or("");
            let number = text.parse::<f64>().ok().filter(|number| {
                number.fract().abs() < f64::EPSILON && (0.0..=MOST_AT_A_POST).contains(number)
            });
            match number {
                Some(number) => counts.push(number as u32),
                None => {
                    let what = format!(
                        "must have a whole number from 0 to {MOST_AT_A_POST} at {name}, found \"{text}\""
                    );
                    complain(check, "not-a-count", what);
                }
            }
        }
        if counts.len() == sheet.columns.len() {
            sheet.rows.push((at, counts));
        }
    }
    let left = sheet
        .rows
        .last()
        .is_none_or(|(_, counts)| counts.iter().any(|count| *count > 0));
    if left {
        let message = format!("the last row of {} does not send everybody home", file.path);
        let help = "end with a row of noughts at the time when the last goes home";
        check.fault("roster-left-open", AT, message, help);
    }
    sheet
}

/// The people of a head count as members of the crew; what was made of it is told.
pub(crate) fn workers(
    check: &mut Checker<'_>,
    file: &HeadCountFile,
    sheet: &Sheet,
    names: &Names,
    paces: &[(SimTime, f64)],
    notices: &mut Vec<String>,
) -> Vec<Worker> {
    let mut lists: Vec<Vec<Call>> = Vec::new();
    for column in &sheet.columns {
        let path = format!("head_count.columns.{column}");
        let written = match file.columns.get(column) {
            Some(list) => list.clone(),
            None if posts(names).iter().any(|(name, _)| name == column) => {
                vec![PostEntry::Name(column.clone())]
            }
            None => {
                let known: Vec<String> = posts(names).into_iter().map(|(name, _)| name).collect();
                check.find(&known, column, AT, "post");
                continue;
            }
        };
        lists.push(calls(check, &written, column, &path, names));
    }
    for column in file.columns.keys() {
        let path = format!("head_count.columns.{column}");
        check.find(&sheet.columns, column, &path, "column of the head count");
    }
    if lists.len() < sheet.columns.len() || sheet.rows.is_empty() {
        return Vec::new();
    }
    let unfilled = check.or_default(
        file.unfilled_share,
        "head_count.unfilled_share",
        &defaults::UNFILLED,
    );
    let people = people(sheet);
    notices.push(format!(
        "The head count of {} is read as {} people: a fall sends home who came first; a fall at one post and a rise at another at the same instant is one person moving.",
        file.path,
        people.len()
    ));
    people
        .into_iter()
        .map(|who| {
            let mut moves = who
                .stands
                .iter()
                .map(|&(at, column)| (at, lists[column].clone()));
            let (comes, list) = moves.next().unwrap_or_default();
            Worker {
                name: who.name,
                shifts: vec![(comes, who.home)],
                breaks: Vec::new(),
                pace: 1.0,
                list,
                unfilled,
                terms: Terms {
                    moves: moves.collect(),
                    paces: paces.to_vec(),
                    ..Terms::default()
                },
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sheet(columns: &[&str], rows: &[(f64, &[u32])]) -> Sheet {
        Sheet {
            columns: columns.iter().map(|name| (*name).to_owned()).collect(),
            rows: rows
                .iter()
                .map(|(min, counts)| (SimTime::from_min(*min), counts.to_vec()))
                .collect(),
        }
    }

    /// Name, where they stand from when, and when they go home, in minutes.
    type Told = (String, Vec<(f64, usize)>, f64);

    fn told(sheet: &Sheet) -> Vec<Told> {
        let of = |who: Rostered| {
            let stands = who.stands.iter().map(|&(at, column)| (at.min(), column));
            (who.name, stands.collect(), who.home.min())
        };
        people(sheet).into_iter().map(of).collect()
    }

    #[test]
    fn a_fall_sends_home_who_came_first() {
        let sheet = sheet(
            &["scrapping.main"],
            &[
                (0.0, &[1]),
                (10.0, &[3]),
                (20.0, &[2]),
                (30.0, &[3]),
                (40.0, &[0]),
            ],
        );
        let expected = [
            ("scrapping main 1", 0.0, 20.0),
            ("scrapping main 2", 10.0, 40.0),
            ("scrapping main 3", 10.0, 40.0),
            ("scrapping main 4", 30.0, 40.0),
        ];
        let seen = told(&sheet);
        assert_eq!(seen.len(), expected.len());
        for ((name, stands, home), expected) in seen.iter().zip(expected) {
            assert_eq!((name.as_str(), stands[0].0, *home), expected);
            assert_eq!(stands.len(), 1);
        }
    }

    #[test]
    fn a_fall_at_one_post_and_a_rise_at_another_at_the_same_instant_is_one_person_moving() {
        let sheet = sheet(
            &["scrapping.main", "unloading.main"],
            &[
                (0.0, &[1, 0]),
                (5.0, &[2, 0]),
                (20.0, &[0, 1]),
                (30.0, &[0, 0]),
            ],
        );
        // Both leave scrapping at 20: who came last moves on, who came first goes home.
        assert_eq!(
            told(&sheet),
            [
                ("scrapping main 1".to_owned(), vec![(0.0, 0)], 20.0),
                (
                    "scrapping main 2".to_owned(),
                    vec![(5.0, 0), (20.0, 1)],
                    30.0
                ),
            ]
        );
    }

    #[test]
    fn somebody_who_has_moved_is_still_as_long_there_as_they_have_been_at_work() {
        // The first comes at 0 and moves at 10; another comes to the second post at 5; at 20 one of the two goes home.
        let sheet = sheet(
            &["scrapping.main", "unloading.main"],
            &[
                (0.0, &[1, 0]),
                (5.0, &[1, 1]),
                (10.0, &[0, 2]),
                (20.0, &[0, 1]),
                (30.0, &[0, 0]),
            ],
        );
        let seen = told(&sheet);
        let homes: Vec<f64> = seen.iter().map(|(_, _, home)| *home).collect();
        assert_eq!(homes, [20.0, 30.0]);
    }

    #[test]
    fn the_people_at_each_post_are_those_of_the_sheet_at_every_instant() {
        let rows: Vec<(f64, Vec<u32>)> = (0..40_u32)
            .map(|k| {
                let count = |m: u32| if k == 39 { 0 } else { (k * m + k * k / 3) % 4 };
                (f64::from(k), vec![count(7), count(5), count(11)])
            })
            .collect();
        let rows: Vec<(f64, &[u32])> = rows.iter().map(|(at, c)| (*at, c.as_slice())).collect();
        let sheet = sheet(&["a", "b", "c"], &rows);
        let people = people(&sheet);
        for (at, counts) in &sheet.rows {
            for (column, &count) in counts.iter().enumerate() {
                let here = people.iter().filter(|who| {
                    let stands = who.stands.iter().rev().find(|(from, _)| from <= at);
                    stands.is_some_and(|(_, c)| *c == column) && who.home > *at
                });
                assert_eq!(here.count(), count as usize);
            }
        }
    }
}
