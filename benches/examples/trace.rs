//! scratch
use scullery_engine::run::{Floor, run};
use scullery_engine::tape::Tape;
use scullery_engine::time::*;
use scullery_engine::watch::*;
use scullery_scenario::{DEFAULT_SCENARIO, Format, read_alone};
use std::collections::BTreeMap;
struct T {
    cat: Catalogue,
    next: SimTime,
    lv: Vec<u32>,
    st: Vec<(State, Option<PlaceId>, SimTime)>,
    acc: BTreeMap<(usize, String), u64>,
}
impl T {
    fn tick(&mut self, at: SimTime) {
        while at >= self.next {
            print!("{} ", self.next);
            for (p, l) in self.cat.places.iter().zip(&self.lv) {
                if *l > 0 {
                    print!("{}={} ", p.name, l);
                }
            }
            println!();
            for ((w, s), us) in std::mem::take(&mut self.acc) {
                if w < 6 {
                    print!(
                        "   {} {} {:.1};",
                        self.cat.actors[w].name,
                        s,
                        us as f64 / 60e6
                    );
                }
            }
            println!();
            self.next = self.next + Span::from_min(15.0);
        }
    }
}
impl Observer for T {
    fn level(&mut self, at: SimTime, p: PlaceId, h: u32) {
        self.tick(at);
        self.lv[p.0 as usize] = h;
    }
    fn state(&mut self, at: SimTime, w: ActorId, s: State, b: Option<PlaceId>) {
        self.tick(at);
        let i = w.0 as usize;
        let (os, ob, t) = self.st[i];
        let name = format!(
            "{:?}{}",
            os,
            ob.map(|p| format!("<{}>", self.cat.places[p.0 as usize].name))
                .unwrap_or_default()
        );
        *self.acc.entry((i, name)).or_default() += at.since(t).us();
        self.st[i] = (s, b, at);
    }
}
fn main() {
    let plan = match std::env::args().nth(1) {
        None => read_alone(DEFAULT_SCENARIO, Format::Toml).unwrap(),
        Some(f) => read_alone(&std::fs::read_to_string(f).unwrap(), Format::Toml)
            .map_err(|e| format!("{e:?}"))
            .unwrap(),
    };
    let (mut tape, mut floor) = (Tape::new(), Floor::new());
    tape.draw(
        &plan.demand,
        1,
        std::env::args()
            .nth(2)
            .and_then(|s| s.parse().ok())
            .unwrap_or(0),
    );
    let cat = plan.line.catalogue();
    let mut t = T {
        lv: cat.places.iter().map(|p| p.at_start).collect(),
        st: vec![(State::Off, None, plan.line.starts); cat.actors.len()],
        cat,
        next: plan.line.starts,
        acc: BTreeMap::new(),
    };
    let e = run(&plan.line, &tape, &mut floor, &mut t);
    println!("{e:?}");
}
