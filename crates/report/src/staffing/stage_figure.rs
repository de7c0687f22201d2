//! Stages against the clock: how much of each quarter hour a stage worked, was blocked or starved, and which held the line
//! back.

use scullery_study::bottleneck::why::WhyStudy;

use crate::canvas::{Align, Area, Canvas, Stroke, draw};
use crate::clock::{Window, hour_minute};
use crate::error::Fault;
use crate::figure::{Figure, WIDTH};
use crate::lettering::{shorten, width};
use crate::number::fixed;
use crate::palette::{BLUE, Colour, GRID, Hatch, INK, PALE, PAPER, SOFT_INK, VERMILLION};
use crate::panel::SMALL;
use crate::svg::Naming;
use crate::table::Table;

const LEFT: f64 = 170.0;
const ROW: f64 = 34.0;
const TOP: f64 = 10.0;
/// Room for half a clock time.
const RIGHT: f64 = 28.0;

/// Quarter hours that are drawn: to the last in which anything stirs, and one more.
fn shown(study: &WhyStudy) -> usize {
    let stirs = |quarter: &scullery_study::bottleneck::why::Quarter| {
        let stirring = quarter
            .shares
            .iter()
            .any(|[worked, blocked, _]| worked + blocked > 0.005);
        stirring || quarter.bottleneck.is_some()
    };
    let last = study.quarters.iter().rposition(stirs);
    last.map_or(study.quarters.len(), |last| {
        (last + 2).min(study.quarters.len())
    })
}

/// The picture; `None` without a quarter hour.
pub(super) fn stage_figure(study: &WhyStudy) -> Result<Option<Figure>, Fault> {
    let quarters = shown(study);
    if quarters == 0 || study.stages.is_empty() {
        return Ok(None);
    }
    let w = (WIDTH - LEFT - RIGHT) / quarters as f64;
    let bottom = TOP + ROW * study.stages.len() as f64;
    let title = "What each stage did, and which held the line back";
    let desc = format!("Stages along the flow against the clock. {}", study.answer);
    let naming = Naming {
        id: "stages",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, bottom + 62.0, |canvas| {
        for (stage, name) in study.stages.iter().enumerate() {
            let y = TOP + ROW * stage as f64;
            canvas.text(
                (2.0, y + 21.0),
                &shorten(name, SMALL, LEFT - 10.0),
                SMALL,
                INK,
                Align::Left,
            )?;
            for (q, quarter) in study.quarters[..quarters].iter().enumerate() {
                let area = Area {
                    x: LEFT + w * q as f64,
                    y: y + 3.0,
                    w,
                    h: ROW - 6.0,
                };
                bar(canvas, area, quarter.shares[stage])?;
            }
        }
        for (q, quarter) in study.quarters.iter().enumerate() {
            if let Some(stage) = quarter.bottleneck {
                let y = TOP + ROW * stage as f64;
                let area = Area {
                    x: LEFT + w * q as f64,
                    y: y + 1.0,
                    w,
                    h: ROW - 2.0,
                };
                canvas.outline(area, Stroke::solid(INK, 2.5))?;
            }
        }
        let window = Window {
            from: study.from_min,
            to: study.from_min + 15 * quarters as u32,
        };
        for tick in window.ticks(WIDTH - LEFT - RIGHT) {
            let x = LEFT + w * f64::from(tick - study.from_min) / 15.0;
            canvas.line(&[(x, bottom), (x, bottom + 5.0)], Stroke::solid(INK, 1.0))?;
            canvas.text(
                (x, bottom + 19.0),
                &hour_minute(u64::from(tick)),
                SMALL,
                SOFT_INK,
                Align::Middle,
            )?;
        }
        legend(canvas, bottom + 50.0)
    })?;
    Ok(Some(Figure {
        id: "stages".into(),
        title: title.into(),
        caption: "Each bar is a quarter hour: from below the share in which the stage worked (or lacked nothing but hands), was blocked \
                  because its work found no room, or starved. Outlined: the stage that held the line back in most lunches: of those \
                  that worked for more than 80 % of it and have a blocked stage right before or a starved one right behind, the \
                  least idle. Work that is held back by plan does not count while trays are broken down and find room."
            .into(),
        desc,
        svg,
        tables: vec![quarters_table(study)],
    }))
}

const BLOCKED: (Colour, Hatch, Colour) = (VERMILLION, Hatch::Crossed, PAPER);

fn bar(canvas: &mut Canvas<'_>, area: Area, [worked, blocked, _]: [f64; 3]) -> Result<(), Fault> {
    let inner = Area {
        x: area.x + 1.0,
        w: (area.w - 2.0).max(1.0),
        ..area
    };
    canvas.fill(inner, PALE)?;
    let part = |from: f64, share: f64| Area {
        y: inner.y + inner.h * (1.0 - from - share),
        h: inner.h * share,
        ..inner
    };
    if worked > 0.005 {
        canvas.fill(part(0.0, worked), BLUE)?;
    }
    if blocked > 0.005 {
        canvas.fill_hatched(part(worked, blocked), BLOCKED.0, BLOCKED.1, BLOCKED.2)?;
    }
    Ok(())
}

fn legend(canvas: &mut Canvas<'_>, y: f64) -> Result<(), Fault> {
    let mut x = LEFT;
    let mut say = |canvas: &mut Canvas<'_>,
                   text: &str,
                   paint: &dyn Fn(&mut Canvas<'_>, Area) -> Result<(), Fault>| {
        paint(
            canvas,
            Area {
                x,
                y: y - 11.0,
                w: 18.0,
                h: 13.0,
            },
        )?;
        canvas.text((x + 24.0, y), text, SMALL, SOFT_INK, Align::Left)?;
        x += 24.0 + width(text, SMALL) + 20.0;
        Ok::<(), Fault>(())
    };
    say(canvas, "worked", &|c, a| c.fill(a, BLUE))?;
    say(canvas, "blocked", &|c, a| {
        c.fill_hatched(a, BLOCKED.0, BLOCKED.1, BLOCKED.2)
    })?;
    say(canvas, "starved", &|c, a| {
        c.fill(a, PALE)?;
        c.outline(a, Stroke::solid(GRID, 1.0))
    })?;
    say(canvas, "held the line back", &|c, a| {
        c.outline(a, Stroke::solid(INK, 2.5))
    })
}

/// Quarter hours with the stage that held the line back and why its neighbours stood.
pub(super) fn quarters_table(study: &WhyStudy) -> Table {
    let mut head = vec![
        "Quarter hour".to_owned(),
        "Held the line back".to_owned(),
        "In lunches".to_owned(),
    ];
    head.extend(
        study
            .stages
            .iter()
            .map(|s| format!("{s}: worked / blocked / starved, %")),
    );
    Table {
        caption: format!("Mean shares over {} lunches", study.lunches),
        head,
        rows: study
            .quarters
            .iter()
            .enumerate()
            .map(|(q, quarter)| {
                let mut row = vec![
                    hour_minute(u64::from(study.from_min) + 15 * q as u64),
                    quarter
                        .bottleneck
                        .map_or("none".into(), |s| study.stages[s].clone()),
                    quarter.in_lunches.to_string(),
                ];
                row.extend(quarter.shares.iter().map(|[w, b, s]| {
                    format!(
                        "{} / {} / {}",
                        fixed(w * 100.0, 0),
                        fixed(b * 100.0, 0),
                        fixed(s * 100.0, 0)
                    )
                }));
                row
            })
            .collect(),
    }
}
