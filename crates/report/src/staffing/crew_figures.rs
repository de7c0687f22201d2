//! The pictures of a search for a crew.

use scullery_study::staffing::found::{CrewStudy, Row};

use super::heat::{Named, heat_map};
use super::roster_figure::roster_figure;
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::figure::{Figure, WIDTH};
use crate::lettering::shorten;
use crate::number::fixed;
use crate::palette::{BLUE, Dash, GRID, INK, SOFT_INK, VERMILLION};
use crate::panel::SMALL;
use crate::svg::Naming;
use crate::table::Table;

/// All of them, in reading order.
pub(super) fn crew_figures(study: &CrewStudy) -> Result<Vec<Figure>, Fault> {
    let mut all = Vec::new();
    all.extend(heat_map(
        &Named {
            id: "crews",
            title: "Crews against targets",
            caption: "One row a crew, cheapest first; in each cell the lunches in which the target held, or the mean of what \
                      it speaks of. Hatched: the target fails. Outlined in black: the crew as it is; in red: the one chosen. Roles \
                      with as many people in every row are left out of the names; the table has them.",
            row: "Crew",
        },
        &study.about.targets,
        &study.rows,
    )?);
    all.extend(frontier(study)?);
    all.extend(heat_map(
        &Named {
            id: "one-missing",
            title: "The chosen crew with one person missing",
            caption: "One row for each person who may be missing. A row without a hatch is a person the crew can spare for a day.",
            row: "Missing",
        },
        &study.about.targets,
        &study.one_missing,
    )?);
    if let Some(roster) = &study.roster {
        all.push(roster_figure(roster)?);
    }
    Ok(all)
}

/// Labour hours against service.
fn frontier(study: &CrewStudy) -> Result<Option<Figure>, Fault> {
    let rows: Vec<&Row> = study.rows.iter().collect();
    if rows.len() < 2 {
        return Ok(None);
    }
    let area = Area {
        x: 60.0,
        y: 40.0,
        w: WIDTH - 60.0 - 24.0,
        h: 320.0,
    };
    let most = rows.iter().map(|r| r.hours).fold(0.0, f64::max);
    let least = rows.iter().map(|r| r.hours).fold(most, f64::min);
    let step = axis_step((most - least).max(1.0) / 6.0);
    let from = (least / step).floor() * step;
    let to = ((most / step).ceil() * step).max(from + step);
    let at = |row: &Row| {
        let x = area.x + (row.hours - from) / (to - from) * area.w;
        (x, area.y + (1.0 - row.service()) * area.h)
    };
    let title = "Labour hours against service";
    let desc = desc(&rows);
    let naming = Naming {
        id: "frontier",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, area.y + area.h + 46.0, |canvas| {
        axes(canvas, area, (from, to, step))?;
        let mut edge: Vec<&&Row> = rows.iter().filter(|r| r.is("frontier")).collect();
        edge.sort_by(|a, b| a.hours.total_cmp(&b.hours));
        let mut points: Vec<(f64, f64)> = Vec::new();
        for row in &edge {
            let (x, y) = at(row);
            if let Some(&(_, last)) = points.last() {
                points.push((x, last));
            }
            points.push((x, y));
        }
        canvas.line(
            &points,
            Stroke {
                colour: BLUE,
                width: 2.0,
                dash: Dash::Solid,
            },
        )?;
        for row in &rows {
            mark(canvas, at(row), row)?;
        }
        let named = rows
            .iter()
            .filter(|r| r.is("chosen") || r.is("now") || r.is("holds with one missing"));
        for (number, row) in named.enumerate() {
            let (x, y) = at(row);
            let words: Vec<&str> = row
                .marks
                .iter()
                .map(String::as_str)
                .filter(|m| *m != "frontier")
                .collect();
            let text = shorten(
                &format!("{}: {}", words.join(", "), super::people(row.people)),
                SMALL,
                220.0,
            );
            let (to_left, dy) = (
                x > area.x + area.w - 230.0,
                16.0 + 15.0 * (number % 2) as f64,
            );
            let align = if to_left { Align::Right } else { Align::Left };
            let dx = if to_left { -9.0 } else { 9.0 };
            canvas.text((x + dx, y + dy), &text, SMALL, INK, align)?;
        }
        Ok(())
    })?;
    let mut numbers = Table::new(
        "Crews that are shown",
        &[
            "Crew",
            "People",
            "Paid hours",
            "Lunches that held every target",
            "Best for its hours",
        ],
    );
    numbers.rows = rows
        .iter()
        .map(|row| {
            vec![
                row.words.clone(),
                row.people.to_string(),
                fixed(row.hours, 2),
                format!("{} of {}", row.all_held, row.lunches),
                if row.is("frontier") { "yes" } else { "no" }.to_owned(),
            ]
        })
        .collect();
    Ok(Some(Figure {
        id: "frontier".into(),
        title: title.into(),
        caption: "Each mark is a crew: how many hours it is paid for, and in how many of 100 lunches it held every target on single \
                  lunches at once. No crew that is shown lies above and to the left of the line. Square: the chosen one; \
                  ring: the crew as it is."
            .into(),
        desc,
        svg,
        tables: vec![numbers],
    }))
}

