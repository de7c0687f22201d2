//! The smallest crew that holds: search, then what a planner asks next of what was found.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_engine::ended::Fault;
use scullery_scenario::plan::Plan;

use super::crews::{Crew, Crews, People};
use super::found::{About, CrewStudy, Row, Searched, TriedRow};
use super::lunches::{Arrangement, Arrangements, asked};
use super::roster::{RosterRules, roster};
use super::rows::{Shown, look, row};
use crate::deciding::cheapest::Cheapest;
use crate::search::{Asked, Fate, Found, Kitchen, Lunch, Rules, SoFar, Tried, search};

/// How a crew is searched.
#[derive(Clone, Debug)]
pub struct CrewSearch {
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
    /// Chance that the promise is broken.
    pub alpha: f64,
    /// Share of lunches within which either answer is right.
    pub indifference: f64,
    /// Lunches after which a crew is left as not sure.
    pub most_lunches: u64,
    /// Lunches behind each figure that is shown.
    pub shown_lunches: u64,
    /// Whether the crew that holds with one missing is looked for too.
    pub one_missing: bool,
    /// Whether a roster is made.
    pub roster: bool,
}

/// Why there is no answer.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// It cannot be asked so; one sentence.
    Wrong(String),
    /// A run went wrong.
    Fault(Fault),
}

impl From<Fault> for Trouble {
    fn from(fault: Fault) -> Trouble {
        Trouble::Fault(fault)
    }
}

/// What is being done, and how far it has come.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// What is being done, in plain words.
    pub what: &'static str,
    /// Parts of it done, of so many.
    pub done: u64,
    /// Parts in all.
    pub of: u64,
    /// Lunches run so far in this part.
    pub lunches: u64,
}

/// Told how far it has come.
pub type Progress<'a> = &'a (dyn Fn(Step) + Sync);

/// Most rows of the table of crews that are shown.
const MOST_ROWS: usize = 20;
/// Most one-missing crews tried.
const MOST_ROBUST: usize = 2_000;

/// Finds the cheapest crew that meets every target, and what is asked next.
///
/// # Errors
/// [`Trouble`].
pub fn cheapest_crew(
    plan: &Plan,
    how: &CrewSearch,
    progress: Progress<'_>,
    stop: &AtomicBool,
) -> Result<CrewStudy, Trouble> {
    if plan
        .targets
        .iter()
        .any(|t| t.measure.starts_with("worker."))
    {
        let words = "a target speaks of one person by name, so it cannot be asked of other crews; \
                     ask it of the whole crew, for example with `crew.busy_share`";
        return Err(Trouble::Wrong(words.into()));
    }
    let asked = asked(plan, how.indifference).map_err(Trouble::Wrong)?;
    let crews = Crews::of(plan, &plan.staffing).map_err(Trouble::Wrong)?;
    in_pool(how.threads, || {
        Quest {
            plan,
            how,
            crews: &crews,
            asked,
            progress,
            stop,
        }
        .answer()
    })
}

/// Runs on so many threads.
pub(crate) fn in_pool<T: Send>(threads: usize, work: impl FnOnce() -> T + Send) -> T {
    match rayon::ThreadPoolBuilder::new().num_threads(threads).build() {
        Ok(pool) => pool.install(work),
        Err(_) => work(),
    }
}

struct Quest<'a> {
    plan: &'a Plan,
    how: &'a CrewSearch,
    crews: &'a Crews<'a>,
    asked: Vec<Asked>,
    progress: Progress<'a>,
    stop: &'a AtomicBool,
}

/// A plan with these people.
pub(crate) fn with_people(plan: &Plan, people: &People) -> Arrangement {
    let mut plan = plan.clone();
    plan.line.crew.clone_from(&people.workers);
    Arrangement {
        plan,
        wages: people.wages.clone(),
    }
}

