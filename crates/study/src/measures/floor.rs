//! Measures of places and machines.

use scullery_engine::watch::{ActorKind, Catalogue, Counted, PlaceInfo, Role, State, Unit};
use scullery_scenario::plan::Plan;

use super::{Measures, headline, plain, ratio};
use crate::record::{ActorRecord, CountRecord, MealRecord, WITHIN_S};
use crate::words::{actor_words, own_name, place_words, spoken, unit_word};

/// Waits and people at each drop-off. A wait runs from coming until the tray is put down, the seconds of putting
/// down itself left out.
pub(super) fn drop_offs(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    for (p, place) in of_role(catalogue, Role::Standing) {
        let name = own_name(place);
        let id = |what: &str| format!("drop_off.{name}.{what}");
        let at = &format!("drop-off {}", spoken(&name));
        to.add(
            plain(
                id("wait_mean_s"),
                at,
                format!("Wait at {at}, mean of all diners"),
                "s",
            ),
            move |m| m.record.waits[p].mean_s(),
        );
        to.add(
            headline(
                id("wait_p95_s"),
                at,
                format!("Wait at {at}: 95 of 100 diners wait no longer"),
                "s",
            ),
            move |m| m.record.waits[p].p95_us.map(seconds),
        );
        to.add(
            plain(id("wait_max_s"), at, format!("Longest wait at {at}"), "s"),
            move |m| m.record.waits[p].longest_us.map(seconds),
        );
        for (bound, s) in WITHIN_S.into_iter().enumerate() {
            to.add(
                plain(
                    id(&format!("within_{s}s_share")),
                    at,
                    format!("Diners who wait at most {s} s at {at}"),
                    "share",
                ),
                move |m| m.record.waits[p].within_share(bound),
            );
        }
        to.add(
            headline(
                id("standing_max_people"),
                at,
                format!("Most people standing with a tray at {at}"),
                "people",
            ),
            move |m| Some(f64::from(m.record.places[p].highest)),
        );
        to.add(
            plain(
                id("standing_mean_people"),
                at,
                format!("People standing with a tray at {at}, average over the run"),
                "people",
            ),
            move |m| mean_level(m.record, p),
        );
    }
    for (p, place) in of_role(catalogue, Role::Queue) {
        let name = own_name(place);
        let at = &format!("drop-off {}", spoken(&name));
        to.add(
            plain(
                format!("drop_off.{name}.queue_max_people"),
                at,
                format!("Most people waiting for a position at {at}"),
                "people",
            ),
            move |m| Some(f64::from(m.record.places[p].highest)),
        );
        if plan.view.room.is_some() {
            let person_m = plan.facts.person_m;
            to.add(
                plain(
                    format!("drop_off.{name}.queue_max_m"),
                    at,
                    format!("Longest queue at {at}, as metres of people"),
                    "m",
                ),
                move |m| Some(f64::from(m.record.places[p].highest) * person_m),
            );
        }
        to.add(
            plain(
                format!("drop_off.{name}.queue_wait_mean_s"),
                at,
                format!("Wait for a position at {at}, mean"),
                "s",
            ),
            move |m| m.record.waits[p].mean_s(),
        );
    }
}

