//! A roster as bars on the clock, over the people needed and at work.

use scullery_study::staffing::found::Roster;

use crate::canvas::{Align, Area, Stroke, draw};
use crate::clock::{Window, hour_minute};
use crate::error::Fault;
use crate::figure::{Figure, WIDTH};
use crate::lettering::shorten;
use crate::number::fixed;
use crate::palette::{BLUE, Dash, GRID, Hatch, INK, PAPER, SOFT_INK, VERMILLION};
use crate::panel::{Panel, SMALL};
use crate::svg::Naming;
use crate::table::Table;

const ROW: f64 = 24.0;
const LEFT: f64 = 150.0;

/// The picture.
pub(super) fn roster_figure(roster: &Roster) -> Result<Figure, Fault> {
    let quarters = roster.need.len().max(1) as u32;
    let window = Window {
        from: roster.from_min,
        to: roster.from_min + 15 * quarters,
    };
    let most = roster
        .need
        .iter()
        .chain(&roster.at_work)
        .copied()
        .max()
        .unwrap_or(1);
    let bars = 20.0 + ROW * roster.shifts.len() as f64;
    let area = Area {
        x: LEFT,
        y: bars + 40.0,
        w: WIDTH - LEFT - 20.0,
        h: 150.0,
    };
    let title = "The roster";
    let desc = format!(
        "{} shifts, {} paid hours. {}",
        roster.shifts.len(),
        fixed(roster.paid_hours, 2),
        roster
            .shifts
            .iter()
            .map(|s| format!("{} {}.", s.name, spans(&s.spans_min)))
            .collect::<Vec<_>>()
            .join(" ")
    );
    let naming = Naming {
        id: "roster",
        title,
        desc: &desc,
    };
    let svg = draw(&naming, WIDTH, area.y + area.h + 56.0, |canvas| {
        let panel = Panel::new(area, window, f64::from(most));
        let x = |minute: u32| panel.x(f64::from(minute));
        for tick in window.ticks(area.w) {
            canvas.line(
                &[(x(tick), 12.0), (x(tick), bars)],
                Stroke::solid(GRID, 1.0),
            )?;
        }
        for (number, shift) in roster.shifts.iter().enumerate() {
            let y = 16.0 + ROW * number as f64;
            let name = shorten(&shift.name, SMALL, LEFT - 12.0);
            canvas.text((2.0, y + 14.0), &name, SMALL, INK, Align::Left)?;
            for [from, to] in &shift.spans_min {
                let bar = Area {
                    x: x(*from),
                    y: y + 2.0,
                    w: x(*to) - x(*from),
                    h: ROW - 8.0,
                };
                canvas.fill(bar, BLUE)?;
            }
            for [from, to] in &shift.breaks_min {
                let bar = Area {
                    x: x(*from),
                    y: y + 2.0,
                    w: x(*to) - x(*from),
                    h: ROW - 8.0,
                };
                canvas.fill_hatched(bar, PAPER, Hatch::Falling, SOFT_INK)?;
                canvas.outline(bar, Stroke::solid(SOFT_INK, 1.0))?;
            }
        }
        panel.frame(canvas, "people", &[])?;
        let steps = |values: &[u32]| -> Vec<(f64, f64)> {
            let ends = values.iter().enumerate().flat_map(|(q, &n)| {
                let from = roster.from_min + 15 * q as u32;
                [
                    (x(from), panel.y(f64::from(n))),
                    (x(from + 15), panel.y(f64::from(n))),
                ]
            });
            ends.collect()
        };
        canvas.line(
            &steps(&roster.at_work),
            Stroke {
                colour: BLUE,
                width: 2.0,
                dash: Dash::Solid,
            },
        )?;
        canvas.line(
            &steps(&roster.need),
            Stroke {
                colour: VERMILLION,
                width: 2.0,
                dash: Dash::Long,
            },
        )?;
        let y = area.y + area.h + 44.0;
        canvas.line(
            &[(LEFT, y - 4.0), (LEFT + 34.0, y - 4.0)],
            Stroke {
                colour: BLUE,
                width: 2.0,
                dash: Dash::Solid,
            },
        )?;
        canvas.text(
            (LEFT + 42.0, y),
            "at work (breaks left out)",
            SMALL,
            SOFT_INK,
            Align::Left,
        )?;
        canvas.line(
            &[(LEFT + 240.0, y - 4.0), (LEFT + 274.0, y - 4.0)],
            Stroke {
                colour: VERMILLION,
                width: 2.0,
                dash: Dash::Long,
            },
        )?;
        canvas.text((LEFT + 282.0, y), "needed", SMALL, SOFT_INK, Align::Left)?;
        canvas.fill_hatched(
            Area {
                x: LEFT + 380.0,
                y: y - 11.0,
                w: 24.0,
                h: 13.0,
            },
            PAPER,
            Hatch::Falling,
            SOFT_INK,
        )?;
        canvas.text(
            (LEFT + 412.0, y),
            "meal break",
            SMALL,
            SOFT_INK,
            Align::Left,
        )
    })?;
    Ok(Figure {
        id: "roster".into(),
        title: title.into(),
        caption: "Above, each shift with its meal break; below, the people needed by quarter hour and the people at work.".into(),
        desc,
        svg,
        tables: vec![shifts_table(roster)],
    })
}

/// Spans in words: `11:00 to 13:30 and 14:00 to 15:15`.
pub(super) fn spans(spans: &[[u32; 2]]) -> String {
    let each: Vec<String> = spans
        .iter()
        .map(|[from, to]| {
            format!(
                "{} to {}",
                hour_minute(u64::from(*from)),
                hour_minute(u64::from(*to))
            )
        })
        .collect();
    each.join(" and ")
}

/// The shifts as a table.
pub(super) fn shifts_table(roster: &Roster) -> Table {
    let mut table = Table::new(
        "The roster",
        &["Who", "Role", "At work", "Meal break", "Paid hours"],
    );
    table.rows = roster
        .shifts
        .iter()
        .map(|s| {
            let rest = if s.breaks_min.is_empty() {
                "none".to_owned()
            } else {
                spans(&s.breaks_min)
            };
            vec![
                s.name.clone(),
                s.role.clone(),
                spans(&s.spans_min),
                rest,
                fixed(s.paid_h, 2),
            ]
        })
        .collect();
    table
}
