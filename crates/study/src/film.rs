//! One meal as it happened, second by second, so that it can be played.
//!
//! At every whole second a film tells exactly what the record holds then: a change is kept at the first whole second that
//! is not before it, and of several within a second the last.

use scullery_engine::ended::{Ended, Fault, How};
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::{SimTime, US_PER_S};
use scullery_engine::watch::{
    ActorId, Catalogue, CountId, Counted, Job, Observer, PlaceId, PostId, Role, State,
};
use scullery_scenario::plan::Plan;
use serde::{Deserialize, Serialize};

use crate::gathered::shown_counts;
use crate::summary::Summary;
use crate::words::{
    STATES, actor_words, clock_words, kind_word, place_words, post_words, role_word, unit_word,
};

/// Seconds of one film at most; what comes later is not shown.
pub const MOST_SECONDS: u32 = 36 * 3600;

/// One meal to be played.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct Film {
    /// Which repeat of the study it is.
    pub repeat: u64,
    /// Which lunch it is, in words: "the middle lunch ..., the worst ...".
    pub words: String,
    /// How it ended, in words.
    pub ending: String,
    /// First second shown, since midnight.
    pub from_s: u32,
    /// Last second shown, since midnight.
    pub to_s: u32,
    /// The second at which most people stood with a tray at the drop-offs (with none ever standing, at which the backlog
    /// was largest).
    pub worst_s: u32,
    /// The places, in plan order.
    pub places: Vec<FilmPlace>,
    /// The crew, then machines and belts.
    pub actors: Vec<FilmActor>,
    /// The posts that somebody's list names.
    pub posts: Vec<FilmPost>,
    /// Covers served, trays dropped off and trays cleared.
    pub counts: Vec<FilmCount>,
}

/// A place and its level over the film.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct FilmPlace {
    /// Its stable id, as in `Band::id`.
    pub id: String,
    /// Its name in words.
    pub title: String,
    /// What its level counts.
    pub unit: String,
    /// The part it plays, as in `Band::role`.
    pub role: String,
    /// How much it can hold, when that is limited.
    pub room: Option<u32>,
    /// Level at the first second.
    pub at_start: u32,
    /// Second and level from then on, in clock order.
    pub changes: Vec<(u32, u32)>,
}

/// Somebody or something and what they do over the film.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct FilmActor {
    /// Name in words.
    pub name: String,
    /// `worker`, `machine` or `belt`.
    pub kind: String,
    /// What they do from the first second on.
    pub at_start: Doing,
    /// Second and what they do from then on, in clock order.
    pub changes: Vec<(u32, Doing)>,
}

/// What an actor does.
#[derive(Clone, Copy, Debug, Serialize, Deserialize, PartialEq, Eq)]
pub struct Doing {
    /// Number of the state in [`STATES`].
    pub state: u8,
    /// The place that holds them up.
    pub because: Option<u16>,
    /// Number of the post in [`Film::posts`] at which they stand, or to which they go.
    pub post: Option<u16>,
}

/// A post.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct FilmPost {
    /// Name in words.
    pub name: String,
    /// `breaking_down`, `racking`, `loading`, `unloading`, `running` or `other_work`.
    pub job: String,
    /// Whether it is on the clean side.
    pub clean_side: bool,
}

/// A running count.
#[derive(Clone, Debug, Serialize, Deserialize, PartialEq)]
pub struct FilmCount {
    /// What it counts, in words.
    pub title: String,
    /// Second and count from then on, in clock order; 0 before.
    pub changes: Vec<(u32, u32)>,
}

impl FilmPlace {
    /// Level at this whole second.
    pub fn at(&self, second: u32) -> u32 {
        last_at(&self.changes, second).unwrap_or(self.at_start)
    }
}

impl FilmActor {
    /// What they do at this whole second.
    pub fn at(&self, second: u32) -> Doing {
        last_at(&self.changes, second).unwrap_or(self.at_start)
    }
}

impl FilmCount {
    /// Count at this whole second.
    pub fn at(&self, second: u32) -> u32 {
        last_at(&self.changes, second).unwrap_or(0)
    }
}

