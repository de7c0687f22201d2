//! The reference page of the format, made from the schema, the defaults and the codes, so that it cannot drift.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use serde_json::{Map, Value};

use crate::codes::CODES;
use crate::defaults;
use crate::text::schema::SCHEMA;

const HEAD: &str = "# The scenario format

This page is generated from the program (`cargo run -p scullery-scenario --example format_page`); a test holds it to that.

A scenario is a TOML file, or JSON of the same shape. Units stand at the end of the keys: `length_m` is in metres, and may
be written as `length_ft` instead, but not both. Clock times are text: `\"11:45\"`, `\"11:45:30\"`, `\"7:30 pm\"`; a time earlier
than the start of the meal is on the next day, and hours of 24 and more count on from the midnight before the meal
(`\"26:30\"`). A shift whose end is not later than its start ends on the next day.

Lists written with double brackets (`[[ware]]`, `[[crew]]`) keep their order, which settles ties and who is asked first. Tables
with a name (`[belt.soiled]`) may stand in any order; they are joined by their names. A choice is a word, or a table with one
key: `ends = \"closes_up\"`, `runs = { hold_and_run = { racks = 8 } }`.

An *amount* is a number or a distribution in the unit of its key: `put_down_s = 6` or
`put_down_s = { lognormal = { mean = 6, cv = 0.3 } }`. What *varies* is a factor of mean 1 on a task.

In the tables below NAME stands for a name of your own. `needed` marks keys that must be there. The last column says what is
taken when a key is left out, and what that stands on; `check` and every report list the defaults that were used.
";

const CHANGES: &str = "
## Changes

Commands that try a scenario in several arrangements take *changes* to it. A change speaks in the keys and names of the file,
with dots between; names are found whatever their capitals, a blank or hyphen in a name may be written `_`, and entries of a list without
names go by their number from 1. A changed scenario is checked like a written one.

| a change | does |
| --- | --- |
| `belt.return.length_m=40` | sets a value, also where the file leaves it out; any unit the key may have (`length_ft=130`) |
| `crew.cem.shift=11:30-13:30` | sets a list with one entry; several stand with commas between |
| `crew.cem.breaks=13:05 for 15 min` | sets the breaks |
| `crew.cem.posts=scrapping.main, running` | text needs no quotes and a list no brackets |
| `belt.return.ends=stops_on_arrival` | sets a choice; one with values is written as in the file: `ends={ advances_on_demand = { section_m = 0.5 } }` |
| `target.1.at_most=45` | changes the first target |
| `-crew.eli` | takes Eli off the crew |
| `+crew.gus=like cem` | adds Gus, last in the list, with all that is said of Cem |
| `+crew.cem.breaks=14:30 for 5 min` | adds an entry to a list |

Setting `positions` takes `positions_m` away and the other way round; so with the bounds of a target, with `in_meals_of_100` and
`on_average`, with `sd` and `cv`, and with `price` and `price_each` of what is owned.
";

/// The reference page, in Markdown.
pub fn format_page() -> String {
    let mut page = Page {
        out: HEAD.to_owned(),
        told: BTreeSet::new(),
        waiting: Vec::new(),
    };
    page.table("", &SCHEMA, "The file");
    while !page.waiting.is_empty() {
        let waiting = std::mem::take(&mut page.waiting);
        for (path, name) in waiting {
            let definition = definition(&name);
            page.table(&path, definition, &format!("`{path}`"));
        }
    }
    page.out.push_str(CHANGES);
    page.codes();
    page.out
}

/// Every key path of the format, `NAME` for names.
pub fn key_paths() -> BTreeSet<String> {
    let mut paths = BTreeSet::new();
    walk("", &SCHEMA, &mut paths, 0);
    paths
}

fn walk(path: &str, schema: &Value, paths: &mut BTreeSet<String>, depth: usize) {
    if depth > 12 {
        return;
    }
    let schema = resolved(schema);
    for choice in choices(schema) {
        walk(path, choice, paths, depth + 1);
    }
    if let Some(Value::Object(properties)) = schema.get("properties") {
        for (key, of) in properties {
            let path = joined(path, key);
            paths.insert(path.clone());
            walk(&path, of, paths, depth + 1);
        }
    }
    for below in ["additionalProperties", "items"] {
        if let Some(of) = schema.get(below).filter(|of| of.is_object()) {
            let path = joined(path, "NAME");
            paths.insert(path.clone());
            walk(&path, of, paths, depth + 1);
        }
    }
}

