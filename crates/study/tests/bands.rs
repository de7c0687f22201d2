//! Curves over many meals: exact counts, whatever the order and the grouping.

use proptest::prelude::*;
use scullery_study::bands::Cells;

type Curve = (Vec<u32>, u32);

fn add(cells: &mut Cells, (minutes, last): &Curve) {
    let both = minutes.iter().map(|&v| (u64::from(v) * 60, v));
    cells.add(both, (u64::from(*last) * 60, *last));
}

fn all(curves: &[Curve]) -> Cells {
    let mut cells = Cells::default();
    curves.iter().for_each(|curve| add(&mut cells, curve));
    cells
}

#[test]
fn percentiles_of_a_minute_are_values_of_that_minute() {
    let curves: Vec<Curve> = (1..=20).map(|v| (vec![v, 7], 7)).collect();
    let cells = all(&curves);
    let at = |minute: usize, per_mille| cells.minutes()[minute].quantile(per_mille);
    assert_eq!(
        (at(0, 50), at(0, 500), at(0, 950)),
        (Some(1), Some(10), Some(19))
    );
    assert_eq!((at(1, 50), at(1, 950)), (Some(7), Some(7)));
    assert_eq!(cells.minutes()[0].area, 210 * 60);
}

#[test]
fn a_meal_that_ends_early_keeps_its_last_value() {
    // One meal of three minutes; one of a single minute that ends with 5.
    for curves in [
        [(vec![1, 2, 3], 3), (vec![9], 5)],
        [(vec![9], 5), (vec![1, 2, 3], 3)],
    ] {
        let cells = all(&curves);
        let high: Vec<_> = cells.minutes().iter().map(|c| c.quantile(1000)).collect();
        assert_eq!(high, [Some(9), Some(5), Some(5)]);
        assert_eq!(cells.minutes()[2].area, (3 + 5) * 60);
    }
}

proptest! {
    #[test]
    fn parts_merge_to_the_same_in_any_order_and_grouping(
        curves in prop::collection::vec((prop::collection::vec(0_u32..9, 0..6), 0_u32..9), 1..12),
        cut in 0_usize..12,
        turn in 0_usize..12,
    ) {
        let whole = all(&curves);
        let mut turned = curves.clone();
        turned.rotate_left(turn % curves.len());
        prop_assert_eq!(&all(&turned), &whole);
        let (a, b) = curves.split_at(cut.min(curves.len()));
        let mut left = all(a);
        left.merge(&all(b));
        prop_assert_eq!(&left, &whole);
        let mut right = all(b);
        right.merge(&all(a));
        prop_assert_eq!(&right, &whole);
    }
}
