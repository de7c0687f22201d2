//! The crew, its posts and its other work.

mod duties;
pub(crate) mod head_count;
mod posts;
mod work;
mod worker;

use scullery_engine::line::Worker;

pub(crate) use duties::duties;
pub(crate) use posts::{post, post_name};
pub(crate) use work::{for_two, manned_by_two, rest_allowance};

use self::head_count::Sheet;
use super::checker::Checker;
use super::names::Names;
use crate::file::ScenarioFile;

/// Most people in a crew.
const MOST_PEOPLE: usize = 200;

/// The crew: those of the file in file order, then those of the head count.
pub(crate) fn crew(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
    sheet: Option<&Sheet>,
    notices: &mut Vec<String>,
) -> Vec<Worker> {
    let mut crew = Vec::new();
    let paces = worker::rising(check, &file.work.pace_by_clock, "work.pace_by_clock");
    for (index, written) in file.crew.iter().enumerate() {
        let one = worker::worker(check, file, written, &format!("crew.{index}"), names);
        match written.alike.unwrap_or(1) {
            1 => crew.push(one),
            many => crew.extend((1..=many).map(|number| Worker {
                name: format!("{} {number}", one.name),
                ..one.clone()
            })),
        }
    }
    let counted = file.head_count.is_some();
    if let (Some(written), Some(sheet)) = (&file.head_count, sheet) {
        crew.extend(head_count::workers(
            check, written, sheet, names, &paces, notices,
        ));
    }
    if file.crew.is_empty() && !counted {
        let help = "add a `[[crew]]`, or a `[head_count]`";
        check.fault("no-crew", "", "nobody is on the crew".to_owned(), help);
    }
    if crew.len() > MOST_PEOPLE {
        let message = format!(
            "a crew has at most {MOST_PEOPLE} people, found {}",
            crew.len()
        );
        let at = if counted { "head_count" } else { "crew" };
        check.fault("too-large", at, message, "let `alike` be smaller");
    }
    work::add_allowance(file, &mut crew);
    crew
}
