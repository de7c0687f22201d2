//! What all studies over several plans have in common: where files go, what is printed, Ctrl-C.

use std::path::PathBuf;

use scullery_report::studies::{StudyPage, json, study_terminal};
use scullery_report::terminal::plain;
use scullery_report::{Destination, Fault, ReportFile};

use crate::arguments::{DEFAULT_FOLDER, UnitsChoice};
use crate::outcome::Stop;
use crate::study_arguments::StudyOptions;
use crate::voice::{columns, say};

/// Where the files of a study go; asked before the work is done.
pub(crate) struct Place {
    folder: Option<PathBuf>,
    destination: Option<Destination>,
}

impl Place {
    /// Looks whether the folder may be written.
    ///
    /// # Errors
    /// When it holds what this program did not put there.
    pub(crate) fn claim(options: &StudyOptions) -> Result<Place, Stop> {
        let usual = (!options.json).then(|| PathBuf::from(DEFAULT_FOLDER));
        let folder = options.out.clone().or(usual);
        let destination = folder.as_deref().map(Destination::claim).transpose()?;
        Ok(Place {
            folder,
            destination,
        })
    }
}

/// Writes the files and prints what was asked for.
///
/// # Errors
/// When something cannot be made, written or printed.
pub(crate) fn tell_study<S: serde::Serialize>(
    study: &S,
    page: &StudyPage,
    files: impl FnOnce() -> Result<Vec<ReportFile>, Fault>,
    place: Place,
    options: &StudyOptions,
) -> Result<(), Stop> {
    let mut written = String::new();
    if let (Some(destination), Some(folder)) = (place.destination, &place.folder) {
        let files = files()?;
        destination.write(&files)?;
        let beside: Vec<&str> = files
            .iter()
            .map(|file| file.name.as_str())
            .filter(|name| name.ends_with(".csv") || name.ends_with(".json"))
            .collect();
        written = format!(
            "\nPage: {}\nBeside it: {} and the pictures\n",
            folder.join("report.html").display(),
            beside.join(", ")
        );
    }
    if options.json {
        say(&json(study)?)
    } else if options.quiet {
        say(&format!("{}\n", plain(&page.answer)))
    } else {
        say(&format!("{}{written}", study_terminal(page, columns())))
    }
}

/// Threads as the study takes them.
pub(crate) fn threads(options: &StudyOptions) -> usize {
    options.threads.map_or(0, usize::from)
}

/// The name a result gives to units.
pub(crate) fn units_words(units: UnitsChoice) -> &'static str {
    match units {
        UnitsChoice::Metric => "metric",
        UnitsChoice::Us => "us",
    }
}
