//! Carts and tubs in which staff bring soiled ware: it gathers in the dining room or on the wards, goes on a cart, waits
//! in a parking place, is emptied, the cart is washed and goes back.

use std::collections::VecDeque;

use crate::calendar::Phase;
use crate::dist::Dist;
use crate::line::floor::Floor;
use crate::line::queue::Queue;
use crate::line::{Line, servery};
use crate::sampler::Sampler;
use crate::streams::{Keyed, name_key};
use crate::tape::{Diner, Tape};
use crate::time::{SimTime, Span};

/// Carts or tubs of one kind, and how they go round.
#[derive(Clone, Debug, PartialEq)]
pub struct Carts {
    /// Their name.
    pub name: String,
    /// How many there are.
    pub count: u32,
    /// Trays, or covers' ware, that one holds.
    pub holds: u32,
    /// When what has gathered is brought.
    pub goes: CartsGo,
    /// From the dining room to the dish room, and back.
    pub way: Span,
    /// Places in the dish room where a cart can be emptied; the rest waits outside. `None`: as many as come.
    pub parking: Option<u32>,
    /// Work of washing an emptied cart; `None`: it goes back as it is.
    pub wash: Option<CartWash>,
}

/// When ware that has gathered is brought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CartsGo {
    /// As soon as there is any, on as many carts as it takes.
    AtOnce,
    /// When a cart is full, when the first of it has waited so long, or when nothing more is to come.
    WhenFull {
        /// Longest wait; `None`: however long it takes.
        longest_wait: Option<Span>,
    },
    /// On rounds: all that has gathered, on at most so many carts.
    Rounds {
        /// The first round.
        first: SimTime,
        /// From one round to the next.
        every: Span,
        /// Carts a round.
        carts: u32,
    },
}

/// Work of washing an emptied cart by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct CartWash {
    /// Seconds for one cart.
    pub cart_s: f64,
    /// Factor of mean 1 on each.
    pub variation: Dist,
    /// Workers who can wash at once.
    pub workers: u32,
}

const ARRIVAL: u32 = 0;
const ROUND: u32 = 1;
const COMES: u32 = 2;
const BACK: u32 = 3;
const LONG_ENOUGH: u32 = 4;
pub(crate) const SLOTS: u32 = 5;

#[derive(Clone, Debug, Default)]
struct Cart {
    loads: VecDeque<u32>,
    /// When it came to the dish room.
    came: SimTime,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// Ware cleared away and not yet on a cart.
    gathered: Queue,
    carts: Vec<Cart>,
    /// Carts ready to be loaded.
    free: VecDeque<u32>,
    coming: VecDeque<(u32, SimTime)>,
    parked: VecDeque<u32>,
    outside: VecDeque<u32>,
    to_wash: VecDeque<(u32, SimTime)>,
    in_wash: Vec<(u8, u32)>,
    back: VecDeque<(u32, SimTime)>,
    /// Next entry of the tape's list of those who come.
    cursor: usize,
    /// The round that was begun last, and the carts that may still go on it.
    round: Option<(SimTime, u32)>,
    /// Nothing more is to come.
    pub(crate) closed: bool,
    parking: u32,
    variation: Sampler,
    luck: Keyed,
    washes: u64,
}

impl State {
    /// Trays gathered, and on carts.
    pub(crate) fn things(&self) -> impl Iterator<Item = u32> + '_ {
        let on_carts = self
            .carts
            .iter()
            .flat_map(|cart| cart.loads.iter().copied());
        self.gathered.things().chain(on_carts)
    }

    /// Whether an emptied cart is yet to be washed.
    pub(crate) fn has_soiled_carts(&self) -> bool {
        !self.to_wash.is_empty() || !self.in_wash.is_empty()
    }

    fn waiting_carts(&self) -> u32 {
        (self.parked.len() + self.outside.len()) as u32
    }

    /// Carts wherever they are.
    pub(crate) fn counted(&self) -> usize {
        let coming_and_going = self.coming.len() + self.back.len();
        let here = self.parked.len() + self.outside.len();
        self.free.len() + coming_and_going + here + self.to_wash.len() + self.in_wash.len()
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line, tape: &Tape) {
    floor.carts.resize_with(line.carts.len(), State::default);
    for (i, spec) in line.carts.iter().enumerate() {
        let root = floor.root;
        let state = &mut floor.carts[i];
        state.gathered.wipe(None);
        state.carts.resize_with(spec.count as usize, Cart::default);
        state.carts.iter_mut().for_each(|cart| cart.loads.clear());
        state.free.clear();
        state.free.extend(0..spec.count);
        state.coming.clear();
        state.parked.clear();
        state.outside.clear();
        state.to_wash.clear();
        state.in_wash.clear();
        state.back.clear();
        state.cursor = 0;
        state.round = None;
        state.closed = false;
        state.parking = spec.parking.unwrap_or(u32::MAX);
        state.washes = 0;
        if let Some(wash) = &spec.wash {
            state.variation.fit(&wash.variation);
        }
        state.luck = root.keyed(name_key(&spec.name) ^ name_key("carts/wash"));
        floor.telling.begin_level(floor.n.carts_free[i], spec.count);
        next_arrival(floor, line, tape, i as u8);
    }
}

