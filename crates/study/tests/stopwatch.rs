//! Times from a stopwatch: fits, distances, readings needed, standard time.

use scullery_engine::dist::Dist;
use scullery_engine::sampler::Sampler;
use scullery_engine::streams::Root;
use scullery_study::intervals::student_quantile;
use scullery_study::stopwatch::family::Family;
use scullery_study::stopwatch::goodness::distance;
use scullery_study::stopwatch::needed::readings as needed;
use scullery_study::stopwatch::standard::{Convention, standard_time};
use scullery_study::stopwatch::{Refusal, study_times};

/// Twelve times between failures of the air conditioning of an aircraft: Proschan, Technometrics 5 (1963), as used by
/// Davison and Hinkley, Bootstrap Methods and their Application (1997).
const AIRCRAFT: [f64; 12] = [
    3.0, 5.0, 7.0, 18.0, 43.0, 85.0, 91.0, 98.0, 100.0, 130.0, 230.0, 487.0,
];

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
}

#[test]
fn four_laws_fit_the_aircraft_data_as_reference_libraries_do() {
    // The mean is printed in Davison and Hinkley (108.083); parameters and likelihoods from the likelihood equations,
    // agreeing with scipy.stats fits.
    let fit = |family: Family| family.fit(&AIRCRAFT).unwrap();
    let exponential = fit(Family::Exponential);
    near(exponential.a, 108.083, 0.0005);
    near(exponential.log_likelihood, -68.194_830_414_34, 1e-9);
    let gamma = fit(Family::Gamma);
    near(gamma.a, 0.706_493_174_804_3, 1e-11);
    near(gamma.b, 152.985_672_314_9, 1e-8);
    near(gamma.log_likelihood, -67.645_424_555_8, 1e-9);
    let weibull = fit(Family::Weibull);
    near(weibull.a, 0.793_943_806_982_2, 1e-11);
    near(weibull.b, 94.964_895_077_17, 1e-8);
    near(weibull.log_likelihood, -67.618_509_874_3, 1e-9);
    let lognormal = fit(Family::Lognormal);
    near(lognormal.a, 3.828_588_211_156, 1e-11);
    near(lognormal.b, 1.529_225_363_137, 1e-11);
    near(lognormal.log_likelihood, -68.067_456_635_39, 1e-9);
    near(distance(&AIRCRAFT, &exponential), 0.187_287_848_253, 1e-11);
}

#[test]
fn the_best_fit_comes_first_and_near_ones_are_not_told_apart() {
    let study = study_times(&AIRCRAFT).unwrap();
    // Criteria 138.39 (exponential), 139.24 (Weibull), 139.29 (gamma), 140.13 (lognormal): all within 2.
    let order: Vec<&str> = study
        .fits
        .iter()
        .map(|fit| fit.fitted.family.name())
        .collect();
    assert_eq!(order, ["exponential", "weibull", "gamma", "lognormal"]);
    assert!(study.fits.iter().all(|fit| !fit.told_apart));
    assert_eq!(study.best_line(), "{ exponential = { mean = 108.1 } }");
}

#[test]
fn the_moments_of_a_fitted_law_are_those_of_its_parameters() {
    // Weibull of mean 10 and cv 0.5: shape 2.1013491, scale 11.290634, 95th 19.031755 (scipy.stats.weibull_min).
    // Lognormal of mean 12 and cv 0.3: 2.4418178 and 0.29356038, 95th 18.628295 (scipy.stats.lognorm).
    for (family, a, b, mean, cv, p95) in [
        (
            Family::Weibull,
            2.101_349_1,
            11.290_634,
            10.0,
            0.5,
            19.031_755,
        ),
        (
            Family::Lognormal,
            2.441_817_8,
            0.293_560_38,
            12.0,
            0.3,
            18.628_295,
        ),
    ] {
        let fitted = scullery_study::stopwatch::family::Fitted {
            family,
            a,
            b,
            log_likelihood: 0.0,
        };
        near(fitted.mean(), mean, 2e-6 * mean);
        near(fitted.cv(), cv, 2e-6);
        near(fitted.quantile(0.95), p95, 2e-6 * p95);
        near(fitted.share_below(p95), 0.95, 1e-6);
    }
}

