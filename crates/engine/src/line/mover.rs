//! One moving surface, three rules: belts, roller lanes and tunnels are all this.
//!
//! The surface is an odometer in units of 1 mm / 60 000 000, so that (whole mm a minute) × (microseconds) is exact. A
//! thing that rides keeps `position − odometer`; a thing that rests against the one in front keeps its position. What
//! has come to rest is worked out when somebody looks, before anything else changes.

use std::collections::VecDeque;

use crate::time::{SimTime, Span};

/// Odometer units in a millimetre.
pub(crate) const UNITS_PER_MM: u64 = 60_000_000;

/// What the surface does when something lies at its end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Ending {
    /// The whole surface stands.
    #[default]
    Stands,
    /// Things queue against the end while the surface runs on.
    ClosesUp,
    /// It moves only when it is told to advance, a stretch at a time.
    OnDemand,
}

#[derive(Clone, Copy, Debug)]
struct Rider {
    thing: u32,
    since: SimTime,
    /// Position minus odometer while riding; position while resting.
    offset: i64,
    resting: bool,
}

/// A moving surface with things on it, the one nearest the end first.
#[derive(Clone, Debug, Default)]
pub(crate) struct Mover {
    length: i64,
    spacing: i64,
    most: usize,
    ending: Ending,
    odometer: i64,
    read_at: SimTime,
    /// mm a minute as set; whether it really moves also hangs on the rest.
    speed: u32,
    /// Stopped from outside.
    pub(crate) stopped: bool,
    /// Odometer reading at which an advance on demand ends.
    advance_to: i64,
    riders: VecDeque<Rider>,
    /// How many from the front have come to rest.
    rested: usize,
    /// Things of the batch being taken right now.
    batch: i64,
}

fn units(mm: u32) -> i64 {
    (u64::from(mm) * UNITS_PER_MM) as i64
}

impl Mover {
    pub(crate) fn wipe(
        &mut self,
        length_mm: u32,
        spacing_mm: u32,
        most: u32,
        ending: Ending,
        speed: u32,
        at: SimTime,
    ) {
        self.length = units(length_mm);
        self.spacing = units(spacing_mm);
        self.most = most as usize;
        self.ending = ending;
        self.odometer = 0;
        self.read_at = at;
        self.speed = speed;
        self.stopped = false;
        self.advance_to = 0;
        self.riders.clear();
        self.rested = 0;
        self.batch = 0;
    }

    pub(crate) fn len(&self) -> u32 {
        self.riders.len() as u32
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.riders.is_empty()
    }

