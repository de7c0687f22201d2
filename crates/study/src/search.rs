//! The first that holds, in order of cost: which of many candidates meets every target and costs the least.
//!
//! Candidates stand in order of known cost. From the cheapest up, each is asked every target by a sequential test; one
//! target that fails rejects it, all that hold accept it, and one that cannot tell within so many lunches stays *not
//! sure*. The search is over when the cheapest accepted one is known and all before it are rejected or not sure.
//!
//! # The promise
//! A wrong acceptance of any of the `K` candidates hurts: each test may err so with `α/2K`. A wrong rejection hurts only
//! for the cheapest that is truly good: each of its `s` tests may err so with `α/2s`. The two sums are `α/2` each, and a
//! sum of chances holds however the lunches hang together, so all candidates may have the same lunches. With a
//! probability of at least `1 − α` the one named meets every target at least to the lower end of its zone, and costs no
//! more than the cheapest that meets all to the upper end, unless that one is among those left not sure.
//!
//! # Source
//! In the spirit of Batur and Kim (2010), Andradóttir and Kim (2010) and Healey et al. (2014), from memory; the split of
//! the error is argued above.
//!
//! What comes out hangs on the candidates, the rules and the lunches alone, not on the number of threads.

use std::ops::Range;
use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use crate::deciding::share::{ShareTest, Zone};
use crate::deciding::standard::StandardTest;
use crate::deciding::{Errors, Said};
use crate::intervals::{mean, standard_deviation, student_quantile};

/// Most candidates for which the promise is given.
pub const MOST_PROMISED: usize = 20_000;
/// Candidates looked at side by side.
const ABREAST: usize = 16;
/// Lunches of one candidate run in one go by one thread.
const PIECE: u64 = 8;
/// Candidates beyond the first accepted that are still looked at because their known cost is no higher.
const MOST_SURVIVORS: usize = 24;

/// What is asked of every lunch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Asked {
    /// A yes in a share of the lunches.
    Share(Zone),
    /// A mean on the good side of a standard.
    Mean {
        /// The standard.
        standard: f64,
        /// Whether the good side is below it.
        at_most: bool,
        /// How far from it either answer is right; positive.
        indifference: f64,
    },
}

/// What a lunch says of one target.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Seen {
    /// It held, or not.
    Held(bool),
    /// The value of the measure.
    Value(f64),
    /// The lunch never ended: it can hold nothing.
    Never,
    /// There was nothing to measure.
    Nothing,
}

/// One lunch of one candidate.
#[derive(Clone, Debug, PartialEq)]
pub struct Lunch {
    /// One entry a target.
    pub targets: Vec<Seen>,
    /// Cost beyond what is known beforehand (minutes past the shift); nought or more.
    pub extra_cost: f64,
}

/// Runs lunches of a candidate; lunch `k` has the same luck for all.
pub trait Kitchen: Sync {
    /// What goes wrong.
    type Fault: Send;
    /// Lunches `from..to` (from 1) of a candidate, in order.
    ///
    /// # Errors
    /// When a lunch could not be run.
    fn lunches(&self, candidate: usize, which: Range<u64>) -> Result<Vec<Lunch>, Self::Fault>;

    /// How many of the `all` targets are asked of this candidate: the first so many.
    fn asks(&self, candidate: usize, all: usize) -> usize {
        let _ = candidate;
        all
    }
}

/// How a search is made.
#[derive(Clone, Debug)]
pub struct Rules {
    /// One entry a target; not empty.
    pub asked: Vec<Asked>,
    /// Chance that the promise is broken, strictly between 0 and 1.
    pub alpha: f64,
    /// After so many lunches a candidate is left as not sure.
    pub most_lunches: u64,
    /// Whether cost has a part that only lunches tell.
    pub extra_cost_counts: bool,
}

/// How far a search has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SoFar {
    /// Candidates decided or passed over.
    pub done: usize,
    /// Candidates in all.
    pub of: usize,
    /// Lunches run.
    pub lunches: u64,
}

/// What became of a candidate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fate {
    /// Every target holds.
    Holds,
    /// A target fails: its number.
    Fails(usize),
    /// Cut off at the most lunches.
    NotSure,
    /// Not looked at, or not to the end, because a cheaper one had been accepted, or the search was stopped.
    Open,
    /// Passed over without a lunch: a larger one of its kind had failed (only in searches without the promise).
    PassedOver,
}

/// One candidate after the search.
#[derive(Clone, Debug)]
pub struct Tried {
    /// Its number.
    pub candidate: usize,
    /// What became of it.
    pub fate: Fate,
    /// What each target's test said.
    pub said: Vec<Said>,
    /// Lunches in which each target held, and lunches that spoke of it.
    pub held: Vec<(u64, u64)>,
    /// Lunches in which all targets on single lunches held.
    pub all_held: u64,
    /// Sum of the values of each target on a mean.
    pub sums: Vec<f64>,
    /// Extra cost of each of its lunches.
    pub extra: Vec<f64>,
}

