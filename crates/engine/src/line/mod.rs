//! The line: what stands in the dish room and how it is joined together.
//!
//! A [`Line`] is a description; nothing in it changes during a run. Ware flows
//! drop-off → belt or table → scrapping → racking → lane → machine → clean end → carts → servery,
//! and a line may leave out what it does not have, or end early.

pub(crate) mod accumulator;
pub(crate) mod aids;
pub(crate) mod already;
pub(crate) mod audit;
pub(crate) mod belt;
pub(crate) mod carts;
pub(crate) mod catalogue;
pub(crate) mod clean_end;
pub(crate) mod crew;
pub(crate) mod delivery;
pub(crate) mod drop_off;
pub(crate) mod duty;
pub mod floor;
pub(crate) mod gate;
pub(crate) mod gridlock;
pub(crate) mod hand_over;
pub(crate) mod joints;
pub(crate) mod lane;
pub(crate) mod ledger;
pub(crate) mod limits;
pub(crate) mod look_over;
pub(crate) mod machine;
pub(crate) mod mover;
pub(crate) mod order;
pub(crate) mod queue;
pub(crate) mod racking;
pub(crate) mod racks;
pub(crate) mod receivers;
pub(crate) mod scrapping;
pub(crate) mod second_pass;
pub(crate) mod servery;
pub(crate) mod stacks;
pub(crate) mod stops;
pub(crate) mod table;
pub(crate) mod telling;
pub(crate) mod trouble;
pub(crate) mod twins;
pub(crate) mod ware;
pub(crate) mod waste;

pub use accumulator::{Accumulator, Reach};
pub use aids::Aid;
pub use already::{Already, PileThere, RackAt, RackThere, ReceiverThere, StackThere};
pub use belt::{Belt, EndRule};
pub use carts::{CartWash, Carts, CartsGo};
pub use clean_end::{Back, CleanEnd};
pub use crew::{Call, Help, Late, Post, Terms, Watched, Worker, can_take_two};
pub use delivery::Delivery;
pub use drop_off::{Closing, DropOff, TraysTo};
pub use duty::{Duty, DutyWhen, Moment};
pub use gate::{Gate, GateRule};
pub use lane::{Lane, LaneKind};
pub use look_over::Rewash;
pub use machine::{Control, Dosing, HotWater, Loading, Machine, MachineKind, WaterChange};
pub use order::Order;
pub use racking::{Level, MOST_LEVELS, Pile, Racking, RacksTo, Release};
pub use racks::{RackKind, RackKindId};
pub use receivers::{AidInto, DinerAid, MOST_DINER_AIDS, Receiver, ReceiverGoes, Way};
pub use scrapping::{PassesOn, PiecesTo, Scrapping, TraysFrom};
pub use second_pass::SecondPass;
pub use stacks::StackBelt;
pub use stops::{AfterStop, Stop};
pub use table::Table;
pub use trouble::{Stands, Strikes, Trouble};
pub use twins::{Twin, TwinTakes};
pub use ware::{Class, ClassId, MOST_CLASSES, Short};
pub use waste::{MOST_WASTE_KINDS, StoreKind, WasteKind, WasteStore};

use crate::time::{SimTime, Span};

/// A whole dish room. Built by the loader; [`Line::faults`] says what does not fit together.
#[derive(Clone, Debug, Default, PartialEq)]
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
    /// Belts that run beside another.
    pub twins: Vec<Twin>,
    /// Tray accumulators.
    pub accumulators: Vec<Accumulator>,
    /// Tables (or floor) where soiled trays wait.
    pub tables: Vec<Table>,
    /// Carts and tubs in which staff bring soiled ware.
    pub carts: Vec<Carts>,
    /// Sprays, pre-rinses and removers at posts.
    pub aids: Vec<Aid>,
    /// Receivers that diners fill at drop-offs, and carts that fill at posts.
    pub receivers: Vec<Receiver>,
    /// Kinds of waste; none where it is not followed.
    pub waste_kinds: Vec<WasteKind>,
    /// Disposers, pulpers and bins.
    pub waste_stores: Vec<WasteStore>,
    /// Scrapping posts.
    pub scrapping: Vec<Scrapping>,
    /// Belts that carry ware in stacks.
    pub stack_belts: Vec<StackBelt>,
    /// Racking tables.
    pub racking: Vec<Racking>,
    /// Lanes for filled racks.
    pub lanes: Vec<Lane>,
    /// Gates between a lane of racks and a post where ware is loaded by hand.
    pub gates: Vec<Gate>,
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
    /// Posts whose tasks take two people.
    pub for_two: Vec<Post>,
    /// Jams, failures and stop stations.
    pub troubles: Vec<Trouble>,
    /// What is already there when the run begins.
    pub already: Already,
    /// Walking time between any two posts.
    pub walk: Span,
    /// Hand wash when going from a soiled to a clean post.
    pub hand_wash: Span,
}
