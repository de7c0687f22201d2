//! `scullery vary`: numbers of the scenario on a grid, over a sample, or one at a time.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_report::Origin;
use scullery_report::studies::{tornado_files, tornado_page, variation_files, variation_page};
use scullery_scenario::change::Change;
use scullery_study::lunches::Arrangement;
use scullery_study::vary::{Ends, Points, Runs, Varied, grid, sample, tornado, vary as vary_them};

use crate::arrangements::Start;
use crate::house::fault_words;
use crate::outcome::{Outcome, Stop};
use crate::over::Over;
use crate::progress::{bar, stop_on_interrupt};
use crate::study::units_words;
use crate::study::{Place, tell_study, threads};
use crate::study_arguments::VaryArguments;
use crate::voice::tell;

/// Most points of a design.
const MOST_POINTS: usize = 10_000;

/// Varies numbers as the arguments say.
///
/// # Errors
/// When the scenario or a range is wrong, the folder is somebody else's, or a run fails.
pub(crate) fn vary(arguments: &VaryArguments) -> Result<Outcome, Stop> {
    let place = Place::claim(&arguments.options)?;
    let start = Start::read(&arguments.from)?;
    let overs: Vec<Over> = arguments
        .over
        .iter()
        .map(|text| Over::read(text, &start))
        .collect::<Result<_, _>>()?;
    for (number, over) in overs.iter().enumerate() {
        if overs[..number]
            .iter()
            .any(|other| other.varied.path == over.varied.path)
        {
            return Err(Stop::wrong(format!(
                "--over `{}` is given twice; keep one",
                over.varied.path
            )));
        }
    }
    let job = Job {
        arguments,
        start: &start,
        overs: &overs,
        stop: &stop_on_interrupt(),
    };
    match &arguments.tornado {
        Some(id) => job.tornado(id, place),
        None => job.points(place),
    }
}

struct Job<'a> {
    arguments: &'a VaryArguments,
    start: &'a Start,
    overs: &'a [Over],
    stop: &'a AtomicBool,
}

