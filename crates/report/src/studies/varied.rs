//! Numbers varied, and what matters most, as pages.

use scullery_study::summary::Measure;
use scullery_study::vary::{PointResult, Tornado, Variation, Varied};

use super::picture::{Bar, Cell, Point, bars, field, over_numbers};
use super::said::{difference_texts, mean_texts, named};
use super::{Section, StudyPage, cautions};
use crate::clock::clock_text;
use crate::error::Fault;
use crate::figure::Figure;
use crate::number::{DASH, Units, one_text};
use crate::svg::Naming;
use crate::table::Table;

/// Measures that get a picture.
const MOST_PICTURES: usize = 6;
/// Points up to which the terminal shows them.
const MOST_ON_TERMINAL: usize = 30;
/// Rows and columns up to which a grid of two numbers is drawn as a field.
const LARGEST_FIELD: usize = 14;

/// A number as it stands in a scenario.
fn plain(value: f64) -> String {
    let text = format!("{value:.4}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

fn unit_of(measure: &Measure, currency: &str, units: Units) -> String {
    named(&measure.label, &measure.unit, currency, units)
}

/// The page of numbers varied.
///
/// # Errors
/// When a picture could not be drawn.
pub fn variation_page(of: &Variation) -> Result<StudyPage, Fault> {
    let units = Units::named(&of.heading.units);
    let mut sections = vec![numbers(&of.varied)];
    sections.push(pictures(of, units)?);
    sections.push(points(of, units));
    sections.push(Section {
        list: vec![
            format!(
                "{} of {} points, each simulated {} times with seed {}; lunch number k has the same luck at every point.",
                of.points.len(),
                of.asked,
                of.repeats,
                of.seed
            ),
            if of.design == "sample" {
                "The points are Sobol's, with the direction numbers of Joe and Kuo (2008): they fill the box evenly.".to_owned()
            } else {
                "The points are all combinations of the values.".to_owned()
            },
        ],
        ..Section::new("computed", "How this was computed")
    });
    sections.push(cautions(&own_cautions(&of.cautions)));
    let alarms = unfinished(&of.points);
    Ok(StudyPage {
        kind: "Numbers varied".into(),
        name: of.heading.name.clone(),
        note: of.heading.note.clone(),
        answer: of.answer.clone(),
        day: of.heading.day_words.clone(),
        alarms,
        sections,
    })
}

fn unfinished(points: &[PointResult]) -> Vec<String> {
    let stuck = points.iter().filter(|point| point.unfinished > 0).count();
    if stuck == 0 {
        return Vec::new();
    }
    vec![format!(
        "At {stuck} points some lunches never came to an end; those lunches miss every target and are in no mean."
    )]
}

fn own_cautions(of_plan: &[String]) -> Vec<String> {
    let mut own = vec![
        "A planning aid. Not every number that can be written can be built: data plates, the room and local codes set limits, \
         and people's pace, reach and rest do too."
            .to_owned(),
    ];
    own.extend(of_plan.iter().cloned());
    own
}

fn numbers(varied: &[Varied]) -> Section {
    let mut table = Table::new(
        "The numbers varied",
        &[
            "Number",
            "As the scenario has it",
            "Least",
            "Now",
            "Greatest",
        ],
    );
    for one in varied {
        table.rows.push(vec![
            one.words(),
            one.path.clone(),
            plain(one.low),
            one.present.map_or(DASH.to_owned(), plain),
            plain(one.high),
        ]);
    }
    Section {
        tables: vec![(table, Vec::new())],
        ..Section::new("numbers", "The numbers varied")
    }
}

fn is_bad(point: &PointResult) -> bool {
    point.targets.iter().any(|target| target.verdict == "fails")
}

fn pictures(of: &Variation, units: Units) -> Result<Section, Fault> {
    let mut section = Section::new("pictures", "Pictures");
    for (number, id) in of.measures.iter().enumerate().take(MOST_PICTURES) {
        let Some(first) = of
            .points
            .first()
            .and_then(|point| point.measures.get(number))
        else {
            continue;
        };
        let title = first.label.clone();
        let picture_id = format!("vary-{}", number + 1);
        let with_values = of
            .points
            .iter()
            .filter(|point| point.measures[number].mean.is_some())
            .count();
        let desc = format!("{title} at {with_values} points; the table of points has the numbers.");
        let naming = Naming {
            id: &picture_id,
            title: &title,
            desc: &desc,
        };
        let unit = unit_of(first, &of.heading.currency, units);
        let is_field = of.design == "grid" && of.varied.len() == 2;
        let drawn = if is_field {
            grid_field(of, number, &naming, units)?
        } else {
            None
        };
        let (svg, how) = match drawn {
            Some(svg) => (
                svg,
                "Each cell: the mean over the lunches at that point; the darker, the more. Hatched: a target fails there. Framed: as it \
                 is now.",
            ),
            None => (
                over_numbers(
                    &naming,
                    &panels(of, number, units),
                    &unit,
                    of.varied.len() == 1,
                )?,
                "Mark: the mean over the lunches at that point. Upright line: where it lies, 95 % sure. Hollow marks: a target fails \
                 there. Dots: as it is now.",
            ),
        };
        section.pictures.push(Figure {
            id: picture_id.clone(),
            caption: format!("{unit}. {how} ({id})"),
            title,
            desc,
            svg,
            tables: Vec::new(),
        });
    }
    if of.measures.len() > MOST_PICTURES {
        section.words.push(format!(
            "The first {MOST_PICTURES} of {} measures; ask for others by name with --measure.",
            of.measures.len()
        ));
    }
    Ok(section)
}

/// One box a number, the measure over it; where several vary, each mark is a point of the whole design.
fn panels(of: &Variation, number: usize, units: Units) -> Vec<(String, Option<f64>, Vec<Point>)> {
    let of_number = |at: usize, varied: &Varied| {
        let points = of.points.iter().filter_map(|point| {
            let measure = &point.measures[number];
            let shown = |value: f64| shown(value, &measure.unit, units);
            Some(Point {
                x: point.values[at],
                y: shown(measure.mean?),
                interval: measure.ci95.map(|ends| ends.map(shown)),
                is_bad: is_bad(point),
            })
        });
        (varied.words(), varied.present, points.collect())
    };
    of.varied
        .iter()
        .enumerate()
        .map(|(at, varied)| of_number(at, varied))
        .collect()
}

/// A value as an axis shows it: clock times as hours, shares as of 100.
fn shown(value: f64, unit: &str, units: Units) -> f64 {
    match unit {
        "share" => value * 100.0,
        "clock_min" => value / 60.0,
        unit => units.shown(value, unit),
    }
}

/// Values of one number that occur, rising.
fn values_of(of: &Variation, at: usize) -> Vec<f64> {
    let mut values: Vec<f64> = of.points.iter().map(|point| point.values[at]).collect();
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| a.total_cmp(b).is_eq());
    values
}

fn grid_field(
    of: &Variation,
    number: usize,
    naming: &Naming<'_>,
    units: Units,
) -> Result<Option<String>, Fault> {
    let (down, across) = (values_of(of, 0), values_of(of, 1));
    if down.len() > LARGEST_FIELD || across.len() > LARGEST_FIELD {
        return Ok(None);
    }
    let means = of
        .points
        .iter()
        .filter_map(|point| point.measures[number].mean);
    let (least, most) = means.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
        (a.min(v), b.max(v))
    });
    let at = |y: f64, x: f64| {
        let point = of.points.iter().find(|point| {
            point.values[0].total_cmp(&y).is_eq() && point.values[1].total_cmp(&x).is_eq()
        })?;
        let measure = &point.measures[number];
        let is_now = |which: usize| {
            of.varied[which]
                .present
                .is_some_and(|now| (now - point.values[which]).abs() < 1e-9)
        };
        Some(Cell {
            text: one_text(measure.mean, &measure.unit, units),
            strength: measure.mean.map_or(0.0, |mean| {
                if most > least {
                    (mean - least) / (most - least)
                } else {
                    0.0
                }
            }),
            is_bad: is_bad(point),
            is_present: is_now(0) && is_now(1),
        })
    };
    let cells: Vec<Vec<Option<Cell>>> = down
        .iter()
        .map(|y| across.iter().map(|x| at(*y, *x)).collect())
        .collect();
    let words = |values: &[f64]| values.iter().map(|value| plain(*value)).collect::<Vec<_>>();
    let svg = field(
        naming,
        (&of.varied[1].words(), &words(&across)),
        (&of.varied[0].words(), &words(&down)),
        &cells,
    )?;
    Ok(Some(svg))
}

