//! One set of axes: clock times along, amounts up, with bells, limits, bands and lines.

use crate::canvas::{Align, Area, Canvas, Stroke};
use crate::clock::{Window, hour_minute};
use crate::error::Fault;
use crate::lettering::shorten;
use crate::number::fixed;
use crate::palette::{Colour, Dash, GRID, INK, SOFT_INK};

/// Size of the lettering of axes, in points.
pub const SMALL: f64 = 12.0;
/// Size of the lettering of names, in points.
pub const NAME: f64 = 13.5;

/// A set of axes on the sheet.
#[derive(Clone, Debug)]
pub struct Panel {
    area: Area,
    window: Window,
    top: f64,
    step: f64,
}

impl Panel {
    /// Axes in `area` (the box of the data itself; letters stand outside it) that reach from nought to at least `top`.
    pub fn new(area: Area, window: Window, top: f64) -> Panel {
        let lines = (area.h / 38.0).floor().clamp(2.0, 6.0);
        let step = nice_step(top.max(1e-9) / lines, top);
        Panel {
            area,
            window,
            top: (top / step).ceil().max(1.0) * step,
            step,
        }
    }

    /// The box of the data.
    pub fn area(&self) -> Area {
        self.area
    }

    /// Where a minute since midnight stands.
    pub fn x(&self, minute: f64) -> f64 {
        let share = (minute - f64::from(self.window.from)) / f64::from(self.window.minutes());
        self.area.x + share.clamp(0.0, 1.0) * self.area.w
    }

    /// Where an amount stands.
    pub fn y(&self, amount: f64) -> f64 {
        self.area.y + self.area.h * (1.0 - (amount / self.top).clamp(0.0, 1.0))
    }

    /// Draws grid, axes, clock times, and the marks of the bells.
    pub fn frame(&self, canvas: &mut Canvas<'_>, unit: &str, bells: &[f64]) -> Result<(), Fault> {
        let Area { x, y, w, h } = self.area;
        let count = (self.top / self.step).round() as u32;
        let digits = if self.step < 0.095 {
            2
        } else {
            usize::from(self.step < 0.95)
        };
        for line in 0..=count {
            let amount = f64::from(line) * self.step;
            let at = self.y(amount);
            canvas.line(&[(x, at), (x + w, at)], Stroke::solid(GRID, 0.75))?;
            canvas.text(
                (x - 6.0, at + 4.2),
                &fixed(amount, digits),
                SMALL,
                SOFT_INK,
                Align::Right,
            )?;
        }
        clock_axis(canvas, self.area, self.window)?;
        canvas.line(
            &[(x, y), (x, y + h), (x + w, y + h)],
            Stroke::solid(INK, 1.0),
        )?;
        canvas.text(
            (x - 6.0, y - 11.0),
            &shorten(unit, SMALL, 70.0),
            SMALL,
            SOFT_INK,
            Align::Middle,
        )?;
        bell_marks(canvas, self.area, self.window, bells)
    }

    /// Fills between two lines of one value a minute and draws its edges thinly.
    pub fn band(
        &self,
        canvas: &mut Canvas<'_>,
        low: &[f64],
        high: &[f64],
        colour: Colour,
    ) -> Result<(), Fault> {
        let upper = self.points(high);
        let lower = self.points(low);
        let around: Vec<(f64, f64)> = upper
            .iter()
            .copied()
            .chain(lower.iter().rev().copied())
            .collect();
        canvas.polygon(&around, colour, 0.25)?;
        canvas.line(&upper, Stroke::solid(colour, 0.75))?;
        canvas.line(&lower, Stroke::solid(colour, 0.75))
    }

    /// Fills the area between two lines of one value a minute.
    pub fn between(
        &self,
        canvas: &mut Canvas<'_>,
        low: &[f64],
        high: &[f64],
        (colour, strength): (Colour, f64),
    ) -> Result<(), Fault> {
        let mut around = self.points(high);
        around.extend(self.points(low).into_iter().rev());
        canvas.polygon(&around, colour, strength)
    }

    /// Draws a line of one value a minute.
    pub fn curve(
        &self,
        canvas: &mut Canvas<'_>,
        values: &[f64],
        stroke: Stroke,
    ) -> Result<(), Fault> {
        canvas.line(&self.points(values), stroke)
    }

    /// Draws a level line across, with its words above it at the left (below, when there is no room above).
    pub fn level(
        &self,
        canvas: &mut Canvas<'_>,
        amount: f64,
        words: &str,
        stroke: Stroke,
    ) -> Result<(), Fault> {
        let at = self.y(amount);
        canvas.line(
            &[(self.area.x, at), (self.area.x + self.area.w, at)],
            stroke,
        )?;
        let above = at - self.area.y > SMALL + 4.0;
        let baseline = if above { at - 4.0 } else { at + SMALL + 1.0 };
        let text = shorten(words, SMALL, self.area.w - 8.0);
        canvas.text(
            (self.area.x + 5.0, baseline),
            &text,
            SMALL,
            stroke.colour,
            Align::Left,
        )
    }

