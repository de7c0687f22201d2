//! Many meals become one summary.

use scullery_engine::ended::How;
use scullery_engine::time::{SimTime, US_PER_MIN};
use scullery_engine::watch::{ActorKind, Catalogue, State};
use scullery_scenario::plan::{Plan, Units};

use crate::answer::{Facts, answer};
use crate::bands::Cells;
use crate::gathered::{Curves, Gathered, Row, shown_counts};
use crate::intervals::{mean, mean_interval, quantile_interval, rank};
use crate::measures::{MeasureInfo, Measures, RESOURCES};
use crate::owning::owning;
use crate::planned::planned;
use crate::record::QUARTER_US;
use crate::stations::stations;
use crate::summary::{
    Band, Clock, Endings, HeadingText, HeldUp, Measure, Profile, Resource, Source, Summary,
};
use crate::targets::{LEVEL, Looked, judge};
use crate::words::{STATES, actor_words, kind_word, place_words, role_word, unit_word};

/// Sentences of locked meals that are kept.
const MOST_SENTENCES: usize = 5;

/// What was asked of a study, besides the plan.
#[derive(Clone, Debug)]
pub(crate) struct Asked {
    /// How many repeats.
    pub(crate) repeats: u64,
    /// Seed.
    pub(crate) seed: u64,
    /// How targets are judged.
    pub(crate) looked: Looked,
    /// Why there were so many repeats, when the study chose their number itself.
    pub(crate) enough: Option<String>,
}

/// The summary of all that was gathered.
pub(crate) fn summarise(
    plan: &Plan,
    catalogue: &Catalogue,
    measures: &Measures,
    mut all: Gathered,
    how: &Asked,
) -> Summary {
    all.sort();
    let shown = all.shown();
    let repeats = all.rows.len() as u64;
    let table: Vec<Measure> = measures
        .infos()
        .iter()
        .enumerate()
        .map(|(number, info)| measure(info, &column(&all, number)))
        .collect();
    let targets = judge(plan, measures, &all.rows, how.looked);
    let endings = endings(&all.rows);
    let find = |id: &str| table.iter().find(|m| m.id == id);
    let facts = Facts {
        day_words: &plan.heading.day_words,
        repeats,
        asked: how.repeats,
        targets: &targets,
        endings: &endings,
        last_clean: find("clean.last_clock_min"),
        wait: worst(&table, ".wait_p95_s"),
        standing: worst(&table, ".standing_max_people"),
    };
    let from_min = plan.line.starts.us() / QUARTER_US * (QUARTER_US / US_PER_MIN);
    Summary {
        answer: answer(&facts),
        repeats,
        asked: how.repeats,
        enough: how.enough.clone(),
        seed: how.seed,
        balance: all.balance.clone(),
        heading: heading(plan),
        targets: targets.into_iter().map(|t| t.result).collect(),
        clock: Clock {
            from_min: from_min as u32,
            minutes: shown.minutes() as u32,
        },
        bands: bands(plan, catalogue, shown),
        cumulative: cumulative(catalogue, shown),
        people: profiles(catalogue, shown, &table, |kind| kind == ActorKind::Worker),
        machines: profiles(catalogue, shown, &table, |kind| kind != ActorKind::Worker),
        stations: stations(plan, catalogue, shown),
        planned: planned(plan),
        held_up: held_up(catalogue, shown),
        resources: resources(&table),
        owning: owning(plan, &table),
        assumptions: plan.description.clone(),
        defaults: plan
            .defaults
            .iter()
            .map(|d| [d.key.clone(), d.value.clone(), d.standing.clone()])
            .collect(),
        cautions: cautions(plan, &all),
        source: Source {
            version: env!("CARGO_PKG_VERSION").to_owned(),
            // Where the text came from is known to whoever read it.
            scenario: String::new(),
            hash: plan.hash.clone(),
        },
        per_meal: per_meal(&all),
        per_meal_columns: per_meal_columns(measures),
        endings,
        measures: table,
    }
}

/// Values of one measure, in order of repeat, meals without one left out.
fn column(all: &Gathered, number: usize) -> Vec<f64> {
    let values = all.rows.iter().map(|row| row.values[number]);
    values.flatten().collect()
}

/// A measure over the repeats; `values` in order of repeat.
pub(crate) fn measure(info: &MeasureInfo, values: &[f64]) -> Measure {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let at = |per_mille| {
        let rank = rank(sorted.len(), per_mille);
        rank.checked_sub(1).map(|index| sorted[index])
    };
    Measure {
        id: info.id.clone(),
        place: info.place.clone(),
        label: info.label.clone(),
        unit: info.unit.to_owned(),
        n: values.len() as u64,
        mean: mean(values),
        ci95: from_nought(mean_interval(values, LEVEL), &sorted),
        p05: at(50),
        p50: at(500),
        p95: at(950),
        p95_ci95: quantile_interval(&sorted, 0.95, LEVEL),
        headline: info.headline,
    }
}

