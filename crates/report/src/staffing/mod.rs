//! What is shown of a search for a crew or a size, and of what held the line back: words for the terminal, a page, pictures, data.

mod bottleneck_chapter;
mod crew_figures;
mod crew_page;
mod crew_words;
mod heat;
mod roster_figure;
mod sheet;
mod size_page;
mod stage_figure;
mod why_page;

pub use bottleneck_chapter::bottleneck_chapter;
pub use crew_page::{crew_files, crew_page};
pub use crew_words::crew_terminal;
pub use size_page::{size_files, size_terminal};
pub use why_page::{why_files, why_terminal};

use scullery_study::staffing::found::{About, Row, Searched};

use crate::error::Fault;
use crate::figure::Figure;
use crate::folder::ReportFile;
use crate::manifest::{FileEntry, MAKER, MANIFEST, Manifest, sha256};
use crate::png::png;
use crate::sheet::sourced_sheet;

/// The manifest of a folder of search results.
///
/// # Errors
/// When it cannot be written as JSON.
fn manifest_of(
    about: &About,
    searched: &Searched,
    files: &[ReportFile],
) -> Result<ReportFile, Fault> {
    let lunches = searched.lunches + searched.lunches_to_show;
    let manifest = Manifest {
        made_by: MAKER.to_owned(),
        version: about.version.clone(),
        name: about.name.clone(),
        scenario: about.source.clone(),
        scenario_sha256: about.hash.clone(),
        seed: about.seed,
        repeats: lunches,
        asked: lunches,
        complete: !searched.stopped,
        files: files
            .iter()
            .map(|file| FileEntry {
                name: file.name.clone(),
                bytes: file.bytes.len() as u64,
                sha256: sha256(&file.bytes),
            })
            .collect(),
    };
    let mut text = serde_json::to_string_pretty(&manifest)
        .map_err(|why| Fault::Data(format!("{MANIFEST}: {why}")))?;
    text.push('\n');
    Ok(file(MANIFEST, text))
}

/// The pictures as files, with their words on them.
///
/// # Errors
/// When a picture cannot be drawn.
fn picture_files(about: &About, pictures: &[Figure]) -> Result<Vec<ReportFile>, Fault> {
    let source = format!(
        "{}. Seed {}. scullery {}.",
        about.name, about.seed, about.version
    );
    let mut files = Vec::new();
    for picture in pictures {
        let sheet = sourced_sheet(picture, &source)?;
        files.push(file(format!("{}.png", picture.id), png(&sheet)?));
        files.push(file(format!("{}.svg", picture.id), sheet));
    }
    Ok(files)
}

fn file(name: impl Into<String>, bytes: impl Into<Vec<u8>>) -> ReportFile {
    ReportFile {
        name: name.into(),
        bytes: bytes.into(),
    }
}

/// Anything that can be JSON, with a line feed at its end.
fn json<T: serde::Serialize>(name: &str, it: &T) -> Result<String, Fault> {
    let mut text =
        serde_json::to_string_pretty(it).map_err(|why| Fault::Data(format!("{name}: {why}")))?;
    text.push('\n');
    Ok(text)
}

/// Rows of text as CSV.
fn csv_of(
    name: &str,
    head: &[&str],
    rows: impl Iterator<Item = Vec<String>>,
) -> Result<Vec<u8>, Fault> {
    let bad = |why: String| Fault::Data(format!("{name}: {why}"));
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(head).map_err(|why| bad(why.to_string()))?;
    for row in rows {
        out.write_record(&row).map_err(|why| bad(why.to_string()))?;
    }
    out.into_inner().map_err(|why| bad(why.to_string()))
}

/// A cost with the user's sign, or hours.
fn cost(value: f64, currency: &str) -> String {
    match currency {
        "" => format!("{} h", crate::number::fixed(value, 1)),
        sign => format!("{} {sign}", crate::number::fixed(value, 2)),
    }
}

/// `1 person`, `4 people`.
fn people(count: u32) -> String {
    scullery_study::staffing::words::people(count)
}

/// The cells of a row in one line.
fn cells(row: &Row) -> String {
    let each: Vec<String> = row
        .cells
        .iter()
        .enumerate()
        .map(|(number, cell)| {
            let bad = if cell.verdict == "fails" {
                " fails"
            } else {
                ""
            };
            format!("{}: {}{bad}", letter(number), cell.text)
        })
        .collect();
    each.join("; ")
}

/// A, B, C, ...; after Z numbers.
fn letter(number: usize) -> String {
    match u8::try_from(number) {
        Ok(n) if n < 26 => char::from(b'A' + n).to_string(),
        _ => (number + 1).to_string(),
    }
}
