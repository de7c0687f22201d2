//! The room from above, setting up and cleaning: added up by hand.

use scullery_engine::line::{DutyWhen, Moment};
use scullery_engine::time::{SimTime, Span};
use scullery_scenario::plan::Plan;
use scullery_scenario::{Figure, Format, read_alone, room_figures};

/// A hall whose numbers these tests know, without a room.
const HALL: &str = include_str!("hall.toml");

/// 50 by 8 m; along the wall from the belt's 25 m on. The servery stands on the other side of the aisle.
const ROOM: &str = r#"
[room]
length_m = 50
width_m = 8
queue_m = 14
stands = [
    { what = "belt.return" },
    { what = "scrapping.main", length_m = 3, width_m = 1 },
    { what = "racking.table", length_m = 4, width_m = 0.8 },
    { what = "lane.feed" },
    { what = "machine.dish", length_m = 3, width_m = 1 },
    { what = "clean_end.clean", length_m = 4, width_m = 0.7 },
    { what = "drop_off.main", along_m = 0.2, across_m = 0.6, length_m = 2, width_m = 0.4 },
    { what = "servery", along_m = 20, across_m = 5, length_m = 6, width_m = 1 },
]
parking = [{ what = "tray dollies", many = 3, length_m = 0.8, width_m = 0.6, along_m = 30, across_m = 4 }]
ways = [{ from = "tray dollies", to = "scrapping.main", carries = "soiled" }]
"#;

fn plan(more: &str) -> Plan {
    let text = format!("{HALL}\n{more}");
    read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn figure<'a>(all: &'a [Figure], id: &str) -> &'a Figure {
    let found = all.iter().find(|figure| figure.id == id);
    found.unwrap_or_else(|| panic!("{id}"))
}

fn near(seen: f64, by_hand: f64) {
    assert!(
        (seen - by_hand).abs() < 1e-9,
        "seen {seen}, by hand {by_hand}"
    );
}

#[test]
fn the_run_along_the_wall_is_added_up_against_the_room() {
    let plan = plan(ROOM);
    // 25 belt, 3 breakdown, 4 racking, 9 lane, 3 machine, 4 clean end.
    near(plan.view.run_m(), 48.0);
    let figures = room_figures(&plan);
    let run = figure(&figures, "room.run");
    near(run.value, 48.0);
    assert!(!run.look);
    // 15 belt + 3 + 3.2 + 5.4 lane + 3 + 2.8 + 0.8 drop-off + 6 servery + 1.44 dollies = 40.64 of 400 square metres.
    near(figure(&figures, "room.floor").value, 40.64 / 400.0);
    assert!(figures.iter().all(|it| !it.id.starts_with("room.overlap")));
    // The same in a room of 45 m does not fit.
    let short = self::plan(&ROOM.replace("length_m = 50", "length_m = 45"));
    assert!(figure(&room_figures(&short), "room.run").look);
}

#[test]
fn a_clean_way_across_a_soiled_one_is_told_with_its_place() {
    let plan = plan(ROOM);
    let figures = room_figures(&plan);
    let crossings = figure(&figures, "room.crossings");
    near(crossings.value, 1.0);
    assert!(crossings.look);
    // Clean: from (46, 0.35) to (23, 5.5). Soiled: from (31.2, 4.3) to (26.5, 0.5). On both lines
    // 0.35 + (46 - x) * 5.15 / 23 = 4.3 + (x - 31.2) * 3.8 / 4.7.
    let x = (0.35 + 46.0 * 5.15 / 23.0 - 4.3 + 31.2 * 3.8 / 4.7) / (3.8 / 4.7 + 5.15 / 23.0);
    near(plan.view.crossings[0].x_m, x);
    assert!(
        crossings.words.contains(
            "the clean way clean end clean to servery and the soiled way 3 tray dollies to scrapping main, 30.6 m along"
        ) || crossings.words.contains("30.58"),
        "{}",
        crossings.words
    );
    // With the dollies at the near end of the table nothing crosses.
    let apart =
        self::plan(&ROOM.replace("along_m = 30, across_m = 4", "along_m = 25, across_m = 2"));
    near(figure(&room_figures(&apart), "room.crossings").value, 0.0);
}

