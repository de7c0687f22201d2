//! The smallest size that holds for a given crew, and what a larger size would save in people.

use std::sync::atomic::{AtomicBool, Ordering};

use scullery_scenario::Document;
use scullery_scenario::change::Change;
use scullery_scenario::plan::Plan;
use scullery_scenario::staffing::Size;

use super::cheapest_crew::{Progress, Step, Trouble, about, in_pool};
use super::found::{Row, Searched, SizeStudy, Trade, TriedRow};
use super::lunches::{Arrangement, Arrangements, asked};
use super::rows::{look, row};
use super::words;
use crate::bottleneck::why::holds_back;
use crate::search::{Asked, Fate, Found, Rules, SoFar, search};

/// How a size is searched.
#[derive(Clone, Debug)]
pub struct SizeSearch {
    /// Seed of the study.
    pub seed: u64,
    /// Threads; 0: as many as the machine has.
    pub threads: usize,
    /// Chance that the promise is broken.
    pub alpha: f64,
    /// Share of lunches within which either answer is right.
    pub indifference: f64,
    /// Lunches after which a size is left as not sure.
    pub most_lunches: u64,
    /// Lunches behind each figure that is shown.
    pub shown_lunches: u64,
    /// Whether crews with one person more and one fewer are tried too.
    pub trade: bool,
}

/// Most sizes that are listed.
const MOST_OPTIONS: usize = 200;

/// Finds the smallest of the listed sizes with which the crew as it is meets every target.
///
/// Sizes are asked in the order in which they are listed, smallest first; that a larger one is no worse is not assumed.
///
/// # Errors
/// [`Trouble`].
pub fn least_size(
    document: &Document,
    size: &Size,
    how: &SizeSearch,
    progress: Progress<'_>,
    stop: &AtomicBool,
) -> Result<SizeStudy, Trouble> {
    let plan = document.plan().map_err(Trouble::Wrong)?;
    let asked = asked(&plan, how.indifference).map_err(Trouble::Wrong)?;
    if size.options.is_empty() || size.options.len() > MOST_OPTIONS {
        return Err(Trouble::Wrong(format!(
            "there are {} sizes to choose from; list 1 to {MOST_OPTIONS}",
            size.options.len()
        )));
    }
    let mut choices = Vec::new();
    let mut notices = Vec::new();
    for option in &size.options {
        let changes: Result<Vec<Change>, String> =
            option.changes.iter().map(|c| Change::parse(c)).collect();
        match changes.and_then(|changes| document.changed(&changes)) {
            Ok(plan) => choices.push(Choice {
                name: option.name.clone(),
                price: option.price,
                plan,
            }),
            Err(why) => notices.push(format!(
                "{} {} cannot be: {}",
                size.words,
                option.name,
                why.lines().next().unwrap_or_default()
            )),
        }
    }
    if choices.is_empty() {
        return Err(Trouble::Wrong(format!(
            "no size of {} can be: {}",
            size.words,
            notices.join("; ")
        )));
    }
    in_pool(how.threads, || {
        Quest {
            plan: &plan,
            size,
            how,
            asked,
            choices,
            progress,
            stop,
        }
        .answer(notices)
    })
}

/// A size that can be.
struct Choice {
    name: String,
    price: Option<f64>,
    plan: Plan,
}

struct Quest<'a> {
    plan: &'a Plan,
    size: &'a Size,
    how: &'a SizeSearch,
    asked: Vec<Asked>,
    choices: Vec<Choice>,
    progress: Progress<'a>,
    stop: &'a AtomicBool,
}

/// A crew besides the one as it is.
struct Variant {
    words: String,
    /// Numbers in the crew as it is; one that stands twice is a second person like the first.
    people: Vec<usize>,
}

