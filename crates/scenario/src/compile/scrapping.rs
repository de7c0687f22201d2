//! Scrapping posts: what they take, how long it takes, where the pieces go.

use scullery_engine::line::{
    Accumulator, Belt, ClassId, Closing, DropOff, PassesOn, PiecesTo, Racking, Scrapping,
    StackBelt, TraysFrom, TraysTo,
};

use super::accumulators::reach;
use super::checker::{Checker, mm};
use super::levels::reach_s;
use super::names::Names;
use super::series;
use super::trays::trays_to;
use super::waste;
use crate::defaults;
use crate::file::{ScenarioFile, ScrappingFile, SendsFile};

/// What stands around the posts.
pub(crate) struct Around<'a> {
    pub(crate) belts: &'a [Belt],
    pub(crate) accumulators: &'a [Accumulator],
    pub(crate) drop_offs: &'a [DropOff],
    pub(crate) racking: &'a [Racking],
    pub(crate) stack_belts: &'a [StackBelt],
    /// What the reach to each level above each racking table adds to the work on a piece, s.
    pub(crate) reaches: &'a [Vec<f64>],
    /// Whether diners may leave their tray aside because too many are waiting.
    pub(crate) patience: bool,
    /// Classes that some kind of diner brings back.
    pub(crate) brought: &'a [bool],
    /// Tables on which whole trays lie when the run begins.
    pub(crate) laid: &'a [bool],
    /// Drop-offs at which trays are left aside when the run begins.
    pub(crate) aside: &'a [bool],
}

/// Scrapping posts, in order of name.
pub(crate) fn scrapping(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    around: &Around<'_>,
) -> Vec<Scrapping> {
    let posts: Vec<Scrapping> = file
        .scrapping
        .iter()
        .map(|(name, written)| {
            let comes = series::comes(file, names, around, name);
            let passes_on = series::passes_on(check, file, names, name, written);
            post(check, name, written, names, around, (&comes, passes_on))
        })
        .collect();
    series::circle(check, file);
    posts
}

fn post(
    check: &mut Checker<'_>,
    name: &str,
    written: &ScrappingFile,
    names: &Names,
    around: &Around<'_>,
    (comes, passes_on): (&[bool], Option<PassesOn>),
) -> Scrapping {
    let path = format!("scrapping.{name}");
    let mut ways: Vec<TraysTo> = Vec::new();
    let mut from: Vec<TraysFrom> = Vec::new();
    let mut places: Vec<Option<usize>> = Vec::new();
    for (index, from) in written.takes_from.iter().enumerate() {
        let carts = names.carts.iter().position(|known| known == from);
        places.push(carts);
        if carts.is_some() {
            continue;
        }
        ways.extend(trays_to(
            check,
            names,
            from,
            &format!("{path}.takes_from.{index}"),
        ));
    }
    let mut belts_and_tables = ways.iter();
    for place in places {
        if let Some(carts) = place {
            from.push(TraysFrom::Carts(carts as u8));
            continue;
        }
        let Some(way) = belts_and_tables.next() else {
            continue;
        };
        from.push(match *way {
            TraysTo::Table(table) => TraysFrom::Table(table),
            TraysTo::Accumulator(number) => TraysFrom::Accumulator {
                accumulator: number,
                reach: reach(
                    check,
                    written,
                    &path,
                    around.accumulators.get(usize::from(number)),
                ),
            },
            TraysTo::Belt(belt) => match written.takes_at_m {
                None => TraysFrom::BeltEnd(belt),
                Some(at_m) => taking_point(check, written, &path, belt, at_m, around),
            },
        });
    }
    let takes_a_belt = ways.iter().any(|way| !matches!(way, TraysTo::Table(_)));
    if written.takes_at_m.is_some() && !takes_a_belt && !ways.is_empty() {
        let message =
            format!("scrapping \"{name}\" takes from no belt, so it has no point along one");
        check.fault(
            "off-the-belt",
            &format!("{path}.takes_at_m"),
            message,
            "leave `takes_at_m` out",
        );
    }
    from.extend(
        overflows(check, written, &path, names, around, &ways)
            .into_iter()
            .map(TraysFrom::Overflow),
    );

    let taken: Vec<bool> = match &passes_on {
        Some(on) => comes
            .iter()
            .zip(&on.takes_off)
            .map(|(a, b)| *a && *b)
            .collect(),
        None => comes.to_vec(),
    };
    let asked: Vec<bool> = taken
        .iter()
        .zip(around.brought)
        .map(|(a, b)| *a && *b)
        .collect();
    let mut piece_s = piece_seconds(check, written, &path, names, &asked);
    let routes: Vec<PiecesTo> = (0..names.ware.len())
        .map(|class| match taken[class] {
            true => route(check, written, &path, names, around, class),
            false => PiecesTo::Leave,
        })
        .collect();
    for ((class, route), seconds) in (0..).zip(&routes).zip(&mut piece_s) {
        let PiecesTo::Racks(table) = *route else {
            continue;
        };
        let table = usize::from(table);
        if let (Some(it), Some(reaches)) = (around.racking.get(table), around.reaches.get(table)) {
            *seconds += reach_s(it, reaches, ClassId(class));
        }
    }
    for class in written.sends.keys().chain(written.piece_s.keys()) {
        let key = if written.sends.contains_key(class) {
            "sends"
        } else {
            "piece_s"
        };
        check.find(&names.ware, class, &format!("{path}.{key}.{class}"), "ware");
    }
    let fetch_s = if from
        .iter()
        .any(|from| matches!(from, TraysFrom::Overflow(_)))
    {
        check.or_default(
            written.fetch_s,
            &format!("{path}.fetch_s"),
            &defaults::FETCH,
        )
    } else {
        0.0
    };
    Scrapping {
        name: name.to_owned(),
        from,
        places: written.places.unwrap_or(1),
        handling_s: written.handling_s.unwrap_or(0.0),
        piece_s,
        fetch_s,
        routes,
        waste_to: waste::waste_to(check, written, &path, names),
        passes_on,
    }
}

