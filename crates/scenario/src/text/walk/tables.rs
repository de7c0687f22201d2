//! Tables: with known keys, and with names of the user's own.

use std::collections::BTreeMap;

use serde_json::{Map, Value as Json};

use super::shapes::{listed, nearest, shortened};
use super::{Spot, Walker};
use crate::text::schema::is_name;
use crate::text::tree::Entry;
use crate::text::units;

impl<'s> Walker<'s> {
    pub(super) fn table(&mut self, entries: &[Entry], schema: &'s Json, spot: &Spot) -> Json {
        match (
            schema.get("properties").and_then(Json::as_object),
            schema.get("additionalProperties"),
        ) {
            (Some(properties), _) => self.record(entries, properties, schema, spot),
            (None, Some(of)) if of.is_object() => self.keyed(entries, of, schema, spot),
            _ => Json::Object(Map::new()),
        }
    }

    /// A table with known keys.
    fn record(
        &mut self,
        entries: &[Entry],
        properties: &'s Map<String, Json>,
        schema: &'s Json,
        spot: &Spot,
    ) -> Json {
        let mut out = Map::new();
        let mut given: BTreeMap<&str, &Entry> = BTreeMap::new();
        for entry in entries {
            let Some(property) = properties.get(&entry.key) else {
                self.unknown_key(entry, properties, spot);
                continue;
            };
            let kept = property
                .get("x-same-as")
                .and_then(Json::as_str)
                .unwrap_or(&entry.key);
            let mut value = self.node(
                &entry.value,
                property,
                &spot.below(&entry.key, &entry.key_at),
            );
            if let Some(before) = given.insert(kept, entry) {
                let message = format!(
                    "`{}` says the same thing as `{}`, which is given too",
                    entry.key, before.key
                );
                let help = Some("keep the one in your own units".to_owned());
                self.fault("two-units", entry.key_at.clone(), message, help);
            }
            if kept != entry.key {
                units::convert_amount(kept, &entry.key, &mut value);
            }
            out.insert(kept.to_owned(), value);
        }
        let needed = schema
            .get("x-needs")
            .or_else(|| schema.get("required"))
            .and_then(Json::as_array);
        for key in needed.into_iter().flatten().filter_map(Json::as_str) {
            if !given.contains_key(key) {
                self.missing_key(key, properties, spot);
            }
        }
        Json::Object(out)
    }

    fn unknown_key(&mut self, entry: &Entry, properties: &'s Map<String, Json>, spot: &Spot) {
        let message = format!("{} has no key `{}`", spot.named(), shortened(&entry.key));
        let help = match nearest(&entry.key, properties.keys().map(String::as_str)) {
            Some(near) => format!("did you mean `{near}`?"),
            None => {
                let own = properties
                    .iter()
                    .filter(|(_, of)| of.get("x-same-as").is_none());
                format!(
                    "its keys are {}",
                    listed(own.map(|(key, _)| format!("`{key}`")), "and")
                )
            }
        };
        self.fault("unknown-key", entry.key_at.clone(), message, Some(help));
    }

    fn missing_key(&mut self, key: &str, properties: &'s Map<String, Json>, spot: &Spot) {
        let about = properties
            .get(key)
            .and_then(|of| of.get("description"))
            .and_then(Json::as_str)
            .unwrap_or("");
        let about = about
            .split(['.', ':', ';'])
            .next()
            .unwrap_or("")
            .trim()
            .replace('\n', " ");
        let mut letters = about.chars();
        let about: String = letters
            .next()
            .into_iter()
            .flat_map(char::to_lowercase)
            .chain(letters)
            .collect();
        let or = units::others(key)
            .next()
            .map_or(String::new(), |other| format!(" (or `{other}`)"));
        let help = format!("add `{key}`{or}: {about}");
        self.fault(
            "missing-key",
            spot.at.clone(),
            format!("{} needs the key `{key}`", spot.named()),
            Some(help),
        );
    }

    /// A table whose keys are names of the user's own.
    fn keyed(&mut self, entries: &[Entry], of: &'s Json, schema: &'s Json, spot: &Spot) -> Json {
        let bound = |name: &str| {
            schema
                .get(name)
                .and_then(Json::as_u64)
                .map(|bound| bound as usize)
        };
        let most = bound("maxProperties").unwrap_or(usize::MAX);
        let complaint = if bound("minProperties").is_some_and(|least| entries.len() < least) {
            Some((
                "too-small",
                format!("at least {}", bound("minProperties").unwrap_or(0)),
            ))
        } else if entries.len() > most {
            Some(("too-large", format!("at most {most}")))
        } else {
            None
        };
        if let Some((code, limit)) = complaint {
            let message = format!(
                "the number of entries of {} must be {limit}, found {}",
                spot.named(),
                entries.len()
            );
            self.fault(code, spot.at.clone(), message, None);
        }
        let mut out = Map::new();
        for entry in entries.iter().take(most) {
            if !is_name(&entry.key) {
                let message = format!(
                    "a name is a letter, then letters, digits, blanks, `_` or `-`, 40 at most, found `{}`",
                    shortened(&entry.key)
                );
                let help = Some("choose a short plain name".to_owned());
                self.fault("not-a-name", entry.key_at.clone(), message, help);
            }
            let value = self.node(&entry.value, of, &spot.below(&entry.key, &entry.key_at));
            out.insert(entry.key.clone(), value);
        }
        Json::Object(out)
    }
}
