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
    check(2_000, |case| {
        let Ok((ended, _)) = case.run() else {
            return Ok(());
        };
        let how = match ended.how {
            How::Gridlock(s) => s
                .splitn(3, ": ")
                .nth(2)
                .unwrap_or(&s)
                .chars()
                .filter(|c| !c.is_ascii_digit())
                .collect::<String>(),
            h => format!("{h:?}"),
        };
        *tally.borrow_mut().entry(how).or_insert(0) += 1;
        Ok(())
    });
    let mut v: Vec<_> = tally
        .borrow()
        .iter()
        .map(|(a, b): (&String, &i32)| (*b, a.clone()))
        .collect();
    v.sort();
    v.reverse();
    for x in v.iter().take(30) {
        println!("{x:?}");
    }
}
