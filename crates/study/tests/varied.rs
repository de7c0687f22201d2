//! Spread points, grids, bars, headroom: on a single queue whose answers are known, and on points of another program.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::Fault;
use scullery_scenario::change::Change;
use scullery_scenario::{Document, Format};
use scullery_study::headroom::{Search, headroom};
use scullery_study::lunches::Arrangement;
use scullery_study::sobol::{MOST_DIMENSIONS, sobol};
use scullery_study::vary::*;

use crate::plans::{QUEUE, target};
use crate::sequential::fixtures;

/// scipy's unscrambled points in 21 dimensions, direction numbers of Joe and Kuo (2008).
#[test]
fn sobols_points_are_those_of_scipy() {
    let rows = fixtures();
    let rows = rows["sobol"].as_array().unwrap();
    let ours = sobol(64, MOST_DIMENSIONS).unwrap();
    assert_eq!(
        (rows.len(), rows[0].as_array().unwrap().len()),
        (64, MOST_DIMENSIONS)
    );
    for (point, row) in ours.iter().zip(rows) {
        for (x, theirs) in point.iter().zip(row.as_array().unwrap()) {
            assert_eq!(*x, theirs.as_f64().unwrap());
        }
    }
    assert!(sobol(4, MOST_DIMENSIONS + 1).is_none());
}

#[test]
fn each_half_and_quarter_of_each_side_holds_its_share_of_the_points() {
    for point in 0..MOST_DIMENSIONS {
        for cells in [2, 4, 8, 16] {
            let all = sobol(64, MOST_DIMENSIONS).unwrap();
            for cell in 0..cells {
                let within = all
                    .iter()
                    .filter(|x| (x[point] * f64::from(cells)) as i32 == cell)
                    .count();
                assert_eq!(within, 64 / cells as usize);
            }
        }
    }
}

fn number(path: &str, low: f64, high: f64, whole: bool) -> Varied {
    Varied {
        path: path.into(),
        present: None,
        whole,
        low,
        high,
    }
}

#[test]
fn a_sample_stays_within_its_ranges_and_whole_numbers_are_whole() {
    let varied = [number("a", -2.0, 3.0, false), number("b", 1.0, 4.0, true)];
    let points = sample(&varied, 48).unwrap();
    assert_eq!(points.len(), 48);
    let mut seen = [0; 5];
    for point in &points {
        assert!((-2.0..3.0).contains(&point[0]) && point[1].fract() == 0.0);
        seen[point[1] as usize] += 1;
    }
    assert_eq!(seen, [0, 12, 12, 12, 12]);
}

#[test]
fn a_grid_is_all_combinations_the_last_number_fastest() {
    assert_eq!(
        grid(&[vec![1.0, 2.0], vec![5.0, 6.0]]),
        [[1.0, 5.0], [1.0, 6.0], [2.0, 5.0], [2.0, 6.0]]
    );
    assert_eq!(number("a", 1.0, 3.0, true).steps(9), [1.0, 2.0, 3.0]);
    assert_eq!(number("a", 0.0, 1.0, false).steps(3), [0.0, 0.5, 1.0]);
}

/// The single queue with more under its text, and changes made to it.
fn queue(more: &str, changes: &[&str]) -> Arrangement {
    let document = Document::of_text("queue", format!("{QUEUE}{more}"), Format::Toml);
    let changes: Vec<Change> = changes
        .iter()
        .map(|text| Change::parse(text).unwrap())
        .collect();
    Arrangement::new("queue", document.changed(&changes).unwrap()).unwrap()
}

const RUNS: Runs = Runs {
    repeats: 40,
    seed: 1,
    threads: 2,
};

fn never() -> AtomicBool {
    AtomicBool::new(false)
}

#[test]
fn a_longer_time_of_work_makes_a_longer_wait_at_every_step() {
    let values = [40.0, 55.0, 70.0];
    let points: Vec<(Vec<f64>, Arrangement)> = values
        .iter()
        .map(|value| {
            (
                vec![*value],
                queue("", &[&format!("scrapping.server.handling_s={value}")]),
            )
        })
        .collect();
    let varied = [number("scrapping.server.handling_s", 40.0, 70.0, false)];
    let measures = ["backlog.max_trays".to_owned()];
    let of = Points {
        design: "grid",
        varied: &varied,
        points: &points,
        measures: &measures,
        hash: "",
    };
    let seen = vary(&of, &RUNS, &|_| {}, &never()).unwrap();
    let means: Vec<f64> = seen
        .points
        .iter()
        .map(|point| point.measures[0].mean.unwrap())
        .collect();
    assert!(means.windows(2).all(|pair| pair[0] < pair[1]), "{means:?}");
    assert_eq!(
        (seen.points.len() as u64, seen.asked, seen.repeats),
        (3, 3, 40)
    );
    let unknown = Points {
        measures: &["backlog.most".to_owned()],
        ..of
    };
    assert!(
        matches!(vary(&unknown, &RUNS, &|_| {}, &never()), Err(Fault::Line(words)) if words.contains("nearest"))
    );
}

#[test]
fn a_stopped_study_tells_the_points_that_are_complete() {
    let points: Vec<(Vec<f64>, Arrangement)> = [50.0, 60.0, 70.0]
        .map(|value| (vec![value], queue("", &[])))
        .into();
    let of = Points {
        design: "grid",
        varied: &[],
        points: &points,
        measures: &[],
        hash: "",
    };
    let stop = never();
    let seen = vary(
        &of,
        &RUNS,
        &|done| stop.store(done >= 50, Ordering::SeqCst),
        &stop,
    )
    .unwrap();
    assert_eq!((seen.points.len(), seen.asked), (1, 3));
    assert!(
        seen.answer.contains("Stopped early: 1 of 3"),
        "{}",
        seen.answer
    );
}