fn last_at<T: Copy>(changes: &[(u32, T)], second: u32) -> Option<T> {
    let past = changes.partition_point(|(at, _)| *at <= second);
    past.checked_sub(1).map(|index| changes[index].1)
}

/// The state's word, as in `Profile::states`.
pub fn state_word(state: u8) -> &'static str {
    STATES
        .get(usize::from(state))
        .map_or("off", |(_, word)| *word)
}

/// The films of a study: the middle lunch by longest wait at a drop-off, and the worst. One film where the two are the
/// same lunch; where no lunch finished, the first.
///
/// # Errors
/// The fault of a run, if it has one.
pub fn films(plan: &Plan, summary: &Summary) -> Result<Vec<Film>, Fault> {
    chosen(summary)
        .into_iter()
        .map(|(repeat, words)| film(plan, summary.seed, repeat, words))
        .collect()
}

/// Which repeats are shown, and what they are called.
pub fn chosen(summary: &Summary) -> Vec<(u64, String)> {
    let column = |id: &str| summary.per_meal_columns.iter().position(|c| c == id);
    let (Some(number), Some(finished)) = (column("repeat"), column("finished")) else {
        return Vec::new();
    };
    let waits: Vec<usize> = summary
        .per_meal_columns
        .iter()
        .enumerate()
        .filter(|(_, id)| id.starts_with("drop_off.") && id.ends_with(".wait_max_s"))
        .map(|(at, _)| at)
        .collect();
    let value = |row: &[Option<f64>], at: usize| row.get(at).copied().flatten();
    let mut meals: Vec<(f64, u64)> = summary
        .per_meal
        .iter()
        .filter(|row| value(row, finished).is_some_and(|done| done > 0.5))
        .filter_map(|row| {
            let longest = waits.iter().filter_map(|&at| value(row, at));
            let longest = longest.fold(0.0, f64::max);
            Some((longest, value(row, number)? as u64))
        })
        .collect();
    meals.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let of = meals.len();
    let Some(&(worst_s, worst)) = meals.last() else {
        let first = summary.per_meal.first().and_then(|row| value(row, number));
        let words = "a lunch that never came to its end".to_owned();
        return first
            .map(|repeat| (repeat as u64, words))
            .into_iter()
            .collect();
    };
    let (middle_s, middle) = meals[(of - 1) / 2];
    if middle == worst {
        return vec![(
            worst,
            format!(
                "the lunch simulated; its longest wait is {}",
                wait_words(worst_s)
            ),
        )];
    }
    vec![
        (
            middle,
            format!(
                "the middle one of {of} lunches by longest wait, {}",
                wait_words(middle_s)
            ),
        ),
        (
            worst,
            format!(
                "the worst of {of} lunches by longest wait, {}",
                wait_words(worst_s)
            ),
        ),
    ]
}

fn wait_words(s: f64) -> String {
    if s < 120.0 {
        format!("{s:.0} s")
    } else {
        format!("{:.0} min", s / 60.0)
    }
}

/// Simulates one repeat again and keeps it as a film.
///
/// # Errors
/// The fault of the run, if it has one.
pub fn film(plan: &Plan, seed: u64, repeat: u64, words: String) -> Result<Film, Fault> {
    let catalogue = plan.line.catalogue();
    let mut tape = Tape::new();
    tape.draw(&plan.demand, seed, repeat);
    let mut camera = Camera::new(&catalogue, plan);
    let ended = run(&plan.line, &tape, &mut Floor::new(), &mut camera)?;
    Ok(camera.develop(&catalogue, repeat, words, &ended))
}

/// Watches one meal.
struct Camera {
    from_s: u32,
    levels: Vec<Vec<(u32, u32)>>,
    doings: Vec<Doing>,
    changes: Vec<Vec<(u32, Doing)>>,
    /// Number of the film's post for each post of the catalogue.
    posts: Vec<Option<u16>>,
    /// Number of the film's count for each count of the catalogue.
    counts: Vec<Option<usize>>,
    sums: Vec<(u32, Vec<(u32, u32)>)>,
}

