//! What a folder of results holds and where it came from.

use scullery_study::summary::Summary;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use crate::error::Fault;
use crate::folder::ReportFile;

/// Name of the manifest in its folder.
pub const MANIFEST: &str = "manifest.json";

/// Who writes such folders.
pub const MAKER: &str = "scullery";

/// The manifest of a folder of results. It holds no time of day, so the same study gives the same bytes.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq, Eq)]
pub struct Manifest {
    /// Always [`MAKER`].
    pub made_by: String,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub name: String,
    /// Where the scenario came from.
    pub scenario: String,
    /// SHA-256 of the scenario text.
    pub scenario_sha256: String,
    /// Seed of the study.
    pub seed: u64,
    /// How many times the meal was simulated.
    pub repeats: u64,
    /// How many times it was to be simulated.
    pub asked: u64,
    /// Whether all that was asked for was done.
    pub complete: bool,
    /// The other files of the folder.
    pub files: Vec<FileEntry>,
}

/// One file of a folder.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq, Eq)]
pub struct FileEntry {
    /// Its name.
    pub name: String,
    /// Its size in bytes.
    pub bytes: u64,
    /// Its SHA-256, lower-case hexadecimal.
    pub sha256: String,
}

/// What a folder of results was made from.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Origin {
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub name: String,
    /// Where the scenario came from.
    pub scenario: String,
    /// SHA-256 of the scenario text.
    pub hash: String,
    /// Seed of the study.
    pub seed: u64,
    /// How many times the meal was simulated.
    pub repeats: u64,
    /// How many times it was to be simulated.
    pub asked: u64,
}

/// The manifest of these files as a file of its own.
///
/// # Errors
/// When it cannot be written as JSON.
pub fn manifest(summary: &Summary, files: &[ReportFile]) -> Result<ReportFile, Fault> {
    let origin = Origin {
        version: summary.source.version.clone(),
        name: summary.heading.name.clone(),
        scenario: summary.source.scenario.clone(),
        hash: summary.source.hash.clone(),
        seed: summary.seed,
        repeats: summary.repeats,
        asked: summary.asked,
    };
    manifest_of(&origin, files)
}

/// The manifest of files made from `origin`.
///
/// # Errors
/// When it cannot be written as JSON.
pub fn manifest_of(origin: &Origin, files: &[ReportFile]) -> Result<ReportFile, Fault> {
    let manifest = Manifest {
        made_by: MAKER.to_owned(),
        version: origin.version.clone(),
        name: origin.name.clone(),
        scenario: origin.scenario.clone(),
        scenario_sha256: origin.hash.clone(),
        seed: origin.seed,
        repeats: origin.repeats,
        asked: origin.asked,
        complete: origin.repeats == origin.asked,
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
    Ok(ReportFile {
        name: MANIFEST.to_owned(),
        bytes: text.into_bytes(),
    })
}

/// SHA-256 as lower-case hexadecimal.
pub fn sha256(bytes: &[u8]) -> String {
    Sha256::digest(bytes)
        .iter()
        .map(|byte| format!("{byte:02x}"))
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_hash_is_sha_256() {
        // FIPS 180-4, the worked example for "abc".
        let of_abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";
        assert_eq!(super::sha256(b"abc"), of_abc);
    }
}
