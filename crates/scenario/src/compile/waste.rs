//! Waste: its kinds, where each goes, what disposers draw.

use scullery_engine::line::{Line, MOST_WASTE_KINDS, StoreKind, WasteKind, WasteStore};

use super::checker::Checker;
use super::names::Names;
use crate::file::{DisposerRunsFile, ScenarioFile, ScrappingFile};
use crate::plan::DisposerUse;

/// The one kind of waste where the file tells none apart.
pub(super) const ALL: &str = "waste";

/// Kinds of waste, in order of name; none where it goes nowhere in particular.
pub(crate) fn kinds(check: &mut Checker<'_>, file: &ScenarioFile) -> Vec<WasteKind> {
    if file.waste.is_empty() {
        let followed = !file.disposer.is_empty() || !file.bin.is_empty();
        let all = followed.then(|| WasteKind {
            name: ALL.to_owned(),
            share_ppm: 1_000_000,
        });
        return all.into_iter().collect();
    }
    let sum: f64 = file.waste.values().map(|kind| kind.share).sum();
    if (sum - 1.0).abs() > 1e-6 {
        let message = format!(
            "shares of waste must sum to 1, found {}",
            crate::defaults::rounded(sum)
        );
        check.fault(
            "shares-not-one",
            "waste",
            message,
            "let them be shares of the whole weight",
        );
    }
    if file.waste.len() > MOST_WASTE_KINDS {
        let message = format!(
            "there are at most {MOST_WASTE_KINDS} kinds of waste, found {}",
            file.waste.len()
        );
        check.fault("too-large", "waste", message, "join what can be joined");
    }
    // Rounded so that all of them are a million.
    let (mut so_far, mut given) = (0.0, 0);
    let each = file.waste.iter().map(|(name, kind)| {
        so_far += kind.share;
        let upto = ((so_far * 1e6).round() as u32).min(1_000_000);
        let share_ppm = upto.saturating_sub(given);
        given = upto.max(given);
        WasteKind {
            name: name.clone(),
            share_ppm,
        }
    });
    each.collect()
}

/// Disposers and then bins, each in order of name.
pub(crate) fn stores(file: &ScenarioFile) -> Vec<WasteStore> {
    let grams = |kg: f64| (kg * 1000.0).round().max(1.0) as u32;
    let disposers = file.disposer.iter().map(|(name, it)| WasteStore {
        name: name.clone(),
        kind: StoreKind::Ground {
            g_per_min: grams(it.rate_kg_per_min),
            room_g: it.holds_kg.map(grams),
            throughout: it.runs == Some(DisposerRunsFile::Throughout),
        },
    });
    let bins = file.bin.iter().map(|(name, it)| WasteStore {
        name: name.clone(),
        kind: StoreKind::Bins {
            each_g: grams(it.holds_kg),
            count: it.count.unwrap_or(1),
        },
    });
    disposers.chain(bins).collect()
}

/// What each store draws while it runs: nothing for bins.
pub(crate) fn uses(file: &ScenarioFile) -> Vec<DisposerUse> {
    let disposers = file.disposer.values().map(|it| DisposerUse {
        water_l_per_min: it.water_l_per_min.unwrap_or(0.0),
        running_kw: it.running_kw.unwrap_or(0.0),
    });
    let bins = file.bin.values().map(|_| DisposerUse::default());
    disposers.chain(bins).collect()
}

/// Where a post throws each kind of waste.
pub(crate) fn waste_to(
    check: &mut Checker<'_>,
    written: &ScrappingFile,
    path: &str,
    names: &Names,
) -> Vec<Option<u8>> {
    if written.waste_to.is_empty() {
        return Vec::new();
    }
    let mut to = vec![None; names.waste_kinds.len()];
    for (kind, store) in &written.waste_to {
        let path = format!("{path}.waste_to.{kind}");
        let kind = check.find(&names.waste_kinds, kind, &path, "kind of waste");
        let store = check.find(&names.waste_stores, store, &path, "disposer or bin");
        if let (Some(kind), Some(store)) = (kind, store) {
            to[kind] = Some(store as u8);
        }
    }
    to
}

/// Complains about disposers and bins that nothing is thrown into.
pub(crate) fn joined(check: &mut Checker<'_>, file: &ScenarioFile, line: &Line) {
    if !check.all_found(&["kind of waste", "disposer or bin"]) {
        return;
    }
    for (number, it) in line.waste_stores.iter().enumerate() {
        let number = number as u8;
        let at_posts = line.scrapping.iter().flat_map(|post| &post.waste_to);
        let by_diners = line.drop_offs.iter().flat_map(|it| &it.aids);
        let fed = at_posts.flatten().any(|store| *store == number)
            || by_diners.clone().any(|aid| {
                matches!(aid.into, scullery_engine::line::AidInto::Waste { store, .. } if store == number)
            });
        if !fed {
            let kind = match usize::from(number) < file.disposer.len() {
                true => "disposer",
                false => "bin",
            };
            let message = format!("nothing is ever thrown into \"{}\"", it.name);
            let help = format!(
                "let a post have `waste_to = {{ {} = \"{}\" }}`, or leave it out",
                line.waste_kinds
                    .first()
                    .map_or(ALL, |kind| kind.name.as_str()),
                it.name
            );
            check.fault("never-fed", &format!("{kind}.{}", it.name), message, help);
        }
    }
}
