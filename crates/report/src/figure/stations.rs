//! What went on at each post: how many people worked there, were held up, waited or were on their way.

use scullery_study::summary::Station;

use super::legend::{Entry, LINE, legend, lines};
use super::{Figure, Scene, WIDTH};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::clock::hour_minute;
use crate::error::Fault;
use crate::lettering::shorten;
use crate::number::{DASH, fixed};
use crate::palette::{INK, Look, SOFT_INK, state_look};
use crate::panel::{NAME, SMALL, bell_marks, clock_axis};
use crate::svg::Naming;
use crate::table::Table;

/// Rows in one picture at most, so that a picture fits a printed page.
const MOST: usize = 10;
/// Height of a row's bars and of the space under it, in points.
const BAR: f64 = 52.0;
const GAP: f64 = 20.0;

/// The look of a state at a post; waiting is named by what is waited for.
fn look(state: &str) -> Look {
    let look = state_look(state, "worker");
    if state == "waiting" {
        return Look {
            words: "waiting for trays or other work",
            ..look
        };
    }
    look
}

/// The pictures: none when nobody stands anywhere.
pub(super) fn stations(scene: &Scene<'_>) -> Result<Vec<Figure>, Fault> {
    let lively: Vec<&Station> = scene
        .summary
        .stations
        .iter()
        .filter(|station| station.minutes.iter().sum::<f64>() >= 0.5)
        .collect();
    let sheets = lively.len().div_ceil(MOST);
    let each = lively.len().div_ceil(sheets.max(1)).max(1);
    lively
        .chunks(each)
        .enumerate()
        .map(|(index, rows)| sheet(scene, rows, (index, sheets)))
        .collect()
}

fn sheet(
    scene: &Scene<'_>,
    rows: &[&Station],
    (index, of): (usize, usize),
) -> Result<Figure, Fault> {
    let (id, title) = if of > 1 {
        (
            format!("stations-{}", index + 1),
            format!("What went on at each post ({} of {of})", index + 1),
        )
    } else {
        (
            "stations".to_owned(),
            "What went on at each post".to_owned(),
        )
    };
    let mut looks: Vec<Look> = Vec::new();
    for state in rows.iter().flat_map(|station| &station.states) {
        if !looks.contains(&look(state)) {
            looks.push(look(state));
        }
    }
    let mut key: Vec<Entry<'_>> = looks
        .iter()
        .map(|look| Entry::State(look.fill, look.hatch, look.line, look.words))
        .collect();
    if !scene.bells().is_empty() {
        key.push(Entry::Bell);
    }
    let head = lines(&key, WIDTH - 32.0) as f64 * LINE + 24.0;
    let height = rows.len() as f64 * (BAR + GAP) - GAP;
    let area = Area {
        x: 200.0,
        y: head,
        w: WIDTH - 200.0 - 150.0,
        h: height,
    };
    let desc = rows
        .iter()
        .map(|station| row_words(station))
        .collect::<Vec<_>>()
        .join(" ");
    let naming = Naming {
        id: &id,
        title: &title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, head + height + 28.0, |canvas| {
        legend(canvas, (16.0, 2.0), WIDTH - 32.0, &key)?;
        clock_axis(canvas, area, scene.window)?;
        for (index, station) in rows.iter().enumerate() {
            let y = head + index as f64 * (BAR + GAP);
            row(canvas, scene, station, Area { y, h: BAR, ..area })?;
        }
        bell_marks(canvas, area, scene.window, scene.bells())
    })?;
    let period = scene.window.period_words();
    Ok(Figure {
        id,
        title,
        caption: format!(
            "Each bar is one {period}; its height is the mean number of people at the post or on their way there, over \
             the {period} and over the lunches, by what they did. At the left the most people any bar stands for. At the \
             right what held people up here, in person-minutes a lunch.",
        ),
        desc,
        svg,
        tables: vec![table(rows, scene)],
    })
}

/// Mean people by state over some minutes of the window; `None` past the end.
fn people(station: &Station, minutes: &std::ops::Range<usize>) -> Option<Vec<f64>> {
    let quarters = station.quarters.get(minutes.start / 15..)?;
    let quarters = &quarters[..quarters.len().min(minutes.len().div_ceil(15))];
    if quarters.is_empty() {
        return None;
    }
    let mean = |state: usize| {
        let of_state = quarters.iter().filter_map(|q| q.get(state));
        of_state.sum::<f64>() / quarters.len() as f64
    };
    Some((0..station.states.len()).map(mean).collect())
}

/// The most people a bar of this station stands for, rounded up, at least 1.
fn top(station: &Station) -> f64 {
    let most = station.quarters.iter().map(|by| by.iter().sum::<f64>());
    most.fold(0.0, f64::max).ceil().max(1.0)
}

