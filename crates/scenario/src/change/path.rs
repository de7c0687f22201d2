//! From the words of a path to a place in the tree.

use std::ops::Range;

use serde_json::Value as Json;

use super::fault;
use super::shape::{fits, folded, is, items, kept, keys, name_of, named, property, spread};
use crate::diagnostic::Diagnostic;
use crate::text::tree::{Entry, Node, Value};
use crate::text::walk::nearest;

/// One step on the way.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Step {
    /// Down under a key of a table.
    Key(String),
    /// To an entry of a list, from 0.
    Index(usize),
}

/// Where a path leads.
pub(super) struct Found {
    /// The way, by the keys the file has; steps past what is there are keys that may be there.
    pub(super) steps: Vec<Step>,
    /// The last key as the path has it, which may be in other units than the file's.
    pub(super) last: String,
    /// What may stand there.
    pub(super) shapes: Vec<&'static Json>,
}

type Words = [(String, Range<usize>)];

/// Follows `words` from the root.
pub(super) fn find(root: &Node, schema: &'static Json, words: &Words) -> Result<Found, Diagnostic> {
    let mut walk = Walk {
        here: Some(root),
        shapes: spread(schema),
        last: String::new(),
        steps: Vec::new(),
        said: String::new(),
    };
    for (word, at) in words {
        walk.down(word, at)?;
    }
    Ok(Found {
        steps: walk.steps,
        shapes: walk.shapes,
        last: walk.last,
    })
}

struct Walk<'t> {
    here: Option<&'t Node>,
    shapes: Vec<&'static Json>,
    last: String,
    steps: Vec<Step>,
    said: String,
}

impl<'t> Walk<'t> {
    fn go(&mut self, step: Step, said: &str, to: Option<&'t Node>, shapes: Vec<&'static Json>) {
        self.steps.push(step);
        if !self.said.is_empty() {
            self.said.push('.');
        }
        self.said.push_str(said);
        said.clone_into(&mut self.last);
        self.here = to;
        self.shapes = shapes;
    }

    fn down(&mut self, word: &str, at: &Range<usize>) -> Result<(), Diagnostic> {
        match self.here.map(|node| &node.value) {
            Some(Value::Table(entries)) => self.down_table(entries, word, at),
            Some(Value::List(list)) => self.down_list(list, word, at),
            None if self.shapes.iter().any(|shape| is(shape, "array")) => {
                let said = &self.said;
                let message = format!("`{said}` is not in the file, so it has no entry `{word}`");
                let help = format!("add one: `+{said}=...`");
                Err(fault("unknown-name", at.clone(), message, help))
            }
            None => self.down_table(&[], word, at),
            Some(_) => {
                let said = &self.said;
                let stands = self.here.map_or(String::new(), super::value::words);
                let message = format!("`{said}` is {stands} here, and nothing stands below it");
                let help = if self.shapes.iter().any(|shape| is(shape, "object")) {
                    format!("change it as a whole: `{said}={{ ... }}`")
                } else {
                    format!("end the path there: `{said}=...`")
                };
                Err(fault("wrong-type", at.clone(), message, help))
            }
        }
    }

    fn down_table(
        &mut self,
        entries: &'t [Entry],
        word: &str,
        at: &Range<usize>,
    ) -> Result<(), Diagnostic> {
        let own = named(&self.shapes);
        if !own.is_empty() && !entries.iter().any(|entry| self.knows(&entry.key)) {
            return self.down_name(entries, own, word, at);
        }
        let records = self
            .shapes
            .iter()
            .copied()
            .filter(|shape| is(shape, "object"));
        let records: Vec<&'static Json> = records.collect();
        let fitting: Vec<&'static Json> = records
            .iter()
            .copied()
            .filter(|shape| fits(shape, entries))
            .collect();
        let of = |shape: &&'static Json| key_meant(shape, word).map(|key| (*shape, key));
        if let Some((shape, key)) = fitting.iter().find_map(of) {
            let same = kept(shape, key);
            let there = entries.iter().find(|entry| kept(shape, &entry.key) == same);
            let shapes = property(shape, key).map(spread).unwrap_or_default();
            let step = there.map_or(key, |entry| &entry.key).to_owned();
            self.go(
                Step::Key(step),
                key,
                there.map(|entry| &entry.value),
                shapes,
            );
            return Ok(());
        }
        if let Some((_, key)) = records.iter().find_map(of) {
            let chosen = entries.first().map_or("", |entry| entry.key.as_str());
            let said = &self.said;
            let message = format!("`{said}` is `{chosen}` here, not `{key}`");
            let help = format!("change it as a whole: `{said}={{ {key} = ... }}`");
            return Err(fault("unknown-choice", at.clone(), message, help));
        }
        Err(self.unknown_key(&records, word, at))
    }

    /// Whether `key` is a known key here, not a name of the user's own.
    fn knows(&self, key: &str) -> bool {
        self.shapes
            .iter()
            .any(|shape| property(shape, key).is_some())
    }

