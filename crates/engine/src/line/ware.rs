//! Ware, class by class.

use crate::line::{RackKindId, Rewash, SecondPass};
use crate::time::{SimTime, Span};

/// Number of a class of ware in [`crate::line::Line::classes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClassId(pub u8);

/// Most classes of ware a line can have (pieces of a tray are kept in so many bytes).
pub const MOST_CLASSES: usize = 16;

/// What a cover does that finds too few pieces of a class. Each missing piece is a run-out, whatever is done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Short {
    /// Goes without.
    #[default]
    Without,
    /// Takes this class instead, as far as there is any.
    Takes(ClassId),
    /// Gets something disposable, at a price.
    Disposable,
    /// Waits for it, at most so long, and then goes without.
    Waits(Span),
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
    /// Number of the clean end it goes to, where that is not the machine's own (a place for polishing).
    pub clean_end: Option<u8>,
    /// What a cover does that finds too few.
    pub short: Short,
    /// Hours of the clock, from and until, in which covers get something disposable instead, whatever there is.
    pub disposable: Vec<(SimTime, SimTime)>,
    /// Goes out to the servery in its rack, which is back only when emptied there.
    pub stays_in_rack: bool,
    /// The share that comes out still soiled and is washed again; `None`: none.
    pub rewash: Option<Rewash>,
    /// It goes through the machine twice, sorted between the passes; `None`: once.
    pub second_pass: Option<SecondPass>,
    /// Share of the pieces that are found broken at the clean end, 0 to 1, each time they are washed.
    pub broken: f64,
    /// Waste that comes back on each piece, grams, besides that of the tray.
    pub waste_g: u32,
}

impl Class {
    /// Whether a cover served now gets something disposable instead of this class.
    pub(crate) fn is_disposable(&self, now: SimTime) -> bool {
        let mut hours = self.disposable.iter();
        hours.any(|&(from, until)| from <= now && now < until)
    }
}
