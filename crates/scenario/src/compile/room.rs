//! What stands where: the room seen from above.

use scullery_engine::line::{LaneKind, Line, MachineKind};

use super::care::spoken;
use super::checker::Checker;
use super::names::Names;
use super::ways::along_the_line;
use crate::defaults;
use crate::file::{RoomFile, ScenarioFile, SideOfRoom, StandsFile};
use crate::view::{BoxSide, PlanBox, PlanView, PlanWay};

/// Where clean ware goes; it may stand in the room too.
pub(super) const SERVERY: &str = "servery";

/// Metres of queue for each person waiting.
pub(crate) fn person_m(check: &mut Checker<'_>, file: &ScenarioFile) -> f64 {
    let given = file.room.as_ref().and_then(|room| room.person_m);
    if given.is_none() && file.heading.queue_room_people.is_none() && file.room.is_none() {
        return defaults::PERSON.value;
    }
    check.or_default(given, "room.person_m", &defaults::PERSON)
}

/// The room seen from above; without a room in the file, everything in a row at its usual size.
pub(crate) fn view(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    line: &Line,
) -> PlanView {
    let room = file.room.as_ref();
    let none = Vec::new();
    let stands = room.map_or(&none, |room| &room.stands);
    let mut known = names.elements();
    known.push(SERVERY.to_owned());
    let mut listed: Vec<&StandsFile> = Vec::new();
    for (index, written) in stands.iter().enumerate() {
        let path = format!("room.stands.{index}.what");
        check.find(&known, &written.what, &path, "element");
        if listed.iter().any(|before| before.what == written.what) {
            let message = format!("{} stands in two places", written.what);
            check.fault("name-twice", &path, message, "keep one of them");
        }
        listed.push(written);
    }
    let mut view = PlanView {
        room: room.map(|room| (room.length_m, room.width_m)),
        queue_m: room.and_then(|room| room.queue_m),
        ..PlanView::default()
    };
    let mut next_m = 0.0;
    for written in &listed {
        let (length_m, width_m) = usual_size(line, names, &written.what);
        let it = PlanBox {
            id: written.what.clone(),
            label: spoken(&written.what),
            x_m: written.along_m.unwrap_or(next_m),
            y_m: written.across_m.unwrap_or(0.0),
            length_m: written.length_m.unwrap_or(length_m),
            width_m: written.width_m.unwrap_or(width_m),
            side: side(&written.what),
            given: true,
        };
        next_m = it.x_m + it.length_m;
        view.boxes.push(it);
    }
    for id in names.elements() {
        if view.boxes.iter().any(|it| it.id == id) {
            continue;
        }
        let (length_m, width_m) = usual_size(line, names, &id);
        view.boxes.push(PlanBox {
            label: spoken(&id),
            x_m: next_m,
            y_m: 0.0,
            length_m,
            width_m,
            side: side(&id),
            given: false,
            id,
        });
        next_m += length_m;
    }
    parked(check, &mut view, room);
    along_the_line(&mut view, names, line);
    if let Some(room) = room {
        walkways(check, &mut view, room);
    }
    view.find_crossings();
    view
}

fn side(id: &str) -> BoxSide {
    if id == SERVERY || id.starts_with("clean_end.") {
        BoxSide::Clean
    } else {
        BoxSide::Soiled
    }
}

