//! The numbers of a line's places, actors and counts; made together with their names so that the two cannot differ.

use crate::line::{Line, MachineKind, Post};
use crate::watch::{
    ActorId, ActorInfo, ActorKind, Catalogue, CountId, CountInfo, Counted, Job, PlaceId, PlaceInfo,
    PostId, PostInfo, Role, Unit,
};

/// What a pile between two passes is called, before the class.
pub(crate) const TO_SORT: &str = "to_sort";

/// Numbers of all places, actors and counts of a line. One entry an element, in line order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Numbers {
    pub(crate) seated: PlaceId,
    pub(crate) backlog: PlaceId,
    /// Only where a class is waited for.
    pub(crate) waiting_for_ware: PlaceId,
    pub(crate) queue: Vec<PlaceId>,
    pub(crate) standing: Vec<PlaceId>,
    pub(crate) overflow: Vec<PlaceId>,
    pub(crate) belt: Vec<PlaceId>,
    pub(crate) accumulator: Vec<PlaceId>,
    pub(crate) table: Vec<PlaceId>,
    pub(crate) gathered: Vec<PlaceId>,
    pub(crate) carts: Vec<PlaceId>,
    pub(crate) to_wash: Vec<PlaceId>,
    pub(crate) carts_free: Vec<PlaceId>,
    pub(crate) receiver: Vec<PlaceId>,
    pub(crate) waste: Vec<PlaceId>,
    pub(crate) stacks: Vec<PlaceId>,
    pub(crate) pile: Vec<Vec<PlaceId>>,
    pub(crate) open: Vec<Vec<PlaceId>>,
    pub(crate) empty: Vec<PlaceId>,
    pub(crate) lane: Vec<PlaceId>,
    pub(crate) gate: Vec<PlaceId>,
    pub(crate) washing: Vec<PlaceId>,
    pub(crate) clean: Vec<PlaceId>,
    pub(crate) back: PlaceId,
    pub(crate) cart: PlaceId,
    pub(crate) stock: Vec<PlaceId>,
    pub(crate) duty: Vec<PlaceId>,
    pub(crate) trouble: Vec<PlaceId>,
    pub(crate) machine: Vec<ActorId>,
    pub(crate) belt_actor: Vec<ActorId>,
    pub(crate) accumulator_actor: Vec<ActorId>,
    pub(crate) stacks_actor: Vec<ActorId>,
    pub(crate) count: Counts,
    /// How many places there are.
    pub(crate) places: u16,
}

/// Numbers of the running counts.
#[derive(Clone, Debug, Default)]
pub(crate) struct Counts {
    pub(crate) served: CountId,
    pub(crate) came: CountId,
    pub(crate) dropped: CountId,
    pub(crate) cleared: CountId,
    pub(crate) clean: CountId,
    pub(crate) pieces_clean: CountId,
    pub(crate) left_aside: CountId,
    pub(crate) late: CountId,
    pub(crate) waste: CountId,
    pub(crate) breaks_missed: CountId,
    pub(crate) duties: CountId,
    pub(crate) seat_waits: CountId,
    pub(crate) seat_wait_s: CountId,
    pub(crate) disposables: Vec<CountId>,
    pub(crate) run_out: Vec<CountId>,
    pub(crate) racks_in: Vec<CountId>,
    pub(crate) racks_out: Vec<CountId>,
    pub(crate) pieces_in: Vec<CountId>,
    pub(crate) part_filled: Vec<CountId>,
    pub(crate) starts: Vec<CountId>,
    pub(crate) troubles: Vec<CountId>,
    pub(crate) pieces_out: Vec<CountId>,
    pub(crate) fills: Vec<CountId>,
    pub(crate) rinse_waits: Vec<CountId>,
    pub(crate) warned: Vec<CountId>,
    pub(crate) without: Vec<CountId>,
    pub(crate) carts_in: Vec<CountId>,
    pub(crate) aids: Vec<CountId>,
    pub(crate) carts_washed: Vec<CountId>,
    /// By class.
    pub(crate) class_clean: Vec<CountId>,
    pub(crate) rewashed: Vec<CountId>,
    pub(crate) first_pass: Vec<CountId>,
    pub(crate) second_pass: Vec<CountId>,
    pub(crate) broken: Vec<CountId>,
}

