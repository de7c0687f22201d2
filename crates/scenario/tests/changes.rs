//! Named changes: what they do to a plan, and what is said when they cannot be made.

use scullery_scenario::change::{Change, read_changed};
use scullery_scenario::plan::Plan;
use scullery_scenario::{Document, Format, read_alone};

/// The hall on its return belt.
const RETURN_BELT: &str = include_str!("../../../scenarios/bad-lunch/hall.toml");

fn changes(texts: &[&str]) -> Vec<Change> {
    texts
        .iter()
        .map(|text| Change::parse(text).unwrap())
        .collect()
}

fn hall() -> Document {
    Document::of_text("hall.toml", RETURN_BELT, Format::Toml)
}

fn changed(texts: &[&str]) -> Plan {
    hall()
        .changed(&changes(texts))
        .unwrap_or_else(|why| panic!("{texts:?}:\n{why}"))
}

fn refused(texts: &[&str]) -> String {
    hall().changed(&changes(texts)).map(|_| ()).unwrap_err()
}

/// What the text of the hall says with one line of it put otherwise.
fn written(from: &str, to: &str) -> Plan {
    assert_eq!(RETURN_BELT.matches(from).count(), 1, "{from}");
    read_alone(&RETURN_BELT.replace(from, to), Format::Toml).unwrap()
}

fn same_meaning(a: &Plan, b: &Plan) {
    assert_eq!(format!("{:?}", a.line), format!("{:?}", b.line));
    assert_eq!(format!("{:?}", a.demand), format!("{:?}", b.demand));
    assert_eq!(format!("{:?}", a.targets), format!("{:?}", b.targets));
    assert_eq!(format!("{:?}", a.money), format!("{:?}", b.money));
    assert_eq!(a.description, b.description);
}

#[test]
fn a_change_means_what_the_same_words_in_the_file_mean() {
    let cases: [(&str, &str, &str); 9] = [
        (
            "belt.return.length_m=40.1",
            "length_m = 34",
            "length_m = 40.1",
        ),
        (
            "belt.return.length_ft=100",
            "length_m = 34",
            "length_ft = 100",
        ),
        (
            "belt.return.ends=stops_on_arrival",
            "ends = \"closes_up\"",
            "ends = \"stops_on_arrival\"",
        ),
        (
            "drop_off.main.positions=4",
            "positions_m = [0.4, 1.0, 1.6, 2.2]",
            "positions = 4",
        ),
        ("ware.plate.par=901", "par = 900", "par = 901"),
        (
            "crew.cem.shift=11:30-13:30, 13:45-15:30",
            "shifts = [{ from = \"11:00\", to = \"15:30\" }]",
            "shifts = [{ from = \"11:30\", to = \"13:30\" }, { from = \"13:45\", to = \"15:30\" }]",
        ),
        (
            "crew.Cem.breaks=13:30 for 20 min",
            "due = \"13:25\", lasts_min = 15",
            "due = \"13:30\", lasts_min = 20",
        ),
        (
            "machine.dish.runs.hold_and_run.racks=6",
            "racks = 8,",
            "racks = 6,",
        ),
        (
            "target.4.at_latest=15:45",
            "at_latest = \"15:30\"",
            "at_latest = \"15:45\"",
        ),
    ];
    for (change, from, to) in cases {
        let plan = changed(&[change]);
        same_meaning(&plan, &written(from, to));
        assert!(plan.changes[0].alters, "{change}");
    }
}

#[test]
fn json_is_changed_as_toml_is() {
    let value: toml::Value = toml::from_str(RETURN_BELT).unwrap();
    let text = serde_json::to_string_pretty(&value).unwrap();
    let json = Document::of_text("hall.json", text, Format::Json);
    let made = changes(&[
        "crew.dee.shift=11:00-15:45",
        "belt.return.speed_m_per_min=9.5",
    ]);
    let from_json = json.changed(&made).unwrap();
    same_meaning(&from_json, &hall().changed(&made).unwrap());
}

#[test]
fn a_key_that_is_left_out_can_be_set_and_taken_away_again() {
    let at_default = written("speed_m_per_min = 10\n", "");
    let set = changed(&["-belt.return.speed_m_per_min"]);
    same_meaning(&set, &at_default);
    same_meaning(
        &changed(&["crew.bo.pace=1.1"]),
        &written("name = \"Bo\"\n", "name = \"Bo\"\npace = 1.1\n"),
    );
}

