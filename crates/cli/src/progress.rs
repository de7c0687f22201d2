//! How far the lunches have come, on standard error and only at a terminal; and Ctrl-C.

use std::io::{IsTerminal, stderr};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};

use crate::voice::tell;

/// A line that tells how many lunches are done and about how long the rest will take. Plain letters, no colour.
pub(crate) fn bar(repeats: u64, quiet: bool) -> ProgressBar {
    bar_of(repeats, "lunches", quiet)
}

/// The same for other things than lunches.
pub(crate) fn bar_of(many: u64, what: &str, quiet: bool) -> ProgressBar {
    let seen = !quiet && stderr().is_terminal();
    let target = if seen {
        ProgressDrawTarget::stderr()
    } else {
        ProgressDrawTarget::hidden()
    };
    let bar = ProgressBar::with_draw_target(Some(many), target);
    let template = format!("{{pos}} of {{len}} {what} [{{bar:30}}] about {{eta}} left");
    match ProgressStyle::with_template(&template) {
        Ok(style) => bar.with_style(style.progress_chars("=> ")),
        Err(_) => bar,
    }
}

/// Code left behind when Ctrl-C is pressed twice; what shells expect of an interrupted command.
const INTERRUPTED: i32 = 130;

/// Raised by Ctrl-C: the lunches in hand are finished and the complete ones written. A second Ctrl-C stops at once.
pub(crate) fn stop_on_interrupt() -> Arc<AtomicBool> {
    let stop = Arc::new(AtomicBool::new(false));
    let raised = Arc::clone(&stop);
    // Where no handler can be set, Ctrl-C ends the program as it always does.
    let _ = ctrlc::set_handler(move || {
        if raised.swap(true, Ordering::SeqCst) {
            std::process::exit(INTERRUPTED);
        }
        tell(
            "\nstopping: the lunches in hand are finished and what is complete is written (once more to stop at once)",
        );
    });
    stop
}
