//! What can go wrong between a summary and a folder of files.

use std::fmt;
use std::path::PathBuf;

/// A report could not be made or written.
#[derive(Debug)]
pub enum Fault {
    /// A picture could not be drawn; the text says which and why.
    Drawing(String),
    /// A data file could not be put together; the text says which and why.
    Data(String),
    /// The folder holds something that this program did not put there; nothing was written.
    Refused {
        /// The folder asked for.
        folder: PathBuf,
        /// What stands in the way, in plain words.
        why: String,
    },
    /// The disk said no.
    Disk {
        /// The file or folder concerned.
        path: PathBuf,
        /// What the disk said.
        source: std::io::Error,
    },
}

impl Fault {
    /// Whether the person can mend it by asking for another folder.
    pub fn is_refusal(&self) -> bool {
        matches!(self, Fault::Refused { .. })
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::Drawing(what) => write!(out, "a picture could not be drawn: {what}"),
            Fault::Data(what) => write!(out, "a data file could not be made: {what}"),
            Fault::Refused { folder, why } => write!(
                out,
                "{} is left as it is: {why}\nname another folder with --out, or move that one away",
                folder.display()
            ),
            Fault::Disk { path, source } => write!(out, "{}: {source}", path.display()),
        }
    }
}

impl std::error::Error for Fault {
    fn source(&self) -> Option<&(dyn std::error::Error + 'static)> {
        match self {
            Fault::Disk { source, .. } => Some(source),
            _ => None,
        }
    }
}
