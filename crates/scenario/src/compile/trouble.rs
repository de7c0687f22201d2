//! Jams, failures and stop stations: what they mean.

use scullery_engine::line::{AfterStop, Lane, LaneKind, Stands, Strikes, Trouble};

use super::checker::Checker;
use super::crew::post;
use super::names::Names;
use crate::file::{ScenarioFile, StrikesFile, ThenFile, TroubleFile};

/// Kinds of trouble, in order of name.
pub(crate) fn troubles(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    lanes: &[Lane],
) -> Vec<Trouble> {
    file.trouble
        .iter()
        .map(|(name, written)| trouble(check, name, written, names, lanes))
        .collect()
}

fn trouble(
    check: &mut Checker<'_>,
    name: &str,
    written: &TroubleFile,
    names: &Names,
    lanes: &[Lane],
) -> Trouble {
    let path = format!("trouble.{name}");
    let all = drives(names);
    let mut stops = Vec::new();
    for (index, what) in written.stops.iter().enumerate() {
        let path = format!("{path}.stops.{index}");
        let found = all.iter().find(|(name, _)| name == what);
        let Some((_, stands)) = found else {
            let known: Vec<String> = all.iter().map(|(name, _)| name.clone()).collect();
            check.find(&known, what, &path, "drive");
            continue;
        };
        if let Stands::Lane(lane) = stands
            && let Some(LaneKind::Shelf { .. }) = lanes.get(usize::from(*lane)).map(|l| &l.kind)
        {
            let message = format!("\"{what}\" is a shelf: it has no drive that could stand");
            check.fault("no-drive", &path, message, "name a lane of rollers");
        }
        if stops.contains(stands) {
            let message = format!("\"{what}\" stands twice in the list");
            check.fault("name-twice", &path, message, "keep one of the two");
            continue;
        }
        stops.push(*stands);
    }
    let has_machine = stops.iter().any(|what| matches!(what, Stands::Machine(_)));
    let then = match written.then {
        Some(ThenFile::RunAgain) if !has_machine && check.all_found(&["drive"]) => {
            let message = "belts, loops and lanes go on where they stopped, they cannot run again";
            check.fault(
                "belt-runs-again",
                &format!("{path}.then"),
                message.to_owned(),
                "leave `then` out",
            );
            AfterStop::Resume
        }
        Some(ThenFile::RunAgain) => AfterStop::RunAgain,
        Some(ThenFile::Resume) | None => AfterStop::Resume,
    };
    let strikes = match &written.strikes {
        StrikesFile::Per1000(many) => Strikes::Share(many / 1000.0),
        StrikesFile::Running { for_min } => {
            let path = format!("{path}.strikes.running.for_min");
            let dist = check.amount(&path, for_min);
            if dist.mean() <= 0.0 {
                let message = "the running time from one failure to the next must be above 0 min";
                check.fault(
                    "cycle-not-positive",
                    &path,
                    message.to_owned(),
                    "write for example `for_min = { exponential = { mean = 900 } }`",
                );
            }
            Strikes::RunningMin(dist)
        }
    };
    let clearing = check.amount(&format!("{path}.clearing_min"), &written.clearing_min);
    let mut by = Vec::new();
    for (index, name) in written.by.iter().enumerate() {
        by.extend(post(check, names, &format!("{path}.by.{index}"), name));
    }
    Trouble {
        name: name.to_owned(),
        stops,
        strikes,
        clearing_s: crate::moments::scaled(clearing, 60.0),
        by,
        then,
    }
}

/// Everything with a drive, by its written name.
fn drives(names: &Names) -> Vec<(String, Stands)> {
    let mut all = Vec::new();
    let mut add = |kind: &str, names: &[String], stands: fn(u8) -> Stands| {
        let each = names.iter().enumerate();
        all.extend(each.map(|(number, name)| (format!("{kind}.{name}"), stands(number as u8))));
    };
    add("belt", &names.belts, Stands::Belt);
    add("stacks", &names.stacks, Stands::StackBelt);
    add("accumulator", &names.accumulators, Stands::Accumulator);
    add("lane", &names.lanes, Stands::Lane);
    add("machine", &names.machines, Stands::Machine);
    all
}
