//! A scenario as written: the shapes of the file. What they mean together is checked later.
//!
//! The published schema is generated from these types, and so are the pages of `docs/scenario-format.md`. A key whose
//! name ends in a unit may also be written in the other units of its kind (see `units`); here it stands in one.

mod accumulator;
mod aid;
mod already;
mod belt;
mod care;
mod carts;
mod clean_end;
mod crew;
mod diners;
mod dist;
mod drop_off;
mod fittings;
mod gate;
mod lane;
mod machine;
mod owned;
mod placing;
mod racking;
mod receiver;
mod room;
mod scrapping;
mod staffing;
mod study;
mod trouble;
mod two_passes;
mod ware;
mod waste;
mod work;

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Deserialize;

pub(crate) use accumulator::AccumulatorFile;
pub(crate) use aid::{AidDoesFile, AidFile};
pub(crate) use already::AlreadyFile;
pub(crate) use belt::{BeltFile, BesideTakesFile, CurveFile, EndsFile, StacksFile};
pub(crate) use care::{After, CleaningFile, SetUpFile};
pub(crate) use carts::{CartsFile, CartsGoFile, ClearedFile, CourseFile, LoadFile, LoadWhenFile};
pub(crate) use clean_end::{Back, CleanEndFile, DeliveryFile};
pub(crate) use crew::{
    BreakFile, ClockedPace, DutyFile, DutyWhenFile, Experience, OnCallFile, OnCallWhen, PostEntry,
    ShiftFile, SideOfRoom, WorkerFile,
};
pub(crate) use diners::{
    ArrivalsFile, BellFile, Come, CoversFile, DaysFile, DesignDay, DinersFile, KindFile,
};
pub(crate) use dist::{Amount, AmountChoice, MeanSpread, Varies};
pub(crate) use drop_off::{ClockedSpeed, ClosesFile, DropOffFile, StopFile, TableFile, ThenFile};
pub(crate) use fittings::{DetergentFile, HotWaterFile, RinseFlows, WaterChangeFile};
pub(crate) use gate::{GateFile, GateRuleFile, OrderFile, UpFile};
pub(crate) use lane::{InclineFile, LaneFile, WayFile};
pub(crate) use machine::{
    HeatedBy, MachineFile, MachineType, PlateFile, RunsFile, Sanitising, Tanks,
};
pub(crate) use owned::OwnedFile;
pub(crate) use placing::PlacingFile;
pub(crate) use racking::{HeldBackFile, LevelFile, PileFile, RackingFile};
pub(crate) use receiver::{ChangedFile, DinersDoFile, ReceiverFile, ReceiverToFile, WhenFullFile};
pub(crate) use room::{RoomFile, StandsFile};
pub(crate) use scrapping::{ScrappingFile, SendsFile};
pub(crate) use staffing::{AroundFile, ContractFile, RoleFile, SizeFile, StaffingFile};
pub(crate) use study::{HeadingFile, MoneyFile, TargetFile, UnitsFile};
pub(crate) use trouble::{StrikesFile, TroubleFile};
pub(crate) use ware::{FitFile, Material, RackFile, ShortFile, WareFile};
pub(crate) use waste::{BinFile, DisposerFile, DisposerRunsFile, WasteKindFile};
pub(crate) use work::{HeadCountFile, ShareOf, WorkFile};

