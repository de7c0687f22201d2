//! Times, lengths and lists in words.

use scullery_engine::line::{Line, Post};
use scullery_engine::time::{SimTime, Span};

use crate::defaults::rounded;
use crate::plan::{Plan, Units};

pub(crate) const FOOT_M: f64 = 0.3048;

/// Clock time without seconds where there are none; the next day is named.
pub(crate) fn clock(at: SimTime) -> String {
    let day = Span::from_min(24.0 * 60.0);
    let next_day = at >= SimTime::MIDNIGHT + day && at < SimTime::MIDNIGHT + day + day;
    let shown = if next_day {
        SimTime::MIDNIGHT + at.since(SimTime::MIDNIGHT + day)
    } else {
        at
    };
    let text = shown.to_string();
    let text = text.strip_suffix(":00").unwrap_or(&text);
    if next_day {
        format!("{text} next day")
    } else {
        text.to_owned()
    }
}

/// A length, in the scenario's units.
pub(crate) fn length(plan: &Plan, mm: u32) -> String {
    match plan.heading.units {
        Units::Metric => format!("{} m", rounded(f64::from(mm) / 1000.0)),
        Units::Us => format!("{} ft", rounded(f64::from(mm) / 1000.0 / FOOT_M)),
    }
}

pub(crate) fn speed(plan: &Plan, mm_min: u32) -> String {
    format!("{} a minute", length(plan, mm_min))
}

/// Water, in the plan's units.
pub(crate) fn water(plan: &Plan, litres: f64) -> String {
    match plan.heading.units {
        Units::Metric => format!("{} l", rounded(litres)),
        Units::Us => format!("{} gal", rounded(litres / 3.785_411_784)),
    }
}

pub(crate) fn span(span: Span) -> String {
    if span.s() < 120.0 {
        format!("{} s", rounded(span.s()))
    } else {
        format!("{} min", rounded(span.min()))
    }
}

/// `1 tier`, `5 tiers`.
pub(crate) fn counted(many: u32, what: &str) -> String {
    if many == 1 {
        format!("1 {what}")
    } else {
        format!("{many} {what}s")
    }
}

pub(crate) fn people(many: u32) -> String {
    if many == 1 {
        "1 person".to_owned()
    } else {
        format!("{many} people")
    }
}

pub(crate) fn listed(items: &[String]) -> String {
    match items {
        [] => "nothing".to_owned(),
        [only] => only.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}

/// A post as people say it: `scrapping main`, `loading dish`, `bins`.
pub(crate) fn post(line: &Line, post: Post) -> String {
    match post {
        Post::Running => "taking carts to the servery".to_owned(),
        other => {
            let name = crate::compile::post_name(line, other);
            match name.strip_prefix("cart_wash.") {
                Some(carts) => format!("washing carts {carts}"),
                None => name
                    .strip_prefix("duty.")
                    .unwrap_or(&name)
                    .replace('.', " "),
            }
        }
    }
}

/// A share as people say it: per cent.
pub(crate) fn percent(share: f64) -> String {
    format!("{} %", rounded(share * 100.0))
}

/// An amount with the user's own sign; letters stand apart from the figures.
pub(crate) fn money(plan: &Plan, amount: f64) -> String {
    let sign = &plan.heading.currency;
    let apart = if sign.ends_with(char::is_alphabetic) {
        " "
    } else {
        ""
    };
    format!("{sign}{apart}{}", rounded(amount))
}
