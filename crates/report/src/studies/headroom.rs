//! Headroom, as a page.

use scullery_study::headroom::{DayRoom, Headroom, Trial};

use super::picture::{Row, rows};
use super::{Section, StudyPage, assumptions, cautions};
use crate::error::Fault;
use crate::figure::Figure;
use crate::number::fixed;
use crate::svg::Naming;
use crate::table::Table;

/// The page of a search for headroom.
///
/// # Errors
/// When a picture could not be drawn.
pub fn headroom_page(of: &Headroom) -> Result<StudyPage, Fault> {
    let mut sections = Vec::new();
    for (number, day) in of.days.iter().enumerate() {
        sections.push(section(number, day)?);
    }
    sections.push(computed(of));
    sections.push(assumptions(&of.assumptions));
    let mut own = vec![
        "A planning aid. Headroom of the model is no licence: crowding at the drop-off, heat, wet floors and hurry are \
         people's health, and seats, exits and local codes have limits of their own."
            .to_owned(),
    ];
    own.extend(of.cautions.iter().cloned());
    sections.push(cautions(&own));
    Ok(StudyPage {
        kind: "Headroom".into(),
        name: of.heading.name.clone(),
        note: of.heading.note.clone(),
        answer: of.answer.clone(),
        day: String::new(),
        alarms: Vec::new(),
        sections,
    })
}

/// The target that decides a trial: the one that fails most clearly, else one that is not sure.
fn deciding(trial: &Trial) -> String {
    let of = |verdict: &str| {
        let such = trial
            .targets
            .iter()
            .filter(|target| target.verdict == verdict);
        let share =
            |held: Option<u64>, of: u64| held.map_or(0.0, |held| held as f64 / of.max(1) as f64);
        such.min_by(|a, b| share(a.held, a.of).total_cmp(&share(b.held, b.of)))
    };
    let target = of("fails").or_else(|| of("not sure yet"));
    target.map_or(String::new(), |target| {
        format!(
            "{}: {}",
            target.words.trim_end_matches('.'),
            target.evidence
        )
    })
}

fn section(number: usize, day: &DayRoom) -> Result<Section, Fault> {
    let mut table = Table::new(
        format!("Numbers of covers tried for {}", day.day),
        &["Covers", "All targets", "Lunches simulated", "What decides"],
    );
    for trial in &day.trials {
        table.rows.push(vec![
            fixed(trial.covers, 0),
            trial.verdict.clone(),
            fixed(trial.lunches as f64, 0),
            deciding(trial),
        ]);
    }
    let id = format!("day-{}", number + 1);
    let title = format!("Covers tried for {}", day.day);
    let desc = day.words.clone();
    let drawn: Vec<Row> = day
        .trials
        .iter()
        .map(|trial| Row {
            words: trial.verdict.clone(),
            value: Some(trial.covers),
            interval: None,
            is_bad: trial.verdict == "fails",
            behind: format!(
                "{} covers, {} lunches",
                fixed(trial.covers, 0),
                trial.lunches
            ),
            heading: None,
            bar: Some(day.covers),
        })
        .collect();
    let naming = Naming {
        id: &id,
        title: &title,
        desc: &desc,
    };
    let picture = Figure {
        id: format!("headroom-{}", number + 1),
        caption: "Each mark is a number of covers that was tried; hollow ones fail. Short dashes: the covers of the day as it is now.".into(),
        svg: rows(&naming, &drawn, "covers")?,
        title: title.clone(),
        desc: desc.clone(),
        tables: Vec::new(),
    };
    let mut heading: String = day.day.clone();
    if let Some(first) = heading.get_mut(0..1) {
        first.make_ascii_uppercase();
    }
    let mut brief = Table::new("", &["Covers", "All targets", "Lunches simulated"]);
    brief.rows = table.rows.iter().map(|row| row[..3].to_vec()).collect();
    Ok(Section {
        brief: vec![(brief, vec![1])],
        words: vec![day.words.clone()],
        tables: vec![(table, vec![1, 3])],
        pictures: if drawn.is_empty() {
            Vec::new()
        } else {
            vec![picture]
        },
        ..Section::new(&id, &heading)
    })
}

fn computed(of: &Headroom) -> Section {
    Section {
        list: vec![
            "The covers of the day are scaled up or down as a whole; when people come, what they take and the crew stay as they are. \
             One fixed number of covers is expected on each such day, so it is narrower than days as they come."
                .to_owned(),
            format!(
                "Each number of covers was simulated until every target was told to hold or one to fail, at most {} times; {} lunches in \
                 all, seed {}. The intervals hold at every look (a confidence sequence for shares) and, taken together over all targets \
                 and numbers of covers, with 95 %.",
                fixed(of.most as f64, 0),
                fixed(of.lunches as f64, 0),
                of.seed
            ),
            "That a target which fails with so many covers fails with more is taken for granted.".to_owned(),
        ],
        ..Section::new("computed", "How this was computed")
    }
}
