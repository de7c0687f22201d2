//! Lanes for filled racks.

use scullery_engine::line::{Lane, LaneKind};

use super::checker::{Checker, mm};
use super::trays::{speeds, stops};
use crate::defaults;
use crate::file::{LaneFile, ScenarioFile, ThenFile, WayFile};

/// Lanes, in order of name.
pub(crate) fn lanes(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Lane> {
    file.lane
        .iter()
        .map(|(name, written)| lane(check, name, written))
        .collect()
}

fn lane(check: &mut Checker<'_>, name: &str, written: &LaneFile) -> Lane {
    let path = format!("lane.{name}");
    let kind = match &written.way {
        WayFile::Unlimited => LaneKind::Shelf { room: None },
        WayFile::Shelf { racks } => LaneKind::Shelf { room: Some(*racks) },
        WayFile::Rollers {
            length_m,
            rack_m,
            speed_m_per_min,
            speed_by_clock,
        } => {
            let path = format!("{path}.way.rollers");
            let rack_m =
                check.or_default(*rack_m, &format!("{path}.rack_m"), &defaults::RACK_LENGTH);
            if *length_m < rack_m {
                let message =
                    format!("lane \"{name}\" of {length_m} m holds no rack of {rack_m} m");
                check.fault(
                    "lane-holds-none",
                    &format!("{path}.length_m"),
                    message,
                    "let it be at least one rack long",
                );
            }
            let first = check.or_default(
                *speed_m_per_min,
                &format!("{path}.speed_m_per_min"),
                &defaults::LANE_SPEED,
            );
            LaneKind::Rollers {
                length_mm: mm(*length_m).max(1),
                rack_mm: mm(rack_m).max(1),
                speed: speeds(check, &path, first, speed_by_clock),
            }
        }
    };
    if !written.stops.is_empty() && !matches!(kind, LaneKind::Rollers { .. }) {
        let message = format!("lane \"{name}\" is a shelf: nothing on it moves that could stop");
        check.fault(
            "shelf-stops",
            &format!("{path}.stops"),
            message,
            "leave `stops` out, or let the machine it feeds stop",
        );
    }
    for (index, stop) in written.stops.iter().enumerate() {
        if stop.then == Some(ThenFile::RunAgain) {
            let message = "a lane goes on where it stopped, it cannot run again".to_owned();
            check.fault(
                "belt-runs-again",
                &format!("{path}.stops.{index}.then"),
                message,
                "leave `then` out",
            );
        }
    }
    Lane {
        name: name.to_owned(),
        kind,
        stops: stops(check, &path, &written.stops),
    }
}

/// Racks a lane holds; `None`: as many as come.
pub(crate) fn lane_room(lane: &Lane) -> Option<u32> {
    match &lane.kind {
        LaneKind::Rollers {
            length_mm, rack_mm, ..
        } => Some(length_mm / rack_mm.max(&1)),
        LaneKind::Shelf { room } => *room,
    }
}
