//! The search in order of cost keeps its promise.

use std::ops::Range;
use std::sync::atomic::AtomicBool;

use scullery_engine::streams::Root;
use scullery_study::deciding::share::Zone;
use scullery_study::search::{
    Asked, Fate, Found, Kitchen, Lunch, MOST_PROMISED, Rules, Seen, search,
};

/// Crews whose targets hold with known probabilities, on common luck: one uniform number a lunch and target.
struct Known {
    study: u64,
    /// For each crew the probability of each target.
    holds: Vec<Vec<f64>>,
}

impl Kitchen for Known {
    type Fault = ();
    fn lunches(&self, crew: usize, which: Range<u64>) -> Result<Vec<Lunch>, ()> {
        let luck = Root::new(11, self.study);
        Ok(which
            .map(|lunch| Lunch {
                targets: (self.holds[crew].iter().enumerate())
                    .map(|(t, p)| {
                        Seen::Held(luck.source(&format!("target {t}")).uniform(lunch) < *p)
                    })
                    .collect(),
                extra_cost: 0.0,
            })
            .collect())
    }
}

fn rules(targets: usize, most_lunches: u64) -> Rules {
    Rules {
        asked: vec![Asked::Share(Zone::about(0.9, 0.02).unwrap()); targets],
        alpha: 0.05,
        most_lunches,
        extra_cost_counts: false,
    }
}

fn find(kitchen: &Known, rules: &Rules) -> Found {
    let cost: Vec<f64> = (0..kitchen.holds.len()).map(|c| c as f64).collect();
    let all = |a: usize, b: usize| a <= b;
    search(
        kitchen,
        &cost,
        rules,
        &all,
        &|_| {},
        &AtomicBool::new(false),
    )
    .unwrap()
}

#[test]
fn the_promise_is_kept_over_repeated_searches_on_the_hardest_cases() {
    // Twenty crews exactly at the lower end of the zone, which must not be named, then one exactly at the upper end,
    // which must, then one that is surely good.
    let mut holds = vec![vec![0.88, 1.0]; 20];
    holds.push(vec![0.92, 0.92]);
    holds.push(vec![0.999, 0.999]);
    const OF: u64 = 300;
    let broken = (0..OF).filter(|&study| {
        let found = find(
            &Known {
                study,
                holds: holds.clone(),
            },
            &rules(2, 100_000),
        );
        assert!(found.promised && !found.stopped);
        found.winner != Some(20)
    });
    let broken = broken.count() as f64;
    // At most 5 in 100 are allowed; four standard errors of that.
    assert!(
        broken <= 15.0 + 4.0 * (OF as f64 * 0.05 * 0.95).sqrt(),
        "broken in {broken} of {OF}"
    );
}

#[test]
fn a_crew_within_the_zone_may_be_named_or_not_but_nothing_dearer_than_the_first_surely_good() {
    let holds = vec![vec![0.5], vec![0.9], vec![0.95], vec![0.99]];
    for study in 0..60 {
        let found = find(
            &Known {
                study,
                holds: holds.clone(),
            },
            &rules(1, 100_000),
        );
        assert!(matches!(found.winner, Some(1 | 2)), "{:?}", found.winner);
        assert_eq!(found.tried[0].fate, Fate::Fails(0));
    }
}

#[test]
fn a_crew_that_cannot_be_decided_within_the_most_lunches_is_left_not_sure() {
    let found = find(
        &Known {
            study: 3,
            holds: vec![vec![0.9], vec![0.99]],
        },
        &rules(1, 150),
    );
    assert_eq!(found.tried[0].fate, Fate::NotSure);
    assert_eq!(found.tried[0].lunches(), 150);
    assert_eq!(found.winner, Some(1));
}

#[test]
fn when_none_holds_none_is_named() {
    let found = find(
        &Known {
            study: 1,
            holds: vec![vec![0.2]; 30],
        },
        &rules(1, 1000),
    );
    assert!(found.winner.is_none() && found.tried.iter().all(|t| t.fate == Fate::Fails(0)));
    assert_eq!(found.tried.len(), 30);
}

