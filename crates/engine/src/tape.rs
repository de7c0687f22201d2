//! One meal's luck, fixed before the run: who comes, when, with what. Amounts, never seconds of work, so that
//! arrangements with other aids share a tape.

mod loads;
mod seats;

use crate::demand::{Bell, Cleared, Covers, Days, Demand, How, Kind, MOST_COURSES, There};
use crate::line::MOST_CLASSES;
use crate::sampler::Sampler;
use crate::streams::{Draw, Keyed, Root};
use crate::time::{SimTime, Span, US_PER_MIN};

/// Most diners of one meal.
pub const MOST_DINERS: usize = 2_000_000;

/// In [`Diner::carts`]: the diner brings it to the drop-off.
pub const NO_CARTS: u8 = u8::MAX;

/// One diner (or one course of one, or one tray of a load), at most 64 bytes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diner {
    /// When served.
    pub served: SimTime,
    /// When they come to the drop-off.
    pub comes: SimTime,
    /// Factor of mean 1 on the work at this tray.
    pub factor: f64,
    /// Plate waste, grams.
    pub waste_g: u32,
    /// How many people waiting they will bear; `u16::MAX`: any number.
    pub patience: u16,
    /// Number of the kind of diner.
    pub kind: u8,
    /// Number of the drop-off they go to.
    pub drop_off: u8,
    /// Number of the carts in which staff fetch it; [`NO_CARTS`]: the diner brings it to the drop-off.
    pub carts: u8,
    /// Whether they sit down and eat.
    pub sits: bool,
    /// Pieces are put down one by one, without a tray.
    pub loose: bool,
    /// How many sit here whose ware is on it: 1, or as many as share the tray; 0: their ware is on somebody else's.
    pub people: u8,
    /// Seconds they waited for a seat.
    pub seat_wait_s: u16,
    /// Where it is when the run begins.
    pub there: There,
    /// Whether a cover begins with it (a later course is none of its own).
    pub begins: bool,
    /// Whether it is the last of its cover.
    pub ends: bool,
    /// Pieces taken, by class.
    pub pieces: [u8; MOST_CLASSES],
}

impl Diner {
    /// Whether anything comes back.
    pub fn brings_ware(&self) -> bool {
        self.pieces != [0; MOST_CLASSES]
    }

    /// Whether anything comes back within the run.
    fn comes_back(&self) -> bool {
        self.brings_ware() && self.comes < SimTime::LAST
    }
}

/// One meal's luck. The storage is used again for the next meal.
#[derive(Clone, Debug, Default)]
pub struct Tape {
    root: Root,
    diners: Vec<Diner>,
    /// Diner numbers in order of being served.
    served: Vec<u32>,
    /// Numbers of the diners who bring something back, in order of coming to the drop-off.
    coming: Vec<u32>,
    /// Numbers of the diners whose ware is already with them or on the line when the run begins.
    there: Vec<u32>,
    samplers: Samplers,
    instants: Vec<SimTime>,
    seats: seats::Seats,
}

#[derive(Clone, Debug, Default)]
struct Samplers {
    find_seat: Sampler,
    eating: Vec<Sampler>,
    patience: Sampler,
    factor: Sampler,
    waste: Sampler,
    /// For each kind: how long what is taken away stays away.
    away: Vec<Sampler>,
    /// For each kind: the minutes after which each course is cleared.
    courses: Vec<Vec<Sampler>>,
}

impl Tape {
    /// An empty tape.
    pub fn new() -> Tape {
        Tape::default()
    }

    /// The root of all luck that belongs to no diner.
    pub fn root(&self) -> Root {
        self.root
    }

    /// All diners, in the order in which they were drawn.
    pub fn diners(&self) -> &[Diner] {
        &self.diners
    }

    /// Diner numbers in order of being served.
    pub fn served(&self) -> &[u32] {
        &self.served
    }

    /// Numbers of the diners who bring something back, in order of coming to the drop-off.
    pub fn coming(&self) -> &[u32] {
        &self.coming
    }

    /// Numbers of the diners whose ware is already with them or on the line when the run begins.
    pub fn there(&self) -> &[u32] {
        &self.there
    }

