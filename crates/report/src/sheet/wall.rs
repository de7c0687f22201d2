//! A sheet for the wall: who stands where, who steps in, when to switch what, what to do when it goes wrong.

use maud::{Markup, html};
use scullery_study::planned::{Member, Planned, PostCall};
use scullery_study::summary::Summary;

use super::sheet;
use crate::clock::{clock_text, hour_minute};
use crate::lettering::printable;
use crate::number::fixed;

/// Looks of this sheet alone: one landscape page, large type.
const STYLE: &str = "
@page { size: landscape; margin: 9mm; }
.sheet { max-width: 84rem; font-size: 1.1rem; }
.wall { table-layout: fixed; border-collapse: separate; border-spacing: 0; }
.wall th, .wall td { padding: 0.3rem 0.25rem; border: 1px solid var(--rule); vertical-align: middle; overflow-wrap: anywhere; }
.wall thead th:first-child { width: 6rem; }
.wall th[scope=row] { overflow-wrap: normal; font-weight: bold; font-size: 1.15em; }
.wall thead th { color: var(--ink); text-align: left; font-variant-numeric: tabular-nums; }
.wall .on { background: var(--wash); border-left: 3px solid var(--link); }
.wall .small { font-size: 0.62em; padding-inline: 0.1rem; line-height: 1.1; }
.wall .rest { font-size: 0.82em; font-weight: bold; border: 2px dashed var(--ink); text-align: center; }
.columns { columns: 2 24rem; column-gap: 2rem; }
.columns section { break-inside: avoid; padding: 0; margin: 0 0 0.6rem; background: none; }
.columns h2 { margin: 0.4rem 0 0.2rem; border-bottom: 2px solid var(--ink); }
.columns ul, .columns ol { margin: 0.2rem 0; padding-left: 1.3rem; }
@media print {
  .sheet { font-size: 11.2pt; line-height: 1.3; padding: 0; max-width: none; min-height: 0; }
  .sheet table { font-size: 11pt; }
  .sheet h1 { font-size: 20pt; } .sheet h2 { font-size: 13pt; }
  .columns { columns: 3 auto; }
  .columns section { margin-bottom: 0.3rem; }
  .wall th, .wall td { padding: 0.12rem 0.2rem; }
}
";

/// Besides, where there is much to say: it still fits on one page.
const DENSE: &str = "
@media print {
  .sheet { font-size: 9.4pt; line-height: 1.24; }
  .sheet table { font-size: 10pt; }
  .columns section { break-inside: auto; } .columns li { break-inside: avoid; } .columns h2 { break-after: avoid; }
}
";

/// Besides, where a quarter hour is narrow: its words are small and stay whole.
const LONG: &str = "
.wall .rest, .wall .small { font-size: 0.58em; line-height: 1.15; padding-inline: 0; }
.wall .rest { overflow-wrap: normal; }
@media print { .wall thead th:first-child { width: 4rem; } }
";

/// Quarter hours from which one is narrow.
const MANY_QUARTERS: u32 = 22;

/// Rows and points from which there is much to say.
const MANY: usize = 20;

/// A stretch of quarter hours in which somebody is to be found at one place.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Stint {
    /// Not there.
    Away,
    /// Mostly at this post.
    At(String),
    /// On a break for most of it, due at this time.
    Break(String),
}