fn joined(path: &str, key: &str) -> String {
    if path.is_empty() {
        key.to_owned()
    } else {
        format!("{path}.{key}")
    }
}

fn definition(name: &str) -> &'static Value {
    &SCHEMA["$defs"][name]
}

fn named(schema: &Value) -> Option<&str> {
    schema.get("$ref")?.as_str()?.strip_prefix("#/$defs/")
}

fn resolved(schema: &Value) -> &Value {
    named(schema).map_or(schema, |name| &SCHEMA["$defs"][name])
}

fn choices(schema: &Value) -> Vec<&Value> {
    let of = schema
        .get("oneOf")
        .or_else(|| schema.get("anyOf"))
        .and_then(Value::as_array);
    of.map_or(Vec::new(), |choices| choices.iter().collect())
}

fn text<'a>(schema: &'a Value, key: &str) -> &'a str {
    schema.get(key).and_then(Value::as_str).unwrap_or("")
}

struct Page {
    out: String,
    told: BTreeSet<String>,
    waiting: Vec<(String, String)>,
}

impl Page {
    /// A section for what stands at `path`.
    fn table(&mut self, path: &str, schema: &Value, title: &str) {
        let _ = writeln!(self.out, "\n## {title}\n");
        let about = text(schema, "description");
        if !about.is_empty() {
            let _ = writeln!(self.out, "{}\n", one_line(about));
        }
        let several = choices(schema);
        if !several.is_empty() {
            self.choices(path, &several);
        } else if let Some(Value::Object(properties)) = schema.get("properties") {
            self.keys(path, schema, properties);
        }
    }

    fn keys(&mut self, path: &str, schema: &Value, properties: &Map<String, Value>) {
        let _ = writeln!(
            self.out,
            "| key | value | meaning | if left out |\n| --- | --- | --- | --- |"
        );
        let needs = schema
            .get("x-needs")
            .or_else(|| schema.get("required"))
            .and_then(Value::as_array);
        let is_needed = |key: &str| needs.is_some_and(|needs| needs.iter().any(|need| need == key));
        let own = properties
            .iter()
            .filter(|(_, of)| of.get("x-same-as").is_none());
        for (key, of) in own {
            let also = also(properties, key);
            let value = self.value(&joined(path, key), of);
            let about = if text(of, "description").is_empty() {
                text(resolved(of), "description")
            } else {
                text(of, "description")
            };
            let left_out = if is_needed(key) {
                "needed".to_owned()
            } else {
                default_of(&joined(path, key))
            };
            let _ = writeln!(
                self.out,
                "| `{key}`{also} | {value} | {} | {left_out} |",
                one_line(about)
            );
        }
    }

    fn choices(&mut self, path: &str, several: &[&Value]) {
        let _ = writeln!(
            self.out,
            "| choice | value | meaning |\n| --- | --- | --- |"
        );
        for choice in several {
            let about = one_line(text(choice, "description"));
            let words = choice.get("const").into_iter().chain(
                choice
                    .get("enum")
                    .and_then(Value::as_array)
                    .into_iter()
                    .flatten(),
            );
            let words: Vec<&str> = words.filter_map(Value::as_str).collect();
            if !words.is_empty() {
                let shown: Vec<String> = words.iter().map(|word| format!("`\"{word}\"`")).collect();
                let _ = writeln!(self.out, "| {} | word | {about} |", shown.join(", "));
            } else if let Some((key, of)) = choice
                .get("properties")
                .and_then(Value::as_object)
                .and_then(|all| all.iter().next())
            {
                let value = self.value(&joined(path, key), of);
                let _ = writeln!(self.out, "| `{{ {key} = .. }}` | {value} | {about} |");
            } else {
                let value = self.value(path, choice);
                let _ = writeln!(self.out, "| {value} | | {about} |");
            }
        }
    }

