//! Looking ware over at the clean end: a share comes out still soiled and is washed again, a share is broken.

use crate::line::floor::Floor;
use crate::line::{Line, MOST_CLASSES, racking};
use crate::streams::Keyed;

/// Where ware goes that comes out of the machine still soiled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rewash {
    /// Share of the pieces, 0 to 1.
    pub share: f64,
    /// Number of the racking table on whose pile of its class it is put.
    pub to: u8,
}

/// Pieces on their way back from a clean end to a racking table, in a tub until its pile has room.
#[derive(Clone, Copy, Debug)]
pub(crate) struct GoesBack {
    pub(crate) class: u8,
    pub(crate) to: u8,
    pub(crate) tray: u32,
    pub(crate) pieces: u16,
    /// The rack that keeps its place until they have found room; `None`: none does.
    pub(crate) rack: Option<u32>,
}

/// Looks over the pieces of a class that have come out of the machine, one draw a piece: the n-th piece of a class at a
/// clean end has the same luck whatever else happens. Returns how many of these are (soiled, broken).
fn draw(line: &Line, class: u8, luck: Keyed, seen: &mut [u64; MOST_CLASSES], n: u16) -> (u16, u16) {
    let spec = &line.classes[usize::from(class)];
    let soiled_from = 1.0 - spec.rewash.map_or(0.0, |it| it.share);
    let seen = &mut seen[usize::from(class)];
    let (mut soiled, mut broken) = (0, 0);
    for _ in 0..n {
        let u = luck.uniform(*seen * MOST_CLASSES as u64 + u64::from(class));
        *seen += 1;
        // From either end of the same number: a larger share never saves a piece that a smaller one would have taken.
        if u < spec.broken {
            broken += 1;
        } else if u >= soiled_from {
            soiled += 1;
        }
    }
    (soiled, broken)
}

/// Looks over what a rack of clean end `i` holds, before it counts as clean. What is soiled goes into the tub, what is
/// broken off the line; the rack holds the rest. How many it no longer holds.
pub(crate) fn look_over(floor: &mut Floor, line: &Line, i: u8, rack: u32) -> u16 {
    let class = floor.racks.get(rack).class;
    let spec = &line.classes[usize::from(class)];
    if spec.rewash.is_none() && spec.broken <= 0.0 {
        return 0;
    }
    let mut contents = std::mem::take(&mut floor.racks.get_mut(rack).contents);
    let (mut all_soiled, mut all_broken) = (0, 0);
    for (tray, pieces) in &mut contents {
        let state = &mut floor.clean_ends[usize::from(i)];
        let (soiled, broken) = draw(line, class, state.looks, &mut state.looked_over, *pieces);
        *pieces -= soiled + broken;
        if let Some(rewash) = spec.rewash.filter(|_| soiled > 0) {
            state.tub.push_back(GoesBack {
                class,
                to: rewash.to,
                tray: *tray,
                pieces: soiled,
                rack: None,
            });
        }
        all_soiled += soiled;
        all_broken += broken;
        if broken > 0 {
            floor.broken[usize::from(class)] += u64::from(broken);
            floor.out_of_the_line(*tray, broken);
        }
    }
    contents.retain(|&(_, pieces)| pieces > 0);
    let it = floor.racks.get_mut(rack);
    it.contents = contents;
    it.fill -= all_soiled + all_broken;
    let counts = &floor.n.count;
    let (rewashed, broken) = (
        counts.rewashed[usize::from(class)],
        counts.broken[usize::from(class)],
    );
    floor.telling.count(rewashed, u32::from(all_soiled));
    floor.telling.count(broken, u32::from(all_broken));
    all_soiled + all_broken
}

/// Takes what is in the tub to its piles, as far as they have room; what finds none waits, and keeps back only its own.
pub(crate) fn take_back(floor: &mut Floor, line: &Line, i: u8) {
    let mut k = 0;
    while let Some(&it) = floor.clean_ends[usize::from(i)].tub.get(k) {
        let went = racking::put_on_pile(floor, line, it.to, it.class, it.tray, it.pieces);
        let tub = &mut floor.clean_ends[usize::from(i)].tub;
        if went == it.pieces {
            tub.remove(k);
        } else {
            tub[k].pieces -= went;
            k += 1;
        }
    }
}

impl Line {
    /// What does not fit together about ware that is washed again or breaks.
    pub(crate) fn look_over_faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        for (class, it) in self.classes.iter().enumerate() {
            let again = it.rewash.map_or(0.0, |rewash| rewash.share);
            let shares = [again, it.broken];
            let within = shares.iter().all(|share| (0.0..1.0).contains(share));
            if !within || again + it.broken >= 1.0 {
                faults.push(format!("more of {} fails than there is", it.name));
            }
            let Some(rewash) = it.rewash else { continue };
            let table = self.racking.get(usize::from(rewash.to));
            let mut piles = table.iter().flat_map(|table| &table.piles);
            if !piles.any(|pile| usize::from(pile.class.0) == class && pile.room != Some(0)) {
                faults.push(format!(
                    "{} that is washed again finds no pile to lie on",
                    it.name
                ));
            }
        }
        faults
    }
}
