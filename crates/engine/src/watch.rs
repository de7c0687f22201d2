//! What a run tells whoever watches it. Watching never changes the run.

use crate::line::Post;
use crate::time::{SimTime, Span};

/// Number of a place in [`Catalogue::places`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlaceId(pub u16);

/// Number of a worker, machine or belt in [`Catalogue::actors`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ActorId(pub u16);

/// Number of a running count in [`Catalogue::counts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CountId(pub u16);

/// Number of a post in [`Catalogue::posts`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PostId(pub u16);

/// What a level counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// People standing or sitting.
    People,
    /// Trays with what is on them.
    Trays,
    /// Pieces of ware.
    Pieces,
    /// Racks, full, part-filled or empty.
    Racks,
    /// Jobs of other work that wait to be done.
    Jobs,
    /// Carts or tubs.
    Carts,
    /// Grams of waste.
    Grams,
    /// Stacks of ware.
    Stacks,
}

/// What part a place plays, for those who choose what to show. Not the kind of element it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Diners seated and eating.
    Seated,
    /// Diners waiting for a position at a drop-off.
    Queue,
    /// Diners who have come to a drop-off and still hold their tray (waiting, putting down, or held up).
    Standing,
    /// Soiled trays dropped off and not yet cleared.
    Backlog,
    /// Soiled trays left aside: too many people were waiting, or the drop-off had closed.
    Overflow,
    /// Soiled trays on a way or a table.
    Trays,
    /// Soiled ware in stacks on a belt.
    Stacks,
    /// Soiled ware waiting to be racked.
    Pile,
    /// Soiled ware held back until later.
    HeldBack,
    /// Racks standing open to be filled.
    OpenRacks,
    /// Empty racks free to be taken.
    EmptyRacks,
    /// Filled racks on a way to a machine.
    FilledRacks,
    /// Racks inside a machine.
    Washing,
    /// Racks at a clean end, drying or waiting to be unloaded.
    CleanRacks,
    /// Clean ware on carts, not yet at the servery.
    Cart,
    /// Clean ware at the servery.
    Stock,
    /// Empty racks on their way back.
    RacksBack,
    /// Other work waiting.
    Duty,
    /// Diners who wait at the servery for ware that has run out.
    WaitingForWare,
    /// Trouble that lasts.
    Trouble,
    /// Soiled trays cleared away by staff and not yet on a cart.
    Gathered,
    /// Carts in the dish room waiting to be emptied.
    CartsWaiting,
    /// Emptied carts waiting to be washed.
    CartsToWash,
    /// Carts ready to be loaded.
    CartsReady,
    /// Whether a gate at the load end is up: 1, else 0.
    Gate,
    /// Ware in a receiver at a drop-off, or on a cart that fills at a post.
    Receiver,
    /// Waste at a disposer or in bins.
    Waste,
}

/// One place of a line.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceInfo {
    /// Its name in the user's words, for example `belt soiled` or `clean plates`.
    pub name: String,
    /// What its level counts.
    pub unit: Unit,
    /// The part it plays.
    pub role: Role,
    /// How much it can hold, when that is limited.
    pub room: Option<u32>,
    /// How much it holds before the first event.
    pub at_start: u32,
    /// Name of the class of ware, where the place holds one class.
    pub class: Option<String>,
}

/// What kind of thing an actor is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ActorKind {
    /// A member of the crew.
    Worker,
    /// A dish machine.
    Machine,
    /// A belt.
    Belt,
    /// A tray accumulator.
    Accumulator,
    /// A belt for stacks.
    StackBelt,
}

/// Somebody or something that has states.
#[derive(Clone, Debug, PartialEq)]
pub struct ActorInfo {
    /// Its name in the user's words.
    pub name: String,
    /// Whether it is a worker, a machine or a belt.
    pub kind: ActorKind,
}

/// What is done at a post.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Job {
    /// Trays are broken down.
    BreakingDown,
    /// Ware is racked from piles.
    Racking,
    /// A machine is loaded.
    Loading,
    /// Racks are unloaded.
    Unloading,
    /// Clean ware is taken to the servery.
    Running,
    /// Other work.
    OtherWork,
    /// Carts are washed.
    CartWash,
    /// Trouble is cleared.
    Clearing,
}

/// One post: where somebody of the crew can stand and work.
#[derive(Clone, Debug, PartialEq)]
pub struct PostInfo {
    /// Name of the element it belongs to, in the user's words.
    pub name: String,
    /// What is done there.
    pub job: Job,
    /// Whether it is on the clean side.
    pub clean_side: bool,
    /// How many can stand there, when that is limited.
    pub places: Option<u32>,
}

