//! Loads: trays and ware that come back of themselves, each with its own luck.

use super::{Diner, MOST_DINERS, NO_CARTS, Tape, grams, heeds, pieces};
use crate::demand::{Bell, Demand, Load, LoadWhen, There};
use crate::streams::{Keyed, Root, name_key};
use crate::time::{SimTime, Span};

/// The sources of what the trays of one load bring.
struct LoadDraws {
    comes: Keyed,
    pieces: Keyed,
    factor: Keyed,
    waste: Keyed,
}

/// Most tries to find an eating time that has not yet run out when the run begins.
const MOST_TRIES: u64 = 1024;

impl LoadDraws {
    fn new(root: Root, load: &Load) -> LoadDraws {
        let own = |what: &str| root.keyed(name_key(&load.name) ^ name_key(what));
        LoadDraws {
            comes: own("load/comes"),
            pieces: own("load/pieces"),
            factor: own("load/work"),
            waste: own("load/waste"),
        }
    }
}

impl Tape {
    /// Draws those who have been eating since before the run begins; they have their seats before anybody else.
    ///
    /// How long they stay is drawn by the law of the time at which they sat down, and again until they are still there.
    pub(super) fn draw_those_eating(&mut self, demand: &Demand) {
        for load in &demand.loads {
            let LoadWhen::Eating { since, at, people } = load.when else {
                continue;
            };
            let draws = LoadDraws::new(self.root, load);
            let bells = self
                .root
                .keyed(name_key(&load.name) ^ name_key("load/bell"));
            for n in 0..u64::from(people) {
                let leaves = self.stays_until(demand, &draws, n, since, at);
                let bell = |leaves: SimTime, (no, bell): (u64, &Bell)| {
                    let sooner = heeds(bell, bells.at(n * 64 + no), since, leaves);
                    sooner.filter(|sooner| *sooner > at).unwrap_or(leaves)
                };
                let leaves = (0..).zip(&demand.bells).fold(leaves, bell);
                let Some(mut diner) = self.one(demand, load, &draws, n, leaves) else {
                    return;
                };
                diner.served = Ord::min(since, at);
                diner.sits = true;
                diner.people = 1;
                diner.there = There::Eats;
                self.seats.leave(diner.brings_ware(), leaves);
                self.diners.push(diner);
            }
        }
    }

    fn stays_until(
        &self,
        demand: &Demand,
        draws: &LoadDraws,
        n: u64,
        since: SimTime,
        at: SimTime,
    ) -> SimTime {
        let part = demand
            .eating_min
            .partition_point(|(from, _)| *from <= since)
            .saturating_sub(1);
        let Some(law) = self.samplers.eating.get(part) else {
            return at + Span::from_us(1);
        };
        let tries = (0..MOST_TRIES).map(|k| law.draw(draws.comes.at(n * MOST_TRIES + k)));
        let mut until = tries.map(|minutes| since + Span::from_min(minutes));
        until
            .find(|until| *until > at)
            .unwrap_or(at + Span::from_us(1))
    }

    /// Adds the trays of every other load behind the diners.
    pub(super) fn draw_loads(&mut self, demand: &Demand) {
        for load in &demand.loads {
            let draws = LoadDraws::new(self.root, load);
            let mut add = |n: u64, at: SimTime, there: There| {
                let diner = self.one(demand, load, &draws, n, at);
                self.diners
                    .extend(diner.map(|diner| Diner { there, ..diner }));
            };
            match &load.when {
                LoadWhen::Eating { .. } => {}
                LoadWhen::At(times) => {
                    let each = times
                        .iter()
                        .flat_map(|&(at, count)| (0..count).map(move |_| at));
                    (0..).zip(each).for_each(|(n, at)| add(n, at, There::Comes));
                }
                LoadWhen::Within { from, lasts, count } => {
                    for n in 0..u64::from(*count) {
                        let after = (draws.comes.uniform(n) * lasts.us() as f64) as u64;
                        add(n, *from + Span::from_us(after), There::Comes);
                    }
                }
                LoadWhen::There { at, trays } => {
                    (0..u64::from(*trays)).for_each(|n| add(n, SimTime::MIDNIGHT, *at));
                }
                LoadWhen::Never(count) => {
                    (0..u64::from(*count)).for_each(|n| add(n, SimTime::LAST, There::Comes));
                }
            }
        }
    }

    /// Tray `n` of a load, which comes at `at`.
    fn one(
        &self,
        demand: &Demand,
        load: &Load,
        draws: &LoadDraws,
        n: u64,
        at: SimTime,
    ) -> Option<Diner> {
        let law = &self.samplers;
        let kind = &demand.kinds[usize::from(load.kind)];
        (self.diners.len() < MOST_DINERS).then(|| Diner {
            served: Ord::min(load.taken.unwrap_or(at), at),
            comes: at,
            factor: law.factor.value(draws.factor, n),
            waste_g: grams(&law.waste, draws.waste, n),
            patience: u16::MAX,
            kind: load.kind,
            drop_off: kind.drop_off,
            carts: kind.carts.unwrap_or(NO_CARTS),
            sits: false,
            loose: kind.loose,
            people: 0,
            seat_wait_s: 0,
            there: There::Comes,
            begins: load.covers,
            ends: true,
            pieces: pieces(&kind.pieces, draws.pieces, n),
        })
    }
}
