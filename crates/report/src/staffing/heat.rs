//! A heat map of arrangements against targets: words in every cell, a hatch where a target fails, an outline about the
//! arrangement as it is.

use scullery_study::staffing::found::{Cell, Row};

use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::figure::{Figure, WIDTH};
use crate::lettering::{shorten, width};
use crate::palette::{Colour, GRID, Hatch, INK, PALE, PAPER, SOFT_INK, VERMILLION};
use crate::panel::SMALL;
use crate::svg::Naming;
use crate::table::Table;

/// Height of a row.
const ROW: f64 = 36.0;
/// Most lines of a column's heading.
const HEAD_LINES: usize = 4;

/// What the map is called and says.
pub(super) struct Named<'a> {
    pub(super) id: &'a str,
    pub(super) title: &'a str,
    pub(super) caption: &'a str,
    /// What a row is called.
    pub(super) row: &'a str,
}

/// The map; `None` without rows or targets.
pub(super) fn heat_map(
    named: &Named<'_>,
    targets: &[String],
    rows: &[Row],
) -> Result<Option<Figure>, Fault> {
    if rows.is_empty() || targets.is_empty() {
        return Ok(None);
    }
    let labels = 250.0;
    let columns = targets.len() + 1;
    let w = (WIDTH - labels - 8.0) / columns as f64;
    let heads: Vec<Vec<String>> = ["every target at once".to_owned()]
        .iter()
        .chain(targets)
        .map(|t| lines_of(t, w - 8.0))
        .collect();
    let most = heads.iter().map(Vec::len).max().unwrap_or(1);
    let top = 14.0 + 15.0 * most as f64;
    let desc = desc(rows);
    let naming = Naming {
        id: named.id,
        title: named.title,
        desc: &desc,
    };
    let height = top + ROW * rows.len() as f64 + 34.0;
    let svg = draw(&naming, WIDTH, height, |canvas| {
        for (column, head) in heads.iter().enumerate() {
            let x = labels + w * (column as f64 + 0.5);
            for (line, text) in head.iter().enumerate() {
                let y = top - 8.0 - 15.0 * (head.len() - 1 - line) as f64;
                canvas.text((x, y), text, SMALL, SOFT_INK, Align::Middle)?;
            }
        }
        for (number, row) in rows.iter().enumerate() {
            let y = top + ROW * number as f64;
            let (first, second) = label_lines(row);
            let second = second.map(|words| telling_parts(&words, rows));
            let short = |text: &str| shorten(text, SMALL, labels - 12.0);
            match second {
                None => canvas.text((2.0, y + 22.0), &short(&first), SMALL, INK, Align::Left)?,
                Some(second) => {
                    canvas.text((2.0, y + 15.0), &short(&first), SMALL, INK, Align::Left)?;
                    canvas.text(
                        (2.0, y + 30.0),
                        &short(&second),
                        SMALL,
                        SOFT_INK,
                        Align::Left,
                    )?;
                }
            }
            let all = Area {
                x: labels,
                y,
                w,
                h: ROW,
            };
            let text = format!("{} of {}", row.all_held, row.lunches);
            let fails = row.verdict == "fails";
            one_cell(canvas, all, row.service(), fails, &text)?;
            for (column, cell) in row.cells.iter().enumerate() {
                let area = Area {
                    x: labels + w * (column as f64 + 1.0),
                    y,
                    w,
                    h: ROW,
                };
                one_cell(
                    canvas,
                    area,
                    warmth(cell),
                    cell.verdict == "fails",
                    &cell.text,
                )?;
            }
        }
        for (number, row) in rows.iter().enumerate() {
            let y = top + ROW * number as f64;
            let area = Area {
                x: labels,
                y,
                w: w * columns as f64,
                h: ROW,
            };
            if row.is("now") {
                canvas.outline(area, Stroke::solid(INK, 3.0))?;
            } else if row.is("chosen") {
                let inner = Area {
                    x: area.x + 2.0,
                    y: area.y + 2.0,
                    w: area.w - 4.0,
                    h: area.h - 4.0,
                };
                canvas.outline(inner, Stroke::solid(VERMILLION, 2.0))?;
            }
        }
        legend(canvas, height - 10.0)
    })?;
    Ok(Some(Figure {
        id: named.id.into(),
        title: named.title.into(),
        caption: named.caption.into(),
        desc,
        svg,
        tables: vec![numbers(named, targets, rows)],
    }))
}

/// Fill from white (never held) to full (always), so that letters stay readable.
fn shade(share: f64) -> Colour {
    let towards = |from: u8, to: u8| {
        let x = f64::from(from) + (f64::from(to) - f64::from(from)) * share.clamp(0.0, 1.0);
        x.round() as u8
    };
    Colour(towards(255, 150), towards(255, 205), towards(255, 240))
}

fn warmth(cell: &Cell) -> f64 {
    match (cell.held, cell.verdict.as_str()) {
        (Some(held), _) => held as f64 / cell.of.max(1) as f64,
        (None, "holds") => 1.0,
        (None, "fails") => 0.0,
        _ => 0.5,
    }
}

