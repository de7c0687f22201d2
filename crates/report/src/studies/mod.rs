//! Pages, tables and data of studies over several plans: arrangements compared, headroom, numbers varied.
//!
//! Each study is first told as a [`StudyPage`]: an answer and sections of words, tables and pictures. The web page, the
//! terminal and the folder are all made from that.

mod axis;
mod compared;
mod files;
mod headroom;
mod page;
mod picture;
mod remedy_picture;
mod replayed;
mod said;
mod seen_picture;
mod stopwatch;
mod terminal;
mod varied;

pub use compared::comparison_page;
pub use files::{comparison_files, headroom_files, json, tornado_files, variation_files};
pub use headroom::headroom_page;
pub use page::html;
pub use replayed::{replayed_files, replayed_page};
pub use stopwatch::{Rating, Task, TimeSheet, sheet_data, sheet_files, sheet_page};
pub use terminal::study_terminal;
pub use varied::{tornado_page, variation_page};

use crate::figure::Figure;
use crate::table::Table;

/// A study as a reader meets it.
#[derive(Clone, Debug, Default)]
pub struct StudyPage {
    /// What kind of study, for example `Arrangements compared`.
    pub kind: String,
    /// Title of the scenario.
    pub name: String,
    /// Its standing.
    pub note: String,
    /// What can be repeated.
    pub answer: String,
    /// Which day the answer speaks of; empty where the answer says so itself.
    pub day: String,
    /// What must be seen before anything else: stopped early, lunches that never ended.
    pub alarms: Vec<String>,
    /// The sections, in reading order.
    pub sections: Vec<Section>,
}

/// A section of a study.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// Id within the page: letters and hyphens.
    pub id: String,
    /// Heading.
    pub heading: String,
    /// Paragraphs.
    pub words: Vec<String>,
    /// Tables, and which of their columns hold words.
    pub tables: Vec<(Table, Vec<usize>)>,
    /// Pictures.
    pub pictures: Vec<Figure>,
    /// A list under all that.
    pub list: Vec<String>,
    /// What the terminal shows of it: shorter tables. Nothing: the section is left out there.
    pub brief: Vec<(Table, Vec<usize>)>,
    /// Sentences the terminal shows of it, above its tables.
    pub said: Vec<String>,
}

impl Section {
    /// The section with all its words and tables on the terminal too.
    fn told_in_full(mut self) -> Section {
        self.said.clone_from(&self.words);
        self.brief.clone_from(&self.tables);
        self
    }

    fn new(id: &str, heading: &str) -> Section {
        Section {
            id: id.to_owned(),
            heading: heading.to_owned(),
            ..Section::default()
        }
    }
}

/// The cautions every study ends with.
fn cautions(own: &[String]) -> Section {
    Section {
        list: own.to_vec(),
        ..Section::new("cautions", "Cautions")
    }
}

/// What the scenario means.
fn assumptions(list: &[String]) -> Section {
    Section {
        list: list.to_vec(),
        ..Section::new("assumptions", "What was assumed")
    }
}
