//! Who comes, when, and with what: the description from which tapes are drawn.

use crate::dist::Dist;
use crate::line::ClassId;
use crate::time::{SimTime, Span};

/// Everything about the diners of a meal. Made by the loader; only consistent ones exist.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// When covers are served.
    pub covers: Covers,
    /// How days differ.
    pub days: Days,
    /// Minutes from being served to sitting down.
    pub find_seat_min: Dist,
    /// Minutes from sitting down to coming to the drop-off, from each clock time on; the first holds from the start.
    pub eating_min: Vec<(SimTime, Dist)>,
    /// Bells, in clock order.
    pub bells: Vec<Bell>,
    /// Parties; `None`: everybody comes alone.
    pub parties: Option<Parties>,
    /// Kinds of diner; at least one.
    pub kinds: Vec<Kind>,
    /// How many people waiting a diner will bear; `None`: any number.
    pub patience_people: Option<Dist>,
    /// Factor on the work at one tray, scaled so that its mean is 1.
    pub work_factor: Dist,
    /// Plate waste on a tray that carries ware, in kg.
    pub waste_kg: Dist,
    /// Seats in the room, where they may bind: who finds none waits, in order of being served; `None`: always enough.
    pub seats: Option<u32>,
    /// Ware that comes back besides what the diners bring: ward carts, pans.
    pub loads: Vec<Load>,
}

/// Trays or ware that come back of themselves, not by a diner served here: ward carts by a timetable, kitchen pans.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// Its name; its luck is found by it.
    pub name: String,
    /// Number of the kind whose pieces each of them carries, and which says where they go.
    pub kind: u8,
    /// When they come.
    pub when: LoadWhen,
    /// Whether each counts as a cover served.
    pub covers: bool,
    /// When its clean ware is taken (tray assembly, lay-up); `None`: as it comes.
    pub taken: Option<SimTime>,
}

/// When the trays of a load come.
#[derive(Clone, Debug, PartialEq)]
pub enum LoadWhen {
    /// So many at each of these times, in clock order.
    At(Vec<(SimTime, u32)>),
    /// So many within a span, each at a random instant of it.
    Within {
        /// When the span begins.
        from: SimTime,
        /// How long it lasts.
        lasts: Span,
        /// How many come.
        count: u32,
    },
    /// People who have been eating since before the run begins at `at`.
    Eating {
        /// When they sat down.
        since: SimTime,
        /// When the run begins: all of them are still there then.
        at: SimTime,
        /// How many.
        people: u32,
    },
    /// Trays that are already on the line when the run begins.
    There {
        /// Where.
        at: There,
        /// How many.
        trays: u32,
    },
    /// They do not come back within the run (ware drawn for another meal): so many are only taken.
    Never(u32),
}

/// Where somebody's ware is when the run begins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum There {
    /// Nowhere yet: they are served, or come, in the run.
    #[default]
    Comes,
    /// With somebody who is eating.
    Eats,
    /// On this belt, standing against its end.
    Belt(u8),
    /// On this table.
    Table(u8),
    /// On this accumulator, carrier by carrier.
    Accumulator(u8),
    /// Left aside at this drop-off.
    Aside(u8),
    /// On carts of this kind that wait to be emptied, cart by cart.
    Carts(u8),
}

/// When covers are served.
#[derive(Clone, Debug, PartialEq)]
pub enum Covers {
    /// So many per interval. `edges` has one more entry than `counts`.
    PerInterval {
        /// Borders of the intervals, strictly rising.
        edges: Vec<SimTime>,
        /// Covers in each interval (for [`How::PoissonLinear`]: rate per minute at each *edge*).
        counts: Vec<f64>,
        /// How the covers of an interval come.
        how: How,
    },
    /// Exactly at these instants, in clock order.
    Instants(Vec<SimTime>),
    /// Served so that they come back exactly at these instants, in clock order: what was seen at the drop-off. When they
    /// were served is drawn back from it; bells say nothing more.
    CameAt(Vec<SimTime>),
}

