//! Dish machines: what they are, when they run, and that they keep to their data plates.

use scullery_engine::dist::Dist;
use scullery_engine::line::{Control, Lane, LaneKind, Line, Loading, Machine, MachineKind};
use scullery_engine::time::Span;

use super::checker::{Checker, mm};
use super::fittings;
use super::lanes::lane_room;
use super::names::{LEAVE, Names};
use super::placing::piece_um;
use super::trays::stops;
use crate::defaults;
use crate::describe::words;
use crate::file::{MachineFile, MachineType, PlateFile, RunsFile, ScenarioFile};
use crate::plan::Utilities;

/// Machines, in order of name.
pub(crate) fn machines(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    lanes: &[Lane],
) -> Vec<Machine> {
    let mut fed_by: Vec<Option<u8>> = vec![None; names.machines.len()];
    for (number, (name, lane)) in file.lane.iter().enumerate() {
        let more = lane.also_to.iter().enumerate();
        let more = more.map(|(index, to)| (to, format!("lane.{name}.also_to.{index}")));
        for (to, path) in std::iter::once((&lane.to, format!("lane.{name}.to"))).chain(more) {
            let hands_over = lanes
                .get(number)
                .is_some_and(|lane| lane.hands_to.is_some());
            if hands_over {
                continue;
            }
            let Some(machine) = check.find(&names.machines, to, &path, "machine") else {
                continue;
            };
            if let Some(other) = fed_by[machine] {
                let message = format!(
                    "machine \"{to}\" is fed by lane \"{}\" already",
                    names.lanes[usize::from(other)]
                );
                check.fault("two-lanes", &path, message, "feed each machine by one lane");
            }
            fed_by[machine] = Some(number as u8);
        }
    }
    let placed_on = |name: &String| file.placing.values().any(|it| it.machine == *name);
    file.machine
        .iter()
        .zip(fed_by)
        .map(|((name, written), from)| {
            if from.is_none() && !placed_on(name) && check.all_found(&["machine"]) {
                let message = format!("no lane feeds machine \"{name}\"");
                check.fault(
                    "never-fed",
                    &format!("machine.{name}"),
                    message,
                    format!("add a lane with `to = \"{name}\"`"),
                );
            }
            machine(check, name, written, names, from, lanes)
        })
        .collect()
}

