//! The line: what stands in the dish room and how it is joined together.
//!
//! A [`Line`] is a description; nothing in it changes during a run. Ware flows
//! drop-off → belt or table → scrapping → racking → lane → machine → clean end → carts → servery,
//! and a line may leave out what it does not have, or end early.

pub(crate) mod audit;
pub(crate) mod belt;
pub(crate) mod catalogue;
pub(crate) mod clean_end;
pub(crate) mod crew;
pub(crate) mod delivery;
pub(crate) mod drop_off;
pub(crate) mod duty;
pub mod floor;
pub(crate) mod gridlock;
pub(crate) mod lane;
pub(crate) mod ledger;
pub(crate) mod limits;
pub(crate) mod machine;
pub(crate) mod mover;
pub(crate) mod queue;
pub(crate) mod racking;
pub(crate) mod racks;
pub(crate) mod scrapping;
pub(crate) mod servery;
pub(crate) mod stops;
pub(crate) mod telling;

use crate::dist::Dist;
use crate::time::{SimTime, Span};

/// Number of a class of ware in [`Line::classes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClassId(pub u8);

/// Number of a rack kind in [`Line::rack_kinds`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RackKindId(pub u8);

/// Most classes of ware a line can have (pieces of a tray are kept in so many bytes).
pub const MOST_CLASSES: usize = 16;

/// A whole dish room. Built by the loader; [`Line::faults`] says what does not fit together.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Name, for messages.
    pub name: String,
    /// First instant of the run.
    pub starts: SimTime,
    /// Stated end; `None`: run until all is clean and the last shift is over.
    pub ends: Option<SimTime>,
    /// Classes of ware, in file order; at most [`MOST_CLASSES`].
    pub classes: Vec<Class>,
    /// Kinds of rack.
    pub rack_kinds: Vec<RackKind>,
    /// Drop-offs.
    pub drop_offs: Vec<DropOff>,
    /// Belts for soiled trays.
    pub belts: Vec<Belt>,
    /// Tables (or floor) where soiled trays wait.
    pub tables: Vec<Table>,
    /// Scrapping posts.
    pub scrapping: Vec<Scrapping>,
    /// Racking tables.
    pub racking: Vec<Racking>,
    /// Lanes for filled racks.
    pub lanes: Vec<Lane>,
    /// Machines.
    pub machines: Vec<Machine>,
    /// Clean ends.
    pub clean_ends: Vec<CleanEnd>,
    /// Carts and runner; `None`: clean ware is at the servery when it is unloaded.
    pub delivery: Option<Delivery>,
    /// The crew, in the order in which free workers are asked.
    pub crew: Vec<Worker>,
    /// Other work.
    pub duties: Vec<Duty>,
    /// Walking time between any two posts.
    pub walk: Span,
    /// Hand wash when going from a soiled to a clean post.
    pub hand_wash: Span,
}

/// A class of ware.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// Its name.
    pub name: String,
    /// Pieces owned, all at the servery at the start; `None`: stock is not followed.
    pub par: Option<u32>,
    /// Racks that take it, best first, with pieces per rack.
    pub fits: Vec<(RackKindId, u16)>,
    /// Air-drying time at the clean end.
    pub dry: Span,
    /// Seconds to unload one piece.
    pub unload_s: f64,
    /// Seconds to unload one rack, besides the pieces (or, if it stays in its rack, in all).
    pub unload_rack_s: f64,
    /// Goes out to the servery in its rack, which is back only when emptied there.
    pub stays_in_rack: bool,
}

/// A kind of rack: a finite pool.
#[derive(Clone, Debug, PartialEq)]
pub struct RackKind {
    /// Its name.
    pub name: String,
    /// How many there are.
    pub count: u32,
}

/// Where soiled trays go next.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TraysTo {
    /// Onto this belt.
    Belt(u8),
    /// Onto this table.
    Table(u8),
}

