//! Receivers, what diners do at drop-offs, and the other work of changing what is full.

use scullery_engine::dist::Dist;
use scullery_engine::line::{
    AidInto, DinerAid, Duty, DutyWhen, Line, MOST_DINER_AIDS, PiecesTo, RacksTo, Receiver,
    ReceiverGoes,
};
use scullery_engine::time::Span;

use super::checker::Checker;
use super::crew::post;
use super::names::Names;
use crate::defaults;
use crate::file::{ChangedFile, DinersDoFile, ReceiverToFile, ScenarioFile, WhenFullFile};

/// Receivers, in order of name.
pub(crate) fn receivers(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
) -> Vec<Receiver> {
    let each = file.receiver.iter();
    each.map(|(name, written)| {
        let path = format!("receiver.{name}");
        let changed = written.changed.as_ref();
        let on_to = |to: PiecesTo| match changed {
            Some(_) => ReceiverGoes::Changed(to),
            None => ReceiverGoes::StraightOn(to),
        };
        let goes = match &written.to {
            ReceiverToFile::Leave => on_to(PiecesTo::Leave),
            ReceiverToFile::Pile(table) => {
                let path = format!("{path}.to.pile");
                let found = check.find(&names.racking, table, &path, "racking table");
                on_to(found.map_or(PiecesTo::Leave, |number| PiecesTo::Pile(number as u8)))
            }
            ReceiverToFile::Racks(table) => {
                let path = format!("{path}.to.racks");
                let tables = &names.racking[..names.tables_of_racking];
                let found = check.find(tables, table, &path, "racking table");
                on_to(found.map_or(PiecesTo::Leave, |number| PiecesTo::Racks(number as u8)))
            }
            ReceiverToFile::Lane(lane) => {
                let at = format!("{path}.to.lane");
                let found = check.find(&names.lanes, lane, &at, "lane");
                if changed.is_none() {
                    let message = format!("nobody takes rack \"{name}\" to lane \"{lane}\"");
                    let help =
                        "add for example `changed = { by = [\"scrapping.main\"], work_s = 20 }`";
                    check.fault("missing-key", &path, message, help);
                }
                if written.room_pieces.is_some() {
                    let message = format!("\"{name}\" is a rack and holds what its kind takes");
                    let at = format!("{path}.room_pieces");
                    check.fault("said-twice", &at, message, "leave it out");
                }
                found.map_or(on_to(PiecesTo::Leave), |lane| {
                    ReceiverGoes::AsRack(lane as u8)
                })
            }
        };
        Receiver {
            name: name.clone(),
            room: written
                .room_pieces
                .filter(|_| !matches!(goes, ReceiverGoes::AsRack(_))),
            call_at: changed.and_then(|changed| changed.at_pieces),
            goes,
        }
    })
    .collect()
}

/// What diners do at a drop-off.
pub(crate) fn diners_do(
    check: &mut Checker<'_>,
    written: &[DinersDoFile],
    path: &str,
    names: &Names,
) -> Vec<DinerAid> {
    let mut aids = Vec::new();
    for (index, written) in written.iter().enumerate() {
        aids.extend(aid(
            check,
            written,
            &format!("{path}.diners_do.{index}"),
            names,
        ));
    }
    if aids.len() > MOST_DINER_AIDS {
        let message = format!(
            "diners do at most {MOST_DINER_AIDS} things at a drop-off, found {}",
            aids.len()
        );
        let at = format!("{path}.diners_do.{MOST_DINER_AIDS}");
        check.fault("too-large", &at, message, "join what can be joined");
    }
    aids
}

fn aid(
    check: &mut Checker<'_>,
    written: &DinersDoFile,
    path: &str,
    names: &Names,
) -> Option<DinerAid> {
    let mut takes = vec![false; names.ware.len()];
    for (index, class) in written.puts.iter().enumerate() {
        if let Some(class) = check.find(&names.ware, class, &format!("{path}.puts.{index}"), "ware")
        {
            takes[class] = true;
        }
    }
    let into = format!("{path}.into");
    let into = match (&written.throws, written.puts.is_empty()) {
        (None, true) => {
            let message = "it is not said what diners do".to_owned();
            let help = "write for example `puts = [\"cutlery\"]`, or `throws = \"waste\"`";
            check.fault("does-nothing", path, message, help);
            return None;
        }
        (Some(_), false) => {
            let message = "ware and waste do not go to one place".to_owned();
            let at = format!("{path}.throws");
            check.fault("said-twice", &at, message, "write a `diners_do` for each");
            return None;
        }
        (None, false) => {
            let found = check.find(&names.receivers, &written.into, &into, "receiver")?;
            AidInto::Receiver(found as u8)
        }
        (Some(kind), true) => {
            let at = format!("{path}.throws");
            let kind = check.find(&names.waste_kinds, kind, &at, "kind of waste");
            let store = check.find(&names.waste_stores, &written.into, &into, "disposer or bin");
            AidInto::Waste {
                kind: kind? as u8,
                store: store? as u8,
            }
        }
    };
    let adds_s = check.or_default(
        written.adds_s,
        &format!("{path}.adds_s"),
        &defaults::DINER_AID,
    );
    Some(DinerAid {
        takes,
        into,
        takes_tray: written.takes_tray,
        adds_s,
        adds_piece_s: written.adds_each_s.unwrap_or(0.0),
        saves_s: written.saves_s.unwrap_or(0.0),
        waits: written.when_full == Some(WhenFullFile::Wait),
    })
}