/// The first whole second not before `at`.
fn second(at: SimTime) -> u32 {
    u32::try_from(at.us().div_ceil(US_PER_S)).unwrap_or(u32::MAX)
}

/// Keeps a change; of several at one second the last.
fn keep<T>(changes: &mut Vec<(u32, T)>, second: u32, now: T) {
    match changes.last_mut() {
        Some((at, last)) if *at == second => *last = now,
        _ => changes.push((second, now)),
    }
}

impl Camera {
    fn new(catalogue: &Catalogue, plan: &Plan) -> Camera {
        let mut next = 0;
        let posts = used_posts(plan, catalogue)
            .into_iter()
            .map(|used| {
                used.then(|| {
                    next += 1;
                    next - 1
                })
            })
            .collect();
        let whole_trays: Vec<usize> = shown_counts(catalogue)
            .iter()
            .filter(|shown| !shown.as_trays)
            .map(|shown| shown.count)
            .collect();
        Camera {
            from_s: second(plan.line.starts),
            levels: vec![Vec::new(); catalogue.places.len()],
            doings: catalogue
                .actors
                .iter()
                .map(|actor| first_doing(kind_word(actor.kind)))
                .collect(),
            changes: vec![Vec::new(); catalogue.actors.len()],
            posts,
            counts: (0..catalogue.counts.len())
                .map(|count| whole_trays.iter().position(|&shown| shown == count))
                .collect(),
            sums: vec![(0, Vec::new()); whole_trays.len()],
        }
    }

    fn develop(mut self, catalogue: &Catalogue, repeat: u64, words: String, ended: &Ended) -> Film {
        let to_s = second(ended.at).min(self.from_s.saturating_add(MOST_SECONDS));
        for changes in &mut self.levels {
            changes.retain(|(at, _)| *at <= to_s);
        }
        for changes in &mut self.changes {
            changes.retain(|(at, _)| *at <= to_s);
        }
        for (_, changes) in &mut self.sums {
            changes.retain(|(at, _)| *at <= to_s);
        }
        let places: Vec<FilmPlace> = catalogue
            .places
            .iter()
            .zip(self.levels)
            .map(|(place, changes)| FilmPlace {
                id: place.name.clone(),
                title: place_words(place),
                unit: unit_word(place.unit).to_owned(),
                role: role_word(place.role).to_owned(),
                room: place.room,
                at_start: place.at_start,
                changes,
            })
            .collect();
        let worst_s = worst_second(&places, catalogue, self.from_s);
        let at_start = catalogue
            .actors
            .iter()
            .map(|actor| first_doing(kind_word(actor.kind)));
        Film {
            repeat,
            words,
            ending: ending_words(ended),
            from_s: self.from_s,
            to_s,
            worst_s,
            places,
            actors: catalogue
                .actors
                .iter()
                .zip(at_start)
                .zip(self.changes)
                .map(|((actor, at_start), changes)| FilmActor {
                    name: actor_words(actor),
                    kind: kind_word(actor.kind).to_owned(),
                    at_start,
                    changes,
                })
                .collect(),
            posts: catalogue
                .posts
                .iter()
                .zip(&self.posts)
                .filter(|(_, number)| number.is_some())
                .map(|(post, _)| FilmPost {
                    name: post_words(post),
                    job: job_word(post.job).to_owned(),
                    clean_side: post.clean_side,
                })
                .collect(),
            counts: catalogue
                .counts
                .iter()
                .zip(&self.counts)
                .filter_map(|(count, number)| {
                    let (_, changes) = self.sums.get((*number)?)?;
                    Some(FilmCount {
                        title: count_words(count.counted).to_owned(),
                        changes: changes.clone(),
                    })
                })
                .collect(),
        }
    }

    fn note(&mut self, at: SimTime, who: usize) {
        let doing = self.doings[who];
        keep(&mut self.changes[who], second(at), doing);
    }
}

