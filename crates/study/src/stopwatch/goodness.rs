//! How far the readings lie from a fitted law, and whether that is unusual.

use scullery_engine::sampler::Sampler;
use scullery_engine::streams::Root;

use super::family::Fitted;

/// Samples drawn from the fitted law.
const SAMPLES: u64 = 499;
/// Readings beyond which the samples are drawn smaller; the distance then is scaled by the root of the size.
const MOST_DRAWN: usize = 400;

/// Largest distance between the step function of sorted readings and the fitted curve (Kolmogorov), 0 to 1.
pub fn distance(sorted: &[f64], fitted: &Fitted) -> f64 {
    let n = sorted.len() as f64;
    let mut far = 0.0_f64;
    for (i, x) in sorted.iter().enumerate() {
        let share = fitted.share_below(*x);
        far = far
            .max(share - i as f64 / n)
            .max((i + 1) as f64 / n - share);
    }
    far
}

/// Share of samples drawn from the fitted law that lie at least as far from their own fit as the readings from theirs.
///
/// Tables of Kolmogorov's distance do not hold when the parameters come from the same readings; drawing from the fit
/// does (the parametric bootstrap, from memory of Stute, Manteiga and Quindimil, *Metrika* 40 (1993)). The luck is fixed,
/// so the same readings give the same share. It moves in steps of 1/500 and is never 0.
pub fn unusual(sorted: &[f64], fitted: &Fitted) -> f64 {
    let size = sorted.len().min(MOST_DRAWN);
    let root = Root::new(0x7374_6f70, 1);
    let source = root.source("stopwatch/goodness");
    let sampler = Sampler::new(&fitted.dist());
    let observed = distance(sorted, fitted) * (sorted.len() as f64).sqrt();
    let mut drawn = vec![0.0; size];
    let mut beyond = 0_u64;
    for sample in 0..SAMPLES {
        for (k, x) in drawn.iter_mut().enumerate() {
            *x = sampler
                .draw(source.at(sample * MOST_DRAWN as u64 + k as u64))
                .max(1e-9);
        }
        drawn.sort_unstable_by(f64::total_cmp);
        let far = fitted
            .family
            .fit(&drawn)
            .map_or(1.0, |own| distance(&drawn, &own));
        beyond += u64::from(far * (size as f64).sqrt() >= observed);
    }
    (beyond + 1) as f64 / (SAMPLES + 1) as f64
}
