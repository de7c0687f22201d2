//! Who is free, in crew-list order.

/// A set of numbers of workers.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Free {
    bits: [u64; 4],
    count: u32,
    /// Whether there are more workers than the first 64.
    many: bool,
}

impl Free {
    /// Nobody of so many workers.
    pub(super) fn of(workers: usize) -> Free {
        Free {
            bits: [0; 4],
            count: 0,
            many: workers > 64,
        }
    }

    #[inline]
    pub(super) fn is_empty(&self) -> bool {
        self.count == 0
    }

    #[inline]
    pub(super) fn insert(&mut self, w: u8) {
        let word = &mut self.bits[usize::from(w >> 6)];
        self.count += u32::from(*word & 1 << (w & 63) == 0);
        *word |= 1 << (w & 63);
    }

    #[inline]
    pub(super) fn remove(&mut self, w: u8) {
        let word = &mut self.bits[usize::from(w >> 6)];
        self.count -= u32::from(*word & 1 << (w & 63) != 0);
        *word &= !(1 << (w & 63));
    }

    /// The first in crew-list order.
    #[inline]
    pub(super) fn first(&self) -> Option<u8> {
        self.from(0)
    }

    /// The first after `w`.
    #[inline]
    pub(super) fn after(&self, w: u8) -> Option<u8> {
        self.from(w.checked_add(1)?)
    }

    #[inline]
    fn from(&self, w: u8) -> Option<u8> {
        let word = usize::from(w >> 6);
        let bits = self.bits[word] & (u64::MAX << (w & 63));
        if bits != 0 {
            return Some((w & !63) | bits.trailing_zeros() as u8);
        }
        if self.many { self.in_later(word) } else { None }
    }

    /// The first in the words after this one.
    #[cold]
    fn in_later(&self, word: usize) -> Option<u8> {
        let later = self.bits.iter().enumerate().skip(word + 1);
        let (word, bits) = later.into_iter().find(|&(_, &bits)| bits != 0)?;
        Some((word as u8) << 6 | bits.trailing_zeros() as u8)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_free_are_found_in_crew_list_order() {
        let mut free = Free::of(255);
        assert!(free.is_empty());
        for w in [254, 3, 64, 63, 128] {
            free.insert(w);
        }
        free.remove(128);
        let found: Vec<u8> = std::iter::successors(free.first(), |&w| free.after(w)).collect();
        assert_eq!(found, [3, 63, 64, 254]);
    }
}