fn points(of: &Variation, units: Units) -> Section {
    let mut head = vec!["Point".to_owned()];
    head.extend(of.varied.iter().map(Varied::words));
    head.push("All targets".to_owned());
    if let Some(first) = of.points.first() {
        head.extend(
            first
                .measures
                .iter()
                .map(|measure| unit_of(measure, &of.heading.currency, units)),
        );
    }
    let verdict_column = of.varied.len() + 1;
    let rows = of.points.iter().enumerate().map(|(number, point)| {
        let mut row = vec![(number + 1).to_string()];
        row.extend(point.values.iter().map(|value| plain(*value)));
        row.push(verdict(point).to_owned());
        row.extend(point.measures.iter().map(|measure| {
            let [mean, between] = mean_texts(measure, units);
            if between == DASH {
                mean
            } else {
                format!("{mean} ({between})")
            }
        }));
        row
    });
    let table = Table {
        caption: "Mean over the lunches, and where it lies (95 % sure); one row a point".into(),
        rows: rows.collect(),
        head,
    };
    let brief = (of.points.len() <= MOST_ON_TERMINAL).then(|| {
        let shown = verdict_column + 1 + of.measures.len().min(4);
        let mut brief = Table {
            head: table.head[1..shown.min(table.head.len())].to_vec(),
            ..Table::default()
        };
        let means = of.points.iter().map(|point| {
            point
                .measures
                .iter()
                .map(|m| mean_texts(m, units)[0].clone())
                .collect::<Vec<_>>()
        });
        brief.rows = table
            .rows
            .iter()
            .zip(means)
            .map(|(row, means)| {
                row[1..=verdict_column]
                    .iter()
                    .cloned()
                    .chain(means.into_iter().take(4))
                    .collect()
            })
            .collect();
        (brief, vec![verdict_column - 1])
    });
    Section {
        tables: vec![(table, vec![verdict_column])],
        brief: brief.into_iter().collect(),
        ..Section::new("points", "The points")
    }
}

