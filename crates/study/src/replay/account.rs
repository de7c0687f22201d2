//! What happened at one lunch, in order: what filled first, what it held up, who waited, what ran out.

use scullery_engine::ended::Ended;
use scullery_engine::time::SimTime;
use scullery_engine::watch::{Catalogue, Counted, Role, State};
use scullery_scenario::notes::Happened;
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use crate::record::MealRecord;
use crate::words::{actor_words, place_words};

/// One entry of the account.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Entry {
    /// When, minutes since midnight.
    pub at_min: f64,
    /// What, one sentence.
    pub words: String,
}

/// What happened.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Account {
    /// The entries, in clock order.
    pub entries: Vec<Entry>,
    /// Most people standing with a tray at all drop-offs together, and when, minutes since midnight.
    pub most_standing: Option<(u32, f64)>,
    /// What was full first, if anything was: the number of its place and when.
    pub first_full: Option<(usize, f64)>,
}

/// People standing at once from which it is told that they waited.
pub const SOME_PEOPLE: f64 = 8.0;
/// Minutes of being held up by one place from which it is told.
const TOLD_FROM_MIN: f64 = 3.0;
/// A place is full, and does not just touch its room, when it is so for this many minutes in all.
const FULL_FROM_MIN: usize = 2;

/// The account of a lunch that was recorded, with what is known to have happened besides.
pub fn account(plan: &Plan, record: &MealRecord, ended: &Ended, happened: &[Happened]) -> Account {
    let catalogue = plan.line.catalogue();
    let teller = Teller {
        plan,
        catalogue: &catalogue,
        record,
    };
    let mut entries: Vec<Entry> = Vec::new();
    for it in happened {
        let at_min = it.from.unwrap_or(plan.line.starts).us() as f64 / 60e6;
        entries.push(Entry {
            at_min,
            words: format!("{}.", capital(&it.words)),
        });
    }
    entries.extend(teller.stops(happened));
    entries.extend(teller.breaks(happened));
    let full = teller.full();
    let first_full = full.first().map(|(place, at, _)| (*place, *at));
    for (place, at, minutes) in &full {
        entries.push(teller.full_words(*place, *at, *minutes));
    }
    entries.extend(teller.standing());
    entries.extend(teller.run_outs());
    entries.extend(teller.locked(ended));
    entries.sort_by(|a, b| a.at_min.total_cmp(&b.at_min));
    Account {
        entries,
        most_standing: teller.most_standing(),
        first_full,
    }
}

/// A clock time.
pub(crate) fn clock(min: f64) -> String {
    let whole = min.max(0.0) as u64;
    let day = match whole / 1440 {
        0 => "",
        _ => " next day",
    };
    format!("{:02}:{:02}{day}", whole / 60 % 24, whole % 60)
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

/// Whether a span is among what is known to have happened.
fn is_told(told: &[Happened], from: SimTime, until: SimTime) -> bool {
    told.iter()
        .any(|it| it.from == Some(from) && it.until == Some(until))
}

struct Teller<'a> {
    plan: &'a Plan,
    catalogue: &'a Catalogue,
    record: &'a MealRecord,
}