fn taking_point(
    check: &mut Checker<'_>,
    written: &ScrappingFile,
    path: &str,
    belt: u8,
    at_m: f64,
    around: &Around<'_>,
) -> TraysFrom {
    let reach_m = check.or_default(
        written.reach_m,
        &format!("{path}.reach_m"),
        &defaults::REACH,
    );
    if let Some(belt) = around.belts.get(usize::from(belt))
        && mm(at_m) > belt.length_mm
    {
        let message = format!(
            "the point at {at_m} m lies past the end of belt \"{}\" at {} m",
            belt.name,
            f64::from(belt.length_mm) / 1000.0
        );
        check.fault(
            "off-the-belt",
            &format!("{path}.takes_at_m"),
            message,
            "leave it out to take at the end",
        );
    }
    TraysFrom::BeltAt {
        belt,
        at_mm: mm(at_m),
        reach_mm: mm(reach_m).min(mm(at_m)),
    }
}

/// The drop-offs whose overflow is fetched here: those named, else those whose trays this post takes.
fn overflows(
    check: &mut Checker<'_>,
    written: &ScrappingFile,
    path: &str,
    names: &Names,
    around: &Around<'_>,
    ways: &[TraysTo],
) -> Vec<u8> {
    match &written.fetches_overflow_of {
        Some(named) => {
            let find = |(index, name): (usize, &String)| {
                let path = format!("{path}.fetches_overflow_of.{index}");
                check
                    .find(&names.drop_offs, name, &path, "drop-off")
                    .map(|number| number as u8)
            };
            named.iter().enumerate().filter_map(find).collect()
        }
        None => {
            let overflows =
                |drop_off: &DropOff| around.patience || matches!(drop_off.closes, Closing::At(_));
            let near = around.drop_offs.iter().enumerate();
            let near = near.filter(|(number, drop_off)| {
                let some = overflows(drop_off) || around.aside[*number];
                some && ways.contains(&drop_off.to)
            });
            near.map(|(number, _)| number as u8).collect()
        }
    }
}

fn piece_seconds(
    check: &mut Checker<'_>,
    written: &ScrappingFile,
    path: &str,
    names: &Names,
    brought: &[bool],
) -> Vec<f64> {
    let each =
        names
            .ware
            .iter()
            .zip(brought)
            .map(|(class, brought)| match written.piece_s.get(class) {
                Some(given) => *given,
                None if *brought => check.or_default(
                    None,
                    &format!("{path}.piece_s.{class}"),
                    &defaults::SCRAP_PIECE,
                ),
                None => 0.0,
            });
    each.collect()
}

