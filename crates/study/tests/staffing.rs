//! Crews are listed as their bounds say, and the cheapest that holds is the one an exhaustive count names.

use std::sync::atomic::AtomicBool;

use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read_alone};
use scullery_study::search::Kitchen;
use scullery_study::search::Seen;
use scullery_study::staffing::cheapest_crew::{CrewSearch, Trouble, cheapest_crew};
use scullery_study::staffing::crews::Crews;
use scullery_study::staffing::found::CrewStudy;
use scullery_study::staffing::lunches::{Arrangement, Arrangements};

use crate::plans::QUEUE;

fn read(text: &str) -> Plan {
    read_alone(text, Format::Toml).unwrap_or_else(|complaints| panic!("{complaints:?}"))
}

/// A small room in which trays pass two posts, each with people of its own: broken down at `sort` (60 s), racked at
/// `bench` (30 s); 100 trays in the first hour. How many are needed where?
pub(crate) const TWO_POSTS: &str = r#"
[heading]
name = "Two posts"
note = "Invented for a test."
[meal]
starts = "00:00"
ends_at = "03:00"
[covers.per_interval]
from = "00:00"
every_min = 60
counts = [100]
[days.vary]
cv = 0
[diners]
tray_work_varies = "exponential"
waste_kg = 0
[kind.tray]
share = 1
pieces = { plate = 1 }
sits = false
[[ware]]
name = "plate"
fits = [{ rack = "peg", pieces = 10 }]
[[rack]]
name = "peg"
count = 60
[drop_off.door]
to = "queue"
positions = 1
put_down_s = 0
[table.queue]
[scrapping.sort]
takes_from = ["queue"]
places = 9
handling_s = 60
piece_s = { plate = 0 }
[racking.bench]
places = 9
open_racks = 9
to = "leave"
grab = 1
[[racking.bench.pile]]
ware = "plate"
piece_s = 30
[[crew]]
name = "Sorter"
shifts = [{ from = "00:00", to = "03:00" }]
posts = ["scrapping.sort"]
unfilled_share = 0
[[crew]]
name = "Racker"
shifts = [{ from = "00:00", to = "03:00" }]
posts = ["racking.bench"]
unfilled_share = 0
[money]
wage_per_h = 10
[staffing.role.sorting]
like = ["Sorter"]
least = 1
most = 5
[staffing.role.racking]
like = ["Racker"]
least = 1
most = 5
[[target]]
words = "all cleared by 01:20"
measure = "clean.last_clock_min"
at_latest = "01:20"
in_meals_of_100 = 90
"#;

fn how() -> CrewSearch {
    CrewSearch {
        seed: 1,
        threads: 2,
        alpha: 0.05,
        indifference: 0.02,
        most_lunches: 5_000,
        shown_lunches: 40,
        one_missing: false,
        roster: false,
    }
}

fn search(plan: &Plan, how: &CrewSearch) -> CrewStudy {
    cheapest_crew(plan, how, &|_| {}, &AtomicBool::new(false)).unwrap()
}

#[test]
fn crews_are_all_those_within_the_bounds_cheapest_first() {
    let plan = read(TWO_POSTS);
    let crews = Crews::of(&plan, &plan.staffing).unwrap();
    // One to five at either post.
    assert_eq!(crews.list.len(), 25);
    assert!(
        crews
            .list
            .windows(2)
            .all(|pair| pair[0].cost <= pair[1].cost)
    );
    assert_eq!(
        (
            crews.list[0].people,
            crews.list[0].hours,
            crews.list[0].cost
        ),
        (2, 6.0, 60.0)
    );
    let people = crews.people(&crews.list[24]);
    assert_eq!(people.workers.len(), 10);
    let mut names: Vec<&str> = people.workers.iter().map(|w| w.name.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), 10);
}

