//! Carts of clean ware, and the runner who takes them to the servery.

use crate::calendar::Phase;
use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::{ClassId, Line, MOST_CLASSES, clean_end, servery};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::time::Span;

/// Carts of clean ware and the runner who takes them to the servery.
#[derive(Clone, Debug, PartialEq)]
pub struct Delivery {
    /// Its name.
    pub name: String,
    /// Carts, the one being loaded included.
    pub carts: u32,
    /// Pieces a cart holds.
    pub cart_pieces: u32,
    /// There and back; the ware is at the servery half way.
    pub trip: Span,
    /// Factor of mean 1 on each trip.
    pub variation: Dist,
    /// Goes when the stock of a class at the servery is below this and the cart has some, by class.
    pub below: Vec<Option<u32>>,
}

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum At {
    #[default]
    Idle,
    Loading,
    Full,
    Away,
}

#[derive(Clone, Debug, Default)]
struct Cart {
    at: At,
    counts: [u32; MOST_CLASSES],
    total: u32,
    racks: Vec<u32>,
    worker: Option<u8>,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    carts: Vec<Cart>,
    variation: Sampler,
    luck: Keyed,
    trips: u64,
}

impl State {
    /// Clean pieces on carts, by class.
    pub(crate) fn pieces(&self, class: usize) -> u32 {
        self.carts.iter().map(|c| c.counts[class]).sum()
    }

    pub(crate) fn racks(&self) -> usize {
        self.carts.iter().map(|c| c.racks.len()).sum()
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    let Some(spec) = &line.delivery else {
        floor.delivery.carts.clear();
        return;
    };
    let root = floor.root;
    let state = &mut floor.delivery;
    state.carts.resize_with(spec.carts as usize, Cart::default);
    for cart in &mut state.carts {
        cart.at = At::Idle;
        cart.counts = [0; MOST_CLASSES];
        cart.total = 0;
        cart.racks.clear();
        cart.worker = None;
    }
    state.variation.fit(&spec.variation);
    state.luck = root.keyed(name_key(&spec.name) ^ name_key("runner/trip"));
    state.trips = 0;
}

/// Puts clean pieces on a cart (or, without carts, at the servery); how many there was room for. With `rack`, they go in
/// their rack, all on one cart or none.
pub(crate) fn put(
    floor: &mut Floor,
    line: &Line,
    class: ClassId,
    pieces: u16,
    rack: Option<u32>,
) -> u16 {
    let goes_along = rack.filter(|_| clean_end::goes_with_its_rack(line, class));
    let Some(spec) = &line.delivery else {
        servery::comes_back(floor, class, u32::from(pieces), goes_along);
        return pieces;
    };
    if line.classes[usize::from(class.0)].par.is_none() {
        // Its stock is not followed, so nobody carries it.
        return pieces;
    }
    if let Some(rack) = goes_along {
        return put_rack(floor, spec.cart_pieces, class, pieces, rack);
    }
    let mut left = u32::from(pieces);
    while left > 0 {
        let loading = floor
            .delivery
            .carts
            .iter()
            .position(|c| c.at == At::Loading);
        let Some(k) =
            loading.or_else(|| floor.delivery.carts.iter().position(|c| c.at == At::Idle))
        else {
            break;
        };
        let cart = &mut floor.delivery.carts[k];
        cart.at = At::Loading;
        let fits = left.min(spec.cart_pieces.max(1) - cart.total);
        cart.counts[usize::from(class.0)] += fits;
        cart.total += fits;
        left -= fits;
        if cart.total >= spec.cart_pieces.max(1) {
            cart.at = At::Full;
        }
        floor.telling.add(floor.n.cart, fits as i32);
    }
    floor.mark_crew();
    pieces - left as u16
}

/// Whether clean pieces of this class have somewhere to go from the clean end: off the line, or on a cart that is here and
/// not full.
pub(crate) fn takes(floor: &Floor, line: &Line, class: ClassId) -> bool {
    line.delivery.is_none()
        || line.classes[usize::from(class.0)].par.is_none()
        || floor
            .delivery
            .carts
            .iter()
            .any(|c| matches!(c.at, At::Idle | At::Loading))
}

/// Puts a rack with its ware on a cart that has room for all of it, or on an empty one; a cart that has not goes.
fn put_rack(floor: &mut Floor, cart_pieces: u32, class: ClassId, pieces: u16, rack: u32) -> u16 {
    let many = u32::from(pieces);
    let carts = &mut floor.delivery.carts;
    for cart in carts.iter_mut().filter(|c| c.at == At::Loading) {
        if cart.total + many > cart_pieces {
            cart.at = At::Full;
        }
    }
    let loading = carts.iter().position(|c| c.at == At::Loading);
    let found = loading.or_else(|| carts.iter().position(|c| c.at == At::Idle));
    if let Some(k) = found {
        let cart = &mut carts[k];
        cart.counts[usize::from(class.0)] += many;
        cart.total += many;
        cart.racks.push(rack);
        cart.at = if cart.total >= cart_pieces {
            At::Full
        } else {
            At::Loading
        };
        floor.telling.add(floor.n.cart, many as i32);
    }
    floor.mark_crew();
    if found.is_some() { pieces } else { 0 }
}

/// Trips waiting for a runner.
#[inline(never)]
pub(crate) fn waiting(floor: &Floor, line: &Line) -> u32 {
    let Some(spec) = &line.delivery else { return 0 };
    let full = floor
        .delivery
        .carts
        .iter()
        .filter(|c| c.at == At::Full)
        .count() as u32;
    let loading = floor.delivery.carts.iter().find(|c| c.at == At::Loading);
    let called = loading.is_some_and(|cart| {
        let short = spec.below.iter().enumerate().any(|(class, below)| {
            below.is_some_and(|below| floor.servery.stock[class] < below) && cart.counts[class] > 0
        });
        short || (floor.rush_over && floor.ledger.pieces_inside() == 0)
    });
    full + u32::from(called)
}

/// The runner sets out: seconds at normal pace. The ware is at the servery half way.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, worker: u8, pace: f64) -> Option<f64> {
    let spec = line.delivery.as_ref()?;
    let carts = &floor.delivery.carts;
    let k = carts
        .iter()
        .position(|c| c.at == At::Full)
        .or_else(|| carts.iter().position(|c| c.at == At::Loading))?;
    let state = &mut floor.delivery;
    let factor = state.variation.value(state.luck, state.trips);
    state.trips += 1;
    let seconds = spec.trip.s() * factor;
    state.carts[k].at = At::Away;
    state.carts[k].worker = Some(worker);
    let half = Span::drawn(seconds / pace / 2.0);
    if half.is_none() {
        arrive(floor, k as u32);
    } else {
        let at = floor.now + half;
        floor.set(1, k as u32, Phase::End, at);
    }
    Some(seconds)
}