pub(crate) fn next_arrival(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    let state = &mut floor.carts[usize::from(i)];
    while let Some(&diner) = tape.coming().get(state.cursor) {
        let it = &tape.diners()[diner as usize];
        if it.carts == i {
            let at = it.comes.max(line.starts);
            let no = floor.carts_no(i);
            floor.set(no, ARRIVAL, Phase::Arrive, at);
            return;
        }
        state.cursor += 1;
    }
    if servery::nobody_late(floor) {
        floor.carts[usize::from(i)].closed = true;
        let no = floor.carts_no(i);
        floor.mark(no);
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, tape: &Tape, i: u8, local: u32) {
    let no = floor.carts_no(i);
    floor.mark(no);
    let now = floor.now;
    match local {
        ARRIVAL => gather(floor, line, tape, i),
        COMES => {
            while let Some(&(cart, at)) = floor.carts[usize::from(i)].coming.front() {
                if at > now {
                    floor.set(no, COMES, Phase::Arrive, at);
                    break;
                }
                floor.carts[usize::from(i)].coming.pop_front();
                comes_in(floor, i, cart);
            }
        }
        BACK => {
            while let Some(&(cart, at)) = floor.carts[usize::from(i)].back.front() {
                if at > now {
                    floor.set(no, BACK, Phase::Arrive, at);
                    break;
                }
                let state = &mut floor.carts[usize::from(i)];
                state.back.pop_front();
                state.free.push_back(cart);
            }
        }
        // A round, or something has waited long enough: settling looks.
        _ => {}
    }
}

/// Ware is cleared away by staff: it waits for a cart.
fn gather(floor: &mut Floor, line: &Line, tape: &Tape, i: u8) {
    let now = floor.now;
    while let Some(&diner) = tape.coming().get(floor.carts[usize::from(i)].cursor) {
        let it = &tape.diners()[diner as usize];
        if it.carts != i {
            floor.carts[usize::from(i)].cursor += 1;
            continue;
        }
        if it.comes > now {
            break;
        }
        floor.carts[usize::from(i)].cursor += 1;
        if !servery::is_delayed(floor, diner) {
            clears(floor, i, diner, it);
        }
    }
    next_arrival(floor, line, tape, i);
}

/// Staff clear away what this diner leaves.
pub(crate) fn clears(floor: &mut Floor, i: u8, diner: u32, it: &Diner) {
    let now = floor.now;
    if servery::comes_to_an_end(floor, diner, it) {
        floor.carts[usize::from(i)].gathered.put(diner, now);
    }
    let no = floor.carts_no(i);
    floor.mark(no);
}

#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let spec = &line.carts[usize::from(i)];
    let now = floor.now;
    let no = floor.carts_no(i);
    if let CartsGo::Rounds {
        first,
        every,
        carts,
    } = spec.goes
    {
        let state = &mut floor.carts[usize::from(i)];
        if is_round(first, every, now) && state.round.is_none_or(|(at, _)| at != now) {
            state.round = Some((now, carts));
        }
    }
    while goes_now(&floor.carts[usize::from(i)], spec, now) {
        load_one(floor, spec, i);
    }
    let state = &mut floor.carts[usize::from(i)];
    while (state.parked.len() as u32) < state.parking
        && let Some(cart) = state.outside.pop_front()
    {
        state.parked.push_back(cart);
    }
    let state = &floor.carts[usize::from(i)];
    let (gathered, free) = (state.gathered.len(), state.free.len() as u32);
    let first = state.gathered.first().map(|(_, since)| since);
    let waits = gathered > 0 && free > 0;
    let (round, enough) = match spec.goes {
        CartsGo::AtOnce => (None, None),
        CartsGo::WhenFull { longest_wait } => {
            let due = longest_wait.zip(first).map(|(wait, since)| since + wait);
            (None, due.filter(|&at| waits && at > now))
        }
        CartsGo::Rounds { first, every, .. } => {
            (waits.then(|| next_round(first, every, now)), None)
        }
    };
    floor.set_or_clear(no, ROUND, Phase::Clock, round);
    floor.set_or_clear(no, LONG_ENOUGH, Phase::Clock, enough);
    floor
        .telling
        .level(floor.n.gathered[usize::from(i)], gathered);
    floor
        .telling
        .level(floor.n.carts_free[usize::from(i)], free);
    if floor.carts[usize::from(i)].waiting_carts() > 0 {
        floor.mark_crew();
    }
}