fn machine(
    check: &mut Checker<'_>,
    name: &str,
    written: &MachineFile,
    names: &Names,
    from: Option<u8>,
    lanes: &[Lane],
) -> Machine {
    let path = format!("machine.{name}");
    let kind = kind(check, &written.kind, &path, names);
    if let Some(plate) = &written.plate {
        hold_to_plate(check, name, &kind, plate, &path);
    }
    let to = if written.to == LEAVE {
        None
    } else {
        check
            .find(
                &names.clean_ends,
                &written.to,
                &format!("{path}.to"),
                "clean end",
            )
            .map(|number| number as u8)
    };
    let control = match &written.runs {
        RunsFile::Throughout => Control::RunsThroughout,
        RunsFile::HoldAndRun {
            racks,
            work_min,
            longest_wait_min,
        } => {
            if racks.is_none() && work_min.is_none() {
                let message = "hold-and-run needs a number of racks or minutes of work".to_owned();
                check.fault(
                    "missing-key",
                    &format!("{path}.runs.hold_and_run"),
                    message,
                    "add for example `racks = 8` or `work_min = 10`",
                );
            }
            let racks = racks.unwrap_or(u32::MAX);
            if let Some(room) = from
                .filter(|from| {
                    lanes
                        .get(usize::from(*from))
                        .is_some_and(|it| !is_too_short(it))
                })
                .and_then(|from| room_behind(lanes, from))
                .filter(|room| racks > *room && racks < u32::MAX)
            {
                let message = format!(
                    "machine \"{name}\" waits for {racks} racks, but its lane holds {room}"
                );
                let help = match room {
                    0 => "let it run throughout, or give the lane room".to_owned(),
                    _ => format!("write at most {room}, or make the lane longer"),
                };
                check.fault(
                    "hold-more-than-lane",
                    &format!("{path}.runs.hold_and_run.racks"),
                    message,
                    help,
                );
            }
            Control::HoldAndRun {
                racks,
                longest_wait: longest_wait_min.map(Span::from_min),
                work: work_min.map(Span::from_min),
            }
        }
    };
    let on_at = written.on_at.as_ref().map_or(check.starts, |text| {
        check.clock(&format!("{path}.on_at"), text)
    });
    let off_at = written
        .off_at
        .as_ref()
        .map(|text| check.clock(&format!("{path}.off_at"), text));
    if let Some(off_at) = off_at.filter(|off_at| *off_at <= on_at) {
        let message = format!(
            "machine \"{name}\" is switched off at {}, not after it is switched on at {}",
            words::clock(off_at),
            words::clock(on_at)
        );
        check.fault(
            "times-out-of-order",
            &format!("{path}.off_at"),
            message,
            "switch it off later",
        );
    }
    let heat_up = check.or_default(
        written.heat_up_min,
        &format!("{path}.heat_up_min"),
        &defaults::HEAT_UP,
    );
    let start_s = match &written.start_s {
        Some(amount) => check.amount(&format!("{path}.start_s"), amount),
        None => Dist::Constant(0.0),
    };
    let no_room = |lane: &Lane| !is_too_short(lane) && lane_room(lane) == Some(0);
    if written.loading.is_some()
        && from
            .and_then(|from| lanes.get(usize::from(from)))
            .is_some_and(no_room)
    {
        let message = format!(
            "machine \"{name}\" is loaded by hand, but no rack can wait on its lane to be taken in hand"
        );
        check.fault(
            "no-room-to-load",
            &format!("{path}.loading"),
            message,
            "give the lane room for one rack or more, or leave `loading` out",
        );
    }
    let loading = written.loading.as_ref().map(|loading| {
        let path = format!("{path}.loading");
        Loading {
            rack_s: check.or_default(
                loading.rack_s,
                &format!("{path}.rack_s"),
                &defaults::LOAD_RACK,
            ),
            variation: check.varies(
                &format!("{path}.varies"),
                loading.varies.as_ref(),
                &defaults::LOAD_CV,
            ),
            places: loading.places.unwrap_or(1),
        }
    });
    Machine {
        name: name.to_owned(),
        kind,
        from,
        to,
        control,
        on_at,
        off_at,
        heat_up: Span::from_min(heat_up),
        start_s,
        stops: stops(check, &path, &written.stops),
        loading,
        gap: Span::from_s(written.gap_s.unwrap_or(0.0)),
        tank: written
            .water_change
            .as_ref()
            .map(|change| fittings::water_change(check, change, &path, heat_up)),
        // What a rack's rinse takes is known when the machine's draws are.
        hot_water: None,
        dosing: None,
        dries_to: written
            .blow_dryer
            .as_ref()
            .and_then(|dryer| dryer.drying_left_share)
            .map_or(1000, |share| (share * 1000.0).round() as u16),
    }
}

/// Racks that a lane and those which hand over to it hold; `None`: as many as come.
fn room_behind(lanes: &[Lane], from: u8) -> Option<u32> {
    let line = Line {
        lanes: lanes.to_vec(),
        ..Line::default()
    };
    line.room_behind(from)
}

/// Whether a lane is complained about already: too short for a rack.
fn is_too_short(lane: &Lane) -> bool {
    matches!(lane.kind, LaneKind::Rollers { .. }) && lane_room(lane) == Some(0)
}

/// Hot water and detergent of each machine, once what it draws is known.
pub(crate) fn supplies(machines: &mut [Machine], file: &ScenarioFile, utilities: &[Utilities]) {
    for ((machine, written), uses) in machines
        .iter_mut()
        .zip(file.machine.values())
        .zip(utilities)
    {
        let hot_water = written.hot_water.as_ref();
        machine.hot_water = hot_water.map(|store| fittings::hot_water(store, uses));
        let detergent = written.detergent.as_ref();
        machine.dosing = detergent.map(|reservoir| fittings::dosing(reservoir, uses));
    }
}

