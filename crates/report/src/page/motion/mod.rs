//! The lunch in motion: a plan of the line with what stands at each place, to be played from the record of single lunches.
//!
//! The strip is drawn whole by [`motion`] at the worst second of the first film, so that it is a picture also where no
//! script runs; the script then only moves what is drawn.

mod code;
mod drawing;
mod plan;
mod quarters;

use maud::{Markup, PreEscaped, html};
use scullery_study::film::Film;

use self::plan::Plan;
use super::parts;
use crate::error::Fault;
use crate::lettering::printable;
use crate::number::Units;

/// What moves the strip.
pub(super) const SCRIPT: &str = include_str!("motion.js");

/// Speeds offered: seconds of the lunch in one second, and their words.
const SPEEDS: [(u32, &str); 5] = [
    (10, "10 s"),
    (30, "30 s"),
    (60, "1 min"),
    (180, "3 min"),
    (600, "10 min"),
];

/// The chapter's body; `None` without films.
///
/// # Errors
/// When the data cannot be written.
pub(super) fn motion(films: &[Film], units: Units) -> Result<Option<Markup>, Fault> {
    let Some(plan) = Plan::of(films, units) else {
        return Ok(None);
    };
    let data = serde_json::to_string(&code::data(films, &plan))
        .map_err(|why| Fault::Data(format!("the lunch in motion: {why}")))?
        // Nothing in it may end the element it stands in.
        .replace('<', "\\u003c");
    let first = plan.first;
    let steps = [
        (-60, "Back 1 min"),
        (-5, "Back 5 s"),
        (5, "On 5 s"),
        (60, "On 1 min"),
    ];
    Ok(Some(html! {
        div #motion-stage data-repeats=(films.iter().map(|film| film.repeat.to_string()).collect::<Vec<_>>().join(" ")) {
            p {
                "A plan of the line, not to scale: the soiled side above from left to right, the clean side below from \
                 right to left. Each mark is one person, tray or rack that stands there at the second shown, each round \
                 letter one member of the crew; where somebody is held up, the place that lacks room is framed."
            }
            div.controls #motion-controls hidden {
                @if films.len() > 1 {
                    fieldset {
                        legend { "Lunch" }
                        @for (number, film) in films.iter().enumerate() {
                            label {
                                input type="radio" name="motion-film" value=(number) checked[number == 0];
                                " " (printable(&film.words))
                            }
                        }
                    }
                }
                div.buttons {
                    button type="button" #motion-play { "Play" }
                    @for (seconds, words) in steps {
                        button type="button" data-step=(seconds) { (words) }
                    }
                    button type="button" #motion-worst { "Worst minute" }
                    label for="motion-speed" { "A second shows " }
                    select #motion-speed {
                        @for (speed, words) in SPEEDS { option value=(speed) selected[speed == 60] { (words) } }
                    }
                    button type="button" #motion-print { "Print this frame" }
                }
                div.slider {
                    label for="motion-time" { "Time" }
                    input type="range" #motion-time min=(first.from_s) max=(first.to_s) step="1" value=(first.worst_s);
                }
                p #motion-still hidden { "This device asks for less motion: playing shows one still a second, a minute apart." }
            }
            noscript {
                p { "Without scripts this is one still: the worst moment of the first lunch. The table below has both lunches by quarter hour." }
            }
            div.picture.strip-plan tabindex="0" role="group" aria-label="Picture: the line at one moment" {
                (drawing::strip(&plan, first.worst_s))
            }
            p #motion-words aria-live="polite" { (printable(&quarters::moment(first, first.worst_s))) }
            details {
                summary { "Numbers of this picture: each quarter hour of each lunch" }
                @for film in films { (parts::table(&quarters::table(film), &[])) }
            }
            script type="application/json" #motion-data { (PreEscaped(data)) }
        }
    }))
}
