//! All crews that may be chosen, in order of what they are known to cost.

use scullery_engine::line::{Line, Post, Worker};
use scullery_engine::time::Span;
use scullery_scenario::plan::Plan;
use scullery_scenario::staffing::{Pattern, Role, Staffing, posts_manned};

/// Most crews that are listed at all.
pub const MOST_CREWS: usize = 200_000;

/// One crew: how many people in each slot.
#[derive(Clone, Debug, PartialEq)]
pub struct Crew {
    /// People, one entry a slot of [`Crews::slots`].
    pub counts: Vec<u16>,
    /// People in all.
    pub people: u32,
    /// Paid hours, breaks included.
    pub hours: f64,
    /// What these hours cost: money where a wage is known, else hours.
    pub cost: f64,
}

/// All of them.
#[derive(Clone, Debug)]
pub struct Crews<'a> {
    plan: &'a Plan,
    staffing: &'a Staffing,
    /// Role and pattern of each slot, by number.
    pub slots: Vec<(usize, usize)>,
    /// The crews, cheapest first.
    pub list: Vec<Crew>,
    /// Whether cost is money; else it is hours.
    pub priced: bool,
}

/// The people of a crew and what an hour of each costs.
#[derive(Clone, Debug, PartialEq)]
pub struct People {
    /// In the order in which they are asked.
    pub workers: Vec<Worker>,
    /// Cost of an hour, one entry a worker.
    pub wages: Vec<f64>,
    /// Role of each, by number.
    pub roles: Vec<usize>,
}

impl People {
    /// The same people without the one with this number.
    pub fn without(&self, person: usize) -> People {
        let mut rest = self.clone();
        rest.workers.remove(person);
        rest.wages.remove(person);
        rest.roles.remove(person);
        rest
    }
}

