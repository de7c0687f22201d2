//! Independent repeats of a scenario, and what they say of a figure.

use scullery_engine::ended::Ended;
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_scenario::plan::Plan;
use scullery_scenario::{Format, read_alone};

use crate::tally::Tally;

/// Reads a scenario that must be right.
pub(crate) fn plan(text: &str) -> Plan {
    read_alone(text, Format::Toml).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"))
}

/// One number a repeat.
#[derive(Clone, Debug, Default)]
pub(crate) struct Sample {
    values: Vec<f64>,
}

impl Sample {
    pub(crate) fn of(values: Vec<f64>) -> Sample {
        Sample { values }
    }

    pub(crate) fn n(&self) -> usize {
        self.values.len()
    }

    pub(crate) fn mean(&self) -> f64 {
        self.values.iter().sum::<f64>() / self.n() as f64
    }

    /// Variance over the repeats.
    pub(crate) fn variance(&self) -> f64 {
        let mean = self.mean();
        let squares: f64 = self.values.iter().map(|x| (x - mean) * (x - mean)).sum();
        squares / (self.n() - 1) as f64
    }

    /// Standard error of the mean.
    pub(crate) fn standard_error(&self) -> f64 {
        (self.variance() / self.n() as f64).sqrt()
    }

    /// The variance over the repeats as a figure of its own, with its standard error from the spread of the squares.
    pub(crate) fn squares(&self) -> Sample {
        let mean = self.mean();
        let n = self.n() as f64;
        let squares = self
            .values
            .iter()
            .map(|x| (x - mean) * (x - mean) * n / (n - 1.0));
        Sample::of(squares.collect())
    }
}

/// So many repeats of so many minutes each, of which the first few are not looked at.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Length {
    pub(crate) repeats: u64,
    pub(crate) warm_up_min: f64,
    pub(crate) min: f64,
}

impl Length {
    /// An empty tally over the time after the warm-up.
    pub(crate) fn tally(&self, plan: &Plan) -> Tally {
        let from = SimTime::from_min(self.warm_up_min);
        Tally::new(plan.line.catalogue(), from, SimTime::from_min(self.min))
    }
}

/// Seed of a model's study, from its title: no two models share their luck.
fn seed(title: &str) -> u64 {
    // FNV-1a.
    title.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// Runs the repeats; `look` turns what was seen of each into numbers, which come back one sample a number.
pub(crate) fn repeats<const N: usize>(
    plan: &Plan,
    repeats: u64,
    begin: impl Fn() -> Tally,
    look: impl Fn(&Tally, &Ended) -> [f64; N],
) -> [Sample; N] {
    let mut tape = Tape::new();
    let mut floor = Floor::new();
    let mut samples = std::array::from_fn(|_| Sample::default());
    let seed = seed(&plan.heading.name);
    for repeat in 0..repeats {
        tape.draw(&plan.demand, seed, repeat);
        let mut tally = begin();
        let ended = run(&plan.line, &tape, &mut floor, &mut tally)
            .unwrap_or_else(|fault| panic!("{fault}"));
        tally.close();
        let seen = look(&tally, &ended);
        for (sample, value) in samples.iter_mut().zip(seen) {
            sample.values.push(value);
        }
    }
    samples
}
