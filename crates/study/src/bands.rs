//! Values minute by minute over many meals: exact counts, so that merging parts does not hang on order or grouping.

use crate::intervals::rank;

/// One minute over many meals.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cell {
    /// Sum of the meals' areas (level times microseconds; for counts, the counts).
    pub area: u128,
    /// How many meals had each value, by value.
    counts: Vec<(u32, u32)>,
}

impl Cell {
    fn add(&mut self, area: u64, value: u32, times: u32) {
        self.area += u128::from(area) * u128::from(times);
        match self.counts.binary_search_by_key(&value, |&(v, _)| v) {
            Ok(at) => self.counts[at].1 += times,
            Err(at) => self.counts.insert(at, (value, times)),
        }
    }

    fn merge(&mut self, other: &Cell) {
        let area = self.area + other.area;
        for &(value, times) in &other.counts {
            self.add(0, value, times);
        }
        self.area = area;
    }

    /// The quantile at `per_mille` thousandths of the values; `None` without values.
    pub fn quantile(&self, per_mille: u32) -> Option<u32> {
        let n: usize = self.counts.iter().map(|&(_, times)| times as usize).sum();
        let wanted = rank(n, per_mille);
        let mut below = 0;
        self.counts
            .iter()
            .find(|&&(_, times)| {
                below += times as usize;
                below >= wanted
            })
            .map(|&(value, _)| value)
    }
}

/// Minutes of one place or count over many meals. A meal that ends early keeps its last value to the end of the longest.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Cells {
    minutes: Vec<Cell>,
    /// The meals' last values: what a minute holds that no meal so far has reached.
    last: Cell,
}

impl Cells {
    /// One entry a minute.
    pub fn minutes(&self) -> &[Cell] {
        &self.minutes
    }

    /// Takes in one meal: area and value by minute, then what holds from its end on.
    pub fn add(&mut self, minutes: impl ExactSizeIterator<Item = (u64, u32)>, last: (u64, u32)) {
        self.reach(minutes.len());
        let kept = minutes.len();
        for (cell, (area, value)) in self.minutes.iter_mut().zip(minutes) {
            cell.add(area, value, 1);
        }
        for cell in &mut self.minutes[kept..] {
            cell.add(last.0, last.1, 1);
        }
        self.last.add(last.0, last.1, 1);
    }

    /// Takes in all meals of another part.
    pub fn merge(&mut self, other: &Cells) {
        self.reach(other.minutes.len());
        let kept = other.minutes.len();
        for (cell, more) in self.minutes.iter_mut().zip(&other.minutes) {
            cell.merge(more);
        }
        for cell in &mut self.minutes[kept..] {
            cell.merge(&other.last);
        }
        self.last.merge(&other.last);
    }

    /// Makes at least so many minutes.
    pub fn reach(&mut self, minutes: usize) {
        if minutes > self.minutes.len() {
            self.minutes.resize(minutes, self.last.clone());
        }
    }
}
