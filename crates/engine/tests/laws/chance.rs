//! The tape: who comes, when, with what.

use scullery_engine::demand::*;
use scullery_engine::dist::Dist;
use scullery_engine::tape::{Diner, Tape};

use crate::hand::*;

pub(super) fn drawn(demand: &Demand, seed: u64, repeat: u64) -> Tape {
    let mut tape = Tape::new();
    tape.draw(demand, seed, repeat);
    tape
}

pub(super) const H: f64 = 3600.0;

/// So many covers between these hours.
pub(super) fn per_hour(edges_h: &[f64], counts: &[f64], how: How) -> Demand {
    Demand {
        covers: Covers::PerInterval {
            edges: edges_h.iter().map(|&h| at(h * H)).collect(),
            counts: counts.to_vec(),
            how,
        },
        ..coming(&[], &[1.0])
    }
}

/// Mean and standard deviation of so many values.
fn moments(values: &[f64]) -> (f64, f64) {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    let squares: f64 = values.iter().map(|v| (v - mean) * (v - mean)).sum();
    (mean, (squares / (n - 1.0)).sqrt())
}

fn served_s(tape: &Tape) -> Vec<f64> {
    let of = |&d: &u32| tape.diners()[d as usize].served.s();
    tape.served().iter().map(of).collect()
}

#[test]
fn a_quiet_spell_does_not_swallow_the_rush() {
    // 0.01 an hour for 2 h, then 120 an hour for 1 h, then none: Poisson with mean 0.02 + 120 and variance the same.
    let demand = per_hour(&[0.0, 2.0, 3.0, 4.0], &[0.02, 120.0, 0.0], How::Poisson);
    let counts: Vec<f64> = (0..1000)
        .map(|r| drawn(&demand, 1, r).diners().len() as f64)
        .collect();
    let (mean, sd) = moments(&counts);
    // Four standard errors: 4 x 10.96 / sqrt(1000); of the sd 4 x 10.96 / sqrt(2000).
    assert!((118.63..=121.41).contains(&mean), "{mean}");
    assert!((sd - 10.96).abs() < 0.98, "{sd}");
}

#[test]
fn nobody_comes_outside_the_hours_and_the_first_after_the_mean_gap() {
    // None 10–11, 60 from 11 to 12, none afterwards.
    let demand = per_hour(&[10.0, 11.0, 12.0, 13.0], &[0.0, 60.0, 0.0], How::Poisson);
    let mut counts = Vec::new();
    let mut first = Vec::new();
    for repeat in 0..1000 {
        let served = served_s(&drawn(&demand, 1, repeat));
        assert!(served.iter().all(|s| (11.0 * H..12.0 * H).contains(s)));
        assert!(served.is_sorted());
        counts.push(served.len() as f64);
        first.push(served[0] - 11.0 * H);
    }
    // Four standard errors of a mean count of 60 and of an exponential gap of 60 s.
    let (count, gap) = (moments(&counts).0, moments(&first).0);
    assert!(
        (count - 60.0).abs() < 4.0 * (60.0f64 / 1000.0).sqrt(),
        "{count}"
    );
    assert!((gap - 60.0).abs() < 4.0 * 60.0 / 1000f64.sqrt(), "{gap}");
}

#[test]
fn a_rate_that_rises_evenly_puts_a_quarter_in_the_first_half() {
    // From 0 to 2 a minute over an hour: 60 in all, a quarter of them (15) in the first half; both are Poisson. Then
    // down from 2 to 0 in half an hour: 30.
    let demand = per_hour(&[0.0, 1.0, 1.5], &[0.0, 2.0, 0.0], How::PoissonLinear);
    let (mut early, mut rising, mut falling) = (0, 0, 0);
    for repeat in 0..1000 {
        for s in served_s(&drawn(&demand, 3, repeat)) {
            early += u32::from(s < 0.5 * H);
            rising += u32::from(s < H);
            falling += u32::from(s >= H);
        }
    }
    let near =
        |sum: u32, mean: f64| (f64::from(sum) / 1000.0 - mean).abs() < 4.0 * (mean / 1000.0).sqrt();
    assert!(near(early, 15.0), "{early}");
    assert!(near(rising, 60.0), "{rising}");
    assert!(near(falling, 30.0), "{falling}");
}

