//! Makes the demo of a bad lunch: what the till wrote and what somebody saw, of one simulated lunch whose true causes are
//! known, a machine that stood and a break that was taken late. `cargo run -p scullery-tests --example bad_lunch`

use std::fmt::Write as _;

use scullery_engine::tape::Tape;
use scullery_scenario::change::Change;
use scullery_scenario::{Document, Format};
use scullery_study::replicate::meal;

/// The hall on the return belt it had then.
const HALL: &str = include_str!("../../scenarios/bad-lunch/hall.toml");
/// What really happened besides.
const TRUTH: [&str; 2] = [
    "+machine.dish.stops={ from = \"12:20\", to = \"12:40\" }",
    "crew.cem.breaks=12:40 for 20 min",
];
const SEED: u64 = 1240;
/// Clock times at which somebody looked, minutes since midnight.
const LOOKS: [u64; 5] = [
    12 * 60 + 10,
    12 * 60 + 35,
    12 * 60 + 50,
    13 * 60,
    13 * 60 + 20,
];

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let document = Document::of_text("hall.toml", HALL, Format::Toml);
    let changes: Vec<Change> = TRUTH
        .iter()
        .map(|text| Change::parse(text))
        .collect::<Result<_, _>>()?;
    let plan = document.changed(&changes)?;
    let mut tape = Tape::new();
    tape.draw(&plan.demand, SEED, 1);
    let mut till = "time;covers\n".to_owned();
    let mut served: Vec<u64> = tape
        .served()
        .iter()
        .map(|&i| tape.diners()[i as usize].served.us() / 1_000_000)
        .collect();
    served.sort_unstable();
    for together in served.chunk_by(|a, b| a == b) {
        let s = together[0];
        writeln!(
            till,
            "{:02}:{:02}:{:02};{}",
            s / 3600,
            s / 60 % 60,
            s % 60,
            together.len()
        )?;
    }
    std::fs::write("scenarios/bad-lunch/till.csv", till)?;

    let (_, record) = meal(&plan, SEED, 1)?;
    let catalogue = plan.line.catalogue();
    let place = |name: &str| catalogue.places.iter().position(|place| place.name == name);
    let mut seen =
        "time,until,what,count,sure\n12:20,12:40,dish down,,\n12:40,13:00,cem away,,\n".to_owned();
    for (what, name) in [
        ("people waiting", "drop_off.main.standing"),
        ("backlog", "backlog"),
    ] {
        let index = place(name).ok_or("the hall has changed")?;
        for min in LOOKS {
            let minute = &record.places[index].minutes[(min - record.from_min) as usize];
            // To the nearest five, as somebody in a hurry writes it down.
            let count = (minute.area as f64 / 60e6 / 5.0).round() * 5.0;
            writeln!(
                seen,
                "{:02}:{:02},,{what},{count:.0},about",
                min / 60,
                min % 60
            )?;
        }
    }
    std::fs::write("scenarios/bad-lunch/seen.csv", seen)?;
    Ok(())
}
