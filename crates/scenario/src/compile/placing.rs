//! Load ends of flight machines: racking tables whose pieces go straight onto the machine's belt.

use scullery_engine::line::{Racking, RacksTo};

use super::checker::Checker;
use super::gates::order;
use super::names::Names;
use super::racking::piles;
use crate::defaults;
use crate::file::{MachineType, PlacingFile, ScenarioFile};

/// Load ends, in order of name; they are numbered after the racking tables.
pub(crate) fn placing(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Racking> {
    file.placing
        .iter()
        .map(|(name, written)| load_end(check, file, name, written, names))
        .collect()
}

fn load_end(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    name: &str,
    written: &PlacingFile,
    names: &Names,
) -> Racking {
    let path = format!("placing.{name}");
    let found = check.find(
        &names.machines,
        &written.machine,
        &format!("{path}.machine"),
        "machine",
    );
    let flight = file
        .machine
        .get(&written.machine)
        .map(|machine| &machine.kind);
    match flight {
        Some(MachineType::Flight { slots_per_m, .. }) => {
            for (index, pile) in written.pile.iter().enumerate() {
                if names.ware.contains(&pile.ware) && !slots_per_m.contains_key(&pile.ware) {
                    let message = format!(
                        "machine \"{}\" does not say how many of \"{}\" its belt takes",
                        written.machine, pile.ware
                    );
                    check.fault(
                        "no-slots",
                        &format!("{path}.pile.{index}.ware"),
                        message,
                        format!(
                            "add it under `slots_per_m` of machine \"{}\"",
                            written.machine
                        ),
                    );
                }
            }
        }
        Some(_) => {
            let message = format!(
                "machine \"{}\" is no flight type: ware goes through it in racks",
                written.machine
            );
            check.fault(
                "not-a-flight-machine",
                &format!("{path}.machine"),
                message,
                "use a racking table and a lane",
            );
        }
        None => {}
    }
    let grab = match written.grab {
        Some(grab) => grab,
        None => check.or_default(None, &format!("{path}.grab"), &defaults::PLACE_GRAB) as u32,
    };
    let to = RacksTo::Machine(found.unwrap_or(0) as u8);
    Racking {
        name: name.to_owned(),
        open_racks: 0,
        limit: None,
        to,
        places: written.places.unwrap_or(1),
        grab,
        piles: piles(
            check,
            &written.pile,
            &path,
            names,
            &|_| to,
            &defaults::PLACE_PIECE,
        ),
        variation: check.varies(
            &format!("{path}.varies"),
            written.varies.as_ref(),
            &defaults::PLACE_CV,
        ),
        order: order(
            check,
            names,
            &format!("{path}.order"),
            written.order.as_ref(),
        ),
        levels: Vec::new(),
    }
}

/// Length of belt a piece takes, in thousandths of a millimetre, by class; 0: not placed on it.
pub(crate) fn piece_um(
    check: &mut Checker<'_>,
    kind: &MachineType,
    path: &str,
    names: &Names,
) -> Vec<u32> {
    let MachineType::Flight { slots_per_m, .. } = kind else {
        return Vec::new();
    };
    for class in slots_per_m.keys() {
        let path = format!("{path}.type.flight.slots_per_m.{class}");
        check.find(&names.ware, class, &path, "ware");
    }
    let each = names.ware.iter().map(|class| {
        let slots = slots_per_m.get(class).copied();
        slots.map_or(0, |slots| (1e6 / slots.max(0.5)).round() as u32)
    });
    each.collect()
}
