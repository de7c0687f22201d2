//! A picture as it stands in a file of its own: with its title, its caption, and where it comes from, at print size.

use scullery_study::summary::Summary;

use crate::canvas::{Align, draw};
use crate::error::Fault;
use crate::figure::{Figure, WIDTH};
use crate::lettering::{lines, printable};
use crate::palette::{INK, SOFT_INK};
use crate::svg::Naming;
use crate::terminal::simulated;

/// Width on paper, in millimetres: the text of a page of A4 or US Letter.
const PAPER_MM: f64 = 170.0;
/// Size of title and caption, in points of the picture.
const TITLE: f64 = 20.0;
const WORDS: f64 = 12.5;
/// From one line of the caption to the next.
const LINE: f64 = 17.0;

/// The picture with its words on it, as the text of an SVG file.
///
/// # Errors
/// When the sheet does not take the drawing.
pub fn picture_sheet(figure: &Figure, summary: &Summary) -> Result<String, Fault> {
    let source = format!(
        "{}. {} scullery {}.",
        summary.heading.name,
        simulated(summary),
        summary.source.version
    );
    sourced_sheet(figure, &source)
}

/// The same with a line of one's own on where it comes from.
///
/// # Errors
/// When the sheet does not take the drawing.
pub(crate) fn sourced_sheet(figure: &Figure, source: &str) -> Result<String, Fault> {
    let edge = 16.0;
    let wide = WIDTH + 2.0 * edge;
    let titles = lines(&figure.title, TITLE * 1.08, WIDTH);
    let captions = lines(&figure.caption, WORDS, WIDTH);
    let sources = lines(source, WORDS, WIDTH);
    let head = 14.0 + titles.len() as f64 * TITLE * 1.25 + 10.0;
    let inside = height(&figure.svg).ok_or_else(|| {
        Fault::Drawing(format!("{}: the picture does not say its size", figure.id))
    })?;
    let foot = head + inside + 22.0;
    let tall = foot + (captions.len() + sources.len()) as f64 * LINE + 18.0;
    let id = format!("{}-sheet", figure.id);
    let naming = Naming {
        id: &id,
        title: &figure.title,
        desc: &figure.desc,
    };
    let words = draw(&naming, wide, tall, |canvas| {
        for (number, line) in titles.iter().enumerate() {
            let y = 14.0 + TITLE + number as f64 * TITLE * 1.25;
            canvas.bold((edge, y), line, TITLE, INK, Align::Left)?;
        }
        let told = captions.iter().map(|line| (line, INK));
        let told = told.chain(sources.iter().map(|line| (line, SOFT_INK)));
        for (number, (line, ink)) in told.enumerate() {
            let y = foot + number as f64 * LINE;
            canvas.text((edge, y), &printable(line), WORDS, ink, Align::Left)?;
        }
        Ok(())
    })?;
    let placed = place(&figure.svg, [edge, head], crate::svg::FINE)
        .ok_or_else(|| Fault::Drawing(format!("{}: not an SVG picture", figure.id)))?;
    let whole = words
        .rsplit_once("</svg>")
        .map(|(before, _)| format!("{before}{placed}\n</svg>\n"))
        .ok_or_else(|| Fault::Drawing(format!("{}: not an SVG picture", figure.id)))?;
    let size = format!(" width=\"{wide}\" height=\"{tall}\"");
    let on_paper = format!(
        " width=\"{PAPER_MM}mm\" height=\"{:.2}mm\"",
        PAPER_MM * tall / wide
    );
    Ok(whole.replacen(&size, &on_paper, 1))
}

/// The height a picture says it has, in points.
fn height(svg: &str) -> Option<f64> {
    let (_, rest) = svg.split_once(" height=\"")?;
    rest.split_once('"')?.0.parse().ok()
}

/// The picture as an element within another: at a place in it, and sized in the other's pixels.
fn place(svg: &str, at: [f64; 2], fine: f64) -> Option<String> {
    let head = svg.find('>')?;
    let (tag, body) = svg.split_at(head);
    let wide = format!(" width=\"{WIDTH}\"");
    let tall = height(svg)?;
    let tag = tag
        .replace(
            &wide,
            &format!(
                " x=\"{}\" y=\"{}\" width=\"{}\"",
                at[0] * fine,
                at[1] * fine,
                WIDTH * fine
            ),
        )
        .replace(
            &format!(" height=\"{tall}\""),
            &format!(" height=\"{}\"", tall * fine),
        );
    Some(format!("{tag}{}", body.trim_end()))
}
