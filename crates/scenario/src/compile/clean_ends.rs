//! Clean ends and the way to the servery.

use scullery_engine::dist::Dist;
use scullery_engine::line::{Back, CleanEnd, Delivery};
use scullery_engine::time::Span;

use super::checker::Checker;
use super::names::Names;
use crate::defaults;
use crate::file::{self, DeliveryFile, ScenarioFile};

/// Clean ends, in order of name.
pub(crate) fn clean_ends(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<CleanEnd> {
    file.clean_end
        .iter()
        .map(|(name, written)| {
            let path = format!("clean_end.{name}");
            let by_hand = written.by_hand.unwrap_or(true);
            let back = match &written.back {
                Some(file::Back::AtOnce) => Back::After(Span::NONE),
                Some(file::Back::Each { after_s }) => Back::After(Span::from_s(*after_s)),
                Some(file::Back::Trips { of_racks, lasts_s }) => Back::Trips {
                    of: *of_racks,
                    lasts: Span::from_s(*lasts_s),
                },
                None => Back::After(Span::from_s(check.or_default(
                    None,
                    &format!("{path}.back.each.after_s"),
                    &defaults::RACK_BACK,
                ))),
            };
            let variation = if by_hand {
                check.varies(
                    &format!("{path}.varies"),
                    written.varies.as_ref(),
                    &defaults::UNLOAD_CV,
                )
            } else {
                Dist::Constant(1.0)
            };
            CleanEnd {
                name: name.clone(),
                places: written.places_racks,
                pieces: written.places_pieces,
                by_hand,
                workers: if by_hand {
                    written.workers.unwrap_or(1)
                } else {
                    0
                },
                variation,
                back,
            }
        })
        .collect()
}

/// How many carts there are for clean ware.
pub(super) fn carts(written: &DeliveryFile) -> u32 {
    written.carts.unwrap_or(2)
}

/// Carts and runner.
pub(crate) fn delivery(
    check: &mut Checker<'_>,
    file: &ScenarioFile,
    names: &Names,
) -> Option<Delivery> {
    let written = file.delivery.as_ref()?;
    for class in written.goes_below.keys() {
        let path = format!("delivery.goes_below.{class}");
        if let Some(number) = check.find(&names.ware, class, &path, "ware")
            && file.ware[number].par.is_none()
        {
            let message = format!(
                "the stock of \"{class}\" is not followed, so nobody can tell when it is low"
            );
            check.fault(
                "no-par",
                &path,
                message,
                format!("give `par` for the ware \"{class}\""),
            );
        }
    }
    Some(Delivery {
        name: written.name.clone().unwrap_or_else(|| "carts".to_owned()),
        carts: carts(written),
        cart_pieces: written.cart_pieces,
        trip: Span::from_s(written.trip_s),
        variation: check.varies(
            "delivery.varies",
            written.varies.as_ref(),
            &defaults::TRIP_CV,
        ),
        below: names
            .ware
            .iter()
            .map(|class| written.goes_below.get(class).copied())
            .collect(),
    })
}