    /// The points of one value a minute, each in the middle of its minute, out to both edges.
    fn points(&self, values: &[f64]) -> Vec<(f64, f64)> {
        let shown = &values[..values.len().min(self.window.minutes() as usize)];
        let from = f64::from(self.window.from);
        let middle = shown
            .iter()
            .enumerate()
            .map(|(at, value)| (self.x(from + at as f64 + 0.5), self.y(*value)));
        let first = shown.first().map(|value| (self.area.x, self.y(*value)));
        let last = shown
            .last()
            .map(|value| (self.x(from + shown.len() as f64), self.y(*value)));
        first.into_iter().chain(middle).chain(last).collect()
    }
}

/// Draws upright lines at the clock times and names them below the box.
pub fn clock_axis(canvas: &mut Canvas<'_>, area: Area, window: Window) -> Result<(), Fault> {
    let Area { x, y, w, h } = area;
    for minute in window.ticks(w) {
        let at = x + w * f64::from(minute - window.from) / f64::from(window.minutes());
        canvas.line(&[(at, y), (at, y + h + 4.0)], Stroke::solid(GRID, 0.75))?;
        canvas.text(
            (at, y + h + 17.0),
            &hour_minute(u64::from(minute)),
            SMALL,
            SOFT_INK,
            Align::Middle,
        )?;
    }
    Ok(())
}

/// Marks each bell with a broken upright line and a wedge at its top.
pub fn bell_marks(
    canvas: &mut Canvas<'_>,
    area: Area,
    window: Window,
    bells: &[f64],
) -> Result<(), Fault> {
    let Area { x, y, w, h } = area;
    for bell in bells
        .iter()
        .filter(|b| (f64::from(window.from)..=f64::from(window.to)).contains(*b))
    {
        let at = x + w * (bell - f64::from(window.from)) / f64::from(window.minutes());
        canvas.line(&[(at, y), (at, y + h)], bell_stroke())?;
        bell_wedge(canvas, (at, y))?;
    }
    Ok(())
}

/// The line of a bell.
pub fn bell_stroke() -> Stroke {
    Stroke {
        colour: INK,
        width: 1.0,
        dash: Dash::Dots,
    }
}

/// The wedge over the line of a bell, its point at `at`.
pub fn bell_wedge(canvas: &mut Canvas<'_>, (x, y): (f64, f64)) -> Result<(), Fault> {
    canvas.polygon(&[(x - 5.0, y - 7.0), (x + 5.0, y - 7.0), (x, y)], INK, 1.0)
}

/// The line of a limit.
pub fn limit_stroke() -> Stroke {
    Stroke {
        colour: INK,
        width: 1.5,
        dash: Dash::Long,
    }
}

/// The first step of 1, 2, 5, 10, 20, 25, 50 ... not below `least`; whole when the axis reaches 1 or more.
pub(crate) fn nice_step(least: f64, top: f64) -> f64 {
    let least = if top >= 1.0 { least.max(1.0) } else { least };
    let mut size = 1e-3;
    while size < 1e12 {
        // Two and a half is a round step only where it is whole.
        let factors: &[f64] = if size >= 9.0 {
            &[1.0, 2.0, 2.5, 5.0]
        } else {
            &[1.0, 2.0, 5.0]
        };
        if let Some(step) = factors
            .iter()
            .map(|factor| size * factor)
            .find(|step| *step >= least * (1.0 - 1e-9))
        {
            return step;
        }
        size *= 10.0;
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;

    const AREA: Area = Area {
        x: 50.0,
        y: 10.0,
        w: 600.0,
        h: 200.0,
    };

    #[test]
    fn axes_reach_over_their_largest_amount_in_round_steps() {
        for (top, step) in [
            (37.0, 10.0),
            (1294.0, 500.0),
            (65.0, 20.0),
            (105.0, 25.0),
            (3.0, 1.0),
            (1.0, 1.0),
            (0.6, 0.2),
            (12.0, 5.0),
        ] {
            let panel = Panel::new(AREA, Window { from: 660, to: 900 }, top);
            assert!(
                (panel.step - step).abs() < 1e-9 && panel.top >= top,
                "{top}: {panel:?}"
            );
        }
    }

    #[test]
    fn noon_and_nought_stand_where_they_should() {
        let panel = Panel::new(AREA, Window { from: 660, to: 780 }, 10.0);
        assert!((panel.x(720.0) - 350.0).abs() < 1e-9);
        assert!((panel.y(0.0) - 210.0).abs() < 1e-9 && (panel.y(10.0) - 10.0).abs() < 1e-9);
    }
}
