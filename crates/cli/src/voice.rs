//! The only place that prints. A reader who has gone away is no fault.

use std::io::{ErrorKind, Write, stderr, stdout};

use crate::outcome::Stop;

/// Writes a text to standard output.
///
/// # Errors
/// When it cannot be written for any reason but a reader who closed the pipe.
pub(crate) fn say(text: &str) -> Result<(), Stop> {
    let mut out = stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(why) if why.kind() != ErrorKind::BrokenPipe => {
            Err(Stop::failed(format!("standard output: {why}")))
        }
        _ => Ok(()),
    }
}

/// Writes a line to standard error. When nobody listens there, nothing is lost that could be told elsewhere.
pub(crate) fn tell(text: &str) {
    let _ = writeln!(stderr().lock(), "{}", text.trim_end());
}

/// Columns of the terminal, or 80 when there is none. `COLUMNS` has the last word.
pub(crate) fn columns() -> usize {
    const USUAL: usize = 80;
    let said = std::env::var("COLUMNS")
        .ok()
        .and_then(|text| text.trim().parse().ok());
    said.or_else(|| terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)))
        .unwrap_or(USUAL)
}
