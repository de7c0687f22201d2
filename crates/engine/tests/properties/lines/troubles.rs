//! Jams, failures and stop stations at whatever has a drive.

use scullery_engine::dist::Dist;
use scullery_engine::line::*;

use super::super::crews;
use super::super::dice::Dice;

pub(super) fn troubles(line: &mut Line, dice: &mut Dice) {
    let belts = (0..line.belts.len() as u8).map(Stands::Belt);
    let stacks = (0..line.stack_belts.len() as u8).map(Stands::StackBelt);
    let loops = (0..line.accumulators.len() as u8).map(Stands::Accumulator);
    let rollers = line.lanes.iter().enumerate();
    let rollers = rollers.filter(|(_, l)| matches!(l.kind, LaneKind::Rollers { .. }));
    let rollers = rollers.map(|(l, _)| Stands::Lane(l as u8));
    let machines = (0..line.machines.len() as u8).map(Stands::Machine);
    let drives: Vec<_> = belts
        .chain(stacks)
        .chain(loops)
        .chain(rollers)
        .chain(machines)
        .collect();
    if drives.is_empty() {
        return;
    }
    let posts = crews::posts(line);
    for t in 0..dice.pick(&[0, 0, 1, 2]) {
        let mut stops = vec![dice.pick(&drives)];
        let other = dice.pick(&drives);
        if dice.once_in(2) && other != stops[0] {
            stops.push(other);
        }
        line.troubles.push(Trouble {
            name: format!("trouble {t}"),
            stops,
            strikes: if dice.once_in(2) {
                Strikes::RunningMin(
                    dice.pick(&[Dist::Constant(7.0), Dist::Exponential { mean: 5.0 }]),
                )
            } else {
                Strikes::Share(dice.pick(&[0.1, 0.3]))
            },
            clearing_s: dice.dist(40.0),
            by: if dice.once_in(2) {
                vec![]
            } else {
                vec![dice.pick(&posts)]
            },
            then: dice.pick(&[AfterStop::Resume, AfterStop::RunAgain]),
        });
    }
}
