//! Nothing is lost, nothing is made up, nothing holds more than it can: read from what is told alone.

use proptest::prelude::*;
use scullery_engine::line::{Machine, MachineKind, RackAt, Receiver, ReceiverGoes};
use scullery_engine::time::SimTime;
use scullery_engine::watch::*;

use super::record::{Case, Told, check};

/// Sums of what has been told so far.
struct Books {
    catalogue: Catalogue,
    levels: Vec<u32>,
    counts: Vec<u64>,
}

impl Books {
    fn open(case: &Case) -> Books {
        let catalogue = case.line.catalogue();
        Books {
            levels: catalogue.places.iter().map(|p| p.at_start).collect(),
            counts: vec![0; catalogue.counts.len()],
            catalogue,
        }
    }

    fn enter(&mut self, told: &Told) {
        match *told {
            Told::Level(_, place, held) => self.levels[usize::from(place.0)] = held,
            Told::Counted(_, count, by) => self.counts[usize::from(count.0)] += u64::from(by),
            _ => {}
        }
    }

    fn count(&self, counted: Counted) -> u64 {
        self.count_of(counted, None)
    }

    fn count_of(&self, counted: Counted, of: Option<&str>) -> u64 {
        let counts = self.catalogue.counts.iter().zip(&self.counts);
        counts
            .filter(|(info, _)| info.counted == counted && info.of.as_deref() == of)
            .map(|(_, &n)| n)
            .sum()
    }

    /// Of all that it is counted of.
    fn count_of_all(&self, counted: Counted) -> u64 {
        let counts = self.catalogue.counts.iter().zip(&self.counts);
        counts
            .filter(|(info, _)| info.counted == counted)
            .map(|(_, &n)| n)
            .sum()
    }

    /// Sum of the levels of all places of this role.
    fn level(&self, role: Role) -> u64 {
        let places = self.catalogue.places.iter().zip(&self.levels);
        places
            .filter(|(place, _)| place.role == role)
            .map(|(_, &held)| u64::from(held))
            .sum()
    }
}

/// Calls `law` with the books at each told instant, when all of that instant has been entered.
fn at_each_instant(
    case: &Case,
    told: &[Told],
    mut law: impl FnMut(SimTime, &Books) -> Result<(), TestCaseError>,
) -> Result<Books, TestCaseError> {
    let mut books = Books::open(case);
    for (i, it) in told.iter().enumerate() {
        books.enter(it);
        if told.get(i + 1).is_none_or(|next| next.at() != it.at()) {
            law(it.at(), &books)?;
        }
    }
    Ok(books)
}

#[test]
fn what_is_told_is_in_clock_order_and_within_the_run() {
    check(1_000, |case| {
        let (ended, told) = case.run()?;
        let mut last = case.line.starts;
        for it in &told {
            prop_assert!(it.at() >= last, "{it:?} after {last}");
            last = it.at();
            prop_assert!(it.at() <= ended.at, "{it:?} after the end at {}", ended.at);
            if let Some(end) = case.line.ends {
                prop_assert!(it.at() < end, "{it:?} at the stated end");
            }
            if let Told::Waited(at, _, wait) = *it {
                prop_assert!(wait <= at.since(case.line.starts), "{it:?} is too long");
            }
        }
        Ok(())
    });
}

#[test]
fn levels_told_are_changes_and_stay_within_the_room() {
    check(1_000, |case| {
        let (_, told) = case.run()?;
        let places = case.line.catalogue().places;
        let mut held: Vec<_> = places.iter().map(|p| p.at_start).collect();
        let mut told_at = vec![None; places.len()];
        for it in &told {
            let Told::Level(at, place, now) = *it else {
                continue;
            };
            let p = usize::from(place.0);
            let name = &places[p].name;
            prop_assert_ne!(held[p], now, "{} told again at {}", name, at);
            prop_assert_ne!(told_at[p], Some(at), "{} told twice at {}", name, at);
            if let Some(room) = places[p].room {
                prop_assert!(now <= room, "{name} holds {now} of {room} at {at}");
            }
            held[p] = now;
            told_at[p] = Some(at);
        }
        Ok(())
    });
}

