//! The files of a study: its page, its data, its pictures.

use scullery_study::compare::Comparison;
use scullery_study::headroom::Headroom;
use scullery_study::paired::MeanDifference;
use scullery_study::summary::Measure;
use scullery_study::vary::{Tornado, Variation};
use serde::Serialize;

use super::compared::options;
use super::varied::verdict;
use super::{StudyPage, comparison_page, headroom_page, html, tornado_page, variation_page};
use crate::data::{plain, table};
use crate::error::Fault;
use crate::folder::ReportFile;
use crate::manifest::{Origin, manifest_of};
use crate::png::png;
use crate::sheet::{options_sheet, sourced_sheet};

/// A study as JSON with a line feed at its end.
///
/// # Errors
/// When it cannot be written as JSON.
pub fn json(study: &impl Serialize) -> Result<String, Fault> {
    let mut text =
        serde_json::to_string_pretty(study).map_err(|why| Fault::Data(why.to_string()))?;
    text.push('\n');
    Ok(text)
}

pub(super) fn files(
    page: &StudyPage,
    origin: &Origin,
    data: Vec<(&str, Vec<u8>)>,
) -> Result<Vec<ReportFile>, Fault> {
    let mut files = vec![ReportFile::new("report.html", html(page, &origin.version))];
    files.extend(
        data.into_iter()
            .map(|(name, bytes)| ReportFile::new(name, bytes)),
    );
    let lunches = if origin.repeats > 0 {
        format!(
            ": {} simulated lunches, seed {}",
            origin.repeats, origin.seed
        )
    } else {
        String::new()
    };
    let source = format!(
        "{}. {}{lunches}. scullery {}.",
        origin.name, page.kind, origin.version
    );
    for picture in page.sections.iter().flat_map(|section| &section.pictures) {
        let sheet = sourced_sheet(picture, &source)?;
        files.push(ReportFile::new(format!("{}.png", picture.id), png(&sheet)?));
        files.push(ReportFile::new(format!("{}.svg", picture.id), sheet));
    }
    let last = manifest_of(origin, &files)?;
    files.push(last);
    Ok(files)
}

/// Ends of an interval as two cells.
fn ends(interval: Option<[f64; 2]>) -> [String; 2] {
    interval
        .map_or([None, None], |ends| ends.map(Some))
        .map(plain)
}

const OF_MEASURE: [&str; 7] = [
    "lunches",
    "mean",
    "mean_low",
    "mean_high",
    "p05",
    "p50",
    "p95",
];

fn of_measure(measure: &Measure) -> Vec<String> {
    let [low, high] = ends(measure.ci95);
    let quantiles = [measure.p05, measure.p50, measure.p95].map(plain);
    let mut row = vec![measure.n.to_string(), plain(measure.mean), low, high];
    row.extend(quantiles);
    row
}

const OF_DIFFERENCE: [&str; 4] = [
    "difference",
    "difference_low",
    "difference_high",
    "variance_saved",
];

fn of_difference(difference: Option<&MeanDifference>) -> Vec<String> {
    let [low, high] = ends(difference.and_then(|d| d.interval));
    vec![
        plain(difference.map(|d| d.mean)),
        low,
        high,
        plain(difference.and_then(|d| d.saved)),
    ]
}

fn head(columns: &[&[&str]]) -> Vec<String> {
    columns
        .iter()
        .flat_map(|part| part.iter().map(|name| (*name).to_owned()))
        .collect()
}

