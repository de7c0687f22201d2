//! Pictures of studies: values with their intervals in rows, bars about a middle, lines over a number, a checkered field.

use super::axis::Axis;
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::figure::WIDTH;
use crate::lettering::{shorten, width};
use crate::palette::{BLUE, Colour, Dash, GRID, Hatch, INK, PAPER, SOFT_INK, VERMILLION};
use crate::panel::SMALL;
use crate::svg::Naming;

/// One row: its words, a value, its interval, and words behind it.
pub(super) struct Row {
    pub(super) words: String,
    pub(super) value: Option<f64>,
    pub(super) interval: Option<[f64; 2]>,
    /// Drawn hollow and dashed: it is not as it should be.
    pub(super) is_bad: bool,
    pub(super) behind: String,
    /// Begins a group: a heading above it.
    pub(super) heading: Option<String>,
    /// A bar of its own to be reached.
    pub(super) bar: Option<f64>,
}

const LINE: f64 = 24.0;

/// Room for row words at the left, by the longest of them.
fn left_room<'a>(words: impl Iterator<Item = &'a str>) -> f64 {
    words
        .map(|words| width(words, SMALL))
        .fold(60.0, f64::max)
        .min(300.0)
        + 18.0
}

fn axis_lines(canvas: &mut Canvas<'_>, axis: &Axis, area: Area, unit: &str) -> Result<(), Fault> {
    for (value, text) in axis.ticks() {
        let x = area.x + axis.share(value) * area.w;
        canvas.line(
            &[(x, area.y), (x, area.y + area.h + 4.0)],
            Stroke::solid(GRID, 0.75),
        )?;
        canvas.text(
            (x, area.y + area.h + 17.0),
            &text,
            SMALL,
            SOFT_INK,
            Align::Middle,
        )?;
    }
    let base = area.y + area.h;
    canvas.line(
        &[(area.x, base), (area.x + area.w, base)],
        Stroke::solid(INK, 1.0),
    )?;
    let end = area.x + area.w;
    canvas.text(
        (end, base + 34.0),
        &shorten(unit, SMALL, area.w),
        SMALL,
        SOFT_INK,
        Align::Right,
    )
}

/// Values with their intervals, one under another.
pub(super) fn rows(naming: &Naming<'_>, rows: &[Row], unit: &str) -> Result<String, Fault> {
    let left = left_room(rows.iter().map(|row| row.words.as_str()));
    let right = rows
        .iter()
        .map(|row| width(&row.behind, SMALL))
        .fold(30.0, f64::max)
        .min(220.0)
        + 16.0;
    let lines = rows
        .iter()
        .map(|row| 1.0 + f64::from(u8::from(row.heading.is_some())))
        .sum::<f64>();
    let area = Area {
        x: left,
        y: 10.0,
        w: WIDTH - left - right,
        h: lines * LINE + 6.0,
    };
    let ends = rows
        .iter()
        .flat_map(|row| row.interval.into_iter().flatten());
    let values = rows
        .iter()
        .flat_map(|row| row.value.into_iter().chain(row.bar));
    let axis = Axis::over(ends.chain(values), 5.0, false);
    draw(naming, WIDTH, area.y + area.h + 44.0, |canvas| {
        axis_lines(canvas, &axis, area, unit)?;
        let mut y = area.y + 4.0;
        for row in rows {
            if let Some(heading) = &row.heading {
                let heading = shorten(heading, SMALL, WIDTH - 12.0);
                // On paper, so that no line of the axis runs through it.
                let back = Area {
                    x: 4.0,
                    y: y + 3.0,
                    w: width(&heading, SMALL) + 4.0,
                    h: LINE - 5.0,
                };
                canvas.fill(back, PAPER)?;
                canvas.text((6.0, y + 17.0), &heading, SMALL, INK, Align::Left)?;
                y += LINE;
            }
            let words = shorten(&row.words, SMALL, left - 16.0);
            canvas.text((left - 8.0, y + 16.0), &words, SMALL, INK, Align::Right)?;
            let middle = y + 12.0;
            let colour = if row.is_bad { VERMILLION } else { BLUE };
            if let Some(bar) = row.bar {
                let x = area.x + axis.share(bar) * area.w;
                let stroke = Stroke {
                    colour: INK,
                    width: 1.5,
                    dash: Dash::Short,
                };
                canvas.line(&[(x, y + 1.0), (x, y + LINE - 1.0)], stroke)?;
            }
            if let Some(interval) = row.interval {
                let [low, high] = interval.map(|end| area.x + axis.share(end) * area.w);
                let dash = if row.is_bad { Dash::Short } else { Dash::Solid };
                canvas.line(
                    &[(low, middle), (high, middle)],
                    Stroke {
                        colour,
                        width: 2.5,
                        dash,
                    },
                )?;
                for end in [low, high] {
                    canvas.line(
                        &[(end, middle - 4.0), (end, middle + 4.0)],
                        Stroke::solid(colour, 1.5),
                    )?;
                }
            }
            if let Some(value) = row.value {
                let x = area.x + axis.share(value) * area.w;
                diamond(canvas, (x, middle), 5.0, colour)?;
                if row.is_bad {
                    diamond(canvas, (x, middle), 2.8, PAPER)?;
                }
            }
            canvas.text(
                (area.x + area.w + 10.0, y + 16.0),
                &shorten(&row.behind, SMALL, right - 12.0),
                SMALL,
                SOFT_INK,
                Align::Left,
            )?;
            y += LINE;
        }
        Ok(())
    })
}

