//! Ware that is washed again, and ware that breaks.

use scullery_engine::line::{Class, Racking, Rewash};

use super::checker::Checker;
use super::names::Names;
use crate::file::{ScenarioFile, WareFile};

/// Says of each class which share is washed again, and to which pile it goes.
pub(crate) fn rewash(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    racking: &[Racking],
    classes: &mut [Class],
) {
    for (index, (ware, class)) in file.ware.iter().zip(classes).enumerate() {
        let path = format!("ware.{index}");
        let shares = [
            ("rewash_share", ware.rewash_share),
            ("breakage_share", ware.breakage_share),
        ];
        for (key, share) in shares {
            if share.is_some_and(|share| share > 0.0) && file.clean_end.is_empty() {
                let message = format!(
                    "there is no clean end at which \"{}\" is looked over",
                    ware.name
                );
                let help = "add a clean end and send the machine's racks to it";
                check.fault("nobody-takes-it", &format!("{path}.{key}"), message, help);
            }
        }
        let share = ware.rewash_share.filter(|&share| share > 0.0);
        if let Some(share) = share {
            let to = pile(check, ware, index, names, racking);
            class.rewash = to.map(|to| Rewash { share, to });
        } else if ware.rewash_at.is_some() {
            let message = format!("no share of \"{}\" is washed again", ware.name);
            let help = "add `rewash_share`, for example `rewash_share = 0.02`, or leave this out";
            check.fault("missing-key", &format!("{path}.rewash_at"), message, help);
        }
    }
}

/// The racking table on whose pile a class is put to be washed again.
fn pile(
    check: &mut Checker<'_>,
    ware: &WareFile,
    index: usize,
    names: &Names,
    racking: &[Racking],
) -> Option<u8> {
    let room = |table: &Racking| {
        let mut piles = table.piles.iter();
        let pile = piles.find(|pile| usize::from(pile.class.0) == index)?;
        Some(pile.room)
    };
    let (number, path) = if let Some(at) = &ware.rewash_at {
        let path = format!("ware.{index}.rewash_at");
        let number = check.find(&names.racking, at, &path, "racking table")?;
        if racking.get(number).and_then(room).is_none() {
            let message = format!("\"{at}\" has no pile of \"{}\"", ware.name);
            let help = format!("add a `pile` with `ware = \"{}\"` to it", ware.name);
            check.fault("nobody-takes-it", &path, message, help);
            return None;
        }
        (number, path)
    } else {
        let path = format!("ware.{index}.rewash_share");
        let tables: Vec<usize> = (0..racking.len())
            .filter(|&table| room(&racking[table]).is_some())
            .collect();
        match tables[..] {
            [one] => (one, path),
            [] => {
                let message = format!(
                    "\"{}\" is washed again and no racking table has a pile it could be put on",
                    ware.name
                );
                let help = format!("add a `pile` with `ware = \"{}\"` to one", ware.name);
                check.fault("nobody-takes-it", &path, message, help);
                return None;
            }
            _ => {
                let message = format!(
                    "where \"{}\" is washed again is not clear: several racking tables have a pile of it",
                    ware.name
                );
                let help = "name one under `rewash_at`";
                check.fault("not-clear-where", &path, message, help);
                return None;
            }
        }
    };
    if room(&racking[number]) == Some(Some(0)) {
        let message = format!(
            "\"{}\" that is washed again has nowhere to lie: its pile at \"{}\" has room for nothing",
            ware.name, names.racking[number]
        );
        check.fault("too-small", &path, message, "give the pile `room_pieces`");
        return None;
    }
    Some(number as u8)
}