impl Default for PlaceId {
    fn default() -> PlaceId {
        PlaceId(u16::MAX)
    }
}

impl Default for ActorId {
    fn default() -> ActorId {
        ActorId(u16::MAX)
    }
}

impl Default for CountId {
    fn default() -> CountId {
        CountId(u16::MAX)
    }
}

impl Line {
    /// The place of each pile in the catalogue: by racking table, then in the order of its piles.
    pub fn pile_places(&self) -> Vec<Vec<PlaceId>> {
        number(self).0.pile
    }

    /// All places, actors and counts of this line, by number.
    pub fn catalogue(&self) -> Catalogue {
        number(self).1
    }

    /// The number of a post in the catalogue.
    pub fn post_id(&self, post: Post) -> PostId {
        post_no(self, post)
    }
}

struct Surveyor {
    catalogue: Catalogue,
}

impl Surveyor {
    fn place(&mut self, name: String, unit: Unit, role: Role, room: Option<u32>) -> PlaceId {
        self.catalogue.places.push(PlaceInfo {
            name,
            unit,
            role,
            room,
            at_start: 0,
            class: None,
        });
        PlaceId((self.catalogue.places.len() - 1) as u16)
    }

    fn place_of_class(
        &mut self,
        name: String,
        role: Role,
        room: Option<u32>,
        at_start: u32,
        class: &str,
    ) -> PlaceId {
        let class = Some(class.to_owned());
        self.catalogue.places.push(PlaceInfo {
            name,
            unit: Unit::Pieces,
            role,
            room,
            at_start,
            class,
        });
        PlaceId((self.catalogue.places.len() - 1) as u16)
    }

    fn actor(&mut self, name: &str, kind: ActorKind) -> ActorId {
        self.catalogue.actors.push(ActorInfo {
            name: name.to_owned(),
            kind,
        });
        ActorId((self.catalogue.actors.len() - 1) as u16)
    }

    fn count(&mut self, name: &str, counted: Counted, of: Option<&str>) -> CountId {
        self.catalogue.counts.push(CountInfo {
            name: name.to_owned(),
            counted,
            of: of.map(str::to_owned),
        });
        CountId((self.catalogue.counts.len() - 1) as u16)
    }
}