fn diamond(
    canvas: &mut Canvas<'_>,
    (x, y): (f64, f64),
    size: f64,
    colour: Colour,
) -> Result<(), Fault> {
    canvas.polygon(
        &[(x - size, y), (x, y - size), (x + size, y), (x, y + size)],
        colour,
        1.0,
    )
}

/// A bar about the present value: to where the measure goes at the least and at the greatest value of a number.
pub(super) struct Bar {
    pub(super) words: String,
    /// The measure at the least and at the greatest value.
    pub(super) ends: [Option<f64>; 2],
    /// The least and the greatest value, in words.
    pub(super) values: [String; 2],
}

/// Bars about a middle, the longest first.
pub(super) fn bars(
    naming: &Naming<'_>,
    bars: &[Bar],
    present: f64,
    unit: &str,
) -> Result<String, Fault> {
    const TALL: f64 = 30.0;
    let left = left_room(bars.iter().map(|bar| bar.words.as_str()));
    let room = bars
        .iter()
        .flat_map(|bar| &bar.values)
        .map(|text| width(text, SMALL))
        .fold(20.0, f64::max)
        + 10.0;
    let area = Area {
        x: left,
        y: 30.0,
        w: WIDTH - left - 16.0,
        h: bars.len() as f64 * TALL + 6.0,
    };
    let inner = Area {
        x: area.x + room,
        w: area.w - 2.0 * room,
        ..area
    };
    let ends = bars.iter().flat_map(|bar| bar.ends.into_iter().flatten());
    let axis = Axis::over(ends.chain([present]), 5.0, false);
    draw(naming, WIDTH, area.y + area.h + 44.0, |canvas| {
        axis_lines(canvas, &axis, inner, unit)?;
        let x_of = |value: f64| inner.x + axis.share(value) * inner.w;
        let middle = x_of(present);
        for (number, bar) in bars.iter().enumerate() {
            let y = area.y + number as f64 * TALL + 4.0;
            let words = shorten(&bar.words, SMALL, left - 16.0);
            canvas.text((left - 8.0, y + 16.0), &words, SMALL, INK, Align::Right)?;
            let looks = [(PAPER, Hatch::Rising, BLUE), (BLUE, Hatch::Plain, BLUE)];
            // Where both ends lie on one side, the longer is drawn first, and each in its own half of the height.
            let same_side = match bar.ends {
                [Some(a), Some(b)] => (a > present) == (b > present),
                _ => false,
            };
            for (end, (fill, hatch, line)) in looks.iter().enumerate() {
                let Some(value) = bar.ends[end] else { continue };
                let x = x_of(value);
                let (top, tall) = if same_side {
                    (y + end as f64 * 11.0, 10.0)
                } else {
                    (y + 3.0, 16.0)
                };
                let box_ = Area {
                    x: x.min(middle),
                    y: top,
                    w: (x - middle).abs().max(0.5),
                    h: tall,
                };
                canvas.fill_hatched(box_, *fill, *hatch, *line)?;
                canvas.outline(box_, Stroke::solid(BLUE, 1.0))?;
                let (at, align) = if value < present {
                    (x - 4.0, Align::Right)
                } else {
                    (x + 4.0, Align::Left)
                };
                let level = if same_side { top + 9.5 } else { y + 15.5 };
                let size = if same_side { SMALL - 2.0 } else { SMALL };
                // Two ends that change nothing stand on the middle; one word is enough there.
                if (value - present).abs() > 1e-12 || end == 0 {
                    canvas.text((at, level), &bar.values[end], size, SOFT_INK, align)?;
                }
            }
        }
        let stroke = Stroke::solid(INK, 1.5);
        canvas.line(&[(middle, area.y - 4.0), (middle, area.y + area.h)], stroke)?;
        canvas.text(
            (middle, area.y - 9.0),
            "as it is now",
            SMALL,
            INK,
            Align::Middle,
        )
    })
}

