//! Receivers, what diners do, and where waste goes, in sentences.

use scullery_engine::line::{
    AidInto, DinerAid, DropOff, DutyWhen, Line, PiecesTo, ReceiverGoes, StoreKind,
};

use super::words::{counted, listed, post};
use crate::defaults::rounded;
use crate::plan::Plan;

/// What diners do at a drop-off before they put the tray down.
pub(super) fn diners_do(plan: &Plan, drop_off: &DropOff, told: &mut Vec<String>) {
    for aid in &drop_off.aids {
        told.push(diner_does(&plan.line, drop_off, aid));
    }
}

fn diner_does(line: &Line, drop_off: &DropOff, aid: &DinerAid) -> String {
    let classes = line.classes.iter().zip(&aid.takes);
    let mut puts: Vec<String> = classes
        .filter(|(_, takes)| **takes)
        .map(|(class, _)| class.name.clone())
        .collect();
    let tray = "the tray itself".to_owned();
    if aid.takes_tray && !puts.iter().any(|class| class == "tray") {
        puts.push(tray);
    }
    let does = match aid.into {
        AidInto::Receiver(r) => {
            let name = line
                .receivers
                .get(usize::from(r))
                .map_or("?", |it| &it.name);
            format!("put {} into {name}", listed(&puts))
        }
        AidInto::Waste { kind, store } => {
            let kind = line
                .waste_kinds
                .get(usize::from(kind))
                .map_or("?", |it| &it.name);
            format!("throw {kind} into {}", store_words(line, store))
        }
    };
    let mut costs = vec![format!("{} s more there", rounded(aid.adds_s))];
    if aid.adds_piece_s > 0.0 {
        costs.push(format!("{} s for each piece", rounded(aid.adds_piece_s)));
    }
    if aid.saves_s > 0.0 {
        costs.push(format!(
            "{} s of work less at the table",
            rounded(aid.saves_s)
        ));
    }
    if aid.takes_tray {
        costs.push("no tray to handle there".to_owned());
    }
    let full = match aid.waits {
        true => "when it is full they wait",
        false => "when it is full the rest stays on the tray",
    };
    format!(
        "At drop-off {} diners {does} ({}); {full}.",
        drop_off.name,
        costs.join(", ")
    )
}

/// A store as people say it: `bin slops`.
pub(super) fn store_words(line: &Line, store: u8) -> String {
    let Some(it) = line.waste_stores.get(usize::from(store)) else {
        return "?".to_owned();
    };
    match it.kind {
        StoreKind::Ground { .. } => format!("disposer {}", it.name),
        StoreKind::Bins { .. } => format!("bin {}", it.name),
    }
}

/// Receivers: room, who changes them, where what was in them goes.
pub(super) fn receivers(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for (r, it) in line.receivers.iter().enumerate() {
        let room = match (it.goes, it.room.or_else(|| line.rack_room(r as u8))) {
            (ReceiverGoes::AsRack(_), Some(room)) => {
                format!("is a rack out of the pool, for {}", counted(room, "piece"))
            }
            (_, Some(room)) => format!("holds {}", counted(room, "piece")),
            (_, None) => "holds as many pieces as come".to_owned(),
        };
        let on = match it.goes {
            ReceiverGoes::StraightOn(to) => {
                format!(
                    "what is in it goes {} by itself, as there is room",
                    goes(line, to)
                )
            }
            ReceiverGoes::Changed(to) => {
                format!(
                    "{}, and what was in it goes {}",
                    changed(line, r as u8),
                    goes(line, to)
                )
            }
            ReceiverGoes::AsRack(lane) => {
                let lane = line.lanes.get(usize::from(lane)).map_or("?", |it| &it.name);
                format!(
                    "{}, and it goes on lane {lane} as it is",
                    changed(line, r as u8)
                )
            }
        };
        let early = it
            .call_at
            .map_or(String::new(), |at| format!(" (somebody is called at {at})"));
        told.push(format!("Receiver {} {room}{early}; {on}.", it.name));
    }
}

fn changed(line: &Line, r: u8) -> String {
    let duty = line
        .duties
        .iter()
        .find(|duty| duty.when == DutyWhen::Change(r));
    let Some(duty) = duty else {
        return "nobody changes it".to_owned();
    };
    let by: Vec<String> = duty.by.iter().map(|by| post(line, *by)).collect();
    format!(
        "changed in {} s by whoever does {}",
        rounded(duty.work_s.mean()),
        listed(&by)
    )
}

fn goes(line: &Line, to: PiecesTo) -> String {
    let table = |r: u8| {
        line.racking
            .get(usize::from(r))
            .map_or("?", |it| it.name.as_str())
    };
    match to {
        PiecesTo::Pile(r) => format!("on its pile at {}", table(r)),
        PiecesTo::Racks(r) => format!("into racks at {}", table(r)),
        PiecesTo::Stacks(_) | PiecesTo::Receiver(_) => "nowhere".to_owned(),
        PiecesTo::Leave => "off the line".to_owned(),
    }
}

/// Kinds of waste, disposers and bins.
pub(super) fn waste(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    if line.waste_kinds.len() > 1 {
        let kinds: Vec<String> = line
            .waste_kinds
            .iter()
            .map(|it| format!("{} ({} %)", it.name, rounded(f64::from(it.share_ppm) / 1e4)))
            .collect();
        told.push(format!("Waste by weight: {}.", listed(&kinds)));
    }
    for (number, it) in line.waste_stores.iter().enumerate() {
        let kg = |grams: u32| rounded(f64::from(grams) / 1000.0);
        match it.kind {
            StoreKind::Ground {
                g_per_min,
                room_g,
                throughout,
            } => {
                let holds = room_g.map_or("holds as much as comes".to_owned(), |room| {
                    format!("holds {} kg with its trough, and breaking down is held up when it is full", kg(room))
                });
                let runs = match throughout {
                    true => "it runs until the last tray is broken down",
                    false => "it runs while there is waste in it",
                };
                let draws = plan.disposers.get(number).map_or(String::new(), |draws| {
                    format!(
                        ", with {} a minute and {} kW",
                        super::words::water(plan, draws.water_l_per_min),
                        rounded(draws.running_kw)
                    )
                });
                told.push(format!(
                    "Disposer {} takes {} kg a minute and {holds}; {runs}{draws}.",
                    it.name,
                    kg(g_per_min)
                ));
            }
            StoreKind::Bins { each_g, count: 1 } => told.push(format!(
                "Bin {} holds {} kg; whoever has waste for it while it is full stands there.",
                it.name,
                kg(each_g)
            )),
            StoreKind::Bins { each_g, count } => told.push(format!(
                "Bin {}: {count} of {} kg, filled one after the other; whoever has waste for it while all are full stands there.",
                it.name,
                kg(each_g)
            )),
        }
    }
    for post in &line.scrapping {
        let to = line.waste_kinds.iter().zip(&post.waste_to);
        let to: Vec<String> = to
            .filter_map(|(kind, store)| {
                let store = store_words(line, (*store)?);
                Some(format!("{} into {store}", kind.name))
            })
            .collect();
        if !to.is_empty() {
            told.push(format!("At scrapping {} goes {}.", post.name, listed(&to)));
        }
    }
}
