//! What a crew may be made of, and sizes that may be chosen.

use scullery_engine::line::{Line, Worker};
use scullery_engine::time::{SimTime, Span};

use super::checker::Checker;
use crate::file::{
    BreakFile, ContractFile, RoleFile, ScenarioFile, ShiftFile, SizeFile, StaffingFile,
};
use crate::staffing::{Around, Contract, Pattern, Role, Size, SizeOption, Staffing, derived};

/// The section as written, or what the crew as it is allows.
pub(crate) fn staffing(check: &mut Checker<'_>, file: &ScenarioFile, line: &Line) -> Staffing {
    let mut it = derived(line);
    let Some(written) = &file.staffing else {
        return it;
    };
    it.given = true;
    if let Some(contract) = &written.contract {
        it.contract = rules(check, contract);
    }
    if !written.role.is_empty() {
        let (patterns, roles) = roles(check, written, line, &it);
        it.patterns = patterns;
        it.roles = roles;
        it.most_people = it.roles.iter().map(|role| role.most).sum();
    }
    it.least_people = written.least_people.unwrap_or(1);
    it.most_people = written.most_people.unwrap_or(it.most_people);
    if it.most_people < it.least_people {
        let message = format!(
            "at least {} people are asked for and at most {}",
            it.least_people, it.most_people
        );
        check.fault(
            "staffing-bounds",
            "staffing.most_people",
            message,
            "let the most be no less than the least",
        );
    }
    it
}

fn roles(
    check: &mut Checker<'_>,
    written: &StaffingFile,
    line: &Line,
    now: &Staffing,
) -> (Vec<Pattern>, Vec<Role>) {
    let names: Vec<String> = written.pattern.keys().cloned().collect();
    let mut patterns: Vec<Pattern> = written
        .pattern
        .iter()
        .map(|(name, pattern)| {
            let path = format!("staffing.pattern.{name}");
            let shifts = spans(check, &format!("{path}.shifts"), &pattern.shifts);
            let breaks = pattern
                .breaks
                .as_ref()
                .map(|rests| breaks(check, &path, rests));
            Pattern {
                name: name.clone(),
                shifts,
                breaks,
            }
        })
        .collect();
    let mut roles: Vec<Role> = Vec::new();
    for (name, role) in &written.role {
        roles.extend(one_role(
            check,
            name,
            role,
            line,
            &names,
            &mut patterns,
            now,
        ));
    }
    roles.sort_by_key(|role| role.like[0]);
    (patterns, roles)
}

fn one_role(
    check: &mut Checker<'_>,
    name: &str,
    written: &RoleFile,
    line: &Line,
    names: &[String],
    patterns: &mut Vec<Pattern>,
    now: &Staffing,
) -> Option<Role> {
    let path = format!("staffing.role.{name}");
    let known: Vec<String> = line.crew.iter().map(|worker| worker.name.clone()).collect();
    let mut like = Vec::new();
    for (index, person) in written.like.iter().enumerate() {
        let of_name = people(&line.crew, person);
        if of_name.is_empty() {
            check.find(
                &known,
                person,
                &format!("{path}.like.{index}"),
                "member of the crew",
            );
        }
        like.extend(of_name);
    }
    let mut chosen = Vec::new();
    match &written.patterns {
        Some(list) => {
            for (index, pattern) in list.iter().enumerate() {
                let path = format!("{path}.patterns.{index}");
                chosen.extend(check.find(names, pattern, &path, "pattern of shifts"));
            }
        }
        // Their own shifts, as patterns without a name of the file's.
        None => {
            for &person in &like {
                let shifts = &line.crew[person].shifts;
                let found = patterns.iter().position(|p| p.shifts == *shifts);
                let own = now.patterns.iter().find(|p| p.shifts == *shifts);
                let number = found.or_else(|| {
                    patterns.push(own?.clone());
                    Some(patterns.len() - 1)
                });
                chosen.extend(number.filter(|number| !chosen.contains(number)));
            }
        }
    }
    let least = written.least.unwrap_or(0);
    if written.most < least {
        let message = format!(
            "role {name} has at least {least} people and at most {}",
            written.most
        );
        check.fault(
            "staffing-bounds",
            &format!("{path}.most"),
            message,
            "let the most be no less than the least",
        );
    }
    (!like.is_empty() && !chosen.is_empty()).then(|| Role {
        name: name.to_owned(),
        like,
        least,
        most: written.most,
        patterns: chosen,
        wage_per_h: written.wage_per_h,
    })
}

/// Numbers of the people called so: of that very name, or `NAME 1`, `NAME 2`, ... where several are alike.
fn people(crew: &[Worker], name: &str) -> Vec<usize> {
    let called = |worker: &Worker| {
        worker.name == name
            || (worker.name.strip_prefix(name))
                .and_then(|rest| rest.strip_prefix(' '))
                .is_some_and(|rest| rest.parse::<u32>().is_ok())
    };
    (0..crew.len()).filter(|&w| called(&crew[w])).collect()
}