/// Every file of a comparison, the manifest last.
///
/// # Errors
/// When a picture cannot be drawn or a data file cannot be made.
pub fn comparison_files(of: &Comparison, origin: &Origin) -> Result<Vec<ReportFile>, Fault> {
    let rows = of.measures.iter().flat_map(|row| {
        row.values.iter().enumerate().map(move |(number, value)| {
            let difference = number
                .checked_sub(1)
                .and_then(|at| row.differences[at].as_ref());
            let mut cells = vec![
                row.id.clone(),
                row.unit.clone(),
                of.arrangements[number].name.clone(),
            ];
            cells.extend(of_measure(value));
            cells.extend(of_difference(difference));
            cells
        })
    });
    let head = head(&[
        &["measure", "unit", "arrangement"],
        &OF_MEASURE,
        &OF_DIFFERENCE,
    ]);
    let mut data = vec![
        ("comparison.json", json(of)?.into_bytes()),
        ("differences.csv", table("differences.csv", &head, rows)?),
    ];
    if let Some(sheet) = options_sheet(&of.heading, &origin.version, &options(of)) {
        data.push(("options.html", sheet.into_bytes()));
    }
    files(&comparison_page(of)?, origin, data)
}

/// Every file of a search for headroom, the manifest last.
///
/// # Errors
/// As [`comparison_files`].
pub fn headroom_files(of: &Headroom, origin: &Origin) -> Result<Vec<ReportFile>, Fault> {
    let rows = of.days.iter().flat_map(|day| {
        day.trials.iter().flat_map(move |trial| {
            trial.targets.iter().map(move |target| {
                let [low, high] = ends(target.interval);
                vec![
                    day.day.clone(),
                    plain(Some(trial.covers)),
                    trial.lunches.to_string(),
                    trial.verdict.clone(),
                    target.words.clone(),
                    target.verdict.clone(),
                    target.held.map_or("-".to_owned(), |held| held.to_string()),
                    low,
                    high,
                ]
            })
        })
    });
    let head = head(&[&[
        "day",
        "covers",
        "lunches",
        "all_targets",
        "target",
        "verdict",
        "held",
        "low",
        "high",
    ]]);
    let data = vec![
        ("headroom.json", json(of)?.into_bytes()),
        ("trials.csv", table("trials.csv", &head, rows)?),
    ];
    files(&headroom_page(of)?, origin, data)
}

/// Every file of numbers varied, the manifest last.
///
/// # Errors
/// As [`comparison_files`].
pub fn variation_files(of: &Variation, origin: &Origin) -> Result<Vec<ReportFile>, Fault> {
    let mut head = vec!["point".to_owned()];
    head.extend(of.varied.iter().map(|varied| varied.path.clone()));
    head.extend(["all_targets", "unfinished"].map(str::to_owned));
    for id in &of.measures {
        head.extend(OF_MEASURE.iter().map(|part| format!("{id}.{part}")));
    }
    let rows = of.points.iter().enumerate().map(|(number, point)| {
        let mut row = vec![(number + 1).to_string()];
        row.extend(point.values.iter().map(|value| plain(Some(*value))));
        row.extend([verdict(point).to_owned(), point.unfinished.to_string()]);
        row.extend(point.measures.iter().flat_map(of_measure));
        row
    });
    let data = vec![
        ("variation.json", json(of)?.into_bytes()),
        ("points.csv", table("points.csv", &head, rows)?),
    ];
    files(&variation_page(of)?, origin, data)
}

/// Every file of what matters most, the manifest last.
///
/// # Errors
/// As [`comparison_files`].
pub fn tornado_files(of: &Tornado, origin: &Origin) -> Result<Vec<ReportFile>, Fault> {
    let rows = of.bars.iter().flat_map(|bar| {
        let both = [
            (bar.varied.low, &bar.at_low),
            (bar.varied.high, &bar.at_high),
        ];
        both.map(|(value, difference)| {
            let mut row = vec![
                bar.varied.path.clone(),
                plain(Some(value)),
                plain(bar.varied.present),
            ];
            row.extend(of_difference(difference.as_ref()));
            row
        })
    });
    let head = head(&[&["number", "value", "now"], &OF_DIFFERENCE]);
    let data = vec![
        ("tornado.json", json(of)?.into_bytes()),
        ("bars.csv", table("bars.csv", &head, rows)?),
    ];
    files(&tornado_page(of)?, origin, data)
}