/// Usual length and width of an element in metres; its own length where the line has one.
fn usual_size(line: &Line, names: &Names, id: &str) -> (f64, f64) {
    let (kind, name) = id.split_once('.').unwrap_or((id, ""));
    let of = |list: &[String]| list.iter().position(|known| known == name);
    let m = |mm: u32| f64::from(mm) / 1000.0;
    const RACK_M: f64 = 0.5;
    match kind {
        "belt" => {
            let belt = of(&names.belts).and_then(|number| line.belts.get(number));
            (belt.map_or(3.0, |belt| m(belt.length_mm)), 0.6)
        }
        "stacks" => {
            let belt = of(&names.stacks).and_then(|number| line.stack_belts.get(number));
            (belt.map_or(3.0, |it| m(it.belt.length_mm)), 0.5)
        }
        "accumulator" => {
            let loop_ = of(&names.accumulators).and_then(|number| line.accumulators.get(number));
            // Out and back.
            (loop_.map_or(3.0, |loop_| m(loop_.loop_mm) / 2.0), 0.9)
        }
        "lane" => {
            let lane = of(&names.lanes).and_then(|number| line.lanes.get(number));
            let length_m = lane.map_or(2.0, |lane| match lane.kind {
                LaneKind::Rollers { length_mm, .. } => m(length_mm),
                LaneKind::Shelf { room } => RACK_M * f64::from(room.unwrap_or(4).min(20)),
            });
            (length_m, 0.6)
        }
        "machine" => {
            let machine = of(&names.machines).and_then(|number| line.machines.get(number));
            let length_m = machine.map_or(1.0, |machine| match &machine.kind {
                MachineKind::Conveyor { tunnel_mm, .. } | MachineKind::Flight { tunnel_mm, .. } => {
                    m(*tunnel_mm)
                }
                MachineKind::Door { .. } => 0.8,
            });
            (length_m, 0.9)
        }
        "racking" => {
            let table = of(&names.racking).and_then(|number| line.racking.get(number));
            let racks = table.map_or(3, |table| table.open_racks.min(12));
            (RACK_M * f64::from(racks), 0.75)
        }
        "clean_end" => {
            let end = of(&names.clean_ends).and_then(|number| line.clean_ends.get(number));
            let racks = end.and_then(|end| end.places).unwrap_or(4).min(20);
            (RACK_M * f64::from(racks), 0.7)
        }
        "drop_off" => (1.2, 0.4),
        "receiver" | "bin" => (0.6, 0.6),
        "disposer" => (0.8, 0.8),
        SERVERY => (2.0, 0.8),
        _ => (1.5, 0.75),
    }
}

/// What is parked stands side by side along the room.
fn parked(check: &mut Checker<'_>, view: &mut PlanView, room: Option<&RoomFile>) {
    let parking = room.iter().flat_map(|room| &room.parking).enumerate();
    for (index, parking) in parking {
        if view.boxes.iter().any(|it| it.id == parking.what) {
            let message = format!("two things in the room are called \"{}\"", parking.what);
            let path = format!("room.parking.{index}.what");
            check.fault(
                "name-twice",
                &path,
                message,
                "give one of them another name",
            );
        }
        let side = match parking.side {
            Some(SideOfRoom::Clean) => BoxSide::CleanParking,
            _ => BoxSide::SoiledParking,
        };
        view.boxes.push(PlanBox {
            id: parking.what.clone(),
            label: format!("{} {}", parking.many, parking.what),
            x_m: parking.along_m,
            y_m: parking.across_m,
            length_m: f64::from(parking.many) * parking.length_m,
            width_m: parking.width_m,
            side,
            given: true,
        });
    }
}

fn walkways(check: &mut Checker<'_>, view: &mut PlanView, room: &RoomFile) {
    let known: Vec<String> = view.boxes.iter().map(|it| it.id.clone()).collect();
    for (index, way) in room.ways.iter().enumerate() {
        let path = |end: &str| format!("room.ways.{index}.{end}");
        let from = check.find(&known, &way.from, &path("from"), "thing in the room");
        let to = check.find(&known, &way.to, &path("to"), "thing in the room");
        if let (Some(from), Some(to)) = (from, to) {
            if from == to {
                let message = format!("a way from {} to itself leads nowhere", way.from);
                check.fault("way-in-a-circle", &path("to"), message, "name another end");
                continue;
            }
            let clean = way.carries == SideOfRoom::Clean;
            view.ways.push(PlanWay { from, to, clean });
        }
    }
}