/// A cart is at the servery.
pub(crate) fn arrive(floor: &mut Floor, k: u32) {
    let cart = &mut floor.delivery.carts[k as usize];
    let counts = std::mem::replace(&mut cart.counts, [0; MOST_CLASSES]);
    let total = std::mem::take(&mut cart.total);
    let mut racks = std::mem::take(&mut cart.racks);
    floor.telling.add(floor.n.cart, -(total as i32));
    for (class, &pieces) in counts.iter().enumerate() {
        if pieces > 0 {
            // Pieces that came in their racks are put up rack by rack.
            let in_racks: u32 = racks
                .iter()
                .map(|&r| floor.racks.get(r))
                .filter(|r| usize::from(r.class) == class)
                .map(|r| u32::from(r.carried()))
                .sum();
            servery::comes_back(
                floor,
                ClassId(class as u8),
                pieces.saturating_sub(in_racks),
                None,
            );
        }
    }
    for &rack in &racks {
        let it = floor.racks.get(rack);
        let (class, pieces) = (it.class, u32::from(it.carried()));
        servery::comes_back(floor, ClassId(class), pieces, Some(rack));
    }
    racks.clear();
    floor.delivery.carts[k as usize].racks = racks;
}

/// The runner is back, and the cart with them.
pub(crate) fn finish(floor: &mut Floor, worker: u8) {
    for cart in &mut floor.delivery.carts {
        if cart.worker == Some(worker) {
            cart.worker = None;
            cart.at = At::Idle;
        }
    }
    for i in 0..floor.clean_ends.len() as u8 {
        let no = floor.clean_end_no(i);
        floor.mark(no);
    }
}
