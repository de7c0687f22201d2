//! Ware and racks.

use scullery_engine::line::{Class, ClassId, RackKind, RackKindId, Short};
use scullery_engine::time::{SimTime, Span};

use super::checker::Checker;
use super::names::Names;
use crate::defaults;
use crate::file::{FitFile, Material, ScenarioFile, ShortFile, WareFile};

/// Kinds of rack, in file order.
pub(crate) fn rack_kinds(file: &ScenarioFile) -> Vec<RackKind> {
    file.rack
        .iter()
        .map(|rack| RackKind {
            name: rack.name.clone(),
            count: rack.count,
        })
        .collect()
}

/// Classes of ware, in file order.
pub(crate) fn classes(check: &mut Checker<'_>, file: &ScenarioFile, names: &Names) -> Vec<Class> {
    let unloaded = file
        .clean_end
        .values()
        .any(|end| end.by_hand.unwrap_or(true));
    let dried = !file.clean_end.is_empty();
    file.ware
        .iter()
        .enumerate()
        .map(|(index, ware)| {
            let path = format!("ware.{index}");
            let fits = fits(check, names, &ware.fits, &path, &ware.name);
            let named = format!("ware.{}", ware.name);
            let (unload_s, unload_rack_s) = if unloaded {
                unloading(check, ware, &named)
            } else {
                (0.0, 0.0)
            };
            let dry_min = if dried {
                drying(check, ware, &named)
            } else {
                ware.dry_min.unwrap_or(0.0)
            };
            Class {
                name: ware.name.clone(),
                par: ware.par,
                fits,
                dry: Span::from_min(dry_min),
                unload_s,
                unload_rack_s,
                clean_end: ware.clean_end.as_ref().and_then(|end| {
                    let path = format!("{path}.clean_end");
                    let number = check.find(&names.clean_ends, end, &path, "clean end");
                    number.map(|number| number as u8)
                }),
                short: short(check, ware, index, names),
                disposable: disposable_hours(check, ware, &path),
                stays_in_rack: ware.stays_in_rack,
                // Where it goes back to is known once the racking tables are.
                rewash: None,
                // So is the table where it is sorted.
                second_pass: None,
                broken: ware.breakage_share.unwrap_or(0.0),
                waste_g: ware.waste_kg.map_or(0, |kg| (kg * 1000.0).round() as u32),
            }
        })
        .collect()
}

/// Racks that take a class, as written under `path`.
pub(super) fn fits(
    check: &mut Checker<'_>,
    names: &Names,
    written: &[FitFile],
    path: &str,
    ware: &str,
) -> Vec<(RackKindId, u16)> {
    let mut fits: Vec<(RackKindId, u16)> = Vec::new();
    for (place, fit) in written.iter().enumerate() {
        let path = format!("{path}.fits.{place}.rack");
        if let Some(kind) = check.find(&names.racks, &fit.rack, &path, "rack kind") {
            let kind = RackKindId(kind as u8);
            if fits.iter().any(|(known, _)| *known == kind) {
                let message = format!("\"{ware}\" names the rack \"{}\" twice", fit.rack);
                check.fault("name-twice", &path, message, "keep one of the two");
            }
            fits.push((kind, fit.pieces));
        }
    }
    fits
}

/// What a cover does that finds too few.
fn short(check: &mut Checker<'_>, ware: &WareFile, index: usize, names: &Names) -> Short {
    let path = format!("ware.{index}.short");
    if ware.short.is_some() && ware.par.is_none() {
        let message = format!(
            "\"{}\" never runs out: its stock is not followed",
            ware.name
        );
        check.fault("no-par", &path, message, "add `par`, the pieces owned");
    }
    match &ware.short {
        None | Some(ShortFile::Without) => Short::Without,
        Some(ShortFile::Disposable { .. }) => Short::Disposable,
        Some(ShortFile::Waits { at_most_min }) => Short::Waits(Span::from_min(*at_most_min)),
        Some(ShortFile::Takes(other)) => {
            let path = format!("{path}.takes");
            let Some(other) = check.find(&names.ware, other, &path, "ware") else {
                return Short::Without;
            };
            if other == index {
                let message = format!("instead of \"{0}\" they would take \"{0}\"", ware.name);
                check.fault("takes-itself", &path, message, "name another class");
            }
            Short::Takes(ClassId(other as u8))
        }
    }
}

/// Hours in which something disposable is given instead, in clock order. One piece of it has one price.
fn disposable_hours(
    check: &mut Checker<'_>,
    ware: &WareFile,
    path: &str,
) -> Vec<(SimTime, SimTime)> {
    let Some(written) = &ware.disposable else {
        return Vec::new();
    };
    if let (Some(ShortFile::Disposable { price: Some(short) }), Some(price)) =
        (&ware.short, written.price)
        && short.total_cmp(&price).is_ne()
    {
        let message = format!(
            "something disposable instead of \"{}\" costs {price} here and {short} where it has run out",
            ware.name
        );
        check.fault(
            "said-twice",
            &format!("{path}.disposable.price"),
            message,
            "give the price once",
        );
    }
    let mut hours: Vec<(SimTime, SimTime)> = Vec::new();
    for (index, it) in written.hours.iter().enumerate() {
        let path = format!("{path}.disposable.hours.{index}");
        let from = check.clock(&format!("{path}.from"), &it.from);
        let to = check.clock_after(&format!("{path}.to"), &it.to, from);
        if hours.last().is_some_and(|(_, last)| from < *last) {
            let message = format!("hours must follow each other, found some from {}", it.from);
            check.fault(
                "times-out-of-order",
                &format!("{path}.from"),
                message,
                "put them in clock order",
            );
        }
        hours.push((from, to));
    }
    hours
}

/// Price of a disposable piece, by class; nothing for a class that is never replaced by one, or where no price is given.
pub(crate) fn disposable_prices(file: &ScenarioFile) -> Vec<Option<f64>> {
    let price = |ware: &WareFile| {
        let by_the_clock = ware.disposable.as_ref().and_then(|it| it.price);
        by_the_clock.or(match ware.short {
            Some(ShortFile::Disposable { price }) => price,
            _ => None,
        })
    };
    file.ware.iter().map(price).collect()
}

fn unloading(check: &mut Checker<'_>, ware: &WareFile, path: &str) -> (f64, f64) {
    if ware.stays_in_rack {
        let rack_s = check.or_default(
            ware.unload_rack_s,
            &format!("{path}.unload_rack_s"),
            &defaults::UNLOAD_RACK,
        );
        return (ware.unload_s.unwrap_or(0.0), rack_s);
    }
    let piece_s = match (ware.unload_s, ware.unload_rack_s) {
        // Who gives the seconds of a whole rack means them in all.
        (None, Some(_)) => 0.0,
        (given, _) => check.or_default(given, &format!("{path}.unload_s"), &defaults::UNLOAD_PIECE),
    };
    (piece_s, ware.unload_rack_s.unwrap_or(0.0))
}

fn drying(check: &mut Checker<'_>, ware: &WareFile, path: &str) -> f64 {
    let standard = match ware.material {
        Some(Material::Glass) => &defaults::DRY_GLASS,
        Some(Material::Plastic) => &defaults::DRY_PLASTIC,
        Some(Material::Tray) => &defaults::DRY_TRAY,
        Some(Material::China | Material::Metal) | None => &defaults::DRY_CHINA,
    };
    check.or_default(ware.dry_min, &format!("{path}.dry_min"), standard)
}
