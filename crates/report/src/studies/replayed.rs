//! A replayed lunch: what happened, how well it fits, what would have saved it.

use scullery_study::replay::fit::FitResult;
use scullery_study::replay::fit_quality;
use scullery_study::replay::remedies::{Remedies, Tried};
use scullery_study::replay::replayed::Replayed;

use super::files::files;
use super::remedy_picture::remedy_picture;
use super::seen_picture::seen_picture;
use super::{Section, StudyPage, assumptions, cautions};
use crate::clock::clock_text;
use crate::error::Fault;
use crate::folder::ReportFile;
use crate::manifest::Origin;
use crate::number::{DASH, fixed};
use crate::table::Table;

/// The page.
///
/// # Errors
/// When a picture cannot be drawn.
pub fn replayed_page(of: &Replayed) -> Result<StudyPage, Fault> {
    let mut sections = vec![check(of), happened(of)];
    let picture = seen_picture(of)?;
    if !of.seen.is_empty() {
        let mut seen = seen(of);
        seen.pictures.extend(picture);
        sections.push(seen);
    } else if picture.is_some() {
        sections[1].pictures.extend(picture);
    }
    if let Some(fit) = &of.fit {
        sections.push(fitted(fit));
    }
    if let Some(remedies) = &of.remedies {
        let mut saved = saved(remedies);
        saved
            .pictures
            .extend(remedy_picture(remedies, &of.heading.currency)?);
        sections.push(saved);
    }
    sections.push(assumptions(&of.assumptions));
    sections.push(cautions(&of.cautions));
    let mut alarms = Vec::new();
    if of.repeats < of.asked {
        alarms.push(format!(
            "Stopped early: {} of {} lunches are complete.",
            of.repeats, of.asked
        ));
    }
    Ok(StudyPage {
        kind: "A lunch replayed".to_owned(),
        name: of.heading.name.clone(),
        note: of.heading.note.clone(),
        answer: of.answer.clone(),
        day: of.heading.day_words.clone(),
        alarms,
        sections,
    })
}

fn check(of: &Replayed) -> Section {
    let mut words = vec![of.counted.words()];
    words.extend(of.notices.iter().cloned());
    Section {
        words,
        ..Section::new("check", "One number to check first")
    }
    .told_in_full()
}

fn happened(of: &Replayed) -> Section {
    let mut table = Table::new(
        "Her arrivals with every length of work at its mean; what is known to have happened besides stands among it.",
        &["clock", "what happened"],
    );
    for entry in &of.account.entries {
        table
            .rows
            .push(vec![clock_text(entry.at_min), entry.words.clone()]);
    }
    let lines = of
        .account
        .entries
        .iter()
        .map(|entry| format!("{}  {}", clock_text(entry.at_min), entry.words));
    Section {
        said: lines.collect(),
        tables: vec![(table, vec![1])],
        ..Section::new("happened", "What happened")
    }
}

fn seen(of: &Replayed) -> Section {
    let (inside, errors) = fit_quality(&of.seen);
    let mut table = Table::new(
        "What was seen, and lunches like it at that minute.",
        &[
            "clock",
            "what",
            "seen",
            "off by",
            "lunches: mean",
            "5-95 of 100",
            "inside",
        ],
    );
    for band in &of.seen {
        table.rows.push(vec![
            clock_text(band.at_min),
            band.what.clone(),
            fixed(band.seen, 0),
            fixed(band.off_by, 1),
            fixed(band.mean, 1),
            format!("{} to {}", fixed(band.p05, 0), fixed(band.p95, 0)),
            if band.inside { "yes" } else { "no" }.to_owned(),
        ]);
    }
    let errors: Vec<String> = errors
        .iter()
        .map(|(at, error)| format!("{} {error:+.1}", clock_text(f64::from(*at))))
        .collect();
    let words = vec![
        format!(
            "{inside} of {} things seen lie inside the band, or off it by no more than they may be off.",
            of.seen.len()
        ),
        format!(
            "Mean error by quarter hour, simulated less seen: {}.",
            errors.join(", ")
        ),
    ];
    Section {
        words,
        tables: vec![(table, vec![1, 6])],
        ..Section::new("seen", "How well it fits")
    }
    .told_in_full()
}

