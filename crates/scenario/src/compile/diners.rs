//! Who the diners are: kinds, eating, bells, parties, patience.

use scullery_engine::demand::{Away, Bell, Demand, Kind, Parties, Shared};
use scullery_engine::dist::Dist;
use scullery_engine::line::ClassId;
use scullery_engine::time::{SimTime, Span};

use super::Load;
use super::carts;
use super::checker::Checker;
use super::covers;
use super::names::Names;
use crate::defaults;
use crate::file::{KindFile, ScenarioFile};

/// Shares that sum to 1 within this are taken to.
const NEAR_ONE: f64 = 1e-6;

/// Everything about the diners, and the words that say which day the answer speaks of.
pub(crate) fn demand(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    load: Load<'_>,
    notices: &mut Vec<String>,
) -> (Demand, String) {
    let covers = covers::covers(check, file, load, notices);
    let (days, day_words) = covers::days(check, file);
    let kinds = kinds(check, file, names);
    let sit = kinds.iter().any(|kind| kind.sits);
    let diners = &file.diners;
    let find_seat_min = match &diners.find_seat_min {
        Some(amount) => check.amount("diners.find_seat_min", amount),
        None if sit => {
            Dist::Constant(check.or_default(None, "diners.find_seat_min", &defaults::FIND_SEAT))
        }
        None => Dist::Constant(0.0),
    };
    let eating = match &diners.eating_min {
        Some(amount) => check.amount("diners.eating_min", amount),
        None if sit => Dist::Lognormal {
            mean: check.or_default(None, "diners.eating_min", &defaults::EATING_MEAN),
            cv: 0.35,
        },
        None => Dist::Constant(0.0),
    };
    let texts: Vec<&String> = diners
        .eating_by_clock
        .iter()
        .map(|step| &step.from)
        .collect();
    let times = check.rising(
        |index| format!("diners.eating_by_clock.{index}.from"),
        &texts,
    );
    let mut eating_min = vec![(check.starts, eating)];
    for (index, (from, step)) in times.into_iter().zip(&diners.eating_by_clock).enumerate() {
        eating_min.push((
            from,
            check.amount(
                &format!("diners.eating_by_clock.{index}.eating_min"),
                &step.eating_min,
            ),
        ));
    }
    let carries = kinds
        .iter()
        .any(|kind| kind.pieces.iter().any(|pieces| *pieces > 0.0));
    let waste_kg = match &diners.waste_kg {
        Some(amount) => check.amount("diners.waste_kg", amount),
        None if carries && !file.ware.iter().any(|ware| ware.waste_kg.is_some()) => {
            Dist::Constant(check.or_default(None, "diners.waste_kg", &defaults::WASTE))
        }
        None => Dist::Constant(0.0),
    };
    let loads = carts::loads(check, file, names, &kinds);
    let demand = Demand {
        loads,
        covers,
        days,
        find_seat_min,
        eating_min,
        bells: bells(check, file),
        parties: parties(check, file),
        kinds,
        patience_people: diners
            .patience_people
            .as_ref()
            .map(|amount| check.amount("diners.patience_people", amount)),
        work_factor: check.varies(
            "diners.tray_work_varies",
            diners.tray_work_varies.as_ref(),
            &defaults::TRAY_WORK_CV,
        ),
        waste_kg,
        seats: diners.seats,
    };
    (demand, day_words)
}

