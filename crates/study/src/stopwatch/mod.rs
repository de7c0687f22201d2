//! Stopwatch sheets: which distribution fits the times of a task, how well, how many more readings it takes, and the
//! standard time.
//!
//! Reading order: [`family`] (maximum likelihood), [`goodness`] (Kolmogorov's distance and how unusual it is),
//! [`needed`] (readings for a wanted precision), [`standard`] (rating and allowance).

pub mod family;
pub mod goodness;
pub mod histogram;
pub mod needed;
pub mod standard;

use scullery_engine::dist::Dist;

use crate::intervals::{mean, mean_interval, standard_deviation};
use family::{Family, Fitted};
use goodness::{distance, unusual};

/// Fewest readings to which a distribution is fitted.
pub const FEWEST: usize = 5;
/// Fewer readings than this say little about the shape; that is told.
pub const FEW: usize = 20;
/// Most readings of one task.
pub const MOST: usize = 10_000;
/// Fits whose criterion lies within this of the best are not told apart.
pub const TOLD_APART: f64 = 2.0;

/// What the readings of one task say.
#[derive(Clone, Debug, PartialEq)]
pub struct TimeStudy {
    /// The readings in seconds, in rising order.
    pub readings: Vec<f64>,
    /// Mean, s.
    pub mean: f64,
    /// Sample standard deviation, s.
    pub sd: f64,
    /// 95 % interval for the mean, s.
    pub mean_ci95: [f64; 2],
    /// The fitted distributions, best first; empty when all readings are equal.
    pub fits: Vec<Fit>,
    /// Readings needed in all for the mean within 10 % and within 5 %, 19 times of 20.
    pub needed_for_10_percent: u64,
    /// As above, within 5 %.
    pub needed_for_5_percent: u64,
}

/// One fitted distribution and how well it fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The distribution and its parameters.
    pub fitted: Fitted,
    /// Largest distance between the readings' step function and the fitted curve, 0 to 1.
    pub distance: f64,
    /// Share of samples drawn from the fitted curve itself that lie at least as far from *their* fit.
    pub unusual: f64,
    /// Whether the criterion sets it apart from the best.
    pub told_apart: bool,
}

/// Why nothing can be said of the readings.
#[derive(Clone, Debug, PartialEq)]
pub enum Refusal {
    /// Too few; the number there is.
    TooFew(usize),
    /// Too many; the number there is.
    TooMany(usize),
    /// A reading that is no time; its number, from 1, and its value.
    NotATime(usize, f64),
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Refusal::TooFew(n) => write!(
                f,
                "{n} readings are too few to fit anything; take at least {FEWEST}"
            ),
            Refusal::TooMany(n) => write!(f, "{n} readings of one task are more than {MOST}"),
            Refusal::NotATime(number, value) => {
                write!(
                    f,
                    "reading {number} must be a time above 0 s, found {value}"
                )
            }
        }
    }
}

/// Studies the readings of one task, in seconds.
///
/// # Errors
/// [`Refusal`], when nothing can be fitted.
pub fn study_times(readings: &[f64]) -> Result<TimeStudy, Refusal> {
    if let Some((at, value)) = (1..)
        .zip(readings)
        .find(|(_, x)| !(x.is_finite() && **x > 0.0))
    {
        return Err(Refusal::NotATime(at, *value));
    }
    if readings.len() < FEWEST {
        return Err(Refusal::TooFew(readings.len()));
    }
    if readings.len() > MOST {
        return Err(Refusal::TooMany(readings.len()));
    }
    let mut sorted = readings.to_vec();
    sorted.sort_unstable_by(f64::total_cmp);
    let centre = mean(&sorted).unwrap_or(0.0);
    let sd = standard_deviation(&sorted).unwrap_or(0.0);
    let mut fits: Vec<Fit> = Family::ALL
        .iter()
        .filter_map(|family| family.fit(&sorted))
        .map(|fitted| Fit {
            distance: distance(&sorted, &fitted),
            unusual: unusual(&sorted, &fitted),
            fitted,
            told_apart: false,
        })
        .collect();
    fits.sort_by(|a, b| a.fitted.criterion().total_cmp(&b.fitted.criterion()));
    let best = fits.first().map_or(0.0, |fit| fit.fitted.criterion());
    for fit in &mut fits {
        fit.told_apart = fit.fitted.criterion() - best > TOLD_APART;
    }
    Ok(TimeStudy {
        mean: centre,
        sd,
        mean_ci95: mean_interval(&sorted, 0.95).unwrap_or([centre, centre]),
        needed_for_10_percent: needed::readings(sd / centre, 0.10),
        needed_for_5_percent: needed::readings(sd / centre, 0.05),
        fits,
        readings: sorted,
    })
}

impl TimeStudy {
    /// Standard deviation divided by the mean.
    pub fn cv(&self) -> f64 {
        self.sd / self.mean
    }

    /// What to paste into a scenario, behind the key of the task: the best fit, by the moments a person knows.
    pub fn best_line(&self) -> String {
        match self.fits.first() {
            Some(fit) => fit.fitted.scenario_line(),
            None => format!("{{ constant = {} }}", plain(self.mean)),
        }
    }

    /// The same with the readings themselves, each as likely.
    pub fn readings_line(&self) -> String {
        let all: Vec<String> = self.readings.iter().map(|x| plain(*x)).collect();
        format!("{{ readings = [{}] }}", all.join(", "))
    }

    /// The best fit as the engine draws it.
    pub fn best(&self) -> Dist {
        self.fits
            .first()
            .map_or(Dist::Constant(self.mean), |fit| fit.fitted.dist())
    }
}

/// A number with four significant figures, no exponent.
pub(crate) fn plain(x: f64) -> String {
    if x.abs() < f64::MIN_POSITIVE {
        return "0".to_owned();
    }
    let digits = (3 - libm::floor(libm::log10(x.abs())) as i32).clamp(0, 9);
    let text = format!("{x:.*}", digits as usize);
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