/// A point of a picture over a number: where, what, its interval, and whether it is good.
pub(super) struct Point {
    pub(super) x: f64,
    pub(super) y: f64,
    pub(super) interval: Option<[f64; 2]>,
    pub(super) is_bad: bool,
}

/// Values over a number, one box beside or under another; `joined` draws a line through them.
pub(super) fn over_numbers(
    naming: &Naming<'_>,
    panels: &[(String, Option<f64>, Vec<Point>)],
    unit: &str,
    joined: bool,
) -> Result<String, Fault> {
    let across = if panels.len() > 1 { 2 } else { 1 };
    let down = panels.len().div_ceil(across);
    let (wide, tall) = (
        WIDTH / across as f64,
        if panels.len() > 1 { 230.0 } else { 340.0 },
    );
    let ends = panels
        .iter()
        .flat_map(|(_, _, points)| points)
        .flat_map(|point| point.interval.into_iter().flatten().chain([point.y]));
    let up = Axis::over(ends, 5.0, false);
    draw(naming, WIDTH, down as f64 * tall + 4.0, |canvas| {
        for (number, (words, present, points)) in panels.iter().enumerate() {
            let corner = (
                (number % across) as f64 * wide,
                (number / across) as f64 * tall,
            );
            let area = Area {
                x: corner.0 + 62.0,
                y: corner.1 + 26.0,
                w: wide - 62.0 - 20.0,
                h: tall - 26.0 - 46.0,
            };
            one_panel(canvas, area, (words, *present, points), (&up, unit), joined)?;
        }
        Ok(())
    })
}

fn one_panel(
    canvas: &mut Canvas<'_>,
    area: Area,
    (words, present, points): (&str, Option<f64>, &[Point]),
    (up, unit): (&Axis, &str),
    joined: bool,
) -> Result<(), Fault> {
    let along = Axis::over(
        points.iter().map(|point| point.x).chain(present),
        5.0,
        false,
    );
    axis_lines(canvas, &along, area, words)?;
    for (value, text) in up.ticks() {
        let y = area.y + area.h * (1.0 - up.share(value));
        canvas.line(
            &[(area.x, y), (area.x + area.w, y)],
            Stroke::solid(GRID, 0.75),
        )?;
        canvas.text(
            (area.x - 6.0, y + 4.2),
            &text,
            SMALL,
            SOFT_INK,
            Align::Right,
        )?;
    }
    canvas.line(
        &[(area.x, area.y), (area.x, area.y + area.h)],
        Stroke::solid(INK, 1.0),
    )?;
    canvas.text(
        (area.x - 50.0, area.y - 12.0),
        &shorten(unit, SMALL, area.w),
        SMALL,
        SOFT_INK,
        Align::Left,
    )?;
    let place = |x: f64, y: f64| {
        (
            area.x + along.share(x) * area.w,
            area.y + area.h * (1.0 - up.share(y)),
        )
    };
    if let Some(present) = present {
        let x = place(present, 0.0).0;
        let stroke = Stroke {
            colour: INK,
            width: 1.0,
            dash: Dash::Dots,
        };
        canvas.line(&[(x, area.y), (x, area.y + area.h)], stroke)?;
        canvas.text((x + 4.0, area.y + 11.0), "now", SMALL, INK, Align::Left)?;
    }
    if joined {
        let way: Vec<(f64, f64)> = points.iter().map(|point| place(point.x, point.y)).collect();
        canvas.line(&way, Stroke::solid(BLUE, 1.5))?;
    }
    for point in points {
        let colour = if point.is_bad { VERMILLION } else { BLUE };
        if let Some(ends) = point.interval {
            let [low, high] = ends.map(|end| place(point.x, end));
            canvas.line(&[low, high], Stroke::solid(colour, 1.5))?;
        }
        let at = place(point.x, point.y);
        diamond(canvas, at, 4.5, colour)?;
        if point.is_bad {
            diamond(canvas, at, 2.4, PAPER)?;
        }
    }
    Ok(())
}

