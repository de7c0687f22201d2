//! Scenario files: new ones, wrong ones, and the schema.

use crate::room::Room;

#[test]
fn a_new_scenario_is_written_checks_well_and_is_never_overwritten() {
    let room = Room::new();
    let said = room.scullery(&["new", "lunch"]);
    assert_eq!(
        (said.code, room.names()),
        (Some(0), vec!["lunch.toml".to_owned()]),
        "{said:?}"
    );
    assert!(
        said.out.contains("scullery check lunch.toml"),
        "it says what comes next: {}",
        said.out
    );
    let checked = room.scullery(&["check", "lunch.toml"]);
    assert_eq!(checked.code, Some(0), "{checked:?}");
    room.write("lunch.toml", "mine");
    let again = room.scullery(&["new", "lunch"]);
    assert_eq!(
        (again.code, room.read("lunch.toml").as_str()),
        (Some(2), "mine"),
        "{again:?}"
    );
}

#[test]
fn a_wrong_scenario_is_refused_with_its_place_and_nothing_is_written() {
    let room = Room::new();
    room.write("lunch.toml", "[heading]\nnmae = \"lunch\"\n");
    for arguments in [&["run", "lunch.toml"][..], &["check", "lunch.toml"]] {
        let said = room.scullery(arguments);
        assert_eq!((said.code, said.out.as_str()), (Some(2), ""), "{said:?}");
        assert!(said.err.contains("lunch.toml:2:1: error["), "{}", said.err);
    }
    assert_eq!(room.names(), ["lunch.toml"]);
}

#[test]
fn a_scenario_that_is_not_there_is_refused() {
    let room = Room::new();
    let said = room.scullery(&["run", "none.toml"]);
    assert_eq!(said.code, Some(2), "{said:?}");
    assert!(
        said.err.contains("none.toml") && room.names().is_empty(),
        "{said:?}"
    );
}

#[test]
fn the_schema_is_json_of_the_draft_it_names() {
    let said = Room::new().scullery(&["schema"]);
    let schema: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(
        schema["$schema"],
        "https://json-schema.org/draft/2020-12/schema"
    );
    assert!(schema["properties"].is_object(), "{said:?}");
}
