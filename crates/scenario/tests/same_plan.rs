//! The order of tables and keys, and the notation, make no difference to the plan.

use scullery_scenario::plan::Plan;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};

/// The plan in full, without the hash of the text.
fn shown(mut plan: Plan) -> String {
    plan.hash.clear();
    format!("{plan:#?}")
}

/// Blocks of a TOML text: each begins with a heading.
fn blocks(text: &str) -> Vec<String> {
    let mut blocks: Vec<String> = Vec::new();
    for line in text.lines() {
        if line.starts_with('[') || blocks.is_empty() {
            blocks.push(String::new());
        }
        let block = blocks.last_mut().unwrap();
        block.push_str(line);
        block.push('\n');
    }
    blocks
}

#[test]
fn reordered_tables_give_the_same_plan() {
    let blocks = blocks(DEFAULT_SCENARIO);
    // Elements of a list keep their order among themselves, which is a rule; everything else is turned round.
    let (lists, mut tables): (Vec<String>, Vec<String>) = blocks
        .into_iter()
        .partition(|block| block.starts_with("[["));
    let (piles, lists): (Vec<String>, Vec<String>) = lists
        .into_iter()
        .partition(|block| block.starts_with("[[racking"));
    tables.reverse();
    let turned = [lists, tables, piles].concat().concat();
    assert_ne!(turned, DEFAULT_SCENARIO);
    let one = read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap();
    let other = read_alone(&turned, Format::Toml).unwrap();
    assert_ne!(one.hash, other.hash);
    assert_eq!(shown(one), shown(other));
}

#[test]
fn reordered_keys_give_the_same_plan() {
    let turned: String = blocks(DEFAULT_SCENARIO)
        .into_iter()
        .map(|block| {
            let mut lines: Vec<&str> = block.lines().collect();
            let whole = lines
                .iter()
                .all(|line| !line.starts_with(' ') && !line.starts_with(']'));
            if lines[0].starts_with('[') && whole {
                lines[1..].reverse();
            }
            lines.join("\n") + "\n"
        })
        .collect();
    assert_ne!(turned, DEFAULT_SCENARIO);
    let one = read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap();
    assert_eq!(
        shown(one),
        shown(read_alone(&turned, Format::Toml).unwrap())
    );
}

#[test]
fn json_of_the_same_shape_gives_the_same_plan() {
    let table: toml::Table = toml::from_str(DEFAULT_SCENARIO).unwrap();
    let json = serde_json::to_string_pretty(&table).unwrap();
    let one = read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap();
    assert_eq!(shown(one), shown(read_alone(&json, Format::Json).unwrap()));
}
