//! Drop-offs and the tables their trays go to; speeds and stops by the clock.

use scullery_engine::line::{
    Accumulator, AfterStop, Belt, Closing, DropOff, Stop, Table, TraysTo, Twin,
};
use scullery_engine::time::SimTime;

use super::accumulators;
use super::belts;
use super::checker::{Checker, mm};
use super::names::Names;
use super::receivers;
use crate::defaults;
use crate::describe::words;
use crate::file::{ClockedSpeed, ClosesFile, DropOffFile, ScenarioFile, StopFile, ThenFile};

/// Drop-offs, in order of name.
pub(crate) fn drop_offs(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    (belts, twins): (&[Belt], &[Twin]),
    loops: &[Accumulator],
) -> Vec<DropOff> {
    file.drop_off
        .iter()
        .map(|(name, written)| {
            let path = format!("drop_off.{name}");
            let to = trays_to(check, names, &written.to, &format!("{path}.to"));
            let put_down_s = match &written.put_down_s {
                Some(amount) => check.amount(&format!("{path}.put_down_s"), amount),
                None => {
                    check.note(&format!("{path}.put_down_s"), &defaults::PUT_DOWN);
                    scullery_engine::dist::Dist::Constant(defaults::PUT_DOWN.value)
                }
            };
            let opens = written
                .opens
                .as_ref()
                .map(|text| check.clock(&format!("{path}.opens"), text));
            let closes = match &written.closes {
                None | Some(ClosesFile::AfterLast) => Closing::AfterLast,
                Some(ClosesFile::At(text)) => {
                    Closing::At(check.clock(&format!("{path}.closes.at"), text))
                }
                Some(ClosesFile::Never) => {
                    if file.meal.ends_at.is_none() {
                        let message = format!(
                            "drop-off \"{name}\" never closes, but the meal has no stated end"
                        );
                        check.fault(
                            "never-ends",
                            &format!("{path}.closes"),
                            message,
                            "add `meal.ends_at`, or let it close \"after_last\"",
                        );
                    }
                    Closing::Never
                }
            };
            if let (Some(opens), Closing::At(closes)) = (opens, closes)
                && closes <= opens
            {
                let message = format!(
                    "drop-off \"{name}\" closes at {}, not after it opens at {}",
                    words::clock(closes),
                    words::clock(opens)
                );
                check.fault(
                    "times-out-of-order",
                    &format!("{path}.closes.at"),
                    message,
                    "let it close later",
                );
            }
            let positions_mm = positions(check, written, &path, to, (belts, loops));
            belts::reach(check, &path, to, &positions_mm, (belts, twins));
            DropOff {
                name: name.clone(),
                positions_mm,
                put_down_s,
                opens,
                closes,
                to: to.unwrap_or(TraysTo::Table(0)),
                aids: receivers::diners_do(check, &written.diners_do, &path, names),
            }
        })
        .collect()
}

/// The belt, accumulator or table called `name`.
pub(crate) fn trays_to(
    check: &mut Checker<'_>,
    names: &Names,
    name: &str,
    path: &str,
) -> Option<TraysTo> {
    if let Some(belt) = names.belts.iter().position(|known| known == name) {
        return Some(TraysTo::Belt(belt as u8));
    }
    if let Some(it) = names.accumulators.iter().position(|known| known == name) {
        return Some(TraysTo::Accumulator(it as u8));
    }
    if let Some(table) = names.tables.iter().position(|known| known == name) {
        return Some(TraysTo::Table(table as u8));
    }
    let ways = names.belts.iter().chain(&names.accumulators);
    let ways: Vec<String> = ways.chain(&names.tables).cloned().collect();
    check.find(&ways, name, path, "belt, accumulator or table");
    None
}