impl Quest<'_> {
    /// A size with a crew made of these members of the present one.
    fn arrangement(&self, choice: usize, people: &[usize]) -> Arrangement {
        let mut plan = self.choices[choice].plan.clone();
        let crew = &plan.line.crew;
        let mut people: Vec<_> = people
            .iter()
            .filter_map(|&w| crew.get(w).cloned())
            .collect();
        for w in 1..people.len() {
            if people[..w].iter().any(|other| other.name == people[w].name) {
                people[w].name.push_str(", second");
            }
        }
        plan.line.crew = people;
        let wages = vec![plan.money.wage_per_h.unwrap_or(1.0); plan.line.crew.len()];
        Arrangement { plan, wages }
    }

    fn find(&self, people: &[usize], what: &'static str) -> Result<Found, Trouble> {
        let arrange = |choice: usize| self.arrangement(choice, people);
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: self.how.seed,
        };
        let order: Vec<f64> = (0..self.choices.len()).map(|n| n as f64).collect();
        let rules = Rules {
            asked: self.asked.clone(),
            alpha: self.how.alpha,
            most_lunches: self.how.most_lunches,
            extra_cost_counts: false,
        };
        let step = |so_far: SoFar| {
            (self.progress)(Step {
                what,
                done: so_far.done as u64,
                of: so_far.of as u64,
                lunches: so_far.lunches,
            });
        };
        Ok(search(
            &kitchen,
            &order,
            &rules,
            &|_, _| false,
            &step,
            self.stop,
        )?)
    }

    fn answer(&self, notices: Vec<String>) -> Result<SizeStudy, Trouble> {
        let now: Vec<usize> = (0..self.plan.line.crew.len()).collect();
        let found = self.find(&now, "sizes")?;
        let mut study = SizeStudy {
            what: self.size.words.clone(),
            about: about(self.plan, self.how.seed),
            searched: Searched {
                choices: self.choices.len(),
                lunches: found.lunches,
                lunches_to_show: 0,
                stopped: found.stopped,
                promised: found.promised && !found.stopped,
                promise: words::promise(&found, self.how.alpha, self.how.indifference, "size"),
                bounds: format!(
                    "{} sizes, in the order in which they are listed: {}.",
                    self.choices.len(),
                    self.choices
                        .iter()
                        .map(|c| c.name.as_str())
                        .collect::<Vec<_>>()
                        .join(", ")
                ),
            },
            notices,
            ..SizeStudy::default()
        };
        study.tried = found
            .tried
            .iter()
            .map(|t| self.tried_row(t.candidate, t))
            .collect();
        study.rows = self.rows(&now, &found, &mut study.searched)?;
        if let (None, Some(largest), false) = (found.winner, self.choices.last(), self.stopped()) {
            study.binds = holds_back(&largest.plan, self.how.seed, self.how.shown_lunches.min(50))?;
        }
        if self.how.trade && !self.stopped() {
            study.trades = self.trades(&found, &mut study.searched)?;
        }
        study.searched.stopped |= self.stopped();
        study.answer = words::size_answer(&study);
        Ok(study)
    }

    fn stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    fn tried_row(&self, choice: usize, tried: &crate::search::Tried) -> TriedRow {
        TriedRow {
            words: self.choices[choice].name.clone(),
            people: 0,
            hours: 0.0,
            cost: self.choices[choice].price.unwrap_or(0.0),
            fate: words::fate(tried.fate).to_owned(),
            failed: match tried.fate {
                Fate::Fails(target) => self.plan.targets.get(target).map(|t| t.words.clone()),
                _ => None,
            },
            lunches: tried.lunches(),
            all_held: tried.all_held,
        }
    }

    fn rows(
        &self,
        now: &[usize],
        found: &Found,
        searched: &mut Searched,
    ) -> Result<Vec<Row>, Trouble> {
        let arrange = |choice: usize| self.arrangement(choice, now);
        let kitchen = Arrangements {
            arrange: &arrange,
            seed: self.how.seed,
        };
        let mut rows = Vec::new();
        for (number, choice) in self.choices.iter().enumerate() {
            if self.stopped() {
                break;
            }
            (self.progress)(Step {
                what: "sizes that are shown",
                done: number as u64,
                of: self.choices.len() as u64,
                lunches: searched.lunches_to_show,
            });
            let tried = found.tried.iter().find(|t| t.candidate == number);
            let seen = look(
                &kitchen,
                number,
                tried,
                self.how.shown_lunches,
                self.asked.len(),
            )?;
            searched.lunches_to_show += seen.fresh;
            let mut row = row(self.plan, &self.asked, &seen);
            row.words = choice.name.clone();
            row.cost = choice.price.unwrap_or(0.0);
            if found.winner == Some(number) {
                row.marks.push("chosen".into());
            }
            if self.is_now(choice) {
                row.marks.push("now".into());
            }
            rows.push(row);
        }
        Ok(rows)
    }

    /// Whether this size is the one the scenario has.
    fn is_now(&self, choice: &Choice) -> bool {
        choice.plan.line == self.plan.line
            && choice.plan.utilities.len() == self.plan.utilities.len()
    }

    /// The smallest size for crews with one person fewer, as they are, and with one more.
    fn trades(&self, as_it_is: &Found, searched: &mut Searched) -> Result<Vec<Trade>, Trouble> {
        let mut trades = Vec::new();
        for (number, variant) in self.variants().iter().enumerate() {
            if self.stopped() {
                break;
            }
            let winner = match number {
                0 => as_it_is.winner,
                _ => {
                    let found = self.find(&variant.people, "sizes for another crew")?;
                    searched.lunches += found.lunches;
                    found.winner
                }
            };
            trades.push(self.trade(variant, winner));
        }
        Ok(trades)
    }

    fn trade(&self, variant: &Variant, winner: Option<usize>) -> Trade {
        let crew = &self.plan.line.crew;
        let spans = variant.people.iter().flat_map(|&w| &crew[w].shifts);
        let hours = spans.map(|(from, to)| to.since(*from).s()).sum::<f64>() / 3600.0;
        let labour_a_year = self
            .plan
            .money
            .wage_per_h
            .map(|wage| wage * hours * self.plan.heading.days_a_year);
        let price = winner.and_then(|choice| self.choices[choice].price);
        let size_a_year = match (price, self.size.life_years) {
            (Some(price), Some(years)) => Some(price / years),
            _ => None,
        };
        Trade {
            crew: variant.words.clone(),
            people: variant.people.len() as u32,
            hours,
            size: winner.map(|choice| self.choices[choice].name.clone()),
            price,
            labour_a_year,
            size_a_year,
            total_a_year: winner.and_then(|_| Some(labour_a_year? + size_a_year?)),
        }
    }

    /// The crew as it is; without one of each role; with one more of each role.
    fn variants(&self) -> Vec<Variant> {
        let crew = &self.plan.line.crew;
        let all: Vec<usize> = (0..crew.len()).collect();
        let mut variants = vec![Variant {
            words: "the crew as it is".into(),
            people: all.clone(),
        }];
        let firsts: Vec<usize> = (0..crew.len())
            .filter(|&w| {
                !crew[..w]
                    .iter()
                    .any(|other| other.list == crew[w].list && other.shifts == crew[w].shifts)
            })
            .collect();
        for &w in &firsts {
            let rest: Vec<usize> = all.iter().copied().filter(|&other| other != w).collect();
            if mans_the_posts(self.plan, &rest) {
                variants.push(Variant {
                    words: format!("without {}", crew[w].name),
                    people: rest,
                });
            }
        }
        for &w in &firsts {
            let mut more = all.clone();
            more.insert(w + 1, w);
            variants.push(Variant {
                words: format!("one more like {}", crew[w].name),
                people: more,
            });
        }
        variants
    }
}

