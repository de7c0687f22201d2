//! Setting up and cleaning become other work.

use scullery_engine::dist::Dist;
use scullery_engine::line::{Duty, DutyWhen, Moment, Post};
use scullery_engine::time::Span;

use super::checker::Checker;
use super::crew::post;
use super::names::Names;
use crate::defaults::{self, Standard};
use crate::file::{After, CleaningFile, ScenarioFile, SideOfRoom};
use crate::plan::{Care, CareJob};

/// Setting up and cleaning as a line and its reader need them.
#[derive(Default)]
pub(crate) struct CareWork {
    /// The work.
    pub(crate) duties: Vec<Duty>,
    /// Where each stands in the file.
    pub(crate) paths: Vec<String>,
    /// What of it is told.
    pub(crate) told: Vec<CareJob>,
}

/// The work of setting up and cleaning, and what of it is told.
pub(crate) fn care(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> CareWork {
    let CareWork {
        mut duties,
        mut paths,
        mut told,
    } = CareWork::default();
    for (index, written) in file.set_up.iter().enumerate() {
        let path = format!("set_up.{index}");
        known(check, names, &written.of, &format!("{path}.of"));
        let at = match &written.at {
            Some(at) => check.clock(&format!("{path}.at"), at),
            None => check.starts,
        };
        let name = named(&duties, file, &format!("set up {}", spoken(&written.of)));
        duties.push(Duty {
            name,
            when: DutyWhen::At(vec![at]),
            work_s: Dist::Constant(60.0 * written.crew_min),
            by: by(check, names, &path, &written.by),
            may_wait: None,
            clean_side: written.of.starts_with("clean_end."),
        });
        told.push(CareJob {
            of: spoken(&written.of),
            care: Care::SetUp(at),
            crew_min: written.crew_min,
            drain_min: 0.0,
            shortened_by: Vec::new(),
        });
        paths.push(format!("{path}.by"));
    }
    for (index, written) in file.cleaning.iter().enumerate() {
        let path = format!("cleaning.{index}");
        known(check, names, &written.of, &format!("{path}.of"));
        let kind = written.of.split('.').next().unwrap_or("");
        let whole = check.or_default(
            written.crew_min,
            &format!("cleaning ({}).crew_min", written.of),
            usual(kind),
        );
        let (share, shortened_by) = shortened(check, written);
        let crew_min = whole * share;
        let parts = written.parts.unwrap_or(1);
        let drain_min = written.drain_min.unwrap_or(0.0);
        let moment = match written.after {
            Some(After::Sorted) => Moment::Sorted,
            Some(After::Washed) => Moment::Washed,
            Some(After::Clean) => Moment::Clean,
            None => usually_after(kind),
        };
        let clean_side = match written.side {
            Some(side) => side == SideOfRoom::Clean,
            None => kind == "clean_end",
        };
        let name = named(&duties, file, &format!("clean {}", spoken(&written.of)));
        duties.push(Duty {
            name,
            when: DutyWhen::AfterLast {
                moment,
                drains: Span::from_min(drain_min),
                jobs: parts,
            },
            work_s: Dist::Constant(60.0 * crew_min / f64::from(parts)),
            by: by(check, names, &path, &written.by),
            // It waits as long as anything else calls.
            may_wait: Some(Span::from_min(7.0 * 24.0 * 60.0)),
            clean_side,
        });
        told.push(CareJob {
            of: spoken(&written.of),
            care: Care::Cleaning(moment, parts),
            crew_min,
            drain_min,
            shortened_by,
        });
        paths.push(format!("{path}.by"));
    }
    CareWork {
        duties,
        paths,
        told,
    }
}

/// An element as people say it: `machine dish`.
pub(super) fn spoken(of: &str) -> String {
    of.replace("drop_off.", "drop-off ")
        .replace(['.', '_'], " ")
}

/// A name for the work that no other work has.
fn named(duties: &[Duty], file: &ScenarioFile, wanted: &str) -> String {
    let taken = |name: &String| {
        file.duty.contains_key(name) || duties.iter().any(|duty| duty.name == *name)
    };
    let again = (2..).map(|number| format!("{wanted} {number}"));
    std::iter::once(wanted.to_owned())
        .chain(again)
        .find(|name| !taken(name))
        .unwrap_or_default()
}

fn known(check: &mut Checker<'_>, names: &Names, of: &str, path: &str) {
    check.find(&names.elements(), of, path, "element");
}

fn by(check: &mut Checker<'_>, names: &Names, path: &str, written: &[String]) -> Vec<Post> {
    let mut posts = Vec::new();
    for (index, name) in written.iter().enumerate() {
        posts.extend(post(check, names, &format!("{path}.by.{index}"), name));
    }
    posts
}

/// Crew minutes of cleaning by kind of element, where the file does not say.
fn usual(kind: &str) -> &'static Standard {
    match kind {
        "belt" | "stacks" => &defaults::CLEAN_BELT,
        "machine" => &defaults::CLEAN_MACHINE,
        "scrapping" => &defaults::CLEAN_SCRAPPING,
        _ => &defaults::CLEAN_OTHER,
    }
}

fn usually_after(kind: &str) -> Moment {
    match kind {
        "racking" | "lane" | "machine" => Moment::Washed,
        "clean_end" | "delivery" => Moment::Clean,
        _ => Moment::Sorted,
    }
}

/// The share of the minutes that is left by what shortens them, and what that is.
fn shortened(check: &mut Checker<'_>, written: &CleaningFile) -> (f64, Vec<&'static str>) {
    let means = [
        (
            written.self_cleaning_return,
            &defaults::SELF_CLEANING,
            "a return run that washes itself",
        ),
        (
            written.lift_out_sections,
            &defaults::LIFT_OUT,
            "sections that lift out",
        ),
        (
            written.removable_parts,
            &defaults::REMOVABLE,
            "parts that come off",
        ),
    ];
    let mut share = 1.0;
    let mut by = Vec::new();
    for (has, standard, words) in means {
        if has {
            let key = format!(
                "cleaning ({}).{}",
                written.of,
                standard.key.rsplit('.').next().unwrap_or("")
            );
            share *= 1.0 - check.or_default(None, &key, standard);
            by.push(words);
        }
    }
    (share, by)
}
