//! Counting everything again: nothing is lost, nothing is made up.

use crate::line::floor::{Element, Floor};
use crate::line::{Line, MOST_CLASSES, lane};
use crate::words::{counted, named, spoken};

/// Pieces by class that are on the line and not yet clean, by looking everywhere.
fn soiled(floor: &Floor) -> [u64; MOST_CLASSES] {
    let mut by_class = [0; MOST_CLASSES];
    let whole_trays = floor
        .drop_offs
        .iter()
        .flat_map(|d| d.in_hands().chain(d.overflow.things()))
        .chain(floor.belts.iter().flat_map(|b| b.mover.things()))
        .chain(floor.accumulators.iter().flat_map(|a| a.things()))
        .chain(floor.tables.iter().flat_map(|t| t.things()))
        .chain(floor.carts.iter().flat_map(|c| c.things()))
        .chain(
            floor
                .scrapping
                .iter()
                .flat_map(|s| s.in_work.iter().copied().chain(s.onward())),
        );
    for tray in whole_trays {
        for (sum, &n) in by_class.iter_mut().zip(&floor.ledger.pieces[tray as usize]) {
            *sum += u64::from(n);
        }
    }
    for receiver in &floor.receivers {
        receiver.pieces(&mut by_class);
    }
    for held in floor.scrapping.iter().flat_map(|s| &s.held) {
        for (sum, &n) in by_class.iter_mut().zip(&held.left) {
            *sum += u64::from(n);
        }
    }
    for racking in &floor.racking {
        racking.pieces(&floor.racks, &mut by_class);
    }
    for stacks in &floor.stacks {
        stacks.pieces(&mut by_class);
    }
    for rack in filled_racks(floor) {
        let it = floor.racks.get(rack);
        by_class[usize::from(it.class)] += u64::from(it.fill);
    }
    for it in floor.clean_ends.iter().flat_map(|c| &c.tub) {
        by_class[usize::from(it.class)] += u64::from(it.pieces);
    }
    by_class
}

/// Pieces by class that are on the line and not yet clean.
pub(crate) fn inside_by_class(floor: &Floor, line: &Line) -> Vec<u64> {
    soiled(floor)[..line.classes.len()].to_vec()
}

/// Racks on lanes, in machines and at clean ends whose ware is not yet counted clean.
pub(crate) fn filled_racks(floor: &Floor) -> impl Iterator<Item = u32> + '_ {
    let lanes = (0..floor.lanes.len() as u8).flat_map(|l| lane::racks(floor, l));
    let machines = floor.machines.iter().flat_map(|m| m.things());
    lanes
        .chain(floor.receivers.iter().flat_map(|r| r.racks()))
        .chain(machines)
        .chain(floor.clean_ends.iter().flat_map(|c| c.racks()))
}

/// Counts everything again.
///
/// # Errors
/// What does not add up, in words.
pub(crate) fn recount(floor: &Floor, line: &Line) -> Result<(), String> {
    let by_class = soiled(floor);
    let found: u64 = by_class.iter().sum();
    let booked = floor.ledger.pieces_inside();
    if found != booked {
        return Err(format!(
            "{booked} pieces should be on the line, {found} are"
        ));
    }
    let standing: usize = floor.racking.iter().map(|r| r.open_racks() as usize).sum();
    let emptied: usize = floor
        .clean_ends
        .iter()
        .map(|c| c.emptied(&floor.racks))
        .sum();
    let away = floor.delivery.racks() + floor.servery.racks_here();
    let free: usize = (0..line.rack_kinds.len())
        .map(|k| floor.racks.empty(crate::line::RackKindId(k as u8)) as usize)
        .sum();
    let racks = standing
        + filled_racks(floor)
            .filter(|&rack| !floor.racks.get(rack).is_loose())
            .count()
        + emptied
        + away
        + free;
    let owned: usize = line.rack_kinds.iter().map(|k| k.count as usize).sum();
    if racks != owned {
        return Err(format!("{owned} racks are owned, {racks} are found"));
    }
    for (spec, state) in line.waste_stores.iter().zip(&floor.waste) {
        if !state.adds_up() {
            return Err(format!("waste is lost at {}", spec.name));
        }
    }
    for (spec, state) in line.carts.iter().zip(&floor.carts) {
        let (found, owned) = (state.counted(), spec.count as usize);
        if found != owned {
            return Err(format!(
                "{owned} of {} are owned, {found} are found",
                spec.name
            ));
        }
    }
    for (class, spec) in line.classes.iter().enumerate() {
        let Some(par) = spec.par else { continue };
        let held: u64 = floor
            .clean_ends
            .iter()
            .map(|c| c.held_pieces(&floor.racks, class))
            .sum();
        let found = u64::from(floor.servery.stock[class])
            + u64::from(floor.servery.with_diners[class])
            + u64::from(floor.delivery.pieces(class))
            + by_class[class]
            + floor.broken[class]
            + held;
        if found != u64::from(par) {
            return Err(format!(
                "{par} pieces of {} are owned, {found} are found",
                spec.name
            ));
        }
    }
    Ok(())
}