/// The sheet, as a page; `None` where nobody is on the roster.
pub fn wall_sheet(summary: &Summary) -> Option<String> {
    let planned = &summary.planned;
    if planned.crew.is_empty() {
        return None;
    }
    let title = format!("{} \u{2013} for the wall", printable(&summary.heading.name));
    let (from, to) = hours(planned, summary);
    let body = html! {
        h1 { (printable(&summary.heading.name)) }
        p.note {
            "Who stands where by quarter hour: the post at which each stood most of the time, over "
            (summary.repeats) " simulated lunches. Whoever is called steps in as said below and goes back."
        }
        div.scroll tabindex="0" role="group" aria-label="Who stands where" {
            table.wall {
                thead {
                    tr {
                        th scope="col" { "Who" }
                        @for hour in (from..to).step_by(4) {
                            th scope="col" colspan=((to - hour).min(4)) { (hour_minute(u64::from(hour) * 15)) }
                        }
                    }
                }
                tbody {
                    @for (number, member) in planned.crew.iter().enumerate() {
                        tr {
                            th scope="row" { (printable(&member.name)) }
                            @for (stint, length) in stints(summary, number, member, (from, to)) {
                                (cell(&stint, length))
                            }
                        }
                    }
                }
            }
        }
        div.columns {
            section { h2 { "Who steps in" } (steps_in(planned)) }
            section { h2 { "Switch on, and change the water" } (switching(planned)) }
            section { h2 { "When the belt is full" } (belt_full(planned)) }
            section { h2 { "When the machine is down" } (machine_down(planned)) }
            section { h2 { "Always" } (cautions(summary)) }
        }
    };
    let calls = planned
        .crew
        .iter()
        .map(|member| stepping_in(member).count());
    let points =
        calls.sum::<usize>() + 2 * planned.crew.len() + summary.cautions.len().min(CAUTIONS);
    let dense = if points >= MANY { DENSE } else { "" };
    let long = if to - from >= MANY_QUARTERS { LONG } else { "" };
    let style = format!("{STYLE}{dense}{long}");
    Some(sheet(&title, &summary.source.version, &style, &body))
}

/// First and last quarter hour since midnight that any shift touches, on whole hours.
fn hours(planned: &Planned, summary: &Summary) -> (u32, u32) {
    let shifts = planned.crew.iter().flat_map(|member| &member.shifts);
    let (from, to) = shifts.fold((f64::MAX, 0.0_f64), |(from, to), shift| {
        (from.min(shift[0]), to.max(shift[1]))
    });
    if from > to {
        let first = summary.clock.from_min / 15;
        return (first, first + 1);
    }
    // A shift of days would make a table nobody can read: the first day of it.
    let first = (from / 60.0).floor().max(0.0) as u32 * 4;
    let last = (to / 15.0).ceil() as u32;
    (first, last.clamp(first + 1, first + 96))
}

/// What a member of the crew does, quarter hour by quarter hour, runs of the same joined.
fn stints(
    summary: &Summary,
    number: usize,
    member: &Member,
    (from, to): (u32, u32),
) -> Vec<(Stint, u32)> {
    let mut list: Vec<(Stint, u32)> = Vec::new();
    for quarter in from..to {
        let stint = stint(summary, number, member, quarter);
        match list.last_mut() {
            Some((last, length)) if *last == stint => *length += 1,
            _ => list.push((stint, 1)),
        }
    }
    list
}

fn stint(summary: &Summary, number: usize, member: &Member, quarter: u32) -> Stint {
    let begins = f64::from(quarter) * 15.0;
    let within = |from: f64, to: f64| (to.min(begins + 15.0) - from.max(begins)).max(0.0);
    let on: f64 = member
        .shifts
        .iter()
        .map(|[from, to]| within(*from, *to))
        .sum();
    if on <= 0.0 {
        return Stint::Away;
    }
    let rests = member.breaks.iter();
    let longest = rests
        .map(|[due, lasts]| (within(*due, due + lasts), *due))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, due)) = longest.filter(|(rest, _)| *rest >= 7.5) {
        return Stint::Break(clock_text(due));
    }
    let first = summary.clock.from_min / 15;
    let mostly = summary
        .stations
        .iter()
        .filter(|station| !station.name.starts_with(OTHER_WORK))
        .filter_map(|station| {
            let share = station
                .people
                .get(number)?
                .get((quarter.checked_sub(first)?) as usize)?;
            (*share > 0.0).then_some((*share, &station.name))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let post = mostly.map(|(_, name)| name);
    let post = post.or(member.posts.first().map(|call| &call.post));
    post.map_or(Stint::Away, |post| {
        Stint::At(short(post, planned_posts(summary)))
    })
}

/// Begins the name of what is no post of its own.
const OTHER_WORK: &str = "other work";

fn planned_posts(summary: &Summary) -> impl Iterator<Item = &str> {
    let members = summary.planned.crew.iter();
    let listed = members
        .flat_map(|member| &member.posts)
        .map(|call| call.post.as_str());
    listed.chain(summary.stations.iter().map(|station| station.name.as_str()))
}

/// What is done at a post, without the post's own name where no other is of its kind.
fn short<'a>(post: &str, mut posts: impl Iterator<Item = &'a str>) -> String {
    let kind = post.split(' ').next().unwrap_or(post);
    let alone = posts.all(|other| other == post || other.split(' ').next() != Some(kind));
    if alone { kind } else { post }.to_owned()
}

