//! How many people are needed in each quarter hour, read from simulated lunches of a crew that holds.

use scullery_engine::ended::Fault;
use scullery_engine::time::US_PER_MIN;
use scullery_engine::watch::State;
use scullery_scenario::staffing::Contract;

use super::crews::People;
use super::lunches::{Arrangement, each_lunch};
use super::shifts::Need;
use crate::intervals::order_statistic;
use crate::record::{ByState, QUARTER_US};

/// In so many of 1000 lunches the work of a quarter hour is at most what the need is made for.
const OF_1000: u32 = 900;

/// What the lunches of a crew showed of its work.
#[derive(Clone, Debug, Default)]
pub struct Work {
    /// First quarter hour, counted from the midnight before the meal.
    pub from: usize,
    /// Microseconds of work by role and quarter hour that 9 of 10 lunches do not pass.
    pub busy_us: Vec<Vec<u64>>,
    /// People of each role on shift by quarter hour.
    pub present: Vec<Vec<u32>>,
    /// Quarter hour after which the room is clean in 9 of 10 lunches.
    pub clean_by: usize,
}

/// Simulates the crew and reads its work.
///
/// # Errors
/// The fault of the first run that has one.
pub fn work(
    arrangement: &Arrangement,
    people: &People,
    roles: usize,
    seed: u64,
    lunches: u64,
) -> Result<Work, Fault> {
    let mut seen: Vec<Vec<Vec<u64>>> = vec![Vec::new(); roles];
    let mut ends: Vec<u64> = Vec::new();
    let mut from_min = 0;
    each_lunch(
        arrangement,
        seed,
        1..lunches + 1,
        &mut |_, record, ended| {
            from_min = record.from_min;
            let last = record
                .actors
                .iter()
                .filter_map(|a| a.last_work_us)
                .max()
                .unwrap_or(0);
            ends.push(ended.all_clean_at.map_or(0, |at| at.us()).max(last));
            let mut of_role: Vec<Vec<u64>> = vec![Vec::new(); roles];
            for (actor, &role) in record.actors.iter().zip(&people.roles) {
                for (q, by) in actor.quarters.iter().enumerate() {
                    if of_role[role].len() <= q {
                        of_role[role].resize(q + 1, 0);
                    }
                    of_role[role][q] += busy(by);
                }
            }
            for (all, one) in seen.iter_mut().zip(of_role) {
                all.push(one);
            }
        },
    )?;
    let quarters = seen.iter().flatten().map(Vec::len).max().unwrap_or(0);
    let from = (from_min * US_PER_MIN / QUARTER_US) as usize;
    let high = |lunches: &[Vec<u64>], q: usize| {
        let mut values: Vec<u64> = lunches
            .iter()
            .map(|l| l.get(q).copied().unwrap_or(0))
            .collect();
        order_statistic(&mut values, OF_1000).unwrap_or(0)
    };
    let last = order_statistic(&mut ends, OF_1000).unwrap_or(0);
    Ok(Work {
        from,
        busy_us: seen
            .iter()
            .map(|lunches| (0..quarters).map(|q| high(lunches, q)).collect())
            .collect(),
        present: (0..roles)
            .map(|role| {
                (0..quarters)
                    .map(|q| present(people, role, from + q))
                    .collect()
            })
            .collect(),
        clean_by: (last.div_ceil(QUARTER_US) as usize).saturating_sub(from),
    })
}

/// Time that is somebody's: at a task, held up, on the way, washing hands.
fn busy(by: &ByState) -> u64 {
    let states = [
        State::Working,
        State::PastShift,
        State::HeldUp,
        State::Walking,
        State::HandWash,
    ];
    states.iter().map(|state| by[state.index()]).sum()
}

/// People of a role on shift for all or part of a quarter hour of the day.
fn present(people: &People, role: usize, quarter: usize) -> u32 {
    let (begins, ends) = (
        quarter as u64 * QUARTER_US,
        (quarter as u64 + 1) * QUARTER_US,
    );
    let on = |w: usize| {
        people.workers[w]
            .shifts
            .iter()
            .any(|(from, to)| from.us() < ends && to.us() > begins)
    };
    (0..people.workers.len())
        .filter(|&w| people.roles[w] == role && on(w))
        .count() as u32
}

impl Work {
    /// The need if people are to be at work for this share of their time; `None`: everybody the crew had on shift.
    ///
    /// Never more than the crew had, and from the first work of a role to its last at least one. Set-up and cleaning
    /// are work too, before the first and after the last.
    pub fn need(&self, busy_share: Option<f64>, contract: &Contract) -> Need {
        let quarters = self.busy_us.first().map_or(0, Vec::len);
        let by_role: Vec<Vec<u32>> = self
            .busy_us
            .iter()
            .zip(&self.present)
            .map(|(busy, present)| {
                let Some(share) = busy_share else {
                    return present.clone();
                };
                let first = busy.iter().position(|&us| us > 0).unwrap_or(quarters);
                let last = busy.iter().rposition(|&us| us > 0).unwrap_or(0);
                let people = |q: usize| {
                    let wanted = (busy[q] as f64 / (QUARTER_US as f64 * share) - 1e-9)
                        .ceil()
                        .max(0.0) as u32;
                    let least = u32::from((first..=last).contains(&q));
                    // Past the shift nobody is on shift; somebody must be all the same.
                    wanted.max(least).min(present[q].max(least))
                };
                (0..quarters).map(people).collect()
            })
            .collect();
        self.with_around(by_role, contract)
    }

    fn with_around(&self, mut by_role: Vec<Vec<u32>>, contract: &Contract) -> Need {
        let quarters = self.busy_us.first().map_or(0, Vec::len);
        let first = (0..quarters)
            .find(|&q| by_role.iter().any(|r| r[q] > 0))
            .unwrap_or(0);
        let before = contract
            .set_up
            .map_or(0, |it| it.lasts.us().div_ceil(QUARTER_US) as usize);
        let after = contract
            .cleaning
            .map_or(0, |it| it.lasts.us().div_ceil(QUARTER_US) as usize);
        // The day has nothing before its midnight.
        let lead = before.saturating_sub(first).min(self.from);
        let length = (lead + quarters).max(lead + self.clean_by + after);
        for role in &mut by_role {
            role.splice(0..0, std::iter::repeat_n(0, lead));
            role.resize(length, 0);
        }
        let mut in_all = vec![0; length];
        let first = first + lead;
        if let Some(it) = contract.set_up {
            in_all[first.saturating_sub(before)..first].fill(it.people);
        }
        if let Some(it) = contract.cleaning {
            let from = (lead + self.clean_by).min(length);
            in_all[from..(from + after).min(length)].fill(it.people);
        }
        Need {
            from: self.from - lead,
            by_role,
            in_all,
        }
    }
}
