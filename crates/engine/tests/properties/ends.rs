//! How runs end.

use proptest::prelude::*;

use super::record::check;

#[test]
fn every_line_that_fits_together_runs_to_an_end() {
    check(2_000, |case| {
        prop_assert_eq!(case.line.faults(), Vec::<String>::new());
        case.run()?;
        Ok(())
    });
}
