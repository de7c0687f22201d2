//! Remedies under one another: by how much each makes the measure better, with its interval, and what it costs.

use scullery_study::paired::MeanDifference;
use scullery_study::replay::remedies::{Remedies, Tried};

use super::axis::Axis;
use super::said::difference_unit;
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::figure::legend::{Entry, LINE, legend, lines};
use crate::figure::{Figure, WIDTH};
use crate::lettering::{self, shorten, width};
use crate::number::fixed;
use crate::palette::{BLUE, Colour, GRID, Hatch, INK, ORANGE, PALE, PAPER, SKY, SOFT_INK};
use crate::panel::SMALL;
use crate::svg::Naming;

/// Most remedies drawn; all are in the table.
const MOST: usize = 24;
/// Height of a row whose words take one line, and of each line more.
const TALL: f64 = 42.0;
const MORE: f64 = 16.0;
const LEFT: f64 = 40.0;
/// Room for the cost at the right.
const COST: f64 = 190.0;

/// The picture; `None` where no remedy has an effect that can be told.
pub(super) fn remedy_picture(of: &Remedies, currency: &str) -> Result<Option<Figure>, Fault> {
    let shown: Vec<&Tried> = drawn(of);
    if shown.is_empty() {
        return Ok(None);
    }
    let left_out = of.tried.len() - shown.len();
    let key = key(&shown);
    let head = lines(&key, WIDTH - 60.0) as f64 * LINE + 22.0;
    let words: Vec<Vec<String>> = shown.iter().map(|it| row_lines(&it.words)).collect();
    let high: f64 = words.iter().map(|lines| row_height(lines)).sum();
    let area = Area {
        x: LEFT,
        y: head,
        w: WIDTH - LEFT - COST,
        h: high + 4.0,
    };
    let effects = || shown.iter().filter_map(|it| it.effect.as_ref());
    let ends = effects().flat_map(|it| it.interval.into_iter().flatten());
    let axis = Axis::over(ends.chain(effects().map(|it| it.mean)), 6.0, true);
    let title = "What would have helped, the most helpful first";
    let desc = desc(of, &shown);
    let naming = Naming {
        id: "remedies",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, area.y + area.h + 46.0, |canvas| {
        legend(canvas, (LEFT - 32.0, 2.0), WIDTH - 60.0, &key)?;
        canvas.text(
            (WIDTH - COST + 22.0, head - 6.0),
            "cost of a lunch",
            SMALL,
            SOFT_INK,
            Align::Left,
        )?;
        scale(canvas, &axis, area, of)?;
        let x = area.x + axis.share(0.0) * area.w;
        canvas.line(
            &[(x, area.y), (x, area.y + area.h)],
            Stroke::solid(INK, 1.5),
        )?;
        let mut y = area.y;
        for (number, (it, lines)) in shown.iter().zip(&words).enumerate() {
            row(canvas, (number, it, lines), (&axis, area, y), currency)?;
            y += row_height(lines);
        }
        Ok(())
    })?;
    let mut caption = format!(
        "Each bar is the difference a change makes to \u{201C}{}\u{201D}, the mean over {} lunches like hers; the stroke over \
         it is where the difference lies (all strokes together right in 95 of 100 studies). To the left is better. At the right \
         what one lunch costs more or less; what must be bought or built is not in that.",
        of.label, of.lunches
    );
    if left_out > 0 {
        caption.push_str(&format!(
            " {left_out} more changes stand in the table only: pairs that gain hardly more than one of the two, and what does \
             nothing or harm."
        ));
    }
    Ok(Some(Figure {
        id: "remedies".to_owned(),
        title: title.to_owned(),
        caption,
        desc,
        svg,
        tables: Vec::new(),
    }))
}

/// Those that help, but pairs only where they stand before single ones; then those that lean to help, to a dozen.
fn drawn(of: &Remedies) -> Vec<&Tried> {
    let single = of.tried.iter().rposition(|it| it.helps && !it.pair);
    let leans = |it: &&Tried| {
        let effect = it.effect.as_ref();
        effect.is_some_and(|effect| !effect.identical && effect.mean < 0.0)
    };
    let told = of.tried.iter().enumerate();
    let told = told.filter(|(at, it)| !it.pair || single.is_none_or(|last| *at < last));
    let shown = told.map(|(_, it)| it).filter(leans);
    let helping = of.tried.iter().filter(|it| it.helps).count();
    shown.take(helping.clamp(12, MOST)).collect()
}

/// How a bar looks, by what kind of change it is.
fn look(it: &Tried) -> (Colour, Hatch, Colour) {
    if it.undoes {
        (ORANGE, Hatch::Crossed, PAPER)
    } else if it.buys {
        (SKY, Hatch::Rising, PAPER)
    } else {
        (BLUE, Hatch::Plain, BLUE)
    }
}

fn key(shown: &[&Tried]) -> Vec<Entry<'static>> {
    type Is = fn(&Tried) -> bool;
    let kinds: [(&str, Is); 3] = [
        ("what happened, undone", |it| it.undoes),
        ("can be done tomorrow", |it| !it.undoes && !it.buys),
        ("must be bought or built", |it| !it.undoes && it.buys),
    ];
    let mut key = Vec::new();
    for (words, is_so) in kinds {
        if let Some(one) = shown.iter().find(|it| is_so(it)) {
            let (fill, hatch, line) = look(one);
            key.push(Entry::State(fill, hatch, line, words));
        }
    }
    if shown.iter().any(|it| !it.helps) {
        key.push(Entry::State(PALE, Hatch::Plain, PALE, "not sure to help"));
    }
    key
}

