//! What is already there when the run begins: trays on belts, tables and carts, ware on piles, in stacks, in racks and in
//! receivers, waste, clean ware on its way, less clean stock.

use crate::demand::There;
use crate::ended::Fault;
use crate::line::floor::Floor;
use crate::line::{
    ClassId, Line, accumulator, belt, carts, clean_end, delivery, lane, machine, racking,
    receivers, servery, stacks, waste,
};
use crate::tape::Tape;

/// Ware that is on the line, and machines that are hot, when the run begins. Soiled trays and people are the demand's.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Already {
    /// Filled and part-filled racks; of one place the one nearest its end first.
    pub racks: Vec<RackThere>,
    /// Ware on piles, held back or not.
    pub piles: Vec<PileThere>,
    /// Stacks on belts; of one belt the one nearest its end first.
    pub stacks: Vec<StackThere>,
    /// Ware in receivers; of one receiver what was put in first comes first.
    pub receivers: Vec<ReceiverThere>,
    /// Waste in disposers and bins: number of the store, grams.
    pub waste: Vec<(u8, u32)>,
    /// By class: pieces clean at the servery; `None`, or past the end: all that is nowhere else. What is then neither here
    /// nor there stays away for the whole run.
    pub clean: Vec<Option<u32>>,
    /// Clean ware that waits on carts to be taken to the servery: class and pieces.
    pub on_carts: Vec<(ClassId, u16)>,
    /// By kind of cart: emptied ones that wait to be washed; none past the end.
    pub to_wash: Vec<u32>,
    /// Numbers of the machines that are hot, their tanks full.
    pub hot: Vec<u8>,
}

/// A rack that is already there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RackThere {
    /// Class of its ware.
    pub class: ClassId,
    /// Pieces in it.
    pub pieces: u16,
    /// Where it stands.
    pub at: RackAt,
}

/// Where a rack stands when the run begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RackAt {
    /// Open on a racking table. Its time begins with the run.
    Racking(u8),
    /// On a lane, against its end.
    Lane(u8),
    /// In a machine. In a tunnel the last has just gone in and each before it is a pitch ahead; in a chamber the cycle
    /// begins.
    Machine(u8),
    /// Washed, at a clean end. It begins to dry.
    CleanEnd(u8),
}

/// Ware on a pile that is already there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PileThere {
    /// Number of the racking table.
    pub racking: u8,
    /// Its class.
    pub class: ClassId,
    /// Pieces.
    pub pieces: u16,
}

/// A stack that is already on a belt.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StackThere {
    /// Number of the belt for stacks.
    pub belt: u8,
    /// Its class.
    pub class: ClassId,
    /// Pieces.
    pub pieces: u16,
}

/// Ware that is already in a receiver.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReceiverThere {
    /// Number of the receiver.
    pub receiver: u8,
    /// Its class, one of those that are put there.
    pub class: ClassId,
    /// Pieces.
    pub pieces: u16,
}

impl Line {
    /// What is already there and finds no room, in words. (Soiled trays are the demand's and are not looked at.) Call it
    /// on a line without [`Line::faults`].
    pub fn already_misfit(&self) -> Option<String> {
        let mut floor = Floor::new();
        match floor.begin(self, &Tape::new(), false) {
            Some(Fault::Line(what)) => Some(what),
            _ => None,
        }
    }

    /// What of it names something that is not there, or is nothing.
    pub(crate) fn already_faults(&self) -> Vec<String> {
        let there = |number: u8, of: usize| usize::from(number) < of;
        let racks = self.already.racks.iter().all(|rack| {
            rack.pieces > 0
                && there(rack.class.0, self.classes.len())
                && match rack.at {
                    RackAt::Racking(i) => there(i, self.racking.len()),
                    RackAt::Lane(i) => there(i, self.lanes.len()),
                    RackAt::Machine(i) => there(i, self.machines.len()),
                    RackAt::CleanEnd(i) => there(i, self.clean_ends.len()),
                }
        });
        let piles = self.already.piles.iter().all(|pile| {
            pile.pieces > 0
                && there(pile.racking, self.racking.len())
                && there(pile.class.0, self.classes.len())
        });
        let stacks = self.already.stacks.iter().all(|it| {
            it.pieces > 0
                && there(it.belt, self.stack_belts.len())
                && there(it.class.0, self.classes.len())
        });
        let receivers = self.already.receivers.iter().all(|it| {
            it.pieces > 0
                && there(it.receiver, self.receivers.len())
                && there(it.class.0, self.classes.len())
        });
        let mut waste = self.already.waste.iter();
        let waste = waste.all(|&(store, grams)| grams > 0 && there(store, self.waste_stores.len()));
        let clean = self.already.clean.len() <= self.classes.len();
        let on_carts = self.already.on_carts.iter().all(|&(class, pieces)| {
            let followed = self.classes.get(usize::from(class.0));
            self.delivery.is_some() && pieces > 0 && followed.is_some_and(|it| it.par.is_some())
        });
        let mut to_wash = self.already.to_wash.iter().enumerate();
        let to_wash = to_wash.all(|(kind, &many)| {
            let carts = self.carts.get(kind);
            many == 0 || carts.is_some_and(|it| it.wash.is_some())
        });
        let mut faults = Vec::new();
        let ware = racks && piles && stacks && receivers && waste;
        if !(ware && clean && on_carts && to_wash) {
            faults.push("what is already there is nothing, or nowhere".to_owned());
        }
        faults
    }
}