    /// Draws the meal `repeat` of the study with this seed. Covers served before `from` are kept all the same.
    pub fn draw(&mut self, demand: &Demand, seed: u64, repeat: u64) {
        self.root = Root::new(seed, repeat);
        self.samplers.fit(demand);
        self.diners.clear();
        self.seats.wipe(demand.seats);
        self.draw_those_eating(demand);
        self.draw_instants(demand);
        self.draw_diners(demand);
        self.draw_loads(demand);
        self.put_in_order();
    }

    /// Takes up a meal that was drawn before: these diners, in the order in which they were drawn, and the luck that
    /// belongs to no diner of the meal `repeat` of the study with this seed.
    pub fn take_up(&mut self, seed: u64, repeat: u64, diners: &[Diner]) {
        self.root = Root::new(seed, repeat);
        self.diners.clear();
        self.diners.extend(diners.iter().take(MOST_DINERS));
        self.put_in_order();
    }

    /// Makes the lists of diner numbers; drawn in order, as most are, they need no sorting.
    fn put_in_order(&mut self) {
        self.served.clear();
        self.coming.clear();
        self.there.clear();
        let diners = &self.diners;
        let all = 0..diners.len() as u32;
        let plain = |diner: &Diner| diner.there == There::Comes && diner.comes_back();
        if diners.iter().all(plain) {
            self.served.extend(all.clone());
            self.coming.extend(all);
        } else {
            for (i, diner) in all.zip(diners) {
                if diner.there == There::Comes {
                    self.served.push(i);
                } else {
                    self.there.push(i);
                }
                let lies = !matches!(diner.there, There::Comes | There::Eats);
                if diner.comes_back() && !lies {
                    self.coming.push(i);
                }
            }
        }
        // The numbers themselves are in order already.
        let served = |&i: &u32| diners[i as usize].served;
        if !self.served.is_sorted_by_key(served) {
            self.served.sort_unstable_by_key(|i| (served(i), *i));
        }
        let comes = |&i: &u32| diners[i as usize].comes;
        if !self.coming.is_sorted_by_key(comes) {
            self.coming.sort_unstable_by_key(|i| (comes(i), *i));
        }
    }

    /// The factor on all covers of this day.
    fn day_factor(&self, days: &Days) -> f64 {
        let day = self.root.source("day");
        match days {
            Days::Design(factor) => *factor,
            Days::Vary { cv } if *cv > 0.0 => {
                Sampler::new(&crate::dist::Dist::Lognormal { mean: 1.0, cv: *cv }).draw(day.at(0))
            }
            Days::Vary { .. } => 1.0,
            Days::Past(factors) if factors.is_empty() => 1.0,
            Days::Past(factors) => {
                let pick = (day.uniform(0) * factors.len() as f64) as usize;
                factors[pick.min(factors.len() - 1)]
            }
        }
    }

    /// The instants at which parties are served (without parties: at which covers are).
    fn draw_instants(&mut self, demand: &Demand) {
        self.instants.clear();
        let day = self.day_factor(&demand.days);
        match &demand.covers {
            Covers::Instants(at) | Covers::CameAt(at) => {
                self.instants.extend(at.iter().take(MOST_DINERS))
            }
            Covers::PerInterval {
                edges,
                counts,
                how: How::Poisson,
            } => {
                let scale = day / demand.mean_party();
                let pieces = edges.windows(2).zip(counts).map(|(edge, &count)| {
                    let rate = count * scale / edge[1].since(edge[0]).us().max(1) as f64;
                    Stretch {
                        from: edge[0],
                        to: edge[1],
                        rate_from: rate,
                        rate_to: rate,
                    }
                });
                poisson(pieces, self.root.source("covers"), &mut self.instants);
            }
            Covers::PerInterval {
                edges,
                counts,
                how: How::PoissonLinear,
            } => {
                let scale = day / demand.mean_party() / US_PER_MIN as f64;
                let pieces = edges
                    .windows(2)
                    .zip(counts.windows(2))
                    .map(|(edge, rate)| Stretch {
                        from: edge[0],
                        to: edge[1],
                        rate_from: rate[0] * scale,
                        rate_to: rate[1] * scale,
                    });
                poisson(pieces, self.root.source("covers"), &mut self.instants);
            }
            Covers::PerInterval { edges, counts, how } => {
                let source = self.root.source("covers");
                let mut ordinal = 0;
                for (edge, &count) in edges.windows(2).zip(counts) {
                    let whole = (count * day).round().max(0.0) as u64;
                    let length = edge[1].since(edge[0]).us() as f64;
                    let first = self.instants.len();
                    for k in 0..whole {
                        if self.instants.len() >= MOST_DINERS {
                            return;
                        }
                        let share = match how {
                            How::AtRandom => source.uniform(ordinal),
                            _ => (k as f64 + 0.5) / whole as f64,
                        };
                        ordinal += 1;
                        let at = edge[0] + Span::from_us((share * length) as u64);
                        self.instants.push(at);
                    }
                    self.instants[first..].sort_unstable();
                }
            }
        }
    }

