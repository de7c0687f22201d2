//! What a stopwatch sheet says.

use scullery_study::stopwatch::family::Family;
use scullery_study::stopwatch::standard::{Convention, StandardTime, standard_time};
use scullery_study::stopwatch::{FEW, TimeStudy};
use serde::Serialize;

use super::files::files;
use super::{Section, StudyPage, cautions};
use crate::error::Fault;
use crate::figure::times::{fits_table, times};
use crate::folder::ReportFile;
use crate::manifest::Origin;
use crate::number::fixed;

/// A sheet of readings, task by task.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeSheet {
    /// What the sheet is called.
    pub name: String,
    /// How it was read, in plain sentences.
    pub notices: Vec<String>,
    /// The tasks.
    pub tasks: Vec<Task>,
    /// How observed time becomes standard time, where that was said.
    pub rating: Option<Rating>,
}

/// One task of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// Its name; empty when the sheet has one task only.
    pub name: String,
    /// What its readings say.
    pub study: TimeStudy,
}

/// How observed time becomes standard time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rating {
    /// 1 at normal pace, more for a quick worker.
    pub rating: f64,
    /// A share, 0 to below 1.
    pub allowance: f64,
    /// Of what it is a share.
    pub convention: Convention,
}

impl Rating {
    fn of(self, study: &TimeStudy) -> StandardTime {
        standard_time(study.mean, self.rating, self.allowance, self.convention)
    }

    fn words(self, time: StandardTime) -> String {
        let of = match self.convention {
            Convention::ShareOfBasic => "of the basic time",
            Convention::ShareOfShift => "of the whole shift",
        };
        format!(
            "Standard time: {} s (observed {} s x rating {} = basic {} s; with an allowance of {} % {of}).",
            fixed(time.standard_s, 2),
            fixed(time.observed_s, 2),
            fixed(self.rating, 2),
            fixed(time.basic_s, 2),
            fixed(self.allowance * 100.0, 1),
        )
    }
}

/// The name a task goes by in sentences and pictures.
fn called(task: &Task) -> &str {
    if task.name.is_empty() {
        "the task"
    } else {
        &task.name
    }
}

/// Name of a task's picture, without ending.
fn file_of(tasks: &[Task], index: usize) -> String {
    if tasks.len() == 1 {
        "times".to_owned()
    } else {
        format!("times-{}", index + 1)
    }
}

/// The sheet as a page: one section a task.
///
/// # Errors
/// When a picture cannot be drawn.
pub fn sheet_page(sheet: &TimeSheet) -> Result<StudyPage, Fault> {
    let mut sections = Vec::new();
    for (index, task) in sheet.tasks.iter().enumerate() {
        let id = file_of(&sheet.tasks, index);
        let picture = times(&id, called(task), &task.study)?;
        let mut words = vec![counted(&task.study)];
        words.extend(sentences(&task.study, sheet.rating));
        words.push("A line for a scenario, behind the key of the task in seconds:".to_owned());
        words.push(task.study.best_line());
        sections.push(
            Section {
                words,
                tables: vec![(fits_table(&task.study), vec![6])],
                pictures: vec![picture],
                list: vec![format!(
                    "The readings themselves: {}",
                    task.study.readings_line()
                )],
                ..Section::new(&id, &capital(called(task)))
            }
            .told_in_full(),
        );
    }
    sections.push(cautions(&[
        "A stopwatch says how long a task took those who were timed, on that day. Time several people, in the rush and \
         outside it, and tell them why."
            .to_owned(),
        "Paces that leave no room for rest are people's health: add an allowance, and keep breaks.".to_owned(),
    ]));
    Ok(StudyPage {
        kind: "Stopwatch sheet".to_owned(),
        name: sheet.name.clone(),
        note: sheet.notices.join(" "),
        answer: answer(sheet),
        sections,
        ..StudyPage::default()
    })
}