fn scale(canvas: &mut Canvas<'_>, axis: &Axis, area: Area, of: &Remedies) -> Result<(), Fault> {
    let base = area.y + area.h;
    for (value, text) in axis.ticks() {
        let x = area.x + axis.share(value) * area.w;
        canvas.line(&[(x, area.y), (x, base + 4.0)], Stroke::solid(GRID, 0.75))?;
        let text = if value > 0.0 {
            format!("+{text}")
        } else {
            text
        };
        canvas.text((x, base + 17.0), &text, SMALL, SOFT_INK, Align::Middle)?;
    }
    canvas.line(
        &[(area.x, base), (area.x + area.w, base)],
        Stroke::solid(INK, 1.0),
    )?;
    let unit = difference_unit(&of.unit);
    let words = if unit.is_empty() {
        of.label.clone()
    } else {
        format!("{}, difference in {unit}", of.label)
    };
    canvas.text(
        (area.x + area.w, base + 35.0),
        &shorten(&words, SMALL, area.w),
        SMALL,
        SOFT_INK,
        Align::Right,
    )
}

/// What is changed, in as many lines as it takes from the left edge of the axis to the right edge of the picture.
fn row_lines(words: &str) -> Vec<String> {
    lettering::lines(words, SMALL, WIDTH - LEFT - 12.0)
}

fn row_height(lines: &[String]) -> f64 {
    TALL + MORE * lines.len().saturating_sub(1) as f64
}

fn row(
    canvas: &mut Canvas<'_>,
    (number, it, lines): (usize, &Tried, &[String]),
    (axis, area, y): (&Axis, Area, f64),
    currency: &str,
) -> Result<(), Fault> {
    canvas.text(
        (LEFT - 10.0, y + 17.0),
        &(number + 1).to_string(),
        SMALL,
        SOFT_INK,
        Align::Right,
    )?;
    for (line, words) in lines.iter().enumerate() {
        let y = y + MORE * line as f64;
        // On paper, so that no line of the axis runs through the words.
        let back = Area {
            x: area.x + 1.0,
            y: y + 4.0,
            w: width(words, SMALL) + 5.0,
            h: 17.0,
        };
        canvas.fill(back, PAPER)?;
        canvas.text((area.x + 4.0, y + 17.0), words, SMALL, INK, Align::Left)?;
    }
    let y = y + row_height(lines) - TALL;
    let Some(effect) = &it.effect else {
        return Ok(());
    };
    let at = |value: f64| area.x + axis.share(value) * area.w;
    let (nought, end) = (at(0.0), at(effect.mean));
    let bar = Area {
        x: nought.min(end),
        y: y + 23.0,
        w: (nought - end).abs().max(1.0),
        h: 13.0,
    };
    let (fill, hatch, line) = if it.helps {
        look(it)
    } else {
        (PALE, Hatch::Plain, PALE)
    };
    canvas.fill_hatched(bar, fill, hatch, line)?;
    canvas.outline(bar, Stroke::solid(INK, 0.75))?;
    if let Some(ends) = effect.interval {
        let middle = y + 29.5;
        let [low, high] = ends.map(at);
        canvas.line(&[(low, middle), (high, middle)], Stroke::solid(INK, 1.5))?;
        for end in [low, high] {
            canvas.line(
                &[(end, middle - 4.0), (end, middle + 4.0)],
                Stroke::solid(INK, 1.5),
            )?;
        }
    }
    let mut cost = cost(it.cost.as_ref(), currency);
    if it.buys {
        cost.push_str(", and to buy");
    }
    canvas.text(
        (WIDTH - COST + 22.0, y + 33.0),
        &shorten(&cost, SMALL, COST - 26.0),
        SMALL,
        INK,
        Align::Left,
    )
}

/// What a lunch costs more or less.
fn cost(of: Option<&MeanDifference>, currency: &str) -> String {
    match of {
        None => "no price known".to_owned(),
        Some(it) if it.identical || it.mean.abs() < 0.005 => "the same".to_owned(),
        Some(it) => {
            let sign = if it.mean > 0.0 { "+" } else { "" };
            format!("{sign}{} {currency}", fixed(it.mean, 2))
                .trim_end()
                .to_owned()
        }
    }
}

fn desc(of: &Remedies, shown: &[&Tried]) -> String {
    let helping: Vec<String> = shown
        .iter()
        .filter(|it| it.helps)
        .take(5)
        .filter_map(|it| {
            let effect = it.effect.as_ref()?;
            Some(format!("{} ({:+.1})", it.words, effect.mean))
        })
        .collect();
    let first = if helping.is_empty() {
        "No change surely helps.".to_owned()
    } else {
        format!(
            "Surely helps, the most helpful first: {}.",
            helping.join("; ")
        )
    };
    format!(
        "{first} {} changes are drawn of {} that were tried.",
        shown.len(),
        of.tried.len()
    )
}
