//! Twin belts: a second belt beside the first, and which trays are put on it.
//!
//! A belt that has none beside it knows nothing of this: one look at an empty list.

use crate::line::floor::Floor;
use crate::line::{Line, TraysTo};
use crate::tape::Tape;

/// A belt that runs beside another, within reach of the same drop-off positions.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Twin {
    /// Number of the belt that the drop-offs lead to.
    pub belt: u8,
    /// Number of the belt beside it. Load points lie as far along it as along the other.
    pub beside: u8,
    /// Which trays go on the belt beside.
    pub takes: TwinTakes,
}

/// Which trays go on the belt beside; all others stay on the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TwinTakes {
    /// Trays of these kinds of diner or load, by kind: a size of tray.
    Kinds(Vec<bool>),
    /// Trays with at least one piece of these classes on them, by class.
    Ware(Vec<bool>),
    /// Trays that find no gap on the first belt.
    NoGap,
}

impl Line {
    /// Whether trays put down on the way `to` may come to lie on belt `b`.
    pub fn reaches_belt(&self, to: TraysTo, b: u8) -> bool {
        let beside = |twin: &Twin| to == TraysTo::Belt(twin.belt) && twin.beside == b;
        to == TraysTo::Belt(b) || self.twins.iter().any(beside)
    }

    /// What of the twin belts does not fit together.
    pub(crate) fn twin_faults(&self) -> Vec<String> {
        let there = |belt: u8| usize::from(belt) < self.belts.len();
        let fits = self.twins.iter().all(|twin| {
            // The belt beside has none beside itself, so that a tray is routed once.
            let chain = self.twins.iter().any(|other| other.belt == twin.beside);
            there(twin.belt) && there(twin.beside) && !chain
        });
        let mut faults = Vec::new();
        if !fits {
            faults.push("a belt runs beside none, or beside one that runs beside another".into());
        }
        faults
    }
}

/// Where this tray is put down by somebody whose drop-off leads `to`, and the belt tried after that, if any.
#[inline]
pub(crate) fn ways(
    floor: &Floor,
    line: &Line,
    tape: &Tape,
    to: TraysTo,
    tray: u32,
) -> (TraysTo, Option<TraysTo>) {
    if line.twins.is_empty() {
        return (to, None);
    }
    routed(floor, line, tape, to, tray)
}

fn routed(
    floor: &Floor,
    line: &Line,
    tape: &Tape,
    to: TraysTo,
    tray: u32,
) -> (TraysTo, Option<TraysTo>) {
    for twin in &line.twins {
        if to != TraysTo::Belt(twin.belt) {
            continue;
        }
        let beside = TraysTo::Belt(twin.beside);
        let goes = match &twin.takes {
            TwinTakes::Kinds(kinds) => {
                let kind = usize::from(tape.diners()[tray as usize].kind);
                kinds.get(kind).copied().unwrap_or(false)
            }
            TwinTakes::Ware(classes) => {
                let on_it = &floor.ledger.pieces[tray as usize];
                classes.iter().zip(on_it).any(|(&is, &n)| is && n > 0)
            }
            TwinTakes::NoGap => return (to, Some(beside)),
        };
        if goes {
            return (beside, None);
        }
    }
    (to, None)
}