    fn draw_diners(&mut self, demand: &Demand) {
        let size = self.root.source("party/size");
        let counted = matches!(
            demand.covers,
            Covers::PerInterval {
                how: How::Evenly | How::AtRandom,
                ..
            }
        );
        let parties = match demand.covers {
            Covers::Instants(_) | Covers::CameAt(_) => None,
            Covers::PerInterval { .. } => demand.parties.as_ref(),
        };
        let draws = DinerDraws::new(self.root);
        let trays_are_shared = demand.kinds.iter().any(|kind| kind.shared.is_some());
        // Covers drawn so far: the ordinal of the next. A cover of several courses is several entries.
        let mut covers = 0;
        let mut next = 0;
        let mut party = 0;
        while next < self.instants.len() {
            let at = self.instants[next];
            let mut members = parties.map_or(1, |p| pick(&p.shares, size.uniform(party)) + 1);
            if counted {
                // A stated count is a count of covers: a party uses up as many of them as it has members.
                members = members.min(self.instants.len() - next);
                next += members;
            } else {
                next += 1;
            }
            party += 1;
            let apart = parties.map_or(Span::NONE, |p| p.apart);
            let first = covers;
            let party_from = self.diners.len();
            for member in 0..members {
                if self.diners.len() + MOST_COURSES > MOST_DINERS {
                    return;
                }
                let later = Span::from_us(apart.us() * member as u64);
                let law = &self.samplers;
                let ready = draws.sits_down(law, first, at);
                let (diner, seated) = draws.diner(
                    demand,
                    law,
                    (covers, first),
                    (at, ready),
                    later,
                    &mut self.seats,
                );
                let kind = &demand.kinds[usize::from(diner.kind)];
                if kind.courses.is_empty() {
                    self.seats
                        .leave(diner.sits && diner.brings_ware(), diner.comes);
                    self.diners.push(diner);
                } else {
                    let whole = Whole {
                        diner,
                        n: covers,
                        first,
                        seated,
                        later,
                    };
                    let courses = (0..kind.courses.len())
                        .map(|course| draws.course(kind, law, &whole, course));
                    self.diners.extend(courses);
                    let own = &self.diners[self.diners.len() - kind.courses.len()..];
                    let last = own.iter().map(|d| d.comes).max();
                    self.seats
                        .leave(diner.sits && diner.brings_ware(), last.unwrap_or(at));
                }
                covers += 1;
            }
            if trays_are_shared {
                share_trays(&mut self.diners[party_from..], &demand.kinds);
            }
        }
    }
}

impl Demand {
    /// Mean size of a party.
    pub fn mean_party(&self) -> f64 {
        let parties = match self.covers {
            Covers::Instants(_) | Covers::CameAt(_) => None,
            Covers::PerInterval { .. } => self.parties.as_ref(),
        };
        parties.map_or(1.0, |p| {
            p.shares
                .iter()
                .zip(1..)
                .map(|(share, size)| share * f64::from(size))
                .sum()
        })
    }
}

