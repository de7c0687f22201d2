//! One tray followed from the drop-off until its last piece is clean: a lunch is run once more with an observer that
//! writes down what happens to it.

use scullery_engine::ended::Fault;
use scullery_engine::line::{Line, Post};
use scullery_engine::run::{Floor, run};
use scullery_engine::streams::Root;
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_engine::watch::{ActorId, Catalogue, Observer, PlaceId, State, Step};
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use crate::words::{place_words, spoken};

/// Which tray is followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// One picked at random among those that came.
    Random,
    /// The one that took the longest from the drop-off until it was clean; one that never was comes first.
    Worst,
    /// The tray of the diner with this number, from 1, in the order in which they were served.
    Diner(u32),
}

/// The diary of a tray.
#[derive(Clone, Debug, Default, Serialize, Deserialize, PartialEq)]
pub struct Diary {
    /// Number of the lunch.
    pub lunch: u64,
    /// Number of the diner, from 1.
    pub diner: u32,
    /// What was written down, in clock order.
    pub entries: Vec<Entry>,
    /// Minutes from coming to the drop-off until all is clean; `None`: not clean by the end.
    pub minutes: Option<f64>,
}

/// One line of it.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Entry {
    /// Seconds since midnight.
    pub at_s: f64,
    /// What happened.
    pub words: String,
    /// Minutes since the line before it.
    pub after_min: f64,
}

/// Follows a tray of one lunch.
///
/// # Errors
/// The fault of the run; `Ok(None)` when no tray came, or none of that number.
pub fn diary(plan: &Plan, seed: u64, lunch: u64, which: Which) -> Result<Option<Diary>, Fault> {
    let catalogue = plan.line.catalogue();
    let mut tape = Tape::new();
    let mut floor = Floor::new();
    tape.draw(&plan.demand, seed, lunch);
    let mut times = Times::default();
    let ended = run(&plan.line, &tape, &mut floor, &mut times)?;
    let Some(tray) = times.pick(which, Root::new(seed, lunch), ended.at) else {
        return Ok(None);
    };
    let mut writer = Writer {
        line: &plan.line,
        catalogue: &catalogue,
        tray,
        racks: Vec::new(),
        holder: None,
        entries: Vec::new(),
    };
    run(&plan.line, &tape, &mut floor, &mut writer)?;
    let entries = writer.entries;
    let minutes = times
        .of(tray)
        .and_then(|(came, clean)| Some(clean?.since(came).min()));
    let mut last = entries.first().map_or(SimTime::MIDNIGHT, |(at, _)| *at);
    let entries = entries.into_iter().map(|(at, words)| {
        let after_min = at.since(last).min();
        last = at;
        Entry {
            at_s: at.s(),
            words,
            after_min,
        }
    });
    Ok(Some(Diary {
        lunch,
        diner: tray + 1,
        entries: entries.collect(),
        minutes,
    }))
}

/// When each tray came and was clean.
#[derive(Clone, Debug, Default)]
struct Times(Vec<(u32, SimTime, Option<SimTime>)>);

impl Times {
    fn of(&self, tray: u32) -> Option<(SimTime, Option<SimTime>)> {
        self.0.iter().find(|it| it.0 == tray).map(|it| (it.1, it.2))
    }

    fn pick(&self, which: Which, luck: Root, ends: SimTime) -> Option<u32> {
        match which {
            Which::Random => {
                let at = luck.source("diary").uniform(0) * self.0.len() as f64;
                self.0.get(at as usize).map(|it| it.0)
            }
            Which::Worst => {
                let took = |it: &(u32, SimTime, Option<SimTime>)| {
                    (it.2.is_none(), it.2.unwrap_or(ends).since(it.1))
                };
                // The first of several alike.
                self.0.iter().rev().max_by_key(|it| took(it)).map(|it| it.0)
            }
            Which::Diner(number) => self.of(number.checked_sub(1)?).map(|_| number - 1),
        }
    }
}

impl Observer for Times {
    const FOLLOWS: bool = true;

    fn step(&mut self, at: SimTime, step: &Step) {
        match *step {
            Step::Came(tray) => self.0.push((tray, at, None)),
            Step::Clean(tray) => {
                if let Some(it) = self.0.iter_mut().rev().find(|it| it.0 == tray) {
                    it.2 = Some(at);
                }
            }
            _ => {}
        }
    }
}

