//! Two or more arrangements on the same tapes: what differs, how surely, what it costs, and whether one of them wins.
//!
//! All differences are against the first arrangement. The intervals of the differences of means and shares share the 5 %
//! that may err among them (Bonferroni), so that all of them together are right in 95 of 100 studies.

use std::sync::atomic::AtomicBool;

use scullery_engine::ended::Fault;
use serde::{Deserialize, Serialize};

use crate::gathered::Row;
use crate::lunches::{Arrangement, lunches};
use crate::money_difference::{MoneyDifference, money_difference};
use crate::owning;
use crate::paired::{
    MeanDifference, PercentileDifference, ShareDifference, mean_difference, percentile_difference,
    share_difference,
};
use crate::summarise::{endings, heading, measure};
use crate::summary::{Endings, HeadingText, Measure, TargetResult};
use crate::targets::{Judged, LEVEL, Looked, Verdict, judge};
use crate::winner::winner;

/// How arrangements are to be compared.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Compare {
    /// How many times the meal is simulated in each arrangement.
    pub repeats: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
    /// Ids of the measures to compare; empty: the headline ones that all arrangements have, and those of the targets.
    pub measures: Vec<String>,
}

/// Arrangements compared.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Comparison {
    /// What a manager can repeat, one or two sentences.
    pub answer: String,
    /// Name of the arrangement that wins clearly, if one does.
    pub winner: Option<String>,
    /// How many times the meal was simulated in each arrangement.
    pub repeats: u64,
    /// How many were asked for.
    pub asked: u64,
    /// Seed of the study.
    pub seed: u64,
    /// Title and standing of the first scenario.
    pub heading: HeadingText,
    /// Days open in a year.
    pub days_a_year: f64,
    /// The arrangements, in the order given.
    pub arrangements: Vec<ArrangementResult>,
    /// Measures side by side.
    pub measures: Vec<MeasureRow>,
    /// Targets side by side.
    pub targets: Vec<TargetRow>,
    /// Money, one entry an arrangement after the first; empty where nothing has a price.
    pub money: Vec<MoneyDifference>,
    /// Level of each single interval of a difference of means or shares, so that all together have 95 %.
    pub level_each: f64,
    /// How many intervals share the 5 %.
    pub intervals: u64,
}

/// One arrangement by itself.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct ArrangementResult {
    /// Its name.
    pub name: String,
    /// What was changed: as asked, before, after, and whether it alters anything.
    pub changes: Vec<ChangeResult>,
    /// SHA-256 of scenario and changes.
    pub hash: String,
    /// Its targets, judged by itself.
    pub targets: Vec<TargetResult>,
    /// `holds`, `fails` or `not sure yet`: all targets together; `None` without targets.
    pub verdict: Option<String>,
    /// Lunches in which no target on single lunches was missed; `None` without such targets.
    pub held_all: Option<u64>,
    /// How its lunches ended.
    pub endings: Endings,
    /// Whether it came out exactly as the first in every lunch and every measure compared.
    pub same_as_first: bool,
    /// What it means, one sentence an entry.
    pub assumptions: Vec<String>,
}

/// A change that was made.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq, Eq)]
pub struct ChangeResult {
    /// As asked.
    pub words: String,
    /// What stood there.
    pub before: Option<String>,
    /// What stands there now.
    pub after: Option<String>,
    /// Whether the two differ.
    pub alters: bool,
}

/// A measure in all arrangements.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct MeasureRow {
    /// Stable id.
    pub id: String,
    /// Plain words.
    pub label: String,
    /// Unit.
    pub unit: String,
    /// Each by itself, one entry an arrangement.
    pub values: Vec<Measure>,
    /// Mean less that of the first, one entry an arrangement after the first.
    pub differences: Vec<Option<MeanDifference>>,
    /// 95th of 100 lunches less that of the first.
    pub p95: Vec<Option<PercentileDifference>>,
}

/// A target in all arrangements.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct TargetRow {
    /// As people say it.
    pub words: String,
    /// Verdict and evidence, one entry an arrangement; `None` where it is not asked.
    pub results: Vec<Option<TargetResult>>,
    /// Share of lunches in which it held less that of the first, one entry an arrangement after the first; `None` for
    /// targets on the mean.
    pub differences: Vec<Option<ShareDifference>>,
}

/// What one arrangement's lunches say, kept while the comparison is made.
pub(crate) struct Seen<'a> {
    pub(crate) arrangement: &'a Arrangement,
    pub(crate) rows: Vec<Row>,
    pub(crate) judged: Vec<Judged>,
}

