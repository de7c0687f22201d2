//! `scullery replay`: one lunch from her own numbers.

use std::path::Path;
use std::sync::atomic::Ordering;

use indicatif::ProgressBar;
use scullery_report::Origin;
use scullery_report::studies::{replayed_files, replayed_page};
use scullery_scenario::change::Change;
use scullery_scenario::notes::{Notes, read_notes};
use scullery_scenario::plan::Plan;
use scullery_scenario::sheet::{
    Columns, DateOrder, Decimal, Sheet, TimeReading, arrival_instants, interval_counts, render_rows,
};
use scullery_scenario::tape_file::{TapeFile, read_tape};
use scullery_study::replay::fit::Unknown;
use scullery_study::replay::lunch::{Arrivals, Stood};
use scullery_study::replay::play::{Replay, Stage, replay as play};

use crate::arguments::{DateOrderChoice, DecimalChoice};
use crate::arrangements::Start;
use crate::fit::read;
use crate::outcome::{Outcome, Stop};
use crate::progress::{bar_of, stop_on_interrupt};
use crate::study::units_words;
use crate::study::{Place, tell_study, threads};
use crate::study_arguments::ReplayArguments;
use crate::voice::tell;

/// Replays the lunch that the arguments name.
///
/// # Errors
/// When a table, the notes, the scenario or a change is wrong, the folder is somebody else's, or a run fails.
pub(crate) fn replay(arguments: &ReplayArguments) -> Result<Outcome, Stop> {
    let options = &arguments.options;
    let place = Place::claim(options)?;
    let start = Start::read(&arguments.from)?;
    let reading = TimeReading {
        starts: start.plan.line.starts,
        day: arguments.day.clone(),
        zone: arguments.zone.clone(),
        date_order: arguments.date_order.map(|order| match order {
            DateOrderChoice::DayFirst => DateOrder::DayFirst,
            DateOrderChoice::MonthFirst => DateOrder::MonthFirst,
        }),
    };
    let decimal = arguments.table.decimal.map(DecimalChoice::said);
    let hers = hers(arguments, &start.plan, &reading, decimal)?;
    let mut notices = hers.notices;
    let notes = match &arguments.seen {
        None => Notes::default(),
        Some(file) => {
            let (sheet, _) = read(file, &arguments.table)?;
            notices.extend(sheet.notices.iter().cloned());
            read_notes(&sheet, &start.plan, &reading, decimal)
                .map_err(|faults| Stop::wrong(render_rows(&sheet.name, &faults)))?
        }
    };
    let asked = Replay {
        arrivals: hers.arrivals,
        stood: hers.stood,
        from: hers.from,
        notices,
        notes: &notes,
        kept: hers.kept.as_ref(),
        unknowns: unknowns(&arguments.unknown, &start)?,
        lunches: arguments.repeats,
        points: arguments.points,
        remedies: !arguments.no_remedies,
        measure: arguments.measure.clone(),
        trays_seen: arguments.trays_seen,
        racks_seen: arguments.racks_washed,
        seed: options.seed,
        threads: threads(options),
    };
    let make = |changes: &[String]| -> Result<Plan, String> {
        let mut all = start.changes.clone();
        for change in changes {
            all.push(Change::parse(change)?);
        }
        start.document.changed(&all)
    };
    let stop = stop_on_interrupt();
    let quiet = options.quiet || options.json;
    let bars = [
        (Stage::Fitting, bar_of(1, "candidates", quiet)),
        (Stage::Lunches, bar_of(1, "lunches", quiet)),
        (Stage::Remedies, bar_of(1, "lunches with remedies", quiet)),
    ];
    let progress = |stage: Stage, done: u64, of: u64| {
        for (its, bar) in &bars {
            if *its == stage {
                bar.set_length(of);
                bar.set_position(done);
            }
        }
    };
    let result = play(&make, &asked, &progress, &stop);
    bars.iter()
        .for_each(|(_, bar)| ProgressBar::finish_and_clear(bar));
    let mut found = result.map_err(Stop::wrong)?;
    if found.repeats == 0 && stop.load(Ordering::SeqCst) {
        return Err(Stop::failed(
            "stopped before any lunch was complete; nothing was written",
        ));
    }
    if let Some(units) = options.units {
        units_words(units).clone_into(&mut found.heading.units);
    }
    let origin = Origin {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        name: found.heading.name.clone(),
        scenario: start.document.shown().to_owned(),
        hash: start.plan.hash.clone(),
        seed: found.seed,
        repeats: found.repeats,
        asked: found.asked,
    };
    let page = replayed_page(&found)?;
    tell_study(
        &found,
        &page,
        || replayed_files(&found, &origin),
        place,
        options,
    )?;
    if stop.load(Ordering::SeqCst) {
        tell("stopped early: what is told is what was complete");
        return Ok(Outcome::Failed);
    }
    Ok(Outcome::Done)
}

/// Her arrivals and where they are from.
struct Hers {
    arrivals: Arrivals,
    stood: Stood,
    from: String,
    notices: Vec<String>,
    kept: Option<TapeFile>,
}

