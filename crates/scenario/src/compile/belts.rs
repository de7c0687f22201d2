//! Belts for soiled trays, and those that run beside another.

use scullery_engine::line::{Belt, EndRule, TraysTo, Twin, TwinTakes};

use super::checker::{Checker, mm};
use super::names::Names;
use super::trays::{refuse_running_again, speeds, stops};
use crate::defaults;
use crate::file::{BesideTakesFile, CurveFile, EndsFile, ScenarioFile};
use crate::plan::BeltFacts;

/// Belts, in order of name.
pub(crate) fn belts(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Belt> {
    let each = file.belt.iter().map(|(name, written)| {
        let path = format!("belt.{name}");
        let spacing_m = check.or_default(
            written.spacing_m,
            &format!("{path}.spacing_m"),
            &defaults::SPACING,
        );
        let first = check.or_default(
            written.speed_m_per_min,
            &format!("{path}.speed_m_per_min"),
            &defaults::BELT_SPEED,
        );
        let length_m = facts(written.length_m, &written.curves, None).way_m();
        let rule = rule(
            check,
            (&path, name),
            "trays",
            (length_m, spacing_m),
            &written.ends,
        );
        refuse_running_again(check, &path, &written.stops, "a belt");
        Belt {
            name: name.clone(),
            length_mm: mm(length_m).max(1),
            spacing_mm: mm(spacing_m).max(1),
            speed: speeds(check, &path, first, &written.speed_by_clock),
            rule,
            stops: stops(check, &path, &written.stops),
        }
    });
    each.collect()
}

/// What happens at the end; complains where things lie, or sections are, longer than the belt.
pub(super) fn rule(
    check: &mut Checker<'_>,
    (path, name): (&str, &str),
    things: &str,
    (length_m, spacing_m): (f64, f64),
    ends: &EndsFile,
) -> EndRule {
    let rounded = defaults::rounded;
    if spacing_m > length_m {
        let message = format!(
            "{things} lie at least {spacing_m} m apart, more than the {} m of belt \"{name}\"",
            rounded(length_m)
        );
        check.fault(
            "too-large",
            &format!("{path}.spacing_m"),
            message,
            "let the spacing be at most the length",
        );
    }
    match *ends {
        EndsFile::StopsOnArrival => EndRule::StopsOnArrival,
        EndsFile::ClosesUp => EndRule::ClosesUp,
        EndsFile::AdvancesOnDemand { section_m } => {
            if section_m > length_m {
                let message = format!(
                    "a section of {section_m} m is longer than belt \"{name}\" of {} m",
                    rounded(length_m)
                );
                check.fault(
                    "too-large",
                    &format!("{path}.ends.advances_on_demand.section_m"),
                    message,
                    "let a section be at most the length",
                );
            }
            EndRule::AdvancesOnDemand {
                section_mm: mm(section_m).max(1),
            }
        }
    }
}

/// The lengths a belt is made of.
pub(super) fn facts(straight_m: f64, curves: &[CurveFile], return_run_m: Option<f64>) -> BeltFacts {
    let arc = |curve: &CurveFile| curve.radius_m * curve.angle_deg.unwrap_or(90.0).to_radians();
    BeltFacts {
        straight_m,
        curves: curves.len() as u32,
        curves_m: curves.iter().map(arc).sum(),
        return_run_m,
    }
}

/// The lengths of all belts: those for trays, then those for stacks.
pub(crate) fn all_facts(file: &ScenarioFile) -> (Vec<BeltFacts>, Vec<BeltFacts>) {
    let trays = file.belt.values();
    let trays = trays.map(|it| facts(it.length_m, &it.curves, it.return_run_m));
    let stacks = file.stacks.values();
    let stacks = stacks.map(|it| facts(it.length_m, &it.curves, it.return_run_m));
    (trays.collect(), stacks.collect())
}

/// Belts that run beside another.
pub(crate) fn twins(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Twin> {
    let mut twins = Vec::new();
    for (number, (name, written)) in file.belt.iter().enumerate() {
        let Some(beside) = &written.beside else {
            continue;
        };
        let path = format!("belt.{name}.beside");
        let key = format!("{path}.belt");
        let Some(belt) = check.find(&names.belts, &beside.belt, &key, "belt") else {
            continue;
        };
        let other = file.belt.get(&beside.belt);
        if beside.belt == *name || other.is_some_and(|other| other.beside.is_some()) {
            let message = format!(
                "belt \"{name}\" runs beside \"{}\", which {}",
                beside.belt,
                match beside.belt == *name {
                    true => "is itself",
                    false => "runs beside another",
                }
            );
            let help = "name the belt that the drop-offs lead to";
            check.fault("beside-nothing", &key, message, help);
            continue;
        }
        let takes = match &beside.takes {
            BesideTakesFile::Kinds(kinds) => TwinTakes::Kinds(named(
                check,
                &names.kinds,
                kinds,
                &format!("{path}.takes.kinds"),
                "kind of diner",
            )),
            BesideTakesFile::Ware(ware) => TwinTakes::Ware(named(
                check,
                &names.ware,
                ware,
                &format!("{path}.takes.ware"),
                "ware",
            )),
            BesideTakesFile::NoGap => TwinTakes::NoGap,
        };
        twins.push(Twin {
            belt: belt as u8,
            beside: number as u8,
            takes,
        });
    }
    twins
}

/// Which of the known are named.
fn named(
    check: &mut Checker<'_>,
    known: &[String],
    list: &[String],
    path: &str,
    what: &'static str,
) -> Vec<bool> {
    let mut is_named = vec![false; known.len()];
    for (index, name) in list.iter().enumerate() {
        if let Some(number) = check.find(known, name, &format!("{path}.{index}"), what) {
            is_named[number] = true;
        }
    }
    is_named
}

/// Complains where a load point lies past the end of a belt beside.
pub(super) fn reach(
    check: &mut Checker<'_>,
    path: &str,
    to: Option<TraysTo>,
    positions_mm: &[u32],
    (belts, twins): (&[Belt], &[Twin]),
) {
    for twin in twins {
        let Some(belt) = belts.get(usize::from(twin.beside)) else {
            continue;
        };
        let past = positions_mm.iter().find(|&&at| at >= belt.length_mm);
        if let (Some(&at), true) = (past, to == Some(TraysTo::Belt(twin.belt))) {
            let m = |mm: u32| defaults::rounded(f64::from(mm) / 1000.0);
            let message = format!(
                "a load point at {} m lies past the end of belt \"{}\" beside, at {} m",
                m(at),
                belt.name,
                m(belt.length_mm)
            );
            let help = "move it upstream, or make the belt longer";
            check.fault("off-the-belt", path, message, help);
        }
    }
}