#[test]
fn a_stated_count_is_met_exactly_evenly_or_at_random() {
    // Four an hour: the first at half a gap.
    let evenly = per_hour(&[0.0, 1.0, 1.5], &[4.0, 1.0], How::Evenly);
    assert_eq!(
        served_s(&drawn(&evenly, 1, 0)),
        [450.0, 1350.0, 2250.0, 3150.0, 4500.0]
    );
    let random = per_hour(&[0.0, 1.0, 1.5], &[40.0, 10.0], How::AtRandom);
    for repeat in 0..20 {
        let served = served_s(&drawn(&random, 1, repeat));
        assert_eq!(served.iter().filter(|&&s| s < H).count(), 40);
        assert_eq!(served.iter().filter(|&&s| s >= H).count(), 10);
    }
}

#[test]
fn the_day_factor_scales_rates_and_stated_counts_but_not_observed_instants() {
    let mut demand = per_hour(&[0.0, 1.0], &[4.0], How::Evenly);
    demand.days = Days::Design(1.5);
    assert_eq!(drawn(&demand, 1, 0).diners().len(), 6);
    demand.days = Days::Vary { cv: 0.0 };
    assert_eq!(drawn(&demand, 1, 0).diners().len(), 4);
    demand.days = Days::Past(vec![0.5, 2.0]);
    let counts: Vec<usize> = (0..50)
        .map(|r| drawn(&demand, 1, r).diners().len())
        .collect();
    assert!(counts.iter().all(|&n| n == 2 || n == 8));
    assert!(counts.contains(&2) && counts.contains(&8));
    let observed = Demand {
        days: Days::Design(3.0),
        ..coming(&[1.0, 2.0], &[1.0])
    };
    assert_eq!(drawn(&observed, 1, 0).diners().len(), 2);
}

#[test]
fn days_that_vary_have_mean_one_and_the_stated_cv() {
    let mut demand = per_hour(&[0.0, 1.0], &[10_000.0], How::Evenly);
    demand.days = Days::Vary { cv: 0.2 };
    let factors: Vec<f64> = (0..400)
        .map(|r| drawn(&demand, 1, r).diners().len() as f64 / 10_000.0)
        .collect();
    let (mean, sd) = moments(&factors);
    // Four standard errors of 400 days; the sd of a lognormal a little more.
    assert!((mean - 1.0).abs() < 4.0 * 0.2 / 20.0, "{mean}");
    assert!((sd - 0.2).abs() < 0.2 * 0.2, "{sd}");
}

fn seated(eats_min: f64, at_s: &[f64]) -> Demand {
    let mut demand = coming(at_s, &[1.0]);
    demand.kinds[0].sits = true;
    demand.eating_min = vec![(at(0.0), Dist::Constant(eats_min))];
    demand
}

fn comes_s(tape: &Tape) -> Vec<f64> {
    tape.diners().iter().map(|d| d.comes.s()).collect()
}

#[test]
fn eating_time_is_the_one_in_force_when_the_diner_sits_down() {
    // Two minutes to find a seat; 20 min to eat for who sits down from 600 s on, 10 min before.
    let mut demand = seated(10.0, &[470.0, 490.0]);
    demand.find_seat_min = Dist::Constant(2.0);
    demand.eating_min.push((at(600.0), Dist::Constant(20.0)));
    assert_eq!(comes_s(&drawn(&demand, 1, 0)), [1190.0, 1810.0]);
}

#[test]
fn a_bell_sends_its_share_of_those_seated_within_its_span_and_nobody_later_than_they_would_go() {
    let bell = |share| Bell {
        at: at(1000.0),
        share,
        before: secs(60.0),
        after: secs(120.0),
        seated_at_least: secs(300.0),
    };
    // Served at 0: heeds. At 700: may be seated long enough, by when it goes. At 900: never is. At 2000: after it.
    let mut demand = seated(60.0, &[0.0, 900.0, 2000.0]);
    demand.bells = vec![bell(1.0)];
    for repeat in 0..50 {
        let comes = comes_s(&drawn(&demand, 1, repeat));
        assert!((940.0..1120.0).contains(&comes[0]), "{comes:?}");
        assert_eq!(comes[1..], [4500.0, 5600.0]);
    }
    // Done before the bell's span begins: goes when done.
    let mut quick = seated(15.0, &[0.0]);
    quick.bells = vec![bell(1.0)];
    assert_eq!(comes_s(&drawn(&quick, 1, 0)), [900.0]);
    // Half of 2000 heed a bell of share 0.5: within four standard deviations (89).
    let mut many = seated(60.0, &[0.0; 2000]);
    many.bells = vec![bell(0.5)];
    let heed = comes_s(&drawn(&many, 1, 0))
        .iter()
        .filter(|&&s| s < 3600.0)
        .count();
    assert!((911..=1089).contains(&heed), "{heed}");
}