/// What a running count counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Counted {
    /// Covers served with ware.
    Served,
    /// Diners who came to a drop-off with something to put down.
    CameToDropOff,
    /// Trays put down, or left on the overflow.
    DroppedOff,
    /// Trays broken down.
    Cleared,
    /// Trays whose every piece is clean, or broken.
    Clean,
    /// Pieces clean, of any class.
    PiecesClean,
    /// Trays left on the overflow because more people waited than this diner would bear.
    LeftAside,
    /// Trays that came after the drop-off had closed.
    Late,
    /// Pieces that a cover wanted and did not find (of one class).
    RunOut,
    /// Racks that went into a machine.
    RacksIn,
    /// Racks that came out of a machine.
    RacksOut,
    /// Pieces in the racks that went into a machine.
    PiecesIn,
    /// Racks that went in part-filled.
    PartFilled,
    /// Times a machine was started.
    Starts,
    /// Pieces that came out of a machine.
    PiecesOut,
    /// Times a machine's tank water was changed during the meal.
    TankFills,
    /// Seconds a machine's rinse was waited for because its water was not hot.
    HotWaterSeconds,
    /// Times a machine's detergent ran low.
    DetergentLow,
    /// Racks, or lots of loose ware, that went in when there was too little detergent left.
    WithoutDetergent,
    /// Grams of waste scraped off.
    WasteGrams,
    /// Breaks that a shift's end overtook.
    BreaksMissed,
    /// Jobs of other work done.
    DutiesDone,
    /// Diners who had to wait for a seat.
    SeatWaits,
    /// Seconds they waited for it, all together.
    SeatWaitSeconds,
    /// Disposable pieces given instead of a class: it had run out, or by the clock.
    Disposables,
    /// Times something jammed, failed or was stopped.
    Troubles,
    /// Carts brought to the dish room.
    CartsIn,
    /// Milliseconds that an aid at a post ran.
    AidMs,
    /// Carts washed.
    CartsWashed,
    /// Pieces clean, of one class.
    ClassClean,
    /// Pieces of one class that came out still soiled and go back to be washed again.
    Rewashed,
    /// Pieces of one class found broken.
    Broken,
    /// Racks of one class, washed twice, that went into a machine for the first time.
    FirstPass,
    /// Racks of one class, washed twice, that went into a machine for the second time.
    SecondPass,
}

/// One running count.
#[derive(Clone, Debug, PartialEq)]
pub struct CountInfo {
    /// Its name in the user's words.
    pub name: String,
    /// What it counts.
    pub counted: Counted,
    /// Name of the class of ware, or of the machine, where it is of one.
    pub of: Option<String>,
}

/// All places, actors and counts of a line, by number.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    /// The places, by [`PlaceId`].
    pub places: Vec<PlaceInfo>,
    /// The workers, machines and belts, by [`ActorId`]: the crew first, in crew-list order.
    pub actors: Vec<ActorInfo>,
    /// The running counts, by [`CountId`].
    pub counts: Vec<CountInfo>,
    /// The posts, by [`PostId`].
    pub posts: Vec<PostInfo>,
}

/// What somebody or something is doing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// A worker off shift; a machine switched off.
    Off,
    /// A worker with nothing to do; a belt that moves with nothing on it.
    Waiting,
    /// A worker at a task within the shift.
    Working,
    /// A worker at a task past the end of the shift.
    PastShift,
    /// A worker with a finished piece that finds no room, or with ware to rack and no rack to be had.
    HeldUp,
    /// A worker walking to another post.
    Walking,
    /// A worker washing hands on the way from the soiled to the clean side.
    HandWash,
    /// A worker waiting at a post for a second pair of hands.
    WaitingForHelp,
    /// A worker on a break.
    Break,
    /// A machine heating up.
    Heating,
    /// A machine hot and not running.
    Ready,
    /// A machine that has been started and is not yet washing.
    Starting,
    /// A machine running (a conveyor moves, a cycle goes on).
    Washing,
    /// A machine that stands because the clean end is full; a belt that stands because a tray lies at its end.
    Stopped,
    /// A machine or belt stopped by the clock or out of order.
    Down,
    /// A belt that moves with something on it.
    Moving,
    /// A machine whose tank water is being changed: drained, filled, heated.
    Refilling,
}

impl State {
    /// How many states there are.
    pub const COUNT: usize = 17;

    /// All states, in the order of [`State::index`].
    pub const ALL: [State; State::COUNT] = [
        State::Off,
        State::Waiting,
        State::Working,
        State::PastShift,
        State::HeldUp,
        State::Walking,
        State::HandWash,
        State::WaitingForHelp,
        State::Break,
        State::Heating,
        State::Ready,
        State::Starting,
        State::Washing,
        State::Stopped,
        State::Down,
        State::Moving,
        State::Refilling,
    ];

