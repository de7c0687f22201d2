//! `scullery run`: read, simulate, write, answer.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicBool, Ordering};

use scullery_report::data::summary_json;
use scullery_report::terminal::{Signs, plain, terminal, usable, wrap};
use scullery_report::{Chapter, Destination, Report, ReportFile, Summary, report_files};
use scullery_scenario::plan::Units;

use crate::arguments::{DEFAULT_FOLDER, RunArguments, RunOptions, UnitsChoice};
use crate::house::{self, Lunch};
use crate::outcome::{Outcome, Stop};
use crate::progress::{bar, stop_on_interrupt};
use crate::voice::{columns, say, tell};

/// Runs the lunch the arguments name.
///
/// # Errors
/// When the scenario is wrong, the folder is somebody else's, or the run fails.
pub(crate) fn run(arguments: &RunArguments) -> Result<Outcome, Stop> {
    let options = &arguments.options;
    let folder = folder(options);
    // Asked before the work is done, so that nobody waits for a report that has nowhere to go.
    let destination = folder.as_deref().map(Destination::claim).transpose()?;
    let mut lunch = Lunch::from(&arguments.from)?;
    if let Some(units) = options.units {
        lunch.show_in(match units {
            UnitsChoice::Metric => Units::Metric,
            UnitsChoice::Us => Units::Us,
        });
    }
    let stop = stop_on_interrupt();
    let summary = simulate(&lunch, options, &stop)?;
    if let (Some(destination), Some(folder)) = (destination, &folder) {
        let films = house::motion(&lunch, &summary)?;
        let kept = house::kept(&lunch, options);
        let chapters: Vec<Chapter> = house::bottleneck(&lunch, &summary, options, &stop)?
            .into_iter()
            .collect();
        let files = report_files(&Report {
            films: &films,
            chapters: &chapters,
            kept: &kept,
            ..Report::of(&summary)
        })?;
        destination.write(&files)?;
        if !options.json {
            return answer(
                &summary,
                options,
                Some((folder, &files)),
                lunch.is_example(),
            );
        }
    }
    answer(&summary, options, None, lunch.is_example())
}

/// Where files go: nowhere when only the JSON is wanted.
fn folder(options: &RunOptions) -> Option<PathBuf> {
    let usual = (!options.json).then(|| PathBuf::from(DEFAULT_FOLDER));
    options.out.clone().or(usual)
}

fn simulate(lunch: &Lunch, options: &RunOptions, stop: &AtomicBool) -> Result<Summary, Stop> {
    let bar = bar(options.repeats, options.quiet || options.json);
    let progress = |done, expected| {
        bar.set_length(expected);
        bar.set_position(done);
    };
    let result = house::simulate(lunch, options, &progress, stop);
    bar.finish_and_clear();
    let summary = result?;
    if summary.repeats == 0 && stop.load(Ordering::SeqCst) {
        return Err(Stop::failed(
            "stopped before any lunch was complete; nothing was written",
        ));
    }
    Ok(summary)
}

fn answer(
    summary: &Summary,
    options: &RunOptions,
    written: Option<(&PathBuf, &Vec<ReportFile>)>,
    example: bool,
) -> Result<Outcome, Stop> {
    if options.json {
        say(&summary_json(summary)?)?;
    } else if options.quiet {
        say(&format!("{}\n", plain(&summary.answer)))?;
    } else {
        let dumb = std::env::var("TERM").is_ok_and(|term| term == "dumb");
        let signs = if options.ascii || dumb {
            Signs::Ascii
        } else {
            Signs::Blocks
        };
        let mut text = terminal(summary, columns(), signs);
        text.push('\n');
        if let Some((folder, files)) = written {
            text.push_str(&written_words(folder, files, usable(columns())));
        }
        if example {
            text.push_str("This was an example. For a lunch of your own: scullery new NAME\n");
        }
        say(&text)?;
    }
    if summary.repeats < summary.asked {
        tell(&format!(
            "stopped early: {} of {} lunches are complete",
            summary.repeats, summary.asked
        ));
    }
    let unsure = summary
        .targets
        .iter()
        .filter(|target| target.verdict != "holds" && target.verdict != "fails")
        .count();
    if options.strict && unsure > 0 {
        tell(&format!(
            "{unsure} of the targets cannot be told yet; ask for more with --repeats"
        ));
    }
    Ok(Outcome::of(summary, options.strict))
}

/// Where the files are, one line each for those a person opens.
fn written_words(folder: &Path, files: &[ReportFile], width: usize) -> String {
    const OPENED: [(&str, &str); 5] = [
        ("report.html", "Report"),
        ("wall-sheet.html", "Sheet for the wall"),
        ("element-schedule.html", "Schedule of elements"),
        ("options.html", "Options side by side"),
        ("report.xlsx", "Workbook"),
    ];
    let is_there = |name: &str| files.iter().any(|file| file.name == name);
    let mut lines: Vec<String> = OPENED
        .iter()
        .filter(|(name, _)| is_there(name))
        .map(|(name, words)| format!("{words}: {}", folder.join(name).display()))
        .collect();
    let pictures = files
        .iter()
        .filter(|file| file.name.ends_with(".png"))
        .count();
    let data: Vec<&str> = files
        .iter()
        .map(|file| file.name.as_str())
        .filter(|name| name.ends_with(".csv") || name.ends_with(".json"))
        .collect();
    let beside = format!(
        "Beside: {pictures} pictures (SVG and PNG), {}",
        data.join(", ")
    );
    lines.extend(wrap(&beside, width, "  "));
    lines.join("\n") + "\n"
}