/// The work of changing what is full, and where each piece of it stands in the file.
pub(crate) fn changes(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
) -> (Vec<Duty>, Vec<String>) {
    let (mut duties, mut paths) = (Vec::new(), Vec::new());
    let mut add =
        |check: &mut Checker<'_>, what: (String, DutyWhen), written: &ChangedFile, path: String| {
            let mut by = Vec::new();
            for (index, name) in written.by.iter().enumerate() {
                by.extend(post(check, names, &format!("{path}.by.{index}"), name));
            }
            let mut name = what.0;
            while file.duty.contains_key(&name) {
                name.push_str(" again");
            }
            duties.push(Duty {
                name,
                when: what.1,
                work_s: Dist::Constant(written.work_s),
                by,
                may_wait: written.may_wait_min.map(Span::from_min),
                clean_side: false,
            });
            paths.push(format!("{path}.by"));
        };
    for (number, (name, written)) in (0..).zip(&file.receiver) {
        if let Some(changed) = &written.changed {
            let what = (format!("change {name}"), DutyWhen::Change(number));
            add(check, what, changed, format!("receiver.{name}.changed"));
        }
    }
    let bins = file.disposer.len() as u8;
    for (number, (name, written)) in (bins..).zip(&file.bin) {
        let what = (format!("empty {name}"), DutyWhen::BinFull(number));
        add(check, what, &written.emptied, format!("bin.{name}.emptied"));
    }
    (duties, paths)
}

/// Complains about receivers that nothing goes into, and about what is in them and cannot go on.
pub(crate) fn joined(check: &mut Checker<'_>, line: &Line, names: &Names) {
    for (number, it) in line.receivers.iter().enumerate() {
        let path = format!("receiver.{}", it.name);
        let classes = line.classes_into(number as u8);
        if classes.is_empty() && check.all_found(&["receiver", "ware"]) {
            let message = format!("nothing is ever put into \"{}\"", it.name);
            let help =
                "name it under a drop-off's `diners_do` or a post's `sends`, or leave it out";
            check.fault("never-fed", &path, message, help);
        }
        match it.goes {
            ReceiverGoes::StraightOn(to) | ReceiverGoes::Changed(to) => {
                for class in classes {
                    goes_on(check, line, names, (&path, &it.name), to, class);
                }
            }
            ReceiverGoes::AsRack(_) => {
                if classes.len() > 1 {
                    let message = format!(
                        "a rack takes one class of ware, and \"{}\" several",
                        it.name
                    );
                    let help = "make a receiver for each";
                    check.fault("one-class-a-rack", &path, message, help);
                }
                for class in classes {
                    no_rack(check, line, class);
                }
            }
        }
    }
}

fn no_rack(check: &mut Checker<'_>, line: &Line, class: usize) {
    if line.classes[class].fits.is_empty() && check.all_found(&["rack kind"]) {
        let message = format!("no rack takes \"{}\"", line.classes[class].name);
        let help = "add for example `fits = [{ rack = \"peg\", pieces = 18 }]`";
        check.fault("no-rack-takes", &format!("ware.{class}"), message, help);
    }
}

fn goes_on(
    check: &mut Checker<'_>,
    line: &Line,
    names: &Names,
    (path, name): (&str, &str),
    to: PiecesTo,
    class: usize,
) {
    let ware = &names.ware[class];
    let second = line.classes[class].second_pass.as_ref();
    if second.is_some_and(|second| line.table_of(to) == Some(second.at)) {
        let message = format!(
            "\"{ware}\" is sent where it is sorted for its second pass, and would miss the first"
        );
        let help = "send it to the table where it is racked for the first pass";
        check.fault("misses-a-pass", &format!("{path}.to"), message, help);
    }
    match to {
        PiecesTo::Pile(table) => {
            let Some(table) = line.racking.get(usize::from(table)) else {
                return;
            };
            let pile = table
                .piles
                .iter()
                .find(|pile| usize::from(pile.class.0) == class);
            let (code, message) = match pile {
                None => (
                    "no-such-pile",
                    format!(
                        "\"{}\" has no pile of \"{ware}\", which \"{name}\" takes",
                        table.name
                    ),
                ),
                Some(pile) if pile.room == Some(0) => (
                    "no-room",
                    format!(
                        "the pile of \"{ware}\" at \"{}\" has room for nothing",
                        table.name
                    ),
                ),
                Some(_) => {
                    if !matches!(table.to, RacksTo::Machine(_)) {
                        no_rack(check, line, class);
                    }
                    return;
                }
            };
            let help = "add a pile with room to that table, or send it elsewhere";
            check.fault(code, &format!("{path}.to.pile"), message, help);
        }
        PiecesTo::Racks(_) => no_rack(check, line, class),
        PiecesTo::Leave | PiecesTo::Stacks(_) | PiecesTo::Receiver(_) => {}
    }
}