/// No measure is below nought, so neither is its mean: an interval of the mean is cut off there, and covers no less often.
fn from_nought(interval: Option<[f64; 2]>, sorted: &[f64]) -> Option<[f64; 2]> {
    let never_below = sorted.first().is_some_and(|&least| least >= 0.0);
    interval.map(|[from, to]| [if never_below { from.max(0.0) } else { from }, to])
}

/// Of all drop-offs, the measure with the largest middle value.
fn worst<'a>(table: &'a [Measure], ending: &str) -> Option<&'a Measure> {
    let such = table
        .iter()
        .filter(|m| m.id.starts_with("drop_off.") && m.id.ends_with(ending));
    such.max_by(|a, b| {
        let middle = |m: &Measure| m.p50.unwrap_or(-1.0);
        middle(a).total_cmp(&middle(b))
    })
}

pub(crate) fn endings(rows: &[Row]) -> Endings {
    let mut it = Endings::default();
    for row in rows {
        match &row.how {
            How::StatedEnd => it.stated_end += 1,
            How::AllClean => it.all_clean += 1,
            How::NeverDrained => it.never_drained += 1,
            How::Gridlock(sentence) => {
                it.gridlock += 1;
                if it.sentences.len() < MOST_SENTENCES && !it.sentences.contains(sentence) {
                    it.sentences.push(sentence.clone());
                }
            }
        }
    }
    it
}

/// The plan's cautions, after what a reader of the pictures must know first.
fn cautions(plan: &Plan, all: &Gathered) -> Vec<String> {
    let (finished, not) = (all.finished.meals, all.unfinished.meals);
    let first = match (finished, not) {
        (_, 0) => None,
        (0, _) => Some(
            "No simulated lunch came to its end: there are no means, and the pictures show the lunches up to where \
             they stuck."
                .to_owned(),
        ),
        _ => Some(format!(
            "{not} of {} simulated lunches never came to their end; they miss every target and are in no mean and no \
             picture.",
            finished + not
        )),
    };
    first
        .into_iter()
        .chain(plan.cautions.iter().cloned())
        .collect()
}

pub(crate) fn heading(plan: &Plan) -> HeadingText {
    let heading = &plan.heading;
    HeadingText {
        name: heading.name.clone(),
        note: heading.note.clone(),
        units: match heading.units {
            Units::Metric => "metric",
            Units::Us => "us",
        }
        .to_owned(),
        currency: heading.currency.clone(),
        day_words: heading.day_words.clone(),
        bells_min: heading.bells.iter().copied().map(SimTime::min).collect(),
    }
}

fn bands(plan: &Plan, catalogue: &Catalogue, curves: &Curves) -> Vec<Band> {
    let places = catalogue.places.iter().zip(&curves.levels);
    places
        .map(|(place, cells)| {
            let role = role_word(place.role);
            let limit = match role {
                "queue" | "standing" => plan.heading.queue_room_people,
                "stock" => Some(place.at_start),
                _ => place.room,
            };
            Band {
                id: place.name.clone(),
                title: place_words(place),
                unit: unit_word(place.unit).to_owned(),
                role: role.to_owned(),
                limit: limit.map(f64::from),
                ..band(cells, curves.meals, US_PER_MIN as f64)
            }
        })
        .collect()
}

fn cumulative(catalogue: &Catalogue, curves: &Curves) -> Vec<Band> {
    let shown = shown_counts(catalogue);
    let words = shown.iter().map(|shown| {
        use scullery_engine::watch::Counted as C;
        match catalogue.counts[shown.count].counted {
            C::Served => ("served", "covers served", "covers"),
            C::DroppedOff => ("dropped_off", "trays dropped off", "trays"),
            C::Cleared => ("cleared", "trays cleared", "trays"),
            _ => ("clean", "pieces clean, as trays' worth", "trays"),
        }
    });
    words
        .zip(&curves.counts)
        .map(|((role, title, unit), cells)| Band {
            id: role.to_owned(),
            title: title.to_owned(),
            unit: unit.to_owned(),
            role: role.to_owned(),
            ..band(cells, curves.meals, 1.0)
        })
        .collect()
}

/// Mean and percentiles by minute, without names.
fn band(cells: &Cells, meals: u64, per: f64) -> Band {
    let minutes = cells.minutes();
    let at = |per_mille| -> Vec<f64> {
        let values = minutes.iter().map(|cell| cell.quantile(per_mille));
        values.map(|v| f64::from(v.unwrap_or(0))).collect()
    };
    let mean = |area: u128| area as f64 / (meals.max(1) as f64 * per);
    Band {
        id: String::new(),
        title: String::new(),
        unit: String::new(),
        role: String::new(),
        limit: None,
        mean: minutes.iter().map(|cell| mean(cell.area)).collect(),
        p05: at(50),
        p50: at(500),
        p95: at(950),
    }
}

