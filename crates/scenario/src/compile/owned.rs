//! What of the line is owned at a price.

use super::care::spoken;
use super::checker::Checker;
use super::names::Names;
use crate::file::{OwnedFile, ScenarioFile};
use crate::owned::Owned;

/// The carts for clean ware; there is one kind of them, so that a name would say nothing.
const DELIVERY: &str = "delivery";

/// What is owned at a price, in file order.
pub(crate) fn owned(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Owned> {
    let known = known(file, names);
    let mut list: Vec<Owned> = Vec::new();
    for (index, written) in file.owned.iter().enumerate() {
        let path = format!("owned.{index}");
        let of = format!("{path}.of");
        let found = check.find(&known, &written.of, &of, "element, rack kind or ware");
        if list.iter().any(|before| before.of == written.of) {
            let message = format!("{} is owned twice", written.of);
            check.fault("name-twice", &of, message, "keep one of them");
        }
        let count = match written.price_each {
            Some(_) if found.is_some() => counted(check, file, written, &path),
            _ => None,
        };
        said(check, written, &path);
        let each = written.price_each.zip(count);
        list.push(Owned {
            of: written.of.clone(),
            words: in_words(&written.of),
            count,
            price: written
                .price
                .or(each.map(|(each, (many, _))| each * f64::from(many))),
            life_years: written.life_years,
            upkeep_per_year: written.upkeep_per_year.unwrap_or(0.0),
        });
    }
    if !list.is_empty() && file.heading.days_a_year.is_some_and(|days| days <= 0.0) {
        check.fault(
            "no-days",
            "heading.days_a_year",
            "on no day of the year is there a meal to bear what the line costs to own".to_owned(),
            "write the days open in a year",
        );
    }
    list
}

/// All that can be owned, as the file names it.
fn known(file: &ScenarioFile, names: &Names) -> Vec<String> {
    let mut known = names.elements();
    let aids: Vec<String> = file.aid.keys().cloned().collect();
    for (kind, names) in [
        ("rack", &names.racks),
        ("ware", &names.ware),
        ("carts", &names.carts),
        ("aid", &aids),
    ] {
        known.extend(names.iter().map(|name| format!("{kind}.{name}")));
    }
    known.extend(file.delivery.iter().map(|_| DELIVERY.to_owned()));
    known
}

/// Complains where a price or a life is missing, or a price is told twice.
fn said(check: &mut Checker<'_>, written: &OwnedFile, path: &str) {
    let of = &written.of;
    let price = match (written.price, written.price_each) {
        (Some(_), Some(_)) => {
            let message = format!("{of} has a price for all of it and one for each");
            check.fault(
                "said-twice",
                &format!("{path}.price_each"),
                message,
                "keep one of the two",
            );
            return;
        }
        (Some(_), None) => "price",
        (None, Some(_)) => "price_each",
        (None, None) => {
            if written.upkeep_per_year.is_none() {
                let message = format!("{of} is owned and has neither a price nor an upkeep");
                check.fault(
                    "no-price",
                    path,
                    message,
                    "write `price` and `life_years`, or `upkeep_per_year`",
                );
            }
            return;
        }
    };
    if written.life_years.is_none() {
        let message = format!("{of} has a price and no life over which it is spread");
        check.fault(
            "no-life",
            &format!("{path}.{price}"),
            message,
            "write how long it lasts, for example `life_years = 10`",
        );
    }
}

/// How many there are of what has a price for each, and what one is called.
fn counted(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    written: &OwnedFile,
    path: &str,
) -> Option<(u32, &'static str)> {
    let (kind, name) = written.of.split_once('.').unwrap_or((&written.of, ""));
    let count = match kind {
        "rack" => {
            let mut racks = file.rack.iter();
            let rack = racks.find(|rack| rack.name == name)?;
            Some((rack.count, "rack"))
        }
        "ware" => {
            let mut ware = file.ware.iter();
            let par = ware.find(|ware| ware.name == name)?.par;
            if par.is_none() {
                let message =
                    format!("{name} has a price for each piece, and no `par` to count them");
                check.fault(
                    "no-par",
                    &format!("{path}.price_each"),
                    message,
                    "write how many pieces are owned as `par` of the ware, or the `price` of all of them",
                );
                return None;
            }
            par.map(|par| (par, "piece"))
        }
        "carts" => Some((file.carts.get(name)?.count, "cart")),
        DELIVERY => Some((super::clean_ends::carts(file.delivery.as_ref()?), "cart")),
        "accumulator" => Some((file.accumulator.get(name)?.tiers, "tier")),
        _ => None,
    };
    if count.is_none() {
        let message = format!(
            "{} has a price for each, and nothing of it is counted",
            written.of
        );
        check.fault(
            "not-counted",
            &format!("{path}.price_each"),
            message,
            "write the `price` of all of it",
        );
    }
    count
}

/// What is owned as people say it: `accumulator return`, `glass racks`.
fn in_words(of: &str) -> String {
    match of.split_once('.') {
        Some(("rack", name)) => format!("{name} racks").replace('_', " "),
        Some(("ware", name)) => format!("{name} ware").replace('_', " "),
        None if of == DELIVERY => "carts for clean ware".to_owned(),
        _ => spoken(of),
    }
}