/// Most and average at each place where ware stands, and the time it waits there.
pub(super) fn places(to: &mut Measures, catalogue: &Catalogue) {
    for (p, place) in catalogue.places.iter().enumerate() {
        let at = &place_words(place);
        let (unit, key) = (unit_word(place.unit), &place.name);
        let shown = matches!(
            place.role,
            Role::Seated
                | Role::Backlog
                | Role::Overflow
                | Role::Trays
                | Role::Stacks
                | Role::Pile
                | Role::HeldBack
                | Role::OpenRacks
                | Role::FilledRacks
                | Role::Washing
                | Role::CleanRacks
                | Role::RacksBack
                | Role::Cart
                | Role::Duty
                | Role::Receiver
                | Role::Waste
                | Role::WaitingForWare
                | Role::Gathered
                | Role::CartsWaiting
                | Role::CartsToWash
        );
        if !shown {
            continue;
        }
        let what = match place.unit {
            Unit::Grams => "waste",
            _ => unit,
        };
        let most = format!("Most {what} at once: {at}");
        let id = format!("{key}.max_{unit}");
        let naming = match place.role {
            Role::Backlog => headline(
                id,
                at,
                "Most soiled trays dropped off and not yet cleared",
                unit,
            ),
            _ => plain(id, at, most, unit),
        };
        to.add(naming, move |m| Some(f64::from(m.record.places[p].highest)));
        to.add(
            plain(
                format!("{key}.mean_{unit}"),
                at,
                format!("Average over the run: {at}"),
                unit,
            ),
            move |m| mean_level(m.record, p),
        );
        if waits_are_told(place) {
            to.add(
                plain(
                    format!("{key}.wait_mean_s"),
                    at,
                    format!("Time spent, mean: {at}"),
                    "s",
                ),
                move |m| m.record.waits[p].mean_s(),
            );
            to.add(
                plain(
                    format!("{key}.wait_max_s"),
                    at,
                    format!("Time spent, longest: {at}"),
                    "s",
                ),
                move |m| m.record.waits[p].longest_us.map(seconds),
            );
        }
    }
    for (p, place) in of_role(catalogue, Role::EmptyRacks) {
        let at = &place_words(place);
        to.add(
            plain(
                format!("{}.min_racks", place.name),
                at,
                format!("Fewest at once: {at}"),
                "racks",
            ),
            move |m| Some(f64::from(m.record.places[p].lowest)),
        );
        to.add(
            plain(
                format!("{}.longest_none_min", place.name),
                at,
                format!("Longest stretch with none: {at}"),
                "min",
            ),
            move |m| Some(minutes(m.record.places[p].longest_none_us)),
        );
    }
}

fn waits_are_told(place: &PlaceInfo) -> bool {
    matches!(
        place.role,
        Role::Trays
            | Role::Stacks
            | Role::Pile
            | Role::HeldBack
            | Role::FilledRacks
            | Role::CleanRacks
            | Role::Duty
            | Role::WaitingForWare
            | Role::Overflow
            | Role::Gathered
            | Role::CartsWaiting
            | Role::CartsToWash
    )
}

/// Racks, rate, fill and states of each machine.
pub(super) fn machines(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    let actors = catalogue.actors.iter().enumerate();
    let machines = actors.filter(|(_, a)| a.kind == ActorKind::Machine);
    for (i, (actor, info)) in machines.enumerate() {
        let name = &info.name;
        let id = |what: &str| format!("machine.{name}.{what}");
        let at = &actor_words(info);
        let count = |counted: Counted| nth_count(catalogue, counted, i);
        if let Some(racks) = count(Counted::RacksIn) {
            to.add(
                plain(id("racks"), at, format!("Racks washed by {at}"), "racks"),
                move |m| Some(m.record.counts[racks].total as f64),
            );
            to.add(
                headline(
                    id("racks_per_busiest_h"),
                    at,
                    format!("Racks through {at} in its busiest 60 minutes"),
                    "racks_per_h",
                ),
                move |m| busiest(&m.record.counts[racks]),
            );
            let plate = plan.utilities.get(i).map_or(0.0, |u| u.plate_racks_per_h);
            if plate > 0.0 {
                to.add(
                    plain(
                        id("plate_share"),
                        at,
                        format!("Busiest 60 minutes of {at} over the rate on its data plate"),
                        "share",
                    ),
                    move |m| busiest(&m.record.counts[racks]).map(|racks| racks / plate),
                );
            }
            for (counted, what, label, unit) in [
                (
                    Counted::PiecesIn,
                    "pieces_per_rack",
                    "Pieces in a rack, mean",
                    "pieces",
                ),
                (
                    Counted::PartFilled,
                    "part_filled_share",
                    "Racks that went in part-filled",
                    "share",
                ),
            ] {
                if let Some(part) = count(counted) {
                    to.add(
                        plain(id(what), at, format!("{label}: {at}"), unit),
                        move |m| {
                            let counts = &m.record.counts;
                            ratio(counts[part].total as f64, counts[racks].total as f64)
                        },
                    );
                }
            }
        }
        to.add(
            plain(
                id("fill_share"),
                at,
                format!("Pieces over the pieces there was room for in racks out of {at}"),
                "share",
            ),
            move |m| m.record.racks.get(i)?.mean_fill(),
        );
        if let Some(starts) = count(Counted::Starts) {
            to.add(
                plain(id("starts"), at, format!("Times {at} was started"), "count"),
                move |m| Some(m.record.counts[starts].total as f64),
            );
        }
        to.add(
            headline(
                id("running_share"),
                at,
                format!("Share of its hot time in which {at} runs with racks inside"),
                "share",
            ),
            move |m| running_share(&m.record.actors[actor]),
        );
        to.add(
            plain(
                id("stopped_min"),
                at,
                format!("Minutes {at} stands because the clean end is full"),
                "min",
            ),
            move |m| Some(minutes(m.record.actors[actor].us(State::Stopped))),
        );
    }
}