#[test]
fn states_told_are_changes_told_once_an_instant() {
    check(1_000, |case| {
        let (_, told) = case.run()?;
        let actors = case.line.catalogue().actors;
        let first = |kind| match kind {
            ActorKind::Belt | ActorKind::StackBelt | ActorKind::Accumulator => State::Waiting,
            _ => State::Off,
        };
        let mut is: Vec<_> = actors.iter().map(|a| (first(a.kind), None)).collect();
        let mut told_at = vec![None; actors.len()];
        for it in &told {
            let Told::State(at, who, state, because) = *it else {
                continue;
            };
            let a = usize::from(who.0);
            let name = &actors[a].name;
            prop_assert_ne!(is[a], (state, because), "{} told again at {}", name, at);
            prop_assert_ne!(told_at[a], Some(at), "{} told twice at {}", name, at);
            prop_assert!(
                actors[a].kind != ActorKind::Worker
                    || (state == State::HeldUp) == because.is_some(),
                "{name} {state:?} because of {because:?} at {at}"
            );
            is[a] = (state, because);
            told_at[a] = Some(at);
        }
        Ok(())
    });
}

#[test]
fn trays_counted_are_trays_out_and_trays_inside() {
    check(1_000, |case| {
        let (ended, told) = case.run()?;
        let books = at_each_instant(case, &told, |at, books| {
            let dropped = books.count(Counted::DroppedOff);
            prop_assert_eq!(
                dropped,
                books.count(Counted::Cleared) + books.level(Role::Backlog),
                "dropped off and not cleared at {}",
                at
            );
            prop_assert_eq!(
                books.count(Counted::CameToDropOff),
                dropped + books.level(Role::Standing),
                "came and not dropped off at {}",
                at
            );
            prop_assert!(books.level(Role::Queue) <= books.level(Role::Standing));
            let lie = books.level(Role::Trays) + books.level(Role::Overflow);
            prop_assert!(
                lie <= books.level(Role::Backlog),
                "more trays lie than wait at {at}"
            );
            prop_assert!(books.count(Counted::Clean) <= books.count(Counted::CameToDropOff));
            Ok(())
        })?;
        let balance = &ended.balance;
        let came = books.count(Counted::CameToDropOff);
        // What staff have cleared away is on the books from then on, and comes with its cart.
        let not_yet_here = balance.trays_in - came;
        prop_assert!(not_yet_here >= books.level(Role::Gathered));
        if case.line.carts.iter().all(|carts| carts.way.is_none()) {
            prop_assert_eq!(not_yet_here, books.level(Role::Gathered));
        }
        prop_assert_eq!(books.count(Counted::Clean), balance.trays_out);
        let broken = books.count_of_all(Counted::Broken);
        prop_assert_eq!(
            books.count(Counted::PiecesClean) + broken,
            balance.pieces_out
        );
        prop_assert_eq!(balance.trays_in, balance.trays_out + balance.trays_inside);
        prop_assert_eq!(
            balance.pieces_in,
            balance.pieces_out + balance.pieces_inside
        );
        let tape = case.tape();
        let came = told.iter().filter(|it| {
            matches!(it, Told::Counted(_, count, _)
                if books.catalogue.counts[usize::from(count.0)].counted == Counted::CameToDropOff)
        });
        // What lies on belts and tables when the run begins has come as well.
        let lying = tape.there().iter();
        let lying = lying.filter(|&&diner| !tape.diners()[diner as usize].sits);
        prop_assert!(came.count() <= tape.coming().len() + lying.count());
        Ok(())
    });
}

