//! Where the command meets the rest of the house: scenarios are read here and lunches simulated.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use scullery_report::Summary;

use crate::arguments::{RunOptions, UnitsChoice};
use crate::outcome::Stop;

const NOT_YET: &str = "not joined yet";

/// A checked scenario and where it came from.
pub(crate) struct Lunch {
    source: String,
    example: bool,
}
impl Lunch {
    pub(crate) fn from_file(path: &Path) -> Result<Lunch, Stop> {
        Ok(Lunch {
            source: path.display().to_string(),
            example: false,
        })
    }
    pub(crate) fn from_demo(_name: &str) -> Result<Lunch, Stop> {
        Err(Stop::failed(NOT_YET))
    }
    pub(crate) fn example() -> Result<Lunch, Stop> {
        Ok(Lunch {
            source: "embedded".into(),
            example: true,
        })
    }
    pub(crate) fn source(&self) -> &str {
        &self.source
    }
    pub(crate) fn is_example(&self) -> bool {
        self.example
    }
}
pub(crate) fn simulate(
    _l: &Lunch,
    _o: &RunOptions,
    _p: &dyn Fn(u64),
    _s: &AtomicBool,
) -> Result<Summary, Stop> {
    Err(Stop::failed(NOT_YET))
}
pub(crate) fn check(_f: &Path, _u: Option<UnitsChoice>) -> Result<(), Stop> {
    Err(Stop::failed(NOT_YET))
}
pub(crate) fn starter(_name: &Path) -> String {
    "# starter\n".into()
}
pub(crate) fn schema() -> String {
    "{}\n".into()
}
