//! A tray accumulator: carriers of several tiers in a closed loop past the drop-off and the breakdown table.
//!
//! The loop is an odometer in the units of [`mover`](super::mover); carrier k stands at `k · loop ÷ carriers` past the
//! mark when the odometer reads nought. The loop waits for nobody: what is not taken goes round.

use crate::calendar::Phase;
use crate::line::belt::speed_at;
use crate::line::floor::Floor;
use crate::line::mover::UNITS_PER_MM;
use crate::line::{Line, Stands, Stop, TraysTo, stops, trouble};
use crate::time::{SimTime, Span};
use crate::watch::State as S;

/// Carriers of several tiers, evenly spaced in a closed loop.
#[derive(Clone, Debug, PartialEq)]
pub struct Accumulator {
    /// Its name.
    pub name: String,
    /// Carriers in the loop, 1 to [`Accumulator::MOST_CARRIERS`].
    pub carriers: u32,
    /// Tiers of a carrier, one tray each, 1 to [`Accumulator::MOST_TIERS`].
    pub tiers: u32,
    /// Length of the loop, mm.
    pub loop_mm: u32,
    /// How far along the loop, on each side of a drop-off position, a carrier is within reach, mm.
    pub reach_mm: u32,
    /// Speed in mm a minute from each clock time on; the first holds from the start.
    pub speed: Vec<(SimTime, u32)>,
    /// Stops by the clock (carriers within reach may still be filled and emptied).
    pub stops: Vec<Stop>,
}

impl Accumulator {
    /// Most carriers in a loop.
    pub const MOST_CARRIERS: u32 = 500;
    /// Most tiers of a carrier.
    pub const MOST_TIERS: u32 = 50;

    /// Trays it holds.
    pub fn places(&self) -> u32 {
        self.carriers.saturating_mul(self.tiers)
    }
}

/// A stretch along the loop.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reach {
    /// Where somebody stands, mm from the loop's mark.
    pub at_mm: u32,
    /// How far along the loop they reach on each side, mm.
    pub each_side_mm: u32,
}

const SPEED: u32 = 0;
const STOP: u32 = 1;
pub(crate) const SLOTS: u32 = 2;

/// Marks an empty tier.
const NO_TRAY: u32 = u32::MAX;

/// What somebody beside the loop waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Wants {
    FreeTier,
    Tray,
}

#[derive(Clone, Debug, Default)]
pub(crate) struct State {
    /// Trays and since when they are here, carrier by carrier, the lowest tier first.
    tiers: Vec<(u32, SimTime)>,
    /// Trays by carrier.
    full: Vec<u32>,
    /// Where each carrier stands when the odometer is at nought, in odometer units from the loop's mark.
    stands: Vec<u64>,
    tiers_each: u32,
    held: u32,
    /// Length of the loop in odometer units.
    length: u64,
    /// Reach of the drop-off's positions, mm.
    reach_mm: u32,
    odometer: u64,
    read_at: SimTime,
    speed: u32,
    next_speed: usize,
    stops: stops::State,
}

impl State {
    /// Trays on it.
    pub(crate) fn len(&self) -> u32 {
        self.held
    }

