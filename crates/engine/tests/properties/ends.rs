//! How runs end.

use proptest::prelude::*;
use scullery_engine::ended::How;
use scullery_engine::time::Span;
use scullery_engine::watch::Role;

use super::record::{Told, check};

#[test]
fn every_line_that_fits_together_runs_to_an_end() {
    check(2_000, |case| {
        prop_assert_eq!(case.line.faults(), Vec::<String>::new());
        case.run()?;
        Ok(())
    });
}

#[test]
fn when_all_is_clean_nobody_is_yet_to_come_and_nothing_is_inside() {
    check(1_000, |case| {
        let (ended, told) = case.run()?;
        let balance = &ended.balance;
        let comes_later = |it: &u32| case.tape().diners()[*it as usize].comes > ended.at;
        match ended.how {
            How::AllClean => {
                prop_assert_eq!(balance.trays_inside, 0);
                prop_assert_eq!(balance.pieces_inside, 0);
                prop_assert_eq!(&balance.unfinished, &Vec::<String>::new());
                prop_assert!(!case.tape().coming().iter().any(comes_later));
                prop_assert_eq!(ended.all_clean_at.is_some(), balance.trays_in > 0);
            }
            How::StatedEnd => prop_assert_eq!(Some(ended.at), case.line.ends),
            How::Gridlock(_) | How::NeverDrained => {
                // Carts that take two to wash, and find only one, are inside too.
                let carts = !case.line.carts.is_empty() && !case.line.for_two.is_empty();
                prop_assert!(balance.pieces_inside > 0 || carts);
                prop_assert!(!balance.unfinished.is_empty());
            }
        }
        prop_assert!(told.last().is_none_or(|it| it.at() <= ended.at));
        Ok(())
    });
}

#[test]
fn what_locked_for_good_does_not_move_when_the_run_goes_on() {
    // With a stated end, ware that waits for nobody in particular is no lock: the run goes on to the end.
    const OF_WARE: [Role; 9] = [
        Role::Receiver,
        Role::Trays,
        Role::Overflow,
        Role::Pile,
        Role::HeldBack,
        Role::OpenRacks,
        Role::FilledRacks,
        Role::Washing,
        Role::CleanRacks,
    ];
    check(1_500, |case| {
        if case.line.ends.is_some() {
            return Ok(());
        }
        let (locked, _) = case.run()?;
        if !matches!(locked.how, How::Gridlock(_)) {
            return Ok(());
        }
        let mut longer = case.clone();
        longer.line.ends = Some(locked.at + Span::from_s(12.0 * 3_600.0));
        let (ended, told) = longer.run()?;
        let places = case.line.catalogue().places;
        for it in told.iter().filter(|it| it.at() > locked.at) {
            if let Told::Level(at, place, held) = *it {
                let place = &places[usize::from(place.0)];
                prop_assert!(
                    !OF_WARE.contains(&place.role),
                    "locked at {}, and {} holds {held} from {at} on",
                    locked.at,
                    place.name
                );
            }
        }
        prop_assert_eq!(ended.balance.pieces_out, locked.balance.pieces_out);
        Ok(())
    });
}
