//! Writes the table of defaults of the model page to standard output.

use std::io::Write as _;

fn main() -> std::io::Result<()> {
    std::io::stdout().write_all(scullery_scenario::defaults::table().as_bytes())
}