    /// What may stand as the value at `path`; what needs a section of its own is put on the list.
    fn value(&mut self, path: &str, schema: &Value) -> String {
        if let Some(name) = named(schema) {
            match name {
                "Amount" if self.told.contains(name) => return "amount".to_owned(),
                "Varies" if self.told.contains(name) => return "varies".to_owned(),
                _ => {}
            }
            if self.told.insert(name.to_owned()) {
                self.waiting.push((path.to_owned(), name.to_owned()));
            }
            return match name {
                "Amount" => "amount".to_owned(),
                "Varies" => "varies".to_owned(),
                _ if choices(resolved(schema)).is_empty() => "table".to_owned(),
                _ => "choice".to_owned(),
            };
        }
        if let Some(properties) = schema.get("properties").and_then(Value::as_object) {
            let needs = schema
                .get("x-needs")
                .or_else(|| schema.get("required"))
                .and_then(Value::as_array);
            let each = properties
                .iter()
                .filter(|(_, of)| of.get("x-same-as").is_none())
                .map(|(key, of)| {
                    let needed =
                        needs.is_some_and(|needs| needs.iter().any(|need| need == key.as_str()));
                    let path = joined(path, key);
                    let about = one_line(text(of, "description"));
                    let default = if needed {
                        String::new()
                    } else {
                        optional(&default_of(&path))
                    };
                    format!(
                        "`{key}`{}: {}, {about}{default}",
                        also(properties, key),
                        self.value(&path, of)
                    )
                });
            return each.collect::<Vec<_>>().join("<br>");
        }
        match text(schema, "type") {
            "number" => format!("number{}", limits(schema)),
            "integer" => format!("whole number{}", limits(schema)),
            "boolean" => "true or false".to_owned(),
            "string" => "text".to_owned(),
            "array" => {
                let most = schema
                    .get("maxItems")
                    .map_or(String::new(), |most| format!(", at most {most}"));
                let of = schema
                    .get("items")
                    .map_or(String::new(), |of| self.value(&joined(path, "NAME"), of));
                format!("list of {of}{most}")
            }
            _ => match schema
                .get("additionalProperties")
                .filter(|of| of.is_object())
            {
                Some(of) => format!("by name: {}", self.value(&joined(path, "NAME"), of)),
                None => "choice".to_owned(),
            },
        }
    }

    fn codes(&mut self) {
        let _ = writeln!(self.out, "\n## Codes of complaints\n");
        let _ = writeln!(
            self.out,
            "A complaint is shown as `path:line:column: error[code]: message`, with the place and what to write instead.\n"
        );
        let _ = writeln!(self.out, "| code | says |\n| --- | --- |");
        for (code, says) in CODES {
            let _ = writeln!(self.out, "| `{code}` | {says} |");
        }
    }
}

/// The other units a key may be written in.
fn also(properties: &Map<String, Value>, key: &str) -> String {
    let same = properties
        .iter()
        .filter(|(_, other)| text(other, "x-same-as") == key);
    let others: Vec<String> = same.map(|(other, _)| format!("`{other}`")).collect();
    if others.is_empty() {
        String::new()
    } else {
        format!(" (or {})", others.join(", "))
    }
}

fn optional(default: &str) -> String {
    if default.is_empty() {
        " (may be left out)".to_owned()
    } else {
        format!(" (default {default})")
    }
}

fn default_of(path: &str) -> String {
    let standards = defaults::ALL.iter().filter(|standard| standard.key == path);
    let each: Vec<String> = standards
        .map(|standard| format!("{}: {}", standard.words(), standard.standing))
        .collect();
    each.join("; ")
}

fn limits(schema: &Value) -> String {
    let bound = |name: &str| {
        schema
            .get(name)
            .map(|bound| bound.to_string().trim_end_matches(".0").to_owned())
    };
    match (
        bound("minimum"),
        bound("exclusiveMinimum"),
        bound("maximum"),
    ) {
        (Some(least), _, Some(most)) => format!(", {least} to {most}"),
        (None, Some(above), Some(most)) => format!(", above {above}, to {most}"),
        _ => String::new(),
    }
}

fn one_line(about: &str) -> String {
    about
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .replace('|', "\\|")
}
