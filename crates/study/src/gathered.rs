//! What many meals together hold. Parts gathered apart merge to the same, in any order and grouping.

use scullery_engine::ended::{Ended, How};
use scullery_engine::time::US_PER_MIN;
use scullery_engine::watch::{Catalogue, Counted, State};

use crate::bands::Cells;
use crate::measures::{Meal, Measures};
use crate::record::{ByState, MealRecord};
use crate::summary::BalanceSum;

/// One repeat: its number, how it ended, and the value of each measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Number of the repeat, from 1.
    pub repeat: u64,
    /// How it ended.
    pub how: How,
    /// One entry a measure; all `None` for a meal that never finished.
    pub values: Vec<Option<f64>>,
}

impl Row {
    /// Whether the meal came to its end: all clean, or the stated end reached.
    pub fn finished(&self) -> bool {
        matches!(self.how, How::AllClean | How::StatedEnd)
    }
}

/// A running count shown minute by minute.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Number of the count.
    pub count: usize,
    /// Whether it counts pieces and is shown as trays' worth.
    pub as_trays: bool,
}

/// Sums over meals.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Gathered {
    /// One entry a repeat, in any order until [`Gathered::sort`].
    pub rows: Vec<Row>,
    /// Trays of all repeats.
    pub balance: BalanceSum,
    /// Meals that finished.
    pub finished: Curves,
    /// Meals that never finished: shown when no other did, and never mixed with those.
    pub unfinished: Curves,
}

/// Levels, counts, states and hold-ups of meals, one on the other.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Curves {
    /// How many meals.
    pub meals: u64,
    /// Levels, one entry a place.
    pub levels: Vec<Cells>,
    /// Running counts, one entry a shown count.
    pub counts: Vec<Cells>,
    /// Microseconds by state and quarter hour, one entry an actor.
    pub quarters: Vec<Vec<ByState>>,
    /// Microseconds by state over whole runs, one entry an actor.
    pub totals: Vec<[u128; State::COUNT]>,
    /// Microseconds held up by each place, one entry an actor.
    pub held_by: Vec<Vec<u128>>,
    /// What went on at each post.
    pub posts: Vec<PostSums>,
}

/// What went on at one post, summed over meals.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PostSums {
    /// Worker-microseconds by state and quarter hour.
    pub quarters: Vec<ByState>,
    /// Worker-microseconds held up here by each place.
    pub held_by: Vec<u128>,
    /// Microseconds each worker stood here, by quarter hour.
    pub workers: Vec<Vec<u64>>,
}

impl PostSums {
    fn add(
        &mut self,
        quarters: &[ByState],
        held_by: impl Iterator<Item = u128>,
        workers: &[Vec<u64>],
    ) {
        add_quarters(&mut self.quarters, quarters);
        for (place, us) in held_by.enumerate() {
            if self.held_by.len() <= place {
                self.held_by.push(0);
            }
            self.held_by[place] += us;
        }
        if self.workers.len() < workers.len() {
            self.workers.resize(workers.len(), Vec::new());
        }
        for (sums, more) in self.workers.iter_mut().zip(workers) {
            if sums.len() < more.len() {
                sums.resize(more.len(), 0);
            }
            sums.iter_mut().zip(more).for_each(|(sum, us)| *sum += us);
        }
    }
}

/// The counts shown as curves, in order: served, dropped off, cleared, clean.
pub fn shown_counts(catalogue: &Catalogue) -> Vec<Shown> {
    let wanted = [
        (Counted::Served, false),
        (Counted::DroppedOff, false),
        (Counted::Cleared, false),
        (Counted::PiecesClean, true),
    ];
    let find = |(counted, as_trays): (Counted, bool)| {
        let count = catalogue.counts.iter().position(|c| c.counted == counted);
        count.map(|count| Shown { count, as_trays })
    };
    wanted.into_iter().filter_map(find).collect()
}

impl Gathered {
    /// Nothing yet, for lines with this catalogue.
    pub fn new(catalogue: &Catalogue) -> Gathered {
        Gathered {
            finished: Curves::new(catalogue),
            unfinished: Curves::new(catalogue),
            ..Gathered::default()
        }
    }

    /// Takes in one meal.
    pub fn add(&mut self, repeat: u64, meal: &Meal<'_>, measures: &Measures, shown: &[Shown]) {
        let ended = meal.ended;
        self.balance.trays_in += ended.balance.trays_in;
        self.balance.trays_out += ended.balance.trays_out;
        self.balance.trays_inside += ended.balance.trays_inside;
        let mut row = Row {
            repeat,
            how: ended.how.clone(),
            values: Vec::new(),
        };
        if row.finished() {
            row.values = measures.read(meal);
            self.finished.add(meal.record, ended, shown);
        } else {
            row.values = vec![None; measures.infos().len()];
            self.unfinished.add(meal.record, ended, shown);
        }
        self.rows.push(row);
    }

