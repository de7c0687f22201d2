//! What is said to be there when the run begins.

use scullery_engine::demand::{LoadWhen, There};
use scullery_engine::line::{ClassId, PileThere, RackAt, RackThere, ReceiverThere};
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

/// The rest of what can be there: trays aside and on carts, carts to wash, clean ware on its way.
const MORE: &str = r#"
[load.aside]
kind = "full_tray"
when = { already_aside = { drop_off = "main", trays = 9 } }

[load.on_tubs]
kind = "full_tray"
when = { already_on = { place = "tubs", trays = 5 } }

[carts.tubs]
count = 4
holds = 3
goes = "at_once"
wash = { cart_min = 2 }

[already_there]
on_clean_carts = { plate = 90 }
carts_to_wash = { tubs = 2 }
"#;

/// The hall with those, a post that empties the carts and somebody who washes them.
fn hall_with_more() -> String {
    let hall = HALL.replacen(
        r#"takes_from = ["return"]"#,
        r#"takes_from = ["return", "tubs"]"#,
        1,
    );
    let hall = hall.replacen("posts = [", r#"posts = ["cart_wash.tubs", "#, 1);
    format!("{hall}{MORE}")
}

#[test]
fn trays_aside_and_on_carts_carts_to_wash_and_clean_carts_are_understood() {
    let text = hall_with_more();
    let plan = read_alone(&text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let when: Vec<&LoadWhen> = plan.demand.loads.iter().map(|load| &load.when).collect();
    assert_eq!(
        when,
        [
            &LoadWhen::There {
                at: There::Aside(0),
                trays: 9
            },
            &LoadWhen::There {
                at: There::Carts(0),
                trays: 5
            }
        ]
    );
    assert_eq!(plan.line.already.on_carts, [(ClassId(0), 90)]);
    assert_eq!(plan.line.already.to_wash, [2]);
    let told = plan.description.join("\n");
    for words in [
        "Load aside: 9 trays of \"full_tray\" are already left aside at main at the start.",
        "Load on_tubs: 5 trays of \"full_tray\" already wait on tubs at the start.",
        "At 10:45 90 plate already wait on carts to be taken to the servery.",
        "At 10:45 2 of carts tubs already wait to be washed.",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
    for (from, to, words) in [
        (
            "trays = 5",
            "trays = 7",
            "7 trays are already on \"tubs\", 2 carts with room for 6",
        ),
        (
            "plate = 90",
            "plate = 20000",
            "more plate are already on carts",
        ),
        ("tubs = 2", "tubs = 5", ""),
    ] {
        let faults = read_alone(&text.replacen(from, to, 1), Format::Toml).expect_err(to);
        assert_eq!(faults[0].code, "no-room-there", "{faults:#?}");
        assert!(faults[0].message.contains(words), "{faults:#?}");
    }
}

#[test]
fn trays_aside_are_fetched_by_the_post_that_takes_the_drop_off_s_trays() {
    // Nobody leaves trays aside later: the drop-off has no closing time and nobody's patience ends.
    let text = hall_with_more();
    let line = text
        .lines()
        .filter(|line| !line.starts_with("closes =") && !line.starts_with("patience_people"));
    let plan = read_alone(&line.collect::<Vec<_>>().join("\n"), Format::Toml)
        .unwrap_or_else(|faults| panic!("{faults:#?}"));
    let from = &plan.line.scrapping[0].from;
    assert!(
        from.contains(&scullery_engine::line::TraysFrom::Overflow(0)),
        "{from:?}"
    );
}

#[test]
fn ware_in_receivers_and_waste_in_bins_are_understood() {
    let plan = crate::scenarios::plan_of("self-clearing-hall.toml");
    let line = &plan.line;
    let receiver = |name: &str| {
        line.receivers
            .iter()
            .position(|it| it.name == name)
            .unwrap()
    };
    let class = |name: &str| line.classes.iter().position(|it| it.name == name).unwrap();
    let there = |name: &str, ware: &str, pieces: u16| ReceiverThere {
        receiver: receiver(name) as u8,
        class: ClassId(class(ware) as u8),
        pieces,
    };
    assert_eq!(
        line.already.receivers,
        [
            there("left rack", "glass", 9),
            there("tray stack", "tray", 20),
            there("bottles", "bottle", 5)
        ]
    );
    let slops = line.waste_stores.iter().position(|it| it.name == "slops");
    assert_eq!(line.already.waste, [(slops.unwrap() as u8, 14_500)]);
    let told = plan.description.join("\n");
    for words in [
        "At 11:30 9 glass are already in receiver left rack.",
        "At 11:30 20 tray are already in receiver tray stack.",
        "At 11:30 14.5 kg of waste are already in bin slops.",
    ] {
        assert!(told.contains(words), "{words}\n{told}");
    }
}
