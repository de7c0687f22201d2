//! Arrangements compared, as a page.

use scullery_study::compare::{ArrangementResult, Comparison};
use scullery_study::money_difference::{MoneyDifference, Payback};
use scullery_study::paired::ShareDifference;

use super::picture::{Row, rows};
use super::said::{
    clear_words, difference_texts, difference_unit, mean_texts, named, of_100, signed_of_100,
    signed_texts,
};
use super::{Section, StudyPage, assumptions, cautions};
use crate::error::Fault;
use crate::figure::Figure;
use crate::number::{DASH, Units, row_texts};
use crate::sheet::Arrangement;
use crate::svg::Naming;
use crate::table::Table;

/// The page of a comparison.
///
/// # Errors
/// When a picture could not be drawn.
pub fn comparison_page(of: &Comparison) -> Result<StudyPage, Fault> {
    let units = Units::named(&of.heading.units);
    let mut sections = vec![
        arrangements(of),
        targets(of)?,
        measures(of, units),
        percentiles(of, units),
    ];
    sections.extend(money(of));
    sections.push(computed(of));
    if let Some(first) = of.arrangements.first() {
        sections.push(assumptions(&first.assumptions));
    }
    sections.push(cautions(&study_cautions()));
    sections.retain(|section| {
        !section.tables.is_empty() || !section.list.is_empty() || !section.words.is_empty()
    });
    Ok(StudyPage {
        kind: "Arrangements compared".into(),
        name: of.heading.name.clone(),
        note: of.heading.note.clone(),
        answer: of.answer.clone(),
        day: String::new(),
        alarms: alarms(of),
        sections,
    })
}

fn alarms(of: &Comparison) -> Vec<String> {
    let mut alarms = Vec::new();
    if of.repeats < of.asked {
        alarms.push(format!(
            "Stopped early: {} of {} lunches are complete in every arrangement.",
            of.repeats, of.asked
        ));
    }
    for one in &of.arrangements {
        let stuck = one.endings.gridlock + one.endings.never_drained;
        if stuck > 0 {
            let first = one
                .endings
                .sentences
                .first()
                .map_or(String::new(), |words| format!(" {words}"));
            alarms.push(format!(
                "With \"{}\" {stuck} of {} lunches never came to an end; they miss every target and are in no mean.{first}",
                one.name, of.repeats
            ));
        }
    }
    alarms
}