fn is_round(first: SimTime, every: Span, now: SimTime) -> bool {
    now >= first && now.since(first).us().is_multiple_of(every.us().max(1))
}

/// The first round after `now`.
fn next_round(first: SimTime, every: Span, now: SimTime) -> SimTime {
    if first > now {
        return first;
    }
    let every = every.us().max(1);
    let gone = now.since(first).us() / every + 1;
    first + Span::from_us(gone.saturating_mul(every))
}

/// Whether another cart is loaded now.
fn goes_now(state: &State, spec: &Carts, now: SimTime) -> bool {
    let Some((_, since)) = state.gathered.first() else {
        return false;
    };
    if state.free.is_empty() {
        return false;
    }
    match spec.goes {
        CartsGo::AtOnce => true,
        CartsGo::WhenFull { longest_wait } => {
            state.gathered.len() >= spec.holds
                || state.closed
                || longest_wait.is_some_and(|wait| now.since(since) >= wait)
        }
        CartsGo::Rounds { .. } => state.round.is_some_and(|(at, left)| at == now && left > 0),
    }
}

fn load_one(floor: &mut Floor, spec: &Carts, i: u8) {
    let now = floor.now;
    let state = &mut floor.carts[usize::from(i)];
    let Some(cart) = state.free.pop_front() else {
        return;
    };
    if let Some((_, left)) = &mut state.round {
        *left = left.saturating_sub(1);
    }
    for _ in 0..spec.holds.max(1) {
        let Some((load, since)) = state.gathered.take() else {
            break;
        };
        state.carts[cart as usize].loads.push_back(load);
        floor
            .telling
            .waited(floor.n.gathered[usize::from(i)], now.since(since));
    }
    if spec.way.is_none() {
        comes_in(floor, i, cart);
    } else {
        state.coming.push_back((cart, now + spec.way));
        if state.coming.len() == 1 {
            let no = floor.carts_no(i);
            floor.set(no, COMES, Phase::Arrive, now + spec.way);
        }
    }
}

/// A cart comes to the dish room and waits to be emptied.
fn comes_in(floor: &mut Floor, i: u8, cart: u32) {
    let now = floor.now;
    let state = &mut floor.carts[usize::from(i)];
    state.carts[cart as usize].came = now;
    state.outside.push_back(cart);
    let trays = state.carts[cart as usize].loads.len() as u32;
    let waiting = state.waiting_carts();
    floor.telling.level(floor.n.carts[usize::from(i)], waiting);
    floor.telling.add(floor.n.backlog, trays as i32);
    floor.telling.count(floor.n.count.came, trays);
    floor.telling.count(floor.n.count.dropped, trays);
    floor
        .telling
        .count(floor.n.count.carts_in[usize::from(i)], 1);
}

/// A tray that is already on a cart that waits to be emptied: on the last of them, or on another when that is full. Whether
/// there is one.
pub(crate) fn stands_there(floor: &mut Floor, spec: &Carts, i: u8, tray: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.carts[usize::from(i)];
    let last = state.outside.back().copied();
    let has_room = |cart: &u32| state.carts[*cart as usize].loads.len() < spec.holds as usize;
    let cart = match last.filter(has_room) {
        Some(cart) => cart,
        None => {
            let Some(cart) = state.free.pop_front() else {
                return false;
            };
            state.outside.push_back(cart);
            state.carts[cart as usize].came = now;
            cart
        }
    };
    state.carts[cart as usize].loads.push_back(tray);
    let waiting = state.waiting_carts();
    floor.telling.level(floor.n.carts[usize::from(i)], waiting);
    true
}