fn kind(check: &mut Checker<'_>, written: &MachineType, path: &str, names: &Names) -> MachineKind {
    let piece_um = piece_um(check, written, path, names);
    match written {
        MachineType::Door {
            batch_racks,
            cycle_s,
        } => {
            let path = format!("{path}.type.door.cycle_s");
            let cycle_s = check.amount(&path, cycle_s);
            if cycle_s.mean() <= 0.0 {
                check.fault(
                    "cycle-not-positive",
                    &path,
                    "a wash cycle must last longer than 0 s, found 0".to_owned(),
                    "write the length of one cycle, for example `cycle_s = 60`",
                );
            }
            MachineKind::Door {
                batch: batch_racks.unwrap_or(1),
                cycle_s,
            }
        }
        MachineType::Conveyor {
            pitch_m,
            tunnel_m,
            rinse_from_m,
            rinse_to_m,
            speed_m_per_min,
        } => {
            let path = format!("{path}.type.conveyor");
            MachineKind::Conveyor {
                pitch_mm: mm(*pitch_m).max(1),
                tunnel_mm: mm(*tunnel_m).max(1),
                rinse_mm: rinse_zone(
                    check,
                    &path,
                    *tunnel_m,
                    *pitch_m,
                    *rinse_from_m,
                    *rinse_to_m,
                ),
                speed_mm_min: mm(*speed_m_per_min).max(1),
            }
        }
        MachineType::Flight {
            tunnel_m,
            rinse_from_m,
            rinse_to_m,
            speed_m_per_min,
            rack_m,
            ..
        } => {
            let path = format!("{path}.type.flight");
            let key = format!("{path}.rack_m");
            let rack_m = check.or_default(*rack_m, &key, &defaults::FLIGHT_RACK);
            MachineKind::Flight {
                tunnel_mm: mm(*tunnel_m).max(1),
                rinse_mm: rinse_zone(check, &path, *tunnel_m, 0.5, *rinse_from_m, *rinse_to_m),
                speed_mm_min: mm(*speed_m_per_min).max(1),
                piece_um,
                rack_mm: mm(rack_m).max(1),
            }
        }
    }
}

/// Where the final rinse begins and ends, mm from the mouth of the tunnel; without both, the last `length_m` of it.
fn rinse_zone(
    check: &mut Checker<'_>,
    path: &str,
    tunnel_m: f64,
    length_m: f64,
    rinse_from_m: Option<f64>,
    rinse_to_m: Option<f64>,
) -> (u32, u32) {
    if (rinse_from_m.is_some()) != (rinse_to_m.is_some()) {
        let message = "the rinse zone needs both its beginning and its end".to_owned();
        check.fault(
            "missing-key",
            path,
            message,
            "give `rinse_from_m` and `rinse_to_m`, or neither",
        );
    }
    let from = rinse_from_m.unwrap_or((tunnel_m - length_m).max(0.0));
    let to = rinse_to_m.unwrap_or(tunnel_m);
    if from >= to || to > tunnel_m {
        let message = format!(
            "the rinse zone must lie in the tunnel of {tunnel_m} m, found {from} to {to} m"
        );
        let key = if rinse_to_m.is_some() {
            "rinse_to_m"
        } else {
            "tunnel_m"
        };
        check.fault(
            "rinse-outside-tunnel",
            &format!("{path}.{key}"),
            message,
            "give its beginning and end from the mouth of the tunnel",
        );
    }
    (mm(from), mm(to))
}

/// Racks an hour a machine takes at most.
pub(crate) fn racks_per_h(kind: &MachineKind) -> f64 {
    match kind {
        MachineKind::Door { batch, cycle_s } => {
            f64::from(*batch) * 3600.0 / cycle_s.mean().max(1e-6)
        }
        MachineKind::Conveyor {
            pitch_mm,
            speed_mm_min,
            ..
        } => 60.0 * f64::from(*speed_mm_min) / f64::from((*pitch_mm).max(1)),
        MachineKind::Flight {
            rack_mm,
            speed_mm_min,
            ..
        } => 60.0 * f64::from(*speed_mm_min) / f64::from((*rack_mm).max(1)),
    }
}

