//! What was seen at a lunch against the lunches simulated like it, on the clock axis, with what happened marked.

use scullery_study::replay::followed::{Followed, Mark};
use scullery_study::replay::replayed::Replayed;

use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::clock::{Window, hour_minute};
use crate::error::Fault;
use crate::figure::legend::{Entry, LINE, legend, lines, spot};
use crate::figure::{Figure, WIDTH};
use crate::lettering::lines as broken;
use crate::number::fixed;
use crate::palette::{BLUE, Dash, GRID, Hatch, INK, PAPER, SOFT_INK, VERMILLION};
use crate::panel::{NAME, Panel, SMALL, limit_stroke};
use crate::svg::Naming;
use crate::table::Table;

const LEFT: f64 = 56.0;
const RIGHT: f64 = 24.0;
const TALL: f64 = 130.0;
const OVER: f64 = 40.0;
const UNDER: f64 = 30.0;

/// The picture; `None` where nothing was followed.
pub(super) fn seen_picture(of: &Replayed) -> Result<Option<Figure>, Fault> {
    let Some(window) = window(&of.followed) else {
        return Ok(None);
    };
    let key = key(of);
    let head = lines(&key, WIDTH - 80.0) as f64 * LINE + 4.0;
    let told = told(&of.marks);
    let foot = head + of.followed.len() as f64 * (OVER + TALL + UNDER) + 8.0;
    let title = if of.seen.is_empty() {
        "The lunch minute by minute"
    } else {
        "What was seen, and lunches like it"
    };
    let desc = desc(of, window);
    let naming = Naming {
        id: "seen",
        title,
        desc: &desc,
    };
    let tall = foot + told.len() as f64 * 17.0 + 4.0;
    let svg = draw(&naming, WIDTH, tall, |canvas| {
        legend(canvas, (LEFT - 4.0, 2.0), WIDTH - 80.0, &key)?;
        for (number, it) in of.followed.iter().enumerate() {
            let area = Area {
                x: LEFT,
                y: head + number as f64 * (OVER + TALL + UNDER) + OVER,
                w: WIDTH - LEFT - RIGHT,
                h: TALL,
            };
            panel(canvas, of, it, window, area)?;
        }
        for (number, line) in told.iter().enumerate() {
            let y = foot + 12.0 + number as f64 * 17.0;
            canvas.text((LEFT, y), line, SMALL, INK, Align::Left)?;
        }
        Ok(())
    })?;
    let lunches = of.followed.first().map_or(0, |it| it.lunches);
    Ok(Some(Figure {
        id: "seen".to_owned(),
        title: title.to_owned(),
        caption: format!(
            "Averages of each minute. Line: the middle one of {lunches} lunches with her arrivals. Shaded: from the 5th to the \
             95th of 100, minute by minute. Broken line: her arrivals with every length of work at its mean. Each diamond is \
             one thing seen, with a stroke for how far it may be off; a hollow one lies outside what was simulated. \
             One in ten may; where many do, the scenario is not the room as it was."
        ),
        desc,
        svg,
        tables: vec![quarters(of, window)],
    }))
}

fn hers_stroke() -> Stroke {
    Stroke {
        colour: INK,
        width: 1.25,
        dash: Dash::Short,
    }
}

fn key(of: &Replayed) -> Vec<Entry<'static>> {
    let mut key = vec![
        Entry::Curve(
            Stroke::solid(BLUE, 2.0),
            "lunches like hers: middle one, shaded 5th to 95th of 100",
        ),
        Entry::Line(hers_stroke(), "her lunch without luck of work"),
    ];
    if of.seen.iter().any(|it| it.inside) {
        key.push(Entry::Spot(INK, true, "seen"));
    }
    if of.seen.iter().any(|it| !it.inside) {
        key.push(Entry::Spot(VERMILLION, false, "seen, outside the band"));
    }
    if of.marks.iter().any(|it| it.from_min.is_some()) {
        key.push(Entry::State(PAPER, Hatch::Rising, GRID, "what happened"));
    }
    if of.followed.iter().any(|it| limit(it).is_some()) {
        key.push(Entry::Line(limit_stroke(), "room there is"));
    }
    if !of.heading.bells_min.is_empty() {
        key.push(Entry::Bell);
    }
    key
}

/// A, B, C, ... beside the clock, and what each stands for.
fn letter(number: usize) -> String {
    let of = |n: usize| char::from(b'A' + (n % 26) as u8);
    match number / 26 {
        0 => of(number).to_string(),
        more => format!("{}{}", of(more - 1), of(number)),
    }
}

fn told(marks: &[Mark]) -> Vec<String> {
    marks
        .iter()
        .enumerate()
        .flat_map(|(number, mark)| {
            let when = if mark.from_min.is_some() {
                ""
            } else {
                " (all day)"
            };
            broken(
                &format!("{}: {}{when}", letter(number), mark.words),
                SMALL,
                WIDTH - LEFT - RIGHT,
            )
        })
        .collect()
}

/// The part of the clock in which anything is there, in whole quarter hours.
fn window(followed: &[Followed]) -> Option<Window> {
    let from = followed.iter().map(|it| it.from_min).min()?;
    let stirs = |level: &f64| *level > 0.05;
    let last = followed
        .iter()
        .filter_map(|it| {
            let ends = [&it.p95, &it.hers];
            // A stock never comes to nought; its end is where it stays as it is.
            let stays = |values: &Vec<f64>| {
                let end = values.last().copied().unwrap_or(0.0);
                values.iter().rposition(|level| (level - end).abs() > 0.05)
            };
            ends.iter()
                .filter_map(|values| stays(values).or_else(|| values.iter().rposition(stirs)))
                .max()
                .map(|last| it.from_min + last as u32)
        })
        .max()
        .unwrap_or(from);
    Some(Window {
        from: from - from % 15,
        to: (last + 5).next_multiple_of(15).max(from - from % 15 + 15),
    })
}

