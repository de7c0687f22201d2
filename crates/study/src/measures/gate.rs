//! Measures of gates at the load end.

use scullery_engine::watch::{Catalogue, Role};

use super::floor::{minutes, of_role};
use super::{Measures, plain};
use crate::words::{own_name, place_words};

/// Minutes in which each gate was up.
pub(super) fn gates(to: &mut Measures, catalogue: &Catalogue) {
    for (p, place) in of_role(catalogue, Role::Gate) {
        let at = &place_words(place);
        to.add(
            plain(
                format!("gate.{}.up_min", own_name(place)),
                at,
                format!("Minutes in all: {at} is up"),
                "min",
            ),
            move |m| m.record.places[p].at_level_us.get(1).map(|&us| minutes(us)),
        );
    }
}
