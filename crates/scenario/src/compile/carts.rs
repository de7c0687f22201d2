//! Carts, tubs, courses and loads: what they mean.

use scullery_engine::demand::{Cleared, Course, Kind, Load, LoadWhen, MOST_COURSES, There};
use scullery_engine::line::{CartWash, Carts, CartsGo};
use scullery_engine::time::Span;

use super::checker::Checker;
use super::names::Names;
use crate::defaults;
use crate::describe::words;
use crate::file::{CartsGoFile, ClearedFile, CourseFile, LoadFile, LoadWhenFile, ScenarioFile};

/// Carts and tubs, in order of name.
pub(crate) fn carts(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Carts> {
    file.carts
        .iter()
        .map(|(name, written)| {
            let path = format!("carts.{name}");
            let goes = match &written.goes {
                CartsGoFile::AtOnce => CartsGo::AtOnce,
                CartsGoFile::WhenFull { longest_wait_min } => CartsGo::WhenFull {
                    longest_wait: longest_wait_min.map(Span::from_min),
                },
                CartsGoFile::Rounds {
                    from,
                    every_min,
                    carts,
                } => CartsGo::Rounds {
                    first: check.clock(&format!("{path}.goes.rounds.from"), from),
                    every: Span::from_min(*every_min),
                    carts: carts.unwrap_or(1),
                },
            };
            if let CartsGo::Rounds { carts, .. } = goes
                && carts > written.count
            {
                let message = format!(
                    "a round takes {carts} of \"{name}\", but there are only {}",
                    written.count
                );
                check.fault(
                    "too-large",
                    &format!("{path}.goes.rounds.carts"),
                    message,
                    "let a round take fewer, or let there be more",
                );
            }
            let wash = written.wash.as_ref().map(|wash| CartWash {
                cart_s: wash.cart_s,
                variation: check.varies(
                    &format!("{path}.wash.varies"),
                    wash.varies.as_ref(),
                    &defaults::CART_WASH_CV,
                ),
                workers: wash.workers.unwrap_or(1),
            });
            Carts {
                name: name.clone(),
                count: written.count,
                holds: written.holds,
                goes,
                way: Span::from_s(written.way_s.unwrap_or(0.0)),
                parking: written.parking,
                wash,
            }
        })
        .collect()
}

/// The courses of a kind; its pieces become their sum.
pub(crate) fn courses(
    check: &mut Checker<'_>,
    written: &[CourseFile],
    path: &str,
    names: &Names,
    pieces: &mut [f64],
) -> Vec<Course> {
    if !written.is_empty() && pieces.iter().any(|pieces| *pieces > 0.0) {
        let message = "what comes back is said by `pieces` and again by courses".to_owned();
        check.fault(
            "said-twice",
            &format!("{path}.pieces"),
            message,
            "keep one of the two",
        );
    }
    let courses = written.iter().take(MOST_COURSES).enumerate();
    courses
        .map(|(index, course)| {
            let path = format!("{path}.course.{index}");
            let mut own = vec![0.0; names.ware.len()];
            for (class, mean) in &course.pieces {
                let path = format!("{path}.pieces.{class}");
                if let Some(number) = check.find(&names.ware, class, &path, "ware") {
                    own[number] = *mean;
                    pieces[number] += *mean;
                }
            }
            let cleared = match &course.cleared {
                ClearedFile::Seated { for_min } => {
                    let path = format!("{path}.cleared.seated.for_min");
                    Cleared::AfterMin(check.amount(&path, for_min))
                }
                ClearedFile::Within { from, lasts_min } => Cleared::Within {
                    from: check.clock(&format!("{path}.cleared.within.from"), from),
                    lasts: Span::from_min(*lasts_min),
                },
            };
            Course {
                pieces: own,
                cleared,
            }
        })
        .collect()
}

/// Loads, in order of name.
pub(crate) fn loads(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    kinds: &[Kind],
) -> Vec<Load> {
    file.load
        .iter()
        .map(|(name, written)| load(check, name, written, names, kinds))
        .collect()
}

fn load(
    check: &mut Checker<'_>,
    name: &str,
    written: &LoadFile,
    names: &Names,
    kinds: &[Kind],
) -> Load {
    let path = format!("load.{name}");
    let kind = check.find(
        &names.kinds,
        &written.kind,
        &format!("{path}.kind"),
        "kind of diner",
    );
    let taken = written
        .taken_at
        .as_ref()
        .map(|text| check.clock(&format!("{path}.taken_at"), text));
    let when = when(check, &path, &written.when, names);
    if let Some(kind) = kind.and_then(|kind| kinds.get(kind)) {
        let brings = kind.pieces.iter().any(|pieces| *pieces > 0.0);
        if !brings || !kind.courses.is_empty() {
            let message = format!(
                "the trays of load \"{name}\" are those of kind \"{}\", which has {}",
                kind.name,
                if brings { "courses" } else { "no pieces" }
            );
            check.fault(
                "load-brings-nothing",
                &format!("{path}.kind"),
                message,
                "name a kind with `pieces` and without courses",
            );
        }
    }
    match (&when, taken) {
        (LoadWhen::Never(_), None) => {
            let message = format!("load \"{name}\" never comes back, and is never taken either");
            check.fault("missing-key", &path, message, "add `taken_at`");
        }
        (LoadWhen::There { .. } | LoadWhen::Eating { .. }, Some(_)) => {
            let message = format!("what load \"{name}\" carries is taken already");
            check.fault(
                "said-twice",
                &format!("{path}.taken_at"),
                message,
                "leave it out",
            );
        }
        (LoadWhen::At(times), Some(taken)) if times.iter().any(|(at, _)| *at < taken) => {
            late(check, &path, name, taken);
        }
        (LoadWhen::Within { from, .. }, Some(taken)) if *from < taken => {
            late(check, &path, name, taken);
        }
        _ => {}
    }
    Load {
        name: name.to_owned(),
        kind: kind.unwrap_or(0) as u8,
        when,
        covers: written.covers,
        taken,
    }
}

fn late(check: &mut Checker<'_>, path: &str, name: &str, taken: scullery_engine::time::SimTime) {
    let message = format!(
        "load \"{name}\" comes back before its ware is taken at {}",
        words::clock(taken)
    );
    check.fault(
        "times-out-of-order",
        &format!("{path}.taken_at"),
        message,
        "let it be taken earlier",
    );
}

fn when(check: &mut Checker<'_>, path: &str, written: &LoadWhenFile, names: &Names) -> LoadWhen {
    match written {
        LoadWhenFile::At(list) => {
            let texts: Vec<&String> = list.iter().map(|entry| &entry.time).collect();
            let times = check.rising(|index| format!("{path}.when.at.{index}.time"), &texts);
            let trays = list.iter().map(|entry| entry.trays);
            LoadWhen::At(times.into_iter().zip(trays).collect())
        }
        LoadWhenFile::Row {
            from,
            every_min,
            times,
            trays,
        } => {
            let first = check.clock(&format!("{path}.when.row.from"), from);
            let every = Span::from_min(*every_min).us();
            let row = (0..u64::from(*times))
                .map(|number| (first + Span::from_us(every.saturating_mul(number)), *trays));
            LoadWhen::At(row.collect())
        }
        LoadWhenFile::Within {
            from,
            lasts_min,
            trays,
        } => LoadWhen::Within {
            from: check.clock(&format!("{path}.when.within.from"), from),
            lasts: Span::from_min(*lasts_min),
            count: *trays,
        },
        LoadWhenFile::AlreadyOn { place, trays } => {
            let path = format!("{path}.when.already_on.place");
            let numbered = |names: &[String], at: fn(u8) -> There| -> Vec<(String, There)> {
                let each = names.iter().cloned().zip(0..);
                each.map(|(name, number)| (name, at(number))).collect()
            };
            let mut all = numbered(&names.belts, There::Belt);
            all.extend(numbered(&names.tables, There::Table));
            all.extend(numbered(&names.accumulators, There::Accumulator));
            all.extend(numbered(&names.carts, There::Carts));
            let (known, places): (Vec<String>, Vec<There>) = all.into_iter().unzip();
            match check.find(&known, place, &path, "belt, table, accumulator or carts") {
                Some(number) => LoadWhen::There {
                    at: places[number],
                    trays: *trays,
                },
                // Nowhere: told already, and no more is said of it.
                None => LoadWhen::There {
                    at: There::Table(0),
                    trays: 0,
                },
            }
        }
        LoadWhenFile::AlreadyAside { drop_off, trays } => {
            let path = format!("{path}.when.already_aside.drop_off");
            match check.find(&names.drop_offs, drop_off, &path, "drop-off") {
                Some(number) => LoadWhen::There {
                    at: There::Aside(number as u8),
                    trays: *trays,
                },
                None => LoadWhen::There {
                    at: There::Table(0),
                    trays: 0,
                },
            }
        }
        LoadWhenFile::AlreadyWaiting { people } => LoadWhen::At(vec![(check.starts, *people)]),
        LoadWhenFile::AlreadyEating { since, people } => LoadWhen::Eating {
            since: check.clock_before(&format!("{path}.when.already_eating.since"), since),
            at: check.starts,
            people: *people,
        },
        LoadWhenFile::Never { trays } => LoadWhen::Never(*trays),
    }
}
