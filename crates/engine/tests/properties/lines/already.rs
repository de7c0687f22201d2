//! Ware that is already there.

use scullery_engine::line::*;

use super::super::dice::Dice;

/// Ware that is already there, as far as it finds room.
pub(super) fn already(line: &mut Line, dice: &mut Dice) {
    for machine in 0..line.machines.len() as u8 {
        if dice.once_in(2) {
            line.already.hot.push(machine);
        }
    }
    for _ in 0..dice.pick(&[0, 0, 1, 3]) {
        let mut places: Vec<RackAt> = Vec::new();
        places.extend((0..line.racking.len() as u8).map(RackAt::Racking));
        places.extend((0..line.lanes.len() as u8).map(RackAt::Lane));
        places.extend((0..line.machines.len() as u8).map(RackAt::Machine));
        places.extend((0..line.clean_ends.len() as u8).map(RackAt::CleanEnd));
        if places.is_empty() {
            return;
        }
        line.already.racks.push(RackThere {
            class: ClassId(dice.upto(line.classes.len() as u32 - 1) as u8),
            pieces: dice.between(1, 6) as u16,
            at: dice.pick(&places),
        });
        if line.already_misfit().is_some() {
            line.already.racks.pop();
        }
    }
    let piles = line.racking.iter().zip(0..).flat_map(|(racking, no)| {
        let class = racking.piles.iter().map(|pile| pile.class);
        class.map(move |class| (no, class))
    });
    for (racking, class) in piles.collect::<Vec<_>>() {
        if dice.once_in(3) {
            line.already.piles.push(PileThere {
                racking,
                class,
                pieces: dice.between(1, 5) as u16,
            });
            if line.already_misfit().is_some() {
                line.already.piles.pop();
            }
        }
    }
    for belt in 0..line.stack_belts.len() as u8 {
        for _ in 0..dice.pick(&[0, 1, 3]) {
            line.already.stacks.push(StackThere {
                belt,
                class: ClassId(dice.upto(line.classes.len() as u32 - 1) as u8),
                pieces: dice.between(1, 4) as u16,
            });
            if line.already_misfit().is_some() {
                line.already.stacks.pop();
            }
        }
    }
    for receiver in 0..line.receivers.len() as u8 {
        for class in line.classes_into(receiver) {
            if dice.once_in(2) {
                line.already.receivers.push(ReceiverThere {
                    receiver,
                    class: ClassId(class as u8),
                    pieces: dice.between(1, 4) as u16,
                });
                if line.already_misfit().is_some() {
                    line.already.receivers.pop();
                }
            }
        }
    }
    for store in 0..line.waste_stores.len() as u8 {
        if dice.once_in(2) {
            line.already.waste.push((store, dice.between(1, 3_000)));
            if line.already_misfit().is_some() {
                line.already.waste.pop();
            }
        }
    }
    if line.delivery.is_some() {
        for class in 0..line.classes.len() as u8 {
            if line.classes[usize::from(class)].par.is_some() && dice.once_in(3) {
                let pieces = dice.between(1, 6) as u16;
                line.already.on_carts.push((ClassId(class), pieces));
                if line.already_misfit().is_some() {
                    line.already.on_carts.pop();
                }
            }
        }
    }
    line.already.to_wash = line.carts.iter().map(|_| dice.upto(2)).collect();
    if line.already_misfit().is_some() {
        line.already.to_wash.clear();
    }
    if dice.once_in(4) {
        line.already.clean = vec![Some(dice.upto(5)); line.classes.len()];
        if line.already_misfit().is_some() {
            line.already.clean.clear();
        }
    }
}
