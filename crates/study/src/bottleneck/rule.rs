//! The turning point: the stage before which the line is blocked and behind which it starves.
//!
//! Of the stages that worked for more than 80 % of the time and have a blocked one right before them or a starved one right
//! behind, the bottleneck is the one that is least blocked and starved itself.
//!
//! # Source
//! Li, Chang and Ni, *International Journal of Production Research* 47 (2009), on data-driven bottleneck detection; from
//! memory.

/// How a stage spent some time: shares that sum to 1.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Spent {
    /// It had work and worked, or lacked nothing but hands.
    pub worked: f64,
    /// Its work was done and found no room.
    pub blocked: f64,
    /// It had nothing to work on.
    pub starved: f64,
}

impl Spent {
    /// Blocked and starved together.
    pub fn idle(self) -> f64 {
        self.blocked + self.starved
    }
}

/// A stage counts as blocked or starved from this share of the time on.
pub const NOTABLE: f64 = 0.05;
/// What holds the line back works for more than this share.
pub const WORKED: f64 = 0.80;

/// The bottleneck; `behind[i]` are the stages right behind stage `i`, `holds[i]` those that can hold it up: besides them
/// whoever changes what it fills; only stages that count are looked at. `None`: nothing held the line back.
pub fn bottleneck(
    spent: &[Spent],
    behind: &[Vec<usize>],
    holds: &[Vec<usize>],
    counts: impl Fn(usize) -> bool,
) -> Option<usize> {
    let counted = || (0..spent.len()).filter(|&stage| counts(stage));
    let blocked_before =
        |k: usize| counted().any(|u| spent[u].blocked >= NOTABLE && holds[u].contains(&k));
    let starved_behind =
        |k: usize| counted().any(|d| spent[d].starved >= NOTABLE && behind[k].contains(&d));
    let busy = counted().filter(|&k| spent[k].worked > WORKED);
    let turning = busy.filter(|&k| blocked_before(k) || starved_behind(k));
    turning.min_by(|&a, &b| spent[a].idle().total_cmp(&spent[b].idle()))
}

/// Why a stage was blocked: the stages that passed it on, each holding up the one named before it, the last the cause. Empty
/// where it was not notably blocked.
pub fn blocked_by(spent: &[Spent], holds: &[Vec<usize>], stage: usize) -> Vec<usize> {
    let next = |at: usize| holds[at].clone();
    traced(
        stage,
        |at| spent[at].blocked >= NOTABLE,
        next,
        |at| spent[at].idle(),
    )
}

/// Why a stage starved: the stages one before the other, the last the cause. Empty where it did not notably starve.
pub fn starved_by(spent: &[Spent], behind: &[Vec<usize>], stage: usize) -> Vec<usize> {
    let before = |at: usize| {
        (0..behind.len())
            .filter(|&u| behind[u].contains(&at))
            .collect()
    };
    traced(
        stage,
        |at| spent[at].starved >= NOTABLE,
        before,
        |at| spent[at].idle(),
    )
}

/// Goes on, each time to the neighbour that is least idle, while the stage itself has the trouble.
fn traced(
    from: usize,
    troubled: impl Fn(usize) -> bool,
    neighbours: impl Fn(usize) -> Vec<usize>,
    idle: impl Fn(usize) -> f64,
) -> Vec<usize> {
    let mut chain = Vec::new();
    let mut at = from;
    while troubled(at) {
        let least = neighbours(at)
            .into_iter()
            .min_by(|&a, &b| idle(a).total_cmp(&idle(b)));
        match least {
            Some(next) if !chain.contains(&next) && next != from => {
                chain.push(next);
                at = next;
            }
            _ => break,
        }
    }
    chain
}
