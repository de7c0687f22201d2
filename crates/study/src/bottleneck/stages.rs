//! The stages of a line: what works on the ware, one behind the other.

use scullery_engine::line::{
    DutyWhen, Line, MachineKind, PiecesTo, Post, RacksTo, ReceiverGoes, TraysFrom, TraysTo,
};
use scullery_engine::time::US_PER_MIN;
use scullery_engine::watch::{Catalogue, Role};

use super::held_back::{is_held_back, may_wait};
use crate::words::{own_name, spoken};

/// What a stage is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Diners putting down at this drop-off.
    DropOff(usize),
    /// People at this post.
    Post(Post),
    /// The machine with this number.
    Machine(usize),
    /// The disposer with this number among the stores of waste.
    Disposer(usize),
}

/// One stage.
#[derive(Clone, Debug, PartialEq)]
pub struct Stage {
    /// What it is called, in plain words.
    pub name: String,
    /// What it is.
    pub kind: Kind,
    /// Places in which its work waits, by number in the catalogue, each with how much makes a job.
    pub waits_at: Vec<(usize, u32)>,
    /// Places it fills, or changes, with their room.
    pub fills: Vec<(usize, u32)>,
    /// Positions of a drop-off; nought elsewhere.
    pub positions: u32,
    /// For a rack conveyor the microseconds until the next rack can go in behind one.
    pub intake_us: Option<u64>,
    /// Stages right behind it, by number.
    pub behind: Vec<usize>,
    /// Whether all it works on, but for what is washed again, is held back and waits by plan.
    pub may_wait: bool,
    /// Stages that can hold it up: those behind it, and whoever changes or empties what it fills.
    pub holds: Vec<usize>,
}

/// The stages of a line in the order of its flow, joined.
pub fn stages(line: &Line, catalogue: &Catalogue) -> Vec<Stage> {
    let mut it = Survey {
        line,
        catalogue,
        all: Vec::new(),
    };
    it.drop_offs();
    it.posts_and_machines();
    it.changes();
    it.join();
    it.all
}

pub(super) struct Survey<'a> {
    pub(super) line: &'a Line,
    catalogue: &'a Catalogue,
    pub(super) all: Vec<Stage>,
}