#[test]
fn people_come_and_go() {
    let plain = changed(&[]);
    let without = changed(&["-crew.eli"]);
    assert_eq!(without.line.crew.len() + 1, plain.line.crew.len());
    let with = changed(&["+crew.gus=like cem", "crew.gus.shift=12:00-14:00"]);
    let (cem, gus) = (&with.line.crew[2], with.line.crew.last().unwrap());
    assert_eq!((gus.name.as_str(), gus.list.len()), ("gus", cem.list.len()));
    assert_ne!(gus.shifts, cem.shifts);
    let told = changed(&[
        "+crew.gus={ shifts = [{ from = \"12:00\", to = \"14:00\" }], posts = [\"scrapping.main\"] }",
    ]);
    assert_eq!(told.line.crew.last().unwrap().shifts, gus.shifts);
    assert_eq!(
        changed(&["+crew.cem.breaks=14:30 for 5 min"]).line.crew[2]
            .breaks
            .len(),
        2
    );
}

#[test]
fn numbers_are_put_in_exactly() {
    for number in [0.1 + 0.2, 33.333_333_333_333_336, 1e-1, 34.0] {
        let change = Change::number("money.wage_per_h", number).unwrap();
        let plan = hall().changed(&[change]).unwrap();
        assert_eq!(plan.money.wage_per_h.unwrap().to_bits(), number.to_bits());
    }
}

#[test]
fn what_was_changed_is_told_and_what_was_not_too() {
    let plan = changed(&[
        "belt.return.length_m=34.0",
        "money.wage_per_h=17",
        "crew.bo.pace=1.1",
        "-target.1",
    ]);
    let told: Vec<_> = plan
        .changes
        .iter()
        .map(|change| {
            (
                change.before.as_deref(),
                change.after.as_deref(),
                change.alters,
            )
        })
        .collect();
    assert_eq!(told[0], (Some("34"), Some("34"), false));
    assert_eq!(told[1], (Some("16.2"), Some("17"), true));
    assert_eq!(told[2], (None, Some("1.1"), true));
    assert!(told[3].0.is_some_and(|was| was.contains("19 of 20")) && told[3].1.is_none());
    assert_eq!(plan.targets.len(), 4);
}

#[test]
fn without_changes_it_is_the_plan_as_written() {
    let plain = read_alone(RETURN_BELT, Format::Toml).unwrap();
    assert_eq!(hall().changed(&[]).unwrap().hash, plain.hash);
    assert_ne!(changed(&["ware.plate.par=901"]).hash, plain.hash);
}

#[test]
fn what_stands_at_a_path_can_be_asked() {
    let place = hall().at("crew.cem.breaks.1.lasts_min").unwrap();
    assert_eq!(
        (place.path.as_str(), place.number),
        ("crew.Cem.breaks.1.lasts_min", Some(15.0))
    );
    assert_eq!(hall().at("crew.bo.pace").unwrap().words, None);
    assert!(
        hall()
            .at("crew.bo.peace")
            .unwrap_err()
            .contains("did you mean `pace`?")
    );
}