/// What is on the axis and cannot be more.
fn limit(of: &Followed) -> Option<f64> {
    let most = of.p95.iter().chain(&of.hers).copied().fold(0.0, f64::max);
    of.room.map(f64::from).filter(|room| *room <= most * 3.0)
}

/// One value a minute from the window's first minute on.
fn from_window(values: &[f64], of: &Followed, window: Window) -> Vec<f64> {
    let before = of.from_min.saturating_sub(window.from) as usize;
    std::iter::repeat_n(values.first().copied().unwrap_or(0.0), before)
        .chain(values.iter().copied())
        .collect()
}

fn panel(
    canvas: &mut Canvas<'_>,
    of: &Replayed,
    it: &Followed,
    window: Window,
    area: Area,
) -> Result<(), Fault> {
    let seen = || it.seen.iter().filter_map(|number| of.seen.get(*number));
    let highest = it
        .p95
        .iter()
        .chain(&it.hers)
        .copied()
        .chain(seen().map(|one| one.seen + one.off_by))
        .fold(1.0, f64::max);
    let panel = Panel::new(area, window, highest.max(limit(it).unwrap_or(0.0) * 1.08));
    canvas.bold(
        (area.x - 4.0, area.y - 20.0),
        &capital(&it.what),
        NAME,
        INK,
        Align::Left,
    )?;
    for (number, mark) in of.marks.iter().enumerate() {
        let Some(from) = mark.from_min else { continue };
        let (from, to) = (panel.x(from), panel.x(mark.until_min.unwrap_or(from)));
        let span = Area {
            x: from,
            y: area.y,
            w: (to - from).max(2.0),
            h: area.h,
        };
        // Neighbours are hatched the other way, so that it shows where one ends and the next begins.
        let hatch = if number % 2 == 0 {
            Hatch::Rising
        } else {
            Hatch::Falling
        };
        canvas.fill_hatched(span, PAPER, hatch, GRID)?;
        canvas.text(
            (from, area.y - 5.0),
            &letter(number),
            SMALL,
            INK,
            Align::Left,
        )?;
    }
    panel.frame(canvas, "", &of.heading.bells_min)?;
    let placed = |values: &[f64]| from_window(values, it, window);
    panel.band(canvas, &placed(&it.p05), &placed(&it.p95), BLUE)?;
    panel.curve(canvas, &placed(&it.p50), Stroke::solid(BLUE, 2.0))?;
    panel.curve(canvas, &placed(&it.hers), hers_stroke())?;
    if let Some(room) = limit(it) {
        panel.level(canvas, room, "full", limit_stroke())?;
    }
    for one in seen() {
        let x = panel.x(one.at_min + 0.5);
        let colour = if one.inside { INK } else { VERMILLION };
        let (low, high) = ((one.seen - one.off_by).max(0.0), one.seen + one.off_by);
        canvas.line(
            &[(x, panel.y(low)), (x, panel.y(high))],
            Stroke::solid(colour, 1.5),
        )?;
        spot(canvas, (x, panel.y(one.seen)), colour, one.inside)?;
    }
    let letters = if seen().next().is_none() && !of.seen.is_empty() {
        "not looked at"
    } else {
        ""
    };
    canvas.text(
        (area.x + area.w, area.y - 20.0),
        letters,
        SMALL,
        SOFT_INK,
        Align::Right,
    )
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn desc(of: &Replayed, window: Window) -> String {
    let mut all = format!(
        "From {} to {}.",
        hour_minute(u64::from(window.from)),
        hour_minute(u64::from(window.to))
    );
    for it in &of.followed {
        let most = it
            .p50
            .iter()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(b.1).then(b.0.cmp(&a.0)));
        if let Some((minute, level)) = most {
            all.push_str(&format!(
                " {}: the middle lunch is highest at {} with {} (5th to 95th of 100: {} to {}).",
                capital(&it.what),
                hour_minute(u64::from(it.from_min) + minute as u64),
                fixed(*level, 0),
                fixed(it.p05[minute], 0),
                fixed(it.p95[minute], 0),
            ));
        }
        let seen = it.seen.iter().filter_map(|number| of.seen.get(*number));
        let out = seen.clone().filter(|one| !one.inside).count();
        let many = seen.count();
        if many > 0 {
            all.push_str(&format!(
                " Seen {many} times, {} of them within what was simulated.",
                many - out
            ));
        }
    }
    for mark in &of.marks {
        all.push_str(&format!(" {}.", capital(&mark.words)));
    }
    all
}

/// Levels at the beginning of each quarter hour.
fn quarters(of: &Replayed, window: Window) -> Table {
    let mut table = Table {
        caption: "The average of the minute at which each quarter hour begins: the middle lunch, in brackets the 5th to the \
                  95th of 100, then her lunch without luck of work."
            .to_owned(),
        head: std::iter::once("Clock".to_owned())
            .chain(of.followed.iter().map(|it| capital(&it.what)))
            .collect(),
        rows: Vec::new(),
    };
    for minute in (window.from..window.to).step_by(15) {
        let mut row = vec![hour_minute(u64::from(minute))];
        for it in &of.followed {
            let at = minute.saturating_sub(it.from_min) as usize;
            let value = |values: &[f64]| {
                let level = values.get(at).or(values.last());
                level.map_or(crate::number::DASH.to_owned(), |level| fixed(*level, 1))
            };
            row.push(format!(
                "{} ({} to {}); {}",
                value(&it.p50),
                value(&it.p05),
                value(&it.p95),
                value(&it.hers)
            ));
        }
        table.rows.push(row);
    }
    table
}
