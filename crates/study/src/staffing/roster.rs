//! From a crew that holds to a roster: need by quarter hour, whole shifts for the least paid hours, simulated to prove it.

use std::sync::atomic::AtomicBool;

use scullery_engine::line::Worker;
use scullery_engine::time::{SimTime, Span, US_PER_MIN};
use scullery_scenario::plan::Plan;
use scullery_scenario::staffing::{Contract, Staffing};

use super::cheapest_crew::{Trouble, with_people};
use super::cover::{Cover, cover};
use super::crews::{Crews, People};
use super::found::{Roster, RosterShift};
use super::lunches::Arrangements;
use super::need::work;
use super::rows::{look, row};
use super::shifts::{Need, Shift, shifts};
use crate::record::QUARTER_US;
use crate::search::{Rules, search};

/// Busy shares for which the need is made, one after another, until the roster holds; at last everybody the crew had.
const BUSY_SHARES: [Option<f64>; 6] = [
    Some(0.95),
    Some(0.85),
    Some(0.75),
    Some(0.65),
    Some(0.5),
    None,
];

/// Lunches run to decide and to show.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ran {
    /// To decide.
    pub lunches: u64,
    /// To show.
    pub shown: u64,
}

/// What a roster is made with.
#[derive(Clone, Debug)]
pub struct RosterRules {
    /// Targets and errors, as for the search; the error is shared out over the attempts.
    pub rules: Rules,
    /// Seed of the study.
    pub seed: u64,
    /// Lunches the need is read from, and behind the proof that is shown.
    pub lunches: u64,
}

/// Makes the roster of a crew, or says why there is none.
///
/// # Errors
/// [`Trouble`] when a run goes wrong.
pub fn roster(
    plan: &Plan,
    crews: &Crews<'_>,
    people: &People,
    how: &RosterRules,
    stop: &AtomicBool,
) -> Result<(Result<Roster, String>, Ran), Trouble> {
    let staffing = &plan.staffing;
    let mut ran = Ran {
        lunches: how.lunches,
        shown: 0,
    };
    let seen = work(
        &with_people(plan, people),
        people,
        staffing.roles.len(),
        how.seed,
        how.lunches,
    )?;
    let mut last: Option<Roster> = None;
    for (attempt, &share) in BUSY_SHARES.iter().enumerate() {
        let need = seen.need(share, &staffing.contract);
        let made = shifts(&staffing.contract, &need)
            .and_then(|all| Ok((cover(&all, &need, staffing.contract.off_at_once)?, all)));
        let (chosen, all) = match made {
            Ok(made) => made,
            Err(why) => return Ok((Err(why), ran)),
        };
        let who = rostered(plan, crews, &chosen, &all, &need);
        let arrange = |_: usize| with_people(plan, &who);
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: how.seed,
        };
        let rules = Rules {
            alpha: how.rules.alpha / BUSY_SHARES.len() as f64,
            extra_cost_counts: false,
            ..how.rules.clone()
        };
        let found = search(&kitchen, &[0.0], &rules, &|_, _| false, &|_| {}, stop)?;
        ran.lunches += found.lunches;
        let holds = found.winner.is_some();
        let mut it = written(crews, staffing, &chosen, &all, &need, share);
        if holds || attempt + 1 == BUSY_SHARES.len() {
            let shown = look(
                &kitchen,
                0,
                found.tried.first(),
                how.lunches,
                rules.asked.len(),
            )?;
            ran.shown += shown.fresh;
            let mut proof = row(plan, &rules.asked, &shown);
            proof.words = "the roster".into();
            proof.people = it.shifts.len() as u32;
            proof.hours = it.paid_hours;
            proof.cost = it.cost;
            it.proof = Some(proof);
        }
        it.answer = answer(&it, people, holds);
        last = Some(it);
        if holds || found.stopped {
            break;
        }
    }
    Ok((
        last.ok_or_else(|| "there is nothing to make a roster for".to_owned()),
        ran,
    ))
}

/// The people of a roster.
fn rostered(
    plan: &Plan,
    crews: &Crews<'_>,
    chosen: &Cover,
    shifts: &[Shift],
    need: &Need,
) -> People {
    let mut all: Vec<((usize, usize), Worker, usize)> = Vec::new();
    let mut of_role = vec![0_usize; plan.staffing.roles.len()];
    for (shift, &n) in shifts.iter().zip(&chosen.people) {
        for _ in 0..n {
            let role = &plan.staffing.roles[shift.role];
            let number = of_role[shift.role];
            of_role[shift.role] += 1;
            let model = role.like[number % role.like.len()];
            let clock = |q: usize| SimTime::from_us((need.from + q) as u64 * QUARTER_US);
            let starts = plan.line.starts;
            // What is set up before the run starts is paid and not simulated.
            let spans = shift
                .spans
                .iter()
                .map(|s| (clock(s[0]).max(starts), clock(s[1])));
            let worker = Worker {
                name: shift_name(&role.name, number),
                shifts: spans.filter(|(from, to)| from < to).collect(),
                breaks: (shift.rest.iter())
                    .map(|r| {
                        (
                            clock(r[0]),
                            Span::from_us((r[1] - r[0]) as u64 * QUARTER_US),
                        )
                    })
                    .filter(|(due, _)| *due >= starts)
                    .collect(),
                ..plan.line.crew[model].clone()
            };
            if !worker.shifts.is_empty() {
                all.push(((model, number), worker, shift.role));
            }
        }
    }
    all.sort_by_key(|(order, ..)| *order);
    People {
        wages: all.iter().map(|(.., role)| crews.wage(*role)).collect(),
        roles: all.iter().map(|(.., role)| *role).collect(),
        workers: all.into_iter().map(|(_, worker, _)| worker).collect(),
    }
}