fn bells(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Bell> {
    let texts: Vec<&String> = file.bell.iter().map(|bell| &bell.at).collect();
    let times = check.rising(|index| format!("bell.{index}.at"), &texts);
    let mut bells = Vec::new();
    for (at, bell) in times.into_iter().zip(&file.bell) {
        let mut minutes = |given: Option<f64>, key: &str, standard: &defaults::Standard| {
            Span::from_min(check.or_default(
                given,
                &format!("bell at {}: {key}", bell.at),
                standard,
            ))
        };
        bells.push(Bell {
            at,
            share: bell.share,
            before: minutes(bell.before_min, "before_min", &defaults::BELL_BEFORE),
            after: minutes(bell.after_min, "after_min", &defaults::BELL_AFTER),
            seated_at_least: minutes(
                bell.seated_at_least_min,
                "seated_at_least_min",
                &defaults::BELL_SEATED,
            ),
        });
    }
    bells
}

fn parties(check: &mut Checker<'_>, file: &ScenarioFile) -> Option<Parties> {
    let written = file.diners.parties.as_ref()?;
    let sum: f64 = written.shares.iter().sum();
    if (sum - 1.0).abs() > NEAR_ONE {
        let message = format!(
            "the shares of parties must sum to 1, found {}",
            defaults::rounded(sum)
        );
        check.fault(
            "shares-not-one",
            "diners.parties.shares",
            message,
            "the first is the share of those who come alone",
        );
    }
    let apart = check.or_default(
        written.apart_s,
        "diners.parties.apart_s",
        &defaults::PARTY_APART,
    );
    Some(Parties {
        shares: written.shares.clone(),
        apart: Span::from_s(apart),
    })
}

/// Kinds, in order of name, with shares that sum to 1 at every time.
fn kinds(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    let mut rest: Vec<usize> = Vec::new();
    for (name, written) in &file.kind {
        let path = format!("kind.{name}");
        let mut pieces = vec![0.0; names.ware.len()];
        for (class, mean) in &written.pieces {
            if let Some(number) = check.find(
                &names.ware,
                class,
                &format!("{path}.pieces.{class}"),
                "ware",
            ) {
                pieces[number] = *mean;
            }
        }
        let courses = carts::courses(check, &written.course, &path, names, &mut pieces);
        let carries = pieces.iter().any(|pieces| *pieces > 0.0);
        let fetched = written.carts.as_ref().and_then(|carts| {
            let path = format!("{path}.carts");
            check.find(&names.carts, carts, &path, "carts")
        });
        if let (Some(_), Some(_)) = (&written.carts, &written.drop_off) {
            let message =
                format!("kind \"{name}\" goes to a drop-off, and is fetched by carts as well");
            check.fault(
                "said-twice",
                &format!("{path}.drop_off"),
                message,
                "keep one of the two",
            );
        }
        // A kind that only loads name is no diner's.
        let of_load = written.share.is_none() && file.load.values().any(|load| load.kind == *name);
        let mut share = vec![(check.starts, written.share.unwrap_or(0.0))];
        let texts: Vec<&String> = written
            .share_by_clock
            .iter()
            .map(|step| &step.from)
            .collect();
        let times = check.rising(
            |index| format!("{path}.share_by_clock.{index}.from"),
            &texts,
        );
        share.extend(
            times
                .into_iter()
                .zip(written.share_by_clock.iter().map(|step| step.share)),
        );
        if written.share.is_none() && !of_load {
            rest.push(kinds.len());
            if !written.share_by_clock.is_empty() {
                let message =
                    format!("kind \"{name}\" has shares by the clock but none to begin with");
                check.fault("missing-key", &path, message, "add `share`");
            }
        }
        let away = away(check, written, &path);
        let shared = shared(check, file, name, written, &path, names, &pieces);
        kinds.push(Kind {
            name: name.clone(),
            share,
            pieces,
            drop_off: drop_off(
                check,
                written,
                &path,
                names,
                carries && written.carts.is_none(),
            ),
            sits: written
                .sits
                .unwrap_or(carries && !of_load && away.is_none()),
            carts: fetched.map(|number| number as u8),
            courses,
            loose: written.tray_less,
            shared,
            away,
        });
    }
    match rest.as_slice() {
        [] => sums(check, &kinds, None),
        [one] => {
            sums(check, &kinds, Some(*one));
            let times = times(&kinds);
            kinds[*one].share = times
                .iter()
                .map(|at| (*at, (1.0 - sum_at(&kinds, *at)).max(0.0)))
                .collect();
        }
        [_, second, ..] => {
            let name = kinds[*second].name.clone();
            let message = "only one kind of diner can have no share and get the rest".to_owned();
            check.fault(
                "shares-not-one",
                &format!("kind.{name}"),
                message,
                "add `share`",
            );
        }
    }
    kinds
}

/// What is carried away and comes back in its own time.
fn away(check: &mut Checker<'_>, written: &KindFile, path: &str) -> Option<Away> {
    let away = written.away.as_ref()?;
    let path = format!("{path}.away");
    let mut twice = |other: &str| {
        let message = format!(
            "what is carried away comes back in its own time, and `{other}` says when as well"
        );
        check.fault("said-twice", &path, message, "keep one of the two");
    };
    if written.sits == Some(true) {
        twice("sits");
    }
    if !written.course.is_empty() {
        twice("course");
    }
    Some(Away {
        min: check.amount(&format!("{path}.for_min"), &away.for_min),
        back_share: away.back_share.unwrap_or(1.0),
    })
}

/// One tray for several of a party.
fn shared(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    name: &str,
    written: &KindFile,
    path: &str,
    names: &Names,
    pieces: &[f64],
) -> Option<Shared> {
    let shared = written.shared_tray.as_ref()?;
    let path = format!("{path}.shared_tray");
    let mut twice = |other: &str| {
        let message = format!("kind \"{name}\" shares trays, and has `{other}` as well");
        check.fault("said-twice", &path, message, "keep one of the two");
    };
    if written.tray_less {
        twice("tray_less");
    }
    if !written.course.is_empty() {
        twice("course");
    }
    if file.diners.parties.is_none() {
        let message = format!("kind \"{name}\" shares trays, and everybody comes alone");
        let help = "say in `[diners.parties]` who comes together";
        check.fault("missing-key", &path, message, help);
    }
    let tray = check.find(&names.ware, &shared.tray, &format!("{path}.tray"), "ware")?;
    if pieces.get(tray).is_none_or(|pieces| *pieces <= 0.0) {
        let message = format!("kind \"{name}\" shares a {} that nobody takes", shared.tray);
        let help = format!("add {} to its `pieces`", shared.tray);
        check.fault("nobody-takes-it", &format!("{path}.tray"), message, help);
    }
    Some(Shared {
        people: shared.people,
        tray: ClassId(tray as u8),
    })
}

fn drop_off(
    check: &mut Checker<'_>,
    written: &KindFile,
    path: &str,
    names: &Names,
    carries: bool,
) -> u8 {
    match &written.drop_off {
        Some(name) => {
            let number = check.find(
                &names.drop_offs,
                name,
                &format!("{path}.drop_off"),
                "drop-off",
            );
            number.unwrap_or(0) as u8
        }
        None => {
            if carries && names.drop_offs.is_empty() {
                let message =
                    format!("nobody fetches what `{path}` leaves, and there is no drop-off");
                check.fault(
                    "missing-key",
                    path,
                    message,
                    "add a `[drop_off.NAME]`, or name the `carts` in which staff fetch it",
                );
            }
            if carries && names.drop_offs.len() > 1 {
                let message = format!(
                    "there are {} drop-offs and `{path}` does not say which it goes to",
                    names.drop_offs.len()
                );
                check.fault(
                    "missing-key",
                    path,
                    message,
                    format!("add `drop_off = \"{}\"`", names.drop_offs[0]),
                );
            }
            0
        }
    }
}

/// Every time at which some share changes.
fn times(kinds: &[Kind]) -> Vec<SimTime> {
    let mut times: Vec<SimTime> = kinds
        .iter()
        .flat_map(|kind| kind.share.iter().map(|(from, _)| *from))
        .collect();
    times.sort_unstable();
    times.dedup();
    times
}

fn sum_at(kinds: &[Kind], at: SimTime) -> f64 {
    let share = |kind: &Kind| {
        kind.share
            .iter()
            .rev()
            .find(|(from, _)| *from <= at)
            .map_or(0.0, |(_, share)| *share)
    };
    kinds.iter().map(share).sum()
}

fn sums(check: &mut Checker<'_>, kinds: &[Kind], rest: Option<usize>) {
    for at in times(kinds) {
        let sum = sum_at(kinds, at);
        let wrong = if rest.is_some() {
            sum > 1.0 + NEAR_ONE
        } else {
            (sum - 1.0).abs() > NEAR_ONE
        };
        if wrong {
            let from = if at == check.starts {
                String::new()
            } else {
                format!(" from {at} on")
            };
            let message = format!(
                "the shares of the kinds of diner must sum to 1{from}, found {}",
                defaults::rounded(sum)
            );
            check.fault(
                "shares-not-one",
                "kind",
                message,
                "one kind may leave `share` out and gets the rest",
            );
            return;
        }
    }
}
