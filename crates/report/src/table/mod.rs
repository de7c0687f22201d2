//! Tables as plain texts, the same for the page, the terminal and beside the pictures.

mod definitions;
mod measures;
mod owning;
mod quarters;

pub use definitions::definition;
pub use measures::{defaults, held_up, measures, resources, targets};
pub(crate) use owning::terms_texts;
pub use owning::{owned, owning};
pub use quarters::{band_quarters, bands_quarters, profile_quarters, state_shares};

/// A table: every row has one text a column.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Table {
    /// What it shows and how a cell is to be read.
    pub caption: String,
    /// One text a column.
    pub head: Vec<String>,
    /// The rows; the first text names the row.
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// A table with these columns and no rows yet.
    pub fn new(caption: impl Into<String>, head: &[&str]) -> Table {
        Table {
            caption: caption.into(),
            head: head.iter().map(|h| (*h).to_owned()).collect(),
            rows: Vec::new(),
        }
    }
}