/// Where soiled trays arrive.
#[derive(Clone, Debug, PartialEq)]
pub struct DropOff {
    /// Its name.
    pub name: String,
    /// Load point of each position on the belt, in mm from the belt's start (ignored for a table); one entry a
    /// position. Positions are asked from the downstream end (largest load point first).
    pub positions_mm: Vec<u32>,
    /// Seconds to put a tray down.
    pub put_down_s: Dist,
    /// When it opens; diners who come earlier wait. `None`: open from the start.
    pub opens: Option<SimTime>,
    /// When it closes; later trays go on the late cart.
    pub closes: Closing,
    /// Where trays go.
    pub to: TraysTo,
}

/// When a drop-off closes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Closing {
    /// At this time; later trays go on the late cart.
    At(SimTime),
    /// When the last diner has dropped off.
    AfterLast,
    /// Not within the run (needs a stated end).
    Never,
}

/// A time at which something stops and a time at which it goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stop {
    /// When it stops.
    pub from: SimTime,
    /// When it goes on.
    pub to: SimTime,
    /// What becomes of the work in hand.
    pub then: AfterStop,
}

/// What becomes of the work in hand after a stop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AfterStop {
    /// It goes on where it stopped.
    Resume,
    /// The time inside starts anew for all inside.
    RunAgain,
}

/// A moving surface for soiled trays.
#[derive(Clone, Debug, PartialEq)]
pub struct Belt {
    /// Its name.
    pub name: String,
    /// Length, mm.
    pub length_mm: u32,
    /// Least distance between two trays, mm.
    pub spacing_mm: u32,
    /// Speed in mm a minute from each clock time on; the first holds from the start.
    pub speed: Vec<(SimTime, u32)>,
    /// What happens at its end.
    pub rule: EndRule,
    /// Stops by the clock (the work in hand always resumes).
    pub stops: Vec<Stop>,
}

/// What a belt does when a tray comes to its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EndRule {
    /// A limit switch: while a tray lies at the end the whole belt stands, gaps stay.
    StopsOnArrival,
    /// Trays queue against the end while the belt runs on under them.
    ClosesUp,
    /// Moves one section when its end is empty, something lies on it and a worker at the end is free.
    AdvancesOnDemand {
        /// Length of a section, mm.
        section_mm: u32,
    },
}

/// A place where soiled trays wait to be broken down.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// Trays it holds; `None`: as many as come.
    pub room: Option<u32>,
}

/// Where a scrapping post takes its trays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TraysFrom {
    /// The end of a belt.
    BeltEnd(u8),
    /// A point along a belt: the first tray that passes, or one standing within `reach_mm` upstream.
    BeltAt {
        /// Number of the belt.
        belt: u8,
        /// Where the worker stands, mm from the belt's start.
        at_mm: u32,
        /// How far upstream the worker reaches, mm.
        reach_mm: u32,
    },
    /// A table.
    Table(u8),
    /// The overflow and late carts of a drop-off, fetched when nothing else waits.
    Overflow(u8),
}

/// A post where trays are broken down, one worker a tray.
#[derive(Clone, Debug, PartialEq)]
pub struct Scrapping {
    /// Its name.
    pub name: String,
    /// Where trays come from, asked in this order.
    pub from: Vec<TraysFrom>,
    /// Workers who can stand here.
    pub places: u32,
    /// Seconds for each tray, whatever is on it.
    pub handling_s: f64,
    /// Seconds for each piece, by class (racking included where it is done with breakdown).
    pub piece_s: Vec<f64>,
    /// More seconds for a tray fetched from the overflow.
    pub fetch_s: f64,
    /// Where the pieces of each class go.
    pub routes: Vec<PiecesTo>,
}

/// Where the pieces of a class go after scrapping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PiecesTo {
    /// Straight into open racks of this racking table.
    Racks(u8),
    /// On this class's pile at this racking table, to be racked there as work of its own.
    Pile(u8),
    /// Off the line, as clean as they will get.
    Leave,
}

