//! The balance between posts that break trays down in series.

use scullery_engine::line::{Line, TraysFrom};

use super::figures::{Figure, figure};
use super::work::in_series;
use crate::defaults::rounded;
use crate::describe::words::listed;
use crate::plan::Plan;

/// Posts where a row begins: to which nobody passes trays on.
fn first(line: &Line) -> Vec<usize> {
    let fed = |from: &TraysFrom| {
        let mut posts = line
            .scrapping
            .iter()
            .filter_map(|post| post.passes_on.as_ref());
        posts.any(|on| *from == TraysFrom::Table(on.to))
    };
    let posts = 0..line.scrapping.len();
    posts
        .filter(|post| !line.scrapping[*post].from.iter().any(fed))
        .collect()
}

/// The posts, when every tray goes through the same ones, one behind the other; else none.
pub(crate) fn only_row(line: &Line) -> Vec<usize> {
    let mut next = first(line);
    let mut row = Vec::new();
    while let [post] = next[..] {
        row.push(post);
        let Some(on) = &line.scrapping[post].passes_on else {
            break;
        };
        let takes = |next: &usize| {
            line.scrapping[*next]
                .from
                .contains(&TraysFrom::Table(on.to))
        };
        next = (0..line.scrapping.len()).filter(takes).collect();
    }
    match row.len() > 1 && row.len() == line.scrapping.len() {
        true => row,
        false => Vec::new(),
    }
}

/// For each kind of diner and each row of posts: seconds of work a tray at each, and the share of the slowest.
pub(crate) fn balance(plan: &Plan, told: &mut Vec<Figure>) {
    let line = &plan.line;
    for first in first(line) {
        let post = &line.scrapping[first];
        if post.passes_on.is_none() {
            continue;
        }
        for kind in &plan.demand.kinds {
            let along = in_series(line, first, &kind.pieces);
            let whole: f64 = along.iter().map(|(_, seconds)| seconds).sum();
            if along.len() < 2 || whole <= 0.0 {
                continue;
            }
            // Who has most to do, with everybody in place.
            let busy = |&(post, seconds): &(usize, f64)| {
                seconds / f64::from(line.scrapping[post].places.max(1))
            };
            let Some(slowest) = along
                .iter()
                .copied()
                .max_by(|a, b| busy(a).total_cmp(&busy(b)))
            else {
                continue;
            };
            let each: Vec<String> = along
                .iter()
                .map(|&(post, seconds)| {
                    format!("{} s at {}", rounded(seconds), line.scrapping[post].name)
                })
                .collect();
            let share = 100.0 * slowest.1 / whole;
            let words = format!(
                "Broken down in series, a tray of \"{}\" asks {}: {} is the slowest, has {} % of the work, and with everybody in place lets {} trays an hour through.",
                kind.name,
                listed(&each),
                line.scrapping[slowest.0].name,
                rounded(share),
                rounded(3600.0 / busy(&slowest))
            );
            told.push(figure(
                format!("scrapping.{}.balance.{}", post.name, kind.name),
                share,
                "%",
                words,
                false,
            ));
        }
    }
}
