//! Readings counted in classes of equal width.

/// Most classes.
const MOST: f64 = 40.0;

/// Counts by class; class `k` reaches from `from + k width` up to the next.
#[derive(Clone, Debug, PartialEq)]
pub struct Histogram {
    /// Where the first class begins, s.
    pub from: f64,
    /// Width of a class, s.
    pub width: f64,
    /// Readings in each class.
    pub counts: Vec<u32>,
}

/// Counts sorted readings in classes of a round width: that of Freedman and Diaconis (from memory: twice the
/// interquartile range by the cube root of the number of readings), wide enough for at most 40 classes.
pub fn histogram(sorted: &[f64]) -> Histogram {
    let n = sorted.len();
    let (Some(least), Some(most)) = (sorted.first(), sorted.last()) else {
        return Histogram {
            from: 0.0,
            width: 1.0,
            counts: Vec::new(),
        };
    };
    let range = sorted[(3 * n / 4).min(n - 1)] - sorted[n / 4];
    let wished = 2.0 * range / libm::cbrt(n as f64);
    let width = round_up(wished.max((most - least) / MOST).max(most * 1e-3));
    let from = (least / width).floor() * width;
    let classes = ((most - from) / width).floor() as usize + 1;
    let mut counts = vec![0; classes];
    for x in sorted {
        let class = (((x - from) / width).floor() as usize).min(classes - 1);
        counts[class] += 1;
    }
    Histogram {
        from,
        width,
        counts,
    }
}

/// The least of 1, 2, 5, 10, 20 ... (and their tenths) that is not below `least`.
fn round_up(least: f64) -> f64 {
    let mut size = 1e-6;
    while size < 1e9 {
        for factor in [1.0, 2.0, 5.0] {
            if size * factor >= least * (1.0 - 1e-9) {
                return size * factor;
            }
        }
        size *= 10.0;
    }
    least
}