#[test]
fn a_party_is_served_eats_and_leaves_together_a_few_seconds_apart() {
    let mut demand = per_hour(&[0.0, 1.0], &[10.0], How::Evenly);
    demand.kinds[0].sits = true;
    demand.eating_min = vec![(
        at(0.0),
        Dist::Gamma {
            mean: 20.0,
            cv: 0.35,
        },
    )];
    demand.parties = Some(Parties {
        shares: vec![0.0, 0.0, 1.0],
        apart: secs(4.0),
    });
    // Ten covers: parties of 3, 3, 3 and what is left, 1.
    let tape = drawn(&demand, 1, 0);
    let of = |d: &Diner| (d.served.us(), d.comes.us());
    let diners: Vec<_> = tape.diners().iter().map(of).collect();
    assert_eq!(diners.len(), 10);
    for party in diners[..9].chunks(3) {
        for (member, diner) in party.iter().enumerate() {
            let later = 4_000_000 * member as u64;
            assert_eq!(*diner, (party[0].0 + later, party[0].1 + later));
        }
    }
    assert_ne!(diners[1].1 - diners[1].0, diners[4].1 - diners[4].0);
}

#[test]
fn parties_leave_the_mean_number_of_covers_as_it_is() {
    // 120 covers in parties of 1 or 3, as often each (mean size 2): 60 parties, Poisson; variance of covers 60 x 5.
    let mut demand = per_hour(&[0.0, 1.0], &[120.0], How::Poisson);
    demand.parties = Some(Parties {
        shares: vec![0.5, 0.0, 0.5],
        apart: secs(0.0),
    });
    assert_eq!(demand.mean_party(), 2.0);
    let counts: Vec<f64> = (0..1000)
        .map(|r| drawn(&demand, 1, r).diners().len() as f64)
        .collect();
    let (mean, sd) = moments(&counts);
    assert!(
        (mean - 120.0).abs() < 4.0 * (300.0f64 / 1000.0).sqrt(),
        "{mean}"
    );
    assert!((sd - 300f64.sqrt()).abs() < 1.7, "{sd}");
}

#[test]
fn a_fraction_of_a_piece_is_the_whole_number_below_or_above_it() {
    // 1.25 pieces: one or two, two in a quarter of 4000 (1000 +- 4 x 27); 2 pieces: always two.
    let tape = drawn(&coming(&[0.0; 4000], &[1.25, 2.0]), 1, 0);
    let twos = tape.diners().iter().filter(|d| d.pieces[0] == 2).count();
    assert!(tape.diners().iter().all(|d| (1..=2).contains(&d.pieces[0])));
    assert!((890..=1110).contains(&twos), "{twos}");
    assert!(tape.diners().iter().all(|d| d.pieces[1] == 2));
}

#[test]
fn kinds_come_by_their_shares_at_the_hour_and_take_away_brings_nothing_back() {
    let mut demand = coming(&[0.0; 2000], &[1.0]);
    let Covers::Instants(instants) = &mut demand.covers else {
        panic!("instants");
    };
    instants.extend(vec![at(100.0); 2000]);
    let mut away = demand.kinds[0].clone();
    away.pieces = vec![0.0];
    // Three to one before 100 s, none from then on.
    away.share = vec![(at(0.0), 1.0), (at(100.0), 0.0)];
    demand.kinds[0].share = vec![(at(0.0), 3.0)];
    demand.kinds.push(away);
    let tape = drawn(&demand, 1, 0);
    let away = |d: &&Diner| d.kind == 1;
    let early = tape.diners()[..2000].iter().filter(away).count();
    // 500 +- 4 x 19.4.
    assert!((422..=578).contains(&early), "{early}");
    assert_eq!(tape.diners()[2000..].iter().filter(away).count(), 0);
    assert_eq!(tape.coming().len(), 4000 - early);
    assert!(tape.diners().iter().filter(away).all(|d| !d.brings_ware()));
}