fn shift_name(role: &str, number: usize) -> String {
    format!("{} {}", role.replace('_', " "), number + 1)
}

fn written(
    crews: &Crews<'_>,
    staffing: &Staffing,
    chosen: &Cover,
    shifts: &[Shift],
    need: &Need,
    share: Option<f64>,
) -> Roster {
    let minute = |q: usize| ((need.from + q) * 15) as u32;
    let mut of_role = vec![0_usize; staffing.roles.len()];
    let mut it = Roster {
        from_min: minute(0),
        need: (0..need.quarters()).map(|q| need.total(q)).collect(),
        at_work: vec![0; need.quarters()],
        paid_hours: chosen.paid / 4.0,
        lower_bound_hours: chosen.at_least / 4.0,
        least: chosen.least,
        busy_share: share.unwrap_or(0.0),
        rules: rules_words(&staffing.contract),
        ..Roster::default()
    };
    for (shift, &n) in shifts.iter().zip(&chosen.people) {
        for _ in 0..n {
            let number = of_role[shift.role];
            of_role[shift.role] += 1;
            it.cost += shift.paid / 4.0 * crews.wage(shift.role);
            for (q, at) in it.at_work.iter_mut().enumerate() {
                *at += u32::from(shift.works(q));
            }
            it.shifts.push(RosterShift {
                name: shift_name(&staffing.roles[shift.role].name, number),
                role: staffing.roles[shift.role].name.replace('_', " "),
                spans_min: shift
                    .spans
                    .iter()
                    .map(|s| [minute(s[0]), minute(s[1])])
                    .collect(),
                breaks_min: shift
                    .rest
                    .iter()
                    .map(|r| [minute(r[0]), minute(r[1])])
                    .collect(),
                paid_h: shift.paid / 4.0,
            });
        }
    }
    it
}

fn answer(it: &Roster, people: &People, holds: bool) -> String {
    let crew_hours: f64 = people
        .workers
        .iter()
        .flat_map(|w| &w.shifts)
        .map(|(from, to)| to.since(*from).s())
        .sum::<f64>()
        / 3600.0;
    let least = match it.least {
        true => format!(
            "no roster that keeps the rules and covers this need is paid less than {:.2} h",
            it.paid_hours
        ),
        false => format!(
            "this need cannot be covered for less than {:.2} h; whether this roster is the least was not shown",
            it.lower_bound_hours
        ),
    };
    let need = match it.busy_share > 0.0 {
        true => format!(
            "a need made so that people are at work for {:.0} % of their time in 9 of 10 lunches",
            it.busy_share * 100.0
        ),
        false => "everybody the chosen crew had on shift, quarter hour by quarter hour".into(),
    };
    let proof = match holds {
        true => "Simulated with these shifts, every target holds.",
        false => {
            "Simulated with these shifts, the targets are not shown to hold: keep the crew above instead."
        }
    };
    format!(
        "A roster of {} shifts and {:.2} paid hours (the chosen crew: {crew_hours:.2} h) covers {need}; {least}. {proof}",
        it.shifts.len(),
        it.paid_hours
    )
}

/// The rules of a contract as sentences.
pub fn rules_words(contract: &Contract) -> Vec<String> {
    let h = |span: Span| {
        format!("{:.4}", span.min() / 60.0)
            .trim_end_matches('0')
            .trim_end_matches('.')
            .to_owned()
    };
    let clock = |at: SimTime| {
        let min = at.us() / US_PER_MIN;
        format!("{:02}:{:02}", min / 60 % 24, min % 60)
    };
    let mut all = vec![
        format!(
            "Paid shifts last {} to {} h and start on every {:.0} min of the clock.",
            h(contract.shortest),
            h(contract.longest),
            contract.starts_every.min()
        ),
        format!(
            "Coming in at all is paid {} h at least.",
            h(contract.show_up)
        ),
        format!(
            "After {} h of work at most comes a meal break of {:.0} min, {}; {} off at once at most.",
            h(contract.meal_break_after),
            contract.meal_break.min(),
            if contract.meal_break_paid {
                "paid"
            } else {
                "not paid"
            },
            contract.off_at_once
        ),
    ];
    if let Some((from, to)) = contract.no_breaks {
        all.push(format!(
            "No meal break from {} to {}.",
            clock(from),
            clock(to)
        ));
    }
    all.push(match contract.split_gap {
        Some(gap) => format!(
            "Split shifts are allowed with a gap of {} h at least and pieces of an hour at least.",
            h(gap)
        ),
        None => "No split shifts.".into(),
    });
    if contract.on_costs > 0.0 {
        all.push(format!(
            "On-costs are {:.0} % on the wage.",
            contract.on_costs * 100.0
        ));
    }
    for (around, words) in [
        (contract.set_up, "set up before the first work"),
        (contract.cleaning, "clean after the last"),
    ] {
        if let Some(it) = around {
            all.push(format!(
                "{} people {words}, {:.0} min; paid and covered, not simulated.",
                it.people,
                it.lasts.min()
            ));
        }
    }
    all
}
