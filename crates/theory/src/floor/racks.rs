//! Racks that a service fills. Plain arithmetic.

/// Whole racks for `covers` with `pieces_per_cover` of one kind, `pieces_per_rack` to a rack; the last may be part
/// full. `None` if a rack holds nothing or the racks are beyond a count.
pub fn racks_needed(covers: u32, pieces_per_cover: u32, pieces_per_rack: u32) -> Option<u32> {
    if pieces_per_rack == 0 {
        return None;
    }
    let pieces = u64::from(covers) * u64::from(pieces_per_cover);
    u32::try_from(pieces.div_ceil(u64::from(pieces_per_rack))).ok()
}
