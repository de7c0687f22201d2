//! `scullery headroom`: how many covers until the first target fails.

use scullery_report::Origin;
use scullery_report::studies::{headroom_files, headroom_page};
use scullery_study::headroom::{Search, headroom as look_for};

use crate::arrangements::Start;
use crate::house::fault_words;
use crate::outcome::{Outcome, Stop};
use crate::progress::{bar_of, stop_on_interrupt};
use crate::study::units_words;
use crate::study::{Place, tell_study, threads};
use crate::study_arguments::HeadroomArguments;
use crate::voice::tell;

/// Looks for the headroom of the lunch the arguments name.
///
/// # Errors
/// When the scenario is wrong or names no target, the folder is somebody else's, or a run fails.
pub(crate) fn headroom(arguments: &HeadroomArguments) -> Result<Outcome, Stop> {
    let options = &arguments.options;
    let place = Place::claim(options)?;
    let start = Start::read(&arguments.from)?;
    let source = start.document.shown().to_owned();
    let how = Search {
        most: arguments.at_most,
        seed: options.seed,
        threads: threads(options),
    };
    let stop = stop_on_interrupt();
    let bar = bar_of(1, "numbers of covers", options.quiet || options.json);
    let progress = |done, expected| {
        bar.set_length(expected);
        bar.set_position(done);
    };
    let result = look_for(&start.plan, &how, &progress, &stop);
    bar.finish_and_clear();
    let mut found = result.map_err(|fault| fault_words(&source, &fault))?;
    if found.lunches == 0 {
        return Err(Stop::failed(
            "stopped before anything could be said; nothing was written",
        ));
    }
    if let Some(units) = options.units {
        units_words(units).clone_into(&mut found.heading.units);
    }
    let origin = Origin {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        name: found.heading.name.clone(),
        scenario: source,
        hash: found.hash.clone(),
        seed: found.seed,
        repeats: found.lunches,
        asked: found.lunches + u64::from(!found.complete),
    };
    let page = headroom_page(&found)?;
    tell_study(
        &found,
        &page,
        || headroom_files(&found, &origin),
        place,
        options,
    )?;
    if !found.complete {
        tell("stopped early: the numbers are what is known so far");
    }
    let holds_now = found
        .days
        .first()
        .is_some_and(|day| day.holds_to.is_some_and(|to| to >= day.covers.round()));
    Ok(if !found.complete || (arguments.strict && !holds_now) {
        Outcome::Failed
    } else {
        Outcome::Done
    })
}
