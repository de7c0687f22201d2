//! Lanes for filled racks.

use scullery_engine::line::{Lane, LaneKind, Line};

use super::checker::{Checker, mm};
use super::gates::order;
use super::inclines::incline;
use super::names::Names;
use super::trays::{refuse_running_again, speeds, stops};
use crate::defaults;
use crate::file::{LaneFile, ScenarioFile, WayFile};
use crate::plan::Incline;

/// Lanes, in order of name, and of those that are inclined how racks run down.
pub(crate) fn lanes(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
) -> (Vec<Lane>, Vec<Option<Incline>>) {
    let each = file
        .lane
        .iter()
        .map(|(name, written)| lane(check, name, written, names));
    let (lanes, inclines): (Vec<Lane>, Vec<_>) = each.collect::<Vec<_>>().into_iter().unzip();
    series(check, file, &lanes);
    (lanes, inclines)
}

/// The lane that this one hands its racks to, by number; `None`: it feeds machines.
fn hands_to(names: &Names, to: &str) -> Option<u8> {
    let is_machine = names.machines.iter().any(|name| name == to);
    let lane = names.lanes.iter().position(|name| name == to);
    lane.filter(|_| !is_machine).map(|lane| lane as u8)
}

/// Complains of lanes that hand over in a circle, or to where there is room for nothing, or go two ways.
fn series(check: &mut Checker<'_>, file: &ScenarioFile, lanes: &[Lane]) {
    let line = Line {
        lanes: lanes.to_vec(),
        ..Line::default()
    };
    for (number, (name, written)) in (0_u8..).zip(&file.lane) {
        let Some(next) = lanes[usize::from(number)].hands_to else {
            continue;
        };
        let path = format!("lane.{name}");
        if !written.also_to.is_empty() {
            let message = format!(
                "lane \"{name}\" hands its racks to lane \"{}\" and cannot feed machines besides",
                written.to
            );
            let help = "let the last lane feed the machines";
            check.fault("goes-two-ways", &format!("{path}.also_to"), message, help);
        }
        if lanes[usize::from(line.last_lane(number))]
            .hands_to
            .is_some()
        {
            let message = format!("racks on lane \"{name}\" are handed from lane to lane for ever");
            let help = "let the last lane have `to` a machine";
            check.fault("goes-round", &format!("{path}.to"), message, help);
        } else if [usize::from(number), usize::from(next)]
            .iter()
            .any(|lane| matches!(lanes[*lane].kind, LaneKind::Shelf { room: Some(0) }))
        {
            let message = format!(
                "between lane \"{name}\" and lane \"{}\" no rack can be handed over: one has room for none",
                written.to
            );
            let help = "give both room for one rack or more";
            check.fault("too-small", &format!("{path}.to"), message, help);
        }
    }
}

fn lane(
    check: &mut Checker<'_>,
    name: &str,
    written: &LaneFile,
    names: &Names,
) -> (Lane, Option<Incline>) {
    let path = format!("lane.{name}");
    let mut inclined = None;
    let kind = match &written.way {
        WayFile::Incline(written) => {
            let (it, speed) = incline(check, name, written);
            inclined = Some(it);
            let path = format!("{path}.way.incline");
            let rack_m = rack_length(check, name, &path, written.length_m, written.rack_m);
            LaneKind::Rollers {
                length_mm: mm(written.length_m).max(1),
                rack_mm: mm(rack_m).max(1),
                speed: vec![(check.starts, speed)],
            }
        }
        WayFile::Unlimited => LaneKind::Shelf { room: None },
        WayFile::Shelf { racks } => LaneKind::Shelf { room: Some(*racks) },
        WayFile::Rollers {
            length_m,
            rack_m,
            speed_m_per_min,
            speed_by_clock,
        } => {
            let path = format!("{path}.way.rollers");
            let rack_m = rack_length(check, name, &path, *length_m, *rack_m);
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
    if written.order.is_some() && matches!(kind, LaneKind::Rollers { .. }) {
        let message = format!(
            "on lane \"{name}\" racks come to the end in the order in which they were put on"
        );
        let help = "leave `order` out, or say it of a shelf or of the piles of a racking table";
        check.fault("no-choice-there", &format!("{path}.order"), message, help);
    }
    refuse_running_again(check, &path, &written.stops, "a lane");
    let lane = Lane {
        name: name.to_owned(),
        kind,
        stops: stops(check, &path, &written.stops),
        hands_to: hands_to(names, &written.to),
        order: order(
            check,
            names,
            &format!("{path}.order"),
            written.order.as_ref(),
        ),
    };
    (lane, inclined)
}

/// Length of a rack, of which the lane must hold one.
fn rack_length(
    check: &mut Checker<'_>,
    name: &str,
    path: &str,
    length_m: f64,
    rack_m: Option<f64>,
) -> f64 {
    let rack_m = check.or_default(rack_m, &format!("{path}.rack_m"), &defaults::RACK_LENGTH);
    if length_m < rack_m {
        let message = format!("lane \"{name}\" of {length_m} m holds no rack of {rack_m} m");
        check.fault(
            "lane-holds-none",
            &format!("{path}.length_m"),
            message,
            "let it be at least one rack long",
        );
    }
    rack_m
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
