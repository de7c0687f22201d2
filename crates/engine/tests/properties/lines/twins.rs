//! Belts beside others, of random lines.

use scullery_engine::line::*;

use super::speeds;
use crate::properties::dice::Dice;

/// Some belts have another beside them, reached from the same positions.
pub(super) fn twins(line: &mut Line, dice: &mut Dice) {
    for belt in 0..line.belts.len() as u8 {
        if !dice.once_in(3) {
            continue;
        }
        let takes = match dice.upto(2) {
            0 => TwinTakes::Kinds((0..4).map(|_| dice.once_in(2)).collect()),
            1 => TwinTakes::Ware(line.classes.iter().map(|_| dice.once_in(2)).collect()),
            _ => TwinTakes::NoGap,
        };
        let section_mm = dice.between(100, 1_500);
        let first = line.belts[usize::from(belt)].clone();
        line.twins.push(Twin {
            belt,
            beside: line.belts.len() as u8,
            takes,
        });
        line.belts.push(Belt {
            name: format!("beside {belt}"),
            length_mm: first.length_mm + dice.upto(2_000),
            spacing_mm: dice.between(200, 1_200),
            speed: speeds(line.starts, dice),
            rule: dice.pick(&[
                EndRule::StopsOnArrival,
                EndRule::ClosesUp,
                EndRule::AdvancesOnDemand { section_mm },
            ]),
            ..first
        });
    }
}
