//! Random small lines, drawing from all elements; each fits together as the loader would have it.

use scullery_engine::line::*;
use scullery_engine::time::{SimTime, Span};

mod aids;
mod already;
mod racks;
mod soiled;
mod stacks;
mod troubles;
mod twins;
mod washing;

use super::dice::Dice;
use aids::aids;
use already::already;
use racks::{gate, hand_over, lanes, levels, racking};
use soiled::{carts, drop_offs, in_series, scrapping};
use stacks::stack_belts;
use troubles::troubles;
use twins::twins;
use washing::{clean_ends, delivery, look_over, machines, second_pass};

/// One part of the choices for each part of a line, and one for the demand.
#[derive(Clone, Copy)]
pub(crate) enum Part {
    Shape,
    Ware,
    DropOff,
    Ways,
    Scrapping,
    Racking,
    Lanes,
    Machines,
    CleanEnd,
    Delivery,
    Crew,
    Duties,
    Demand,
    Carts,
    Trouble,
    ForTwo,
    Already,
    LookOver,
    Series,
    SecondPass,
    HandOver,
    Gate,
    Twins,
    Stacks,
    Aids,
    Levels,
}

pub(crate) const PARTS: usize = Part::Levels as usize + 1;
/// Choices a part has; more are nought.
pub(crate) const CHOICES: usize = 96;

/// How many there are of each element.
struct Shape {
    starts: SimTime,
    classes: u8,
    kinds: u8,
    racking: u8,
    machines: u8,
    clean_ends: u8,
    delivery: bool,
    until_clean: bool,
}

/// Builds a line from choices, one list a [`Part`].
pub(crate) fn line(choices: &[Vec<u16>]) -> Line {
    let dice = |part: Part| Dice::new(&choices[part as usize]);
    let shape = shape(&mut dice(Part::Shape));
    let starts = shape.starts;
    let mut it = Line {
        name: "at random".into(),
        starts,
        ..Line::default()
    };
    ware(&mut it, &shape, &mut dice(Part::Ware));
    drop_offs(
        &mut it,
        &shape,
        &mut dice(Part::DropOff),
        &mut dice(Part::Ways),
    );
    twins(&mut it, &mut dice(Part::Twins));
    carts(&mut it, &shape, &mut dice(Part::Carts));
    lanes(&mut it, &shape, &mut dice(Part::Lanes));
    machines(&mut it, &shape, &mut dice(Part::Machines));
    racking(&mut it, &shape, &mut dice(Part::Racking));
    scrapping(&mut it, &mut dice(Part::Scrapping));
    stack_belts(&mut it, &mut dice(Part::Stacks));
    look_over(&mut it, &mut dice(Part::LookOver));
    in_series(&mut it, &mut dice(Part::Series));
    second_pass(&mut it, &mut dice(Part::SecondPass));
    hand_over(&mut it, &mut dice(Part::HandOver));
    levels(&mut it, &mut dice(Part::Levels));
    gate(&mut it, &mut dice(Part::Gate));
    clean_ends(&mut it, &shape, &mut dice(Part::CleanEnd));
    delivery(&mut it, &shape, &mut dice(Part::Delivery));
    super::crews::crew(&mut it, &mut dice(Part::Crew));
    super::crews::duties(&mut it, &mut dice(Part::Duties));
    aids(&mut it, &mut dice(Part::Aids));
    troubles(&mut it, &mut dice(Part::Trouble));
    super::crews::for_two(&mut it, &mut dice(Part::ForTwo));
    already(&mut it, &mut dice(Part::Already));
    it
}

fn shape(dice: &mut Dice) -> Shape {
    let starts = SimTime::from_s(dice.pick(&[0.0, 36_000.0]));
    let racking = dice.pick(&[0, 1, 1, 1, 1, 2]);
    let machines = if racking > 0 {
        dice.pick(&[0, 1, 1, 1, 2])
    } else {
        0
    };
    let clean_ends = if machines > 0 {
        dice.pick(&[0, 1, 1, 2]).min(machines + 1)
    } else {
        0
    };
    Shape {
        starts,
        classes: 1 + dice.upto(3) as u8,
        kinds: 1 + dice.upto(2) as u8,
        racking,
        machines,
        clean_ends,
        delivery: clean_ends > 0 && dice.once_in(2),
        until_clean: !dice.once_in(3),
    }
}

fn ware(line: &mut Line, shape: &Shape, dice: &mut Dice) {
    for k in 0..shape.kinds {
        line.rack_kinds.push(RackKind {
            name: format!("kind {k}"),
            count: dice.between(1, 8),
        });
    }
    for c in 0..shape.classes {
        let first = dice.upto(u32::from(shape.kinds) - 1) as u8;
        let mut fits = vec![(RackKindId(first), dice.between(1, 8) as u16)];
        if shape.kinds > 1 && dice.once_in(2) {
            let second = (first + 1) % shape.kinds;
            fits.push((RackKindId(second), dice.between(1, 8) as u16));
        }
        line.classes.push(Class {
            name: format!("class {c}"),
            par: dice.once_in(2).then(|| dice.between(5, 60)),
            fits,
            dry: dice.span(90),
            unload_s: dice.secs(3),
            unload_rack_s: dice.secs(20),
            short: match dice.upto(5) {
                3 => Short::Takes(ClassId(dice.upto(u32::from(shape.classes) - 1) as u8)),
                4 => Short::Disposable,
                5 => Short::Waits(Span::from_s(f64::from(dice.between(1, 600)))),
                _ => Short::Without,
            },
            disposable: if dice.once_in(4) {
                let from = SimTime::from_s(f64::from(dice.upto(900)));
                vec![(from, from + dice.span(900))]
            } else {
                Vec::new()
            },
            stays_in_rack: dice.once_in(4),
            rewash: None,
            second_pass: None,
            broken: 0.0,
            waste_g: dice.pick(&[0, 0, 35]),
            clean_end: (shape.clean_ends > 0 && dice.once_in(4))
                .then(|| dice.upto(u32::from(shape.clean_ends) - 1) as u8),
        });
    }
}

/// Stops in clock order, not overlapping; the next may begin when one ends.
fn stops(starts: SimTime, dice: &mut Dice) -> Vec<Stop> {
    let mut at = starts;
    let mut list = Vec::new();
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        let from = at + Span::from_s(f64::from(dice.upto(600)));
        let to = from + Span::from_s(f64::from(dice.between(1, 240)));
        let then = dice.pick(&[AfterStop::Resume, AfterStop::RunAgain]);
        list.push(Stop { from, to, then });
        at = to;
    }
    list
}

/// Speeds from each clock time on; later ones may be nought.
fn speeds(starts: SimTime, dice: &mut Dice) -> Vec<(SimTime, u32)> {
    let mut list = vec![(starts, dice.between(1_000, 12_000))];
    let mut at = starts;
    for _ in 0..dice.pick(&[0, 0, 1, 2]) {
        at = at + Span::from_s(f64::from(dice.between(1, 600)));
        let speed = if dice.once_in(6) {
            0
        } else {
            dice.between(1_000, 12_000)
        };
        list.push((at, speed));
    }
    // Nothing stands for ever: the last speed is a speed.
    if let Some(last) = list.last_mut() {
        last.1 = last.1.max(1_000);
    }
    list
}