impl Teller<'_> {
    fn minute(&self, index: usize) -> f64 {
        self.record.from_min as f64 + index as f64
    }

    /// Places that were full, with when first and for how many minutes; the earliest first.
    fn full(&self) -> Vec<(usize, f64, usize)> {
        let mut found = Vec::new();
        for (i, (place, kept)) in self
            .catalogue
            .places
            .iter()
            .zip(&self.record.places)
            .enumerate()
        {
            let fills = matches!(
                place.role,
                Role::Trays
                    | Role::Stacks
                    | Role::Pile
                    | Role::OpenRacks
                    | Role::FilledRacks
                    | Role::CleanRacks
                    | Role::Cart
            );
            let Some(room) = place.room.filter(|room| fills && *room > 0) else {
                continue;
            };
            let full = |minute: &crate::record::Minute| minute.extreme >= room;
            let minutes = kept.minutes.iter().filter(|m| full(m)).count();
            if minutes >= FULL_FROM_MIN
                && let Some(first) = kept.minutes.iter().position(full)
            {
                found.push((i, self.minute(first), minutes));
            }
        }
        found.sort_by(|a, b| a.1.total_cmp(&b.1));
        found
    }

    fn full_words(&self, place: usize, at_min: f64, minutes: usize) -> Entry {
        let info = &self.catalogue.places[place];
        let held: Vec<String> = self
            .catalogue
            .actors
            .iter()
            .zip(&self.record.actors)
            .filter_map(|(actor, kept)| {
                let min = *kept.held_by_us.get(place)? as f64 / 60e6;
                (min >= TOLD_FROM_MIN).then(|| format!("{} for {min:.0} min", actor_words(actor)))
            })
            .collect();
        let held = if held.is_empty() {
            String::new()
        } else {
            format!(" It held up {}.", held.join(", "))
        };
        let room = info.room.unwrap_or(0);
        Entry {
            at_min,
            words: format!(
                "{} was full ({room}) for the first time, and in {minutes} minutes of the lunch in all.{held}",
                capital(&place_words(info))
            ),
        }
    }

    /// Stops of machines and belts that the scenario itself has.
    fn stops(&self, told: &[Happened]) -> Vec<Entry> {
        let line = &self.plan.line;
        let machines = line.machines.iter().map(|m| ("machine", &m.name, &m.stops));
        let stacks = line.stack_belts.iter().map(|it| &it.belt);
        let belts = line.belts.iter().chain(stacks);
        let belts = belts.map(|b| ("belt", &b.name, &b.stops));
        machines
            .chain(belts)
            .flat_map(|(kind, name, stops)| {
                let own = stops
                    .iter()
                    .filter(|stop| !is_told(told, stop.from, stop.to));
                own.map(move |stop| Entry {
                    at_min: stop.from.us() as f64 / 60e6,
                    words: format!(
                        "{} {name} stood until {}.",
                        capital(kind),
                        clock(stop.to.us() as f64 / 60e6)
                    ),
                })
            })
            .collect()
    }

    /// Breaks that were taken, when they really began: to the quarter hour, as the record keeps them.
    fn breaks(&self, told: &[Happened]) -> Vec<Entry> {
        let mut all = Vec::new();
        for (worker, kept) in self.plan.line.crew.iter().zip(&self.record.actors) {
            let taken = kept.total_us[State::Break.index()];
            if taken == 0 || worker.breaks.is_empty() {
                continue;
            }
            let own = worker.breaks.iter();
            for (due, length) in own.filter(|(due, length)| !is_told(told, *due, *due + *length)) {
                all.push(Entry {
                    at_min: due.us() as f64 / 60e6,
                    words: format!(
                        "{}'s break of {} min fell due.",
                        worker.name,
                        length.us() / 60_000_000
                    ),
                });
            }
        }
        all
    }

    fn most_standing(&self) -> Option<(u32, f64)> {
        let standing = self.standing_by_minute();
        let (index, most) = standing
            .iter()
            .copied()
            .enumerate()
            .max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))?;
        (most > 0.0).then(|| (most as u32, self.minute(index)))
    }

    /// Most people standing with a tray in each minute, all drop-offs together.
    fn standing_by_minute(&self) -> Vec<f64> {
        let of = |i: usize| &self.record.places[i].minutes;
        let places: Vec<usize> = (0..self.catalogue.places.len())
            .filter(|i| self.catalogue.places[*i].role == Role::Standing)
            .collect();
        let minutes = places.iter().map(|i| of(*i).len()).max().unwrap_or(0);
        (0..minutes)
            .map(|minute| {
                places
                    .iter()
                    .filter_map(|i| of(*i).get(minute))
                    .map(|m| f64::from(m.extreme))
                    .sum()
            })
            .collect()
    }

    fn standing(&self) -> Vec<Entry> {
        let standing = self.standing_by_minute();
        let limit = self
            .plan
            .heading
            .queue_room_people
            .map_or(SOME_PEOPLE, f64::from)
            .min(SOME_PEOPLE);
        let Some(first) = standing.iter().position(|people| *people >= limit) else {
            return Vec::new();
        };
        let Some((most, at)) = self.most_standing() else {
            return Vec::new();
        };
        let mut all = vec![
            Entry {
                at_min: self.minute(first),
                words: format!(
                    "{:.0} people stood with their trays for the first time.",
                    standing[first]
                ),
            },
            Entry {
                at_min: at,
                words: format!("The most people stood with their trays: {most}."),
            },
        ];
        if let Some(last) = standing.iter().rposition(|people| *people >= limit) {
            all.push(Entry {
                at_min: self.minute(last + 1),
                words: format!(
                    "Fewer than {limit:.0} people stood with their trays again, for good."
                ),
            });
        }
        all
    }

    fn run_outs(&self) -> Vec<Entry> {
        let counted = self.catalogue.counts.iter().zip(&self.record.counts);
        counted
            .filter(|(info, kept)| info.counted == Counted::RunOut && kept.total > 0)
            .filter_map(|(info, kept)| {
                let first = kept.minutes.iter().position(|n| *n > 0)?;
                let class = info.of.as_deref().unwrap_or("ware").replace('_', " ");
                Some(Entry {
                    at_min: self.minute(first),
                    words: format!(
                        "Clean {class} ran out for the first time; {} pieces were missed in all.",
                        kept.total
                    ),
                })
            })
            .collect()
    }

    fn locked(&self, ended: &Ended) -> Option<Entry> {
        let words = match &ended.how {
            scullery_engine::ended::How::Gridlock(sentence) => {
                format!("The line locked for good: {sentence}")
            }
            scullery_engine::ended::How::NeverDrained => {
                "The line never came to its end.".to_owned()
            }
            _ => return None,
        };
        Some(Entry {
            at_min: ended.at.us() as f64 / 60e6,
            words,
        })
    }
}