fn spans(check: &mut Checker<'_>, path: &str, written: &[ShiftFile]) -> Vec<(SimTime, SimTime)> {
    let mut spans: Vec<(SimTime, SimTime)> = Vec::new();
    for (index, shift) in written.iter().enumerate() {
        let from = check.clock(&format!("{path}.{index}.from"), &shift.from);
        let to = check.clock_after(&format!("{path}.{index}.to"), &shift.to, from);
        if spans.last().is_some_and(|(_, last)| from < *last) {
            let message = format!(
                "shifts must follow each other, found one from {}",
                shift.from
            );
            check.fault(
                "times-out-of-order",
                &format!("{path}.{index}.from"),
                message,
                "put them in clock order",
            );
        }
        spans.push((from, to));
    }
    spans
}

fn breaks(check: &mut Checker<'_>, path: &str, written: &[BreakFile]) -> Vec<(SimTime, Span)> {
    let dues: Vec<&String> = written.iter().map(|rest| &rest.due).collect();
    let dues = check.rising(|index| format!("{path}.breaks.{index}.due"), &dues);
    let lasting = written.iter().map(|rest| Span::from_min(rest.lasts_min));
    dues.into_iter().zip(lasting).collect()
}

fn rules(check: &mut Checker<'_>, written: &ContractFile) -> Contract {
    let usual = Contract::usual();
    let hours = |h: Option<f64>, usual: Span| h.map_or(usual, |h| Span::from_min(h * 60.0));
    let shortest = hours(written.shortest_h, usual.shortest);
    let longest = hours(written.longest_h, usual.longest);
    if longest < shortest {
        let message = format!(
            "the longest shift of {} h is shorter than the shortest of {} h",
            longest.min() / 60.0,
            shortest.min() / 60.0
        );
        check.fault(
            "staffing-bounds",
            "staffing.contract.longest_h",
            message,
            "let the longest be no shorter",
        );
    }
    let no_breaks = written.no_breaks.as_ref().map(|span| {
        let from = check.clock("staffing.contract.no_breaks.from", &span.from);
        (
            from,
            check.clock_after("staffing.contract.no_breaks.to", &span.to, from),
        )
    });
    let around = |it: crate::file::AroundFile| Around {
        people: it.people,
        lasts: Span::from_min(it.lasts_min),
    };
    let every = written.starts_every_min.unwrap_or(15.0);
    if every % 15.0 != 0.0 {
        let message = format!("shifts begin on whole quarter hours, found every {every} min");
        check.fault(
            "staffing-bounds",
            "staffing.contract.starts_every_min",
            message,
            "write 15, 30, 60 ...",
        );
    }
    Contract {
        shortest,
        longest,
        show_up: hours(written.show_up_h, shortest),
        meal_break_after: hours(written.meal_break_after_h, usual.meal_break_after),
        meal_break: written
            .meal_break_min
            .map_or(usual.meal_break, Span::from_min),
        meal_break_paid: written.meal_break_paid,
        no_breaks,
        off_at_once: written.off_at_once.unwrap_or(usual.off_at_once),
        split_gap: written.split_gap_h.map(|h| Span::from_min(h * 60.0)),
        starts_every: Span::from_min(every),
        on_costs: written.on_costs_percent.unwrap_or(0.0) / 100.0,
        set_up: written.set_up.map(around),
        cleaning: written.cleaning.map(around),
    }
}

/// Sizes that may be chosen, as written.
pub(crate) fn sizes(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<Size> {
    let each = file.size.iter().enumerate();
    each.map(|(index, written)| one_size(check, &format!("size.{index}"), written))
        .collect()
}

fn one_size(check: &mut Checker<'_>, path: &str, written: &SizeFile) -> Size {
    let both = written.key.is_some() && !written.option.is_empty();
    let neither = written.key.is_none() && written.option.is_empty();
    let valued = written.key.is_none() || !written.values.is_empty();
    if both || neither || !valued {
        let message = format!(
            "size \"{}\" needs a key with values, or options, and not both",
            written.words
        );
        let help = "write for example `key = \"belt.return.length_m\"` and `values = [16, 20, 24]`";
        check.fault("size-without-choice", path, message, help);
    }
    let mut options: Vec<SizeOption> = Vec::new();
    if let Some(key) = &written.key {
        options.extend(written.values.iter().map(|value| SizeOption {
            name: value.to_string(),
            changes: vec![format!("{key}={value}")],
            price: written.price_each.map(|each| each * value),
        }));
    }
    options.extend(written.option.iter().map(|option| SizeOption {
        name: option.name.clone(),
        changes: option.changes.clone(),
        price: option.price,
    }));
    Size {
        words: written.words.clone(),
        options,
        life_years: written.life_years,
    }
}