#[test]
fn the_longest_bar_is_the_number_that_matters_most() {
    let ends = |path: &str, low: f64, high: f64| Ends {
        varied: number(path, low, high, false),
        low: queue("", &[&format!("{path}={low}")]),
        high: queue("", &[&format!("{path}={high}")]),
    };
    let ends = [
        ends("drop_off.door.put_down_s", 0.0, 0.5),
        ends("scrapping.server.handling_s", 50.0, 70.0),
        ends("crew.server.unfilled_share", 0.0, 0.0),
    ];
    let seen = tornado(
        &queue("", &[]),
        &ends,
        "backlog.max_trays",
        &RUNS,
        &|_| {},
        &never(),
    )
    .unwrap();
    let order: Vec<&str> = seen
        .bars
        .iter()
        .map(|bar| bar.varied.path.as_str())
        .collect();
    assert_eq!(order[0], "scrapping.server.handling_s");
    let bar = &seen.bars[0];
    let (low, high) = (bar.at_low.as_ref().unwrap(), bar.at_high.as_ref().unwrap());
    assert!(
        low.mean < 0.0 && high.mean > 0.0 && (bar.swing - (high.mean - low.mean)).abs() < 1e-12
    );
    let idle = seen
        .bars
        .iter()
        .find(|bar| bar.varied.path.ends_with("unfilled_share"))
        .unwrap();
    assert!(idle.at_low.as_ref().unwrap().identical && idle.swing == 0.0);
}

/// With work of exactly 60 s a tray and trays evenly spread over four hours, one person clears exactly so many as come as
/// long as those are at most 60 an hour: 240 in all. The last tray comes half a gap before the fourth hour, so with 240 it
/// is clean at 4 h and half a minute, and with more the clock tells how many: n trays take n minutes from half a gap on.
const EVEN: &[&str] = &[
    "covers.per_interval.come=evenly",
    "diners.tray_work_varies=not_at_all",
];

#[test]
fn headroom_is_found_where_the_clock_says_it_is() {
    // Clean by 04:10: the first tray comes at 120 / n minutes and the server never rests, so n + 120 / n <= 250: n = 249.
    let plan = queue(
        &target("clean.last_clock_min", "at_latest = \"04:10\""),
        EVEN,
    )
    .plan;
    let how = Search {
        most: 400,
        seed: 1,
        threads: 2,
    };
    let seen = headroom(&plan, &how, &|_, _| {}, &never()).unwrap();
    assert_eq!(seen.stated_covers, 192.0);
    for day in &seen.days {
        let (holds, fails) = (day.holds_to.unwrap(), day.fails_from.unwrap());
        assert!(holds < 250.0 && fails > 247.0, "{day:?}");
        // Closed in to a hundredth of the day's covers.
        assert!(
            fails - holds <= 0.01 * day.covers + 1.0,
            "{} {holds} {fails}",
            day.day
        );
        assert!(
            day.first.as_ref().unwrap().words.contains("last clock min"),
            "{:?}",
            day.first
        );
    }
    // The scenario has one fixed day, so its busy day is the 9th of 10 of days that vary by the default of 10 %: a
    // lognormal law of mean 1, whose 0.9 quantile is exp(1.28155 s - s^2 / 2) with s^2 = ln 1.01.
    let s = libm::log(1.01_f64).sqrt();
    let busy = 192.0 * libm::exp(1.281_551_565_5 * s - s * s / 2.0);
    assert!(
        (seen.days[1].covers - busy).abs() < 1e-6,
        "{}",
        seen.days[1].covers
    );
    assert!(
        seen.complete && seen.answer.contains("one fails"),
        "{}",
        seen.answer
    );
}

#[test]
fn a_day_that_fails_as_it_is_is_searched_downwards() {
    let plan = queue(
        &target("clean.last_clock_min", "at_latest = \"04:10\""),
        EVEN,
    )
    .plan;
    let mut late = plan.clone();
    late.targets[0].bound = 100.0;
    let how = Search {
        most: 400,
        seed: 1,
        threads: 2,
    };
    // Clean by 01:40 whatever comes: trays come until the fourth hour, so no number of covers will do.
    let seen = headroom(&late, &how, &|_, _| {}, &never()).unwrap();
    assert!(
        seen.days[0].holds_to.is_none() && seen.days[0].fails_from.is_some(),
        "{:?}",
        seen.days[0]
    );
    assert!(
        seen.days[0].words.contains("no smaller number"),
        "{}",
        seen.days[0].words
    );
}

#[test]
fn headroom_needs_a_target_and_covers_that_can_be_scaled() {
    let how = Search {
        most: 40,
        seed: 1,
        threads: 1,
    };
    let refused = |plan| match headroom(&plan, &how, &|_, _| {}, &never()) {
        Err(Fault::Line(words)) => words,
        other => panic!("{other:?}"),
    };
    assert!(refused(queue("", &[]).plan).contains("names no target"));
    let observed = [
        "-covers.per_interval",
        "covers.instants=00:10, 00:20",
        "-days",
    ];
    let with_target = target("backlog.max_trays", "at_most = 3");
    let document = Document::of_text("queue", format!("{QUEUE}{with_target}"), Format::Toml);
    let changes: Vec<Change> = observed
        .iter()
        .map(|text| Change::parse(text).unwrap())
        .collect();
    assert!(refused(document.changed(&changes).unwrap()).contains("not scaled"));
}