fn row(
    canvas: &mut Canvas<'_>,
    scene: &Scene<'_>,
    station: &Station,
    area: Area,
) -> Result<(), Fault> {
    let top = top(station);
    let middle = area.y + area.h / 2.0;
    let side = if station.clean_side {
        "clean side"
    } else {
        "soiled side"
    };
    let right = (area.x - 12.0, Align::Right);
    let room = area.x - 20.0;
    canvas.text(
        (right.0, middle - 4.0),
        &shorten(&station.name, NAME, room),
        NAME,
        INK,
        right.1,
    )?;
    let people = if top > 1.0 {
        format!("{side}, up to {top:.0} people")
    } else {
        format!("{side}, up to 1 person")
    };
    canvas.text(
        (right.0, middle + 11.0),
        &shorten(&people, SMALL - 1.0, room),
        SMALL - 1.0,
        SOFT_INK,
        right.1,
    )?;
    let minute = area.w / f64::from(scene.window.minutes());
    for (_, minutes) in scene.window.periods() {
        let Some(shares) = self::people(station, &minutes) else {
            break;
        };
        let x = area.x + minutes.start as f64 * minute;
        let w = (minutes.end - minutes.start) as f64 * minute;
        let w = if w > 6.0 { w - 1.5 } else { w };
        let mut foot = area.y + area.h;
        for (state, share) in station.states.iter().zip(&shares) {
            let h = (share / top).clamp(0.0, 1.0) * area.h;
            if h < 0.2 {
                continue;
            }
            let look = look(state);
            let part = Area {
                x,
                y: (foot - h).max(area.y),
                w,
                h,
            };
            canvas.fill_hatched(part, look.fill, look.hatch, look.line)?;
            canvas.outline(part, Stroke::solid(INK, 0.5))?;
            foot -= h;
        }
    }
    let base = area.y + area.h;
    canvas.line(
        &[(area.x, base), (area.x + area.w, base)],
        Stroke::solid(INK, 1.0),
    )?;
    let left = area.x + area.w + 12.0;
    let room = WIDTH - left - 4.0;
    let Some(worst) = station.held_up.first().filter(|held| held.minutes >= 0.05) else {
        let calm = "nobody held up";
        return canvas.text((left, middle + 4.0), calm, SMALL, SOFT_INK, Align::Left);
    };
    let minutes = format!("held up {} min by", held_text(worst.minutes));
    canvas.text((left, middle - 4.0), &minutes, SMALL, INK, Align::Left)?;
    let by = shorten(&worst.by, SMALL, room);
    canvas.text((left, middle + 11.0), &by, SMALL, INK, Align::Left)
}

fn held_text(minutes: f64) -> String {
    fixed(minutes, usize::from(minutes < 9.95))
}

fn row_words(station: &Station) -> String {
    let states: Vec<String> = station
        .states
        .iter()
        .zip(&station.minutes)
        .filter(|(_, minutes)| **minutes >= 0.5)
        .map(|(state, minutes)| format!("{} {minutes:.0} person-minutes", look(state).words))
        .collect();
    let held: Vec<String> = station
        .held_up
        .iter()
        .filter(|held| held.minutes >= 0.05)
        .take(3)
        .map(|held| format!("{} ({} min)", held.by, held_text(held.minutes)))
        .collect();
    let held = if held.is_empty() {
        String::new()
    } else {
        format!("; held up by {}", held.join(", "))
    };
    format!("{}: {}{held}.", station.name, states.join(", "))
}

/// A column a post, each cell the people by state, at least a twentieth of a person.
fn table(rows: &[&Station], scene: &Scene<'_>) -> Table {
    let period = scene.window.period_words();
    let caption = format!(
        "By {period}: mean number of people at each post or on their way there, by what they did; below 0.05 is left out."
    );
    let first = format!("{}{} from", period[..1].to_uppercase(), &period[1..]);
    let mut table = Table::new(caption, &[&first]);
    table
        .head
        .extend(rows.iter().map(|station| station.name.clone()));
    for (from, minutes) in scene.window.periods() {
        let mut row = vec![hour_minute(u64::from(from))];
        row.extend(rows.iter().map(|station| {
            let shares = people(station, &minutes).unwrap_or_default();
            let parts: Vec<String> = station
                .states
                .iter()
                .zip(shares)
                .filter(|(_, share)| *share >= 0.05)
                .map(|(state, share)| {
                    format!("{} {}", state_look(state, "worker").words, fixed(share, 1))
                })
                .collect();
            if parts.is_empty() {
                DASH.to_owned()
            } else {
                parts.join(", ")
            }
        }));
        table.rows.push(row);
    }
    table
}
