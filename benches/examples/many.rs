//! Runs one model many times, for a profiler: `many textbook 200` or `many tandem 1000`.
use scullery_benches::lines;
use scullery_engine::{
    run::{Floor, run},
    tape::Tape,
    watch::Nobody,
};
fn main() {
    let mut args = std::env::args().skip(1);
    let (line, demand) = if args.next().as_deref() == Some("tandem") {
        lines::tandem()
    } else {
        lines::textbook()
    };
    let times: u64 = args.next().and_then(|n| n.parse().ok()).unwrap_or(100);
    let (mut tape, mut floor) = (Tape::new(), Floor::new());
    let mut events = 0;
    for repeat in 0..times {
        tape.draw(&demand, 1, repeat);
        events += run(&line, &tape, &mut floor, &mut Nobody).map_or(0, |e| e.events);
    }
    std::process::exit(i32::from(events == 0));
}