impl Quest<'_> {
    fn rules(&self) -> Rules {
        Rules {
            asked: self.asked.clone(),
            alpha: self.how.alpha,
            most_lunches: self.how.most_lunches,
            extra_cost_counts: true,
        }
    }

    fn people(&self, crew: usize) -> People {
        self.crews.people(&self.crews.list[crew])
    }

    fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    fn answer(&self) -> Result<CrewStudy, Trouble> {
        let arrange = |crew: usize| with_people(self.plan, &self.people(crew));
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: self.how.seed,
        };
        let cost: Vec<f64> = self.crews.list.iter().map(|crew| crew.cost).collect();
        let step = |so_far: SoFar| {
            (self.progress)(Step {
                what: "crews",
                done: so_far.done as u64,
                of: so_far.of as u64,
                lunches: so_far.lunches,
            });
        };
        let less = |a: usize, b: usize| self.crews.within(a, b);
        let mut found = search(&kitchen, &cost, &self.rules(), &less, &step, self.stop)?;
        let alike = self.cheapest_of(&kitchen, &mut found)?;
        let mut study = CrewStudy {
            about: about(self.plan, self.how.seed),
            searched: self.searched(&found),
            tried: found
                .tried
                .iter()
                .map(|tried| self.tried_row(tried))
                .collect(),
            ..CrewStudy::default()
        };
        study.rows = self.rows(&kitchen, &found, &alike, &mut study.searched)?;
        if let Some(winner) = found.winner {
            study.one_missing = self.one_missing(winner, &mut study.searched)?;
            if self.how.one_missing && !self.stopped() {
                self.robust(winner, &mut study)?;
            }
            if self.how.roster && !self.stopped() {
                self.roster(winner, &mut study)?;
            }
        }
        study.searched.stopped |= self.stopped();
        study.answer = super::words::crew_answer(&study);
        Ok(study)
    }

    /// The roster of the chosen crew.
    fn roster(&self, winner: usize, study: &mut CrewStudy) -> Result<(), Trouble> {
        let how = RosterRules {
            rules: self.rules(),
            seed: self.how.seed,
            lunches: self.how.shown_lunches,
        };
        let (made, ran) = roster(self.plan, self.crews, &self.people(winner), &how, self.stop)?;
        study.searched.lunches += ran.lunches;
        study.searched.lunches_to_show += ran.shown;
        match made {
            Ok(it) => study.roster = Some(it),
            Err(why) => study.notices.push(format!("There is no roster: {why}.")),
        }
        Ok(())
    }

    /// Among several accepted, the one whose cost, minutes past the shift included, is the least; names the others that
    /// were not told apart from it.
    fn cheapest_of(
        &self,
        kitchen: &impl Kitchen<Fault = Fault>,
        found: &mut Found,
    ) -> Result<Vec<usize>, Trouble> {
        let survivors = found.accepted.clone();
        let Some(&first) = survivors.first() else {
            return Ok(Vec::new());
        };
        let tried = |crew: usize| found.tried.iter().find(|t| t.candidate == crew);
        let mut extra: Vec<Vec<f64>> = survivors
            .iter()
            .map(|&c| tried(c).map_or(Vec::new(), |t| t.extra.clone()))
            .collect();
        let known = |i: usize| self.crews.list[survivors[i]].cost;
        if survivors.len() < 2 || extra.iter().flatten().all(|&x| x <= 0.0) {
            // Of those that cost the same the first is named; the others are as good.
            let same =
                |&&c: &&usize| c != first && (self.crews.list[c].cost - known(0)).abs() < 1e-6;
            return Ok(survivors.iter().filter(same).copied().collect());
        }
        let mut race = Cheapest::new(
            survivors.len(),
            0.01 * known(0).max(1e-9),
            self.how.alpha / 2.0,
        );
        for lunch in 0..self.how.most_lunches as usize {
            if race.winner().is_some() || self.stopped() {
                break;
            }
            for (i, extra) in extra.iter_mut().enumerate() {
                if extra.len() <= lunch && race.within()[i] {
                    let from = extra.len() as u64 + 1;
                    let more = kitchen.lunches(survivors[i], from..from + 16)?;
                    found.lunches += more.len() as u64;
                    extra.extend(more.iter().map(|l: &Lunch| l.extra_cost));
                }
            }
            let costs: Vec<f64> = (0..survivors.len())
                .map(|i| known(i) + extra[i].get(lunch).copied().unwrap_or(0.0))
                .collect();
            race.see(&costs);
        }
        let within: Vec<usize> = (0..survivors.len()).filter(|&i| race.within()[i]).collect();
        let mean = |i: usize| known(i) + crate::intervals::mean(&extra[i]).unwrap_or(0.0);
        let best = within
            .iter()
            .copied()
            .min_by(|&a, &b| mean(a).total_cmp(&mean(b)));
        found.winner = best.map(|i| survivors[i]);
        Ok(within
            .into_iter()
            .filter(|i| Some(*i) != best)
            .map(|i| survivors[i])
            .collect())
    }

    fn searched(&self, found: &Found) -> Searched {
        let staffing = self.crews_bounds();
        Searched {
            choices: self.crews.list.len(),
            lunches: found.lunches,
            lunches_to_show: 0,
            stopped: found.stopped,
            promised: found.promised && !found.stopped,
            promise: super::words::promise(found, self.how.alpha, self.how.indifference, "crew"),
            bounds: staffing,
        }
    }

    fn crews_bounds(&self) -> String {
        let staffing = &self.plan.staffing;
        let roles: Vec<String> = staffing
            .roles
            .iter()
            .map(|role| {
                format!(
                    "{} {} to {}",
                    role.name.replace('_', " "),
                    role.least,
                    role.most
                )
            })
            .collect();
        let from = match staffing.given {
            true => "Bounds from [staffing] in the scenario",
            false => {
                "The scenario has no [staffing] section, so the bounds are derived from the crew as it is (people with \
                      one list of posts are a role, each role from none to one more than now, the shifts they have now)"
            }
        };
        format!(
            "{from}: {}; {} to {} people in all; {} crews that man every post.",
            roles.join(", "),
            staffing.least_people,
            staffing.most_people,
            self.crews.list.len()
        )
    }

    fn tried_row(&self, tried: &Tried) -> TriedRow {
        let crew = &self.crews.list[tried.candidate];
        TriedRow {
            words: self.crews.words(crew),
            people: crew.people,
            hours: crew.hours,
            cost: crew.cost,
            fate: super::words::fate(tried.fate).to_owned(),
            failed: match tried.fate {
                Fate::Fails(target) => self.plan.targets.get(target).map(|t| t.words.clone()),
                _ => None,
            },
            lunches: tried.lunches(),
            all_held: tried.all_held,
        }
    }

    /// The crews that are shown, each with its marks, cheapest first.
    fn rows(
        &self,
        kitchen: &impl Kitchen<Fault = Fault>,
        found: &Found,
        alike: &[usize],
        searched: &mut Searched,
    ) -> Result<Vec<Row>, Trouble> {
        let present = self.crews.present();
        let mut marks: Vec<(usize, &str)> = Vec::new();
        marks.extend(found.winner.map(|c| (c, "chosen")));
        marks.extend(present.map(|c| (c, "now")));
        marks.extend(alike.iter().map(|&c| (c, "not told apart")));
        let bar = found
            .winner
            .map_or(f64::INFINITY, |c| self.crews.list[c].cost);
        let unsure = found
            .tried
            .iter()
            .filter(|t| t.fate == Fate::NotSure && self.crews.list[t.candidate].cost <= bar);
        marks.extend(unsure.map(|t| (t.candidate, "not told apart")));
        let mut shown: Vec<usize> = marks.iter().map(|(c, _)| *c).collect();
        shown.extend(self.frontier(found));
        shown.sort_unstable();
        shown.dedup();
        self.thin(&mut shown, &marks);
        let mut rows: Vec<(usize, Row)> = Vec::new();
        for (done, &crew) in shown.iter().enumerate() {
            if self.stopped() && !rows.is_empty() {
                break;
            }
            (self.progress)(Step {
                what: "crews that are shown",
                done: done as u64,
                of: shown.len() as u64,
                lunches: searched.lunches_to_show,
            });
            let tried = found.tried.iter().find(|t| t.candidate == crew);
            let seen = look(
                kitchen,
                crew,
                tried,
                self.how.shown_lunches,
                self.asked.len(),
            )?;
            searched.lunches_to_show += seen.fresh;
            let mut row = self.crew_row(crew, &seen);
            row.marks = marks
                .iter()
                .filter(|(c, _)| *c == crew)
                .map(|(_, m)| (*m).to_owned())
                .collect();
            rows.push((crew, row));
        }
        mark_frontier(&mut rows);
        if present.is_none() {
            rows.push((usize::MAX, self.present_row(searched)?));
        }
        rows.sort_by(|(_, a), (_, b)| a.cost.total_cmp(&b.cost));
        Ok(rows.into_iter().map(|(_, row)| row).collect())
    }

    /// The crew as it is, where it is none of those listed.
    fn present_row(&self, searched: &mut Searched) -> Result<Row, Trouble> {
        let wage = self.plan.money.wage_per_h.unwrap_or(1.0);
        let crew = &self.plan.line.crew;
        let own = |_: usize| Arrangement {
            plan: self.plan.clone(),
            wages: vec![wage; crew.len()],
        };
        let kitchen = Arrangements {
            arrange: &own,
            seed: self.how.seed,
        };
        let seen = look(&kitchen, 0, None, self.how.shown_lunches, self.asked.len())?;
        searched.lunches_to_show += seen.fresh;
        let spans = crew.iter().flat_map(|w| &w.shifts);
        let hours: f64 = spans.map(|(from, to)| to.since(*from).s()).sum::<f64>() / 3600.0;
        let mut row = row(self.plan, &self.asked, &seen);
        row.words = "the crew as it is".into();
        row.people = crew.len() as u32;
        row.hours = hours;
        row.cost = hours * wage;
        row.marks = vec!["now".into()];
        Ok(row)
    }

    fn crew_row(&self, number: usize, seen: &Shown) -> Row {
        let crew: &Crew = &self.crews.list[number];
        let mut row = row(self.plan, &self.asked, seen);
        row.words = self.crews.words(crew);
        row.people = crew.people;
        row.hours = crew.hours;
        row.cost = crew.cost;
        row
    }

    /// Crews on the way from few hours to many: at each number of hours the one that did best in the lunches it had, and
    /// some that cost more than the chosen one.
    fn frontier(&self, found: &Found) -> Vec<usize> {
        let mut best: Vec<(i64, f64, usize)> = Vec::new();
        for tried in &found.tried {
            let hours = (self.crews.list[tried.candidate].hours * 100.0).round() as i64;
            let share = tried.all_held as f64 / tried.lunches().max(1) as f64;
            match best.iter_mut().find(|(h, ..)| *h == hours) {
                Some(it) if share > it.1 => *it = (hours, share, tried.candidate),
                Some(_) => {}
                None => best.push((hours, share, tried.candidate)),
            }
        }
        let mut shown: Vec<usize> = best.into_iter().map(|(.., c)| c).collect();
        if let Some(winner) = found.winner {
            let costs = |c: usize| self.crews.list[c].cost;
            let mut last = costs(winner);
            let dearer = (winner..self.crews.list.len()).filter(|&c| {
                let more = costs(c) > last + 1e-6;
                if more {
                    last = costs(c);
                }
                more
            });
            shown.extend(dearer.take(3));
        }
        shown
    }

    /// At most [`MOST_ROWS`]: those with a mark stay, the others are thinned out evenly, cheapest first to go.
    fn thin(&self, shown: &mut Vec<usize>, marks: &[(usize, &str)]) {
        let marked = |c: &usize| marks.iter().any(|(m, _)| m == c);
        while shown.len() > MOST_ROWS {
            match shown.iter().position(|c| !marked(c)) {
                Some(at) => shown.remove(at),
                None => shown.remove(shown.len() - 1),
            };
        }
    }

    /// The chosen crew with each one person missing.
    fn one_missing(&self, winner: usize, searched: &mut Searched) -> Result<Vec<Row>, Trouble> {
        let people = self.people(winner);
        if people.workers.len() < 2 {
            return Ok(Vec::new());
        }
        let arrange = |person: usize| with_people(self.plan, &people.without(person));
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: self.how.seed,
        };
        let mut rows = Vec::new();
        for (person, worker) in people.workers.iter().enumerate() {
            if self.stopped() {
                break;
            }
            let seen = look(
                &kitchen,
                person,
                None,
                self.how.shown_lunches,
                self.asked.len(),
            )?;
            searched.lunches_to_show += seen.fresh;
            let mut row = row(self.plan, &self.asked, &seen);
            row.words = format!("without {}", worker.name);
            row.people = people.workers.len() as u32 - 1;
            rows.push(row);
        }
        Ok(rows)
    }

    /// The cheapest crew, from the chosen one on, that holds whoever is missing.
    fn robust(&self, winner: usize, study: &mut CrewStudy) -> Result<(), Trouble> {
        let list: Vec<usize> = (winner..self.crews.list.len()).take(MOST_ROBUST).collect();
        let cost: Vec<f64> = list.iter().map(|&c| self.crews.list[c].cost).collect();
        let most = list
            .iter()
            .map(|&c| self.crews.list[c].people as usize)
            .max()
            .unwrap_or(1);
        let kitchen = OneMissing {
            quest: self,
            list: &list,
        };
        let rules = Rules {
            asked: (0..most).flat_map(|_| self.asked.clone()).collect(),
            extra_cost_counts: false,
            ..self.rules()
        };
        let step = |so_far: SoFar| {
            (self.progress)(Step {
                what: "crews with one missing",
                done: so_far.done as u64,
                of: so_far.of as u64,
                lunches: so_far.lunches,
            });
        };
        let found = search(&kitchen, &cost, &rules, &|_, _| false, &step, self.stop)?;
        study.searched.lunches += found.lunches;
        let Some(crew) = found.winner.map(|at| list[at]) else {
            if !found.stopped {
                study.notices.push(format!(
                    "None of the {} crews from the chosen one on was shown to hold whoever is missing.",
                    list.len()
                ));
            }
            return Ok(());
        };
        let words = self.crews.words(&self.crews.list[crew]);
        let mark = "holds with one missing";
        if let Some(row) = study.rows.iter_mut().find(|row| row.words == words) {
            row.marks.push(mark.into());
            return Ok(());
        }
        let arrange = |crew: usize| with_people(self.plan, &self.people(crew));
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: self.how.seed,
        };
        let seen = look(
            &kitchen,
            crew,
            None,
            self.how.shown_lunches,
            self.asked.len(),
        )?;
        study.searched.lunches_to_show += seen.fresh;
        let mut row = self.crew_row(crew, &seen);
        row.marks = vec![mark.into()];
        let at = study
            .rows
            .iter()
            .position(|r| r.cost > row.cost)
            .unwrap_or(study.rows.len());
        study.rows.insert(at, row);
        Ok(())
    }
}