    /// Place of this state in [`State::ALL`].
    pub fn index(self) -> usize {
        self as usize
    }
}

/// One rack's way from its first piece to the machine's far end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RackTrip {
    /// Number of the rack kind.
    pub kind: u8,
    /// Number of the class of its first piece.
    pub class: u8,
    /// Number of the machine.
    pub machine: u8,
    /// Pieces in it.
    pub pieces: u16,
    /// Pieces it could have held.
    pub size: u16,
    /// When its first piece went in.
    pub opened: SimTime,
    /// When it left the racking table.
    pub closed: SimTime,
    /// When it went into the machine.
    pub washed_from: SimTime,
    /// When it came out of the machine.
    pub out: SimTime,
}

/// One step on the way of a tray, a rack or a task, for whoever follows single things.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    /// A diner came to a drop-off with this tray (trays are numbered by diner).
    Came(u32),
    /// The diner with this tray holds the position of this drop-off and waits, or waits no longer, for room in a receiver or
    /// a bin.
    PutsAway {
        /// The tray.
        tray: u32,
        /// Number of the drop-off.
        drop_off: u8,
        /// Whether they wait from now on.
        waits: bool,
    },
    /// The tray was put down on the belt or the table.
    PutDown(u32),
    /// The tray was left aside: too many people waited, or the drop-off had closed.
    LeftAside(u32),
    /// Somebody began a task.
    Begun {
        /// Who.
        who: ActorId,
        /// At which post.
        post: Post,
        /// The tray, where the task is one tray.
        tray: Option<u32>,
    },
    /// The work of the task in hand ended; whether its ware finds room is another matter.
    Ended {
        /// Who.
        who: ActorId,
        /// At which post.
        post: Post,
        /// The tray, where the task was one tray.
        tray: Option<u32>,
    },
    /// Pieces of a tray went into a rack.
    Racked {
        /// The tray.
        tray: u32,
        /// Number of the class.
        class: u8,
        /// Number of the rack.
        rack: u32,
        /// How many.
        pieces: u16,
    },
    /// The rack left the racking table.
    RackSent(u32),
    /// The rack went into the machine with this number.
    RackIn(u32, u8),
    /// The rack came out of the machine.
    RackOut(u32),
    /// The ware in the rack, washed once, was tipped out to be sorted and washed again.
    RackTipped(u32),
    /// The ware in the rack is clean.
    RackClean(u32),
    /// The last piece of the tray is clean.
    Clean(u32),
}

/// Told of each change as it happens, in clock order. Never changes the run.
///
/// A level or a state that lasts no time is not told. The first call for a place or an actor is its first change;
/// what holds before is in [`PlaceInfo::at_start`], and every actor begins [`State::Off`] (belts: [`State::Waiting`]).
pub trait Observer {
    /// Whether this observer wants to be told at all; `false` lets the run skip the telling.
    const WATCHES: bool = true;
    /// Whether it wants to be told each [`Step`] of single things too; a run need not gather them otherwise.
    const FOLLOWS: bool = false;

    /// From `at` on, `place` holds `held` things of its kind.
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        let _ = (at, place, held);
    }
    /// From `at` on, `who` is in `state`; `because` names the place that holds them up.
    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        let _ = (at, who, state, because);
    }
    /// From `at` on, `who` stands at `post`, or is on the way there; `None`: at none (off shift, on a break).
    ///
    /// Told before the state that goes with it; every worker begins at none.
    fn stands(&mut self, at: SimTime, who: ActorId, post: Option<PostId>) {
        let _ = (at, who, post);
    }
    /// Somebody or something had waited `wait` at `place` when it left it at `at` (0 included).
    fn waited(&mut self, at: SimTime, place: PlaceId, wait: Span) {
        let _ = (at, place, wait);
    }
    /// A running count grew by `by` at `at`.
    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        let _ = (at, count, by);
    }
    /// A step on the way of a tray, a rack or a task; only told to those who follow ([`Observer::FOLLOWS`]).
    fn step(&mut self, at: SimTime, step: &Step) {
        let _ = (at, step);
    }
    /// A rack came out of a machine.
    fn rack(&mut self, at: SimTime, trip: &RackTrip) {
        let _ = (at, trip);
    }
}

/// Watches nothing.
#[derive(Clone, Copy, Debug, Default)]
pub struct Nobody;

impl Observer for Nobody {
    const WATCHES: bool = false;
}
