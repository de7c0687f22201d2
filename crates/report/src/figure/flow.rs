//! The queue at the drop-off, the backlog and the roster under one another on one clock axis, with the limits.

use scullery_study::summary::Band;

use super::legend::{Entry, LINE, legend, lines};
use super::roster::{ROW, roster, roster_table};
use super::{Figure, Scene, WIDTH, largest, peak_words};
use crate::canvas::{Align, Area, Stroke, draw};
use crate::error::Fault;
use crate::lettering::shorten;
use crate::number::one_text;
use crate::palette::{BLUE, Hatch, INK, PAPER, SOFT_INK, VERMILLION};
use crate::panel::{NAME, Panel, bell_marks, clock_axis, limit_stroke};
use crate::svg::Naming;
use crate::table::band_quarters;

/// Members of the crew in one picture at most.
const MOST_ROWS: usize = 16;
/// Panels over the roster at most.
const MOST_PANELS: usize = 3;

/// The picture, or `None` when nobody ever stood and nothing ever waited.
pub(super) fn flow(scene: &Scene<'_>) -> Result<Option<Figure>, Fault> {
    let of_role = |role: &'static str| {
        let bands = scene.summary.bands.iter().filter(move |b| b.role == role);
        bands.filter(|band| largest(&band.p95).max(largest(&band.mean)) > 0.0)
    };
    let mut standing: Vec<&Band> = of_role("standing").collect();
    standing.sort_by(|a, b| largest(&b.p95).total_cmp(&largest(&a.p95)));
    standing.truncate(MOST_PANELS - 1);
    let bands: Vec<&Band> = standing.into_iter().chain(of_role("backlog")).collect();
    if bands.is_empty() {
        return Ok(None);
    }
    let crew = &scene.summary.planned.crew;
    let crew = &crew[..crew.len().min(MOST_ROWS)];
    let queue = Stroke::solid(VERMILLION, 2.25);
    let backlog = Stroke::solid(BLUE, 2.25);
    let mut key = vec![Entry::Curve(
        Stroke::solid(SOFT_INK, 2.0),
        "most in the minute: middle lunch, shaded from the 5th to the 95th of 100",
    )];
    if bands.iter().any(|band| band.limit.is_some()) {
        key.push(Entry::Line(limit_stroke(), "limit"));
    }
    if crew.iter().any(|member| !member.breaks.is_empty()) {
        key.push(Entry::State(
            PAPER,
            Hatch::Falling,
            SOFT_INK,
            "break, when it is due",
        ));
    }
    if !scene.bells().is_empty() {
        key.push(Entry::Bell);
    }
    let head = lines(&key, WIDTH - 80.0) as f64 * LINE + 6.0;
    let (left, right, over, high, under) = (92.0, 20.0, 34.0, 150.0, 26.0);
    let panel = |index: usize| Area {
        x: left,
        y: head + index as f64 * (over + high + under) + over,
        w: WIDTH - left - right,
        h: high,
    };
    let foot = panel(bands.len() - 1);
    let rows = Area {
        y: foot.y + foot.h + 58.0,
        h: crew.len() as f64 * ROW,
        ..foot
    };
    let bottom = if crew.is_empty() {
        foot.y + foot.h
    } else {
        rows.y + rows.h
    };
    let title = if crew.is_empty() {
        "People standing and trays waiting"
    } else {
        "People standing, trays waiting, and who is on"
    };
    let desc = bands
        .iter()
        .map(|band| peak_words(band, scene.window, scene.units))
        .collect::<Vec<_>>()
        .join(" ");
    let naming = Naming {
        id: "flow",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, bottom + 28.0, |canvas| {
        legend(canvas, (52.0, 2.0), WIDTH - 80.0, &key)?;
        for (index, band) in bands.iter().enumerate() {
            let area = panel(index);
            let stroke = if band.role == "backlog" {
                backlog
            } else {
                queue
            };
            let top = largest(&band.p95).max(largest(&band.p50));
            // A limit far above everything would press the line flat; it is named all the same.
            let limit = band.limit.filter(|room| *room <= top * 3.0);
            let axes = Panel::new(area, scene.window, top.max(limit.unwrap_or(0.0) * 1.08));
            let unit = scene.units.unit_words(&band.unit);
            let room = band.limit.map(|room| {
                let room = one_text(Some(room), &band.unit, scene.units);
                format!(" (room for {room})")
            });
            let name = format!("{}, {unit}{}", band.title, room.unwrap_or_default());
            canvas.bold(
                (area.x - 4.0, area.y - 13.0),
                &shorten(&name, NAME, area.w * 0.9),
                NAME,
                INK,
                Align::Left,
            )?;
            axes.frame(canvas, "", scene.bells())?;
            axes.band(canvas, &band.p05, &band.p95, stroke.colour)?;
            axes.curve(canvas, &band.p50, stroke)?;
            if let Some(room) = limit {
                axes.level(canvas, room, "room to stand", limit_stroke())?;
            }
        }
        if !crew.is_empty() {
            canvas.bold(
                (rows.x - 4.0, rows.y - 9.0),
                "Roster",
                NAME,
                INK,
                Align::Left,
            )?;
            clock_axis(canvas, rows, scene.window)?;
            roster(canvas, crew, rows, scene.window)?;
            bell_marks(canvas, rows, scene.window, scene.bells())?;
        }
        Ok(())
    })?;
    let mut tables: Vec<_> = bands
        .iter()
        .map(|band| band_quarters(band, scene.window, scene.units))
        .collect();
    if !crew.is_empty() {
        tables.push(roster_table(&scene.summary.planned.crew));
    }
    Ok(Some(Figure {
        id: "flow".into(),
        title: title.into(),
        caption: caption(scene, crew.len()),
        desc,
        svg,
        tables,
    }))
}

fn caption(scene: &Scene<'_>, shown: usize) -> String {
    let mut caption = scene.band_words();
    let all = scene.summary.planned.crew.len();
    if shown > 0 {
        caption.push_str(
            " Roster: each bar a shift with the first post of that person's list; a break begins when it is due or when \
             the task in hand ends.",
        );
    }
    if all > shown {
        caption.push_str(&format!(" The first {shown} of {all} people are drawn."));
    }
    caption
}
