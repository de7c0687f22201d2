//! Measures: one number a meal each, with a stable id and a label in plain words.
//!
//! Ids are made from the names of places, people and machines, for example `drop_off.main.wait_p95_s`. A measure has no
//! value in a meal where there was nothing to measure (no diner came, no rack was washed).

mod aids;
mod carts;
mod crew;
mod draws;
mod fittings;
mod floor;
mod gate;
mod seats;
mod trouble;
mod whole;

use scullery_engine::ended::Ended;
use scullery_engine::watch::Catalogue;
use scullery_scenario::plan::Plan;

use crate::money::{Amounts, amounts, machine_uses};
use crate::quarters::{self, Quarter};
use crate::record::MealRecord;

pub(crate) use whole::RESOURCES;

/// What a measure is.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureInfo {
    /// Stable id, unique within a plan.
    pub id: String,
    /// The place, person or machine it belongs to; empty for the whole line.
    pub place: String,
    /// What it is, in plain words.
    pub label: String,
    /// Unit, as in `summary::Measure::unit`.
    pub unit: &'static str,
    /// Whether it belongs in the short table.
    pub headline: bool,
    /// Whether a target on it is missed in a meal that has no value (something that was never reached).
    pub absent_fails: bool,
}

/// One meal, as measures read it.
#[derive(Clone, Debug)]
pub struct Meal<'a> {
    /// What was seen.
    pub record: &'a MealRecord,
    /// How it ended.
    pub ended: &'a Ended,
    /// What it took.
    pub amounts: Amounts,
    /// What each machine drew, quarter hour by quarter hour.
    pub quarters: Vec<Vec<Quarter>>,
}

impl<'a> Meal<'a> {
    /// One meal of this plan, with what it took.
    pub fn of(
        plan: &Plan,
        catalogue: &Catalogue,
        record: &'a MealRecord,
        ended: &'a Ended,
    ) -> Meal<'a> {
        let uses = machine_uses(plan, catalogue, record, ended);
        Meal {
            record,
            ended,
            amounts: amounts(plan, catalogue, record, ended, &uses),
            quarters: quarters::by_machine(plan, catalogue, record, &uses),
        }
    }
}

type Reading = Box<dyn Fn(&Meal<'_>) -> Option<f64> + Send + Sync>;

/// All measures of a plan, in a fixed order.
pub struct Measures {
    infos: Vec<MeasureInfo>,
    readings: Vec<Reading>,
}

impl Measures {
    /// The measures that this plan's line has.
    pub fn of(plan: &Plan, catalogue: &Catalogue) -> Measures {
        let mut it = Measures {
            infos: Vec::new(),
            readings: Vec::new(),
        };
        seats::seats(&mut it, plan, catalogue);
        floor::drop_offs(&mut it, plan, catalogue);
        floor::places(&mut it, catalogue);
        floor::machines(&mut it, plan, catalogue);
        draws::machines(&mut it, catalogue);
        fittings::fittings(&mut it, plan, catalogue);
        aids::aids(&mut it, plan, catalogue);
        crew::workers(&mut it, catalogue);
        crew::belts(&mut it, catalogue);
        floor::stock(&mut it, plan, catalogue);
        carts::carts(&mut it, plan, catalogue);
        carts::ware(&mut it, plan, catalogue);
        gate::gates(&mut it, catalogue);
        trouble::troubles(&mut it, catalogue);
        whole::line(&mut it, plan, catalogue);
        whole::resources(&mut it, plan);
        it
    }

    /// What the measures are, in the order of [`Measures::read`].
    pub fn infos(&self) -> &[MeasureInfo] {
        &self.infos
    }

    /// The values of one meal, one entry a measure.
    pub fn read(&self, meal: &Meal<'_>) -> Vec<Option<f64>> {
        let values = self.readings.iter().map(|reading| reading(meal));
        values.map(|v| v.filter(|v| v.is_finite())).collect()
    }

    /// Number of the measure with this id.
    pub fn find(&self, id: &str) -> Option<usize> {
        self.infos.iter().position(|info| info.id == id)
    }

    /// For each target that speaks of a measure this plan does not have: the id, and the nearest one there is.
    pub fn unknown<'a>(&self, plan: &'a Plan) -> Vec<(&'a str, String)> {
        let missing = plan.targets.iter().map(|t| t.measure.as_str());
        missing
            .filter(|id| self.find(id).is_none())
            .map(|id| (id, self.nearest(id)))
            .collect()
    }

    /// The id nearest to one that is not there.
    pub fn nearest(&self, id: &str) -> String {
        let least = self.infos.iter().min_by_key(|info| distance(&info.id, id));
        least.map(|info| info.id.clone()).unwrap_or_default()
    }

    /// Adds a measure; a second one of the same name gets a number behind it.
    fn add(
        &mut self,
        info: Naming<'_>,
        reading: impl Fn(&Meal<'_>) -> Option<f64> + Send + Sync + 'static,
    ) {
        let mut id = info.id.clone();
        let mut number = 2;
        while self.find(&id).is_some() {
            id = format!("{}.{number}", info.id);
            number += 1;
        }
        self.infos.push(MeasureInfo {
            id,
            place: info.place.to_owned(),
            label: info.label,
            unit: info.unit,
            headline: info.headline,
            absent_fails: false,
        });
        self.readings.push(Box::new(reading));
    }

    /// Marks the measure added last.
    fn absent_fails(&mut self) {
        if let Some(info) = self.infos.last_mut() {
            info.absent_fails = true;
        }
    }
}

/// Name, place, words and unit of a measure to be added.
struct Naming<'a> {
    id: String,
    place: &'a str,
    label: String,
    unit: &'static str,
    headline: bool,
}

fn plain<'a>(
    id: impl Into<String>,
    place: &'a str,
    label: impl Into<String>,
    unit: &'static str,
) -> Naming<'a> {
    Naming {
        id: id.into(),
        place,
        label: label.into(),
        unit,
        headline: false,
    }
}

fn headline<'a>(
    id: impl Into<String>,
    place: &'a str,
    label: impl Into<String>,
    unit: &'static str,
) -> Naming<'a> {
    Naming {
        headline: true,
        ..plain(id, place, label, unit)
    }
}

/// `a` over `b`; `None` when there is nothing to share by.
fn ratio(a: f64, b: f64) -> Option<f64> {
    (b > 0.0).then(|| a / b)
}

/// Letters to change, add or leave out to get from one text to the other.
fn distance(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let changed = corner + usize::from(x != *y);
            corner = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(corner + 1);
        }
    }
    row[b.len()]
}

#[cfg(test)]
mod tests {
    use super::distance;

    #[test]
    fn distance_counts_single_letters() {
        assert_eq!(distance("belt.soiled.max_trays", "belt.soild.max_trays"), 1);
        assert_eq!(distance("", "rack"), 4);
        assert_eq!(distance("kitten", "sitting"), 3);
    }
}
