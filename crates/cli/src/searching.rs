//! What all searches have in common on the terminal: progress, files, the answer.

use std::path::PathBuf;
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use scullery_report::terminal::{plain, usable, wrap};
use scullery_report::{Destination, ReportFile};
use scullery_study::Fault;
use scullery_study::staffing::cheapest_crew::{Step, Trouble};

use crate::crew::LookOptions;
use crate::outcome::{Outcome, Stop};
use crate::voice::{columns, say};

/// How far a search has come, on standard error and only at a terminal, with about how long the rest may take.
pub(crate) struct Bar(ProgressBar);

impl Bar {
    pub(crate) fn new(quiet: bool) -> Bar {
        use std::io::{IsTerminal, stderr};
        let target = match !quiet && stderr().is_terminal() {
            true => ProgressDrawTarget::stderr(),
            false => ProgressDrawTarget::hidden(),
        };
        let bar = ProgressBar::with_draw_target(Some(1), target);
        let template = "{msg} [{bar:30}] at most about {eta} left";
        let bar = match ProgressStyle::with_template(template) {
            Ok(style) => bar.with_style(style.progress_chars("=> ")),
            Err(_) => bar,
        };
        bar.enable_steady_tick(Duration::from_millis(500));
        Bar(bar)
    }

    pub(crate) fn step(&self, step: Step) {
        if self.0.length() != Some(step.of) || self.0.position() > step.done {
            self.0.reset();
            self.0.set_length(step.of);
        }
        self.0.set_position(step.done);
        self.0.set_message(format!(
            "{} of {} {}, {} lunches",
            step.done, step.of, step.what, step.lunches
        ));
    }

    pub(crate) fn clear(&self) {
        self.0.finish_and_clear();
    }
}

/// Why a search gave no answer.
pub(crate) fn trouble(source: &str, why: Trouble) -> Stop {
    match why {
        Trouble::Wrong(words) => Stop::wrong(format!("{source}: {words}")),
        Trouble::Fault(fault) => Stop {
            outcome: match fault {
                Fault::Line(_) => Outcome::Wrong,
                Fault::Runaway { .. } => Outcome::Stuck,
                Fault::Balance { .. } => Outcome::Failed,
            },
            words: format!("{source}: {fault}"),
        },
    }
}

/// What is said of a result.
pub(crate) struct Shown<'a> {
    pub(crate) answer: &'a str,
    pub(crate) json: &'a dyn Fn() -> Result<String, Stop>,
    pub(crate) text: &'a dyn Fn() -> String,
    pub(crate) example: bool,
}

/// Writes the files and says the answer, as the options ask.
///
/// # Errors
/// When the disk or the output says no.
pub(crate) fn show(
    options: &LookOptions,
    destination: Option<(PathBuf, Destination)>,
    files: &[ReportFile],
    shown: &Shown<'_>,
) -> Result<(), Stop> {
    let mut written = String::new();
    if let Some((folder, destination)) = destination {
        destination.write(files)?;
        written = format!("\nReport: {}\n", folder.join("report.html").display());
        let beside: Vec<&str> = files
            .iter()
            .map(|file| file.name.as_str())
            .filter(|name| *name != "report.html")
            .collect();
        let beside = format!("Beside it: {}", beside.join(", "));
        for line in wrap(&beside, usable(columns()), "  ") {
            written.push_str(&line);
            written.push('\n');
        }
    }
    if options.json {
        return say(&(shown.json)()?);
    }
    if options.quiet {
        return say(&format!("{}\n", plain(shown.answer)));
    }
    let mut text = (shown.text)();
    text.push_str(&written);
    if shown.example {
        text.push_str("This was an example. For a lunch of your own: scullery new NAME\n");
    }
    say(&text)
}

/// The text of one of the files.
///
/// # Errors
/// When there is no such file, or it is no text; that would be a fault of the program.
pub(crate) fn file_text(files: &[ReportFile], name: &str) -> Result<String, Stop> {
    let file = files.iter().find(|file| file.name == name);
    let text = file.and_then(|file| String::from_utf8(file.bytes.clone()).ok());
    text.ok_or_else(|| Stop::failed(format!("{name} could not be made")))
}