    fn unknown_key(&self, records: &[&'static Json], word: &str, at: &Range<usize>) -> Diagnostic {
        let named = if self.said.is_empty() {
            "the scenario".to_owned()
        } else {
            format!("`{}`", self.said)
        };
        let message = format!("{named} has no key `{word}`");
        let known: Vec<&str> = records.iter().flat_map(|shape| keys(shape)).collect();
        // `length` is meant for `length_m` before anything that only looks like it.
        let begun = known
            .iter()
            .copied()
            .find(|key| key.starts_with(&format!("{word}_")));
        let help = match begun.or_else(|| nearest(word, known.iter().copied())) {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                let own = records
                    .iter()
                    .flat_map(|shape| keys(shape).filter(|key| kept(shape, key) == *key));
                let own: Vec<String> = own.map(|key| format!("`{key}`")).collect();
                format!("its keys are {}", own.join(", "))
            }
        };
        fault("unknown-key", at.clone(), message, help)
    }

    fn down_name(
        &mut self,
        entries: &'t [Entry],
        own: Vec<&'static Json>,
        word: &str,
        at: &Range<usize>,
    ) -> Result<(), Diagnostic> {
        let names: Vec<&str> = entries.iter().map(|entry| entry.key.as_str()).collect();
        match the_one(&names, word) {
            Some(index) => {
                let entry = &entries[index];
                self.go(
                    Step::Key(entry.key.clone()),
                    &entry.key,
                    Some(&entry.value),
                    own,
                );
                Ok(())
            }
            None => Err(self.unknown_name(&names, word, at)),
        }
    }

    fn down_list(
        &mut self,
        list: &'t [Node],
        word: &str,
        at: &Range<usize>,
    ) -> Result<(), Diagnostic> {
        let names: Vec<&str> = list
            .iter()
            .map(|item| name_of(item).unwrap_or(""))
            .collect();
        let by_number = || {
            let number = word.parse::<usize>().ok()?;
            (1..=list.len()).contains(&number).then(|| number - 1)
        };
        match the_one(&names, word).or_else(by_number) {
            Some(index) => {
                let said = if names[index].is_empty() {
                    word
                } else {
                    names[index]
                };
                let shapes = items(&self.shapes);
                self.go(Step::Index(index), said, Some(&list[index]), shapes);
                Ok(())
            }
            None if names.iter().all(|name| name.is_empty()) => {
                let said = &self.said;
                let message = format!("`{said}` has no entry `{word}`");
                let help = match list.len() {
                    0 => format!("it is empty; add one: `+{said}=...`"),
                    1 => format!("its one entry is `{said}.1`"),
                    n => format!("its entries are numbered `{said}.1` to `{said}.{n}`"),
                };
                Err(fault("unknown-name", at.clone(), message, help))
            }
            None => Err(self.unknown_name(&names, word, at)),
        }
    }

    fn unknown_name(&self, names: &[&str], word: &str, at: &Range<usize>) -> Diagnostic {
        let said = &self.said;
        let message = format!("`{said}` has nothing called `{word}`");
        let folded_names: Vec<String> = names.iter().map(|name| folded(name)).collect();
        let near = nearest(&folded(word), folded_names.iter().map(String::as_str))
            .and_then(|near| folded_names.iter().position(|name| name == near));
        let help = match near {
            Some(index) => format!("did you mean `{}`?", names[index]),
            None if names.is_empty() => format!("there is none; `+{said}.{word}=...` adds one"),
            None => {
                let shown: Vec<String> = names.iter().map(|name| format!("`{name}`")).collect();
                format!(
                    "there are {}; `+{said}.{word}=...` adds one",
                    shown.join(", ")
                )
            }
        };
        fault("unknown-name", at.clone(), message, help)
    }
}

/// The name that is meant: the very one, else the only one alike but for capitals, blanks and hyphens.
pub(super) fn the_one(names: &[&str], word: &str) -> Option<usize> {
    if word.is_empty() {
        return None;
    }
    let exact = names.iter().position(|name| *name == word);
    exact.or_else(|| {
        let wanted = folded(word);
        let mut alike = (0..names.len()).filter(|&index| folded(names[index]) == wanted);
        let first = alike.next()?;
        alike.next().is_none().then_some(first)
    })
}

/// The key that a word means: itself, or in a list's place the same word in the plural.
fn key_meant(shape: &'static Json, word: &str) -> Option<&'static str> {
    let exact = keys(shape).find(|key| *key == word);
    exact.or_else(|| {
        keys(shape).find(|key| {
            key.strip_suffix('s') == Some(word)
                && property(shape, key)
                    .is_some_and(|of| spread(of).iter().any(|of| is(of, "array")))
        })
    })
}

/// What stands at the end of a way, if anything does.
pub(super) fn node<'t>(root: &'t Node, steps: &[Step]) -> Option<&'t Node> {
    steps
        .iter()
        .try_fold(root, |here, step| match (&here.value, step) {
            (Value::Table(entries), Step::Key(key)) => entries
                .iter()
                .find(|entry| entry.key == *key)
                .map(|entry| &entry.value),
            (Value::List(list), Step::Index(index)) => list.get(*index),
            _ => None,
        })
}

/// A way in words: names as the file has them.
pub(super) fn said(root: &Node, steps: &[Step]) -> String {
    let mut words = Vec::new();
    let mut here = Some(root);
    for step in steps {
        let next = here.and_then(|here| node(here, std::slice::from_ref(step)));
        words.push(match step {
            Step::Key(key) => key.clone(),
            Step::Index(index) => next
                .and_then(name_of)
                .map_or_else(|| (index + 1).to_string(), str::to_owned),
        });
        here = next;
    }
    words.join(".")
}
