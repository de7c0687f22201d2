//! `scullery new`: a commented scenario to start from.

use std::ffi::OsStr;
use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use crate::outcome::Stop;
use crate::voice::say;

/// Where the scenario called `name` goes: the name itself when it ends in `.toml`, else with that ending.
fn place(name: &Path) -> Result<PathBuf, Stop> {
    let Some(last) = name.file_name() else {
        return Err(Stop::wrong(format!(
            "`{}` names no file; write for example `scullery new lunch`",
            name.display()
        )));
    };
    if name.extension() == Some(OsStr::new("toml")) {
        return Ok(name.to_owned());
    }
    let mut file = last.to_owned();
    file.push(".toml");
    Ok(name.with_file_name(file))
}

/// Writes the starter `text` to the place `name` stands for, whole or not at all, and never over another file.
///
/// # Errors
/// When the file is there already, or the disk says no.
pub(crate) fn write_starter(name: &Path, text: &str) -> Result<(), Stop> {
    let path = place(name)?;
    let shown = path.display();
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(&path)
        .map_err(|why| match why.kind() {
            ErrorKind::AlreadyExists => Stop::wrong(format!(
                "{shown} is there already and is left as it is; name another, or move it away"
            )),
            ErrorKind::NotFound => Stop::wrong(format!("{shown}: its folder is not there")),
            _ => Stop::failed(format!("{shown}: {why}")),
        })?;
    if let Err(why) = file.write_all(text.as_bytes()) {
        drop(file);
        // Half a scenario would only puzzle; that it could not be removed adds nothing to the first complaint.
        let _ = std::fs::remove_file(&path);
        return Err(Stop::failed(format!("{shown}: {why}")));
    }
    say(&format!(
        "{shown} is written. Change it with any editor, then:\n  scullery check {shown}    what it means\n  \
         scullery run {shown}      does it hold\n"
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_gets_its_ending_once() {
        assert_eq!(place(Path::new("lunch")), Ok(PathBuf::from("lunch.toml")));
        assert_eq!(
            place(Path::new("a/lunch.toml")),
            Ok(PathBuf::from("a/lunch.toml"))
        );
        assert_eq!(place(Path::new("v1.2")), Ok(PathBuf::from("v1.2.toml")));
        assert!(place(Path::new("..")).is_err());
    }
}
