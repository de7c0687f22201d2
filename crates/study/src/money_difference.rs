//! What an arrangement costs more or less than another: a meal, a year, and when what is paid for it comes back.

use scullery_scenario::owned::Owned;
use scullery_scenario::plan::{Money, Plan};
use serde::{Deserialize, Serialize};

use crate::compare::Seen;
use crate::paired::{MeanDifference, mean_difference};
use crate::targets::LEVEL;

/// The difference in money between an arrangement and the first.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct MoneyDifference {
    /// Name of the arrangement.
    pub name: String,
    /// Cost of a meal less that of the first, over the same repeats, at 95 %.
    pub per_meal: MeanDifference,
    /// The same over a year of so many days open, one such meal a day, and upkeep.
    pub per_year: f64,
    /// Its interval at 95 %; it is about the luck of the meals only, not about prices or days open.
    pub per_year_interval: Option<[f64; 2]>,
    /// What must be paid once, less that of the first: as stated, else the difference in the prices of what is owned;
    /// `None`: neither is told.
    pub investment: Option<f64>,
    /// When the savings have paid the investment back.
    pub payback: Option<Payback>,
    /// What owning the line costs, where one of the two says what of it is owned.
    #[serde(default)]
    pub owning: Option<OwningDifference>,
}

/// The difference in what owning the line costs a year, and what that makes of the yearly difference.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, PartialEq)]
pub struct OwningDifference {
    /// Price over life, less that of the first.
    pub wear_per_year: f64,
    /// Upkeep of what is owned, less that of the first; nought where the arrangements state an upkeep that differs.
    pub upkeep_per_year: f64,
    /// Running and owning together, less those of the first.
    pub with_running_per_year: f64,
    /// Its interval at 95 %.
    pub with_running_interval: Option<[f64; 2]>,
}

impl OwningDifference {
    /// What owning the line costs a year more.
    pub fn per_year(&self) -> f64 {
        self.wear_per_year + self.upkeep_per_year
    }
}

impl MoneyDifference {
    /// What is paid out a year more once all is bought: running, and upkeep of every kind. Payback is judged by it.
    pub fn paid_out_per_year(&self) -> f64 {
        self.per_year + self.own_upkeep()
    }

    /// Its interval at 95 %.
    pub fn paid_out_interval(&self) -> Option<[f64; 2]> {
        let ends = self.per_year_interval?;
        Some(ends.map(|end| end + self.own_upkeep()))
    }

    fn own_upkeep(&self) -> f64 {
        self.owning.map_or(0.0, |owning| owning.upkeep_per_year)
    }
}

/// When an investment is paid back, without interest.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, PartialEq)]
pub enum Payback {
    /// After so many years, between these two (the upper one absent: perhaps never).
    Years {
        /// At the mean saving.
        years: f64,
        /// At the greatest saving of the interval.
        from: f64,
        /// At the least; `None`: at the least saving, never.
        to: Option<f64>,
    },
    /// It saves nothing, so never.
    Never,
    /// It costs no more to have, so there is nothing to pay back.
    Nothing,
}

/// The difference in money; `None` where one of the two has no price.
pub(crate) fn money_difference(first: &Seen<'_>, other: &Seen<'_>) -> Option<MoneyDifference> {
    let per_meal = mean_difference(&first.cost(), &other.cost(), LEVEL)?;
    let days = first.arrangement.plan.heading.days_a_year;
    let (a, b) = (&first.arrangement.plan.money, &other.arrangement.plan.money);
    let upkeep = |money: &Money| money.upkeep_per_year.unwrap_or(0.0);
    let year = |meal: f64| meal * days + upkeep(b) - upkeep(a);
    let per_year = year(per_meal.mean);
    let per_year_interval = per_meal.interval.map(|ends| ends.map(year));
    let plans = [&first.arrangement.plan, &other.arrangement.plan];
    let mut difference = MoneyDifference {
        name: other.arrangement.name.clone(),
        per_meal,
        per_year,
        per_year_interval,
        investment: investment(plans),
        payback: None,
        owning: owning(plans, per_year, per_year_interval),
    };
    let (saved, ends) = (
        difference.paid_out_per_year(),
        difference.paid_out_interval(),
    );
    difference.payback = difference.investment.map(|paid| payback(paid, saved, ends));
    Some(difference)
}

/// Second less first, of something that is told of every thing owned.
fn more([a, b]: [&Plan; 2], of: fn(&Owned) -> f64) -> f64 {
    let sum = |plan: &Plan| plan.owned.iter().map(of).sum::<f64>();
    sum(b) - sum(a)
}

/// What must be paid once more. Where the two state a difference, that is all of it: the prices of what is owned are the
/// same money, and are not paid again.
fn investment(plans: [&Plan; 2]) -> Option<f64> {
    let stated = match plans.map(|plan| plan.money.investment) {
        [None, None] => None,
        [a, b] => Some(b.unwrap_or(0.0) - a.unwrap_or(0.0)),
    };
    let prices = more(plans, |it| it.price.unwrap_or(0.0));
    match stated {
        Some(paid) if paid != 0.0 => Some(paid),
        _ if prices.abs() > 1e-6 => Some(prices),
        stated => stated,
    }
}

/// What owning costs a year more: price over life, and upkeep. Where the two state an upkeep that differs, that of what is
/// owned is the same money, and is not counted again.
pub(crate) fn owning_more(plans: [&Plan; 2]) -> [f64; 2] {
    let [a, b] = plans.map(|plan| plan.money.upkeep_per_year.unwrap_or(0.0));
    let upkeep = match b - a {
        stated if stated != 0.0 => 0.0,
        _ => more(plans, |it| it.upkeep_per_year),
    };
    [more(plans, Owned::wear_per_year), upkeep]
}

fn owning(
    plans: [&Plan; 2],
    per_year: f64,
    interval: Option<[f64; 2]>,
) -> Option<OwningDifference> {
    if plans.iter().all(|plan| plan.owned.is_empty()) {
        return None;
    }
    let [wear_per_year, upkeep_per_year] = owning_more(plans);
    let owning = wear_per_year + upkeep_per_year;
    Some(OwningDifference {
        wear_per_year,
        upkeep_per_year,
        with_running_per_year: per_year + owning,
        with_running_interval: interval.map(|ends| ends.map(|end| end + owning)),
    })
}

/// When `paid` comes back from a yearly cost that is `per_year` more (less, when negative), which lies in `interval`.
///
/// # Formula
/// Simple payback: investment over yearly saving, no interest.
pub fn payback(paid: f64, per_year: f64, interval: Option<[f64; 2]>) -> Payback {
    if paid <= 0.0 {
        return Payback::Nothing;
    }
    let saving = -per_year;
    let [least, most] = interval.map_or([saving, saving], |[low, high]| [-high, -low]);
    if saving <= 0.0 {
        return Payback::Never;
    }
    Payback::Years {
        years: paid / saving,
        from: paid / most,
        to: (least > 0.0).then(|| paid / least),
    }
}