fn one_cell(
    canvas: &mut Canvas<'_>,
    area: Area,
    share: f64,
    fails: bool,
    text: &str,
) -> Result<(), Fault> {
    let hatch = if fails { Hatch::Rising } else { Hatch::Plain };
    canvas.fill_hatched(area, shade(share), hatch, Colour(0xC4, 0x9A, 0x80))?;
    canvas.outline(area, Stroke::solid(GRID, 1.0))?;
    let text = shorten(text, SMALL, area.w - 6.0);
    if fails {
        // Letters on a hatch stand on a plain ground.
        let wide = width(&text, SMALL) + 6.0;
        let ground = Area {
            x: area.x + (area.w - wide) / 2.0,
            y: area.y + 10.0,
            w: wide,
            h: 16.0,
        };
        canvas.fill(ground, PAPER)?;
    }
    canvas.text(
        (area.x + area.w / 2.0, area.y + 22.0),
        &text,
        SMALL,
        INK,
        Align::Middle,
    )
}

fn legend(canvas: &mut Canvas<'_>, y: f64) -> Result<(), Fault> {
    let mut x = 2.0;
    let mut say = |canvas: &mut Canvas<'_>,
                   text: &str,
                   paint: &dyn Fn(&mut Canvas<'_>, Area) -> Result<(), Fault>| {
        let area = Area {
            x,
            y: y - 11.0,
            w: 20.0,
            h: 13.0,
        };
        paint(canvas, area)?;
        canvas.text((x + 26.0, y), text, SMALL, SOFT_INK, Align::Left)?;
        x += 26.0 + width(text, SMALL) + 22.0;
        Ok::<(), Fault>(())
    };
    say(canvas, "the target fails", &|c, a| {
        c.fill_hatched(a, PALE, Hatch::Rising, Colour(0xC4, 0x9A, 0x80))
    })?;
    say(canvas, "the darker, the more lunches held", &|c, a| {
        c.fill(a, shade(1.0))
    })?;
    say(canvas, "as it is now", &|c, a| {
        c.outline(a, Stroke::solid(INK, 3.0))
    })?;
    say(canvas, "chosen", &|c, a| {
        c.outline(a, Stroke::solid(VERMILLION, 2.0))
    })
}

/// A row's name in one line or two.
fn label_lines(row: &Row) -> (String, Option<String>) {
    match row.hours > 0.0 {
        false => (row.words.clone(), None),
        true => (
            format!("{}, {:.2} h", super::people(row.people), row.hours),
            Some(row.words.clone()),
        ),
    }
}

/// Of a crew's `role many; role many`, what is not the same in every row, as far as anything is.
fn telling_parts(words: &str, rows: &[Row]) -> String {
    let in_every_row = |part: &&str| {
        rows.iter()
            .all(|row| row.words.split("; ").any(|p| p == *part))
    };
    let own: Vec<&str> = words
        .split("; ")
        .filter(|part| !in_every_row(part))
        .collect();
    if own.is_empty() {
        words.to_owned()
    } else {
        own.join("; ")
    }
}

/// A row's name with what it costs in hours.
fn row_label(row: &Row) -> String {
    match label_lines(row) {
        (first, Some(second)) => format!("{first}: {second}"),
        (first, None) => first,
    }
}

fn lines_of(text: &str, room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if width(&format!("{line} {word}"), SMALL) <= room => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    if lines.len() > HEAD_LINES {
        lines.truncate(HEAD_LINES);
        if let Some(last) = lines.last_mut() {
            last.push_str(" \u{2026}");
        }
    }
    lines
        .iter()
        .map(|line| shorten(line, SMALL, room))
        .collect()
}

fn desc(rows: &[Row]) -> String {
    let each: Vec<String> = rows
        .iter()
        .take(12)
        .map(|row| {
            format!(
                "{}: {} ({} of {} lunches held every target).",
                row_label(row),
                row.verdict,
                row.all_held,
                row.lunches
            )
        })
        .collect();
    each.join(" ")
}

fn numbers(named: &Named<'_>, targets: &[String], rows: &[Row]) -> Table {
    let mut head = vec![
        named.row.to_owned(),
        "verdict".to_owned(),
        "every target at once".to_owned(),
    ];
    head.extend(targets.iter().cloned());
    Table {
        caption: "Lunches in which each target held, or the mean; (fails) where a target fails."
            .into(),
        head,
        rows: rows
            .iter()
            .map(|row| {
                let mut texts = vec![
                    row_label(row),
                    row.verdict.clone(),
                    format!("{} of {}", row.all_held, row.lunches),
                ];
                texts.extend(row.cells.iter().map(|cell| match cell.verdict.as_str() {
                    "fails" => format!("{} (fails)", cell.text),
                    _ => cell.text.clone(),
                }));
                texts
            })
            .collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_row_is_named_by_what_is_not_the_same_in_every_row() {
        let row = |words: &str| Row {
            words: words.to_owned(),
            ..Row::default()
        };
        let rows = [
            row("sorting 1; racking 1; running 1"),
            row("sorting 2; racking 1; running 3"),
        ];
        assert_eq!(telling_parts(&rows[1].words, &rows), "sorting 2; running 3");
        assert_eq!(telling_parts(&rows[1].words, &rows[1..]), rows[1].words);
    }
}
