//! A scenario file becomes a checked plan, or messages that point at the line and say the mend.
//!
//! Text in TOML or JSON becomes one tree with places; the tree is walked against the published schema; what fits is read
//! into the types of the file; and those are given their meaning as a line and its diners. Each step tells all that is
//! wrong at once.

pub mod change;
mod check;
mod codes;
mod compile;
pub mod day;
pub mod defaults;
mod describe;
mod diagnostic;
mod document;
mod file;
mod moments;
pub mod notes;
pub mod owned;
mod page;
pub mod plan;
mod read;
pub mod sheet;
mod shown;
pub mod staffing;
mod starter;
pub mod tape_file;
mod text;
pub mod view;

pub use check::{
    CheckReport, Figure, LOAD_CONSTANT_KG, PLANNED_SHARE, PeakRule, Quarter, QuarterTable,
    Temperature, check, report_text, room_figures,
};
pub use codes::CODES;
pub use diagnostic::{Diagnostic, line_and_column, render};
pub use document::{Document, Unread, read_from_disk};
pub use page::{format_page, key_paths};
pub use read::{Format, LONGEST_TEXT, read, read_alone};
pub use starter::starter;
pub use text::schema::schema;

/// The scenario that is used when none is named: a university lunch, invented.
pub const DEFAULT_SCENARIO: &str = include_str!("../../../scenarios/university.toml");