fn fitted(fit: &FitResult) -> Section {
    let mut table = Table::new(
        "Values weighed by how likely what was seen is under them; every value within the bounds was as likely beforehand.",
        &[
            "number",
            "looked for",
            "best",
            "5-95 of 100 sure",
            "what that says",
        ],
    );
    for it in &fit.fitted {
        let says = if it.open {
            "hardly anything learned: what was seen does not tell it"
        } else if it.leans_low || it.leans_high {
            "leans against a bound: the truth may lie beyond"
        } else {
            "told by what was seen"
        };
        table.rows.push(vec![
            it.name.clone(),
            format!("{} to {}", fixed(it.bounds[0], 2), fixed(it.bounds[1], 2)),
            fixed(it.best, 2),
            format!("{} to {}", fixed(it.range[0], 2), fixed(it.range[1], 2)),
            says.to_owned(),
        ]);
    }
    let mut words: Vec<String> = fit
        .tangled
        .iter()
        .map(|it| {
            format!(
                "{} and {} explain it equally well: they cannot be told apart by what was seen (correlation {:+.2}). Time \
                 one of them with a stopwatch.",
                it.first, it.second, it.correlation
            )
        })
        .collect();
    words.push(format!(
        "{} candidates were simulated, {} lunches each; they are worth {} of equal weight.",
        fit.candidates,
        fit.lunches,
        fixed(fit.worth, 0)
    ));
    if fit.stopped {
        words.push("Stopped before it was done: the ranges are rough.".to_owned());
    }
    Section {
        words,
        tables: vec![(table, vec![1, 3, 4])],
        ..Section::new("fitted", "Numbers fitted to it")
    }
    .told_in_full()
}

fn saved(remedies: &Remedies) -> Section {
    let mut table = Table::new(
        format!(
            "{}. Her lunch: all work at its mean. Lunches like it: mean of {}. Differences with an interval each, all \
             intervals together right in 95 of 100 studies. Cost: labour and resources of one lunch; what must be bought \
             or built is not in it.",
            remedies.label, remedies.lunches
        ),
        &[
            "what is changed",
            "her lunch",
            "lunches like it",
            "difference",
            "cost a lunch",
            "helps",
        ],
    );
    let number = |x: Option<f64>| x.map_or(DASH.to_owned(), |x| fixed(x, 1));
    table.rows.push(vec![
        "as it was".to_owned(),
        number(remedies.hers),
        number(remedies.mean),
        DASH.to_owned(),
        DASH.to_owned(),
        String::new(),
    ]);
    table.rows.extend(
        remedies
            .tried
            .iter()
            .map(|it| row(it, remedies.unfinished, &number)),
    );
    let mut words = Vec::new();
    if let Some(chance) = &remedies.last_chance {
        words.push(match chance.until_min {
            Some(until) => format!(
                "It could last have been saved at {}: {} from then on keeps the mean at {} or below.",
                clock_text(until),
                chance.helper,
                fixed(chance.saved_at, 0)
            ),
            None => format!(
                "{} would not have kept the mean at {} or below, however early within the rush.",
                chance.helper,
                fixed(chance.saved_at, 0)
            ),
        });
    }
    words.extend(cheapest(remedies));
    if remedies.stopped {
        words.push("Stopped before all were tried.".to_owned());
    }
    let list = remedies
        .refused
        .iter()
        .map(|(words, why)| format!("Not tried: {words} ({why})"))
        .collect();
    let mut brief = Table::new("", &["what is changed", "lunches like it", "cost a lunch"]);
    let short = |row: &Vec<String>| vec![row[0].clone(), row[2].clone(), row[4].clone()];
    let helping = remedies
        .tried
        .iter()
        .zip(&table.rows[1..])
        .filter(|(it, _)| it.helps);
    brief.rows.push(short(&table.rows[0]));
    brief.rows.extend(
        helping
            .clone()
            .take(MOST_ON_TERMINAL)
            .map(|(_, row)| short(row)),
    );
    let mut said = words.clone();
    said.push(format!(
        "{} were tried, {} surely help; all of them are on the page.",
        remedies.tried.len(),
        helping.count()
    ));
    Section {
        words,
        tables: vec![(table, vec![5])],
        list,
        brief: vec![(brief, vec![])],
        said,
        ..Section::new("saved", "What would have saved it")
    }
}

