//! What of a line does not fit together: names that lead nowhere, ware that nobody takes, work that is nobody's.

use crate::line::{
    DutyWhen, Line, MOST_CLASSES, MachineKind, PiecesTo, Post, RacksTo, Short, Stands, TraysFrom,
    TraysTo, Watched, crew,
};

/// Most elements of a line: each has a bit among the marked.
const MOST_ELEMENTS: usize = 60;

/// Whether there is a thing of this number among so many.
fn within(number: u8, of: usize) -> bool {
    usize::from(number) < of
}

impl Line {
    /// What does not fit together: names that lead nowhere and the like. Empty for every line the loader makes.
    pub fn faults(&self) -> Vec<String> {
        let mut faults = self.beyond_limits();
        faults.extend(self.already_faults());
        faults.extend(self.look_over_faults());
        faults.extend(self.aid_faults());
        faults.extend(self.receiver_faults());
        faults.extend(self.waste_faults());
        faults.extend(self.second_pass_faults());
        faults.extend(self.hand_over_faults());
        faults.extend(self.gate_faults());
        faults.extend(self.level_faults());
        faults.extend(self.twin_faults());
        faults.extend(self.stack_faults());
        if self.classes.len() > MOST_CLASSES {
            faults.push("too many classes of ware".into());
        }
        if self.elements() > MOST_ELEMENTS {
            faults.push("too many elements".into());
        }
        faults.extend(self.soiled_faults());
        faults.extend(self.rack_faults());
        faults.extend(self.ware_faults());
        faults.extend(self.work_faults());
        faults
    }

