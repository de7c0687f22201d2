//! Aids at breakdown and at the load end: sprays, pre-rinses, cutlery removers. What they do to the work is in the seconds of
//! their post; here is told how long each has run, so that its water and power can be counted.

use crate::line::floor::Floor;
use crate::line::{Line, MOST_CLASSES, Post};

/// An aid at a post.
#[derive(Clone, Debug, PartialEq)]
pub struct Aid {
    /// Its name.
    pub name: String,
    /// Where it is: a scrapping post, or the load end of a machine.
    pub at: Post,
    /// Milliseconds it runs for each tray, or for each rack that is loaded.
    pub each_ms: u32,
    /// Milliseconds it runs for each piece, by class, of those taken off the tray at its post or loaded.
    pub piece_ms: Vec<u32>,
}

/// Longest an aid runs for one thing: an hour.
const LONGEST_MS: u32 = 3_600_000;

/// A task begins at a post: what stands there runs for so many trays or racks, and these pieces.
#[inline]
pub(crate) fn used(
    floor: &mut Floor,
    line: &Line,
    at: Post,
    things: u32,
    pieces: &[u32; MOST_CLASSES],
) {
    for (a, aid) in line.aids.iter().enumerate() {
        if aid.at != at {
            continue;
        }
        let each = u64::from(aid.each_ms) * u64::from(things);
        let by_class = aid.piece_ms.iter().zip(pieces);
        let for_pieces: u64 = by_class.map(|(&ms, &n)| u64::from(ms) * u64::from(n)).sum();
        let ms = (each + for_pieces).min(u64::from(u32::MAX)) as u32;
        floor.telling.count(floor.n.count.aids[a], ms);
    }
}

impl Line {
    /// What does not fit together about aids.
    pub(crate) fn aid_faults(&self) -> Vec<String> {
        let fits = |aid: &&Aid| {
            let there = match aid.at {
                Post::Scrapping(i) => usize::from(i) < self.scrapping.len(),
                Post::Loading(m) => {
                    let machine = self.machines.get(usize::from(m));
                    machine.is_some_and(|m| m.loading.is_some())
                }
                _ => false,
            };
            let short =
                aid.each_ms <= LONGEST_MS && aid.piece_ms.iter().all(|ms| *ms <= LONGEST_MS);
            there && short && aid.piece_ms.len() == self.classes.len()
        };
        let wrong = self.aids.iter().filter(|aid| !fits(aid));
        wrong
            .map(|aid| format!("aid {} is at no post, or runs too long", aid.name))
            .collect()
    }
}
