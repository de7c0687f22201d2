//! Two-level racking: open racks on levels above the table, for classes of their own, with a way of their own.

use super::Racking;
use crate::line::{ClassId, Line, RacksTo};

/// Most levels above one table: nobody reaches further.
pub const MOST_LEVELS: usize = 3;

/// A level above a racking table. What a longer reach costs is part of the seconds for a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// Its name.
    pub name: String,
    /// Racks that can stand open on it at once.
    pub open_racks: u32,
    /// Classes whose racks stand here, and nowhere else at this table.
    pub classes: Vec<ClassId>,
    /// Where its full racks go: a lane, or off the line.
    pub to: RacksTo,
}

impl Racking {
    /// Number of the level on which the racks of a class stand: 0 is the table itself.
    pub fn level_of(&self, class: u8) -> usize {
        let above = self.levels.iter();
        let mut above = above.zip(1..);
        above
            .find(|(level, _)| level.classes.contains(&ClassId(class)))
            .map_or(0, |(_, number)| number)
    }

    /// Where full racks of a class go.
    pub fn to_of(&self, class: u8) -> RacksTo {
        self.to_from(self.level_of(class))
    }

    /// Where full racks of a level go.
    pub(super) fn to_from(&self, level: usize) -> RacksTo {
        match level {
            0 => self.to,
            above => self.levels[above - 1].to,
        }
    }

    /// Everywhere full racks of any level go.
    pub fn ways(&self) -> impl Iterator<Item = RacksTo> + '_ {
        std::iter::once(self.to).chain(self.levels.iter().map(|level| level.to))
    }

    /// Whether racks of some level go to this lane.
    pub fn feeds(&self, lane: u8) -> bool {
        self.ways().any(|to| to == RacksTo::Lane(lane))
    }

    /// Racks that can stand open on each level, the table first.
    pub(super) fn room_by_level(&self) -> impl Iterator<Item = u32> + '_ {
        std::iter::once(self.open_racks).chain(self.levels.iter().map(|level| level.open_racks))
    }

    /// Racks that can stand open on all levels together.
    pub fn all_open_racks(&self) -> u32 {
        self.room_by_level().fold(0, u32::saturating_add)
    }
}

impl Line {
    /// What does not fit together about levels above racking tables.
    pub(crate) fn level_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for table in self.racking.iter().filter(|it| !it.levels.is_empty()) {
            let classes = || table.levels.iter().flat_map(|level| &level.classes);
            let known = |class: &ClassId| usize::from(class.0) < self.classes.len();
            let once = |class| classes().filter(|it| *it == class).count() == 1;
            let leads = |level: &Level| match level.to {
                RacksTo::Leave => true,
                RacksTo::Lane(lane) => usize::from(lane) < self.lanes.len(),
                RacksTo::Machine(_) => false,
            };
            let fits = table.levels.len() <= MOST_LEVELS
                && !matches!(table.to, RacksTo::Machine(_))
                && table.levels.iter().all(leads)
                && classes().all(|class| known(class) && once(class));
            if !fits {
                faults.push(format!("racking {} has levels that do not fit", table.name));
            }
        }
        faults
    }
}