    /// Drop-offs and scrapping posts.
    fn soiled_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let mut need = |fits: bool, what: &dyn Fn() -> String| {
            if !fits {
                faults.push(what());
            }
        };
        for it in &self.drop_offs {
            need(!it.positions_mm.is_empty(), &|| {
                format!("drop-off {} has no position", it.name)
            });
            let fits = match it.to {
                TraysTo::Belt(b) => within(b, self.belts.len()),
                TraysTo::Accumulator(a) => within(a, self.accumulators.len()),
                TraysTo::Table(t) => within(t, self.tables.len()),
            };
            need(fits, &|| format!("drop-off {} leads nowhere", it.name));
        }
        for it in &self.scrapping {
            let full =
                it.piece_s.len() == self.classes.len() && it.routes.len() == self.classes.len();
            need(full, &|| {
                format!("scrapping {} does not say where each class goes", it.name)
            });
            for (class, route) in it.routes.iter().enumerate() {
                let fits = match *route {
                    // Looked at with the belts.
                    PiecesTo::Leave | PiecesTo::Stacks(_) => true,
                    PiecesTo::Receiver(r) => within(r, self.receivers.len()),
                    PiecesTo::Racks(r) => self
                        .racking
                        .get(usize::from(r))
                        .is_some_and(|r| !matches!(r.to, RacksTo::Machine(_))),
                    PiecesTo::Pile(r) => self
                        .racking
                        .get(usize::from(r))
                        .is_some_and(|r| r.piles.iter().any(|p| usize::from(p.class.0) == class)),
                };
                need(fits, &|| {
                    format!("scrapping {} sends class {class} nowhere", it.name)
                });
            }
            let fits = it.from.iter().all(|from| match *from {
                TraysFrom::BeltEnd(b) | TraysFrom::BeltAt { belt: b, .. } => {
                    within(b, self.belts.len())
                }
                TraysFrom::Accumulator { accumulator: a, .. } => within(a, self.accumulators.len()),
                TraysFrom::Table(t) => within(t, self.tables.len()),
                TraysFrom::Carts(c) => within(c, self.carts.len()),
                TraysFrom::Overflow(d) => within(d, self.drop_offs.len()),
            });
            need(fits, &|| {
                format!("scrapping {} takes from nowhere", it.name)
            });
            let passes_on = it.passes_on.as_ref().is_none_or(|on| {
                let table = self.tables.get(usize::from(on.to));
                on.takes_off.len() == self.classes.len()
                    && table.is_some_and(|table| table.room != Some(0))
            });
            need(passes_on, &|| {
                format!("scrapping {} passes trays on to no room", it.name)
            });
        }
        need(!self.passes_trays_round(), &|| {
            "trays are passed on in a circle".into()
        });
        faults
    }

    /// Racking tables and machines.
    fn rack_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let mut need = |fits: bool, what: &dyn Fn() -> String| {
            if !fits {
                faults.push(what());
            }
        };
        for it in &self.racking {
            let fits = match it.to {
                RacksTo::Leave => true,
                RacksTo::Lane(l) => within(l, self.lanes.len()),
                RacksTo::Machine(m) => self.is_flight(m),
            };
            need(fits, &|| format!("racking {} leads nowhere", it.name));
            need(
                it.piles
                    .iter()
                    .all(|p| within(p.class.0, self.classes.len())),
                &|| format!("racking {} has a pile of no class", it.name),
            );
            if let RacksTo::Machine(m) = it.to {
                let placed = it.piles.iter().all(|pile| {
                    let machine = self.machines.get(usize::from(m));
                    let rate = machine.and_then(|m| m.pieces_per_h(usize::from(pile.class.0)));
                    rate.is_some()
                });
                need(placed && it.places > 0, &|| {
                    format!("{} places ware that its machine does not take", it.name)
                });
                let to = self.machines.get(usize::from(m)).and_then(|m| m.to);
                let end = to.and_then(|c| self.clean_ends.get(usize::from(c)));
                let room = end.and_then(|end| end.pieces);
                need(room.is_none_or(|room| it.grab <= room), &|| {
                    format!("{} places more at once than the clean end holds", it.name)
                });
            }
        }
        for (m, it) in (0..).zip(&self.machines) {
            let placed_on = self.racking.iter().any(|r| r.to == RacksTo::Machine(m));
            let fed = match it.from {
                Some(lane) => within(lane, self.lanes.len()),
                None => placed_on,
            };
            need(fed, &|| format!("machine {} is fed by nothing", it.name));
            need(
                it.to.is_none_or(|c| within(c, self.clean_ends.len())),
                &|| format!("machine {} leads nowhere", it.name),
            );
        }
        faults
    }

    /// Classes of ware.
    fn ware_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let mut need = |fits: bool, what: &dyn Fn() -> String| {
            if !fits {
                faults.push(what());
            }
        };
        for class in &self.classes {
            need(
                class
                    .fits
                    .iter()
                    .all(|(kind, size)| within(kind.0, self.rack_kinds.len()) && *size > 0),
                &|| format!("class {} names a rack that is not there", class.name),
            );
            let instead = match class.short {
                Short::Takes(other) => within(other.0, self.classes.len()),
                _ => true,
            };
            need(instead, &|| {
                format!("class {} is replaced by nothing", class.name)
            });
            need(
                class
                    .clean_end
                    .is_none_or(|c| within(c, self.clean_ends.len())),
                &|| format!("class {} goes to a clean end that is not there", class.name),
            );
        }
        faults
    }

    /// Crew, trouble and other work.
    fn work_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        let mut need = |fits: bool, what: &dyn Fn() -> String| {
            if !fits {
                faults.push(what());
            }
        };
        for it in &self.crew {
            let fits = it.calls().all(|call| self.has(call.post));
            let paces = it.terms.paces.iter().all(|(_, pace)| *pace > 0.0);
            let watches = it.terms.help.is_none_or(|help| match help.watches {
                Watched::Jobs(post) => self.has(post),
                Watched::Standing(d) => within(d, self.drop_offs.len()),
            });
            need(fits && watches && paces && it.pace > 0.0, &|| {
                format!("worker {} stands nowhere or stands still", it.name)
            });
        }
        for &post in &self.for_two {
            let fits = self.has(post) && crew::can_take_two(self, post);
            need(fits, &|| {
                "work for two is where no two can stand, or where ware goes from hand to hand"
                    .into()
            });
        }
        for it in &self.troubles {
            let fits = it.stops.iter().all(|what| match *what {
                Stands::Belt(b) => within(b, self.belts.len()),
                Stands::StackBelt(b) => within(b, self.stack_belts.len()),
                Stands::Accumulator(a) => within(a, self.accumulators.len()),
                Stands::Lane(l) => within(l, self.lanes.len()),
                Stands::Machine(m) => within(m, self.machines.len()),
            });
            need(fits && !it.stops.is_empty(), &|| {
                format!("trouble {} stops nothing", it.name)
            });
            need(it.by.iter().all(|&post| self.has(post)), &|| {
                format!("trouble {} is cleared by nobody", it.name)
            });
        }
        for it in &self.duties {
            need(it.by.iter().all(|&post| self.has(post)), &|| {
                format!("other work {} is nobody's", it.name)
            });
            let fits = match it.when {
                DutyWhen::DetergentLow(m) => {
                    let machine = self.machines.get(usize::from(m));
                    machine.is_some_and(|m| m.dosing.is_some())
                }
                DutyWhen::Change(r) => within(r, self.receivers.len()),
                DutyWhen::BinFull(s) => within(s, self.waste_stores.len()),
                _ => true,
            };
            need(fits, &|| {
                format!("other work {} is about nothing that is there", it.name)
            });
        }
        faults
    }

    fn has(&self, post: Post) -> bool {
        match post {
            Post::Scrapping(i) => usize::from(i) < self.scrapping.len(),
            Post::Racking(i) => usize::from(i) < self.racking.len(),
            Post::Loading(i) => usize::from(i) < self.machines.len(),
            Post::Unloading(i) => usize::from(i) < self.clean_ends.len(),
            Post::Running => self.delivery.is_some(),
            Post::Duty(i) => usize::from(i) < self.duties.len(),
            Post::Clearing(i) => usize::from(i) < self.troubles.len(),
            Post::CartWash(i) => self
                .carts
                .get(usize::from(i))
                .is_some_and(|c| c.wash.is_some()),
        }
    }

    fn is_flight(&self, machine: u8) -> bool {
        let machine = self.machines.get(usize::from(machine));
        machine.is_some_and(|m| matches!(m.kind, MachineKind::Flight { .. }))
    }

    /// How many elements there are.
    fn elements(&self) -> usize {
        7 + self.drop_offs.len()
            + self.belts.len()
            + self.accumulators.len()
            + self.stack_belts.len()
            + self.carts.len()
            + self.scrapping.len()
            + self.racking.len()
            + self.lanes.len()
            + self.machines.len()
            + self.clean_ends.len()
    }
}
