//! What machines and belts did in single lunches, to the second: one bar a machine, a piece of it a state.

use scullery_study::film::{Film, FilmActor, state_word};

use super::legend::{Entry, LINE, legend, lines};
use super::{Figure, Scene, WIDTH};
use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::clock::clock_text;
use crate::error::Fault;
use crate::lettering::shorten;
use crate::number::fixed;
use crate::palette::{INK, Look, SOFT_INK, state_look};
use crate::panel::{NAME, SMALL, bell_marks, clock_axis};
use crate::svg::Naming;
use crate::table::Table;

/// Bars in one lunch at most.
const MOST: usize = 8;
const BAR: f64 = 24.0;
const GAP: f64 = 10.0;

/// A stretch of one state: first and last second, and the state's word.
type Stretch = (u32, u32, &'static str);

fn stretches(actor: &FilmActor, film: &Film) -> Vec<Stretch> {
    let mut list: Vec<Stretch> = Vec::new();
    let mut now = (film.from_s, actor.at_start.state);
    let ends = actor
        .changes
        .iter()
        .map(|(at, doing)| (*at, doing.state))
        .chain([(film.to_s, u8::MAX)]);
    for (at, next) in ends {
        if next != now.1 {
            if at > now.0 {
                list.push((now.0, at, state_word(now.1)));
            }
            now = (at, next);
        }
    }
    list
}

/// The picture, or `None` without a film or a machine.
pub(super) fn timeline(scene: &Scene<'_>, films: &[Film]) -> Result<Option<Figure>, Fault> {
    let rows: Vec<(&Film, &FilmActor)> = films
        .iter()
        .flat_map(|film| {
            let machines = film.actors.iter().filter(|actor| actor.kind != "worker");
            machines.take(MOST).map(move |actor| (film, actor))
        })
        .collect();
    if rows.is_empty() {
        return Ok(None);
    }
    let mut looks: Vec<Look> = Vec::new();
    for (film, actor) in &rows {
        for (_, _, state) in stretches(actor, film) {
            let look = state_look(state, &actor.kind);
            if state != "off" && !looks.contains(&look) {
                looks.push(look);
            }
        }
    }
    let mut key: Vec<Entry<'_>> = looks
        .iter()
        .map(|look| Entry::State(look.fill, look.hatch, look.line, look.words))
        .collect();
    if !scene.bells().is_empty() {
        key.push(Entry::Bell);
    }
    let head = lines(&key, WIDTH - 32.0) as f64 * LINE + 12.0;
    let of_film = |film: &Film| {
        let machines = film.actors.iter().filter(|actor| actor.kind != "worker");
        machines.count().min(MOST)
    };
    let height: f64 = films
        .iter()
        .map(|film| 30.0 + of_film(film) as f64 * (BAR + GAP))
        .sum();
    let area = Area {
        x: 136.0,
        y: head,
        w: WIDTH - 136.0 - 20.0,
        h: height,
    };
    let desc = rows
        .iter()
        .map(|(film, actor)| row_words(film, actor))
        .collect::<Vec<_>>()
        .join(" ");
    let title = "Machines and belts in single lunches";
    let naming = Naming {
        id: "timeline",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, head + height + 28.0, |canvas| {
        legend(canvas, (16.0, 2.0), WIDTH - 32.0, &key)?;
        clock_axis(canvas, area, scene.window)?;
        let mut y = head;
        for film in films {
            let name = shorten(&film.words, NAME, WIDTH - 24.0);
            canvas.bold((12.0, y + 20.0), &name, NAME, INK, Align::Left)?;
            y += 30.0;
            for (_, actor) in rows.iter().filter(|(of, _)| of.repeat == film.repeat) {
                bar(canvas, scene, film, actor, Area { y, h: BAR, ..area })?;
                y += BAR + GAP;
            }
        }
        bell_marks(canvas, area, scene.window, scene.bells())
    })?;
    Ok(Some(Figure {
        id: "timeline".into(),
        title: title.into(),
        caption: "Each bar is one machine or belt in one lunch, to the second; the empty rest is off. The lunches are \
                  those of the moving picture."
            .into(),
        desc,
        svg,
        tables: vec![table(&rows)],
    }))
}

fn bar(
    canvas: &mut Canvas<'_>,
    scene: &Scene<'_>,
    film: &Film,
    actor: &FilmActor,
    area: Area,
) -> Result<(), Fault> {
    canvas.text(
        (area.x - 12.0, area.y + area.h / 2.0 + 4.5),
        &shorten(&actor.name, SMALL, area.x - 20.0),
        SMALL,
        INK,
        Align::Right,
    )?;
    let x = |second: u32| {
        let minute = f64::from(second) / 60.0;
        let share = (minute - f64::from(scene.window.from)) / f64::from(scene.window.minutes());
        area.x + share.clamp(0.0, 1.0) * area.w
    };
    for (from, to, state) in joined(stretches(actor, film), area.w, scene) {
        let w = x(to) - x(from);
        if state == "off" || w <= 0.0 {
            continue;
        }
        let look = state_look(state, &actor.kind);
        let part = Area {
            x: x(from),
            w,
            ..area
        };
        canvas.fill_hatched(part, look.fill, look.hatch, look.line)?;
    }
    canvas.outline(area, Stroke::solid(SOFT_INK, 0.5))
}

/// Stretches too short to see joined into slices, each shown as what took most of it.
fn joined(stretches: Vec<Stretch>, width: f64, scene: &Scene<'_>) -> Vec<Stretch> {
    let slice = (f64::from(scene.window.minutes()) * 60.0 / width * 1.5)
        .ceil()
        .max(1.0) as u32;
    let (Some(first), Some(last)) = (stretches.first(), stretches.last()) else {
        return stretches;
    };
    let (from, to) = (first.0, last.1);
    let mut list: Vec<Stretch> = Vec::new();
    let mut next = 0;
    for begin in (from..to).step_by(slice as usize) {
        let end = (begin + slice).min(to);
        while stretches.get(next).is_some_and(|s| s.1 <= begin) {
            next += 1;
        }
        let mut sums: Vec<(&'static str, u32)> = Vec::new();
        for (a, b, state) in stretches[next..].iter().take_while(|s| s.0 < end) {
            let within = (*b).min(end) - (*a).max(begin);
            match sums.iter_mut().find(|(known, _)| known == state) {
                Some((_, sum)) => *sum += within,
                None => sums.push((state, within)),
            }
        }
        let Some((state, _)) = sums.into_iter().max_by_key(|(_, sum)| *sum) else {
            continue;
        };
        match list.last_mut() {
            Some((_, to, last)) if *last == state => *to = end,
            _ => list.push((begin, end, state)),
        }
    }
    list
}

/// Minutes by state, in order of first appearance.
fn minutes(film: &Film, actor: &FilmActor) -> Vec<(&'static str, f64)> {
    let mut sums: Vec<(&'static str, f64)> = Vec::new();
    for (from, to, state) in stretches(actor, film) {
        let lasted = f64::from(to - from) / 60.0;
        match sums.iter_mut().find(|(known, _)| *known == state) {
            Some((_, sum)) => *sum += lasted,
            None => sums.push((state, lasted)),
        }
    }
    sums
}

fn row_words(film: &Film, actor: &FilmActor) -> String {
    let states: Vec<String> = minutes(film, actor)
        .into_iter()
        .filter(|(state, _)| *state != "off")
        .map(|(state, sum)| format!("{} {sum:.0} min", state_look(state, &actor.kind).words))
        .collect();
    format!("{}, {}: {}.", film.words, actor.name, states.join(", "))
}

fn table(rows: &[(&Film, &FilmActor)]) -> Table {
    let mut table = Table::new(
        "Minutes in each state, and when each is first entered",
        &["Lunch", "Machine or belt", "State", "Minutes", "First at"],
    );
    for (film, actor) in rows {
        let stretches = stretches(actor, film);
        for (state, sum) in minutes(film, actor) {
            let first = stretches.iter().find(|(_, _, known)| *known == state);
            table.rows.push(vec![
                film.words.clone(),
                actor.name.clone(),
                state_look(state, &actor.kind).words.to_owned(),
                fixed(sum, 1),
                first.map_or_else(String::new, |(from, ..)| clock_text(f64::from(from / 60))),
            ]);
        }
    }
    table
}
