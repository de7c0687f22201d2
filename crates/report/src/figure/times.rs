//! Stopwatch readings of a task: a histogram with the fitted curves, and each reading against the quantile it stands for.

use scullery_study::stopwatch::TimeStudy;
use scullery_study::stopwatch::family::{Family, Fitted};
use scullery_study::stopwatch::histogram::{Histogram, histogram};

use super::{Figure, WIDTH};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::number::fixed;
use crate::palette::{BLUE, Colour, Dash, GREEN, GRID, INK, PURPLE, SKY, SOFT_INK, VERMILLION};
use crate::panel::{NAME, SMALL, nice_step};
use crate::svg::Naming;
use crate::table::Table;

/// Most readings drawn one by one beside the line; more are thinned to this many.
const MOST_POINTS: usize = 400;

fn look(family: Family) -> (Colour, Dash) {
    match family {
        Family::Lognormal => (BLUE, Dash::Solid),
        Family::Gamma => (VERMILLION, Dash::Long),
        Family::Weibull => (GREEN, Dash::Short),
        Family::Exponential => (PURPLE, Dash::DashDot),
    }
}

/// The picture of one task's readings. `id` names its file.
///
/// # Errors
/// When it cannot be drawn.
pub fn times(id: &str, task: &str, study: &TimeStudy) -> Result<Figure, Fault> {
    let bars = histogram(&study.readings);
    let title = format!("Stopwatch readings of {task}");
    let desc = desc(study, &bars);
    let naming = Naming {
        id,
        title: &title,
        desc: &desc,
    };
    let left = Area {
        x: 56.0,
        y: 62.0,
        w: 410.0,
        h: 300.0,
    };
    let right = Area {
        x: 536.0,
        y: 62.0,
        w: 260.0,
        h: 300.0,
    };
    let svg = draw(&naming, WIDTH, 410.0, |canvas| {
        key(canvas, study)?;
        drawn_histogram(canvas, left, study, &bars)?;
        quantiles(canvas, right, study)
    })?;
    Ok(Figure {
        id: id.to_owned(),
        title,
        caption: "Left: readings counted in classes of equal width, and the curves that fit them best. Right: each \
                  reading against the time that the best curve puts at its rank; where the curve is right the points \
                  lie along the line, and the longest times show first where it is not."
            .to_owned(),
        desc,
        svg,
        tables: vec![fits_table(study)],
    })
}

fn key(canvas: &mut Canvas<'_>, study: &TimeStudy) -> Result<(), Fault> {
    let mut x = 56.0;
    for (rank, fit) in study.fits.iter().enumerate() {
        let (colour, dash) = look(fit.fitted.family);
        let width = if rank == 0 { 2.75 } else { 1.5 };
        canvas.line(
            &[(x, 20.0), (x + 30.0, 20.0)],
            Stroke {
                colour,
                width,
                dash,
            },
        )?;
        let name = fit.fitted.family.name();
        let words = if rank == 0 {
            format!("{name} (best)")
        } else {
            name.to_owned()
        };
        canvas.text((x + 36.0, 24.5), &words, NAME, INK, Align::Left)?;
        x += 62.0 + 7.4 * words.len() as f64;
    }
    Ok(())
}

fn axes(
    canvas: &mut Canvas<'_>,
    area: Area,
    along: (f64, f64),
    up: f64,
    words: (&str, &str),
) -> Result<(), Fault> {
    let Area { x, y, w, h } = area;
    let step = nice_step(up / 5.0, up);
    let mut mark = 0.0;
    while mark <= up * (1.0 + 1e-9) {
        let at = y + h * (1.0 - mark / up);
        canvas.line(&[(x, at), (x + w, at)], Stroke::solid(GRID, 0.75))?;
        canvas.text(
            (x - 6.0, at + 4.2),
            &fixed(mark, usize::from(step < 0.95)),
            SMALL,
            SOFT_INK,
            Align::Right,
        )?;
        mark += step;
    }
    let (from, to) = along;
    let step = nice_step((to - from) / (w / 60.0), to);
    let mut mark = (from / step).ceil() * step;
    while mark <= to * (1.0 + 1e-9) {
        let at = x + w * (mark - from) / (to - from);
        canvas.line(&[(at, y + h), (at, y + h + 4.0)], Stroke::solid(INK, 1.0))?;
        canvas.text(
            (at, y + h + 17.0),
            &fixed(mark, usize::from(step < 0.95)),
            SMALL,
            SOFT_INK,
            Align::Middle,
        )?;
        mark += step;
    }
    canvas.line(
        &[(x, y), (x, y + h), (x + w, y + h)],
        Stroke::solid(INK, 1.0),
    )?;
    canvas.text((x, y - 9.0), words.0, SMALL, SOFT_INK, Align::Left)?;
    canvas.text(
        (x + w, y + h + 34.0),
        words.1,
        SMALL,
        SOFT_INK,
        Align::Right,
    )
}

