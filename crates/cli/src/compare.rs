//! `scullery compare`: arrangements on the same lunches.

use std::sync::atomic::Ordering;

use scullery_report::Origin;
use scullery_report::studies::{comparison_files, comparison_page};
use scullery_study::compare::{Compare, Comparison, compare as compare_them};

use crate::arrangements::arrangements;
use crate::house::fault_words;
use crate::outcome::{Outcome, Stop};
use crate::progress::{bar, stop_on_interrupt};
use crate::study::units_words;
use crate::study::{Place, tell_study, threads};
use crate::study_arguments::CompareArguments;
use crate::voice::tell;

/// Compares the arrangements that the arguments name.
///
/// # Errors
/// When a scenario or a change is wrong, the folder is somebody else's, or a run fails.
pub(crate) fn compare(arguments: &CompareArguments) -> Result<Outcome, Stop> {
    let options = &arguments.options;
    let place = Place::claim(options)?;
    let (arrangements, source) = arrangements(arguments)?;
    for idle in arrangements
        .iter()
        .flat_map(|one| one.plan.changes.iter().map(move |change| (one, change)))
    {
        if !idle.1.alters {
            tell(&format!(
                "\"{}\": `{}` alters nothing, it stands so already",
                idle.0.name, idle.1.words
            ));
        }
    }
    let how = Compare {
        repeats: arguments.repeats,
        seed: options.seed,
        threads: threads(options),
        measures: arguments.measure.clone(),
    };
    let stop = stop_on_interrupt();
    let bar = bar(
        arguments.repeats * arrangements.len() as u64,
        options.quiet || options.json,
    );
    let result = compare_them(&arrangements, &how, &|done| bar.set_position(done), &stop);
    bar.finish_and_clear();
    let mut comparison = result.map_err(|fault| fault_words(&source, &fault))?;
    if comparison.repeats == 0 && stop.load(Ordering::SeqCst) {
        return Err(Stop::failed(
            "stopped before any lunch was complete; nothing was written",
        ));
    }
    if let Some(units) = options.units {
        units_words(units).clone_into(&mut comparison.heading.units);
    }
    let origin = Origin {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        name: comparison.heading.name.clone(),
        scenario: source,
        hash: comparison
            .arrangements
            .first()
            .map_or(String::new(), |one| one.hash.clone()),
        seed: comparison.seed,
        repeats: comparison.repeats,
        asked: comparison.asked,
    };
    let page = comparison_page(&comparison)?;
    tell_study(
        &comparison,
        &page,
        || comparison_files(&comparison, &origin),
        place,
        options,
    )?;
    if comparison.repeats < comparison.asked {
        tell(&format!(
            "stopped early: {} of {} lunches are complete",
            comparison.repeats, comparison.asked
        ));
    }
    Ok(outcome(&comparison, arguments.strict))
}

fn outcome(of: &Comparison, strict: bool) -> Outcome {
    let stuck = of
        .arrangements
        .iter()
        .any(|one| one.endings.gridlock + one.endings.never_drained > 0);
    let holds = of
        .arrangements
        .iter()
        .any(|one| one.verdict.as_deref() == Some("holds"));
    if stuck {
        Outcome::Stuck
    } else if of.repeats < of.asked || (strict && !holds) {
        Outcome::Failed
    } else {
        Outcome::Done
    }
}
