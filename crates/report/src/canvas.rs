//! A sheet to draw on, measured in points, that becomes the text of an SVG picture.
//!
//! The drawing goes through `plotters`, whose SVG sheet knows whole pixels only and neither dashes nor hatches. So the
//! sheet is drawn `FINE` times larger, and dashes and hatches are first written as stroke widths and colours that
//! nothing else uses, then replaced by the SVG words for them.

use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};

use crate::error::Fault;
use crate::lettering::{FAMILIES, printable};
use crate::palette::{Colour, Dash, Hatch, PAPER};
use crate::svg::{DASHED, FINE, Naming, finish, stand_in};

/// Where a text stands against its point; up and down it always stands on it with its baseline.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// It begins there.
    Left,
    /// Its middle is there.
    Middle,
    /// It ends there.
    Right,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug)]
pub struct Stroke {
    /// Colour.
    pub colour: Colour,
    /// Width in points.
    pub width: f64,
    /// How it is broken up.
    pub dash: Dash,
}

impl Stroke {
    /// An unbroken line.
    pub fn solid(colour: Colour, width: f64) -> Stroke {
        Stroke {
            colour,
            width,
            dash: Dash::Solid,
        }
    }
}

/// An upright box: left, top, width, height, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub w: f64,
    /// Height.
    pub h: f64,
}

/// The sheet.
pub struct Canvas<'a> {
    sheet: DrawingArea<SVGBackend<'a>, Shift>,
    /// Dashed strokes used: dash and width in pixels.
    strokes: Vec<(Dash, u32)>,
    /// Hatches used: hatch and colour.
    hatches: Vec<(Hatch, Colour)>,
}

fn rgb(colour: Colour) -> RGBColor {
    RGBColor(colour.0, colour.1, colour.2)
}

pub(crate) fn pixel((x, y): (f64, f64)) -> (i32, i32) {
    let whole = |v: f64| (v * FINE).round().clamp(-1e6, 1e6) as i32;
    (whole(x), whole(y))
}

pub(crate) fn drawn<T, E: std::fmt::Display>(result: Result<T, E>) -> Result<T, Fault> {
    result.map_err(|why| Fault::Drawing(why.to_string()))
}

/// Draws a picture of `width` by `height` points and returns its SVG text.
///
/// # Errors
/// When the sheet does not take the drawing, or `paint` fails.
pub fn draw(
    naming: &Naming<'_>,
    width: f64,
    height: f64,
    paint: impl FnOnce(&mut Canvas<'_>) -> Result<(), Fault>,
) -> Result<String, Fault> {
    let mut text = String::new();
    let (pixels_w, pixels_h) = pixel((width, height));
    let (strokes, hatches) = {
        let backend =
            SVGBackend::with_string(&mut text, (pixels_w.max(1) as u32, pixels_h.max(1) as u32));
        let sheet = backend.into_drawing_area();
        let mut canvas = Canvas {
            sheet,
            strokes: Vec::new(),
            hatches: Vec::new(),
        };
        canvas.fill(
            Area {
                x: 0.0,
                y: 0.0,
                w: width,
                h: height,
            },
            PAPER,
        )?;
        paint(&mut canvas)?;
        drawn(canvas.sheet.present())?;
        (canvas.strokes, canvas.hatches)
    };
    finish(&text, naming, (width, height), &strokes, &hatches)
}

impl Canvas<'_> {
    /// Fills a box.
    pub fn fill(&mut self, area: Area, colour: Colour) -> Result<(), Fault> {
        let corners = [
            pixel((area.x, area.y)),
            pixel((area.x + area.w, area.y + area.h)),
        ];
        drawn(
            self.sheet
                .draw(&Rectangle::new(corners, rgb(colour).filled())),
        )
    }

    /// Draws the outline of a box.
    pub fn outline(&mut self, area: Area, stroke: Stroke) -> Result<(), Fault> {
        let Area { x, y, w, h } = area;
        self.line(
            &[(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)],
            stroke,
        )
    }

    /// Fills a box and draws a hatch over it.
    pub fn fill_hatched(
        &mut self,
        area: Area,
        fill: Colour,
        hatch: Hatch,
        line: Colour,
    ) -> Result<(), Fault> {
        self.fill(area, fill)?;
        if hatch == Hatch::Plain {
            return Ok(());
        }
        let index = self
            .hatches
            .iter()
            .position(|used| *used == (hatch, line))
            .unwrap_or_else(|| {
                self.hatches.push((hatch, line));
                self.hatches.len() - 1
            });
        self.fill(area, stand_in(index))
    }

    /// Fills a polygon; `strength` runs from 0 (clear) to 1 (full).
    pub fn polygon(
        &mut self,
        points: &[(f64, f64)],
        colour: Colour,
        strength: f64,
    ) -> Result<(), Fault> {
        let points: Vec<(i32, i32)> = points.iter().map(|p| pixel(*p)).collect();
        drawn(
            self.sheet
                .draw(&Polygon::new(points, rgb(colour).mix(strength))),
        )
    }

    /// Draws a line through points.
    pub fn line(&mut self, points: &[(f64, f64)], stroke: Stroke) -> Result<(), Fault> {
        let wide = (stroke.width * FINE).round().max(1.0) as u32;
        let wide = if stroke.dash == Dash::Solid {
            wide
        } else {
            let index = self
                .strokes
                .iter()
                .position(|used| *used == (stroke.dash, wide))
                .unwrap_or_else(|| {
                    self.strokes.push((stroke.dash, wide));
                    self.strokes.len() - 1
                });
            DASHED + index as u32
        };
        let points = without_idle_points(points.iter().map(|p| pixel(*p)));
        drawn(self.sheet.draw(&PathElement::new(
            points,
            rgb(stroke.colour).stroke_width(wide),
        )))
    }

    /// Writes a text of `size` points with its baseline at `at`.
    pub fn text(
        &mut self,
        at: (f64, f64),
        text: &str,
        size: f64,
        colour: Colour,
        align: Align,
    ) -> Result<(), Fault> {
        self.lettered(at, text, (size, FontStyle::Normal), colour, align)
    }

    /// Writes a bold text of `size` points with its baseline at `at`.
    pub fn bold(
        &mut self,
        at: (f64, f64),
        text: &str,
        size: f64,
        colour: Colour,
        align: Align,
    ) -> Result<(), Fault> {
        self.lettered(at, text, (size, FontStyle::Bold), colour, align)
    }

    fn lettered(
        &mut self,
        at: (f64, f64),
        text: &str,
        (size, style): (f64, FontStyle),
        colour: Colour,
        align: Align,
    ) -> Result<(), Fault> {
        let side = match align {
            Align::Left => HPos::Left,
            Align::Middle => HPos::Center,
            Align::Right => HPos::Right,
        };
        // The sheet divides the size by 1.24 on the way out.
        let ink = rgb(colour);
        let style = TextStyle::from((FAMILIES, size * FINE * 1.24, style).into_font())
            .color(&ink)
            .pos(Pos::new(side, VPos::Bottom));
        drawn(
            self.sheet
                .draw(&Text::new(printable(text), pixel(at), style)),
        )
    }
}

