//! The key above a picture.

use crate::canvas::{Align, Area, Canvas, Stroke};
use crate::error::Fault;
use crate::lettering::width;
use crate::palette::{Colour, Hatch, INK, PAPER};
use crate::panel::{SMALL, bell_stroke, bell_wedge};

/// Height of one line of the key, in points.
pub(crate) const LINE: f64 = 22.0;

/// One entry of a key.
pub(crate) enum Entry<'a> {
    /// A line for the middle lunch over the band of the others.
    Curve(Stroke, &'a str),
    /// A line without a band.
    Line(Stroke, &'a str),
    /// An area between two lines.
    Gap(Colour, &'a str),
    /// A bell.
    Bell,
    /// A filled state.
    State(Colour, Hatch, Colour, &'a str),
    /// A single value: a diamond, filled or hollow.
    Spot(Colour, bool, &'a str),
}

impl Entry<'_> {
    fn words(&self) -> &str {
        match self {
            Entry::Curve(_, words)
            | Entry::Line(_, words)
            | Entry::Gap(_, words)
            | Entry::State(_, _, _, words)
            | Entry::Spot(_, _, words) => words,
            Entry::Bell => "bell",
        }
    }

    fn width(&self) -> f64 {
        SAMPLE + 7.0 + width(self.words(), SMALL) + 20.0
    }
}

/// How strongly an area between two lines is filled.
pub(crate) const GAP: f64 = 0.42;

/// Width of the sample of an entry, in points.
const SAMPLE: f64 = 30.0;

/// How many lines of [`LINE`] the key takes in `room` points.
pub(crate) fn lines(entries: &[Entry<'_>], room: f64) -> usize {
    places(entries, room).last().map_or(0, |(_, line)| line + 1)
}

fn places(entries: &[Entry<'_>], room: f64) -> Vec<(f64, usize)> {
    let mut at = (0.0, 0);
    entries
        .iter()
        .map(|entry| {
            if at.0 > 0.0 && at.0 + entry.width() > room {
                at = (0.0, at.1 + 1);
            }
            let place = at;
            at.0 += entry.width();
            place
        })
        .collect()
}

/// Draws the key with its upper left corner at `corner`.
pub(crate) fn legend(
    canvas: &mut Canvas<'_>,
    corner: (f64, f64),
    room: f64,
    entries: &[Entry<'_>],
) -> Result<(), Fault> {
    for (entry, (dx, line)) in entries.iter().zip(places(entries, room)) {
        let x = corner.0 + dx;
        let middle = corner.1 + line as f64 * LINE + LINE / 2.0;
        let sample = Area {
            x,
            y: middle - 6.5,
            w: SAMPLE,
            h: 13.0,
        };
        match entry {
            Entry::Curve(stroke, _) => {
                let box_ = [
                    (x, middle - 6.0),
                    (x + SAMPLE, middle - 6.0),
                    (x + SAMPLE, middle + 6.0),
                    (x, middle + 6.0),
                ];
                canvas.polygon(&box_, stroke.colour, 0.25)?;
                canvas.line(&[(x, middle), (x + SAMPLE, middle)], *stroke)?;
            }
            Entry::Line(stroke, _) => canvas.line(&[(x, middle), (x + SAMPLE, middle)], *stroke)?,
            Entry::Gap(colour, _) => {
                let corners = [
                    (x, middle - 6.5),
                    (x + SAMPLE, middle - 6.5),
                    (x + SAMPLE, middle + 6.5),
                    (x, middle + 6.5),
                ];
                canvas.polygon(&corners, *colour, GAP)?;
            }
            Entry::Bell => {
                let at = x + SAMPLE / 2.0;
                canvas.line(&[(at, middle - 2.0), (at, middle + 8.0)], bell_stroke())?;
                bell_wedge(canvas, (at, middle - 1.0))?;
            }
            Entry::Spot(colour, filled, _) => {
                spot(canvas, (x + SAMPLE / 2.0, middle), *colour, *filled)?;
            }
            Entry::State(fill, hatch, line, _) => {
                canvas.fill_hatched(sample, *fill, *hatch, *line)?;
                canvas.outline(sample, Stroke::solid(INK, 0.75))?;
            }
        }
        canvas.text(
            (x + SAMPLE + 7.0, middle + 4.2),
            entry.words(),
            SMALL,
            INK,
            Align::Left,
        )?;
    }
    Ok(())
}

/// A diamond about a point, filled or hollow.
pub(crate) fn spot(
    canvas: &mut Canvas<'_>,
    (x, y): (f64, f64),
    colour: Colour,
    filled: bool,
) -> Result<(), Fault> {
    let corners = |size: f64| [(x - size, y), (x, y - size), (x + size, y), (x, y + size)];
    canvas.polygon(&corners(5.5), colour, 1.0)?;
    if filled {
        Ok(())
    } else {
        canvas.polygon(&corners(3.2), PAPER, 1.0)
    }
}