/// Most pieces an hour the belt of a flight machine takes of one class; `None` for the others.
pub(crate) fn most_pieces_per_h(kind: &MachineKind) -> Option<f64> {
    let MachineKind::Flight {
        speed_mm_min,
        piece_um,
        ..
    } = kind
    else {
        return None;
    };
    let least = piece_um.iter().copied().filter(|&um| um > 0).min()?;
    Some(60_000.0 * f64::from(*speed_mm_min) / f64::from(least))
}

/// Never faster than the data plate (Food Code 4-204.113 and 4-501.15): what the plate states are limits.
fn hold_to_plate(
    check: &mut Checker<'_>,
    name: &str,
    kind: &MachineKind,
    plate: &PlateFile,
    path: &str,
) {
    // Speeds on a plate are rounded; half a percent is not a faster machine.
    const ROUNDING: f64 = 1.005;
    let help = "a machine is run by its data plate: slow it down, or read the plate again";
    let (rate_key, rate) = match kind {
        MachineKind::Door { .. } => ("type.door.cycle_s", racks_per_h(kind)),
        MachineKind::Conveyor { .. } => ("type.conveyor.speed_m_per_min", racks_per_h(kind)),
        MachineKind::Flight { .. } => ("type.flight.speed_m_per_min", racks_per_h(kind)),
    };
    if let Some(most) = plate
        .racks_per_h
        .filter(|most| rate > most * ROUNDING && matches!(kind, MachineKind::Conveyor { .. }))
    {
        let message = format!(
            "machine \"{name}\" would take {rate:.0} racks an hour, more than the {most} of its data plate"
        );
        check.fault(
            "faster-than-plate",
            &format!("{path}.{rate_key}"),
            message,
            help,
        );
        return;
    }
    // A plate's pieces an hour are rounded to hundreds: one percent is not a faster machine.
    if let (Some(most), Some(pieces)) = (plate.pieces_per_h, most_pieces_per_h(kind))
        && pieces > most * 1.01
    {
        let message = format!(
            "machine \"{name}\" would take {pieces:.0} pieces an hour, more than the {most} of its data plate"
        );
        check.fault(
            "faster-than-plate",
            &format!("{path}.type.flight.speed_m_per_min"),
            message,
            help,
        );
        return;
    }
    match kind {
        MachineKind::Conveyor { speed_mm_min, .. } | MachineKind::Flight { speed_mm_min, .. } => {
            let speed = f64::from(*speed_mm_min) / 1000.0;
            if let Some(most) = plate.speed_m_per_min.filter(|most| speed > most * ROUNDING) {
                let message = format!(
                    "machine \"{name}\" runs at {speed} m/min, faster than the {most} m/min of its data plate"
                );
                check.fault(
                    "faster-than-plate",
                    &format!("{path}.{rate_key}"),
                    message,
                    help,
                );
            }
        }
        MachineKind::Door { cycle_s, .. } => {
            let shortest = shortest(cycle_s);
            if let Some(least) = plate.cycle_s.filter(|least| shortest * ROUNDING < *least) {
                let message = format!(
                    "machine \"{name}\" has cycles of {shortest} s, shorter than the {least} s of its data plate"
                );
                check.fault(
                    "faster-than-plate",
                    &format!("{path}.{rate_key}"),
                    message,
                    help,
                );
            }
        }
    }
}

/// The shortest cycle a distribution names: its least value where it has one, else its mean.
fn shortest(dist: &Dist) -> f64 {
    match dist {
        Dist::Triangular { min, .. } | Dist::Pert { min, .. } | Dist::Uniform { min, .. } => *min,
        Dist::Empirical(readings) => readings.iter().copied().fold(f64::INFINITY, f64::min),
        other => other.mean(),
    }
}