/// A meal and the line that clears it away.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "Scullery scenario")]
pub(crate) struct ScenarioFile {
    /// Title, note, units and currency.
    pub(crate) heading: HeadingFile,
    /// When the run starts and ends.
    pub(crate) meal: MealFile,
    /// When covers are served: one of five ways of saying it.
    pub(crate) covers: CoversFile,
    /// How days differ. Without it days vary with a coefficient of variation of 0.10.
    pub(crate) days: Option<DaysFile>,
    /// Eating, parties, patience, and how trays differ.
    #[serde(default)]
    pub(crate) diners: DinersFile,
    /// Kinds of diner by name; their shares sum to 1.
    #[schemars(extend("minProperties" = 1))]
    pub(crate) kind: BTreeMap<String, KindFile>,
    /// Bells: at each a share of those seated leaves.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) bell: Vec<BellFile>,
    /// Classes of ware; their order settles ties.
    #[schemars(length(min = 1, max = 16))]
    pub(crate) ware: Vec<WareFile>,
    /// Kinds of rack, each a finite pool.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) rack: Vec<RackFile>,
    /// Drop-offs by name. There may be none where all ware comes by carts or tubs.
    #[serde(default)]
    pub(crate) drop_off: BTreeMap<String, DropOffFile>,
    /// Belts for soiled trays, by name.
    #[serde(default)]
    pub(crate) belt: BTreeMap<String, BeltFile>,
    /// Tray accumulators, by name.
    #[serde(default)]
    pub(crate) accumulator: BTreeMap<String, AccumulatorFile>,
    /// Tables where soiled trays wait, by name.
    #[serde(default)]
    pub(crate) table: BTreeMap<String, TableFile>,
    /// Carts and tubs in which staff bring soiled ware, by name.
    #[serde(default)]
    pub(crate) carts: BTreeMap<String, CartsFile>,
    /// Trays and ware that come back besides what the diners bring, by name.
    #[serde(default)]
    pub(crate) load: BTreeMap<String, LoadFile>,
    /// Sprays, pre-rinses and removers at posts, by name.
    #[serde(default)]
    pub(crate) aid: BTreeMap<String, AidFile>,
    /// Receivers that diners fill at drop-offs, and carts that fill at posts, by name.
    #[serde(default)]
    pub(crate) receiver: BTreeMap<String, ReceiverFile>,
    /// Kinds of waste, by name; without them there is one, called `waste`.
    #[serde(default)]
    pub(crate) waste: BTreeMap<String, WasteKindFile>,
    /// Disposers and pulpers, by name.
    #[serde(default)]
    pub(crate) disposer: BTreeMap<String, DisposerFile>,
    /// Bins for waste, by name.
    #[serde(default)]
    pub(crate) bin: BTreeMap<String, BinFile>,
    /// Posts where trays are broken down, by name.
    #[schemars(extend("minProperties" = 1))]
    pub(crate) scrapping: BTreeMap<String, ScrappingFile>,
    /// Belts that carry ware in stacks from breaking down to racking tables or load ends, by name.
    #[serde(default)]
    pub(crate) stacks: BTreeMap<String, StacksFile>,
    /// Racking tables, by name.
    #[serde(default)]
    pub(crate) racking: BTreeMap<String, RackingFile>,
    /// Load ends of flight machines, by name.
    #[serde(default)]
    pub(crate) placing: BTreeMap<String, PlacingFile>,
    /// Lanes for filled racks, by name.
    #[serde(default)]
    pub(crate) lane: BTreeMap<String, LaneFile>,
    /// Gates at the load end, by name.
    #[serde(default)]
    pub(crate) gate: BTreeMap<String, GateFile>,
    /// Dish machines, by name.
    #[serde(default)]
    pub(crate) machine: BTreeMap<String, MachineFile>,
    /// Clean ends, by name.
    #[serde(default)]
    pub(crate) clean_end: BTreeMap<String, CleanEndFile>,
    /// Carts and a runner. Without it clean ware is at the servery when it is unloaded.
    pub(crate) delivery: Option<DeliveryFile>,
    /// The crew; free workers are asked in this order.
    #[serde(default)]
    #[schemars(length(max = 200))]
    pub(crate) crew: Vec<WorkerFile>,
    /// A head count, turned into people who are asked after the crew.
    pub(crate) head_count: Option<HeadCountFile>,
    /// Rules of work for the whole crew.
    #[serde(default)]
    pub(crate) work: WorkFile,
    /// Other work, by name.
    #[serde(default)]
    pub(crate) duty: BTreeMap<String, DutyFile>,
    /// Setting up before the first tray, element by element.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) set_up: Vec<SetUpFile>,
    /// Cleaning after the last tray, element by element.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) cleaning: Vec<CleaningFile>,
    /// The room and what stands in it.
    pub(crate) room: Option<RoomFile>,
    /// Jams, failures and stop stations, by name.
    #[serde(default)]
    pub(crate) trouble: BTreeMap<String, TroubleFile>,
    /// Ware that is on the line, clean stock, and machines that are hot, when the run begins.
    #[serde(default)]
    pub(crate) already_there: AlreadyFile,
    /// Walking and hand washing.
    #[serde(default)]
    pub(crate) walking: WalkingFile,
    /// Prices, in the heading's currency.
    #[serde(default)]
    pub(crate) money: MoneyFile,
    /// What of the line was bought, for what owning it costs a year.
    #[serde(default)]
    #[schemars(length(max = 200))]
    pub(crate) owned: Vec<OwnedFile>,
    /// What must hold.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) target: Vec<TargetFile>,
    /// What crews may be made of, for `scullery crew`.
    pub(crate) staffing: Option<StaffingFile>,
    /// Sizes that may be chosen, for `scullery size`.
    #[serde(default)]
    #[schemars(length(max = 60))]
    pub(crate) size: Vec<SizeFile>,
}

/// When the run starts and ends.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct MealFile {
    /// Clock time of the first instant of the run. An earlier clock time elsewhere in the file is on the next day.
    pub(crate) starts: String,
    /// Stated end, a clock time. Without it the run ends when all is clean and the last shift is over.
    pub(crate) ends_at: Option<String>,
}

/// Walking and hand washing.
#[derive(Debug, Clone, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct WalkingFile {
    /// Walking time between any two posts.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) between_posts_s: Option<f64>,
    /// Hand wash when going from a soiled to a clean post.
    #[schemars(range(min = 0, max = 3600))]
    pub(crate) hand_wash_s: Option<f64>,
}