/// Time washing with racks inside over time hot; `None` when never hot.
fn running_share(machine: &ActorRecord) -> Option<f64> {
    let all: u64 = machine.total_us.iter().sum();
    let hot = all - machine.us(State::Off) - machine.us(State::Heating);
    ratio(machine.loaded_us as f64, hot as f64)
}

fn busiest(count: &CountRecord) -> Option<f64> {
    count.busiest_hour().map(|racks| racks as f64)
}

/// Run-outs and lowest stock of the classes whose stock is followed.
pub(super) fn stock(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    for (p, place) in of_role(catalogue, Role::Stock) {
        let at = &place_words(place);
        to.add(
            plain(
                format!("{}.min_pieces", place.name),
                at,
                format!("Fewest {at}"),
                "pieces",
            ),
            move |m| Some(f64::from(m.record.places[p].lowest)),
        );
    }
    let mut all = Vec::new();
    for (i, class) in plan.line.classes.iter().enumerate() {
        let followed = class.par.is_some();
        if let Some(count) = nth_count(catalogue, Counted::RunOut, i).filter(|_| followed) {
            all.push(count);
            let label = format!(
                "Pieces of {} that covers wanted and did not find",
                spoken(&class.name)
            );
            to.add(
                plain(
                    format!("runout.{}.pieces", class.name),
                    &class.name,
                    label,
                    "pieces",
                ),
                move |m| Some(m.record.counts[count].total as f64),
            );
        }
    }
    if !all.is_empty() {
        to.add(
            headline(
                "runout.total_pieces",
                "",
                "Pieces of any class that covers wanted and did not find",
                "pieces",
            ),
            move |m| Some(all.iter().map(|&c| m.record.counts[c].total as f64).sum()),
        );
    }
}

pub(super) fn of_role(
    catalogue: &Catalogue,
    role: Role,
) -> impl Iterator<Item = (usize, &PlaceInfo)> {
    let places = catalogue.places.iter().enumerate();
    places.filter(move |(_, place)| place.role == role)
}

/// Number of the `nth` count of this kind (machines and classes come in line order).
pub(super) fn nth_count(catalogue: &Catalogue, counted: Counted, nth: usize) -> Option<usize> {
    let counts = catalogue.counts.iter().enumerate();
    let mut of_kind = counts.filter(|(_, info)| info.counted == counted);
    of_kind.nth(nth).map(|(number, _)| number)
}

fn mean_level(record: &MealRecord, place: usize) -> Option<f64> {
    record.places[place].mean(record.run_us)
}

pub(super) fn seconds(us: u64) -> f64 {
    us as f64 / 1e6
}

pub(super) fn minutes(us: u64) -> f64 {
    us as f64 / 6e7
}
