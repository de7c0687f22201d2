//! Loads: trays and ware that come back of themselves, each with its own luck.

use super::{Diner, MOST_DINERS, NO_CARTS, Tape, grams, pieces};
use crate::demand::{Demand, Load, LoadWhen};
use crate::streams::{Keyed, name_key};
use crate::time::{SimTime, Span};

/// The sources of what the trays of one load bring.
struct LoadDraws {
    comes: Keyed,
    pieces: Keyed,
    factor: Keyed,
    waste: Keyed,
}

impl Tape {
    /// Adds the trays of every load behind the diners.
    pub(super) fn draw_loads(&mut self, demand: &Demand) {
        for load in &demand.loads {
            let own = |what: &str| self.root.keyed(name_key(&load.name) ^ name_key(what));
            let draws = LoadDraws {
                comes: own("load/comes"),
                pieces: own("load/pieces"),
                factor: own("load/work"),
                waste: own("load/waste"),
            };
            match &load.when {
                LoadWhen::At(times) => {
                    let mut n = 0;
                    for &(at, count) in times {
                        for _ in 0..count {
                            self.draw_one(demand, load, &draws, n, at);
                            n += 1;
                        }
                    }
                }
                LoadWhen::Within { from, lasts, count } => {
                    for n in 0..u64::from(*count) {
                        let after = (draws.comes.uniform(n) * lasts.us() as f64) as u64;
                        self.draw_one(demand, load, &draws, n, *from + Span::from_us(after));
                    }
                }
                LoadWhen::Never(count) => {
                    for n in 0..u64::from(*count) {
                        self.draw_one(demand, load, &draws, n, SimTime::LAST);
                    }
                }
            }
        }
    }

    fn draw_one(&mut self, demand: &Demand, load: &Load, draws: &LoadDraws, n: u64, at: SimTime) {
        if self.diners.len() >= MOST_DINERS {
            return;
        }
        let law = &self.samplers;
        let kind = &demand.kinds[usize::from(load.kind)];
        self.diners.push(Diner {
            served: Ord::min(load.taken.unwrap_or(at), at),
            comes: at,
            factor: law
                .factor
                .constant()
                .unwrap_or_else(|| law.factor.draw(draws.factor.at(n))),
            waste_g: grams(&law.waste, draws.waste, n),
            patience: u16::MAX,
            kind: load.kind,
            drop_off: kind.drop_off,
            carts: kind.carts.unwrap_or(NO_CARTS),
            sits: false,
            loose: kind.loose,
            people: 0,
            seat_wait_s: 0,
            begins: load.covers,
            ends: true,
            pieces: pieces(&kind.pieces, draws.pieces, n),
        });
    }
}
