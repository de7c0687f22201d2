//! What owning the line costs: by element, and a lunch, a cover and a year beside what running it costs.
//!
//! It is a fixed cost: every lunch bears the same part of it, whatever is served.

use scullery_scenario::owned::Owned;
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use crate::summary::Measure;

/// What the line costs to own, and with that to run.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Owning {
    /// Days open in a year, with one such lunch each.
    pub days_a_year: f64,
    /// Each thing that is owned, in file order.
    pub parts: Vec<OwnedPart>,
    /// All of them together.
    pub owning: Costs,
    /// Running the line, all that has a price; `None` where nothing has one or no lunch tells.
    pub running: Option<Costs>,
    /// Both together; `None` where no lunch tells.
    pub with_owning: Option<Costs>,
}

/// One thing that is owned.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct OwnedPart {
    /// As the scenario names it, for example `rack.glass`.
    pub id: String,
    /// In words.
    pub name: String,
    /// What is said of it.
    pub terms: Terms,
    /// What it costs.
    pub costs: Costs,
}

/// Price, life and upkeep of something that is owned.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Terms {
    /// Price of all of it, when said.
    pub price: Option<f64>,
    /// Years it lasts, when said.
    pub life_years: Option<f64>,
    /// Upkeep a year.
    pub upkeep_per_year: f64,
}

impl Terms {
    /// What the scenario says of it.
    pub(crate) fn of(it: &Owned) -> Terms {
        Terms {
            price: it.price,
            life_years: it.life_years,
            upkeep_per_year: it.upkeep_per_year,
        }
    }
}

/// A cost a lunch, a cover and a year.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Costs {
    /// A lunch.
    pub per_meal: f64,
    /// A cover, mean over the lunches; `None` where no lunch tells.
    pub per_cover: Option<f64>,
    /// A year.
    pub per_year: f64,
}

/// Id of the measure of what owning the line costs a cover.
pub(crate) const PER_COVER: &str = "line.owning_cost_per_cover";
/// Id of the measure of what a lunch costs with owning.
pub(crate) const WITH_OWNING: &str = "line.cost_with_owning";
/// Id of the same for a cover.
pub(crate) const WITH_OWNING_PER_COVER: &str = "line.cost_with_owning_per_cover";

/// What owning the line costs a year: of each thing its price over its life, and its upkeep.
pub fn per_year(plan: &Plan) -> f64 {
    plan.owned.iter().map(|it| it.per_year()).sum()
}

/// The part of it that a lunch bears: a year over the days open. `None` where nothing is owned at a price.
pub fn per_meal(plan: &Plan) -> Option<f64> {
    (!plan.owned.is_empty()).then(|| per_year(plan) / plan.heading.days_a_year)
}

/// What owning the line costs, beside what its lunches cost to run; `None` where nothing is owned at a price.
pub(crate) fn owning(plan: &Plan, table: &[Measure]) -> Option<Owning> {
    let days = plan.heading.days_a_year;
    let mean = |id: &str| table.iter().find(|measure| measure.id == id)?.mean;
    let costs = |meal: &str, cover: &str| {
        let per_meal = mean(meal)?;
        Some(Costs {
            per_meal,
            per_cover: mean(cover),
            per_year: per_meal * days,
        })
    };
    let all = Costs {
        per_meal: per_meal(plan)?,
        per_cover: mean(PER_COVER),
        per_year: per_year(plan),
    };
    let parts = plan.owned.iter().map(|it| {
        let year = it.per_year();
        let of_all = if all.per_year > 0.0 {
            year / all.per_year
        } else {
            0.0
        };
        OwnedPart {
            id: it.of.clone(),
            name: it.words.clone(),
            terms: Terms::of(it),
            costs: Costs {
                per_meal: year / days,
                per_cover: all.per_cover.map(|cover| cover * of_all),
                per_year: year,
            },
        }
    });
    Some(Owning {
        days_a_year: days,
        parts: parts.collect(),
        owning: all,
        running: costs("line.cost", "line.cost_per_cover"),
        with_owning: costs(WITH_OWNING, WITH_OWNING_PER_COVER),
    })
}