impl Observer for Camera {
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        if let Some(changes) = self.levels.get_mut(usize::from(place.0)) {
            keep(changes, second(at), held);
        }
    }

    fn stands(&mut self, at: SimTime, who: ActorId, post: Option<PostId>) {
        let who = usize::from(who.0);
        let number = |post: PostId| self.posts.get(usize::from(post.0)).copied().flatten();
        let post = post.and_then(number);
        if let Some(doing) = self.doings.get_mut(who) {
            doing.post = post;
            self.note(at, who);
        }
    }

    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        let who = usize::from(who.0);
        if let Some(doing) = self.doings.get_mut(who) {
            doing.state = state_number(state);
            doing.because = because.map(|place| place.0);
            self.note(at, who);
        }
    }

    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        let number = self.counts.get(usize::from(count.0)).copied().flatten();
        if let Some((sum, changes)) = number.and_then(|number| self.sums.get_mut(number)) {
            *sum = sum.saturating_add(by);
            keep(changes, second(at), *sum);
        }
    }
}

fn first_doing(kind: &str) -> Doing {
    let state = if kind == "belt" {
        State::Waiting
    } else {
        State::Off
    };
    Doing {
        state: state_number(state),
        because: None,
        post: None,
    }
}

fn state_number(state: State) -> u8 {
    STATES
        .iter()
        .position(|(known, _)| *known == state)
        .map_or(0, |index| index as u8)
}

/// For each post of the catalogue, whether somebody's list names it (other work: whether there is any).
pub(crate) fn used_posts(plan: &Plan, catalogue: &Catalogue) -> Vec<bool> {
    let line = &plan.line;
    let mut used = vec![false; catalogue.posts.len()];
    let listed = line.crew.iter().flat_map(|worker| &worker.list);
    for call in listed {
        if let Some(used) = used.get_mut(usize::from(line.post_id(call.post).0)) {
            *used = true;
        }
    }
    for (post, used) in catalogue.posts.iter().zip(&mut used) {
        *used |= post.job == Job::OtherWork;
    }
    used
}

fn job_word(job: Job) -> &'static str {
    match job {
        Job::BreakingDown => "breaking_down",
        Job::Racking => "racking",
        Job::Loading => "loading",
        Job::Unloading => "unloading",
        Job::Running => "running",
        Job::OtherWork => "other_work",
        Job::CartWash => "cart_wash",
        Job::Clearing => "clearing",
    }
}

fn count_words(counted: Counted) -> &'static str {
    match counted {
        Counted::Served => "covers served",
        Counted::DroppedOff => "trays dropped off",
        _ => "trays cleared",
    }
}

fn worst_second(places: &[FilmPlace], catalogue: &Catalogue, from_s: u32) -> u32 {
    let of = |role: Role| {
        let places = places.iter().zip(&catalogue.places);
        highest(places.filter(|(_, info)| info.role == role).map(|(p, _)| p))
    };
    let (most, at) = of(Role::Standing);
    if most > 0 {
        return at;
    }
    match of(Role::Backlog) {
        (0, _) => from_s,
        (_, at) => at,
    }
}

/// The most that these places hold together, and the first second at which they do.
fn highest<'a>(places: impl Iterator<Item = &'a FilmPlace>) -> (u32, u32) {
    let mut steps: Vec<(u32, i64)> = Vec::new();
    for place in places {
        let mut before = i64::from(place.at_start);
        for &(at, held) in &place.changes {
            steps.push((at, i64::from(held) - before));
            before = i64::from(held);
        }
    }
    steps.sort_by_key(|(at, _)| *at);
    let (mut now, mut most) = (0, (0, 0));
    for (index, (at, by)) in steps.iter().enumerate() {
        now += by;
        let whole = steps.get(index + 1).is_none_or(|(next, _)| next > at);
        if whole && now > most.0 {
            most = (now, *at);
        }
    }
    (most.0.max(0) as u32, most.1)
}

fn ending_words(ended: &Ended) -> String {
    let at = clock_words(ended.at.min());
    match &ended.how {
        How::StatedEnd => format!("it ends at the stated time, {at}"),
        How::AllClean => format!("it ends at {at} with all clean"),
        How::Gridlock(_) => format!("from {at} nothing can move any more"),
        How::NeverDrained => format!("at {at} it is still busy"),
    }
}