/// The points without those that lie between two others on one level or upright line.
fn without_idle_points(points: impl Iterator<Item = (i32, i32)>) -> Vec<(i32, i32)> {
    let mut kept: Vec<(i32, i32)> = Vec::new();
    for point in points {
        if let [.., a, b] = kept[..] {
            let level = a.1 == b.1 && b.1 == point.1 && (a.0 <= b.0) == (b.0 <= point.0);
            let upright = a.0 == b.0 && b.0 == point.0 && (a.1 <= b.1) == (b.1 <= point.1);
            if level || upright {
                kept.pop();
            }
        }
        if kept.last() != Some(&point) {
            kept.push(point);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::palette::{BLUE, INK};

    fn sheet() -> String {
        let naming = Naming {
            id: "try",
            title: "a < b",
            desc: "\"so\" & so",
        };
        draw(&naming, 100.0, 50.0, |canvas| {
            let area = Area {
                x: 10.0,
                y: 10.0,
                w: 20.0,
                h: 20.0,
            };
            canvas.fill_hatched(area, BLUE, Hatch::Crossed, PAPER)?;
            canvas.line(
                &[(0.0, 0.0), (50.0, 0.0), (100.0, 0.0)],
                Stroke {
                    colour: INK,
                    width: 1.5,
                    dash: Dash::Long,
                },
            )?;
            canvas.text((50.0, 25.0), "<pots> \u{1}& pans", 12.0, INK, Align::Middle)
        })
        .unwrap()
    }

    #[test]
    fn a_picture_is_named_and_its_words_are_escaped() {
        let svg = sheet();
        assert!(
            svg.contains("<title id=\"try-title\">a &lt; b</title>"),
            "{svg}"
        );
        assert!(svg.contains("&quot;so&quot; &amp; so</desc>"), "{svg}");
        assert!(svg.contains("&lt;pots&gt;  &amp; pans"), "{svg}");
    }

    #[test]
    fn dashes_and_hatches_leave_no_stand_ins_behind() {
        let svg = sheet();
        assert!(
            svg.contains("stroke-dasharray=\"36 16\"") && svg.contains("url(#try-h0)"),
            "{svg}"
        );
        assert!(
            !svg.contains("#FE01") && !svg.contains("stroke-width=\"1000"),
            "{svg}"
        );
    }

    #[test]
    fn points_between_two_others_on_a_level_line_are_left_out() {
        assert_eq!(
            without_idle_points([(0, 5), (1, 5), (2, 5), (2, 9)].into_iter()),
            [(0, 5), (2, 5), (2, 9)]
        );
        assert_eq!(
            without_idle_points([(0, 5), (4, 5), (2, 5)].into_iter()),
            [(0, 5), (4, 5), (2, 5)]
        );
    }
}