/// How the covers of an interval come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// Poisson, the rate constant within each interval.
    Poisson,
    /// Poisson, the rate linear between the edges.
    PoissonLinear,
    /// Exactly the stated count, evenly spread: the first at half a gap after the edge.
    Evenly,
    /// Exactly the stated count, each at a random instant of the interval.
    AtRandom,
}

/// How days differ: a factor on all covers of a meal (on the rate for Poisson covers; on stated counts, rounded).
/// Observed instants are never scaled.
#[derive(Clone, Debug, PartialEq)]
pub enum Days {
    /// Lognormal with mean 1 and this coefficient of variation (0: every day the same).
    Vary {
        /// Coefficient of variation of covers from day to day.
        cv: f64,
    },
    /// One of these factors, each as likely (past counts divided by their mean).
    Past(Vec<f64>),
    /// One fixed design day with this factor.
    Design(f64),
}

/// A bell: a share of those seated leaves about now, whatever their own eating time.
#[derive(Clone, Debug, PartialEq)]
pub struct Bell {
    /// When it rings.
    pub at: SimTime,
    /// Share of those seated who leave.
    pub share: f64,
    /// They leave at a random instant from this long before the bell ...
    pub before: Span,
    /// ... to this long after it.
    pub after: Span,
    /// Only those who have been seated for at least this long.
    pub seated_at_least: Span,
}

/// Parties come, eat and leave together.
#[derive(Clone, Debug, PartialEq)]
pub struct Parties {
    /// Share of parties by size: `shares[0]` come alone, `shares[1]` in twos, and so on; sums to 1.
    pub shares: Vec<f64>,
    /// Between one member and the next, when served and when dropping off.
    pub apart: Span,
}

/// A kind of diner.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// Its name, for example `full tray`.
    pub name: String,
    /// Share of diners, from each clock time on; the first holds from the start.
    pub share: Vec<(SimTime, f64)>,
    /// Mean pieces by class, in the line's class order; a fraction is drawn as the whole number below or above it.
    /// All nought: nothing comes back (take-away).
    pub pieces: Vec<f64>,
    /// Number of the drop-off they go to.
    pub drop_off: u8,
    /// Whether they sit down and eat; otherwise they come to the drop-off at the instant they are served.
    pub sits: bool,
    /// Number of the carts or tubs in which staff fetch their ware; `None`: they bring it to the drop-off.
    pub carts: Option<u8>,
    /// Courses cleared one by one, at most [`MOST_COURSES`]; none: everything comes back when the diner leaves.
    /// [`Kind::pieces`] is then their sum.
    pub courses: Vec<Course>,
    /// Without a tray: pieces are put down one by one, and there is no tray to handle at the table.
    pub loose: bool,
    /// Several of a party put their ware on one tray.
    pub shared: Option<Shared>,
    /// What they take they bring back in their own time (a box taken away), not after a meal here.
    pub away: Option<Away>,
}

/// One tray for several of a party.
#[derive(Clone, Debug, PartialEq)]
pub struct Shared {
    /// Most people to a tray.
    pub people: u32,
    /// Class of the tray: there is one for all of them.
    pub tray: ClassId,
}

/// What is taken away and comes back in its own time.
#[derive(Clone, Debug, PartialEq)]
pub struct Away {
    /// Minutes from being served to coming to the drop-off.
    pub min: Dist,
    /// Share that comes back within the run at all.
    pub back_share: f64,
}

/// Most courses of one kind of diner.
pub const MOST_COURSES: usize = 8;

/// A course: ware that is cleared by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Mean pieces by class, in the line's class order.
    pub pieces: Vec<f64>,
    /// When it is cleared.
    pub cleared: Cleared,
}

/// When a course is cleared.
#[derive(Clone, Debug, PartialEq)]
pub enum Cleared {
    /// So many minutes after sitting down.
    AfterMin(Dist),
    /// At a random instant of a span of the clock, whoever it is.
    Within {
        /// When clearing begins.
        from: SimTime,
        /// How long it lasts.
        lasts: Span,
    },
}
