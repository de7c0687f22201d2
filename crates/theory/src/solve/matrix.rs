//! Small square matrices.

use std::ops::{Index, IndexMut};

/// A square matrix of numbers, row by row.
#[derive(Clone, Debug)]
pub(crate) struct Matrix {
    size: usize,
    cells: Vec<f64>,
}

impl Matrix {
    pub(crate) fn zero(size: usize) -> Self {
        Self {
            size,
            cells: vec![0.0; size * size],
        }
    }

    pub(crate) fn identity(size: usize) -> Self {
        let mut one = Self::zero(size);
        for i in 0..size {
            one[(i, i)] = 1.0;
        }
        one
    }

    pub(crate) fn size(&self) -> usize {
        self.size
    }

    pub(crate) fn times(&self, other: &Self) -> Self {
        let mut product = Self::zero(self.size);
        for i in 0..self.size {
            for k in 0..self.size {
                let left = self[(i, k)];
                if left.abs() > 0.0 {
                    for j in 0..self.size {
                        product[(i, j)] += left * other[(k, j)];
                    }
                }
            }
        }
        product
    }

    pub(crate) fn plus(&self, other: &Self) -> Self {
        let cells = self.cells.iter().zip(&other.cells).map(|(a, b)| a + b);
        Self {
            size: self.size,
            cells: cells.collect(),
        }
    }

    pub(crate) fn negated(&self) -> Self {
        Self {
            size: self.size,
            cells: self.cells.iter().map(|x| -x).collect(),
        }
    }

    /// Row vector times this matrix.
    pub(crate) fn after(&self, row: &[f64]) -> Vec<f64> {
        let column = |j| row.iter().enumerate().map(|(i, x)| x * self[(i, j)]).sum();
        (0..self.size).map(column).collect()
    }

    /// Largest size of any cell.
    pub(crate) fn largest(&self) -> f64 {
        self.cells.iter().fold(0.0, |most, x| most.max(x.abs()))
    }

    /// The inverse, by elimination with the largest pivot of each column; `None` if there is none.
    pub(crate) fn inverse(&self) -> Option<Self> {
        let n = self.size;
        let mut left = self.clone();
        let mut right = Self::identity(n);
        for column in 0..n {
            let pivot = (column..n)
                .max_by(|&a, &b| left[(a, column)].abs().total_cmp(&left[(b, column)].abs()))?;
            let head = left[(pivot, column)];
            if head.abs() <= 0.0 || !head.is_finite() {
                return None;
            }
            for j in 0..n {
                left.cells.swap(pivot * n + j, column * n + j);
                right.cells.swap(pivot * n + j, column * n + j);
            }
            for j in 0..n {
                left[(column, j)] /= head;
                right[(column, j)] /= head;
            }
            for i in 0..n {
                let factor = left[(i, column)];
                if i != column && factor.abs() > 0.0 {
                    for j in 0..n {
                        let (a, b) = (left[(column, j)], right[(column, j)]);
                        left[(i, j)] -= factor * a;
                        right[(i, j)] -= factor * b;
                    }
                }
            }
        }
        Some(right)
    }
}

impl Index<(usize, usize)> for Matrix {
    type Output = f64;
    fn index(&self, (row, column): (usize, usize)) -> &f64 {
        &self.cells[row * self.size + column]
    }
}

impl IndexMut<(usize, usize)> for Matrix {
    fn index_mut(&mut self, (row, column): (usize, usize)) -> &mut f64 {
        &mut self.cells[row * self.size + column]
    }
}
