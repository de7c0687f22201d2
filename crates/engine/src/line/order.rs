//! Order between classes at the load end: what is taken next where several classes wait.

use crate::line::floor::Floor;
use crate::line::{ClassId, Line};

/// Which of several classes goes first.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Order {
    /// The pile fullest for its room; racks on a shelf in the order in which they came.
    #[default]
    Usual,
    /// What has waited longest.
    FirstCome,
    /// The class of whose owned pieces the smallest share is at the servery; those whose stock is not followed come last.
    ShortestStock,
    /// In this order; classes not named come last.
    Fixed(Vec<ClassId>),
}

/// The rank of a class: the lowest goes first, and of equal ones what has waited longest.
pub(crate) fn rank(floor: &Floor, line: &Line, order: &Order, class: u8) -> u64 {
    match order {
        Order::Usual | Order::FirstCome => 0,
        Order::ShortestStock => {
            let here = u64::from(floor.servery.stock[usize::from(class)]);
            match line.classes[usize::from(class)].par {
                Some(par) => here * 1_000_000_000 / u64::from(par.max(1)),
                None => u64::MAX,
            }
        }
        Order::Fixed(classes) => {
            let place = classes.iter().position(|it| it.0 == class);
            place.unwrap_or(classes.len()) as u64
        }
    }
}