#[test]
fn racks_told_are_the_racks_owned() {
    const HOLD_RACKS: [Role; 6] = [
        Role::OpenRacks,
        Role::EmptyRacks,
        Role::FilledRacks,
        Role::Washing,
        Role::CleanRacks,
        Role::RacksBack,
    ];
    check(1_000, |case| {
        // Where loose ware passes, pieces are told and not racks.
        let flight = |m: &Machine| matches!(m.kind, MachineKind::Flight { .. });
        if case.line.machines.iter().any(flight)
            || case.line.clean_ends.iter().any(|c| c.pieces.is_some())
        {
            return Ok(());
        }
        let (_, told) = case.run()?;
        let owned: u64 = case
            .line
            .rack_kinds
            .iter()
            .map(|k| u64::from(k.count))
            .sum();
        // Racks that go out with their ware are at no place that is told.
        let some_go_out = case.line.classes.iter().any(|c| c.stays_in_rack);
        // At a receiver pieces are told: it is one rack, and one more that is on its way from it.
        let is_rack = |r: &&Receiver| matches!(r.goes, ReceiverGoes::AsRack(_));
        let at_receivers = 2 * case.line.receivers.iter().filter(is_rack).count() as u64;
        at_each_instant(case, &told, |at, books| {
            let found: u64 = HOLD_RACKS.into_iter().map(|role| books.level(role)).sum();
            prop_assert!(
                found <= owned && (some_go_out || found + at_receivers >= owned),
                "{found} racks of {owned} at {at}"
            );
            Ok(())
        })?;
        Ok(())
    });
}

#[test]
fn ware_at_the_servery_and_on_carts_is_ware_owned() {
    check(1_000, |case| {
        let (_, told) = case.run()?;
        let owned: u64 = case
            .line
            .classes
            .iter()
            .map(|c| u64::from(c.par.unwrap_or(0)))
            .sum();
        at_each_instant(case, &told, |at, books| {
            let found = books.level(Role::Stock) + books.level(Role::Cart);
            prop_assert!(found <= owned, "{found} pieces of {owned} at {at}");
            Ok(())
        })?;
        Ok(())
    });
}

#[test]
fn racks_go_into_a_machine_and_come_out_of_it_in_order() {
    check(1_000, |case| {
        let (_, told) = case.run()?;
        let books = at_each_instant(case, &told, |at, books| {
            let inside = books.level(Role::Washing);
            let names = case.line.machines.iter().map(|m| m.name.as_str());
            let [went_in, came_out] = [Counted::RacksIn, Counted::RacksOut].map(|c| {
                names
                    .clone()
                    .map(|of| books.count_of(c, Some(of)))
                    .sum::<u64>()
            });
            // What a loader has in hand is at the machine and not yet in.
            prop_assert!(
                came_out <= went_in && went_in - came_out <= inside,
                "{went_in} in, {came_out} out, {inside} inside at {at}"
            );
            Ok(())
        })?;
        let mut out = vec![0; case.line.machines.len()];
        for it in &told {
            let Told::Rack(at, trip) = *it else { continue };
            let machine = &case.line.machines[usize::from(trip.machine)];
            out[usize::from(trip.machine)] += 1;
            prop_assert!(trip.pieces > 0 && trip.pieces <= trip.size, "{trip:?}");
            let in_order = trip.opened <= trip.closed
                && trip.closed <= trip.washed_from
                && trip.washed_from < trip.out;
            prop_assert!(in_order && trip.out == at, "{trip:?} at {at}");
            if let MachineKind::Conveyor {
                tunnel_mm,
                speed_mm_min,
                ..
            } = machine.kind
            {
                let least_us = u64::from(tunnel_mm) * 60_000_000 / u64::from(speed_mm_min);
                let took = trip.out.since(trip.washed_from);
                let was_inside = trip.washed_from == case.line.starts
                    && case
                        .line
                        .already
                        .racks
                        .iter()
                        .any(|rack| rack.at == RackAt::Machine(trip.machine));
                prop_assert!(
                    was_inside || took.us() >= least_us,
                    "{trip:?} ran in {least_us} us"
                );
            }
            let class = &case.line.classes[usize::from(trip.class)];
            let second = class.second_pass.iter().flat_map(|second| &second.fits);
            let mut fits = class.fits.iter().chain(second);
            prop_assert!(
                fits.any(|&(kind, size)| kind.0 == trip.kind && size == trip.size),
                "{trip:?} does not take its class"
            );
        }
        for (machine, &out) in case.line.machines.iter().zip(&out) {
            prop_assert_eq!(
                books.count_of(Counted::RacksOut, Some(&machine.name)),
                out as u64
            );
        }
        Ok(())
    });
}