    pub(crate) fn things(&self) -> impl Iterator<Item = u32> + '_ {
        self.tiers
            .iter()
            .map(|&(tray, _)| tray)
            .filter(|&tray| tray != NO_TRAY)
    }

    fn reach_of_position(&self, at_mm: u32) -> Reach {
        Reach {
            at_mm,
            each_side_mm: self.reach_mm,
        }
    }

    fn moves(&self) -> bool {
        self.speed > 0 && !self.stops.is_down()
    }

    /// Brings the odometer to `now`.
    fn read(&mut self, now: SimTime) {
        let passed = now.since(self.read_at).us();
        self.read_at = now;
        if passed > 0 && self.moves() {
            let ahead = u64::from(self.speed).saturating_mul(passed) % self.length;
            self.odometer = (self.odometer + ahead) % self.length;
        }
    }

    /// The carriers that have what is wanted, and how far each has come past the point where it came within reach.
    fn past_window(&self, reach: Reach, wants: Wants) -> impl Iterator<Item = (u64, usize)> + '_ {
        let along = |mm: u32| u64::from(mm) * UNITS_PER_MM % self.length;
        let begins = (along(reach.at_mm) + self.length - along(reach.each_side_mm)) % self.length;
        let gone = (self.odometer + self.length - begins) % self.length;
        let each = self.stands.iter().zip(0..);
        let wanted = each.filter(move |&(_, k)| self.has(k, wants));
        wanted.map(move |(stands, k)| {
            let past = stands + gone;
            // Both are less than a round.
            let round = if past >= self.length { self.length } else { 0 };
            (past - round, k)
        })
    }

    fn has(&self, k: usize, wants: Wants) -> bool {
        match wants {
            Wants::FreeTier => self.full[k] < self.tiers_each,
            Wants::Tray => self.full[k] > 0,
        }
    }

    /// The carrier within reach that has what is wanted and will be gone soonest.
    fn within_reach(&self, reach: Reach, wants: Wants) -> Option<usize> {
        // However narrow, the window is not passed by between two microseconds.
        let window = (2 * u64::from(reach.each_side_mm) * UNITS_PER_MM)
            .max(u64::from(self.speed.max(1)) - 1);
        self.past_window(reach, wants)
            .filter(|&(past, _)| past <= window)
            .max_by_key(|&(past, k)| (past, std::cmp::Reverse(k)))
            .map(|(_, k)| k)
    }

    /// How long until the next carrier that has what is wanted comes within reach, if the loop moves.
    fn comes_in(&self, reach: Reach, wants: Wants) -> Option<Span> {
        if !self.moves() {
            return None;
        }
        self.past_window(reach, wants)
            .map(|(past, _)| self.length - past)
            .min()
            .map(|to_go| Span::from_us(to_go.div_ceil(u64::from(self.speed))))
    }

    fn put(&mut self, k: usize, tray: u32, now: SimTime) {
        let first = k * self.tiers_each as usize;
        let of_carrier = &mut self.tiers[first..first + self.tiers_each as usize];
        if let Some(tier) = of_carrier.iter_mut().find(|(held, _)| *held == NO_TRAY) {
            *tier = (tray, now);
            self.full[k] += 1;
            self.held += 1;
        }
    }

    fn take(&mut self, k: usize) -> Option<(u32, SimTime)> {
        let first = k * self.tiers_each as usize;
        let of_carrier = &mut self.tiers[first..first + self.tiers_each as usize];
        let tier = of_carrier
            .iter_mut()
            .rev()
            .find(|(held, _)| *held != NO_TRAY)?;
        let taken = *tier;
        tier.0 = NO_TRAY;
        self.full[k] -= 1;
        self.held -= 1;
        Some(taken)
    }
}

pub(crate) fn wipe(floor: &mut Floor, line: &Line) {
    floor
        .accumulators
        .resize_with(line.accumulators.len(), State::default);
    for (i, spec) in line.accumulators.iter().enumerate() {
        let (speed, next) = speed_at(&spec.speed, line.starts);
        let state = &mut floor.accumulators[i];
        state.tiers.clear();
        state
            .tiers
            .resize(spec.places() as usize, (NO_TRAY, line.starts));
        state.full.clear();
        state.full.resize(spec.carriers as usize, 0);
        state.tiers_each = spec.tiers;
        state.held = 0;
        state.length = u64::from(spec.loop_mm) * UNITS_PER_MM;
        let carriers = u64::from(spec.carriers);
        let stands = (0..carriers).map(|k| k * state.length / carriers);
        state.stands.clear();
        state.stands.extend(stands);
        state.reach_mm = spec.reach_mm;
        state.odometer = 0;
        state.read_at = line.starts;
        state.speed = speed;
        state.next_speed = next;
        let no = floor.accumulator_no(i as u8);
        let at = spec.speed.get(next).map(|&(at, _)| at);
        floor.set_or_clear(no, SPEED, Phase::Clock, at);
        let at = floor.accumulators[i].stops.begin(&spec.stops, line.starts);
        floor.set_or_clear(no, STOP, Phase::Clock, at);
        floor
            .telling
            .begin_state(floor.n.accumulator_actor[i], S::Waiting);
    }
}

