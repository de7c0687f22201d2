//! What an arrangement costs more or less than another: a meal, a year, and when what is paid for it comes back.

use scullery_scenario::plan::Money;
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
    /// What must be paid once, less that of the first; `None`: neither states it.
    pub investment: Option<f64>,
    /// When the savings have paid the investment back.
    pub payback: Option<Payback>,
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
    let investment = match (a.investment, b.investment) {
        (None, None) => None,
        (a, b) => Some(b.unwrap_or(0.0) - a.unwrap_or(0.0)),
    };
    Some(MoneyDifference {
        name: other.arrangement.name.clone(),
        payback: investment.map(|paid| payback(paid, per_year, per_year_interval)),
        per_meal,
        per_year,
        per_year_interval,
        investment,
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
