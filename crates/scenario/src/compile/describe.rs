//! What a plan means, in plain sentences along the line, and the cautions that belong to what is in it.

use scullery_engine::demand::{Covers, How};
use scullery_engine::line::{
    Back, Closing, Control, DutyWhen, EndRule, LaneKind, MachineKind, PiecesTo, RacksTo, Release,
    TraysFrom, TraysTo,
};
use scullery_engine::time::{SimTime, Span};

use super::covers::expected;
use super::crew::post_name;
use super::washing::{lane_room, racks_per_h};
use crate::defaults::rounded;
use crate::moments::mean;
use crate::plan::{Plan, Units};

const FOOT_M: f64 = 0.3048;

/// Clock time without seconds where there are none.
pub(crate) fn clock(at: SimTime) -> String {
    let text = at.to_string();
    text.strip_suffix(":00").map_or(text.clone(), str::to_owned)
}

/// A length, in the scenario's units.
pub(crate) fn length(plan: &Plan, mm: u32) -> String {
    match plan.heading.units {
        Units::Metric => format!("{} m", rounded(f64::from(mm) / 1000.0)),
        Units::Us => format!("{} ft", rounded(f64::from(mm) / 1000.0 / FOOT_M)),
    }
}

fn speed(plan: &Plan, mm_min: u32) -> String {
    format!("{} a minute", length(plan, mm_min))
}

fn span(span: Span) -> String {
    if span.s() < 120.0 {
        format!("{} s", rounded(span.s()))
    } else {
        format!("{} min", rounded(span.min()))
    }
}

fn people(many: u32) -> String {
    if many == 1 {
        "1 person".to_owned()
    } else {
        format!("{many} people")
    }
}

