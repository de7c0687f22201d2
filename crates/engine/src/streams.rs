//! Chance has names: each value is found by study seed, repeat, source name and ordinal, and drawn from a small
//! generator of its own. A sampler that rejects, or a changed parameter, shifts no neighbour.

use std::convert::Infallible;

use rand::rand_core::TryRng;

const GOLDEN: u64 = 0x9e37_79b9_7f4a_7c15;

/// The finaliser of splitmix64 (Steele, Lea and Flood, OOPSLA 2014; constants of Stafford's variant 13).
#[inline]
fn mix(mut z: u64) -> u64 {
    z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    z ^ (z >> 31)
}

/// A name as a number (FNV-1a, 64 bits).
pub fn name_key(name: &str) -> u64 {
    name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

/// The root of one meal's luck.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Root(u64);

impl Root {
    /// The root of repeat `repeat` of the study with this seed. Not symmetric in the two.
    #[inline]
    pub fn new(seed: u64, repeat: u64) -> Root {
        Root(mix(mix(seed ^ GOLDEN)
            .wrapping_add(repeat.wrapping_mul(GOLDEN))
            ^ 0x5c77_11e7))
    }

    /// The values of the source with this name.
    #[inline]
    pub fn source(self, name: &str) -> Keyed {
        self.keyed(name_key(name))
    }

    /// The values of the source with this [`name_key`].
    #[inline]
    pub fn keyed(self, key: u64) -> Keyed {
        Keyed(mix(self.0 ^ mix(key)))
    }
}

/// The values of one source.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Keyed(u64);

impl Keyed {
    /// The small generator of the value with this ordinal.
    #[inline]
    pub fn at(self, ordinal: u64) -> Draw {
        Draw(mix(self.0 ^ mix(ordinal.wrapping_add(GOLDEN))))
    }

    /// A uniform number in [0, 1) for this ordinal.
    #[inline]
    pub fn uniform(self, ordinal: u64) -> f64 {
        self.at(ordinal).uniform()
    }
}

/// A small generator (splitmix64), good for the few numbers one value needs.
#[derive(Clone, Copy, Debug)]
pub struct Draw(u64);

impl Draw {
    /// The next 64 random bits.
    #[inline]
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(GOLDEN);
        mix(self.0)
    }

    /// A uniform number in [0, 1), a multiple of 2^-53.
    #[inline]
    pub fn uniform(&mut self) -> f64 {
        (self.bits() >> 11) as f64 * (1.0 / (1u64 << 53) as f64)
    }
}

impl TryRng for Draw {
    type Error = Infallible;

    fn try_next_u32(&mut self) -> Result<u32, Infallible> {
        Ok((self.bits() >> 32) as u32)
    }

    fn try_next_u64(&mut self) -> Result<u64, Infallible> {
        Ok(self.bits())
    }

    fn try_fill_bytes(&mut self, into: &mut [u8]) -> Result<(), Infallible> {
        for chunk in into.chunks_mut(8) {
            let bytes = self.bits().to_le_bytes();
            chunk.copy_from_slice(&bytes[..chunk.len()]);
        }
        Ok(())
    }
}