fn positions(
    check: &mut Checker<'_>,
    written: &DropOffFile,
    path: &str,
    to: Option<TraysTo>,
    (belts, loops): (&[Belt], &[Accumulator]),
) -> Vec<u32> {
    if let (Some(_), Some(_)) = (&written.positions, &written.positions_m) {
        let message =
            "`positions` says how many positions there are, and so does `positions_m`".to_owned();
        check.fault(
            "said-twice",
            &format!("{path}.positions"),
            message,
            "keep one of the two",
        );
    }
    let (belt, round) = match to {
        Some(TraysTo::Belt(number)) => (belts.get(usize::from(number)), None),
        Some(TraysTo::Accumulator(number)) => (None, loops.get(usize::from(number))),
        _ => (None, None),
    };
    // The surface ends, or begins anew, there.
    let ends = belt
        .map(|belt| (belt.length_mm, "belt"))
        .or(round.map(|round| (round.loop_mm, "loop")));
    match (&written.positions_m, ends) {
        (Some(given), Some((length_mm, what))) => {
            for (index, metres) in given.iter().enumerate() {
                if mm(*metres) >= length_mm {
                    let length = f64::from(length_mm) / 1000.0;
                    let message = format!(
                        "a load point must lie before the end of the {what} at {length} m, found {metres} m"
                    );
                    check.fault(
                        "off-the-belt",
                        &format!("{path}.positions_m.{index}"),
                        message,
                        format!("move it upstream, or make the {what} longer"),
                    );
                }
            }
            let mut points: Vec<u32> = given.iter().copied().map(mm).collect();
            points.sort_unstable_by(|one, other| other.cmp(one));
            points
        }
        (Some(given), None) => vec![0; given.len()],
        (None, _) if let Some(round) = round => {
            accumulators::positions(check, written.positions.unwrap_or(1), path, round)
        }
        (None, _) if let Some(belt) = belt => {
            let many = written.positions.unwrap_or(1);
            let room = (belt.length_mm - 1) / belt.spacing_mm.max(1) + 1;
            if many > room {
                let message = format!(
                    "{many} positions one spacing apart do not fit beside belt \"{}\", which has room for {room}",
                    belt.name
                );
                check.fault(
                    "off-the-belt",
                    &format!("{path}.positions"),
                    message,
                    "give their load points with `positions_m`",
                );
            }
            (0..many.min(room))
                .rev()
                .map(|number| number * belt.spacing_mm)
                .collect()
        }
        (None, _) => vec![0; written.positions.unwrap_or(1) as usize],
    }
}

/// Speeds in mm a minute from each clock time on; the first holds from the start.
pub(crate) fn speeds(
    check: &mut Checker<'_>,
    path: &str,
    first: f64,
    later: &[ClockedSpeed],
) -> Vec<(SimTime, u32)> {
    let texts: Vec<&String> = later.iter().map(|step| &step.from).collect();
    let times = check.rising(
        |index| format!("{path}.speed_by_clock.{index}.from"),
        &texts,
    );
    let later = times
        .into_iter()
        .zip(later)
        .map(|(from, step)| (from, mm(step.speed_m_per_min).max(1)));
    std::iter::once((check.starts, mm(first).max(1)))
        .chain(later)
        .collect()
}

/// Complains where a surface, which goes on where it stopped, is told to run again.
pub(crate) fn refuse_running_again(
    check: &mut Checker<'_>,
    path: &str,
    stops: &[StopFile],
    what: &str,
) {
    for (index, stop) in stops.iter().enumerate() {
        if stop.then == Some(ThenFile::RunAgain) {
            check.fault(
                "belt-runs-again",
                &format!("{path}.stops.{index}.then"),
                format!("{what} goes on where it stopped, it cannot run again"),
                "leave `then` out",
            );
        }
    }
}

/// Stops in clock order, not overlapping.
pub(crate) fn stops(check: &mut Checker<'_>, path: &str, written: &[StopFile]) -> Vec<Stop> {
    let mut stops: Vec<Stop> = Vec::with_capacity(written.len());
    for (index, stop) in written.iter().enumerate() {
        let path = format!("{path}.stops.{index}");
        let from = check.clock(&format!("{path}.from"), &stop.from);
        let to = check.clock_after(&format!("{path}.to"), &stop.to, from);
        if let Some(last) = stops.last().filter(|last| from < last.to) {
            let message = format!(
                "stops must follow each other, found {} before the end of the last at {}",
                stop.from,
                words::clock(last.to)
            );
            check.fault(
                "times-out-of-order",
                &format!("{path}.from"),
                message,
                "put them in clock order, or join them",
            );
        }
        let then = match stop.then {
            Some(ThenFile::RunAgain) => AfterStop::RunAgain,
            Some(ThenFile::Resume) | None => AfterStop::Resume,
        };
        stops.push(Stop { from, to, then });
    }
    stops
}

/// Tables, in order of name.
pub(crate) fn tables(file: &ScenarioFile) -> Vec<Table> {
    file.table
        .iter()
        .map(|(name, written)| Table {
            name: name.clone(),
            room: written.room_trays,
        })
        .collect()
}
