//! Sobol's points: they fill a box more evenly than chance does, however many are taken.

/// Most dimensions.
pub const MOST_DIMENSIONS: usize = 21;

/// Degree, coefficients and first direction numbers of each dimension after the first.
///
/// # Source
/// Joe and Kuo, *SIAM Journal on Scientific Computing* 30 (2008) 2635-2654, their file `new-joe-kuo-6.21201`, dimensions
/// 2 to 21; from memory, held by a test against points of an independent program.
const JOE_KUO: [(u32, u32, &[u32]); MOST_DIMENSIONS - 1] = [
    (1, 0, &[1]),
    (2, 1, &[1, 3]),
    (3, 1, &[1, 3, 1]),
    (3, 2, &[1, 1, 1]),
    (4, 1, &[1, 1, 3, 3]),
    (4, 4, &[1, 3, 5, 13]),
    (5, 2, &[1, 1, 5, 5, 17]),
    (5, 4, &[1, 1, 5, 5, 5]),
    (5, 7, &[1, 1, 7, 11, 19]),
    (5, 11, &[1, 1, 5, 1, 1]),
    (5, 13, &[1, 1, 1, 3, 11]),
    (5, 14, &[1, 3, 5, 5, 31]),
    (6, 1, &[1, 3, 3, 9, 7, 49]),
    (6, 13, &[1, 1, 1, 15, 21, 21]),
    (6, 16, &[1, 3, 1, 13, 27, 49]),
    (6, 19, &[1, 1, 1, 15, 7, 5]),
    (6, 22, &[1, 3, 1, 15, 13, 25]),
    (6, 25, &[1, 1, 5, 5, 19, 61]),
    (7, 1, &[1, 3, 7, 11, 23, 15, 103]),
    (7, 4, &[1, 3, 7, 13, 13, 15, 69]),
];

const BITS: u32 = 32;

/// The first `points` of Sobol's points in `dimensions` dimensions, the corner at nought first, each coordinate in
/// [0, 1). `None` for more than [`MOST_DIMENSIONS`].
///
/// # Source
/// Sobol', *USSR Computational Mathematics and Mathematical Physics* 7 (1967) 86-112; in the order of Gray codes:
/// Antonov and Saleev, the same 19 (1979) 252-256. Both from memory.
pub fn sobol(points: u32, dimensions: usize) -> Option<Vec<Vec<f64>>> {
    let directions: Vec<[u32; BITS as usize]> =
        (0..dimensions).map(directions).collect::<Option<_>>()?;
    let mut at = vec![0_u32; dimensions];
    let scale = 1.0 / (u64::from(u32::MAX) + 1) as f64;
    let mut all = Vec::with_capacity(points as usize);
    for point in 0..points {
        all.push(at.iter().map(|x| f64::from(*x) * scale).collect());
        // The bit in which the next Gray code differs.
        let bit = point.trailing_ones() as usize;
        if bit < BITS as usize {
            at.iter_mut()
                .zip(&directions)
                .for_each(|(x, v)| *x ^= v[bit]);
        }
    }
    Some(all)
}

fn directions(dimension: usize) -> Option<[u32; BITS as usize]> {
    let mut v = [0; BITS as usize];
    let Some(row) = dimension.checked_sub(1) else {
        (0..BITS).for_each(|i| v[i as usize] = 1 << (BITS - 1 - i));
        return Some(v);
    };
    let (degree, coefficients, first) = JOE_KUO.get(row)?;
    let s = *degree as usize;
    for (i, m) in first.iter().enumerate() {
        v[i] = m << (BITS - 1 - i as u32);
    }
    for i in s..BITS as usize {
        v[i] = v[i - s] ^ (v[i - s] >> s);
        for k in 1..s {
            if coefficients >> (s - 1 - k) & 1 == 1 {
                v[i] ^= v[i - k];
            }
        }
    }
    Some(v)
}