impl Survey<'_> {
    /// The place with this role that bears the name.
    pub(super) fn place(&self, role: Role, name: &str) -> Option<usize> {
        let mut places = self.catalogue.places.iter();
        places.position(|p| p.role == role && own_name(p) == name)
    }

    pub(super) fn limited(&self, place: Option<usize>) -> Vec<(usize, u32)> {
        let room = |p: usize| Some((p, self.catalogue.places[p].room.filter(|room| *room > 0)?));
        place.and_then(room).into_iter().collect()
    }

    pub(super) fn add(
        &mut self,
        name: String,
        kind: Kind,
        waits_at: Vec<Option<usize>>,
        fills: Vec<(usize, u32)>,
    ) {
        self.all.push(Stage {
            name: spoken(&name),
            kind,
            waits_at: waits_at.into_iter().flatten().map(|p| (p, 1)).collect(),
            fills,
            positions: 0,
            intake_us: None,
            behind: Vec::new(),
            may_wait: false,
            holds: Vec::new(),
        });
    }

    fn drop_offs(&mut self) {
        for (i, it) in self.line.drop_offs.iter().enumerate() {
            let waits = self.place(Role::Standing, &it.name);
            let to = match it.to {
                TraysTo::Belt(b) => self.place(Role::Trays, &self.line.belts[usize::from(b)].name),
                TraysTo::Table(t) => {
                    self.place(Role::Trays, &self.line.tables[usize::from(t)].name)
                }
                TraysTo::Accumulator(a) => {
                    self.place(Role::Trays, &self.line.accumulators[usize::from(a)].name)
                }
            };
            let mut fills = self.limited(to);
            for twin in self
                .line
                .twins
                .iter()
                .filter(|twin| it.to == TraysTo::Belt(twin.belt))
            {
                let name = &self.line.belts[usize::from(twin.beside)].name;
                fills.extend(self.limited(self.place(Role::Trays, name)));
            }
            self.add(
                format!("drop-off {}", it.name),
                Kind::DropOff(i),
                vec![waits],
                fills,
            );
            if let Some(stage) = self.all.last_mut() {
                stage.positions = it.positions_mm.len() as u32;
            }
        }
    }

    fn posts_and_machines(&mut self) {
        let line = self.line;
        for (i, it) in line.scrapping.iter().enumerate() {
            let from = it.from.iter().map(|from| match *from {
                TraysFrom::BeltEnd(b) | TraysFrom::BeltAt { belt: b, .. } => {
                    self.place(Role::Trays, &line.belts[usize::from(b)].name)
                }
                TraysFrom::Table(t) => self.place(Role::Trays, &line.tables[usize::from(t)].name),
                TraysFrom::Accumulator { accumulator: a, .. } => {
                    self.place(Role::Trays, &line.accumulators[usize::from(a)].name)
                }
                TraysFrom::Overflow(_) | TraysFrom::Carts(_) => None,
            });
            let from = from.collect();
            self.add(
                format!("scrapping {}", it.name),
                Kind::Post(Post::Scrapping(i as u8)),
                from,
                Vec::new(),
            );
        }
        let places = line.pile_places();
        for (i, it) in line.racking.iter().enumerate() {
            if it.places == 0 || it.piles.is_empty() {
                continue;
            }
            self.add(
                format!("racking {}", it.name),
                Kind::Post(Post::Racking(i as u8)),
                Vec::new(),
                Vec::new(),
            );
            // Ware that is held back waits by plan, and lacks no hands until its place is full.
            let piles = it.piles.iter().zip(&places[i]);
            let awaited = piles.filter_map(|(pile, place)| {
                let job = match is_held_back(line, i as u8, pile.class) {
                    true => pile.room?,
                    false => 1,
                };
                Some((usize::from(place.0), job.max(1)))
            });
            if let Some(stage) = self.all.last_mut() {
                stage.waits_at = awaited.collect();
                stage.may_wait = may_wait(line, i as u8);
            }
        }
        for (i, it) in line.machines.iter().enumerate() {
            let lane = it.from.and_then(|from| {
                self.place(Role::FilledRacks, &line.lanes[usize::from(from)].name)
            });
            if it.loading.is_some() {
                self.add(
                    format!("loading {}", it.name),
                    Kind::Post(Post::Loading(i as u8)),
                    vec![lane],
                    Vec::new(),
                );
            }
            self.add(
                format!("machine {}", it.name),
                Kind::Machine(i),
                vec![lane],
                Vec::new(),
            );
            // How long its entrance is taken by what went in last (loose ware: as if it were a rack).
            let intake = match it.kind {
                MachineKind::Conveyor {
                    pitch_mm,
                    speed_mm_min,
                    ..
                } => Some((pitch_mm, speed_mm_min)),
                MachineKind::Flight {
                    rack_mm,
                    speed_mm_min,
                    ..
                } => Some((rack_mm, speed_mm_min)),
                MachineKind::Door { .. } => None,
            };
            if let (Some((mm, speed)), Some(stage)) = (intake, self.all.last_mut()) {
                stage.intake_us = Some(u64::from(mm) * US_PER_MIN / u64::from(speed.max(1)));
            }
        }
        for (i, it) in line.clean_ends.iter().enumerate() {
            if it.by_hand {
                let waits = self.place(Role::CleanRacks, &it.name);
                self.add(
                    format!("unloading {}", it.name),
                    Kind::Post(Post::Unloading(i as u8)),
                    vec![waits],
                    Vec::new(),
                );
            }
        }
        if let Some(it) = &line.delivery {
            let mut places = self.catalogue.places.iter();
            let cart = places.position(|p| p.role == Role::Cart);
            let words = "taking ware to the servery";
            self.add(
                words.into(),
                Kind::Post(Post::Running),
                vec![cart],
                Vec::new(),
            );
            // The runner goes with a full cart.
            if let Some(job) = self
                .all
                .last_mut()
                .and_then(|stage| stage.waits_at.first_mut())
            {
                job.1 = it.cart_pieces.max(1);
            }
        }
    }

    pub(super) fn number(&self, kind: Kind) -> Option<usize> {
        self.all.iter().position(|stage| stage.kind == kind)
    }

    /// The stage that takes racks from a lane.
    fn after_lane(&self, lane: u8) -> Vec<usize> {
        let lane = self.line.last_lane(lane);
        let machines = self
            .line
            .machines
            .iter()
            .enumerate()
            .filter(|(_, m)| m.from == Some(lane));
        let first = |i: usize| {
            self.number(Kind::Post(Post::Loading(i as u8)))
                .or_else(|| self.number(Kind::Machine(i)))
        };
        machines.filter_map(|(i, _)| first(i)).collect()
    }

    /// The stage that takes the racks of a class which are filled at a table.
    fn after_racks(&self, racking: u8, class: usize) -> Vec<usize> {
        match self.line.racking[usize::from(racking)].to_of(class as u8) {
            RacksTo::Lane(lane) => self.after_lane(lane),
            RacksTo::Machine(machine) => {
                let stage = self.number(Kind::Machine(usize::from(machine)));
                stage.into_iter().collect()
            }
            RacksTo::Leave => Vec::new(),
        }
    }

    fn join(&mut self) {
        for number in 0..self.all.len() {
            let mut behind = match self.all[number].kind {
                Kind::DropOff(i) => {
                    let to = self.line.drop_offs[i].to;
                    let twins = self.line.twins.iter();
                    let beside = twins.filter(|twin| to == TraysTo::Belt(twin.belt));
                    let beside = beside.flat_map(|twin| self.takers(TraysTo::Belt(twin.beside)));
                    self.takers(to).into_iter().chain(beside).collect()
                }
                Kind::Post(Post::Scrapping(i)) => {
                    let post = &self.line.scrapping[usize::from(i)];
                    let on = post.passes_on.as_ref();
                    let next = on.map(|on| self.takers(TraysTo::Table(on.to)));
                    let routes = post.routes.iter().enumerate();
                    routes
                        .flat_map(|(class, route)| self.after_pieces(*route, class))
                        .chain(next.into_iter().flatten())
                        .collect()
                }
                Kind::Post(Post::Racking(i)) => {
                    let piles = self.line.racking[usize::from(i)].piles.iter();
                    let classes = piles.map(|pile| usize::from(pile.class.0));
                    classes
                        .flat_map(|class| self.after_racks(i, class))
                        .collect()
                }
                Kind::Post(Post::Loading(i)) => self
                    .number(Kind::Machine(usize::from(i)))
                    .into_iter()
                    .collect(),
                Kind::Machine(i) => match self.line.machines[i].to {
                    Some(own) => {
                        // Some classes are unloaded elsewhere.
                        let others = self.line.classes.iter().filter_map(|it| it.clean_end);
                        let ends = others.chain([own]).map(Post::Unloading);
                        ends.filter_map(|post| self.number(Kind::Post(post)))
                            .collect()
                    }
                    None => Vec::new(),
                },
                Kind::Post(Post::Unloading(_)) => {
                    self.number(Kind::Post(Post::Running)).into_iter().collect()
                }
                Kind::Post(Post::Duty(d)) => match self.line.duties[usize::from(d)].when {
                    DutyWhen::Change(r) => self.after_receiver(r),
                    _ => Vec::new(),
                },
                Kind::Post(_) | Kind::Disposer(_) => Vec::new(),
            };
            behind.sort_unstable();
            behind.dedup();
            let filled = self.filled(self.all[number].kind);
            let changed = filled.into_iter().flat_map(|it| self.makes_room(it));
            let back = self.racks_back(self.all[number].kind);
            let holds = behind.iter().copied().chain(changed).chain(back);
            let mut holds: Vec<usize> = holds.collect();
            holds.sort_unstable();
            holds.dedup();
            self.all[number].behind = behind;
            self.all[number].holds = holds;
        }
    }

    /// Where pieces of a class come next on this way.
    fn after_pieces(&self, to: PiecesTo, class: usize) -> Vec<usize> {
        match to {
            PiecesTo::Racks(r) => self.after_racks(r, class),
            PiecesTo::Pile(_) | PiecesTo::Stacks(_) => {
                let r = self.line.table_of(to).unwrap_or_default();
                match self.number(Kind::Post(Post::Racking(r))) {
                    Some(stage) => vec![stage],
                    None => self.after_racks(r, class),
                }
            }
            PiecesTo::Receiver(r) => self.after_receiver(r),
            PiecesTo::Leave => Vec::new(),
        }
    }

    /// Where what is in a receiver comes next.
    pub(super) fn after_receiver(&self, r: u8) -> Vec<usize> {
        match self.line.receivers[usize::from(r)].goes {
            ReceiverGoes::StraightOn(PiecesTo::Receiver(_))
            | ReceiverGoes::Changed(PiecesTo::Receiver(_)) => Vec::new(),
            ReceiverGoes::StraightOn(to) | ReceiverGoes::Changed(to) => {
                let classes = self.line.classes_into(r).into_iter();
                classes
                    .flat_map(|class| self.after_pieces(to, class))
                    .collect()
            }
            ReceiverGoes::AsRack(lane) => self.after_lane(lane),
        }
    }

    /// The scrapping posts that take from where trays are put down.
    fn takers(&self, to: TraysTo) -> Vec<usize> {
        let takes = |from: &TraysFrom| match (*from, to) {
            (TraysFrom::BeltEnd(b) | TraysFrom::BeltAt { belt: b, .. }, TraysTo::Belt(to)) => {
                b == to
            }
            (TraysFrom::Table(t), TraysTo::Table(to)) => t == to,
            (TraysFrom::Accumulator { accumulator: a, .. }, TraysTo::Accumulator(to)) => a == to,
            _ => false,
        };
        let posts = self
            .line
            .scrapping
            .iter()
            .enumerate()
            .filter(|(_, post)| post.from.iter().any(takes));
        posts
            .filter_map(|(i, _)| self.number(Kind::Post(Post::Scrapping(i as u8))))
            .collect()
    }
}