/// Whether these members of the crew can be at every post that is manned now.
fn mans_the_posts(plan: &Plan, people: &[usize]) -> bool {
    let posts = scullery_scenario::staffing::posts_manned(&plan.line);
    let lists = |post| {
        people
            .iter()
            .any(|&w| plan.line.crew[w].list.iter().any(|call| call.post == post))
    };
    posts.into_iter().all(lists)
}

/// Sizes to ask about where the scenario names none: the length of each belt and of each lane of rollers from half of what it
/// is to twice, and positions of each drop-off from one to twice what there are. Changes speak in the file's own keys.
pub fn usual_sizes(plan: &Plan) -> Vec<Size> {
    use scullery_engine::line::LaneKind;
    let grid = |what: String, key: String, now_m: f64| Size {
        words: what,
        options: [0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.2, 1.4, 1.7, 2.0]
            .iter()
            .map(|share| (now_m * share * 10.0).round() / 10.0)
            .map(|length| scullery_scenario::staffing::SizeOption {
                name: format!("{length} m"),
                changes: vec![format!("{key}={length}")],
                price: None,
            })
            .collect(),
        life_years: None,
    };
    let belts = plan.line.belts.iter().map(|belt| {
        grid(
            format!("length of belt {}", belt.name),
            format!("belt.{}.length_m", belt.name),
            f64::from(belt.length_mm) / 1000.0,
        )
    });
    let lanes = plan.line.lanes.iter().zip(&plan.facts.inclines);
    let lanes = lanes.filter_map(|(lane, incline)| match lane.kind {
        LaneKind::Rollers { .. } if incline.is_some() => None,
        LaneKind::Rollers { length_mm, .. } => Some(grid(
            format!("length of lane {}", lane.name),
            format!("lane.{}.way.rollers.length_m", lane.name),
            f64::from(length_mm) / 1000.0,
        )),
        LaneKind::Shelf { .. } => None,
    });
    let positions = plan.line.drop_offs.iter().map(|drop_off| Size {
        words: format!("positions of drop-off {}", drop_off.name),
        options: (1..=2 * drop_off.positions_mm.len().min(10))
            .map(|count| scullery_scenario::staffing::SizeOption {
                name: count.to_string(),
                changes: vec![format!("drop_off.{}.positions={count}", drop_off.name)],
                price: None,
            })
            .collect(),
        life_years: None,
    });
    belts.chain(lanes).chain(positions).collect()
}