#[test]
fn a_change_that_cannot_be_made_is_one_clear_complaint() {
    let cases: [(&[&str], &[&str]); 16] = [
        (
            &["belt.retrun.length_m=40"],
            &[
                "error[unknown-name]",
                "`belt` has nothing called `retrun`",
                "did you mean `return`?",
            ],
        ),
        (
            &["belt.return.length=40"],
            &[
                "error[unknown-key]",
                "`belt.return` has no key `length`",
                "did you mean `length_m`?",
            ],
        ),
        (
            &["blet.return.length_m=40"],
            &["the scenario has no key `blet`", "did you mean `belt`?"],
        ),
        (
            &["crew.zoe.shift=11:30-13:30"],
            &[
                "`crew` has nothing called `zoe`",
                "`Ada`, `Bo`",
                "`+crew.zoe=...` adds one",
            ],
        ),
        (
            &["crew.cem.shift=11:30-13:99"],
            &["error[not-a-clock-time]", "13:99", "11:30-13:99"],
        ),
        (
            &["belt.return.length_m=long"],
            &[
                "error[wrong-type]",
                "`belt.return.length_m` must be a number, found \"long\"",
            ],
        ),
        (
            &["belt.return.length_m=-3"],
            &["error[too-small]", "at least 0.1, found -3"],
        ),
        (
            &["belt.return.ends=closes"],
            &["error[unknown-choice]", "did you mean \"closes_up\"?"],
        ),
        (&["machine.dish.runs.throughout=true"], &["error[unknown-"]),
        (
            &["belt.return.length_m.x=1"],
            &["`belt.return.length_m` is 34 here", "end the path there"],
        ),
        (
            &["target.9.at_most=3"],
            &["`target` has no entry `9`", "`target.1` to `target.5`"],
        ),
        (&["+crew.cem=like bo"], &["error[already-there]"]),
        (
            &["+crew.gus=like zed"],
            &["`crew` has nothing called `zed` to copy"],
        ),
        (
            &["-crew.bo.pace"],
            &["error[not-there]", "`crew.Bo.pace` is not in the file"],
        ),
        (
            &["crew.bo.posts=[\"scrapping.main\""],
            &["error[not-a-change]", "cannot be read as a value"],
        ),
        (&["+belt.return.wheels=4"], &["`belt.return`"]),
    ];
    for (texts, wanted) in cases {
        let said = refused(texts);
        assert_eq!(said.matches("error[").count(), 1, "{texts:?}:\n{said}");
        assert!(said.contains("in a change: "), "{texts:?}:\n{said}");
        for part in wanted {
            assert!(said.contains(part), "{texts:?}: {part} is not in\n{said}");
        }
    }
}

#[test]
fn what_a_change_breaks_elsewhere_points_into_the_file_and_names_the_change() {
    let said = refused(&["-rack.peg"]);
    assert!(
        said.starts_with("with the changes `-rack.peg`:\nhall.toml:"),
        "{said}"
    );
    assert!(said.contains("\"peg\""), "{said}");
}

#[test]
fn the_place_of_a_fault_is_marked_in_the_right_change() {
    let said = refused(&[
        "ware.plate.par=901",
        "crew.cem.shift=11:30-13:99",
        "ware.bowl.par=651",
    ]);
    assert!(
        said.contains(" | crew.cem.shift=11:30-13:99\n |                ^^^^^^^^^^^\n"),
        "{said}"
    );
}

#[test]
fn a_text_that_is_no_change_is_refused_with_an_example() {
    for (text, why) in [
        ("", "nothing is said"),
        ("belt.return.length_m", "there is no `=`"),
        ("belt.return.length_m=", "no value"),
        ("belt..length_m=3", "missing"),
        ("-crew.eli=1", "has no value"),
        ("a=1\nb=2", "line break"),
    ] {
        let said = Change::parse(text).unwrap_err();
        assert!(
            said.contains(why) && said.contains("write for example"),
            "{said}"
        );
    }
}

#[test]
fn a_faulty_file_is_told_before_its_changes() {
    let faults = read_changed("belt = [", Format::Toml, &changes(&["a.b=1"]), &|_| {
        Err(String::new())
    });
    assert_eq!(faults.unwrap_err()[0].code, "not-toml");
}

#[test]
fn no_change_makes_it_panic() {
    let words = [
        "crew", "cem", "belt", "return", "shift", "target", "1", "kind", "ware", "plate", "bell",
        "runs", "type",
    ];
    let values = [
        "1",
        "x",
        "[",
        "{}",
        "[{}]",
        "{ a = 1 }",
        "like cem",
        "1-2",
        ",",
        "\"",
        "nan",
        "1e999",
        "-",
        "'x'",
        "# c",
    ];
    let mut tried = 0;
    for a in words {
        for b in words {
            for value in values {
                for sign in ["", "+", "-"] {
                    let text = if sign == "-" {
                        format!("-{a}.{b}")
                    } else {
                        format!("{sign}{a}.{b}={value}")
                    };
                    if let Ok(change) = Change::parse(&text) {
                        let _ = hall().changed(&[change]);
                        tried += 1;
                    }
                }
            }
        }
    }
    assert!(tried > 4000, "{tried}");
}
