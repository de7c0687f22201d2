//! Breaking down in series: what a post takes off, where the tray goes on, and what is still on it when it comes.

use scullery_engine::demand::{Demand, LoadWhen, There};
use scullery_engine::line::PassesOn;

use super::checker::Checker;
use super::names::Names;
use super::scrapping::Around;
use crate::file::{ScenarioFile, ScrappingFile};

/// Tables on which whole trays lie when the run begins.
pub(super) fn laid(demand: &Demand, tables: usize) -> Vec<bool> {
    let lies = |table: usize| {
        demand.loads.iter().any(|load| {
            matches!(load.when, LoadWhen::There { at: There::Table(at), .. } if usize::from(at) == table)
        })
    };
    (0..tables).map(lies).collect()
}

/// Drop-offs at which trays are left aside when the run begins.
pub(super) fn aside(demand: &Demand, drop_offs: usize) -> Vec<bool> {
    let lies = |drop_off: usize| {
        demand.loads.iter().any(|load| {
            matches!(load.when, LoadWhen::There { at: There::Aside(at), .. } if usize::from(at) == drop_off)
        })
    };
    (0..drop_offs).map(lies).collect()
}

/// Posts that pass trays on over this table.
fn before<'a>(
    file: &'a ScenarioFile,
    table: &'a str,
) -> impl Iterator<Item = (&'a String, &'a ScrappingFile)> {
    let posts = file.scrapping.iter();
    posts.filter(move |(_, post)| post.passes_on_to.as_deref() == Some(table))
}

/// Posts that take trays from this table.
fn behind<'a>(file: &'a ScenarioFile, table: &'a str) -> impl Iterator<Item = &'a String> {
    let posts = file.scrapping.iter();
    posts
        .filter(move |(_, post)| post.takes_from.iter().any(|from| from == table))
        .map(|(name, _)| name)
}

/// Classes that can still be on a tray when it comes to this post: all of them, unless every way to it leads over posts
/// that take some off.
pub(super) fn comes(
    file: &ScenarioFile,
    names: &Names,
    around: &Around<'_>,
    post: &str,
) -> Vec<bool> {
    let classes = 0..names.ware.len();
    classes
        .map(|class| {
            class_comes(
                file,
                names,
                around,
                (post, &names.ware[class]),
                file.scrapping.len(),
            )
        })
        .collect()
}

fn class_comes(
    file: &ScenarioFile,
    names: &Names,
    around: &Around<'_>,
    (post, class): (&str, &String),
    deep: usize,
) -> bool {
    let Some(written) = file.scrapping.get(post) else {
        return true;
    };
    let fetches = |named: &Vec<String>| !named.is_empty();
    if deep == 0 || written.fetches_overflow_of.as_ref().is_some_and(fetches) {
        return true;
    }
    written.takes_from.iter().any(|from| {
        let table = names.tables.iter().position(|name| name == from);
        let whole = table.is_none_or(|table| around.laid.get(table).copied().unwrap_or(false))
            || file.drop_off.values().any(|drop_off| drop_off.to == *from);
        let mut posts = before(file, from);
        whole
            || posts.any(|(name, before)| {
                let off = before.takes_off.as_ref();
                !off.is_some_and(|off| off.contains(class))
                    && class_comes(file, names, around, (name, class), deep - 1)
            })
    })
}

/// What a post takes off before it passes a tray on.
pub(super) fn passes_on(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    name: &str,
    written: &ScrappingFile,
) -> Option<PassesOn> {
    let path = format!("scrapping.{name}");
    let Some(table) = &written.passes_on_to else {
        if written.takes_off.is_some() {
            check.fault(
                "goes-nowhere",
                &format!("{path}.takes_off"),
                format!("scrapping \"{name}\" takes only a part off, and the rest goes nowhere"),
                "write `passes_on_to = \"TABLE\"`, or leave `takes_off` out: the last post does all that is left",
            );
        }
        return None;
    };
    let key = format!("{path}.passes_on_to");
    let to = check.find(&names.tables, table, &key, "table")?;
    if file
        .table
        .get(table)
        .is_some_and(|it| it.room_trays == Some(0))
    {
        check.fault(
            "no-room",
            &key,
            format!("table \"{table}\" has room for nothing, so no tray can go on over it"),
            "give it room for at least one tray",
        );
    }
    let mut takes_off = vec![false; names.ware.len()];
    for (index, class) in written.takes_off.iter().flatten().enumerate() {
        let path = format!("{path}.takes_off.{index}");
        if let Some(class) = check.find(&names.ware, class, &path, "ware") {
            takes_off[class] = true;
        }
    }
    if !takes_off.contains(&true)
        && written.takes_off.iter().flatten().next().is_none()
        && written.handling_s.unwrap_or(0.0) <= 0.0
    {
        check.fault(
            "does-nothing",
            &path,
            format!("scrapping \"{name}\" takes nothing off and does not handle the tray"),
            "say what it does: `takes_off` or `handling_s`",
        );
    }
    for (key, class) in written
        .piece_s
        .keys()
        .map(|class| ("piece_s", class))
        .chain(written.sends.keys().map(|class| ("sends", class)))
    {
        let number = names.ware.iter().position(|known| known == class);
        if number.is_some_and(|class| !takes_off[class]) {
            check.fault(
                "not-taken-off",
                &format!("{path}.{key}.{class}"),
                format!("scrapping \"{name}\" does not take \"{class}\" off: it stays on the tray"),
                "name it under `takes_off`, or leave it out here",
            );
        }
    }
    Some(PassesOn {
        takes_off,
        to: to as u8,
    })
}

/// Complains when a tray could be passed on for ever.
pub(super) fn circle(check: &mut Checker<'_>, file: &ScenarioFile) {
    for name in file.scrapping.keys() {
        // All posts a tray can come to after this one.
        let mut reached: Vec<&String> = vec![name];
        let mut next = 0;
        while let Some(post) = reached.get(next).copied() {
            next += 1;
            let Some(table) = &file.scrapping[post].passes_on_to else {
                continue;
            };
            for later in behind(file, table) {
                if later == name {
                    check.fault(
                        "goes-round",
                        &format!("scrapping.{name}.passes_on_to"),
                        format!("trays passed on by scrapping \"{name}\" come back to it"),
                        "let the last post have no `passes_on_to`",
                    );
                    return;
                }
                if !reached.contains(&later) {
                    reached.push(later);
                }
            }
        }
    }
}