fn hers(
    arguments: &ReplayArguments,
    plan: &Plan,
    reading: &TimeReading,
    decimal: Option<Decimal>,
) -> Result<Hers, Stop> {
    if let Some(file) = &arguments.meal {
        return kept(file, plan);
    }
    let (file, stood) = match (&arguments.till, &arguments.drop_off) {
        (Some(file), _) => (file, Stood::AtTheTill),
        (None, Some(file)) => (file, Stood::AtTheDropOff),
        (None, None) => {
            return Err(Stop::wrong(
                "nothing to replay: name a table with --till or --drop-off, or a kept meal with --meal",
            ));
        }
    };
    let (sheet, _) = read(file, &arguments.table)?;
    let wrong = |faults: Vec<_>| Stop::wrong(render_rows(&sheet.name, &faults));
    let (arrivals, notices) = if arguments.interval_columns {
        let date = arguments.date_column.as_deref().unwrap_or("date");
        let found = interval_counts(&sheet, date, decimal, reading).map_err(wrong)?;
        (Arrivals::Counts(found.edges, found.counts), found.notices)
    } else {
        let columns = Columns {
            time: arguments
                .time_column
                .clone()
                .unwrap_or_else(|| "time".to_owned()),
            date: arguments.date_column.clone(),
            count: arguments.count_column.clone(),
            decimal,
            sort: arguments.sort,
        };
        let found = arrival_instants(&sheet, &columns, reading).map_err(wrong)?;
        instants_or_counts(&sheet, found, arguments)?
    };
    let from = Path::new(&sheet.name)
        .file_name()
        .map_or(sheet.name.clone(), |n| n.to_string_lossy().into_owned());
    Ok(Hers {
        arrivals,
        stood,
        from,
        notices,
        kept: None,
    })
}

/// Instants as they are, or with `--interval-min` as the beginnings of intervals whose counts they are.
fn instants_or_counts(
    sheet: &Sheet,
    found: scullery_scenario::sheet::Instants,
    arguments: &ReplayArguments,
) -> Result<(Arrivals, Vec<String>), Stop> {
    let Some(minutes) = arguments.interval_min else {
        return Ok((Arrivals::Instants(found.at), found.notices));
    };
    let mut rows: Vec<(_, f64)> = Vec::new();
    for at in found.at {
        match rows.last_mut() {
            Some((last, count)) if *last == at => *count += 1.0,
            _ => rows.push((at, 1.0)),
        }
    }
    let counts = scullery_scenario::sheet::interval_rows(&rows, minutes, found.notices)
        .map_err(|faults| Stop::wrong(render_rows(&sheet.name, &faults)))?;
    Ok((
        Arrivals::Counts(counts.edges, counts.counts),
        counts.notices,
    ))
}

/// A kept meal: run again as it was; lunches like it have its covers at the till.
fn kept(file: &Path, plan: &Plan) -> Result<Hers, Stop> {
    let name = file.display().to_string();
    let unread = |why: String| Stop::wrong(format!("{name} cannot be read: {why}"));
    let about = std::fs::metadata(file).map_err(|why| unread(why.to_string()))?;
    if !about.is_file() || about.len() > (512 << 20) {
        return Err(unread("it is not a file of at most 512 MiB".to_owned()));
    }
    let text = std::fs::read_to_string(file).map_err(|why| unread(why.to_string()))?;
    let kept = read_tape(plan, &text).map_err(|faults| Stop::wrong(render_rows(&name, &faults)))?;
    let mut at: Vec<_> = kept
        .diners
        .iter()
        .filter(|diner| diner.begins)
        .map(|diner| diner.served)
        .collect();
    at.sort_unstable();
    let mut notices = vec![format!(
        "{name} is repeat {} of a study with seed {}.",
        kept.repeat, kept.seed
    )];
    if kept.scenario != plan.hash {
        notices.push(
            "It was drawn for another scenario: what happens here need not be what happened there."
                .to_owned(),
        );
    }
    Ok(Hers {
        arrivals: Arrivals::Instants(at),
        stood: Stood::AtTheTill,
        from: name,
        notices,
        kept: Some(kept),
    })
}

/// `scrapping.main.handling_s=3..8` as an unknown.
fn unknowns(texts: &[String], start: &Start) -> Result<Vec<Unknown>, Stop> {
    texts
        .iter()
        .map(|text| {
            let wrong = |what: &str| {
                Stop::wrong(format!(
                    "--unknown `{text}`: {what}; write for example --unknown 'scrapping.main.handling_s=3..8'"
                ))
            };
            let (path, range) = text.split_once('=').ok_or_else(|| wrong("there is no `=` with a range behind it"))?;
            let (low, high) = range.split_once("..").ok_or_else(|| wrong("the range is not LOW..HIGH"))?;
            let number = |text: &str| text.trim().parse::<f64>().ok().filter(|x| x.is_finite());
            let (Some(low), Some(high)) = (number(low), number(high)) else {
                return Err(wrong("a bound is no number"));
            };
            if low >= high {
                return Err(wrong("the lower bound is not below the upper one"));
            }
            let place = start.document.at(path.trim()).map_err(Stop::wrong)?;
            if place.whole {
                return Err(wrong("only whole numbers may stand there; those are compared, not fitted"));
            }
            Ok(Unknown { name: place.path, low, high })
        })
        .collect()
}
