//! What a report is made of: the summary, single lunches to be played, and chapters that others bring.

use scullery_study::film::Film;
use scullery_study::summary::Summary;

use crate::error::Fault;
use crate::figure::{Figure, figures_with};
use crate::sheet::Arrangement;
use crate::table::Table;

/// All that one report shows.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// What many lunches together say.
    pub summary: &'a Summary,
    /// Single lunches to be played; may be empty.
    pub films: &'a [Film],
    /// Chapters beyond those of every report; may be empty.
    pub chapters: &'a [Chapter],
    /// Arrangements to be set side by side on a page of their own; fewer than two make none.
    pub arrangements: &'a [Arrangement],
    /// Single meals kept as tables, by number of repeat; may be empty.
    pub kept: &'a [(u64, String)],
}

/// Where a chapter stands in the reading order of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slot {
    /// What held the line back, quarter hour by quarter hour: after what everybody did.
    Bottleneck,
    /// How many people would do: after labour, water and cost.
    Staffing,
    /// Arrangements side by side: after that.
    Comparison,
    /// Which input matters most: last of these.
    Sensitivity,
}

/// A chapter that stands in the page when somebody asked for it.
#[derive(Clone, Debug)]
pub struct Chapter {
    /// Where it stands.
    pub slot: Slot,
    /// Its id in the page, and the beginning of its files' names; letters, digits and hyphens.
    pub id: String,
    /// Heading.
    pub title: String,
    /// What it says, a paragraph an entry.
    pub words: Vec<String>,
    /// Its pictures, each with its own tables.
    pub figures: Vec<Figure>,
    /// Tables that belong to no picture, and which of their columns hold words.
    pub tables: Vec<(Table, Vec<usize>)>,
}

impl<'a> Report<'a> {
    /// A report of a summary alone.
    pub fn of(summary: &'a Summary) -> Report<'a> {
        Report {
            summary,
            films: &[],
            chapters: &[],
            arrangements: &[],
            kept: &[],
        }
    }

    /// The chapters of a slot, in the order in which they were brought.
    pub fn chapters_at(&self, slot: Slot) -> impl Iterator<Item = &'a Chapter> {
        self.chapters
            .iter()
            .filter(move |chapter| chapter.slot == slot)
    }

    /// Its own pictures; those of the chapters are not among them.
    ///
    /// # Errors
    /// When a picture could not be drawn.
    pub fn figures(&self) -> Result<Vec<Figure>, Fault> {
        figures_with(self.summary, self.films)
    }
}
