//! `scullery size`: the smallest size that holds for the crew as it is.

use clap::Args;
use scullery_report::staffing::{size_files, size_terminal};
use scullery_scenario::staffing::{Size, SizeOption};
use scullery_study::staffing::found::SizeStudy;
use scullery_study::staffing::least_size::{SizeSearch, least_size, usual_sizes};

use crate::crew::{SearchOptions, outcome};
use crate::house::document;
use crate::outcome::{Outcome, Stop};
use crate::progress::stop_on_interrupt;
use crate::searching::{Bar, Shown, file_text, show, trouble};
use crate::voice::columns;

/// Which size is searched, and how.
#[derive(Debug, Args)]
pub(crate) struct SizeArguments {
    /// How it is searched.
    #[command(flatten)]
    pub(crate) search: SearchOptions,
    /// What is sized: the words of a [[size]] of the scenario, or a key such as belt.return.length_m with --values; the
    /// first [[size]] when unsaid
    #[arg(long, value_name = "WHAT")]
    pub(crate) of: Option<String>,
    /// Values of the key, smallest size first
    #[arg(long, value_name = "A,B,...", value_delimiter = ',', requires = "of")]
    pub(crate) values: Vec<f64>,
    /// Do not try other crews: only the least size for the crew as it is
    #[arg(long)]
    pub(crate) no_trade: bool,
}

/// Searches the size the arguments ask for.
///
/// # Errors
/// When the scenario is wrong, has no targets, or knows no such size; the folder is somebody else's; or a run fails.
pub(crate) fn size(arguments: &SizeArguments) -> Result<Outcome, Stop> {
    let (alpha, indifference) = arguments.search.errors()?;
    let options = &arguments.search.look;
    let destination = options.destination()?;
    let document = document(options.file.as_deref(), options.demo.as_deref())?;
    let plan = document.plan().map_err(Stop::wrong)?;
    let (size, notice) = chosen(arguments, &plan)?;
    if let Some(path) = size
        .options
        .first()
        .and_then(|o| o.changes.first())
        .and_then(|c| c.split('=').next())
    {
        document
            .at(path.trim_start_matches(['+', '-']))
            .map_err(Stop::wrong)?;
    }
    let how = SizeSearch {
        seed: options.seed,
        threads: options.threads.map_or(0, usize::from),
        alpha,
        indifference,
        most_lunches: arguments.search.most_lunches,
        shown_lunches: options.shown_lunches,
        trade: !arguments.no_trade,
    };
    let stop = stop_on_interrupt();
    let bar = Bar::new(options.quiet || options.json);
    let result = least_size(&document, &size, &how, &|step| bar.step(step), &stop);
    bar.clear();
    let mut study: SizeStudy = result.map_err(|why| trouble(document.shown(), why))?;
    study.notices.extend(notice);
    document.shown().clone_into(&mut study.about.source);
    env!("CARGO_PKG_VERSION").clone_into(&mut study.about.version);
    let files = size_files(&study)?;
    let found = study.rows.iter().any(|row| row.is("chosen"));
    show(
        options,
        destination,
        &files,
        &Shown {
            answer: &study.answer,
            json: &|| file_text(&files, "size.json"),
            text: &|| size_terminal(&study, columns()),
            example: options.file.is_none(),
        },
    )?;
    Ok(outcome(&study.searched, found, arguments.search.strict))
}

/// The size that is asked, and what is to be said about where it comes from.
fn chosen(
    arguments: &SizeArguments,
    plan: &scullery_scenario::plan::Plan,
) -> Result<(Size, Option<String>), Stop> {
    let usual = usual_sizes(plan);
    let listed = if plan.sizes.is_empty() {
        &usual
    } else {
        &plan.sizes
    };
    let derived = plan.sizes.is_empty().then(|| {
        "The scenario has no [[size]], so the sizes are derived: lengths from half of what it is to twice, without prices."
            .to_owned()
    });
    let Some(of) = &arguments.of else {
        return match listed.first() {
            Some(size) => Ok((size.clone(), derived)),
            None => Err(Stop::wrong(
                "there is nothing to size: add a [[size]] to the scenario, or write --of KEY --values A,B,...",
            )),
        };
    };
    if !arguments.values.is_empty() {
        let options = arguments.values.iter().map(|value| SizeOption {
            name: value.to_string(),
            changes: vec![format!("{of}={value}")],
            price: None,
        });
        let size = Size {
            words: of.clone(),
            options: options.collect(),
            life_years: None,
        };
        return Ok((size, None));
    }
    match listed.iter().find(|size| size.words == *of) {
        Some(size) => Ok((size.clone(), derived)),
        None => {
            let known: Vec<String> = listed
                .iter()
                .map(|size| format!("\"{}\"", size.words))
                .collect();
            Err(Stop::wrong(format!(
                "no size is called \"{of}\"; there are: {}; or give a key its --values",
                known.join(", ")
            )))
        }
    }
}