/// What is still inside, one entry a place, in the user's words.
pub(crate) fn unfinished(floor: &Floor, line: &Line) -> Vec<String> {
    let mut list = Vec::new();
    let mut add = |count: usize, [one, many]: [&str; 2], kind: &str, name: &str| {
        if count > 0 {
            let place = named(kind, &spoken(name));
            list.push(format!("{} at {place}", counted(count, one, many)));
        }
    };
    let trays = ["tray", "trays"];
    let racks = ["rack", "racks"];
    for (spec, it) in line.drop_offs.iter().zip(&floor.drop_offs) {
        let in_hands = ["tray in a diner's hands", "trays in diners' hands"];
        add(it.in_hands().count(), in_hands, "drop-off", &spec.name);
        let aside = ["tray left aside", "trays left aside"];
        add(it.overflow.len() as usize, aside, "drop-off", &spec.name);
    }
    for (spec, it) in line.belts.iter().zip(&floor.belts) {
        add(it.mover.len() as usize, trays, "belt", &spec.name);
    }
    for (spec, it) in line.accumulators.iter().zip(&floor.accumulators) {
        add(it.len() as usize, trays, "accumulator", &spec.name);
    }
    for (spec, it) in line.tables.iter().zip(&floor.tables) {
        add(it.len() as usize, trays, "table", &spec.name);
    }
    for (i, (spec, it)) in line.carts.iter().zip(&floor.carts).enumerate() {
        let on_carts = ["tray gathered or on a cart", "trays gathered and on carts"];
        add(it.things().count(), on_carts, "carts", &spec.name);
        let soiled = crate::line::carts::waiting_to_wash(floor, i as u8);
        let to_wash = ["cart to be washed", "carts to be washed"];
        add(soiled as usize, to_wash, "carts", &spec.name);
    }
    for (spec, it) in line.receivers.iter().zip(&floor.receivers) {
        let pieces = ["piece", "pieces"];
        add(it.len(&floor.racks), pieces, "receiver", &spec.name);
    }
    for (spec, it) in line.scrapping.iter().zip(&floor.scrapping) {
        let in_work = ["tray in work", "trays in work"];
        add(it.in_work.len(), in_work, "scrapping", &spec.name);
        let held = [
            "tray broken down with pieces that find no room",
            "trays broken down with pieces that find no room",
        ];
        let onward = it.onward().count();
        add(it.held.len() - onward, held, "scrapping", &spec.name);
        let full = [
            "tray that finds no room further on",
            "trays that find no room further on",
        ];
        add(onward, full, "scrapping", &spec.name);
    }
    for (spec, it) in line.stack_belts.iter().zip(&floor.stacks) {
        let mut by_class = [0; MOST_CLASSES];
        it.pieces(&mut by_class);
        let pieces = ["piece stacked", "pieces stacked"];
        let count = by_class.iter().sum::<u64>() as usize;
        add(count, pieces, "belt", &spec.belt.name);
    }
    for (spec, it) in line.racking.iter().zip(&floor.racking) {
        let mut by_class = [0; MOST_CLASSES];
        it.pieces(&floor.racks, &mut by_class);
        let pieces = [
            "piece on a pile, in hand or in an open rack",
            "pieces on piles, in hands and in open racks",
        ];
        let count = by_class.iter().sum::<u64>() as usize;
        add(count, pieces, "racking", &spec.name);
    }
    for (l, spec) in line.lanes.iter().enumerate() {
        add(
            lane::len(floor, l as u8) as usize,
            racks,
            "lane",
            &spec.name,
        );
    }
    for (spec, it) in line.machines.iter().zip(&floor.machines) {
        let inside = it.inside.len() + it.in_hand.len() + it.tunnel.len() as usize;
        add(inside, racks, "machine", &spec.name);
    }
    for (spec, it) in line.clean_ends.iter().zip(&floor.clean_ends) {
        add(it.racks().count(), racks, "clean end", &spec.name);
        let again = [
            "piece to be washed again that finds no room on its pile",
            "pieces to be washed again that find no room on their piles",
        ];
        let pieces = it.tub.iter().map(|it| usize::from(it.pieces)).sum();
        add(pieces, again, "clean end", &spec.name);
    }
    list
}

/// An element's name, for messages.
pub(crate) fn name_of(line: &Line, element: Element) -> String {
    let name = match element {
        Element::Servery => "the servery",
        Element::Delivery => "the carts",
        Element::Waste => "the waste",
        Element::Receivers => "the receivers",
        Element::Trouble => "trouble",
        Element::Duties => "other work",
        Element::Crew => "the crew",
        Element::CleanEnd(i) => &line.clean_ends[usize::from(i)].name,
        Element::Machine(i) => &line.machines[usize::from(i)].name,
        Element::Lane(i) => &line.lanes[usize::from(i)].name,
        Element::Racking(i) => &line.racking[usize::from(i)].name,
        Element::Stacks(i) => &line.stack_belts[usize::from(i)].belt.name,
        Element::Scrapping(i) => &line.scrapping[usize::from(i)].name,
        Element::Belt(i) => &line.belts[usize::from(i)].name,
        Element::Accumulator(i) => &line.accumulators[usize::from(i)].name,
        Element::Carts(i) => &line.carts[usize::from(i)].name,
        Element::DropOff(i) => &line.drop_offs[usize::from(i)].name,
    };
    name.to_owned()
}
