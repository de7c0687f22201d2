//! What each person, machine and belt did, a stacked bar for each quarter hour.

use scullery_study::summary::Profile;

use super::legend::{Entry, LINE, legend, lines};
use super::{Figure, Scene, WIDTH};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::error::Fault;
use crate::lettering::shorten;
use crate::number::{DASH, Units, row_texts};
use crate::palette::{INK, Look, SOFT_INK, state_look};
use crate::panel::{NAME, SMALL, bell_marks, clock_axis};
use crate::svg::Naming;
use crate::table::{profile_quarters, state_shares};

/// Whose states a picture shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Subject {
    /// The crew.
    People,
    /// Machines and belts.
    Machines,
}

/// Rows in one picture at most, so that a picture fits a printed page.
const MOST: usize = 12;
/// Height of a row's bars and of the space under it, in points.
const BAR: f64 = 44.0;
const GAP: f64 = 14.0;

/// The pictures: none when there is nobody; several when there are many.
pub(super) fn states(scene: &Scene<'_>, subject: Subject) -> Result<Vec<Figure>, Fault> {
    let of_subject =
        |profile: &&Profile| (profile.kind == "worker") == (subject == Subject::People);
    let all: Vec<&Profile> = scene
        .summary
        .people
        .iter()
        .chain(&scene.summary.machines)
        .filter(of_subject)
        .collect();
    let sheets = all.len().div_ceil(MOST);
    let each = all.len().div_ceil(sheets.max(1)).max(1);
    all.chunks(each)
        .enumerate()
        .map(|(index, rows)| sheet(scene, subject, rows, (index, sheets)))
        .collect()
}

fn sheet(
    scene: &Scene<'_>,
    subject: Subject,
    rows: &[&Profile],
    (index, of): (usize, usize),
) -> Result<Figure, Fault> {
    let (stem, name) = match subject {
        Subject::People => ("people", "What each person did"),
        Subject::Machines => ("machines", "What machines and belts did"),
    };
    let (id, title) = if of > 1 {
        (
            format!("{stem}-{}", index + 1),
            format!("{name} ({} of {of})", index + 1),
        )
    } else {
        (stem.to_owned(), name.to_owned())
    };
    let looks = looks(rows);
    let mut key: Vec<Entry<'_>> = looks
        .iter()
        .map(|look| Entry::State(look.fill, look.hatch, look.line, look.words))
        .collect();
    if !scene.bells().is_empty() {
        key.push(Entry::Bell);
    }
    let head = lines(&key, WIDTH - 32.0) as f64 * LINE + 20.0;
    let height = rows.len() as f64 * (BAR + GAP) - GAP;
    let area = Area {
        x: 136.0,
        y: head,
        w: WIDTH - 136.0 - 118.0,
        h: height,
    };
    let desc = rows
        .iter()
        .map(|profile| row_words(profile))
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
        for (index, profile) in rows.iter().enumerate() {
            let top = head + index as f64 * (BAR + GAP);
            row(
                canvas,
                scene,
                profile,
                Area {
                    y: top,
                    h: BAR,
                    ..area
                },
            )?;
        }
        bell_marks(canvas, area, scene.window, scene.bells())
    })?;
    let period = scene.window.period_words();
    let bars = format!(
        "Each bar is one {period}, full height the whole of it; the parts are the shares of the time in each state, mean \
         over the lunches"
    );
    let caption = match subject {
        Subject::People => format!(
            "{bars}, work at the bottom; the empty rest is off shift. At the right the busy share of the whole shift (at \
             work, over the shift less breaks): the mean over the lunches, and in brackets the 5th to the 95th of 100."
        ),
        Subject::Machines => format!(
            "{bars}; the empty rest is off. At the right the share of the time running with racks inside."
        ),
    };
    Ok(Figure {
        id,
        title,
        caption,
        desc,
        svg,
        tables: vec![profile_quarters(rows, scene.window)],
    })
}

/// The looks of all states that take any time, in the order in which they first appear.
fn looks(rows: &[&Profile]) -> Vec<Look> {
    let mut looks: Vec<Look> = Vec::new();
    for profile in rows {
        for (index, state) in profile.states.iter().enumerate() {
            let look = state_look(state, &profile.kind);
            let occurs = profile
                .quarters
                .iter()
                .any(|q| q.get(index).is_some_and(|share| *share > 0.0));
            if occurs && state != "off" && !looks.contains(&look) {
                looks.push(look);
            }
        }
    }
    looks
}

fn row(
    canvas: &mut Canvas<'_>,
    scene: &Scene<'_>,
    profile: &Profile,
    area: Area,
) -> Result<(), Fault> {
    let middle = area.y + area.h / 2.0 + 4.5;
    canvas.text(
        (area.x - 12.0, middle),
        &shorten(&profile.name, NAME, area.x - 20.0),
        NAME,
        INK,
        Align::Right,
    )?;
    let minute = area.w / f64::from(scene.window.minutes());
    for (_, minutes) in scene.window.periods() {
        let Some(shares) = state_shares(profile, &minutes) else {
            break;
        };
        let x = area.x + minutes.start as f64 * minute;
        let w = (minutes.end - minutes.start) as f64 * minute;
        let w = if w > 6.0 { w - 1.5 } else { w };
        let mut foot = area.y + area.h;
        for (state, share) in profile.states.iter().zip(&shares) {
            let h = share.clamp(0.0, 1.0) * area.h;
            if state == "off" || h < 0.2 {
                continue;
            }
            let look = state_look(state, &profile.kind);
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
    canvas.line(
        &[
            (area.x, area.y + area.h),
            (area.x + area.w, area.y + area.h),
        ],
        Stroke::solid(INK, 1.0),
    )?;
    let (busy, spread) = busy_texts(profile);
    let x = area.x + area.w + 12.0;
    canvas.text((x, middle - 7.0), &busy, NAME, INK, Align::Left)?;
    canvas.text((x, middle + 9.0), &spread, SMALL, SOFT_INK, Align::Left)
}

/// Busy share: the mean, and the spread between lunches.
fn busy_texts(profile: &Profile) -> (String, String) {
    let Some(busy) = &profile.busy else {
        return (String::new(), String::new());
    };
    let [mean, p05, p95] = row_texts([busy.mean, busy.p05, busy.p95], &busy.unit, Units::Metric);
    let sign = if busy.unit == "share" && mean != DASH {
        " %"
    } else {
        ""
    };
    let word = if profile.kind == "worker" {
        "busy"
    } else {
        "running"
    };
    let spread = if p05 == DASH || p95 == DASH {
        String::new()
    } else {
        format!("({p05} to {p95}{sign})")
    };
    (format!("{mean}{sign} {word}"), spread)
}

/// One sentence on a row: the busy share and the states with most minutes.
fn row_words(profile: &Profile) -> String {
    let (busy, spread) = busy_texts(profile);
    let mut states: Vec<(&String, f64)> = profile
        .states
        .iter()
        .zip(profile.minutes.iter().copied())
        .filter(|(state, minutes)| *state != "off" && *minutes >= 0.5)
        .collect();
    states.sort_by(|a, b| b.1.total_cmp(&a.1));
    let list: Vec<String> = states
        .iter()
        .map(|(state, minutes)| {
            format!(
                "{} {minutes:.0} min",
                state_look(state, &profile.kind).words
            )
        })
        .collect();
    let list = if list.is_empty() {
        "no minutes".to_owned()
    } else {
        list.join(", ")
    };
    let busy = if busy.is_empty() {
        String::new()
    } else {
        format!("{busy} {spread}; ")
    };
    format!("{}: {busy}{list}.", profile.name)
}
