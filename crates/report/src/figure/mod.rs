//! The pictures of a summary, each with its words and its numbers.

mod floor_plan;
mod flow;
pub(crate) mod legend;
mod levels;
mod progress;
pub(crate) mod roster;
mod states;
mod stations;
mod timeline;
pub mod times;

use scullery_study::film::Film;
use scullery_study::summary::{Band, Summary};

use crate::clock::Window;
use crate::error::Fault;
use crate::number::{Units, row_texts};
use crate::table::Table;

/// Width of every picture, in points.
pub const WIDTH: f64 = 820.0;

/// A picture with what it says in words and numbers.
#[derive(Clone, Debug)]
pub struct Figure {
    /// Name of its file without ending; letters, digits and hyphens.
    pub id: String,
    /// Heading.
    pub title: String,
    /// How to read it, a few sentences.
    pub caption: String,
    /// What is to be seen, in a few sentences, for readers who cannot see it.
    pub desc: String,
    /// The picture.
    pub svg: String,
    /// Its content by quarter hour.
    pub tables: Vec<Table>,
}

/// All pictures of a summary, in reading order. What never occurs has none.
///
/// # Errors
/// When a picture could not be drawn.
pub fn figures(summary: &Summary) -> Result<Vec<Figure>, Fault> {
    figures_with(summary, &[])
}

/// All pictures of a summary and of single lunches of it, in reading order.
///
/// # Errors
/// When a picture could not be drawn.
pub fn figures_with(summary: &Summary, films: &[Film]) -> Result<Vec<Figure>, Fault> {
    let window = Window::of(summary);
    let units = Units::named(&summary.heading.units);
    let scene = Scene {
        summary,
        window,
        units,
    };
    let mut all = Vec::new();
    all.extend(progress::progress(&scene)?);
    all.extend(flow::flow(&scene)?);
    all.extend(stations::stations(&scene)?);
    all.extend(states::states(&scene, states::Subject::People)?);
    all.extend(states::states(&scene, states::Subject::Machines)?);
    all.extend(timeline::timeline(&scene, films)?);
    for group in levels::GROUPS {
        all.extend(levels::levels(&scene, group)?);
    }
    all.extend(levels::levels(&scene, &levels::STOCK)?);
    all.extend(floor_plan::floor_plan(&scene)?);
    Ok(all)
}

/// What all pictures of one summary share.
struct Scene<'a> {
    summary: &'a Summary,
    window: Window,
    units: Units,
}

impl Scene<'_> {
    fn bells(&self) -> &[f64] {
        &self.summary.heading.bells_min
    }

    /// Said under every picture with bands.
    fn band_words(&self) -> String {
        format!(
            "Line: the middle one of {} simulated lunches. Shaded: from the 5th to the 95th of 100, minute by minute.",
            self.summary.repeats
        )
    }
}

/// The largest value of some lines of one value a minute; 0 when there is none.
fn largest(values: &[f64]) -> f64 {
    values
        .iter()
        .copied()
        .filter(|v| v.is_finite())
        .fold(0.0, f64::max)
}

/// One sentence on a band: when its middle and its high lunch reach farthest.
fn peak_words(band: &Band, window: Window, units: Units) -> String {
    let low = matches!(band.role.as_str(), "stock" | "empty_racks");
    let farthest = |values: &[f64]| -> Option<(usize, f64)> {
        let shown = &values[..values.len().min(window.minutes() as usize)];
        shown.iter().copied().enumerate().reduce(|best, next| {
            let better = if low {
                next.1 < best.1
            } else {
                next.1 > best.1
            };
            if better { next } else { best }
        })
    };
    let edge = if low { &band.p05 } else { &band.p95 };
    let (Some((at, middle)), Some((edge_at, far))) = (farthest(&band.p50), farthest(edge)) else {
        return format!("{}: no values.", band.title);
    };
    let [middle, far] = row_texts([Some(middle), Some(far)], &band.unit, units);
    let clock = |minute: usize| crate::clock::hour_minute(u64::from(window.from) + minute as u64);
    let unit = units.unit_words(&band.unit);
    let (most, side) = if low {
        ("lowest", "5th")
    } else {
        ("highest", "95th")
    };
    format!(
        "{}: the middle lunch is {most} at {} with {middle} {unit}; the {side} of 100 reaches {far} at {}.",
        band.title,
        clock(at),
        clock(edge_at)
    )
}