fn cell(stint: &Stint, length: u32) -> Markup {
    match stint {
        Stint::Away => html! { td colspan=(length) {} },
        Stint::At(post) => {
            let class = if length == 1 { "on small" } else { "on" };
            html! { td class=(class) colspan=(length) { (printable(post)) } }
        }
        Stint::Break(due) => html! { td.rest colspan=(length) { "break " (due) } },
    }
}

/// The posts to which this member is called by how many wait there.
fn stepping_in(member: &Member) -> impl Iterator<Item = &PostCall> {
    member.posts.iter().filter(|call| call.step_in > 1)
}

fn steps_in(planned: &Planned) -> Markup {
    let called = planned
        .crew
        .iter()
        .filter(|member| stepping_in(member).next().is_some());
    let called: Vec<&Member> = called.collect();
    html! {
        @if called.is_empty() { p { "Everybody helps where work waits, first at the own post." } }
        @else {
            ul {
                @for member in called {
                    li {
                        strong { (printable(&member.name)) } " goes to "
                        @for (number, call) in stepping_in(member).enumerate() {
                            @if number > 0 { "; to " }
                            (printable(&call.post)) " when "
                            strong { (call.step_in) } " wait there, back at " strong { (call.leave_at) }
                            @if call.stay_min > 0.0 { ", after " (fixed(call.stay_min, 0)) " min at least" }
                        }
                        "."
                    }
                }
            }
        }
    }
}

fn switching(planned: &Planned) -> Markup {
    html! {
        ul {
            @for machine in &planned.machines {
                li {
                    strong { (clock_text(machine.on_min)) } ": switch on " (printable(&machine.name))
                    @if machine.heat_up_min > 0.0 { "; hot by " (clock_text(machine.on_min + machine.heat_up_min)) }
                    @if let Some(racks) = machine.starts_at_racks { "; start it when " (racks) " racks wait" }
                    @if let Some(off) = machine.off_min { "; off at " (clock_text(off)) }
                    "."
                }
            }
            li { "Change the tank water at " span.line {} " and whenever it looks or smells spent: the data plate and the local food code decide." }
        }
    }
}

fn belt_full(planned: &Planned) -> Markup {
    let belts = planned
        .elements
        .iter()
        .filter(|element| element.holds_unit == "trays" && element.holds.is_some());
    let scrapers: Vec<&str> = planned
        .crew
        .iter()
        .filter(|member| {
            member
                .posts
                .iter()
                .any(|call| call.post.starts_with("scrapping"))
        })
        .map(|member| member.name.as_str())
        .collect();
    html! {
        ol {
            @for belt in belts {
                li { "Full means " strong { (fixed(belt.holds.unwrap_or(0.0), 0)) } " trays on " (printable(&belt.name)) "." }
            }
            @if !scrapers.is_empty() {
                li { "Everybody who can break down trays goes there: " (printable(&scrapers.join(", "))) ". Ware that may wait is left." }
            }
            li { "Stand a cart beside the drop-off for trays, and keep the way out clear." }
            li { "Nobody climbs, reaches over or pulls at a moving belt." }
        }
    }
}

fn machine_down(planned: &Planned) -> Markup {
    html! {
        ol {
            li { "Stop, and lock the drive out, before a hand goes in. A jam is cleared locked out." }
            li { "Go on breaking down and racking until the lane is full; then stack soiled ware by class, and hold back trays and cutlery." }
            @if planned.machines.len() > 1 { li { "Send racks to the other machine." } }
            li { "Call " span.line {} " ; tell the servery what will run short." }
            li { "When it runs again: let it heat up to its data plate before the first rack." }
        }
    }
}

/// Most cautions on the sheet.
const CAUTIONS: usize = 6;

fn cautions(summary: &Summary) -> Markup {
    html! {
        ul { @for caution in summary.cautions.iter().take(CAUTIONS) { li { (printable(caution)) } } }
    }
}
