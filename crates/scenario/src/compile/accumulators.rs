//! Tray accumulators.

use scullery_engine::line::{Accumulator, Reach};

use super::checker::{Checker, mm};
use super::trays::{refuse_running_again, speeds, stops};
use crate::defaults;
use crate::file::{AccumulatorFile, ScenarioFile, ScrappingFile};

/// Carriers nearer than this are refused: no tray is so narrow.
const LEAST_APART_M: f64 = 0.25;

/// Tray accumulators, in order of name.
pub(crate) fn accumulators(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Accumulator> {
    file.accumulator
        .iter()
        .map(|(name, written)| accumulator(check, name, written))
        .collect()
}

fn accumulator(check: &mut Checker<'_>, name: &str, written: &AccumulatorFile) -> Accumulator {
    let path = format!("accumulator.{name}");
    let reach_m = check.or_default(
        written.reach_m,
        &format!("{path}.reach_m"),
        &defaults::LOOP_REACH,
    );
    let first = check.or_default(
        written.speed_m_per_min,
        &format!("{path}.speed_m_per_min"),
        &defaults::LOOP_SPEED,
    );
    let apart_m = written.loop_m / f64::from(written.carriers);
    if apart_m < LEAST_APART_M {
        let message = format!(
            "{} carriers on {} m of loop stand {:.0} mm apart, less than a tray is wide",
            written.carriers,
            written.loop_m,
            apart_m * 1000.0
        );
        let most = (written.loop_m / LEAST_APART_M).floor();
        check.fault(
            "too-large",
            &format!("{path}.carriers"),
            message,
            format!("let there be at most {most}, or make the loop longer"),
        );
    }
    refuse_running_again(check, &path, &written.stops, "an accumulator");
    Accumulator {
        name: name.to_owned(),
        carriers: written.carriers,
        tiers: written.tiers,
        loop_mm: mm(written.loop_m).max(1),
        reach_mm: mm(reach_m),
        speed: speeds(check, &path, first, &written.speed_by_clock),
        stops: stops(check, &path, &written.stops),
    }
}

/// Load points one carrier apart from the mark, the most downstream first.
pub(crate) fn positions(
    check: &mut Checker<'_>,
    many: u32,
    path: &str,
    accumulator: &Accumulator,
) -> Vec<u32> {
    if many > accumulator.carriers {
        let message = format!(
            "{many} positions one carrier apart do not fit along accumulator \"{}\" of {} carriers",
            accumulator.name, accumulator.carriers
        );
        check.fault(
            "off-the-belt",
            &format!("{path}.positions"),
            message,
            "give their load points with `positions_m`",
        );
    }
    let apart = accumulator.loop_mm / accumulator.carriers.max(1);
    (0..many.min(accumulator.carriers))
        .rev()
        .map(|number| number * apart)
        .collect()
}

/// Where a post stands along the loop and how far it reaches.
pub(crate) fn reach(
    check: &mut Checker<'_>,
    written: &ScrappingFile,
    path: &str,
    accumulator: Option<&Accumulator>,
) -> Reach {
    let each_side_m = check.or_default(
        written.reach_m,
        &format!("{path}.reach_m"),
        &defaults::LOOP_REACH,
    );
    let loop_mm = accumulator.map_or(u32::MAX, |it| it.loop_mm);
    let at_mm = written.takes_at_m.map_or(loop_mm / 2, mm);
    if at_mm >= loop_mm {
        let message = format!(
            "the point at {} m lies past the end of the loop of {} m",
            f64::from(at_mm) / 1000.0,
            f64::from(loop_mm) / 1000.0
        );
        check.fault(
            "off-the-belt",
            &format!("{path}.takes_at_m"),
            message,
            "leave it out to stand half-way round",
        );
    }
    Reach {
        at_mm,
        each_side_mm: mm(each_side_m),
    }
}