/// All targets of a point together.
pub(super) fn verdict(point: &PointResult) -> &'static str {
    let any = |verdict: &str| point.targets.iter().any(|target| target.verdict == verdict);
    if point.targets.is_empty() {
        DASH
    } else if any("fails") {
        "fails"
    } else if any("not sure yet") {
        "not sure yet"
    } else {
        "holds"
    }
}

/// The page of what matters most.
///
/// # Errors
/// When the picture could not be drawn.
pub fn tornado_page(of: &Tornado) -> Result<StudyPage, Fault> {
    let units = Units::named(&of.heading.units);
    let present = of.present.mean;
    let unit = unit_of(&of.present, &of.heading.currency, units);
    let mut table = Table::new(
        "Each number at its least and its greatest value, the others as they are; differences on the same lunches",
        &[
            "Number",
            "From",
            "Now",
            "To",
            "Change at the least",
            "That lies between",
            "Change at the greatest",
            "That lies between",
        ],
    );
    for bar in &of.bars {
        let [low, low_between] = difference_texts(bar.at_low.as_ref(), &of.present.unit, units);
        let [high, high_between] = difference_texts(bar.at_high.as_ref(), &of.present.unit, units);
        table.rows.push(vec![
            bar.varied.words(),
            plain(bar.varied.low),
            bar.varied.present.map_or(DASH.to_owned(), plain),
            plain(bar.varied.high),
            low,
            low_between,
            high,
            high_between,
        ]);
    }
    let mut brief = Table::new(
        "",
        &[
            "Number",
            "From",
            "To",
            "Change at the least",
            "Change at the greatest",
        ],
    );
    brief.rows = table
        .rows
        .iter()
        .map(|row| [0, 1, 3, 4, 6].map(|at| row[at].clone()).to_vec())
        .collect();
    let mut section = Section {
        brief: vec![(brief, Vec::new())],
        tables: vec![(table, Vec::new())],
        ..Section::new("bars", "What matters most")
    };
    if let Some(mean) = present.filter(|_| !of.bars.is_empty()) {
        let show = |value: f64| shown(value, &of.present.unit, units);
        let drawn: Vec<Bar> = of
            .bars
            .iter()
            .map(|bar| Bar {
                words: bar.varied.words(),
                ends: [bar.at_low.as_ref(), bar.at_high.as_ref()]
                    .map(|d| d.map(|d| show(mean + d.mean))),
                values: [plain(bar.varied.low), plain(bar.varied.high)],
            })
            .collect();
        let now = match of.present.unit.as_str() {
            "clock_min" => clock_text(mean),
            _ => one_text(Some(mean), &of.present.unit, units),
        };
        let title = format!("What moves: {}", of.present.label);
        let desc = format!("{} It is {now} as it is now.", of.answer);
        let naming = Naming {
            id: "tornado",
            title: &title,
            desc: &desc,
        };
        section.pictures.push(Figure {
            id: "tornado".into(),
            caption: format!(
                "Mean over the lunches: {now} as it is now. Hatched: with the number at its least value (written at its end). Plain: at its \
                 greatest. The ranges are those that were asked for, so a long bar may only be a wide range."
            ),
            svg: bars(&naming, &drawn, show(mean), &unit)?,
            title,
            desc,
            tables: Vec::new(),
        });
    }
    Ok(StudyPage {
        kind: "What matters most".into(),
        name: of.heading.name.clone(),
        note: of.heading.note.clone(),
        answer: of.answer.clone(),
        day: of.heading.day_words.clone(),
        alarms: Vec::new(),
        sections: vec![
            section,
            Section {
                list: vec![
                    format!(
                        "The scenario as it is and with each number at both ends, {} lunches each, seed {}, the same luck in all. \
                         Differences by Student's t lunch by lunch; all intervals together hold with 95 % (each by itself with {:.2} %).",
                        of.repeats,
                        of.seed,
                        of.level_each * 100.0
                    ),
                    "One number is moved at a time: what two do together is not seen here; a grid or a sample shows it.".to_owned(),
                ],
                ..Section::new("computed", "How this was computed")
            },
            cautions(&own_cautions(&of.cautions)),
        ],
    })
}