/// Puts everything where it is.
///
/// # Errors
/// What finds no place, in words.
pub(crate) fn begin(floor: &mut Floor, line: &Line, tape: &Tape) -> Result<(), String> {
    let already = &line.already;
    for spec in &already.piles {
        let class = &line.classes[usize::from(spec.class.0)].name;
        let tray = ware(floor, line, spec.class, spec.pieces)?;
        let table = &line.racking[usize::from(spec.racking)].name;
        if racking::put_on_pile(floor, line, spec.racking, spec.class.0, tray, spec.pieces)
            < spec.pieces
        {
            return Err(format!(
                "{} {class} are already there and find no room on a pile of racking {table}",
                spec.pieces
            ));
        }
    }
    for (k, spec) in already.racks.iter().enumerate() {
        let behind = already.racks[k + 1..].iter();
        let behind = behind.filter(|other| other.at == spec.at).count();
        rack(floor, line, *spec, behind as u32)?;
    }
    for spec in &already.stacks {
        let tray = ware(floor, line, spec.class, spec.pieces)?;
        if !stacks::lies_there(floor, line, spec, tray) {
            return Err(format!(
                "a stack of {} {} is already on belt {} and finds no room, or is too high",
                spec.pieces,
                line.classes[usize::from(spec.class.0)].name,
                line.stack_belts[usize::from(spec.belt)].belt.name
            ));
        }
    }
    for spec in &already.receivers {
        in_receiver(floor, line, *spec)?;
    }
    for &(store, grams) in &already.waste {
        if !waste::lies_there(floor, line, store, grams) {
            return Err(format!(
                "{} kg of waste are already in {} and find no room",
                f64::from(grams) / 1000.0,
                line.waste_stores[usize::from(store)].name
            ));
        }
    }
    for &(class, pieces) in &already.on_carts {
        on_carts(floor, line, class, pieces)?;
    }
    for (kind, &many) in already.to_wash.iter().enumerate() {
        if !carts::waits_for_washing(floor, kind as u8, many) {
            let carts = &line.carts[kind];
            return Err(format!(
                "{many} {} already wait to be washed, of {}",
                carts.name, carts.count
            ));
        }
    }
    for (class, clean) in already.clean.iter().enumerate() {
        let here = servery::clean(floor, class);
        if let Some((clean, here)) = clean.zip(here).filter(|(clean, here)| clean > here) {
            let class = &line.classes[class].name;
            return Err(format!(
                "{clean} {class} cannot be clean at the start, only {here} are not on the line"
            ));
        }
    }
    // Trays and people have no more than there is.
    for &diner in tape.there() {
        tray(floor, line, tape, diner)?;
    }
    for (class, clean) in already.clean.iter().enumerate() {
        if let Some(clean) = clean {
            servery::keeps_only(floor, class, *clean);
        }
    }
    Ok(())
}

/// A soiled tray lies where it was left.
fn tray(floor: &mut Floor, line: &Line, tape: &Tape, diner: u32) -> Result<(), String> {
    let now = floor.now;
    let it = &tape.diners()[diner as usize];
    if it.there == There::Eats {
        servery::has_sat_down(floor, diner, it);
        return Ok(());
    }
    servery::is_without(floor, diner);
    if !floor.ledger.is_there(diner) {
        return Ok(());
    }
    let (fits, place) = match it.there {
        There::Belt(i) => {
            let Some(spec) = line.belts.get(usize::from(i)) else {
                return Err("trays are already on a belt that is not there".into());
            };
            (belt::lies_there(floor, i, diner), &spec.name)
        }
        There::Table(i) => {
            let Some(spec) = line.tables.get(usize::from(i)) else {
                return Err("trays are already on a table that is not there".into());
            };
            let table = &mut floor.tables[usize::from(i)];
            let fits = table.has_room();
            if fits {
                table.put(diner, now);
                let held = table.len();
                floor.telling.level(floor.n.table[usize::from(i)], held);
            }
            (fits, &spec.name)
        }
        There::Accumulator(i) => {
            let Some(spec) = line.accumulators.get(usize::from(i)) else {
                return Err("trays are already on an accumulator that is not there".into());
            };
            (accumulator::lies_there(floor, i, diner), &spec.name)
        }
        There::Aside(i) => {
            let Some(state) = floor.drop_offs.get_mut(usize::from(i)) else {
                return Err("trays are already left aside at no drop-off".into());
            };
            state.overflow.put(diner, now);
            let held = state.overflow.len();
            floor.telling.level(floor.n.overflow[usize::from(i)], held);
            (true, &line.drop_offs[usize::from(i)].name)
        }
        There::Carts(i) => {
            let Some(spec) = line.carts.get(usize::from(i)) else {
                return Err("trays are already on carts that are not there".into());
            };
            (carts::stands_there(floor, spec, i, diner), &spec.name)
        }
        There::Comes | There::Eats => return Ok(()),
    };
    if !fits {
        return Err(format!(
            "more trays are already on {place} than it has room for"
        ));
    }
    floor.telling.count(floor.n.count.came, 1);
    floor.telling.count(floor.n.count.dropped, 1);
    floor.telling.add(floor.n.backlog, 1);
    Ok(())
}

