//! An axis of plain numbers.

use crate::number::fixed;

/// Numbers along a line, in round steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Axis {
    low: f64,
    high: f64,
    step: f64,
}

impl Axis {
    /// An axis that holds all these values, with about so many steps. Nought is on it when `with_nought`.
    pub(super) fn over(values: impl Iterator<Item = f64>, steps: f64, with_nought: bool) -> Axis {
        let (mut low, mut high) = values
            .filter(|value| value.is_finite())
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            });
        if low > high {
            (low, high) = (0.0, 1.0);
        }
        if with_nought {
            (low, high) = (low.min(0.0), high.max(0.0));
        }
        if high - low < 1e-9 * high.abs().max(1e-3) {
            let room = (high.abs() * 0.1).max(0.5);
            (low, high) = (low - room, high + room);
        }
        let step = round_step((high - low) / steps);
        Axis {
            low: (low / step + 1e-9).floor() * step,
            high: (high / step - 1e-9).ceil() * step,
            step,
        }
    }

    /// Where a value lies, from 0 to 1.
    pub(super) fn share(&self, value: f64) -> f64 {
        ((value - self.low) / (self.high - self.low)).clamp(0.0, 1.0)
    }

    /// The round values with their letters.
    pub(super) fn ticks(&self) -> Vec<(f64, String)> {
        let digits = (0..6)
            .find(|digits| {
                let scaled = self.step * 10_f64.powi(*digits);
                (scaled - scaled.round()).abs() < 1e-6 * scaled
            })
            .unwrap_or(6);
        let count = ((self.high - self.low) / self.step).round() as usize;
        (0..=count.min(100))
            .map(|number| {
                let value = self.low + number as f64 * self.step;
                (value, fixed(value, digits as usize))
            })
            .collect()
    }
}

/// The least of 1, 2, 5, 10, 20 ... times a power of ten that is not below `least`.
fn round_step(least: f64) -> f64 {
    let mut size = 1e-9;
    while size < 1e15 {
        for factor in [1.0, 2.0, 5.0] {
            if size * factor >= least * (1.0 - 1e-9) {
                return size * factor;
            }
        }
        size *= 10.0;
    }
    least
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_holds_its_values_in_round_steps() {
        let axis = Axis::over([3.2, 17.9].into_iter(), 5.0, false);
        let ticks: Vec<String> = axis.ticks().into_iter().map(|(_, text)| text).collect();
        assert_eq!(ticks, ["0", "5", "10", "15", "20"]);
        assert!((axis.share(10.0) - 0.5).abs() < 1e-12);
    }

    #[test]
    fn one_value_or_none_still_makes_an_axis() {
        for values in [vec![], vec![7.0], vec![0.0], vec![f64::NAN]] {
            let axis = Axis::over(values.into_iter(), 4.0, true);
            assert!(axis.ticks().len() >= 2 && axis.high > axis.low);
        }
    }
}