fn route(
    check: &mut Checker<'_>,
    written: &ScrappingFile,
    path: &str,
    names: &Names,
    around: &Around<'_>,
    class: usize,
) -> PiecesTo {
    let racking = around.racking;
    let id = ClassId(class as u8);
    let path = format!("{path}.sends.{}", names.ware[class]);
    let has_pile = |table: &Racking| table.piles.iter().any(|pile| pile.class == id);
    match written.sends.get(&names.ware[class]) {
        Some(SendsFile::Leave) => PiecesTo::Leave,
        Some(SendsFile::Receiver(name)) => {
            let path = format!("{path}.receiver");
            let found = check.find(&names.receivers, name, &path, "receiver");
            found.map_or(PiecesTo::Leave, |number| PiecesTo::Receiver(number as u8))
        }
        Some(SendsFile::Stacks(belt)) => {
            let path = format!("{path}.stacks");
            let Some(number) = check.find(&names.stacks, belt, &path, "belt for stacks") else {
                return PiecesTo::Leave;
            };
            let pieces = around.stack_belts.get(number).map(|belt| &belt.pieces);
            if pieces.is_some_and(|pieces| pieces[class] == 0) {
                let class = &names.ware[class];
                let message = format!("belt \"{belt}\" carries no stacks of \"{class}\"");
                let help = format!(
                    "say under `pieces` of it how many make a stack, for example `{class} = 20`"
                );
                check.fault("no-such-pile", &path, message, help);
            }
            PiecesTo::Stacks(number as u8)
        }
        Some(SendsFile::Racks(table)) => {
            let number = check.find(
                &names.racking,
                table,
                &format!("{path}.racks"),
                "racking table",
            );
            if number.is_some_and(|number| number >= names.tables_of_racking) {
                let message = format!("no racks stand at load end \"{table}\"");
                check.fault(
                    "no-such-pile",
                    &format!("{path}.racks"),
                    message,
                    format!("write `{{ pile = \"{table}\" }}`"),
                );
                return PiecesTo::Leave;
            }
            number.map_or(PiecesTo::Leave, |number| PiecesTo::Racks(number as u8))
        }
        Some(SendsFile::Pile(table)) => {
            let path = format!("{path}.pile");
            let Some(number) = check.find(&names.racking, table, &path, "racking table") else {
                return PiecesTo::Leave;
            };
            if racking.get(number).is_some_and(|table| !has_pile(table)) {
                let message = format!(
                    "racking table \"{table}\" has no pile of \"{}\"",
                    names.ware[class]
                );
                check.fault(
                    "no-such-pile",
                    &path,
                    message,
                    format!(
                        "add a `[[{}.{table}.pile]]` with `ware = \"{}\"`",
                        if number < names.tables_of_racking {
                            "racking"
                        } else {
                            "placing"
                        },
                        names.ware[class]
                    ),
                );
            }
            PiecesTo::Pile(number as u8)
        }
        None => {
            // Nothing is sent straight to where ware is sorted between two passes.
            let mut piles = racking.iter().enumerate().filter(|(number, table)| {
                has_pile(table) && names.sorted_at[class] != Some(*number)
            });
            let mut tables = (0..names.tables_of_racking)
                .filter(|table| !names.sorted_at.contains(&Some(*table)));
            match (piles.next(), piles.next(), tables.next(), tables.next()) {
                (Some((number, _)), None, _, _) => PiecesTo::Pile(number as u8),
                (None, None, None, _) if racking.is_empty() => PiecesTo::Leave,
                (None, None, Some(only), None) => PiecesTo::Racks(only as u8),
                _ => {
                    let message = format!(
                        "where \"{}\" goes from here is not clear: several racking tables could take it",
                        names.ware[class]
                    );
                    let key = path
                        .rsplit_once(".sends")
                        .map_or(path.as_str(), |(post, _)| post);
                    check.fault(
                        "not-clear-where",
                        key,
                        message,
                        format!(
                            "say it under `sends`, for example `{} = {{ racks = \"{}\" }}`",
                            names.ware[class], names.racking[0]
                        ),
                    );
                    PiecesTo::Leave
                }
            }
        }
    }
}
