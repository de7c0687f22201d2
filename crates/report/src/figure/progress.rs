//! Trays dropped off, cleared and clean, as running counts on one set of axes; what waits is the gap between them.

use scullery_study::summary::Band;

use super::legend::{Entry, GAP, LINE, legend, lines};
use super::{Figure, Scene, WIDTH, largest};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::clock::hour_minute;
use crate::error::Fault;
use crate::lettering::width;
use crate::number::fixed;
use crate::palette::{BLUE, Colour, Dash, GREEN, INK, ORANGE, SKY, VERMILLION};
use crate::panel::{Panel, SMALL};
use crate::svg::Naming;
use crate::table::band_quarters;

/// Role, colour and dash of each line.
const LINES: [(&str, Colour, Dash); 3] = [
    ("dropped_off", BLUE, Dash::Solid),
    ("cleared", VERMILLION, Dash::Long),
    ("clean", GREEN, Dash::Short),
];

/// Roles of the two lines around a gap, its fill and its words.
const GAPS: [(&str, &str, Colour, &str); 2] = [
    ("dropped_off", "cleared", ORANGE, "waiting to be cleared"),
    ("cleared", "clean", SKY, "cleared and not yet clean"),
];

/// The picture, or `None` when nothing was counted.
pub(super) fn progress(scene: &Scene<'_>) -> Result<Option<Figure>, Fault> {
    let count = |role: &str| scene.summary.cumulative.iter().find(|b| b.role == role);
    let shown: Vec<(&Band, Stroke)> = LINES
        .iter()
        .filter_map(|(role, colour, dash)| {
            let stroke = Stroke {
                colour: *colour,
                width: 2.5,
                dash: *dash,
            };
            Some((count(role)?, stroke))
        })
        .collect();
    let top = shown
        .iter()
        .map(|(band, _)| largest(&band.p50).max(largest(&band.p95) * 0.5))
        .fold(0.0, f64::max);
    if top <= 0.0 {
        return Ok(None);
    }
    let gaps: Vec<(&Band, &Band, Colour, &str)> = GAPS
        .iter()
        .filter_map(|(upper, lower, fill, words)| {
            Some((count(upper)?, count(lower)?, *fill, *words))
        })
        .collect();
    let mut key: Vec<Entry<'_>> = shown
        .iter()
        .map(|(band, stroke)| Entry::Line(*stroke, &band.title))
        .collect();
    key.extend(
        gaps.iter()
            .map(|(_, _, fill, words)| Entry::Gap(*fill, words)),
    );
    if !scene.bells().is_empty() {
        key.push(Entry::Bell);
    }
    let room = WIDTH - 80.0;
    let head = lines(&key, room) as f64 * LINE + 34.0;
    let area = Area {
        x: 56.0,
        y: head,
        w: WIDTH - 56.0 - 24.0,
        h: 330.0,
    };
    let title = "Trays dropped off, cleared and clean";
    let desc = desc(scene, &shown);
    let unit = shown
        .first()
        .map_or("", |(band, _)| scene.units.unit_words(&band.unit));
    let naming = Naming {
        id: "progress",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, area.y + area.h + 28.0, |canvas| {
        legend(canvas, (52.0, 4.0), room, &key)?;
        let panel = Panel::new(area, scene.window, top);
        for (upper, lower, fill, _) in &gaps {
            panel.between(canvas, &lower.p50, &upper.p50, (*fill, GAP))?;
        }
        panel.frame(canvas, unit, scene.bells())?;
        for (band, stroke) in &shown {
            panel.curve(canvas, &band.p50, *stroke)?;
        }
        if let Some((upper, lower, ..)) = gaps.first() {
            widest(canvas, scene, &panel, upper, lower)?;
        }
        Ok(())
    })?;
    let caption = format!(
        "The middle one of {} simulated lunches, minute by minute; the table beside has the 5th and the 95th of 100. The \
         gap up and down between two lines is the number of trays between the two stages. The gap along the clock is a \
         tray's time only where trays keep their order: from drop-off to cleared, nearly; from cleared to clean, no, \
         because pieces are racked by class and some wait for a full rack. Clean is counted in pieces and shown as trays.",
        scene.summary.repeats
    );
    Ok(Some(Figure {
        id: "progress".into(),
        title: title.into(),
        caption,
        desc,
        svg,
        tables: shown
            .iter()
            .map(|(band, _)| band_quarters(band, scene.window, scene.units))
            .collect(),
    }))
}

/// The minute at which two lines lie farthest apart, and by how much; `None` where they never part.
fn widest_gap(upper: &Band, lower: &Band, minutes: usize) -> Option<(usize, f64)> {
    let apart = upper.p50.iter().zip(&lower.p50).take(minutes);
    let apart = apart.map(|(upper, lower)| upper - lower).enumerate();
    apart
        .reduce(|best, next| if next.1 > best.1 { next } else { best })
        .filter(|(_, gap)| *gap >= 1.0)
}

/// Marks the widest place of the gap with its number.
fn widest(
    canvas: &mut Canvas<'_>,
    scene: &Scene<'_>,
    panel: &Panel,
    upper: &Band,
    lower: &Band,
) -> Result<(), Fault> {
    let minutes = scene.window.minutes() as usize;
    let Some((at, gap)) = widest_gap(upper, lower, minutes) else {
        return Ok(());
    };
    let x = panel.x(f64::from(scene.window.from) + at as f64 + 0.5);
    let (high, low) = (panel.y(upper.p50[at]), panel.y(lower.p50[at]));
    let ink = Stroke::solid(INK, 1.5);
    for y in [high, low] {
        canvas.line(&[(x - 4.0, y), (x + 4.0, y)], ink)?;
    }
    canvas.line(&[(x, high), (x, low)], ink)?;
    let words = format!(
        "{} trays wait at {}",
        fixed(gap, 0),
        hour_minute(u64::from(scene.window.from) + at as u64)
    );
    let left = x - 10.0 - width(&words, SMALL) > panel.area().x;
    let (from, align) = if left {
        (x - 10.0, Align::Right)
    } else {
        (x + 10.0, Align::Left)
    };
    canvas.bold((from, (high + low) / 2.0 - 6.0), &words, SMALL, INK, align)
}

/// For each line: its last count, and when the middle lunch reaches half of it; then the widest gap.
fn desc(scene: &Scene<'_>, shown: &[(&Band, Stroke)]) -> String {
    let mut sentences: Vec<String> = shown
        .iter()
        .filter_map(|(band, _)| {
            let last = band.p50.last().copied()?;
            let half = band.p50.iter().position(|count| *count >= last / 2.0)?;
            Some(format!(
                "{}: {} in the middle lunch, half of them by {}.",
                band.title,
                fixed(last, 0),
                hour_minute(u64::from(scene.window.from) + half as u64 + 1)
            ))
        })
        .collect();
    if let [(upper, _), (lower, _), ..] = shown {
        let minutes = scene.window.minutes() as usize;
        sentences.extend(widest_gap(upper, lower, minutes).map(|(at, gap)| {
            format!(
                "Most wait to be cleared at {}: {}.",
                hour_minute(u64::from(scene.window.from) + at as u64),
                fixed(gap, 0)
            )
        }));
    }
    format!("Running counts over the clock. {}", sentences.join(" "))
}