/// The cheapest that surely helps, where cost tells them apart from the most helpful.
fn cheapest(remedies: &Remedies) -> Option<String> {
    let cost = |it: &Tried| it.cost.as_ref().map(|cost| cost.mean);
    let own = || {
        remedies
            .tried
            .iter()
            .filter(|it| it.helps && !it.undoes && !it.buys && cost(it).is_some())
    };
    let first = own().next()?;
    let least = own().min_by(|a, b| {
        let (a, b) = (cost(a).unwrap_or(0.0), cost(b).unwrap_or(0.0));
        a.total_cmp(&b)
    })?;
    let effect = least.effect.as_ref()?;
    (least.words != first.words).then(|| {
        format!(
            "The cheapest that surely helps and needs nothing bought: {} ({:+.1} {}, {}).",
            least.words,
            effect.mean,
            super::said::difference_unit(&remedies.unit),
            match cost(least).unwrap_or(0.0) {
                same if same.abs() < 0.005 => "at the same cost".to_owned(),
                less if less < 0.0 => format!("{} cheaper a lunch", fixed(-less, 2)),
                more => format!("{} dearer a lunch", fixed(more, 2)),
            }
        )
    })
}

/// Most remedies told on the terminal.
const MOST_ON_TERMINAL: usize = 8;

/// A difference with its sign; nought has none.
fn signed(value: f64) -> String {
    match fixed(value, 1) {
        nought if nought.chars().all(|c| matches!(c, '0' | '.' | '-')) => "0.0".to_owned(),
        text if value > 0.0 => format!("+{text}"),
        text => text,
    }
}

fn row(it: &Tried, unfinished: u64, number: &dyn Fn(Option<f64>) -> String) -> Vec<String> {
    let difference = |of: &Option<scullery_study::paired::MeanDifference>| match of {
        None => DASH.to_owned(),
        Some(it) if it.identical => "none at all".to_owned(),
        Some(it) => match it.interval {
            Some([low, high]) => {
                format!("{} ({} to {})", signed(it.mean), signed(low), signed(high))
            }
            None => signed(it.mean),
        },
    };
    let more = it.unfinished.saturating_sub(unfinished);
    let helps = if more > 0 && it.helps {
        format!("yes, but {more} more locked or never ended")
    } else if more > 0 {
        format!("{more} more locked or never ended")
    } else if it.helps {
        if it.buys {
            "yes; to be bought or built"
        } else {
            "yes"
        }
        .to_owned()
    } else if it
        .effect
        .as_ref()
        .is_some_and(|it| it.interval.is_some_and(|[low, _]| low > 0.0))
    {
        "makes it worse".to_owned()
    } else {
        "does nothing that shows".to_owned()
    };
    vec![
        it.words.clone(),
        number(it.hers),
        number(it.mean),
        difference(&it.effect),
        difference(&it.cost),
        helps,
    ]
}

/// Every file of a replayed lunch, the manifest last.
///
/// # Errors
/// When a data file cannot be made.
pub fn replayed_files(of: &Replayed, origin: &Origin) -> Result<Vec<ReportFile>, Fault> {
    let data = super::json(of)?.into_bytes();
    files(&replayed_page(of)?, origin, vec![("replay.json", data)])
}