impl Seen<'_> {
    /// All targets together; `None` without targets.
    pub(crate) fn verdict(&self) -> Option<Verdict> {
        let such = |verdict| self.judged.iter().any(|judged| judged.verdict == verdict);
        match self.judged.is_empty() {
            true => None,
            false if such(Verdict::Fails) => Some(Verdict::Fails),
            false if such(Verdict::NotSureYet) => Some(Verdict::NotSureYet),
            false => Some(Verdict::Holds),
        }
    }

    /// Whether no target on single meals was missed, one entry a row; `None` without such targets.
    pub(crate) fn held_all(&self) -> Option<Vec<Option<bool>>> {
        let by_meal: Vec<&Vec<Option<bool>>> = self
            .judged
            .iter()
            .filter_map(|judged| judged.by_meal.as_ref())
            .collect();
        let held = |meal: usize| by_meal.iter().all(|meals| meals[meal] != Some(false));
        (!by_meal.is_empty()).then(|| (0..self.rows.len()).map(|meal| Some(held(meal))).collect())
    }

    pub(crate) fn cost(&self) -> Vec<Option<f64>> {
        self.arrangement.column("line.cost", &self.rows)
    }
}

/// Simulates every arrangement on the same tapes and compares all with the first.
///
/// `progress` is told how many meals are done, over all arrangements. `stop` may be raised at any time.
///
/// # Errors
/// [`Fault::Line`] when there are fewer than two arrangements or none of them has a measure that is asked for; the fault of a
/// run, if one has it.
pub fn compare(
    arrangements: &[Arrangement],
    how: &Compare,
    progress: &(dyn Fn(u64) + Sync),
    stop: &AtomicBool,
) -> Result<Comparison, Fault> {
    let [first, others @ ..] = arrangements else {
        return Err(Fault::Line("there is nothing to compare".to_owned()));
    };
    if others.is_empty() {
        return Err(Fault::Line(
            "one arrangement has nothing to be compared with".to_owned(),
        ));
    }
    let ids = measure_ids(arrangements, &how.measures)?;
    let all: Vec<&Arrangement> = arrangements.iter().collect();
    let rows = lunches(&all, 1..=how.repeats, how.seed, how.threads, progress, stop)?;
    let seen: Vec<Seen<'_>> = all
        .iter()
        .zip(rows)
        .map(|(arrangement, rows)| Seen {
            judged: judge(
                &arrangement.plan,
                &arrangement.measures,
                &rows,
                Looked::Once(LEVEL),
            ),
            arrangement,
            rows,
        })
        .collect();
    let keys = target_keys(arrangements);
    let single = keys.iter().filter(|key| key.in_meals).count();
    let intervals = (others.len() * (ids.len() + single)).max(1) as u64;
    let level = 1.0 - (1.0 - LEVEL) / intervals as f64;
    let measures: Vec<MeasureRow> = ids
        .iter()
        .map(|id| measure_row(id, &seen, level, how.seed))
        .collect();
    let targets = keys
        .iter()
        .map(|key| target_row(key, &seen, level))
        .collect();
    let same = same_as_first(&seen, &measures);
    let money = seen[1..]
        .iter()
        .filter_map(|other| money_difference(&seen[0], other))
        .collect();
    let (winner, answer) = winner(&seen, &same);
    Ok(Comparison {
        answer,
        winner,
        repeats: seen[0].rows.len() as u64,
        asked: how.repeats,
        seed: how.seed,
        heading: heading(&first.plan),
        days_a_year: first.plan.heading.days_a_year,
        arrangements: seen
            .iter()
            .zip(same)
            .map(|(seen, same)| result(seen, same))
            .collect(),
        measures,
        targets,
        money,
        level_each: level,
        intervals,
    })
}

fn measure_ids(arrangements: &[Arrangement], asked: &[String]) -> Result<Vec<String>, Fault> {
    let everywhere = |id: &str| {
        arrangements
            .iter()
            .all(|one| one.measures.find(id).is_some())
    };
    for id in asked {
        if let Some(without) = arrangements
            .iter()
            .find(|one| one.measures.find(id).is_none())
        {
            return Err(Fault::Line(format!(
                "\"{}\" has no measure `{id}`; the nearest is `{}`",
                without.name,
                without.measures.nearest(id)
            )));
        }
    }
    if !asked.is_empty() {
        return Ok(asked.to_vec());
    }
    let of_targets: Vec<&str> = arrangements
        .iter()
        .flat_map(|one| {
            one.plan
                .targets
                .iter()
                .map(|target| target.measure.as_str())
        })
        .collect();
    let usual = arrangements
        .first()
        .into_iter()
        .flat_map(|first| first.measures.infos());
    Ok(usual
        .filter(|info| {
            info.headline
                || ["line.cost", owning::WITH_OWNING].contains(&info.id.as_str())
                || of_targets.contains(&info.id.as_str())
        })
        .filter(|info| everywhere(&info.id))
        .map(|info| info.id.clone())
        .collect())
}

