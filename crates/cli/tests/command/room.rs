//! A folder in which the command is run.

use std::path::PathBuf;
use std::process::Output;

use assert_cmd::Command;
use tempfile::TempDir;

/// A folder of its own for one test, removed afterwards.
pub(crate) struct Room(TempDir);

impl Room {
    pub(crate) fn new() -> Room {
        Room(tempfile::tempdir().unwrap())
    }

    /// Where a name stands in the folder.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.0.path().join(name)
    }

    pub(crate) fn write(&self, name: &str, text: &str) {
        std::fs::write(self.path(name), text).unwrap();
    }

    pub(crate) fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap()
    }

    /// Names in the folder, sorted.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = std::fs::read_dir(self.0.path()).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect();
        names.sort();
        names
    }

    /// Runs the command here.
    pub(crate) fn scullery(&self, arguments: &[&str]) -> Said {
        let mut command = Command::new(env!("CARGO_BIN_EXE_scullery"));
        command
            .current_dir(self.0.path())
            .env_remove("COLUMNS")
            .args(arguments);
        Said::from(command.output().unwrap())
    }
}

/// What the command said and how it ended.
#[derive(Debug)]
pub(crate) struct Said {
    pub(crate) code: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

impl From<Output> for Said {
    fn from(output: Output) -> Said {
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).unwrap();
        Said {
            code: output.status.code(),
            out: text(output.stdout),
            err: text(output.stderr),
        }
    }
}