impl Job<'_> {
    fn varied(&self) -> Vec<Varied> {
        self.overs.iter().map(|over| over.varied.clone()).collect()
    }

    fn runs(&self) -> Runs {
        Runs {
            repeats: self.arguments.repeats,
            seed: self.arguments.options.seed,
            threads: threads(&self.arguments.options),
        }
    }

    /// The plan with these numbers, under their words.
    fn arrangement(&self, numbers: &[(&Varied, f64)]) -> Result<Arrangement, Stop> {
        let changes = numbers.iter().map(|(varied, value)| {
            // A whole number is written as one.
            let text = format!("{}={value}", varied.path);
            Change::parse(&text).map_err(Stop::wrong)
        });
        let changes: Vec<Change> = changes.collect::<Result<_, _>>()?;
        let said: Vec<&str> = changes.iter().map(Change::text).collect();
        let plan = self.start.with(&changes)?;
        Arrangement::new(said.join("; "), plan)
            .map_err(|fault| fault_words(&said.join("; "), &fault))
    }

    fn origin(&self, name: &str, repeats: u64, is_complete: bool) -> Origin {
        Origin {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            name: name.to_owned(),
            scenario: self.start.document.shown().to_owned(),
            hash: self.start.plan.hash.clone(),
            seed: self.arguments.options.seed,
            repeats,
            asked: repeats + u64::from(!is_complete),
        }
    }

    fn points(&self, place: Place) -> Result<Outcome, Stop> {
        let (arguments, options) = (self.arguments, &self.arguments.options);
        let varied = self.varied();
        let (design, values) = match arguments.points {
            Some(many) => {
                if let Some(over) = self.overs.iter().find(|over| over.listed.is_some()) {
                    return Err(Stop::wrong(format!(
                        "--points spreads over ranges, and `{}` is given as a list; write `{}={}..{}`",
                        over.varied.path, over.varied.path, over.varied.low, over.varied.high
                    )));
                }
                let points = sample(&varied, many).ok_or_else(|| {
                    Stop::wrong(format!(
                        "a sample varies at most {} numbers, found {}",
                        scullery_study::sobol::MOST_DIMENSIONS,
                        varied.len()
                    ))
                })?;
                ("sample", points)
            }
            None => {
                let each: Vec<Vec<f64>> = self
                    .overs
                    .iter()
                    .map(|over| over.values(arguments.steps))
                    .collect();
                let many = each
                    .iter()
                    .map(Vec::len)
                    .try_fold(1_usize, usize::checked_mul);
                if many.is_none_or(|many| many > MOST_POINTS) {
                    return Err(Stop::wrong(format!(
                        "the grid has more than {MOST_POINTS} points; take fewer --steps, or a sample with --points"
                    )));
                }
                ("grid", grid(&each))
            }
        };
        let points = values.into_iter().map(|values| {
            let numbers: Vec<(&Varied, f64)> = varied.iter().zip(values.iter().copied()).collect();
            Ok((values.clone(), self.arrangement(&numbers)?))
        });
        let points: Vec<(Vec<f64>, Arrangement)> = points.collect::<Result<_, Stop>>()?;
        let bar = bar(
            points.len() as u64 * arguments.repeats,
            options.quiet || options.json,
        );
        let of = Points {
            design,
            varied: &varied,
            points: &points,
            measures: &arguments.measure,
            hash: &self.start.plan.hash,
        };
        let result = vary_them(&of, &self.runs(), &|done| bar.set_position(done), self.stop);
        bar.finish_and_clear();
        let mut seen = result.map_err(|fault| fault_words(self.start.document.shown(), &fault))?;
        if seen.points.is_empty() {
            return Err(Stop::failed(
                "stopped before any point was complete; nothing was written",
            ));
        }
        if let Some(units) = options.units {
            units_words(units).clone_into(&mut seen.heading.units);
        }
        let is_complete = seen.points.len() as u64 == seen.asked;
        let origin = self.origin(&seen.heading.name, seen.repeats, is_complete);
        let page = variation_page(&seen)?;
        tell_study(
            &seen,
            &page,
            || variation_files(&seen, &origin),
            place,
            options,
        )?;
        let stuck = seen.points.iter().any(|point| point.unfinished > 0);
        Ok(self.outcome(is_complete, stuck))
    }

    fn tornado(&self, id: &str, place: Place) -> Result<Outcome, Stop> {
        let options = &self.arguments.options;
        let present = Arrangement::new("as it is", self.start.plan.clone())
            .map_err(|fault| fault_words(self.start.document.shown(), &fault))?;
        let ends = self.overs.iter().map(|over| {
            let varied = over.varied.clone();
            Ok(Ends {
                low: self.arrangement(&[(&varied, varied.low)])?,
                high: self.arrangement(&[(&varied, varied.high)])?,
                varied,
            })
        });
        let ends: Vec<Ends> = ends.collect::<Result<_, Stop>>()?;
        let lunches = self.arguments.repeats * (1 + 2 * ends.len() as u64);
        let bar = bar(lunches, options.quiet || options.json);
        let result = tornado(
            &present,
            &ends,
            id,
            &self.runs(),
            &|done| bar.set_position(done),
            self.stop,
        );
        bar.finish_and_clear();
        let mut seen = result.map_err(|fault| fault_words(self.start.document.shown(), &fault))?;
        if seen.bars.is_empty() && self.stop.load(Ordering::SeqCst) {
            return Err(Stop::failed(
                "stopped before any number was complete; nothing was written",
            ));
        }
        if let Some(units) = options.units {
            units_words(units).clone_into(&mut seen.heading.units);
        }
        let is_complete = seen.bars.len() as u64 == seen.asked;
        let origin = self.origin(&seen.heading.name, seen.repeats, is_complete);
        let page = tornado_page(&seen)?;
        tell_study(
            &seen,
            &page,
            || tornado_files(&seen, &origin),
            place,
            options,
        )?;
        Ok(self.outcome(is_complete, false))
    }

    fn outcome(&self, is_complete: bool, stuck: bool) -> Outcome {
        if !is_complete {
            tell("stopped early: what is told is what is complete");
        }
        if stuck {
            Outcome::Stuck
        } else if is_complete {
            Outcome::Done
        } else {
            Outcome::Failed
        }
    }
}