#[test]
fn people_waiting_are_metres_of_queue() {
    let figures = room_figures(&plan(ROOM));
    // 14 m at 0.7 m a person: 20 people, fewer than the 30 of the heading, who would take 21 m.
    let holds = figure(&figures, "room.queue_holds");
    near(holds.value, 20.0);
    assert!(holds.look);
    near(figure(&figures, "room.queue").value, 21.0);
    let closer = plan(&ROOM.replace("queue_m = 14", "queue_m = 15\nperson_m = 0.5"));
    let figures = room_figures(&closer);
    near(figure(&figures, "room.queue_holds").value, 30.0);
    assert!(!figure(&figures, "room.queue_holds").look);
    near(figure(&figures, "room.queue").value, 15.0);
}

#[test]
fn two_things_on_one_floor_are_told() {
    let on_the_servery =
        plan(&ROOM.replace("along_m = 30, across_m = 4", "along_m = 25, across_m = 5.5"));
    let figures = room_figures(&on_the_servery);
    let overlap = figure(&figures, "room.overlap.servery.tray dollies");
    assert!(overlap.look, "{}", overlap.words);
}

#[test]
fn without_a_room_everything_stands_in_a_row_in_the_order_of_the_line() {
    let plan = plan("");
    let ids: Vec<&str> = plan.view.boxes.iter().map(|it| it.id.as_str()).collect();
    assert_eq!(
        ids,
        [
            "drop_off.main",
            "belt.return",
            "scrapping.main",
            "racking.table",
            "lane.feed",
            "machine.dish",
            "clean_end.clean"
        ]
    );
    let mut next = 0.0;
    for it in &plan.view.boxes {
        near(it.x_m, next);
        assert!(!it.given && it.y_m == 0.0);
        next += it.length_m;
    }
    // Its own length where the line has one.
    near(plan.view.boxes[1].length_m, 25.0);
    near(plan.view.boxes[4].length_m, 9.0);
    near(plan.view.boxes[5].length_m, 2.6);
    let figures = room_figures(&plan);
    assert!(figures.iter().all(|it| it.id == "room.queue"));
}