impl Samplers {
    fn fit(&mut self, demand: &Demand) {
        self.find_seat.fit(&demand.find_seat_min);
        self.eating
            .resize_with(demand.eating_min.len(), Sampler::default);
        for (sampler, (_, dist)) in self.eating.iter_mut().zip(&demand.eating_min) {
            sampler.fit(dist);
        }
        if let Some(dist) = &demand.patience_people {
            self.patience.fit(dist);
        }
        self.factor.fit(&demand.work_factor);
        self.waste.fit(&demand.waste_kg);
        self.away.resize_with(demand.kinds.len(), Sampler::default);
        for (sampler, kind) in self.away.iter_mut().zip(&demand.kinds) {
            if let Some(away) = &kind.away {
                sampler.fit(&away.min);
            }
        }
        self.courses.resize_with(demand.kinds.len(), Vec::new);
        for (samplers, kind) in self.courses.iter_mut().zip(&demand.kinds) {
            samplers.resize_with(kind.courses.len(), Sampler::default);
            for (sampler, course) in samplers.iter_mut().zip(&kind.courses) {
                if let Cleared::AfterMin(minutes) = &course.cleared {
                    sampler.fit(minutes);
                }
            }
        }
    }
}

/// The sources of what a diner brings, one stream each.
struct DinerDraws {
    find_seat: Keyed,
    eating: Keyed,
    kind: Keyed,
    pieces: Keyed,
    factor: Keyed,
    waste: Keyed,
    patience: Keyed,
    cleared: Keyed,
    course: Keyed,
    away: Keyed,
    back: Keyed,
    bells: Keyed,
}

/// A cover of several courses before it is taken apart.
struct Whole {
    diner: Diner,
    /// Its ordinal, and that of the party's first member.
    n: u64,
    first: u64,
    seated: SimTime,
    later: Span,
}

impl DinerDraws {
    fn new(root: Root) -> DinerDraws {
        DinerDraws {
            find_seat: root.source("diner/find-seat"),
            eating: root.source("diner/eating"),
            kind: root.source("diner/kind"),
            pieces: root.source("diner/pieces"),
            factor: root.source("diner/work"),
            waste: root.source("diner/waste"),
            patience: root.source("diner/patience"),
            cleared: root.source("course/cleared"),
            course: root.source("course/pieces"),
            away: root.source("diner/away"),
            back: root.source("diner/back"),
            bells: root.source("diner/bell"),
        }
    }

    /// Diner `n`, `later` than the party's first member `first`, who is served at `at` and ready to sit down at `ready`,
    /// and when they sit down.
    fn diner(
        &self,
        demand: &Demand,
        law: &Samplers,
        (n, first): (u64, u64),
        (at, ready): (SimTime, SimTime),
        later: Span,
        seats: &mut seats::Seats,
    ) -> (Diner, SimTime) {
        let kind_no = if demand.kinds.len() > 1 {
            let shares = demand
                .kinds
                .iter()
                .map(|kind| in_force(&kind.share, at).copied().unwrap_or(0.0));
            pick_weighted(shares, self.kind.uniform(n))
        } else {
            0
        };
        let kind = &demand.kinds[kind_no];
        let pieces = pieces(&kind.pieces, self.pieces, n);
        let brings = pieces.iter().any(|&n| n > 0);
        // Who is seen coming back had a seat: when they had to wait for it is not known.
        let came_at = matches!(demand.covers, Covers::CameAt(_));
        let seated = if kind.sits && brings && !came_at {
            seats.take(ready)
        } else {
            ready
        };
        let (served, comes) = match &kind.away {
            Some(away) if self.back.uniform(n) >= away.back_share => (at, SimTime::LAST),
            Some(_) => {
                let law = &law.away[kind_no];
                let minutes = law.value(self.away, n);
                let stays = Span::from_min(minutes);
                if came_at {
                    (SimTime::from_us(at.us().saturating_sub(stays.us())), at)
                } else {
                    (at, at + stays)
                }
            }
            None if !kind.sits => (at, at),
            None if came_at => {
                let stays = self.eats_until(demand, law, first, seated).since(at);
                (SimTime::from_us(at.us().saturating_sub(stays.us())), at)
            }
            None => (at, self.leaves_table(demand, law, first, seated)),
        };
        let diner = Diner {
            served: served + later,
            comes: comes + later,
            factor: law.factor.value(self.factor, n),
            waste_g: grams(&law.waste, self.waste, n),
            patience: match demand.patience_people {
                None => u16::MAX,
                Some(_) => law
                    .patience
                    .draw(self.patience.at(n))
                    .round()
                    .clamp(0.0, 65_534.0) as u16,
            },
            kind: kind_no as u8,
            drop_off: kind.drop_off,
            carts: kind.carts.unwrap_or(NO_CARTS),
            sits: kind.sits,
            loose: kind.loose,
            people: u8::from(kind.sits && brings),
            seat_wait_s: seats::waited_s(ready, seated),
            there: There::Comes,
            begins: true,
            ends: true,
            pieces,
        };
        (diner, seated)
    }

