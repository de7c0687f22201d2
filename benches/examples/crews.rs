//! The search for the smallest crew beside running every crew for 200 lunches: which crew each names, how many lunches
//! each takes, and the search's time in meals.
//!
//! `cargo run --release -p scullery-benches --example crews`

use std::sync::atomic::AtomicBool;

use scullery_scenario::{Format, read_alone};
use scullery_study::search::{Kitchen, Seen};
use scullery_study::staffing::cheapest_crew::{CrewSearch, cheapest_crew};
use scullery_study::staffing::crews::Crews;
use scullery_study::staffing::lunches::{Arrangement, Arrangements};

const LUNCHES: u64 = 200;

/// Seconds that some work takes, and what it gives.
#[expect(clippy::disallowed_methods, reason = "this program is about time")]
fn clock<T>(work: impl FnOnce() -> T) -> (f64, T) {
    let start = std::time::Instant::now();
    let given = work();
    (start.elapsed().as_secs_f64(), given)
}

#[expect(clippy::print_stdout, reason = "a program that shows figures")]
fn main() {
    let plan = match read_alone(include_str!("../five-posts.toml"), Format::Toml) {
        Ok(plan) => plan,
        Err(complaints) => return println!("{complaints:?}"),
    };
    let crews = match Crews::of(&plan, &plan.staffing) {
        Ok(crews) => crews,
        Err(why) => return println!("{why}"),
    };
    let arrange = |crew: usize| {
        let mut plan = plan.clone();
        let people = crews.people(&crews.list[crew]);
        plan.line.crew = people.workers;
        Arrangement {
            plan,
            wages: people.wages,
        }
    };
    let kitchen = Arrangements {
        arrange: &arrange,
        seed: 1,
    };
    let holds = |crew: usize| {
        let lunches = kitchen.lunches(crew, 1..LUNCHES + 1).unwrap_or_default();
        let held = |target: usize| {
            lunches
                .iter()
                .filter(|l| l.targets[target] == Seen::Held(true))
                .count() as u64
        };
        (0..plan.targets.len()).all(|target| held(target) * 10 >= LUNCHES * 9)
    };
    let (all_s, best) = clock(|| (0..crews.list.len()).filter(|&crew| holds(crew)).min());
    let how = CrewSearch {
        seed: 1,
        threads: 1,
        alpha: 0.05,
        indifference: 0.02,
        most_lunches: 5_000,
        shown_lunches: 2,
        one_missing: false,
        roster: false,
    };
    let (search_s, found) = clock(|| cheapest_crew(&plan, &how, &|_| {}, &AtomicBool::new(false)));
    let Ok(found) = found else {
        return println!("the search failed");
    };
    let every = crews.list.len() as u64 * LUNCHES;
    let meal_s = all_s / every as f64;
    let words =
        |crew: Option<usize>| crew.map_or("none".to_owned(), |c| crews.words(&crews.list[c]));
    println!("crews:                 {}", crews.list.len());
    println!(
        "every crew x {LUNCHES}:      {} in {every} lunches, {all_s:.1} s",
        words(best)
    );
    println!(
        "the search:            {} in {} lunches ({:.1} % of them), {search_s:.2} s",
        found
            .marked("chosen")
            .map_or("none", |row| row.words.as_str()),
        found.searched.lunches,
        100.0 * found.searched.lunches as f64 / every as f64
    );
    println!(
        "the search in meals:   {:.0} (one meal: {:.3} ms, one thread)",
        search_s / meal_s,
        meal_s * 1e3
    );
}
