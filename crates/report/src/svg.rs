//! The words of SVG that the drawing sheet does not know: the picture's name, dashes and hatches.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use crate::canvas::{drawn, pixel};
use crate::error::Fault;
use crate::lettering::printable;
use crate::palette::{Colour, Dash, Hatch};

/// Pixels of the sheet in a point.
pub(crate) const FINE: f64 = 4.0;

/// What a picture is called, for readers who cannot see it.
#[derive(Clone, Debug)]
pub struct Naming<'a> {
    /// Begins the ids inside the picture; letters, digits and hyphens.
    pub id: &'a str,
    /// Short name.
    pub title: &'a str,
    /// What is to be seen, in a few sentences.
    pub desc: &'a str,
}

/// Stroke widths from here on stand for dashed strokes until they are replaced.
pub(crate) const DASHED: u32 = 10_000;

/// A colour that stands for hatch number `index` until it is replaced. Its red and green are in no palette here.
pub(crate) fn stand_in(index: usize) -> Colour {
    Colour(0xFE, 0x01, index.min(255) as u8)
}

/// Puts the picture's own head before the drawing, names it, and writes dashes and hatches in the words of SVG.
pub(crate) fn finish(
    drawing: &str,
    naming: &Naming<'_>,
    (width, height): (f64, f64),
    strokes: &[(Dash, u32)],
    hatches: &[(Hatch, Colour)],
) -> Result<String, Fault> {
    let unexpected = || Fault::Drawing(format!("{}: the sheet is not an SVG picture", naming.id));
    let (_, body) = drawing
        .split_once("<svg")
        .and_then(|(_, rest)| rest.split_once('>'))
        .ok_or_else(unexpected)?;
    let mut body = body
        .replace(" dy=\"-0.5ex\"", "")
        .replace(" opacity=\"1\"", "");
    for (index, (dash, wide)) in strokes.iter().enumerate() {
        let lengths: Vec<String> = dash
            .lengths()
            .iter()
            .map(|length| (length * FINE).to_string())
            .collect();
        body = body.replace(
            &format!("stroke-width=\"{}\"", DASHED + index as u32),
            &format!(
                "stroke-width=\"{wide}\" stroke-dasharray=\"{}\"",
                lengths.join(" ")
            ),
        );
    }
    let id = naming.id;
    let mut patterns = String::new();
    for (index, (hatch, line)) in hatches.iter().enumerate() {
        body = body.replace(
            &format!("fill=\"{}\"", stand_in(index).hex()),
            &format!("fill=\"url(#{id}-h{index})\""),
        );
        patterns.push_str(&pattern(&format!("{id}-h{index}"), *hatch, *line));
    }
    let mut out = String::with_capacity(body.len() + 600);
    let (pixels_w, pixels_h) = pixel((width, height));
    let written = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {pixels_w} \
         {pixels_h}\" role=\"img\" aria-labelledby=\"{id}-title {id}-desc\">\n<title id=\"{id}-title\">{}</title>\n\
         <desc id=\"{id}-desc\">{}</desc>\n",
        escape(naming.title),
        escape(naming.desc)
    );
    drawn(written)?;
    if !patterns.is_empty() {
        out.push_str("<defs>\n");
        out.push_str(&patterns);
        out.push_str("</defs>\n");
    }
    out.push_str(body.trim_start());
    Ok(out)
}

/// An SVG pattern that draws a hatch; what lies under it shows through.
fn pattern(id: &str, hatch: Hatch, line: Colour) -> String {
    let step = 6.0 * FINE;
    let half = step / 2.0;
    let past = step * 1.25;
    let before = -step * 0.25;
    let stroke = |d: String| {
        format!(
            "<path d=\"{d}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{}\"/>",
            line.hex(),
            1.3 * FINE
        )
    };
    let rising = format!(
        "M{before} {past}L{past} {before}M{before} {}L{} {before}M{} {past}L{past} {}",
        step * 0.25,
        step * 0.25,
        step * 0.75,
        step * 0.75
    );
    let falling = format!(
        "M{before} {before}L{past} {past}M{before} {}L{} {past}M{} {before}L{past} {}",
        step * 0.75,
        step * 0.25,
        step * 0.75,
        step * 0.25
    );
    let inside = match hatch {
        Hatch::Plain => String::new(),
        Hatch::Rising => stroke(rising),
        Hatch::Falling => stroke(falling),
        Hatch::Crossed => stroke(rising) + &stroke(falling),
        Hatch::Level => stroke(format!("M0 {half}H{step}")),
        Hatch::Upright => stroke(format!("M{half} 0V{step}")),
        Hatch::Points => {
            format!(
                "<circle cx=\"{half}\" cy=\"{half}\" r=\"{}\" fill=\"{}\"/>",
                1.4 * FINE,
                line.hex()
            )
        }
    };
    format!(
        "<pattern id=\"{id}\" width=\"{step}\" height=\"{step}\" patternUnits=\"userSpaceOnUse\">{inside}</pattern>\n"
    )
}

/// A text safe between the tags of a picture or in its attributes.
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in printable(text).chars() {
        match letter {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            other => out.push(other),
        }
    }
    out
}

/// Ids used in a picture, to show that no two pictures on one page share one.
pub fn ids(svg: &str) -> BTreeSet<&str> {
    svg.split(" id=\"")
        .skip(1)
        .filter_map(|rest| rest.split_once('"').map(|(id, _)| id))
        .collect()
}
