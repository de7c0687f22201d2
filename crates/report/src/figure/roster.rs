//! Who is on when: one bar a member of the crew, on the clock axis of the picture it stands in.

use scullery_study::planned::Member;

use crate::canvas::{Align, Area, Canvas, Stroke};
use crate::clock::{Window, clock_text};
use crate::error::Fault;
use crate::lettering::shorten;
use crate::palette::{BLUE, Colour, Hatch, INK, PAPER, SOFT_INK};
use crate::panel::SMALL;
use crate::table::Table;

/// Fill of a shift; letters on it contrast above 7 to 1.
const SHIFT: Colour = Colour(0xD4, 0xE6, 0xF1);

/// Height of one row, in points.
pub(super) const ROW: f64 = 22.0;

/// Draws the rows; `area` is the box of the first row and all under it share its width.
pub(super) fn roster(
    canvas: &mut Canvas<'_>,
    crew: &[Member],
    area: Area,
    window: Window,
) -> Result<(), Fault> {
    let x = |minute: f64| {
        let share = (minute - f64::from(window.from)) / f64::from(window.minutes());
        area.x + share.clamp(0.0, 1.0) * area.w
    };
    for (index, member) in crew.iter().enumerate() {
        let y = area.y + index as f64 * ROW;
        canvas.text(
            (area.x - 6.0, y + 14.5),
            &shorten(&member.name, SMALL, area.x - 8.0),
            SMALL,
            INK,
            Align::Right,
        )?;
        let post = member.posts.first().map_or("", |call| call.post.as_str());
        for [from, to] in &member.shifts {
            let bar = Area {
                x: x(*from),
                y: y + 3.0,
                w: (x(*to) - x(*from)).max(0.0),
                h: ROW - 6.0,
            };
            if bar.w < 1.0 {
                continue;
            }
            canvas.fill(bar, SHIFT)?;
            canvas.outline(bar, Stroke::solid(BLUE, 1.0))?;
            let first_break = member
                .breaks
                .iter()
                .map(|[due, _]| x(*due))
                .filter(|at| *at > bar.x)
                .fold(bar.x + bar.w, f64::min);
            let room = first_break - bar.x - 10.0;
            if room > 30.0 {
                let words = shorten(post, SMALL - 1.0, room);
                canvas.text(
                    (bar.x + 5.0, y + 14.5),
                    &words,
                    SMALL - 1.0,
                    INK,
                    Align::Left,
                )?;
            }
        }
        for [due, lasts] in &member.breaks {
            let gap = Area {
                x: x(*due),
                y: y + 3.0,
                w: (x(due + lasts) - x(*due)).max(0.0),
                h: ROW - 6.0,
            };
            if gap.w < 0.5 {
                continue;
            }
            canvas.fill_hatched(gap, PAPER, Hatch::Falling, SOFT_INK)?;
            canvas.outline(gap, Stroke::solid(BLUE, 1.0))?;
        }
    }
    Ok(())
}

/// The roster as a table.
pub(crate) fn roster_table(crew: &[Member]) -> Table {
    let mut table = Table::new(
        "The roster: shifts, breaks (when due), and posts read from the top",
        &["Who", "Shift", "Break", "Posts"],
    );
    table.rows = crew
        .iter()
        .map(|member| {
            let shifts = member
                .shifts
                .iter()
                .map(|[from, to]| format!("{} to {}", clock_text(*from), clock_text(*to)));
            let breaks = member
                .breaks
                .iter()
                .map(|[due, lasts]| format!("{}, {lasts:.0} min", clock_text(*due)));
            let posts = member.posts.iter().map(|call| {
                if call.step_in > 1 {
                    format!(
                        "{} (steps in at {} waiting, goes back at {})",
                        call.post, call.step_in, call.leave_at
                    )
                } else {
                    call.post.clone()
                }
            });
            vec![
                member.name.clone(),
                shifts.collect::<Vec<_>>().join("; "),
                none_if_empty(breaks.collect::<Vec<_>>().join("; ")),
                posts.collect::<Vec<_>>().join(", then "),
            ]
        })
        .collect();
    table
}

fn none_if_empty(text: String) -> String {
    if text.is_empty() {
        "none".to_owned()
    } else {
        text
    }
}