    /// One course of a cover, an entry of its own.
    fn course(&self, kind: &Kind, law: &Samplers, whole: &Whole, course: usize) -> Diner {
        let it = &kind.courses[course];
        let own = |n: u64| n * MOST_COURSES as u64 + course as u64;
        let comes = match &it.cleared {
            // A party's table is cleared together.
            Cleared::AfterMin(_) => {
                let law = &law.courses[usize::from(whole.diner.kind)][course];
                let minutes = law.value(self.cleared, own(whole.first));
                whole.seated + Span::from_min(minutes) + whole.later
            }
            Cleared::Within { from, lasts } => {
                let share = self.cleared.uniform(own(whole.n));
                *from + Span::from_us((share * lasts.us() as f64) as u64)
            }
        };
        Diner {
            comes: comes.max(whole.diner.served),
            begins: course == 0,
            ends: course + 1 == kind.courses.len(),
            // The plate waste of a cover is told with its first course.
            waste_g: if course == 0 { whole.diner.waste_g } else { 0 },
            pieces: pieces(&it.pieces, self.course, own(whole.n)),
            ..whole.diner
        }
    }

    /// When the party whose first member is `first` sits down.
    fn sits_down(&self, law: &Samplers, first: u64, served: SimTime) -> SimTime {
        let seek = law.find_seat.value(self.find_seat, first);
        served + Span::from_min(seek)
    }

    /// When the party whose first member is `first`, seated from then, has eaten.
    fn eats_until(&self, demand: &Demand, law: &Samplers, first: u64, seated: SimTime) -> SimTime {
        let part = demand
            .eating_min
            .partition_point(|(from, _)| *from <= seated)
            .saturating_sub(1);
        let eats = match law.eating.get(part) {
            Some(law) => law.value(self.eating, first),
            None => 0.0,
        };
        seated + Span::from_min(eats)
    }

    /// When the party whose first member is `first`, seated from then, leaves the table.
    fn leaves_table(
        &self,
        demand: &Demand,
        law: &Samplers,
        first: u64,
        seated: SimTime,
    ) -> SimTime {
        let mut leaves = self.eats_until(demand, law, first, seated);
        for (no, bell) in demand.bells.iter().enumerate() {
            if let Some(sooner) = heeds(bell, self.bells.at(first * 64 + no as u64), seated, leaves)
            {
                leaves = sooner;
            }
        }
        leaves
    }
}

/// When somebody seated from `seated` and leaving at `leaves` goes because of this bell, if they do.
fn heeds(bell: &Bell, mut draw: Draw, seated: SimTime, leaves: SimTime) -> Option<SimTime> {
    let opens = SimTime::from_us(bell.at.us().saturating_sub(bell.before.us()));
    let closes = bell.at + bell.after;
    if seated > closes || leaves <= opens {
        return None;
    }
    let share = draw.uniform();
    let width = closes.since(opens).us();
    let goes = opens + Span::from_us((draw.uniform() * width as f64) as u64);
    let long_enough = goes.since(seated) >= bell.seated_at_least && goes >= seated;
    (share < bell.share && long_enough && goes < leaves).then_some(goes)
}

