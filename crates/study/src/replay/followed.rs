//! Levels minute by minute, at her lunch and over lunches like it, of everything that she looked at.

use scullery_engine::watch::{Catalogue, PlaceId, Role};
use scullery_scenario::notes::{Happened, SeenLevel};
use serde::{Deserialize, Serialize};

use crate::intervals::order_statistic;
use crate::record::MealRecord;
use crate::words::place_words;

/// Most things followed.
const MOST: usize = 8;
/// Most lunches of which every minute is kept.
pub(super) const MOST_LUNCHES: u64 = 500;
/// Most minutes kept: two days.
const MOST_MINUTES: usize = 2 * 1440;

/// Something followed through the lunch: the average of its level over each minute.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Followed {
    /// What, in plain words.
    pub what: String,
    /// First minute, since midnight.
    pub from_min: u32,
    /// Her lunch with every length of work at its mean, one value a minute.
    pub hers: Vec<f64>,
    /// 5th of 100 lunches like it, minute by minute.
    pub p05: Vec<f64>,
    /// The middle one.
    pub p50: Vec<f64>,
    /// 95th of 100.
    pub p95: Vec<f64>,
    /// How much it can hold, when that is limited.
    pub room: Option<u32>,
    /// Which of the things seen are of it, by number.
    pub seen: Vec<usize>,
    /// Lunches like hers behind it.
    pub lunches: u64,
}

/// Something that is known to have happened, for the clock axis.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Mark {
    /// From when, minutes since midnight; `None`: all day.
    pub from_min: Option<f64>,
    /// Until when.
    pub until_min: Option<f64>,
    /// In words.
    pub words: String,
}

/// The marks of what happened.
pub(super) fn marks(happened: &[Happened]) -> Vec<Mark> {
    let minute = |at: scullery_engine::time::SimTime| at.us() as f64 / 60e6;
    happened
        .iter()
        .map(|it| Mark {
            from_min: it.from.map(minute),
            until_min: it.until.map(minute),
            words: it.words.clone(),
        })
        .collect()
}

/// What is followed: a set of places, what it is called, and which of the things seen are of it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Following {
    what: String,
    places: Vec<PlaceId>,
    room: Option<u32>,
    seen: Vec<usize>,
}

/// Everything she looked at, in the order in which she first did; people standing and the backlog where she looked at
/// nothing.
pub(super) fn following(catalogue: &Catalogue, seen: &[SeenLevel]) -> Vec<Following> {
    let info = |place: PlaceId| &catalogue.places[usize::from(place.0)];
    let of = |places: Vec<PlaceId>| Following {
        what: match places[..] {
            [one] if info(one).role != Role::Standing => place_words(info(one)),
            _ => "people standing with a tray".to_owned(),
        },
        room: match places[..] {
            [one] => info(one).room.filter(|room| *room > 0),
            _ => None,
        },
        places,
        seen: Vec::new(),
    };
    let mut all: Vec<Following> = Vec::new();
    for (number, it) in seen.iter().enumerate() {
        let known = all.iter().position(|one| one.places == it.places);
        match known {
            Some(at) => all[at].seen.push(number),
            None if all.len() < MOST => {
                let mut one = of(it.places.clone());
                one.seen.push(number);
                all.push(one);
            }
            None => {}
        }
    }
    if all.is_empty() {
        let with = |role: Role| -> Vec<PlaceId> {
            (0..)
                .map(PlaceId)
                .zip(&catalogue.places)
                .filter(|(_, place)| place.role == role)
                .map(|(id, _)| id)
                .collect()
        };
        let usual = [with(Role::Standing), with(Role::Backlog)];
        all.extend(
            usual
                .into_iter()
                .filter(|places| !places.is_empty())
                .map(of),
        );
    }
    all
}

impl Following {
    /// The average level of each minute of a lunch, summed over the places.
    pub(super) fn by_minute(&self, record: &MealRecord) -> Vec<f64> {
        let kept = |place: &PlaceId| Some(&record.places.get(usize::from(place.0))?.minutes);
        let minutes = self
            .places
            .iter()
            .filter_map(kept)
            .map(Vec::len)
            .max()
            .unwrap_or(0)
            .min(MOST_MINUTES);
        (0..minutes)
            .map(|minute| {
                self.places
                    .iter()
                    .filter_map(kept)
                    .filter_map(|of| of.get(minute))
                    .map(|of| of.area as f64 / 60e6)
                    .sum()
            })
            .collect()
    }

    /// All of it together: her lunch and the lunches like it. A lunch that ends early keeps its last level.
    pub(super) fn told(self, from_min: u64, hers: Vec<f64>, lunches: &[Vec<f64>]) -> Followed {
        let minutes = lunches.iter().map(Vec::len).max().unwrap_or(0);
        let mut bands = [(); 3].map(|()| Vec::with_capacity(minutes));
        for minute in 0..minutes {
            // Whole microseconds and things behind them, so the values sort as they should.
            let mut levels: Vec<u64> = lunches
                .iter()
                .filter_map(|lunch| lunch.get(minute).or(lunch.last()))
                .map(|level| (level * 1e6).round() as u64)
                .collect();
            for (band, per_mille) in bands.iter_mut().zip([50, 500, 950]) {
                let level = order_statistic(&mut levels, per_mille);
                band.push(level.map_or(0.0, |level| level as f64 / 1e6));
            }
        }
        let [p05, p50, p95] = bands;
        Followed {
            what: self.what,
            from_min: from_min as u32,
            hers,
            p05,
            p50,
            p95,
            room: self.room,
            seen: self.seen,
            lunches: lunches.len() as u64,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bands_are_of_the_lunches_minute_by_minute_and_a_short_one_keeps_its_last_level() {
        let following = Following {
            what: "backlog".to_owned(),
            places: vec![PlaceId(0)],
            room: None,
            seen: vec![1],
        };
        // Twenty lunches with levels 1 to 20 in the first minute; one of them has no second minute.
        let lunches: Vec<Vec<f64>> = (1..=20)
            .map(|n| {
                let first = f64::from(n);
                if n == 20 {
                    vec![first]
                } else {
                    vec![first, 0.5]
                }
            })
            .collect();
        let told = following.told(700, vec![2.0, 3.0], &lunches);
        assert_eq!((told.from_min, told.lunches, told.seen.len()), (700, 20, 1));
        // The 1st, 10th and 19th of 20.
        assert_eq!((told.p05[0], told.p50[0], told.p95[0]), (1.0, 10.0, 19.0));
        assert_eq!((told.p05[1], told.p50[1], told.p95[1]), (0.5, 0.5, 0.5));
        let all = Following {
            what: String::new(),
            places: vec![],
            room: None,
            seen: vec![],
        };
        let last = all.told(0, vec![], &[vec![1.0], vec![1.0], vec![7.0]]);
        assert_eq!(last.p95, [7.0]);
    }
}