/// So many emptied carts already wait to be washed. Whether there are as many.
pub(crate) fn waits_for_washing(floor: &mut Floor, i: u8, many: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.carts[usize::from(i)];
    for _ in 0..many {
        let Some(cart) = state.free.pop_front() else {
            return false;
        };
        state.to_wash.push_back((cart, now));
    }
    let soiled = state.to_wash.len() as u32;
    floor.telling.level(floor.n.to_wash[usize::from(i)], soiled);
    true
}

/// Trays on the carts that stand where they can be emptied.
#[inline(never)]
pub(crate) fn waiting(floor: &Floor, i: u8) -> u32 {
    let state = &floor.carts[usize::from(i)];
    let trays = state
        .parked
        .iter()
        .map(|&cart| state.carts[cart as usize].loads.len());
    trays.sum::<usize>() as u32
}

/// Takes the next tray from the cart that has stood longest, with when the cart came.
#[inline(never)]
pub(crate) fn take(floor: &mut Floor, line: &Line, i: u8) -> Option<(u32, SimTime)> {
    let now = floor.now;
    let state = &mut floor.carts[usize::from(i)];
    let &cart = state.parked.front()?;
    let it = &mut state.carts[cart as usize];
    let (load, came) = (it.loads.pop_front()?, it.came);
    if it.loads.is_empty() {
        state.parked.pop_front();
        let waiting = state.waiting_carts();
        floor.telling.level(floor.n.carts[usize::from(i)], waiting);
        let spec = &line.carts[usize::from(i)];
        if spec.wash.is_some() {
            let state = &mut floor.carts[usize::from(i)];
            state.to_wash.push_back((cart, now));
            let soiled = state.to_wash.len() as u32;
            floor.telling.level(floor.n.to_wash[usize::from(i)], soiled);
            floor.mark_crew();
        } else {
            goes_back(floor, spec.way, i, cart);
        }
        let no = floor.carts_no(i);
        floor.mark(no);
    }
    Some((load, came))
}

fn goes_back(floor: &mut Floor, way: Span, i: u8, cart: u32) {
    let at = floor.now + way;
    let no = floor.carts_no(i);
    let state = &mut floor.carts[usize::from(i)];
    if way.is_none() {
        state.free.push_back(cart);
    } else {
        state.back.push_back((cart, at));
        if state.back.len() == 1 {
            floor.set(no, BACK, Phase::Arrive, at);
        }
    }
    floor.mark(no);
}

/// Carts waiting to be washed.
#[inline(never)]
pub(crate) fn waiting_to_wash(floor: &Floor, i: u8) -> u32 {
    floor.carts[usize::from(i)].to_wash.len() as u32
}

/// Begins to wash the cart that has waited longest: seconds at normal pace.
#[inline(never)]
pub(crate) fn begin(floor: &mut Floor, line: &Line, i: u8, worker: u8) -> Option<f64> {
    let wash = line.carts[usize::from(i)].wash.as_ref()?;
    let state = &mut floor.carts[usize::from(i)];
    let (cart, since) = state.to_wash.pop_front()?;
    state.in_wash.push((worker, cart));
    let factor = state.variation.value(state.luck, state.washes);
    state.washes += 1;
    let (soiled, waited) = (state.to_wash.len() as u32, floor.now.since(since));
    floor.telling.level(floor.n.to_wash[usize::from(i)], soiled);
    floor
        .telling
        .waited(floor.n.to_wash[usize::from(i)], waited);
    Some(wash.cart_s * factor)
}

/// A cart is washed and goes back.
pub(crate) fn finish(floor: &mut Floor, line: &Line, i: u8, worker: u8) {
    let state = &mut floor.carts[usize::from(i)];
    if let Some(k) = state.in_wash.iter().position(|&(w, _)| w == worker) {
        let (_, cart) = state.in_wash.remove(k);
        floor
            .telling
            .count(floor.n.count.carts_washed[usize::from(i)], 1);
        goes_back(floor, line.carts[usize::from(i)].way, i, cart);
    }
    floor.release(worker);
}