/// Members of a party who share a tray: the first of each group carries what the others leave, and one tray.
fn share_trays(party: &mut [Diner], kinds: &[Kind]) {
    for first in 0..party.len() {
        let kind = party[first].kind;
        let it = &kinds[usize::from(kind)];
        let Some(shared) = it.shared.as_ref().filter(|_| it.courses.is_empty()) else {
            continue;
        };
        if !party[first].brings_ware() {
            continue;
        }
        let tray = usize::from(shared.tray.0);
        let mut people = 1;
        for other in first + 1..party.len() {
            if people >= shared.people {
                break;
            }
            if party[other].kind != kind || !party[other].brings_ware() {
                continue;
            }
            people += 1;
            let theirs = std::mem::replace(&mut party[other].pieces, [0; MOST_CLASSES]);
            let waste = std::mem::take(&mut party[other].waste_g);
            let sitting = std::mem::take(&mut party[other].people);
            let carrier = &mut party[first];
            carrier.waste_g += waste;
            carrier.people = carrier.people.saturating_add(sitting);
            for (class, (sum, n)) in carrier.pieces.iter_mut().zip(theirs).enumerate() {
                if class != tray {
                    *sum = sum.saturating_add(n);
                }
            }
        }
    }
}

/// Pieces by class about these means: a fraction is the whole number below or above. (Not inlined: the compiler would
/// take the array to pieces.)
#[inline(never)]
fn pieces(means: &[f64], source: Keyed, n: u64) -> [u8; MOST_CLASSES] {
    let mut pieces = [0; MOST_CLASSES];
    for (class, (taken, &mean)) in pieces.iter_mut().zip(means).enumerate() {
        let whole = mean as i64;
        let part = mean - whole as f64;
        let more = part > 0.0 && source.uniform(n * MOST_CLASSES as u64 + class as u64) < part;
        *taken = whole.saturating_add(i64::from(more)).clamp(0, 255) as u8;
    }
    pieces
}

/// Plate waste of one diner, whole grams.
fn grams(law: &Sampler, source: Keyed, n: u64) -> u32 {
    let kg = law.value(source, n);
    (kg * 1000.0 + 0.5) as u32
}

/// The entry of a table by clock that holds at `at`: the last that has begun, or the first.
pub(crate) fn in_force<T>(table: &[(SimTime, T)], at: SimTime) -> Option<&T> {
    let begun = table
        .partition_point(|(from, _)| *from <= at)
        .saturating_sub(1);
    table.get(begun).map(|(_, value)| value)
}

fn pick(shares: &[f64], u: f64) -> usize {
    pick_weighted(shares.iter().copied(), u)
}

/// Index of the share in which `u` (of 1) falls; shares are taken relative to their sum.
fn pick_weighted(shares: impl Iterator<Item = f64> + Clone, u: f64) -> usize {
    let total: f64 = shares.clone().sum();
    let mut left = u * total;
    let mut last = 0;
    for (i, share) in shares.enumerate() {
        if share > 0.0 {
            last = i;
            if left < share {
                return i;
            }
            left -= share;
        }
    }
    last
}

/// A stretch of time in which a rate (per microsecond) goes linearly from one value to another.
struct Stretch {
    from: SimTime,
    to: SimTime,
    rate_from: f64,
    rate_to: f64,
}

/// Instants of a Poisson stream, exact: unit exponentials are laid end to end on the integral of the rate, which is
/// then inverted. (A gap drawn in seconds at the rate of a quiet spell would jump over the rush.)
fn poisson(stretches: impl Iterator<Item = Stretch>, source: Keyed, into: &mut Vec<SimTime>) {
    let mut ordinal = 0;
    let mut next = || {
        let unit = -libm::log(1.0 - source.uniform(ordinal));
        ordinal += 1;
        unit
    };
    // Integrated rate still to go until the next instant.
    let mut left = next();
    for stretch in stretches {
        let length = stretch.to.since(stretch.from).us() as f64;
        let area = 0.5 * (stretch.rate_from + stretch.rate_to) * length;
        let mut used = 0.0;
        while left < area - used {
            used += left;
            let r0 = stretch.rate_from;
            let after = if (stretch.rate_to - r0).abs() <= 0.0 {
                used / r0
            } else {
                let slope = (stretch.rate_to - r0) / length;
                2.0 * used / (r0 + (r0 * r0 + 2.0 * slope * used).max(0.0).sqrt())
            };
            let after = after.clamp(0.0, length);
            if into.len() >= MOST_DINERS {
                return;
            }
            into.push(stretch.from + Span::from_us(after as u64));
            left = next();
        }
        left -= area - used;
    }
}
