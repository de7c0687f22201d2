//! What is said to be there when the run begins.

use scullery_engine::demand::{LoadWhen, There};
use scullery_engine::line::{ClassId, PileThere, RackAt, RackThere};
use scullery_engine::time::SimTime;
use scullery_scenario::{Format, plan::Plan, read_alone};

/// A hall whose numbers these tests know.
const HALL: &str = include_str!("hall.toml");

const THERE: &str = r#"
[load.left_lying]
kind = "full_tray"
when = { already_on = { place = "return", trays = 7 } }

[load.in_the_queue]
kind = "full_tray"
when = { already_waiting = { people = 4 } }

[load.seated]
kind = "full_tray"
covers = true
when = { already_eating = { since = "10:20", people = 60 } }

[already_there]
hot = ["dish"]
racks = [
    { at = "lane.feed", ware = "plate", count = 2 },
    { at = "racking.table", ware = "glass", pieces = 7 },
    { at = "clean_end.clean", ware = "bowl" },
]
piles = [{ at = "racking.table", ware = "tray", pieces = 120 }]
clean = { plate = 800 }
"#;

fn hall() -> Plan {
    read_alone(&format!("{HALL}{THERE}"), Format::Toml)
        .unwrap_or_else(|faults| panic!("{faults:#?}"))
}

#[test]
fn trays_people_racks_piles_stock_and_heat_are_understood() {
    let plan = hall();
    let when: Vec<&LoadWhen> = plan.demand.loads.iter().map(|load| &load.when).collect();
    let starts = plan.line.starts;
    // Loads stand in order of name.
    assert_eq!(
        when,
        [
            &LoadWhen::At(vec![(starts, 4)]),
            &LoadWhen::There {
                at: There::Belt(0),
                trays: 7
            },
            &LoadWhen::Eating {
                since: SimTime::from_min(620.0),
                at: starts,
                people: 60
            }
        ]
    );
    let there = &plan.line.already;
    let rack = |class: u8, pieces: u16, at: RackAt| RackThere {
        class: ClassId(class),
        pieces,
        at,
    };
    // Full is what the first rack that takes the class holds.
    assert_eq!(
        there.racks,
        [
            rack(0, 18, RackAt::Lane(0)),
            rack(0, 18, RackAt::Lane(0)),
            rack(3, 7, RackAt::Racking(0)),
            rack(1, 20, RackAt::CleanEnd(0))
        ]
    );
    let tray = PileThere {
        racking: 0,
        class: ClassId(6),
        pieces: 120,
    };
    assert_eq!(there.piles, [tray]);
    assert_eq!(there.clean[..2], [Some(800), None]);
    assert_eq!(there.hot, [0]);
}

#[test]
fn the_description_says_what_is_already_there() {
    let told = hall().description.join("\n");
    for words in [
        "7 trays of \"full_tray\" already lie on return at the start",
        "60 people with a tray of \"full_tray\" are already eating at the start, since 10:20",
        "At 10:45 2 racks of 18 plate already stand on lane feed.",
        "At 10:45 a rack of 7 glass already stands open at racking table.",
        "At 10:45 120 tray already lie on a pile at racking table.",
        "Of what is owned only 800 plate are clean at the servery at 10:45",
        "Machine dish is hot at 10:45.",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
}

#[test]
fn what_finds_no_room_is_told_before_anything_is_run() {
    for (from, to, words) in [
        ("count = 2 }", "count = 200 }", "more racks"),
        ("plate = 800", "plate = 880", "cannot be clean at the start"),
        ("pieces = 7", "pieces = 26", "open at racking"),
        ("at = \"lane.feed\"", "at = \"machine.dish\"", ""),
    ] {
        let text = format!("{HALL}{THERE}").replacen(from, to, 1);
        let faults = read_alone(&text, Format::Toml);
        if words.is_empty() {
            assert!(faults.is_ok(), "{faults:#?}");
            // A cold machine has nothing inside.
            let cold = text.replacen("hot = [\"dish\"]", "", 1);
            let faults = read_alone(&cold, Format::Toml).expect_err("it is cold");
            assert_eq!(faults[0].code, "no-room-there");
            continue;
        }
        let faults = faults.expect_err(to);
        assert_eq!(faults[0].code, "no-room-there", "{faults:#?}");
        assert!(faults[0].message.contains(words), "{faults:#?}");
    }
}
