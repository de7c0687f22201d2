//! Stages that make room beside the way of the trays: whoever changes receivers and empties bins, and disposers. Only those
//! for whose room a diner or somebody at a post may have to wait.

use scullery_engine::line::{AidInto, DutyWhen, PiecesTo, Post, StoreKind};
use scullery_engine::watch::Role;

use super::stages::{Kind, Survey};

/// What fills up beside the way of the trays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Filled {
    /// The receiver with this number.
    Receiver(u8),
    /// The disposer or bins with this number.
    Store(u8),
}

impl Survey<'_> {
    /// Whoever changes the receivers and empties the bins that can hold somebody up, and the disposers that can.
    pub(super) fn changes(&mut self) {
        let line = self.line;
        let holding: Vec<Filled> = self
            .all
            .iter()
            .flat_map(|it| self.filled(it.kind))
            .collect();
        let holds = |filled: Filled| holding.contains(&filled);
        for (d, duty) in line.duties.iter().enumerate() {
            let (words, fills) = match duty.when {
                DutyWhen::Change(r) if holds(Filled::Receiver(r)) => {
                    let name = &line.receivers[usize::from(r)].name;
                    let place = self.place(Role::Receiver, name);
                    (format!("changing {name}"), self.limited(place))
                }
                DutyWhen::BinFull(s) if holds(Filled::Store(s)) => {
                    let name = &line.waste_stores[usize::from(s)].name;
                    (format!("emptying {name}"), Vec::new())
                }
                _ => continue,
            };
            let waits = self.place(Role::Duty, &duty.name);
            let kind = Kind::Post(Post::Duty(d as u8));
            self.add(words, kind, vec![waits], fills);
        }
        for (s, store) in line.waste_stores.iter().enumerate() {
            let ground = matches!(store.kind, StoreKind::Ground { .. });
            if ground && holds(Filled::Store(s as u8)) {
                let waste = self.place(Role::Waste, &store.name);
                let name = format!("disposer {}", store.name);
                self.add(name, Kind::Disposer(s), vec![waste], Vec::new());
            }
        }
    }

    /// The receivers and stores of waste for whose room somebody waits at a stage.
    pub(super) fn filled(&self, kind: Kind) -> Vec<Filled> {
        match kind {
            Kind::DropOff(i) => {
                let aids = self.line.drop_offs[i].aids.iter().filter(|aid| aid.waits);
                aids.map(|aid| match aid.into {
                    AidInto::Receiver(r) => Filled::Receiver(r),
                    AidInto::Waste { store, .. } => Filled::Store(store),
                })
                .collect()
            }
            Kind::Post(Post::Scrapping(i)) => {
                let post = &self.line.scrapping[usize::from(i)];
                let receivers = post.routes.iter().filter_map(|route| match route {
                    PiecesTo::Receiver(r) => Some(Filled::Receiver(*r)),
                    _ => None,
                });
                let stores = post.waste_to.iter().flatten();
                receivers
                    .chain(stores.map(|store| Filled::Store(*store)))
                    .collect()
            }
            _ => Vec::new(),
        }
    }

    /// The stages that make room in a receiver or a store of waste: whoever changes it, and what takes what was in it.
    pub(super) fn makes_room(&self, filled: Filled) -> Vec<usize> {
        let stage = match filled {
            Filled::Store(s) => self.number(Kind::Disposer(usize::from(s))),
            Filled::Receiver(_) => None,
        };
        let duty = self.line.duties.iter().position(|duty| match filled {
            Filled::Receiver(r) => duty.when == DutyWhen::Change(r),
            Filled::Store(s) => duty.when == DutyWhen::BinFull(s),
        });
        let changing = duty.and_then(|d| self.number(Kind::Post(Post::Duty(d as u8))));
        let on = match filled {
            Filled::Receiver(r) => self.after_receiver(r),
            Filled::Store(_) => Vec::new(),
        };
        stage.into_iter().chain(changing).chain(on).collect()
    }
}
