//! Every shift a contract allows, in quarter hours, over the part of the day in which somebody is needed.

use scullery_engine::time::{Span, US_PER_MIN};
use scullery_scenario::staffing::Contract;

/// Microseconds in a quarter hour.
const QUARTER_US: u64 = 15 * US_PER_MIN;
/// Most shifts that are listed for one role.
pub const MOST_SHIFTS: usize = 6_000;
/// Shortest piece of a split shift: an hour.
const SHORTEST_PIECE: usize = 4;

/// People needed by quarter hour.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Need {
    /// First quarter hour, counted from the midnight before the meal.
    pub from: usize,
    /// One list a role, all of the same length.
    pub by_role: Vec<Vec<u32>>,
    /// People needed in all roles together, whoever they are; the same length.
    pub in_all: Vec<u32>,
}

impl Need {
    /// Quarter hours it spans.
    pub fn quarters(&self) -> usize {
        self.in_all.len()
    }

    /// People needed in all, the larger of the sum over roles and what is asked of all together.
    pub fn total(&self, quarter: usize) -> u32 {
        let sum: u32 = self.by_role.iter().map(|role| role[quarter]).sum();
        sum.max(self.in_all[quarter])
    }
}

/// A shift: quarter hours from the first of the need on.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    /// Role, by number.
    pub role: usize,
    /// Spans of presence, break included: begin and end.
    pub spans: Vec<[usize; 2]>,
    /// Meal break, if it has one.
    pub rest: Option<[usize; 2]>,
    /// Paid quarter hours (at least what coming in at all is paid).
    pub paid: f64,
}

impl Shift {
    /// Whether somebody on this shift works in this quarter hour.
    pub fn works(&self, quarter: usize) -> bool {
        let within = |span: &[usize; 2]| (span[0]..span[1]).contains(&quarter);
        self.spans.iter().any(within) && !self.rests(quarter)
    }

    /// Whether somebody on this shift is on the meal break in this quarter hour.
    pub fn rests(&self, quarter: usize) -> bool {
        self.rest
            .is_some_and(|rest| (rest[0]..rest[1]).contains(&quarter))
    }
}

fn quarters_up(span: Span) -> usize {
    span.us().div_ceil(QUARTER_US) as usize
}

fn quarters_down(span: Span) -> usize {
    (span.us() / QUARTER_US) as usize
}

/// Every shift of every role that covers some of the need.
///
/// A shift starts where the contract lets it, lies within the need, and ends with it unless it must be longer to be as
/// long as the shortest. One longer than the longest stretch has one meal break, placed so that neither stretch is too
/// long, outside the span without breaks.
///
/// # Errors
/// When there are more than [`MOST_SHIFTS`] for a role; one sentence.
pub fn shifts(contract: &Contract, need: &Need) -> Result<Vec<Shift>, String> {
    let mut all = Vec::new();
    for (role, wanted) in need.by_role.iter().enumerate() {
        let before = all.len();
        let people = |q: usize| wanted[q] > 0 || need.in_all[q] > 0;
        let Some(first) = (0..need.quarters()).find(|&q| people(q)) else {
            continue;
        };
        let last = (0..need.quarters()).rfind(|&q| people(q)).unwrap_or(first);
        one_piece(contract, need, role, (first, last + 1), &mut all);
        if let Some(gap) = contract.split_gap {
            split(
                contract,
                need,
                role,
                (first, last + 1),
                quarters_up(gap),
                &mut all,
            );
        }
        if all.len() - before > MOST_SHIFTS {
            return Err(format!(
                "the contract allows more than {MOST_SHIFTS} shifts for one role; narrow it, for example with \
                 `starts_every_min = 30`"
            ));
        }
    }
    Ok(all)
}

/// Quarter hours of the day on which a shift may start.
fn starts(contract: &Contract, need: &Need, quarter: usize) -> bool {
    let every = quarters_down(contract.starts_every).max(1);
    (need.from + quarter).is_multiple_of(every)
}

fn one_piece(
    contract: &Contract,
    need: &Need,
    role: usize,
    (first, end): (usize, usize),
    all: &mut Vec<Shift>,
) {
    let rest = quarters_up(contract.meal_break);
    let stretch = quarters_down(contract.meal_break_after).max(1);
    let unpaid = if contract.meal_break_paid { 0 } else { rest };
    let (shortest, longest) = (
        quarters_up(contract.shortest).max(1),
        quarters_down(contract.longest),
    );
    // A shift may begin before the first need where quarter hours off the grid leave no other start.
    let earliest = (0..=first)
        .rfind(|&q| starts(contract, need, q))
        .unwrap_or(first);
    for from in (earliest..end).filter(|&q| starts(contract, need, q)) {
        let mut to = from;
        loop {
            to += 1;
            let length = to - from;
            let needs_rest = length > stretch;
            let paid = if needs_rest {
                length - unpaid.min(length)
            } else {
                length
            };
            if paid > longest || (to > end && paid > shortest) {
                break;
            }
            if paid < shortest {
                continue;
            }
            let shift = |rest| Shift {
                role,
                spans: vec![[from, to]],
                rest,
                paid: paid_at_least(contract, paid),
            };
            if !needs_rest {
                all.push(shift(None));
                continue;
            }
            if rest == 0 {
                continue;
            }
            let begins = (from + 1)..(to.saturating_sub(rest));
            for begin in begins.filter(|&b| b - from <= stretch && to - (b + rest) <= stretch) {
                if !barred(contract, need, begin, begin + rest) {
                    all.push(shift(Some([begin, begin + rest])));
                }
            }
        }
    }
}

fn split(
    contract: &Contract,
    need: &Need,
    role: usize,
    (first, end): (usize, usize),
    gap: usize,
    all: &mut Vec<Shift>,
) {
    let stretch = quarters_down(contract.meal_break_after).max(1);
    let (shortest, longest) = (
        quarters_up(contract.shortest),
        quarters_down(contract.longest),
    );
    let pieces: Vec<[usize; 2]> = (first..end)
        .filter(|&q| starts(contract, need, q))
        .flat_map(|from| {
            (from + SHORTEST_PIECE..=(from + stretch).min(end)).map(move |to| [from, to])
        })
        .collect();
    for a in &pieces {
        for b in pieces.iter().filter(|b| b[0] >= a[1] + gap) {
            let paid = a[1] - a[0] + b[1] - b[0];
            if (shortest..=longest).contains(&paid) {
                all.push(Shift {
                    role,
                    spans: vec![*a, *b],
                    rest: None,
                    paid: paid_at_least(contract, paid),
                });
                if all.len() > 4 * MOST_SHIFTS {
                    return;
                }
            }
        }
    }
}

fn paid_at_least(contract: &Contract, quarters: usize) -> f64 {
    let show_up = contract.show_up.us() as f64 / QUARTER_US as f64;
    (quarters as f64).max(show_up)
}

/// Whether a break over these quarter hours touches the span without breaks.
fn barred(contract: &Contract, need: &Need, from: usize, to: usize) -> bool {
    contract.no_breaks.is_some_and(|(bar_from, bar_to)| {
        let at = |q: usize| (need.from + q) as u64 * QUARTER_US;
        at(from) < bar_to.us() && at(to) > bar_from.us()
    })
}