/// Numbers and names of everything on the line.
pub(crate) fn number(line: &Line) -> (Numbers, Catalogue) {
    let mut s = Surveyor {
        catalogue: Catalogue::default(),
    };
    let mut n = Numbers {
        seated: s.place("seated".into(), Unit::People, Role::Seated, None),
        ..Numbers::default()
    };
    let waits = |class: &crate::line::Class| matches!(class.short, crate::line::Short::Waits(_));
    if line.classes.iter().any(waits) {
        n.waiting_for_ware = s.place(
            "waiting_for_ware".into(),
            Unit::People,
            Role::WaitingForWare,
            None,
        );
    }
    for it in &line.drop_offs {
        n.queue.push(s.place(
            format!("drop_off.{}.queue", it.name),
            Unit::People,
            Role::Queue,
            None,
        ));
        n.standing.push(s.place(
            format!("drop_off.{}.standing", it.name),
            Unit::People,
            Role::Standing,
            None,
        ));
        n.overflow.push(s.place(
            format!("overflow.{}", it.name),
            Unit::Trays,
            Role::Overflow,
            None,
        ));
    }
    n.backlog = s.place("backlog".into(), Unit::Trays, Role::Backlog, None);
    for it in &line.belts {
        let room = it.most();
        n.belt.push(s.place(
            format!("belt.{}", it.name),
            Unit::Trays,
            Role::Trays,
            Some(room),
        ));
    }
    for it in &line.accumulators {
        n.accumulator.push(s.place(
            format!("accumulator.{}", it.name),
            Unit::Trays,
            Role::Trays,
            Some(it.places()),
        ));
    }
    for it in &line.stack_belts {
        n.stacks.push(s.place(
            format!("stacks.{}", it.belt.name),
            Unit::Stacks,
            Role::Stacks,
            Some(it.belt.most()),
        ));
    }
    for it in &line.tables {
        n.table.push(s.place(
            format!("table.{}", it.name),
            Unit::Trays,
            Role::Trays,
            it.room,
        ));
    }
    for it in &line.carts {
        let mut carts = |what: &str, unit: Unit, role: Role, room: Option<u32>| {
            s.place(format!("{what}.{}", it.name), unit, role, room)
        };
        n.gathered
            .push(carts("gathered", Unit::Trays, Role::Gathered, None));
        n.carts.push(carts(
            "carts",
            Unit::Carts,
            Role::CartsWaiting,
            Some(it.count),
        ));
        n.to_wash.push(carts(
            "carts_to_wash",
            Unit::Carts,
            Role::CartsToWash,
            Some(it.count),
        ));
        let free = carts("carts_ready", Unit::Carts, Role::CartsReady, Some(it.count));
        s.catalogue.places[usize::from(free.0)].at_start = it.count;
        n.carts_free.push(free);
    }
    for (r, it) in line.receivers.iter().enumerate() {
        let room = it.room.or_else(|| line.rack_room(r as u8));
        let name = format!("receiver.{}", it.name);
        n.receiver
            .push(s.place(name, Unit::Pieces, Role::Receiver, room));
    }
    for it in &line.waste_stores {
        let name = format!("waste.{}", it.name);
        n.waste.push(s.place(name, Unit::Grams, Role::Waste, None));
    }
    for (r, it) in (0..).zip(&line.racking) {
        let piles = it.piles.iter().map(|pile| {
            let class = &line.classes[usize::from(pile.class.0)].name;
            let (kind, role) = match pile.held_back.is_empty() {
                true => ("pile", Role::Pile),
                false => ("held_back", Role::HeldBack),
            };
            let between = crate::line::second_pass::is_sorted_at(line, pile.class.0, r);
            let kind = if between { TO_SORT } else { kind };
            s.place_of_class(format!("{kind}.{class}"), role, pile.room, 0, class)
        });
        n.pile.push(piles.collect());
        let table = (format!("racks_open.{}", it.name), it.open_racks);
        let above = it.levels.iter().map(|level| {
            let name = format!("racks_open.{}.{}", it.name, level.name);
            (name, level.open_racks)
        });
        let levels = std::iter::once(table).chain(above);
        let open =
            levels.map(|(name, room)| s.place(name, Unit::Racks, Role::OpenRacks, Some(room)));
        n.open.push(open.collect());
    }
    for it in &line.rack_kinds {
        let id = s.place(
            format!("racks_empty.{}", it.name),
            Unit::Racks,
            Role::EmptyRacks,
            Some(it.count),
        );
        s.catalogue.places[usize::from(id.0)].at_start = it.count;
        n.empty.push(id);
    }
    for it in &line.lanes {
        n.lane.push(s.place(
            format!("lane.{}", it.name),
            Unit::Racks,
            Role::FilledRacks,
            it.room(),
        ));
    }
    for it in &line.machines {
        let unit = match it.kind {
            MachineKind::Flight { .. } => Unit::Pieces,
            _ => Unit::Racks,
        };
        n.washing
            .push(s.place(format!("machine.{}", it.name), unit, Role::Washing, None));
    }
    for it in &line.clean_ends {
        let (unit, room) = match it.pieces {
            Some(pieces) => (Unit::Pieces, Some(pieces)),
            None => (Unit::Racks, it.places),
        };
        n.clean.push(s.place(
            format!("clean_end.{}", it.name),
            unit,
            Role::CleanRacks,
            room,
        ));
    }
    n.back = s.place("racks_back".into(), Unit::Racks, Role::RacksBack, None);
    if let Some(it) = &line.delivery {
        // A rack that goes along with its ware goes whole, if need be onto an empty cart that it overfills.
        let along = line
            .classes
            .iter()
            .filter(|class| class.stays_in_rack)
            .flat_map(|class| {
                let second = class.second_pass.iter().flat_map(|second| &second.fits);
                class.fits.iter().chain(second)
            })
            .map(|&(_, size)| u32::from(size))
            .max();
        let room = it
            .carts
            .saturating_mul(it.cart_pieces.max(along.unwrap_or(0)));
        n.cart = s.place(
            format!("cart.{}", it.name),
            Unit::Pieces,
            Role::Cart,
            Some(room),
        );
    }
    for class in &line.classes {
        let id = class.par.map(|par| {
            s.place_of_class(
                format!("stock.{}", class.name),
                Role::Stock,
                None,
                par,
                &class.name,
            )
        });
        n.stock.push(id.unwrap_or_default());
    }
    for it in &line.duties {
        n.duty
            .push(s.place(format!("duty.{}", it.name), Unit::Jobs, Role::Duty, None));
    }

    for it in &line.gates {
        let name = format!("gate.{}", it.name);
        n.gate.push(s.place(name, Unit::Jobs, Role::Gate, Some(1)));
    }

    for it in &line.troubles {
        n.trouble.push(s.place(
            format!("trouble.{}", it.name),
            Unit::Jobs,
            Role::Trouble,
            Some(1),
        ));
    }

    for it in &line.crew {
        s.actor(&it.name, ActorKind::Worker);
    }
    n.machine = line
        .machines
        .iter()
        .map(|it| s.actor(&it.name, ActorKind::Machine))
        .collect();
    n.belt_actor = line
        .belts
        .iter()
        .map(|it| s.actor(&it.name, ActorKind::Belt))
        .collect();
    n.accumulator_actor = line
        .accumulators
        .iter()
        .map(|it| s.actor(&it.name, ActorKind::Accumulator))
        .collect();

    n.stacks_actor = line
        .stack_belts
        .iter()
        .map(|it| s.actor(&it.belt.name, ActorKind::StackBelt))
        .collect();

    n.count = Counts {
        served: s.count("covers served", Counted::Served, None),
        came: s.count("diners at the drop-off", Counted::CameToDropOff, None),
        dropped: s.count("trays dropped off", Counted::DroppedOff, None),
        cleared: s.count("trays cleared", Counted::Cleared, None),
        clean: s.count("trays wholly clean", Counted::Clean, None),
        pieces_clean: s.count("pieces clean", Counted::PiecesClean, None),
        left_aside: s.count("trays left aside", Counted::LeftAside, None),
        late: s.count("late trays", Counted::Late, None),
        waste: s.count("waste, grams", Counted::WasteGrams, None),
        breaks_missed: s.count("breaks missed", Counted::BreaksMissed, None),
        duties: s.count("other work done", Counted::DutiesDone, None),
        seat_waits: s.count("diners who waited for a seat", Counted::SeatWaits, None),
        seat_wait_s: s.count(
            "seconds of waiting for a seat",
            Counted::SeatWaitSeconds,
            None,
        ),
        ..Counts::default()
    };
    let count = &mut n.count;
    let mut add = |list: &mut Vec<CountId>, name: &str, counted: Counted, of: &str| {
        list.push(s.count(name, counted, Some(of)));
    };
    for class in &line.classes {
        let list = &mut count.run_out;
        add(list, "run-outs", Counted::RunOut, &class.name);
        let list = &mut count.disposables;
        let name = "disposable pieces given";
        add(list, name, Counted::Disposables, &class.name);
    }
    for it in &line.machines {
        let listed: [(&mut Vec<CountId>, &str, Counted); 10] = [
            (&mut count.racks_in, "racks in", Counted::RacksIn),
            (&mut count.racks_out, "racks out", Counted::RacksOut),
            (&mut count.pieces_in, "pieces in", Counted::PiecesIn),
            (
                &mut count.part_filled,
                "racks part-filled",
                Counted::PartFilled,
            ),
            (&mut count.starts, "starts", Counted::Starts),
            (&mut count.pieces_out, "pieces out", Counted::PiecesOut),
            (&mut count.fills, "tank fillings", Counted::TankFills),
            (
                &mut count.rinse_waits,
                "seconds waited for hot water",
                Counted::HotWaterSeconds,
            ),
            (&mut count.warned, "detergent low", Counted::DetergentLow),
            (
                &mut count.without,
                "washed without full detergent",
                Counted::WithoutDetergent,
            ),
        ];
        for (list, name, counted) in listed {
            add(list, name, counted, &it.name);
        }
    }
    for it in &line.carts {
        let list = &mut count.carts_in;
        add(list, "carts brought", Counted::CartsIn, &it.name);
        let list = &mut count.carts_washed;
        add(list, "carts washed", Counted::CartsWashed, &it.name);
    }
    for it in &line.aids {
        let list = &mut count.aids;
        add(list, "milliseconds it ran", Counted::AidMs, &it.name);
    }
    for it in &line.troubles {
        let list = &mut count.troubles;
        add(list, "times of trouble", Counted::Troubles, &it.name);
    }
    for class in &line.classes {
        let list = &mut count.class_clean;
        add(
            list,
            "pieces clean of a class",
            Counted::ClassClean,
            &class.name,
        );
        let list = &mut count.rewashed;
        add(list, "pieces washed again", Counted::Rewashed, &class.name);
        let list = &mut count.broken;
        add(list, "pieces broken", Counted::Broken, &class.name);
        let list = &mut count.first_pass;
        add(
            list,
            "racks in, first pass",
            Counted::FirstPass,
            &class.name,
        );
        let list = &mut count.second_pass;
        add(
            list,
            "racks in, second pass",
            Counted::SecondPass,
            &class.name,
        );
    }
    s.catalogue.posts = posts(line);
    (n, s.catalogue)
}