#[test]
fn setting_up_and_cleaning_become_crew_minutes_that_what_helps_shortens() {
    let plan = plan(
        r#"
[[set_up]]
of = "machine.dish"
crew_min = 15
at = "10:50"
by = ["loading.dish"]

[[cleaning]]
of = "belt.return"
crew_min = 20
by = ["scrapping.main"]
self_cleaning_return = true
lift_out_sections = true

[[cleaning]]
of = "machine.dish"
by = ["loading.dish", "unloading.clean"]
parts = 2
drain_min = 10
removable_parts = true
"#,
    );
    let duties = &plan.line.duties[plan.line.duties.len() - 3..];
    assert_eq!(duties[0].when, DutyWhen::At(vec![SimTime::from_min(650.0)]));
    near(duties[0].work_s.mean(), 900.0);
    // 20 min less 40 %, less 20 % of the rest: 9.6 min; once every tray is sorted.
    near(duties[1].work_s.mean(), 9.6 * 60.0);
    assert_eq!(
        duties[1].when,
        DutyWhen::AfterLast {
            moment: Moment::Sorted,
            drains: Span::NONE,
            jobs: 1
        }
    );
    // The usual 25 min less 20 %, in two parts of 10 min, ten minutes after the last rack is washed.
    near(duties[2].work_s.mean(), 600.0);
    assert_eq!(
        duties[2].when,
        DutyWhen::AfterLast {
            moment: Moment::Washed,
            drains: Span::from_min(10.0),
            jobs: 2
        }
    );
    let figures = room_figures(&plan);
    near(figure(&figures, "care.set_up").value, 15.0);
    near(figure(&figures, "care.cleaning").value, 29.6);
    let told = plan.description.join("\n");
    for words in [
        "Before the first tray is set up: machine dish 15 min from 10:50.",
        "When every tray is broken down and sorted is cleaned: belt return 9.6 crew minutes (shortened by a return run that washes itself and sections that lift out).",
        "machine dish 20 crew minutes in 2 parts after draining for 10 min (shortened by parts that come off)",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
    assert!(
        plan.defaults
            .iter()
            .any(|used| used.key == "cleaning (machine.dish).crew_min")
    );
    assert!(
        plan.cautions
            .iter()
            .any(|it| it.contains("locked out, water let cool"))
    );
}

/// Labels of the two ends of each way, soiled ones.
fn soiled_ways(plan: &Plan) -> Vec<(&str, &str)> {
    let view = &plan.view;
    let id = |number: usize| view.boxes[number].id.as_str();
    let soiled = view.ways.iter().filter(|way| !way.clean);
    soiled.map(|way| (id(way.from), id(way.to))).collect()
}

#[test]
fn ware_and_waste_go_soiled_ways_into_receivers_and_bins_and_on_from_there() {
    let plan = crate::scenarios::plan_of("self-clearing-hall.toml");
    let ways = soiled_ways(&plan);
    for way in [
        ("drop_off.hatch", "bin.paper"),
        ("drop_off.hatch", "bin.slops"),
        ("drop_off.hatch", "receiver.chute"),
        ("drop_off.hatch", "receiver.left rack"),
        ("drop_off.hatch", "receiver.tray stack"),
        ("scrapping.table", "receiver.crate"),
        ("scrapping.table", "disposer.trough"),
        ("scrapping.table", "bin.paper"),
        ("receiver.chute", "racking.sink"),
        ("receiver.left rack", "lane.feed"),
        ("receiver.tray stack", "racking.bench"),
        ("receiver.crate", "racking.bench"),
    ] {
        assert_eq!(
            ways.iter().filter(|it| **it == way).count(),
            1,
            "{way:?} in {ways:?}"
        );
    }
    // Bottles leave the line.
    assert!(ways.iter().all(|(from, _)| *from != "receiver.bottles"));
    // Clean ware stays on the other side of the room.
    let figures = room_figures(&plan);
    near(figure(&figures, "room.crossings").value, 0.0);
    assert!(!figure(&figures, "room.run").look);
    assert!(figures.iter().all(|it| !it.id.starts_with("room.overlap")));
}

#[test]
fn a_clean_way_across_one_into_a_receiver_is_told() {
    // The rack for glasses stands at (45.5, 6.5), beyond the clean way from (46, 0.35) to (23, 5.5); diners come from
    // (1.2, 0.8), and it goes on lane feed, at (36.5, 0.3).
    let receiver = r#"
[receiver.glasses]
to = { lane = "feed" }
changed = { by = ["scrapping.main"], work_s = 20 }
"#;
    let aids = r#"diners_do = [{ puts = ["glass"], into = "glasses", adds_s = 1 }]"#;
    let hall = HALL.replacen("[drop_off.main]", &format!("[drop_off.main]\n{aids}"), 1);
    let stands = r#"    { what = "receiver.glasses", along_m = 45, across_m = 6, length_m = 1, width_m = 1 },"#;
    let room = ROOM
        .replacen("]\nparking", &format!("{stands}\n]\nparking"), 1)
        .replace("along_m = 30, across_m = 4", "along_m = 25, across_m = 2");
    let text = format!("{hall}\n{room}\n{receiver}");
    let plan = read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let figures = room_figures(&plan);
    let crossings = figure(&figures, "room.crossings");
    for words in [
        "the soiled way drop-off main to receiver glasses",
        "the soiled way receiver glasses to lane feed",
    ] {
        assert!(crossings.words.contains(words), "{}", crossings.words);
    }
    near(crossings.value, 2.0);
}