/// One sentence on the whole sheet.
fn answer(sheet: &TimeSheet) -> String {
    let each: Vec<String> = sheet
        .tasks
        .iter()
        .map(|task| {
            let family = task
                .study
                .fits
                .first()
                .map_or("constant", |fit| fit.fitted.family.name());
            format!(
                "{} takes {} s in the mean ({family} fits best)",
                called(task),
                fixed(task.study.mean, 2)
            )
        })
        .collect();
    capital(&each.join("; ")) + "."
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// How many readings, their mean and how sure it is.
fn counted(study: &TimeStudy) -> String {
    format!(
        "{} readings, mean {} s (between {} and {} s, 19 times of 20), sd / mean {}.",
        study.readings.len(),
        fixed(study.mean, 2),
        fixed(study.mean_ci95[0], 2),
        fixed(study.mean_ci95[1], 2),
        fixed(study.cv(), 2)
    )
}

/// Sentences about one task: what is not told apart, how many more readings, standard time, cautions.
fn sentences(study: &TimeStudy, rating: Option<Rating>) -> Vec<String> {
    let mut all = Vec::new();
    let near: Vec<&str> = study
        .fits
        .iter()
        .skip(1)
        .filter(|fit| !fit.told_apart)
        .map(|fit| fit.fitted.family.name())
        .collect();
    if let Some(best) = study.fits.first() {
        if !near.is_empty() {
            all.push(format!(
                "These readings do not tell {} from {}.",
                best.fitted.family.name(),
                near.join(" or ")
            ));
        }
        if best.unusual < 0.05 {
            all.push(
                "Even the best curve fits badly; use the readings themselves, and look whether two kinds of task are mixed."
                    .to_owned(),
            );
        }
    } else {
        all.push("All readings are equal; was the time read to the second only?".to_owned());
    }
    let n = study.readings.len();
    if n < FEW {
        all.push(format!(
            "{n} readings say little about the shape of the curve; {FEW} or more are better."
        ));
    }
    let more = |wanted: u64| match wanted.saturating_sub(n as u64) {
        0 => "enough as it is".to_owned(),
        more => format!("{more} more readings ({wanted} in all)"),
    };
    all.push(format!(
        "For the mean within 10 %: {}.",
        more(study.needed_for_10_percent)
    ));
    all.push(format!(
        "For the mean within 5 %: {}.",
        more(study.needed_for_5_percent)
    ));
    if let Some(rating) = rating {
        all.push(rating.words(rating.of(study)));
    }
    all
}

/// The sheet as data.
#[derive(Serialize)]
pub struct SheetOut<'a> {
    notices: &'a [String],
    tasks: Vec<TaskOut<'a>>,
}

/// The sheet as data, to be written as JSON.
pub fn sheet_data(sheet: &TimeSheet) -> SheetOut<'_> {
    SheetOut {
        notices: &sheet.notices,
        tasks: sheet
            .tasks
            .iter()
            .map(|task| task_out(task, sheet.rating))
            .collect(),
    }
}

#[derive(Serialize)]
struct TaskOut<'a> {
    task: &'a str,
    readings: usize,
    mean_s: f64,
    sd_s: f64,
    mean_ci95_s: [f64; 2],
    needed_for_10_percent: u64,
    needed_for_5_percent: u64,
    fits: Vec<FitOut>,
    standard_time: Option<StandardOut>,
    best_line: String,
    readings_line: String,
}

#[derive(Serialize)]
struct FitOut {
    family: &'static str,
    parameters: Vec<f64>,
    mean_s: f64,
    cv: f64,
    log_likelihood: f64,
    criterion: f64,
    distance: f64,
    unusual: f64,
    told_apart: bool,
}

#[derive(Serialize)]
struct StandardOut {
    observed_s: f64,
    rating: f64,
    basic_s: f64,
    allowance: f64,
    allowance_is_share_of: &'static str,
    standard_s: f64,
}

fn task_out(task: &Task, rating: Option<Rating>) -> TaskOut<'_> {
    let study = &task.study;
    let fits = study.fits.iter().map(|fit| FitOut {
        family: fit.fitted.family.name(),
        parameters: match fit.fitted.family {
            Family::Exponential => vec![fit.fitted.a],
            _ => vec![fit.fitted.a, fit.fitted.b],
        },
        mean_s: fit.fitted.mean(),
        cv: fit.fitted.cv(),
        log_likelihood: fit.fitted.log_likelihood,
        criterion: fit.fitted.criterion(),
        distance: fit.distance,
        unusual: fit.unusual,
        told_apart: fit.told_apart,
    });
    let standard = rating.map(|rating| {
        let time = rating.of(study);
        StandardOut {
            observed_s: time.observed_s,
            rating: rating.rating,
            basic_s: time.basic_s,
            allowance: rating.allowance,
            allowance_is_share_of: match rating.convention {
                Convention::ShareOfBasic => "basic time",
                Convention::ShareOfShift => "shift",
            },
            standard_s: time.standard_s,
        }
    });
    TaskOut {
        task: &task.name,
        readings: study.readings.len(),
        mean_s: study.mean,
        sd_s: study.sd,
        mean_ci95_s: study.mean_ci95,
        needed_for_10_percent: study.needed_for_10_percent,
        needed_for_5_percent: study.needed_for_5_percent,
        fits: fits.collect(),
        standard_time: standard,
        best_line: study.best_line(),
        readings_line: study.readings_line(),
    }
}

/// Every file of a sheet: the page, `fit.json`, the pictures, the manifest last.
///
/// # Errors
/// When a picture cannot be drawn or a data file cannot be made.
pub fn sheet_files(sheet: &TimeSheet, origin: &Origin) -> Result<Vec<ReportFile>, Fault> {
    let data = super::json(&sheet_data(sheet))?.into_bytes();
    files(&sheet_page(sheet)?, origin, vec![("fit.json", data)])
}
