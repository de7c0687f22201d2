//! Trays dropped off, cleared and clean, as running counts on one set of axes.

use scullery_study::summary::Band;

use super::legend::{Entry, LINE, legend, lines};
use super::{Figure, Scene, WIDTH, largest};
use crate::canvas::{Area, Stroke, draw};
use crate::clock::hour_minute;
use crate::error::Fault;
use crate::number::fixed;
use crate::palette::{BLUE, Colour, Dash, GREEN, SOFT_INK, VERMILLION};
use crate::panel::Panel;
use crate::svg::Naming;
use crate::table::band_quarters;

/// Role, colour and dash of each line.
const LINES: [(&str, Colour, Dash); 3] = [
    ("dropped_off", BLUE, Dash::Solid),
    ("cleared", VERMILLION, Dash::Long),
    ("clean", GREEN, Dash::Short),
];

/// The picture, or `None` when nothing was counted.
pub(super) fn progress(scene: &Scene<'_>) -> Result<Option<Figure>, Fault> {
    let shown: Vec<(&Band, Stroke)> = LINES
        .iter()
        .filter_map(|(role, colour, dash)| {
            let band = scene
                .summary
                .cumulative
                .iter()
                .find(|band| band.role == *role)?;
            Some((
                band,
                Stroke {
                    colour: *colour,
                    width: 2.25,
                    dash: *dash,
                },
            ))
        })
        .collect();
    let top = shown
        .iter()
        .map(|(band, _)| largest(&band.p95))
        .fold(0.0, f64::max);
    if top <= 0.0 {
        return Ok(None);
    }
    let mut key: Vec<Entry<'_>> = shown
        .iter()
        .map(|(band, stroke)| Entry::Curve(*stroke, &band.title))
        .collect();
    key.push(Entry::Curve(
        Stroke::solid(SOFT_INK, 2.0),
        "middle lunch, shaded from the 5th to the 95th of 100",
    ));
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
        panel.frame(canvas, unit, scene.bells())?;
        for (band, stroke) in &shown {
            panel.band(canvas, &band.p05, &band.p95, stroke.colour)?;
        }
        for (band, stroke) in &shown {
            panel.curve(canvas, &band.p50, *stroke)?;
        }
        Ok(())
    })?;
    let caption = format!(
        "{} The gap up and down between two lines is the number of trays between the two stages. The gap along the \
         clock is a tray's time only where trays keep their order: from drop-off to cleared, nearly; from cleared to \
         clean, no, because pieces are racked by class and some wait for a full rack. Clean is counted in pieces and \
         shown as trays.",
        scene.band_words()
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

/// For each line: its last count, and when the middle lunch reaches half of it.
fn desc(scene: &Scene<'_>, shown: &[(&Band, Stroke)]) -> String {
    let sentences: Vec<String> = shown
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
    format!("Running counts over the clock. {}", sentences.join(" "))
}
