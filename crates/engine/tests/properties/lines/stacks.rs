//! Belts that carry stacks, of random lines.

use scullery_engine::line::*;

use super::{speeds, stops};
use crate::properties::dice::Dice;

/// Some racking tables have their piles, or some of them, brought by a belt.
pub(super) fn stack_belts(line: &mut Line, dice: &mut Dice) {
    for to in 0..line.racking.len() as u8 {
        let piles = line.racking[usize::from(to)].piles.clone();
        if piles.is_empty() || !dice.once_in(3) {
            continue;
        }
        let mut pieces = vec![0; line.classes.len()];
        for pile in &piles {
            // No stack is higher than its pile has room for.
            let room = pile.room.filter(|&room| room > 0).unwrap_or(9);
            pieces[usize::from(pile.class.0)] = dice.between(1, 6).min(room) as u16;
        }
        let section_mm = dice.between(100, 1_500);
        let starts = line.starts;
        let number = line.stack_belts.len() as u8;
        line.stack_belts.push(StackBelt {
            belt: Belt {
                name: format!("stacks {to}"),
                length_mm: dice.between(500, 6_000),
                spacing_mm: dice.between(200, 1_200),
                speed: speeds(starts, dice),
                rule: dice.pick(&[
                    EndRule::StopsOnArrival,
                    EndRule::ClosesUp,
                    EndRule::AdvancesOnDemand { section_mm },
                ]),
                stops: stops(starts, dice),
            },
            pieces,
            to,
        });
        for route in line.scrapping.iter_mut().flat_map(|post| &mut post.routes) {
            if *route == PiecesTo::Pile(to) && !dice.once_in(3) {
                *route = PiecesTo::Stacks(number);
            }
        }
    }
}
