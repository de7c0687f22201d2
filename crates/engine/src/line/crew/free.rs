//! Who is free, in crew-list order.

/// A set of numbers of workers.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Free {
    bits: [u64; 4],
    /// Whether there are more workers than the first 64.
    many: bool,
}

impl Free {
    /// Nobody of so many workers.
    pub(super) fn of(workers: usize) -> Free {
        Free {
            bits: [0; 4],
            many: workers > 64,
        }
    }

    #[inline]
    pub(super) fn is_empty(&self) -> bool {
        self.bits[0] == 0 && (!self.many || self.bits == [0; 4])
    }

    #[inline]
    pub(super) fn insert(&mut self, w: u8) {
        self.bits[usize::from(w >> 6)] |= 1 << (w & 63);
    }

    #[inline]
    pub(super) fn remove(&mut self, w: u8) {
        self.bits[usize::from(w >> 6)] &= !(1 << (w & 63));
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
        let mut word = usize::from(w >> 6);
        let mut bits = self.bits[word] & (u64::MAX << (w & 63));
        while bits == 0 {
            if !self.many {
                return None;
            }
            word += 1;
            bits = *self.bits.get(word)?;
        }
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