#[test]
fn known_parameters_are_found_again_within_their_standard_errors() {
    // 400 samples of 100 readings, gamma of mean 12 and cv 0.4: the mean of the fitted means lies within 4 standard
    // errors of 12, and the fit picks a skewed law of about that cv.
    let law = Dist::Gamma {
        mean: 12.0,
        cv: 0.4,
    };
    let sampler = Sampler::new(&law);
    let source = Root::new(5, 1).source("test/readings");
    let (mut means, mut cvs) = (Vec::new(), Vec::new());
    for sample in 0..400_u64 {
        let mut readings: Vec<f64> = (0..100)
            .map(|k| sampler.draw(source.at(sample * 100 + k)))
            .collect();
        readings.sort_unstable_by(f64::total_cmp);
        let fitted = Family::Gamma.fit(&readings).unwrap();
        means.push(fitted.mean());
        cvs.push(fitted.cv());
    }
    let average = |values: &[f64]| values.iter().sum::<f64>() / values.len() as f64;
    near(
        average(&means),
        12.0,
        4.0 * 12.0 * 0.4 / (100.0_f64 * 400.0).sqrt(),
    );
    // The likelihood estimate of a shape is high by about 3/n (Johnson, Kotz and Balakrishnan, from memory), so the cv is
    // low by about 1.5 %. Its standard error is about cv / sqrt(2 n) a sample; 4 of them, over 400 samples.
    near(
        average(&cvs),
        0.4 * (1.0 - 1.5 / 100.0),
        0.4 * 4.0 / (2.0_f64 * 100.0 * 400.0).sqrt() + 0.002,
    );
}

#[test]
fn a_law_of_another_shape_is_found_unusual_and_the_right_one_is_not() {
    let sampler = Sampler::new(&Dist::Lognormal {
        mean: 10.0,
        cv: 0.5,
    });
    let source = Root::new(6, 1).source("test/readings");
    let readings: Vec<f64> = (0..200).map(|k| sampler.draw(source.at(k))).collect();
    let study = study_times(&readings).unwrap();
    let of = |family| {
        study
            .fits
            .iter()
            .find(|fit| fit.fitted.family == family)
            .unwrap()
    };
    assert!(of(Family::Exponential).unusual <= 0.01 && of(Family::Exponential).told_apart);
    assert!(of(Family::Lognormal).unusual > 0.01);
    assert_eq!(study.fits[0].fitted.family, Family::Lognormal);
}

#[test]
fn the_right_law_is_called_unusual_as_seldom_as_it_says() {
    // At a share of 0.10, 200 samples of the fitted family itself: a binomial count with mean 20 and deviation 4.2.
    let sampler = Sampler::new(&Dist::Weibull {
        shape: 2.0,
        scale: 8.0,
    });
    let source = Root::new(7, 1).source("test/readings");
    let mut beyond = 0;
    for sample in 0..200_u64 {
        let mut readings: Vec<f64> = (0..20)
            .map(|k| sampler.draw(source.at(sample * 20 + k)))
            .collect();
        readings.sort_unstable_by(f64::total_cmp);
        let fitted = Family::Weibull.fit(&readings).unwrap();
        if scullery_study::stopwatch::goodness::unusual(&readings, &fitted) <= 0.10 {
            beyond += 1;
        }
    }
    assert!((20 - 17..=20 + 17).contains(&beyond), "{beyond} of 200");
}

#[test]
fn readings_needed_are_the_least_that_do() {
    for cv in [0.1, 0.35, 0.4, 1.0, 2.5] {
        for within in [0.1, 0.05] {
            let n = needed(cv, within);
            let half =
                |n: u64| student_quantile((n - 1) as f64, 0.975).unwrap() * cv / (n as f64).sqrt();
            assert!(half(n) <= within, "{cv} {within} {n}");
            assert!(n == 2 || half(n - 1) > within, "{cv} {within} {n}");
        }
    }
    // Normal approximation: (1.96 * 0.4 / 0.05)^2 = 245.9; Student's t asks for two or three more.
    let n = needed(0.4, 0.05);
    assert!((246..=250).contains(&n), "{n}");
}

#[test]
fn the_two_conventions_of_allowance_differ_and_each_is_as_printed() {
    // International Labour Office, Introduction to Work Study: 9.0 s at a rating of 1.1 with 15 %.
    let basic = standard_time(9.0, 1.1, 0.15, Convention::ShareOfBasic);
    near(basic.basic_s, 9.9, 1e-12);
    near(basic.standard_s, 11.385, 1e-12);
    let shift = standard_time(9.0, 1.1, 0.15, Convention::ShareOfShift);
    near(shift.standard_s, 11.647_059, 5e-7);
}

#[test]
fn what_cannot_be_fitted_is_refused_or_said_plainly() {
    assert_eq!(study_times(&[1.0, 2.0, 3.0]), Err(Refusal::TooFew(3)));
    assert_eq!(
        study_times(&[1.0, 2.0, 0.0, 4.0, 5.0]),
        Err(Refusal::NotATime(3, 0.0))
    );
    assert!(matches!(
        study_times(&[1.0, f64::NAN, 2.0, 4.0, 5.0]),
        Err(Refusal::NotATime(2, _))
    ));
    let same = study_times(&[7.0; 6]).unwrap();
    assert!(same.fits.is_empty());
    assert_eq!(same.best_line(), "{ constant = 7 }");
    assert_eq!(same.readings_line(), "{ readings = [7, 7, 7, 7, 7, 7] }");
}