/// A cell of a field: its text, how strong its colour is (0 to 1), and whether it is good.
pub(super) struct Cell {
    pub(super) text: String,
    pub(super) strength: f64,
    pub(super) is_bad: bool,
    pub(super) is_present: bool,
}

/// A field of cells: `rows` by `columns`, words at both edges.
pub(super) fn field(
    naming: &Naming<'_>,
    (across, columns): (&str, &[String]),
    (down, rows): (&str, &[String]),
    cells: &[Vec<Option<Cell>>],
) -> Result<String, Fault> {
    const TALL: f64 = 34.0;
    let left = left_room(rows.iter().map(String::as_str).chain([down]));
    let wide = ((WIDTH - left - 10.0) / columns.len().max(1) as f64).min(140.0);
    let top = 52.0;
    draw(
        naming,
        WIDTH,
        top + rows.len() as f64 * TALL + 14.0,
        |canvas| {
            canvas.text(
                (left, 16.0),
                &shorten(across, SMALL, WIDTH - left),
                SMALL,
                INK,
                Align::Left,
            )?;
            canvas.text(
                (left - 8.0, top - 8.0),
                &shorten(down, SMALL, left - 12.0),
                SMALL,
                INK,
                Align::Right,
            )?;
            for (number, words) in columns.iter().enumerate() {
                let x = left + (number as f64 + 0.5) * wide;
                canvas.text(
                    (x, top - 8.0),
                    &shorten(words, SMALL, wide - 4.0),
                    SMALL,
                    SOFT_INK,
                    Align::Middle,
                )?;
            }
            for (line, words) in rows.iter().enumerate() {
                let y = top + line as f64 * TALL;
                canvas.text(
                    (left - 8.0, y + 21.0),
                    &shorten(words, SMALL, left - 12.0),
                    SMALL,
                    SOFT_INK,
                    Align::Right,
                )?;
                for (number, cell) in cells[line].iter().enumerate() {
                    let Some(cell) = cell else { continue };
                    let area = Area {
                        x: left + number as f64 * wide + 1.0,
                        y: y + 1.0,
                        w: wide - 2.0,
                        h: TALL - 2.0,
                    };
                    let fill = paled(BLUE, cell.strength * 0.45);
                    let hatch = if cell.is_bad {
                        Hatch::Rising
                    } else {
                        Hatch::Plain
                    };
                    canvas.fill_hatched(area, fill, hatch, Colour(0xB0, 0xB0, 0xB0))?;
                    if cell.is_present {
                        canvas.outline(area, Stroke::solid(INK, 2.0))?;
                    }
                    // The letters stand on a plain ground, hatch or not.
                    let letters = width(&cell.text, SMALL);
                    let back = Area {
                        x: area.x + area.w / 2.0 - letters / 2.0 - 3.0,
                        y: y + 8.0,
                        w: letters + 6.0,
                        h: 18.0,
                    };
                    if cell.is_bad {
                        canvas.fill(back, fill)?;
                    }
                    canvas.text(
                        (area.x + area.w / 2.0, y + 21.5),
                        &cell.text,
                        SMALL,
                        INK,
                        Align::Middle,
                    )?;
                }
            }
            Ok(())
        },
    )
}

/// A colour on the way from paper to full.
fn paled(colour: Colour, strength: f64) -> Colour {
    let mix = |ink: u8, paper: u8| {
        (f64::from(paper) + (f64::from(ink) - f64::from(paper)) * strength.clamp(0.0, 1.0)).round()
            as u8
    };
    Colour(
        mix(colour.0, PAPER.0),
        mix(colour.1, PAPER.1),
        mix(colour.2, PAPER.2),
    )
}