/// Writes down what happens to one tray.
struct Writer<'a> {
    line: &'a Line,
    catalogue: &'a Catalogue,
    tray: u32,
    /// Racks that hold pieces of it.
    racks: Vec<u32>,
    /// Who has it in hand, and whether they are held up.
    holder: Option<(ActorId, bool)>,
    entries: Vec<(SimTime, String)>,
}

impl Writer<'_> {
    fn write(&mut self, at: SimTime, words: String) {
        self.entries.push((at, words));
    }

    fn name(&self, who: ActorId) -> String {
        self.catalogue
            .actors
            .get(usize::from(who.0))
            .map_or("somebody".into(), |a| a.name.clone())
    }

    fn post(&self, post: Post) -> String {
        match post {
            Post::Scrapping(i) => format!(
                "scrapping {}",
                spoken(&self.line.scrapping[usize::from(i)].name)
            ),
            _ => "their post".into(),
        }
    }
}

impl Observer for Writer<'_> {
    const FOLLOWS: bool = true;

    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        let Some((holder, held_up)) = self.holder.filter(|(holder, _)| *holder == who) else {
            return;
        };
        if state == State::HeldUp {
            let place = because.and_then(|p| self.catalogue.places.get(usize::from(p.0)));
            let by = place.map_or("want of room".into(), place_words);
            self.holder = Some((holder, true));
            let name = self.name(who);
            self.write(
                at,
                format!("{name} holds what finds no room: held up by {by}"),
            );
        } else {
            if held_up {
                let name = self.name(who);
                self.write(at, format!("{name} is free again"));
            }
            if state != State::Working && state != State::PastShift {
                self.holder = None;
            }
        }
    }

    fn step(&mut self, at: SimTime, step: &Step) {
        match *step {
            Step::Came(tray) if tray == self.tray => self.write(at, "comes to the drop-off".into()),
            Step::PutsAway { tray, waits, .. } if tray == self.tray => {
                let words = match waits {
                    true => "waits at the position for room in a receiver or bin",
                    false => "there is room for what is to be put away",
                };
                self.write(at, words.into())
            }
            Step::PutDown(tray) if tray == self.tray => {
                self.write(at, "the tray is put down".into())
            }
            Step::LeftAside(tray) if tray == self.tray => {
                self.write(at, "the tray is left aside".into())
            }
            Step::Begun {
                who,
                post,
                tray: Some(tray),
            } if tray == self.tray => {
                self.holder = Some((who, false));
                let words = format!(
                    "{} takes it and begins, at {}",
                    self.name(who),
                    self.post(post)
                );
                self.write(at, words);
            }
            Step::Ended {
                who,
                post,
                tray: Some(tray),
            } if tray == self.tray => {
                let part = match post {
                    Post::Scrapping(i) => self.line.scrapping[usize::from(i)].passes_on.is_some(),
                    _ => false,
                };
                let done = if part {
                    "done as far as that post does it"
                } else {
                    "cleared"
                };
                let words = format!("{done} by {}", self.name(who));
                self.write(at, words);
            }
            Step::Begun { who, .. } if self.holder.is_some_and(|(holder, _)| holder == who) => {
                self.holder = None
            }
            Step::Racked {
                tray,
                class,
                rack,
                pieces,
            } if tray == self.tray => {
                let class = spoken(&self.line.classes[usize::from(class)].name);
                if !self.racks.contains(&rack) {
                    self.racks.push(rack);
                }
                self.write(at, format!("{pieces} {class} into rack {}", rack + 1));
            }
            Step::RackSent(rack) if self.racks.contains(&rack) => {
                self.write(at, format!("rack {} leaves the table", rack + 1));
            }
            Step::RackIn(rack, machine) if self.racks.contains(&rack) => {
                let machine = spoken(&self.line.machines[usize::from(machine)].name);
                self.write(at, format!("rack {} goes into machine {machine}", rack + 1));
            }
            Step::RackOut(rack) if self.racks.contains(&rack) => {
                self.write(at, format!("rack {} comes out", rack + 1))
            }
            Step::RackTipped(rack) if self.racks.contains(&rack) => {
                self.racks.retain(|r| *r != rack);
                self.write(at, format!("rack {} is tipped out to be sorted", rack + 1));
            }
            Step::RackClean(rack) if self.racks.contains(&rack) => {
                self.racks.retain(|r| *r != rack);
                self.write(at, format!("the ware of rack {} is clean", rack + 1));
            }
            Step::Clean(tray) if tray == self.tray => {
                self.write(at, "the whole tray is clean".into())
            }
            _ => {}
        }
    }
}
