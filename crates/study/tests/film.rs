//! A film tells at every whole second what an observer of its own sees then; the posts' minutes are the workers'.

use std::sync::atomic::AtomicBool;

use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_engine::watch::{ActorId, CountId, Counted, Observer, PlaceId, PostId, State};
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use scullery_study::film::{chosen, film, films, state_word};
use scullery_study::replicate::{Replicate, meal, replicate};
use scullery_study::words::{STATES, post_words};

/// All that is told, with the exact instants.
#[derive(Default)]
struct Notes {
    levels: Vec<(SimTime, PlaceId, u32)>,
    states: Vec<(SimTime, ActorId, State, Option<PlaceId>)>,
    stands: Vec<(SimTime, ActorId, Option<PostId>)>,
    counts: Vec<(SimTime, CountId, u32)>,
}

impl Observer for Notes {
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        self.levels.push((at, place, held));
    }
    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        self.states.push((at, who, state, because));
    }
    fn stands(&mut self, at: SimTime, who: ActorId, post: Option<PostId>) {
        self.stands.push((at, who, post));
    }
    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        self.counts.push((at, count, by));
    }
}

const SEED: u64 = 3;

#[test]
fn a_film_holds_at_every_whole_second_what_is_so_then() {
    let plan = read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap();
    let catalogue = plan.line.catalogue();
    let film = film(&plan, SEED, 2, "a lunch".into()).unwrap();
    let mut tape = Tape::new();
    tape.draw(&plan.demand, SEED, 2);
    let mut notes = Notes::default();
    run(&plan.line, &tape, &mut Floor::new(), &mut notes).unwrap();
    let mut moved = 0;
    for part in 0..=20_u32 {
        let second = film.from_s + (film.to_s - film.from_s) / 20 * part;
        let now = SimTime::from_us(u64::from(second) * 1_000_000);
        for (number, (place, info)) in film.places.iter().zip(&catalogue.places).enumerate() {
            let told = notes.levels.iter().rev();
            let mut told = told.filter(|(at, id, _)| *at <= now && usize::from(id.0) == number);
            let held = told.next().map_or(info.at_start, |(_, _, held)| *held);
            assert_eq!(place.at(second), held, "{} at {second}", place.title);
            moved += u32::from(held != info.at_start);
        }
        for (number, actor) in film.actors.iter().enumerate() {
            let doing = actor.at(second);
            let states = notes.states.iter().rev();
            let mut states =
                states.filter(|(at, id, ..)| *at <= now && usize::from(id.0) == number);
            if let Some((_, _, state, because)) = states.next() {
                let word = STATES.iter().find(|(known, _)| known == state).unwrap().1;
                assert_eq!(state_word(doing.state), word, "{} at {second}", actor.name);
                assert_eq!(doing.because, because.map(|place| place.0));
            }
            let stands = notes.stands.iter().rev();
            let mut stands = stands.filter(|(at, id, _)| *at <= now && usize::from(id.0) == number);
            let post = stands.next().and_then(|(_, _, post)| *post);
            let name = post.map(|post| post_words(&catalogue.posts[usize::from(post.0)]));
            let shown = doing
                .post
                .map(|post| film.posts[usize::from(post)].name.clone());
            assert_eq!(shown, name, "{} at {second}", actor.name);
        }
        for (count, counted) in
            film.counts
                .iter()
                .zip([Counted::Served, Counted::DroppedOff, Counted::Cleared])
        {
            let number = catalogue
                .counts
                .iter()
                .position(|c| c.counted == counted)
                .unwrap();
            let told = notes.counts.iter();
            let of = told.filter(|(at, id, _)| *at <= now && usize::from(id.0) == number);
            assert_eq!(count.at(second), of.map(|(_, _, by)| by).sum::<u32>());
        }
    }
    assert!(moved > 100, "the lunch moves: {moved}");
}

#[test]
fn the_middle_and_the_worst_lunch_by_longest_wait_are_filmed() {
    let plan = read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap();
    let how = Replicate {
        repeats: 5,
        seed: SEED,
        threads: 1,
    };
    let summary = replicate(&plan, &how, &|_| {}, &AtomicBool::new(false)).unwrap();
    let column = summary
        .per_meal_columns
        .iter()
        .position(|id| id == "drop_off.main.wait_max_s")
        .unwrap();
    let wait = |repeat: u64| summary.per_meal[repeat as usize - 1][column].unwrap();
    let picked: Vec<u64> = chosen(&summary).iter().map(|(repeat, _)| *repeat).collect();
    let below = |repeat| (1..=5).filter(|&other| wait(other) < wait(repeat)).count();
    assert_eq!(picked.iter().map(|&r| below(r)).collect::<Vec<_>>(), [2, 4]);
    let films = films(&plan, &summary).unwrap();
    assert_eq!(films.iter().map(|f| f.repeat).collect::<Vec<_>>(), picked);
    // The second shown as the worst is one at which as many stand as ever did.
    for film in &films {
        let standing = film.places.iter().find(|p| p.role == "standing").unwrap();
        let (_, record) = meal(&plan, SEED, film.repeat).unwrap();
        let number = film
            .places
            .iter()
            .position(|p| p.role == "standing")
            .unwrap();
        let most = standing.at(film.worst_s);
        assert!(most > 0 && most <= record.places[number].highest);
        let ever = (film.from_s..=film.to_s).map(|s| standing.at(s)).max();
        assert_eq!(Some(most), ever);
    }
}

#[test]
fn time_at_the_posts_is_the_workers_time_by_state() {
    let plan = read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap();
    let (_, record) = meal(&plan, SEED, 1).unwrap();
    for state in State::ALL {
        let at_posts: u64 = record
            .posts
            .iter()
            .flat_map(|p| &p.quarters)
            .map(|by| by[state.index()])
            .sum();
        let workers = record.actors.iter().take(plan.line.crew.len());
        let of_workers: u64 = workers.map(|actor| actor.us(state)).sum();
        let expected = match state {
            State::Off | State::Break => 0,
            _ => of_workers,
        };
        assert_eq!(at_posts, expected, "{state:?}");
    }
    let stood: u64 = record
        .posts
        .iter()
        .flat_map(|p| p.workers.iter().flatten())
        .sum();
    let by_state: u64 = record
        .posts
        .iter()
        .flat_map(|p| p.quarters.iter().flatten())
        .sum();
    assert!(stood > 0 && stood == by_state);
    let held: u64 = record.posts.iter().flat_map(|p| &p.held_by_us).sum();
    let crew = record.actors.iter().take(plan.line.crew.len());
    assert_eq!(held, crew.flat_map(|actor| &actor.held_by_us).sum::<u64>());
}
