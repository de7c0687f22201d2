//! Ware that goes through the machine twice.

use scullery_engine::line::{Class, Line, Racking, RacksTo, SecondPass};

use super::checker::Checker;
use super::names::Names;
use super::ware::fits;
use crate::defaults;
use crate::file::ScenarioFile;

/// Says of each class where it is sorted for its second pass, and into which racks.
pub(crate) fn two_passes(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    racking: &[Racking],
    classes: &mut [Class],
) {
    for (index, (ware, class)) in file.ware.iter().zip(classes).enumerate() {
        let Some(written) = &ware.two_passes else {
            continue;
        };
        let path = format!("ware.{index}.two_passes");
        let at = format!("{path}.sorted_at");
        let Some(number) = check.find(&names.racking, &written.sorted_at, &at, "racking table")
        else {
            continue;
        };
        let table = racking.get(number);
        let pile = table.and_then(|table| {
            let mut piles = table.piles.iter();
            piles.find(|pile| usize::from(pile.class.0) == index)
        });
        if !table.is_some_and(|table| matches!(table.to_of(index as u8), RacksTo::Lane(_))) {
            if check.all_found(&["lane"]) {
                let message = format!(
                    "from \"{}\" no racks go to a lane, so \"{}\" would not be washed again",
                    written.sorted_at, ware.name
                );
                let help = "sort it at a racking table with `to` the lane of the machine";
                check.fault("leads-nowhere", &at, message, help);
            }
        } else if pile.is_none() {
            let message = format!("\"{}\" has no pile of \"{}\"", written.sorted_at, ware.name);
            let help = format!("add a `pile` with `ware = \"{}\"` to it", ware.name);
            check.fault("nobody-takes-it", &at, message, help);
        } else if pile.is_some_and(|pile| pile.room == Some(0)) {
            let message = format!(
                "\"{}\" has nowhere to lie between its passes: its pile at \"{}\" has room for nothing",
                ware.name, written.sorted_at
            );
            check.fault("too-small", &at, message, "give the pile `room_pieces`");
        }
        let take_off_s = check.or_default(
            written.take_off_s,
            &format!("ware.{}.two_passes.take_off_s", ware.name),
            &defaults::TAKE_OFF,
        );
        let mut second = fits(check, names, &written.fits, &path, &ware.name);
        if second.is_empty() {
            second.clone_from(&class.fits);
        }
        class.second_pass = Some(SecondPass {
            at: number as u8,
            fits: second,
            take_off_s,
        });
    }
}

/// Complains about ware that would miss its first pass, or come out of a machine where nobody could sort it.
pub(crate) fn joints(check: &mut Checker<'_>, line: &Line) {
    let mut told = false;
    for (index, class) in line.classes.iter().enumerate() {
        let Some(second) = &class.second_pass else {
            continue;
        };
        for post in &line.scrapping {
            let route = post.routes.get(index);
            let straight = route.is_some_and(|to| line.table_of(*to) == Some(second.at));
            if straight {
                let message = format!(
                    "\"{}\" is sent where it is sorted for its second pass, and would miss the first",
                    class.name
                );
                let help = "send it to the table where it is racked for the first pass";
                let path = format!("scrapping.{}.sends.{}", post.name, class.name);
                check.fault("misses-a-pass", &path, message, help);
            }
        }
        if told || !check.all_found(&["clean end"]) {
            continue;
        }
        if let Some(machine) = line.machines.iter().find(|machine| machine.to.is_none()) {
            let message = format!(
                "racks leave the line behind machine \"{}\", so \"{}\" would not be washed again",
                machine.name, class.name
            );
            let help = "let every machine have `to` a clean end, where racks are tipped out";
            let path = format!("machine.{}.to", machine.name);
            check.fault("leads-nowhere", &path, message, help);
            told = true;
        }
    }
}
