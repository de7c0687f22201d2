//! Racking tables and their piles.

use scullery_engine::line::{ClassId, Pile, Racking, RacksTo, Release};
use scullery_engine::time::Span;

use super::checker::Checker;
use super::gates::order;
use super::levels::{levels, reach_s};
use super::names::{LEAVE, Names};
use crate::defaults;
use crate::file::{HeldBackFile, PileFile, RackingFile, ScenarioFile};

/// Racking tables, in order of name.
pub(crate) fn racking(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    reaches: &[Vec<f64>],
) -> Vec<Racking> {
    file.racking
        .iter()
        .zip(reaches)
        .map(|((name, written), reaches)| table(check, name, written, names, reaches))
        .collect()
}

fn table(
    check: &mut Checker<'_>,
    name: &str,
    written: &RackingFile,
    names: &Names,
    reaches: &[f64],
) -> Racking {
    let path = format!("racking.{name}");
    let to = if written.to == LEAVE {
        RacksTo::Leave
    } else {
        let number = check.find(&names.lanes, &written.to, &format!("{path}.to"), "lane");
        number.map_or(RacksTo::Leave, |number| RacksTo::Lane(number as u8))
    };
    let limit = if written.part_racks_wait {
        if written.part_rack_limit_min.is_some() {
            let message = "part-filled racks cannot both wait and have a limit".to_owned();
            check.fault(
                "said-twice",
                &format!("{path}.part_racks_wait"),
                message,
                "keep one of the two",
            );
        }
        None
    } else {
        let key = format!("{path}.part_rack_limit_min");
        Some(Span::from_min(check.or_default(
            written.part_rack_limit_min,
            &key,
            &defaults::PART_RACK,
        )))
    };
    let levels = levels(check, &written.level, &path, names, to);
    let order_key = format!("{path}.order");
    let mut table = Racking {
        name: name.to_owned(),
        open_racks: written.open_racks,
        limit,
        to,
        places: 0,
        grab: written.grab.unwrap_or(1),
        piles: Vec::new(),
        variation: scullery_engine::dist::Dist::Constant(1.0),
        order: order(check, names, &order_key, written.order.as_ref()),
        levels,
    };
    let to_of = |class: ClassId| table.to_of(class.0);
    let standard = &defaults::RACK_PIECE;
    let mut piles = piles(check, &written.pile, &path, names, &to_of, standard);
    for pile in &mut piles {
        pile.piece_s += reach_s(&table, reaches, pile.class);
    }
    if piles.is_empty() {
        return table;
    }
    table.piles = piles;
    table.places = written.places.unwrap_or(1);
    if table.places == 0 {
        let message = format!(
            "racking table \"{name}\" has piles but no place for anybody to rack from them"
        );
        check.fault(
            "nobody-stands-there",
            &format!("{path}.places"),
            message,
            "leave `places` out, or write at least 1",
        );
    }
    if written.grab.is_none() {
        let key = format!("{path}.grab");
        table.grab = check.or_default(None, &key, &defaults::GRAB) as u32;
    }
    table.variation = check.varies(
        &format!("{path}.varies"),
        written.varies.as_ref(),
        &defaults::GRAB_CV,
    );
    table
}

/// Piles whose racks go `to`, class by class; `standard` is the work to rack (or place) a piece where it is not said.
pub(crate) fn piles(
    check: &mut Checker<'_>,
    written: &[PileFile],
    path: &str,
    names: &Names,
    to: &dyn Fn(ClassId) -> RacksTo,
    standard: &defaults::Standard,
) -> Vec<Pile> {
    let mut piles: Vec<Pile> = Vec::new();
    for (index, pile) in written.iter().enumerate() {
        let path = format!("{path}.pile.{index}");
        let Some(class) = check.find(&names.ware, &pile.ware, &format!("{path}.ware"), "ware")
        else {
            continue;
        };
        let class = ClassId(class as u8);
        if piles.iter().any(|known| known.class == class) {
            let message = format!("two piles of \"{}\" at one racking table", pile.ware);
            check.fault("name-twice", &format!("{path}.ware"), message, "join them");
        }
        let mut held_back = Vec::new();
        if !pile.held_back.is_empty() && pile.room_pieces == Some(0) {
            let message =
                "ware that is held back needs room to wait in, found room for 0 pieces".to_owned();
            let help =
                "write how many pieces its dollies or sinks hold, for example `room_pieces = 300`";
            check.fault("too-small", &format!("{path}.room_pieces"), message, help);
        }
        for (index, until) in pile.held_back.iter().enumerate() {
            let path = format!("{path}.held_back.{index}");
            let is_lane = matches!(to(class), RacksTo::Lane(_));
            held_back.push(release(check, until, &path, is_lane));
        }
        let standard_path = format!(
            "{}.pile.{}.piece_s",
            path.split(".pile").next().unwrap_or(""),
            pile.ware
        );
        let piece_s = check.or_default(pile.piece_s, &standard_path, standard);
        let soak_s = 60.0 * pile.soak_min.unwrap_or(0.0) + pile.carried_s.unwrap_or(0.0);
        if soak_s > 0.0 && pile.room_pieces == Some(0) {
            let message =
                "ware that soaks needs room to lie in, found room for 0 pieces".to_owned();
            let help = "write how many pieces its sink holds, for example `room_pieces = 300`";
            check.fault("too-small", &format!("{path}.room_pieces"), message, help);
        }
        piles.push(Pile {
            class,
            room: pile.room_pieces,
            piece_s,
            soak: Span::from_s(soak_s),
            held_back,
        });
    }
    piles
}

/// When ware is let go; `is_lane`: whether its racks go to a lane.
fn release(check: &mut Checker<'_>, written: &HeldBackFile, path: &str, is_lane: bool) -> Release {
    let of_lane = matches!(
        written,
        HeldBackFile::LaneBelowRacks(_) | HeldBackFile::LaneBelow(_)
    );
    if of_lane && !is_lane && check.all_found(&["lane"]) {
        let message = "racks leave the line here, so there is no lane to be below a number";
        let help = "hold back until a clock time or \"rush_over\"";
        check.fault("unknown-name", path, message.to_owned(), help);
    }
    match written {
        HeldBackFile::Until(text) => Release::From(check.clock(&format!("{path}.until"), text)),
        HeldBackFile::LaneBelowRacks(racks) => Release::LaneBelow(*racks),
        HeldBackFile::LaneBelow(it) => {
            let at = check.clock(&format!("{path}.lane_below.from"), &it.from);
            Release::LaneBelowFrom(it.racks, at)
        }
        HeldBackFile::RushOver => Release::RushOver,
    }
}