/// A table where racks stand open, with a post of its own where pieces are racked from piles.
#[derive(Clone, Debug, PartialEq)]
pub struct Racking {
    /// Its name.
    pub name: String,
    /// Racks that can stand open at once.
    pub open_racks: u32,
    /// A part-filled rack is sent when its first piece has waited so long; `None`: never.
    pub limit: Option<Span>,
    /// Where full racks go.
    pub to: RacksTo,
    /// Workers who can stand here for work of its own (0: no such post).
    pub places: u32,
    /// Most pieces in one grab.
    pub grab: u32,
    /// Piles, in the order in which ties are settled.
    pub piles: Vec<Pile>,
    /// Factor of mean 1 on each grab.
    pub variation: Dist,
}

/// A pile of one class waiting to be racked.
#[derive(Clone, Debug, PartialEq)]
pub struct Pile {
    /// Its class.
    pub class: ClassId,
    /// Room for so many pieces; `None`: as many as come.
    pub room: Option<u32>,
    /// Seconds to rack one piece.
    pub piece_s: f64,
    /// Held back until one of these holds; empty: not held back.
    pub held_back: Vec<Release>,
}

/// When a class that is held back may be washed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Release {
    /// From this clock time on.
    From(SimTime),
    /// While the lane the racks go to holds fewer than so many racks.
    LaneBelow(u32),
    /// When the drop-offs are closed and no other soiled ware waits upstream of the machine.
    RushOver,
}

/// Where filled racks go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RacksTo {
    /// Onto this lane.
    Lane(u8),
    /// Off the line, as clean as they will get; the racks are back at once.
    Leave,
}

/// A way that carries filled racks to a machine and holds them.
#[derive(Clone, Debug, PartialEq)]
pub struct Lane {
    /// Its name.
    pub name: String,
    /// How racks move along it.
    pub kind: LaneKind,
    /// Stops by the clock.
    pub stops: Vec<Stop>,
}

/// How racks move along a lane.
#[derive(Clone, Debug, PartialEq)]
pub enum LaneKind {
    /// Rollers, powered or inclined: racks run at a speed and close up at the end.
    Rollers {
        /// Length, mm.
        length_mm: u32,
        /// Length of a rack, mm.
        rack_mm: u32,
        /// Speed in mm a minute from each clock time on.
        speed: Vec<(SimTime, u32)>,
    },
    /// A shelf or table: racks are there at once.
    Shelf {
        /// Racks it holds; `None`: as many as come.
        room: Option<u32>,
    },
}

/// A dish machine fed by one lane.
#[derive(Clone, Debug, PartialEq)]
pub struct Machine {
    /// Its name.
    pub name: String,
    /// Door type or rack conveyor.
    pub kind: MachineKind,
    /// Number of the lane that feeds it.
    pub from: u8,
    /// Number of the clean end; `None`: racks leave the line and are back at once.
    pub to: Option<u8>,
    /// When it runs.
    pub control: Control,
    /// When it is switched on.
    pub on_at: SimTime,
    /// When it is switched off for good, if it is (work inside is finished first); `None`: not within the run.
    pub off_at: Option<SimTime>,
    /// From switching on to ready.
    pub heat_up: Span,
    /// Seconds from the start of a run to the first rack.
    pub start_s: Dist,
    /// Stops by the clock.
    pub stops: Vec<Stop>,
    /// A worker loads it; `None`: racks run in by themselves.
    pub loading: Option<Loading>,
}

/// Door type or rack conveyor.
#[derive(Clone, Debug, PartialEq)]
pub enum MachineKind {
    /// One batch at a time.
    Door {
        /// Most racks a batch.
        batch: u32,
        /// Seconds of a cycle.
        cycle_s: Dist,
    },
    /// A belt through a tunnel.
    Conveyor {
        /// Distance between two racks, mm.
        pitch_mm: u32,
        /// Length of the tunnel, mm.
        tunnel_mm: u32,
        /// Where the rinse zone begins and ends, mm from the tunnel's mouth.
        rinse_mm: (u32, u32),
        /// Conveyor speed, mm a minute.
        speed_mm_min: u32,
    },
}

/// When a machine runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Control {
    /// From the time it is ready until it is switched off.
    RunsThroughout,
    /// Starts when enough has gathered, stops when nothing is on the lane or inside.
    HoldAndRun {
        /// Starts when so many racks stand on the feeding lane ...
        racks: u32,
        /// ... or one has waited there so long ...
        longest_wait: Option<Span>,
        // ... or nothing more can come.
    },
}

