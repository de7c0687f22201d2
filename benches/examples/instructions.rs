//! So many meals of one model in one manner, for counting instructions under a tool that does: what else the machine
//! does changes nothing in the count. Two counts with different numbers of meals, subtracted, leave the meals alone.
//!
//! `instructions textbook floor 20`: `textbook`, `tandem` or `university`; `floor`, `unwatched` or `recorded`.

use scullery_benches::{floor, lines};
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::watch::Nobody;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use scullery_study::record::Recorder;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let [model, manner, meals] = &words[..] else {
        eprintln!("write for example: instructions textbook floor 20");
        std::process::exit(2);
    };
    let Ok(meals) = meals.parse::<u64>() else {
        eprintln!("{meals} is no number of meals");
        std::process::exit(2);
    };
    let (line, demand) = match model.as_str() {
        "textbook" => lines::textbook(),
        "tandem" => lines::tandem(),
        _ => match read_alone(DEFAULT_SCENARIO, Format::Toml) {
            Ok(plan) => (plan.line, plan.demand),
            Err(faults) => {
                eprintln!("{faults:#?}");
                std::process::exit(2);
            }
        },
    };
    let (mut tape, mut room) = (Tape::new(), Floor::new());
    let mut recorder = Recorder::new(&line.catalogue(), line.starts);
    let mut events = 0;
    for repeat in 0..meals {
        events += match (manner.as_str(), model.as_str()) {
            ("floor", "textbook") => floor::textbook(repeat).events,
            ("floor", _) => floor::tandem(repeat).events,
            ("recorded", _) => {
                tape.draw(&demand, 1, repeat);
                recorder.begin();
                run(&line, &tape, &mut room, &mut recorder).map_or(0, |ended| {
                    let events = ended.events;
                    recorder.finish(&ended);
                    events
                })
            }
            _ => {
                tape.draw(&demand, 1, repeat);
                run(&line, &tape, &mut room, &mut Nobody).map_or(0, |ended| ended.events)
            }
        };
    }
    eprintln!("{events} events");
}