    /// Takes in all meals of another part of the same study.
    pub fn merge(&mut self, other: Gathered) {
        self.rows.extend(other.rows);
        self.balance.trays_in += other.balance.trays_in;
        self.balance.trays_out += other.balance.trays_out;
        self.balance.trays_inside += other.balance.trays_inside;
        self.finished.merge(&other.finished);
        self.unfinished.merge(&other.unfinished);
    }

    /// Puts the rows in order of repeat: what is made of them then hangs on nothing else.
    pub fn sort(&mut self) {
        self.rows.sort_by_key(|row| row.repeat);
    }

    /// The meals to be shown: those that finished, or, where none did, the others.
    pub fn shown(&self) -> &Curves {
        match self.finished.meals {
            0 => &self.unfinished,
            _ => &self.finished,
        }
    }
}

impl Curves {
    fn new(catalogue: &Catalogue) -> Curves {
        let (places, actors) = (catalogue.places.len(), catalogue.actors.len());
        Curves {
            meals: 0,
            levels: vec![Cells::default(); places],
            counts: vec![Cells::default(); shown_counts(catalogue).len()],
            quarters: vec![Vec::new(); actors],
            totals: vec![[0; State::COUNT]; actors],
            held_by: vec![vec![0; places]; actors],
            posts: vec![PostSums::default(); catalogue.posts.len()],
        }
    }

    fn add(&mut self, record: &MealRecord, ended: &Ended, shown: &[Shown]) {
        self.meals += 1;
        for (cells, place) in self.levels.iter_mut().zip(&record.places) {
            let minutes = place.minutes.iter().map(|m| (m.area, m.extreme));
            let whole = u64::from(place.last) * US_PER_MIN;
            cells.add(minutes, (whole, place.last));
        }
        let kept = record.places.first().map_or(0, |p| p.minutes.len());
        for (cells, shown) in self.counts.iter_mut().zip(shown) {
            let count = &record.counts[shown.count];
            let trays = |sum: u64| match shown.as_trays {
                true => as_trays(sum, ended),
                false => sum,
            };
            let mut sum = 0;
            let minutes = (0..kept).map(|m| {
                sum += u64::from(count.minutes.get(m).copied().unwrap_or(0));
                (trays(sum), trays(sum) as u32)
            });
            let last = trays(count.total);
            cells.add(minutes, (last, last as u32));
        }
        for (sums, record) in self.quarters.iter_mut().zip(&record.actors) {
            add_quarters(sums, &record.quarters);
        }
        for (actor, record) in record.actors.iter().enumerate() {
            add_wide(&mut self.totals[actor], &record.total_us);
            add_wide(&mut self.held_by[actor], &record.held_by_us);
        }
        for (sums, post) in self.posts.iter_mut().zip(&record.posts) {
            let held_by = post.held_by_us.iter().map(|&us| u128::from(us));
            sums.add(&post.quarters, held_by, &post.workers);
        }
    }

    fn merge(&mut self, other: &Curves) {
        self.meals += other.meals;
        for (cells, more) in self.levels.iter_mut().zip(&other.levels) {
            cells.merge(more);
        }
        for (cells, more) in self.counts.iter_mut().zip(&other.counts) {
            cells.merge(more);
        }
        for (sums, more) in self.quarters.iter_mut().zip(&other.quarters) {
            add_quarters(sums, more);
        }
        for (sums, more) in self.totals.iter_mut().zip(&other.totals) {
            sums.iter_mut().zip(more).for_each(|(sum, us)| *sum += us);
        }
        for (sums, more) in self.held_by.iter_mut().zip(&other.held_by) {
            sums.iter_mut().zip(more).for_each(|(sum, us)| *sum += us);
        }
        for (sums, more) in self.posts.iter_mut().zip(&other.posts) {
            sums.add(&more.quarters, more.held_by.iter().copied(), &more.workers);
        }
    }

    /// Minutes in the longest of the meals, as far as minutes are kept.
    pub fn minutes(&self) -> usize {
        let kept = self.levels.iter().map(|cells| cells.minutes().len());
        kept.max().unwrap_or(0)
    }
}

fn add_quarters(sums: &mut Vec<ByState>, more: &[ByState]) {
    let kept = sums.len().max(more.len());
    sums.resize(kept, [0; State::COUNT]);
    for (sum, quarter) in sums.iter_mut().zip(more) {
        sum.iter_mut().zip(quarter).for_each(|(sum, us)| *sum += us);
    }
}

fn add_wide(sums: &mut [u128], more: &[u64]) {
    let both = sums.iter_mut().zip(more);
    both.for_each(|(sum, &us)| *sum += u128::from(us));
}

/// Pieces as whole trays' worth of this meal, rounded down: all its trays when all its pieces are clean.
fn as_trays(pieces: u64, ended: &Ended) -> u64 {
    let all = u128::from(ended.balance.pieces_in.max(1));
    (u128::from(pieces) * u128::from(ended.balance.trays_in) / all) as u64
}
