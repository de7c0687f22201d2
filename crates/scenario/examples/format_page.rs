//! Writes the reference page of the format to standard output.

use std::io::Write as _;

fn main() -> std::io::Result<()> {
    std::io::stdout().write_all(scullery_scenario::format_page().as_bytes())
}
