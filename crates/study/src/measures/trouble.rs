//! Measures of trouble: how often, how long, and how long until somebody came.

use scullery_engine::watch::{Catalogue, Counted, Role};

use super::floor::{minutes, nth_count, of_role};
use super::{Measures, plain};
use crate::words::{own_name, place_words};

/// Times, minutes and waits of each kind of trouble.
pub(super) fn troubles(to: &mut Measures, catalogue: &Catalogue) {
    for (i, (p, place)) in of_role(catalogue, Role::Trouble).enumerate() {
        let at = &place_words(place);
        let id = |what: &str| format!("trouble.{}.{what}", own_name(place));
        if let Some(count) = nth_count(catalogue, Counted::Troubles, i) {
            to.add(
                plain(id("times_count"), at, format!("Times: {at}"), "count"),
                move |m| Some(m.record.counts[count].total as f64),
            );
        }
        to.add(
            plain(id("lasts_min"), at, format!("Minutes in all: {at}"), "min"),
            move |m| m.record.places[p].at_level_us.get(1).map(|&us| minutes(us)),
        );
        to.add(
            plain(
                id("wait_max_s"),
                at,
                format!("Longest until somebody came: {at}"),
                "s",
            ),
            move |m| m.record.waits[p].longest_us.map(super::floor::seconds),
        );
    }
}