fn profiles(
    catalogue: &Catalogue,
    curves: &Curves,
    table: &[Measure],
    wanted: impl Fn(ActorKind) -> bool,
) -> Vec<Profile> {
    let quarters = curves.minutes().div_ceil(15);
    let actors = catalogue.actors.iter().enumerate();
    actors
        .filter(|(_, info)| wanted(info.kind))
        .map(|(actor, info)| {
            let busy_id = match info.kind {
                ActorKind::Worker => format!("worker.{}.busy_share", info.name),
                ActorKind::Machine => format!("machine.{}.running_share", info.name),
                ActorKind::Belt => format!("belt.{}.moving_share", info.name),
                ActorKind::StackBelt => format!("stacks.{}.moving_share", info.name),
                ActorKind::Accumulator => format!("accumulator.{}.moving_share", info.name),
            };
            let totals = &curves.totals[actor];
            let shown: Vec<(State, &str)> = STATES
                .into_iter()
                .filter(|(state, _)| totals[state.index()] > 0 || *state == State::Off)
                .collect();
            let row = |quarter: usize| {
                let whole = curves.meals as f64 * QUARTER_US as f64;
                let us = curves.quarters[actor].get(quarter);
                let of = |state: State| us.map_or(0, |us| us[state.index()]);
                // Before the start and after the end counts as off.
                let seen: u64 = State::ALL.iter().map(|&state| of(state)).sum();
                let off = (curves.meals * QUARTER_US).saturating_sub(seen) + of(State::Off);
                let share = |state: State| match state {
                    State::Off => off as f64 / whole,
                    _ => of(state) as f64 / whole,
                };
                shown.iter().map(|&(state, _)| share(state)).collect()
            };
            let minutes = |us: u128| us as f64 / (curves.meals.max(1) as f64 * US_PER_MIN as f64);
            Profile {
                name: actor_words(info),
                kind: kind_word(info.kind).to_owned(),
                busy: table.iter().find(|m| m.id == busy_id).cloned(),
                states: shown.iter().map(|(_, word)| (*word).to_owned()).collect(),
                quarters: (0..quarters).map(row).collect(),
                minutes: shown
                    .iter()
                    .map(|(state, _)| minutes(totals[state.index()]))
                    .collect(),
            }
        })
        .collect()
}

fn held_up(catalogue: &Catalogue, curves: &Curves) -> Vec<HeldUp> {
    let mut list: Vec<(u128, usize, usize)> = curves
        .held_by
        .iter()
        .enumerate()
        .flat_map(|(actor, places)| {
            let places = places.iter().enumerate();
            places.map(move |(place, &us)| (us, actor, place))
        })
        .filter(|(us, _, _)| *us > 0)
        .collect();
    list.sort_by(|a, b| b.0.cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    list.into_iter()
        .map(|(us, actor, place)| HeldUp {
            who: actor_words(&catalogue.actors[actor]),
            by: place_words(&catalogue.places[place]),
            minutes: us as f64 / (curves.meals.max(1) as f64 * US_PER_MIN as f64),
        })
        .collect()
}

fn resources(table: &[Measure]) -> Vec<Resource> {
    let find = |id: &str| table.iter().find(|m| m.id == id);
    let covers = find("line.covers")
        .and_then(|m| m.mean)
        .filter(|&c| c > 0.0);
    RESOURCES
        .iter()
        .filter_map(|names| {
            let amount = find(&format!("line.{}", names.id))?.clone();
            Some(Resource {
                id: names.id.to_owned(),
                label: names.label.to_owned(),
                unit: names.unit.to_owned(),
                cost: find(&format!("line.{}.cost", names.id)).cloned(),
                per_cover: amount
                    .mean
                    .zip(covers)
                    .map(|(amount, covers)| amount / covers),
                amount,
            })
        })
        .collect()
}

fn per_meal_columns(measures: &Measures) -> Vec<String> {
    let ids = measures.infos().iter().map(|info| info.id.clone());
    ["repeat".to_owned(), "finished".to_owned()]
        .into_iter()
        .chain(ids)
        .collect()
}

fn per_meal(all: &Gathered) -> Vec<Vec<Option<f64>>> {
    let row = |row: &Row| {
        let head = [row.repeat as f64, f64::from(u8::from(row.finished()))];
        head.into_iter()
            .map(Some)
            .chain(row.values.iter().copied())
            .collect()
    };
    all.rows.iter().map(row).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mean_of_what_is_never_below_nought_is_not_said_to_be() {
        // Nine lunches without and one with 10: mean 1, sd sqrt(10), t 2.262: from -1.26 to 3.26.
        let mut values = [0.0; 10];
        values[3] = 10.0;
        let plain = mean_interval(&values, LEVEL).unwrap_or_default();
        assert!((plain[0] + 1.262).abs() < 0.001, "{plain:?}");
        values.sort_by(f64::total_cmp);
        let cut = from_nought(Some(plain), &values);
        assert_eq!(cut, Some([0.0, plain[1]]));
        values[0] = -1.0;
        assert_eq!(from_nought(Some(plain), &values), Some(plain));
    }
}
