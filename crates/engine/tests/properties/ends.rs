//! How runs end.

use proptest::prelude::*;
use scullery_engine::ended::How;

use super::record::check;

#[test]
fn every_line_that_fits_together_runs_to_an_end() {
    check(2_000, |case| {
        prop_assert_eq!(case.line.faults(), Vec::<String>::new());
        case.run()?;
        Ok(())
    });
}

#[test]
fn zz_tally() {
    let tally = std::cell::RefCell::new(std::collections::BTreeMap::new());
    let events = std::cell::Cell::new(0);
    check(2_000, |case| {
        let Ok((ended, told)) = case.run() else {
            return Ok(());
        };
        events.set(events.get() + told.len());
        let how = match ended.how {
            How::Gridlock(s) => format!(
                "grid {}",
                s.split(": ")
                    .nth(1)
                    .unwrap()
                    .chars()
                    .take(30)
                    .collect::<String>()
            ),
            h => format!("{h:?}"),
        };
        *tally.borrow_mut().entry(how).or_insert(0) += 1;
        Ok(())
    });
    println!("{:?} told {}", tally.borrow(), events.get());
}