fn drawn_histogram(
    canvas: &mut Canvas<'_>,
    area: Area,
    study: &TimeStudy,
    bars: &Histogram,
) -> Result<(), Fault> {
    let Area { x, y, w, h } = area;
    let n = study.readings.len() as f64;
    let to = bars.from + bars.width * bars.counts.len() as f64;
    // Readings a class under a curve; the axis holds the bars and the best curve.
    let curve = |fitted: &Fitted, at: f64| n * bars.width * fitted.density(at);
    let steps = 240_u32;
    let place = |k: u32| bars.from + (to - bars.from) * (f64::from(k) + 0.5) / f64::from(steps);
    let tallest = bars.counts.iter().copied().max().unwrap_or(1);
    let best = study.fits.first().map_or(0.0, |fit| {
        (0..steps)
            .map(|k| curve(&fit.fitted, place(k)))
            .filter(|v| v.is_finite())
            .fold(0.0, f64::max)
    });
    let up = f64::from(tallest).max(best.min(2.0 * f64::from(tallest))) * 1.05;
    let step = nice_step(up / 5.0, up);
    let up = (up / step).ceil() * step;
    let at = |time: f64, count: f64| {
        (
            x + w * (time - bars.from) / (to - bars.from),
            y + h * (1.0 - (count / up).clamp(0.0, 1.0)),
        )
    };
    axes(
        canvas,
        area,
        (bars.from, to),
        up,
        ("readings a class", "seconds"),
    )?;
    for (class, count) in (0..).zip(&bars.counts) {
        let left = at(bars.from + bars.width * f64::from(class), f64::from(*count));
        let right = at(bars.from + bars.width * f64::from(class + 1), 0.0);
        let bar = Area {
            x: left.0 + 0.5,
            y: left.1,
            w: (right.0 - left.0 - 1.0).max(0.5),
            h: right.1 - left.1,
        };
        canvas.fill(bar, SKY)?;
        canvas.outline(bar, Stroke::solid(BLUE, 0.5))?;
    }
    for (rank, fit) in study.fits.iter().enumerate().rev() {
        let (colour, dash) = look(fit.fitted.family);
        let width = if rank == 0 { 2.75 } else { 1.5 };
        let points: Vec<(f64, f64)> = (0..steps)
            .map(|k| (place(k), curve(&fit.fitted, place(k))))
            .filter(|(_, v)| v.is_finite())
            .map(|(time, count)| at(time, count))
            .collect();
        canvas.line(
            &points,
            Stroke {
                colour,
                width,
                dash,
            },
        )?;
    }
    Ok(())
}

fn quantiles(canvas: &mut Canvas<'_>, area: Area, study: &TimeStudy) -> Result<(), Fault> {
    let Some(best) = study.fits.first() else {
        return canvas.text(
            (area.x, area.y + 20.0),
            "All readings are equal.",
            NAME,
            INK,
            Align::Left,
        );
    };
    let n = study.readings.len();
    let every = n.div_ceil(MOST_POINTS);
    let points: Vec<(f64, f64)> = (0..n)
        .step_by(every)
        .map(|i| {
            (
                best.fitted.quantile((i as f64 + 0.5) / n as f64),
                study.readings[i],
            )
        })
        .filter(|(fitted, _)| fitted.is_finite())
        .collect();
    let far = points.iter().map(|(a, b)| a.max(*b)).fold(0.0, f64::max);
    let step = nice_step(far / 5.0, far);
    let far = (far / step).ceil() * step;
    axes(
        canvas,
        area,
        (0.0, far),
        far,
        ("reading, seconds", "by the best curve, seconds"),
    )?;
    let Area { x, y, w, h } = area;
    let at = |(a, b): (f64, f64)| (x + w * a / far, y + h * (1.0 - b / far));
    canvas.line(
        &[at((0.0, 0.0)), at((far, far))],
        Stroke {
            colour: INK,
            width: 1.0,
            dash: Dash::Long,
        },
    )?;
    for point in points {
        let (px, py) = at(point);
        let around = [
            (px - 3.0, py),
            (px, py - 3.0),
            (px + 3.0, py),
            (px, py + 3.0),
        ];
        canvas.polygon(&around, VERMILLION, 0.8)?;
    }
    Ok(())
}

/// The fits as a table.
pub fn fits_table(study: &TimeStudy) -> Table {
    let mut table = Table::new(
        "Curves, best first. Distance: largest gap between the readings' share and the curve's. Unusual: of 100 sheets \
         drawn from the curve itself, so many lie as far off; few means that the curve is wrong.",
        &[
            "curve",
            "mean s",
            "sd / mean",
            "criterion",
            "distance",
            "unusual of 100",
            "told apart from the best",
        ],
    );
    for (rank, fit) in study.fits.iter().enumerate() {
        table.rows.push(vec![
            fit.fitted.family.name().to_owned(),
            fixed(fit.fitted.mean(), 2),
            fixed(fit.fitted.cv(), 2),
            fixed(fit.fitted.criterion(), 1),
            fixed(fit.distance, 3),
            fixed(fit.unusual * 100.0, 1),
            match (rank, fit.told_apart) {
                (0, _) => "best",
                (_, true) => "yes",
                (_, false) => "no",
            }
            .to_owned(),
        ]);
    }
    table
}

fn desc(study: &TimeStudy, bars: &Histogram) -> String {
    let (n, least, most) = (
        study.readings.len(),
        study.readings[0],
        study.readings[study.readings.len() - 1],
    );
    let fullest = (0..)
        .zip(&bars.counts)
        .max_by_key(|(i, count)| (**count, -(*i as i64)));
    let mut text = format!(
        "{n} readings from {} to {} s, mean {} s.",
        fixed(least, 1),
        fixed(most, 1),
        fixed(study.mean, 2)
    );
    if let Some((class, count)) = fullest {
        let from = bars.from + bars.width * class as f64;
        text.push_str(&format!(
            " The fullest class, from {} to {} s, has {count}.",
            fixed(from, 1),
            fixed(from + bars.width, 1)
        ));
    }
    if let Some(best) = study.fits.first() {
        text.push_str(&format!(
            " The best curve is {} with a mean of {} s.",
            best.fitted.family.name(),
            fixed(best.fitted.mean(), 2)
        ));
    }
    text
}
