//! Measures of the whole line: covers, when all is clean, labour, water, energy, money.

use scullery_engine::ended::How;
use scullery_engine::line::Short;
use scullery_engine::watch::{Catalogue, Counted};
use scullery_scenario::plan::Plan;

use super::floor::nth_count;
use super::{Meal, Measures, headline, plain, ratio};
use crate::money::Amounts;
use crate::owning::{self, PER_COVER, WITH_OWNING, WITH_OWNING_PER_COVER};

/// Covers, trays left aside, and when the last tray and the room were clean.
pub(super) fn line(to: &mut Measures, plan: &Plan, catalogue: &Catalogue) {
    let total = |counted: Counted| nth_count(catalogue, counted, 0);
    let served = total(Counted::Served);
    let covers = move |m: &Meal<'_>| served.map(|c| m.record.counts[c].total as f64);
    to.add(
        headline("line.covers", "", "Covers served", "covers"),
        covers,
    );
    if let Some(dropped) = total(Counted::DroppedOff) {
        to.add(
            plain("line.dropped_off_trays", "", "Trays dropped off", "trays"),
            move |m| Some(m.record.counts[dropped].total as f64),
        );
    }
    if let (Some(aside), Some(late)) = (total(Counted::LeftAside), total(Counted::Late)) {
        to.add(
            plain(
                "overflow.trays",
                "",
                "Trays left aside: too many people waited, or the drop-off had closed",
                "trays",
            ),
            move |m| {
                let counts = &m.record.counts;
                Some((counts[aside].total + counts[late].total) as f64)
            },
        );
        to.add(
            plain(
                "overflow.late_trays",
                "",
                "Trays that came after the drop-off had closed",
                "trays",
            ),
            move |m| Some(m.record.counts[late].total as f64),
        );
    }
    to.add(
        headline(
            "clean.last_clock_min",
            "",
            "The last tray is clean at",
            "clock_min",
        ),
        |m| m.ended.all_clean_at.map(|at| at.min()),
    );
    to.absent_fails();
    to.add(
        headline(
            "line.room_clean_clock_min",
            "",
            "The room is clean, the last tray and all cleaning done, at",
            "clock_min",
        ),
        room_clean_min,
    );
    to.absent_fails();
    let labour = plan.line.crew.len();
    if labour > 0 {
        to.add(
            headline(
                "line.covers_per_labour_h",
                "",
                "Covers for an hour of labour",
                "covers_per_h",
            ),
            move |m| ratio(covers(m)?, m.amounts.labour_h),
        );
        to.add(
            plain(
                "line.labour_min_per_cover",
                "",
                "Minutes of labour for a cover",
                "min",
            ),
            move |m| ratio(m.amounts.labour_h * 60.0, covers(m)?),
        );
    }
    let money = plan.money.clone();
    if Amounts::default().cost(&money).is_some() {
        let priced = money.clone();
        to.add(
            plain(
                "line.cost",
                "",
                "Cost of the meal, all that has a price",
                "money",
            ),
            move |m| m.amounts.cost(&priced),
        );
        to.add(
            headline(
                "line.cost_per_cover",
                "",
                "Cost for a cover, all that has a price",
                "money",
            ),
            move |m| ratio(m.amounts.cost(&money)?, covers(m)?),
        );
    }
    if let Some(owning) = owning::per_meal(plan) {
        let money = plan.money.clone();
        let with = move |m: &Meal<'_>| m.amounts.cost(&money).unwrap_or(0.0) + owning;
        let with_per_cover = with.clone();
        to.add(
            plain(
                PER_COVER,
                "",
                "Owning the line (price over its life, upkeep), for a cover",
                "money",
            ),
            move |m| ratio(owning, covers(m)?),
        );
        to.add(
            plain(
                WITH_OWNING,
                "",
                "Cost of the meal with owning the line",
                "money",
            ),
            move |m| Some(with(m)),
        );
        to.add(
            plain(
                WITH_OWNING_PER_COVER,
                "",
                "Cost for a cover with owning the line",
                "money",
            ),
            move |m| ratio(with_per_cover(m), covers(m)?),
        );
    }
}

/// When the last tray was clean and the last task of any worker, cleaning included, had ended; `None` when anything of
/// either was left over.
fn room_clean_min(m: &Meal<'_>) -> Option<f64> {
    let clean = m
        .ended
        .all_clean_at
        .filter(|_| m.ended.cleaning_left == 0)?;
    let last_work = m.record.actors.iter().filter_map(|a| a.last_work_us).max();
    let last_work = last_work.unwrap_or(0);
    let cut_short = m.ended.how == How::StatedEnd && last_work >= m.ended.at.us();
    (!cut_short).then(|| clean.us().max(last_work) as f64 / 6e7)
}

/// One resource: id of its measure, plain name, unit, id of its cost.
pub(crate) struct ResourceNames {
    pub(crate) id: &'static str,
    pub(crate) label: &'static str,
    pub(crate) unit: &'static str,
    pub(crate) amount: fn(&Amounts) -> f64,
}

/// Resources in the order of [`Amounts::costs`].
pub(crate) const RESOURCES: [ResourceNames; 6] = [
    ResourceNames {
        id: "labour_h",
        label: "Labour",
        unit: "h",
        amount: |a| a.labour_h,
    },
    ResourceNames {
        id: "water_l",
        label: "Fresh water",
        unit: "L",
        amount: |a| a.water_l,
    },
    ResourceNames {
        id: "heat_kwh",
        label: "Heat for water heated away from the machine",
        unit: "kWh",
        amount: |a| a.heat_kwh,
    },
    ResourceNames {
        id: "power_kwh",
        label: "Electricity",
        unit: "kWh",
        amount: |a| a.power_kwh,
    },
    ResourceNames {
        id: "detergent_kg",
        label: "Detergent",
        unit: "kg",
        amount: |a| a.detergent_kg,
    },
    ResourceNames {
        id: "disposables",
        label: "Disposables given instead of ware",
        unit: "pieces",
        amount: |a| a.disposables,
    },
];

/// Amount and, where priced, cost of each resource: `line.water_l`, `line.water_l.cost`.
pub(super) fn resources(to: &mut Measures, plan: &Plan) {
    let priced = Amounts::default().costs(&plan.money);
    for (i, names) in RESOURCES.iter().enumerate() {
        if names.id == "disposables" && !gives_disposables(plan) {
            continue;
        }
        let amount = names.amount;
        to.add(
            plain(format!("line.{}", names.id), "", names.label, names.unit),
            move |m| Some(amount(&m.amounts)),
        );
        if priced[i].is_some() {
            let money = plan.money.clone();
            to.add(
                plain(
                    format!("line.{}.cost", names.id),
                    "",
                    format!("{}: cost", names.label),
                    "money",
                ),
                move |m| m.amounts.costs(&money)[i],
            );
        }
    }
}

/// Whether something disposable is ever given: where some class has run out, or by the clock.
fn gives_disposables(plan: &Plan) -> bool {
    let mut classes = plan.line.classes.iter();
    classes.any(|class| class.short == Short::Disposable || !class.disposable.is_empty())
}