    pub(crate) fn things(&self) -> impl Iterator<Item = u32> + '_ {
        self.riders.iter().map(|r| r.thing)
    }

    fn position(&self, rider: &Rider) -> i64 {
        if rider.resting {
            rider.offset
        } else {
            (rider.offset + self.odometer).min(self.length)
        }
    }

    /// Whether the surface moves now.
    pub(crate) fn moves(&self) -> bool {
        !self.stopped
            && self.speed > 0
            && match self.ending {
                Ending::ClosesUp => true,
                Ending::Stands => !self.lies_at_end(),
                Ending::OnDemand => self.odometer < self.advance_to && !self.lies_at_end(),
            }
    }

    /// Whether something lies at the end.
    pub(crate) fn lies_at_end(&self) -> bool {
        self.riders
            .front()
            .is_some_and(|r| self.position(r) >= self.length)
    }

    /// Brings the odometer to `now` and works out what has come to rest.
    pub(crate) fn read(&mut self, now: SimTime) {
        let passed = now.since(self.read_at).us() as i64;
        self.read_at = now;
        if passed > 0 && self.moves() {
            let mut ahead = i64::from(self.speed).saturating_mul(passed);
            if self.ending != Ending::ClosesUp
                && let Some(first) = self.riders.front()
            {
                ahead = ahead.min(self.length - self.position(first));
            }
            if self.ending == Ending::OnDemand {
                ahead = ahead.min(self.advance_to - self.odometer);
            }
            self.odometer += ahead;
            if self.ending == Ending::OnDemand && self.lies_at_end() {
                // What is left of the section is not owed: it is asked for again when somebody wants the next one.
                self.advance_to = self.odometer;
            }
        }
        if self.ending == Ending::ClosesUp {
            self.come_to_rest();
        }
    }

    /// Those in front that rest already stay as they are; each behind them rests when it has run up to the one in front.
    fn come_to_rest(&mut self) {
        while let Some(rider) = self.riders.get(self.rested) {
            let at_most = match self.rested.checked_sub(1) {
                Some(in_front) => self.riders[in_front].offset - self.spacing,
                None => self.length,
            };
            if rider.offset + self.odometer < at_most {
                break;
            }
            self.riders[self.rested].offset = at_most;
            self.riders[self.rested].resting = true;
            self.rested += 1;
        }
    }

    /// Sets the speed; call [`Mover::read`] first.
    pub(crate) fn set_speed(&mut self, speed: u32) {
        self.speed = speed;
    }

    /// Whether it stands with something on it and nothing at its end, until somebody wants it to move.
    pub(crate) fn waits_for_demand(&self) -> bool {
        self.ending == Ending::OnDemand
            && !self.stopped
            && self.speed > 0
            && !self.is_empty()
            && !self.lies_at_end()
            && !self.moves()
    }

    /// Whether what is on it comes to the end when somebody there wants it, or is coming.
    pub(crate) fn comes_on_demand(&self) -> bool {
        self.ending == Ending::OnDemand && !self.stopped && self.speed > 0 && !self.is_empty()
    }

    /// Moves on by one stretch; call [`Mover::read`] first.
    pub(crate) fn advance(&mut self, mm: u32) {
        self.advance_to = self.odometer + units(mm).max(1);
    }

    /// Whether a thing can be put down at `at_mm` right now: room in all, and the spacing kept before and behind.
    /// [`Mover::read`] must have been called at this instant.
    pub(crate) fn can_land(&self, at_mm: u32) -> bool {
        self.blocker(units(at_mm)).is_none() && self.riders.len() < self.most
    }

    /// The first rider, from upstream, that is nearer than the spacing to `at`.
    fn blocker(&self, at: i64) -> Option<&Rider> {
        if self.spacing == 0 {
            return None;
        }
        // From the load end: riders are few near it.
        // Whatever has not started yet goes first.
        self.riders.iter().rev().find(|r| {
            let position = self.position(r);
            let apart = position - at;
            apart < self.spacing && -apart < self.spacing || position < 0
        })
    }

    /// How long until the thing in the way of `at_mm` has moved on, if it moves.
    pub(crate) fn lands_in(&self, at_mm: u32) -> Option<Span> {
        if !self.moves() || self.riders.len() >= self.most {
            return None;
        }
        let at = units(at_mm);
        let rider = self.blocker(at)?;
        if rider.resting {
            return None;
        }
        let need = at + self.spacing - self.position(rider);
        // With nothing but a rigid surface in between, the first gap comes when this one is a spacing ahead.
        (need > 0 && need <= self.length).then(|| self.time_for(need))
    }

    fn time_for(&self, distance: i64) -> Span {
        let speed = i64::from(self.speed.max(1));
        Span::from_us(((distance + speed - 1) / speed).max(0) as u64)
    }

    /// Puts a thing down at `at_mm`. The caller has asked [`Mover::can_land`].
    pub(crate) fn land(&mut self, at_mm: u32, thing: u32, now: SimTime) {
        let at = units(at_mm);
        let behind = self
            .riders
            .iter()
            .rev()
            .take_while(|r| self.position(r) < at)
            .count();
        let rider = Rider {
            thing,
            since: now,
            offset: at - self.odometer,
            resting: false,
        };
        let i = self.riders.len() - behind;
        self.riders.insert(i, rider);
    }

    /// How far what was put down last has gone from the surface's start, in odometer units; `None`: nothing is on it. For a
    /// rigid surface loaded at its start.
    pub(crate) fn last_gone(&self) -> Option<i64> {
        self.riders.back().map(|r| self.position(r))
    }

    /// How long until what was put down last has gone `length`, if it moves and has not.
    pub(crate) fn last_gone_in(&self, length: i64) -> Option<Span> {
        let left = length - self.last_gone()?;
        (self.moves() && left > 0 && length <= self.length).then(|| self.time_for(left))
    }

    /// How long until something comes to the end, if anything moves towards it.
    pub(crate) fn arrives_in(&self) -> Option<Span> {
        let first = self.riders.front()?;
        if first.resting || !self.moves() {
            return None;
        }
        let to_go = self.length - self.position(first);
        if self.ending == Ending::OnDemand && to_go > self.advance_to - self.odometer {
            return None;
        }
        Some(self.time_for(to_go))
    }

    /// How long until the advance on demand is done, if one is going on.
    pub(crate) fn advance_ends_in(&self) -> Option<Span> {
        (self.ending == Ending::OnDemand && self.moves())
            .then(|| self.time_for(self.advance_to - self.odometer))
    }

    /// The thing lying at the end, and since when it rides.
    pub(crate) fn at_end(&self) -> Option<(u32, SimTime)> {
        let first = self.riders.front()?;
        (self.position(first) >= self.length).then_some((first.thing, first.since))
    }

    /// Takes the thing lying at the end; what rested behind it moves on. Call [`Mover::read`] first.
    pub(crate) fn take_at_end(&mut self) -> Option<(u32, SimTime)> {
        self.at_end()?;
        self.batch = 1;
        self.take(0)
    }

    /// Where a thing lies that is already there: a spacing behind those before it, mm from the start, if that is free.
    pub(crate) fn place_behind(&self) -> Option<u32> {
        let at = self.length - i64::from(self.len()) * self.spacing;
        let at = u64::try_from(at).ok()? / UNITS_PER_MM;
        let at = u32::try_from(at).ok()?;
        self.can_land(at).then_some(at)
    }

    /// Takes the first thing, at the end or freed to move there at this very instant (several are taken as one batch).
    pub(crate) fn take_close_behind(&mut self) -> Option<(u32, SimTime)> {
        let first = self.riders.front()?;
        let close =
            self.batch > 0 && self.position(first) >= self.length - self.spacing * self.batch;
        if self.at_end().is_none() && !close {
            return None;
        }
        self.batch += 1;
        self.take(0)
    }

    /// Since when the thing nearest the end is here.
    pub(crate) fn first_since(&self) -> Option<SimTime> {
        self.riders.front().map(|r| r.since)
    }

    fn take(&mut self, i: usize) -> Option<(u32, SimTime)> {
        let taken = self.riders.remove(i)?;
        self.rested = self.rested.min(i);
        for rider in self.riders.range_mut(i..) {
            if !rider.resting {
                break;
            }
            rider.resting = false;
            rider.offset -= self.odometer;
        }
        Some((taken.thing, taken.since))
    }

    /// Which rider a worker at `at_mm` could take now: one passing this very instant, or one standing within
    /// `reach_mm` upstream.
    fn within_reach(&self, at_mm: u32, reach_mm: u32) -> Option<usize> {
        let at = units(at_mm);
        let from = at - units(reach_mm);
        let stands = !self.moves();
        self.riders.iter().position(|r| {
            let position = self.position(r);
            let here = position >= at && position < at + i64::from(self.speed.max(1));
            here || ((stands || r.resting) && position >= from && position <= at)
        })
    }

    /// Whether [`Mover::take_at`] would take something.
    pub(crate) fn something_at(&self, at_mm: u32, reach_mm: u32) -> bool {
        self.within_reach(at_mm, reach_mm).is_some()
    }

    /// Takes what a worker at `at_mm` can take now. Call [`Mover::read`] first.
    pub(crate) fn take_at(&mut self, at_mm: u32, reach_mm: u32) -> Option<(u32, SimTime)> {
        let i = self.within_reach(at_mm, reach_mm)?;
        self.take(i)
    }

    /// How long until the next thing passes `at_mm`, if anything moves towards it.
    pub(crate) fn passes_in(&self, at_mm: u32) -> Option<Span> {
        if !self.moves() {
            return None;
        }
        let at = units(at_mm);
        let next = self
            .riders
            .iter()
            .find(|r| !r.resting && self.position(r) < at)?;
        Some(self.time_for(at - self.position(next)))
    }

    /// How long until the next thing on a surface that closes up comes to rest, if any still rides.
    pub(crate) fn settles_in(&self) -> Option<Span> {
        if self.ending != Ending::ClosesUp || !self.moves() {
            return None;
        }
        // The one nearest the end has the least way to go: each of those behind has as far or farther.
        let resting = self.riders.iter().take_while(|r| r.resting).count();
        let first = self.riders.get(resting)?;
        let limit = self.length - self.spacing * resting as i64;
        Some(self.time_for(limit - self.position(first)))
    }

    /// How far the surface has gone in all, in odometer units. Call [`Mover::read`] first.
    pub(crate) fn gone(&self) -> i64 {
        self.odometer
    }

    /// Odometer readings at which the things on a rigid surface were put down at its start, the nearest to the end first.
    pub(crate) fn put_down_at(&self) -> impl Iterator<Item = i64> + '_ {
        self.riders.iter().map(|r| -r.offset)
    }

    /// Everything on a rigid surface starts anew: the one nearest the end from the surface's start, the others one after
    /// the other, each when the one before it is a spacing ahead. Until it starts, a thing lies before the start.
    pub(crate) fn start_anew(&mut self) {
        let spacing = self.spacing;
        self.start_anew_behind(|_| spacing);
    }

    /// The same, each so far behind the one before it as `length` says of it.
    pub(crate) fn start_anew_behind(&mut self, length: impl Fn(u32) -> i64) {
        let mut behind = 0;
        for (k, rider) in self.riders.iter_mut().enumerate() {
            if k > 0 {
                behind += length(rider.thing);
            }
            rider.offset = -behind - self.odometer;
        }
    }
}
