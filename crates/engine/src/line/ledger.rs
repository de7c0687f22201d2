//! Whose pieces are where, so that nothing is lost: a tray is out when its last piece is clean.

use crate::line::MOST_CLASSES;
use crate::tape::Tape;

/// One entry a diner.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ledger {
    /// What the diner really took, by class (less what had run out).
    pub(crate) pieces: Vec<[u8; MOST_CLASSES]>,
    /// Whose pieces are put down one by one; empty when nobody's are.
    loose: Vec<bool>,
    /// What each diner has done before putting the tray down, a bit a thing; empty where nobody does anything.
    pub(crate) used: Vec<u16>,
    /// Kinds of waste each diner has thrown away at the drop-off, a bit a kind.
    pub(crate) thrown: Vec<u8>,
    /// Pieces not yet clean, once the tray has come in. Behind the diners: ware that was already there without a tray.
    left: Vec<u16>,
    diners: usize,
    pub(crate) trays_in: u64,
    pub(crate) trays_out: u64,
    pub(crate) pieces_in: u64,
    pub(crate) pieces_out: u64,
    /// Trays that have come in and are not yet cleared.
    pub(crate) uncleared: u64,
    /// Diners who bring something and have not come yet.
    pub(crate) to_come: u64,
}

impl Ledger {
    pub(crate) fn wipe(&mut self, tape: &Tape) {
        self.pieces.clear();
        self.pieces.extend(tape.diners().iter().map(|d| d.pieces));
        self.loose.clear();
        if tape.diners().iter().any(|d| d.loose) {
            self.loose.extend(tape.diners().iter().map(|d| d.loose));
        }
        self.left.clear();
        self.diners = self.pieces.len();
        self.left.resize(self.diners, 0);
        self.trays_in = 0;
        self.trays_out = 0;
        self.pieces_in = 0;
        self.pieces_out = 0;
        self.uncleared = 0;
        self.to_come = tape.coming().len() as u64;
    }

    /// Whether this diner's pieces come without a tray.
    #[inline]
    pub(crate) fn is_loose(&self, diner: u32) -> bool {
        self.loose.get(diner as usize).copied().unwrap_or(false)
    }

    /// How many times this diner puts something down: once, or once a piece without a tray.
    #[inline]
    pub(crate) fn puts_down(&self, diner: u32) -> u32 {
        if self.is_loose(diner) {
            self.pieces[diner as usize]
                .iter()
                .map(|&n| u32::from(n))
                .sum()
        } else {
            1
        }
    }

    /// This diner comes to the drop-off. Whether there is anything on the tray.
    pub(crate) fn comes(&mut self, diner: u32) -> bool {
        self.to_come -= 1;
        self.is_there(diner)
    }

    /// What this diner took is on the line. Whether there is anything on the tray.
    pub(crate) fn is_there(&mut self, diner: u32) -> bool {
        let pieces: u16 = self.pieces[diner as usize]
            .iter()
            .map(|&n| u16::from(n))
            .sum();
        if pieces == 0 {
            return false;
        }
        self.left[diner as usize] = pieces;
        self.trays_in += 1;
        self.pieces_in += u64::from(pieces);
        self.uncleared += 1;
        true
    }

    /// So many pieces are on the line without a tray: what they are known by.
    pub(crate) fn ware_there(&mut self, pieces: u16) -> u32 {
        self.left.push(pieces);
        self.pieces_in += u64::from(pieces);
        (self.left.len() - 1) as u32
    }

    /// `pieces` of this tray are clean. Whether it was the last of them.
    pub(crate) fn clean(&mut self, tray: u32, pieces: u16) -> bool {
        let left = &mut self.left[tray as usize];
        *left -= pieces;
        self.pieces_out += u64::from(pieces);
        let out = *left == 0 && (tray as usize) < self.diners;
        // Branched, not added as a number: rustc 1.95 loses `u64::from(out)` here when it is optimised without
        // overflow checks and inlined into a caller that branches on the result.
        if out {
            self.trays_out += 1;
        }
        out
    }

    pub(crate) fn pieces_inside(&self) -> u64 {
        self.pieces_in - self.pieces_out
    }

    pub(crate) fn trays_inside(&self) -> u64 {
        self.trays_in - self.trays_out
    }
}