fn axes(
    canvas: &mut Canvas<'_>,
    area: Area,
    (from, to, step): (f64, f64, f64),
) -> Result<(), Fault> {
    for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let y = area.y + (1.0 - share) * area.h;
        canvas.line(
            &[(area.x, y), (area.x + area.w, y)],
            Stroke::solid(GRID, 1.0),
        )?;
        canvas.text(
            (area.x - 8.0, y + 4.0),
            &fixed(share * 100.0, 0),
            SMALL,
            SOFT_INK,
            Align::Right,
        )?;
    }
    canvas.text(
        (4.0, area.y - 18.0),
        "lunches of 100 that held every target",
        SMALL,
        SOFT_INK,
        Align::Left,
    )?;
    let count = ((to - from) / step).round() as u32;
    for n in 0..=count {
        let hours = from + f64::from(n) * step;
        let x = area.x + (hours - from) / (to - from) * area.w;
        canvas.line(
            &[(x, area.y + area.h), (x, area.y + area.h + 5.0)],
            Stroke::solid(INK, 1.0),
        )?;
        let digits = usize::from(step < 1.0);
        canvas.text(
            (x, area.y + area.h + 20.0),
            &fixed(hours, digits),
            SMALL,
            SOFT_INK,
            Align::Middle,
        )?;
    }
    canvas.text(
        (area.x + area.w, area.y + area.h + 38.0),
        "paid hours a meal",
        SMALL,
        SOFT_INK,
        Align::Right,
    )
}

fn mark(canvas: &mut Canvas<'_>, (x, y): (f64, f64), row: &Row) -> Result<(), Fault> {
    let around = |r: f64| -> Vec<(f64, f64)> {
        (0..=24)
            .map(|n| f64::from(n) * std::f64::consts::TAU / 24.0)
            .map(|a| (x + r * a.cos(), y + r * a.sin()))
            .collect()
    };
    if row.is("chosen") {
        canvas.fill(
            Area {
                x: x - 6.0,
                y: y - 6.0,
                w: 12.0,
                h: 12.0,
            },
            VERMILLION,
        )?;
    } else {
        let colour = if row.verdict == "fails" {
            SOFT_INK
        } else {
            BLUE
        };
        canvas.polygon(&around(4.5), colour, 1.0)?;
    }
    if row.is("now") {
        canvas.line(&around(10.0), Stroke::solid(INK, 2.0))?;
    }
    Ok(())
}

fn axis_step(rough: f64) -> f64 {
    [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0]
        .into_iter()
        .find(|step| *step >= rough)
        .unwrap_or(200.0)
}

fn desc(rows: &[&Row]) -> String {
    let edge: Vec<String> = rows
        .iter()
        .filter(|r| r.is("frontier"))
        .map(|r| {
            format!(
                "{} hours: {} of {} lunches",
                fixed(r.hours, 2),
                r.all_held,
                r.lunches
            )
        })
        .collect();
    format!("The best service for its hours. {}.", edge.join("; "))
}