#[inline(never)]
pub(crate) fn due(floor: &mut Floor, line: &Line, i: u8, local: u32) {
    let no = floor.accumulator_no(i);
    floor.mark(no);
    let now = floor.now;
    let spec = &line.accumulators[usize::from(i)];
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    match local {
        SPEED => {
            if let Some(&(_, speed)) = spec.speed.get(state.next_speed) {
                state.speed = speed;
                state.next_speed += 1;
            }
            let at = spec.speed.get(state.next_speed).map(|&(at, _)| at);
            floor.set_or_clear(no, SPEED, Phase::Clock, at);
        }
        STOP => {
            let (_, at) = state.stops.turn(&spec.stops, now);
            floor.set_or_clear(no, STOP, Phase::Clock, at);
        }
        _ => {}
    }
    // Whoever stands ready looks again when the next tray comes by.
    floor.mark_crew();
}

/// Tells how full it is, and who waits to put down.
#[inline(never)]
pub(crate) fn settle(floor: &mut Floor, line: &Line, i: u8) {
    let now = floor.now;
    floor.accumulators[usize::from(i)].read(now);
    let state = &floor.accumulators[usize::from(i)];
    let held = state.held;
    let shown = if state.stops.is_down() {
        S::Down
    } else if state.moves() && held > 0 {
        S::Moving
    } else {
        S::Waiting
    };
    floor
        .telling
        .level(floor.n.accumulator[usize::from(i)], held);
    floor
        .telling
        .state(floor.n.accumulator_actor[usize::from(i)], shown, None);
    let drive_runs = floor.accumulators[usize::from(i)].moves();
    trouble::runs(floor, line, Stands::Accumulator(i), drive_runs);
    for (d, drop_off) in line.drop_offs.iter().enumerate() {
        if drop_off.to == TraysTo::Accumulator(i) && floor.drop_offs[d].is_held_up() {
            let no = floor.drop_off_no(d as u8);
            floor.mark(no);
        }
    }
}

/// Trouble makes the loop stand.
pub(crate) fn hold(floor: &mut Floor, i: u8) {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    state.stops.hold();
    let no = floor.accumulator_no(i);
    floor.mark(no);
    floor.mark_crew();
}

/// A trouble is over.
pub(crate) fn let_go(floor: &mut Floor, i: u8) {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    state.stops.let_go();
    let no = floor.accumulator_no(i);
    floor.mark(no);
    floor.mark_crew();
}

/// Puts a tray on the lowest free tier of a carrier within reach of `at_mm`, if there is one.
pub(crate) fn land(floor: &mut Floor, line: &Line, i: u8, at_mm: u32, tray: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    let reach = state.reach_of_position(at_mm);
    let Some(k) = state.within_reach(reach, Wants::FreeTier) else {
        return false;
    };
    state.put(k, tray, now);
    trouble::passes(floor, line, Stands::Accumulator(i), Some(tray));
    let no = floor.accumulator_no(i);
    floor.mark(no);
    floor.mark_crew();
    true
}

/// A tray that is already there, on the first carrier with a free tier. Whether there is one.
pub(crate) fn lies_there(floor: &mut Floor, i: u8, tray: u32) -> bool {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    let Some(k) = (0..state.full.len()).find(|&k| state.has(k, Wants::FreeTier)) else {
        return false;
    };
    state.put(k, tray, now);
    let no = floor.accumulator_no(i);
    floor.mark(no);
    true
}

/// How long until a carrier with a free tier comes within reach of `at_mm`, if the loop moves.
pub(crate) fn lands_in(floor: &Floor, i: u8, at_mm: u32) -> Option<Span> {
    let state = &floor.accumulators[usize::from(i)];
    state.comes_in(state.reach_of_position(at_mm), Wants::FreeTier)
}

/// Whether a carrier with a tray is within this reach.
pub(crate) fn comes_past(floor: &mut Floor, i: u8, reach: Reach) -> bool {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    state.within_reach(reach, Wants::Tray).is_some()
}

/// How long until a carrier with a tray comes within this reach, if the loop moves.
pub(crate) fn comes_by_in(floor: &mut Floor, i: u8, reach: Reach) -> Option<Span> {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    state.comes_in(reach, Wants::Tray)
}

/// Takes the tray on the top full tier of a carrier within reach, if there is one.
#[inline(never)]
pub(crate) fn take(floor: &mut Floor, i: u8, reach: Reach) -> Option<(u32, SimTime)> {
    let now = floor.now;
    let state = &mut floor.accumulators[usize::from(i)];
    state.read(now);
    let k = state.within_reach(reach, Wants::Tray)?;
    let taken = state.take(k);
    let no = floor.accumulator_no(i);
    floor.mark(no);
    taken
}