impl<'a> Crews<'a> {
    /// Lists every crew within the bounds that has somebody for each post that is manned now.
    ///
    /// # Errors
    /// When there are more than [`MOST_CREWS`], or none; one sentence.
    pub fn of(plan: &'a Plan, staffing: &'a Staffing) -> Result<Crews<'a>, String> {
        let slots = (staffing.roles.iter().enumerate())
            .flat_map(|(r, role)| role.patterns.iter().map(move |&p| (r, p)))
            .collect();
        let priced = plan.money.wage_per_h.is_some()
            || staffing.roles.iter().any(|r| r.wage_per_h.is_some());
        let mut it = Crews {
            plan,
            staffing,
            slots,
            list: Vec::new(),
            priced,
        };
        let mut counts = vec![0; it.slots.len()];
        it.fill(0, 0, &mut counts)?;
        if it.list.is_empty() {
            return Err(format!(
                "no crew of {} to {} people has somebody for every post; widen the bounds of [staffing]",
                staffing.least_people, staffing.most_people
            ));
        }
        it.list.sort_by(|a, b| {
            let cents = |crew: &Crew| (crew.cost * 1e6).round();
            cents(a)
                .total_cmp(&cents(b))
                .then(b.people.cmp(&a.people))
                .then(a.counts.cmp(&b.counts))
        });
        Ok(it)
    }

    /// Chooses counts for the slots from `slot` on.
    fn fill(&mut self, slot: usize, people: u32, counts: &mut Vec<u16>) -> Result<(), String> {
        let Some(&(role, _)) = self.slots.get(slot) else {
            let enough = people >= self.staffing.least_people.max(1);
            if enough && self.mans_every_post(counts) {
                if self.list.len() == MOST_CREWS {
                    return Err(format!(
                        "there are more than {MOST_CREWS} crews to choose from; narrow the bounds of [staffing]"
                    ));
                }
                self.list.push(self.crew(counts, people));
            }
            return Ok(());
        };
        let in_role = |upto: usize| -> u32 {
            let slots = self.slots[..upto].iter().zip(counts.iter());
            slots
                .filter(|((r, _), _)| *r == role)
                .map(|(_, &n)| u32::from(n))
                .sum()
        };
        let spec = &self.staffing.roles[role];
        let have = in_role(slot);
        let last = self
            .slots
            .get(slot + 1)
            .is_none_or(|(next, _)| *next != role);
        let most = spec
            .most
            .saturating_sub(have)
            .min(self.staffing.most_people.saturating_sub(people));
        let least = if last {
            spec.least.saturating_sub(have)
        } else {
            0
        };
        for n in least..=most {
            counts[slot] = n as u16;
            self.fill(slot + 1, people + n, counts)?;
        }
        counts[slot] = 0;
        Ok(())
    }

    fn mans_every_post(&self, counts: &[u16]) -> bool {
        let mans = |post: &Post| {
            self.slots.iter().zip(counts).any(|((role, _), &n)| {
                let like = &self.staffing.roles[*role].like;
                n > 0
                    && like.iter().any(|&w| {
                        self.plan.line.crew[w]
                            .list
                            .iter()
                            .any(|call| call.post == *post)
                    })
            })
        };
        posts_manned(&self.plan.line).iter().all(mans)
    }

    fn crew(&self, counts: &[u16], people: u32) -> Crew {
        let mut hours = 0.0;
        let mut cost = 0.0;
        for (&(role, pattern), &n) in self.slots.iter().zip(counts) {
            let each = self.staffing.patterns[pattern].hours();
            hours += f64::from(n) * each;
            cost += f64::from(n) * each * self.wage(role);
        }
        Crew {
            counts: counts.to_vec(),
            people,
            hours,
            cost,
        }
    }

    /// Cost of an hour of this role, on-costs included.
    pub fn wage(&self, role: usize) -> f64 {
        let role = &self.staffing.roles[role];
        let wage = role
            .wage_per_h
            .or(self.plan.money.wage_per_h)
            .unwrap_or(1.0);
        wage * (1.0 + self.staffing.contract.on_costs)
    }

    /// The people of a crew, in the order in which they are asked.
    pub fn people(&self, crew: &Crew) -> People {
        let mut all: Vec<((usize, usize), Worker, usize)> = Vec::new();
        let mut taken = vec![0_usize; self.plan.line.crew.len()];
        let mut of_role = vec![0_usize; self.staffing.roles.len()];
        for (&(role, pattern), &n) in self.slots.iter().zip(&crew.counts) {
            for _ in 0..n {
                let spec = &self.staffing.roles[role];
                let pattern = &self.staffing.patterns[pattern];
                let model = self.model(spec, pattern, &taken);
                let copy = taken[model];
                taken[model] += 1;
                of_role[role] += 1;
                let name = self.name(spec, model, copy, of_role[role]);
                let worker = dressed(&self.plan.line, model, pattern, copy, name);
                all.push(((model, copy), worker, role));
            }
        }
        all.sort_by_key(|(order, ..)| *order);
        People {
            wages: all.iter().map(|(.., role)| self.wage(*role)).collect(),
            roles: all.iter().map(|(.., role)| *role).collect(),
            workers: all.into_iter().map(|(_, worker, _)| worker).collect(),
        }
    }

    /// Whom the next person of a role is like: the one copied least often so far, who has these very shifts if any does.
    fn model(&self, role: &Role, pattern: &Pattern, taken: &[usize]) -> usize {
        let own = |w: &&usize| self.plan.line.crew[**w].shifts == pattern.shifts;
        let with: Vec<usize> = role.like.iter().filter(own).copied().collect();
        let from = if with.is_empty() { &role.like } else { &with };
        from.iter().copied().min_by_key(|&w| taken[w]).unwrap_or(0)
    }

    fn name(&self, role: &Role, model: usize, copy: usize, number: usize) -> String {
        let own = &self.plan.line.crew[model].name;
        match (self.staffing.given, copy) {
            (true, _) => format!("{} {number}", role.name.replace('_', " ")),
            (false, 0) => own.clone(),
            (false, copy) => format!("{own}, {}", ordinal(copy + 1)),
        }
    }

    /// The crew in words: `scrapping 2, runner 1`, shifts named where a role has a choice.
    pub fn words(&self, crew: &Crew) -> String {
        let mut parts = Vec::new();
        for (number, role) in self.staffing.roles.iter().enumerate() {
            let here: Vec<(usize, u16)> = (self.slots.iter().zip(&crew.counts))
                .filter(|((r, _), n)| *r == number && **n > 0)
                .map(|((_, p), n)| (*p, *n))
                .collect();
            let people: u16 = here.iter().map(|(_, n)| n).sum();
            if people == 0 {
                continue;
            }
            let mut text = format!("{} {people}", role.name.replace('_', " "));
            if role.patterns.len() > 1 {
                let each = here
                    .iter()
                    .map(|(p, n)| format!("{n} {}", self.staffing.patterns[*p].name));
                text.push_str(&format!(" ({})", each.collect::<Vec<_>>().join(", ")));
            }
            parts.push(text);
        }
        parts.join("; ")
    }

    /// Number of the crew that does the same as the crew as it is; `None` when none of them does.
    pub fn present(&self) -> Option<usize> {
        let now = likenesses(&self.plan.line.crew);
        self.list.iter().position(|crew| {
            crew.people as usize == now.len() && likenesses(&self.people(crew).workers) == now
        })
    }

    /// Whether crew `a` has in every slot at most as many people as crew `b`.
    pub fn within(&self, a: usize, b: usize) -> bool {
        let pairs = self.list[a].counts.iter().zip(&self.list[b].counts);
        pairs.into_iter().all(|(a, b)| a <= b)
    }
}

/// What makes two people the same, names left out; sorted.
fn likenesses(crew: &[Worker]) -> Vec<String> {
    let mut all: Vec<String> = crew
        .iter()
        .map(|w| {
            format!(
                "{:?} {:?} {:?} {} {}",
                w.shifts, w.breaks, w.list, w.pace, w.unfilled
            )
        })
        .collect();
    all.sort_unstable();
    all
}

/// A copy of a member of the crew on these shifts. A second copy has its breaks one break later, so that not all are away
/// at once, as long as they still lie within the shift.
fn dressed(line: &Line, model: usize, pattern: &Pattern, copy: usize, name: String) -> Worker {
    let own = &line.crew[model];
    let within = |at| {
        pattern
            .shifts
            .iter()
            .any(|&(from, to)| at >= from && at < to)
    };
    let breaks = pattern.breaks.as_ref().unwrap_or(&own.breaks);
    let mut breaks: Vec<_> = breaks
        .iter()
        .map(|&(due, lasts)| {
            let later = due + Span::from_us(lasts.us() * copy as u64);
            (if within(later) { later } else { due }, lasts)
        })
        .filter(|(due, _)| within(*due))
        .collect();
    breaks.sort_by_key(|(due, _)| *due);
    breaks.dedup_by_key(|(due, _)| *due);
    Worker {
        name,
        shifts: pattern.shifts.clone(),
        breaks,
        ..own.clone()
    }
}

fn ordinal(n: usize) -> String {
    match n {
        2 => "second".into(),
        3 => "third".into(),
        4 => "fourth".into(),
        n => format!("number {n}"),
    }
}