#[test]
fn bad_crews_go_after_a_few_lunches_each() {
    // 792 crews as of up to 12 people at 5 posts: most are hopeless. Running all for 200 lunches would take 158,400.
    let mut holds: Vec<Vec<f64>> = (0..500)
        .map(|c| vec![0.3 * c as f64 / 500.0, 0.9])
        .collect();
    holds.extend((0..292).map(|_| vec![0.97, 0.99]));
    let found = find(&Known { study: 5, holds }, &rules(2, 100_000));
    assert_eq!(found.winner, Some(500));
    assert!(found.lunches < 15_840, "{}", found.lunches);
}

#[test]
fn the_same_search_finds_the_same_on_any_number_of_threads() {
    let holds: Vec<Vec<f64>> = (0..60)
        .map(|c| vec![0.5 + 0.008 * c as f64, 0.95])
        .collect();
    let on = |threads: usize| {
        let pool = rayon::ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .unwrap();
        pool.install(|| {
            find(
                &Known {
                    study: 9,
                    holds: holds.clone(),
                },
                &rules(2, 20_000),
            )
        })
    };
    let (one, three) = (on(1), on(3));
    assert_eq!((one.winner, one.lunches), (three.winner, three.lunches));
    let fates = |f: &Found| {
        f.tried
            .iter()
            .map(|t| (t.candidate, t.fate, t.lunches()))
            .collect::<Vec<_>>()
    };
    assert_eq!(fates(&one), fates(&three));
}

#[test]
fn a_stopped_search_says_so() {
    let known = Known {
        study: 1,
        holds: vec![vec![0.99]; 3],
    };
    let found = search(
        &known,
        &[1.0, 2.0, 3.0],
        &rules(1, 1000),
        &|_, _| false,
        &|_| {},
        &AtomicBool::new(true),
    );
    let found = found.unwrap();
    assert!(found.stopped && found.winner.is_none());
}

#[test]
fn beyond_so_many_crews_nothing_is_promised_and_lesser_crews_than_a_failed_one_are_passed_over() {
    let mut holds = vec![vec![0.1]; MOST_PROMISED + 1];
    holds.push(vec![1.0]);
    let known = Known { study: 1, holds };
    let cost: Vec<f64> = (0..known.holds.len()).map(|c| c as f64).collect();
    // Everything but the last is said to be less than the first.
    let last = known.holds.len() - 1;
    let less = |a: usize, _: usize| a != last;
    let found = search(
        &known,
        &cost,
        &rules(1, 1000),
        &less,
        &|_| {},
        &AtomicBool::new(false),
    )
    .unwrap();
    assert!(!found.promised && found.passed_over > MOST_PROMISED - 100);
    assert_eq!(found.winner, Some(last));
}

/// Crews with a random part of cost.
struct Costly {
    known: Known,
    extra: Vec<f64>,
}

impl Kitchen for Costly {
    type Fault = ();
    fn lunches(&self, crew: usize, which: Range<u64>) -> Result<Vec<Lunch>, ()> {
        let luck = Root::new(3, self.known.study).source("extra");
        let lunches = self.known.lunches(crew, which.clone())?;
        Ok(lunches
            .into_iter()
            .zip(which)
            .map(|(lunch, k)| Lunch {
                extra_cost: self.extra[crew] * 2.0 * luck.uniform(k),
                ..lunch
            })
            .collect())
    }
}

#[test]
fn with_a_random_part_of_cost_every_crew_that_could_still_be_cheaper_is_looked_at() {
    // The first costs 10 and about 3 besides; the second 11 and nothing; the third 20.
    let known = Known {
        study: 2,
        holds: vec![vec![0.99]; 3],
    };
    let kitchen = Costly {
        known,
        extra: vec![3.0, 0.0, 0.0],
    };
    let rules = Rules {
        extra_cost_counts: true,
        ..rules(1, 10_000)
    };
    let found = search(
        &kitchen,
        &[10.0, 11.0, 20.0],
        &rules,
        &|_, _| false,
        &|_| {},
        &AtomicBool::new(false),
    );
    assert_eq!(found.unwrap().accepted, [0, 1]);
}
