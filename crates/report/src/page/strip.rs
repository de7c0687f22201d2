//! One measure as a strip: the spread between lunches as a broad pale bar, the error of the mean as a narrow dark one.

use maud::{Markup, html};
use scullery_study::summary::Measure;

const WIDTH: f64 = 180.0;
const HEIGHT: f64 = 26.0;
const EDGE: f64 = 8.0;

/// Where the marks of a strip stand, in points from its left end.
struct Marks {
    spread: Option<(f64, f64)>,
    middle: Option<f64>,
    error: Option<(f64, f64)>,
    mean: Option<f64>,
}

impl Marks {
    /// `None` when there is nothing to show or nothing differs.
    fn of(m: &Measure) -> Option<Marks> {
        let ends = m.ci95.map(|[low, high]| (low, high));
        let all: Vec<f64> = [
            m.p05,
            m.p50,
            m.p95,
            m.mean,
            ends.map(|e| e.0),
            ends.map(|e| e.1),
        ]
        .into_iter()
        .flatten()
        .filter(|v| v.is_finite())
        .collect();
        let low = all.iter().copied().reduce(f64::min)?;
        let high = all.iter().copied().reduce(f64::max)?;
        if high - low <= 0.0 {
            return None;
        }
        let at = |value: f64| EDGE + (WIDTH - 2.0 * EDGE) * (value - low) / (high - low);
        Some(Marks {
            spread: m.p05.zip(m.p95).map(|(a, b)| (at(a), at(b))),
            middle: m.p50.map(at),
            error: ends.map(|(a, b)| (at(a), at(b))),
            mean: m.mean.map(at),
        })
    }
}

/// The strip of a measure; its numbers stand in the same row, so readers by ear skip it.
pub(super) fn strip(measure: &Measure) -> Markup {
    match Marks::of(measure) {
        Some(marks) => drawing(&marks),
        None => html! { "-" },
    }
}

/// The key of the strips.
pub(super) fn strip_key() -> Markup {
    let spread = Marks {
        spread: Some((EDGE, WIDTH - EDGE)),
        middle: Some(95.0),
        error: None,
        mean: None,
    };
    let error = Marks {
        spread: None,
        middle: None,
        error: Some((70.0, 130.0)),
        mean: Some(100.0),
    };
    html! {
        ul.key {
            li { (drawing(&spread)) " spread: from the 5th to the 95th of 100 lunches, a tick at the middle one" }
            li { (drawing(&error)) " error: between these ends lies the mean (95 % sure), a diamond at our estimate" }
        }
    }
}

fn drawing(marks: &Marks) -> Markup {
    let short = |v: f64| format!("{v:.1}");
    let middle = HEIGHT / 2.0;
    html! {
        svg.strip width=(WIDTH) height=(HEIGHT) viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) aria-hidden="true" {
            @if let Some((from, to)) = marks.spread {
                rect.spread x=(short(from)) y=(short(middle - 9.0)) width=(short((to - from).max(1.0))) height="18" {}
            }
            @if let Some(at) = marks.middle {
                path.middle d=(format!("M{at:.1} {:.1}V{:.1}", middle - 9.0, middle + 9.0)) {}
            }
            @if let Some((from, to)) = marks.error {
                path.error d=(format!("M{from:.1} {:.1}V{:.1}M{from:.1} {middle}H{to:.1}M{to:.1} {:.1}V{:.1}",
                    middle - 4.0, middle + 4.0, middle - 4.0, middle + 4.0)) {}
            }
            @if let Some(at) = marks.mean {
                path.mean d=(format!("M{:.1} {middle}L{at:.1} {:.1}L{:.1} {middle}L{at:.1} {:.1}Z",
                    at - 4.0, middle - 5.0, at + 4.0, middle + 5.0)) {}
            }
        }
    }
}
