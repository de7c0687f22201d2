//! The reference page and the starter.

use std::collections::BTreeSet;
use std::path::Path;

use scullery_scenario::{
    CODES, Format, check, defaults, format_page, key_paths, read_alone, report_text, starter,
};

#[test]
fn the_page_in_docs_is_the_one_the_program_makes() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/scenario-format.md");
    let page = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        page == format_page(),
        "run `cargo run -p scullery-scenario --example format_page > docs/scenario-format.md`"
    );
}

#[test]
fn the_table_of_defaults_of_the_model_page_is_the_one_the_program_uses() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/model.md");
    let page = std::fs::read_to_string(path).unwrap_or_default();
    assert!(
        page.contains(&defaults::table()),
        "put what `cargo run -p scullery-scenario --example defaults_table` writes in its place in docs/model.md"
    );
}

#[test]
fn the_page_lists_every_key_every_default_and_every_code() {
    let page = format_page();
    for path in key_paths() {
        let key = path.rsplit('.').next().unwrap();
        let named =
            page.contains(&format!("`{key}`")) || page.contains(&format!("{{ {key} = .. }}"));
        assert!(named || key == "NAME", "{path}");
    }
    for standard in defaults::ALL {
        assert!(page.contains(standard.standing), "{}", standard.key);
    }
    for (code, _) in CODES {
        assert!(page.contains(&format!("`{code}`")), "{code}");
    }
}

#[test]
fn every_default_stands_for_a_key_of_the_format() {
    let paths = key_paths();
    let strange: Vec<&str> = defaults::ALL
        .iter()
        .map(|standard| standard.key)
        .filter(|key| !paths.contains(*key))
        .collect();
    assert_eq!(strange, Vec::<&str>::new());
}

#[test]
fn every_default_a_plan_uses_is_one_of_the_list() {
    let known: BTreeSet<&str> = defaults::ALL
        .iter()
        .map(|standard| standard.standing)
        .collect();
    let plan = read_alone(&starter("A starter"), Format::Toml).unwrap();
    assert!(!plan.defaults.is_empty());
    for used in &plan.defaults {
        assert!(known.contains(used.standing.as_str()), "{}", used.key);
    }
}

#[test]
fn the_starter_is_a_scenario_whatever_it_is_called() {
    for name in [
        "A canteen",
        "Quote \" and \\ back",
        "",
        "line\nbreak",
        &"x".repeat(1000),
    ] {
        let plan = read_alone(&starter(name), Format::Toml)
            .unwrap_or_else(|faults| panic!("{name}: {faults:#?}"));
        assert!(plan.heading.note.contains("Invented"));
        let told = report_text(&check(&plan));
        assert!(
            told.contains("By quarter hour, before any simulation"),
            "{told}"
        );
    }
    assert_eq!(
        read_alone(&starter("A \"canteen\""), Format::Toml)
            .unwrap()
            .heading
            .name,
        "A \"canteen\""
    );
}