/// Work at the load end.
#[derive(Clone, Debug, PartialEq)]
pub struct Loading {
    /// Seconds to load one rack (or, for a door machine, one batch).
    pub rack_s: f64,
    /// Factor of mean 1 on each.
    pub variation: Dist,
    /// Workers who can stand here.
    pub places: u32,
}

/// Where racks come out, dry and are unloaded.
#[derive(Clone, Debug, PartialEq)]
pub struct CleanEnd {
    /// Its name.
    pub name: String,
    /// Racks it holds; `None`: as many as come.
    pub places: Option<u32>,
    /// Unloaded by workers; `false`: a rack is empty the moment it is dry.
    pub by_hand: bool,
    /// Workers who can stand here.
    pub workers: u32,
    /// Factor of mean 1 on each rack's unloading.
    pub variation: Dist,
    /// How empty racks go back.
    pub back: Back,
}

/// How empty racks go back to the racking tables.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Back {
    /// Each by itself, after so long.
    After(Span),
    /// By hand, when so many have gathered or nothing more is to come, each trip lasting so long.
    Trips {
        /// Racks a trip.
        of: u32,
        /// How long it takes (nobody of the crew is needed).
        lasts: Span,
    },
}

/// Carts of clean ware and the runner who takes them to the servery.
#[derive(Clone, Debug, PartialEq)]
pub struct Delivery {
    /// Its name.
    pub name: String,
    /// Carts, the one being loaded included.
    pub carts: u32,
    /// Pieces a cart holds.
    pub cart_pieces: u32,
    /// There and back; the ware is at the servery half way.
    pub trip: Span,
    /// Factor of mean 1 on each trip.
    pub variation: Dist,
    /// Goes when the stock of a class at the servery is below this and the cart has some, by class.
    pub below: Vec<Option<u32>>,
}

/// A post, by what is done there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Post {
    /// Breaking down trays at this scrapping post.
    Scrapping(u8),
    /// Racking from piles at this table.
    Racking(u8),
    /// Loading this machine.
    Loading(u8),
    /// Unloading racks at this clean end.
    Unloading(u8),
    /// Taking clean ware to the servery.
    Running,
    /// This piece of other work.
    Duty(u8),
}

/// One entry of a worker's list of posts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Call {
    /// The post.
    pub post: Post,
    /// Waiting jobs at which this worker steps in (at least 1).
    pub step_in: u32,
    /// Waiting jobs at or below which this worker may leave again.
    pub leave_at: u32,
    /// Shortest stay.
    pub stay: Span,
}

/// A member of the crew.
#[derive(Clone, Debug, PartialEq)]
pub struct Worker {
    /// Name.
    pub name: String,
    /// Shifts, in clock order, not overlapping.
    pub shifts: Vec<(SimTime, SimTime)>,
    /// Breaks: due time and length, in clock order.
    pub breaks: Vec<(SimTime, Span)>,
    /// Speed of work: 1 is normal, 1.1 is a tenth faster.
    pub pace: f64,
    /// Posts, read from the top.
    pub list: Vec<Call>,
    /// Probability that the shift goes unfilled, drawn once a meal.
    pub unfilled: f64,
}

/// Other work, besides the line's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// Its name.
    pub name: String,
    /// When it falls due.
    pub when: DutyWhen,
    /// Seconds of work.
    pub work_s: Dist,
    /// Posts whose workers do it (those with one of these on their list).
    pub by: Vec<Post>,
    /// May wait until such a worker has nothing else to do, but at most so long; `None`: it comes first.
    pub may_wait: Option<Span>,
    /// Whether it is done on the clean side.
    pub clean_side: bool,
}

/// When other work falls due.
#[derive(Clone, Debug, PartialEq)]
pub enum DutyWhen {
    /// At these times.
    At(Vec<SimTime>),
    /// Each time so many kg of waste have been scraped off.
    EveryKg(f64),
}