impl Tried {
    /// Lunches run.
    pub fn lunches(&self) -> u64 {
        self.extra.len() as u64
    }
}

/// What a search found.
#[derive(Clone, Debug)]
pub struct Found {
    /// The cheapest that holds; `None` when none was accepted.
    pub winner: Option<usize>,
    /// All accepted, in order of known cost.
    pub accepted: Vec<usize>,
    /// Each candidate looked at, in order of known cost.
    pub tried: Vec<Tried>,
    /// Lunches run in all.
    pub lunches: u64,
    /// Whether it was stopped before its end.
    pub stopped: bool,
    /// Whether the promise is given.
    pub promised: bool,
    /// Candidates passed over without a lunch.
    pub passed_over: usize,
}

/// Whether a candidate may be passed over since another has failed; both by number.
pub type Less<'a> = &'a (dyn Fn(usize, usize) -> bool + Sync);

/// Searches candidates `0..cost.len()`, whose known cost is given and does not fall. `less(a, b)`: `a` has at most what
/// `b` has of everything; asked only where there are too many for the promise.
///
/// # Errors
/// The fault of the first lunch that has one.
pub fn search<K: Kitchen>(
    kitchen: &K,
    cost: &[f64],
    rules: &Rules,
    less: Less<'_>,
    progress: &(dyn Fn(SoFar) + Sync),
    stop: &AtomicBool,
) -> Result<Found, K::Fault> {
    let promised = cost.len() <= MOST_PROMISED;
    let alpha = if rules.extra_cost_counts {
        rules.alpha / 2.0
    } else {
        rules.alpha
    };
    let errors = Errors {
        wrong_holds: alpha / (2.0 * cost.len().max(1) as f64),
        wrong_fails: alpha / (2.0 * rules.asked.len().max(1) as f64),
    };
    let mut found = Found {
        winner: None,
        accepted: Vec::new(),
        tried: Vec::new(),
        lunches: 0,
        stopped: false,
        promised,
        passed_over: 0,
    };
    let mut failed: Vec<usize> = Vec::new();
    let mut next = 0;
    while next < cost.len() && !found.stopped {
        let bar = highest_cost(found.tried.iter(), cost, rules);
        let mut group = Vec::new();
        while group.len() < ABREAST && next < cost.len() && cost[next] <= bar {
            if !promised && failed.iter().any(|&f| less(next, f)) {
                found.passed_over += 1;
            } else {
                let asks = kitchen.asks(next, rules.asked.len());
                group.push(Running::new(
                    next,
                    &rules.asked[..asks.min(rules.asked.len())],
                    errors,
                ));
            }
            next += 1;
        }
        if !found.accepted.is_empty()
            && (group.is_empty() || found.tried.len() > most_tried(&found))
        {
            break;
        }
        if group.is_empty() {
            continue;
        }
        rounds(kitchen, (cost, rules), &mut group, &mut found, stop)?;
        for it in group {
            let tried = it.done();
            match tried.fate {
                Fate::Holds => found.accepted.push(tried.candidate),
                Fate::Fails(_) if !promised => {
                    failed.retain(|&f| !less(f, tried.candidate));
                    failed.push(tried.candidate);
                }
                _ => {}
            }
            found.tried.push(tried);
        }
        progress(SoFar {
            done: next,
            of: cost.len(),
            lunches: found.lunches,
        });
    }
    let bar = highest_cost(found.tried.iter(), cost, rules);
    found.accepted.retain(|&c| cost[c] <= bar);
    found.winner = found.accepted.first().copied();
    Ok(found)
}

/// Candidates that may have been tried before the search ends with an accepted one in hand.
fn most_tried(found: &Found) -> usize {
    let first = found.accepted.first().copied();
    let at = found.tried.iter().position(|t| Some(t.candidate) == first);
    at.unwrap_or(0) + MOST_SURVIVORS
}

/// Known cost above which nothing can be cheaper than what is accepted: its own known cost and as much as its extra
/// cost may come to.
fn highest_cost<'a>(tried: impl Iterator<Item = &'a Tried>, cost: &[f64], rules: &Rules) -> f64 {
    let accepted = tried.filter(|t| t.fate == Fate::Holds);
    let bars = accepted.map(|t| {
        let known = cost[t.candidate];
        let extra = if rules.extra_cost_counts {
            upper_mean(&t.extra, rules.alpha / 4.0)
        } else {
            0.0
        };
        known + extra + 1e-9 * known.abs()
    });
    bars.fold(f64::INFINITY, f64::min)
}