fn listed(items: &[String]) -> String {
    match items {
        [] => "nothing".to_owned(),
        [only] => only.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// What the file means, one sentence an entry, along the line.
pub(crate) fn describe(plan: &Plan) -> Vec<String> {
    let mut told = Vec::new();
    diners(plan, &mut told);
    trays(plan, &mut told);
    racks(plan, &mut told);
    washing(plan, &mut told);
    crew(plan, &mut told);
    told
}

fn diners(plan: &Plan, told: &mut Vec<String>) {
    let demand = &plan.demand;
    let end = plan.line.ends.map_or(
        "until all is clean and the last shift is over".to_owned(),
        |ends| format!("to {}", clock(ends)),
    );
    told.push(format!(
        "The run goes from {} {end}.",
        clock(plan.line.starts)
    ));
    let covers = rounded_whole(expected(&demand.covers));
    let how = match &demand.covers {
        Covers::Instants(_) => "at the instants given",
        Covers::PerInterval {
            how: How::Poisson, ..
        } => "at random, at an even rate within each interval",
        Covers::PerInterval {
            how: How::PoissonLinear,
            ..
        } => "at random, at a rate that runs in straight lines",
        Covers::PerInterval {
            how: How::Evenly, ..
        } => "exactly as many as stated, evenly spread",
        Covers::PerInterval {
            how: How::AtRandom, ..
        } => "exactly as many as stated, at random instants",
    };
    told.push(format!(
        "{covers} covers are served {how}; the answer speaks of {}.",
        plan.heading.day_words
    ));
    for kind in &demand.kinds {
        let pieces: Vec<String> = plan
            .line
            .classes
            .iter()
            .zip(&kind.pieces)
            .filter(|(_, pieces)| **pieces > 0.0)
            .map(|(class, pieces)| format!("{} {}", rounded(*pieces), class.name))
            .collect();
        let share = rounded(kind.share.first().map_or(0.0, |(_, share)| share * 100.0));
        let varies = if kind.share.len() > 1 {
            " (it changes by the clock)"
        } else {
            ""
        };
        let sits = if kind.sits {
            "sit down"
        } else {
            "do not sit down"
        };
        let brings = if pieces.is_empty() {
            "bring nothing back".to_owned()
        } else {
            format!(
                "bring {} to drop-off {}",
                listed(&pieces),
                drop_off(plan, kind.drop_off)
            )
        };
        told.push(format!(
            "{share} % are \"{}\"{varies}: they {sits} and {brings}.",
            kind.name
        ));
    }
    if demand.kinds.iter().any(|kind| kind.sits) {
        let eating: Vec<String> = demand
            .eating_min
            .iter()
            .map(|(from, dist)| format!("{} min from {}", rounded(mean(dist)), clock(*from)))
            .collect();
        told.push(format!(
            "They find a seat in {} min and stay on average {}.",
            rounded(mean(&demand.find_seat_min)),
            listed(&eating)
        ));
    }
    for bell in &demand.bells {
        told.push(format!(
            "At the bell of {} {} % of those seated for {} leave, from {} before to {} after.",
            clock(bell.at),
            rounded(bell.share * 100.0),
            span(bell.seated_at_least),
            span(bell.before),
            span(bell.after)
        ));
    }
    if let Some(parties) = &demand.parties {
        let size: f64 = parties
            .shares
            .iter()
            .enumerate()
            .map(|(index, share)| (index + 1) as f64 * share)
            .sum();
        told.push(format!(
            "People come in parties of {} on average, {} apart.",
            rounded(size),
            span(parties.apart)
        ));
    }
    if let Some(patience) = &demand.patience_people {
        let bear = rounded(mean(patience));
        told.push(format!(
            "A diner who finds more than {bear} people waiting (on average) leaves the tray aside."
        ));
    }
}

fn drop_off(plan: &Plan, number: u8) -> &str {
    plan.line
        .drop_offs
        .get(usize::from(number))
        .map_or("?", |drop_off| &drop_off.name)
}

fn way(plan: &Plan, to: TraysTo) -> String {
    match to {
        TraysTo::Belt(number) => format!(
            "belt {}",
            plan.line
                .belts
                .get(usize::from(number))
                .map_or("?", |belt| &belt.name)
        ),
        TraysTo::Table(number) => {
            format!(
                "table {}",
                plan.line
                    .tables
                    .get(usize::from(number))
                    .map_or("?", |table| &table.name)
            )
        }
    }
}

fn trays(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for drop_off in &line.drop_offs {
        let closes = match drop_off.closes {
            Closing::At(at) => format!("closes at {} (later trays go on a late cart)", clock(at)),
            Closing::AfterLast => "closes after the last diner".to_owned(),
            Closing::Never => "does not close".to_owned(),
        };
        let opens = drop_off
            .opens
            .map_or(String::new(), |at| format!("opens at {}, ", clock(at)));
        told.push(format!(
            "Drop-off {}: {}, {} s to put a tray down on {}; it {opens}{closes}.",
            drop_off.name,
            if drop_off.positions_mm.len() == 1 {
                "1 position".to_owned()
            } else {
                format!("{} positions side by side", drop_off.positions_mm.len())
            },
            rounded(mean(&drop_off.put_down_s)),
            way(plan, drop_off.to)
        ));
    }
    for belt in &line.belts {
        let rule = match belt.rule {
            EndRule::StopsOnArrival => "stops while a tray lies at its end".to_owned(),
            EndRule::ClosesUp => "closes up against its end".to_owned(),
            EndRule::AdvancesOnDemand { section_mm } => {
                format!(
                    "moves {} when a worker at its end is free",
                    length(plan, section_mm)
                )
            }
        };
        told.push(format!(
            "Belt {}: {} long, trays {} apart, so it holds {}; {}; it {rule}.",
            belt.name,
            length(plan, belt.length_mm),
            length(plan, belt.spacing_mm),
            belt.length_mm / belt.spacing_mm.max(1),
            belt.speed
                .iter()
                .map(|(from, mm_min)| format!("{} from {}", speed(plan, *mm_min), clock(*from)))
                .collect::<Vec<_>>()
                .join(", ")
        ));
    }
    for table in &line.tables {
        let room = table
            .room
            .map_or("as many trays as come".to_owned(), |room| {
                format!("{room} trays")
            });
        told.push(format!("Table {} holds {room}.", table.name));
    }
    for post in &line.scrapping {
        let from: Vec<String> = post
            .from
            .iter()
            .map(|from| match *from {
                TraysFrom::BeltEnd(belt) => {
                    format!("the end of {}", way(plan, TraysTo::Belt(belt)))
                }
                TraysFrom::BeltAt { belt, at_mm, .. } => {
                    format!(
                        "{} at {}",
                        way(plan, TraysTo::Belt(belt)),
                        length(plan, at_mm)
                    )
                }
                TraysFrom::Table(table) => way(plan, TraysTo::Table(table)),
                TraysFrom::Overflow(number) => {
                    format!("trays left aside at {}", drop_off(plan, number))
                }
            })
            .collect();
        told.push(format!(
            "Scrapping {}: room for {}, taking from {}.",
            post.name,
            people(post.places),
            listed(&from)
        ));
        for (racks, words) in [
            (true, "straight into racks"),
            (false, "onto piles to be racked later"),
        ] {
            let classes: Vec<String> = line
                .classes
                .iter()
                .zip(&post.routes)
                .filter(|(_, route)| {
                    if racks {
                        matches!(route, PiecesTo::Racks(_))
                    } else {
                        matches!(route, PiecesTo::Pile(_))
                    }
                })
                .map(|(class, _)| class.name.clone())
                .collect();
            if !classes.is_empty() {
                told.push(format!(
                    "From scrapping {} {} go {words}.",
                    post.name,
                    listed(&classes)
                ));
            }
        }
    }
}

fn racks(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    let racks: Vec<String> = line
        .rack_kinds
        .iter()
        .map(|kind| format!("{} {}", kind.count, kind.name))
        .collect();
    if !racks.is_empty() {
        told.push(format!("There are {} racks.", listed(&racks)));
    }
    for table in &line.racking {
        let limit = table
            .limit
            .map_or("waits until it is full".to_owned(), |limit| {
                format!("is sent after {}", span(limit))
            });
        let to = match table.to {
            RacksTo::Lane(number) => format!(
                "lane {}",
                line.lanes
                    .get(usize::from(number))
                    .map_or("?", |lane| &lane.name)
            ),
            RacksTo::Leave => "off the line".to_owned(),
        };
        told.push(format!(
            "Racking {}: {} open at once; a full rack goes to {to}, a part-filled one {limit}.",
            table.name,
            if table.open_racks == 1 {
                "1 rack".to_owned()
            } else {
                format!("{} racks", table.open_racks)
            }
        ));
        for pile in &table.piles {
            let until: Vec<String> = pile
                .held_back
                .iter()
                .map(|release| match release {
                    Release::From(at) => format!("until {}", clock(*at)),
                    Release::LaneBelow(racks) => {
                        format!("until the lane holds fewer than {racks} racks")
                    }
                    Release::RushOver => "until the rush is over".to_owned(),
                })
                .collect();
            let held = if until.is_empty() {
                String::new()
            } else {
                format!(", held back {}", until.join(" or "))
            };
            let room = pile
                .room
                .map_or(String::new(), |room| format!(" (room for {room})"));
            let class = line
                .classes
                .get(usize::from(pile.class.0))
                .map_or("?", |class| &class.name);
            told.push(format!(
                "At racking {} {class} waits on a pile{room}{held}.",
                table.name
            ));
        }
    }
    for lane in &line.lanes {
        let what = match &lane.kind {
            LaneKind::Rollers { length_mm, .. } => {
                format!("rollers, {} long", length(plan, *length_mm))
            }
            LaneKind::Shelf { .. } => "a shelf".to_owned(),
        };
        let room = lane_room(lane).map_or("as many racks as come".to_owned(), |room| {
            format!("{room} racks")
        });
        told.push(format!("Lane {}: {what}; it holds {room}.", lane.name));
    }
}

fn washing(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for machine in &line.machines {
        let what = match &machine.kind {
            MachineKind::Door { batch, cycle_s } => {
                format!(
                    "door type, {batch} a batch, cycles of {} s",
                    rounded(mean(cycle_s))
                )
            }
            MachineKind::Conveyor { speed_mm_min, .. } => {
                format!("rack conveyor at {}", speed(plan, *speed_mm_min))
            }
        };
        let runs = match machine.control {
            Control::RunsThroughout => "runs throughout".to_owned(),
            Control::HoldAndRun {
                racks,
                longest_wait,
            } => {
                let or = longest_wait.map_or(String::new(), |wait| {
                    format!(" or one has waited {}", span(wait))
                });
                format!("starts when {racks} racks wait{or}, and stops when nothing is left")
            }
        };
        told.push(format!(
            "Machine {}: {what}, {:.0} racks an hour; on at {}, hot {} later; it {runs}.",
            machine.name,
            racks_per_h(&machine.kind),
            clock(machine.on_at),
            span(machine.heat_up)
        ));
    }
    for end in &line.clean_ends {
        let places = end
            .places
            .map_or("as many racks as come".to_owned(), |places| {
                format!("{places} racks")
            });
        let by = if end.by_hand {
            format!("unloaded by hand, room for {}", people(end.workers))
        } else {
            "empty as soon as dry".to_owned()
        };
        let back = match end.back {
            Back::After(after) if after.is_none() => "are back at once".to_owned(),
            Back::After(after) => format!("are back after {}", span(after)),
            Back::Trips { of, lasts } => format!("go back {of} at a time in {}", span(lasts)),
        };
        told.push(format!(
            "Clean end {} holds {places}, {by}; empty racks {back}.",
            end.name
        ));
    }
    if let Some(carts) = &line.delivery {
        told.push(format!(
            "A runner takes carts of {} pieces to the servery, {} there and back; there are {} carts.",
            carts.cart_pieces,
            span(carts.trip),
            carts.carts
        ));
    }
}

fn crew(plan: &Plan, told: &mut Vec<String>) {
    let line = &plan.line;
    for worker in &line.crew {
        let shifts: Vec<String> = worker
            .shifts
            .iter()
            .map(|(from, to)| format!("{} to {}", clock(*from), clock(*to)))
            .collect();
        let posts: Vec<String> = worker
            .list
            .iter()
            .map(|call| {
                let name = post_name(line, call.post);
                if call.step_in == 1 {
                    name
                } else {
                    format!(
                        "{name} (from {} waiting jobs, back at {})",
                        call.step_in, call.leave_at
                    )
                }
            })
            .collect();
        let breaks: Vec<String> = worker
            .breaks
            .iter()
            .map(|(due, lasts)| format!("{} at {}", span(*lasts), clock(*due)))
            .collect();
        let breaks = if breaks.is_empty() {
            String::new()
        } else {
            format!(", break {}", listed(&breaks))
        };
        told.push(format!(
            "{}, {}{breaks}: {}.",
            worker.name,
            listed(&shifts),
            posts.join(", then ")
        ));
    }
    for duty in &line.duties {
        let when = match &duty.when {
            DutyWhen::At(times) if times.len() <= 4 => format!(
                "at {}",
                listed(&times.iter().copied().map(clock).collect::<Vec<_>>())
            ),
            DutyWhen::At(times) => format!("{} times", times.len()),
            DutyWhen::EveryKg(kg) => format!("every {} kg of waste", rounded(*kg)),
        };
        told.push(format!(
            "Other work \"{}\": {} min, {when}.",
            duty.name,
            rounded(mean(&duty.work_s) / 60.0)
        ));
    }
}

fn rounded_whole(value: f64) -> String {
    format!("{value:.0}")
}

/// Cautions that belong to what is in the plan.
pub(crate) fn cautions(plan: &Plan) -> Vec<String> {
    let line = &plan.line;
    let mut cautions = vec![
        "A planning aid: local codes, the machine's data plate and licensed practice decide."
            .to_owned(),
    ];
    if !line.machines.is_empty() {
        cautions.push("Water temperatures, dwell and sanitiser follow the machine's data plate and the local food code; hot water scalds.".to_owned());
        cautions.push("Detergents and sanitisers irritate skin and eyes: follow the label, and never mix products.".to_owned());
    }
    if !line.belts.is_empty() || !line.machines.is_empty() {
        cautions.push("Jams are cleared with the drive locked out.".to_owned());
    }
    for belt in &line.belts {
        let fastest = belt
            .speed
            .iter()
            .map(|(_, mm_min)| *mm_min)
            .max()
            .unwrap_or(0);
        if fastest > 10_000 {
            cautions.push(format!(
                "Belt {} runs at {}: above 10 m (33 ft) a minute trays tip and hands are hurried (common practice).",
                belt.name,
                speed(plan, fastest)
            ));
        }
    }
    cautions.push("Reach, lifting, wet floors and rest breaks are people's health: plan for them, not around them.".to_owned());
    for worker in &line.crew {
        let long = worker.shifts.iter().find(|(from, to)| {
            let hours = to.since(*from).min() / 60.0;
            // A shift of more than a day is a textbook server, not a person.
            hours > 6.0 && hours <= 24.0
        });
        if let Some((from, _)) = long.filter(|_| worker.breaks.is_empty()) {
            cautions.push(format!(
                "{} works more than 6 h from {} without a break: look up the local rule.",
                worker.name,
                clock(*from)
            ));
        }
    }
    cautions
}