#[test]
fn up_to_twelve_people_with_one_at_least_at_each_of_five_posts_are_792_crews() {
    // 12 over 5: the number of ways to write numbers up to 12 as a sum of five that are at least one.
    let mut text = QUEUE.to_owned();
    for n in 2..=5 {
        text.push_str(&format!(
            "[[crew]]\nname = \"Server {n}x\"\nshifts = [{{ from = \"00:00\", to = \"24:00\" }}]\nposts = [\"scrapping.server\"]\nunfilled_share = 0\n"
        ));
    }
    text.push_str("[staffing]\nmost_people = 12\n");
    for (role, like) in ["Server", "Server 2x", "Server 3x", "Server 4x", "Server 5x"]
        .iter()
        .enumerate()
    {
        text.push_str(&format!(
            "[staffing.role.r{role}]\nlike = [\"{like}\"]\nleast = 1\nmost = 8\n"
        ));
    }
    let plan = read(&text);
    assert_eq!(Crews::of(&plan, &plan.staffing).unwrap().list.len(), 792);
}

#[test]
fn without_a_section_the_bounds_come_from_the_crew_as_it_is_and_it_is_one_of_the_crews() {
    let plan = crate::plans::lunch();
    assert!(!plan.staffing.given);
    let crews = Crews::of(&plan, &plan.staffing).unwrap();
    let now = crews.present().expect("the crew as it is");
    assert_eq!(crews.list[now].people, 5);
    let people = crews.people(&crews.list[now]);
    assert_eq!(people.workers, plan.line.crew);
}

#[test]
fn the_search_names_the_crew_that_running_every_crew_names_with_fewer_lunches() {
    let plan = read(TWO_POSTS);
    let crews = Crews::of(&plan, &plan.staffing).unwrap();
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
    let held = |crew: usize| {
        let lunches = kitchen.lunches(crew, 1..201).unwrap();
        lunches
            .iter()
            .filter(|l| l.targets == [Seen::Held(true)])
            .count()
    };
    let best = (0..crews.list.len())
        .find(|&crew| held(crew) >= 180)
        .expect("one that holds");
    let found = search(&plan, &how());
    let chosen = found.marked("chosen").expect("a crew is named");
    assert_eq!(chosen.words, crews.words(&crews.list[best]));
    assert!(chosen.cells[0].verdict == "holds" && found.searched.promised);
    assert!(
        found.searched.lunches < 200 * 25,
        "{}",
        found.searched.lunches
    );
    // Every cheaper crew was rejected, and says of which target.
    let cheaper = found.tried.iter().filter(|t| t.cost < chosen.cost - 1e-9);
    assert!(cheaper.clone().count() > 0);
    cheaper.for_each(|t| assert_eq!((t.fate.as_str(), t.failed.is_some()), ("fails", true)));
}

#[test]
fn a_crew_that_holds_with_one_missing_holds_without_each_of_its_people() {
    let plan = read(TWO_POSTS);
    let found = search(
        &plan,
        &CrewSearch {
            one_missing: true,
            ..how()
        },
    );
    let chosen = found.marked("chosen").unwrap();
    let robust = found
        .marked("holds with one missing")
        .expect("two posts allow for it");
    assert!(robust.people > chosen.people && robust.cost > chosen.cost);
    assert_eq!(found.one_missing.len(), chosen.people as usize);
    // The cheapest crew that holds has nobody to spare at one post at least.
    assert!(found.one_missing.iter().any(|row| row.verdict != "holds"));
}

#[test]
fn the_same_search_gives_the_same_study_on_any_number_of_threads() {
    let plan = read(TWO_POSTS);
    let one = search(
        &plan,
        &CrewSearch {
            threads: 1,
            ..how()
        },
    );
    assert_eq!(
        one,
        search(
            &plan,
            &CrewSearch {
                threads: 3,
                ..how()
            }
        )
    );
}

#[test]
fn without_a_target_nothing_can_be_asked() {
    let plan = read(QUEUE);
    let refused = cheapest_crew(&plan, &how(), &|_| {}, &AtomicBool::new(false));
    assert!(matches!(refused, Err(Trouble::Wrong(words)) if words.contains("target")));
}