/// The arrangements as options, for a sheet that sets them side by side.
pub(super) fn options(of: &Comparison) -> Vec<Arrangement> {
    let measure = |id: &str, number: usize| {
        let row = of.measures.iter().find(|row| row.id == id)?;
        row.values.get(number).cloned()
    };
    let one = |(number, it): (usize, &ArrangementResult)| {
        let money = of.money.iter().find(|money| money.name == it.name);
        let years = match money.and_then(|money| money.payback) {
            Some(Payback::Years { years, .. }) => Some(years),
            _ => None,
        };
        Arrangement {
            name: it.name.clone(),
            words: capital(&changed(it)),
            invest: money.and_then(|money| money.investment),
            run: measure("line.cost", number),
            labour: measure("line.covers_per_labour_h", number),
            targets: it.targets.clone(),
            // Costs less: saves.
            saves_a_year: money.map(|money| {
                let ends = money.paid_out_interval();
                (
                    -money.paid_out_per_year(),
                    ends.map(|[low, high]| [-high, -low]),
                )
            }),
            payback_years: years,
        }
    };
    of.arrangements.iter().enumerate().map(one).collect()
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn changed(one: &ArrangementResult) -> String {
    let words = one.changes.iter().map(|change| {
        let now = change.after.as_deref().unwrap_or("taken away");
        match (&change.before, change.alters) {
            (_, false) => format!("`{}` alters nothing: it stands so already", change.words),
            (Some(before), true) if change.after.is_some() => {
                format!("`{}` (was {before})", change.words)
            }
            (Some(_), true) => format!("`{}`", change.words),
            (None, true) => format!("`{}` (new: {now})", change.words),
        }
    });
    let words: Vec<String> = words.collect();
    if words.is_empty() {
        "as written".to_owned()
    } else {
        words.join("; ")
    }
}

fn arrangements(of: &Comparison) -> Section {
    let mut table = Table::new(
        "The arrangements, and what each holds by itself",
        &[
            "Arrangement",
            "What is changed",
            "All targets",
            "Lunches in which every target on single lunches held",
            "Against the first",
        ],
    );
    for (number, one) in of.arrangements.iter().enumerate() {
        table.rows.push(vec![
            one.name.clone(),
            changed(one),
            one.verdict.clone().unwrap_or_else(|| "none set".to_owned()),
            one.held_all
                .map_or(DASH.to_owned(), |held| format!("{held} of {}", of.repeats)),
            match (number, one.same_as_first) {
                (0, _) => "is the first".to_owned(),
                (_, true) => "exactly the same in every lunch".to_owned(),
                _ => "differs".to_owned(),
            },
        ]);
    }
    let mut brief = Table::new(
        "",
        &[
            "Arrangement",
            "Change",
            "All targets",
            "Lunches without a miss",
        ],
    );
    brief.rows = table.rows.iter().map(|row| row[..4].to_vec()).collect();
    Section {
        tables: vec![(table, vec![1, 2, 4])],
        brief: vec![(brief, vec![1, 2])],
        ..Section::new("arrangements", "The arrangements")
    }
}

fn share_texts(difference: Option<&ShareDifference>, is_same: bool) -> [String; 2] {
    match difference {
        None => [DASH.to_owned(), DASH.to_owned()],
        Some(_) if is_same => ["0".to_owned(), "the same in every lunch".to_owned()],
        Some(d) => {
            let [low, high] = d.interval.map(signed_of_100);
            [signed_of_100(d.difference), format!("{low} to {high}")]
        }
    }
}

fn targets(of: &Comparison) -> Result<Section, Fault> {
    let mut table = Table::new(
        "Each target in each arrangement; differences in lunches of 100, on the same lunches",
        &[
            "Target and arrangement",
            "Verdict",
            "Evidence",
            "More lunches of 100 than the first",
            "That lies between",
        ],
    );
    let mut drawn = Vec::new();
    for target in &of.targets {
        for (number, result) in target.results.iter().enumerate() {
            let Some(result) = result else { continue };
            let name = &of.arrangements[number].name;
            let difference = number
                .checked_sub(1)
                .and_then(|at| target.differences[at].as_ref());
            let [more, between] = share_texts(difference, of.arrangements[number].same_as_first);
            table.rows.push(vec![
                format!("{} / {name}", target.words.trim_end_matches('.')),
                result.verdict.clone(),
                result.evidence.clone(),
                more,
                between,
            ]);
            if let Some(held) = result.held {
                let is_first_drawn = !target.results[..number]
                    .iter()
                    .any(|r| r.as_ref().is_some_and(|r| r.held.is_some()));
                drawn.push(Row {
                    words: name.clone(),
                    value: Some(held as f64 / result.of.max(1) as f64 * 100.0),
                    interval: result.interval.map(|ends| ends.map(|end| end * 100.0)),
                    is_bad: result.verdict == "fails",
                    behind: format!("{}, {held} of {}", result.verdict, result.of),
                    heading: is_first_drawn.then(|| target.words.clone()),
                    bar: result.asked_of_100,
                });
            }
        }
    }
    let mut section = Section::new("targets", "Targets side by side");
    let mut brief = Table::new("", &["Target"]);
    brief
        .head
        .extend(of.arrangements.iter().map(|one| one.name.clone()));
    brief.rows = of
        .targets
        .iter()
        .map(|target| {
            let cells = target.results.iter().map(|result| match result {
                None => DASH.to_owned(),
                Some(result) => match result.held {
                    Some(held) => format!("{}, {held} of {}", result.verdict, result.of),
                    None => result.verdict.clone(),
                },
            });
            std::iter::once(target.words.trim_end_matches('.').to_owned())
                .chain(cells)
                .collect()
        })
        .collect();
    if !brief.rows.is_empty() {
        let all = (0..brief.head.len()).collect();
        section.brief.push((brief, all));
    }
    if drawn.is_empty() && table.rows.is_empty() {
        return Ok(section);
    }
    if !drawn.is_empty() {
        let desc = drawn
            .iter()
            .map(|row| format!("{}: {}.", row.words, row.behind))
            .collect::<Vec<_>>()
            .join(" ");
        let title = "Lunches of 100 in which each target held";
        let naming = Naming {
            id: "targets",
            title,
            desc: &desc,
        };
        section.pictures.push(Figure {
            id: "targets".into(),
            title: title.into(),
            caption: "Mark: the share of simulated lunches. Line: where the share of all such lunches lies, 95 % sure. Short \
                      dashes: how many of 100 are asked. Hollow marks on broken lines fail."
                .into(),
            svg: rows(&naming, &drawn, "lunches of 100")?,
            desc,
            tables: Vec::new(),
        });
    }
    section.tables.push((table, vec![1, 2]));
    Ok(section)
}

fn measures(of: &Comparison, units: Units) -> Section {
    let mut table = Table::new(
        "Means, and how they differ from the first on the same lunches",
        &[
            "Measure and arrangement",
            "Mean",
            "Mean lies between (95 % sure)",
            "Difference",
            "Difference lies between",
            "Told apart",
            "Variance saved by pairing",
        ],
    );
    for row in &of.measures {
        for (number, value) in row.values.iter().enumerate() {
            let [mean, between] = mean_texts(value, units);
            let difference = number
                .checked_sub(1)
                .and_then(|at| row.differences[at].as_ref());
            let [more, more_between] = match number {
                0 => [DASH.to_owned(), DASH.to_owned()],
                _ => difference_texts(difference, &row.unit, units),
            };
            let saved = difference.filter(|d| !d.identical).and_then(|d| d.saved);
            table.rows.push(vec![
                format!(
                    "{} / {}",
                    named(&row.label, &row.unit, &of.heading.currency, units),
                    of.arrangements[number].name
                ),
                mean,
                between,
                more,
                more_between,
                if number == 0 {
                    "is the first".to_owned()
                } else {
                    clear_words(difference).to_owned()
                },
                saved.map_or(DASH.to_owned(), |saved| format!("{:.0} %", saved * 100.0)),
            ]);
        }
    }
    Section {
        words: vec![format!(
            "Both met the very same diners, lunch by lunch, so what differs is the arrangement. The {} intervals of differences \
             of means and shares hold together with 95 % (each by itself with {:.2} %). Where pairing saved 75 % of the variance, \
             four times as many lunches would have been needed without it.",
            of.intervals,
            of.level_each * 100.0
        )],
        tables: vec![(table, vec![5])],
        ..Section::new("measures", "Measures side by side")
    }
}

fn percentiles(of: &Comparison, units: Units) -> Section {
    let mut table = Table::new(
        "The bad lunch: 5 of 100 are worse or, where less is worse, 95 of 100",
        &[
            "Measure and arrangement",
            "95th of 100 with the first",
            "With this one",
            "Difference",
            "Difference lies between (95 % sure)",
        ],
    );
    let mut few = false;
    for row in &of.measures {
        for (at, difference) in row.p95.iter().enumerate() {
            let Some(d) = difference else { continue };
            if row.differences[at].as_ref().is_some_and(|d| d.identical) {
                continue;
            }
            let [first, second] = row_texts([Some(d.first), Some(d.second)], &row.unit, units);
            let [more, between] = signed_texts(d.second - d.first, d.interval, &row.unit, units);
            few |= d.interval.is_none();
            table.rows.push(vec![
                format!(
                    "{} / {}",
                    named(
                        &row.label,
                        difference_unit(&row.unit),
                        &of.heading.currency,
                        units
                    ),
                    of.arrangements[at + 1].name
                ),
                first,
                second,
                more,
                between,
            ]);
        }
    }
    let mut section = Section::new("percentiles", "The 95th of 100 lunches");
    if !table.rows.is_empty() {
        let more = if few {
            " With fewer than 72 lunches none is given."
        } else {
            ""
        };
        section.words.push(format!(
            "Intervals by bootstrap: lunches drawn again with replacement, the same ones for both, 2,000 times. Each holds by \
             itself with about 95 %.{more}"
        ));
        section.tables.push((table, Vec::new()));
    }
    section
}

fn money(of: &Comparison) -> Option<Section> {
    if of.money.is_empty() {
        return None;
    }
    let sign = &of.heading.currency;
    let owns = of.money.iter().any(|row| row.owning.is_some());
    let mut head = vec![
        "Arrangement",
        "A lunch",
        "Between (95 % sure)",
        "A year",
        "Between (95 % sure)",
    ];
    if owns {
        head.extend([
            "Owning, a year",
            "With owning, a year",
            "Between (95 % sure)",
        ]);
    }
    head.extend(["To be paid once", "Paid back"]);
    let paid_back = head.len() - 1;
    let mut table = Table::new(format!("Money against the first ({sign})"), &head);
    for row in &of.money {
        table.rows.push(money_row(row, owns));
    }
    let mut short = vec![
        "Against the first".to_owned(),
        format!("A lunch, {sign}"),
        format!("A year, {sign}"),
        "Paid back".to_owned(),
    ];
    let mut kept = vec![0, 1, 3, paid_back];
    if owns {
        short.insert(3, format!("With owning, a year, {sign}"));
        kept.insert(3, 6);
    }
    let brief = Table {
        caption: String::new(),
        head: short,
        rows: table
            .rows
            .iter()
            .map(|row| kept.iter().map(|column| row[*column].clone()).collect())
            .collect(),
    };
    let mut words = vec![format!(
        "A year has {} days open with one such lunch each. What lies between is the luck of lunches only, not prices, nor how \
         many days. Payback is investment over yearly saving, without interest.",
        of.days_a_year
    )];
    if owns {
        words.push(
            "Owning is price over life and upkeep of what the scenarios say is owned, in equal parts and without interest; it \
             is in neither a lunch nor a year of running. Where nothing else is said, the difference in prices is what must be \
             paid once; the saving that pays it back is that in running and upkeep, for price over life is the same money."
                .to_owned(),
        );
    }
    Some(Section {
        brief: vec![(brief, vec![kept.len() - 1])],
        words,
        tables: vec![(table, vec![paid_back])],
        ..Section::new("money", "Money")
    })
}

fn money_row(row: &MoneyDifference, owns: bool) -> Vec<String> {
    let [meal, meal_between] = difference_texts(Some(&row.per_meal), "money", Units::Metric);
    let mut cells = vec![row.name.clone(), meal, meal_between];
    let same = row.per_meal.identical;
    cells.extend(year_texts(row.per_year, row.per_year_interval, same));
    if owns {
        let owning = row.owning.as_ref();
        cells.push(owning.map_or(DASH.to_owned(), |it| {
            let [sum, _] = year_texts(it.per_year(), None, false);
            sum
        }));
        cells.extend(owning.map_or([DASH.to_owned(), DASH.to_owned()], |it| {
            year_texts(it.with_running_per_year, it.with_running_interval, same)
        }));
    }
    cells.push(row.investment.map_or(DASH.to_owned(), |paid| {
        signed_texts(paid, None, "money", Units::Metric)[0].clone()
    }));
    cells.push(row.payback.as_ref().map_or(DASH.to_owned(), payback_words));
    cells
}

/// A yearly sum and its interval, to the whole: it is not known to the cent.
fn year_texts(sum: f64, interval: Option<[f64; 2]>, same: bool) -> [String; 2] {
    if same && sum.abs() < 1e-9 {
        return ["0".to_owned(), "the same in every lunch".to_owned()];
    }
    signed_texts(
        sum.round(),
        interval.map(|ends| ends.map(f64::round)),
        "count",
        Units::Metric,
    )
}

fn payback_words(payback: &Payback) -> String {
    match payback {
        Payback::Never => "never: it saves nothing".to_owned(),
        Payback::Nothing => "nothing to pay back".to_owned(),
        Payback::Years { years, from, to } => {
            let [years, from] = [years, from].map(|years| format!("{years:.1}"));
            match to.map(|to| format!("{to:.1}")) {
                Some(to) if to == from => format!("after {years} years"),
                Some(to) => format!("after {years} years (between {from} and {to})"),
                None => format!("after {years} years ({from} at the earliest, perhaps never)"),
            }
        }
    }
}

fn computed(of: &Comparison) -> Section {
    Section {
        list: vec![
            format!("Each arrangement was simulated {} times with seed {}; lunch number k has the same luck in all of them.", of.repeats, of.seed),
            "Means: Student's t on the differences lunch by lunch. Shares of lunches: the score interval for paired shares \
             (Tango 1998). Both with Bonferroni's correction over all differences told."
                .to_owned(),
            format!("A target holds or fails by its own interval at 95 % (Wilson), as in a report of one arrangement; {} of 100 lunches means of all such lunches, not of those simulated.", of_100(0.95)),
        ],
        ..Section::new("computed", "How this was computed")
    }
}

fn study_cautions() -> Vec<String> {
    vec![
        "A planning aid. What differs here differs in the model; what was left out of it may matter more than what was changed.".to_owned(),
        "Shorter shifts, fewer people and later breaks are people's health: reach, lifting, wet floors, heat and rest breaks. \
         Local codes, contracts and licensed practice decide."
            .to_owned(),
        "Wash and rinse temperatures follow the machine's data plate and the local food code whichever arrangement is chosen.".to_owned(),
    ]
}