/// Pieces that are on the line without a tray of their own.
fn ware(floor: &mut Floor, line: &Line, class: ClassId, pieces: u16) -> Result<u32, String> {
    if servery::gives_up(floor, class, u32::from(pieces)) {
        return Ok(floor.ledger.ware_there(pieces));
    }
    let class = &line.classes[usize::from(class.0)].name;
    Err(format!(
        "more {class} are already on the line than are owned"
    ))
}

/// Ware is in a receiver, as if it had been put there just now.
fn in_receiver(floor: &mut Floor, line: &Line, spec: ReceiverThere) -> Result<(), String> {
    let (class, pieces) = (spec.class.0, spec.pieces);
    let named = &line.classes[usize::from(class)].name;
    let receiver = &line.receivers[usize::from(spec.receiver)].name;
    if !line.goes_into(spec.receiver, usize::from(class)) {
        return Err(format!(
            "{named} are already in receiver {receiver}, where none are put"
        ));
    }
    let tray = ware(floor, line, spec.class, pieces)?;
    if receivers::put(floor, line, spec.receiver, class, tray, pieces) < pieces {
        return Err(format!(
            "{pieces} {named} are already in receiver {receiver} and find no room, or no rack"
        ));
    }
    Ok(())
}

/// Clean ware waits on carts.
fn on_carts(floor: &mut Floor, line: &Line, class: ClassId, pieces: u16) -> Result<(), String> {
    let name = &line.classes[usize::from(class.0)].name;
    if !servery::gives_up(floor, class, u32::from(pieces)) {
        return Err(format!(
            "more {name} are already on carts than are owned and nowhere else"
        ));
    }
    if delivery::put(floor, line, class, pieces, None) < pieces {
        return Err(format!(
            "{pieces} {name} are already on carts, which have no room for them"
        ));
    }
    Ok(())
}

/// A rack stands where it was left, with so many more `behind` it.
fn rack(floor: &mut Floor, line: &Line, spec: RackThere, behind: u32) -> Result<(), String> {
    let now = floor.now;
    let class = &line.classes[usize::from(spec.class.0)].name;
    let tray = ware(floor, line, spec.class, spec.pieces)?;
    if let RackAt::Racking(i) = spec.at {
        let place = &line.racking[usize::from(i)].name;
        return if racking::stands_open(floor, line, i, spec.class.0, tray, spec.pieces) {
            Ok(())
        } else {
            Err(format!(
                "a rack of {class} is already open at racking {place} and finds no place or no rack"
            ))
        };
    }
    let no_rack = || {
        format!(
            "more racks of {class} are already on the line than are owned, or fewer pieces fit in one"
        )
    };
    let rack = floor
        .racks
        .open(line, spec.class, now)
        .ok_or_else(no_rack)?;
    let kind = floor.racks.get(rack).kind;
    floor.telling.add(floor.n.empty[usize::from(kind)], -1);
    if floor.racks.fill(rack, tray, spec.pieces, now) < spec.pieces {
        return Err(no_rack());
    }
    floor.racks.get_mut(rack).closed = now;
    let (fits, place) = match spec.at {
        RackAt::Racking(_) => return Ok(()),
        RackAt::Lane(i) => (
            lane::stands_there(floor, line, i, rack),
            &line.lanes[usize::from(i)].name,
        ),
        RackAt::Machine(i) => (
            machine::is_inside(floor, line, i, rack, behind),
            &line.machines[usize::from(i)].name,
        ),
        RackAt::CleanEnd(i) => {
            let fits = clean_end::has_room(floor, i, rack);
            // Nobody says which machine it came out of: it dries as in the air.
            floor.racks.get_mut(rack).machine = u8::MAX;
            if fits {
                clean_end::receive(floor, line, i, rack);
            }
            (fits, &line.clean_ends[usize::from(i)].name)
        }
    };
    if fits {
        Ok(())
    } else {
        Err(format!(
            "more racks are already at {place} than it has room for"
        ))
    }
}
