//! Levels above racking tables.

use scullery_engine::line::{ClassId, Level, Racking, RacksTo};

use super::checker::Checker;
use super::names::{LEAVE, Names, tell_apart};
use crate::defaults;
use crate::file::{LevelFile, ScenarioFile};

/// The levels above a table whose own racks go `to`.
pub(super) fn levels(
    check: &mut Checker<'_>,
    written: &[LevelFile],
    path: &str,
    names: &Names,
    to: RacksTo,
) -> Vec<Level> {
    let called: Vec<String> = written.iter().map(|level| level.name.clone()).collect();
    let what = "levels above one racking table";
    tell_apart(check, &format!("{path}.level"), what, &called);
    let mut levels: Vec<Level> = Vec::new();
    for (index, level) in written.iter().enumerate() {
        let path = format!("{path}.level.{index}");
        let mut classes = Vec::new();
        for (number, name) in level.ware.iter().enumerate() {
            let path = format!("{path}.ware.{number}");
            let Some(class) = check.find(&names.ware, name, &path, "ware") else {
                continue;
            };
            let class = ClassId(class as u8);
            let known = levels.iter().flat_map(|level| &level.classes);
            if known.chain(&classes).any(|it| *it == class) {
                let message = format!("the racks of \"{name}\" stand on a level already");
                check.fault("name-twice", &path, message, "keep it on one of them");
            }
            classes.push(class);
        }
        let to = match level.to.as_deref() {
            None => to,
            Some(LEAVE) => RacksTo::Leave,
            Some(lane) => {
                let found = check.find(&names.lanes, lane, &format!("{path}.to"), "lane");
                found.map_or(RacksTo::Leave, |lane| RacksTo::Lane(lane as u8))
            }
        };
        levels.push(Level {
            name: level.name.clone(),
            open_racks: level.open_racks,
            classes,
            to,
        });
    }
    levels
}

/// What the reach to each level above each racking table adds to the work on a piece: by table, then by level.
pub(super) fn reaches(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Vec<f64>> {
    let mut reaches = Vec::new();
    for (table, written) in &file.racking {
        let levels = written.level.iter();
        let of_level = levels.map(|level| {
            let key = format!("racking.{table}.level.{}.reach_s", level.name);
            check.or_default(level.reach_s, &key, &defaults::LEVEL_REACH)
        });
        reaches.push(of_level.collect());
    }
    reaches
}

/// Seconds that the reach adds to a piece of a class at a table; none where its racks stand on the table itself.
pub(super) fn reach_s(table: &Racking, reaches: &[f64], class: ClassId) -> f64 {
    let above = table.level_of(class.0).checked_sub(1);
    above
        .and_then(|above| reaches.get(above))
        .copied()
        .unwrap_or(0.0)
}
