//! Crews: terms of work, head counts, tasks for two, and how they are told.

use scullery_engine::dist::Dist;
use scullery_engine::line::{Post, Watched};
use scullery_engine::time::{SimTime, Span};
use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read};

/// A hall whose numbers these tests know, without its crew.
const HALL: &str = include_str!("hall.toml");

fn hall(crew: &str, sheet: &str) -> Plan {
    let crew_from = HALL.find("[[crew]]").unwrap();
    let crew_to = HALL.find("[duty.bins]").unwrap();
    let text = format!("{}{crew}\n{}", &HALL[..crew_from], &HALL[crew_to..]);
    // Targets and other work speak of the hall's own people and posts.
    let text = text[..text.find("[[target]]").unwrap_or(text.len())].to_owned();
    let sheet = sheet.to_owned();
    read(&text, Format::Toml, &|_| Ok(sheet.clone().into_bytes()))
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn clock(h: f64, min: f64) -> SimTime {
    SimTime::from_min(h * 60.0 + min)
}

const EVERYWHERE: &str =
    r#"["scrapping.main", "racking.table", "unloading.clean", "loading.dish", "running"]"#;

fn person(name: &str, more: &str) -> String {
    format!(
        "[[crew]]\nname = \"{name}\"\nshifts = [{{ from = \"11:00\", to = \"15:15\" }}]\nposts = {EVERYWHERE}\n{more}\n"
    )
}

#[test]
fn a_head_count_becomes_people_who_come_move_and_go() {
    let plan = hall(
        "[head_count]\npath = \"crew.csv\"\nunfilled_share = 0\ncolumns = { floater = [\"racking.table\", { post = \"unloading.clean\", step_in = 4 }, \"loading.dish\", \"running\"] }\n",
        "time,scrapping.main,unloading.clean,floater\n11:00,1,0,1\n11:30,2,0,1\n12:00,1,1,1\n14:30,1,0,0\n15:00,0,0,0\n",
    );
    let crew = &plan.line.crew;
    let names: Vec<&str> = crew.iter().map(|worker| worker.name.as_str()).collect();
    assert_eq!(names, ["scrapping main 1", "floater 1", "scrapping main 2"]);
    // At 12:00 scrapping falls by one and unloading rises by one: who came first moves.
    assert_eq!(crew[0].shifts, [(clock(11.0, 0.0), clock(14.0, 30.0))]);
    assert_eq!(crew[0].terms.moves.len(), 1);
    assert_eq!(crew[0].terms.moves[0].0, clock(12.0, 0.0));
    assert_eq!(crew[0].terms.moves[0].1[0].post, Post::Unloading(0));
    assert_eq!(crew[2].shifts, [(clock(11.0, 30.0), clock(15.0, 0.0))]);
    let list: Vec<(Post, u32)> = crew[1].list.iter().map(|c| (c.post, c.step_in)).collect();
    assert_eq!(list[1], (Post::Unloading(0), 4));
    let told = plan.description.join("\n");
    assert!(
        told.contains("read as 3 people: a fall sends home who came first"),
        "{told}"
    );
    assert!(
        told.contains("From 12:00 scrapping main 1 is at unloading clean."),
        "{told}"
    );
}

#[test]
fn both_conventions_of_the_rest_allowance_are_said_and_reckoned() {
    // 12 % of normal time: 1.12 times as long. 12 % of standard time: 1 / 0.88 = 1.13636...
    for (of, factor, words) in [
        (
            "normal_time",
            1.12,
            "the rest allowance of 12 % of normal time is added",
        ),
        (
            "standard_time",
            1.0 / 0.88,
            "the rest allowance of 12 % of standard time is added",
        ),
    ] {
        let crew = person("Ada", "pace = 1.1\nunfilled_share = 0");
        let plan = hall(
            &format!(
                "{crew}\n[work]\nrest_allowance = {{ share = 0.12, of = \"{of}\", in_the_seconds = false }}\n"
            ),
            "",
        );
        assert!((plan.line.crew[0].pace - 1.1 / factor).abs() < 1e-12);
        let told = plan.description.join("\n");
        assert!(told.contains(words), "{told}");
        // The pace told is the one written, not the one with the allowance in it.
        assert!(
            told.contains("Ada works at 110 % of normal pace."),
            "{told}"
        );
    }
    let crew = person("Ada", "unfilled_share = 0");
    let plan = hall(
        &format!(
            "{crew}\n[work]\nrest_allowance = {{ share = 0.12, of = \"normal_time\", in_the_seconds = true }}\n"
        ),
        "",
    );
    assert!((plan.line.crew[0].pace - 1.0).abs() < 1e-12);
}

#[test]
fn terms_of_work_become_the_line_s_and_are_told() {
    let crew = [
        person(
            "Ada",
            "experience = \"new\"\npace_by_clock = [{ from = \"14:00\", factor = 0.9 }]\nlate = { share = 0.2, by_min = 15 }\nbreaks = [{ due = \"12:00\", lasts_min = 15 }, { due = \"13:00\", lasts_min = 30, paid = false }]",
        ),
        person("Bo", "missing = true"),
        person(
            "Cook",
            "on_call = { when = { standing = { drop_off = \"main\", reach = 12 } }, comes_after_min = 3, leave_at = 2 }",
        ),
    ];
    let plan = hall(
        &format!(
            "{}\n[work]\nfor_two = [\"running\"]\npace_by_clock = [{{ from = \"13:30\", factor = 0.95 }}]\n",
            crew.concat()
        ),
        "",
    );
    let [ada, bo, cook] = plan.line.crew.as_slice() else {
        panic!("three people expected")
    };
    assert!((ada.pace - 0.8).abs() < 1e-12);
    // From 13:30 the crew's 0.95; from 14:00 that times the own 0.9.
    assert_eq!(ada.terms.paces.len(), 2);
    assert!((ada.terms.paces[1].1 - 0.855).abs() < 1e-12);
    assert_eq!(ada.terms.unpaid, [1]);
    let late = ada.terms.late.as_ref().unwrap();
    assert!((late.share - 0.2).abs() < 1e-12 && late.by_min == Dist::Constant(15.0));
    assert!((bo.unfilled - 1.0).abs() < 1e-12);
    let help = cook.terms.help.unwrap();
    assert_eq!(
        (help.watches, help.call_at, help.leave_at),
        (Watched::Standing(0), 12, 2)
    );
    assert_eq!(help.comes_after, Span::from_min(3.0));
    // The shortest stay was left at its default, and that is told.
    assert_eq!(help.stay, Span::from_min(10.0));
    assert!(
        plan.defaults
            .iter()
            .any(|used| used.key == "crew.Cook.on_call.stay_min")
    );
    assert_eq!(plan.line.for_two, [Post::Running]);
    let told = plan.description.join("\n");
    for words in [
        "break 15 min at 12:00 and 30 min unpaid at 13:00",
        "Bo is missing this time.",
        "On 20 % of days Ada starts 15 min late.",
        "Ada works at 80 % of normal pace.",
        "Ada's pace is 95 % from 13:30 and 85.5 % from 14:00 of their own.",
        "Cook is called when 12 people stand at drop-off main, is there 3 min later, stays at least 10 min and goes back when no more than 2 wait.",
        "Two people together do each task at taking carts to the servery",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
}
