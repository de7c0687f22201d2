//! Numbers, texts and lists against their limits.

use serde_json::{Value as Json, json};

use super::shapes::{nearest, one_key, plain, shortened, wanted, words};
use super::{Spot, Walker};
use crate::text::tree::Node;

impl<'s> Walker<'s> {
    /// A number, brought within its limits when it is not.
    pub(super) fn number(
        &mut self,
        number: f64,
        node: &Node,
        schema: &'s Json,
        spot: &Spot,
    ) -> Json {
        let whole = schema.get("type").and_then(Json::as_str) == Some("integer");
        let bound = |name: &str| schema.get(name).and_then(Json::as_f64);
        let (least, above, most) = (
            bound("minimum"),
            bound("exclusiveMinimum"),
            bound("maximum"),
        );
        let key = spot.key.rsplit('.').next().unwrap_or("");
        let write = |value: f64| {
            (!key.contains('[')).then(|| format!("write for example `{key} = {}`", plain(value)))
        };
        let named = spot.named();
        let low = least.filter(|least| number < *least);
        let high = most.filter(|most| number > *most);
        let complaint = if !number.is_finite() {
            Some((
                "not-finite",
                format!("{named} must be a finite number, found {number}"),
                None,
            ))
        } else if let Some(least) = low {
            Some((
                "too-small",
                format!("{named} must be at least {}, found {number}", plain(least)),
                write(least),
            ))
        } else if let Some(above) = above.filter(|above| number <= *above) {
            Some((
                "too-small",
                format!("{named} must be more than {}, found {number}", plain(above)),
                None,
            ))
        } else if let Some(most) = high {
            Some((
                "too-large",
                format!("{named} must be at most {}, found {number}", plain(most)),
                write(most),
            ))
        } else if whole && number.fract() != 0.0 {
            Some((
                "not-whole",
                format!("{named} must be a whole number, found {number}"),
                write(number.round()),
            ))
        } else {
            None
        };
        if let Some((code, message, help)) = complaint {
            self.fault(code, node.at.clone(), message, help);
        }
        let least = least
            .or(above.map(|above| above + 1e-3))
            .unwrap_or(f64::MIN);
        let within = if number.is_nan() {
            least
        } else {
            number.max(least).min(most.unwrap_or(f64::MAX))
        };
        if whole {
            json!(within.round() as i64)
        } else {
            json!(within)
        }
    }

    pub(super) fn text(
        &mut self,
        text: &str,
        node: &Node,
        of_kind: &[&'s Json],
        shapes: &[&'s Json],
        spot: &Spot,
    ) -> Json {
        let words: Vec<&str> = of_kind.iter().flat_map(|shape| words(shape)).collect();
        if words.is_empty() {
            let length = text.chars().count();
            let bound = |name: &str| {
                of_kind[0]
                    .get(name)
                    .and_then(Json::as_u64)
                    .map(|bound| bound as usize)
            };
            let complaint = match (bound("minLength"), bound("maxLength")) {
                (Some(least), _) if length < least => {
                    Some(("too-small", format!("at least {least}")))
                }
                (_, Some(most)) if length > most => Some(("too-large", format!("at most {most}"))),
                _ => None,
            };
            if let Some((code, limit)) = complaint {
                let message = format!(
                    "the length of {} must be {limit}, found {length}",
                    spot.named()
                );
                self.fault(code, node.at.clone(), message, None);
            }
        } else if !words.contains(&text) {
            let message = format!(
                "{} must be {}, found \"{}\"",
                spot.named(),
                wanted(shapes),
                shortened(text)
            );
            let help = if shapes
                .iter()
                .any(|shape| one_key(shape).is_some_and(|(key, _)| key == text))
            {
                Some(format!(
                    "`{text}` needs its own values: `{text} = {{ .. }}`"
                ))
            } else {
                nearest(text, words.iter().copied()).map(|word| format!("did you mean \"{word}\"?"))
            };
            self.fault("unknown-choice", node.at.clone(), message, help);
        }
        json!(text)
    }

    /// A list, cut off where it is too long.
    pub(super) fn list(
        &mut self,
        items: &[Node],
        node: &Node,
        schema: &'s Json,
        spot: &Spot,
    ) -> Json {
        let bound = |name: &str| {
            schema
                .get(name)
                .and_then(Json::as_u64)
                .map(|bound| bound as usize)
        };
        let most = bound("maxItems").unwrap_or(usize::MAX);
        let complaint = if bound("minItems").is_some_and(|least| items.len() < least) {
            Some((
                "too-small",
                format!("at least {}", bound("minItems").unwrap_or(0)),
            ))
        } else if items.len() > most {
            Some(("too-large", format!("at most {most}")))
        } else {
            None
        };
        if let Some((code, limit)) = complaint {
            let at = if node.at.is_empty() {
                spot.at.clone()
            } else {
                node.at.clone()
            };
            let message = format!(
                "the number of entries of {} must be {limit}, found {}",
                spot.named(),
                items.len()
            );
            self.fault(code, at, message, None);
        }
        let Some(of) = schema.get("items") else {
            return Json::Array(Vec::new());
        };
        let each = items.iter().take(most).enumerate().map(|(index, item)| {
            let spot = Spot {
                key: format!("{}[{}]", spot.key, index + 1),
                at: item.at.clone(),
            };
            self.node(item, of, &spot)
        });
        Json::Array(each.collect())
    }
}
