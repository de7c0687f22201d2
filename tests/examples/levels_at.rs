//! What one lunch of the university example holds at some whole seconds, told by an observer of its own, as JSON.
//!
//! `levels_at SEED REPEAT SECOND...` prints, for each second, the level of each place, the state and post of each worker,
//! and the running counts. The page's moving picture is compared with it.

use std::process::ExitCode;

use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::SimTime;
use scullery_engine::watch::{
    ActorId, ActorKind, Catalogue, CountId, Counted, Observer, PlaceId, PostId, State,
};
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use serde_json::{Value, json};

/// Everything told, with its instant.
#[derive(Default)]
struct Diary {
    levels: Vec<(SimTime, usize, u32)>,
    states: Vec<(SimTime, usize, State, Option<PlaceId>)>,
    counts: Vec<(SimTime, usize, u32)>,
}

impl Observer for Diary {
    fn level(&mut self, at: SimTime, place: PlaceId, held: u32) {
        self.levels.push((at, usize::from(place.0), held));
    }
    fn state(&mut self, at: SimTime, who: ActorId, state: State, because: Option<PlaceId>) {
        self.states.push((at, usize::from(who.0), state, because));
    }
    fn stands(&mut self, _at: SimTime, _who: ActorId, _post: Option<PostId>) {}
    fn counted(&mut self, at: SimTime, count: CountId, by: u32) {
        self.counts.push((at, usize::from(count.0), by));
    }
}

fn moment(diary: &Diary, catalogue: &Catalogue, second: u64) -> Value {
    let now = SimTime::from_us(second * 1_000_000);
    let level = |place: usize| {
        let told = diary.levels.iter().rev();
        let mut told = told.filter(|(at, id, _)| *at <= now && *id == place);
        told.next()
            .map_or(catalogue.places[place].at_start, |(_, _, held)| *held)
    };
    let count = |counted: Counted| -> u32 {
        let told = diary.counts.iter();
        let told =
            told.filter(|(at, id, _)| *at <= now && catalogue.counts[*id].counted == counted);
        told.map(|(_, _, by)| by).sum()
    };
    let places: serde_json::Map<String, Value> = (0..catalogue.places.len())
        .map(|place| (catalogue.places[place].name.clone(), json!(level(place))))
        .collect();
    let crew: serde_json::Map<String, Value> = catalogue
        .actors
        .iter()
        .enumerate()
        .filter(|(_, actor)| actor.kind == ActorKind::Worker)
        .map(|(number, actor)| {
            let told = diary.states.iter().rev();
            let mut told = told.filter(|(at, id, ..)| *at <= now && *id == number);
            let state = told.next().map_or(State::Off, |(_, _, state, _)| *state);
            (actor.name.clone(), json!(format!("{state:?}")))
        })
        .collect();
    json!({
        "second": second,
        "places": places,
        "crew": crew,
        "served": count(Counted::Served),
        "dropped_off": count(Counted::DroppedOff),
        "cleared": count(Counted::Cleared),
    })
}

fn tell() -> Result<String, String> {
    let words: Vec<u64> = std::env::args()
        .skip(1)
        .map(|word| {
            word.parse()
                .map_err(|_| format!("`{word}` is no whole number"))
        })
        .collect::<Result<_, _>>()?;
    let [seed, repeat, seconds @ ..] = words.as_slice() else {
        return Err("say a seed, a repeat, and the seconds".into());
    };
    let plan =
        read_alone(DEFAULT_SCENARIO, Format::Toml).map_err(|faults| format!("{faults:?}"))?;
    let mut tape = Tape::new();
    tape.draw(&plan.demand, *seed, *repeat);
    let mut diary = Diary::default();
    run(&plan.line, &tape, &mut Floor::new(), &mut diary).map_err(|fault| fault.to_string())?;
    let catalogue = plan.line.catalogue();
    let moments: Vec<Value> = seconds
        .iter()
        .map(|&second| moment(&diary, &catalogue, second))
        .collect();
    serde_json::to_string(&moments).map_err(|why| why.to_string())
}

fn main() -> ExitCode {
    match tell() {
        Ok(text) => {
            use std::io::Write;
            let written = writeln!(std::io::stdout(), "{text}");
            if written.is_ok() {
                ExitCode::SUCCESS
            } else {
                ExitCode::FAILURE
            }
        }
        Err(why) => {
            use std::io::Write;
            // Nobody is left to be told when this fails too.
            let _ = writeln!(std::io::stderr(), "{why}");
            ExitCode::FAILURE
        }
    }
}
