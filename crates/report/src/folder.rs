//! The folder of results: which files, and how they come to the disk whole or not at all.

use std::fs;
use std::path::{Path, PathBuf};

use crate::data::{per_meal_csv, per_minute_csv, summary_json, table_csv};
use crate::error::Fault;
use crate::manifest::{MAKER, MANIFEST, Manifest, manifest};
use crate::page::page_with;
use crate::png::png;
use crate::report::Report;
use crate::sheet::{element_schedule, element_table, options_page, picture_sheet, wall_sheet};
use crate::workbook::{WORKBOOK, workbook};

/// A file to be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReportFile {
    /// Its name, without folder.
    pub name: String,
    /// Its content.
    pub bytes: Vec<u8>,
}

impl ReportFile {
    pub(crate) fn new(name: impl Into<String>, bytes: impl Into<Vec<u8>>) -> ReportFile {
        ReportFile {
            name: name.into(),
            bytes: bytes.into(),
        }
    }
}

/// Every file of a report, the manifest last.
///
/// # Errors
/// When a picture cannot be drawn or a data file cannot be made.
pub fn report_files(report: &Report<'_>) -> Result<Vec<ReportFile>, Fault> {
    let summary = report.summary;
    let pictures = report.figures()?;
    let mut files = vec![
        ReportFile::new("report.html", page_with(report, &pictures)?),
        ReportFile::new("summary.json", summary_json(summary)?),
        ReportFile::new("per-meal.csv", per_meal_csv(summary)?),
        ReportFile::new("per-minute.csv", per_minute_csv(summary)?),
        ReportFile::new(WORKBOOK, workbook(report)?),
    ];
    if let Some(sheet) = wall_sheet(summary) {
        files.push(ReportFile::new("wall-sheet.html", sheet));
    }
    if let (Some(sheet), Some(table)) = (element_schedule(summary), element_table(summary)) {
        files.push(ReportFile::new("element-schedule.html", sheet));
        files.push(ReportFile::new("element-schedule.csv", table_csv(&table)?));
    }
    if let Some(sheet) = options_page(summary, report.arrangements) {
        files.push(ReportFile::new("options.html", sheet));
    }
    let brought = report.chapters.iter().flat_map(|chapter| &chapter.figures);
    for picture in pictures.iter().chain(brought) {
        let sheet = picture_sheet(picture, summary)?;
        files.push(ReportFile::new(format!("{}.png", picture.id), png(&sheet)?));
        files.push(ReportFile::new(format!("{}.svg", picture.id), sheet));
    }
    for (repeat, table) in report.kept {
        files.push(ReportFile::new(
            format!("meal-{repeat}.csv"),
            table.as_str(),
        ));
    }
    let last = manifest(summary, &files)?;
    files.push(last);
    Ok(files)
}

/// A folder that may be written: it is absent, empty, or holds an earlier result of this program.
#[derive(Debug)]
pub struct Destination {
    folder: PathBuf,
    /// Files that an earlier result left there.
    earlier: Vec<String>,
}

/// Begins the name of the folder in which files wait until all are whole.
const STAGE: &str = ".scullery-part-";

impl Destination {
    /// Looks whether results may go to this folder. Writes nothing.
    ///
    /// # Errors
    /// [`Fault::Refused`] when something is there that this program did not put there; [`Fault::Disk`] when the folder
    /// cannot be read.
    pub fn claim(folder: &Path) -> Result<Destination, Fault> {
        let refused = |why: String| Fault::Refused {
            folder: folder.to_owned(),
            why,
        };
        let disk = |source| Fault::Disk {
            path: folder.to_owned(),
            source,
        };
        let free = Destination {
            folder: folder.to_owned(),
            earlier: Vec::new(),
        };
        match fs::metadata(folder) {
            Err(why) if why.kind() == std::io::ErrorKind::NotFound => return Ok(free),
            Err(why) => return Err(disk(why)),
            Ok(found) if !found.is_dir() => {
                return Err(refused("it is a file, not a folder".to_owned()));
            }
            Ok(_) => {}
        }
        let mut names = Vec::new();
        for entry in fs::read_dir(folder).map_err(disk)? {
            names.push(
                entry
                    .map_err(disk)?
                    .file_name()
                    .to_string_lossy()
                    .into_owned(),
            );
        }
        names.retain(|name| !name.starts_with(STAGE));
        names.sort();
        let Some(example) = names.first() else {
            return Ok(free);
        };
        match earlier_files(&folder.join(MANIFEST)) {
            Some(earlier) => Ok(Destination { earlier, ..free }),
            None => Err(refused(format!(
                "it holds files that {MAKER} did not write (for example `{example}`)"
            ))),
        }
    }

    /// Writes the files: first all of them aside, then each moved into its place, the manifest before the others so
    /// that an interrupted write can be told and repeated. Files of an earlier result that are no longer made are
    /// taken away; anything else in the folder stays.
    ///
    /// # Errors
    /// [`Fault::Refused`] when a name is taken by a file that this program did not write (nothing is written then);
    /// [`Fault::Disk`] when the disk says no.
    pub fn write(self, files: &[ReportFile]) -> Result<(), Fault> {
        for file in files {
            let ours = file.name == MANIFEST || self.earlier.contains(&file.name);
            if !ours && self.folder.join(&file.name).symlink_metadata().is_ok() {
                let why = format!("`{}` there was not written by {MAKER}", file.name);
                return Err(Fault::Refused {
                    folder: self.folder.clone(),
                    why,
                });
            }
        }
        let stage = self.folder.join(format!("{STAGE}{}", std::process::id()));
        make_folder(&stage)?;
        let moved = self.stage_and_move(&stage, files);
        // Whatever happened, nothing half written stays behind; a failure to tidy is not a failure to write.
        let _ = fs::remove_dir_all(&stage);
        moved
    }

    fn stage_and_move(&self, stage: &Path, files: &[ReportFile]) -> Result<(), Fault> {
        for file in files {
            let path = stage.join(&file.name);
            fs::write(&path, &file.bytes).map_err(|source| Fault::Disk { path, source })?;
        }
        let (first, others): (Vec<_>, Vec<_>) =
            files.iter().partition(|file| file.name == MANIFEST);
        for file in first.into_iter().chain(others) {
            let path = self.folder.join(&file.name);
            fs::rename(stage.join(&file.name), &path)
                .map_err(|source| Fault::Disk { path, source })?;
        }
        for name in self
            .earlier
            .iter()
            .filter(|name| !files.iter().any(|file| &file.name == *name))
        {
            let path = self.folder.join(name);
            match fs::remove_file(&path) {
                Err(source) if source.kind() != std::io::ErrorKind::NotFound => {
                    return Err(Fault::Disk { path, source });
                }
                _ => {}
            }
        }
        Ok(())
    }
}

/// Makes a folder and those above it.
fn make_folder(path: &Path) -> Result<(), Fault> {
    fs::create_dir_all(path).map_err(|source| Fault::Disk {
        path: path.to_owned(),
        source,
    })
}

/// The files an earlier result left, by its manifest; `None` when there is no manifest of this program.
///
/// Names that reach out of the folder are passed over: a manifest is a file like any other and may have been changed.
fn earlier_files(manifest: &Path) -> Option<Vec<String>> {
    let text = fs::read_to_string(manifest).ok()?;
    let read: Manifest = serde_json::from_str(&text).ok()?;
    (read.made_by == MAKER).then(|| {
        read.files
            .into_iter()
            .map(|file| file.name)
            .filter(|name| {
                Path::new(name)
                    .file_name()
                    .is_some_and(|last| last == name.as_str())
            })
            .collect()
    })
}