/// Lunches of a crew with each of its people missing in turn: one lunch here is one meal for each of them.
struct OneMissing<'a> {
    quest: &'a Quest<'a>,
    list: &'a [usize],
}

impl Kitchen for OneMissing<'_> {
    type Fault = Fault;

    fn lunches(&self, candidate: usize, which: std::ops::Range<u64>) -> Result<Vec<Lunch>, Fault> {
        let people = self.quest.people(self.list[candidate]);
        let arrange = |person: usize| with_people(self.quest.plan, &people.without(person));
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: self.quest.how.seed,
        };
        let mut all: Vec<Lunch> = Vec::new();
        for person in 0..people.workers.len() {
            let lunches = kitchen.lunches(person, which.clone())?;
            if all.is_empty() {
                all = lunches;
            } else {
                all.iter_mut()
                    .zip(lunches)
                    .for_each(|(all, lunch)| all.targets.extend(lunch.targets));
            }
        }
        Ok(all)
    }

    fn asks(&self, candidate: usize, _: usize) -> usize {
        let people = self.quest.crews.list[self.list[candidate]].people as usize;
        people * self.quest.asked.len()
    }
}

/// Marks those that no other shown crew beats: more service for no more hours.
fn mark_frontier(rows: &mut [(usize, Row)]) {
    let points: Vec<(f64, f64)> = rows
        .iter()
        .map(|(_, row)| (row.hours, row.service()))
        .collect();
    for (i, (_, row)) in rows.iter_mut().enumerate() {
        let (hours, service) = points[i];
        let beaten = points.iter().enumerate().any(|(j, &(h, s))| {
            h <= hours && s >= service && (h < hours || s > service || j < i) && j != i
        });
        if !beaten {
            row.marks.push("frontier".into());
        }
    }
}

/// Who and what a study of this plan speaks of.
pub(crate) fn about(plan: &Plan, seed: u64) -> About {
    About {
        name: plan.heading.name.clone(),
        note: plan.heading.note.clone(),
        currency: match plan.money.wage_per_h {
            Some(_) => plan.heading.currency.clone(),
            None => String::new(),
        },
        day_words: plan.heading.day_words.clone(),
        hash: plan.hash.clone(),
        seed,
        targets: plan.targets.iter().map(|t| t.words.clone()).collect(),
        ..About::default()
    }
}
