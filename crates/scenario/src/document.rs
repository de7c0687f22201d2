//! A scenario's text with its name, ready to be read as it stands or with changes. The only place of this crate that
//! touches the disk.

use std::path::{Path, PathBuf};

use crate::change::{self, Change, Place};
use crate::diagnostic::render;
use crate::plan::Plan;
use crate::read::{Format, LONGEST_TEXT, read};

/// Why a scenario on disk gave no plan.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// The file itself cannot be read; one sentence.
    File(String),
    /// It has faults; all of them, as shown to a person.
    Faults(String),
}

/// Largest other file a scenario may name, in bytes.
const LARGEST_TABLE: u64 = 64 << 20;

/// The text of a scenario, what it is called in messages, and where the files it names are found.
#[derive(Clone, Debug)]
pub struct Document {
    shown: String,
    text: String,
    format: Format,
    beside: Option<PathBuf>,
}

impl Document {
    /// A text that names no other files.
    pub fn of_text(shown: impl Into<String>, text: impl Into<String>, format: Format) -> Document {
        Document {
            shown: shown.into(),
            text: text.into(),
            format,
            beside: None,
        }
    }

    /// The text of a file; files it names are found beside it.
    ///
    /// # Errors
    /// [`Unread::File`] when it cannot be read, is too long, or is no UTF-8 text.
    pub fn from_disk(path: &Path) -> Result<Document, Unread> {
        let shown = path.display().to_string();
        let bytes = bounded(path, LONGEST_TEXT as u64)
            .map_err(|why| Unread::File(format!("{shown} cannot be read: {why}")))?;
        let text = String::from_utf8(bytes)
            .map_err(|_| Unread::File(format!("{shown} is not UTF-8 text")))?;
        Ok(Document {
            format: Format::of_path(&shown),
            shown,
            text,
            beside: Some(path.parent().unwrap_or(Path::new("")).to_owned()),
        })
    }

    /// What the scenario is called: its path as given, or the name it was made with.
    pub fn shown(&self) -> &str {
        &self.shown
    }

    /// The plan as the text says.
    ///
    /// # Errors
    /// Every complaint there is, as shown to a person.
    pub fn plan(&self) -> Result<Plan, String> {
        read(&self.text, self.format, &|name| self.load(name))
            .map_err(|faults| render(&self.shown, &self.text, &faults))
    }

    /// The plan with changes, made one after another before anything is checked.
    ///
    /// # Errors
    /// Every complaint there is, as shown to a person; each names the change it speaks of.
    pub fn changed(&self, changes: &[Change]) -> Result<Plan, String> {
        let load = |name: &str| self.load(name);
        change::read_changed(&self.text, self.format, changes, &load)
            .map_err(|faults| change::render_changed(&self.shown, &self.text, changes, &faults))
    }

    /// What stands at a path such as `belt.return.length_m`.
    ///
    /// # Errors
    /// When nothing of that name can stand there; ready to be shown.
    pub fn at(&self, path: &str) -> Result<Place, String> {
        change::look_up(&self.text, self.format, path)
            .map_err(|faults| format!("{}: {faults}", self.shown))
    }

    fn load(&self, name: &str) -> Result<Vec<u8>, String> {
        match &self.beside {
            Some(beside) => bounded(&beside.join(name), LARGEST_TABLE),
            None => Err("no other file can be read here".to_owned()),
        }
    }
}

/// Reads a scenario from disk; files it names are found beside it.
///
/// # Errors
/// [`Unread`], ready to be shown.
pub fn read_from_disk(path: &Path) -> Result<Plan, Unread> {
    Document::from_disk(path)?.plan().map_err(Unread::Faults)
}

fn bounded(path: &Path, most: u64) -> Result<Vec<u8>, String> {
    let about = std::fs::metadata(path).map_err(|why| why.to_string())?;
    if !about.is_file() {
        return Err("it is not a file".to_owned());
    }
    if about.len() > most {
        return Err(format!("it has {} bytes, more than {most}", about.len()));
    }
    std::fs::read(path).map_err(|why| why.to_string())
}