fn measure_row(id: &str, seen: &[Seen<'_>], level: f64, seed: u64) -> MeasureRow {
    let columns: Vec<Vec<Option<f64>>> = seen
        .iter()
        .map(|one| one.arrangement.column(id, &one.rows))
        .collect();
    let info = |one: &Seen<'_>| {
        let measures = &one.arrangement.measures;
        measures
            .find(id)
            .map(|number| measures.infos()[number].clone())
    };
    let values = seen.iter().zip(&columns).filter_map(|(one, column)| {
        let values: Vec<f64> = column.iter().copied().flatten().collect();
        Some(measure(&info(one)?, &values))
    });
    let values: Vec<Measure> = values.collect();
    let others = || columns[1..].iter();
    MeasureRow {
        id: id.to_owned(),
        label: values
            .first()
            .map_or(String::new(), |value| value.label.clone()),
        unit: values
            .first()
            .map_or(String::new(), |value| value.unit.clone()),
        differences: others()
            .map(|other| mean_difference(&columns[0], other, level))
            .collect(),
        p95: others()
            .map(|other| percentile_difference(&columns[0], other, 950, LEVEL, seed))
            .collect(),
        values,
    }
}

/// What makes two targets of different files the same.
#[derive(Clone, Debug, PartialEq)]
struct TargetKey {
    words: String,
    measure: String,
    bound: f64,
    in_meals: bool,
}

fn target_keys(arrangements: &[Arrangement]) -> Vec<TargetKey> {
    let mut keys: Vec<TargetKey> = Vec::new();
    for target in arrangements.iter().flat_map(|one| &one.plan.targets) {
        let key = TargetKey {
            words: target.words.clone(),
            measure: target.measure.clone(),
            bound: target.bound,
            in_meals: target.in_meals_of_100.is_some(),
        };
        if !keys.contains(&key) {
            keys.push(key);
        }
    }
    keys
}

fn target_row(key: &TargetKey, seen: &[Seen<'_>], level: f64) -> TargetRow {
    let of = |one: &Seen<'_>| -> Option<Judged> {
        let targets = &one.arrangement.plan.targets;
        let at = targets.iter().position(|target| {
            target.words == key.words
                && target.measure == key.measure
                && target.bound.total_cmp(&key.bound).is_eq()
                && target.in_meals_of_100.is_some() == key.in_meals
        })?;
        one.judged.get(at).cloned()
    };
    let judged: Vec<Option<Judged>> = seen.iter().map(of).collect();
    let by_meal = |one: &Option<Judged>| one.as_ref().and_then(|one| one.by_meal.clone());
    let first = judged.first().and_then(by_meal);
    TargetRow {
        words: key.words.clone(),
        differences: judged[1..]
            .iter()
            .map(|other| share_difference(first.as_ref()?, &by_meal(other)?, level))
            .collect(),
        results: judged
            .into_iter()
            .map(|one| one.map(|one| one.result))
            .collect(),
    }
}

/// Whether each arrangement came out as the first in every lunch, ending and every measure compared, and is owned at the
/// same cost.
fn same_as_first(seen: &[Seen<'_>], measures: &[MeasureRow]) -> Vec<bool> {
    let same_ends = |one: &Seen<'_>| {
        let pairs = seen[0].rows.iter().zip(&one.rows);
        pairs.clone().count() > 0 && pairs.clone().all(|(a, b)| a.how == b.how)
    };
    let owned = |one: &Seen<'_>| owning::per_year(&one.arrangement.plan);
    let owns_alike = |one: &Seen<'_>| owned(one).total_cmp(&owned(&seen[0])).is_eq();
    let missing_alike = |one: &Seen<'_>, id: &str| {
        let columns = [&seen[0], one].map(|one| one.arrangement.column(id, &one.rows));
        columns[0]
            .iter()
            .zip(&columns[1])
            .all(|(a, b)| a.is_some() == b.is_some())
    };
    let others = seen.iter().enumerate().skip(1).map(|(number, one)| {
        same_ends(one)
            && owns_alike(one)
            && measures.iter().all(|row| {
                row.differences[number - 1]
                    .as_ref()
                    .is_none_or(|d| d.identical)
                    && missing_alike(one, &row.id)
            })
    });
    std::iter::once(false).chain(others).collect()
}

fn result(seen: &Seen<'_>, same_as_first: bool) -> ArrangementResult {
    let plan = &seen.arrangement.plan;
    ArrangementResult {
        name: seen.arrangement.name.clone(),
        changes: plan
            .changes
            .iter()
            .map(|change| ChangeResult {
                words: change.words.clone(),
                before: change.before.clone(),
                after: change.after.clone(),
                alters: change.alters,
            })
            .collect(),
        hash: plan.hash.clone(),
        targets: seen
            .judged
            .iter()
            .map(|judged| judged.result.clone())
            .collect(),
        verdict: seen.verdict().map(|verdict| verdict.words().to_owned()),
        held_all: seen
            .held_all()
            .map(|held| held.iter().filter(|held| **held == Some(true)).count() as u64),
        endings: endings(&seen.rows),
        same_as_first,
        assumptions: plan.description.clone(),
    }
}
