//! Sheets to take away: pictures with their words on them.

mod picture;

pub use picture::picture_sheet;
