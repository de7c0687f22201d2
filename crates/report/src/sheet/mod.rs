//! Sheets to take away: pictures with their words on them, a sheet for the wall, a schedule for the building engineer,
//! arrangements side by side.

mod elements;
mod options;
mod picture;
mod wall;

pub use elements::{element_schedule, element_table};
pub(crate) use options::options_sheet;
pub use options::{Arrangement, options_page};
pub use picture::picture_sheet;
pub(crate) use picture::sourced_sheet;
pub use wall::wall_sheet;

use maud::{DOCTYPE, Markup, html};

use crate::page::{STYLE_PAPER, head};

/// A sheet as a page of its own.
fn sheet(title: &str, version: &str, style: &str, body: &Markup) -> String {
    let looks = format!("{STYLE_PAPER}{style}");
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (head(title, version, None, &looks))
            body { main.sheet { (body) } }
        }
    };
    markup.into_string()
}