/// All posts of a line, in the order of [`post_no`].
fn posts(line: &Line) -> Vec<PostInfo> {
    let limited = |places: u32| Some(places);
    let scrapping = line.scrapping.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::BreakingDown,
        clean_side: false,
        places: limited(it.places),
    });
    let racking = line.racking.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::Racking,
        clean_side: false,
        places: limited(it.places),
    });
    let loading = line.machines.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::Loading,
        clean_side: false,
        places: limited(it.loading.as_ref().map_or(0, |loading| loading.places)),
    });
    let unloading = line.clean_ends.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::Unloading,
        clean_side: true,
        places: limited(it.workers),
    });
    let running = PostInfo {
        name: line
            .delivery
            .as_ref()
            .map_or_else(String::new, |it| it.name.clone()),
        job: Job::Running,
        clean_side: true,
        places: None,
    };
    let duties = line.duties.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::OtherWork,
        clean_side: it.clean_side,
        places: None,
    });
    let carts = line.carts.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::CartWash,
        clean_side: false,
        places: it.wash.as_ref().map(|wash| wash.workers),
    });
    let clearing = line.troubles.iter().map(|it| PostInfo {
        name: it.name.clone(),
        job: Job::Clearing,
        clean_side: false,
        places: Some(1),
    });
    scrapping
        .chain(racking)
        .chain(loading)
        .chain(unloading)
        .chain([running])
        .chain(duties)
        .chain(carts)
        .chain(clearing)
        .collect()
}

/// The number of a post in the catalogue.
pub(crate) fn post_no(line: &Line, post: Post) -> PostId {
    let racking = line.scrapping.len();
    let loading = racking + line.racking.len();
    let unloading = loading + line.machines.len();
    let running = unloading + line.clean_ends.len();
    let no = match post {
        Post::Scrapping(i) => usize::from(i),
        Post::Racking(i) => racking + usize::from(i),
        Post::Loading(i) => loading + usize::from(i),
        Post::Unloading(i) => unloading + usize::from(i),
        Post::Running => running,
        Post::Duty(i) => running + 1 + usize::from(i),
        Post::CartWash(i) => running + 1 + line.duties.len() + usize::from(i),
        Post::Clearing(i) => running + 1 + line.duties.len() + line.carts.len() + usize::from(i),
    };
    PostId(no as u16)
}
