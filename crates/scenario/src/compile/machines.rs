//! Dish machines: what they are, when they run, and that they keep to their data plates.

use scullery_engine::dist::Dist;
use scullery_engine::line::{Control, Lane, LaneKind, Loading, Machine, MachineKind};
use scullery_engine::time::Span;

use super::checker::{Checker, mm};
use super::lanes::lane_room;
use super::names::{LEAVE, Names};
use super::trays::stops;
use crate::defaults;
use crate::describe::words;
use crate::file::{MachineFile, MachineType, PlateFile, RunsFile, ScenarioFile};

/// Machines, in order of name.
pub(crate) fn machines(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    lanes: &[Lane],
) -> Vec<Machine> {
    let mut fed_by: Vec<Option<u8>> = vec![None; names.machines.len()];
    for (number, (name, lane)) in file.lane.iter().enumerate() {
        let path = format!("lane.{name}.to");
        let Some(machine) = check.find(&names.machines, &lane.to, &path, "machine") else {
            continue;
        };
        if let Some(other) = fed_by[machine] {
            let message = format!(
                "machine \"{}\" is fed by lane \"{}\" already",
                lane.to,
                names.lanes[usize::from(other)]
            );
            check.fault("two-lanes", &path, message, "feed each machine by one lane");
        }
        fed_by[machine] = Some(number as u8);
    }
    file.machine
        .iter()
        .zip(fed_by)
        .map(|((name, written), from)| {
            if from.is_none() && check.all_found(&["machine"]) {
                let message = format!("no lane feeds machine \"{name}\"");
                check.fault(
                    "never-fed",
                    &format!("machine.{name}"),
                    message,
                    format!("add a lane with `to = \"{name}\"`"),
                );
            }
            machine(check, name, written, names, from.unwrap_or(0), lanes)
        })
        .collect()
}

fn machine(
    check: &mut Checker<'_>,
    name: &str,
    written: &MachineFile,
    names: &Names,
    from: u8,
    lanes: &[Lane],
) -> Machine {
    let path = format!("machine.{name}");
    let kind = kind(check, &written.kind, &path);
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
            longest_wait_min,
        } => {
            if let Some(room) = lanes
                .get(usize::from(from))
                .filter(|lane| !is_too_short(lane))
                .and_then(lane_room)
                .filter(|room| racks > room)
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
                racks: *racks,
                longest_wait: longest_wait_min.map(Span::from_min),
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
    if written.loading.is_some() && lanes.get(usize::from(from)).is_some_and(no_room) {
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
    }
}

/// Whether a lane is complained about already: too short for a rack.
fn is_too_short(lane: &Lane) -> bool {
    matches!(lane.kind, LaneKind::Rollers { .. }) && lane_room(lane) == Some(0)
}

fn kind(check: &mut Checker<'_>, written: &MachineType, path: &str) -> MachineKind {
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
            if (rinse_from_m.is_some()) != (rinse_to_m.is_some()) {
                let message = "the rinse zone needs both its beginning and its end".to_owned();
                check.fault(
                    "missing-key",
                    &path,
                    message,
                    "give `rinse_from_m` and `rinse_to_m`, or neither",
                );
            }
            let from = rinse_from_m.unwrap_or((tunnel_m - pitch_m).max(0.0));
            let to = rinse_to_m.unwrap_or(*tunnel_m);
            if from >= to || to > *tunnel_m {
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
            MachineKind::Conveyor {
                pitch_mm: mm(*pitch_m).max(1),
                tunnel_mm: mm(*tunnel_m).max(1),
                rinse_mm: (mm(from), mm(to)),
                speed_mm_min: mm(*speed_m_per_min).max(1),
            }
        }
    }
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
    }
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
    match kind {
        MachineKind::Conveyor { speed_mm_min, .. } => {
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