/// Upper end of a one-sided interval for a mean that may err with this probability.
fn upper_mean(values: &[f64], error: f64) -> f64 {
    let n = values.len() as f64;
    let (Some(centre), Some(sd)) = (mean(values), standard_deviation(values)) else {
        return 0.0;
    };
    let t = student_quantile(n - 1.0, 1.0 - error).unwrap_or(0.0);
    centre + t * sd / n.sqrt()
}

/// Runs the group until each is decided, or need not be.
fn rounds<K: Kitchen>(
    kitchen: &K,
    (cost, rules): (&[f64], &Rules),
    group: &mut [Running],
    found: &mut Found,
    stop: &AtomicBool,
) -> Result<(), K::Fault> {
    loop {
        if stop.load(Ordering::Relaxed) {
            found.stopped = true;
            return Ok(());
        }
        // What costs more than one accepted can come to need not be looked at to the end.
        let bar = highest_cost(group.iter().map(|it| &it.tried), cost, rules);
        let mut work: Vec<(usize, Range<u64>)> = Vec::new();
        for (at, it) in group.iter().enumerate() {
            if it.tried.fate == Fate::Open && cost[it.candidate] <= bar {
                work.extend(it.next_pieces(rules.most_lunches).map(|piece| (at, piece)));
            }
        }
        if work.is_empty() {
            return Ok(());
        }
        let ran: Vec<_> = work
            .par_iter()
            .map(|(at, piece)| kitchen.lunches(group[*at].candidate, piece.clone()))
            .collect();
        for ((at, _), lunches) in work.iter().zip(ran) {
            for lunch in lunches? {
                found.lunches += 1;
                group[*at].see(&lunch, rules);
            }
        }
    }
}

/// A candidate being looked at.
struct Running {
    candidate: usize,
    tests: Vec<Test>,
    tried: Tried,
}

enum Test {
    Share(ShareTest),
    Mean(StandardTest),
}

impl Running {
    fn new(candidate: usize, asked: &[Asked], errors: Errors) -> Running {
        let tests = asked.iter().map(|asked| match *asked {
            Asked::Share(zone) => Test::Share(ShareTest::new(zone, errors)),
            Asked::Mean {
                standard,
                at_most,
                indifference,
            } => Test::Mean(StandardTest::new(standard, at_most, indifference, errors)),
        });
        let of = asked.len();
        Running {
            candidate,
            tests: tests.collect(),
            tried: Tried {
                candidate,
                fate: Fate::Open,
                said: Vec::new(),
                held: vec![(0, 0); of],
                all_held: 0,
                sums: vec![0.0; of],
                extra: Vec::new(),
            },
        }
    }

    /// What is run next: a quarter more than there is, in pieces.
    fn next_pieces(&self, most: u64) -> impl Iterator<Item = Range<u64>> + use<> {
        let have = self.tried.lunches();
        let more = (have / 4).next_multiple_of(PIECE).clamp(PIECE, 50 * PIECE);
        let upto = (have + more).min(most);
        (have..upto)
            .step_by(PIECE as usize)
            .map(move |from| from + 1..(from + PIECE).min(upto) + 1)
    }

    fn see(&mut self, lunch: &Lunch, rules: &Rules) {
        let tried = &mut self.tried;
        tried.extra.push(lunch.extra_cost);
        let mut all = true;
        for (i, seen) in lunch.targets.iter().enumerate() {
            let test = &mut self.tests[i];
            match (*seen, test) {
                (Seen::Held(held), Test::Share(test)) => {
                    tried.held[i].0 += u64::from(held);
                    tried.held[i].1 += 1;
                    all &= held;
                    test.see(held);
                }
                (Seen::Never, Test::Share(test)) => {
                    tried.held[i].1 += 1;
                    all = false;
                    test.see(false);
                }
                (Seen::Value(value), Test::Mean(test)) => {
                    tried.held[i].1 += 1;
                    tried.sums[i] += value;
                    test.see(value);
                }
                (Seen::Never, Test::Mean(test)) => {
                    all = false;
                    test.fail();
                }
                _ => {}
            }
        }
        tried.all_held += u64::from(all);
        if tried.fate == Fate::Open {
            self.tried.fate = self.fate_now(rules).unwrap_or(Fate::Open);
        }
    }

    fn fate_now(&self, rules: &Rules) -> Option<Fate> {
        let said = || self.tests.iter().map(Test::said);
        if let Some(target) = said().position(|said| said == Said::Fails) {
            return Some(Fate::Fails(target));
        }
        if said().all(|said| said == Said::Holds) {
            return Some(Fate::Holds);
        }
        (self.tried.lunches() >= rules.most_lunches).then_some(Fate::NotSure)
    }

    fn done(mut self) -> Tried {
        self.tried.said = self.tests.iter().map(Test::said).collect();
        self.tried
    }
}

impl Test {
    fn said(&self) -> Said {
        match self {
            Test::Share(test) => test.said(),
            Test::Mean(test) => test.said(),
        }
    }
}
